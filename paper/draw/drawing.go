package draw

import (
	"fmt"

	"stallwright/engine/measure"
)

// Point is a place in a drawing's model space: X to the right, Y up.
type Point struct{ X, Y measure.Length }

// Item is one thing in a drawing: a *Line, *Polygon, *Arc, *Note, *Dim, *Label
// or *Keepout.
type Item interface {
	// points are those that must lie on the sheet.
	points() []Point
	layer() string
}

// Drawing is a list of items in model space, painted layer by layer and within
// a layer in the order added.
type Drawing struct {
	layers []string
	items  []Item
}

// Names for the usual layers. Any other name may be used.
const (
	LayerGround    = "ground"
	LayerHatch     = "hatch"
	LayerBeyond    = "beyond"
	LayerOutline   = "outline"
	LayerCut       = "cut"
	LayerHidden    = "hidden"
	LayerAxis      = "axis"
	LayerDimension = "dimension" // dimensions with no layer of their own
	LayerText      = "text"      // notes and labels with no layer of their own
	LayerFrame     = "frame"     // frame, title block, notes, scale bar, key
)

// NewDrawing starts a drawing with layers in the order they are to be painted.
// Layers not named here follow in the order of their first use.
func NewDrawing(layers ...string) *Drawing {
	return &Drawing{layers: append([]string(nil), layers...)}
}

// Add appends items. Mistakes in them are reported by Lay.
func (d *Drawing) Add(items ...Item) { d.items = append(d.items, items...) }

// Items returns the items in the order added, for back-ends that write model
// space. They must not be changed.
func (d *Drawing) Items() []Item { return d.items }

// Line is an open line through two or more points.
type Line struct {
	Layer  string // "" is LayerOutline
	Pen    Pen
	Points []Point
	Keep   bool // no placed text may touch the line
}

// Polygon is a closed outline of three or more points with a fill. It may be
// re-entrant; crossings fill by the even-odd rule.
type Polygon struct {
	Layer  string // "" is LayerOutline
	Pen    Pen
	Fill   Fill
	Points []Point
	Keep   bool // no placed text may touch the outline
}

// Arc is part of a circle. A Sweep of 360 degrees is the whole circle, which
// may be filled.
type Arc struct {
	Layer  string // "" is LayerOutline
	Pen    Pen
	Fill   Fill // none, white or tint; full circles only
	Centre Point
	Radius measure.Length
	Start  Angle
	Sweep  Angle // counter-clockwise, in (0°, 360°]
	Keep   bool  // no placed text may touch the line
}

// Anchor is the part of a text's baseline that stands at its point.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Note is text at a fixed place. A line feed starts a new line. Two notes that
// overlap make Lay fail: use Label where the place may vary.
type Note struct {
	Layer    string // "" is LayerText
	At       Point  // end of the first baseline given by Anchor
	Text     string
	Height   Micron // 0 is 2.5 mm
	Face     Face
	Anchor   Anchor
	Rotation Angle
}

// Keepout is an area of which placed text stays clear. Nothing is drawn.
type Keepout struct{ Points []Point }

// NewLine is a line through points in one call.
func NewLine(layer string, pen Pen, pts ...Point) *Line {
	return &Line{Layer: layer, Pen: pen, Points: pts}
}

// Rectangle is the upright polygon with opposite corners a and b.
func Rectangle(layer string, pen Pen, fill Fill, a, b Point) *Polygon {
	return &Polygon{Layer: layer, Pen: pen, Fill: fill, Points: []Point{a, {b.X, a.Y}, b, {a.X, b.Y}}}
}

// Circle is a whole circle.
func Circle(layer string, pen Pen, fill Fill, centre Point, radius measure.Length) *Arc {
	return &Arc{Layer: layer, Pen: pen, Fill: fill, Centre: centre, Radius: radius, Sweep: 360 * Degree}
}

func (l *Line) points() []Point    { return l.Points }
func (p *Polygon) points() []Point { return p.Points }
func (n *Note) points() []Point    { return []Point{n.At} }
func (k *Keepout) points() []Point { return nil }

// points are the ends of the arc and the extremes of the circle that lie on it.
func (a *Arc) points() []Point {
	var out []Point
	r, c := a.Radius, a.Centre
	for i, p := range [...]Point{{c.X + r, c.Y}, {c.X, c.Y + r}, {c.X - r, c.Y}, {c.X, c.Y - r}} {
		if (Angle(i)*90*Degree - a.Start).turn() <= a.Sweep {
			out = append(out, p)
		}
	}
	if a.Sweep < 360*Degree {
		out = append(out, a.on(a.Start), a.on(a.Start+a.Sweep))
	}
	return out
}

// on is the point of the circle in direction at.
func (a *Arc) on(at Angle) Point {
	cos, sin := at.vector()
	x, _ := measure.MulDiv(int64(a.Radius), cos, trigOne, measure.Nearest)
	y, _ := measure.MulDiv(int64(a.Radius), sin, trigOne, measure.Nearest)
	return Point{a.Centre.X + measure.Length(x), a.Centre.Y + measure.Length(y)}
}

func orElse(name, otherwise string) string {
	if name == "" {
		return otherwise
	}
	return name
}

func (l *Line) layer() string    { return orElse(l.Layer, LayerOutline) }
func (p *Polygon) layer() string { return orElse(p.Layer, LayerOutline) }
func (a *Arc) layer() string     { return orElse(a.Layer, LayerOutline) }
func (n *Note) layer() string    { return orElse(n.Layer, LayerText) }
func (k *Keepout) layer() string { return "" }

// extents is the least model rectangle round everything to be drawn.
func (d *Drawing) extents() (lo, hi Point, ok bool) {
	for _, it := range d.items {
		for _, p := range it.points() {
			if !ok {
				lo, hi, ok = p, p, true
			}
			lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
			hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
		}
	}
	return lo, hi, ok
}

// check reports the first item that cannot be drawn.
func (d *Drawing) check() error {
	for i, it := range d.items {
		if problem := fault(it); problem != "" {
			return fmt.Errorf("item %d of the drawing (%T): %s", i+1, it, problem)
		}
	}
	return nil
}

// fault says what is wrong with an item, or "".
func fault(it Item) string {
	switch it := it.(type) {
	case nil:
		return "it is missing"
	case *Line:
		if len(it.Points) < 2 {
			return "a line needs two points or more"
		}
	case *Polygon:
		if len(it.Points) < 3 {
			return "a polygon needs three points or more"
		}
		if p := it.Fill.Pitch; p < 0 || p > 0 && p < MM/2 {
			return "hatch lines need to be at least 0.5 mm apart on paper"
		}
	case *Arc:
		if it.Radius <= 0 || it.Radius > measure.MaxLength {
			return "an arc needs a radius above zero and below " + measure.MaxLength.In(measure.Metric)
		}
		if it.Sweep <= 0 || it.Sweep > 360*Degree {
			return "an arc sweeps more than 0° and at most 360°"
		}
		if max(it.Start, -it.Start) > 720*Degree || it.Start == -it.Start && it.Start != 0 {
			return "an arc starts between -720° and 720°"
		}
	case *Note:
		if it.Height != 0 && it.Height < MinText {
			return tooSmall
		}
	case *Dim:
		return it.fault()
	case *Label:
		return it.fault()
	case *Keepout:
		if len(it.Points) < 3 {
			return "a keep-out area needs three points or more"
		}
		return farAway(it.Points)
	}
	return farAway(it.points())
}

const tooSmall = "text needs to be at least 2.5 mm high on paper"

func farAway(pts []Point) string {
	for _, p := range pts {
		if max(p.X, -p.X) > measure.MaxLength || max(p.Y, -p.Y) > measure.MaxLength || p.X == -p.X && p.X != 0 || p.Y == -p.Y && p.Y != 0 {
			return "a point lies more than 100 km from the origin"
		}
	}
	return ""
}
