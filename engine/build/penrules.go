package build

import "stallwright/engine/frame"

// penRules order a ring of sections.
var penRules = []rule{
	{"laid-out-before-bolted", "A section's parts are laid out on the ground before any is bolted.", func(b *builder, before func(int, int)) {
		b.each(roleBolt, func(i int, s spot) { before(b.node(roleLayout, s), i) })
	}},
	{"bolted-before-stood", "A section is bolted on the ground before it stands.", func(b *builder, before func(int, int)) {
		b.each(roleBolt, func(i int, s spot) { before(i, b.node(roleStand, s)) })
	}},
	{"stood-before-moved", "A section stands before it is brought to its place.", func(b *builder, before func(int, int)) {
		b.each(roleMove, func(i int, s spot) { before(b.node(roleStand, s), i) })
	}},
	{"moved-before-pinned", "Both sections of a joint stand in their places before it is pinned.", func(b *builder, before func(int, int)) {
		b.each(rolePinLow, func(i int, s spot) {
			for _, r := range b.runsAt(s.at) {
				before(b.node(roleMove, atRun(r)), i)
			}
		})
	}},
	{"bottom-pin-first", "A joint's bottom pin goes in before its top pin.", func(b *builder, before func(int, int)) {
		b.each(rolePinHigh, func(i int, s spot) { before(b.node(rolePinLow, s), i) })
	}},
	{"brace-the-first", "The first section is braced before the next comes to it: alone it tips.", func(b *builder, before func(int, int)) {
		b.each(roleBrace, func(i int, s spot) {
			if s.scope != ofRun {
				return
			}
			before(b.node(roleMove, s), i)
			if ring := b.ring(b.Layout.Runs[s.at].Structure); len(ring) > 1 {
				before(i, b.node(roleMove, atRun(ring[1])))
			}
		})
	}},
	{"round-the-ring", "Sections go round: each is pinned to the one before until the next is moved.", func(b *builder, before func(int, int)) {
		for s := range b.Layout.Structures {
			ring := b.ring(s)
			for k := 2; k < len(ring); k++ {
				if !b.isGate(ring[k]) {
					before(b.node(rolePinHigh, atPost(b.Layout.Runs[ring[k-1]].From)), b.node(roleMove, atRun(ring[k])))
				}
			}
		}
	}},
	{"gate-section-last", "The gate section closes the ring: every other section stands and is pinned, and the gap is measured.", func(b *builder, before func(int, int)) {
		for s := range b.Layout.Structures {
			ring := b.ring(s)
			if n := len(ring); n > 1 && b.isGate(ring[n-1]) {
				gate := b.node(roleMove, atRun(ring[n-1]))
				before(b.node(rolePinHigh, atPost(b.Layout.Runs[ring[n-2]].From)), gate)
				if n == 2 {
					before(b.node(roleMove, atRun(ring[0])), gate)
				}
			}
		}
	}},
	{"tighten-after-pins", "Corner bolts are tightened after a section is pinned at both ends: the pins draw it true.", func(b *builder, before func(int, int)) {
		b.each(roleTighten, func(i int, s spot) {
			before(b.node(rolePinHigh, atPost(b.Layout.Runs[s.at].From)), i)
			before(b.node(rolePinHigh, atPost(b.Layout.Runs[s.at].To)), i)
		})
	}},
	{"ring-closed-before-round", "A ring is made round and level once it is closed.", func(b *builder, before func(int, int)) {
		b.each(roleRound, func(i int, s spot) {
			for _, p := range b.posts[s.at] {
				before(b.node(rolePinHigh, atPost(p)), i)
			}
			for _, r := range b.runs[s.at] {
				before(b.node(roleMove, atRun(r)), i)
			}
		})
	}},
	{"ring-before-boards", "Boards go in only after the ring is closed and round: a boarded section cannot be moved.", func(b *builder, before func(int, int)) {
		b.each(roleRound, func(i int, s spot) {
			for _, r := range b.runs[s.at] {
				for _, v := range b.Layout.Runs[r].Bays {
					open, _ := b.opening(v)
					before(i, open)
					before(i, b.node(roleLeaf, atBay(v)))
				}
			}
		})
	}},
	{"braces-until-tight", "Braces stay until every frame is tight.", func(b *builder, before func(int, int)) {
		b.each(roleUnbrace, func(i int, s spot) {
			for _, r := range b.runs[s.at] {
				before(b.node(roleTighten, atRun(r)), i)
			}
		})
	}},
	{"pen-before-gate", "The gate is boarded when every section of the pen is clamped.", func(b *builder, before func(int, int)) {
		for s := range b.Layout.Structures {
			if b.Layout.Structures[s].Kind != frame.Pen {
				continue
			}
			for _, r := range b.runs[s] {
				for _, v := range b.Layout.Runs[r].Bays {
					leaf := b.node(roleLeaf, atBay(v))
					if leaf < 0 {
						continue
					}
					for _, o := range b.runs[s] {
						for _, w := range b.Layout.Runs[o].Bays {
							_, end := b.opening(w)
							before(end, leaf)
						}
					}
				}
			}
		}
	}},
}
