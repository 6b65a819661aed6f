package page

import (
	"strings"

	"stallwright/paper/draw"
)

// Block is text broken into lines of a width.
type Block struct {
	style Style
	lines []string
	pitch draw.Micron // between baselines
	up    draw.Micron // of the tallest line
	down  draw.Micron
	wide  draw.Micron // of the widest line
}

// Set breaks a text into lines no wider than width. A blank text has no lines.
func Set(text string, st Style, width draw.Micron) Block {
	if st.Size == 0 {
		st.Size = Body
	}
	st.Size = max(st.Size, draw.MinText)
	b := Block{style: st}
	if strings.TrimSpace(text) == "" {
		return b
	}
	b.lines = draw.Wrap(text, st.Face, st.Size, width)
	b.up = st.Size
	for _, l := range b.lines {
		e := st.Face.Extent(l, st.Size)
		b.up, b.down, b.wide = max(b.up, e.Up), max(b.down, e.Down), max(b.wide, e.Width)
	}
	b.pitch = max(st.Size*16/10, b.up+b.down+200)
	return b
}

// Height is from the top of the first line to the bottom of the last.
func (b Block) Height() draw.Micron {
	if len(b.lines) == 0 {
		return 0
	}
	return b.up + draw.Micron(len(b.lines)-1)*b.pitch + b.down
}

// Lines is how many lines there are.
func (b Block) Lines() int { return len(b.lines) }

// cut parts a block after its first n lines.
func (b Block) cut(n int) (head, tail Block) {
	head, tail = b, b
	head.lines, tail.lines = b.lines[:n], b.lines[n:]
	return head, tail
}

// Place gives the marks of a block whose top left corner is at, within a width.
func (b Block) Place(layer string, at draw.PaperPoint, width draw.Micron) []draw.Mark {
	var out []draw.Mark
	x := at.X
	switch b.style.Align {
	case draw.Middle:
		x += width / 2
	case draw.End:
		x += width
	}
	y := at.Y - b.up
	for _, l := range b.lines {
		if l != "" {
			out = append(out, draw.Text{Layer: layer, At: draw.PaperPoint{X: x, Y: y}, Text: l, Height: b.style.Size, Face: b.style.Face, Anchor: b.style.Align})
		}
		y -= b.pitch
	}
	return out
}

// Fit sets a text on one line of a width: as asked, else condensed, else smaller,
// else cut short with an ellipsis. Above and below are the room there is over and
// under the baseline; zero means any.
func Fit(text string, st Style, width draw.Micron) Block {
	text = draw.Clean(text)
	if st.Size == 0 {
		st.Size = Body
	}
	if text == "" {
		return Block{style: st}
	}
	one := func(s string, st Style) (Block, bool) {
		e := st.Face.Extent(s, st.Size)
		b := Block{style: st, lines: []string{s}, up: max(e.Up, st.Size), down: e.Down, wide: e.Width}
		b.pitch = max(st.Size*16/10, b.up+b.down+200)
		return b, e.Width <= width
	}
	floor := max(min(st.Size, Least), draw.MinText) // what is small already grows no smaller
	faces := []draw.Face{st.Face}
	if st.Face == draw.Regular {
		faces = append(faces, draw.Condensed)
	}
	for size := st.Size; ; size = max(size*9/10, floor) {
		for _, f := range faces {
			try := st
			try.Size, try.Face = size, f
			if b, ok := one(text, try); ok {
				return b
			}
		}
		if size <= floor {
			break
		}
	}
	st.Size, st.Face = floor, draw.Condensed
	if b, ok := one(text, st); ok { // bold no longer, but whole
		return b
	}
	for r := []rune(text); len(r) > 0; r = r[:len(r)-1] {
		if b, ok := one(strings.TrimSpace(string(r))+"…", st); ok {
			return b
		}
	}
	b, _ := one("…", st)
	return b
}

// Wide is the width of the widest line.
func (b Block) Wide() draw.Micron { return b.wide }
