package search

import (
	"container/heap"
	"math"
	"sort"
)

// queue orders nodes by the linear program's cost in coarse steps, deeper first on ties, then by age.
type queue []*node

func (q queue) Len() int      { return len(q) }
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
	if n.at < 0 || n.depth == 0 {
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
		var ds []float64
		for c := range ms.cols {
			ds = append(ds, ms.lp.Reduced(c+ms.base))
		}
		sort.Float64s(ds)
		limit = min(limit, ds[most])
	}
	at := ms.lp.Keep(func(j int) bool { return j < ms.base || ms.lp.Reduced(j) <= limit })
	var cols []column
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
	s.dive(ms, 0, 0)
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

// child copies a node one deeper.
func (n *node) child(cols []column) *node {
	c := &node{item: n.item, rule: n.rule, cols: cols, bound: n.bound, hope: n.hope, depth: n.depth + 1, own: n.own, most: n.most}
	c.lo = append([]int64(nil), n.lo...)
	c.hi = append([]int64(nil), n.hi...)
	return c
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

// pair picks two items whose boards in common are broken, near one half and
// long, and the whole number below. When none is broken it takes the longest
// two of a broken column.
func (s *solver) pair(ms *master, n *node) (i, j int, k int64, ok bool) {
	m := ms.m
	together := make(map[int64]float64)
	var keys []int64
	var fallback int64 = -1
	for _, b := range ms.lp.Basic() {
		x := ms.lp.Value(b)
		if b < ms.base || x < 1e-7 {
			continue
		}
		c := &ms.cols[b-ms.base]
		broken := math.Abs(x-math.Round(x)) > 1e-5
		for p, a := range c.item {
			for q := p; q < len(c.item); q++ {
				if p == q && c.count[p] < 2 {
					continue
				}
				key := int64(a)*int64(m) + int64(c.item[q])
				if _, seen := together[key]; !seen {
					keys = append(keys, key)
				}
				together[key] += x
				if broken && fallback < 0 {
					fallback = key
				}
			}
		}
	}
	sort.Slice(keys, func(a, b int) bool { return keys[a] < keys[b] })
	best := 0.0
	for _, key := range keys {
		y := together[key]
		f := y - math.Floor(y)
		if f < 1e-5 || f > 1-1e-5 {
			continue
		}
		a, b := int(key)/m, int(key)%m
		w := f * (1 - f) * float64(n.item[a].len+n.item[b].len)
		if w > best {
			best, i, j, k, ok = w, a, b, int64(math.Floor(y)), true
		}
	}
	if !ok && fallback >= 0 {
		i, j = int(fallback)/m, int(fallback)%m
		k, ok = int64(math.Round(together[fallback]))-1, true
		if k < 0 {
			return 0, 0, 0, false
		}
	}
	return i, j, k, ok
}

// apart is the child in which at most k boards hold both items.
func (n *node) apart(cols []column, i, j int, k int64) *node {
	c := n.child(nil)
	c.own = true
	r := int32(len(n.rule))
	c.item = append([]item(nil), n.item...)
	c.item[i].tags = append(append([]int32(nil), c.item[i].tags...), 2*r)
	b := 2 * r
	if i != j {
		b++
		c.item[j].tags = append(append([]int32(nil), c.item[j].tags...), b)
	}
	c.rule = append(append([]rule(nil), n.rule...), rule{a: 2 * r, b: b, atMost: k})
	for q := range cols {
		if k > 0 || hits(c.item, &cols[q], c.rule[r]) == 0 {
			c.cols = append(c.cols, cols[q])
		}
	}
	return c
}

// glue is the child in which at least k boards hold both items: k of each are
// glued into one longer item.
func (n *node) glue(cols []column, i, j int, k int64) *node {
	c := n.child(nil)
	c.own = true
	a, b := n.item[i], n.item[j]
	g := item{len: a.len + b.len, dem: k}
	g.parts = append(append([]int32(nil), a.parts...), b.parts...)
	g.tags = append(append([]int32(nil), a.tags...), b.tags...)
	rest := make([]int64, len(n.item))
	for q, it := range n.item {
		rest[q] = it.dem
	}
	rest[i] -= k
	rest[j] -= k
	if rest[i] < 0 || rest[j] < 0 {
		c.bound = math.MaxInt64
		return c
	}
	// New order: longest first, spent items dropped.
	at := make([]int32, len(n.item))
	c.item = nil
	gAt := int32(-1)
	for q, it := range n.item {
		if gAt < 0 && g.len >= it.len {
			gAt = int32(len(c.item))
			c.item = append(c.item, g)
		}
		at[q] = -1
		if rest[q] > 0 {
			at[q] = int32(len(c.item))
			it.dem = rest[q]
			c.item = append(c.item, it)
		}
	}
	if gAt < 0 {
		gAt = int32(len(c.item))
		c.item = append(c.item, g)
	}
	for q := range cols {
		warm := cols[q].warm
		if d, ok := remap(&cols[q], at, rest, -1, -1, gAt); ok {
			d.warm, warm = warm, false
			c.cols = append(c.cols, d)
		}
		if d, ok := remap(&cols[q], at, rest, int32(i), int32(j), gAt); ok {
			d.warm = warm
			c.cols = append(c.cols, d)
		}
	}
	return c
}

// remap carries a column into the items of a glued child, with one i and one j
// replaced by the glued item at g when i is given.
func remap(c *column, at []int32, rest []int64, i, j, g int32) (column, bool) {
	count := make(map[int32]int32)
	for k, it := range c.item {
		count[it] = c.count[k]
	}
	d := column{stock: c.stock, cost: c.cost}
	if i >= 0 {
		count[i]--
		count[j]--
		if count[i] < 0 || count[j] < 0 {
			return d, false
		}
	}
	put := func(it, n int32) {
		d.item = append(d.item, it)
		d.count = append(d.count, n)
	}
	glued := i < 0
	for _, it := range c.item {
		n := count[it]
		if n == 0 {
			continue
		}
		if at[it] < 0 || int64(n) > rest[it] {
			return d, false
		}
		if !glued && g < at[it] {
			put(g, 1)
			glued = true
		}
		put(at[it], n)
	}
	if !glued {
		put(g, 1)
	}
	return d, true
}
