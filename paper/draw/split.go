package draw

import (
	"errors"
	"fmt"
	"slices"

	"stallwright/engine/measure"
)

// LaySplit lays a view on one sheet if it fits there, else on as few sheets as
// will do, all at one scale, cut at some of the stations: places along x (such
// as the middles of bays) where a cut hurts nobody. Neighbouring sheets show
// match lines. Sheet numbers count from p.Block.Number, and Of grows by the
// sheets added.
func LaySplit(p Page, v View, stations []measure.Length) ([]*Sheet, error) {
	s, err := Lay(p, v)
	if err == nil {
		return []*Sheet{s}, nil
	}
	if !errors.Is(err, ErrTooLarge) {
		return nil, err
	}
	lo, hi, _ := v.Drawing.extents()
	inner := slices.Compact(slices.Sorted(slices.Values(stations)))
	inner = slices.DeleteFunc(inner, func(x measure.Length) bool { return x <= lo.X || x >= hi.X })
	for n := 2; n <= len(inner)+1; n++ {
		var sheets []*Sheet
		sheets, err = layParts(p, v, evenCuts(lo.X, hi.X, inner, n))
		if err == nil {
			return sheets, nil
		}
		if !errors.Is(err, ErrTooLarge) {
			return nil, err
		}
	}
	return nil, err
}

// evenCuts chooses at most n-1 of the stations so that the widest part is as
// narrow as can be, by bisection on its width. It returns the edges of all parts.
func evenCuts(lo, hi measure.Length, stations []measure.Length, n int) []measure.Length {
	ends := append(slices.Clone(stations), hi)
	cuts := func(widest measure.Length) []measure.Length {
		out := []measure.Length{lo}
		for i, x := range ends {
			next := x
			if i+1 < len(ends) {
				next = ends[i+1]
			}
			if x == hi || next-out[len(out)-1] > widest {
				out = append(out, x)
			}
		}
		return out
	}
	least, most := measure.Length(0), hi-lo
	for least < most {
		mid := least + (most-least)/2
		edges := cuts(mid)
		ok := len(edges)-1 <= n
		for i := 1; i < len(edges); i++ {
			ok = ok && edges[i]-edges[i-1] <= mid
		}
		if ok {
			most = mid
		} else {
			least = mid + 1
		}
	}
	return cuts(most)
}

// layParts lays the stretches between edges, all at the scale of the one that
// needs the smallest picture.
func layParts(p Page, v View, edges []measure.Length) ([]*Sheet, error) {
	n := len(edges) - 1
	page := p
	if page.Block.Of > 0 {
		page.Block.Of += n - 1
	}
	first := max(page.Block.Number, 1)
	var parts []*Drawing
	for i := range n {
		w := window{from: edges[i], to: edges[i+1], sys: p.System}
		if i > 0 {
			w.before = first + i - 1
		}
		if i < n-1 {
			w.after = first + i + 1
		}
		d, err := w.cut(v.Drawing)
		if err != nil {
			return nil, err
		}
		parts = append(parts, d)
	}
	for round := 0; ; round++ {
		var out []*Sheet
		coarsest := Scale{}
		for i, d := range parts {
			part := v
			part.Drawing = d
			page.Block.Number = first + i
			s, err := Lay(page, part)
			if err != nil {
				return nil, err
			}
			if got := s.Views[0].Scale; got.Ratio > coarsest.Ratio {
				coarsest = got
			}
			out = append(out, s)
		}
		if v.Scale = coarsest; round == 1 {
			return out, nil
		}
	}
}

// window is the stretch of a drawing that one sheet shows.
type window struct {
	from, to      measure.Length
	before, after int // numbers of the neighbouring sheets, 0 for none
	sys           measure.System
}

func (w window) shows(x measure.Length) bool { return x >= w.from && x <= w.to }

// cut makes the drawing of the window with its match lines.
func (w window) cut(d *Drawing) (*Drawing, error) {
	out := NewDrawing(d.layers...)
	for i, it := range d.items {
		if err := w.item(out, it); err != nil {
			return nil, fmt.Errorf("item %d of the drawing: %w", i+1, err)
		}
	}
	lo, hi, _ := d.extents()
	over := (hi.Y - lo.Y) / 25
	for _, m := range []struct {
		x     measure.Length
		sheet int
		side  Where
	}{{w.from, w.before, ToRight}, {w.to, w.after, ToLeft}} {
		if m.sheet > 0 {
			out.Add(&Line{Layer: LayerAxis, Pen: Pen{Weight: Heavy, Type: Chain}, Keep: true,
				Points: []Point{{m.x, lo.Y - over}, {m.x, hi.Y + over}}},
				&Label{At: Point{m.x, hi.Y + over}, Texts: []string{"match line, see sheet " + itoa(m.sheet)}, Where: []Where{m.side}})
		}
	}
	return out, nil
}

// item adds to out what the window shows of an item.
func (w window) item(out *Drawing, it Item) error {
	switch it := it.(type) {
	case *Line:
		w.line(out, it.Layer, it.Pen, it.Keep, it.Points)
	case *Polygon:
		w.polygon(out, it)
	case *Arc:
		w.arc(out, it)
	case *Note:
		if w.owns(it.At.X) {
			out.Add(it)
		}
	case *Label:
		if w.owns(it.At.X) {
			l := *it
			if l.Within != nil {
				if l.Within = w.area(l.Within); len(l.Within) < 3 {
					l.Within = nil
				}
			}
			out.Add(&l)
		}
	case *Keepout:
		if a := w.area(it.Points); len(a) >= 3 {
			out.Add(&Keepout{a})
		}
	case *Dim:
		return w.dim(out, it)
	}
	return nil
}

// owns says which one of two neighbouring windows shows a text on their edge.
func (w window) owns(x measure.Length) bool {
	return x >= w.from && (x < w.to || x == w.to && w.after == 0)
}

// edgePoint is where the segment a-b meets the upright line at x.
func edgePoint(a, b Point, x measure.Length) Point {
	dy, _ := measure.MulDiv(int64(b.Y-a.Y), int64(x-a.X), int64(b.X-a.X), measure.Nearest)
	return Point{x, a.Y + measure.Length(dy)}
}

// line adds the runs of a line inside the window.
func (w window) line(out *Drawing, layer string, pen Pen, keep bool, pts []Point) {
	var run []Point
	flush := func() {
		if len(run) >= 2 {
			out.Add(&Line{Layer: layer, Pen: pen, Points: run, Keep: keep})
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if max(a.X, b.X) < w.from || min(a.X, b.X) > w.to {
			flush()
			continue
		}
		from, to := w.clamp(a, b), w.clamp(b, a)
		if run == nil {
			run = []Point{from}
		}
		if from != to {
			run = append(run, to)
		}
		if to != b {
			flush()
		}
	}
	flush()
}

// clamp is the end a of the segment a-b, drawn in to the edge if it is outside.
func (w window) clamp(a, b Point) Point {
	switch {
	case a.X < w.from:
		return edgePoint(a, b, w.from)
	case a.X > w.to:
		return edgePoint(a, b, w.to)
	}
	return a
}

// area clips a polygon to the window, one edge after the other (Sutherland and
// Hodgman, Comm. ACM 17 (1974), from memory).
func (w window) area(pts []Point) []Point {
	for _, e := range []struct{ x, sign measure.Length }{{w.from, 1}, {w.to, -1}} {
		var kept []Point
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			aIn, bIn := e.sign*(a.X-e.x) >= 0, e.sign*(b.X-e.x) >= 0
			if aIn != bIn {
				kept = append(kept, edgePoint(a, b, e.x))
			}
			if bIn {
				kept = append(kept, b)
			}
		}
		pts = kept
	}
	return pts
}

// polygon adds a polygon's fill, clipped, and its outline without the cut.
func (w window) polygon(out *Drawing, p *Polygon) {
	whole := true
	for _, v := range p.Points {
		whole = whole && w.shows(v.X)
	}
	if whole {
		out.Add(p)
		return
	}
	if a := w.area(p.Points); len(a) >= 3 && p.Fill.Kind != NoFill {
		out.Add(&Polygon{Layer: p.Layer, Fill: p.Fill, Points: a})
	}
	if p.Pen.Weight > 0 {
		w.line(out, p.layer(), p.Pen, p.Keep, append(slices.Clone(p.Points), p.Points[0]))
	}
}

// arc adds an arc, as chords of a quarter of a degree where it is cut: at that
// step they leave the curve by a 420 000th of the radius.
func (w window) arc(out *Drawing, a *Arc) {
	whole := true
	for _, v := range a.points() {
		whole = whole && w.shows(v.X)
	}
	if whole {
		out.Add(a)
		return
	}
	n := max(int(a.Sweep/(Degree/4)), 1)
	var pts []Point
	for i := range n + 1 {
		pts = append(pts, a.on(a.Start+a.Sweep*Angle(i)/Angle(n)))
	}
	if a.Sweep == 360*Degree {
		w.polygon(out, &Polygon{Layer: a.Layer, Pen: a.Pen, Fill: a.Fill, Points: pts[:n], Keep: a.Keep})
		return
	}
	w.line(out, a.layer(), a.Pen, a.Keep, pts)
}

// dim adds the spans that the window shows. A span across a match line runs on
// to it without an end and gives its whole length on both sheets.
func (w window) dim(out *Drawing, d *Dim) error {
	inside := 0
	for _, p := range d.Points {
		if w.shows(p.X) {
			inside++
		}
	}
	switch {
	case inside == len(d.Points):
		out.Add(d)
		return nil
	case d.Side == Along || d.Side == Left || d.Side == Right:
		if inside > 0 {
			return errors.New("this dimension would be cut by a match line: choose other stations")
		}
		return nil
	}
	var part *Dim
	flush := func() {
		if part != nil {
			out.Add(part)
		}
		part = nil
	}
	for i := 1; i < len(d.Points); i++ {
		a, b := d.Points[i-1], d.Points[i]
		if max(a.X, b.X) <= w.from || min(a.X, b.X) >= w.to {
			flush()
			continue
		}
		from, to := w.clamp(a, b), w.clamp(b, a)
		if part == nil {
			part = &Dim{Layer: d.Layer, Points: []Point{from}, Side: d.Side, Tier: d.Tier, Offset: d.Offset, Arrows: d.Arrows, openStart: from != a}
		}
		text := d.text(i-1, w.sys)
		if from != a || to != b {
			text += " in all"
		}
		part.Points, part.Texts = append(part.Points, to), append(part.Texts, text)
		if part.openEnd = to != b; part.openEnd {
			flush()
		}
	}
	flush()
	return nil
}
