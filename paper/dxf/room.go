package dxf

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// box is a rectangle that a text takes up.
type box struct{ lo, hi draw.Point }

func (b box) meets(o box) bool {
	return b.lo.X < o.hi.X && o.lo.X < b.hi.X && b.lo.Y < o.hi.Y && o.lo.Y < b.hi.Y
}

// room is what texts should stay clear of, in columns so that only what is near
// need be looked at.
type room struct {
	wide    measure.Length // of a column
	texts   columns[box]
	strokes columns[[2]draw.Point]
}

// columns holds things by the columns they lie in.
type columns[T any] struct {
	in   map[int64][]spread[T]
	long []T // those that lie in many
}

// spread is a thing and the first of its columns.
type spread[T any] struct {
	thing T
	first int64
}

// mostColumns is how many columns a thing is put into before it counts as long.
const mostColumns = 8

func newRoom(wide measure.Length, lines [][2]draw.Point) *room {
	r := &room{wide: wide, texts: columns[box]{in: map[int64][]spread[box]{}}, strokes: columns[[2]draw.Point]{in: map[int64][]spread[[2]draw.Point]{}}}
	for _, s := range lines {
		r.stroke(s)
	}
	return r
}

func (r *room) stroke(s [2]draw.Point) {
	r.strokes.add(s, r.column(min(s[0].X, s[1].X)), r.column(max(s[0].X, s[1].X)))
}

// turnedBox is the upright rectangle round a text about its middle.
func turnedBox(mid draw.Point, wide, high measure.Length, turn draw.Angle) box {
	right, up := offset(draw.Point{}, turn, wide/2), offset(draw.Point{}, turn+90*draw.Degree, high/2)
	x, y := right.X.Abs()+up.X.Abs(), right.Y.Abs()+up.Y.Abs()
	return box{draw.Point{X: mid.X - x, Y: mid.Y - y}, draw.Point{X: mid.X + x, Y: mid.Y + y}}
}

func (r *room) column(x measure.Length) int64 {
	c := int64(x / r.wide)
	if x < 0 {
		c--
	}
	return c
}

func (r *room) take(b box) { r.texts.add(b, r.column(b.lo.X), r.column(b.hi.X)) }

func (c *columns[T]) add(v T, from, to int64) {
	if to-from >= mostColumns {
		c.long = append(c.long, v)
		return
	}
	for k := from; k <= to; k++ {
		c.in[k] = append(c.in[k], spread[T]{v, from})
	}
}

// count is how many things of some columns meet what is asked for, up to a limit.
func (c *columns[T]) count(from, to int64, limit int64, meets func(T) bool) int64 {
	n := int64(0)
	for _, v := range c.long {
		if n < limit && meets(v) {
			n++
		}
	}
	for k := from; k <= to; k++ {
		for _, v := range c.in[k] {
			if n >= limit {
				return n
			}
			if k == max(v.first, from) && meets(v.thing) {
				n++
			}
		}
	}
	return n
}

// What it costs a text to meet another one, to leave the area it belongs to, and
// to be crossed by a line; a place further down the list costs 2.
const (
	costText    = 2000
	costOutside = 300
	costLine    = 10
)

// cost is what a text at a place costs, exact where it is under a limit.
func (r *room) cost(b box, within []draw.Point, limit int64) int64 {
	cost := int64(0)
	if within != nil {
		lo, hi := within[0], within[0]
		for _, p := range within {
			lo = draw.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
			hi = draw.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
		if b.lo.X < lo.X || b.lo.Y < lo.Y || b.hi.X > hi.X || b.hi.Y > hi.Y {
			cost += costOutside
		}
	}
	from, to := r.column(b.lo.X), r.column(b.hi.X)
	if cost < limit {
		cost += costText * r.texts.count(from, to, (limit-cost)/costText+1, b.meets)
	}
	if cost < limit {
		cost += costLine * r.strokes.count(from, to, (limit-cost)/costLine+1, func(s [2]draw.Point) bool { return b.crossed(s[0], s[1]) })
	}
	return cost
}

// segments are the straight lines of a drawing that are seen.
func segments(d *draw.Drawing) [][2]draw.Point {
	var out [][2]draw.Point
	add := func(pts []draw.Point, closed bool) {
		for i := 1; i < len(pts); i++ {
			out = append(out, [2]draw.Point{pts[i-1], pts[i]})
		}
		if closed {
			out = append(out, [2]draw.Point{pts[len(pts)-1], pts[0]})
		}
	}
	for _, it := range d.Items() {
		switch it := it.(type) {
		case *draw.Line:
			if it.Pen.Weight > 0 {
				add(it.Points, false)
			}
		case *draw.Polygon:
			if it.Pen.Weight > 0 {
				add(it.Points, true)
			}
		}
	}
	return out
}

// crossed reports whether a segment passes through the box (the separating axes
// of a box and a segment).
func (b box) crossed(p, q draw.Point) bool {
	if max(p.X, q.X) <= b.lo.X || min(p.X, q.X) >= b.hi.X || max(p.Y, q.Y) <= b.lo.Y || min(p.Y, q.Y) >= b.hi.Y {
		return false
	}
	left, right := false, false
	for _, c := range [...]draw.Point{b.lo, {X: b.hi.X, Y: b.lo.Y}, b.hi, {X: b.lo.X, Y: b.hi.Y}} {
		// In tenths of a millimetre the products stay in 64 bits for 100 km.
		side := tenths(q.X-p.X)*tenths(c.Y-p.Y) - tenths(q.Y-p.Y)*tenths(c.X-p.X)
		left = left || side > 0
		right = right || side < 0
	}
	return left && right
}

func tenths(l measure.Length) int64 { return int64(l / (measure.Millimetre / 10)) }
