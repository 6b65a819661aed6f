package draw

import (
	"fmt"
	"slices"

	"stallwright/engine/measure"
)

// tierLine is one dimension line outside a drawing with everything on it.
type tierLine struct {
	dims  []*Dim
	us    [][]Micron // of each dim's points
	spans []span     // of all dims, by place
	at    Micron     // distance outward from the extents
	rowAt Micron     // distance outward at which leaders to moved text bend
}

// tiers are the dimension lines on one side, nearest first.
type tiers struct {
	side  Side
	lines []*tierLine
	depth Micron // taken up outside the extents
}

// planTiers arranges the dimensions of one side at a scale. Length is the
// extent of the drawing along the side. Paper coordinates count from the lower
// left of the extents.
func planTiers(d *Drawing, side Side, place func(Point) PaperPoint, length Micron, sys measure.System) (tiers, error) {
	t := tiers{side: side}
	x := sideAxes(PaperPoint{}, side)
	for _, dim := range outsideDims(d, side) {
		us := make([]Micron, len(dim.Points))
		for i, p := range dim.Points {
			us[i], _ = x.uv(place(p))
		}
		ln := t.lineFor(dim, us)
		ln.dims = append(ln.dims, dim)
		ln.us = append(ln.us, us)
		ln.spans = append(ln.spans, spansOf(dim, us, sys)...)
	}
	t.lines = slices.DeleteFunc(t.lines, func(l *tierLine) bool { return len(l.dims) == 0 })
	previous := Micron(-1)
	for _, ln := range t.lines {
		slices.SortStableFunc(ln.spans, func(a, b span) int { return int(a.mid() - b.mid()) })
		need := ln.inner(side)
		ln.at = t.depth + MM + need
		if previous < 0 {
			ln.at = max(ln.at, dimFirst)
		} else {
			ln.at = max(ln.at, previous+dimPitch)
		}
		previous = ln.at
		out, ok := ln.moveOut(side, length)
		if !ok {
			return t, fmt.Errorf("one dimension line has %d narrow spans, more than can be written beside it", len(ln.spans))
		}
		t.depth = max(out, ln.at+extOver)
	}
	return t, nil
}

// outsideDims are the dims of a side with a tier, in order of tier.
func outsideDims(d *Drawing, side Side) []*Dim {
	var out []*Dim
	for _, it := range d.items {
		if dim, ok := it.(*Dim); ok && dim.Tier > 0 && dim.Side == side {
			out = append(out, dim)
		}
	}
	slices.SortStableFunc(out, func(a, b *Dim) int { return a.Tier - b.Tier })
	return out
}

// lineFor finds the first line from the dim's tier outward where none of its
// length is taken.
func (t *tiers) lineFor(d *Dim, us []Micron) *tierLine {
	lo, hi := minMax(us)
	for i := d.Tier - 1; ; i++ {
		for len(t.lines) <= i {
			t.lines = append(t.lines, &tierLine{})
		}
		free := true
		for _, other := range t.lines[i].us {
			a, b := minMax(other)
			free = free && (hi <= a || b <= lo)
		}
		if free {
			return t.lines[i]
		}
	}
}

func (l *tierLine) anyFits() bool {
	return slices.ContainsFunc(l.spans, func(s span) bool { return s.fits })
}

// inner is the room the line needs on the drawing's side.
func (l *tierLine) inner(side Side) Micron {
	if side.outward() < 0 && l.anyFits() {
		return textGap + textReach(l.spans)
	}
	return tickHalf
}

// textReach is how far the tallest text stands above its baseline.
func textReach(spans []span) Micron {
	up := dimText
	for _, s := range spans {
		up = max(up, s.face.measure(s.text, dimText).Up)
	}
	return up
}

// moveOut places the texts that do not fit in a row of their own, outside the
// line, in the order of their spans, so that their leaders never cross. It
// returns the outer end of everything on the line.
func (l *tierLine) moveOut(side Side, length Micron) (Micron, bool) {
	l.rowAt = l.at + tickHalf
	if side.outward() > 0 && l.anyFits() {
		l.rowAt = l.at + textGap + textReach(l.spans)
	}
	var moved []int
	for i, s := range l.spans {
		if !s.fits {
			moved = append(moved, i)
		}
	}
	if moved == nil {
		return l.rowAt, true
	}
	const beyond = 6 * MM // less than dimFirst, so that rows of two sides cannot meet
	written := false
	tallest := Micron(0)
	for _, across := range [...]bool{false, true} {
		want, width := make([]Micron, len(moved)), make([]Micron, len(moved))
		tall := Micron(0)
		for k, i := range moved {
			e := Condensed.measure(l.spans[i].text, dimText)
			want[k], width[k] = l.spans[i].mid(), e.Width+besides*2
			high := e.Up + e.Down
			if across {
				width[k], high = high+textClear, e.Width
			}
			tall = max(tall, high)
		}
		at, far, ok := spreadOut(want, width, -beyond, length+beyond)
		if !ok {
			continue
		}
		for k, i := range moved {
			l.spans[i].face, l.spans[i].across, l.spans[i].textAt = Condensed, across, at[k]
		}
		written, tallest = true, tall
		if far <= 2*MM { // near enough to its span to be read as a row
			break
		}
	}
	return l.rowAt + stagger + tallest + MM/2, written
}

// spreadOut sets intervals of the given widths side by side in order, each
// centre as near to where it is wanted as least squares has it (isotonic
// regression by pooling adjacent violators: Ayer et al., Ann. Math. Statist. 26
// (1955), from memory), all within lo and hi. It reports the greatest shift.
func spreadOut(want, width []Micron, lo, hi Micron) (at []Micron, far Micron, ok bool) {
	type pool struct{ sum, n Micron }
	var pools []pool
	shift := make([]Micron, len(want)) // centre of interval i when all are packed from 0
	total := Micron(0)
	for i, w := range width {
		shift[i] = total + w/2
		total += w
		pools = append(pools, pool{want[i] - shift[i], 1})
		for k := len(pools); k > 1 && pools[k-1].sum*pools[k-2].n < pools[k-2].sum*pools[k-1].n; k-- {
			pools[k-2] = pool{pools[k-2].sum + pools[k-1].sum, pools[k-2].n + pools[k-1].n}
			pools = pools[:k-1]
		}
	}
	if total > hi-lo {
		return nil, 0, false
	}
	i := 0
	at = make([]Micron, len(want))
	for _, p := range pools {
		start := min(max(Micron(floorDiv(int64(p.sum), int64(p.n))), lo), hi-total)
		for range p.n {
			at[i] = start + shift[i]
			far = max(far, at[i]-want[i], want[i]-at[i])
			i++
		}
	}
	return at, far, true
}

// drawTiers puts the dimension lines of one side on the sheet.
func (v *viewLayout) drawTiers(t tiers, edge Micron) {
	x := sideAxes(v.placed.Origin, t.side)
	out := t.side.outward()
	for i, ln := range t.lines {
		at := edge + out*ln.at
		passing := passingBy(t.lines[i+1:])
		for j, d := range ln.dims {
			lo, hi := minMax(ln.us[j])
			line := Stroke{Layer: d.layer(), Pen: Pen{Weight: Thin}, Runs: [][]PaperPoint{{x.at(lo, at), x.at(hi, at)}}}
			v.sheet.put(line)
			v.crowd.hard(line.Runs[0]...)
			v.terminators(d, x, ln.us[j], at)
			for k, p := range d.Points {
				if d.open(k) {
					continue
				}
				_, pv := x.uv(v.placed.ToPaper(p))
				v.mergeExtension(d.layer(), t.side, ln.us[j][k], pv, at)
			}
		}
		layer := ln.dims[0].layer()
		for _, s := range ln.spans {
			if s.fits {
				v.putText(Text{Layer: layer, At: x.at(s.slid(passing), at+textGap), Text: s.text, Height: dimText,
					Face: s.face, Anchor: Middle, Rotation: x.a})
				continue
			}
			v.movedText(layer, x, s, at, edge+out*ln.rowAt, out)
		}
	}
}

// passingBy lists where the extension lines of lines farther out pass.
func passingBy(farther []*tierLine) []Micron {
	var out []Micron
	for _, ln := range farther {
		for _, us := range ln.us {
			out = append(out, us...)
		}
	}
	return out
}

// slid is the place nearest to the middle of the span where its text meets
// fewest of the passing extension lines.
func (s span) slid(passing []Micron) Micron {
	half := s.face.measure(s.text, dimText).Width/2 + textClear
	slack := (s.to-s.from)/2 - half
	best, least := s.mid(), len(passing)+1
	for k := range Micron(17) { // 0, 1, -1, ... 8, -8 eighths of the slack
		at := s.mid() + slack*((k+1)/2)/8
		if k%2 == 0 {
			at = s.mid() - slack*((k+1)/2)/8
		}
		n := 0
		for _, u := range passing {
			if u > at-half && u < at+half {
				n++
			}
		}
		if n < least {
			best, least = at, n
		}
	}
	return best
}

// movedText writes a text outside its line, with a leader from the middle of
// its span.
func (v *viewLayout) movedText(layer string, x axes, s span, at, bend, out Micron) {
	row := bend + out*stagger // the side of the text that faces the line
	e := s.face.measure(s.text, dimText)
	t := Text{Layer: layer, Text: s.text, Height: dimText, Face: s.face, Anchor: Middle, Rotation: x.a}
	if s.across {
		t.Rotation = (x.a + 90*Degree).upright()
		side := Micron(1)
		if t.Rotation != x.a+90*Degree {
			side = -1
		}
		t.At = x.at(s.textAt+side*(e.Up-e.Down)/2, row+out*(e.Width+1)/2)
	} else if out > 0 {
		t.At = x.at(s.textAt, row+e.Down)
	} else {
		t.At = x.at(s.textAt, row-e.Up)
	}
	v.putText(t)
	leader := []PaperPoint{x.at(s.mid(), at), x.at(s.mid(), bend), x.at(s.textAt, row-out*MM/2)}
	v.sheet.put(Stroke{Layer: layer, Pen: Pen{Weight: Thin}, Runs: [][]PaperPoint{leader}})
	v.crowd.hard(leader...)
}

// extKey names one extension line outside a drawing, shared by all dimension
// lines of its side that end there.
type extKey struct {
	layer string
	side  Side
	u     Micron
}

// mergeExtension lengthens the extension line at u so that it reaches from the
// measured point nearest the drawing's edge to the outermost dimension line.
func (v *viewLayout) mergeExtension(layer string, side Side, u, from, to Micron) {
	k := extKey{layer, side, u}
	e, ok := v.ext[k]
	if !ok {
		v.extOrder = append(v.extOrder, k)
		e = [2]Micron{from, to}
	}
	out := side.outward()
	if out*(from-e[0]) > 0 {
		e[0] = from
	}
	if out*(to-e[1]) > 0 {
		e[1] = to
	}
	v.ext[k] = e
}

func (v *viewLayout) drawExtensions() {
	for _, k := range v.extOrder {
		e := v.ext[k]
		v.extension(k.layer, sideAxes(v.placed.Origin, k.side), k.u, e[0], e[1])
	}
}
