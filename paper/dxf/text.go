package dxf

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// justify is how a text stands at its point: along its line (code 72) and across
// it (code 73).
type justify struct{ along, across int64 }

var (
	start  = justify{0, 0}
	middle = justify{1, 0}
	end    = justify{2, 0}
)

// text writes one line of text.
func (c *canvas) text(layer string, at draw.Point, line string, height measure.Length, turn draw.Angle, how justify) {
	if line == "" {
		return
	}
	c.entity("TEXT", layer)
	c.to.put(100, "AcDbText")
	c.point(c.to, 10, c.place(at))
	c.length(c.to, 40, height)
	c.to.said(1, line)
	c.to.angle(50, turned(turn))
	c.to.whole(72, how.along)
	if how != start {
		c.point(c.to, 11, c.place(at))
	}
	c.to.put(100, "AcDbText")
	if how != start {
		c.to.whole(73, how.across)
	}
}

// columnWidth is the width on paper of the columns by which texts and lines are
// looked up.
const columnWidth = 20 * draw.MM

// labels writes the drawing's labels where they meet the least of it and of its
// dimensions.
func (c *canvas) labels(d *draw.Drawing) {
	r := c.room
	for _, it := range d.Items() {
		if n, ok := it.(*draw.Note); ok {
			r.take(c.noteBox(n))
		}
	}
	for _, it := range d.Items() {
		if l, ok := it.(*draw.Label); ok && len(l.Texts) > 0 {
			r.take(c.label(l, r))
		}
	}
}

// noteBox is the room an upright note takes up; a turned one, its square.
func (c *canvas) noteBox(n *draw.Note) box {
	h := max(n.Height, draw.MinText)
	w := draw.Micron(0)
	lines := draw.Lines(n.Text)
	for _, line := range lines {
		w = max(w, n.Face.Width(line, h))
	}
	x, y := c.view.Scale.Model(w), c.view.Scale.Model(h*draw.Micron(17*len(lines))/10)
	if n.Rotation != 0 {
		x = max(x, y)
		y = x
	}
	return box{draw.Point{X: n.At.X - x, Y: n.At.Y - y}, draw.Point{X: n.At.X + x, Y: n.At.Y + y}}
}

var everywhere = []draw.Where{draw.OverRight, draw.Over, draw.ToRight, draw.UnderRight, draw.Under, draw.OverLeft, draw.ToLeft, draw.UnderLeft}

// What it costs a label to say less, and to stand where it was not asked to.
const (
	costShorter  = 45
	costUnwished = 150
)

// label writes a label at the best of its places, with the best of its texts,
// and returns the room it takes.
func (c *canvas) label(l *draw.Label, r *room) box {
	places := l.Where
	if len(places) == 0 {
		places = everywhere
	}
	places = append(places[:len(places):len(places)], everywhere...)
	wished := max(len(l.Where), 1)
	var best lettered
	least := int64(1) << 40
	for t, text := range l.Texts {
		for w, where := range places {
			placed, set := lettered{}, false
			for shift := range int64(7) {
				cost := int64(t)*costShorter + int64(w)*2 + shift
				if w >= wished {
					cost += costUnwished
				}
				if cost >= least {
					break
				}
				if !set {
					placed, set = c.letter(l, text, where), true
				}
				try := placed
				try.raise(c.view.Scale.Model(draw.Micron((shift+1)/2*(1-2*(shift%2))) * draw.MM * 7 / 10))
				if cost += r.cost(try.box, l.Within, least-cost); cost < least {
					best, least = try, cost
				}
			}
		}
	}
	for i, line := range best.lines {
		c.text(draw.LayerOf(l), draw.Point{X: best.first.X, Y: best.first.Y - best.pitch*measure.Length(i)}, line, best.height, 0, best.how)
	}
	return best.box
}

// raise moves a text up.
func (t *lettered) raise(by measure.Length) {
	t.first.Y += by
	t.box.lo.Y += by
	t.box.hi.Y += by
}

// lettered is a label's text at a place.
type lettered struct {
	lines  []string
	height measure.Length
	first  draw.Point // of the first line's baseline, by how
	how    justify
	pitch  measure.Length
	box    box
}

// letter sets a text beside, over or under its point.
func (c *canvas) letter(l *draw.Label, text string, where draw.Where) lettered {
	h := max(l.Height, draw.MinText)
	scale := c.view.Scale
	out := lettered{lines: draw.Lines(text), height: scale.Model(h), pitch: scale.Model(h * 17 / 10)}
	width := draw.Micron(0)
	for _, line := range out.lines {
		width = max(width, l.Face.Width(line, h))
	}
	gap := scale.Model(draw.MM)
	wide := scale.Model(width)
	tall := out.height + out.pitch*measure.Length(len(out.lines)-1)
	at := l.At
	left, low := at.X-wide/2, at.Y-tall/2
	out.how = middle
	switch where {
	case draw.ToLeft, draw.OverLeft, draw.UnderLeft:
		left, out.how = at.X-gap-wide, end
	case draw.ToRight, draw.OverRight, draw.UnderRight:
		left, out.how = at.X+gap, start
	}
	switch where {
	case draw.Over, draw.OverLeft, draw.OverRight:
		low = at.Y + gap
	case draw.Under, draw.UnderLeft, draw.UnderRight:
		low = at.Y - gap - tall
	}
	out.first = draw.Point{X: left + wide*measure.Length(out.how.along)/2, Y: low + tall - out.height}
	out.box = box{draw.Point{X: left - gap/2, Y: low - gap/2}, draw.Point{X: left + wide + gap/2, Y: low + tall + gap/2}}
	return out
}
