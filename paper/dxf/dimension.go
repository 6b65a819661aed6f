package dxf

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// Sizes on paper of dimensions, as on the sheets.
const (
	dimFirst  = 10 * draw.MM // first dimension line from the outline
	dimPitch  = 8 * draw.MM  // between dimension lines
	extGap    = 2 * draw.MM
	extOver   = 2 * draw.MM
	tick      = 1100 // half of an oblique stroke
	textAbove = 900
	besides   = 1700 // least room between a text and the end of its span
)

// stretch is what a dimension line takes up on its side.
type stretch struct {
	side     draw.Side
	row      int
	from, to measure.Length
}

// rowsOf gives each dimension outside the drawing its row, counted from 1, on
// its side: its tier, or the first one after it that is free.
func rowsOf(d *draw.Drawing, units measure.System, scale draw.Scale) map[*draw.Dim]int {
	rows := map[*draw.Dim]int{}
	var taken []stretch
	for tier := 1; tier <= 20; tier++ {
		for _, it := range d.Items() {
			if dim, ok := it.(*draw.Dim); ok && dim.Tier == tier {
				rows[dim], taken = rowFor(dim, taken, units, scale)
			}
		}
	}
	return rows
}

// rowFor is the first row from the dimension's tier on that is free. Spans too
// short for their texts take the next row too.
func rowFor(d *draw.Dim, taken []stretch, units measure.System, scale draw.Scale) (int, []stretch) {
	var all []stretch
	for i := range len(d.Points) - 1 {
		s := stretch{side: d.Side, from: d.Points[i].X, to: d.Points[i+1].X}
		if d.Side == draw.Left || d.Side == draw.Right {
			s.from, s.to = d.Points[i].Y, d.Points[i+1].Y
		}
		s.from, s.to = min(s.from, s.to), max(s.from, s.to)
		all = append(all, s)
		if _, fits := textWidth(d, i, units, scale); !fits {
			s.row = 1
			all = append(all, s)
		}
	}
	row := d.Tier
	for meetsAt(all, row, taken) {
		row++
	}
	for _, s := range all {
		s.row += row
		taken = append(taken, s)
	}
	return row, taken
}

func meetsAt(all []stretch, row int, taken []stretch) bool {
	for _, s := range all {
		for _, o := range taken {
			if o.side == s.side && o.row == s.row+row && s.from < o.to && o.from < s.to {
				return true
			}
		}
	}
	return false
}

// textWidth is how wide the text of span i is in true size, and whether it fits
// above its span.
func textWidth(d *draw.Dim, i int, units measure.System, scale draw.Scale) (measure.Length, bool) {
	w := scale.Model(draw.Regular.Width(d.SpanText(i, units), draw.MinText))
	return w, w+2*scale.Model(besides) <= d.Span(i)
}

// reach is how far from the drawing the dimensions of a side stand; on paper.
func reach(rows map[*draw.Dim]int, side draw.Side) draw.Micron {
	most := 0
	for d, row := range rows {
		if d.Side == side {
			most = max(most, row)
		}
	}
	if most == 0 {
		return 0
	}
	return dimFirst + draw.Micron(most)*dimPitch
}

// dimensions writes the drawing's dimensions, those outside it row by row from
// the least rectangle round what is drawn.
func (c *canvas) dimensions(d *draw.Drawing, rows map[*draw.Dim]int, lo, hi draw.Point) {
	for _, it := range d.Items() {
		if dim, ok := it.(*draw.Dim); ok {
			l := c.lineOf(dim, rows[dim], lo, hi)
			for i := range len(dim.Points) - 1 {
				c.span(dim, i, l)
			}
		}
	}
}

// line is a dimension line: a point of it and its direction.
type line struct {
	through draw.Point
	along   draw.Angle
	out     draw.Angle // away from what is measured
	shift   draw.Point // of a dimension along its points, from them to the line
}

// lineOf is where a dimension's line lies.
func (c *canvas) lineOf(d *draw.Dim, row int, lo, hi draw.Point) line {
	scale := c.view.Scale
	p := d.Points[0]
	var l line
	switch d.Side {
	case draw.Left, draw.Right:
		l.along = 90 * draw.Degree
	case draw.Along:
		l.along = direction(p, d.Points[len(d.Points)-1])
	}
	l.out = l.along + 90*draw.Degree
	if d.Side == draw.Below || d.Side == draw.Right {
		l.out = l.along - 90*draw.Degree
	}
	if row == 0 {
		l.through = offset(p, l.out, scale.Model(d.Offset))
		l.shift = draw.Point{X: l.through.X - p.X, Y: l.through.Y - p.Y}
		return l
	}
	away := scale.Model(dimFirst + draw.Micron(row-1)*dimPitch)
	l.through = [...]draw.Point{
		draw.Above: {X: p.X, Y: hi.Y + away}, draw.Below: {X: p.X, Y: lo.Y - away},
		draw.Left: {X: lo.X - away, Y: p.Y}, draw.Right: {X: hi.X + away, Y: p.Y},
	}[d.Side]
	return l
}

// span writes one span of a dimension as an entity with a block that shows it.
func (c *canvas) span(d *draw.Dim, i int, l line) {
	a, b := d.Points[i], d.Points[i+1]
	foot, tip := l.foot(a), l.foot(b)
	text := d.SpanText(i, c.units)
	layer := draw.LayerOf(d)
	blk := block{name: blockName(len(c.blocks) + 1), record: c.newHandle()}
	in := &canvas{c.file, &blk.body, blk.record, c.view, c.room}
	in.lines(layer, l, [2]draw.Point{a, b}, [2]draw.Point{foot, tip})
	width, fits := textWidth(d, i, c.units, c.view.Scale)
	at, turn := in.caption(layer, l, foot, tip, text, width, fits)
	c.blocks = append(c.blocks, blk)

	c.entity("DIMENSION", layer)
	c.to.put(100, "AcDbDimension")
	c.to.put(2, blk.name)
	c.point(c.to, 10, c.place(tip))
	c.point(c.to, 11, c.place(at))
	kind := int64(0)
	if d.Side == draw.Along {
		kind = 1
	}
	c.to.whole(70, kind|32|128)
	c.to.whole(71, 5)
	c.length(c.to, 42, d.Span(i))
	c.to.said(1, text)
	c.to.angle(53, turned(turn))
	c.to.put(3, "STANDARD")
	c.to.put(100, "AcDbAlignedDimension")
	c.point(c.to, 13, c.place(a))
	c.point(c.to, 14, c.place(b))
	if kind == 0 {
		c.to.angle(50, turned(l.along))
		c.to.put(100, "AcDbRotatedDimension")
	}
}

// foot is the point of the line square opposite to p.
func (l line) foot(p draw.Point) draw.Point {
	switch l.along {
	case 0:
		return draw.Point{X: p.X, Y: l.through.Y}
	case 90 * draw.Degree:
		return draw.Point{X: l.through.X, Y: p.Y}
	}
	return draw.Point{X: p.X + l.shift.X, Y: p.Y + l.shift.Y}
}

// across is how far out a point lies.
func (l line) across(p draw.Point) measure.Length {
	x, y := l.out.Vector()
	dx, _ := measure.MulDiv(int64(p.X), x, draw.VectorOne, measure.Nearest)
	dy, _ := measure.MulDiv(int64(p.Y), y, draw.VectorOne, measure.Nearest)
	return measure.Length(dx + dy)
}

// lines draws a span's extension lines, dimension line and oblique strokes.
func (c *canvas) lines(layer string, l line, from, to [2]draw.Point) {
	scale := c.view.Scale
	thin := draw.Pen{Weight: draw.Thin}
	c.polyline(layer, thin, to[:], false)
	c.room.stroke(to)
	for k := range from {
		reach := l.across(to[k]) - l.across(from[k])
		gap, over := scale.Model(extGap), scale.Model(extOver)
		if reach < 0 {
			gap, over = -gap, -over
		}
		if abs(int64(reach)) > abs(int64(gap)) {
			c.polyline(layer, thin, []draw.Point{offset(from[k], l.out, gap), offset(to[k], l.out, over)}, false)
		}
		half := scale.Model(tick) * 14 / 10
		slant := l.along + 45*draw.Degree
		c.polyline(layer, draw.Pen{Weight: draw.Medium}, []draw.Point{offset(to[k], slant, -half), offset(to[k], slant, half)}, false)
	}
}

// caption writes a span's text above its line or, where it does not fit, outside
// and square to it. It returns the text's middle and turn.
func (c *canvas) caption(layer string, l line, a, b draw.Point, text string, width measure.Length, fits bool) (draw.Point, draw.Angle) {
	scale := c.view.Scale
	mid := draw.Point{X: a.X + (b.X-a.X)/2, Y: a.Y + (b.Y-a.Y)/2}
	height, above := scale.Model(draw.MinText), scale.Model(textAbove)
	turn := upright(l.along)
	if fits {
		base := offset(mid, turn+90*draw.Degree, above)
		c.text(layer, base, text, height, turn, middle)
		at := offset(base, turn+90*draw.Degree, height/2)
		c.room.take(turnedBox(at, width, height, turn))
		return at, turn
	}
	turn = upright(turn + 90*draw.Degree)
	at := offset(mid, l.out, above+width/2)
	c.text(layer, offset(at, turn-90*draw.Degree, height/2), text, height, turn, middle)
	c.room.take(turnedBox(at, width, height, turn))
	return at, turn
}

// upright turns text so that it is read from below or from the right.
func upright(a draw.Angle) draw.Angle {
	if a = turned(a); a > 90*draw.Degree && a <= 270*draw.Degree {
		return turned(a + 180*draw.Degree)
	}
	return a
}
