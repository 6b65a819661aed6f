package book

import (
	"slices"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// liftOne is the most that one person should lift under ideal conditions: the
// load constant of the NIOSH lifting equation, 51 lb or 23 kg (Applications Manual
// for the Revised NIOSH Lifting Equation, DHHS 94-110; as OSHA quotes it, seen).
func liftOne(sys measure.System) measure.Mass {
	if sys == measure.Metric {
		return 23 * measure.Kilogram
	}
	return 51 * measure.Pound
}

// coverPages puts the cover before everything else. Where the parts stand depends
// on how many pages the cover takes: it is written again until that is right.
func (b *binder) coverPages() {
	for pages := 1; ; {
		f := b.cover(pages)
		if n := len(f.Sheets()); n != pages {
			pages = n
			continue
		}
		s := states{}
		s.note(0, f.Page(), b.stateOfAll())
		others := b.sections
		b.sections = nil
		b.add(Cover, f, s)
		b.sections = append(b.sections, others...)
		return
	}
}

// cover is the first pages, of which there are as many as told.
func (b *binder) cover(pages int) *page.Flow {
	f := page.New(b.format)
	f.Text(b.Job.Job, page.Style{Size: 9 * draw.MM, Face: draw.Bold})
	f.Text(b.address(), page.Style{Size: page.Large})
	b.banner(f)
	f.Heading(b.say("book.key-plan"), page.Title2, 60*draw.MM)
	most := max(min(f.Left()-b.contentsHigh(), 105*draw.MM), 50*draw.MM)
	f.Picture(b.keyPlanHigh(f.Width(), most), b.keyPlan)
	b.contents(f, pages)
	b.facts(f)
	b.cautions(f)
	b.lookAt(f)
	return f
}

// address is the farm, its place, whom to ask and what to know.
func (b *binder) address() string {
	farm := &b.Job.Farm
	var lines []string
	first := farm.Name
	if farm.Place != "" {
		first += ", " + farm.Place
	}
	lines = append(lines, first)
	if farm.Contact != "" {
		lines = append(lines, b.say("book.contact", name("who", farm.Contact)))
	}
	if farm.Notes != "" {
		lines = append(lines, farm.Notes)
	}
	return strings.Join(lines, "\n")
}

// banner says in a frame what may be done with these papers.
func (b *binder) banner(f *page.Flow) {
	drawn, measured, released := b.counts()
	var parts []string
	for _, v := range [...]struct {
		key string
		n   int
	}{{"book.bays-drawn", drawn}, {"book.bays-measured", measured}, {"book.bays-released", released}} {
		if v.n > 0 {
			parts = append(parts, b.say(v.key, count("n", v.n)))
		}
	}
	text := strings.Join(parts, "  ·  ")
	head := b.stateWords(b.stateOfAll())
	wide := f.Width() - 8*draw.MM
	big := page.Set(head, page.Style{Size: page.Loud, Face: draw.Bold}, wide)
	small := page.Set(text, page.Style{}, wide)
	f.Space(2 * draw.MM)
	f.Picture(big.Height()+small.Height()+11*draw.MM, func(r draw.PaperRect) []draw.Mark {
		out := []draw.Mark{page.Box(r, draw.Heavy)}
		out = append(out, big.Place(page.LayerBody, draw.PaperPoint{X: r.Min.X + 4*draw.MM, Y: r.Max.Y - 4*draw.MM}, wide)...)
		return append(out, small.Place(page.LayerBody, draw.PaperPoint{X: r.Min.X + 4*draw.MM, Y: r.Max.Y - 7*draw.MM - big.Height()}, wide)...)
	})
}

// contentsHigh is about the height of the contents.
func (b *binder) contentsHigh() draw.Micron {
	return draw.Micron(len(b.sections)+3)*6400 + 10*draw.MM
}

// contents tells what is in the packet, and on which pages.
func (b *binder) contents(f *page.Flow, first int) {
	t := page.Table{Size: page.Body, Columns: []page.Column{{Head: b.say("book.col-part")}, {Head: b.say("book.col-pages"), Align: draw.End}, {Head: b.say("book.col-for"), Wide: true}}}
	at := first + 1
	for _, s := range b.sections {
		pages := number(at)
		if n := len(s.pages); n > 1 {
			pages += "–" + number(at+n-1)
		}
		at += len(s.pages)
		t.Rows = append(t.Rows, page.Cells(s.title, pages, b.say(purposeOf(s.part))))
	}
	if len(t.Rows) > 0 {
		f.Heading(b.say("book.contents"), page.Title2, 15*draw.MM)
		f.Table(t)
	}
}

// purposeOf tells what a part is for.
func purposeOf(p Part) string {
	switch p {
	case Measure:
		return "book.for-measure"
	case Setout:
		return "book.for-setout"
	case Order:
		return "book.for-order"
	case Picks:
		return "book.for-picks"
	case Saw:
		return "book.for-saw"
	case Labels:
		return "book.for-labels"
	case Steps:
		return "book.for-steps"
	case Days:
		return "book.for-days"
	case Drawings:
		return "book.for-drawings"
	case Checks:
		return "book.for-checks"
	}
	return "book.for-owner"
}

// facts are what everything rests on: kit, boards, mass.
func (b *binder) facts(f *page.Flow) {
	f.Heading(b.say("book.facts"), page.Title2, 20*draw.MM)
	t := page.Table{Size: page.Body, Columns: []page.Column{{Face: draw.Bold}, {Wide: true}}}
	board := &b.Fit.Board
	how := b.say("book.coverage-table")
	if board.Measured {
		how = b.say("book.coverage-measured")
	}
	t.Rows = append(t.Rows,
		page.Cells(b.say("book.fact-kit"), b.say("book.kit", name("kit", b.Kit.Kit), count("version", b.Kit.Version))),
		page.Cells(b.say("book.fact-boards"), b.say("book.boards", name("nominal", string(board.Nominal)), size("thickness", board.Thickness), size("coverage", board.Coverage), size("tongue", board.Tongue))+" "+how),
		page.Cells(b.say("book.fact-mass"), b.words.Mass(b.Takeoff.Mass)),
	)
	f.Table(t)
	if s := b.words.InNames(b.Plan); s != "" {
		f.Text(s, page.Style{})
	}
}

// lookAt tells what the plan found, errors first; the same thing found at many
// places once.
func (b *binder) lookAt(f *page.Flow) {
	type key struct {
		severity finding.Severity
		message  string
	}
	var order []key
	places := map[key][]string{}
	for i := range b.Findings {
		v := &b.Findings[i]
		if v.Severity == finding.Note {
			continue
		}
		k := key{v.Severity, b.words.Told(v)}
		if places[k] == nil {
			order = append(order, k)
		}
		if !slices.Contains(places[k], v.Place) {
			places[k] = append(places[k], v.Place)
		}
	}
	f.Heading(b.say("book.look-at"), page.Title1, 20*draw.MM)
	if len(order) == 0 {
		f.Text(b.say("book.look-at-nothing"), page.Style{})
		return
	}
	for _, k := range order {
		mark := "?"
		if k.severity == finding.Error {
			mark = "✗"
		}
		f.Item(mark, strings.Join(places[k], ", ")+": "+k.message, page.Style{})
	}
}
