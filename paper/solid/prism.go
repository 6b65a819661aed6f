package solid

import (
	"math"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
)

// Axis is the axis of a part's frame along which its section is drawn out.
type Axis uint8

// The axes: along the wall, from front to back, up.
const (
	Along Axis = iota
	Across
	Up
)

// Point is a place in a section. Its axes follow the prism's: U, V are y, z for
// one drawn out along x; z, x along y; and x, y along z.
type Point struct{ U, V measure.Length }

// Prism is a section drawn out along an axis. The zero Lean makes it straight.
type Prism struct {
	Axis     Axis
	From, To measure.Length
	// Outline is the section counter-clockwise, then its holes clockwise, seen
	// with the axis pointing at the eye.
	Outline [][]Point
	// Cover is the same area as convex polygons, counter-clockwise; nil where the
	// outline is one convex polygon.
	Cover [][]Point
	Lean  Point // how far the far end stands out of the near one
	Round bool  // its sides stand for a curved surface
	Fine  bool  // a wire: drawings show its axis alone
}

// Frame is where a part's own axes stand: at a place in plan, turned so that x
// points along Way.
type Frame struct {
	At  frame.Point
	Way frame.Point // direction of x in plan, of any length above zero

	cos, sin float64
}

// NewFrame is a frame at a place with x along a way; along x where the way has
// no length.
func NewFrame(at, way frame.Point) Frame {
	f := Frame{At: at, Way: way, cos: 1}
	switch {
	case way.Y == 0 && way.X < 0:
		f.cos = -1
	case way.Y == 0:
	case way.X == 0 && way.Y > 0:
		f.cos, f.sin = 0, 1
	case way.X == 0:
		f.cos, f.sin = 0, -1
	default:
		v := Vec{way.X.Metres(), way.Y.Metres(), 0}.Unit()
		f.cos, f.sin = v.X, v.Y
	}
	return f
}

// Place is a place given in the frame's axes, in metres.
func (f Frame) Place(x, y, z float64) Vec {
	return Vec{
		f.At.X.Metres() + (float64(f.cos*x) - float64(f.sin*y)),
		f.At.Y.Metres() + (float64(f.sin*x) + float64(f.cos*y)),
		z,
	}
}

// Turn is a way given in the frame's axes.
func (f Frame) Turn(v Vec) Vec {
	return Vec{float64(f.cos*v.X) - float64(f.sin*v.Y), float64(f.sin*v.X) + float64(f.cos*v.Y), v.Z}
}

// Back is a place of the plan in the frame's axes.
func (f Frame) Back(v Vec) Vec {
	x, y := v.X-f.At.X.Metres(), v.Y-f.At.Y.Metres()
	return Vec{float64(f.cos*x) + float64(f.sin*y), float64(f.cos*y) - float64(f.sin*x), v.Z}
}

// Part is a prism in its frame.
type Part struct {
	Frame Frame
	Prism
}

// at is a point of the section at a share of the way from From to To: 0 or 1.
func (p *Prism) at(q Point, far bool) (x, y, z measure.Length) {
	w := p.From
	if far {
		w = p.To
		q.U += p.Lean.U
		q.V += p.Lean.V
	}
	switch p.Axis {
	case Along:
		return w, q.U, q.V
	case Across:
		return q.V, w, q.U
	}
	return q.U, q.V, w
}

// place is that point in space.
func (p *Part) place(q Point, far bool) Vec {
	x, y, z := p.at(q, far)
	return p.Frame.Place(x.Metres(), y.Metres(), z.Metres())
}

// cover is the section as convex polygons.
func (p *Prism) cover() [][]Point {
	if p.Cover != nil {
		return p.Cover
	}
	return p.Outline
}

// Moved is the prism elsewhere in its frame.
func (p Prism) Moved(x, y, z measure.Length) Prism {
	d, w := Point{x, y}, z
	switch p.Axis {
	case Along:
		d, w = Point{y, z}, x
	case Across:
		d, w = Point{z, x}, y
	}
	shift := func(polys [][]Point) [][]Point {
		if polys == nil {
			return nil
		}
		out := make([][]Point, len(polys))
		for i, q := range polys {
			out[i] = moved(q, d.U, d.V)
		}
		return out
	}
	p.From, p.To, p.Outline, p.Cover = p.From+w, p.To+w, shift(p.Outline), shift(p.Cover)
	return p
}

// Corner is the least x, y and z of the prism.
func (p *Prism) Corner() [3]measure.Length {
	var lo [3]measure.Length
	first := true
	for _, far := range [2]bool{false, true} {
		for _, q := range p.Outline[0] {
			x, y, z := p.at(q, far)
			if first {
				lo, first = [3]measure.Length{x, y, z}, false
			}
			lo = [3]measure.Length{min(lo[0], x), min(lo[1], y), min(lo[2], z)}
		}
	}
	return lo
}

// box is an upright rectangle drawn up: from one corner to the opposite one.
func box(x0, x1, y0, y1, z0, z1 measure.Length) Prism {
	return Prism{Axis: Up, From: z0, To: z1, Outline: [][]Point{rect(x0, x1, y0, y1)}}
}

// rect is a rectangle, counter-clockwise.
func rect(u0, u1, v0, v1 measure.Length) []Point {
	return []Point{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}
}

// reversed is a polygon the other way round, as holes have it.
func reversed(p []Point) []Point {
	out := make([]Point, len(p))
	for i, q := range p {
		out[len(p)-1-i] = q
	}
	return out
}

// hollow is a rectangle with a rectangular hole, walls thick all round.
func hollow(u0, u1, v0, v1, wall measure.Length) (outline, cover [][]Point) {
	if wall <= 0 || u1-u0 <= 2*wall || v1-v0 <= 2*wall {
		return [][]Point{rect(u0, u1, v0, v1)}, nil
	}
	a, b, c, d := u0+wall, u1-wall, v0+wall, v1-wall
	return [][]Point{rect(u0, u1, v0, v1), reversed(rect(a, b, c, d))},
		[][]Point{rect(u0, a, v0, v1), rect(b, u1, v0, v1), rect(a, b, v0, c), rect(a, b, d, v1)}
}

// channel is a U section in plan: its web from back to web, its legs on to face,
// open toward face. Web and legs lie between the sides ±(inside/2 + leg).
func channel(back, web, face, inside, leg measure.Length) (outline, cover [][]Point) {
	in, out := inside/2, inside/2+leg
	if face > back {
		return [][]Point{{{back, -out}, {face, -out}, {face, -in}, {web, -in}, {web, in}, {face, in}, {face, out}, {back, out}}},
			[][]Point{rect(back, web, -out, out), rect(web, face, -out, -in), rect(web, face, in, out)}
	}
	return [][]Point{{{back, out}, {face, out}, {face, in}, {web, in}, {web, -in}, {face, -in}, {face, -out}, {back, -out}}},
		[][]Point{rect(web, back, -out, out), rect(face, web, -out, -in), rect(face, web, in, out)}
}

// Corners of the polygons that stand for circles: enough to look round at the
// scale of a step picture.
const (
	rodCorners   = 8
	wheelCorners = 20
)

// circle is a regular polygon of about a radius, flat on top where its corners
// are a multiple of four. Its corners lie on the circle, to the nanometre.
func circle(u, v, radius measure.Length, corners int) []Point {
	out := make([]Point, corners)
	for i := range out {
		c, s := unit(2*i+1, 2*corners)
		out[i] = Point{u + scaled(radius, c), v + scaled(radius, s)}
	}
	return out
}

// rod is a round bar along an axis.
func rod(axis Axis, from, to, u, v, diameter measure.Length, corners int) Prism {
	return Prism{Axis: axis, From: from, To: to, Outline: [][]Point{circle(u, v, diameter/2, corners)}, Round: true}
}

// scaled is a share of a length, to the nearest nanometre.
func scaled(l measure.Length, share float64) measure.Length {
	return measure.Length(math.Round(float64(float64(l) * share)))
}

// plain is a part without what does not show among others: of a board's section
// its rectangle up to the tongue, of a rod's four sides.
func (p Part) plain() Part {
	switch {
	case p.Round && p.Axis == Up && len(p.Outline[0]) == rodCorners:
		o := p.Outline[0]
		p.Outline = [][]Point{{o[0], o[2], o[4], o[6]}}
	case p.Axis == Along && len(p.Outline) == 1 && len(p.Outline[0]) == boardCorners:
		o := p.Outline[0]
		p.Outline, p.Cover = [][]Point{{o[0], o[5], o[6], o[11]}}, nil
	}
	return p
}

// boardCorners is how many corners the section of a board with tongue and groove
// has.
const boardCorners = 12
