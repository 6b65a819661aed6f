package job

import (
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Bounds on what a job may state. They catch slips of the pen and keep every
// later product inside 64 bits; nothing real comes near them.
const (
	maxSize   = 500 * measure.Metre // a wall, a pen, an aisle
	maxHeight = 20 * measure.Metre
	maxRooms  = 5000
	maxName   = 40
	// minCoverage is the least face a board may cover: with less, a wall would
	// take boards without number.
	minCoverage = 50 * measure.Millimetre
)

// Read reads a job. The error, when there is one, is document.Problems: every
// mistake in the text, each with its line.
func Read(file string, src []byte) (*Job, error) {
	j := new(Job)
	r := document.NewReporter(file, src)
	if r.Read(j) {
		j.check(r)
	} else if !j.Pos().IsZero() {
		j.checkRest(r, file, src)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	j.file, j.src = file, src
	return j, nil
}

// checkRest checks what could be read of a text with mistakes, so that a person
// hears of everything at once. What it finds on the line of a mistake already
// told, or at no line, only follows from that mistake.
func (j *Job) checkRest(r *document.Reporter, file string, src []byte) {
	told := map[int]bool{0: true}
	var was document.Problems
	if errors.As(r.Err(), &was) {
		for i := range was {
			told[was[i].Pos.Line] = true
		}
	}
	rest := document.NewReporter(file, src)
	j.check(rest)
	var more document.Problems
	if errors.As(rest.Err(), &more) {
		for _, p := range more {
			if !told[p.Pos.Line] {
				r.Add(p.Pos, p.Path, p.Text, p.Message, p.Hint)
			}
		}
	}
}

// Reporter gathers mistakes that later stages find in this job's text.
func (j *Job) Reporter() *document.Reporter { return document.NewReporter(j.file, j.src) }

// checker gathers what is wrong with a job in itself.
type checker struct {
	r     *document.Reporter
	names map[string]bool
}

func (j *Job) check(r *document.Reporter) {
	c := &checker{r: r, names: map[string]bool{}}
	if j.Date != "" {
		if _, err := time.Parse("2006-01-02", j.Date); err != nil {
			r.Add(j.Of("date"), "date", j.Date, "this is no date", "write year-month-day, as 2026-05-04")
		}
	}
	c.text(j.Where, "job", "job", j.Job, 200)
	c.text(j.Farm.Where, "name", "farm.name", j.Farm.Name, 200)
	c.height(j.Where, "", j.Height)
	c.lumber(&j.Lumber)
	rooms := 0
	for i := range j.Structures {
		rooms += c.structure(&j.Structures[i], fmt.Sprintf("structures[%d]", i))
	}
	if rooms > maxRooms {
		r.Add(j.Of("structures"), "structures", "", fmt.Sprintf("%d rooms are more than one job holds", rooms), fmt.Sprintf("at most %d; split the job", maxRooms))
	}
	for i := range j.Measurements {
		c.measurement(&j.Measurements[i], fmt.Sprintf("measurements[%d]", i))
	}
	c.piers(j)
	c.readings(j)
	c.states(j)
	c.obstructions(j)
	c.datum(j)
	c.saw(j.Saw)
	c.crew(j)
	c.papers(j.Papers)
	posts := map[string]bool{}
	for i := range j.Floors {
		f := &j.Floors[i]
		path := fmt.Sprintf("floors[%d]", i)
		if posts[f.Post] {
			r.Add(f.Of("post"), path+".post", f.Post, fmt.Sprintf("the floor at post %s is given twice", f.Post), "keep the reading that is right")
		}
		posts[f.Post] = true
		if f.Height.Abs() > 3*measure.Metre {
			r.Add(f.Of("height"), path+".height", f.Height.String(), "a floor this far off the level line is a slip", "check the unit and the sign")
		}
	}
}

func (c *checker) text(w document.Where, key, path, s string, most int) {
	switch {
	case strings.TrimSpace(s) == "":
		c.r.Add(w.Of(key), path, s, key+" is empty", "give it a name")
	case len([]rune(s)) > most:
		c.r.Add(w.Of(key), path, "", fmt.Sprintf("%s is longer than %d characters", key, most), "shorten it")
	}
}

// name checks a short name that people read on labels and type on the command
// line, and that it is the only one of its kind.
func (c *checker) name(w document.Where, path, s, what string) {
	c.text(w, "name", path+".name", s, maxName)
	for _, ch := range s {
		if !unicode.IsLetter(ch) && !unicode.IsDigit(ch) && !strings.ContainsRune(" _.", ch) {
			c.r.Add(w.Of("name"), path+".name", s, fmt.Sprintf("a %s's name cannot hold %q", what, ch), "letters, digits, spaces, dots and underscores")
			return
		}
	}
	if c.names[s] {
		c.r.Add(w.Of("name"), path+".name", s, fmt.Sprintf("the name %q is given twice", s), "names stand on labels: give each its own")
	}
	c.names[s] = true
}

// size checks a length that must be stated as more than nothing and is not
// absurd; zero is refused only where the key was written or is needed.
func (c *checker) size(w document.Where, key, path string, l measure.Length, needed bool) {
	if l == 0 && !needed && !w.Has(key) {
		return
	}
	if l <= 0 {
		c.r.Add(w.Of(key), path+"."+key, l.String(), key+" must be more than nothing", "write it as measured, such as 12' or 3600 mm")
	} else if l > maxSize {
		c.r.Add(w.Of(key), path+"."+key, l.String(), fmt.Sprintf("%s is over %s", key, maxSize), "check the unit")
	}
}

func (c *checker) height(w document.Where, path string, l measure.Length) {
	c.size(w, "height", path, l, false)
	if l > maxHeight && l <= maxSize {
		c.r.Add(w.Of("height"), path+".height", l.String(), "a wall this high is a slip", "check the unit")
	}
}

func (c *checker) lumber(l *Lumber) {
	const path = "lumber"
	small := func(key string, v, least, most measure.Length) {
		c.size(l.Where, key, path, v, false)
		switch {
		case v > most && v <= maxSize:
			c.r.Add(l.Of(key), path+"."+key, v.String(), fmt.Sprintf("%s is over %s", key, most), "check the unit")
		case v > 0 && v < least:
			c.r.Add(l.Of(key), path+"."+key, v.String(), fmt.Sprintf("%s is under %s", key, least), "check the unit")
		}
	}
	small("thickness", l.Thickness, 5*measure.Millimetre, 200*measure.Millimetre)
	small("coverage", l.Coverage, minCoverage, 500*measure.Millimetre)
	small("ten_boards", l.TenBoards, 10*minCoverage, 5*measure.Metre)
	if l.Tongue < 0 || l.Tongue > 50*measure.Millimetre {
		c.r.Add(l.Of("tongue"), path+".tongue", l.Tongue.String(), "a tongue stands out between nothing and 50 mm", "measure it with a square")
	}
	if l.Species == OtherSpecies && l.Density == 0 {
		c.r.Add(l.Of("species"), path+".species", string(l.Species), "another species needs its density", "add density: 40 lb/ft3 or 640 kg/m3")
	}
	if l.Density < 0 || l.Density > 2000*measure.KilogramPerCubicMetre {
		c.r.Add(l.Of("density"), path+".density", "", "no wood has this density", "check the unit")
	}
	if b := l.Board(); l.Coverage != 0 && l.TenBoards != 0 && (b.Coverage-l.Coverage).Abs() > 3*measure.Millimetre {
		c.r.Add(l.Of("ten_boards"), path+".ten_boards", l.TenBoards.String(), "ten boards cover "+l.TenBoards.String()+", which is not ten times the stated coverage of "+l.Coverage.String(), "keep the one that was measured")
	}
	c.sold(l)
}

// time checks when something was read, where that is stated.
func (c *checker) time(w document.Where, path, at string) {
	if at == "" {
		return
	}
	if _, _, ok := readTime(at); ok {
		return
	}
	c.r.Add(w.Of("at"), path+".at", at, "this is no time", "write 2026-05-03 or 2026-05-03 14:10")
}

func (c *checker) measurement(m *Measurement, path string) {
	c.time(m.Where, path, m.At)
	c.width(m.Where, m.Width, path)
}

func (c *checker) width(w document.Where, v Width, path string) {
	for _, l := range v.Readings() {
		if l <= 0 || l > maxSize {
			c.r.Add(w.Of("width"), path+".width", l.String(), "no opening has this width", "write what the tape showed, such as 11' 7 5/8\"")
		}
	}
}
