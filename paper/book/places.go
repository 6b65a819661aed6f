package book

import (
	"slices"
	"strings"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// title is the numbers of the steps and what they are.
func (l *stepPage) title() string {
	if len(l.steps) == 1 {
		return l.stepTitle(l.steps[0])
	}
	var no []int
	titles := make([]phrase.Phrase, len(l.steps))
	for i, s := range l.steps {
		no = append(no, s.No)
		titles[i] = s.Title
	}
	return l.say("book.step", name("no", l.spans(no)), phrase.With("title", l.joined(titles)))
}

// joined is one title for several steps: names that differ are listed.
func (b *binder) joined(list []phrase.Phrase) phrase.Phrase {
	out := phrase.Phrase{Key: list[0].Key, Args: slices.Clone(list[0].Args)}
	for i := range out.Args {
		var values []string
		for _, p := range list {
			if v := b.words.Value(p.Args[i].Value); !slices.Contains(values, v) {
				values = append(values, v)
			}
		}
		switch n := len(values); {
		case n == 1:
		case n <= 3:
			out.Args[i].Value = phrase.Name(b.words.Join(values))
		default:
			out.Args[i].Value = phrase.Name(b.say("book.places-many", name("first", values[0]), name("last", values[n-1]), count("n", n)))
		}
	}
	return out
}

// spans writes numbers of steps: those in a row as one, many by the first and the
// last.
func (b *binder) spans(no []int) string {
	var out []string
	for i := 0; i < len(no); {
		k := i
		for k+1 < len(no) && no[k+1] == no[k]+1 {
			k++
		}
		if k > i {
			out = append(out, number(no[i])+"–"+number(no[k]))
		} else {
			out = append(out, number(no[i]))
		}
		i = k + 1
	}
	if len(out) > 5 {
		return b.say("book.steps-many", name("first", out[0]), name("second", out[1]), name("last", out[len(out)-1]))
	}
	return strings.Join(out, ", ")
}

// repeat writes what is the same at several places, and a row for each of them.
func (l *stepPage) repeat(r *repeat) {
	f := l.f
	for _, c := range r.said {
		f.Item("!", c, page.Style{Size: l.size, Face: draw.Bold})
	}
	f.Space(draw.MM)
	for k, a := range r.acts {
		mark := "–"
		if len(r.acts) > 1 {
			mark = number(k + 1)
		}
		f.Item(mark, a.do, page.Style{Size: l.size})
		for _, h := range a.how {
			f.Item("", h, page.Style{Size: page.Body})
		}
		if a.should != nil {
			text := a.check
			if same(a.should) && a.should[0] != "" {
				text += ": " + a.should[0]
			}
			f.Item("", l.say("book.check-line", name("what", text)), page.Style{Size: page.Body, Face: draw.Bold})
		}
		if a.cure != "" {
			f.Item("", a.cure, page.Style{Size: page.Body, Face: draw.Bold})
		}
	}
	if l.picture == nil {
		l.hardware(r)
	}
	f.Space(2 * draw.MM)
	for _, t := range l.tables(r) {
		f.Table(t)
	}
}

// hardware is what each place takes, where no picture calls it out.
func (l *stepPage) hardware(r *repeat) {
	t := page.Table{Size: page.Body, Columns: []page.Column{
		{Head: l.say("book.col-count"), Align: draw.End, Face: draw.Bold}, {Head: l.say("book.col-take-each")}, {Head: l.say("book.col-length"), Align: draw.End},
	}}
	for _, o := range r.ops[0] {
		for _, u := range append(slices.Clone(o.Parts), o.Bolts...) {
			t.Rows = append(t.Rows, page.Cells(number(u.Count), l.itemName(u.Item, u.Name, false), l.lengthOr(u.Length)))
		}
	}
	l.f.Table(t)
}

// field is a column of the places, being put together.
type field struct {
	page.Column
	cells []page.Cell
}

// tables are the rows of the places: one table where it is not too wide, else what
// is told apart in two or three, each with step and place.
func (l *stepPage) tables(r *repeat) []page.Table {
	who, own := l.who(r), l.own(r)
	checks, pieces := l.readings(r), l.taking(r)
	all := l.table(who, own, l.ticks(r), pieces, checks)
	if all.Holds(l.f.Width()) {
		return []page.Table{all}
	}
	if len(pieces) > 1 {
		pieces = l.listed(r)
		if all = l.table(who, own, l.ticks(r), pieces, checks); all.Holds(l.f.Width()) {
			return []page.Table{all}
		}
	}
	var out []page.Table
	first := l.table(who, own, l.ticks(r), checks)
	if first.Holds(l.f.Width()) || len(checks) == 0 {
		out = append(out, first)
	} else {
		out = append(out, l.table(who, own, l.ticks(r)), l.table(who, checks))
	}
	if len(pieces) > 0 {
		out = append(out, l.table(who, pieces))
	}
	return out
}

// table puts fields side by side.
func (l *stepPage) table(fields ...[]field) page.Table {
	t := page.Table{Size: page.Body, Tall: 7 * draw.MM}
	for _, list := range fields {
		for _, c := range list {
			t.Columns = append(t.Columns, c.Column)
			for i, v := range c.cells {
				if i == len(t.Rows) {
					t.Rows = append(t.Rows, page.Row{})
				}
				if v.Write {
					t.Tall = l.tall
				}
				t.Rows[i].Cells = append(t.Rows[i].Cells, v)
			}
		}
	}
	return t
}

// who is step and place.
func (l *stepPage) who(r *repeat) []field {
	no := field{Column: page.Column{Head: l.say("book.col-step"), Align: draw.End, Face: draw.Bold}}
	place := field{Column: page.Column{Head: bracket(0) + " " + l.say("book.col-place"), Face: draw.Bold}}
	for i, s := range r.steps {
		v := ""
		if i == 0 || r.steps[i-1] != s {
			v = number(s.No)
		}
		no.cells = append(no.cells, page.Cell{Text: v})
		place.cells = append(place.cells, page.Cell{Text: r.letters[0][i]})
	}
	if same(r.letters[0]) {
		return []field{no}
	}
	return []field{no, place}
}

// own is what the letters stand for.
func (l *stepPage) own(r *repeat) []field {
	var out []field
	for k, v := range r.letters {
		if k == 0 {
			continue
		}
		c := field{Column: page.Column{Head: bracket(k)}}
		for _, text := range v {
			c.cells = append(c.cells, page.Cell{Text: text})
		}
		out = append(out, c)
	}
	return out
}

// ticks is a box for each thing to do.
func (l *stepPage) ticks(r *repeat) []field {
	var out []field
	for k := range r.acts {
		c := field{Column: page.Column{Width: 8 * draw.MM, Align: draw.Middle}}
		if len(r.acts) > 1 {
			c.Head = number(k + 1)
		}
		for range r.steps {
			c.cells = append(c.cells, page.Cell{Tick: true})
		}
		out = append(out, c)
	}
	return out
}

// readings is a box to write in for each check; what it should be stands in it
// where it is not the same everywhere.
func (l *stepPage) readings(r *repeat) []field {
	var out []field
	for k, a := range r.acts {
		if a.should == nil {
			continue
		}
		c := field{Column: page.Column{Head: l.say("book.col-reading"), Width: 24 * draw.MM}}
		if len(r.acts) > 1 {
			c.Head = number(k+1) + "  " + c.Head
		}
		for _, v := range a.should {
			if same(a.should) {
				v = ""
			}
			c.cells = append(c.cells, page.Cell{Write: true, Text: v})
			c.Width = max(c.Width, draw.Condensed.Extent(draw.Clean(v), page.Least).Width+5*draw.MM)
		}
		out = append(out, c)
	}
	return out
}

// taking is the pieces that each place takes, by their labels.
func (l *stepPage) taking(r *repeat) []field {
	var out []field
	for _, p := range r.pieces {
		head := number(p.count) + " × " + p.what
		everywhere := !slices.ContainsFunc(p.length, func(v measure.Length) bool { return v != p.length[0] })
		if everywhere && p.length[0] > 0 {
			head += " " + l.length(p.length[0])
		}
		c := field{Column: page.Column{Head: head, Wide: true}}
		for i, labels := range p.labels {
			// A label is not broken between lines.
			text := strings.ReplaceAll(strings.Join(ranges(labels), ",\n"), " ", "\u00a0")
			text = strings.ReplaceAll(text, ",\n", ", ")
			if !everywhere {
				text = l.length(p.length[i]) + "  " + text
			}
			c.cells = append(c.cells, page.Cell{Text: text})
		}
		out = append(out, c)
	}
	return out
}

// listed is the pieces that each place takes, one kind under the other.
func (l *stepPage) listed(r *repeat) []field {
	c := field{Column: page.Column{Head: l.say("book.col-take-what"), Wide: true}}
	for i := range r.steps {
		var lines []string
		for k, p := range l.taking(r) {
			v := &r.pieces[k]
			text := number(v.count) + " × " + v.what + "  "
			if v.length[0] > 0 && !strings.HasPrefix(p.cells[i].Text, l.length(v.length[i])) {
				text += l.length(v.length[i]) + "  "
			}
			lines = append(lines, text+p.cells[i].Text)
		}
		c.cells = append(c.cells, page.Cell{Text: strings.Join(lines, "\n")})
	}
	return []field{c}
}
