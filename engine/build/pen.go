package build

import (
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// pen puts up a ring: each section is bolted on the ground, stood, moved and
// pinned to the one before; the gate section closes the ring.
func (b *builder) pen(s int) {
	runs := b.ring(s)
	for n, r := range runs {
		b.section(r, n)
	}
	for n, r := range runs {
		b.pins(r, n, n == len(runs)-1)
	}
	b.loosePins(s)
	if len(runs) == 0 {
		return
	}
	first := runs[0]
	i := b.add(roleBrace, Brace, spot{ofRun, first}, stageFrames, 0, phrase.Of("build.do-brace-section", phrase.With("name", name(b.Layout.Runs[first].Name))))
	b.page(b.framePage(first)+" up", b.runTitle("build.step-first-up", first), i)
	i = b.add(roleRound, Level, spot{ofStructure, s}, stageTighten, 0, phrase.Of("build.do-round", phrase.With("name", name(b.Layout.Structures[s].Name))))
	if p := b.Setout.Structures[s].Pen; p != nil && len(p.Piers) > 0 {
		// Half the way round the pins' clearance adds up on both sides.
		off := max(p.TakeUp.Value/2, 4*b.mark())
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-across", phrase.With("from", name(p.Piers[0].Name)), phrase.With("to", name(p.Piers[0].Far))),
			Value: p.Piers[0].Across.Value, Least: p.Piers[0].Across.Value - off, Most: p.Piers[0].Across.Value + off, Basis: byPractice}
	}
	b.page("round", phrase.Of("build.step-round", phrase.With("name", name(b.Layout.Structures[s].Name))), i)
	for n, r := range runs {
		v := &b.Layout.Runs[r]
		i := b.add(roleTighten, Tighten, spot{ofRun, r}, stageTighten, n+1, phrase.Of("build.do-tighten", phrase.With("name", name(v.Name)), phrase.With("n", phrase.Count(b.boltCount(r)))))
		b.plumb(i, v.Height)
		b.page("tighten", phrase.Of("build.step-tighten", phrase.With("name", name(b.Layout.Structures[s].Name))), i)
	}
	u := b.add(roleUnbrace, Unbrace, spot{ofStructure, s}, stageTighten, 5000, phrase.Of("build.do-unbrace", phrase.With("name", name(b.Layout.Structures[s].Name))))
	b.page("unbrace", phrase.Of("build.step-tighten", phrase.With("name", name(b.Layout.Structures[s].Name))), u)
}

// ring lists a pen's sections in the order they go up: round from the gate, the
// gate last.
func (b *builder) ring(s int) []int {
	runs := b.runs[s]
	if len(runs) == 0 {
		return nil
	}
	var out []int
	gate := -1
	for _, r := range runs {
		if gate < 0 && b.isGate(r) {
			gate = r
			continue
		}
		out = append(out, r)
	}
	if gate >= 0 {
		out = append(out, gate)
	}
	return out
}

func (b *builder) isGate(run int) bool { return b.Layout.Runs[run].Role == "gate" }

func (b *builder) framePage(run int) string { return "frame " + b.Layout.Runs[run].Name }

// runTitle is what stands over a page about a run.
func (b *builder) runTitle(key string, run int) phrase.Phrase {
	return phrase.Of(key, phrase.With("name", name(b.Layout.Runs[run].Name)))
}

// section lays out, bolts, stands and moves one section.
func (b *builder) section(r, walk int) {
	v := &b.Layout.Runs[r]
	here := spot{ofRun, r}
	title, page := b.runTitle("build.step-ground", r), b.framePage(r)
	up := b.runTitle("build.step-pin-up", r)
	if walk == 0 { // nothing stands yet that it could be pinned to
		up = b.runTitle("build.step-first-up", r)
	}
	nm := phrase.With("name", name(v.Name))

	i := b.add(roleLayout, Layout, here, stageFrames, walk, phrase.Of("build.do-lay-out", nm, phrase.With("n", phrase.Count(len(b.runOf[r])))))
	b.piece(i, b.kindOf(r, fit.Tube, nil)...)
	b.piece(i, b.kindOf(r, fit.Post, nil)...)
	b.page(page, title, i)
	i = b.add(roleBolt, Bolt, here, stageFrames, walk, phrase.Of("build.do-bolt-corners", nm))
	b.hold(i, kit.JointFrame, r, -1, 1, 1)
	for _, p := range v.DoorPosts {
		b.hold(i, kit.JointDoorPost, r, p, 1, 1)
	}
	b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-hand-tight")}
	b.frameCheck(i, r)
	b.page(page, title, i)
	i = b.add(roleStand, Stand, here, stageFrames, walk, phrase.Of("build.do-stand-section", nm))
	b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-tips"), phrase.Of("build.caution-hard-hat")}
	b.page(page+" up", up, i)
	i = b.add(roleMove, Move, here, stageFrames, walk, phrase.Of("build.do-move-section", nm, phrase.With("from", name(b.Layout.Posts[v.From].Name)), phrase.With("to", name(b.Layout.Posts[v.To].Name))))
	if b.isGate(r) {
		b.nodes[i].Do = phrase.Of("build.do-close-ring", nm, phrase.With("centres", b.near(v.Centres)))
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-gate-gap"), Value: v.Centres, Least: v.Centres - b.play(v.Structure), Most: v.Centres + b.play(v.Structure), Basis: "clearance of the pins in their holes, all round the ring"}
	}
	b.page(page+" up", up, i)
}

// play is how much the pins let the ring's last opening be off.
func (b *builder) play(s int) measure.Length {
	if p := b.Setout.Structures[s].Pen; p != nil {
		return max(p.TakeUp.Value, b.mark())
	}
	return b.mark()
}

// pins joins a section to the one before; the last one closes the ring at both
// its ends.
func (b *builder) pins(r, walk int, closes bool) {
	v := &b.Layout.Runs[r]
	if walk > 0 || closes { // the first stands alone
		b.pin(v.From, walk, b.framePage(r)+" up", b.runTitle("build.step-pin-up", r))
	}
	if closes {
		b.pin(v.To, walk, b.framePage(r)+" up", b.runTitle("build.step-pin-up", r))
	}
}

// pin puts in the two pins of a joint.
func (b *builder) pin(p, walk int, page string, title phrase.Phrase) {
	here := spot{ofPost, p}
	if b.node(rolePinLow, here) >= 0 || len(b.joints[jointKey{kit.JointSections, -1, p}]) == 0 {
		return
	}
	nm := phrase.With("post", name(b.Layout.Posts[p].Name))
	low := b.add(rolePinLow, Pin, here, stageFrames, walk, phrase.Of("build.do-pin-bottom", nm))
	b.hold(low, kit.JointSections, -1, p, 1, 2)
	high := b.add(rolePinHigh, Pin, here, stageFrames, walk, phrase.Of("build.do-pin-top", nm))
	b.hold(high, kit.JointSections, -1, p, 1, 1)
	if b.foot(high, p); len(b.needsAt(kit.JointBase, -1, p)) > 1 {
		b.nodes[high].How = []phrase.Phrase{phrase.Of("build.how-foot")}
	}
	b.nodes[low].How = []phrase.Phrase{phrase.Of("build.how-pin-loose")}
	b.page(page, title, low, high)
}

// loosePins takes in the joints at which nothing was built on the one side or the
// other: their pins are ordered, and go in when somebody builds there.
func (b *builder) loosePins(s int) {
	for n, p := range b.posts[s] {
		b.pin(p, len(b.runs[s])+n, "pins", phrase.Of("build.step-pins", phrase.With("name", name(b.Layout.Structures[s].Name))))
	}
}

// boltCount is how many bolts a frame's corners and door posts take.
func (b *builder) boltCount(r int) int {
	n := 0
	count := func(list []int) {
		for _, i := range list {
			if v := &b.Takeoff.Needs[i]; v.Class == kit.ClassFastener {
				n += v.Count
			}
		}
	}
	count(b.needsAt(kit.JointFrame, r, -1))
	for _, p := range b.Layout.Runs[r].DoorPosts {
		count(b.needsAt(kit.JointDoorPost, r, p))
	}
	return n
}

// plumb checks that what stands is upright: 1/8 in over its height.
func (b *builder) plumb(op int, height measure.Length) {
	off := measure.Inch / 8
	b.nodes[op].Check = &Target{What: phrase.Of("build.check-plumb", phrase.With("height", phrase.Length(height))), Least: -off, Most: off, Basis: byPractice}
}

// frameCheck checks a frame's diagonals on the ground.
func (b *builder) frameCheck(op, r int) {
	b.nodes[op].Check = &Target{What: phrase.Of("build.check-frame-diagonals"), Least: -measure.Inch / 8, Most: measure.Inch / 8, Basis: byPractice}
}
