package draw

import "fmt"

// notesPad is left white round notes and key.
const notesPad = 2 * MM

// notesBeside writes the numbered notes to the left of the title block, if
// there are any and they fit.
func (s *Sheet) notesBeside(r PaperRect) bool {
	if len(s.Page.Notes) == 0 || r.width() < 45*MM {
		return false
	}
	ls := newListing(s.Page.Notes, Regular, r.width()-2*notesPad)
	if ls.height(len(ls.lines)+1)+2*notesPad > r.height() {
		return false
	}
	s.list(or(s.Page.Wording.Notes, "Notes"), ls, 0, len(ls.lines), PaperPoint{r.Min.X + notesPad, r.Max.Y - notesPad})
	return true
}

// notesAbove writes the notes in one or two columns above the block, which
// shortens the space for views.
func (s *Sheet) notesAbove(space *PaperRect) error {
	if len(s.Page.Notes) == 0 {
		return nil
	}
	cols := Micron(1)
	if space.width() > 200*MM {
		cols = 2
	}
	width := space.width()/cols - 2*notesPad
	ls := newListing(s.Page.Notes, Regular, width)
	rows := (len(ls.lines) + int(cols) - 1) / int(cols)
	high := ls.height(rows+1) + 2*notesPad
	if high > s.Frame.height()/3 {
		return fmt.Errorf("the notes take %d lines, more than a third of the sheet: move some to another sheet", len(ls.lines))
	}
	top := space.Min.Y + high - notesPad
	s.list(or(s.Page.Wording.Notes, "Notes"), ls, 0, rows, PaperPoint{space.Min.X + notesPad, top})
	if cols == 2 && rows < len(ls.lines) {
		s.list("", ls, rows, len(ls.lines), PaperPoint{space.Min.X + space.width()/2 + notesPad, top})
	}
	s.put(frameStroke(Light, false, space.Min, PaperPoint{space.Max.X, space.Min.Y}))
	space.Min.Y += high
	return nil
}

// listing is a numbered list broken into lines; only the first line of an entry
// has a number.
type listing struct {
	lines []struct{ number, text string }
	face  Face
	pitch Micron // between baselines
	up    Micron // of the tallest line
	down  Micron
}

const listIndent = 6 * MM

func newListing(entries []string, face Face, width Micron) listing {
	out := listing{face: face, up: MinText}
	for i, e := range entries {
		number := itoa(i + 1)
		for _, l := range wrap(e, face, MinText, width-listIndent) {
			out.lines = append(out.lines, struct{ number, text string }{number, l})
			size := face.measure(l, MinText)
			out.up, out.down = max(out.up, size.Up), max(out.down, size.Down)
			number = ""
		}
	}
	out.pitch = max(MinText*spacing10/10, out.up+out.down+MM/5)
	return out
}

// height is that of a number of rows.
func (l listing) height(rows int) Micron { return Micron(rows-1)*l.pitch + l.up + l.down }

// list writes lines from to of a listing downward from the top left.
func (s *Sheet) list(heading string, l listing, from, to int, top PaperPoint) {
	y := top.Y - l.up
	write := func(x Micron, text string, face Face) {
		if text != "" {
			s.put(Text{Layer: LayerFrame, At: PaperPoint{x, y}, Text: text, Height: MinText, Face: face})
		}
	}
	write(top.X, heading, Bold)
	for _, row := range l.lines[from:to] {
		y -= l.pitch
		write(top.X, row.number, Regular)
		write(top.X+listIndent, row.text, l.face)
	}
}

// keyArea takes the place of the key from the space for views: a column at the
// right, or on an upright sheet a strip at the bottom with two columns.
func (s *Sheet) keyArea(space *PaperRect, size Micron) PaperRect {
	area := *space
	if s.Height > s.Width {
		space.Min.Y += size * 2 / 3
		area.Max.Y = space.Min.Y
	} else {
		space.Max.X -= size
		area.Min.X = space.Max.X
	}
	return area
}

// writeKey lists what the balloons stand for.
func (s *Sheet) writeKey(r PaperRect) error {
	if len(s.Key) == 0 {
		return nil
	}
	cols := 1
	edge := frameStroke(Light, false, r.Min, PaperPoint{r.Min.X, r.Max.Y})
	if s.Height > s.Width {
		cols, edge = 2, frameStroke(Light, false, PaperPoint{r.Min.X, r.Max.Y}, r.Max)
	}
	width := r.width() / Micron(cols)
	if width < 30*MM || r.height() < 10*MM {
		return errKeyRoom
	}
	for _, face := range [...]Face{Regular, Condensed} {
		ls := newListing(s.Key, face, width-2*notesPad)
		rows := (len(ls.lines) + cols - 1) / cols
		if ls.height(rows+1)+2*notesPad > r.height() {
			continue
		}
		s.put(edge)
		for c, heading := range []string{or(s.Page.Wording.Key, "Key"), ""} {
			if from := c * rows; from < len(ls.lines) {
				s.list(heading, ls, from, min(from+rows, len(ls.lines)), PaperPoint{r.Min.X + Micron(c)*width + notesPad, r.Max.Y - notesPad})
			}
		}
		return nil
	}
	return errKeyRoom
}
