package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// leanAgrees is how far a bay's widths may differ from what its posts' leans make
// of them before one of the two is read again: two tapes and two plumb bobs, each
// good to about 1/16 in (common practice, no published source).
const leanAgrees = measure.Inch / 4

// leaning is how the channels at a bay's ends lean over the height of its board
// zone, from plumb readings of the posts they are lagged to.
type leaning struct {
	along [2]measure.Length // left and right: top over bottom toward the right
	out   [2]measure.Length // top over bottom toward the wall's front
	why   []*reason.Reason
}

// wider is how much wider the bay is at the top of its zone than at the datum.
func (l *leaning) wider() measure.Length { return l.along[1] - l.along[0] }

// twist is how much the two channels lean apart across the wall.
func (l *leaning) twist() measure.Length { return (l.out[1] - l.out[0]).Abs() }

// plumb finds the latest plumb reading of each post.
func (f *fitter) plumb() {
	f.leans = map[string]*job.Reading{}
	for i := range f.job.Readings {
		if r := &f.job.Readings[i]; r.Kind() == job.ReadPlumb {
			f.leans[r.Plumb] = r
		}
	}
}

// leaning is nil where not both posts were held against a plumb bob, and in
// frames, which are squared whatever the timber does.
func (f *fitter) leaning(bay int) *leaning {
	r := &f.lay.Runs[f.lay.Bays[bay].Run]
	from, to := &f.lay.Posts[r.From], &f.lay.Posts[r.To]
	if r.Channel == nil || f.leans[from.Name] == nil || f.leans[to.Name] == nil {
		return nil
	}
	l := &leaning{}
	way := to.At.Sub(from.At)
	for side, p := range []*frame.Post{from, to} {
		v := f.leans[p.Name]
		// Across the barn counts from the back toward the front, which is south.
		lean := frame.Point{X: v.Along, Y: -v.Across}
		l.along[side] = onto(lean, way, r.Zone, v.Over)
		l.out[side] = onto(lean, frame.Point{X: way.Y, Y: -way.X}, r.Zone, v.Over)
		l.why = append(l.why, reason.Given(phrase.Of("why.lean-of", phrase.With("post", phrase.Name(p.Name))), phrase.Of("amount.lean", size("along", v.Along), size("across", v.Across), size("over", v.Over)), v.Cite()))
	}
	return l
}

// onto is the part of a lean read over one height that points along a way, over
// another height.
func onto(lean, way frame.Point, height, over measure.Length) measure.Length {
	n := int64(frame.Distance(frame.Point{}, way))
	x, _ := measure.MulDiv(int64(lean.X), int64(way.X), n, measure.Nearest)
	y, _ := measure.MulDiv(int64(lean.Y), int64(way.Y), n, measure.Nearest)
	l, _ := measure.MulDiv(x+y, int64(height), int64(over), measure.Nearest)
	return measure.Length(l)
}

// widened adds what the leans of the posts say about a width that was not read at
// the top; where it was, the tape counts, and the two are compared.
func (f *fitter) widened(i int, w job.Width, l *leaning) profile {
	b := &f.lay.Bays[i]
	zone := f.lay.Runs[b.Run].Zone
	p := profileOf(w, zone)
	if l == nil {
		return p
	}
	last := len(p.z) - 1
	read, lean := p.w[last]-p.w[0], l.wider()
	if last == 0 || w.Top == 0 {
		top := p.w[last] + lean
		if last > 0 {
			top -= lean / 2 // the middle was read
		}
		if top > 0 && top != p.w[last] {
			p.add(zone, top)
		}
	}
	if w.Top == 0 {
		lean /= 2
	}
	if d := read - lean; last > 0 && d.Abs() > leanAgrees {
		f.find(finding.WidthLean, finding.Warning, b.Name,
			fmt.Sprintf("by the tape the bay is %s, by the leans of its posts %s: they are %s apart; the tape counts", f.widerBy(read), f.widerBy(lean), f.show(d.Abs().Round(f.kit.Board.Mark, measure.Nearest))),
			phrase.Of("way.widths-again"), phrase.Of("way.plumb-again"))
		f.say("found.width-lean", phrase.With("tape", f.saysWider(read)), phrase.With("lean", f.saysWider(lean)), size("by", d.Abs().Round(f.kit.Board.Mark, measure.Nearest)))
	}
	return p
}

// widerBy says how much wider a bay is at its upper reading.
func (f *fitter) widerBy(d measure.Length) string {
	mark := f.kit.Board.Mark
	switch {
	case d > 0:
		return f.show(d.Round(mark, measure.Nearest)) + " wider above"
	case d < 0:
		return f.show((-d).Round(mark, measure.Nearest)) + " narrower above"
	}
	return "as wide above"
}

// saysWider is widerBy for a crew in any language.
func (f *fitter) saysWider(d measure.Length) phrase.Phrase {
	by := size("by", d.Abs().Round(f.kit.Board.Mark, measure.Nearest))
	switch {
	case d > 0:
		return phrase.Of("found.wider-above", by)
	case d < 0:
		return phrase.Of("found.narrower-above", by)
	}
	return phrase.Of("found.as-wide")
}
