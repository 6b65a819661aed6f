package steps

import (
	"math"

	"stallwright/paper/draw"
	"stallwright/paper/solid"
)

// facet is a flat convex piece of a surface that looks at the eye, on the
// picture plane, with its depth a·x + b·y + c.
type facet struct {
	pts     [][2]float64
	a, b, c float64
	box     rectangle
	near    float64 // its least and its most depth
	far     float64
	added   bool
}

// tint fills what shows of the added parts' faces with a light grey. Faces are
// painted from far to near, those of what stands in white where they cover an
// added one; only pairs that cover each other need an order.
func (p *picture) tint() {
	var list []facet
	all := emptyRectangle()
	for i := range p.cast {
		if a := &p.cast[i]; a.added {
			for _, f := range p.facets(a) {
				if f.box.meets(p.box) {
					list = append(list, f)
					all = all.join(f.box)
				}
			}
		}
	}
	n := len(list)
	if n == 0 || n > mostFacets {
		return
	}
	for i := range p.cast {
		a := &p.cast[i]
		if a.added || !p.spread(a).meets(all) {
			continue
		}
		for _, f := range p.facets(a) {
			for k := range n {
				if nearer(&f, &list[k]) {
					list = append(list, f)
					break
				}
			}
			if len(list) > 2*mostFacets {
				return
			}
		}
	}
	for _, i := range painted(list) {
		f := &list[i]
		fill := draw.White()
		if f.added {
			fill = tintAdded
		}
		var run []draw.PaperPoint
		for _, q := range p.box.within(f.pts) {
			run = append(run, p.paper(q[0], q[1]))
		}
		if len(run) > 2 {
			p.put(draw.Stroke{Layer: layerTint, Fill: fill, Closed: true, Runs: [][]draw.PaperPoint{run}})
		}
	}
}

// mostFacets bounds the faces that are tinted; a picture of more is legible by
// its lines alone.
const mostFacets = 900

// facets are the faces of an actor that look at the eye.
func (p *picture) facets(a *actor) []facet {
	var out []facet
	m := a.mesh
	for i := range m.Faces {
		f := &m.Faces[i]
		look := -p.cam.Away.Dot(f.Normal)
		if look < 1e-3 {
			continue
		}
		for _, ring := range f.Convex() {
			q := facet{added: a.added, box: emptyRectangle(), near: math.Inf(1), far: math.Inf(-1), pts: make([][2]float64, 0, len(ring))}
			var first solid.Vec
			for k, n := range ring {
				v := p.on(a, m.Points[n])
				if k == 0 {
					first = v
				}
				q.pts = append(q.pts, [2]float64{v.X, v.Y})
				q.box = q.box.with(v.X, v.Y)
				q.near, q.far = min(q.near, v.Z), max(q.far, v.Z)
			}
			q.a, q.b = p.cam.Right.Dot(f.Normal)/look, p.cam.Up.Dot(f.Normal)/look
			q.c = first.Z - float64(q.a*first.X) - float64(q.b*first.Y)
			out = append(out, q)
		}
	}
	return out
}

// overlapLeast is the least area, in square metres, that counts as covering.
const overlapLeast = 1e-6

// compare says whether f lies before g where they cover each other: -1 before, 1
// behind, 0 where they do not or lie flush.
func compare(f, g *facet) int {
	if !f.box.meets(g.box) {
		return 0
	}
	pts := clipConvex(f.pts, g.pts)
	area, x, y := 0.0, 0.0, 0.0
	for i := range pts {
		a, b := pts[i], pts[(i+1)%len(pts)]
		area += float64(a[0]*b[1]) - float64(a[1]*b[0])
		x += a[0]
		y += a[1]
	}
	if len(pts) < 3 || math.Abs(area)/2 < overlapLeast {
		return 0
	}
	x, y = x/float64(len(pts)), y/float64(len(pts))
	d := (float64(f.a*x) + float64(f.b*y) + f.c) - (float64(g.a*x) + float64(g.b*y) + g.c)
	switch {
	case d < -1e-4:
		return -1
	case d > 1e-4:
		return 1
	}
	return 0
}

// nearer says whether f covers part of g.
func nearer(f, g *facet) bool { return f.near < g.far && compare(f, g) < 0 }

// clipConvex is what two convex polygons share (I. E. Sutherland, G. W. Hodgman,
// Reentrant Polygon Clipping, 1974).
func clipConvex(a, b [][2]float64) [][2]float64 {
	out := a
	turn := 0.0
	for i := range b {
		p, q := b[i], b[(i+1)%len(b)]
		turn += float64(p[0]*q[1]) - float64(p[1]*q[0])
	}
	for i := range b {
		p, q := b[i], b[(i+1)%len(b)]
		if turn < 0 {
			p, q = q, p
		}
		in := out
		out = nil
		side := func(r [2]float64) float64 {
			return float64((q[0]-p[0])*(r[1]-p[1])) - float64((q[1]-p[1])*(r[0]-p[0]))
		}
		for k := range in {
			r, s := in[k], in[(k+1)%len(in)]
			dr, ds := side(r), side(s)
			if dr >= 0 {
				out = append(out, r)
			}
			if (dr > 0 && ds < 0) || (dr < 0 && ds > 0) {
				t := dr / (dr - ds)
				out = append(out, [2]float64{r[0] + float64((s[0]-r[0])*t), r[1] + float64((s[1]-r[1])*t)})
			}
		}
		if len(out) == 0 {
			return nil
		}
	}
	return out
}

// within is what of a convex polygon lies in the rectangle.
func (r rectangle) within(pts [][2]float64) [][2]float64 {
	return clipConvex(pts, [][2]float64{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}})
}

// painted is the order in which facets are painted, far before near: among those
// free to be next the first given. Where three cover each other in a ring, the
// ring is broken at the first.
func painted(list []facet) []int {
	n := len(list)
	after, waits := make([][]int, n), make([]int, n) // after: painted later than it
	for i := range n {
		for k := i + 1; k < n; k++ {
			if list[i].added == list[k].added {
				continue // equal paint: their order does not show
			}
			switch compare(&list[i], &list[k]) {
			case 1: // i lies behind
				after[i] = append(after[i], k)
				waits[k]++
			case -1:
				after[k] = append(after[k], i)
				waits[i]++
			}
		}
	}
	done := make([]bool, n)
	var out []int
	for len(out) < n {
		next := -1
		for i := range n {
			if !done[i] && (waits[i] == 0 || next < 0) {
				if next < 0 || waits[i] < waits[next] {
					next = i
				}
				if waits[i] == 0 {
					break
				}
			}
		}
		done[next] = true
		out = append(out, next)
		for _, k := range after[next] {
			waits[k]--
		}
	}
	return out
}
