package search

import (
	"math"
	"sort"
)

// Near the least cost few patterns are left: one whose reduced cost is beyond
// what a better plan may waste cannot be in it. Where the numbers of boards are
// settled, all others can often be listed, and what is below such a node is
// searched over the list, without pricing (Baldacci, Christofides and Mingozzi
// 2008, for routes). Reduced costs and slack are compared in integers.

// listMost is the longest list of patterns, listWork the nodes to spend on it.
const (
	listMost = 60_000
	listWork = 2_000_000
)

// listed searches below a node by the list of all patterns a better plan may
// use, and reports whether the node is done with.
//
// Items that the duals give no value fit in somewhere as a rule. They are left
// out at first, which can only make the rest easier, and put into the boards of
// a plan afterwards; one that does not go in is asked for from then on.
func (s *solver) listed(ms *master, n *node) bool {
	if s.in.Credit.Value != 0 || len(n.rule) > 0 {
		return false
	}
	for st := range ms.lo {
		ms.lo[st] = 0 // fewer boards would be as welcome, and it spreads the costs
	}
	ms.setRows()
	out := ms.solve(s.target()+1, proven)
	n.bound = max(n.bound, s.safeBound(ms.bound))
	if n.bound > s.target() {
		return true
	}
	if out != solved {
		n.lost = out == noWork
		return n.lost
	}
	var warm []column
	for _, j := range ms.lp.Basic() {
		if j >= ms.base && len(ms.cols[j-ms.base].item) > 0 {
			d := ms.cols[j-ms.base]
			d.warm = true
			warm = append(warm, d)
		}
	}
	asked := make([]bool, ms.m)
	for !s.spent() {
		c := n.child(nil)
		var ok bool
		c.pool, ok = ms.list(asked, c)
		ms.account()
		if !ok {
			return false
		}
		c.own, c.listed = true, true
		clear(c.lo)
		for _, w := range warm {
			if d, ok := c.without(w); ok {
				c.cols = append(c.cols, d)
			}
		}
		done, miss := s.throughList(c)
		switch {
		case done:
			n.bound = s.target() + 1
			return true
		case miss >= 0 && !asked[miss]:
			asked[miss] = true
		default:
			return false
		}
	}
	return false
}

// throughList searches a listed node. miss is an item left out that did not go
// into the boards of a plan of the others, or -1.
func (s *solver) throughList(c *node) (done bool, miss int) {
	ms := s.newMaster(c)
	switch ms.solve(s.target()+1, proven) {
	case cutOff:
		return true, -1
	case solved:
		if ms = s.tighten(ms, c); ms == nil {
			return c.bound > s.target(), -1
		}
		return s.scan(ms, c)
	}
	return false, -1
}

// without is a column less the items the node leaves out.
func (n *node) without(c column) (column, bool) {
	d := column{stock: c.stock, cost: c.cost, warm: c.warm}
	for k, i := range c.item {
		if n.item[i].dem > 0 {
			d.item = append(d.item, i)
			d.count = append(d.count, c.count[k])
		}
	}
	return d, len(d.item) > 0
}

// goal is the dearest plan below a node that is worth finding.
func (s *solver) goal(n *node) int64 {
	if n.most > 0 {
		return min(s.target(), n.most)
	}
	return s.target()
}

// list enumerates the patterns that a plan within the target may use, by the
// present duals. It leaves items of no value that are not asked for out of c.
func (ms *master) list(asked []bool, c *node) ([]column, bool) {
	s := ms.s
	ms.price.SetGrid(s.grid)
	y := ms.lp.Duals()
	scale := ms.loadDuals(y)
	total := int128{}
	c.item = append([]item(nil), c.item...)
	for i, d := range ms.dem {
		switch {
		case ms.value[i] > 0:
		case asked[i]:
			ms.value[i], ms.ub[i] = 1, int32(min(d, math.MaxInt32))
		default:
			c.item[i].dem = 0
			c.leftOut++
		}
		total.addMul(ms.value[i], d)
	}
	ms.price.Load(ms.value, ms.ub)
	guess := (float64(s.goal(c)) - ms.bound) * scale
	guess += float64(math.Abs(guess)*1e-6) + float64(s.tol*scale*10)
	if guess < 0 || guess > 1<<60 {
		return nil, false
	}
	from := make([]int64, len(ms.lo))
	top := make([]int64, len(ms.lo))
	var pool []column
	for st, sk := range s.in.Stock {
		if ms.hi[st] <= 0 {
			continue
		}
		from[st] = max(0, int64(scale)*sk.Cost-int64(math.Floor(y[ms.m+st]*scale))-int64(guess)-1)
		top[st] = from[st]
		all := ms.price.Each(sk.Cap, from[st], s.in.Most, listWork, func(count []int32, v int64) bool {
			pool = append(pool, ms.column(st, count))
			top[st] = max(top[st], v)
			return len(pool) < listMost
		})
		if !all {
			return nil, false
		}
	}
	// The list is complete if what was left out could not be used.
	dual := make([]int64, len(ms.lo))
	for st, sk := range s.in.Stock {
		if ms.hi[st] <= 0 {
			continue
		}
		if slack := int64(scale)*sk.Cost - top[st]; slack < 0 {
			dual[st] = slack
			total.addMul(slack, min(ms.hi[st], s.noLimit[st]))
		}
	}
	room := int128{}
	room.addMul(int64(scale), s.goal(c))
	room.sub(total)
	for st, sk := range s.in.Stock {
		if ms.hi[st] <= 0 || from[st] == 0 {
			continue
		}
		least := int128{} // reduced cost of the best pattern left out
		least.addMul(int64(scale), sk.Cost)
		least.addMul(-1, dual[st])
		least.addMul(-1, from[st])
		if !room.less(least) {
			return nil, false
		}
	}
	return pool, true
}

// poolRound prices the patterns of the list with the present duals, adds the
// best to the linear program, updates the safe bound, and strikes off the list
// what a better plan cannot use any more. It returns how many it added.
func (ms *master) poolRound() (added int) {
	s := ms.s
	ms.rounds++
	y := ms.lp.Duals()
	scale := ms.loadDuals(y)
	total := int128{}
	for i, d := range ms.dem {
		total.addMul(ms.value[i], d)
	}
	pen := make([]int64, len(ms.n.rule))
	for k, r := range ms.n.rule {
		pen[k] = int64(math.Floor(math.Min(0, y[ms.m+len(ms.lo)+k]) * scale))
		total.addMul(pen[k], r.atMost)
	}
	top := make([]int64, len(ms.lo))
	value := make([]int64, len(ms.n.pool))
	entries := 0
	for q := range ms.n.pool {
		c := &ms.n.pool[q]
		entries += len(c.item)
		value[q] = math.MinInt64
		if !ms.proper(c) {
			continue
		}
		v := int64(0)
		for k, i := range c.item {
			v += ms.value[i] * int64(c.count[k])
		}
		for k, r := range ms.n.rule {
			if pen[k] < 0 {
				v += pen[k] * int64(hits(ms.n.item, c, r))
			}
		}
		value[q] = v
		top[c.stock] = max(top[c.stock], v)
	}
	s.work += int64(2 * entries)
	dual := make([]int64, len(ms.lo))
	for st, sk := range s.in.Stock {
		if ms.hi[st] <= 0 {
			continue
		}
		if slack := int64(scale)*sk.Cost - top[st]; slack < 0 {
			dual[st] = slack
			total.addMul(slack, min(ms.hi[st], s.noLimit[st]))
		}
	}
	if b := total.float() / scale; b > ms.bound {
		ms.bound = b
	}
	if !ms.diving {
		room := int128{}
		room.addMul(int64(scale), s.goal(ms.n))
		room.sub(total)
		keep := ms.n.pool[:0]
		kept := value[:0]
		for q, c := range ms.n.pool {
			red := int128{}
			red.addMul(int64(scale), s.in.Stock[c.stock].Cost)
			red.addMul(-1, dual[c.stock])
			red.addMul(-1, value[q])
			if value[q] != math.MinInt64 && !room.less(red) {
				keep, kept = append(keep, c), append(kept, value[q])
			}
		}
		ms.n.pool, value = keep, kept
	}
	type found struct {
		q   int
		gap int64
	}
	var list []found
	tol := int64(scale * s.tol)
	for q := range ms.n.pool {
		c := &ms.n.pool[q]
		thr := int64(scale)*s.in.Stock[c.stock].Cost - int64(math.Floor(y[ms.m+int(c.stock)]*scale)) + tol
		if value[q] > thr {
			list = append(list, found{q, value[q] - thr})
		}
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].gap > list[b].gap })
	for _, f := range list {
		if added >= 20+ms.m/4 {
			break
		}
		if ms.add(ms.n.pool[f.q]) {
			added++
		}
	}
	return added
}
