package book

import (
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// finder tells on which page each step stands, since steps that are the same work
// stand together. It is set before the steps, when it is known which share a page,
// and filled when every part has its pages.
type finder struct {
	b       *binder
	spans   []span
	columns int   // pairs of step and page side by side
	at      []int // page of the part on which each step begins
	sheets  int   // that it takes
	marks   int   // its marks on the last of them; what follows are the first steps'
}

// span is steps in a row that share a page.
type span struct{ from, to int }

// finderMost is how many pairs of step and page stand side by side at most.
const finderMost = 6

// newFinder sets a finder on the flow.
func (b *binder) newFinder(f *page.Flow, groups []stepGroup) *finder {
	of := make([]int, len(b.Build.Steps))
	for i, g := range groups {
		for _, k := range g.index {
			of[k] = i
		}
	}
	v := &finder{b: b, at: make([]int, len(of))}
	for i := 0; i < len(of); {
		k := i
		for k+1 < len(of) && of[k+1] == of[i] {
			k++
		}
		v.spans = append(v.spans, span{i, k})
		i = k + 1
	}
	for v.columns = finderMost; v.columns > 1; v.columns-- {
		if t := v.table(8888); t.Holds(f.Width()) {
			break
		}
	}
	v.set(f, 8888)
	v.sheets = len(f.Sheets())
	v.marks = len(f.Sheets()[v.sheets-1].Marks)
	return v
}

// set writes the finder of a part that begins on a page.
func (v *finder) set(f *page.Flow, first int) {
	f.Text(v.b.say("book.steps-how"), page.Style{Size: page.Large})
	f.Heading(v.b.say("book.steps-find"), page.Title2, 30*draw.MM)
	f.Table(v.table(first))
}

// fill puts the pages' numbers in.
func (v *finder) fill(sheets []*draw.Sheet, first int) {
	f := page.New(v.b.format)
	v.set(f, first)
	for i, s := range f.Sheets() {
		if i == v.sheets-1 {
			s.Marks = append(s.Marks, sheets[i].Marks[v.marks:]...)
		}
		sheets[i].Marks = s.Marks
	}
}

// table sets pairs of step and page down so many columns, as an index is read.
func (v *finder) table(first int) page.Table {
	t := page.Table{Size: page.Large}
	for range v.columns {
		t.Columns = append(t.Columns, page.Column{Head: v.b.say("book.col-step"), Align: draw.End, Face: draw.Bold, Wide: true}, page.Column{Head: v.b.say("book.col-page"), Align: draw.End})
	}
	high := (len(v.spans) + v.columns - 1) / v.columns
	for i := range high {
		var r page.Row
		for c := range v.columns {
			k := c*high + i
			if k >= len(v.spans) {
				r.Cells = append(r.Cells, page.Cell{}, page.Cell{})
				continue
			}
			s := v.spans[k]
			no := number(v.b.Build.Steps[s.from].No)
			if s.to > s.from {
				no += "–" + number(v.b.Build.Steps[s.to].No)
			}
			r.Cells = append(r.Cells, page.Cell{Text: no}, page.Cell{Text: number(first + v.at[s.from])})
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// stepSection closes the steps: their pages, with a bookmark for each.
func (b *binder) stepSection(f *page.Flow, s states, v *finder) {
	sec := section{part: Steps, title: b.titleOf(Steps), format: b.format}
	for i := range b.Build.Steps {
		sec.marks = append(sec.marks, mark{b.stepTitle(&b.Build.Steps[i]), v.at[i]})
	}
	for i, sheet := range f.Sheets() {
		sec.pages = append(sec.pages, leaf{sheet: sheet, state: s[i]})
	}
	sec.late = func(first int) { v.fill(f.Sheets(), first) }
	b.sections = append(b.sections, sec)
}
