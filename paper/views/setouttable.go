package views

import (
	"stallwright/paper/draw"
)

// Sizes of a table on paper.
const (
	rowPitch  = 4200
	columnGap = 2500
)

// table writes rows downward from its upper left corner, the first row as heads.
// Columns but the first are set flush right, so that fractions stand in line.
func (p *plot) table(at draw.Point, rows [][]string) {
	widths, whole := columnWidths(rows)
	down := func(row int) draw.Micron { return draw.Micron(row) * rowPitch }
	for i, row := range rows {
		var x draw.Micron
		for c, cell := range row {
			note := &draw.Note{Layer: draw.LayerText, Text: cell, Face: draw.Condensed, At: pt(at.X+p.paper(x), at.Y-p.paper(down(i+1)))}
			if c > 0 {
				note.At.X, note.Anchor = at.X+p.paper(x+widths[c]), draw.End
			}
			if cell != "" {
				p.d.Add(note)
			}
			x += widths[c] + columnGap
		}
	}
	rule := func(row int) {
		y := at.Y - p.paper(down(row)+1200)
		p.d.Add(draw.NewLine(draw.LayerText, light, pt(at.X, y), pt(at.X+p.paper(whole-columnGap), y)))
	}
	rule(1)
	rule(len(rows))
	p.d.Add(space(at.X, at.Y), space(at.X+p.paper(whole), at.Y-p.paper(down(len(rows))+2*draw.MM)))
}

// columnWidths are how wide a table's columns are on paper, and the whole.
func columnWidths(rows [][]string) (widths []draw.Micron, whole draw.Micron) {
	widths = make([]draw.Micron, len(rows[0]))
	for _, row := range rows {
		for c, cell := range row {
			widths[c] = max(widths[c], draw.Condensed.Extent(cell, draw.MinText).Width)
		}
	}
	for _, w := range widths {
		whole += w + columnGap
	}
	return widths, whole
}
