package build

import (
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
)

// bay measures a bay, cuts its boards and fills it from the bottom up. Doorways
// are measured and cut here and filled by door.
func (b *builder) bay(v, walk int) {
	bay, out := &b.Layout.Bays[v], &b.Fit.Bays[v]
	if bay.IsOpen() {
		return
	}
	here := spot{ofBay, v}
	channel := b.Layout.Runs[bay.Run].Assembly.Ends == kit.EndsChannel
	at := func(framed, timber int) int {
		if channel {
			return timber
		}
		return framed
	}
	nm := phrase.With("name", name(bay.Name))
	st := phrase.With("name", name(b.Layout.Structures[bay.Structure].Name))
	i := b.add(roleMeasure, Measure, here, at(stageMeasure, stageWallMeasure), walk, phrase.Of("build.do-measure", nm))
	if bay.IsDoor() {
		b.nodes[i].Do = phrase.Of("build.do-measure-opening", nm)
	}
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-drawn-width"), Value: bay.Clear}
	b.page("measure", phrase.Of("build.step-measure", st), i)
	b.shim(v, walk, st)
	if n := b.boardCount(v); n > 0 {
		i = b.add(roleCut, Cut, here, at(stageCut, stageWallCut), walk, phrase.Of("build.do-cut", nm, phrase.With("n", phrase.Count(n))))
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-saw")}
		b.page("cut", phrase.Of("build.step-cut", st), i)
	}
	if bay.IsDoor() {
		return
	}
	if out.Grille != nil && out.Grille.Made > out.Grille.Width {
		g := out.Grille
		i = b.add(roleTrim, Trim, here, at(stageTrim, stageWallTrim), walk, phrase.Of("build.do-trim", nm,
			phrase.With("left", phrase.Length(g.Trim[0])), phrase.With("right", phrase.Length(g.Trim[1])), phrase.With("width", phrase.Length(g.Width)), phrase.With("n", phrase.Count(g.Ends))))
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-grille-width"), Value: g.Width, Least: g.Width - b.mark(), Most: g.Width, Basis: byTape}
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-zinc")}
		b.page("trim", phrase.Of("build.step-trim", st), i)
	}
	b.fill(v, walk, at(stageBoards, stageWallBoards))
}

// shim packs one channel of a bay that tapers until the bay is parallel.
func (b *builder) shim(v, walk int, st phrase.Arg) {
	t := b.Fit.Bays[v].Taper
	if t == nil || !t.Shimmed || t.ByShim.Shims == 0 {
		return
	}
	nm := phrase.With("name", name(b.Layout.Bays[v].Name))
	do := phrase.Of("build.do-shim-left", nm, phrase.With("n", phrase.Count(t.ByShim.Shims)))
	if t.Right {
		do = phrase.Of("build.do-shim-right", nm, phrase.With("n", phrase.Count(t.ByShim.Shims)))
	}
	i := b.add(roleShim, Lag, atBay(v), stageWallMeasure, walk, do)
	for _, s := range t.Shims {
		if s.Thick > 0 {
			b.nodes[i].How = append(b.nodes[i].How, phrase.Of("build.how-shim", phrase.With("thick", phrase.Length(s.Thick)), phrase.With("height", phrase.Length(s.Z))))
		}
	}
	w := b.Fit.Bays[v].Clear
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-parallel"), Value: w, Least: w - b.mark(), Most: w + b.mark(), Basis: byTape}
	b.page("shim", phrase.Of("build.step-shim", st), i)
}

// boardCount is how many boards, packing strips and skirts a bay takes.
func (b *builder) boardCount(v int) int {
	n := 0
	for _, p := range b.Fit.Bays[v].Pieces {
		if k := b.Fit.Pieces[p].Kind; (k == fit.Board || k == fit.Packing || k == fit.Skirt) && b.inPlace(p) {
			n++
		}
	}
	return n
}

// inPlace says whether a piece has a place in its bay: what is left over of a
// release has none.
func (b *builder) inPlace(piece int) bool {
	p := &b.Fit.Pieces[piece]
	if p.Bay < 0 || p.Kind != fit.Board {
		return true
	}
	f := &b.Fit.Bays[p.Bay]
	if p.Course < 1 || p.Course > len(f.Courses) {
		return false
	}
	for _, q := range f.Courses[p.Course-1].Pieces {
		if q == piece {
			return true
		}
	}
	return false
}

// packing finds a bay's packing strips.
func (b *builder) packing(v int) []int {
	var out []int
	for _, p := range b.Fit.Bays[v].Pieces {
		if q := &b.Fit.Pieces[p]; q.Kind == fit.Packing && !b.placed[p] && !q.Misfit {
			out = append(out, p)
		}
	}
	return out
}

// skirts finds the boards that close the gap under a bay.
func (b *builder) skirts(v int) []int {
	var out []int
	for _, p := range b.Fit.Bays[v].Pieces {
		if q := &b.Fit.Pieces[p]; q.Kind == fit.Skirt && !b.placed[p] && !q.Misfit {
			out = append(out, p)
		}
	}
	return out
}

// skirt screws the boards under a bay on, once nothing above them moves any more.
func (b *builder) skirt(i int, skirts []int) {
	b.piece(i, skirts...)
	for _, p := range skirts {
		b.nodes[i].How = append(b.nodes[i].How, phrase.Of("build.how-skirt", phrase.With("piece", name(b.Fit.Pieces[p].Label))))
	}
}

// panel says whether anything holds a bay's boards.
func (b *builder) panel(v int) bool {
	for _, n := range b.needsAt(kit.JointPanel, v, -1) {
		if b.left(n) > 0 {
			return true
		}
	}
	return false
}

// fasten screws a screwed wall's boards and covers its top.
func (b *builder) fasten(v, walk, stage int) int {
	pack, skirts := b.packing(v), b.skirts(v)
	if !b.panel(v) && len(pack)+len(skirts) == 0 {
		return -1
	}
	i := b.add(roleFasten, Fasten, spot{ofBay, v}, stage, walk, phrase.Of("build.do-fasten", phrase.With("name", name(b.Layout.Bays[v].Name))))
	b.piece(i, pack...)
	b.skirt(i, skirts)
	b.rest(i, v)
	return i
}

// clamp presses a bay's stack down with its clamps.
func (b *builder) clamp(v, walk, stage int, here spot) int {
	pack, skirts := b.packing(v), b.skirts(v)
	if !b.panel(v) && len(pack)+len(skirts) == 0 {
		return -1
	}
	i := b.add(roleClamp, Clamp, here, stage, walk, phrase.Of("build.do-clamp", phrase.With("name", name(b.Layout.Bays[v].Name)), phrase.With("n", phrase.Count(b.countOf(v)))))
	b.piece(i, pack...)
	if len(pack) > 0 {
		b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-packing", phrase.With("piece", name(b.Fit.Pieces[pack[0]].Label)), phrase.With("thick", phrase.Length(b.Fit.Pieces[pack[0]].Height)))}
	}
	b.skirt(i, skirts)
	b.rest(i, v)
	if s := b.Fit.Bays[v].Stack; s != nil {
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-clamp-gap"), Value: s.Slack - s.Packing}
		if c := s.Clamp; c != nil {
			b.nodes[i].Check.Least, b.nodes[i].Check.Most, b.nodes[i].Check.Basis = c.Least, c.Most-c.Reserve, "kit "+b.Kit.Kit+", clamps "+c.ID
		}
	}
	b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-clamp-snug")}
	return i
}

// countOf is how many clamps hold a bay.
func (b *builder) countOf(v int) int {
	n := 0
	for _, i := range b.needsAt(kit.JointPanel, v, -1) {
		if b.Takeoff.Needs[i].Class == kit.ClassClamp {
			n += b.Takeoff.Needs[i].Count
		}
	}
	return n
}

// grille sets a grille on its course.
func (b *builder) grille(v, walk, stage int) int {
	g := b.Fit.Bays[v].Grille
	i := b.add(roleGrille, Capture, spot{ofBay, v}, stage, walk, phrase.Of("build.do-grille", phrase.With("name", name(b.Layout.Bays[v].Name)), phrase.With("course", phrase.Count(b.belowGrille(v)))))
	b.piece(i, g.Piece)
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-grille-seated")}
	return i
}

// window sets a window's frame on its sill course.
func (b *builder) window(v, walk, stage int) int {
	w := b.Fit.Bays[v].Window
	i := b.add(roleWindow, Fit, spot{ofBay, v}, stage, walk, phrase.Of("build.do-window", phrase.With("name", name(b.Layout.Bays[v].Name)), phrase.With("from", phrase.Length(w.X))))
	b.piece(i, w.Piece)
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-window-left"), Value: w.X, Least: w.X - b.mark(), Most: w.X + b.mark(), Basis: byTape}
	return i
}

// feeder sets a feeder on its course.
func (b *builder) feeder(v, walk, stage int) int {
	f := b.Fit.Bays[v].Feeder
	key := "build.do-feeder-right"
	if f.Left {
		key = "build.do-feeder-left"
	}
	i := b.add(roleFeeder, Fit, spot{ofBay, v}, stage, walk, phrase.Of(key, phrase.With("name", name(b.Layout.Bays[v].Name)), phrase.With("course", phrase.Count(f.Feeder.On))))
	b.piece(i, f.Piece)
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-feeder-swings")}
	return i
}
