package book

import (
	"slices"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/takeoff"
	"stallwright/paper/draw"
	"stallwright/paper/page"
	"stallwright/paper/words"
)

// itemName is an item as lists name it: boards by their section, everything else
// by what the kit calls it, in the language where a catalogue has it.
func (b *binder) itemName(id, called string, treated bool) string {
	what := b.words.Say(words.Item(b.Kit.Kit, id, called))
	if treated {
		return b.say("book.treated", name("item", what))
	}
	return what
}

// className heads the lines of a class.
func (b *binder) className(c kit.Class) string {
	switch c {
	case takeoff.ClassLumber:
		return b.say("book.class-lumber")
	case kit.ClassPost:
		return b.say("book.class-post")
	case kit.ClassTube:
		return b.say("book.class-tube")
	case kit.ClassChannel:
		return b.say("book.class-channel")
	case kit.ClassBracket:
		return b.say("book.class-bracket")
	case kit.ClassGrille:
		return b.say("book.class-grille")
	case kit.ClassDoor:
		return b.say("book.class-door")
	case kit.ClassWindow:
		return b.say("book.class-window")
	case kit.ClassFeeder:
		return b.say("book.class-feeder")
	case kit.ClassClamp:
		return b.say("book.class-clamp")
	case kit.ClassPart:
		return b.say("book.class-part")
	case kit.ClassBase:
		return b.say("book.class-base")
	case kit.ClassFastener:
		return b.say("book.class-fastener")
	}
	return string(c)
}

// order lists what to buy, with spares and masses.
func (b *binder) order() error {
	f := page.New(b.format)
	f.Text(b.say("book.order-how"), page.Style{})
	f.Signature(b.say("book.sign-ordered"), b.say("book.sign-checked"), b.say("book.sign-date"))
	t := page.Table{Columns: []page.Column{
		{Head: b.say("book.col-item"), Face: draw.Condensed, Wide: true}, {Head: b.say("book.col-length"), Align: draw.End}, {Head: b.say("book.col-needed"), Align: draw.End, Face: draw.Condensed},
		{Head: b.say("book.col-buy"), Align: draw.End, Face: draw.Condensed}, {Head: b.say("book.col-spares"), Align: draw.End, Face: draw.Condensed}, {Head: b.say("book.col-order"), Align: draw.End, Face: draw.Bold},
		{Head: b.say("book.col-mass"), Align: draw.End, Face: draw.Condensed}, {Head: b.say("book.col-got"), Width: 12 * draw.MM},
	}}
	class := kit.Class("")
	for i := range b.Takeoff.Lines {
		l := &b.Takeoff.Lines[i]
		if l.Class != class {
			class = l.Class
			t.Rows = append(t.Rows, page.Row{Group: b.className(class)})
		}
		row := page.Cells(b.itemName(l.Item, l.Name, l.Treated), b.lengthOr(l.Length), number(l.Count), number(l.Buy), number(l.Spares), number(l.Order), b.words.Mass(l.Mass))
		row.Cells = append(row.Cells, page.Cell{Tick: true})
		t.Rows = append(t.Rows, row)
	}
	f.Table(t)
	f.Text(b.say("book.order-mass", phrase.With("mass", phrase.Mass(b.Takeoff.Mass))), page.Style{Size: page.Large, Face: draw.Bold})
	if n := len(b.Takeoff.Cuts); n > 0 {
		b.cutting(f)
	}
	s := states{}
	s.note(0, f.Page(), b.stateOfAll())
	b.add(Order, f, s)
	return nil
}

// cutting tells how the bought lengths are cut up.
func (b *binder) cutting(f *page.Flow) {
	f.Heading(b.say("book.cutting"), page.Title2, 20*draw.MM)
	t := page.Table{Columns: []page.Column{
		{Head: b.say("book.col-item"), Wide: true}, {Head: b.say("book.col-sizes")}, {Head: b.say("book.col-take")},
		{Head: b.say("book.col-kept"), Align: draw.End}, {Head: b.say("book.col-scrap"), Align: draw.End},
	}}
	for i := range b.Takeoff.Cuts {
		v := &b.Takeoff.Cuts[i]
		sizes := b.say("book.sizes-drawn")
		if v.Final {
			sizes = b.say("book.sizes-final")
		}
		var take []string
		for _, u := range v.Plan.Used {
			st := &v.Problem.Stock[u.Stock]
			key := "book.take"
			if st.Price == 0 {
				key = "book.take-on-hand"
			}
			take = append(take, b.say(key, count("n", int(u.Count)), size("length", st.Length)))
		}
		t.Rows = append(t.Rows, page.Cells(b.itemName(v.Item, v.Name, v.Treated), sizes, b.words.Join(take), b.length(v.Plan.Waste.Offcut), b.length(v.Plan.Waste.Scrap)))
	}
	f.Table(t)
}

// picks lists what goes with each frame, frame by frame: a pile in the yard.
func (b *binder) picks() error {
	f := page.New(b.format)
	s := states{}
	var marks []mark
	f.Text(b.say("book.picks-how"), page.Style{})
	all := b.piles()
	for _, alike := range samePiles(all) {
		from := 0
		f.Keep(func() { from = b.pile(f, all, alike) }) // on one page, where one holds it
		for _, i := range alike {
			marks = append(marks, mark{all[i].place, from})
			s.note(from, f.Page(), b.stateOfRun(all[i].run))
		}
	}
	b.add(Picks, f, s, marks...)
	return nil
}

// pile writes piles that hold the same, each with a box to tick, and returns the
// page that they begin on.
func (b *binder) pile(f *page.Flow, all []pile, alike []int) int {
	g := &all[alike[0]]
	t := page.Table{Size: page.Body, Columns: []page.Column{
		{Width: 9 * draw.MM}, {Head: b.say("book.col-count"), Align: draw.End, Face: draw.Bold}, {Head: b.say("book.col-item")},
		{Head: b.say("book.col-length"), Align: draw.End}, {Head: b.say("book.col-mass"), Align: draw.End}, {Wide: true},
	}}
	title := g.place
	n := len(alike)
	if n > 1 {
		t.Columns[0] = page.Column{Head: b.say("book.col-each"), Align: draw.End}
		title = b.say("book.piles-alike", name("first", g.place), name("last", all[alike[n-1]].place), count("n", n))
	}
	for _, l := range g.lines {
		row := page.Row{Cells: []page.Cell{{Tick: true}, {Text: number(n * l.count)}, {Text: b.itemName(l.item, l.name, l.treated)}, {Text: b.lengthOr(l.length)}, {Text: b.words.Mass(l.mass)}, {}}}
		if n > 1 {
			row.Cells[0] = page.Cell{Text: number(l.count)}
		}
		t.Rows = append(t.Rows, row)
	}
	f.Heading(title, page.Title1, 30*draw.MM)
	from := f.Page()
	f.Text(b.say("book.pile-mass", phrase.With("mass", phrase.Mass(g.mass))), page.Style{Size: page.Body})
	if n > 1 {
		places := make([]string, n)
		for k, i := range alike {
			places[k] = all[i].place
		}
		f.Table(tickGrid(places, 6, page.Body, 7*draw.MM))
	}
	f.Table(t)
	return from
}

// samePiles puts together the piles that hold the same, in the order of the first
// of each kind.
func samePiles(all []pile) [][]int {
	var out [][]int
	for i := range all {
		k := slices.IndexFunc(out, func(g []int) bool { return slices.Equal(all[g[0]].lines, all[i].lines) })
		if k < 0 {
			k = len(out)
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// pile is what one frame, wall or post takes.
type pile struct {
	place string
	run   int
	lines []pileLine
	mass  measure.Mass
}

type pileLine struct {
	item    string
	name    string
	length  measure.Length
	treated bool
	count   int
	mass    measure.Mass
}

// piles gathers the needs by frame, in the order the plan has them. Posts of one
// structure that belong to no frame share a pile.
func (b *binder) piles() []pile {
	at := map[string]int{}
	var out []pile
	for i := range b.Takeoff.Needs {
		n := &b.Takeoff.Needs[i]
		place := n.Place
		if n.Run >= 0 {
			place = b.Layout.Runs[n.Run].Name
		} else if p, ok := b.Layout.Post(n.Place); ok {
			place = b.say("book.pile-posts", name("structure", b.Layout.Structures[b.Layout.Posts[p].Structure].Name))
		}
		k, ok := at[place]
		if !ok {
			k = len(out)
			at[place] = k
			out = append(out, pile{place: place, run: n.Run})
		}
		g := &out[k]
		g.mass = measure.Sum(g.mass, n.Mass)
		j := slices.IndexFunc(g.lines, func(l pileLine) bool {
			return l.item == n.Item && l.length == n.Length && l.treated == n.Treated && l.name == n.Name
		})
		if j < 0 {
			j = len(g.lines)
			g.lines = append(g.lines, pileLine{item: n.Item, name: n.Name, length: n.Length, treated: n.Treated})
		}
		g.lines[j].count += n.Count
		g.lines[j].mass = measure.Sum(g.lines[j].mass, n.Mass)
	}
	rank := b.ranks()
	for i := range out {
		slices.SortStableFunc(out[i].lines, func(a, b pileLine) int { return rank[a.item] - rank[b.item] })
	}
	return out
}

// ranks is where each item stands in the order: boards first, fasteners last.
func (b *binder) ranks() map[string]int {
	out := map[string]int{}
	for i := range b.Takeoff.Lines {
		if _, ok := out[b.Takeoff.Lines[i].Item]; !ok {
			out[b.Takeoff.Lines[i].Item] = i
		}
	}
	return out
}
