package search

import (
	"context"
	"math"
	"sort"
)

// DefaultBudget is the work a search may spend when none is stated: some
// seconds on a present-day core.
const DefaultBudget = 4_000_000_000

// Options steer a search. The zero value is the default.
type Options struct {
	Budget int64 // elementary steps; zero means DefaultBudget
}

// solver carries one search.
type solver struct {
	in           *Instance
	ctx          context.Context
	budget       int64
	work         int64
	stopped      bool
	maxCap       int64
	grid, coarse int // cells of the pricing's table, for proof and for guesses
	bigM         float64
	tol          float64
	typical      float64
	worst        int64   // no plan without empty boards costs more
	step         int64   // costs of plans are multiples of this
	noLimit      []int64 // boards of a stock no better plan exceeds, whatever is to be had
	oneCost      bool    // one stock: bounds move in whole boards
	extra        int
	steady       float64 // weight of the best duals when pricing the root
	best         int64   // cost of the best plan, worst+step when none
	runs         []Run
	rootHope     float64 // the root's linear program
	nodes        int
	base         *master // shared by nodes that differ in boards only
}

// spent reports whether the search must stop.
func (s *solver) spent() bool {
	if !s.stopped && (s.work > s.budget || s.ctx.Err() != nil) {
		s.stopped = true
	}
	return s.stopped
}

// target is the dearest plan that would still be better than the best.
func (s *solver) target() int64 { return s.best - s.step }

// newSolver prepares the constants of a search.
func newSolver(ctx context.Context, in *Instance, opt Options) *solver {
	s := &solver{in: in, ctx: ctx, budget: opt.Budget}
	if s.budget == 0 {
		s.budget = DefaultBudget
	}
	pieces := int64(0)
	for _, d := range in.Dem {
		pieces += d
	}
	s.noLimit = make([]int64, len(in.Stock))
	maxCost := int64(1)
	for i, st := range in.Stock {
		s.maxCap = max(s.maxCap, st.Cap)
		s.noLimit[i] = pieces
		s.worst += min(st.Avail, pieces) * st.Cost
		s.step = gcd(s.step, st.Cost)
		maxCost = max(maxCost, st.Cost)
	}
	s.oneCost = len(in.Stock) == 1 && in.Credit.Value == 0 && in.Stock[0].Avail == Unlimited
	s.step = max(1, gcd(s.step, in.Credit.Value))
	s.best = s.worst + s.step
	s.typical = float64(maxCost)
	s.tol = s.typical * 1e-8
	s.bigM = s.typical * 1000
	s.grid, s.coarse = 4096, 1024
	if s.maxCap < 16384 {
		s.grid = int(s.maxCap) + 1
		if s.oneCost {
			s.coarse = s.grid
		}
	}
	if s.oneCost && len(in.Len) > 60 {
		s.steady = 0.8
	}
	s.extra = len(in.Len) * 3 / 8
	return s
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	if a < 0 {
		return -a
	}
	return a
}

// Solve searches for the cheapest plan.
func Solve(ctx context.Context, in *Instance, opt Options) Result {
	s := newSolver(ctx, in, opt)
	if len(in.Len) == 0 {
		return Result{Proven: true}
	}
	if g := in.greedy(); g != nil {
		s.accept(g)
	}
	bound := max(s.tree(), in.least())
	s.release()
	s.spent()
	res := Result{Bound: bound, Work: s.work, Nodes: s.nodes, Stopped: s.stopped}
	if s.runs == nil {
		res.Infeasible = bound > s.worst
		return res
	}
	res.Runs, res.Cost = s.runs, s.best
	res.Bound = min(bound, s.best)
	res.Proven = res.Bound == res.Cost
	return res
}

// release hands the pricing tables of the masters that were kept back.
func (s *solver) release() {
	if s.base != nil {
		s.base.price.Release()
	}
}

// least is what any plan costs at the least, before anything is searched: no
// board costs less than its price less the credit for keeping it whole.
func (in *Instance) least() int64 {
	sum := int64(0)
	for _, v := range in.Stock {
		if gain := in.Credit.Of(v.Cap) - v.Cost; gain > 0 && v.Avail != Unlimited {
			sum -= gain * v.Avail
		}
	}
	return sum
}

// accept takes a plan over pieces of the instance if it is better, after
// removing pieces nobody asked for and boards left empty.
func (s *solver) accept(runs []Run) bool {
	runs = s.in.exact(runs)
	if runs == nil {
		return false
	}
	cost := int64(0)
	for i := range runs {
		cost += runs[i].Times * s.in.cost(&runs[i].Pattern)
	}
	if cost >= s.best {
		return false
	}
	s.best, s.runs = cost, runs
	for i, st := range s.in.Stock {
		if net := st.Cost - s.in.Credit.Of(st.Cap); net > 0 {
			s.noLimit[i] = min(s.noLimit[i], cost/net+1)
		}
	}
	return true
}

// exact trims a plan to the demands. It returns nil if one is missed or a board
// is over-filled or used too often.
func (in *Instance) exact(runs []Run) []Run {
	over := make([]int64, len(in.Dem))
	for i, d := range in.Dem {
		over[i] = -d
	}
	used := make([]int64, len(in.Stock))
	for _, r := range runs {
		if !in.fits(&r.Pattern) {
			return nil
		}
		used[r.Stock] += r.Times
		for k, i := range r.Item {
			over[i] += r.Times * int64(r.Count[k])
		}
	}
	for i, o := range over {
		if o < 0 {
			return nil
		}
		for o > 0 {
			runs, o = trim(runs, int32(i), o)
		}
	}
	for s, u := range used {
		if u > in.Stock[s].Avail {
			return nil
		}
	}
	return tidy(runs)
}

// trim removes up to o pieces of item i from the last run that has it.
func trim(runs []Run, i int32, o int64) ([]Run, int64) {
	for r := len(runs) - 1; r >= 0; r-- {
		for k, it := range runs[r].Item {
			if it != i || runs[r].Times == 0 || runs[r].Count[k] == 0 {
				continue
			}
			off := min(o, int64(runs[r].Count[k]))
			times := o / off
			times = min(times, runs[r].Times)
			p := Pattern{Stock: runs[r].Stock}
			for q, x := range runs[r].Item {
				n := runs[r].Count[q]
				if q == k {
					n -= int32(off)
				}
				if n > 0 {
					p.Item = append(p.Item, x)
					p.Count = append(p.Count, n)
				}
			}
			out := append([]Run(nil), runs...)
			out[r].Times -= times
			return append(out, Run{p, times}), o - off*times
		}
	}
	return runs, 0
}

// tidy merges equal patterns, drops empty ones and puts runs in a fixed order.
func tidy(runs []Run) []Run {
	out := []Run{}
	for _, r := range runs {
		if r.Times == 0 || len(r.Item) == 0 {
			continue
		}
		merged := false
		for k := range out {
			if samePattern(&out[k].Pattern, &r.Pattern) {
				out[k].Times += r.Times
				merged = true
				break
			}
		}
		if !merged {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return lessPattern(&out[a].Pattern, &out[b].Pattern) })
	return out
}

func samePattern(p, q *Pattern) bool { return !lessPattern(p, q) && !lessPattern(q, p) }

func lessPattern(p, q *Pattern) bool {
	if p.Stock != q.Stock {
		return p.Stock < q.Stock
	}
	for k := range min(len(p.Item), len(q.Item)) {
		if p.Item[k] != q.Item[k] {
			return p.Item[k] < q.Item[k]
		}
		if p.Count[k] != q.Count[k] {
			return p.Count[k] > q.Count[k]
		}
	}
	return len(p.Item) > len(q.Item)
}

// pattern is a node's column in the instance's own items.
func (s *solver) pattern(n *node, c *column) Pattern {
	count := make([]int32, len(s.in.Len))
	for k, i := range c.item {
		for _, p := range n.item[i].parts {
			count[p] += c.count[k]
		}
	}
	p := Pattern{Stock: int(c.stock)}
	for i, a := range count {
		if a > 0 {
			p.Item = append(p.Item, int32(i))
			p.Count = append(p.Count, a)
		}
	}
	return p
}

// offer turns columns of a master into a plan and accepts it if better.
func (s *solver) offer(ms *master, taken []fixing) bool {
	var runs []Run
	for _, t := range taken {
		runs = append(runs, Run{s.pattern(ms.n, &ms.cols[t.col]), t.times})
	}
	return s.accept(runs)
}

// safeBound is a node's bound rounded up to the grid of costs.
func (s *solver) safeBound(b float64) int64 {
	c := ceil(b)
	if c == math.MaxInt64 || c == math.MinInt64 {
		return c
	}
	if r := c % s.step; r > 0 {
		c += s.step - r
	}
	return c
}
