package book

import (
	"fmt"
	"strings"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
	"stallwright/engine/takeoff"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// saw is the saw tickets: for final sizes only.
func (b *binder) saw() error {
	f := page.New(b.format)
	var marks []mark
	s := states{}
	any := false
	for i := range b.Takeoff.Cuts {
		v := &b.Takeoff.Cuts[i]
		if !v.Final {
			continue
		}
		for k, t := range cut.Tickets(v.Problem, v.Plan) {
			if !any {
				f.Text(b.say("book.saw-how"), page.Style{})
				any = true
			}
			if k == 0 {
				marks = append(marks, mark{b.itemName(v.Item, v.Name, v.Treated), f.Page()})
			}
			from := 0
			f.Keep(func() { from = b.ticket(f, v, &t) })
			s.note(from, f.Page(), b.stateOfTicket(&t))
		}
	}
	if !any {
		f.Text(b.say("book.saw-none"), page.Style{Size: page.Loud, Face: draw.Bold})
		f.Text(b.say("book.saw-why"), page.Style{Size: page.Large})
		b.unreleased(f)
		s.note(0, f.Page(), b.stateOfAll())
	}
	b.add(Saw, f, s, marks...)
	return nil
}

// unreleased lists the bays that no saw may be set to yet.
func (b *binder) unreleased(f *page.Flow) {
	t := page.Table{Size: page.Body, Columns: []page.Column{{Head: b.say("book.col-bay"), Face: draw.Bold}, {Head: b.say("book.col-state")}, {Head: b.say("book.col-todo"), Wide: true}}}
	for i := range b.Layout.Bays {
		v := b.stateOf(i)
		todo := ""
		switch v {
		case HoldsDrawn:
			todo = b.say("book.todo-measure")
		case HoldsMeasured:
			todo = b.say("book.todo-release")
		default:
			continue
		}
		t.Rows = append(t.Rows, page.Cells(b.Layout.Bays[i].Name, b.stateWord(b.Fit.Bays[i].State), todo))
	}
	f.Table(t)
}

// stateOfTicket is that of the bays its pieces go to.
func (b *binder) stateOfTicket(t *cut.Ticket) State {
	s := State(0)
	for _, m := range t.Marks {
		for _, l := range m.Labels {
			if i, ok := b.pieces[l]; ok {
				s |= b.stateOf(b.Fit.Pieces[i].Bay)
			}
		}
	}
	return s
}

// boardHigh is how high a board is drawn on a ticket.
const boardHigh = 15 * draw.MM

// ticket writes one ticket and returns the page it begins on.
func (b *binder) ticket(f *page.Flow, v *takeoff.Cut, t *cut.Ticket) int {
	stock := &v.Problem.Stock[t.Stock]
	rows, lists := b.markRows(v, t)
	f.Space(3 * draw.MM)
	f.Need(min(62*draw.MM+draw.Micron(len(t.Marks))*11*draw.MM, f.Tall()))
	from := f.Page()
	key := "book.ticket"
	if v.Class != takeoff.ClassLumber {
		key = "book.ticket-steel"
	}
	f.Picture(20*draw.MM, func(r draw.PaperRect) []draw.Mark {
		out := []draw.Mark{page.Rule(draw.PaperPoint{X: r.Min.X, Y: r.Max.Y}, f.Width(), draw.Extra)}
		head := page.Fit(b.say(key, count("n", int(t.Boards)), size("length", stock.Length)), page.Style{Size: page.Shout, Face: draw.Bold}, f.Width()*70/100)
		out = append(out, head.Place(page.LayerBody, draw.PaperPoint{X: r.Min.X, Y: r.Max.Y - 3*draw.MM}, f.Width())...)
		no := page.Fit(b.say("book.ticket-no", count("no", t.Number)), page.Style{Size: page.Loud, Face: draw.Bold, Align: draw.End}, f.Width()*27/100)
		out = append(out, no.Place(page.LayerBody, draw.PaperPoint{X: r.Max.X - f.Width()*27/100, Y: r.Max.Y - 4*draw.MM}, f.Width()*27/100)...)
		sub := page.Fit(b.ticketLine(v, t), page.Style{Size: page.Large}, f.Width())
		return append(out, sub.Place(page.LayerBody, draw.PaperPoint{X: r.Min.X, Y: r.Max.Y - 14*draw.MM}, f.Width())...)
	})
	f.Picture(boardHigh+9*draw.MM, func(r draw.PaperRect) []draw.Mark { return b.board(r, stock.Length, v.Problem.Saw.Kerf, t) })
	f.Table(rows)
	for _, l := range lists {
		f.Text(l.head, page.Style{Size: page.Large, Face: draw.Bold})
		f.Table(l.table)
	}
	return from
}

// ticketLine tells what the boards are, and what to do before the first mark.
func (b *binder) ticketLine(v *takeoff.Cut, t *cut.Ticket) string {
	parts := []string{b.itemName(v.Item, v.Name, v.Treated)}
	if v.Problem.Stock[t.Stock].Price == 0 {
		parts = append(parts, b.say("book.from-rack"))
	}
	if t.First > 0 {
		parts = append(parts, b.say("book.square-first", size("at", t.First)))
	}
	if t.Keep > 0 {
		parts = append(parts, b.say("book.keep", size("length", t.Keep), name("label", t.Label)))
	}
	return strings.Join(parts, "  ·  ")
}

// fewLabels is how many labels stand in the row of their mark; more stand in a
// list of their own below, each with a box to tick.
const fewLabels = 3

// labelList is the labels of one mark.
type labelList struct {
	head  string
	table page.Table
}

// markRows is the table of a ticket's marks, and the labels that do not stand in
// it.
func (b *binder) markRows(v *takeoff.Cut, t *cut.Ticket) (page.Table, []labelList) {
	out := page.Table{Size: page.Loud, Tall: 11 * draw.MM, Columns: []page.Column{
		{Width: 10 * draw.MM, Face: draw.Bold}, {Head: b.say("book.col-mark"), Align: draw.End, Face: draw.Bold},
		{Head: b.say("book.col-piece"), Align: draw.End}, {Head: b.say("book.col-write"), Wide: true},
	}}
	var lists []labelList
	for k, m := range t.Marks {
		write := strings.Join(m.Labels, "\n")
		if len(m.Labels) > fewLabels {
			write = b.say("book.n-labels", count("n", len(m.Labels)))
			lists = append(lists, labelList{letter(k) + "  " + b.length(m.Length), grid3(m.Labels)})
		}
		if todo := b.todo(m.Labels); todo != "" {
			write += "\n" + todo
		}
		out.Rows = append(out.Rows, page.Cells(letter(k), b.length(m.At), b.length(m.Length), write))
	}
	return out, lists
}

// grid3 sets labels three to a row, each with a box to tick.
func grid3(labels []string) page.Table { return tickGrid(labels, 3, page.Large, 8*draw.MM) }

// tickGrid sets labels so many to a row, each with a box to tick.
func tickGrid(labels []string, many int, size, tall draw.Micron) page.Table {
	t := page.Table{Size: size, Tall: tall}
	for range many {
		t.Columns = append(t.Columns, page.Column{Width: 8 * draw.MM}, page.Column{Wide: true})
	}
	for i := 0; i < len(labels); i += many {
		var r page.Row
		for k := i; k < i+many; k++ {
			if k < len(labels) {
				r.Cells = append(r.Cells, page.Cell{Tick: true}, page.Cell{Text: labels[k]})
			} else {
				r.Cells = append(r.Cells, page.Cell{}, page.Cell{})
			}
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// todo is what is done to pieces besides cutting them to length, each said once.
func (b *binder) todo(labels []string) string {
	var order []string
	of := map[string][]string{}
	for _, l := range labels {
		i, ok := b.pieces[l]
		if !ok {
			continue
		}
		work := b.words.List(b.Todo(&b.Fit.Pieces[i]))
		if work == "" {
			continue
		}
		if of[work] == nil {
			order = append(order, work)
		}
		of[work] = append(of[work], l)
	}
	var out []string
	for _, w := range order {
		if len(of[w]) == len(labels) {
			out = append(out, w)
		} else {
			out = append(out, fmt.Sprintf("%s: %s", strings.Join(of[w], " "), w))
		}
	}
	return strings.Join(out, "\n")
}

// onPiece writes a piece's letter on it, and its label where that is legible.
func onPiece(k int, labels []string, r draw.PaperRect) []draw.Mark {
	wide := r.Max.X - r.Min.X
	text := page.Set(letter(k), page.Style{Size: page.Loud, Face: draw.Bold, Align: draw.Middle}, wide)
	if len(labels) == 1 {
		for _, size := range [...]draw.Micron{page.Loud, page.Large} {
			if long := page.Set(letter(k)+"  "+labels[0], page.Style{Size: size, Face: draw.Bold, Align: draw.Middle}, wide-2*draw.MM); long.Lines() == 1 {
				text = long
				break
			}
		}
	}
	if text.Wide() > wide-draw.MM || text.Height() > r.Max.Y-r.Min.Y {
		return nil
	}
	return text.Place(page.LayerBody, draw.PaperPoint{X: r.Min.X, Y: (r.Min.Y+r.Max.Y)/2 + text.Height()/2}, wide)
}

// board is the picture of a ticket's board, true to scale along its length: what
// is squared off, the pieces with their letters, what is kept, what is left.
func (b *binder) board(r draw.PaperRect, long, kerf measure.Length, t *cut.Ticket) []draw.Mark {
	wide := r.Max.X - r.Min.X
	at := func(l measure.Length) draw.Micron {
		v, _ := measure.MulDiv(int64(l), int64(wide), int64(long), measure.Nearest)
		return r.Min.X + min(draw.Micron(v), wide)
	}
	top, low := r.Max.Y, r.Max.Y-boardHigh
	rect := func(x0, x1 draw.Micron, fill draw.Fill) draw.Mark {
		return draw.Stroke{Layer: page.LayerBody, Pen: draw.Pen{Weight: draw.Medium}, Fill: fill, Closed: true, Runs: [][]draw.PaperPoint{{{X: x0, Y: low}, {X: x1, Y: low}, {X: x1, Y: top}, {X: x0, Y: top}}}}
	}
	out := []draw.Mark{rect(r.Min.X, r.Max.X, draw.Tint(70))}
	start := t.First
	if start > 0 {
		start += kerf
	}
	from := start
	end := draw.Micron(-1)
	for k, m := range t.Marks {
		x0, x1 := at(from), at(start+m.At)
		out = append(out, rect(x0, x1, draw.White()))
		out = append(out, onPiece(k, m.Labels, draw.PaperRect{Min: draw.PaperPoint{X: x0, Y: low}, Max: draw.PaperPoint{X: x1, Y: top}})...)
		out = append(out, draw.Stroke{Layer: page.LayerBody, Pen: draw.Pen{Weight: draw.Extra}, Runs: [][]draw.PaperPoint{{{X: x1, Y: top}, {X: x1, Y: low - 2500}}}})
		text := page.Set(b.length(m.At), page.Style{Size: page.Large, Face: draw.Bold}, wide)
		if left := x1 - text.Wide(); left > end+2*draw.MM || end < 0 {
			left = max(left, r.Min.X)
			out = append(out, text.Place(page.LayerBody, draw.PaperPoint{X: left, Y: low - 3500}, text.Wide())...)
			end = left + text.Wide()
		}
		from = start + m.Next
	}
	if t.Keep > 0 {
		x0, x1 := at(from), at(from+t.Keep)
		out = append(out, rect(x0, x1, draw.Tint(92)))
		if text := page.Fit(b.say("book.kept"), page.Style{Size: page.Large, Align: draw.Middle}, x1-x0-2*draw.MM); x1-x0 > 12*draw.MM {
			out = append(out, text.Place(page.LayerBody, draw.PaperPoint{X: x0, Y: (top+low)/2 + text.Height()/2}, x1-x0)...)
		}
	}
	return out
}
