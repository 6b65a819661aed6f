package build

import (
	"strconv"

	"stallwright/engine/kit"
	"stallwright/engine/phrase"
)

// part is some courses of a bay that go in as one operation.
type part struct {
	role        role
	kind        Kind
	from, below int // courses, from 0
}

// fill stacks a bay: courses, and what is set among them.
func (b *builder) fill(v, walk, stage int) {
	out := &b.Fit.Bays[v]
	here := spot{ofBay, v}
	screwed := !b.Layout.Runs[b.Layout.Bays[v].Run].Clamped()
	title := b.bayTitle(v, "build.step-boards")
	page := 0
	push := func(i int) {
		b.stacks[v] = append(b.stacks[v], i)
		b.page("boards "+b.Layout.Bays[v].Name+" "+string(rune('a'+page)), title, i)
	}
	n := len(out.Courses)
	band, among := b.among(v) // courses below what is set among them
	for _, p := range b.parts(v, screwed, band) {
		if p.from == band && among != nil {
			page, title = page+1, b.bayTitle(v, b.amongTitle(v))
			among(push, walk, stage)
		}
		if g := out.Grille; g != nil && p.from == b.belowGrille(v) && !b.placed[g.Piece] {
			page, title = page+1, b.bayTitle(v, "build.step-boards-grille")
			push(b.grille(v, walk, stage))
		}
		push(b.load(v, p, walk, stage))
	}
	if band >= n && among != nil {
		among(push, walk, stage)
	}
	if g := out.Grille; g != nil && !b.placed[g.Piece] { // nothing stands over it
		push(b.grille(v, walk, stage))
	}
	if screwed {
		if i := b.fasten(v, walk, stage); i >= 0 {
			push(i)
		}
	} else if i := b.clamp(v, walk, stage, here); i >= 0 {
		push(i)
	}
}

// bayTitle is what stands over a page about a bay.
func (b *builder) bayTitle(v int, key string) phrase.Phrase {
	return phrase.Of(key, phrase.With("name", name(b.Layout.Bays[v].Name)))
}

// among is what is set among a bay's courses, and on how many of them it stands.
func (b *builder) among(v int) (int, func(push func(int), walk, stage int)) {
	out := &b.Fit.Bays[v]
	switch {
	case out.Window != nil:
		sill := int(out.Window.Sill / b.Fit.Board.Coverage)
		return sill, func(push func(int), walk, stage int) { push(b.window(v, walk, stage)) }
	case out.Feeder != nil:
		return out.Feeder.Feeder.On, func(push func(int), walk, stage int) { push(b.feeder(v, walk, stage)) }
	case out.Grille != nil:
		return b.belowGrille(v), func(push func(int), walk, stage int) { push(b.grille(v, walk, stage)) }
	}
	return -1, nil
}

// amongTitle stands over the page on which that is set.
func (b *builder) amongTitle(v int) string {
	switch out := &b.Fit.Bays[v]; {
	case out.Window != nil:
		return "build.step-boards-window"
	case out.Feeder != nil:
		return "build.step-boards-feeder"
	}
	return "build.step-boards-grille"
}

// belowGrille is how many courses a bay's grille stands on.
func (b *builder) belowGrille(v int) int {
	out := &b.Fit.Bays[v]
	for k := range out.Courses {
		if out.Courses[k].Z > out.Grille.Z {
			return k
		}
	}
	return len(out.Courses)
}

// parts splits a bay's courses where something else has to happen: after the
// first board of a screwed wall, after the treated ones, round what is set among
// them, and before the last.
func (b *builder) parts(v int, screwed bool, band int) []part {
	out := &b.Fit.Bays[v]
	n := len(out.Courses)
	if n == 0 {
		return nil
	}
	grille := -1
	if out.Grille != nil {
		grille = b.belowGrille(v)
	}
	var list []part
	for k := 0; k < n; {
		p := part{role: roleLower, kind: Load, from: k, below: n}
		limit := func(at int) {
			if at > k {
				p.below = min(p.below, at)
			}
		}
		limit(band)
		limit(grille)
		if n > 1 {
			limit(n - 1)
		}
		switch {
		case k == 0 && screwed:
			p.role, p.below = roleFirst, 1
		case b.treatedTo(v) > k:
			p.role = roleTreated
			limit(b.treatedTo(v))
		case k == n-1 && n > 1:
			p.role = roleLast
		case grille >= 0 && k == grille:
			p.role = roleInto
			limit(k + 1)
		case out.Window != nil && k == band:
			p.role = roleBeside
			limit(band + out.Window.CutCourses)
		case out.Feeder != nil && k == band:
			p.role = roleShort
		case band >= 0 && k > band:
			p.role = roleClosing
		}
		list = append(list, p)
		k = p.below
	}
	return list
}

// treatedTo is how many courses are treated, from the bottom.
func (b *builder) treatedTo(v int) int {
	n := 0
	for k := range b.Fit.Bays[v].Courses {
		for _, p := range b.Fit.Bays[v].Courses[k].Pieces {
			if !b.Fit.Pieces[p].Treated {
				return n
			}
		}
		n++
	}
	return n
}

// loadKeys are what is said of one course, and of several, by role.
var loadKeys = map[role][2]string{
	roleFirst:   {"build.do-first-board", ""},
	roleTreated: {"build.do-load-treated-one", "build.do-load-treated"},
	roleInto:    {"build.do-course-into-grille", ""},
	roleLast:    {"build.do-last-course", ""},
	roleBeside:  {"build.do-beside-window-one", "build.do-beside-window"},
	roleShort:   {"build.do-short-boards-one", "build.do-short-boards"},
	roleClosing: {"build.do-closing-one", "build.do-closing"},
}

// load puts some courses into their channels. A role may come more than once in a
// bay; then its place in the bay goes into the name.
func (b *builder) load(v int, p part, walk, stage int) int {
	out := &b.Fit.Bays[v]
	keys, ok := loadKeys[p.role]
	if !ok {
		keys = [2]string{"build.do-load-one", "build.do-load"}
	}
	if p.role == roleLast && out.Grille != nil && p.from == b.belowGrille(v) {
		keys[0] = "build.do-last-into-grille"
	}
	args := []phrase.Arg{phrase.With("name", name(b.Layout.Bays[v].Name)), phrase.With("from", phrase.Count(p.from+1))}
	key := keys[0]
	if p.below > p.from+1 {
		key, args = keys[1], append(args, phrase.With("to", phrase.Count(p.below)))
	}
	i := b.add(p.role, p.kind, spot{ofBay, v}, stage, walk, phrase.Of(key, args...))
	for k := p.from; k < p.below; k++ {
		b.piece(i, out.Courses[k].Pieces...)
	}
	if len(b.stacks[v]) > 0 || p.from > 0 {
		b.nodes[i].ID = b.nodes[i].Place.Name + "/" + string(p.role) + "-" + strconv.Itoa(p.from+1)
	}
	if p.role == roleFirst || p.from == 0 {
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-first-level"), Least: -b.mark(), Most: b.mark(), Basis: byTape}
		b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-tongue-up")}
	}
	if p.role == roleFirst {
		b.screws(i, v)
	}
	b.worked(i)
	return i
}

// worked tells which of an operation's boards are notched, and which were cut but
// no longer fit what was measured since.
func (b *builder) worked(op int) {
	n := &b.nodes[op]
	for _, p := range n.Adds {
		v := &b.Fit.Pieces[p]
		if len(v.Notches) > 0 {
			n.How = append(n.How, phrase.Of("build.how-notched", phrase.With("piece", name(v.Label))))
		}
		if v.Misfit {
			n.Cautions = append(n.Cautions, phrase.Of("build.caution-misfit", phrase.With("piece", name(v.Label))))
		}
	}
}

// firstScrews is how many screws the first course of a screwed wall takes: two at
// each end (common practice, no published source).
const firstScrews = 4

// screws gives an operation the first course's share of the screws that hold a
// screwed wall's boards; half of them where they are few.
func (b *builder) screws(op, v int) {
	for _, n := range b.needsAt(kit.JointPanel, v, -1) {
		if b.Takeoff.Needs[n].Class == kit.ClassFastener {
			b.use(op, n, min((b.Takeoff.Needs[n].Count+1)/2, firstScrews), -1, -1)
		}
	}
}

// rest gives an operation everything that still belongs to a bay.
func (b *builder) rest(op, v int) {
	for _, n := range b.needsAt(kit.JointPanel, v, -1) {
		b.use(op, n, b.left(n), -1, -1)
	}
}
