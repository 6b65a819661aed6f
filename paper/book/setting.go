package book

import (
	"slices"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/packet"
	"stallwright/paper/page"
)

// settingOut is what a crew stakes and digs by: the setting-out drawing stands
// among the drawings, its numbers here.
func (b *binder) settingOut() error {
	f := page.New(b.format)
	f.Text(b.say("setout.to-the-nearest", phrase.With("mark", phrase.Length(b.fieldTape().Mark))), page.Style{})
	f.Text(b.say("setout.hooked"), page.Style{Size: page.Large, Face: draw.Bold})
	w := &scribe{b: b, f: f, states: states{}, at: -1}
	packet.SetoutTo(b.Plan, b.words, w)
	w.close()
	b.add(Setout, f, w.states, w.marks...)
	return nil
}

// scribe sets the setting out in type.
type scribe struct {
	b      *binder
	f      *page.Flow
	states states
	marks  []mark
	at     int // the structure being written; -1 before the first
	from   int // the page it starts on
}

// Title starts a structure.
func (w *scribe) Title(text string) {
	w.close()
	w.at++
	if w.at > 0 {
		w.f.Break() // a crew takes the pages of its structure
	}
	w.f.Heading(text, page.Title1, 40*draw.MM)
	w.from = w.f.Page()
	w.marks = append(w.marks, mark{text, w.from})
}

// close notes how far a structure is: what is measured between standing posts is
// set out as drawn until somebody has measured them.
func (w *scribe) close() {
	if w.at < 0 {
		return
	}
	s := &w.b.Layout.Structures[w.at]
	if s.Kind == frame.BarnRow && w.b.asDrawn(w.at) {
		w.states.note(w.from, w.f.Page(), HoldsDrawn)
	}
}

// asDrawn says whether an opening between standing posts was not measured.
func (b *binder) asDrawn(structure int) bool {
	for i := range b.Layout.Runs {
		r := &b.Layout.Runs[i]
		if r.Structure == structure && !r.Measured && b.Layout.Posts[r.From].Kind == frame.Timber && b.Layout.Posts[r.To].Kind == frame.Timber {
			return true
		}
	}
	return false
}

// Head starts a part of a structure.
func (w *scribe) Head(text string) { w.f.Heading(text, page.Title2, 25*draw.MM) }

// Para sets a paragraph.
func (w *scribe) Para(text string) {
	w.f.Need(35 * draw.MM) // a table may follow, and belongs to it
	w.f.Space(draw.MM)
	w.f.Text(text, page.Style{Size: page.Large})
}

// Step sets a numbered step with a box to tick.
func (w *scribe) Step(no int, name string, sentences []string) {
	w.f.Check(number(no)+"  "+name, page.Style{Size: page.Large, Face: draw.Bold})
	for _, s := range sentences {
		w.f.Item("", s, page.Style{Size: page.Large})
	}
}

// Table sets a table, with a box to tick before each row.
func (w *scribe) Table(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	t := page.Table{Size: page.Large, Tall: 7500, Columns: make([]page.Column, len(rows[0])+1)}
	t.Columns[0].Width = 8 * draw.MM
	if w.heads(rows[0]) {
		for i, h := range rows[0] {
			t.Columns[i+1].Head = h
		}
		rows = rows[1:]
	}
	for i := range rows[0] {
		numbers := true
		for _, r := range rows {
			numbers = numbers && i < len(r) && (r[i] == "" || strings.ContainsAny(r[i][:1], "0123456789+-≈"))
		}
		if numbers {
			t.Columns[i+1].Align = draw.End
		}
	}
	for _, r := range rows {
		row := page.Cells(append([]string{""}, r...)...)
		row.Cells[0] = page.Cell{Tick: true}
		for i := range row.Cells {
			if t.Columns[i].Align == draw.End { // a length or an angle stays on its line
				row.Cells[i].Text = strings.ReplaceAll(row.Cells[i].Text, " ", "\u00a0")
			}
		}
		t.Rows = append(t.Rows, row)
	}
	if !t.Holds(w.f.Width()) {
		t.Size = page.Body
	}
	w.f.Table(t)
}

// heads says whether a row heads a table.
func (w *scribe) heads(r []string) bool {
	if r[0] == "" {
		return len(r) > 1 && r[1] == w.b.say("setout.col-corners")
	}
	return slices.ContainsFunc([]string{"pier", "stake", "post", "part", "bay", "section", "along"}, func(k string) bool { return r[0] == w.b.say("setout.col-"+k) })
}
