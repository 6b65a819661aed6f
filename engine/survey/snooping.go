package survey

import (
	"math"
	"sort"

	"stallwright/engine/portable"
)

// found is a reading that data snooping set aside, with the others that could
// as well be wrong.
type found struct {
	reading int
	others  []Alternative
}

// rival is another active reading that could be wrong instead.
type rival struct {
	reading int
	w, rho  float64
}

// snooper keeps residuals and redundancy numbers up to date while readings
// are taken out one at a time, without solving again: taking reading i out of
// a linear adjustment is one elimination step on I − AQAᵀP.
type snooper struct {
	e    *estimate
	u    []float64   // residuals over σ
	r    []float64   // redundancy numbers
	out  []bool      // taken out or not active
	gone []int       // taken out, in order
	col  [][]float64 // the column of each at the time, over the root of its pivot
}

func newSnooper(e *estimate) *snooper {
	s := &snooper{e: e, u: make([]float64, e.readings), r: make([]float64, e.readings), out: make([]bool, e.readings)}
	for i := range s.u {
		s.out[i] = !e.active[i]
		if !s.out[i] {
			s.u[i] = e.misclose[i] / e.sigma[i]
			s.r[i] = e.redundancy(i)
		}
	}
	return s
}

// w is the current w-test of reading i, 0 where nothing checks it.
func (s *snooper) w(i int) float64 {
	if s.out[i] || s.r[i] < leastRedundancy {
		return 0
	}
	return s.u[i] / math.Sqrt(s.r[i])
}

// worst is the active reading with the largest |w|, -1 for none. Among equals
// within rounding the first given wins, so that the choice does not hang on
// the last bit.
func (s *snooper) worst() (int, float64) {
	best, at := 0.0, -1
	for i := range s.u {
		if a := math.Abs(s.w(i)); a > float64(best*(1+1e-9)) {
			best, at = a, i
		}
	}
	return at, best
}

// column is the current column of reading i.
func (s *snooper) column(i int) []float64 {
	c := s.e.shadow(i)
	for _, g := range s.col {
		f := g[i]
		for j := range c {
			c[j] -= float64(g[j] * f)
		}
	}
	return c
}

// rivals are the readings that could be wrong instead of i: those that, taken
// out instead, would clear i and leave a fit that is not odds times less
// likely. With one blunder of unknown size the likelihoods stand as exp(w²/2).
// (A second blunder elsewhere has a large w too, but does not clear i.)
func (s *snooper) rivals(i int, c []float64, o Options) []rival {
	wi := s.w(i)
	limit := float64(wi*wi) - float64(2*portable.Log(o.Odds))
	var out []rival
	for j := range c {
		if j == i {
			continue
		}
		w := s.w(j)
		if w == 0 || float64(w*w) < limit {
			continue
		}
		rho := max(-1, min(1, c[j]/math.Sqrt(float64(s.r[i]*s.r[j]))))
		left := wi - float64(rho*w) // of i, once j is out, before scaling
		if apart := 1 - float64(rho*rho); float64(left*left) > float64(apart*float64(o.CutOff*o.CutOff))+1e-9 {
			continue
		}
		out = append(out, rival{j, w, rho})
	}
	sort.SliceStable(out, func(a, b int) bool { return math.Abs(out[a].w) > float64(math.Abs(out[b].w)*(1+1e-9)) })
	return out
}

// take removes reading i, whose current column is c.
func (s *snooper) take(i int, c []float64) {
	p := c[i]
	if p < leastRedundancy {
		s.out[i] = true
		return
	}
	root := math.Sqrt(p)
	f := s.u[i] / p
	g := make([]float64, len(c))
	for j := range c {
		if s.out[j] {
			continue
		}
		g[j] = c[j] / root
		s.u[j] -= float64(c[j] * f)
		s.r[j] -= float64(g[j] * g[j])
	}
	s.out[i] = true
	s.col = append(s.col, g)
	s.gone = append(s.gone, i)
}

// snoop sets readings aside one at a time, the worst first, until every w-test
// is within the cut-off.
func snoop(e *estimate, o Options) []found {
	s := newSnooper(e)
	var out []found
	for spare := e.spare; spare > 0; spare-- {
		i, w := s.worst()
		if i < 0 || w <= o.CutOff {
			break
		}
		c := s.column(i)
		f := found{reading: i}
		for _, r := range s.rivals(i, c, o) {
			f.others = append(f.others, Alternative{Reading: r.reading, W: r.w, Correlation: r.rho})
		}
		out = append(out, f)
		s.take(i, c)
	}
	return out
}
