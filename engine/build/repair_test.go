package build_test

import (
	"errors"
	"math/bits"
	"slices"
	"testing"

	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/engine/plan"
)

// blocks says whether one piece of a stack keeps another from being lifted out: it
// stands higher, over some of the other's length.
func blocks(over, under *fit.Piece) bool {
	return over.Z > under.Z && over.X < under.X+under.Length && under.X < over.X+over.Length
}

// least finds by trying every set of pieces, smallest first, how few must come out
// of a stack for some of them: what comes out must be free to, one after the other.
func least(all []fit.Piece, stack, old []int) int {
	best := len(stack) + 1
	for set := range 1 << len(stack) {
		if n := bits.OnesCount(uint(set)); n >= best || !holds(set, stack, old) {
			continue
		}
		if free(all, stack, set) {
			best = bits.OnesCount(uint(set))
		}
	}
	return best
}

func holds(set int, stack, old []int) bool {
	for _, p := range old {
		if set&(1<<slices.Index(stack, p)) == 0 {
			return false
		}
	}
	return true
}

// free says whether a set of pieces can come out one by one, nothing else moved.
func free(all []fit.Piece, stack []int, set int) bool {
	in := 1<<len(stack) - 1
	for set != 0 {
		moved := false
		for k := range stack {
			if set&(1<<k) == 0 {
				continue
			}
			held := false
			for o := range stack {
				held = held || in&(1<<o) != 0 && o != k && blocks(&all[stack[o]], &all[stack[k]])
			}
			if !held {
				in, set, moved = in&^(1<<k), set&^(1<<k), true
			}
		}
		if !moved {
			return false
		}
	}
	return true
}

// stackOf are the pieces that stand in a bay.
func stackOf(p *plan.Plan, bay int) []int {
	var out []int
	for _, i := range p.Fit.Bays[bay].Pieces {
		if !p.Fit.Pieces[i].Misfit {
			out = append(out, i)
		}
	}
	return out
}

// A repair takes out the least there is to take out, found by trying all sets of
// pieces, in an order in which nothing is in the way; and puts the same back in an
// order in which everything can go in.
func TestRepairTakesOutTheLeast(t *testing.T) {
	tried := map[string]bool{}
	for name, p := range all(t) {
		for bay := range p.Layout.Bays {
			b, f := &p.Layout.Bays[bay], &p.Fit.Bays[bay]
			kind := string(b.Fill.Kind) + name
			if b.IsDoor() || b.IsOpen() || tried[kind] {
				continue
			}
			tried[kind] = true
			stack := stackOf(p, bay)
			for course := 1; course <= len(f.Courses); course++ {
				r, err := build.Repair(p.Stages(), bay, course, "")
				if err != nil {
					t.Fatal(err)
				}
				out := comesOut(t, p, r, stack)
				if len(stack) <= 13 { // all sets of more take too long to try
					if want := least(p.Fit.Pieces, stack, f.Courses[course-1].Pieces); len(out) != want {
						t.Errorf("%s, %s course %d: %d pieces come out, %d would do", name, b.Name, course, len(out), want)
					}
				}
				goesBack(t, p, r, out)
				if r.Stays != len(stack)-len(out) {
					t.Errorf("%s, %s course %d: %d stay, told %d", name, b.Name, course, len(stack)-len(out), r.Stays)
				}
			}
		}
	}
	if len(tried) < 10 {
		t.Errorf("only %d kinds of bay were tried", len(tried))
	}
}

// comesOut plays the taking out and gives what came out.
func comesOut(t *testing.T, p *plan.Plan, r *build.Replacement, stack []int) []int {
	t.Helper()
	in := slices.Clone(stack)
	var out []int
	loose := false
	for i := range r.Out {
		o := &r.Out[i]
		loose = loose || o.Kind == build.Loosen
		for _, q := range o.Adds {
			if !loose {
				t.Errorf("%s: %s comes out before anything is undone", o.ID, p.Fit.Pieces[q].Label)
			}
			for _, k := range in {
				if k != q && blocks(&p.Fit.Pieces[k], &p.Fit.Pieces[q]) {
					t.Errorf("%s: %s is held by %s", o.ID, p.Fit.Pieces[q].Label, p.Fit.Pieces[k].Label)
				}
			}
			in = slices.DeleteFunc(in, func(k int) bool { return k == q })
			out = append(out, q)
		}
	}
	return out
}

// goesBack plays the putting back: what came out, each once, nothing over it.
func goesBack(t *testing.T, p *plan.Plan, r *build.Replacement, out []int) {
	t.Helper()
	var in []int
	for i := range r.In {
		for _, q := range r.In[i].Adds {
			for _, k := range in {
				if blocks(&p.Fit.Pieces[k], &p.Fit.Pieces[q]) {
					t.Errorf("%s: %s cannot go in under %s", r.In[i].ID, p.Fit.Pieces[q].Label, p.Fit.Pieces[k].Label)
				}
			}
			in = append(in, q)
		}
	}
	slices.Sort(in)
	slices.Sort(out)
	if !slices.Equal(in, out) {
		t.Errorf("%v come out, %v go back", out, in)
	}
}

// Beside a window the frame and the other side stay; under it both come out. The
// new board is as long as the old one.
func TestRepairBesideAWindow(t *testing.T) {
	p := all(t)["three-meadows.yaml"]
	bay, _ := p.Layout.Bay("L1-back")
	names := func(r *build.Replacement) map[string]bool {
		out := map[string]bool{}
		for i := range r.Out {
			for _, q := range r.Out[i].Adds {
				out[p.Fit.Pieces[q].Label] = true
			}
		}
		return out
	}
	r, err := p.Repair("L1-back", "c12L")
	if err != nil {
		t.Fatal(err)
	}
	got := names(r)
	for label, want := range map[string]bool{"L1-back/c12L": true, "L1-back/c15L": true, "L1-back/c16": true, "L1-back/c12R": false, "L1-back/window": false, "L1-back/c11L": false} {
		if got[label] != want {
			t.Errorf("%s comes out: %v, want %v", label, got[label], want)
		}
	}
	if len(r.Spares) != 1 || r.Spares[0].Length != p.Fit.Bays[bay].Window.Boards[0] {
		t.Errorf("the new board: %+v, want %v long", r.Spares, p.Fit.Bays[bay].Window.Boards[0])
	}
	if r, err = p.Repair("L1-back", "5"); err != nil || !names(r)["L1-back/window"] {
		t.Errorf("course 5 of L1-back leaves the window standing (%v)", err)
	}
}

// A leaf comes down first; of a band loaded from below, only what is below the old
// board comes out, and the lowest is fastened again.
func TestRepairOfALeaf(t *testing.T) {
	p := all(t)["harrow-field-pen.yaml"]
	for course, out := range map[string]int{"1": 1, "2": 2, "12": 1, "3": 10} {
		r, err := p.Repair("P-gate-door", course)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for i := 1; i < len(r.Out); i++ {
			n += len(r.Out[i].Adds)
		}
		if r.Out[0].Kind != build.Unhang || n != out {
			t.Errorf("course %s: first %s, %d boards come out, want %d", course, r.Out[0].Kind, n, out)
		}
		screws := 0
		for i := range r.In {
			for _, u := range r.In[i].Bolts {
				screws += u.Count
			}
		}
		if want := map[bool]int{true: 2}[course == "1" || course == "2"]; screws != want {
			t.Errorf("course %s: %d screws go back, want %d", course, screws, want)
		}
	}
}

func TestRepairRefuses(t *testing.T) {
	p := all(t)["three-meadows.yaml"]
	for _, c := range [][2]string{{"L1-L2", "0"}, {"L1-L2", "99"}, {"L1-L2", "x"}, {"L1-L2", "3R"}, {"L5-back", "1"}} {
		_, err := p.Repair(c[0], c[1])
		var repair *build.RepairError
		if !errors.As(err, &repair) || repair.Do == "" {
			t.Errorf("%v: %v", c, err)
		}
	}
	if _, err := p.Repair("Nowhere", "1"); !errors.Is(err, plan.ErrUnknown) {
		t.Errorf("Nowhere: %v", err)
	}
}
