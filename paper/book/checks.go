package book

import (
	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// checks is what to measure or look at when each thing is done, with what it
// should be, and lines to sign on.
func (b *binder) checks() error {
	f := page.New(b.format)
	s := states{}
	f.Text(b.say("book.checks-how"), page.Style{})
	var marks []mark
	for i := range b.Layout.Structures {
		title := b.Layout.Structures[i].Name
		f.Heading(title, page.Title1, 40*draw.MM)
		from := f.Page()
		marks = append(marks, mark{title, from})
		b.checkList(f, i)
		b.bayList(f, i)
		for k := range b.Layout.Bays {
			if b.Layout.Bays[k].Structure == i {
				s.note(from, f.Page(), b.stateOf(k))
			}
		}
	}
	f.Keep(func() { b.handover(f) })
	b.add(Checks, f, s, marks...)
	return nil
}

// handover is what both sides sign.
func (b *binder) handover(f *page.Flow) {
	f.Heading(b.say("book.handover"), page.Title1, 60*draw.MM)
	for _, key := range [...]string{"book.sign-built", "book.sign-measures", "book.sign-hardware", "book.sign-clean", "book.sign-shown"} {
		f.Check(b.say(key), page.Style{Size: page.Large})
	}
	for _, who := range [...]string{"book.sign-lead", "book.sign-shop", "book.sign-owner"} {
		f.Need(20 * draw.MM)
		f.Space(4 * draw.MM)
		f.Signature(b.say(who), b.say("book.sign-signature"), b.say("book.sign-date"))
	}
}

// checkList is the checks of a structure's operations. What is checked at many
// places stands once, and under it the places in the order of work, each with its
// step, and with what it should be where that is not the same everywhere.
func (b *binder) checkList(f *page.Flow, structure int) {
	type place struct{ step, name, should string }
	var order []string
	places := map[string][]place{}
	for i := range b.Build.Operations {
		o := &b.Build.Operations[i]
		if o.Place.Structure != structure || o.Check == nil {
			continue
		}
		step := ""
		if o.Step >= 0 {
			step = number(b.Build.Steps[o.Step].No)
		}
		what := b.words.Say(o.Check.What)
		if places[what] == nil {
			order = append(order, what)
		}
		places[what] = append(places[what], place{step, o.Place.Name, b.target(o.Check)})
	}
	// Two places side by side, or one where names are long.
	set := func(side int, face draw.Face) page.Table {
		t := page.Table{Size: page.Body, Tall: 9 * draw.MM}
		for range side {
			t.Columns = append(t.Columns, page.Column{Width: 8 * draw.MM}, page.Column{Head: b.say("book.col-step"), Align: draw.End},
				page.Column{Head: b.say("book.col-place"), Face: face, Wide: true}, page.Column{Head: b.say("book.col-reading"), Width: 34 * draw.MM})
		}
		for _, what := range order {
			list := places[what]
			head, own := what, false
			for _, v := range list {
				own = own || v.should != list[0].should
			}
			if !own && list[0].should != "" {
				head += ": " + list[0].should
			}
			t.Rows = append(t.Rows, page.Row{Group: head})
			for i := 0; i < len(list); i += side {
				var r page.Row
				for k := i; k < i+side; k++ {
					if k >= len(list) {
						r.Cells = append(r.Cells, page.Cell{}, page.Cell{}, page.Cell{}, page.Cell{})
						continue
					}
					read := page.Cell{Write: true}
					if own {
						read.Text = list[k].should
					}
					r.Cells = append(r.Cells, page.Cell{Tick: true}, page.Cell{Text: list[k].step}, page.Cell{Text: list[k].name}, read)
				}
				t.Rows = append(t.Rows, r)
			}
		}
		return t
	}
	t := set(2, draw.Bold)
	if !t.Holds(f.Width()) {
		t = set(2, draw.Condensed)
	}
	if !t.Holds(f.Width()) {
		t = set(1, draw.Bold)
	}
	f.Table(t)
}

// target is what a check should show, on the marks of the crew's tape: limits are
// rounded to the safe side.
func (b *binder) target(t *build.Target) string {
	tape := b.fieldTape()
	value, least, most := tape.Round(t.Value, measure.Nearest), tape.Round(t.Least, measure.Up), tape.Round(t.Most, measure.Down)
	if least > most { // closer than the tape can tell
		value, least, most = t.Value, t.Least, t.Most
	}
	switch {
	case t.Value == 0 && t.Least == 0 && t.Most == 0:
		return ""
	case least == most:
		return b.length(value)
	case t.Least == t.Value:
		return b.say("book.no-less", size("least", least), size("most", most))
	case t.Most == t.Value: // a grille goes in no wider than its bay; a little less will do
		return b.say("book.no-more", size("most", most), size("least", least))
	case most-value == value-least && value == 0:
		return b.say("book.within", size("by", most))
	case most-value == value-least:
		return b.say("book.target-within", size("value", value), size("by", most-value))
	}
	return b.say("book.target", size("value", value), size("least", least), size("most", most))
}

// bayList is a row for each bay: what stands in it, how far it is, and boxes.
func (b *binder) bayList(f *page.Flow, structure int) {
	t := page.Table{Tall: 8 * draw.MM, Columns: []page.Column{
		{Head: b.say("book.col-bay"), Face: draw.Bold}, {Head: b.say("book.col-holds"), Wide: true}, {Head: b.say("book.col-state")},
		{Head: b.say("book.col-boarded"), Width: 17 * draw.MM}, {Head: b.say("book.col-held"), Width: 17 * draw.MM}, {Head: b.say("book.col-safe"), Width: 17 * draw.MM}, {Head: b.say("book.col-initials"), Width: 18 * draw.MM},
	}}
	for i := range b.Layout.Bays {
		v := &b.Layout.Bays[i]
		if v.Structure != structure || v.IsOpen() {
			continue
		}
		state := b.stateWord(b.Fit.Bays[i].State)
		if v.IsDoor() {
			state = ""
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: v.Name}, {Text: b.holdsOf(i)}, {Text: state}, {Tick: true}, {Tick: true}, {Tick: true}, {Write: true}}})
	}
	f.Table(t)
}

// holdsOf is what fills a bay, in words.
func (b *binder) holdsOf(i int) string {
	v := &b.Fit.Bays[i]
	var parts []string
	boards := 0
	for _, c := range v.Courses {
		boards += len(c.Pieces)
	}
	if boards > 0 {
		parts = append(parts, b.say("book.n-boards", count("n", boards)))
	}
	say := func(key string) { parts = append(parts, b.words.Say(phrase.Of(key))) }
	if v.Grille != nil {
		say("book.kind-grille")
	}
	if v.Window != nil {
		say("book.kind-window")
	}
	if v.Feeder != nil {
		say("book.kind-feeder")
	}
	if v.Door != nil {
		say("book.kind-door")
	}
	return b.words.Join(parts)
}
