package job

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Pier is where a pen's pier came to stand.
type Pier struct {
	document.Where `yaml:"-" json:"-"`

	Post string         `yaml:"post,required" doc:"the joint, by name: P.p1"`
	X    measure.Length `yaml:"x,required" doc:"from the centre stake along the baseline toward the gate's middle"`
	Y    measure.Length `yaml:"y,required" doc:"to the left of the baseline, looking toward the gate; to the right is negative"`
	By   string         `yaml:"by" doc:"who measured it"`
	At   string         `yaml:"at" doc:"when, as 2026-05-03 14:10"`
}

// Source says who measured it, when, and where it is written.
func (p *Pier) Source() string { return taken(p.By, p.At, p.Pos()) }

// piers checks where piers were measured to stand. The latest measurement of a
// pier counts, so one may be measured twice.
func (c *checker) piers(j *Job) {
	for i := range j.Piers {
		p := &j.Piers[i]
		path := fmt.Sprintf("piers[%d]", i)
		c.time(p.Where, path, p.At)
		for _, v := range []struct {
			key string
			l   measure.Length
		}{{"x", p.X}, {"y", p.Y}} {
			if v.l.Abs() > maxSize {
				c.r.Add(p.Of(v.key), path+"."+v.key, v.l.String(), fmt.Sprintf("%s is over %s", v.key, maxSize), "check the unit")
			}
		}
	}
}
