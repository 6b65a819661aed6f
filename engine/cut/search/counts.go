package search

import (
	"container/heap"
	"math"

	"stallwright/engine/cut/lp"
)

// A plan's cost depends on how many boards of each stock it takes and on nothing
// else, unless rests earn a credit. So the search goes over those few numbers
// first (Benders 1962, in its logic-based form of Hooker and Ottosson 2003): a
// small program over the numbers proposes the cheapest that no inequality found
// so far rules out; a linear program over patterns says whether so many boards
// could hold the pieces, and if not gives an inequality that rules them out; if
// so, branch and price looks for the plan with just these boards. Pieces valued
// u_i, and a board of stock s holding at most f_s of value, n_s boards hold the
// pieces only if the sum of f_s n_s is at least the sum of u_i d_i.

// countCut is one inequality over the numbers of boards, in integers.
type countCut struct {
	worth []int64 // per stock: the most value a board holds
	need  int128  // value of all pieces
}

// breaks reports whether the numbers are too few, and by how much.
func (c *countCut) breaks(n []int64) (float64, bool) {
	x := c.need
	for st, w := range c.worth {
		x.addMul(-w, n[st])
	}
	return x.float(), x.hi > 0 || x.hi == 0 && x.lo > 0
}

// countNode is a box of numbers of boards, per stock.
type countNode struct {
	lo, hi []int64
	bound  int64
	depth  int
	id     int
}

type countQueue []*countNode

func (q countQueue) Len() int      { return len(q) }
func (q countQueue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }
func (q countQueue) Less(a, b int) bool {
	if q[a].bound != q[b].bound {
		return q[a].bound < q[b].bound
	}
	if q[a].depth != q[b].depth {
		return q[a].depth > q[b].depth
	}
	return q[a].id > q[b].id
}
func (q *countQueue) Push(x any) { *q = append(*q, x.(*countNode)) }
func (q *countQueue) Pop() any {
	old := *q
	n := old[len(old)-1]
	*q = old[:len(old)-1]
	return n
}

// counts is the search over numbers of boards.
type counts struct {
	s      *solver
	priced []int // stocks that cost something; of the others all are taken
	cuts   []countCut
	cost   []float64   // per cut and scaled: need
	coef   [][]float64 // per cut, per priced stock, scaled: worth
	lp     *lp.Problem // the dual of the small program: a row per priced stock
	relief *master
	open   countQueue
	ids    int
	shelf  shelf
	red    []float64 // per priced stock: what a board costs beyond its worth, at the node
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
	c := &counts{s: s}
	for st, sk := range s.in.Stock {
		if sk.Cost > 0 {
			c.priced = append(c.priced, st)
		}
	}
	for _, st := range c.priced {
		s.base.add(column{stock: int32(st), cost: s.in.Stock[st].Cost}) // a board may stay empty
	}
	c.red = make([]float64, len(c.priced))
	c.small()
	c.relief = s.newRelief(root)
	s.relief = c.relief
	c.addCut(s.base.cutOf())
	top := &countNode{lo: make([]int64, len(s.in.Stock)), bound: root.bound}
	for _, sk := range s.in.Stock {
		top.hi = append(top.hi, sk.Avail)
	}
	c.push(top)
	for c.open.Len() > 0 && c.open[0].bound <= s.target() && !s.spent() {
		n := heap.Pop(&c.open).(*countNode)
		if at, ok := c.visit(n); ok {
			c.settle(n, at)
		}
	}
	for c.shelf.settle(s) {
	}
	low := c.shelf.bound()
	if c.open.Len() > 0 {
		low = min(low, c.open[0].bound)
	}
	if low > s.target() {
		return s.best
	}
	return low
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

func (c *counts) push(n *countNode) {
	if n.bound <= c.s.target() {
		c.ids++
		n.id = c.ids
		heap.Push(&c.open, n)
	}
}

// small sets up the small program's dual: minimise hi q - lo p - need l, for
// each stock p - q + worth l = cost. Its duals are the numbers, negated.
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

// addCut puts an inequality into the small program, scaled to the size of costs.
func (c *counts) addCut(cut countCut, scale float64) {
	need := cut.need
	for st, w := range cut.worth {
		if c.s.in.Stock[st].Cost == 0 {
			need.addMul(-w, c.s.limit(st))
		}
	}
	r := math.Nextafter(need.float()/scale, math.Inf(-1))
	var f []float64
	var rows []int32
	for k, st := range c.priced {
		f = append(f, math.Nextafter(float64(cut.worth[st])/scale, math.Inf(1)))
		rows = append(rows, int32(k))
	}
	c.cuts = append(c.cuts, cut)
	c.cost = append(c.cost, r)
	c.coef = append(c.coef, f)
	j := c.lp.AddCol(-r, rows, f)
	c.lp.SetUpper(j, 1e4) // so that a box without points has a bound, a high one
}

// limit is the most boards of a stock that any better plan takes.
func (s *solver) limit(st int) int64 {
	n := min(s.noLimit[st], s.in.Stock[st].Avail)
	if v := s.in.Stock[st].Cost; v > 0 {
		n = min(n, s.target()/v)
	}
	return n
}

// visit bounds a node and proposes numbers of boards. It branches where they
// are broken, and reports true when they are whole and no other node is cheaper.
func (c *counts) visit(n *countNode) ([]int64, bool) {
	s := c.s
	for _, st := range c.priced {
		n.hi[st] = min(n.hi[st], s.limit(st))
		if n.lo[st] > n.hi[st] {
			return nil, false
		}
	}
	x := c.solve(n)
	if n.bound > s.target() {
		return nil, false
	}
	if c.open.Len() > 0 && n.bound > c.open[0].bound {
		c.push(n)
		return nil, false
	}
	if c.branch(n, x) {
		return nil, false
	}
	whole := make([]int64, len(s.in.Stock))
	for st, sk := range s.in.Stock {
		if sk.Cost == 0 {
			whole[st] = s.limit(st)
		}
	}
	for k, st := range c.priced {
		whole[st] = int64(math.Round(math.Max(float64(n.lo[st]), math.Min(float64(n.hi[st]), x[k]))))
	}
	for i := range c.cuts {
		if _, broken := c.cuts[i].breaks(whole); broken {
			c.split(n, whole)
			return nil, false
		}
	}
	return whole, true
}

// branch splits a box whose numbers x are broken: first stocks the small program
// leaves at an end of their range at a price, which fixes those that do not
// matter; then a broken number into the nearest whole one and what lies to either
// side, so that a few levels settle all.
func (c *counts) branch(n *countNode, x []float64) bool {
	at, side, most := -1, int64(0), c.s.typical*1e-6
	for k, st := range c.priced {
		if n.lo[st] == n.hi[st] {
			continue
		}
		if r := c.red[k]; r > most && x[k] < float64(n.lo[st])+1e-6 {
			at, side, most = st, n.lo[st], r
		} else if -r > most && x[k] > float64(n.hi[st])-1e-6 {
			at, side, most = st, n.hi[st], -r
		}
	}
	if at < 0 {
		broken := 1e-6
		for k, st := range c.priced {
			v := math.Max(float64(n.lo[st]), math.Min(float64(n.hi[st]), x[k]))
			if f := math.Abs(v - math.Round(v)); f > broken {
				at, side, broken = st, int64(math.Round(v)), f
			}
		}
	}
	if at < 0 {
		return false
	}
	for _, r := range [3][2]int64{{n.lo[at], side - 1}, {side + 1, n.hi[at]}, {side, side}} {
		if r[0] <= r[1] {
			kid := n.copy()
			kid.lo[at], kid.hi[at] = r[0], r[1]
			c.push(kid)
		}
	}
	return true
}

func (n *countNode) copy() *countNode {
	return &countNode{lo: append([]int64(nil), n.lo...), hi: append([]int64(nil), n.hi...), bound: n.bound, depth: n.depth + 1}
}

// split makes the boxes of n that hold no numbers as small as those at.
func (c *counts) split(n *countNode, at []int64) {
	rest := n
	for _, st := range c.priced {
		if rest.hi[st] > at[st] {
			up := rest.copy()
			up.lo[st] = max(up.lo[st], at[st]+1)
			c.push(up)
		}
		rest = rest.copy()
		rest.hi[st] = min(rest.hi[st], at[st])
	}
}

// solve raises the node's bound by the small program and returns its numbers.
// The bound comes from the multipliers by weak duality, with far more taken off
// than so few operations can lose to rounding.
func (c *counts) solve(n *countNode) []float64 {
	for k, st := range c.priced {
		c.lp.SetCost(2*k, -float64(n.lo[st]))
		c.lp.SetCost(2*k+1, float64(n.hi[st]))
	}
	c.lp.Solve()
	w := c.lp.Work()
	c.s.work += w - c.relief.smallW
	c.relief.smallW = w
	red := c.red
	for k, st := range c.priced {
		red[k] = float64(c.s.in.Stock[st].Cost)
	}
	sum, size := 0.0, 0.0
	base := 2 * len(c.priced)
	for i, f := range c.coef {
		l := c.lp.Value(base + i)
		if l <= 0 {
			continue
		}
		sum += float64(l * c.cost[i])
		size += math.Abs(float64(l * c.cost[i]))
		for k := range red {
			red[k] -= float64(l * f[k])
		}
	}
	for k, st := range c.priced {
		size += float64(float64(c.s.in.Stock[st].Cost) * float64(n.lo[st]+1))
		if red[k] >= 0 {
			sum += float64(red[k] * float64(n.lo[st]))
		} else {
			sum += float64(red[k] * float64(n.hi[st]))
			size += float64(-red[k] * float64(n.hi[st]))
		}
	}
	n.bound = max(n.bound, c.onGrid(n, ceil(sum-float64(1e-11*size))))
	x := make([]float64, len(c.priced))
	for k, y := range c.lp.Duals() {
		x[k] = -y
	}
	return x
}

// onGrid rounds a bound up to a cost that the numbers still free can make.
func (c *counts) onGrid(n *countNode, b int64) int64 {
	base, step := int64(0), int64(0)
	for _, st := range c.priced {
		v := c.s.in.Stock[st].Cost
		base += v * n.lo[st]
		if n.lo[st] < n.hi[st] {
			step = gcd(step, v)
		}
	}
	switch {
	case b <= base:
		return base
	case step == 0 || b == math.MaxInt64:
		return math.MaxInt64
	}
	return base + (b-base+step-1)/step*step
}

// settle decides whether numbers of boards hold the pieces, or puts it by.
func (c *counts) settle(n *countNode, at []int64) {
	s := c.s
	if !c.holds(at) {
		c.push(n)
		return
	}
	pack := &node{item: c.relief.n.item, bound: n.bound, depth: 1,
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
	c.split(n, at)
}
