package views

import (
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/setout"
	"stallwright/paper/draw"
)

// ringHeights plans the sheet of a pen's piers in height, or of some of them:
// ground, top, concrete.
func (t *tables) ringHeights(s *setout.Structure, part, parts int) sheetPlan {
	title := t.say("setout.draw-title-heights", name("structure", s.Name))
	if parts > 1 {
		title = t.say("views.title-part", name("title", title), number("part", part+1), number("parts", parts))
	}
	out := t.setoutSheet("setout-"+s.Name+"-heights", title, t.say("setout.draw-caption-heights", name("structure", s.Name)), s)
	r := s.Pen.Radius.Value
	out.wide, out.tall = 2*r, 2*r
	out.notes = t.baseNotes(s)
	from, to := partOf(len(s.Bases.List), part, parts)
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing { return t.newPlot(s, at).heights(from, to) }
	return out
}

// heights draws some of a ring's piers with their numbers in height, and lists
// them.
func (p *plot) heights(from, to int) *draw.Drawing {
	r := p.s.Pen.Radius.Value
	p.d.Add(draw.Circle(layerDatum, axis, draw.Fill{}, pt(0, 0), r))
	levelled := p.s.Site != nil
	head := []string{p.say("setout.col-pier")}
	if levelled {
		head = append(head, p.say("setout.col-ground"), p.say("setout.col-top"))
	}
	head = append(head, p.say("setout.draw-col-length"), p.say("setout.col-bags"))
	rows := [][]string{head}
	for i := from; i < to; i++ {
		b := &p.s.Bases.List[i]
		at := p.at(b.Post)
		p.stake(b.Post)
		text := p.short(b.Name)
		row := []string{text}
		if levelled {
			text += "\n" + p.say("setout.draw-top-over", p.taken("out", b.Out.Value))
			row = append(row, p.span(b.Ground.Value), p.span(b.Out.Value))
		}
		if b.Item.Kind == kit.Pier {
			row = append(row, p.span(b.Length.Value), p.words.Count(int64(b.Bags)))
		} else {
			row = append(row, "", "")
		}
		rows = append(rows, row)
		p.d.Add(&draw.Label{At: at, Texts: []string{text, p.short(b.Name)}, Where: []draw.Where{compass(at)}, End: draw.Plain})
	}
	p.table(pt(r+p.paper(32*draw.MM), r), rows)
	return p.d
}

// tiedStakes plans the sheet of a free form's steel posts: ties from the ends of
// a baseline between standing posts.
func (t *tables) tiedStakes(s *setout.Structure) sheetPlan {
	out := t.setoutSheet("setout-"+s.Name, t.say("setout.draw-title-setout", name("structure", s.Name)), t.say("setout.draw-caption-ties", name("structure", s.Name)), s)
	lo, hi := t.tiedBounds(s)
	out.wide, out.tall = hi.X-lo.X, hi.Y-lo.Y
	g, f := s.Grid, t.newPlot(s, draw.Scale{})
	out.notes = append([]string{t.say("setout.two-tapes", name("a", t.short(g.From)), name("b", t.short(g.To)), f.taken("length", g.Length.Value))}, t.baseNotes(s)...)
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing { return t.newPlot(s, at).ties() }
	return out
}

// tiedBounds are those of the stakes and the baseline.
func (t *tables) tiedBounds(s *setout.Structure) (lo, hi draw.Point) {
	list := append([]setout.Stake{}, s.Grid.Stakes...)
	for _, post := range []string{s.Grid.From, s.Grid.To} {
		if i, ok := t.Layout.Post(post); ok {
			list = append(list, setout.Stake{Post: i})
		}
	}
	return t.stakesBounds(list)
}

// ties draws the baseline and, from both its ends, the tapes to every stake.
func (p *plot) ties() *draw.Drawing {
	g := p.s.Grid
	from, to := p.postOf(g.From), p.postOf(g.To)
	a, b := p.at(from), p.at(to)
	lo, hi := p.tiedBounds(p.s)
	for _, post := range []int{from, to} {
		p.standing(post)
		p.d.Add(&draw.Label{At: p.at(post), Texts: []string{p.short(p.Layout.Posts[post].Name)}, Where: p.away(p.at(post), lo, hi), End: draw.Plain, Face: draw.Bold})
	}
	p.d.Add(draw.NewLine(layerDatum, draw.Pen{Weight: draw.Medium, Type: draw.Chain, Yields: true}, a, b),
		&draw.Label{At: pt((a.X+b.X)/2, (a.Y+b.Y)/2), Texts: []string{p.say("setout.draw-baseline-length", p.taken("length", g.Length.Value))}, End: draw.Arrow})
	rows := [][]string{{p.say("setout.col-stake"), p.say("setout.col-from", name("post", p.short(g.From))), p.say("setout.col-from", name("post", p.short(g.To))), p.say("setout.draw-col-along"), p.say("setout.draw-col-left")}}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		c := p.at(k.Post)
		p.stake(k.Post)
		for n, end := range []draw.Point{a, b} {
			// Along the baseline itself the table alone tells: lines would lie on it.
			if p.scale.Paper(k.Y.Value.Abs()) > spanLeast/2 {
				p.tally(end, c, 0, p.span(k.Ties[n].Value))
			}
		}
		p.d.Add(&draw.Label{At: c, Texts: []string{p.short(k.Name)}, Where: p.away(c, lo, hi), End: draw.Plain, Face: draw.Bold})
		rows = append(rows, []string{p.short(k.Name), p.span(k.Ties[0].Value), p.span(k.Ties[1].Value), p.span(k.X.Value), p.span(k.Y.Value)})
	}
	p.table(pt(hi.X+p.paper(20*draw.MM), hi.Y), rows)
	return p.d
}

// standing draws a post that stands already, to scale.
func (p *plot) standing(post int) {
	v := &p.Layout.Posts[post]
	c, w, h := draw.Point(v.At), v.Along/2, v.Across/2
	if w == 0 || h == 0 {
		w, h = measure.Inch, measure.Inch
	}
	p.d.Add(draw.Rectangle(layerFrame, medium, draw.Hatch(45*draw.Degree, 600), pt(c.X-w, c.Y-h), pt(c.X+w, c.Y+h)))
}
