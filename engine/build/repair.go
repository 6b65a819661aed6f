package build

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Replacement is what it takes to put a new board into a bay that is filled.
type Replacement struct {
	Bay, Course int
	Title       phrase.Phrase
	Notes       []phrase.Phrase
	Spares      []Spare
	Out         []Operation // what must come out, in order: no more than that
	In          []Operation // and back in
	Stays       int         // pieces of the bay that stay where they are
}

// Spare is a new board, cut as the one it replaces.
type Spare struct {
	Piece   int            // that it replaces, into fit.Result.Pieces
	Length  measure.Length // as cut
	Rip     measure.Length // face covered, where it is ripped to that; else zero
	Treated bool
	Notched bool
}

// RepairError says why a board cannot be replaced.
type RepairError struct {
	Why string
	Do  string // what would be right
}

func (e *RepairError) Error() string { return e.Why + "; " + e.Do }

// Repair works out how to replace a course (from 1 at the bottom) of a bay: the
// least that must come out, in order, the new board, and all back in. side is the
// end of a piece's label where a course holds several and only one is meant: L or R
// beside a window, .1 or .2 of two leaves; empty means all of them. The error is a
// RepairError.
func Repair(in Input, bay, course int, side string) (*Replacement, error) {
	b := newBuilder(in)
	b.gather()
	v, f := &b.Layout.Bays[bay], &b.Fit.Bays[bay]
	if len(f.Courses) == 0 {
		return nil, &RepairError{v.Name + " holds no boards", "name a bay that is filled"}
	}
	if course < 1 || course > len(f.Courses) {
		return nil, &RepairError{fmt.Sprintf("%s has no course %d", v.Name, course), fmt.Sprintf("a course from 1 at the bottom to %d", len(f.Courses))}
	}
	var old []int
	for _, p := range f.Courses[course-1].Pieces {
		if strings.HasSuffix(b.Fit.Pieces[p].Label, side) {
			old = append(old, p)
		}
	}
	if len(old) == 0 {
		return nil, &RepairError{fmt.Sprintf("course %d of %s holds no board that ends in %s", course, v.Name, side), "leave the end out to replace the whole course"}
	}
	r := &repairer{b: b, bay: bay, old: old, nm: phrase.With("name", name(v.Name)), out: &Replacement{Bay: bay, Course: course}}
	r.out.Title = phrase.Of("build.repair-title", r.nm, phrase.With("course", phrase.Count(course)))
	r.spares()
	if v.IsDoor() {
		r.leaf()
	} else {
		r.wall()
	}
	for _, list := range [][]Operation{r.out.Out, r.out.In} {
		b.finish(list)
	}
	return r.out, nil
}

type repairer struct {
	b    *builder
	bay  int
	old  []int // to be replaced
	free []int // comes out, the old ones among it
	nm   phrase.Arg
	out  *Replacement
}

func (r *repairer) spares() {
	for _, p := range r.old {
		v := &r.b.Fit.Pieces[p]
		s := Spare{Piece: p, Length: v.Length, Treated: v.Treated, Notched: len(v.Notches) > 0}
		if v.Ripped {
			s.Rip = v.Height
		}
		r.out.Spares = append(r.out.Spares, s)
	}
	r.out.Notes = append(r.out.Notes, phrase.Of("build.repair-tongue"))
}

// wall takes a stack down to the board and builds it up again.
func (r *repairer) wall() {
	b, stack := r.b, r.b.stacks[r.bay]
	r.free = above(b.Fit.Pieces, r.pieces(stack), r.old)
	held := "build.repair-screwed"
	if b.Layout.Runs[b.Layout.Bays[r.bay].Run].Clamped() {
		held = "build.repair-clamped"
	}
	r.out.Notes = append(r.out.Notes, phrase.Of(held))
	r.out.Stays = len(r.pieces(stack)) - len(r.free)
	for _, i := range slices.Backward(stack) {
		r.takeOut(&b.nodes[i])
	}
	for _, i := range stack {
		r.putBack(&b.nodes[i])
	}
}

// pieces are those of a stack that an operation adds.
func (r *repairer) pieces(stack []int) []int {
	var out []int
	for _, i := range stack {
		out = append(out, r.b.nodes[i].Adds...)
	}
	return out
}

// above is what must come out of a stack for some of its pieces: they, and all
// that stands over any of what comes out.
func above(all []fit.Piece, stack, old []int) []int {
	out := slices.Clone(old)
	for k := 0; k < len(out); k++ {
		p := &all[out[k]]
		for _, i := range stack {
			if q := &all[i]; q.Z > p.Z && q.X < p.X+p.Length && p.X < q.X+q.Length && !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out
}

// coming are the pieces of an operation that come out, the old ones apart.
func (r *repairer) coming(n *node) (rest, old []int) {
	for _, p := range n.Adds {
		switch {
		case slices.Contains(r.old, p):
			old = append(old, p)
		case slices.Contains(r.free, p):
			rest = append(rest, p)
		}
	}
	return rest, old
}

// op starts an operation of a repair at the bay.
func (r *repairer) op(k Kind, code string, do phrase.Phrase, adds ...int) Operation {
	p := r.b.place(atBay(r.bay))
	return Operation{ID: p.Name + "/" + code, Kind: k, Place: p, Do: do, Adds: adds, People: 1, Step: -1}
}

// takeOut undoes one operation of the stack.
func (r *repairer) takeOut(n *node) {
	rest, old := r.coming(n)
	put := func(o Operation) { r.out.Out = append(r.out.Out, o) }
	switch n.role {
	case roleClamp, roleFasten:
		o := r.op(Loosen, "loosen", phrase.Of("build.do-loosen-screws", r.nm))
		if n.role == roleClamp {
			o.Do = phrase.Of("build.do-loosen-clamps", r.nm, phrase.With("n", phrase.Count(r.b.countOf(r.bay))))
		}
		o.Parts, o.Bolts = n.Parts, n.Bolts
		put(o)
		if len(rest) > 0 {
			put(r.op(Unload, "take-packing", phrase.Of("build.do-take-packing", r.nm), rest...))
		}
		return
	case roleGrille, roleWindow, roleFeeder:
		if len(rest) > 0 {
			do := map[role]phrase.Phrase{
				roleGrille: phrase.Of("build.do-take-grille", r.nm), roleWindow: phrase.Of("build.do-take-window", r.nm), roleFeeder: phrase.Of("build.do-take-feeder", r.nm),
			}[n.role]
			o := r.op(Unload, "take-"+string(n.role), do, rest...)
			o.Parts, o.Bolts = n.Parts, n.Bolts
			put(o)
		}
		return
	}
	if len(rest) > 0 {
		slices.Reverse(rest)
		o := r.op(Unload, "take-"+string(n.role), r.courses("build.do-take-out-one", "build.do-take-out", rest), rest...)
		if n.role == roleFirst {
			o.Bolts = n.Bolts
		}
		put(o)
	}
	if len(old) > 0 {
		o := r.op(Unload, "take-old", phrase.Of("build.do-take-old", r.nm, phrase.With("from", phrase.Count(r.out.Course))), old...)
		if n.role == roleFirst {
			o.Bolts = n.Bolts
		}
		put(o)
	}
}

// courses says which courses pieces belong to.
func (r *repairer) courses(one, several string, pieces []int) phrase.Phrase {
	lo, hi := r.b.Fit.Pieces[pieces[0]].Course, r.b.Fit.Pieces[pieces[0]].Course
	for _, p := range pieces {
		lo, hi = min(lo, r.b.Fit.Pieces[p].Course), max(hi, r.b.Fit.Pieces[p].Course)
	}
	if lo == hi {
		return phrase.Of(one, r.nm, phrase.With("from", phrase.Count(lo)))
	}
	return phrase.Of(several, r.nm, phrase.With("from", phrase.Count(lo)), phrase.With("to", phrase.Count(hi)))
}

// putBack does one operation of the stack again, as far as it was undone.
func (r *repairer) putBack(n *node) {
	rest, old := r.coming(n)
	put := func(o Operation) { r.out.In = append(r.out.In, o) }
	switch n.role {
	case roleClamp, roleFasten:
		if len(rest) > 0 {
			put(r.op(Load, "put-packing", phrase.Of("build.do-put-packing", r.nm), rest...))
		}
		o := n.Operation
		o.Adds, o.How = nil, nil
		put(o)
		return
	case roleGrille, roleWindow, roleFeeder:
		if len(rest) > 0 {
			o := n.Operation
			o.ID = o.Place.Name + "/put-" + string(n.role)
			o.Do = map[role]phrase.Phrase{
				roleGrille: phrase.Of("build.do-put-grille", r.nm), roleWindow: phrase.Of("build.do-put-window", r.nm), roleFeeder: phrase.Of("build.do-put-feeder", r.nm),
			}[n.role]
			put(o)
		}
		return
	}
	for _, p := range old {
		v := &r.b.Fit.Pieces[p]
		o := r.op(Load, "new-"+strings.TrimPrefix(v.Label, r.b.Layout.Bays[r.bay].Name+"/"), phrase.Of("build.do-new-board", phrase.With("piece", name(v.Label)), phrase.With("length", phrase.Length(v.Length))), p)
		if n.role == roleFirst {
			o.Bolts = n.Bolts
			o.Check = n.Check
		}
		put(o)
	}
	if len(rest) > 0 {
		o := r.op(Load, "put-"+string(n.role), r.courses("build.do-put-back-one", "build.do-put-back", rest), rest...)
		if n.role == roleInto && len(rest) == len(n.Adds) {
			o.Do = n.Do
		}
		if n.role == roleFirst {
			o.Bolts = n.Bolts
		}
		put(o)
	}
}

// leaf replaces a board of a door: the leaf comes down, the boards of the band
// come out from where they went in.
func (r *repairer) leaf() {
	b, d := r.b, r.b.Fit.Bays[r.bay].Door
	below := b.Fit.Pieces[r.old[0]].Below
	band := r.band()
	for _, p := range band {
		v, o := &b.Fit.Pieces[p], &b.Fit.Pieces[r.old[0]]
		same := slices.Contains(r.old, p)
		for _, q := range r.old { // of two leaves only that of the old board
			same = same || leafOf(v.Label) == leafOf(b.Fit.Pieces[q].Label)
		}
		if same && (below && v.Course <= o.Course || !below && v.Course >= o.Course) {
			r.free = append(r.free, p)
		}
	}
	slices.SortStableFunc(r.free, func(p, q int) int { return b.Fit.Pieces[p].Course - b.Fit.Pieces[q].Course })
	if !below {
		slices.Reverse(r.free)
	}
	r.out.Stays = len(b.Fit.Bays[r.bay].Pieces) - len(r.free)
	n := phrase.With("n", phrase.Count(len(r.free)))
	take := r.op(Unhang, "take-leaf", phrase.Of("build.do-take-leaf", r.nm), d.Piece)
	var rest []int
	for _, p := range r.free {
		if !slices.Contains(r.old, p) {
			rest = append(rest, p)
		}
	}
	r.out.Out = append(r.out.Out, take)
	if below {
		o := r.op(Unload, "take-below", phrase.Of("build.do-take-below", r.nm, n), r.free...)
		if i := b.node(roleLowest, atBay(r.bay)); i >= 0 {
			o.Bolts = b.nodes[i].Bolts
		}
		r.out.Out = append(r.out.Out, o)
	} else {
		if len(rest) > 0 {
			r.out.Out = append(r.out.Out, r.op(Unload, "take-above", r.courses("build.do-take-out-one", "build.do-take-out", rest), rest...))
		}
		r.out.Out = append(r.out.Out, r.op(Unload, "take-old", phrase.Of("build.do-take-old", r.nm, phrase.With("from", phrase.Count(r.out.Course))), r.old...))
	}
	slices.Reverse(rest)
	r.newLeafBoards(below, rest)
	r.out.In = append(r.out.In, r.op(Hang, "put-leaf", phrase.Of("build.do-put-leaf", r.nm)))
	for _, role := range []role{roleAdjust, roleNuts} {
		if i := b.node(role, atBay(r.bay)); i >= 0 {
			o := b.nodes[i].Operation
			o.Parts = nil
			r.out.In = append(r.out.In, o)
		}
	}
}

// newLeafBoards puts new boards into a leaf, and those back that came out for them.
func (r *repairer) newLeafBoards(below bool, rest []int) {
	b := r.b
	fastened := func(o Operation) Operation {
		if i := b.node(roleLowest, atBay(r.bay)); i >= 0 {
			o.Bolts = b.nodes[i].Bolts
		}
		return o
	}
	if below && len(rest) == 0 {
		r.out.In = append(r.out.In, fastened(r.op(Fasten, "new-board", phrase.Of("build.do-leaf-lowest", r.nm), r.old...)))
		return
	}
	for _, p := range r.old {
		v := &b.Fit.Pieces[p]
		r.out.In = append(r.out.In, r.op(Load, "new-board", phrase.Of("build.do-new-board", phrase.With("piece", name(v.Label)), phrase.With("length", phrase.Length(v.Length))), p))
	}
	switch {
	case below:
		r.out.In = append(r.out.In, fastened(r.op(Load, "put-below", phrase.Of("build.do-put-below", r.nm, phrase.With("n", phrase.Count(len(rest)))), rest...)))
	case len(rest) > 0:
		r.out.In = append(r.out.In, r.op(Load, "put-above", r.courses("build.do-put-back-one", "build.do-put-back", rest), rest...))
	}
}

// leafOf is the leaf that a board's label names: 1, 2, or nothing for one leaf.
func leafOf(label string) string {
	_, leaf, _ := strings.Cut(label[strings.LastIndex(label, "/")+1:], ".")
	return leaf
}

// band are the boards between the same two rails of a leaf as the old ones.
func (r *repairer) band() []int {
	d, all := r.b.Fit.Bays[r.bay].Door, r.b.Fit.Pieces
	var out []int
	for _, v := range d.Bands {
		if z := all[r.old[0]].Z; v.Panel.Fill != kit.PanelBoards || z < v.Z || z >= v.Z+v.Panel.Height {
			continue
		}
		for _, p := range r.b.Fit.Bays[r.bay].Pieces {
			if q := &all[p]; q.Kind == fit.Board && r.b.inPlace(p) && q.Z >= v.Z && q.Z < v.Z+v.Panel.Height {
				out = append(out, p)
			}
		}
	}
	return out
}

// finish works out people, minutes and tools of operations that stand in no plan.
func (b *builder) finish(list []Operation) {
	for i := range list {
		n := node{Operation: list[i]}
		n.People = 1
		n.Lift = nil
		if l := b.heaviest(&n); l != nil {
			if n.Kind == Unhang || n.Kind == Hang {
				l.Piece, l.Mass = b.Fit.Bays[n.Place.Bay].Door.Piece, b.leafMass(n.Place.Bay)
			}
			b.lift(&n, l)
		} else if n.Kind == Hang {
			b.lift(&n, &Lift{Piece: b.Fit.Bays[n.Place.Bay].Door.Piece, Mass: b.leafMass(n.Place.Bay)})
		}
		n.People, n.Minutes, n.WhyMinutes = b.effort(&n.Operation, b.bolted(&n))
		b.equip(&n.Operation, n.Bolts)
		list[i] = n.Operation
	}
}
