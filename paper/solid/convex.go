package solid

import "slices"

// half is a half space: all places v with normal·v ≤ at.
type half struct {
	normal Vec
	at     float64
}

// Hull is a convex body: its corners, the planes it lies behind, and the ways its
// edges run.
type Hull struct {
	Corners []Vec
	Planes  []half
	Ways    []Vec
}

// Hulls is a part as convex bodies that do not overlap.
func (p *Part) Hulls() []Hull {
	var out []Hull
	for _, poly := range p.cover() {
		out = append(out, p.hull(poly))
	}
	return out
}

func (p *Part) hull(poly []Point) Hull {
	n := len(poly)
	var h Hull
	near, far := make([]Vec, n), make([]Vec, n)
	for i, q := range poly {
		near[i], far[i] = p.place(q, false), p.place(q, true)
	}
	h.Corners = append(append(h.Corners, near...), far...)
	plane := func(a, b, c Vec) {
		if v := b.Sub(a).Cross(c.Sub(a)).Unit(); v != (Vec{}) {
			h.Planes = append(h.Planes, half{v, v.Dot(a)})
		}
	}
	plane(far[0], far[1], far[2])
	plane(near[0], near[2], near[1])
	for i := range poly {
		k := (i + 1) % n
		plane(near[i], near[k], far[k])
		h.Ways = append(h.Ways, near[k].Sub(near[i]).Unit())
	}
	h.Ways = append(h.Ways, far[0].Sub(near[0]).Unit())
	return h
}

// holds says whether a place lies in a body.
func (h *Hull) holds(v Vec) bool {
	for _, p := range h.Planes {
		if p.normal.Dot(v) > p.at {
			return false
		}
	}
	return true
}

func (p *Part) bounds() Box {
	b := emptyBox()
	for _, ring := range p.Outline {
		for _, q := range ring {
			b = b.With(p.place(q, false)).With(p.place(q, true))
		}
	}
	return b
}

// Depth is how far two convex bodies stand in each other: the least way to move
// one so that they only touch; zero or less where some direction separates them.
// Directions tried are those of the separating-axis theorem (S. Gottschalk, M. C.
// Lin, D. Manocha, OBBTree, 1996): normals of both, and products of their edges.
func (h *Hull) Depth(g *Hull) float64 {
	least := -1.0
	first := true
	try := func(axis Vec) bool {
		lo1, hi1 := h.spread(axis)
		lo2, hi2 := g.spread(axis)
		d := min(hi1-lo2, hi2-lo1)
		if first || d < least {
			least, first = d, false
		}
		return d > 0
	}
	for _, list := range [2][]half{h.Planes, g.Planes} {
		for _, p := range list {
			if !try(p.normal) {
				return least
			}
		}
	}
	for _, a := range h.Ways {
		for _, b := range g.Ways {
			axis := a.Cross(b)
			if axis.Norm() < 1e-6 {
				continue
			}
			if !try(axis.Unit()) {
				return least
			}
		}
	}
	return least
}

func (h *Hull) spread(axis Vec) (lo, hi float64) {
	lo = axis.Dot(h.Corners[0])
	hi = lo
	for _, v := range h.Corners[1:] {
		d := axis.Dot(v)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

func sortFloats(list []float64) { slices.Sort(list) }
