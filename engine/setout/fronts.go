package setout

import (
	"cmp"
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// fronts gives the places of doorways and posts along each wall between standing
// timber that has a doorway.
func (m *maker) fronts(s int, o *Structure) {
	for i := range m.layout.Walls {
		w := &m.layout.Walls[i]
		if w.Structure != s || !m.hasDoor(w) {
			continue
		}
		if l := m.frontLine(w); len(l.Marks) > 0 {
			o.Lines = append(o.Lines, l)
		}
	}
}

// hasDoor says whether a wall holds a doorway and starts at standing timber.
func (m *maker) hasDoor(w *frame.Wall) bool {
	if len(w.Runs) == 0 || m.layout.Posts[m.layout.Runs[w.Runs[0]].From].Kind != frame.Timber {
		return false
	}
	for _, r := range w.Runs {
		for _, v := range m.layout.Runs[r].Bays {
			if m.layout.Bays[v].IsDoor() {
				return true
			}
		}
	}
	return false
}

// frontLine runs along one wall from left to right, seen from its front. The
// tape is hooked on the face of the first post that looks along the wall: no
// tape reaches a post's centre.
func (m *maker) frontLine(w *frame.Wall) Line {
	first := &m.layout.Runs[w.Runs[0]]
	half := m.layout.Seen(first.From, w.Runs[0]) / 2
	l := Line{Kind: LineWall, Name: w.Name, Zero: m.name(first.From), Taped: m.taped(w)}
	zero := reason.Given(phrase.Of("why.centre-to-face", phrase.With("post", phrase.Name(m.name(first.From)))), m.near(half), phrase.Of("source.half-timber"))
	seen := map[[2]string]bool{}
	for _, r := range w.Runs {
		for _, k := range m.frontMarks(r) {
			key := [2]string{string(k.What), k.At}
			if k.From.Value == half && r == w.Runs[0] || seen[key] {
				continue // the zero itself, or told with the run before
			}
			seen[key] = true
			k.From.Value -= half
			k.From.Why = reason.Of(phrase.Of("why.mark-from", phrase.With("mark", k.What.says(k.At)), called("post", l.Zero)), m.near(k.From.Value), phrase.Of("rule.run-start"), phrase.Phrase{}, k.From.Why, zero)
			l.Marks = append(l.Marks, k)
		}
	}
	slices.SortStableFunc(l.Marks, func(a, b Mark) int { return cmp.Compare(a.From.Value, b.From.Value) })
	return l
}

// frontMarks are the places in one run, from the axis of the wall's first post,
// and from the face of its own left post.
func (m *maker) frontMarks(run int) []Mark {
	l := m.layout
	r := &l.Runs[run]
	start := l.Line(run)
	var out []Mark
	face := l.Seen(r.From, run) / 2
	add := func(what MarkKind, at string, x measure.Length, why *reason.Reason) {
		own := m.of(x-face, phrase.Of("why.mark-from", phrase.With("mark", what.says(at)), called("post", l.Posts[r.From].Name)), phrase.Of("rule.run-less-post"), phrase.Phrase{}, why)
		out = append(out, Mark{what, at, Number{start + x, why}, own})
	}
	add(MarkPostRight, l.Posts[r.From].Name, face, r.Why)
	left, right := -1, -1 // its door posts
	for _, p := range r.DoorPosts {
		if name := l.Posts[p].Name; name == r.Name+".l" {
			left = p
		} else if name == r.Name+".r" {
			right = p
		}
	}
	for _, v := range r.Bays {
		b := &l.Bays[v]
		if !b.IsDoor() {
			continue
		}
		x := r.Ends[0].Reach + b.Start
		if left >= 0 {
			add(MarkDoorPost, l.Posts[left].Name, x-l.Posts[left].Along/2, b.Why)
		}
		add(MarkDoorwayLeft, b.Name, x, b.Why)
		add(MarkDoorwayRight, b.Name, x+b.Clear, b.Why)
		if right >= 0 {
			add(MarkDoorPost, l.Posts[right].Name, x+b.Clear+l.Posts[right].Along/2, b.Why)
		}
	}
	add(MarkPostLeft, l.Posts[r.To].Name, r.Centres-l.Seen(r.To, run)/2, r.Why)
	return out
}

// taped counts the openings of a wall that were measured.
func (m *maker) taped(w *frame.Wall) (t Taping) {
	for _, r := range w.Runs {
		t.Openings++
		if m.layout.Runs[r].Measured {
			t.Measured++
		}
	}
	return t
}

// marks are what stands at a mark, for reasons.
var marks = map[MarkKind]string{
	MarkPostLeft: "why.mark-post-left", MarkPostRight: "why.mark-post-right", MarkDoorPost: "why.mark-door-post",
	MarkDoorwayLeft: "why.mark-doorway-left", MarkDoorwayRight: "why.mark-doorway-right", MarkStake: "why.mark-stake",
}

// says is what stands at a mark of a place.
func (k MarkKind) says(at string) phrase.Phrase { return phrase.Of(marks[k], called("at", at)) }
