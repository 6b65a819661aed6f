package survey

import (
	"math"
	"sort"

	"stallwright/engine/phrase"
)

// candidate is a reading that could be taken next.
type candidate struct {
	equation
	cols []int
	vals []float64
}

// mostNear caps how many posts around a question are paired up for proposals.
const mostNear = 14

// around lists posts by how few readings lie between them and the given ones,
// the given ones first, at most mostNear.
func (p *plane) around(seed []int, active []bool) []int {
	mates := make([][]int, len(p.net.Points))
	for i, e := range p.equation {
		if !active[i] {
			continue
		}
		for a := 0; a < e.kind.posts(); a++ {
			for b := 0; b < e.kind.posts(); b++ {
				if a != b {
					mates[e.post[a]] = append(mates[e.post[a]], e.post[b])
				}
			}
		}
	}
	seen := make([]bool, len(p.net.Points))
	var out []int
	put := func(i int) {
		if !seen[i] && len(out) < mostNear {
			seen[i] = true
			out = append(out, i)
		}
	}
	for _, i := range seed {
		put(i)
	}
	for head := 0; head < len(out); head++ {
		sort.Ints(mates[out[head]])
		for _, v := range mates[out[head]] {
			put(v)
		}
	}
	return out
}

// taken reports whether a usable reading already measures what e would.
func (p *plane) taken() func(e equation) bool {
	type key struct {
		kind Kind
		post [3]int
	}
	of := func(e equation) key {
		if e.kind.isDistance() {
			return key{Distance, [3]int{min(e.post[0], e.post[1]), max(e.post[0], e.post[1]), -1}}
		}
		return key{e.kind, e.post}
	}
	have := make(map[key]bool, len(p.equation))
	for i, e := range p.equation {
		if p.usable[i] {
			have[of(e)] = true
		}
	}
	return func(e equation) bool { return have[of(e)] }
}

// distanceCandidate is the distance between two posts as a reading yet to be
// taken; false when it is out of reach, taken, or between known posts.
func (p *plane) distanceCandidate(s *solution, a, b int, taken func(equation) bool) (candidate, bool) {
	e := equation{kind: Distance, post: [3]int{min(a, b), max(a, b), 0}}
	_, _, l := unit(s.xy[2*b]-s.xy[2*a], s.xy[2*b+1]-s.xy[2*a+1])
	if l < 0.05 || l > metres(p.opt.Reach) || taken(e) {
		return candidate{}, false
	}
	e.value, e.sigma = l, p.opt.Tape.sigma(l)
	return p.candidate(s, e)
}

// candidate gives a proposed reading its design row.
func (p *plane) candidate(s *solution, e equation) (candidate, bool) {
	c := candidate{equation: e}
	_, grad := e.evaluate(s.xy)
	for k := 0; k < e.kind.posts(); k++ {
		for a := 0; a < 2; a++ {
			if u := s.column[2*e.post[k]+a]; u >= 0 {
				c.cols = append(c.cols, u)
				c.vals = append(c.vals, grad[2*k+a])
			}
		}
	}
	return c, len(c.cols) > 0
}

// dot is the candidate's row times a vector over the unknowns.
func (c *candidate) dot(x []float64) float64 {
	sum := 0.0
	for k, u := range c.cols {
		sum += float64(c.vals[k] * x[u])
	}
	return sum
}

// advice names the reading to take.
func (p *plane) advice(e equation, why phrase.Phrase) Advice {
	a := Advice{Kind: e.kind, Why: why}
	for k := 0; k < e.kind.posts(); k++ {
		a.Posts = append(a.Posts, p.net.Points[e.post[k]].Name)
	}
	return a
}

// spread is the variance of the candidate's computed value; at gives entries of
// the inverse.
func (c *candidate) spread(at func(u, v int) float64) float64 {
	sum := 0.0
	for k, u := range c.cols {
		row := 0.0
		for l, v := range c.cols {
			row += float64(c.vals[l] * at(u, v))
		}
		sum += float64(c.vals[k] * row)
	}
	return max(0, sum)
}

// covariances looks entries of the inverse up, solving for a column only where
// an entry lies outside the envelope.
func (e *estimate) covariances() func(u, v int) float64 {
	column := map[int][]float64{}
	return func(u, v int) float64 {
		if q, ok := e.inverse.At(u, v); ok {
			return q
		}
		u, v = min(u, v), max(u, v)
		if column[u] == nil {
			column[u] = e.inverseColumn(u)
		}
		return column[u][v]
	}
}

// inverseColumn solves for one column of the inverse.
func (e *estimate) inverseColumn(u int) []float64 {
	b := make([]float64, e.design.Unknowns)
	b[u] = 1
	return e.factor.Solve(b)
}

// separate proposes the distance, not yet taken, that would best tell suspects
// apart. s must still hold the suspects as active readings.
func (p *plane) separate(s *solution, suspects []int) *Advice {
	var seed []int
	for _, i := range suspects {
		e := p.equation[i]
		seed = append(seed, e.post[:e.kind.posts()]...)
	}
	near := p.around(seed, s.active)
	taken := p.taken()
	var list []candidate
	for x, a := range near {
		for _, b := range near[x+1:] {
			if c, ok := p.distanceCandidate(s, a, b, taken); ok {
				list = append(list, c)
			}
		}
	}
	best := s.separator(suspects, list)
	if best < 0 {
		return nil
	}
	a := p.advice(list[best].equation, phrase.Of("slip.tells-apart"))
	return &a
}

// separator is the candidate that, once read, leaves the suspects least alike:
// the sum over all pairs of 1 − |correlation| is greatest. -1 when none helps.
//
// A blunder in suspect i shows in the spare readings with strength N_ii and
// shares N_ij with one in j (W. Förstner's separability, 1983). A further
// reading c adds g_i·g_j, where g_i is how far a blunder in i moves the value
// expected at c, over the standard deviation of the difference there.
func (e *estimate) separator(suspects []int, list []candidate) int {
	at := e.covariances()
	reach := make([][]float64, len(suspects)) // Q·a_iᵀ/σ_i
	share := make([][]float64, len(suspects)) // N between suspects, per σ of each
	for k, i := range suspects {
		b := make([]float64, e.design.Unknowns)
		e.design.AddTransposed(i, 1/e.sigma[i], b)
		reach[k] = e.factor.Solve(b)
		col := e.shadow(i)
		for _, j := range suspects {
			share[k] = append(share[k], col[j])
		}
	}
	g := make([]float64, len(suspects))
	most, best := apart(share, g)+0.01, -1
	for n := range list {
		c := &list[n]
		sc := math.Sqrt(float64(c.sigma*c.sigma) + c.spread(at))
		for k := range g {
			g[k] = c.dot(reach[k]) / sc
		}
		if sum := apart(share, g); sum > most+1e-9 {
			most, best = sum, n
		}
	}
	return best
}

// apart is the sum over pairs of suspects of 1 − |correlation| between their
// blunders, once a reading that they move by g is added.
func apart(share [][]float64, g []float64) float64 {
	sum := 0.0
	n := func(a, b int) float64 { return share[a][b] + float64(g[a]*g[b]) }
	for a := range g {
		for b := 0; b < a; b++ {
			if d := math.Sqrt(max(0, float64(n(a, a)*n(b, b)))); d > 1e-9 {
				sum += 1 - min(1, math.Abs(n(a, b))/d)
			}
		}
	}
	return sum
}
