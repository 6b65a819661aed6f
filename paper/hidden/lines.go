package hidden

import (
	"math"
	"slices"

	"stallwright/paper/solid"
)

// facing is the least cosine at which a face counts as looking at the eye; one
// seen edge-on hides nothing.
const facing = 1e-6

// point is a place on the picture plane.
type point struct{ x, y float64 }

// face is a front face on the picture plane: its rings, and its depth a·x + b·y + c.
type face struct {
	rings   []int32 // where each ring begins in the picture's points, and the end
	a, b, c float64
	lo, hi  point
	near    float64 // its least depth
	body    int
}

// edge is a candidate on the picture plane, with its depths.
type edge struct {
	p, q       point
	zp, zq     float64
	body, edge int
	outline    bool
	own        [2]int // faces of the picture it belongs to; -1 for none
}

// picture is a scene on the picture plane.
type picture struct {
	opt    Options
	faces  []face
	edges  []edge
	pts    []point
	rings  []int32
	lo, hi point
}

// Lines finds what can be seen of every body's edges.
func Lines(bodies []Body, c Camera, o Options) []Line {
	p := project(bodies, c, o.or())
	g := newGrid(p)
	var out []Line
	w := &walker{picture: p, grid: g, seen: make([]int32, len(p.faces))}
	for i := range p.edges {
		out = w.visible(out, int32(i+1), &p.edges[i])
	}
	return out
}

// project puts bodies on the picture plane.
func project(bodies []Body, c Camera, o Options) *picture {
	inf := math.Inf(1)
	p := &picture{opt: o, lo: point{inf, inf}, hi: point{-inf, -inf}}
	faces, edges, points := 0, 0, 0
	for n := range bodies {
		faces += len(bodies[n].Mesh.Faces)/2 + 1
		edges += len(bodies[n].Mesh.Edges) / 2
		points += len(bodies[n].Mesh.Points) * 2
	}
	p.faces, p.edges, p.pts, p.rings = make([]face, 0, faces), make([]edge, 0, edges), make([]point, 0, points), make([]int32, 0, 2*faces)
	var on []solid.Vec
	var at []int
	for n := range bodies {
		b := &bodies[n]
		on = on[:0]
		for _, v := range b.Mesh.Points {
			on = append(on, c.On(v.Add(b.Move)))
		}
		at = at[:0]
		for i := range b.Mesh.Faces {
			at = append(at, p.face(&b.Mesh.Faces[i], on, c, n, b.Ghost))
		}
		for i := range b.Mesh.Edges {
			p.edge(&b.Mesh.Edges[i], on, at, n, i)
		}
		for i, w := range b.Mesh.Wires {
			p.add(on[w[0]], on[w[1]], edge{body: n, edge: len(b.Mesh.Edges) + i, own: [2]int{-1, -1}})
		}
	}
	return p
}

// Facing of a face as kept while edges are sorted.
const (
	lookAway = -1
	edgeOn   = -2
	ghostly  = -3 // looks at the eye, but hides nothing
)

// face adds a face that looks at the eye and tells its number, or how it stands.
func (p *picture) face(f *solid.Face, on []solid.Vec, c Camera, body int, ghost bool) int {
	look := -c.Away.Dot(f.Normal)
	switch {
	case look < -facing:
		return lookAway
	case look <= facing:
		return edgeOn
	case ghost:
		return ghostly
	}
	// On the plane n·v = d, with v = x·right + y·up + z·away: z = (d − x·n·right −
	// y·n·up) / n·away.
	nz := -look
	v := on[f.Rings[0][0]]
	out := face{a: -c.Right.Dot(f.Normal) / nz, b: -c.Up.Dot(f.Normal) / nz, body: body, near: math.Inf(1)}
	out.c = v.Z - float64(out.a*v.X) - float64(out.b*v.Y)
	inf := math.Inf(1)
	out.lo, out.hi = point{inf, inf}, point{-inf, -inf}
	first := len(p.rings)
	for _, r := range f.Rings {
		p.rings = append(p.rings, int32(len(p.pts)))
		for _, j := range r {
			q := on[j]
			p.pts = append(p.pts, point{q.X, q.Y})
			out.lo = point{min(out.lo.x, q.X), min(out.lo.y, q.Y)}
			out.hi = point{max(out.hi.x, q.X), max(out.hi.y, q.Y)}
			out.near = min(out.near, q.Z)
		}
	}
	p.rings = append(p.rings, int32(len(p.pts)))
	out.rings = p.rings[first:len(p.rings):len(p.rings)]
	if w := p.opt.Window; w != (Window{}) && (out.hi.x < w.X0 || out.lo.x > w.X1 || out.hi.y < w.Y0 || out.lo.y > w.Y1) {
		return ghostly
	}
	p.faces = append(p.faces, out)
	return len(p.faces) - 1
}

// edge adds an edge that may show.
func (p *picture) edge(e *solid.Edge, on []solid.Vec, at []int, body, n int) {
	front, away := 0, 0
	own := [2]int{-1, -1}
	for i, f := range e.Faces {
		switch {
		case f < 0 || at[f] == lookAway:
			away++
		case at[f] == edgeOn:
			away++
		default:
			front++
			own[i] = at[f]
		}
	}
	if front == 0 || e.Soft && front != 1 {
		return
	}
	p.add(on[e.A], on[e.B], edge{body: body, edge: n, outline: away > 0, own: own})
}

func (p *picture) add(a, b solid.Vec, e edge) {
	if w := p.opt.Window; w != (Window{}) && (max(a.X, b.X) < w.X0 || min(a.X, b.X) > w.X1 || max(a.Y, b.Y) < w.Y0 || min(a.Y, b.Y) > w.Y1) {
		return
	}
	e.p, e.q, e.zp, e.zq = point{a.X, a.Y}, point{b.X, b.Y}, a.Z, b.Z
	p.lo = point{min(p.lo.x, min(a.X, b.X)), min(p.lo.y, min(a.Y, b.Y))}
	p.hi = point{max(p.hi.x, max(a.X, b.X)), max(p.hi.y, max(a.Y, b.Y))}
	p.edges = append(p.edges, e)
}

// span is a stretch of an edge, in shares of its length.
type span struct{ from, to float64 }

// walker takes edges through the grid.
type walker struct {
	*picture
	grid   *grid
	seen   []int32 // by face, the last edge that met it
	hidden []span
	knots  []float64
}

// visible adds what can be seen of an edge.
func (w *walker) visible(out []Line, stamp int32, e *edge) []Line {
	dx, dy := e.q.x-e.p.x, e.q.y-e.p.y
	long := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if long < w.opt.Short/100 {
		return out
	}
	w.hidden = w.hidden[:0]
	covered := false
	w.grid.along(e, func(f int32) bool {
		if w.seen[f] == stamp {
			return true
		}
		w.seen[f] = stamp
		if int(f) == e.own[0] || int(f) == e.own[1] {
			return true
		}
		w.behind(e, &w.faces[f])
		if n := len(w.hidden); n > 0 && w.hidden[n-1].from <= 0 && w.hidden[n-1].to >= 1 {
			covered = true
		}
		return !covered
	})
	if covered {
		return out
	}
	slices.SortFunc(w.hidden, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	least := min(w.opt.Short/long, 0.9)
	at := 0.0
	emit := func(from, to float64) {
		if to-from < least {
			return
		}
		out = append(out, Line{
			X0: e.p.x + float64(dx*from), Y0: e.p.y + float64(dy*from), X1: e.p.x + float64(dx*to), Y1: e.p.y + float64(dy*to),
			Body: e.body, Edge: e.edge, Outline: e.outline,
		})
	}
	for _, h := range w.hidden {
		if h.from > at {
			emit(at, h.from)
		}
		at = max(at, h.to)
	}
	if at < 1 {
		emit(at, 1)
	}
	return out
}

// behind adds the stretches of an edge that a face hides.
func (w *walker) behind(e *edge, f *face) {
	lox, hix, loy, hiy := e.p.x, e.q.x, e.p.y, e.q.y
	if lox > hix {
		lox, hix = hix, lox
	}
	if loy > hiy {
		loy, hiy = hiy, loy
	}
	if f.lo.x > hix || f.hi.x < lox || f.lo.y > hiy || f.hi.y < loy {
		return
	}
	// How far the edge lies behind the face's plane at its ends.
	from, to := 0.0, 1.0
	d0 := e.zp - (float64(f.a*e.p.x) + float64(f.b*e.p.y) + f.c) - w.opt.Depth
	d1 := e.zq - (float64(f.a*e.q.x) + float64(f.b*e.q.y) + f.c) - w.opt.Depth
	switch {
	case d0 <= 0 && d1 <= 0:
		return
	case d0 <= 0:
		from = d0 / (d0 - d1)
	case d1 <= 0:
		to = d0 / (d0 - d1)
	}
	w.knots = append(w.knots[:0], from, to)
	for k := 1; k < len(f.rings); k++ {
		r := w.pts[f.rings[k-1]:f.rings[k]]
		last := r[len(r)-1]
		for _, q := range r {
			if t, ok := crossing(e.p, e.q, last, q); ok && t > from && t < to {
				w.knots = append(w.knots, t)
			}
			last = q
		}
	}
	if len(w.knots) > 2 {
		slices.Sort(w.knots)
	}
	for i := 1; i < len(w.knots); i++ {
		a, b := w.knots[i-1], w.knots[i]
		if b-a <= 0 {
			continue
		}
		t := (a + b) / 2
		if w.covers(f, point{e.p.x + float64((e.q.x-e.p.x)*t), e.p.y + float64((e.q.y-e.p.y)*t)}) {
			if n := len(w.hidden); i > 1 && n > 0 && w.hidden[n-1].to == a {
				w.hidden[n-1].to = b
				continue
			}
			w.hidden = append(w.hidden, span{a, b})
		}
	}
}

// crossing is the share of p–q at which it crosses the line a–b between its ends.
func crossing(p, q, a, b point) (float64, bool) {
	ux, uy := q.x-p.x, q.y-p.y
	side := func(r point) float64 { return float64(ux*(r.y-p.y)) - float64(uy*(r.x-p.x)) }
	sa, sb := side(a), side(b)
	if (sa > 0) == (sb > 0) {
		return 0, false
	}
	t := sa / (sa - sb)
	x, y := a.x+float64((b.x-a.x)*t)-p.x, a.y+float64((b.y-a.y)*t)-p.y
	return (float64(x*ux) + float64(y*uy)) / (float64(ux*ux) + float64(uy*uy)), true
}

// covers says whether a place lies in a face, by the even-odd rule.
func (p *picture) covers(f *face, v point) bool {
	in := false
	for k := 1; k < len(f.rings); k++ {
		r := p.pts[f.rings[k-1]:f.rings[k]]
		a := r[len(r)-1]
		for _, b := range r {
			if (a.y > v.y) != (b.y > v.y) {
				// Always from the lower corner, so that two faces that share the side
				// agree.
				lo, hi := a, b
				if lo.y > hi.y {
					lo, hi = hi, lo
				}
				if float64((hi.x-lo.x)*(v.y-lo.y))-float64((v.x-lo.x)*(hi.y-lo.y)) > 0 {
					in = !in
				}
			}
			a = b
		}
	}
	return in
}
