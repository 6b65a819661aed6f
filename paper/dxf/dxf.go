// Package dxf writes drawings as DXF, the open exchange format of drawing
// programs (release AC1015, text form), in true size: in go drawings in model
// space; out comes one file, in millimetres or inches as the job is.
//
// It writes an open subset of the format: layers of the drawing's names, lines,
// polylines, arcs, circles, text, solid and line hatches, and linear dimensions
// that carry their measured points as well as the lines and text that show them.
// What always holds: every coordinate is the model's, to the nanometre in
// millimetres and to the nearest billionth of an inch; the same drawings give
// the same bytes.
package dxf

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// View is one drawing of a file.
type View struct {
	Drawing *draw.Drawing
	Scale   draw.Scale // that texts and hatches are sized for
	At      draw.Point // where the drawing's zero comes to lie
	Title   string     // written under the drawing; may be empty
}

// Options say how a file is written.
type Options struct {
	Units measure.System // Metric: millimetres; else inches
}

// Write writes a file. The error names the item that cannot be drawn.
func Write(views []View, o Options) ([]byte, error) {
	f := &file{units: o.Units, next: firstHandle, layers: map[string]bool{}}
	for i, v := range views {
		if v.Scale.Ratio <= 0 {
			return nil, fmt.Errorf("drawing %d (%s) has no scale for its texts", i+1, v.Title)
		}
		if err := v.Drawing.Check(); err != nil {
			return nil, fmt.Errorf("drawing %d (%s): %w", i+1, v.Title, err)
		}
		f.view(v)
	}
	return f.bytes(), nil
}

// file is a file being written. Entities come first, since the tables list the
// layers and blocks that they name.
type file struct {
	units    measure.System
	next     int64 // handle
	layers   map[string]bool
	order    []string // of layers, by first use
	entities groups
	blocks   []block
	lo, hi   draw.Point
	some     bool // lo and hi are set
}

// block is the picture of one dimension.
type block struct {
	name   string
	record int64
	body   groups
}

// canvas is where entities go: the model, or a dimension's block.
type canvas struct {
	*file
	to    *groups
	owner int64
	view  View
	room  *room // what the view's texts should stay clear of
}

// view writes one drawing and its title.
func (f *file) view(v View) {
	c := &canvas{f, &f.entities, modelSpace, v, newRoom(v.Scale.Model(columnWidth), segments(v.Drawing))}
	lo, hi, ok := v.Drawing.Extents()
	if !ok {
		return
	}
	for _, it := range v.Drawing.Items() {
		c.item(it)
	}
	rows := rowsOf(v.Drawing, f.units, v.Scale)
	c.dimensions(v.Drawing, rows, lo, hi)
	c.labels(v.Drawing)
	if v.Title != "" {
		h := v.Scale.Model(titleHeight)
		c.text(draw.LayerText, draw.Point{X: lo.X + (hi.X-lo.X)/2, Y: lo.Y - v.Scale.Model(reach(rows, draw.Below)+titleBelow)}, v.Title, h, 0, middle)
	}
	f.grow(c.place(lo))
	f.grow(c.place(hi))
}

// Sizes on paper of the title under a drawing and its dimensions.
const (
	titleHeight = 5 * draw.MM
	titleBelow  = 18 * draw.MM
)

// place is where a point of the drawing lies in the file.
func (c *canvas) place(p draw.Point) draw.Point {
	return draw.Point{X: p.X + c.view.At.X, Y: p.Y + c.view.At.Y}
}

func (f *file) grow(p draw.Point) {
	if !f.some {
		f.lo, f.hi, f.some = p, p, true
	}
	f.lo = draw.Point{X: min(f.lo.X, p.X), Y: min(f.lo.Y, p.Y)}
	f.hi = draw.Point{X: max(f.hi.X, p.X), Y: max(f.hi.Y, p.Y)}
}

// layer notes that a layer is used and returns its name in the file.
func (f *file) layer(name string) string {
	name = safeName(name)
	if !f.layers[name] {
		f.layers[name] = true
		f.order = append(f.order, name)
	}
	return name
}

// safeName keeps letters, digits, - and _, which every release allows.
func safeName(s string) string {
	out := []rune(s)
	for i, r := range out {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			out[i] = '_'
		}
	}
	if len(out) == 0 {
		return "0"
	}
	return string(out)
}
