package draw

import (
	"errors"
	"fmt"

	"stallwright/engine/measure"
)

// viewLayout is the work of putting one view on a sheet.
type viewLayout struct {
	page     Page
	sheet    *Sheet
	placed   Placed
	crowd    crowd
	inside   []insideText
	ext      map[extKey][2]Micron
	extOrder []extKey
	looking  looking
	key      []string // texts of this view's balloons that are not yet in the sheet's key
}

// edgeClear is kept between a drawing and the edge of its area.
const edgeClear = 4 * MM

// ErrTooLarge is wrapped by the error of Lay where no allowed scale makes a
// drawing fit its place; LaySplit may help then.
var ErrTooLarge = errors.New("too large for a legible scale")

// fitted is a scale with the dimension lines arranged at it.
type fitted struct {
	scale Scale
	tiers [4]tiers  // Above, Below, Left, Right
	over  [4]Micron // that dimensions within the drawing stand out of it
	size  PaperPoint
}

// need is the paper that a fitted drawing takes up.
func (f fitted) need(room Micron) (w, h Micron) {
	return f.size.X + f.depth(Left, room) + f.depth(Right, room), f.size.Y + f.depth(Above, room) + f.depth(Below, room)
}

func (f fitted) depth(s Side, room Micron) Micron {
	return max(f.tiers[s].depth+MM, f.over[s], edgeClear, room)
}

// chooseScale finds the largest scale at which a view fits an area w by h.
func chooseScale(v View, w, h Micron, sys measure.System) (fitted, error) {
	scales := Scales(sys)
	switch {
	case v.Scale.Ratio > 0:
		scales = []Scale{v.Scale}
	case v.NotToScale:
		scales = notToScale()
	}
	lo, hi, ok := v.Drawing.extents()
	if !ok {
		return fitted{}, errors.New("there is nothing to draw")
	}
	var crowded error
	var last fitted
	for _, s := range scales {
		if v.Coarsest.Ratio > 0 && s.Ratio > v.Coarsest.Ratio {
			break
		}
		f, err := fitAt(v.Drawing, s, lo, hi, sys)
		if err != nil {
			crowded = err
			continue
		}
		last = f
		if nw, nh := f.need(v.Room); nw <= w && nh <= h {
			return f, nil
		}
	}
	if last.scale.Ratio == 0 && crowded != nil {
		return fitted{}, crowded
	}
	nw, nh := last.need(v.Room)
	return fitted{}, fmt.Errorf("%w: with its dimensions it needs %s x %s on paper at %s and there are %s x %s: use larger paper, a smaller scale, or split it",
		ErrTooLarge, mmText(nw), mmText(nh), last.scale.Words, mmText(w), mmText(h))
}

func fitAt(d *Drawing, s Scale, lo, hi Point, sys measure.System) (fitted, error) {
	f := fitted{scale: s, size: PaperPoint{s.Paper(hi.X - lo.X), s.Paper(hi.Y - lo.Y)}}
	if max(f.size.X, f.size.Y) > 2000*MM {
		return f, nil // fits no paper, and would overflow the turned axes
	}
	at := Placed{Scale: s, Corner: lo}
	for side := Above; side < Along; side++ {
		length := f.size.X
		if side == Left || side == Right {
			length = f.size.Y
		}
		t, err := planTiers(d, side, at.ToPaper, length, sys)
		if err != nil {
			return f, err
		}
		f.tiers[side] = t
	}
	for _, it := range d.items {
		if dim, ok := it.(*Dim); ok && dim.Tier == 0 {
			r := dim.insideReach(at.ToPaper)
			for side, over := range [...]Micron{Above: r.Max.Y - f.size.Y, Below: -r.Min.Y, Left: -r.Min.X, Right: r.Max.X - f.size.X} {
				f.over[side] = max(f.over[side], over)
			}
		}
	}
	return f, nil
}

func (v *viewLayout) toPaper(pts []Point) []PaperPoint {
	var out []PaperPoint
	for _, p := range pts {
		out = append(out, v.placed.ToPaper(p))
	}
	return out
}

// draw puts the view on the sheet within area.
func (v *viewLayout) draw(view View, area PaperRect) error {
	f, err := chooseScale(view, area.width(), area.height(), v.page.System)
	if err != nil {
		return err
	}
	lo, _, _ := view.Drawing.extents()
	w, h := f.need(view.Room)
	v.placed = Placed{Caption: view.Caption, Scale: f.scale, Area: area, Corner: lo, Origin: PaperPoint{
		area.Min.X + (area.width()-w)/2 + f.depth(Left, view.Room),
		area.Min.Y + (area.height()-h)/2 + f.depth(Below, view.Room)}}
	v.crowd = crowd{area: area}
	v.ext = map[extKey][2]Micron{}
	for _, it := range view.Drawing.items {
		v.geometry(it)
		if l, ok := it.(*Label); ok {
			v.crowd.named = append(v.crowd.named, v.placed.ToPaper(l.At))
		}
	}
	for side, edge := range [...]Micron{Above: f.size.Y, Below: 0, Left: 0, Right: -f.size.X} {
		v.drawTiers(f.tiers[side], edge)
	}
	v.drawExtensions()
	for _, it := range view.Drawing.items {
		if d, ok := it.(*Dim); ok && d.Tier == 0 {
			v.insideDim(d)
		}
	}
	return v.placeAll(v.tasks(view.Drawing))
}

// geometry puts everything but dimensions and labels on the sheet.
func (v *viewLayout) geometry(it Item) {
	switch it := it.(type) {
	case *Line:
		pts := v.toPaper(it.Points)
		v.sheet.put(Stroke{Layer: it.layer(), Pen: it.Pen, Runs: [][]PaperPoint{pts}})
		v.declare(it.Pen, it.Keep, false, pts)
	case *Polygon:
		v.polygon(it)
	case *Arc:
		c := Curve{it.layer(), it.Pen, it.Fill, v.placed.ToPaper(it.Centre), v.placed.Scale.Paper(it.Radius), it.Start, it.Sweep}
		v.sheet.put(c)
		v.declare(it.Pen, it.Keep, false, c.chords())
	case *Note:
		h := max(it.Height, MinText)
		b := letter(it.Text, it.Face, h)
		at := v.placed.ToPaper(it.At)
		for i, l := range b.lines {
			v.putText(Text{it.layer(), rotated(at, it.Rotation, PaperPoint{0, -Micron(i) * b.pitch()}), l, h, it.Face, it.Anchor, it.Rotation})
		}
	case *Keepout:
		v.keepOut(v.toPaper(it.Points))
	}
}

func (v *viewLayout) declare(p Pen, keep, closed bool, pts []PaperPoint) {
	if keep || p.Weight > 0 && !p.Yields {
		v.crowd.line(p.Weight, keep, closed, pts)
	}
}

func (v *viewLayout) polygon(p *Polygon) {
	pts := v.toPaper(p.Points)
	fill := p.Fill
	if fill.Kind == HatchFill || fill.Kind == CrossedFill {
		pitch := fill.Pitch
		if pitch == 0 {
			pitch = 2 * MM
		}
		runs := hatchLines(pts, fill.Angle, pitch)
		if fill.Kind == CrossedFill {
			runs = append(runs, hatchLines(pts, fill.Angle+90*Degree, pitch)...)
		}
		if runs != nil {
			v.sheet.put(Stroke{Layer: p.layer(), Pen: Pen{Weight: Thin, Yields: true}, Runs: runs})
		}
		fill = Fill{}
	}
	if p.Pen.Weight > 0 || fill.Kind != NoFill {
		v.sheet.put(Stroke{Layer: p.layer(), Pen: p.Pen, Fill: fill, Closed: true, Runs: [][]PaperPoint{pts}})
	}
	v.declare(p.Pen, p.Keep, true, pts)
}

// keepOut covers a polygon with convex strips, since obstacles are convex.
func (v *viewLayout) keepOut(pts []PaperPoint) {
	v.crowd.line(0, true, true, pts)
	for _, r := range hatchLines(pts, 0, MM/2) {
		v.crowd.text(r, r)
	}
}

// chords are points along a curve, near enough for keeping text away.
func (c Curve) chords() []PaperPoint {
	n := max(2, int(c.Sweep/(7500*Degree/1000))+1)
	out := make([]PaperPoint, 0, n+1)
	for i := range n + 1 {
		out = append(out, polar(c.Centre, c.Radius, c.Start+c.Sweep*Angle(i)/Angle(n)))
	}
	return out
}

// interrupt breaks the lines that yield where they meet a text.
func (s *Sheet) interrupt() {
	var boxes []quad
	for _, m := range s.Marks {
		if t, ok := m.(Text); ok {
			boxes = append(boxes, t.box(textClear))
		}
	}
	for i, m := range s.Marks {
		st, ok := m.(Stroke)
		if !ok || !st.Pen.Yields || st.Fill.Kind != NoFill {
			continue
		}
		var runs [][]PaperPoint
		for _, r := range st.Runs {
			if st.Closed {
				r = append(r[:len(r):len(r)], r[0])
			}
			runs = append(runs, broken(r, boxes)...)
		}
		st.Runs, st.Closed = runs, false
		s.Marks[i] = st
	}
}

// broken interrupts an open line and joins the pieces that still meet.
func broken(r []PaperPoint, boxes []quad) [][]PaperPoint {
	var out [][]PaperPoint
	for i := 1; i < len(r); i++ {
		for _, piece := range outside(r[i-1], r[i], boxes) {
			if n := len(out); n > 0 && out[n-1][len(out[n-1])-1] == piece[0] {
				out[n-1] = append(out[n-1], piece[1])
				continue
			}
			out = append(out, piece)
		}
	}
	return out
}

// mmText writes a paper length for a message, to 0.1 mm upward.
func mmText(m Micron) string { return mm((m+99)/100*100) + " mm" }
