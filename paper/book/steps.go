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

// steps is the order of work: a page a step. A picture, what to do in order, the
// parts by their labels, the fasteners with their counts, tools, people, minutes,
// what to check and what can go wrong.
func (b *binder) steps() error {
	if len(b.Build.Steps) == 0 {
		f := page.New(b.format)
		f.Text(b.say("book.steps-none"), page.Style{Size: page.Large})
		b.add(Steps, f, nil)
		return nil
	}
	f := page.New(b.format)
	s := states{}
	var marks []mark
	pictures, err := b.pictures(f)
	if err != nil {
		return err
	}
	small := false // the page holds steps without pictures only
	for i := range b.Build.Steps {
		st, picture := &b.Build.Steps[i], pictures[i]
		pictures[i] = nil // its marks are copied onto the page
		// A step with a picture has a page of its own; those without share one.
		if i > 0 && (picture != nil || !small) {
			f.Break()
		}
		small = picture == nil
		l := &stepPage{binder: b, f: f, step: st, picture: picture}
		l.write()
		marks = append(marks, mark{b.stepTitle(st), l.from})
		s.note(l.from, f.Page(), b.stateOfStep(st))
	}
	b.add(Steps, f, s, marks...)
	return nil
}

func (b *binder) stepTitle(s *build.Step) string {
	return b.say("book.step", count("no", s.No), phrase.With("title", s.Title))
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

// stepPage is one step being written.
type stepPage struct {
	*binder
	f       *page.Flow
	step    *build.Step
	picture *draw.Sheet
	size    draw.Micron // of its text
	how     draw.Micron // of what is told beside it
	tall    draw.Micron // of rows to write in
	tight   bool        // hardware is left to the picture
	from    int         // page it begins on
}

// write sets a step large where one page holds it so, else smaller, else over
// several pages.
func (l *stepPage) write() {
	l.size, l.how, l.tall = page.Large, page.Body, 10*draw.MM
	if l.f.Try(l.fill) {
		return
	}
	l.size, l.tall = page.Body, 8*draw.MM
	if l.f.Try(l.fill) {
		return
	}
	// The picture has every fastener with its count already.
	l.size, l.how, l.tall, l.tight = page.Small, page.Small, 7*draw.MM, l.picture != nil
	l.f.Keep(l.fill)
}

// fill writes the step.
func (l *stepPage) fill() {
	f, s := l.f, l.step
	f.Space(9 * draw.MM)
	f.Need(40 * draw.MM)
	l.from = f.Page()
	f.Text(l.stepTitle(s), page.Style{Size: page.Loud, Face: draw.Bold})
	f.Space(draw.MM)
	f.Text(l.stepLine(s), page.Style{Size: l.size})
	if p := l.picture; p != nil {
		f.Picture(p.Height, func(r draw.PaperRect) []draw.Mark {
			return page.Moved(p, draw.PaperPoint{X: r.Min.X + (r.Max.X-r.Min.X-p.Width)/2, Y: r.Min.Y})
		})
	}
	f.Space(draw.MM)
	l.cautions() // before anybody lifts a thing
	f.Space(draw.MM)
	for _, k := range s.Ops {
		l.operation(&l.Build.Operations[k])
	}
	f.Space(draw.MM)
	l.parts()
	l.checks()
}

// stepLine is how many people, how long, which tools.
func (b *binder) stepLine(s *build.Step) string {
	people, minutes := 1, 0
	var tools []string
	seen := map[build.Tool]bool{}
	for _, k := range s.Ops {
		o := &b.Build.Operations[k]
		people = max(people, o.People)
		minutes += o.Minutes
		for _, t := range o.Tools {
			if !seen[t] {
				seen[t] = true
				tools = append(tools, b.tool(t))
			}
		}
	}
	parts := []string{b.say("book.people", count("n", people)), b.words.Time(int64(minutes))}
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
		l.f.Item("–", l.words.Say(h), page.Style{Size: l.how})
	}
	if o.Cure > 0 {
		l.f.Item("–", l.say("book.cure", phrase.With("time", phrase.Time(o.Cure))), page.Style{Size: l.how, Face: draw.Bold})
	}
}

// taken is what a step takes of one kind and size.
type taken struct {
	what   string
	length measure.Length
}

// parts lists what a step takes: the pieces it adds, those of one size together
// with their labels, then hardware, each kind and size once.
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
	for _, p := range l.step.Adds {
		v := &l.Fit.Pieces[p]
		k := taken{l.kindWord(v), v.Length}
		take(k, 1)
		labels[k] = append(labels[k], v.Label)
	}
	for _, k := range l.step.Ops {
		o := &l.Build.Operations[k]
		if l.tight {
			break
		}
		for _, list := range [...][]build.Use{o.Parts, o.Bolts} {
			for _, u := range list {
				take(taken{l.itemName(u.Item, u.Name, false), u.Length}, u.Count)
			}
		}
	}
	t := page.Table{Size: l.size, Columns: []page.Column{
		{Width: 8 * draw.MM}, {Head: l.say("book.col-count"), Align: draw.End, Face: draw.Bold}, {Head: l.say("book.col-take-what")},
		{Head: l.say("book.col-length"), Align: draw.End}, {Head: l.say("book.col-labels"), Face: draw.Bold, Wide: true},
	}}
	for _, k := range order {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Tick: true}, {Text: number(n[k])}, {Text: k.what}, {Text: l.lengthOr(k.length)}, {Text: strings.Join(ranges(labels[k]), ", ")}}})
	}
	l.f.Table(t)
}

// ranges joins labels in a row that differ by their last number only: A/c1–c17.
func ranges(labels []string) []string {
	var out []string
	for i := 0; i < len(labels); {
		head, n, ok := numbered(labels[i])
		k := i + 1
		for ok && k < len(labels) {
			h, m, also := numbered(labels[k])
			if !also || h != head || m != n+k-i {
				break
			}
			k++
		}
		if k-i < 3 {
			out = append(out, labels[i])
			i++
			continue
		}
		_, tail, _ := strings.Cut(head, "/")
		out = append(out, labels[i]+"–"+tail+number(n+k-1-i))
		i = k
	}
	return out
}

// numbered parts a label from the number it ends in.
func numbered(label string) (head string, n int, ok bool) {
	head = strings.TrimRight(label, "0123456789")
	n, err := strconv.Atoi(label[len(head):])
	return head, n, err == nil && strings.Contains(head, "/")
}

// checks is what to measure when a step is done. What is the same at several
// places stands once, the places together: each has a line of its own in the
// check-off.
func (l *stepPage) checks() {
	type check struct{ what, should string }
	var order []check
	places := map[check][]string{}
	for _, k := range l.step.Ops {
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
	t := page.Table{Size: l.size, Tall: l.tall, Columns: []page.Column{
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
	for _, k := range l.step.Ops {
		o := &l.Build.Operations[k]
		if v := o.Lift; v != nil && (v.People > 1 || v.Aid) {
			key := "book.lift"
			if v.Aid {
				key = "book.lift-aid"
			}
			say(l.say(key, phrase.With("mass", phrase.Mass(v.Carry)), count("n", v.People)))
		}
		for _, c := range o.Cautions {
			say(l.words.Say(c))
		}
	}
}
