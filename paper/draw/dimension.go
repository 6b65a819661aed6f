package draw

import (
	"math/big"

	"stallwright/engine/measure"
)

// Side is where a dimension line lies.
type Side uint8

// The sides. Above and Below measure along x, Left and Right along y; Along
// measures in the direction from the first point to the last and lies to the
// left of it.
const (
	Above Side = iota
	Below
	Left
	Right
	Along
)

// Dim is a linear dimension: a chain of spans between successive points.
//
// With Tier 1 or more it stands outside the drawing, tier 1 nearest; spans that
// would overlap another dimension of the tier move it outward. With Tier 0 it
// stands inside, Offset away from its first point toward Side.
//
// Text stands above its line. Text too wide for its span is set condensed, then
// moved out of the line with a leader.
type Dim struct {
	Layer  string // "" is LayerDimension
	Points []Point
	Side   Side
	Tier   int
	Offset Micron   // Tier 0 only; may be negative
	Texts  []string // of the spans in the order of Points; "" or missing: the span's length
	Arrows bool     // arrow heads instead of oblique strokes

	openStart, openEnd bool // the dimension goes on beyond a match line
}

func (d *Dim) points() []Point { return d.Points }
func (d *Dim) layer() string   { return orElse(d.Layer, LayerDimension) }

func (d *Dim) fault() string {
	switch {
	case len(d.Points) < 2:
		return "a dimension needs two points or more"
	case d.Side > Along:
		return "the side of a dimension is Above, Below, Left, Right or Along"
	case d.Tier < 0 || d.Tier > 20:
		return "the tier of a dimension is 0 to 20"
	case d.Tier > 0 && d.Side == Along:
		return "a dimension along its points needs Tier 0 and an Offset"
	case d.Tier == 0 && max(d.Offset, -d.Offset) > 200*MM:
		return "the offset of a dimension is at most 200 mm on paper"
	case len(d.Texts) >= len(d.Points):
		return "a dimension has at most one text for each span"
	}
	for i := 1; i < len(d.Points); i++ {
		if d.span(i-1) == 0 {
			return "two successive points of a dimension are at the same place"
		}
	}
	return farAway(d.Points)
}

// span is the exact model length of span i, to the nearest nanometre for Along.
func (d *Dim) span(i int) measure.Length {
	dx, dy := (d.Points[i+1].X - d.Points[i].X).Abs(), (d.Points[i+1].Y - d.Points[i].Y).Abs()
	switch d.Side {
	case Above, Below:
		return dx
	case Left, Right:
		return dy
	}
	// 4(dx² + dy²) has as root twice the length, so that the half can be rounded.
	x, y := big.NewInt(int64(dx)), big.NewInt(int64(dy))
	sum := new(big.Int).Add(x.Mul(x, x), y.Mul(y, y))
	return measure.Length((sum.Sqrt(sum.Lsh(sum, 2)).Int64() + 1) / 2)
}

// open says whether the dimension goes on beyond its point i.
func (d *Dim) open(i int) bool {
	return i == 0 && d.openStart || i == len(d.Points)-1 && d.openEnd
}

// text is what span i says. Millimetres are written without the unit, which
// stands in the title block (ISO 129-1, from memory).
func (d *Dim) text(i int, sys measure.System) string {
	if i < len(d.Texts) {
		if t := clean(d.Texts[i]); t != "" {
			return t
		}
	}
	return SpanText(d.span(i), sys)
}

// SpanText writes a length as dimensions show it: millimetres without the
// unit, or feet, inches and fractions.
func SpanText(l measure.Length, sys measure.System) string {
	t := l.In(sys)
	if n := len(t) - len(" mm"); sys == measure.Metric && n > 0 && t[n:] == " mm" {
		return t[:n]
	}
	return t
}

// Sizes on paper. Gap and overshoot of extension lines are 8 widths of a
// 0.25 mm line (ISO 129-1, from memory); the distance of the first line from
// the outline (10 mm) and between lines (8 mm) is textbook practice
// (second-hand).
const (
	extGap    Micron = 2 * MM
	extOver   Micron = 2 * MM
	dimFirst  Micron = 10 * MM
	dimPitch  Micron = 8 * MM
	dimText          = MinText
	textGap   Micron = 900 // between a dimension line and its text
	tickHalf  Micron = 1100
	arrowLen  Micron = 2500
	arrowHalf Micron = 420
	besides   Micron = 1700 // least room between a dimension text and an extension line
	stagger   Micron = 3 * MM
)

// axes are turned paper axes: u along a dimension line, v square to it.
type axes struct {
	o PaperPoint
	a Angle
}

// sideAxes are the axes for a side: u to the right, or upward for Left and
// Right, so that text reads from below or from the right.
func sideAxes(o PaperPoint, s Side) axes {
	if s == Left || s == Right {
		return axes{o, 90 * Degree}
	}
	return axes{o, 0}
}

func (x axes) at(u, v Micron) PaperPoint { return rotated(x.o, x.a, PaperPoint{u, v}) }

func (x axes) uv(p PaperPoint) (u, v Micron) {
	q := rotated(PaperPoint{}, -x.a, p.sub(x.o))
	return q.X, q.Y
}

// outward is +1 where the side lies at greater v, else -1.
func (s Side) outward() Micron {
	if s == Below || s == Right {
		return -1
	}
	return 1
}

// span is one stretch of a dimension line with its text.
type span struct {
	from, to Micron // in u, from < to
	text     string
	face     Face
	fits     bool // stands above its own stretch of the line
	across   bool // moved out and set square to the line
	textAt   Micron
}

func (s span) mid() Micron { return (s.from + s.to) / 2 }

// fit chooses the face in which the text stands above its span.
func (s *span) fit() {
	room := s.to - s.from - 2*besides
	for _, f := range [...]Face{Regular, Condensed} {
		if f.measure(s.text, dimText).Width <= room {
			s.face, s.fits = f, true
			return
		}
	}
}

// spansOf lays the spans of a dimension on its axis.
func spansOf(d *Dim, us []Micron, sys measure.System) []span {
	out := make([]span, 0, len(us)-1)
	for i := 1; i < len(us); i++ {
		s := span{from: min(us[i-1], us[i]), to: max(us[i-1], us[i]), text: d.text(i-1, sys)}
		s.fit()
		out = append(out, s)
	}
	return out
}

// terminator draws the ends of a stretch of dimension line: oblique strokes at
// 45 degrees to it, or arrow heads where there is room for both (ISO 129-1,
// from memory).
func (v *viewLayout) terminators(d *Dim, x axes, us []Micron, at Micron) {
	tick := Stroke{Layer: d.layer(), Pen: Pen{Weight: Medium}}
	head := Stroke{Layer: d.layer(), Fill: Tint(0), Closed: true}
	seen := map[Micron]bool{}
	point := func(u, dir Micron) {
		head.Runs = append(head.Runs, []PaperPoint{
			x.at(u, at), x.at(u+dir*arrowLen, at+arrowHalf), x.at(u+dir*arrowLen, at-arrowHalf)})
	}
	for i, u := range us {
		if d.open(i) {
			continue
		}
		roomy := func(j int) bool {
			return j < 0 || j >= len(us) || max(us[j]-u, u-us[j]) >= 3*arrowLen
		}
		switch {
		case seen[u]:
		case d.Arrows && roomy(i-1) && roomy(i+1):
			for _, j := range [...]int{i - 1, i + 1} {
				if j >= 0 && j < len(us) {
					dir := Micron(1)
					if us[j] < u {
						dir = -1
					}
					point(u, dir)
				}
			}
		default:
			tick.Runs = append(tick.Runs, []PaperPoint{x.at(u-tickHalf, at-tickHalf), x.at(u+tickHalf, at+tickHalf)})
		}
		seen[u] = true
	}
	for _, r := range append(tick.Runs, head.Runs...) {
		v.crowd.hard(r...)
	}
	if tick.Runs != nil {
		v.sheet.put(tick)
	}
	if head.Runs != nil {
		v.sheet.put(head)
	}
}

// insideDim draws a dimension that stands within the drawing and offers its
// texts for placing.
func (v *viewLayout) insideDim(d *Dim) {
	pts := make([]PaperPoint, len(d.Points))
	for i, p := range d.Points {
		pts[i] = v.placed.ToPaper(p)
	}
	x, towards := d.insideAxes(pts)
	us := make([]Micron, len(pts))
	at := towards * d.Offset
	for i, p := range pts {
		var pv Micron
		us[i], pv = x.uv(p)
		if d.open(i) {
			continue
		}
		v.extension(d.layer(), x, us[i], pv, at)
	}
	lo, hi := minMax(us)
	line := Stroke{Layer: d.layer(), Pen: Pen{Weight: Thin}, Runs: [][]PaperPoint{{x.at(lo, at), x.at(hi, at)}}}
	v.sheet.put(line)
	v.crowd.hard(line.Runs[0]...)
	v.terminators(d, x, us, at)
	for _, s := range spansOf(d, us, v.page.System) {
		v.inside = append(v.inside, insideText{d.layer(), x, at, s})
	}
}

// insideAxes are the axes through the dimension's first point and the sign of v
// toward its side.
func (d *Dim) insideAxes(pts []PaperPoint) (axes, Micron) {
	if d.Side != Along {
		return sideAxes(pts[0], d.Side), d.Side.outward()
	}
	a := angleOf(pts[len(pts)-1].sub(pts[0]))
	if a.upright() != a {
		return axes{pts[0], a.upright()}, -1
	}
	return axes{pts[0], a}, 1
}

// insideReach is the area that the lines of a dimension within the drawing and a
// text beside it take up.
func (d *Dim) insideReach(place func(Point) PaperPoint) PaperRect {
	pts := make([]PaperPoint, len(d.Points))
	for i, p := range d.Points {
		pts[i] = place(p)
	}
	x, towards := d.insideAxes(pts)
	us := make([]Micron, len(pts))
	for i, p := range pts {
		us[i], _ = x.uv(p)
	}
	lo, hi := minMax(us)
	at := towards * d.Offset
	q := boxQuad(x.o, x.a, PaperRect{PaperPoint{lo - tickHalf, at - dimText - extOver}, PaperPoint{hi + tickHalf, at + dimText + extOver}})
	return bounds(q[:])
}

// extension draws an extension line at u from a measured point at v = from to
// a dimension line at v = to.
func (v *viewLayout) extension(layer string, x axes, u, from, to Micron) {
	dir := Micron(1)
	if to < from {
		dir = -1
	}
	if dir*(to-from) <= extGap {
		return
	}
	v.sheet.put(Stroke{Layer: layer, Pen: Pen{Weight: Thin, Yields: true},
		Runs: [][]PaperPoint{{x.at(u, from+dir*extGap), x.at(u, to+dir*extOver)}}})
}

func minMax(us []Micron) (lo, hi Micron) {
	lo, hi = us[0], us[0]
	for _, u := range us[1:] {
		lo, hi = min(lo, u), max(hi, u)
	}
	return lo, hi
}
