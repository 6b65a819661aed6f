package draw

import (
	"strconv"

	"stallwright/engine/measure"
)

// captionHeight is the strip under each view.
const captionHeight = 15 * MM

// caption writes name and scale under a view, with scale bar and north arrow.
func (s *Sheet) caption(v View, at Placed, cell PaperRect) {
	left, right := cell.Min.X+3*MM, cell.Max.X-3*MM
	if v.North != nil {
		right -= 10 * MM
		s.north(PaperPoint{right + 5*MM, cell.Min.Y + 7*MM}, *v.North)
		right -= 2 * MM
	}
	if c := clean(v.Caption); c != "" {
		t := s.fitText(c, Text35, Bold, right-left, 5*MM, 1300)
		t.Layer, t.At = LayerFrame, PaperPoint{left, cell.Min.Y + 9300}
		s.put(t)
	}
	if !v.NoBar && !v.NotToScale {
		right = s.bar(at.Scale, right, cell.Min.Y+3*MM, (right-left)*45/100) - 4*MM
	}
	t := s.fitText(s.Page.Wording.scale(at.Scale.Words), MinText, Regular, right-left, 4*MM, 2*MM)
	t.Layer, t.At = LayerFrame, PaperPoint{left, cell.Min.Y + 4400}
	s.put(t)
}

// barSteps are the lengths a division of the scale bar may stand for.
func barSteps(sys measure.System) []measure.Length {
	if sys == measure.Metric {
		return []measure.Length{5 * measure.Millimetre, 10 * measure.Millimetre, 20 * measure.Millimetre, 50 * measure.Millimetre,
			100 * measure.Millimetre, 200 * measure.Millimetre, 500 * measure.Millimetre, measure.Metre, 2 * measure.Metre,
			5 * measure.Metre, 10 * measure.Metre, 20 * measure.Metre}
	}
	return []measure.Length{measure.Inch / 4, measure.Inch / 2, measure.Inch, 2 * measure.Inch, 3 * measure.Inch, 6 * measure.Inch,
		measure.Foot, 2 * measure.Foot, 5 * measure.Foot, 10 * measure.Foot, 20 * measure.Foot, 50 * measure.Foot}
}

// barText is the length at a mark of the bar.
func barText(l measure.Length, sys measure.System) string {
	switch {
	case l == 0:
		return "0"
	case sys == measure.Metric && l%measure.Metre == 0:
		return strconv.FormatInt(int64(l/measure.Metre), 10) + " m"
	case sys == measure.Metric:
		return strconv.FormatInt(int64(l/measure.Millimetre), 10) + " mm"
	case l%measure.Foot == 0:
		return strconv.FormatInt(int64(l/measure.Foot), 10) + "'"
	}
	return l.In(sys)
}

// bar draws a scale bar of four divisions, alternately black and white, ending
// near right, and returns its left end. No bar is drawn where none of the round
// divisions fits.
func (s *Sheet) bar(sc Scale, right, base, most Micron) Micron {
	step := measure.Length(0)
	for _, l := range barSteps(s.Page.System) {
		if sc.Paper(4*l) <= min(most, 80*MM) && sc.Paper(4*l) >= 16*MM {
			step = l
		}
	}
	if step == 0 {
		return right
	}
	end := Text{Layer: LayerFrame, Text: barText(4*step, s.Page.System), Height: MinText, Anchor: Middle}
	zero := end
	zero.Text = "0"
	long := sc.Paper(4 * step)
	left := right - long - end.local(0).Max.X
	at := func(i measure.Length) Micron { return left + sc.Paper(i*step) }
	for i := range measure.Length(4) {
		fill := White()
		if i%2 == 0 {
			fill = Tint(0)
		}
		box := PaperRect{PaperPoint{at(i), base}, PaperPoint{at(i + 1), base + 1200}}.corners()
		s.put(Stroke{Layer: LayerFrame, Pen: Pen{Weight: Thin}, Fill: fill, Closed: true, Runs: [][]PaperPoint{box[:]}})
	}
	half := end
	half.Text = barText(2*step, s.Page.System)
	zero.At, half.At, end.At = PaperPoint{left, base + 2200}, PaperPoint{at(2), base + 2200}, PaperPoint{at(4), base + 2200}
	s.put(zero, end)
	a, b, c := zero.box(textClear), half.box(0), end.box(textClear)
	if disjoint(a[:], b[:]) && disjoint(b[:], c[:]) {
		s.put(half)
	}
	return left + zero.local(0).Min.X
}

// north draws an arrow with an N at its tip, in a circle of 5 mm radius.
func (s *Sheet) north(c PaperPoint, dir Angle) {
	x := axes{c, dir}
	s.put(
		Stroke{Layer: LayerFrame, Pen: Pen{Weight: Light}, Runs: [][]PaperPoint{{x.at(-5*MM, 0), x.at(1*MM, 0)}}},
		Stroke{Layer: LayerFrame, Fill: Tint(0), Closed: true, Runs: [][]PaperPoint{{x.at(1500, 0), x.at(-1500, 1100), x.at(-500, 0), x.at(-1500, -1100)}}},
	)
	e := Bold.measure("N", MinText)
	t := Text{Layer: LayerFrame, At: x.at(3500, 0).sub(PaperPoint{0, e.Up / 2}), Text: "N", Height: MinText, Face: Bold, Anchor: Middle}
	s.put(t)
}
