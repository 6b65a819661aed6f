package hidden

import (
	"math"
	"slices"
)

// grid finds the faces near an edge: the picture in square cells, each with the
// faces that reach into it.
type grid struct {
	lo    point
	size  float64
	w, h  int
	cells [][]int32
	pts   []point
}

// facesPerCell is about how many faces a cell should hold: fewer make edges walk
// through many cells, more make each step slow.
const facesPerCell = 4

func newGrid(p *picture) *grid {
	g := &grid{lo: p.lo, pts: p.pts}
	wide, high := p.hi.x-p.lo.x, p.hi.y-p.lo.y
	if !(wide >= 0) || !(high >= 0) {
		return &grid{w: 0}
	}
	area := math.Max(wide*high, 1e-9)
	n := math.Max(1, float64(len(p.faces))/facesPerCell)
	g.size = math.Max(math.Sqrt(area/n), math.Max(wide, high)/2000)
	g.w, g.h = int(wide/g.size)+1, int(high/g.size)+1
	g.cells = make([][]int32, g.w*g.h)
	for i := range p.faces {
		g.put(int32(i), &p.faces[i])
	}
	for _, c := range g.cells { // nearest first: they hide most
		slices.SortStableFunc(c, func(a, b int32) int {
			switch x, y := p.faces[a].near, p.faces[b].near; {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return 0
		})
	}
	return g
}

func (g *grid) column(x float64) int { return clamp(int(math.Floor((x-g.lo.x)/g.size)), g.w) }
func (g *grid) row(y float64) int    { return clamp(int(math.Floor((y-g.lo.y)/g.size)), g.h) }

func clamp(i, n int) int { return max(0, min(i, n-1)) }

// put enters a face in the cells that its outline's rows reach over. What lies
// wholly outside the edges' picture hides nothing.
func (g *grid) put(n int32, f *face) {
	if f.hi.x < g.lo.x || f.hi.y < g.lo.y || f.lo.x > g.lo.x+float64(float64(g.w)*g.size) || f.lo.y > g.lo.y+float64(float64(g.h)*g.size) {
		return
	}
	r0, r1 := g.row(f.lo.y), g.row(f.hi.y)
	outer := g.pts[f.rings[0]:f.rings[1]]
	for r := r0; r <= r1; r++ {
		bottom := g.lo.y + float64(float64(r)*g.size)
		lo, hi := reach(outer, bottom-g.size/1000, bottom+g.size+g.size/1000)
		if lo > hi {
			continue
		}
		for c := g.column(lo - g.size/1000); c <= g.column(hi+g.size/1000); c++ {
			at := r*g.w + c
			g.cells[at] = append(g.cells[at], n)
		}
	}
}

// reach is how far a ring reaches left and right between two heights.
func reach(ring []point, bottom, top float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	take := func(x float64) { lo, hi = min(lo, x), max(hi, x) }
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if a.y >= bottom && a.y <= top {
			take(a.x)
		}
		for _, y := range [2]float64{bottom, top} {
			if (a.y < y) != (b.y < y) {
				take(a.x + float64((b.x-a.x)*((y-a.y)/(b.y-a.y))))
			}
		}
	}
	return lo, hi
}

// along tells of the faces in the cells that an edge runs through, until told to
// stop.
func (g *grid) along(e *edge, do func(face int32) bool) {
	if g.w == 0 {
		return
	}
	a, b := e.p, e.q
	if a.y > b.y {
		a, b = b, a
	}
	r0, r1 := g.row(a.y), g.row(b.y)
	for r := r0; r <= r1; r++ {
		lo, hi := a.x, b.x
		if r1 > r0 && b.y > a.y {
			bottom := g.lo.y + float64(float64(r)*g.size)
			if r > r0 {
				lo = a.x + float64((b.x-a.x)*((bottom-a.y)/(b.y-a.y)))
			}
			if r < r1 {
				hi = a.x + float64((b.x-a.x)*((bottom+g.size-a.y)/(b.y-a.y)))
			}
		}
		if lo > hi {
			lo, hi = hi, lo
		}
		for c := g.column(lo - g.size/1000); c <= g.column(hi+g.size/1000); c++ {
			for _, f := range g.cells[r*g.w+c] {
				if !do(f) {
					return
				}
			}
		}
	}
}
