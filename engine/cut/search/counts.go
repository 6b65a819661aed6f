package search

import (
	"math"

	"stallwright/engine/cut/lp"
)

// A plan's cost depends on how many boards of each stock it takes and on nothing
// else, unless rests earn a credit. So the search goes over those few numbers
// first (Benders 1962, in its logic-based form of Hooker and Ottosson 2003): the
// cheapest numbers that no inequality found so far rules out are proposed; the
// linear program over patterns says whether so many boards could hold the pieces,
// and if not gives an inequality that rules them out; if so, branch and price
// looks for the plan with just these boards. Pieces valued u_i, and a board of
// stock s holding at most f_s of value, n_s boards hold the pieces only if the
// sum of f_s n_s is at least the sum of u_i d_i.

// countCut is one inequality over the numbers of boards, in integers.
type countCut struct {
	worth []int64 // per stock: the most value a board holds
	need  int128  // value of all pieces
	scale float64 // of the values, to one unit of cost
}

// breaks reports whether the numbers are too few, and by how much.
func (c *countCut) breaks(n []int64) (float64, bool) {
	x := c.need
	for st, w := range c.worth {
		x.addMul(-w, n[st])
	}
	return x.float() / c.scale, x.hi > 0 || x.hi == 0 && x.lo > 0
}

// counts is the search over numbers of boards.
type counts struct {
	s      *solver
	priced []int // stocks that cost something; of the others all are taken
	cuts   []countCut
	need   []float64   // per cut, in cost: what priced stocks must be worth
	worth  [][]float64 // per cut, per priced stock, in cost
	lp     *lp.Problem // the dual of the small program: a row per priced stock
	lastW  int64
	share  []float64 // multiplier of each cut at the small program's optimum
	low    int64     // no numbers that are left to try cost less
	middle []float64 // boards of each stock in the root's linear program
	tried  [][]int64 // numbers settled or put by
	shelf  shelf
}

// byCounts reports whether the search over numbers of boards applies.
func (s *solver) byCounts() bool {
	priced := 0
	for _, st := range s.in.Stock {
		if st.Cost > 0 {
			priced++
		}
	}
	return s.in.Credit.Value == 0 && len(s.in.Stock) > 1 && priced >= 1 && priced <= 24
}

// searchCounts closes what the solved root leaves open and returns the bound.
func (s *solver) searchCounts(root *node) int64 {
	c := &counts{s: s, low: root.bound, middle: s.base.boards()}
	for st, sk := range s.in.Stock {
		if sk.Cost > 0 {
			c.priced = append(c.priced, st)
			s.base.add(column{stock: int32(st), cost: sk.Cost}) // a board may stay empty
		}
	}
	c.small()
	c.addCut(s.base.cut.copy())
	for !s.spent() {
		at := c.cheapest()
		if at == nil {
			break
		}
		if c.holds(at) {
			c.settle(at, root)
		}
	}
	for c.shelf.settle(s) {
	}
	if low := min(c.shelf.bound(), c.low); low <= s.target() {
		return low
	}
	return s.best
}

// shelf holds hunts that took long, the cheapest numbers of boards first.
type shelf struct {
	hunts []*hunt
	put   int // hunts ever put by
}

// patience is how many nodes a hunt may visit before it is put by.
const patience = 4

// settle takes the first hunt up again, for longer than before. It reports
// false when there is none or work ran out.
func (f *shelf) settle(s *solver) bool {
	for len(f.hunts) > 0 && f.hunts[0].bound() > s.target() {
		f.hunts = f.hunts[1:]
	}
	if len(f.hunts) == 0 || s.spent() {
		return false
	}
	h := f.hunts[0]
	if h.run(8*patience) && h.low == math.MaxInt64 {
		f.hunts = f.hunts[1:]
	} else if len(h.q) == 0 {
		return false
	}
	return true
}

// bound is the least cost of a plan that no hunt has ruled out.
func (f *shelf) bound() int64 {
	low := int64(math.MaxInt64)
	for _, h := range f.hunts {
		low = min(low, h.bound())
	}
	return low
}

// small sets up the small program's dual: minimise hi q - lo p - need l, for each
// stock p - q + worth l = cost. The least cost of numbers that meet all cuts is
// its optimum, negated.
func (c *counts) small() {
	c.lp = lp.New(len(c.priced))
	c.lp.SetScale(c.s.typical)
	for k, st := range c.priced {
		v := float64(c.s.in.Stock[st].Cost)
		c.lp.SetRow(k, v, v)
		c.lp.AddCol(0, []int32{int32(k)}, []float64{1})
		c.lp.AddCol(0, []int32{int32(k)}, []float64{-1})
	}
}

// addCut puts an inequality into the small program, scaled to the size of costs,
// and raises the least cost by what it then says.
func (c *counts) addCut(cut countCut) {
	need := cut.need
	for st, w := range cut.worth {
		if c.s.in.Stock[st].Cost == 0 {
			need.addMul(-w, c.s.limit(st))
		}
	}
	r := math.Nextafter(need.float()/cut.scale, math.Inf(-1))
	var f []float64
	var rows []int32
	for k, st := range c.priced {
		w := 0.0
		if cut.worth[st] > 0 {
			w = math.Nextafter(float64(cut.worth[st])/cut.scale, math.Inf(1))
		}
		f = append(f, w)
		rows = append(rows, int32(k))
	}
	c.cuts = append(c.cuts, cut)
	c.need = append(c.need, r)
	c.worth = append(c.worth, f)
	j := c.lp.AddCol(-r, rows, f)
	c.lp.SetUpper(j, 1e4) // so that numbers that cannot be have a bound, a high one
	c.raise()
}

// raise lifts the least cost to what the small program says.
func (c *counts) raise() {
	s := c.s
	for k, st := range c.priced {
		c.box(k, 0, s.limit(st))
	}
	c.share, _ = c.weights(c.share)
	r := c.row(c.share)
	sum, size := r.need, math.Abs(r.need)
	for k, st := range c.priced {
		if d := r.red[k]; d < 0 {
			sum += float64(d * float64(s.limit(st)))
			size += float64(-d * float64(s.limit(st)))
		}
	}
	if b := ceil(sum - float64(1e-11*size)); b > c.low {
		c.low = b
		if over := b % s.step; over > 0 && b < math.MaxInt64-s.step {
			c.low += s.step - over
		}
	}
}

// box states the range of a number of boards to the small program.
func (c *counts) box(k int, lo, hi int64) {
	c.lp.SetCost(2*k, -float64(lo))
	c.lp.SetCost(2*k+1, float64(hi))
}

// weights solves the small program and gives the multipliers of the cuts. They
// make a bound by weak duality whatever the floats lose. It reports whether the
// bound is the best.
func (c *counts) weights(share []float64) ([]float64, bool) {
	ok := c.lp.Solve() == lp.Optimal
	c.s.work += c.lp.Work() - c.lastW
	c.lastW = c.lp.Work()
	share = share[:0]
	for i := range c.cuts {
		share = append(share, max(0, c.lp.Value(2*len(c.priced)+i)))
	}
	return share, ok
}

// limit is the most boards of a stock that any better plan takes.
func (s *solver) limit(st int) int64 {
	n := min(s.noLimit[st], s.in.Stock[st].Avail)
	if v := s.in.Stock[st].Cost; v > 0 {
		n = min(n, s.target()/v)
	}
	return n
}

// holds reports whether the numbers of boards may hold the pieces; when they
// cannot, it rules them out. The root's linear program is asked for at least so
// many boards: it costs no more than they do just if they hold the pieces.
func (c *counts) holds(at []int64) bool {
	s, ms := c.s, c.s.base
	cost := int64(0)
	for st, k := range at {
		ms.lo[st], ms.hi[st] = 0, s.in.Stock[st].Avail
		if v := s.in.Stock[st].Cost; v > 0 {
			ms.lo[st] = k
			cost += v * k
		}
	}
	ms.setRows()
	ms.reopen()
	fine, cutoff := false, float64(cost)+float64(s.typical*0.2)
	defer ms.lp.SetCutoff(math.Inf(1))
	for {
		ms.lp.SetCutoff(cutoff)
		st := ms.lp.Solve()
		ms.account()
		if st != lp.Optimal && st != lp.Beyond || s.spent() {
			return true
		}
		short := ms.lp.Objective() - float64(cost)
		if short < s.typical*1e-5 {
			return true
		}
		added, exact := ms.priceRound(fine, 0)
		ms.account()
		by, broken := ms.cut.breaks(at)
		if broken && (by > 0.5*short || added == 0) {
			c.addCut(ms.cut.copy())
			return false
		}
		switch {
		case added > 0:
			fine = false
		case st == lp.Beyond:
			cutoff = math.Inf(1)
		case exact || fine && !ms.finer():
			return true
		default:
			fine = true
		}
	}
}

func (c *countCut) copy() countCut {
	return countCut{worth: append([]int64(nil), c.worth...), need: c.need, scale: c.scale}
}

// settle decides whether numbers of boards hold the pieces, or puts it by.
func (c *counts) settle(at []int64, root *node) {
	s := c.s
	pack := &node{item: root.item, bound: c.low, depth: 1,
		lo: append([]int64(nil), at...), hi: append([]int64(nil), at...)}
	for st, sk := range s.in.Stock {
		if sk.Cost == 0 {
			pack.lo[st] = 0
		}
		pack.most += sk.Cost * at[st]
	}
	h := s.hunt(pack)
	if !h.run(patience) || h.low < math.MaxInt64 {
		c.shelf.hunts = append(c.shelf.hunts, h)
		if c.shelf.put++; c.shelf.put%8 == 0 {
			c.shelf.settle(s)
		}
	}
	if c.tried == nil && pack.most <= s.target() {
		// Not at the first try: a plan near the root's solution tells how far to look.
		s.base.lower(root)
	}
	c.tried = append(c.tried, at)
}

// lower looks for a plan near the root's linear program.
func (ms *master) lower(root *node) {
	s := ms.s
	copy(ms.lo, root.lo)
	copy(ms.hi, root.hi)
	ms.setRows()
	ms.reopen()
	if ms.solve(s.target()+1, guess) == solved {
		s.round(ms, root)
	}
}

// boards is how many boards of each stock the linear program takes.
func (ms *master) boards() []float64 {
	n := make([]float64, len(ms.lo))
	for _, j := range ms.lp.Basic() {
		if j >= ms.base {
			n[ms.cols[j-ms.base].stock] += ms.lp.Value(j)
		}
	}
	return n
}
