package search

import (
	"math"

	"stallwright/engine/cut/lp"
)

// outcome of a column generation.
type outcome int

const (
	solved  outcome = iota // priced out
	cutOff                 // the bound reached the limit
	noWork                 // budget or context ran out
	trouble                // numerical trouble; the bound still holds
)

// need says how far a column generation must go.
type need int

const (
	guess  need = iota // enough to round or branch on; a cutoff may be wrong
	prune              // a cutoff must be proven, the rest may be a guess
	proven             // the bound must be as good as it gets
)

// solve generates columns until none improves, or the bound of the remainder
// reaches limit (in cost units, rounded up).
func (ms *master) solve(limit int64, want need) outcome {
	ms.bound = math.Inf(-1)
	cut := math.Inf(1)
	if limit < math.MaxInt64/2 && ms.n.depth > 0 {
		cut = float64(limit) + ms.s.tol*100
	}
	fine := false
	ms.center = nil
	steady := 0.0
	if want == proven {
		steady = ms.s.steady
	}
	for {
		ms.lp.SetCutoff(cut)
		st := ms.lp.Solve()
		cut = math.Inf(1) // a cutoff helps the first time only, before columns come
		ms.account()
		if st != lp.Optimal && st != lp.Beyond {
			return trouble
		}
		ms.obj = ms.lp.Objective()
		if ms.s.spent() {
			return noWork
		}
		if want != proven && ms.s.oneCost && st == lp.Optimal && ms.obj <= float64(limit-1)+1e-6 {
			return solved // no bound could end this; see Vance (1998)
		}
		if ms.n.listed {
			if ms.poolRound() == 0 || ceil(ms.bound) >= limit {
				if ceil(ms.bound) >= limit {
					return cutOff
				}
				if st == lp.Optimal {
					return solved
				}
			}
			continue
		}
		added, exact := ms.priceRound(fine, steady)
		if added == 0 && steady > 0 && ceil(ms.bound) < limit {
			added, exact = ms.priceRound(fine, 0)
		}
		ms.account()
		switch {
		case ceil(ms.bound) >= limit:
			return cutOff
		case added > 0:
			fine = false
		case !exact && !fine:
			over := ceil(ms.obj) >= limit
			if want == guess && over {
				return cutOff
			}
			if want == guess || want == prune && !over {
				return solved
			}
			fine = true
		case !exact && ms.finer():
		case st == lp.Optimal:
			return solved
		}
	}
}

// account moves work done into the solver's total.
func (ms *master) account() {
	w := ms.lp.Work()
	if ms.price != nil {
		w += ms.price.Work()
	}
	ms.s.work += w - ms.lastW
	ms.lastW = w
}

// ceil rounds a safe bound up; it was computed from integers and a hair is
// taken off for the conversion.
func ceil(b float64) int64 {
	if math.IsInf(b, 1) {
		return math.MaxInt64
	}
	if math.IsInf(b, -1) {
		return math.MinInt64
	}
	return int64(math.Ceil(b - 1e-9*math.Max(1, math.Abs(b)*1e-3)))
}
