package solid

import (
	"slices"
)

// Clash is two solids that stand in each other.
type Clash struct {
	A, B  int     // into Scene.Solids, A before B
	Depth float64 // how far one would have to move, in metres
}

// Clashes lists the solids of a finished job that stand in each other by more
// than a tolerance, in metres: pairs in the order of the scene. Pins, straps and
// other sheer solids, which pass through others, are left out.
func (s *Scene) Clashes(tolerance float64) []Clash {
	order := make([]int, 0, len(s.Solids))
	for i := range s.Solids {
		if !s.Solids[i].Sheer && len(s.Solids[i].Parts) > 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		switch x, y := s.Bounds(a).Min.X, s.Bounds(b).Min.X; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return a - b
	})
	hulls := make([][]Hull, len(s.Solids))
	of := func(i int) []Hull {
		if hulls[i] == nil {
			for k := range s.Solids[i].Parts {
				hulls[i] = append(hulls[i], s.Solids[i].Parts[k].Hulls()...)
			}
		}
		return hulls[i]
	}
	var out []Clash
	for k, i := range order {
		box := s.Bounds(i)
		for _, j := range order[k+1:] {
			other := s.Bounds(j)
			if other.Min.X > box.Max.X-tolerance {
				break
			}
			if s.Solids[i].Structure != s.Solids[j].Structure || !box.Grown(-tolerance/2).Meets(other.Grown(-tolerance/2)) {
				continue
			}
			if d := deepest(of(i), of(j), tolerance); d > tolerance {
				out = append(out, Clash{min(i, j), max(i, j), d})
			}
		}
	}
	slices.SortFunc(out, func(a, b Clash) int {
		if a.A != b.A {
			return a.A - b.A
		}
		return a.B - b.B
	})
	return out
}

// deepest is how far two bodies of convex ones stand in each other at most.
func deepest(a, b []Hull, tolerance float64) float64 {
	most := 0.0
	for i := range a {
		for j := range b {
			if d := a[i].Depth(&b[j]); d > max(most, tolerance) {
				most = d
			}
		}
	}
	return most
}
