package book

import (
	"fmt"
	"strings"

	"stallwright/paper/draw"
	"stallwright/paper/page"
	"stallwright/paper/pdf"
)

// states gathers the states of a flow's pages while it is filled.
type states map[int]State

// note says that what stands on pages from one to another of a flow shows bays of
// a state.
func (s states) note(from, to int, v State) {
	for i := from; i <= to; i++ {
		s[i] |= v
	}
}

// add closes a section: the pages of a flow.
func (b *binder) add(p Part, f *page.Flow, s states, marks ...mark) {
	sec := section{part: p, title: b.titleOf(p), format: b.format, marks: marks}
	for i, sheet := range f.Sheets() {
		sec.pages = append(sec.pages, leaf{sheet: sheet, state: s[i]})
	}
	b.sections = append(b.sections, sec)
}

// bind numbers the pages and writes what stands on each.
func (b *binder) bind() *Book {
	total := 0
	for _, s := range b.sections {
		total += len(s.pages)
	}
	out := &Book{info: pdf.Info{Title: b.Job.Job, Subject: b.issue(), Language: b.words.Language().Tag, Date: b.Job.Date}}
	for _, s := range b.sections {
		if s.late != nil {
			s.late(len(out.Pages) + 1)
		}
		out.Outline = append(out.Outline, pdf.Entry{Title: s.title, Page: len(out.Pages)})
		for _, m := range s.marks {
			out.Outline = append(out.Outline, pdf.Entry{Title: m.title, Level: 1, Page: len(out.Pages) + m.page})
		}
		for i, l := range s.pages {
			n := len(out.Pages) + 1
			sheet := b.furnish(&s, l, n, total)
			out.Pages = append(out.Pages, Page{Sheet: sheet, Part: s.part, Title: s.title, State: l.state, Label: fmt.Sprintf("%s %d", s.part, i+1)})
		}
	}
	return out
}

// issue is revision and date in words.
func (b *binder) issue() string {
	if b.Job.Date == "" {
		return b.say("page.issue-undated", count("no", b.Job.Revision))
	}
	return b.say("page.issue", count("no", b.Job.Revision), name("date", b.Job.Date))
}

// where is job and farm in one line.
func (b *binder) where() string {
	j, f := strings.TrimSpace(b.Job.Job), strings.TrimSpace(b.Job.Farm.Name)
	if f == "" || strings.HasPrefix(j, f) {
		return j
	}
	return j + " – " + f
}

// furnish writes what stands on every page. Sheets that others laid out are not
// changed: the page is a copy.
func (b *binder) furnish(s *section, l leaf, n, total int) *draw.Sheet {
	sheet := *l.sheet
	sheet.Marks = append(make([]draw.Mark, 0, len(l.sheet.Marks)+8), l.sheet.Marks...)
	if l.state&HoldsDrawn != 0 {
		page.Watermark(&sheet, b.say("page.not-measured"))
	}
	v := page.Furniture{
		Title: s.title, Issue: b.issue(), Job: b.where(), Short: b.Job.Job, State: b.stateWords(l.state),
		Caution: b.say(cautionOf(s.part)), Number: b.say("page.number", count("page", n), count("of", total)),
	}
	if l.own {
		page.Edge(&sheet, v.Caution, v.Number)
		return &sheet
	}
	sheet.Page.System = b.Job.Units
	sheet.Page.Block = draw.TitleBlock{Job: b.where(), Title: s.title, Date: b.Job.Date, Revision: number(b.Job.Revision), State: v.State, Number: n, Of: total}
	if l.strip {
		page.Strip(&sheet, 10*draw.MM, v)
	} else {
		page.Furnish(&sheet, s.format, v)
	}
	return &sheet
}

// cautionOf is the caution that each page of a part carries.
func cautionOf(p Part) string {
	switch p {
	case Saw, Labels, Order:
		return "page.caution-saw"
	case Steps, Picks, Days:
		return "page.caution-build"
	case Measure, Setout:
		return "page.caution-ground"
	case Owner, Checks:
		return "page.caution-horse"
	}
	return "page.caution"
}
