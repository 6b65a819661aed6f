package build

import (
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
)

// roof fixes roof posts under the roof once every wall beneath is clamped, and
// then takes away what braced the frames.
func (b *builder) roof(s int) {
	if b.Layout.Structures[s].Kind == frame.Pen || !b.onSteel(s) {
		return
	}
	nm := phrase.With("name", name(b.Layout.Structures[s].Name))
	i := b.add(roleClamped, Check, spot{ofStructure, s}, stageRoof, 0, phrase.Of("build.do-look-at-clamps", nm))
	b.page("clamped", phrase.Of("build.step-clamped", nm), i)
	for n, p := range b.posts[s] {
		if len(b.needsAt(kit.JointRoof, -1, p)) == 0 {
			continue
		}
		i := b.add(roleRoof, Roof, spot{ofPost, p}, stageRoof, n+1, phrase.Of("build.do-roof", phrase.With("post", name(b.Layout.Posts[p].Name))))
		b.hold(i, kit.JointRoof, -1, p, 1, 1)
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-engineer"), phrase.Of("build.caution-ladder"), phrase.Of("build.caution-hard-hat")}
		b.page("roof", phrase.Of("build.step-roof", nm), i)
	}
	u := b.add(roleUnbrace, Unbrace, spot{ofStructure, s}, stageRoof, 10_000, phrase.Of("build.do-unbrace", nm))
	b.page("clamped", phrase.Of("build.step-clamped", nm), u)
}

// onSteel says whether a structure stands on steel posts of its own.
func (b *builder) onSteel(s int) bool {
	for _, p := range b.posts[s] {
		if b.Layout.Posts[p].Kind == frame.Steel {
			return true
		}
	}
	return false
}

// last looks everything over before a horse goes in.
func (b *builder) last(s int) {
	st := phrase.With("name", name(b.Layout.Structures[s].Name))
	title := phrase.Of("build.step-check", st)
	n := 0
	for i := range b.Layout.Rooms {
		room := &b.Layout.Rooms[i]
		if room.Structure != s || !b.bounded(i) {
			continue
		}
		op := b.add(roleCheck, Check, spot{ofRoom, i}, stageCheck, n, phrase.Of("build.do-check-room", phrase.With("name", name(room.Name))))
		b.page("check", title, op)
		n++
	}
	if n == 0 && len(b.runs[s]) > 0 {
		op := b.add(roleCheck, Check, spot{ofStructure, s}, stageCheck, 0, phrase.Of("build.do-check-all", st))
		b.page("check", title, op)
	}
}

// bounded says whether anything built bounds a room.
func (b *builder) bounded(room int) bool {
	for _, r := range b.Layout.Rooms[room].Runs {
		if b.Layout.Runs[r].Filled(b.Layout) {
			return true
		}
	}
	return false
}
