// Package search solves the one-dimensional cutting stock problem with several
// stock lengths at different prices, exactly.
//
// In comes an Instance in plain integers: piece lengths with the kerf already
// added, counts, stock capacities, costs and availabilities. Out comes the
// cheapest set of patterns found, a lower bound on the cost of any, and whether
// the two meet. What always holds: every demand is met exactly, no pattern
// exceeds its stock, the bound is safe against floating error, and the answer
// depends on the instance and the work budget alone, never on a clock.
//
// The method is branch and price: Gilmore and Gomory (1961, 1963) for the
// patterns, Farley (1990) and Vance (1998) for bounds and branching, Belov and
// Scheithauer (2006) and Sadykov et al. (2019) for the rounding and diving.
package search

import "math"

// Unlimited is the Avail of a stock that never runs out.
const Unlimited = math.MaxInt64

// Stock is one kind of board.
type Stock struct {
	Cap   int64 // usable length plus one kerf, in the unit of Instance.Len
	Cost  int64 // at least zero; above zero when unlimited
	Avail int64 // boards to be had, or Unlimited
}

// Credit values what is left of a board.
type Credit struct {
	Kerf  int64 // lost to the cut that frees the rest
	Keep  int64 // shortest rest worth keeping, after the kerf
	Step  int64 // length that earns Value once
	Value int64 // cost units per Step, zero for no credit
}

// Of is the credit for the rest of a board, before the freeing cut.
func (c Credit) Of(rest int64) int64 {
	rest -= c.Kerf
	if c.Value == 0 || rest <= 0 || rest < c.Keep {
		return 0
	}
	return c.Value * (rest / c.Step)
}

// Instance is one problem over one material.
type Instance struct {
	Len    []int64 // piece lengths plus kerf, distinct, longest first
	Dem    []int64 // pieces wanted, above zero
	Stock  []Stock
	Most   int32 // most pieces from one board, zero for any number
	Credit Credit
}

// Pattern is one way to cut one board.
type Pattern struct {
	Stock int
	Item  []int32 // indexes into Instance.Len, ascending
	Count []int32 // pieces of each, above zero
}

// Run is a pattern and how many boards are cut by it.
type Run struct {
	Pattern
	Times int64
}

// Result is what a search ends with.
type Result struct {
	Runs   []Run // nil when nothing feasible was found
	Cost   int64 // cost of the boards less credits
	Bound  int64 // no plan costs less
	Proven bool  // Cost equals Bound
	// Infeasible is set when it is proven that no plan exists.
	Infeasible bool
	Work       int64 // elementary steps spent
	Nodes      int   // nodes of the search tree
	Stopped    bool  // the budget or the context ended the search
}

func (in *Instance) used(p *Pattern) int64 {
	u := int64(0)
	for k, i := range p.Item {
		u += in.Len[i] * int64(p.Count[k])
	}
	return u
}

// cost of one board cut by the pattern, credit taken off.
func (in *Instance) cost(p *Pattern) int64 {
	c := in.Stock[p.Stock].Cost
	if in.Credit.Value != 0 {
		c -= in.Credit.Of(in.Stock[p.Stock].Cap - in.used(p))
	}
	return c
}

// fits reports whether the pattern can be cut.
func (in *Instance) fits(p *Pattern) bool {
	if in.used(p) > in.Stock[p.Stock].Cap {
		return false
	}
	if in.Most > 0 {
		n := int32(0)
		for _, c := range p.Count {
			n += c
		}
		return n <= in.Most
	}
	return true
}
