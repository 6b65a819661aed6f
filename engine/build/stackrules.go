package build

// bayRules order what happens in one bay.
var bayRules = []rule{
	{"tight-before-measured", "A bay is measured when its frame is tight and square, or its channels are lagged: its width changes until then.", func(b *builder, before func(int, int)) {
		b.each(roleMeasure, func(i int, s spot) {
			r := atRun(b.Layout.Bays[s.at].Run)
			before(b.node(roleTighten, r), i)
			before(b.node(roleLagRight, r), i)
		})
	}},
	{"measured-before-cut", "Nothing is cut before its bay is measured.", func(b *builder, before func(int, int)) {
		b.each(roleMeasure, func(i int, s spot) {
			before(i, b.node(roleCut, s))
			before(i, b.node(roleTrim, s))
		})
	}},
	{"shimmed-before-boards", "A channel is shimmed, with the width that was measured, before a board goes in.", func(b *builder, before func(int, int)) {
		b.each(roleShim, func(i int, s spot) {
			open, _ := b.opening(s.at)
			before(b.node(roleMeasure, s), i)
			before(i, open)
		})
	}},
	{"cut-before-loaded", "A bay's boards are cut before the first goes in.", func(b *builder, before func(int, int)) {
		b.each(roleMeasure, func(i int, s spot) {
			open, _ := b.opening(s.at)
			before(first(b.node(roleCut, s), i), first(open, b.node(roleLeaf, s)))
		})
	}},
	{"trimmed-before-set", "A grille is trimmed, deburred and its zinc repaired before it is set.", func(b *builder, before func(int, int)) {
		b.each(roleTrim, func(i int, s spot) { before(i, b.node(roleGrille, s)) })
	}},
	{"first-board-level", "The first board is levelled and screwed before another stands on it.", stacked(func(a, _ role) bool { return a == roleFirst })},
	{"treated-at-the-bottom", "Treated boards go in before all others: they stand lowest.", stacked(func(a, _ role) bool { return a == roleTreated })},
	{"board-on-board", "A board goes in before the one above it.", stacked(func(a, c role) bool { return !special(a) && !special(c) })},
	{"grille-on-its-course", "A grille is set when the course that carries it is in.", stacked(func(a, c role) bool { return !special(a) && c == roleGrille })},
	{"course-into-grille", "One course goes down into the grille's top channel before any other.", stacked(func(a, _ role) bool { return a == roleGrille })},
	{"window-on-its-sill", "A window is set when the course that carries it is in.", stacked(func(a, c role) bool { return !special(a) && c == roleWindow })},
	{"boards-beside-window", "Cut boards go in beside a window that stands.", stacked(func(a, _ role) bool { return a == roleWindow })},
	{"feeder-on-its-course", "A feeder is set when its last full course is in.", stacked(func(a, c role) bool { return !special(a) && c == roleFeeder })},
	{"short-boards-beside-feeder", "Short boards go in beside a feeder that stands.", stacked(func(a, _ role) bool { return a == roleFeeder })},
	{"clamped-when-full", "A stack is clamped, or screwed and covered, when its last course is in.", stacked(func(a, c role) bool {
		return a != roleFirst && a != roleTreated && a != roleGrille && a != roleWindow && a != roleFeeder && (c == roleClamp || c == roleFasten)
	})},
}

// special says whether a role of a stack has rules of its own.
func special(r role) bool {
	switch r {
	case roleFirst, roleTreated, roleGrille, roleWindow, roleFeeder, roleClamp, roleFasten:
		return true
	}
	return false
}

// stacked orders neighbours of a stack, the lower before the upper, where these
// are the two.
func stacked(these func(lower, upper role) bool) func(*builder, func(int, int)) {
	return func(b *builder, before func(int, int)) {
		for v := range b.Layout.Bays {
			st := b.stacks[v]
			for k := 1; k < len(st); k++ {
				if these(b.nodes[st[k-1]].role, b.nodes[st[k]].role) {
					before(st[k-1], st[k])
				}
			}
		}
	}
}

// doorRules order a leaf's boards and how it is hung.
var doorRules = []rule{
	{"walls-before-door", "A door is hung beside walls that are clamped.", func(b *builder, before func(int, int)) {
		b.each(roleHang, func(i int, s spot) {
			for _, v := range b.Layout.Runs[b.Layout.Bays[s.at].Run].Bays {
				_, end := b.opening(v)
				before(end, first(b.node(roleTrack, s), i))
			}
		})
	}},
	{"from-above-then-below", "A leaf's boards go in from above, then the last ones from below.", func(b *builder, before func(int, int)) {
		b.each(roleLeafBelow, func(i int, s spot) { before(b.node(roleLeaf, s), i) })
	}},
	{"lowest-board-fastened-last", "The lowest board closes the leaf from below and is fastened: nothing else holds it.", func(b *builder, before func(int, int)) {
		b.each(roleLowest, func(i int, s spot) { before(first(b.node(roleLeafBelow, s), b.node(roleLeaf, s)), i) })
	}},
	{"boarded-before-rollers", "A leaf is boarded before its rollers or hinges go on.", func(b *builder, before func(int, int)) {
		b.each(roleRollers, func(i int, s spot) {
			before(first(b.node(roleLowest, s), b.node(roleLeafBelow, s), b.node(roleLeaf, s)), i)
		})
	}},
	{"rollers-before-track", "Rollers are on the leaf before the track is hung.", func(b *builder, before func(int, int)) {
		b.each(roleTrack, func(i int, s spot) { before(b.node(roleRollers, s), i) })
	}},
	{"track-before-hanging", "The track is up, or the hinges are on, before the leaf is hung.", func(b *builder, before func(int, int)) {
		b.each(roleHang, func(i int, s spot) { before(first(b.node(roleTrack, s), b.node(roleRollers, s)), i) })
	}},
	{"hung-before-adjusted", "A leaf is adjusted where it hangs.", func(b *builder, before func(int, int)) {
		b.each(roleAdjust, func(i int, s spot) { before(b.node(roleHang, s), i) })
	}},
	{"loose-until-level", "The rollers' nuts stay loose until the leaf hangs level and clear of the wall.", func(b *builder, before func(int, int)) {
		b.each(roleNuts, func(i int, s spot) { before(b.node(roleAdjust, s), i) })
	}},
	{"adjusted-before-handle", "Handle and latch go on a leaf that is adjusted: the latch is set to it.", func(b *builder, before func(int, int)) {
		b.each(roleHandle, func(i int, s spot) { before(b.node(roleAdjust, s), i) })
	}},
	{"checked-when-done", "A room is looked over when everything round it is done.", func(b *builder, before func(int, int)) {
		b.each(roleCheck, func(i int, s spot) {
			runs := b.runs[max(b.nodes[i].Place.Structure, 0)]
			if s.scope == ofRoom {
				runs = b.Layout.Rooms[s.at].Runs
			}
			for _, r := range runs {
				for _, v := range b.Layout.Runs[r].Bays {
					_, end := b.opening(v)
					before(end, i)
					before(b.node(roleNuts, atBay(v)), i)
					before(b.node(roleHandle, atBay(v)), i)
				}
			}
			before(b.node(roleUnbrace, at(b.nodes[i].Place.Structure)), i)
		})
	}},
}
