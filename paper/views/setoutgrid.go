package views

import (
	"slices"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/setout"
	"stallwright/paper/draw"
)

// cornerStakes plans the sheet of a row's or barn's corners: the baseline, right
// angles by tape, and the diagonals that check them.
func (t *tables) cornerStakes(s *setout.Structure) sheetPlan {
	out := t.setoutSheet("setout-"+s.Name+"-corners", t.say("setout.draw-title-corners", name("structure", s.Name)), t.say("setout.draw-caption-corners", name("structure", s.Name)), s)
	out.wide, out.tall = t.stakesBox(s)
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing { return t.newPlot(s, at).corners() }
	g, f := s.Grid, t.newPlot(s, draw.Scale{})
	out.notes = []string{t.say("setout.stake-baseline", name("a", t.short(g.From)), name("b", t.short(g.To)), f.taken("length", g.Length.Value))}
	for i := range g.Squares {
		q := &g.Squares[i]
		out.notes = append(out.notes, "3-4-5, "+t.say("setout.square-at", name("at", t.short(q.At)), f.taken("leg", q.Legs[0].Value), name("along", t.short(q.Along)),
			f.taken("other", q.Legs[1].Value), name("across", t.short(q.Across)), f.taken("between", q.Hyp.Value)))
	}
	var within []phrase.Phrase
	for i := range g.Frames {
		r := &g.Frames[i]
		within = append(within, phrase.Of("setout.draw-within", phrase.With("frame", r.Kind.Phrase()), f.taken("within", r.Tolerance.Value)))
	}
	out.notes = append(out.notes, t.say("setout.tape-diagonals")+" "+t.say("setout.draw-within-all", phrase.With("frames", phrase.List(within))))
	return out
}

// stakesBox is how wide and tall a structure's stakes stand.
func (t *tables) stakesBox(s *setout.Structure) (w, h measure.Length) {
	lo, hi := t.stakesBounds(s.Grid.Stakes)
	return hi.X - lo.X, hi.Y - lo.Y
}

func (t *tables) stakesBounds(list []setout.Stake) (lo, hi draw.Point) {
	for i := range list {
		q := draw.Point(t.Layout.Posts[list[i].Post].At)
		if i == 0 {
			lo, hi = q, q
		}
		lo, hi = pt(min(lo.X, q.X), min(lo.Y, q.Y)), pt(max(hi.X, q.X), max(hi.Y, q.Y))
	}
	return lo, hi
}

// corners draws the corner stakes, what is taped round and across them, and the
// right angles at the baseline's ends.
func (p *plot) corners() *draw.Drawing {
	g := p.s.Grid
	lo, hi := p.stakesBounds(g.Stakes)
	for i := range g.Stakes {
		k := &g.Stakes[i]
		if !k.Corner {
			continue
		}
		p.stake(k.Post)
		p.d.Add(&draw.Label{At: p.at(k.Post), Texts: []string{p.short(k.Name)}, Where: p.away(p.at(k.Post), lo, hi), End: draw.Plain, Face: draw.Bold})
	}
	a, b := p.at(p.postOf(g.From)), p.at(p.postOf(g.To))
	p.d.Add(draw.NewLine(layerDatum, draw.Pen{Weight: draw.Medium, Type: draw.Chain, Yields: true}, a, b),
		&draw.Label{At: pt((a.X+3*b.X)/4, (a.Y+3*b.Y)/4), Texts: []string{p.say("setout.draw-baseline")}, End: draw.Arrow})
	for i := range g.Frames {
		p.frame(&g.Frames[i])
	}
	for i := range g.Squares {
		p.square(&g.Squares[i])
	}
	p.outside(lo, hi)
	return p.d
}

// frame draws four sides and both diagonals; a length that both have is written
// once.
func (p *plot) frame(f *setout.Frame) {
	c := func(i int) draw.Point { return p.at(p.postOf(f.Corners[i%4])) }
	for i := range f.Sides {
		p.d.Add(draw.NewLine(layerStrings, light, c(i), c(i+1)))
	}
	alike := p.span(f.Diagonals[0].Value) == p.span(f.Diagonals[1].Value)
	for i := range f.Diagonals {
		if i == 1 && alike {
			p.d.Add(draw.NewLine(layerStrings, thin, c(1), c(3)))
			continue
		}
		p.tally(c(i), c(i+2), 0, p.span(f.Diagonals[i].Value))
	}
}

// square draws the 3-4-5 at a stake: both legs' ends and what lies between them.
func (p *plot) square(q *setout.Square) {
	at := p.at(p.postOf(q.At))
	toward := func(post string, l measure.Length) draw.Point {
		to := p.at(p.postOf(post))
		return draw.Point(along(at, to, l))
	}
	a, b := toward(q.Along, q.Legs[0].Value), toward(q.Across, q.Legs[1].Value)
	m := p.paper(900)
	for i, end := range []draw.Point{a, b} {
		p.d.Add(draw.Circle(layerStrings, medium, draw.White(), end, m),
			&draw.Label{At: end, Texts: []string{p.say("setout.draw-leg", name("length", p.span(q.Legs[i].Value)), name("post", p.short(q.At))), p.span(q.Legs[i].Value)}, Where: []draw.Where{draw.Under, draw.Over, draw.ToRight, draw.ToLeft}, End: draw.Plain})
	}
	p.tally(a, b, 0, p.span(q.Hyp.Value))
}

// along is the place on the way from a to b, so far from a; sides of a grid run
// along the axes.
func along(a, b draw.Point, l measure.Length) draw.Point {
	switch {
	case b.X > a.X && b.Y == a.Y:
		return pt(a.X+l, a.Y)
	case b.X < a.X && b.Y == a.Y:
		return pt(a.X-l, a.Y)
	case b.Y > a.Y:
		return pt(a.X, a.Y+l)
	}
	return pt(a.X, a.Y-l)
}

// outside dimensions the lines' length above and their distances at the left.
func (p *plot) outside(lo, hi draw.Point) {
	ys, ends := []measure.Length{}, map[measure.Length][2]measure.Length{}
	for i := range p.s.Grid.Stakes {
		q := p.at(p.s.Grid.Stakes[i].Post)
		e, known := ends[q.Y]
		if !known {
			ys, e = append(ys, q.Y), [2]measure.Length{q.X, q.X}
		}
		ends[q.Y] = [2]measure.Length{min(e[0], q.X), max(e[1], q.X)}
	}
	slices.Sort(ys)
	var pts []draw.Point
	var texts []string
	for i, y := range ys {
		pts = append(pts, pt(lo.X, y))
		if i > 0 {
			texts = append(texts, p.span(y-ys[i-1]))
		}
	}
	if len(pts) > 1 {
		p.d.Add(&draw.Dim{Points: pts, Side: draw.Left, Tier: 1, Texts: texts})
	}
	if len(pts) > 2 {
		p.d.Add(&draw.Dim{Points: []draw.Point{pts[0], pts[len(pts)-1]}, Side: draw.Left, Tier: 2, Texts: []string{p.span(hi.Y - lo.Y)}})
	}
	top, bottom := ends[hi.Y], ends[lo.Y]
	p.d.Add(&draw.Dim{Points: []draw.Point{pt(top[0], hi.Y), pt(top[1], hi.Y)}, Side: draw.Above, Tier: 1, Texts: []string{p.span(top[1] - top[0])}})
	if bottom != top {
		p.d.Add(&draw.Dim{Points: []draw.Point{pt(bottom[0], lo.Y), pt(bottom[1], lo.Y)}, Side: draw.Below, Tier: 1, Texts: []string{p.span(bottom[1] - bottom[0])}})
	}
}

// away lists the places for a stake's name that look away from the middle.
func (p *plot) away(c, lo, hi draw.Point) []draw.Where {
	right, left, over, under := draw.OverRight, draw.OverLeft, draw.Over, draw.Under
	if c.Y*2 < lo.Y+hi.Y {
		right, left, over, under = draw.UnderRight, draw.UnderLeft, draw.Under, draw.Over
	}
	if c.X*2 < lo.X+hi.X {
		right, left = left, right
	}
	return []draw.Where{right, over, left, under}
}

// stakesWide is how much of the site's length a sheet of stakes shows at most, so
// that each has room for its numbers.
const stakesWide = 22 * measure.Metre

// gridStakes plans the sheets of all stakes of a row or barn: each with its
// running distance along its line and, where the ground was levelled, the height
// of its base.
func (t *tables) gridStakes(s *setout.Structure, o Options) []sheetPlan {
	lo, hi := t.stakesBounds(s.Grid.Stakes)
	parts := max(1, int((hi.X-lo.X+stakesWide-1)/stakesWide))
	var out []sheetPlan
	for part := range parts {
		a := lo.X + (hi.X-lo.X)*measure.Length(part)/measure.Length(parts)
		b := lo.X + (hi.X-lo.X)*measure.Length(part+1)/measure.Length(parts)
		title := t.say("setout.draw-title-stakes", name("structure", s.Name))
		file := "setout-" + s.Name + "-stakes"
		if parts > 1 {
			title = t.say("views.title-part", name("title", title), number("part", part+1), number("parts", parts))
		}
		sheet := t.setoutSheet(file, title, t.say("setout.draw-caption-stakes", name("structure", s.Name)), s)
		sheet.wide, sheet.tall = b-a, hi.Y-lo.Y
		sheet.notes = t.stakeNotes(s)
		last := part == parts-1
		sheet.drawing = func(at draw.Scale, _ int) *draw.Drawing { return t.newPlot(s, at).stakes(a, b, last) }
		out = append(out, sheet)
	}
	return out
}

// stakeNotes tell how the lines are taped, and of holes, concrete and earth.
func (t *tables) stakeNotes(s *setout.Structure) []string {
	out := []string{t.say("setout.hooked") + " " + t.say("setout.draw-running", name("from", t.short(s.Grid.From)))}
	return append(out, t.baseNotes(s)...)
}

// baseNotes tell what the posts stand on and what the ground takes.
func (t *tables) baseNotes(s *setout.Structure) []string {
	f := t.newPlot(s, draw.Scale{})
	var out []string
	b := s.Bases
	if b == nil || len(b.List) == 0 {
		return nil
	}
	piers := 0
	for i := range b.List {
		if b.List[i].Item.Kind == kit.Pier {
			piers++
		}
	}
	out = append(out, t.say("setout.draw-stands-on", t.item("base", b.List[0].Item.ID, b.List[0].Item.Name)))
	switch {
	case b.Bench != "" && b.Laid > 0:
		out = append(out, t.say("setout.tops-level-laid", phrase.With("height", setout.Above(b.Top.Value, f.tape)), f.taken("laid", b.Laid)))
	case b.Bench != "":
		out = append(out, t.say("setout.tops-level", phrase.With("height", setout.Above(b.Top.Value, f.tape))))
	case piers > 0:
		out = append(out, t.say("setout.read-before-digging"))
	default:
		out = append(out, t.say("setout.read-before-setting"))
	}
	if piers > 0 {
		first := &b.List[0]
		out = append(out, t.say("setout.draw-holes", number("n", piers), f.taken("across", first.Item.Diameter), f.taken("deep", first.Depth.Value))+" "+
			t.say("setout.bags", number("n", b.Bags), t.item("bag", b.BagItem, b.Bag)), t.say("setout.depths-below")+" "+t.say("setout.frost"))
	}
	if site := s.Site; site != nil {
		out = append(out, t.say("setout.fall", name("high-at", t.short(site.HighAt)), phrase.With("high", setout.Above(site.High.Value, f.tape)), name("low-at", t.short(site.LowAt)),
			phrase.With("low", setout.Above(site.Low.Value, f.tape)), f.taken("fall", site.Fall.Value)))
	}
	return out
}

// stakes draws the stakes between two places along the site. All lines are
// hooked at their first stake, which may stand on another sheet.
func (p *plot) stakes(from, to measure.Length, last bool) *draw.Drawing {
	g := p.s.Grid
	var shown []setout.Stake
	for i := range g.Stakes {
		if x := p.at(g.Stakes[i].Post).X; x >= from && (x < to || last) {
			shown = append(shown, g.Stakes[i])
		}
	}
	if len(shown) == 0 {
		shown = g.Stakes
	}
	lo, hi := p.stakesBounds(shown)
	running := p.running()
	lines := map[measure.Length][]draw.Point{}
	var ys []measure.Length
	for i := range shown {
		k := &shown[i]
		at := p.at(k.Post)
		if lines[at.Y] == nil {
			ys = append(ys, at.Y)
		}
		lines[at.Y] = append(lines[at.Y], at)
		p.stake(k.Post)
	}
	slices.Sort(ys)
	for i := range shown {
		k := &shown[i]
		at := p.at(k.Post)
		// The lowest line's numbers stand below it, the next one's above, and so on:
		// between two lines only those of one row stand.
		where := []draw.Where{draw.OverRight, draw.Over, draw.OverLeft, draw.UnderRight}
		if slices.Index(ys, at.Y)%2 == 0 {
			where = []draw.Where{draw.UnderRight, draw.Under, draw.UnderLeft, draw.OverRight}
		}
		p.d.Add(&draw.Label{At: p.beside(k.Post, where[0]), Texts: []string{p.stakeText(k.Name, running[k.Name])}, Where: where, End: draw.Plain})
	}
	for _, y := range ys {
		pts := lines[y]
		slices.SortFunc(pts, func(a, b draw.Point) int { return int(min(max(a.X-b.X, -1), 1)) })
		if len(pts) > 1 {
			p.d.Add(draw.NewLine(layerDatum, axis, pts[0], pts[len(pts)-1]))
		}
	}
	p.d.Add(space(lo.X, lo.Y), space(hi.X, hi.Y))
	p.spacing(lines[hi.Y])
	p.depths(lo.X, ys)
	return p.d
}

// beside is where a stake's text starts: clear of its pad or pier.
func (p *plot) beside(post int, where draw.Where) draw.Point {
	c := p.at(post)
	base := p.Layout.Posts[post].Base
	if base == nil {
		return c
	}
	off := max(base.Size/2, base.Diameter*3/8)
	if where == draw.UnderRight {
		return pt(c.X+off, c.Y-off)
	}
	return pt(c.X+off, c.Y+off)
}

// running is every stake's distance from the first one of its line.
func (p *plot) running() map[string]measure.Length {
	out := map[string]measure.Length{}
	for i := range p.s.Lines {
		l := &p.s.Lines[i]
		switch l.Kind {
		case setout.LineBack, setout.LineFront, setout.LineSecondFront, setout.LineSecondBack:
			out[l.Zero] = 0
			for k := range l.Marks {
				out[l.Marks[k].At] = l.Marks[k].From.Value
			}
		}
	}
	return out
}

// stakeText is a stake's name, its running distance and how its base lies.
func (p *plot) stakeText(stake string, along measure.Length) string {
	text := p.short(stake) + "\n" + p.span(along)
	if p.s.Bases == nil {
		return text
	}
	for i := range p.s.Bases.List {
		if b := &p.s.Bases.List[i]; b.Name == stake && b.Out != nil {
			text += "\n" + p.say("setout.draw-ground-at", p.taken("ground", b.Ground.Value)) + "\n" + p.say("setout.draw-top-over", p.taken("out", b.Out.Value))
		}
	}
	return text
}

// spacing dimensions the stakes of the topmost line from one to the next.
func (p *plot) spacing(pts []draw.Point) {
	var texts []string
	for i := 1; i < len(pts); i++ {
		texts = append(texts, p.span(pts[i].X-pts[i-1].X))
	}
	if len(pts) > 1 {
		p.d.Add(&draw.Dim{Points: pts, Side: draw.Above, Tier: 1, Texts: texts})
	}
}

// depths dimensions the lines' distances at the left.
func (p *plot) depths(x measure.Length, ys []measure.Length) {
	var pts []draw.Point
	var texts []string
	for i, y := range ys {
		pts = append(pts, pt(x, y))
		if i > 0 {
			texts = append(texts, p.span(y-ys[i-1]))
		}
	}
	if len(pts) > 1 {
		p.d.Add(&draw.Dim{Points: pts, Side: draw.Left, Tier: 1, Texts: texts})
	}
}
