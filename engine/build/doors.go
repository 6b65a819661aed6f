package build

import (
	"slices"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// door boards a leaf, hangs it and makes it run.
func (b *builder) door(v, walk int) {
	bay, d := &b.Layout.Bays[v], b.Fit.Bays[v].Door
	if d == nil {
		return
	}
	here := spot{ofBay, v}
	nm := phrase.With("name", name(bay.Name))
	title, board := phrase.Of("build.step-door", nm), phrase.Of("build.step-leaf", nm)
	page := "door " + bay.Name
	b.page(page+" leaf", board, b.leaf(v, walk, nm)...)
	sliding := d.Door.Kind == kit.Sliding

	key := "build.do-hinges"
	if sliding {
		key = "build.do-rollers"
	}
	rollers := b.add(roleRollers, Rollers, here, stageDoors, walk, phrase.Of(key, nm))
	b.goes(rollers, v, kit.GoesRollers)
	if sliding {
		b.nodes[rollers].How = []phrase.Phrase{phrase.Of("build.how-nuts-loose")}
	}
	b.page(page+" leaf", board, rollers)
	if t := d.Track; t != nil {
		r := &b.Layout.Runs[bay.Run]
		face := r.Datum + r.Zone + d.Door.Slide.Rail
		i := b.add(roleTrack, Track, here, stageDoors, walk, phrase.Of("build.do-track", nm, phrase.With("length", phrase.Length(t.Length)), phrase.With("height", b.near(face))))
		b.piece(i, t.Piece)
		b.goes(i, v, kit.GoesTrack)
		b.nodes[i].How = []phrase.Phrase{b.trackFrom(d)}
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-track-level"), Value: face, Least: face - b.mark(), Most: face + b.mark(), Basis: byTape}
		b.page(page+" hang", title, i)
	}
	i := b.add(roleHang, Hang, here, stageDoors, walk, phrase.Of("build.do-hang", nm))
	if sliding {
		b.nodes[i].Do = phrase.Of([]string{"build.do-hang-sliding-left", "build.do-hang-sliding-right"}[parks(d)], nm)
	}
	b.goes(i, v, kit.GoesHang)
	b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-fingers")}
	b.page(page+" hang", title, i)
	b.adjust(v, walk, nm, page+" hang", title)
	i = b.add(roleHandle, Handle, here, stageDoors, walk, phrase.Of("build.do-handle", nm))
	if h := d.Door.Handle; h != nil {
		b.nodes[i].Do = phrase.Of("build.do-handle-at", nm, phrase.With("height", phrase.Length(h.Height)), phrase.With("setback", phrase.Length(h.Setback)))
	}
	b.goes(i, v, kit.GoesHandle)
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-one-hand")}
	b.page(page+" hang", title, i)
	b.leftovers(v)
}

// trackFrom is where a track's left end goes, from the doorway's left edge. The
// closed leaf laps that edge.
func (b *builder) trackFrom(d *fit.DoorFit) phrase.Phrase {
	if by := d.Track.Closed[0] + d.Lap - d.Track.X[0]; by >= 0 {
		return phrase.Of("build.how-track-left", phrase.With("by", b.near(by)))
	}
	return phrase.Of("build.how-track-right", phrase.With("by", b.near(d.Track.X[0]-d.Track.Closed[0]-d.Lap)))
}

// parks is 0 where a sliding leaf parks on the left, 1 on the right.
func parks(d *fit.DoorFit) int {
	if d.Track != nil && d.Track.Hand == job.Left {
		return 0
	}
	return 1
}

// leaf boards a leaf: the boards that go in from above, bottom up, then those from
// below, the highest first; the lowest of these is fastened.
func (b *builder) leaf(v, walk int, nm phrase.Arg) []int {
	here := spot{ofBay, v}
	var above, below, last []int
	for _, p := range b.Fit.Bays[v].Pieces {
		q := &b.Fit.Pieces[p]
		switch {
		case q.Kind != fit.Board || !b.inPlace(p):
		case !q.Below:
			above = append(above, p)
		case q.Fasten:
			last = append(last, p)
		default:
			below = append(below, p)
		}
	}
	slices.SortStableFunc(below, func(p, q int) int { return b.Fit.Pieces[q].Course - b.Fit.Pieces[p].Course })
	i := b.add(roleLeaf, Load, here, stageDoors, walk, phrase.Of("build.do-leaf", nm, phrase.With("n", phrase.Count(len(above)))))
	for _, p := range b.Fit.Bays[v].Pieces {
		if q := &b.Fit.Pieces[p]; q.Kind == fit.Door && !q.Misfit {
			b.piece(i, p)
		}
	}
	if len(above) == 0 {
		b.nodes[i].Do = phrase.Of("build.do-leaf-bare", nm)
	}
	b.piece(i, above...)
	b.goes(i, v, kit.GoesLeaf)
	ops := []int{i}
	if len(below) > 0 {
		i = b.add(roleLeafBelow, Load, here, stageDoors, walk, phrase.Of("build.do-leaf-below", nm, phrase.With("n", phrase.Count(len(below)))))
		b.piece(i, below...)
		ops = append(ops, i)
	}
	if len(last) > 0 {
		lowest := b.add(roleLowest, Fasten, here, stageDoors, walk, phrase.Of("build.do-leaf-lowest", nm))
		b.piece(lowest, last...)
		b.goes(lowest, v, kit.GoesLowest)
		ops = append(ops, lowest)
	}
	for _, i := range ops {
		b.worked(i)
	}
	return ops
}

// goes gives an operation the parts of a door that the kit says are fitted then.
func (b *builder) goes(op, v int, what kit.Goes) {
	d := b.Fit.Bays[v].Door
	need, ok := b.ofPiece[d.Piece]
	if !ok {
		return
	}
	for _, n := range b.ofNeed[need] {
		if b.goesWith(d.Door, b.Takeoff.Needs[n].Item) == what {
			b.use(op, n, b.left(n), d.Piece, -1)
		}
	}
}

// goesWith is when a part of a door is fitted, by the kit; while it is hung where
// the kit does not say.
func (b *builder) goesWith(d *kit.Door, item string) kit.Goes {
	for i := range d.With {
		if d.With[i].Use == item {
			if d.With[i].Goes != "" {
				return d.With[i].Goes
			}
			break
		}
	}
	return kit.GoesHang
}

// leftovers gives the hanging what of a door no operation took: parts for a lowest
// board that there is not, for one.
func (b *builder) leftovers(v int) {
	need, ok := b.ofPiece[b.Fit.Bays[v].Door.Piece]
	if !ok {
		return
	}
	at := b.node(roleHang, spot{ofBay, v})
	for _, n := range b.ofNeed[need] {
		b.use(at, n, b.left(n), b.Fit.Bays[v].Door.Piece, -1)
	}
}

// adjust makes a leaf level and clear, then tightens what was left loose.
func (b *builder) adjust(v, walk int, nm phrase.Arg, page string, title phrase.Phrase) {
	d := b.Fit.Bays[v].Door
	here := spot{ofBay, v}
	// GapFrom and GapTo count from the highest floor; at the doorway the floor may
	// lie lower by Fall.
	gap, least, most := d.Gap+d.Fall[0], d.GapFrom+d.Fall[0], d.GapTo+d.Fall[0]
	i := b.add(roleAdjust, Adjust, here, stageDoors, walk, phrase.Of("build.do-adjust", nm, phrase.With("gap", b.near(gap))))
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-gap-under"), Value: gap, Least: least, Most: most, Basis: "kit " + b.Kit.Kit + ", doors " + d.Door.ID}
	if d.Door.Kind != kit.Sliding {
		b.nodes[i].Do = phrase.Of("build.do-adjust-swing", nm, phrase.With("gap", b.near(gap)), phrase.With("latch", b.near(d.Latch)))
		off := measure.Inch / 8
		b.nodes[i].Check.Least, b.nodes[i].Check.Most = gap-off, gap+off
	} else if d.Stem > 0 {
		b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-stem", phrase.With("stem", phrase.Length(d.Stem)), phrase.With("least", phrase.Length(d.Stems[0])), phrase.With("most", phrase.Length(d.Stems[1])))}
	}
	b.page(page, title, i)
	key := "build.do-nuts-hinges"
	if d.Door.Kind == kit.Sliding {
		key = "build.do-nuts"
	}
	n := b.add(roleNuts, Tighten, here, stageDoors, walk, phrase.Of(key, nm))
	b.goes(n, v, kit.GoesAdjust)
	b.nodes[n].Check = &Target{What: phrase.Of("build.check-runs-clear")}
	b.page(page, title, n)
}
