package book

import (
	"slices"
	"strconv"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// steps is the order of work: for each step a picture, what to do in order, the
// parts by their labels, the fasteners with their counts, tools, people, minutes,
// what to check and what can go wrong. Steps that are the same work elsewhere share
// a page; steps that a page has room for stand on one.
func (b *binder) steps() error {
	f := page.New(b.format)
	if len(b.Build.Steps) == 0 {
		f.Text(b.say("book.steps-none"), page.Style{Size: page.Large})
		b.add(Steps, f, nil)
		return nil
	}
	s := states{}
	groups, pictures, err := b.pictures(f)
	if err != nil {
		return err
	}
	find := b.newFinder(f, groups)
	for i, g := range groups {
		l := &stepPage{binder: b, f: f, steps: g.steps, repeats: g.repeats, picture: pictures[i]}
		pictures[i] = nil // its marks are copied onto the page
		l.write()
		for _, st := range g.steps {
			find.at[b.Build.Operations[st.First].Step] = l.from
			s.note(l.from, f.Page(), b.stateOfStep(st))
		}
	}
	b.stepSection(f, s, find)
	return nil
}

// stepTitle is a step's number and what it is.
func (b *binder) stepTitle(s *build.Step) string {
	return b.say("book.step", name("no", number(s.No)), phrase.With("title", s.Title))
}

// stateOfStep is that of the bays whose pieces a step adds.
func (b *binder) stateOfStep(s *build.Step) State {
	v := State(0)
	for _, p := range s.Adds {
		v |= b.stateOf(b.Fit.Pieces[p].Bay)
	}
	if len(s.Adds) == 0 {
		v |= b.stateOf(s.Place.Bay)
	}
	return v
}

// stepPage is one step being written, or several that share a page.
type stepPage struct {
	*binder
	f       *page.Flow
	steps   []*build.Step
	repeats []*repeat // what is the same at several places; none for a single step
	picture *draw.Sheet
	size    draw.Micron // of what is to be done
	tall    draw.Micron // of rows to write in
	from    int         // page it begins on
}

// write sets a step below what stands on the page where it fits there, else on a
// new page: large where one page holds it so, else smaller, else over several
// pages. No text goes below page.Least.
func (l *stepPage) write() {
	for _, fresh := range [2]bool{false, true} {
		if fresh {
			if l.list() && l.f.Left() > l.f.Tall()/3 { // rows go on over pages
				break
			}
			l.f.Break()
		}
		for _, size := range [2]draw.Micron{page.Large, page.Body} {
			l.set(size)
			if l.f.Try(l.fill) {
				return
			}
		}
	}
	l.fill()
}

// list says whether a step is a text and rows of places, with nothing to see.
func (l *stepPage) list() bool { return len(l.repeats) > 0 && l.picture == nil }

// set chooses the size of text.
func (l *stepPage) set(size draw.Micron) {
	l.size, l.tall = size, 10*draw.MM
	if size == page.Body {
		l.tall = 9 * draw.MM
	}
}

// fill writes the step.
func (l *stepPage) fill() {
	f, s := l.f, l.steps[0]
	f.Space(9 * draw.MM)
	f.Need(40 * draw.MM)
	l.from = f.Page()
	f.Text(l.title(), page.Style{Size: page.Loud, Face: draw.Bold})
	f.Space(draw.MM)
	f.Text(l.line(), page.Style{Size: l.size})
	if p := l.picture; p != nil {
		f.Picture(p.Height, func(r draw.PaperRect) []draw.Mark {
			return page.Moved(p, draw.PaperPoint{X: r.Min.X + (r.Max.X-r.Min.X-p.Width)/2, Y: r.Min.Y})
		})
	}
	f.Space(draw.MM)
	if len(l.repeats) > 0 {
		for _, r := range l.repeats {
			l.repeat(r)
		}
		return
	}
	l.cautions() // before anybody lifts a thing
	f.Space(draw.MM)
	for _, k := range s.Ops {
		l.operation(&l.Build.Operations[k])
	}
	f.Space(draw.MM)
	l.parts()
	l.checks()
}

// needs is how many people a step takes, its minutes, and its tools.
func (b *binder) needs(s *build.Step) (people, minutes int, tools []string) {
	people = 1
	for _, k := range s.Ops {
		o := &b.Build.Operations[k]
		people = max(people, o.People)
		minutes += o.Minutes
		for _, t := range o.Tools {
			if v := b.tool(t); !slices.Contains(tools, v) {
				tools = append(tools, v)
			}
		}
	}
	return people, minutes, tools
}

// line is how many people, how long, which tools.
func (l *stepPage) line() string {
	people, least, tools := l.needs(l.steps[0])
	most := least
	for _, s := range l.steps[1:] {
		p, m, t := l.needs(s)
		people, least, most = max(people, p), min(least, m), max(most, m)
		for _, v := range t {
			if !slices.Contains(tools, v) {
				tools = append(tools, v)
			}
		}
	}
	time := l.words.Time(int64(most))
	switch {
	case len(l.steps) == 1:
	case least == most:
		time = l.say("book.each-place", phrase.With("time", phrase.Time(most)))
	default:
		time = l.say("book.each-between", phrase.With("least", phrase.Time(least)), phrase.With("most", phrase.Time(most)))
	}
	parts := []string{l.say("book.people", count("n", people)), time}
	if len(tools) > 0 {
		parts = append(parts, strings.Join(tools, ", "))
	}
	return strings.Join(parts, "   ·   ")
}

// tool is a tool's name, with its size.
func (b *binder) tool(t build.Tool) string {
	what := b.say("build.tool-" + t.Key)
	if t.Size > 0 {
		return what + " " + b.length(t.Size)
	}
	return what
}

// operation is one thing to do, with a box to tick.
func (l *stepPage) operation(o *build.Operation) {
	l.f.Check(l.words.Say(o.Do), page.Style{Size: l.size})
	for _, h := range o.How {
		l.f.Item("–", l.words.Say(h), page.Style{Size: page.Body})
	}
	if o.Cure > 0 {
		l.f.Item("–", l.say("book.cure", phrase.With("time", phrase.Time(o.Cure))), page.Style{Size: page.Body, Face: draw.Bold})
	}
}

// taken is what a step takes of one kind and size.
type taken struct {
	what   string
	length measure.Length
}

// parts lists what a step takes: the pieces it adds, those of one size together
// with their labels, then hardware, each kind and size once, where no picture
// calls it out with its count.
func (l *stepPage) parts() {
	var order []taken
	n := map[taken]int{}
	labels := map[taken][]string{}
	take := func(k taken, count int) {
		if n[k] == 0 {
			order = append(order, k)
		}
		n[k] += count
	}
	for _, p := range l.steps[0].Adds {
		v := &l.Fit.Pieces[p]
		k := taken{l.kindWord(v), v.Length}
		take(k, 1)
		labels[k] = append(labels[k], v.Label)
	}
	for _, k := range l.steps[0].Ops {
		o := &l.Build.Operations[k]
		if l.picture != nil {
			break
		}
		for _, list := range [...][]build.Use{o.Parts, o.Bolts} {
			for _, u := range list {
				take(taken{l.itemName(u.Item, u.Name, false), u.Length}, u.Count)
			}
		}
	}
	t := page.Table{Size: page.Body, Columns: []page.Column{
		{Width: 8 * draw.MM}, {Head: l.say("book.col-count"), Align: draw.End, Face: draw.Bold}, {Head: l.say("book.col-take-what")},
		{Head: l.say("book.col-length"), Align: draw.End}, {Head: l.say("book.col-labels"), Face: draw.Bold, Wide: true},
	}}
	for _, k := range order {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Tick: true}, {Text: number(n[k])}, {Text: k.what}, {Text: l.lengthOr(k.length)}, {Text: strings.Join(ranges(labels[k]), ", ")}}})
	}
	l.f.Table(t)
}

// ranges joins labels in a row that differ by their number only: A/c1–c17, and
// beside a window A/c10L–c15L.
func ranges(labels []string) []string {
	type row struct {
		head, tail string
		from, to   int
		labels     []string
	}
	var rows []row
	for _, label := range labels {
		head, n, tail, ok := numbered(label)
		k := len(rows) - 1
		for ; ok && k >= 0 && (rows[k].head != head || rows[k].tail != tail || n != rows[k].to+1); k-- {
		}
		if !ok || k < 0 {
			rows = append(rows, row{head, tail, n, n, []string{label}})
			continue
		}
		rows[k].to, rows[k].labels = n, append(rows[k].labels, label)
	}
	var out []string
	for _, v := range rows {
		if len(v.labels) < 3 {
			out = append(out, v.labels...)
			continue
		}
		_, part, _ := strings.Cut(v.head, "/")
		out = append(out, v.labels[0]+"–"+part+number(v.to)+v.tail)
	}
	return out
}

// numbered parts a label round the last number in it.
func numbered(label string) (head string, n int, tail string, ok bool) {
	body := strings.TrimRight(label, "LR")
	head = strings.TrimRight(body, "0123456789")
	n, err := strconv.Atoi(body[len(head):])
	return head, n, label[len(body):], err == nil && strings.Contains(head, "/")
}

// checks is what to measure when a step is done. What is the same at several
// places stands once, the places together: each has a line of its own in the
// check-off.
func (l *stepPage) checks() {
	type check struct{ what, should string }
	var order []check
	places := map[check][]string{}
	for _, k := range l.steps[0].Ops {
		o := &l.Build.Operations[k]
		if o.Check == nil {
			continue
		}
		c := check{l.words.Say(o.Check.What), l.target(o.Check)}
		if places[c] == nil {
			order = append(order, c)
		}
		if !slices.Contains(places[c], o.Place.Name) {
			places[c] = append(places[c], o.Place.Name)
		}
	}
	t := page.Table{Size: page.Body, Tall: l.tall, Columns: []page.Column{
		{Width: 8 * draw.MM}, {Head: l.say("book.col-check"), Wide: true}, {Head: l.say("book.col-should"), Align: draw.End, Face: draw.Bold},
		{Head: l.say("book.col-place")}, {Head: l.say("book.col-reading"), Width: 28 * draw.MM},
	}}
	for _, c := range order {
		cell := page.Cell{Write: true}
		if len(places[c]) > 1 {
			cell = page.Cell{}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Tick: true}, {Text: c.what}, {Text: c.should}, {Text: strings.Join(places[c], ", ")}, cell}})
	}
	l.f.Table(t)
}

// cautions is what can go wrong, each said once.
func (l *stepPage) cautions() {
	said := map[string]bool{}
	say := func(text string) {
		if text != "" && !said[text] {
			said[text] = true
			l.f.Item("!", text, page.Style{Size: l.size, Face: draw.Bold})
		}
	}
	for _, k := range l.steps[0].Ops {
		o := &l.Build.Operations[k]
		if o.Lift != nil {
			say(l.lift(o.Lift))
		}
		for _, c := range o.Cautions {
			say(l.words.Say(c))
		}
	}
}

// lift says how many lift together, or with what; nothing where one may lift.
func (b *binder) lift(v *build.Lift) string {
	if v.People <= 1 && !v.Aid {
		return ""
	}
	key := "book.lift"
	if v.Aid {
		key = "book.lift-aid"
	}
	return b.say(key, phrase.With("mass", phrase.Mass(v.Carry)), count("n", v.People))
}
