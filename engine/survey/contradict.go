package survey

import (
	"math"
	"sort"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// tie is a distance between two posts.
type tie struct{ to, reading int }

// distances lists the active distances at each post, by other post, then in
// the order given.
func (p *plane) distances(active []bool) [][]tie {
	at := make([][]tie, len(p.net.Points))
	for i, e := range p.equation {
		if active[i] && e.kind.isDistance() {
			a, b := e.post[0], e.post[1]
			at[a] = append(at[a], tie{b, i})
			at[b] = append(at[b], tie{a, i})
		}
	}
	for _, l := range at {
		sort.SliceStable(l, func(x, y int) bool { return l[x].to < l[y].to })
	}
	return at
}

// checkDuplicates reports readings of one and the same thing that differ by
// more than their precision allows.
func (p *plane) checkDuplicates() {
	type key struct {
		kind Kind
		post [3]int
	}
	first := map[key]int{}
	for i, e := range p.equation {
		if !p.usable[i] {
			continue
		}
		k := key{e.kind, e.post}
		if e.kind.isDistance() {
			a, b := e.post[0], e.post[1]
			k = key{Distance, [3]int{min(a, b), max(a, b), -1}}
		}
		j, ok := first[k]
		if !ok {
			first[k] = i
			continue
		}
		o := p.equation[j]
		allowed := float64(p.opt.CutOff * math.Sqrt(float64(e.sigma*e.sigma)+float64(o.sigma*o.sigma)))
		if d := math.Abs(e.value - o.value); d > allowed {
			r := p.net.Readings[i]
			p.problem(DuplicateDiffers, []int{j, i}, r.Posts, phrase.Of("slip.twice", with("reading", r.say()), with("first", p.opt.taken(p.net.Readings[j].written(), p.net.Readings[j].By, p.net.Readings[j].When)),
				with("second", p.opt.taken(r.written(), r.By, r.When)), p.opt.size("by", toLength(d))), "The %s was read twice, %s%s and %s%s: they differ by %s. Read it a third time.",
				r.label(), p.opt.show(p.net.Readings[j].written()), by(p.net.Readings[j].By, p.net.Readings[j].When),
				p.opt.show(r.written()), by(r.By, r.When), p.opt.show(toLength(d)))
		}
	}
}

// by says who read something and when, in brackets, as far as is known.
func by(who, when string) string {
	switch {
	case who != "" && when != "":
		return " (" + who + ", " + when + ")"
	case who != "" || when != "":
		return " (" + who + when + ")"
	}
	return ""
}

// checkTriangles reports three distances of which one is longer than the other
// two together by more than their precision allows. Of the triangles that a
// reading set aside spoils, one is told.
func (p *plane) checkTriangles(aside []bool) {
	at := p.distances(p.usable)
	told := make([]bool, len(aside))
	for a := range at {
		for x, ab := range at[a] {
			for _, ac := range at[a][x+1:] {
				if ab.to <= a || ac.to <= ab.to {
					continue // each triangle once, with a < b < c
				}
				for _, bc := range at[ab.to] {
					if bc.to == ac.to {
						p.checkTriangle([3]int{ab.reading, ac.reading, bc.reading}, aside, told)
					}
				}
			}
		}
	}
}

func (p *plane) checkTriangle(side [3]int, aside, told []bool) {
	value := func(k int) float64 { return p.equation[side[k]].value }
	sort.SliceStable(side[:], func(x, y int) bool { return p.equation[side[x]].value < p.equation[side[y]].value })
	variance := 0.0
	for _, i := range side {
		s := p.equation[i].sigma
		variance += float64(s * s)
	}
	over := value(2) - value(1) - value(0)
	if over <= float64(p.opt.CutOff*math.Sqrt(variance)) {
		return
	}
	verdict, say := "One of the three is wrong.", phrase.Of("slip.one-of-three")
	for _, i := range side {
		if aside[i] && told[i] {
			return
		}
		if aside[i] {
			told[i] = true
			verdict, say = "The other readings point to "+p.net.Readings[i].label()+".", phrase.Of("slip.others-point", with("reading", p.net.Readings[i].say()))
		}
	}
	p.tellTriangle(side, toLength(over), verdict, say)
}

func (p *plane) tellTriangle(side [3]int, over measure.Length, verdict string, say phrase.Phrase) {
	seen := map[int]bool{}
	var names []string
	for _, i := range side {
		for _, q := range p.equation[i].post[:2] {
			if !seen[q] {
				seen[q] = true
				names = append(names, p.net.Points[q].Name)
			}
		}
	}
	r := p.net.Readings
	if r[side[0]].Hooks != 0 || r[side[1]].Hooks != 0 || r[side[2]].Hooks != 0 {
		verdict, say = "All three are given from axis to axis. "+verdict, phrase.Of("slip.axis-to-axis", with("what", say))
	}
	p.problem(ImpossibleShape, []int{side[0], side[1], side[2]}, names, phrase.Of("slip.no-triangle", with("one", r[side[0]].say()), with("two", r[side[1]].say()), with("three", r[side[2]].say()),
		p.opt.size("a", r[side[0]].Value), p.opt.size("b", r[side[1]].Value), p.opt.size("short", over), p.opt.size("c", r[side[2]].Value), with("verdict", say)), "%s, %s and %s make no triangle: %s and %s together are %s short of %s. %s",
		capital(r[side[0]].label()), r[side[1]].label(), r[side[2]].label(),
		p.opt.show(r[side[0]].Value), p.opt.show(r[side[1]].Value), p.opt.show(over), p.opt.show(r[side[2]].Value), verdict)
}

// checkUnits reports distances that fit the drawing only as a number in another
// unit. A drawing is rough: a twentieth either way is allowed.
func (p *plane) checkUnits() {
	for i, gross := range p.grossly() {
		if !gross {
			continue
		}
		drawn, _ := p.equation[i].evaluate(p.drawn)
		r := p.net.Readings[i]
		drawn -= metres(r.Hooks)
		if u, ok := mixedUnit(metres(r.written()), drawn, drawn/20); ok {
			p.problem(UnitMix, []int{i}, r.Posts, phrase.Of("slip.unit-mix", with("reading", r.say()), p.opt.size("written", r.written()), p.opt.size("drawn", toLength(drawn)), with("slip", u.say), p.opt.size("value", u.meant)), "The %s is written as %s, but the posts are drawn %s apart. It looks as if it was %s: %s.",
				r.label(), p.opt.show(r.written()), p.opt.show(toLength(drawn)), u.words, p.opt.show(u.meant))
		}
	}
}

// unitSlip is a way a number comes to stand in the wrong unit.
type unitSlip struct {
	factor        float64  // value written over value meant
	read, written unitName // on the tape, in the book
}

// unitName is a unit of the tape's figures in words.
type unitName string

// unitSays are the units for a crew in any language.
var unitSays = map[unitName]string{
	"millimetres": "slip.millimetres", "centimetres": "slip.centimetres", "metres": "slip.metres",
	"inches": "slip.inches", "feet": "slip.feet",
}

func (u unitSlip) slip(meant measure.Length) slip {
	words := "read in " + string(u.read) + " and written as " + string(u.written)
	return slip{words, meant, rankUnit, phrase.Of("slip.unit", with("read", phrase.Of(unitSays[u.read])), with("written", phrase.Of(unitSays[u.written])))}
}

// The pairs of units people mix, both ways: the factor is the unit written over
// the unit read, so a number of millimetres kept as inches grows 25.4 fold.
var unitSlips = []unitSlip{
	{25.4, "millimetres", "inches"},
	{1 / 25.4, "inches", "millimetres"},
	{2.54, "centimetres", "inches"},
	{1 / 2.54, "inches", "centimetres"},
	{0.3048, "metres", "feet"},
	{1 / 0.3048, "feet", "metres"},
	{12, "inches", "feet"},
	{1.0 / 12, "feet", "inches"},
	{10, "millimetres", "centimetres"},
	{0.1, "centimetres", "millimetres"},
	{1000, "millimetres", "metres"},
	{0.001, "metres", "millimetres"},
	{100, "centimetres", "metres"},
	{0.01, "metres", "centimetres"},
	{304.8, "millimetres", "feet"},
	{1 / 304.8, "feet", "millimetres"},
}

// screenShare and screenLeast: a distance that differs from where the posts
// are drawn by more than this part of the drawn distance, and by more than
// this length, is kept out of the first adjustment. It is judged against the
// others afterwards, and taken back if they agree with it.
const (
	screenShare = 0.3
	screenLeast = 0.6 // metres, about 2 ft
)

// grossly finds the distances so far from the drawing that they would pull the
// first adjustment out of shape.
func (p *plane) grossly() []bool {
	out := make([]bool, len(p.equation))
	for i, e := range p.equation {
		if !p.usable[i] || !e.kind.isDistance() {
			continue
		}
		drawn, _ := e.evaluate(p.drawn)
		d := math.Abs(e.value - drawn)
		out[i] = d > screenLeast && d > float64(screenShare*drawn)
	}
	return out
}

// mixedUnit is how reading value came to stand for expect in another unit;
// false when no mix of units explains it within tolerance, all in metres.
func mixedUnit(value, expect, tolerance float64) (slip, bool) {
	for _, u := range unitSlips {
		m := value / u.factor
		if math.Abs(m-expect) <= tolerance {
			return u.slip(toLength(m)), true
		}
	}
	return slip{}, false
}
