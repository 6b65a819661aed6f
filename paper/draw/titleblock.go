package draw

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/measure"
)

// Sizes of the block. ISO 7200 sets its width at 180 mm (from memory).
const (
	blockWidth  = 180 * MM
	titleRow    = 12_800
	dataRow     = 10_500
	blockHeight = titleRow + dataRow
	cellPad     = 1200
)

// frameStroke is a line of the sheet's furniture.
func frameStroke(w Weight, closed bool, pts ...PaperPoint) Stroke {
	return Stroke{Layer: LayerFrame, Pen: Pen{Weight: w}, Closed: closed, Runs: [][]PaperPoint{pts}}
}

// furnish draws frame, title block and notes, and returns the space left for
// the views.
func (s *Sheet) furnish(views []View) (PaperRect, error) {
	f := s.Frame
	c := f.corners()
	s.put(frameStroke(Extra, true, c[:]...))
	if f.width() < 120*MM || f.height() < blockHeight+60*MM {
		return f, fmt.Errorf("the paper leaves %s x %s inside its margins: the title block and a drawing need 120 mm x %s", mmText(f.width()), mmText(f.height()), mmText(blockHeight+60*MM))
	}
	space := f
	space.Min.Y += blockHeight
	s.block = PaperRect{f.Min, PaperPoint{f.Max.X, f.Min.Y + blockHeight}}
	beside := s.block
	beside.Max.X = f.Max.X - blockWidth
	if s.notesBeside(beside) {
		s.block.Min.X = beside.Max.X
	} else if err := s.notesAbove(&space); err != nil {
		return f, err
	}
	s.titleBlock(s.block)
	s.put(frameStroke(Heavy, false, space.Min, PaperPoint{space.Max.X, space.Min.Y}))
	return space, nil
}

// titleBlock draws the block; the scale is written later, once known.
func (s *Sheet) titleBlock(r PaperRect) {
	b, w := s.Page.Block, &s.Page.Wording
	mid := r.Min.Y + dataRow
	s.put(frameStroke(Heavy, false, PaperPoint{r.Min.X, r.Max.Y}, r.Min))
	s.put(frameStroke(Light, false, PaperPoint{r.Min.X, mid}, PaperPoint{r.Max.X, mid}))
	half := r.Min.X + r.width()*45/100
	s.field(PaperRect{PaperPoint{r.Min.X, mid}, PaperPoint{half, r.Max.Y}}, or(w.Job, "Job"), b.Job, Text35, Regular)
	s.put(frameStroke(Light, false, PaperPoint{half, mid}, PaperPoint{half, r.Max.Y}))
	s.field(PaperRect{PaperPoint{half, mid}, PaperPoint{r.Max.X, r.Max.Y}}, or(w.Title, "Title"), b.Title, Text50, Bold)
	x := r.Min.X + scaleShare(r)
	for i, col := range []struct {
		label, value string
		face         Face
		share        Micron
	}{
		{or(w.Date, "Date"), b.Date, Regular, 15}, {or(w.Revision, "Revision"), b.Revision, Regular, 11},
		{or(w.State, "State"), b.State, Bold, 36}, {or(w.Sheet, "Sheet"), w.of(b.Number, b.Of), Regular, 0},
	} {
		end := x + r.width()*col.share/100
		if i == 3 {
			end = r.Max.X
		}
		s.put(frameStroke(Light, false, PaperPoint{x, r.Min.Y}, PaperPoint{x, mid}))
		s.field(PaperRect{PaperPoint{x, r.Min.Y}, PaperPoint{end, mid}}, col.label, col.value, Text35, col.face)
		x = end
	}
}

// scaleShare is the width of the scale's field.
func scaleShare(r PaperRect) Micron { return r.width() * 27 / 100 }

// titleBlockScale writes the scale into its field: the common one, or that each
// view shows its own.
func (s *Sheet) titleBlockScale() {
	w := &s.Page.Wording
	words, label := s.Views[0].Scale.Words, or(w.Scale, "Scale")
	common := true
	for _, v := range s.Views {
		common = common && v.Scale.Words == words
	}
	switch {
	case !common:
		words = or(w.AsShown, "as shown")
	case words == wordsNotToScale:
		words = w.scale(words)
	default:
		words = w.scale(words) + " (" + clean(s.Page.Size.Name) + ")"
	}
	if s.Page.System == measure.Metric {
		words, label = words+", mm", or(w.ScaleUnit, "Scale, unit")
	}
	r := s.block
	r.Max.Y = r.Min.Y + dataRow
	r.Max.X = r.Min.X + scaleShare(r)
	s.field(r, label, words, Text35, Regular)
}

// field writes a small caption and a value into a cell of the block.
func (s *Sheet) field(r PaperRect, label, value string, h Micron, face Face) {
	top := r.Max.Y - cellPad - MinText
	s.put(Text{Layer: LayerFrame, At: PaperPoint{r.Min.X + cellPad, top}, Text: label, Height: MinText, Face: Condensed})
	value = clean(value)
	if value == "" {
		return
	}
	base := r.Min.Y + cellPad + MM/2
	t := s.fitText(value, h, face, r.width()-2*cellPad, top-MM-base, cellPad+MM/4)
	t.At = PaperPoint{r.Min.X + cellPad, base}
	t.Layer = LayerFrame
	s.put(t)
}

// ways are the heights and faces to try, in order: bold text would rather be
// smaller than not bold, other text rather condensed than smaller.
func ways(h Micron, face Face) []Text {
	var out []Text
	heights := slices.DeleteFunc([]Micron{h, Text35, MinText}, func(x Micron) bool { return x > h })
	if face == Bold {
		for _, x := range heights {
			out = append(out, Text{Height: x, Face: Bold})
		}
	}
	for _, x := range heights {
		out = append(out, Text{Height: x, Face: Regular}, Text{Height: x, Face: Condensed})
	}
	return out
}

// fitText sets a line within a width, a room above the baseline and one below:
// smaller, then condensed, then cut short with an ellipsis; what was cut is
// kept in Shortened.
func (s *Sheet) fitText(value string, h Micron, face Face, width, above, below Micron) Text {
	fits := func(t Text) bool {
		e := t.Face.measure(t.Text, t.Height)
		return e.Width <= width && e.Up <= above && e.Down <= below
	}
	for _, t := range ways(h, face) {
		if t.Text = value; fits(t) {
			return t
		}
	}
	s.Shortened = append(s.Shortened, value)
	t := Text{Height: MinText, Face: Condensed}
	for r := []rune(value); len(r) > 0; r = r[:len(r)-1] {
		if t.Text = strings.TrimSpace(string(r)) + "…"; fits(t) {
			return t
		}
	}
	t.Text = "…"
	return t
}
