package book

import (
	"net/url"
	"slices"
	"strings"

	"rsc.io/qr"

	"stallwright/engine/fit"
	"stallwright/paper/draw"
	"stallwright/paper/packet"
	"stallwright/paper/page"
)

// grid is how labels stand on a sheet. Both fit sheets of fourteen labels that
// stationers sell, and plain paper cut at the ticks (common practice, no published
// source): on Letter 4 x 1 1/3 in, on A4 99.1 x 38.1 mm.
type grid struct {
	columns, rows int
	wide, high    draw.Micron
	left, top     draw.Micron // white round the labels
	between       draw.Micron // white between columns
}

func gridOf(size draw.PaperSize) grid {
	if size == draw.A4 {
		return grid{columns: 2, rows: 7, wide: 99_100, high: 38_100, left: 4_650, top: 15_150, between: 2_500}
	}
	return grid{columns: 2, rows: 7, wide: 101_600, high: 33_866, left: 3_960, top: 21_170, between: 4_780}
}

// cell is the area of a label, counted in reading order.
func (g grid) cell(i int, height draw.Micron) draw.PaperRect {
	col, row := draw.Micron(i%g.columns), draw.Micron(i/g.columns)
	x := g.left + col*(g.wide+g.between)
	y := height - g.top - row*g.high
	return draw.PaperRect{Min: draw.PaperPoint{X: x, Y: y - g.high}, Max: draw.PaperPoint{X: x + g.wide, Y: y}}
}

// labels is a label for each piece, with a code that opens it.
func (b *binder) labels() error {
	g := gridOf(b.o.Paper)
	reasons := map[string]int{}
	doc := packet.NewDocument(b.Plan)
	for i := range doc.Pieces {
		reasons[doc.Pieces[i].Label] = doc.Pieces[i].Reason
	}
	sec := section{part: Labels, title: b.titleOf(Labels), format: b.format}
	each := g.columns * g.rows
	place := ""
	for i := range b.Fit.Pieces {
		if i%each == 0 {
			sec.pages = append(sec.pages, leaf{sheet: b.labelSheet(g), strip: true})
		}
		l := &sec.pages[len(sec.pages)-1]
		v := &b.Fit.Pieces[i]
		marks, err := b.label(g.cell(i%each, l.sheet.Height), v, reasons[v.Label])
		if err != nil {
			return err
		}
		l.sheet.Marks = append(l.sheet.Marks, marks...)
		l.state |= b.stateOf(v.Bay)
		if at := b.structureName(v); at != place {
			place = at
			sec.marks = append(sec.marks, mark{at, len(sec.pages) - 1})
		}
	}
	if len(sec.pages) == 0 {
		f := page.New(b.format)
		f.Text(b.say("book.labels-none"), page.Style{Size: page.Large})
		b.add(Labels, f, nil)
		return nil
	}
	b.sections = append(b.sections, sec)
	return nil
}

// structureName is the structure that a piece belongs to.
func (b *binder) structureName(v *fit.Piece) string {
	s := -1
	switch {
	case v.Run >= 0:
		s = b.Layout.Runs[v.Run].Structure
	default:
		if p, ok := b.Layout.Post(v.Label); ok {
			s = b.Layout.Posts[p].Structure
		}
	}
	if s < 0 {
		return b.say("book.pieces")
	}
	return b.Layout.Structures[s].Name
}

// labelSheet is an empty sheet with ticks to cut by between the labels.
func (b *binder) labelSheet(g grid) *draw.Sheet {
	s := page.New(b.format).Sheets()[0]
	s.Frame = draw.PaperRect{Min: draw.PaperPoint{X: 3 * draw.MM, Y: 3 * draw.MM}, Max: draw.PaperPoint{X: s.Width - 3*draw.MM, Y: s.Height - 3*draw.MM}}
	const tick = 2 * draw.MM
	var runs [][]draw.PaperPoint
	for i := range g.columns * g.rows {
		r := g.cell(i, s.Height)
		for _, x := range [...]draw.Micron{r.Min.X, r.Max.X} {
			for _, y := range [...]draw.Micron{r.Min.Y, r.Max.Y} {
				runs = append(runs, []draw.PaperPoint{{X: x - tick, Y: y}, {X: x + tick, Y: y}}, []draw.PaperPoint{{X: x, Y: y - tick}, {X: x, Y: y + tick}})
			}
		}
	}
	s.Marks = append(s.Marks, draw.Stroke{Layer: page.LayerBody, Pen: draw.Pen{Weight: draw.Thin, Grey: 50}, Runs: runs})
	return s
}

// label writes one label: code at the left, what a hand looks for at the right.
func (b *binder) label(r draw.PaperRect, v *fit.Piece, reason int) ([]draw.Mark, error) {
	const edge = 3 * draw.MM
	high := r.Max.Y - r.Min.Y - 2*edge
	side := min(high, 27*draw.MM)
	code, err := qrCode(b.payload(v.Label), draw.PaperPoint{X: r.Min.X + edge, Y: r.Max.Y - edge - (high-side)/2}, side)
	if err != nil {
		return nil, err
	}
	out := []draw.Mark{code}
	x := r.Min.X + edge + side + 3*draw.MM
	wide := r.Max.X - edge - x
	y := r.Max.Y - edge
	line := func(text string, st page.Style, step draw.Micron) {
		t := page.Fit(text, st, wide)
		if t.Height() < step+st.Size/2 {
			out = append(out, t.Place(page.LayerBody, draw.PaperPoint{X: x, Y: y}, wide)...)
		}
		y -= step
	}
	// What is to be done to a piece stands whole: where it takes more than a line the
	// place is left to the label's own name.
	what := draw.Wrap(b.statusOf(v), draw.Condensed, page.Least, wide)
	if len(what) > 1 {
		line(v.Label, page.Style{Size: page.Loud, Face: draw.Bold}, 6700)
		line(b.sizeOf(v), page.Style{Size: page.Title1, Face: draw.Bold}, 6*draw.MM)
		for len(what) > 3 {
			what = append(what[:2], strings.Join(what[2:], " "))
		}
		for _, l := range what {
			line(l, page.Style{Size: page.Least, Face: draw.Condensed}, 4200)
		}
	} else {
		line(v.Label, page.Style{Size: 5_500, Face: draw.Bold}, 8*draw.MM)
		line(b.sizeOf(v), page.Style{Size: page.Loud, Face: draw.Bold}, 7*draw.MM)
		line(b.placeOf(v), page.Style{Size: page.Body}, 4500)
		line(b.statusOf(v), page.Style{Size: page.Body}, 4500)
	}
	// For the office: it may be read close by.
	line(b.say("book.label-code", count("no", reason), count("revision", b.Job.Revision), name("job", b.Job.Job)), page.Style{Size: draw.MinText, Face: draw.Condensed}, 4*draw.MM)
	return out, nil
}

// sizeOf is a piece's length, and what it is where it has none.
func (b *binder) sizeOf(v *fit.Piece) string {
	what := b.kindWord(v)
	if v.Length == 0 {
		return what
	}
	return b.length(v.Length) + "  " + what
}

// kindWord is what a piece is.
func (b *binder) kindWord(v *fit.Piece) string {
	switch v.Kind {
	case fit.Board:
		if v.Treated {
			return b.say("book.kind-treated-board")
		}
		return b.say("book.kind-board")
	case fit.Packing:
		return b.say("book.kind-packing")
	case fit.Skirt:
		return b.say("book.kind-skirt")
	case fit.Tube:
		return b.say("book.kind-tube")
	case fit.Channel:
		return b.say("book.kind-channel")
	case fit.Post:
		return b.say("book.kind-post")
	case fit.Grille:
		return b.say("book.kind-grille")
	case fit.Door:
		return b.say("book.kind-door")
	case fit.Window:
		return b.say("book.kind-window")
	case fit.Feeder:
		return b.say("book.kind-feeder")
	case fit.Track:
		return b.say("book.kind-track")
	}
	return string(v.Kind)
}

// placeOf is where a piece goes.
func (b *binder) placeOf(v *fit.Piece) string {
	if v.Course > 0 {
		return b.say("book.label-course", name("place", b.Place(v)), count("no", v.Course))
	}
	return b.say("book.label-place", name("place", b.Place(v)))
}

// statusOf is how far a piece is, and what is done to it.
func (b *binder) statusOf(v *fit.Piece) string {
	parts := []string{}
	if v.Bay >= 0 || v.Cut {
		parts = append(parts, b.stateWord(v.State))
	}
	if v.Misfit {
		parts = append(parts, b.say("book.misfit"))
	}
	if work := b.words.List(b.Todo(v)); work != "" {
		parts = append(parts, work)
	}
	return strings.Join(parts, " · ")
}

// payload is what a piece's code says: where the app shows it, or its label.
func (b *binder) payload(label string) string {
	if b.o.Address == "" {
		return label
	}
	sep := "?"
	if strings.Contains(b.o.Address, "?") {
		sep = "&"
	}
	return b.o.Address + sep + "job=" + url.QueryEscape(b.Job.Job) + "&piece=" + url.QueryEscape(label)
}

// qrCode draws a code of a side with its upper left corner at a point: black
// rectangles, as large as they come, so that no seam shows between them. Some of
// a label may rub off: a seventh may be unreadable (level M of ISO/IEC 18004). The
// white round it is the label's own.
func qrCode(text string, at draw.PaperPoint, side draw.Micron) (draw.Mark, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, err
	}
	n := draw.Micron(c.Size)
	place := func(x, y int) draw.PaperPoint {
		return draw.PaperPoint{X: at.X + side*draw.Micron(x)/n, Y: at.Y - side*draw.Micron(y)/n}
	}
	done := make([]bool, c.Size*c.Size)
	free := func(x, y int) bool { return c.Black(x, y) && !done[y*c.Size+x] }
	points := make([]draw.PaperPoint, 0, c.Size*c.Size)
	for y := range c.Size {
		for x := range c.Size {
			if !free(x, y) {
				continue
			}
			w := 1
			for x+w < c.Size && free(x+w, y) {
				w++
			}
			h := 1
			for y+h < c.Size && rowFree(free, x, y+h, w) {
				h++
			}
			for j := range h {
				for i := range w {
					done[(y+j)*c.Size+x+i] = true
				}
			}
			a, z := place(x, y), place(x+w, y+h)
			points = append(points, a, draw.PaperPoint{X: z.X, Y: a.Y}, z, draw.PaperPoint{X: a.X, Y: z.Y})
		}
	}
	points = slices.Clip(slices.Clone(points))
	runs := make([][]draw.PaperPoint, len(points)/4)
	for i := range runs {
		runs[i] = points[4*i : 4*i+4 : 4*i+4]
	}
	return draw.Stroke{Layer: page.LayerBody, Fill: draw.Tint(0), Closed: true, Runs: runs}, nil
}

func rowFree(free func(x, y int) bool, x, y, w int) bool {
	for i := range w {
		if !free(x+i, y) {
			return false
		}
	}
	return true
}
