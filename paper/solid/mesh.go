package solid

import "math"

// Mesh is the surface of a solid in space.
type Mesh struct {
	Points []Vec
	Faces  []Face
	Edges  []Edge
	Wires  [][2]int32 // axes of what is too thin to have a surface in drawings
}

// Face is a flat piece of a surface: outlines of points, the outer one
// counter-clockwise seen from outside, holes the other way round.
type Face struct {
	Rings  [][]int32
	Cover  [][]int32 // the same area as convex polygons; nil where Rings is one
	Normal Vec       // outward, of length one
	Part   int32
}

// Convex is the face as convex polygons.
func (f *Face) Convex() [][]int32 {
	if f.Cover != nil {
		return f.Cover
	}
	return f.Rings
}

// Edge is where two faces meet. Soft edges only stand for a curve: they show
// where the surface turns away.
type Edge struct {
	A, B  int32
	Faces [2]int32 // -1 for none
	Soft  bool
}

// meshOf is the surface of a solid: that of its parts, without the lines where
// welded parts lie flush.
func meshOf(s *Solid) *Mesh {
	m := &Mesh{}
	for i := range s.Parts {
		m.prism(&s.Parts[i], int32(i))
	}
	if s.Welded && len(s.Parts) > 1 {
		m.weld(s)
	}
	return m
}

// Surface is the surface of parts by themselves, wires with all their sides: for
// models, which have no lines to leave out.
func Surface(parts []Part) *Mesh {
	m := &Mesh{}
	for i := range parts {
		p := parts[i]
		p.Fine = false
		m.prism(&p, int32(i))
	}
	return m
}

func (m *Mesh) point(v Vec) int32 {
	m.Points = append(m.Points, v)
	return int32(len(m.Points) - 1)
}

// prism adds a part's surface.
func (m *Mesh) prism(p *Part, part int32) {
	if p.Fine {
		c := middle(p.Outline[0])
		m.Wires = append(m.Wires, [2]int32{m.point(p.place(c, false)), m.point(p.place(c, true))})
		return
	}
	near, far := Face{Part: part}, Face{Part: part}
	nearAt, farAt := int32(len(m.Faces)), int32(len(m.Faces)+1)
	m.Faces = append(m.Faces, near, far)
	at := [2]map[Point]int32{{}, {}}
	for _, ring := range p.Outline {
		n := len(ring)
		a, b := make([]int32, n), make([]int32, n)
		for i, q := range ring {
			a[i], b[i] = m.point(p.place(q, false)), m.point(p.place(q, true))
			at[0][q], at[1][q] = a[i], b[i]
		}
		first := int32(len(m.Faces))
		for i := range ring {
			k := (i + 1) % n
			m.Faces = append(m.Faces, Face{Rings: [][]int32{{a[i], a[k], b[k], b[i]}}, Part: part})
			side, before := first+int32(i), first+int32((i+n-1)%n)
			m.Edges = append(m.Edges,
				Edge{A: a[i], B: a[k], Faces: [2]int32{side, nearAt}},
				Edge{A: b[i], B: b[k], Faces: [2]int32{side, farAt}},
				Edge{A: a[i], B: b[i], Faces: [2]int32{before, side}, Soft: p.Round})
		}
		back := make([]int32, n)
		for i := range a {
			back[n-1-i] = a[i]
		}
		near.Rings, far.Rings = append(near.Rings, back), append(far.Rings, b)
	}
	if p.Cover != nil {
		for _, c := range p.Cover {
			a, b := make([]int32, len(c)), make([]int32, len(c))
			for i, q := range c {
				a[len(c)-1-i], b[i] = m.known(at[0], p, q, false), m.known(at[1], p, q, true)
			}
			near.Cover, far.Cover = append(near.Cover, a), append(far.Cover, b)
		}
	}
	m.Faces[nearAt], m.Faces[farAt] = near, far
	for i := int(nearAt); i < len(m.Faces); i++ {
		m.Faces[i].Normal = m.normal(m.Faces[i].Rings[0])
	}
}

// known is the number of a point of a section, added where it is a new one.
func (m *Mesh) known(at map[Point]int32, p *Part, q Point, far bool) int32 {
	i, ok := at[q]
	if !ok {
		i = m.point(p.place(q, far))
		at[q] = i
	}
	return i
}

func middle(ring []Point) Point {
	lo, hi := ring[0], ring[0]
	for _, q := range ring {
		lo, hi = Point{min(lo.U, q.U), min(lo.V, q.V)}, Point{max(hi.U, q.U), max(hi.V, q.V)}
	}
	return Point{(lo.U + hi.U) / 2, (lo.V + hi.V) / 2}
}

// normal is the outward normal of a ring, by Newell's sums.
func (m *Mesh) normal(ring []int32) Vec {
	var n Vec
	o := m.Points[ring[0]]
	for i := range ring {
		a, b := m.Points[ring[i]].Sub(o), m.Points[ring[(i+1)%len(ring)]].Sub(o)
		n = n.Add(a.Cross(b))
	}
	return n.Unit()
}

// weldReach is how far from an edge its surroundings are felt for, in metres:
// less than any sheet is thick.
const weldReach = 1e-5

// weld drops the stretches of edges that lie flush in the joined body: where what
// surrounds them is all body, none, or half.
func (m *Mesh) weld(s *Solid) {
	boxes, hulls := make([]Box, len(s.Parts)), make([][]Hull, len(s.Parts))
	for i := range s.Parts {
		boxes[i], hulls[i] = s.Parts[i].bounds().Grown(2*weldReach), s.Parts[i].Hulls()
	}
	var out []Edge
	for _, e := range m.Edges {
		if e.Soft {
			out = append(out, e)
			continue
		}
		a, b := m.Points[e.A], m.Points[e.B]
		around := emptyBox().With(a).With(b)
		var meet []Hull
		for i := range s.Parts {
			if p := &s.Parts[i]; !p.Fine && !p.Round && int32(i) != m.Faces[e.Faces[0]].Part && boxes[i].Meets(around.Grown(weldReach)) {
				meet = append(meet, hulls[i]...)
			}
		}
		if len(meet) == 0 {
			out = append(out, e)
			continue
		}
		knots := cuts(a, b, meet)
		meet = append(meet, hulls[m.Faces[e.Faces[0]].Part]...)
		from := -1
		for k := 1; k < len(knots); k++ {
			mid := a.Add(b.Sub(a).Times((knots[k-1] + knots[k]) / 2))
			crease := sharp(mid, b.Sub(a).Unit(), meet)
			if crease && from < 0 {
				from = k - 1
			}
			if from >= 0 && (!crease || k == len(knots)-1) {
				end := k
				if !crease {
					end = k - 1
				}
				out = append(out, m.stretch(e, knots[from], knots[end]))
				from = -1
			}
		}
	}
	m.Edges = out
}

// stretch is part of an edge between two shares of its length.
func (m *Mesh) stretch(e Edge, from, to float64) Edge {
	a, b := m.Points[e.A], m.Points[e.B]
	if from > 0 {
		e.A = m.point(a.Add(b.Sub(a).Times(from)))
	}
	if to < 1 {
		e.B = m.point(a.Add(b.Sub(a).Times(to)))
	}
	return e
}

// cuts are the shares of an edge at which the sides of other parts cross it.
func cuts(a, b Vec, hulls []Hull) []float64 {
	out := []float64{0, 1}
	long := b.Sub(a).Norm()
	for k := range hulls {
		for _, h := range hulls[k].Planes {
			da, db := h.normal.Dot(a)-h.at, h.normal.Dot(b)-h.at
			if da*db < 0 && math.Abs(da) > weldReach && math.Abs(db) > weldReach {
				out = append(out, da/(da-db))
			}
		}
	}
	sortFloats(out)
	kept := out[:1]
	for _, t := range out[1:] {
		if (t-kept[len(kept)-1])*long > weldReach {
			kept = append(kept, t)
		}
	}
	if kept[len(kept)-1] < 1 {
		kept[len(kept)-1] = 1
	}
	return kept
}

// sharp says whether an edge shows: feel round it in sixteen places.
func sharp(at, way Vec, hulls []Hull) bool {
	u := way.Cross(Vec{0, 0, 1})
	if u.Norm() < 0.1 {
		u = way.Cross(Vec{1, 0, 0})
	}
	u = u.Unit()
	w := way.Cross(u)
	const n = 16
	var in [n]bool
	count := 0
	for i := range n {
		c, s := unit(2*i+1, 2*n)
		p := at.Add(u.Times(float64(c * weldReach))).Add(w.Times(float64(s * weldReach)))
		for k := range hulls {
			if hulls[k].holds(p) {
				in[i] = true
				count++
				break
			}
		}
	}
	if count == 0 || count == n {
		return false
	}
	turns := 0
	for i := range n {
		if in[i] != in[(i+1)%n] {
			turns++
		}
	}
	return turns != 2 || count < n/2-1 || count > n/2+1
}
