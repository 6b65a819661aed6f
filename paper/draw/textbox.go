package draw

// TextBox is the rectangle that one line of text takes up on a sheet, from its
// advance width and the reach of its ink.
type TextBox struct {
	Text    string
	Layer   string
	Corners [4]PaperPoint // counter-clockwise from the lower left as read
}

// Overlap is a pair of texts whose boxes share an area.
type Overlap struct{ A, B TextBox }

// Texts lists the boxes of every text on the sheet, in painting order.
func (s *Sheet) Texts() []TextBox {
	var out []TextBox
	for _, m := range s.Marks {
		if t, ok := m.(Text); ok && t.Text != "" {
			out = append(out, TextBox{t.Text, t.Layer, t.box(0)})
		}
	}
	return out
}

// Overlaps lists the pairs of texts on a sheet that overlap. It works from the
// finished display list alone, turned boxes included, and not from what the
// placing of labels believed.
func Overlaps(s *Sheet) []Overlap {
	var out []Overlap
	boxes := s.Texts()
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			if !disjoint(a.Corners[:], b.Corners[:]) {
				out = append(out, Overlap{b, a})
			}
		}
	}
	return out
}

// Outside lists the texts of a sheet that leave its frame.
func Outside(s *Sheet) []TextBox {
	var out []TextBox
	for _, b := range s.Texts() {
		for _, p := range b.Corners {
			if !s.Frame.holds(p) {
				out = append(out, b)
				break
			}
		}
	}
	return out
}

// box is the text's rectangle, widened by pad all round.
func (t Text) box(pad Micron) quad {
	return boxQuad(t.At, t.Rotation, t.local(pad))
}

// local is the text's rectangle in axes through At along its baseline.
func (t Text) local(pad Micron) PaperRect {
	e := t.Face.measure(t.Text, t.Height)
	left := Micron(0)
	switch t.Anchor {
	case Middle:
		left = -(e.Width + 1) / 2
	case End:
		left = -e.Width
	}
	return PaperRect{PaperPoint{left, -e.Down}, PaperPoint{left + e.Width, e.Up}}.inset(-pad)
}
