package build

import (
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Practice is the source of what a trade does without anybody having published it.
const Practice = "common practice, no published source"

// Where tolerances come from.
const (
	byTape     = "one mark of the tape"
	byPractice = Practice
	bySetout   = "the setting-out sheet"
)

// cureDays is how long concrete stands before a post is fixed to it: after seven
// days it holds about three quarters of its 28-day strength (The 28-Day Myth,
// National Precast Concrete Association, 2013, read as quoted there; that seven
// days are enough for an anchor is common practice, no published source).
const cureDays = 7

const minutesADay = 24 * 60

// setOut stakes a structure out, or marks the datum line round standing timber.
func (b *builder) setOut(s int) {
	here := spot{ofStructure, s}
	o := &b.Setout.Structures[s]
	switch {
	case o.Pen != nil && len(o.Pen.Piers) > 0:
		p := o.Pen
		i := b.add(roleSetOut, SetOut, here, stageSetOut, 0, phrase.Of("build.do-set-out-pen", phrase.With("name", name(o.Name)),
			phrase.With("radius", b.near(p.Radius.Value)), phrase.With("n", phrase.Count(len(p.Piers)))))
		b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-chord", phrase.With("chord", b.near(p.Piers[0].Chord.Value)))}
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-across", phrase.With("from", name(p.Piers[0].Name)), phrase.With("to", name(p.Piers[0].Far))),
			Value: p.Piers[0].Across.Value, Least: p.Piers[0].Across.Value - b.mark(), Most: p.Piers[0].Across.Value + b.mark(), Basis: byTape}
		b.page("set-out", phrase.Of("build.step-set-out", phrase.With("name", name(o.Name))), i)
	case o.Grid != nil && len(o.Grid.Stakes) > 0:
		g := o.Grid
		i := b.add(roleSetOut, SetOut, here, stageSetOut, 0, phrase.Of("build.do-set-out-grid", phrase.With("name", name(o.Name)),
			phrase.With("from", name(g.From)), phrase.With("to", name(g.To)), phrase.With("length", b.near(g.Length.Value)), phrase.With("n", phrase.Count(len(g.Stakes)))))
		if len(g.Frames) > 0 {
			f := &g.Frames[0]
			b.nodes[i].Check = diagonals(f.Corners, f.Diagonals[0].Value, f.Tolerance.Value)
		}
		b.page("set-out", phrase.Of("build.step-set-out", phrase.With("name", name(o.Name))), i)
	}
	if n := b.standing(s); n > 0 {
		b.datum(s, n)
	}
}

// diagonals is the check that four corners stand square.
func diagonals(corners [4]string, value, off measure.Length) *Target {
	return &Target{What: phrase.Of("build.check-diagonals", phrase.With("a", name(corners[0])), phrase.With("b", name(corners[2])), phrase.With("c", name(corners[1])), phrase.With("d", name(corners[3]))),
		Value: value, Least: value - off, Most: value + off, Basis: bySetout}
}

// near is a length that is taped and not cut, at the nearest mark of the crew's
// tape.
func (b *builder) near(l measure.Length) phrase.Length {
	tape := measure.TapeSixteenth
	if b.Job.Units == measure.Metric {
		tape = measure.TapeMillimetre
	}
	return phrase.Length(tape.Round(l, measure.Nearest))
}

// mark is the finest mark that the shop works to.
func (b *builder) mark() measure.Length { return b.Kit.Board.Mark }

// standing counts the posts of standing timber in a structure.
func (b *builder) standing(s int) int {
	n := 0
	for _, p := range b.posts[s] {
		if b.Layout.Posts[p].Kind == frame.Timber {
			n++
		}
	}
	return n
}

// datum marks the level line round standing timber.
func (b *builder) datum(s, posts int) {
	marks := map[measure.Length]bool{}
	var how []phrase.Phrase
	var low, high measure.Length
	for i := range b.Fit.Marks {
		m := &b.Fit.Marks[i]
		p := &b.Layout.Posts[m.Post]
		if p.Structure != s || p.Kind != frame.Timber {
			continue
		}
		if len(how) == 0 {
			low, high = m.Height, m.Height
		}
		low, high = min(low, m.Height), max(high, m.Height)
		marks[m.Height] = true
		how = append(how, phrase.Of("build.how-mark", phrase.With("post", name(p.Name)), phrase.With("height", b.near(m.Height))))
	}
	if len(how) == 0 {
		return
	}
	do := phrase.Of("build.do-datum", phrase.With("height", b.near(high)), phrase.With("n", phrase.Count(posts)))
	if len(marks) > 1 {
		do = phrase.Of("build.do-datum-uneven", phrase.With("low", b.near(low)), phrase.With("high", b.near(high)), phrase.With("n", phrase.Count(posts)))
	} else {
		how = nil
	}
	i := b.add(roleDatum, Level, spot{ofStructure, s}, stageSetOut, 1, do)
	b.nodes[i].How = how
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-level-line"), Least: -b.mark(), Most: b.mark(), Basis: byTape}
	b.page("datum", phrase.Of("build.step-datum", phrase.With("name", name(b.Layout.Structures[s].Name))), i)
}

// bases lays or pours what posts stand on.
func (b *builder) bases(s int) {
	o := &b.Setout.Structures[s]
	if o.Bases == nil {
		return
	}
	for n := range o.Bases.List {
		v := &o.Bases.List[n]
		if len(b.needsAt(kit.JointBase, -1, v.Post)) == 0 {
			continue
		}
		here := spot{ofPost, v.Post}
		var i int
		switch v.Item.Kind {
		case kit.Pier:
			i = b.add(rolePour, Pour, here, stageBases, n, phrase.Of("build.do-pour", phrase.With("post", name(v.Name)),
				phrase.With("across", phrase.Length(v.Item.Diameter)), phrase.With("depth", phrase.Length(v.Item.Depth)), phrase.With("n", phrase.Count(v.Bags))))
			b.nodes[i].Cure = b.cure(v.Item)
			b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-frost"), phrase.Of("build.caution-dig"), phrase.Of("build.caution-wet-concrete")}
			b.page("pour", phrase.Of("build.step-pour", phrase.With("name", name(o.Name))), i)
		case kit.Slab:
			i = b.add(roleSeat, Seat, here, stageBases, n, phrase.Of("build.do-seat-slab", phrase.With("post", name(v.Name)), phrase.With("base", b.called(v.Item.ID, v.Item.Name))))
			b.page("seat", phrase.Of("build.step-seat", phrase.With("name", name(o.Name))), i)
		default:
			i = b.add(roleSeat, Seat, here, stageBases, n, phrase.Of("build.do-seat", phrase.With("post", name(v.Name)), phrase.With("base", b.called(v.Item.ID, v.Item.Name))))
			b.page("seat", phrase.Of("build.step-seat", phrase.With("name", name(o.Name))), i)
		}
		if v.Item.Kind != kit.Slab {
			b.nodes[i].Check = &Target{What: phrase.Of("build.check-base-level"), Least: -2 * b.mark(), Most: 2 * b.mark(), Basis: byPractice}
		}
		b.base(i, v.Post)
		if b.anchors(v.Post) {
			a := b.add(roleAnchor, Anchor, here, stageTighten, 4000+n, phrase.Of("build.do-anchor", phrase.With("post", name(v.Name))))
			b.anchor(a, v.Post)
			b.page("anchor", phrase.Of("build.step-anchor", phrase.With("name", name(o.Name))), a)
			b.nodes[a].Cautions = []phrase.Phrase{phrase.Of("build.caution-dust")}
		}
	}
}

// cure is how long a base's concrete stands, in minutes.
func (b *builder) cure(item *kit.Base) int {
	if item.Cure > 0 {
		return item.Cure * minutesADay
	}
	return cureDays * minutesADay
}

// isAnchor says whether a need is anchors.
func (b *builder) isAnchor(need int) bool {
	f := b.Kit.Fastener(b.Takeoff.Needs[need].Item)
	return f != nil && f.Kind == kit.Anchor
}

// baseNeed is the need of what a post stands on; -1 for none.
func (b *builder) baseNeed(post int) int {
	for _, n := range b.needsAt(kit.JointBase, -1, post) {
		if base := b.Layout.Posts[post].Base; base != nil && b.Takeoff.Needs[n].Item == base.ID {
			return n
		}
	}
	return -1
}

// base gives an operation what a post stands on, and what comes with that except
// anchors.
func (b *builder) base(op, post int) {
	n := b.baseNeed(post)
	if n < 0 {
		return
	}
	b.given[n] = b.Takeoff.Needs[n].Count
	u := &b.Takeoff.Needs[n]
	b.nodes[op].Parts = append(b.nodes[op].Parts, Use{Need: n, Count: u.Count, Item: u.Item, Name: u.Name, Post: post, Piece: -1})
	for _, w := range b.ofNeed[n] {
		if !b.isAnchor(w) {
			b.use(op, w, b.left(w), -1, post)
		}
	}
}

// anchors says whether a post is anchored to concrete.
func (b *builder) anchors(post int) bool {
	n := b.baseNeed(post)
	for _, w := range append(b.ofNeed[max(n, 0)], b.needsAt(kit.JointBase, -1, post)...) {
		if n >= 0 && b.isAnchor(w) {
			return true
		}
	}
	return false
}

// anchor gives an operation a post's anchors.
func (b *builder) anchor(op, post int) {
	n := b.baseNeed(post)
	if n < 0 {
		return
	}
	for _, w := range b.ofNeed[n] {
		if b.isAnchor(w) {
			b.use(op, w, b.left(w), -1, post)
		}
	}
	for _, w := range b.needsAt(kit.JointBase, -1, post) {
		if b.isAnchor(w) {
			b.use(op, w, b.left(w), -1, post)
		}
	}
}

// foot gives an operation the bolts that hold a post to its base.
func (b *builder) foot(op, post int) {
	for _, w := range b.needsAt(kit.JointBase, -1, post) {
		if w != b.baseNeed(post) && !b.isAnchor(w) {
			b.use(op, w, b.left(w), -1, post)
		}
	}
}
