package search

import (
	"container/heap"
	"math"
	"sort"
)

// queue orders nodes by the linear program's cost in coarse steps, deeper first on ties, then by age.
type queue []*node

func (q queue) Len() int { return len(q) }

func (q queue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }

func (q queue) Less(a, b int) bool {
	if q[a].rank != q[b].rank {
		return q[a].rank < q[b].rank
	}
	if q[a].depth != q[b].depth {
		return q[a].depth > q[b].depth
	}
	return q[a].id > q[b].id
}

func (q *queue) Push(x any) { *q = append(*q, x.(*node)) }

func (q *queue) Pop() any {
	old := *q
	n := old[len(old)-1]
	*q = old[:len(old)-1]
	return n
}

// root is the node of the whole instance.
func (s *solver) root() *node {
	n := &node{bound: math.MinInt64}
	for i, l := range s.in.Len {
		n.item = append(n.item, item{len: l, dem: s.in.Dem[i], parts: []int32{int32(i)}})
	}
	n.lo = make([]int64, len(s.in.Stock))
	for _, st := range s.in.Stock {
		n.hi = append(n.hi, st.Avail)
	}
	for i := range s.in.Len {
		best, any := column{}, false
		for st := range s.in.Stock {
			c, ok := s.single(i, st)
			if !ok || s.in.Stock[st].Avail != Unlimited {
				continue
			}
			if !any || less128(c.cost, int64(best.count[0]), best.cost, int64(c.count[0])) {
				best, any = c, true
			}
		}
		if any {
			n.cols = append(n.cols, best)
		}
	}
	for _, r := range s.runs {
		n.cols = append(n.cols, column{stock: int32(r.Stock), item: r.Item, count: r.Count, cost: s.in.cost(&r.Pattern)})
	}
	return n
}

// single is the pattern of one item alone, as many as go.
func (s *solver) single(i, st int) (column, bool) {
	sk := s.in.Stock[st]
	k := min(sk.Cap/s.in.Len[i], s.in.Dem[i])
	if s.in.Most > 0 {
		k = min(k, int64(s.in.Most))
	}
	if k < 1 || sk.Avail < 1 {
		return column{}, false
	}
	p := Pattern{st, []int32{int32(i)}, []int32{int32(k)}}
	return column{stock: int32(st), item: p.Item, count: p.Count, cost: s.in.cost(&p)}, true
}

// tree runs branch and price and returns the proven bound.
func (s *solver) tree() int64 {
	root := s.root()
	if !s.byCounts() {
		return s.explore(root)
	}
	s.visit(root)
	switch {
	case root.bound > s.target():
		return s.best
	case s.base == nil || s.spent():
		return root.bound
	}
	return s.searchCounts(root)
}

// hunt is branch and price below a node. It can be put by and taken up again.
type hunt struct {
	s   *solver
	q   queue
	low int64 // least bound of the nodes that were given up
	ids int
}

func (s *solver) hunt(start *node) *hunt {
	return &hunt{s: s, q: queue{start}, low: math.MaxInt64}
}

// soon is how many nodes a hunt over one stock visits before the list of patterns
// is tried: many end by then, and the list may be long.
const soon = 12

// explore hunts to the end and returns the proven bound.
func (s *solver) explore(start *node) int64 {
	h := s.hunt(start)
	if s.oneCost && !h.run(soon) && !s.spent() {
		n := s.root()
		if s.listed(s.masterOf(n), n) && n.bound > s.target() {
			return s.best
		}
	}
	h.run(math.MaxInt)
	if low := h.bound(); low <= s.target() {
		return low
	}
	return s.best
}

// bound is the least cost of a plan that the hunt has not ruled out.
func (h *hunt) bound() int64 {
	low := h.low
	for _, n := range h.q {
		low = min(low, n.bound)
	}
	return low
}

// run visits up to most nodes and reports whether none are left that matter.
func (h *hunt) run(most int) bool {
	s := h.s
	for end := s.nodes + min(most, math.MaxInt-s.nodes); len(h.q) > 0; {
		if s.nodes >= end || s.spent() {
			return false
		}
		n := heap.Pop(&h.q).(*node)
		if n.bound > s.target() {
			continue
		}
		if !n.solved || ceil(n.hope) > s.target() {
			s.visit(n)
		}
		if n.bound > s.target() {
			continue
		}
		if n.lost {
			h.low = min(h.low, n.bound)
			continue
		}
		for _, k := range s.expand(n) {
			if k.bound > s.target() {
				continue
			}
			h.ids++
			k.id = h.ids
			k.rank = s.rank(k)
			heap.Push(&h.q, k)
		}
	}
	return true
}

// rank puts nodes of about the same cost together, so that the deepest of them
// comes first and the linear program seldom has far to go.
func (s *solver) rank(n *node) int64 {
	gap := float64(s.target()) - s.rootHope
	if gap <= 0 {
		return 0
	}
	return int64(math.Floor((n.hope - s.rootHope) / gap * 6))
}

// expand makes the children of a visited node. Those that share the root's
// linear program are visited at once, while it is near.
func (s *solver) expand(n *node) []*node {
	if n.kids != nil {
		return n.kids
	}
	down, up := n.child(n.cols), n.child(n.cols)
	down.hi[n.at] = n.k
	up.lo[n.at] = n.k + 1
	kids := []*node{down, up}
	if n.up {
		kids[0], kids[1] = up, down
	}
	if !n.own {
		for _, k := range kids {
			if !s.spent() {
				s.visit(k)
			}
		}
	}
	return kids
}

// visit solves a node, rounds it where that may pay, and settles how it is to
// be branched. Afterwards the node's bound exceeds the target if it is done
// with, and lost says that the bound stands but nothing below was ruled out.
func (s *solver) visit(n *node) {
	s.nodes++
	n.solved = true
	ms := s.masterOf(n)
	defer func() {
		if ms != s.base {
			ms.price.Release()
		}
	}()
	want := prune
	if n.depth == 0 {
		want = proven
	}
	out := ms.solve(s.target()+1, want)
	n.bound = max(n.bound, s.safeBound(ms.bound))
	if out == solved && n.depth == 0 {
		ms.shutExchanges()
		out = ms.solve(s.target()+1, proven)
		s.rootHope = ms.obj
	}
	if out == cutOff && n.bound <= s.target() {
		n.bound = max(n.bound, s.safeBound(ms.bound))
	}
	if n.bound > s.target() {
		return
	}
	if out != solved {
		n.lost = true
		return
	}
	n.hope = ms.obj
	if s.whole(ms) && n.bound > s.target() {
		return
	}
	frac := 0.0
	n.at, n.k, frac = s.brokenStock(ms)
	n.up = frac > 0.5
	if n.at < 0 || n.depth == 0 && !s.byCounts() {
		if s.round(ms, n); n.bound > s.target() {
			return
		}
	}
	if n.depth == 0 {
		s.settle(ms)
	}
	if n.at >= 0 {
		if n.own {
			n.cols = s.useful(ms)
		}
		return
	}
	if !n.own && !s.oneCost && s.listed(ms, n) {
		return
	}
	i, j, k, ok := s.pair(ms, n)
	if !ok {
		n.lost = true
		return
	}
	cols := s.useful(ms)
	n.kids = []*node{n.apart(cols, i, j, k), n.glue(cols, i, j, k+1)}
}

// masterOf gives a node its linear program. Nodes that differ from the root in
// their numbers of boards alone share one, warm from the last.
func (s *solver) masterOf(n *node) *master {
	if n.own || s.base == nil {
		return s.newMaster(n)
	}
	ms := s.base
	copy(ms.lo, n.lo)
	copy(ms.hi, n.hi)
	ms.setRows()
	ms.reopen()
	return ms
}

// settle keeps the root's master for the nodes to come, without the columns too
// dear to be part of a better plan.
func (s *solver) settle(ms *master) {
	gap := float64(s.best) - ms.obj + s.tol
	limit := gap
	if most := 4*ms.m + 100; len(ms.cols) > most {
		ds := make([]float64, 0, len(ms.cols))
		for c := range ms.cols {
			ds = append(ds, ms.lp.Reduced(c+ms.base))
		}
		sort.Float64s(ds)
		limit = min(limit, ds[most])
	}
	at := ms.lp.Keep(func(j int) bool { return j < ms.base || ms.lp.Reduced(j) <= limit })
	cols := make([]column, 0, 4*ms.m+100)
	clear(ms.seen)
	for c, col := range ms.cols {
		if at[c+ms.base] >= 0 {
			h := col.hash()
			ms.seen[h] = append(ms.seen[h], int32(len(cols)))
			cols = append(cols, col)
		}
	}
	ms.cols = cols
	s.base = ms
}

// round looks for plans near the solved master.
func (s *solver) round(ms *master, n *node) {
	s.dive(ms, n, 0, 0)
}

// brokenStock is the stock whose number of boards is farthest from whole, and
// the whole number below; at is -1 when all are whole. With a single stock the
// bound, rounded up, says all that this branching could.
func (s *solver) brokenStock(ms *master) (at int, k int64, frac float64) {
	at = -1
	if len(s.in.Stock) == 1 {
		return at, 0, 0
	}
	boards := make([]float64, len(ms.lo))
	for _, j := range ms.lp.Basic() {
		if j >= ms.base {
			boards[ms.cols[j-ms.base].stock] += ms.lp.Value(j)
		}
	}
	score := 1e-5
	for st, b := range boards {
		f := b - math.Floor(b)
		if w := math.Min(f, 1-f); w > score {
			at, score, k, frac = st, w, int64(math.Floor(b)), f
		}
	}
	return at, k, frac
}

// whole offers the master's solution if it is in whole boards.
func (s *solver) whole(ms *master) bool {
	var taken []fixing
	for _, j := range ms.lp.Basic() {
		if x := ms.lp.Value(j); j >= ms.base && x > 1e-5 {
			n := math.Round(x)
			if math.Abs(x-n) > 1e-5 {
				return false
			}
			taken = append(taken, fixing{j - ms.base, int64(n)})
		}
	}
	s.offer(ms, taken)
	return true
}

// useful are the columns worth handing down: those cheap enough under the
// duals to be in a better plan, the cheapest first when there are many.
func (s *solver) useful(ms *master) []column {
	type priced struct {
		c int
		d float64
	}
	gap := float64(s.best) - ms.obj + s.tol
	var list []priced
	for c := range ms.cols {
		if len(ms.cols[c].item) == 0 || !ms.proper(&ms.cols[c]) {
			continue
		}
		if d := ms.lp.Reduced(c + ms.base); d <= gap {
			list = append(list, priced{c, d})
		}
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].d < list[b].d })
	if most := 5*ms.m + 100; len(list) > most && !ms.n.listed {
		list = list[:most]
	}
	out := make([]column, len(list))
	for k, p := range list {
		out[k] = ms.cols[p.c]
		out[k].warm = ms.lp.IsBasic(p.c + ms.base)
	}
	return out
}
