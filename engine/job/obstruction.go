package job

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Obstruction is something of the building that crosses a wall, or stands close
// before it: a rectangle in the wall's plane.
type Obstruction struct {
	document.Where `yaml:"-" json:"-"`

	Bay        string          `yaml:"bay,required" doc:"the bay it crosses, by name"`
	What       ObstructionKind `yaml:"what,required" doc:"brace, girt, curb, pipe, track or other"`
	Left       measure.Length  `yaml:"left" doc:"from the bay's left web (a doorway: left jamb) to its left side; from the web on where left out"`
	Width      measure.Length  `yaml:"width" doc:"how wide it is along the wall; to the right web where left out"`
	AboveDatum *measure.Length `yaml:"above_datum" doc:"its underside above the datum line; below it is negative"`
	AboveFloor *measure.Length `yaml:"above_floor" doc:"its underside above the finished floor, where the datum is not marked yet"`
	Height     measure.Length  `yaml:"height,required" doc:"how high it is"`
	Face       WallFace        `yaml:"face" doc:"the face of the wall it stands in or against: front or back; through the wall where left out"`
	Into       *measure.Length `yaml:"into" doc:"with face: how far it stands into the boards from that face; 0 where it only stands close before them"`
	Holds      bool            `yaml:"holds" doc:"board ends cut beside it are held there: a channel, a post or cleats are fixed to it"`

	By   string `yaml:"by" doc:"who read it"`
	At   string `yaml:"at" doc:"when, as 2026-05-03 14:10"`
	Note string `yaml:"note" doc:"anything seen"`
}

// ObstructionKind is what an obstruction is.
type ObstructionKind string

// Allowed lists what an obstruction may be.
func (ObstructionKind) Allowed() []string {
	return []string{"brace", "girt", "curb", "pipe", "track", "other"}
}

// WallFace is a face of a wall, as its front is defined.
type WallFace string

// The faces of a wall.
const (
	WallFrontFace WallFace = "front"
	WallBackFace  WallFace = "back"
)

// Allowed lists the faces of a wall.
func (WallFace) Allowed() []string { return []string{"front", "back"} }

// Source says who read it, when, and where it is written.
func (o *Obstruction) Source() string { return taken(o.By, o.At, o.Pos()) }

// Labour is how long pieces of work take, in minutes of one person.
type Labour struct {
	document.Where `yaml:"-" json:"-"`

	Shim    int `yaml:"shim" min:"0" max:"600" doc:"minutes to cut and set one shim behind a channel; 5 where left out"`
	Setting int `yaml:"setting" min:"0" max:"600" doc:"minutes for one more setting of the saw's stop, labels told apart included; 3 where left out"`
}

// Minutes of work where a job states none: common practice, no published source.
const (
	shimMinutes    = 5
	settingMinutes = 3
)

// Minutes are those of one shim and of one more saw setting, and what they rest
// on.
func (l *Labour) Minutes() (shim, setting int, source string) {
	shim, setting, source = shimMinutes, settingMinutes, "common practice, no published source"
	if l == nil {
		return shim, setting, source
	}
	if l.Has("shim") {
		shim, source = l.Shim, "job, labour"
	}
	if l.Has("setting") {
		setting, source = l.Setting, "job, labour"
	}
	return shim, setting, source
}

// obstructions checks each in itself; whether it lies in its bay takes the layout.
func (c *checker) obstructions(j *Job) {
	for i := range j.Obstructions {
		c.obstruction(&j.Obstructions[i], fmt.Sprintf("obstructions[%d]", i))
	}
}

func (c *checker) obstruction(o *Obstruction, path string) {
	c.time(o.Where, path, o.At)
	c.size(o.Where, "width", path, o.Width, false)
	c.size(o.Where, "height", path, o.Height, true)
	if o.Left < 0 || o.Left > maxSize {
		c.r.Add(o.Of("left"), path+".left", o.Left.String(), "left is measured from the bay's left web toward the right", "nothing or more")
	}
	if (o.AboveDatum == nil) == (o.AboveFloor == nil) {
		c.r.Add(o.Pos(), path, "", "the height of an obstruction counts from the datum or from the finished floor, one of the two", "above_datum: 2' or above_floor: 2' 2 1/4\"")
	}
	for key, l := range map[string]*measure.Length{"above_datum": o.AboveDatum, "above_floor": o.AboveFloor} {
		if l != nil && l.Abs() > maxHeight {
			c.r.Add(o.Of(key), path+"."+key, l.String(), "no wall reaches there", "check the unit")
		}
	}
	switch {
	case (o.Face == "") != (o.Into == nil):
		c.r.Add(o.Pos(), path, "", "face and into go together: which face, and how far into the boards from it", "{face: back, into: 1/2\"}; or leave both out for what goes right through")
	case o.Into != nil && (*o.Into < 0 || *o.Into > maxSize):
		c.r.Add(o.Of("into"), path+".into", o.Into.String(), "into is measured from the face into the boards", "0 where it only stands close before them")
	}
	if o.Has("holds") && o.Into != nil && *o.Into == 0 {
		c.r.Add(o.Of("holds"), path+".holds", "", "nothing is cut beside what only stands before the boards", "leave holds out")
	}
}
