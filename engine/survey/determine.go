package survey

import (
	"math"
	"sort"

	"stallwright/engine/survey/normal"
)

// parts groups the points that readings marked active join, as the index of
// each point's lowest-numbered mate.
func (p *plane) parts(active []bool) []int {
	root := make([]int, len(p.net.Points))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for i, e := range p.equation {
		if !active[i] {
			continue
		}
		for k := 1; k < e.kind.posts(); k++ {
			a, b := find(e.post[0]), find(e.post[k])
			root[max(a, b)] = min(a, b)
		}
	}
	for i := range root {
		root[i] = find(i)
	}
	return root
}

// mainPart is the part all else is reported against: the one with most fixed
// points, then with most points.
func (p *plane) mainPart(parts []int) int {
	fixed, size := make([]int, len(parts)), make([]int, len(parts))
	for i, r := range parts {
		size[r]++
		if p.net.Points[i].Fixed {
			fixed[r]++
		}
	}
	best := 0
	for r := range parts {
		if fixed[r] > fixed[best] || fixed[r] == fixed[best] && size[r] > size[best] {
			best = r
		}
	}
	return best
}

// fixedPoints lists the points given as fixed.
func (p *plane) fixedPoints() []int {
	var out []int
	for i, pt := range p.net.Points {
		if pt.Fixed {
			out = append(out, i)
		}
	}
	return out
}

// determine chooses the points that hold the network still while it is
// computed, and finds the points that the active readings leave loose.
func (p *plane) determine(active []bool) (loose []bool) {
	n := len(p.net.Points)
	loose = make([]bool, n)
	if n == 0 {
		return loose
	}
	fixed := p.fixedPoints()
	if len(fixed) >= 2 {
		p.held = [2]int{-1, -1}
		return p.looseIn(active)
	}
	var best []bool
	bestCount, bestHeld := n+1, p.held
	for _, h := range p.holders(active, fixed) {
		p.held = h
		l := p.looseIn(active)
		count := 0
		for _, v := range l {
			if v {
				count++
			}
		}
		if count < bestCount {
			best, bestCount, bestHeld = l, count, h
		}
		if count == 0 {
			break
		}
	}
	p.held = bestHeld
	return best
}

// holders proposes pairs of points to hold: a much-measured point of the main
// part and one that a distance ties to it rigidly, the likeliest first.
func (p *plane) holders(active []bool, fixed []int) [][2]int {
	parts := p.parts(active)
	main := p.mainPart(parts)
	near := p.tiedByDistance(active)
	var origins []int
	for i, r := range parts {
		if r == main {
			origins = append(origins, i)
		}
	}
	sort.SliceStable(origins, func(a, b int) bool { return len(near[origins[a]]) > len(near[origins[b]]) })
	if len(fixed) == 1 {
		origins = fixed
	}
	var out [][2]int
	for _, o := range origins[:min(3, len(origins))] {
		mates := append([]int(nil), near[o]...)
		common := make(map[int]int, len(mates))
		for _, t := range mates {
			common[t] = shared(near[o], near[t])
		}
		sort.SliceStable(mates, func(a, b int) bool { return common[mates[a]] > common[mates[b]] })
		for _, t := range mates[:min(3, len(mates))] {
			out = append(out, [2]int{o, t})
		}
	}
	if len(out) == 0 {
		out = append(out, [2]int{origins[0], -1})
	}
	return out
}

// tiedByDistance lists for each point those it has an active distance to, in
// increasing order, each once.
func (p *plane) tiedByDistance(active []bool) [][]int {
	near := make([][]int, len(p.net.Points))
	for i, e := range p.equation {
		if active[i] && e.kind.isDistance() {
			a, b := e.post[0], e.post[1]
			near[a] = append(near[a], b)
			near[b] = append(near[b], a)
		}
	}
	for i, l := range near {
		sort.Ints(l)
		n := 0
		for k, v := range l {
			if k == 0 || v != l[n-1] {
				l[n] = v
				n++
			}
		}
		near[i] = l[:n]
	}
	return near
}

// shared counts what two increasing lists have in common.
func shared(a, b []int) int {
	n := 0
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0] < b[0]:
			a = a[1:]
		case a[0] > b[0]:
			b = b[1:]
		default:
			n++
			a, b = a[1:], b[1:]
		}
	}
	return n
}

// looseIn finds the points that the active readings do not determine, with the
// network drawn as it is and the held points still.
func (p *plane) looseIn(active []bool) []bool {
	loose := make([]bool, len(p.net.Points))
	column, unknowns := columns(p.fixedCoordinate())
	s := p.linearise(column, unknowns, p.drawn)
	hold := make([]bool, unknowns)
	s.setWeights(active, hold, probeSigma)
	structure := normal.Analyse(s.design)
	if f := structure.Factorise(s.design, s.weight, pivotTolerance); len(f.Collapsed) == 0 {
		return loose
	}
	for c := range hold {
		hold[c] = true
	}
	s.setWeights(active, hold, probeSigma)
	inv := structure.Factorise(s.design, s.weight, 0).Inverse()
	for i := range loose {
		spread := 0.0
		for a := 0; a < 2; a++ {
			if u := column[2*i+a]; u >= 0 {
				q, _ := inv.At(u, u)
				spread += q
			}
		}
		loose[i] = math.Sqrt(max(0, spread)) > looseSigma
	}
	return loose
}
