package dxf

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// item writes lines, areas, arcs and notes. Dimensions and labels follow when
// all else is known.
func (c *canvas) item(it draw.Item) {
	layer := draw.LayerOf(it)
	switch it := it.(type) {
	case *draw.Line:
		if it.Pen.Weight > 0 {
			c.polyline(layer, it.Pen, it.Points, false)
		}
	case *draw.Polygon:
		c.fill(layer, it.Fill, it.Points)
		if it.Pen.Weight > 0 || it.Fill.Kind == draw.TintFill && it.Fill.Grey == 0 {
			c.polyline(layer, it.Pen, it.Points, true)
		}
	case *draw.Arc:
		c.arc(layer, it)
	case *draw.Note:
		h := it.Height
		if h == 0 {
			h = draw.MinText
		}
		how := [...]justify{draw.Start: start, draw.Middle: middle, draw.End: end}[it.Anchor]
		for i, line := range draw.Lines(it.Text) {
			up := -c.view.Scale.Model(draw.Micron(i) * h * 17 / 10)
			c.text(layer, offset(it.At, it.Rotation+90*draw.Degree, up), line, c.view.Scale.Model(h), it.Rotation, how)
		}
	}
}

// polyline writes a line through points, closed or open; of two points, a line.
func (c *canvas) polyline(layer string, p draw.Pen, pts []draw.Point, closed bool) {
	if len(pts) == 2 {
		c.entity("LINE", layer)
		c.pen(p)
		c.to.put(100, "AcDbLine")
		c.point(c.to, 10, c.place(pts[0]))
		c.point(c.to, 11, c.place(pts[1]))
		return
	}
	c.entity("LWPOLYLINE", layer)
	c.pen(p)
	c.to.put(100, "AcDbPolyline")
	c.to.whole(90, int64(len(pts)))
	flag := int64(0)
	if closed {
		flag = 1
	}
	c.to.whole(70, flag)
	for _, q := range pts {
		q = c.place(q)
		c.length(c.to, 10, q.X)
		c.length(c.to, 20, q.Y)
	}
}

func (c *canvas) arc(layer string, a *draw.Arc) {
	if a.Fill.Kind == draw.TintFill {
		c.disc(layer, a)
	}
	if a.Pen.Weight == 0 {
		return
	}
	kind := "ARC"
	if a.Sweep == 360*draw.Degree {
		kind = "CIRCLE"
	}
	c.entity(kind, layer)
	c.pen(a.Pen)
	c.to.put(100, "AcDbCircle")
	c.point(c.to, 10, c.place(a.Centre))
	c.length(c.to, 40, a.Radius)
	if kind == "ARC" {
		c.to.put(100, "AcDbArc")
		c.to.angle(50, turned(a.Start))
		c.to.angle(51, turned(a.Start+a.Sweep))
	}
}

// turned is an angle from 0 to under 360 degrees.
func turned(a draw.Angle) draw.Angle {
	const full = 360 * draw.Degree
	return (a%full + full) % full
}

// offset is a point moved by a length in a direction.
func offset(p draw.Point, a draw.Angle, by measure.Length) draw.Point {
	x, y := a.Vector()
	dx, _ := measure.MulDiv(int64(by), x, draw.VectorOne, measure.Nearest)
	dy, _ := measure.MulDiv(int64(by), y, draw.VectorOne, measure.Nearest)
	return draw.Point{X: p.X + measure.Length(dx), Y: p.Y + measure.Length(dy)}
}

// fill writes what fills an area: even greys solid, in the hatch's colour where
// they are light, and lines. White has nothing to hide here.
func (c *canvas) fill(layer string, f draw.Fill, pts []draw.Point) {
	switch f.Kind {
	case draw.TintFill:
		if f.Grey < 100 {
			c.solid(layer, f.Grey, func() { c.boundary(pts, false) })
		}
	case draw.HatchFill:
		c.hatch(f, pts, f.Angle)
	case draw.CrossedFill:
		c.hatch(f, pts, f.Angle, f.Angle+90*draw.Degree)
	}
}

func (c *canvas) disc(layer string, a *draw.Arc) {
	if a.Fill.Grey < 100 {
		ends := []draw.Point{{X: a.Centre.X - a.Radius, Y: a.Centre.Y}, {X: a.Centre.X + a.Radius, Y: a.Centre.Y}}
		c.solid(layer, a.Fill.Grey, func() { c.boundary(ends, true) })
	}
}

// hatchHead writes a hatch up to its boundary.
func (c *canvas) hatchHead(layer, name string, solid int64, grey uint8) {
	c.entity("HATCH", layer)
	switch {
	case grey >= 60:
		c.to.whole(62, 254)
	case grey > 0:
		c.to.whole(62, 8)
	}
	c.to.put(100, "AcDbHatch")
	for _, code := range []int{10, 20, 30, 210, 220} {
		c.to.put(code, "0.0")
	}
	c.to.put(230, "1.0")
	c.to.put(2, name)
	c.to.whole(70, solid)
	c.to.whole(71, 0)
	c.to.whole(91, 1)
}

func (c *canvas) solid(layer string, grey uint8, boundary func()) {
	c.hatchHead(layer, "SOLID", 1, grey)
	boundary()
	c.to.whole(75, 0)
	c.to.whole(76, 1)
	c.to.whole(98, 0)
}

// boundary writes a hatch's outline; round joins its points by half circles.
func (c *canvas) boundary(pts []draw.Point, round bool) {
	c.to.whole(92, 3) // an outer boundary that is a polyline
	bulge := int64(0)
	if round {
		bulge = 1
	}
	c.to.whole(72, bulge)
	c.to.whole(73, 1)
	c.to.whole(93, int64(len(pts)))
	for _, p := range pts {
		p = c.place(p)
		c.length(c.to, 10, p.X)
		c.length(c.to, 20, p.Y)
		if round {
			c.to.put(42, "1.0")
		}
	}
	c.to.whole(97, 0)
}

// hatch writes sets of parallel lines, spaced as on paper at the view's scale, on
// a layer of their own.
func (c *canvas) hatch(f draw.Fill, pts []draw.Point, angles ...draw.Angle) {
	pitch := f.Pitch
	if pitch == 0 {
		pitch = 2 * draw.MM
	}
	c.hatchHead(draw.LayerHatch, "LINES", 0, 60)
	c.boundary(pts, false)
	c.to.whole(75, 0)
	c.to.whole(76, 0)
	c.to.put(52, "0.0")
	c.to.put(41, "1.0")
	c.to.whole(77, 0)
	c.to.whole(78, int64(len(angles)))
	for _, a := range angles {
		step := offset(draw.Point{}, a+90*draw.Degree, c.view.Scale.Model(pitch))
		c.to.angle(53, turned(a))
		c.length(c.to, 43, c.view.At.X)
		c.length(c.to, 44, c.view.At.Y)
		c.length(c.to, 45, step.X)
		c.length(c.to, 46, step.Y)
		c.to.whole(79, 0)
	}
	c.to.whole(98, 0)
}
