package buildtest

import (
	"slices"

	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/takeoff"
)

// Failer is what testing.TB and rapid.T have in common.
type Failer interface {
	Helper()
	Errorf(format string, args ...any)
}

// Verify checks what must hold of every order of work, whatever the job: all facts
// of the trade; the order keeps what operations wait for; every piece and every
// screw goes in once; every piece can go in when its turn comes.
func Verify(t Failer, in build.Input, r *build.Result) {
	t.Helper()
	v := Of(in, r)
	v.order(t)
	v.sums(t)
	v.goesIn(t)
	v.steps(t)
	for _, f := range Facts() {
		v.Holds(f, func(first, then int) {
			t.Errorf("%s: nothing keeps %s before %s", f.Says, r.Operations[first].ID, r.Operations[then].ID)
		})
	}
}

// Holds checks a fact and tells each pair of operations for which nothing keeps
// the first before the other. It gives how many pairs there were.
func (v *View) Holds(f Fact, broken func(first, then int)) int {
	n := 0
	f.Pairs(v, func(first, then int) {
		if first < 0 || then < 0 || first == then {
			return
		}
		n++
		if !v.Before(first, then) {
			broken(first, then)
		}
	})
	return n
}

// order checks that what an operation waits for comes before it, by a rule that is
// listed.
func (v *View) order(t Failer) {
	t.Helper()
	known := map[build.RuleID]bool{}
	for _, r := range build.Rules() {
		known[r.ID] = true
	}
	ids := map[string]bool{}
	for i := range v.R.Operations {
		o := &v.R.Operations[i]
		if ids[o.ID] {
			t.Errorf("two operations are called %s", o.ID)
		}
		ids[o.ID] = true
		for _, w := range o.After {
			if w.Op >= i || w.Op < 0 || !known[w.Rule] {
				t.Errorf("%s (%d) waits for %d by %q", o.ID, i, w.Op, w.Rule)
			}
		}
		if o.People < 1 || o.Minutes < 1 || o.WhyMinutes == "" || o.Do.Empty() || o.Place.Structure < 0 || o.Place.Name == "" {
			t.Errorf("%s: %d people, %d min (%s), do %q, at %+v", o.ID, o.People, o.Minutes, o.WhyMinutes, o.Do.Key, o.Place)
		}
		if l := o.Lift; l != nil && !l.Aid && build.LiftTeam(l.People) < l.Carry {
			t.Errorf("%s: %d people lift %v without an aid", o.ID, l.People, l.Carry)
		}
	}
}

// sums checks that operations take what the take-off counts, no more and no less.
func (v *View) sums(t Failer) {
	t.Helper()
	by := map[int]string{}
	for i := range v.R.Operations {
		for _, p := range v.R.Operations[i].Adds {
			if other, twice := by[p]; twice {
				t.Errorf("%s is added by %s and by %s", v.Fit.Pieces[p].Label, other, v.R.Operations[i].ID)
			}
			by[p] = v.R.Operations[i].ID
		}
	}
	aside := map[int]bool{}
	for _, p := range v.R.Aside {
		aside[p] = true
		if !v.Fit.Pieces[p].Misfit {
			t.Errorf("%s is set aside, though it has a place", v.Fit.Pieces[p].Label)
		}
	}
	for p := range v.Fit.Pieces {
		if by[p] == "" && !aside[p] {
			t.Errorf("no operation adds %s", v.Fit.Pieces[p].Label)
		}
	}
	used := make([]int, len(v.Takeoff.Needs))
	for i := range v.R.Operations {
		o := &v.R.Operations[i]
		for k, list := range [][]build.Use{o.Parts, o.Bolts} {
			for _, u := range list {
				n := &v.Takeoff.Needs[u.Need]
				used[u.Need] += u.Count
				if u.Count < 1 || u.Item != n.Item || n.Piece >= 0 || (n.Class == kit.ClassFastener) != (k == 1) {
					t.Errorf("%s uses %+v of %s at %s", o.ID, u, n.Item, n.Place)
				}
			}
		}
	}
	for i := range v.Takeoff.Needs {
		n := &v.Takeoff.Needs[i]
		if n.Piece < 0 && used[i] != n.Count && !aside[v.comesWith(i)] {
			t.Errorf("%s at %s: %d needed, operations use %d", n.Item, n.Place, n.Count, used[i])
		}
	}
}

// comesWith is the piece that a need comes with in the end; -1 for none.
func (v *View) comesWith(need int) int {
	n := &v.Takeoff.Needs[need]
	for n.With >= 0 {
		n = &v.Takeoff.Needs[n.With]
	}
	if n.Class == takeoff.ClassLumber {
		return -1
	}
	return n.Piece
}

// goesIn builds every bay piece by piece: nothing may stand over a piece yet, side
// by side with it, when it goes in; in a leaf nothing above it where it comes from
// above, nothing below it where it comes from below.
func (v *View) goesIn(t Failer) {
	t.Helper()
	in := make([][]int, len(v.Layout.Bays))
	for i := range v.R.Operations {
		for _, p := range v.R.Operations[i].Adds {
			q := &v.Fit.Pieces[p]
			if q.Bay < 0 || q.Kind == fit.Door || q.Kind == fit.Track || q.Kind == fit.Skirt {
				continue // a skirt stands before the posts, in no channel
			}
			for _, k := range in[q.Bay] {
				if o := &v.Fit.Pieces[k]; v.inTheWay(o, q) {
					t.Errorf("%s: %s cannot go in, %s is in the way", v.R.Operations[i].ID, q.Label, o.Label)
				}
			}
			in[q.Bay] = append(in[q.Bay], p)
		}
	}
}

func (v *View) inTheWay(there, comes *fit.Piece) bool {
	if v.Layout.Bays[comes.Bay].IsDoor() {
		if v.band(there) != v.band(comes) {
			return false
		}
		if comes.Below {
			return there.Z < comes.Z
		}
		return there.Z > comes.Z
	}
	return there.Z > comes.Z && there.X < comes.X+comes.Length && comes.X < there.X+there.Length
}

// band is the band of a leaf that a board lies in.
func (v *View) band(p *fit.Piece) int {
	return slices.IndexFunc(v.Fit.Bays[p.Bay].Door.Bands, func(b fit.Band) bool { return p.Z >= b.Z && p.Z < b.Z+b.Panel.Height })
}

// steps checks that pages hold every operation once, in order, each in one
// structure.
func (v *View) steps(t Failer) {
	t.Helper()
	next := 0
	for i := range v.R.Steps {
		s := &v.R.Steps[i]
		if s.No != i+1 || len(s.Ops) == 0 || s.First != next || s.Title.Empty() || s.Like >= i {
			t.Errorf("step %d: number %d, from %d, %d operations, like %d", i, s.No, s.First, len(s.Ops), s.Like)
		}
		var adds []int
		for _, k := range s.Ops {
			o := &v.R.Operations[k]
			if k != next || o.Step != i || o.Place.Structure != s.Place.Structure {
				t.Errorf("step %d holds %s out of its turn", s.No, o.ID)
			}
			adds = append(adds, o.Adds...)
			next++
		}
		if !slices.Equal(adds, s.Adds) {
			t.Errorf("step %d adds %v, its operations %v", s.No, s.Adds, adds)
		}
	}
	if next != len(v.R.Operations) {
		t.Errorf("%d of %d operations are on a page", next, len(v.R.Operations))
	}
}
