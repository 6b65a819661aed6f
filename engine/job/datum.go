package job

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Datum is what is done where a floor falls too far for one level line: the line
// steps, the floor is filled, or a board closes the gap under a wall.
type Datum struct {
	document.Where `yaml:"-" json:"-"`

	Steps  []LineStep `yaml:"steps" doc:"where the datum line of a row goes on lower or higher"`
	Fills  []Filled   `yaml:"fills" doc:"places where the floor is filled, by post or spot"`
	Skirts []Skirt    `yaml:"skirts" doc:"bays with a board under their lowest one"`
}

// LineStep is a step in a row's datum line.
type LineStep struct {
	document.Where `yaml:"-" json:"-"`

	Structure string         `yaml:"structure,required" doc:"the row or barn, by name"`
	At        int            `yaml:"at,required" min:"2" doc:"number of the posts across the row at which the line steps: 4 for A.a4, A.b4"`
	Drop      measure.Length `yaml:"drop,required" doc:"how much lower the line goes on toward higher post numbers; higher is negative"`
}

// Filled is a place where the floor is filled.
type Filled struct {
	document.Where `yaml:"-" json:"-"`

	At string         `yaml:"at,required" doc:"the post or spot, by name"`
	By measure.Length `yaml:"by,required" doc:"how much higher the finished floor is made there"`
}

// Skirt is a board that closes the gap under a bay's lowest one; it follows the
// floor.
type Skirt struct {
	document.Where `yaml:"-" json:"-"`

	Bay string `yaml:"bay,required" doc:"the bay, by name"`
}

// mostFall is the most that a line steps or a floor is filled at one place: beyond
// it, earth is moved and stalls are terraced (common practice, no published source).
const mostFall = 3 * measure.Foot

// FilledBy is how much the floor is filled at a post or spot.
func (j *Job) FilledBy(at string) (by measure.Length, f *Filled) {
	if j.Datum == nil {
		return 0, nil
	}
	for i := range j.Datum.Fills {
		if v := &j.Datum.Fills[i]; v.At == at {
			by, f = v.By, v
		}
	}
	return by, f
}

// datum checks each entry in itself; whether its names are there takes the layout.
func (c *checker) datum(j *Job) {
	if j.Datum == nil {
		return
	}
	rows := map[string]bool{}
	for i := range j.Structures {
		s := &j.Structures[i]
		rows[s.Name()] = s.BarnRow != nil || s.FreeRow != nil || s.FreeBarn != nil
	}
	type place struct {
		structure string
		at        int
	}
	steps := map[place]bool{}
	for i := range j.Datum.Steps {
		v := &j.Datum.Steps[i]
		path := fmt.Sprintf("datum.steps[%d]", i)
		row, known := rows[v.Structure]
		switch {
		case !known:
			names := make([]string, 0, len(rows))
			for name := range rows {
				names = append(names, name)
			}
			hint := "a structure of this job, by its name"
			if near, ok := document.Nearest(v.Structure, sorted(names)); ok {
				hint = "did you mean " + near + "?"
			}
			c.r.Add(v.Of("structure"), path+".structure", v.Structure, fmt.Sprintf("there is no structure %q", v.Structure), hint)
		case !row:
			c.r.Add(v.Of("structure"), path+".structure", v.Structure, "only the line of a row or barn steps, at posts across it", "fill the floor, or give the bay a skirt board")
		case steps[place{v.Structure, v.At}]:
			c.r.Add(v.Pos(), path, "", fmt.Sprintf("the line of %s steps at %d twice", v.Structure, v.At), "add the two up")
		}
		steps[place{v.Structure, v.At}] = true
		if v.Drop == 0 || v.Drop.Abs() > mostFall {
			c.r.Add(v.Of("drop"), path+".drop", v.Drop.String(), "no line steps by this", "more than nothing and at most "+mostFall.String())
		}
	}
	filled := map[string]bool{}
	for i := range j.Datum.Fills {
		v := &j.Datum.Fills[i]
		path := fmt.Sprintf("datum.fills[%d]", i)
		if filled[v.At] {
			c.r.Add(v.Of("at"), path+".at", v.At, fmt.Sprintf("the floor at %s is filled twice", v.At), "add the two up")
		}
		filled[v.At] = true
		if v.By <= 0 || v.By > mostFall {
			c.r.Add(v.Of("by"), path+".by", v.By.String(), "a floor is filled by more than nothing and at most "+mostFall.String(), "where more is missing, level the site first")
		}
	}
	skirts := map[string]bool{}
	for i := range j.Datum.Skirts {
		v := &j.Datum.Skirts[i]
		if skirts[v.Bay] {
			c.r.Add(v.Of("bay"), fmt.Sprintf("datum.skirts[%d].bay", i), v.Bay, fmt.Sprintf("%s is given two skirt boards", v.Bay), "keep one")
		}
		skirts[v.Bay] = true
	}
}
