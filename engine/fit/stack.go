package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// band is one thing in a stack above the boards below it: it takes some height
// of its own and swallows the tongue under it.
type band struct {
	after  int            // courses below it
	height measure.Length // from the tip of the tongue below to where the next course stands
}

// plan is how a bay's courses stand: the underside of each course above the
// datum, and what is done about what is left.
type plan struct {
	z      []measure.Length // of each full course
	rip    measure.Length   // face covered by a ripped last course; zero for none
	ripZ   measure.Length
	top    measure.Length // of the whole stack, last tongue included
	slack  measure.Length
	pack   measure.Length
	tooFar bool // the stack does not fit at all
}

// stack sets n full courses with at most one band among them into a zone, then
// closes what is left: by the clamp's travel, by a ripped last course, or by
// packing under the clamps.
func (f *fitter) stack(zone measure.Length, n int, mid *band, clamp *kit.Clamp) plan {
	c, t := f.board.Coverage, f.board.Tongue
	var p plan
	z := measure.Length(0)
	for k := range n {
		if mid != nil && k == mid.after {
			z += t + mid.height
		}
		p.z = append(p.z, z)
		z += c
	}
	p.top = z + t
	p.slack = zone - p.top
	least, most := measure.Length(0), f.kit.Board.MostGap
	if clamp != nil {
		least, most = clamp.Least, clamp.Most-clamp.Reserve
	}
	if p.slack < least {
		p.tooFar = true
		return p
	}
	if p.slack <= most {
		return p
	}
	// A ripped course has no tongue of its own; its groove takes the tongue of
	// the course below.
	rip := min(zone-z-least, c).Round(f.kit.Board.Mark, measure.Down)
	if rip >= f.kit.Board.LeastRip {
		p.rip, p.ripZ = rip, z
		p.top = z + rip
		p.slack = zone - p.top
		if p.slack <= most {
			return p
		}
	}
	if clamp != nil {
		middle := least + (most-least)/2
		p.pack = (p.slack - middle).Round(f.kit.Board.Mark, measure.Down)
		if p.pack > c {
			p.pack = 0 // a strip is ripped from one board
		}
	}
	return p
}

// fullCourses is how many whole courses fit a zone with one band among them.
func (f *fitter) fullCourses(zone measure.Length, mid *band, clamp *kit.Clamp) int {
	room := zone - f.board.Tongue
	if clamp != nil {
		room -= clamp.Least
	}
	if mid != nil {
		room -= f.board.Tongue + mid.height
	}
	return int(max(room, 0).DivDown(f.board.Coverage))
}

// clampOf is the stack clamp of a run; nil in a screwed wall.
func (f *fitter) clampOf(r *frame.Run) *kit.Clamp {
	if !r.Clamped() {
		return nil
	}
	return f.kit.Clamp(r.Assembly.Clamp)
}

// settle records how the stack came out and tells of what had to be done. what and
// said name its courses.
func (f *fitter) settle(i int, p plan, clamp *kit.Clamp, what string, said phrase.Phrase) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	r := &f.lay.Runs[b.Run]
	courses, each := phrase.With("courses", said), size("coverage", f.board.Coverage)
	rule := phrase.Of("rule.stack", courses, each, size("tongue", f.board.Tongue))
	if p.rip > 0 {
		rule = phrase.Of("rule.stack-ripped", courses, each, size("rip", p.rip))
	}
	out.Stack = &Stack{Zone: r.Zone, Top: p.top, Slack: p.slack, Packing: p.pack, Clamp: clamp}
	out.Stack.Why = reason.Of(phrase.Of("why.stack-top", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(p.top), rule, phrase.Phrase{}, f.coverage, r.WhyZone)
	switch {
	case p.tooFar:
		f.find(finding.StackTooHigh, finding.Error, b.Name,
			fmt.Sprintf("%s reach %s above the datum, but only %s is free%s", what, f.show(p.top), f.show(r.Zone), clampNeeds(f, clamp)),
			phrase.Of("way.course-fewer"), phrase.Of("way.less-coverage"), phrase.Of("way.lower-grille"))
		f.say("found.too-high", size("top", p.top), size("free", r.Zone))
	case p.rip > 0:
		f.find(finding.RippedCourse, finding.Note, b.Name, fmt.Sprintf("the last course is ripped to %s, its tongue cut off", f.show(p.rip)))
		f.say("found.ripped", size("height", p.rip))
	}
	switch {
	case p.pack > 0:
		f.find(finding.Packed, finding.Note, b.Name,
			fmt.Sprintf("%s stay %s short of the tube, more than the clamp's travel: a packing strip %s thick goes under the clamps", what, f.show(p.slack), f.show(p.pack)))
		f.say("found.packed", size("short", p.slack), size("packing", p.pack))
	case clamp != nil && p.slack > clamp.Most-clamp.Reserve:
		f.find(finding.StackShort, finding.Error, b.Name,
			fmt.Sprintf("%s stay %s short of the tube, more than the clamp's travel and a packing strip make up", what, f.show(p.slack)), phrase.Of("way.more-around-grille"), phrase.Of("way.higher-grille"), phrase.Of("way.other-coverage"))
		f.say("found.short-of-tube", size("short", p.slack))
	case clamp == nil && !p.tooFar && p.slack > f.kit.Board.MostGap:
		f.find(finding.StackShort, finding.Warning, b.Name,
			fmt.Sprintf("%s stay %s short of the wall's height", what, f.show(p.slack)), phrase.Of("way.leave-open"), phrase.Of("way.other-coverage"))
		f.say("found.short-of-wall", size("short", p.slack))
	}
}

func clampNeeds(f *fitter, c *kit.Clamp) string {
	if c == nil {
		return ""
	}
	return ", of which the clamp needs " + f.show(c.Least)
}
