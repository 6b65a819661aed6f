package page

import "stallwright/paper/draw"

// Flow fills sheets from top to bottom.
type Flow struct {
	format Format
	sheets []*draw.Sheet
	body   draw.PaperRect // of every sheet
	y      draw.Micron    // top of what is free on the last sheet
	fresh  bool           // nothing stands on the last sheet yet
}

// New starts a flow on its first sheet.
func New(f Format) *Flow {
	fl := &Flow{format: f.whole()}
	fl.Break()
	return fl
}

// blank is an empty sheet of a format.
func (f Format) blank() *draw.Sheet {
	w, h := f.Size.Width, f.Size.Height
	if f.Landscape {
		w, h = h, w
	}
	m := f.Margins
	return &draw.Sheet{
		Page: draw.Page{Size: f.Size, Landscape: f.Landscape}, Width: w, Height: h, Layers: []string{LayerWatermark, LayerBody, LayerFrame},
		Frame: draw.PaperRect{Min: draw.PaperPoint{X: m.Left, Y: m.Bottom}, Max: draw.PaperPoint{X: w - m.Right, Y: h - m.Top}},
	}
}

// Break goes on to a new sheet, even from an empty one's beginning.
func (f *Flow) Break() {
	s := f.format.blank()
	f.body = s.Frame
	f.body.Max.Y -= f.format.Head
	f.body.Min.Y += f.format.Foot
	f.sheets = append(f.sheets, s)
	f.y, f.fresh = f.body.Max.Y, true
}

// Sheets are the sheets filled so far.
func (f *Flow) Sheets() []*draw.Sheet { return f.sheets }

// Page is the index of the sheet being filled.
func (f *Flow) Page() int { return len(f.sheets) - 1 }

// Width is how wide text runs.
func (f *Flow) Width() draw.Micron { return f.body.Max.X - f.body.Min.X }

// Left is how much of the sheet is free below what stands on it.
func (f *Flow) Left() draw.Micron { return f.y - f.body.Min.Y }

// Tall is how much a whole sheet holds.
func (f *Flow) Tall() draw.Micron { return f.body.Max.Y - f.body.Min.Y }

// Need goes on to a new sheet where less than h is free, and says whether it did.
// What is taller than a sheet starts on one of its own.
func (f *Flow) Need(h draw.Micron) bool {
	if f.Left() >= h || f.fresh {
		return false
	}
	f.Break()
	return true
}

// Try runs what fills the sheet, and takes it back where it went over the end of
// the sheet: then it says no.
func (f *Flow) Try(fill func()) bool {
	sheets, y, fresh := len(f.sheets), f.y, f.fresh
	last := f.sheets[sheets-1]
	marks := len(last.Marks)
	fill()
	if len(f.sheets) == sheets {
		return true
	}
	f.sheets, f.y, f.fresh = f.sheets[:sheets], y, fresh
	last.Marks = last.Marks[:marks]
	return false
}

// Keep runs what fills the sheet, and runs it again from the top of a new sheet
// where it went over the end of this one.
func (f *Flow) Keep(fill func()) {
	if f.fresh {
		fill()
		return
	}
	if !f.Try(fill) {
		f.Break()
		fill()
	}
}

// Space leaves white, but none at the top of a sheet.
func (f *Flow) Space(h draw.Micron) {
	if !f.fresh {
		f.y = max(f.body.Min.Y, f.y-h)
	}
}

// put adds marks to the sheet being filled.
func (f *Flow) put(m ...draw.Mark) {
	s := f.sheets[len(f.sheets)-1]
	s.Marks = append(s.Marks, m...)
}

// take uses up the next h of the sheet and returns its area.
func (f *Flow) take(h draw.Micron) draw.PaperRect {
	r := draw.PaperRect{Min: draw.PaperPoint{X: f.body.Min.X, Y: f.y - h}, Max: draw.PaperPoint{X: f.body.Max.X, Y: f.y}}
	f.y, f.fresh = f.y-h, false
	return r
}

// Heading starts a part. It is never left alone at the foot of a sheet: with is
// what must stand under it there.
func (f *Flow) Heading(text string, size, with draw.Micron) {
	b := Set(text, Style{Size: size, Face: draw.Bold}, f.Width())
	f.Space(gap * 3 / 2)
	f.Need(b.Height() + gap + with)
	r := f.take(b.Height())
	f.put(b.Place(LayerBody, corner(r), f.Width())...)
	f.Space(gap * 3 / 4)
}

// corner is the upper left of an area.
func corner(r draw.PaperRect) draw.PaperPoint { return draw.PaperPoint{X: r.Min.X, Y: r.Max.Y} }

// Text sets a paragraph. It goes on over sheets where it must.
func (f *Flow) Text(text string, st Style) { f.indented(text, st, 0, nil) }

// Item sets a paragraph of a list: indented, a mark at its left.
func (f *Flow) Item(mark, text string, st Style) {
	m := Set(mark, Style{Size: st.Size, Face: draw.Bold}, indent-draw.MM/2)
	f.indented(text, st, indent, func(top draw.PaperPoint) []draw.Mark { return m.Place(LayerBody, top, indent) })
}

// indented sets a paragraph some way in, with something beside its first line.
func (f *Flow) indented(text string, st Style, in draw.Micron, beside func(top draw.PaperPoint) []draw.Mark) {
	b := Set(text, st, f.Width()-in)
	for len(b.lines) > 0 {
		n := len(b.lines)
		if b.Height() > f.Left() {
			// Two lines at least stay together at either end.
			n = int((f.Left()-b.up-b.down)/b.pitch) + 1
			if f.Left() < b.up+b.down || n < 2 || len(b.lines)-n < 2 {
				if !f.fresh && b.Height() <= f.Tall() || n < 1 {
					f.Break()
					continue
				}
			}
			n = min(max(n, 1), len(b.lines))
		}
		head, tail := b.cut(n)
		r := f.take(head.Height())
		at := corner(r)
		if beside != nil {
			f.put(beside(at)...)
			beside = nil
		}
		at.X += in
		f.put(head.Place(LayerBody, at, f.Width()-in)...)
		b = tail
		if len(b.lines) > 0 {
			f.Break()
		}
	}
	f.Space(gap / 2)
}

// Check is a box to tick and what was done.
func (f *Flow) Check(text string, st Style) {
	b := Set(text, st, f.Width()-indent-draw.MM)
	if h := max(b.Height(), square); h <= f.Tall() {
		f.Need(h)
	}
	f.indented(text, st, indent+draw.MM, func(top draw.PaperPoint) []draw.Mark {
		// The box is centred on the first line's capitals.
		y := top.Y - b.up + b.style.Size/2
		return []draw.Mark{Box(draw.PaperRect{Min: draw.PaperPoint{X: top.X, Y: y - square/2}, Max: draw.PaperPoint{X: top.X + square, Y: y + square/2}}, draw.Medium)}
	})
	f.Space(gap)
}

// Signature is a line to write on, with what is to be written under it; several
// stand side by side.
func (f *Flow) Signature(labels ...string) {
	if len(labels) == 0 {
		return
	}
	n := draw.Micron(len(labels))
	each := (f.Width() - (n-1)*4*draw.MM) / n
	var blocks []Block
	low := draw.Micron(0)
	for _, l := range labels {
		b := Set(l, Style{Size: Small}, each)
		blocks = append(blocks, b)
		low = max(low, b.Height())
	}
	h := write + draw.MM + low
	f.Need(h)
	r := f.take(h)
	for i, b := range blocks {
		x := r.Min.X + draw.Micron(i)*(each+4*draw.MM)
		y := r.Max.Y - write
		f.put(Rule(draw.PaperPoint{X: x, Y: y}, each, draw.Medium))
		f.put(b.Place(LayerBody, draw.PaperPoint{X: x, Y: y - draw.MM}, each)...)
	}
	f.Space(gap)
}

// Lines are lines to write on, over the whole width.
func (f *Flow) Lines(n int) {
	for range n {
		f.Need(write)
		r := f.take(write)
		f.put(Rule(r.Min, f.Width(), draw.Thin))
	}
	f.Space(gap)
}

// Picture keeps an area h high for marks that draw makes of it. The marks are
// given on any layer of the sheet.
func (f *Flow) Picture(h draw.Micron, picture func(area draw.PaperRect) []draw.Mark) {
	h = min(h, f.Tall())
	f.Need(h)
	f.put(picture(f.take(h))...)
	f.Space(gap)
}

// Box is an empty rectangle.
func Box(r draw.PaperRect, w draw.Weight) draw.Mark {
	return draw.Stroke{Layer: LayerBody, Pen: draw.Pen{Weight: w}, Closed: true, Runs: [][]draw.PaperPoint{{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}}}
}

// Rule is a level line from a point to the right.
func Rule(from draw.PaperPoint, long draw.Micron, w draw.Weight) draw.Mark {
	return draw.Stroke{Layer: LayerBody, Pen: draw.Pen{Weight: w}, Runs: [][]draw.PaperPoint{{from, {X: from.X + long, Y: from.Y}}}}
}
