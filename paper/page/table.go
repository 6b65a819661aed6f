package page

import (
	"strings"

	"stallwright/paper/draw"
)

// Column is one column of a table.
type Column struct {
	Head  string
	Align draw.Anchor
	Face  draw.Face
	Width draw.Micron // at least so wide; zero: as its texts need
	Wide  bool        // takes what room the others leave
}

// headFace is the face of a column's head: bold, but where room is short and its
// texts are condensed.
func (c *Column) headFace() draw.Face {
	if c.Face == draw.Condensed {
		return draw.Condensed
	}
	return draw.Bold
}

// Cell is one cell: a text, a box to tick, or a box to write into.
type Cell struct {
	Text  string
	Tick  bool
	Write bool // an empty box; its text stands small in the corner
}

// Row is one row. Head rows part a table into groups: bold, over its whole width.
type Row struct {
	Cells []Cell
	Group string
}

// Cells makes a row of texts.
func Cells(texts ...string) Row {
	r := Row{Cells: make([]Cell, len(texts))}
	for i, t := range texts {
		r.Cells[i].Text = t
	}
	return r
}

// Table is rows under heads that are written again on each sheet.
type Table struct {
	Columns []Column
	Rows    []Row
	Size    draw.Micron // of the text; zero: Small
	Tall    draw.Micron // rows are at least so high, as boxes to write into need
}

// pad is the white beside the texts of a cell, and over and under them.
func (t *Table) pad() draw.Micron { return max(1200, t.Size*4/10) }

// Table sets a table. Every row stands whole on one sheet, unless it is taller
// than one; a group's head never stands at the foot.
func (f *Flow) Table(t Table) {
	if t.Size == 0 {
		t.Size = Small
	}
	w := t.widths(f.Width())
	head := t.head(w)
	if len(t.Rows) == 0 {
		return
	}
	first := t.lay(t.Rows[0], w, f.Width())
	more := draw.Micron(0)
	if t.Rows[0].Group != "" && len(t.Rows) > 1 {
		more = t.lay(t.Rows[1], w, f.Width()).high
	}
	f.Need(head.high + first.high + more)
	f.putRow(head, w, thick)
	group := ""
	for i, r := range t.Rows {
		row := t.lay(r, w, f.Width())
		need := row.high
		if r.Group != "" {
			group = r.Group
			if i+1 < len(t.Rows) {
				need += t.lay(t.Rows[i+1], w, f.Width()).high
			}
		}
		if f.Left() < need && !f.fresh {
			f.Break()
			f.putRow(head, w, thick)
			if group != "" && r.Group == "" {
				f.putRow(t.lay(Row{Group: group}, w, f.Width()), w, hair)
			}
		}
		f.putRow(row, w, hair)
	}
	f.Space(gap)
}

// Holds says whether a width holds a table with no word broken.
func (t *Table) Holds(width draw.Micron) bool {
	v := *t
	if v.Size == 0 {
		v.Size = Small
	}
	_, least := v.wants(width)
	return sum(least) <= width
}

// laid is a row broken into lines.
type laid struct {
	row    Row
	blocks []Block
	high   draw.Micron
	pad    draw.Micron
	size   draw.Micron // of the texts
	group  bool
}

// widths shares the width among columns: each as wide as its texts need. Where
// that is too much, each gets its longest word at least, as far as there is room,
// and what is left goes to those that want more, the modest ones first.
func (t *Table) widths(all draw.Micron) []draw.Micron {
	want, least := t.wants(all)
	if sum(want) > all {
		floor := share(least, all)
		more := make([]draw.Micron, len(want))
		for i := range want {
			more[i] = max(0, want[i]-floor[i])
		}
		for i, v := range share(more, all-sum(floor)) {
			floor[i] += v
		}
		return floor
	}
	left, wide := all-sum(want), draw.Micron(0)
	for _, c := range t.Columns {
		if c.Wide {
			wide++
		}
	}
	for i, c := range t.Columns {
		if c.Wide {
			want[i] += left / wide
		}
	}
	return want
}

// wants is how wide each column's texts are, and its longest word.
func (t *Table) wants(all draw.Micron) (want, least []draw.Micron) {
	want, least = make([]draw.Micron, len(t.Columns)), make([]draw.Micron, len(t.Columns))
	for i, c := range t.Columns {
		want[i] = max(c.Width, c.headFace().Extent(draw.Clean(c.Head), t.Size).Width+2*t.pad())
		least[i] = max(c.Width, longest(c.Head, c.headFace(), t.Size)+2*t.pad())
		for _, r := range t.Rows {
			if r.Group != "" || i >= len(r.Cells) || r.Cells[i].Text == "" || r.Cells[i].Write || want[i] >= all && least[i] >= all {
				continue
			}
			for _, line := range strings.Split(r.Cells[i].Text, "\n") {
				want[i] = max(want[i], c.Face.Extent(draw.Clean(line), t.Size).Width+2*t.pad())
				least[i] = max(least[i], longest(line, c.Face, t.Size)+2*t.pad())
			}
		}
	}
	return want, least
}

// share gives each what it wants where there is enough for all, and else caps
// those who want most, all at the same.
func share(want []draw.Micron, all draw.Micron) []draw.Micron {
	out := make([]draw.Micron, len(want))
	done := make([]bool, len(want))
	for open := len(want); open > 0; {
		fair := all / draw.Micron(open)
		settled := false
		for i, w := range want {
			if !done[i] && w <= fair {
				out[i], done[i], settled = w, true, true
				all -= w
				open--
			}
		}
		if settled {
			continue
		}
		for i := range want {
			if !done[i] {
				out[i] = fair
			}
		}
		break
	}
	return out
}

// longest is the width of the longest part of a text that is not broken.
func longest(s string, f draw.Face, size draw.Micron) draw.Micron {
	w := draw.Micron(0)
	for _, word := range draw.Unbroken(draw.Clean(s)) {
		w = max(w, f.Extent(word, size).Width)
	}
	return w
}

func (t *Table) head(w []draw.Micron) laid {
	var r Row
	any := false
	for _, c := range t.Columns {
		r.Cells = append(r.Cells, Cell{Text: c.Head})
		any = any || c.Head != ""
	}
	if !any {
		return laid{}
	}
	l := laid{row: r, pad: t.pad()}
	for i, c := range t.Columns {
		b := Set(c.Head, Style{Size: t.Size, Face: c.headFace(), Align: c.Align}, w[i]-2*t.pad())
		l.blocks = append(l.blocks, b)
	}
	up, high := draw.Micron(0), draw.Micron(0)
	for _, b := range l.blocks {
		up = max(up, b.up)
	}
	for _, b := range l.blocks {
		high = max(high, up-b.up+b.Height())
	}
	l.high = high + 2*rule + draw.MM/2
	return l
}

// lay breaks a row into lines.
func (t *Table) lay(r Row, w []draw.Micron, all draw.Micron) laid {
	l := laid{row: r, high: t.Tall, pad: t.pad(), size: t.Size}
	if r.Group != "" {
		b := Set(r.Group, Style{Size: t.Size, Face: draw.Bold}, all-2*t.pad())
		return laid{row: r, blocks: []Block{b}, high: b.Height() + 2*t.pad(), pad: t.pad(), group: true}
	}
	for i, c := range r.Cells {
		if i >= len(w) {
			break
		}
		st := Style{Size: t.Size, Face: t.Columns[i].Face, Align: t.Columns[i].Align}
		if c.Write {
			st = Style{Size: Least, Face: draw.Condensed}
		}
		b := Set(c.Text, st, w[i]-2*t.pad())
		l.blocks = append(l.blocks, b)
		l.high = max(l.high, b.Height()+2*t.pad())
		if c.Tick {
			l.high = max(l.high, square+2*rule)
		}
		if c.Write && b.Lines() > 1 {
			l.high = max(l.high, b.Height()+2*t.pad()+room)
		}
	}
	up := draw.Micron(0)
	for _, b := range l.blocks {
		up = max(up, b.up)
	}
	for _, b := range l.blocks {
		l.high = max(l.high, up-b.up+b.Height()+2*t.pad())
	}
	return l
}

// putRow writes a row and the rule under it. A row that no sheet holds is cut
// between lines.
func (f *Flow) putRow(l laid, w []draw.Micron, under draw.Weight) {
	if len(l.blocks) == 0 {
		return
	}
	if l.high > f.Left() {
		f.putTall(l, w, under)
		return
	}
	r := f.take(l.high)
	x := r.Min.X
	if l.group {
		f.put(l.blocks[0].Place(LayerBody, draw.PaperPoint{X: x + l.pad, Y: r.Min.Y + l.pad + l.blocks[0].Height()}, f.Width()-2*l.pad)...)
		f.put(Rule(r.Min, f.Width(), draw.Medium))
		return
	}
	f.put(Rule(r.Min, sum(w), under))
	// Texts stand on one baseline, in the middle of the row's height.
	up, high := draw.Micron(0), draw.Micron(0)
	for i, b := range l.blocks {
		if !l.row.Cells[i].Write {
			up = max(up, b.up)
		}
	}
	for i, b := range l.blocks {
		if !l.row.Cells[i].Write {
			high = max(high, up-b.up+b.Height())
		}
	}
	base := r.Max.Y - (l.high-high)/2 - up
	for i, b := range l.blocks {
		c := l.row.Cells[i]
		switch {
		case c.Write:
			f.put(Box(draw.PaperRect{Min: draw.PaperPoint{X: x + 400, Y: r.Min.Y + 600}, Max: draw.PaperPoint{X: x + w[i] - 400, Y: r.Max.Y - 600}}, draw.Light))
			f.put(b.Place(LayerBody, draw.PaperPoint{X: x + l.pad, Y: r.Max.Y - l.pad}, w[i]-2*l.pad)...)
		case c.Tick:
			mid := draw.PaperPoint{X: x + w[i]/2, Y: (r.Min.Y + r.Max.Y) / 2}
			if high > 0 { // beside the first line
				mid.Y = max(base+l.size/2, r.Min.Y+square/2+rule)
			}
			f.put(Box(draw.PaperRect{Min: draw.PaperPoint{X: mid.X - square/2, Y: mid.Y - square/2}, Max: draw.PaperPoint{X: mid.X + square/2, Y: mid.Y + square/2}}, draw.Medium))
		default:
			f.put(b.Place(LayerBody, draw.PaperPoint{X: x + l.pad, Y: base + b.up}, w[i]-2*l.pad)...)
		}
		x += w[i]
	}
}

// putTall writes a row that is taller than what a sheet has left, line by line.
func (f *Flow) putTall(l laid, w []draw.Micron, under draw.Weight) {
	up, down := draw.Micron(0), draw.Micron(0)
	for _, b := range l.blocks {
		up, down = max(up, b.up), max(down, b.down)
	}
	for {
		f.Need(2*l.pad + up + down)
		part := laid{row: l.row, group: l.group, pad: l.pad, size: l.size}
		rest := false
		for i, b := range l.blocks {
			n := min(b.Lines(), 1+int(max(0, f.Left()-2*l.pad-up-down)/max(b.pitch, 1)))
			head, tail := b, Block{style: b.style}
			if b.Lines() > 0 {
				head, tail = b.cut(n)
			}
			part.blocks = append(part.blocks, head)
			part.high = max(part.high, up-head.up+head.Height()+2*l.pad)
			l.blocks[i] = tail
			rest = rest || tail.Lines() > 0
		}
		part.high = min(part.high, f.Left())
		f.putRow(part, w, under)
		if !rest {
			return
		}
		f.Break()
	}
}

func sum(w []draw.Micron) draw.Micron {
	s := draw.Micron(0)
	for _, v := range w {
		s += v
	}
	return s
}
