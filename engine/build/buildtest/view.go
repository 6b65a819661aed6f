// Package buildtest checks an order of work from outside: by the facts of the
// trade, as pairs that must hold in every order that the rules allow, and by what
// must hold of any order whatever. It looks at the result only, not at the rules
// that made it.
package buildtest

import (
	"cmp"
	"slices"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// View is an order of work to ask questions of.
type View struct {
	build.Input
	R     *build.Result
	reach [][]uint64 // of each operation, a bit for each that must come before it
	byID  map[string]int
	roles map[string][]int
	runs  map[string]int
	posts map[int]bool // on a front
}

// Of views the work of a job.
func Of(in build.Input, r *build.Result) *View {
	v := &View{Input: in, R: r, byID: map[string]int{}, roles: map[string][]int{}, runs: map[string]int{}, posts: map[int]bool{}}
	words := (len(r.Operations) + 63) / 64
	for i := range r.Operations {
		o := &r.Operations[i]
		v.byID[o.ID] = i
		v.roles[v.Role(i)] = append(v.roles[v.Role(i)], i)
		bits := make([]uint64, words)
		for _, w := range o.After {
			if w.Op < i { // else told by Order
				bits[w.Op/64] |= 1 << (w.Op % 64)
				for k, b := range v.reach[w.Op] {
					bits[k] |= b
				}
			}
		}
		v.reach = append(v.reach, bits)
	}
	for i := range in.Layout.Runs {
		if q := &in.Layout.Runs[i]; q.Role == job.WallFront && q.Filled(in.Layout) {
			v.posts[q.From], v.posts[q.To] = true, true
		}
	}
	return v
}

// Before says whether every order that the rules allow has one operation before
// another.
func (v *View) Before(first, then int) bool { return v.reach[then][first/64]&(1<<(first%64)) != 0 }

// Role is the part of an operation's ID behind its place, without its number.
func (v *View) Role(i int) string {
	id := v.R.Operations[i].ID
	role := id[strings.LastIndex(id, "/")+1:]
	if k := strings.LastIndex(role, "-"); k > 0 && strings.Trim(role[k+1:], "0123456789") == "" {
		role = role[:k]
	}
	return role
}

// At is the operation of a role at a place; -1 for none.
func (v *View) At(place, role string) int {
	if i, ok := v.byID[place+"/"+role]; ok {
		return i
	}
	return -1
}

// Ops are the operations of a role.
func (v *View) Ops(role string) []int { return v.roles[role] }

// PlaceOf is where an operation happens, by name.
func (v *View) PlaceOf(i int) string { return v.R.Operations[i].Place.Name }

// Structure is that of an operation.
func (v *View) Structure(i int) int { return v.R.Operations[i].Place.Structure }

// RunOf is the run of an operation.
func (v *View) RunOf(i int) int { return v.R.Operations[i].Place.Run }

// Run, Bay and Post name things of the layout.
func (v *View) Run(r int) string { return v.Layout.Runs[r].Name }

// Bay names a bay.
func (v *View) Bay(b int) string { return v.Layout.Bays[b].Name }

// Post names a post.
func (v *View) Post(p int) string { return v.Layout.Posts[p].Name }

func (v *View) ends(r int) []int { return []int{v.Layout.Runs[r].From, v.Layout.Runs[r].To} }

// built are a structure's runs that hold anything.
func (v *View) built(s int) []int {
	var out []int
	for i := range v.Layout.Runs {
		if r := &v.Layout.Runs[i]; r.Structure == s && r.Filled(v.Layout) {
			out = append(out, i)
		}
	}
	return out
}

// frames calls f for each built run with such ends.
func (v *View) frames(ends kit.Ends, f func(r int)) {
	for s := range v.Layout.Structures {
		for _, r := range v.built(s) {
			if v.Layout.Runs[r].Assembly.Ends == ends {
				f(r)
			}
		}
	}
}

func (v *View) sections(f func(r int))              { v.frames(kit.EndsOwn, f) }
func (v *View) fronts(ends kit.Ends, f func(r int)) { v.frames(ends, f) }
func (v *View) onFront(p int) bool                  { return v.posts[p] }

// Ring is a pen's built runs in the layout's order, the gate first; none where
// something of the ring is not built.
func (v *View) Ring(s int) []int {
	runs := v.built(s)
	if v.Layout.Structures[s].Kind != frame.Pen || len(runs) < 3 || v.Layout.Runs[runs[0]].Role != job.WallGate {
		return nil
	}
	for k := range runs {
		if v.Layout.Runs[runs[k]].To != v.Layout.Runs[runs[(k+1)%len(runs)]].From {
			return nil
		}
	}
	return runs
}

// meeting are the walls between channels that meet a front at either post.
func (v *View) meeting(front int) []int {
	var out []int
	v.frames(kit.EndsChannel, func(w int) {
		q := &v.Layout.Runs[w]
		if q.Role != job.WallDivider && q.Role != job.WallSide {
			return
		}
		for _, p := range v.ends(front) {
			if (q.From == p || q.To == p) && !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	})
	return out
}

// framedFirst has every frame with such ends of a structure tight before a bay of
// any is measured or loaded.
func (v *View) framedFirst(ends kit.Ends, before func(int, int)) {
	v.frames(ends, func(r int) {
		v.frames(ends, func(o int) {
			if v.Layout.Runs[r].Structure != v.Layout.Runs[o].Structure {
				return
			}
			for _, bay := range v.Layout.Runs[o].Bays {
				before(v.At(v.Run(r), "tighten"), v.At(v.Bay(bay), "measure"))
				before(v.At(v.Run(r), "tighten"), v.FirstOf(bay))
			}
		})
	})
}

// walls calls f for each built run between two corners of a room on steel posts.
func (v *View) walls(f func(room, r int)) {
	for i := range v.Layout.Rooms {
		room := &v.Layout.Rooms[i]
		if len(room.Corners) != 4 || slices.ContainsFunc(room.Corners, func(p int) bool { return v.Layout.Posts[p].Kind != frame.Steel }) {
			continue
		}
		for _, r := range v.built(room.Structure) {
			if q := &v.Layout.Runs[r]; slices.Contains(room.Corners, q.From) && slices.Contains(room.Corners, q.To) {
				f(i, r)
			}
		}
	}
}

// boards has the boards of some walls of a room before those of others.
func (v *View) boards(before func(int, int), these, those []job.WallRole) {
	v.walls(func(room, r int) {
		if !slices.Contains(these, v.Layout.Runs[r].Role) {
			return
		}
		v.walls(func(other, o int) {
			if other != room || !slices.Contains(those, v.Layout.Runs[o].Role) {
				return
			}
			for _, a := range v.Layout.Runs[r].Bays {
				for _, c := range v.Layout.Runs[o].Bays {
					loads, next := v.Loads(a), v.Loads(c)
					if len(loads) > 0 && len(next) > 0 {
						before(loads[len(loads)-1], next[0])
					}
				}
			}
		})
	})
}

// Loads are the operations that put boards into a bay (not a door), in order.
func (v *View) Loads(bay int) []int {
	return slices.DeleteFunc(v.Stack(bay), func(i int) bool { return v.R.Operations[i].Kind != build.Load })
}

// Stack are the operations that fill a bay, in order.
func (v *View) Stack(bay int) []int {
	if v.Layout.Bays[bay].IsDoor() {
		return nil
	}
	var out []int
	for i := range v.R.Operations {
		o := &v.R.Operations[i]
		if o.Place.Bay != bay {
			continue
		}
		switch o.Kind {
		case build.Load, build.Capture, build.Fit, build.Fasten, build.Clamp:
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, c int) int { return cmp.Compare(v.low(a), v.low(c)) })
	return out
}

// low ranks an operation of a stack by where its lowest piece stands: an order that
// does not come from the order of work. What adds no piece comes last.
func (v *View) low(i int) int64 {
	o := &v.R.Operations[i]
	z := int64(1) << 62
	for _, p := range o.Adds {
		q := &v.Fit.Pieces[p]
		at := int64(q.Z)
		if q.Kind == fit.Grille || q.Kind == fit.Window || q.Kind == fit.Feeder {
			at-- // it stands before what goes in beside or over it
		}
		if q.Kind == fit.Packing {
			continue
		}
		z = min(z, at)
	}
	return z
}

// FirstOf is the first operation that puts a board into a bay or its leaf; -1 for
// none.
func (v *View) FirstOf(bay int) int {
	if v.Layout.Bays[bay].IsDoor() {
		return v.At(v.Bay(bay), "leaf-from-above")
	}
	if l := v.Loads(bay); len(l) > 0 {
		return l[0]
	}
	return -1
}
