package search

import (
	"math"
	"sort"

	"stallwright/engine/cut/knapsack"
	"stallwright/engine/cut/lp"
)

// item is one row of a node's master: an original piece, or pieces glued
// together by branching.
type item struct {
	len   int64
	dem   int64
	parts []int32 // original items, repeated for copies
	tags  []int32 // sides of rules it counts on: 2r and 2r+1 for rule r
}

// rule limits on how many boards two items may lie together: at most atMost
// boards hold both an item tagged a and one tagged b (two tagged a when a
// equals b). Tags are handed out when the rule is made, and items glued later
// inherit them, so that the rule goes on meaning the same boards.
//
// A half rule counts the pieces tagged a instead: a board that holds n of them
// counts n/2 times, rounded down, and all boards together at most atMost times.
// That is a cutting plane where atMost is half of all such pieces, rounded down.
type rule struct {
	a, b   int32
	atMost int64
	half   bool
}

// column is a pattern in a node's items.
type column struct {
	stock int32
	item  []int32
	count []int32
	cost  int64
	warm  bool // basic in the linear program it comes from
}

// node is one problem of the search tree.
type node struct {
	item    []item
	lo, hi  []int64 // boards per stock
	rule    []rule
	cols    []column // to start from
	bound   int64    // safe lower bound
	hope    float64  // what the linear program says, for the order
	depth   int
	id      int
	own     bool  // rules or glued items: needs a master of its own
	rank    int64 // hope in coarse steps
	solved  bool
	lost    bool    // could not be solved or branched; its bound stands
	at      int     // stock to branch on, or -1
	k       int64   // boards of it, at most or one more at least
	up      bool    // the child with more boards first
	kids    []*node // children by items
	most    int64   // all its boards cost no more, nor need a plan below; zero for no such limit
	listed  bool    // pool holds every pattern that a better plan below may use
	pool    []column
	leftOut int // items left out of a listed node
}

// master is a node's linear program with its pricing.
type master struct {
	s       *solver
	n       *node
	lp      *lp.Problem
	m       int      // item rows
	base    int      // lp columns before the first pattern
	cols    []column // lp column j is cols[j-base]
	seen    map[uint64][]int32
	price   *knapsack.Solver
	dem     []int64 // remaining demand
	lo, hi  []int64 // remaining boards per stock
	value   []int64
	ub      []int32
	bigM    float64
	rules   []knapsack.Rule
	bound   float64 // best safe bound of the present remainder, in cost units
	obj     float64
	rounds  int
	center  []float64 // duals of the best bound so far, to steady the next
	centerB float64
	lastW   int64
	given   []int64 // boards to be had for nothing, in the program of relief
	smallW  int64
	rowAt   []int32 // entries of the column last looked at
	rowVal  []float64
	diving  bool // pieces were taken out: what is left is not the node's problem
}

// emptyMaster builds the rows of a node's linear program and its pricing.
func (s *solver) emptyMaster(n *node) *master {
	m, S := len(n.item), len(s.in.Stock)
	ms := &master{s: s, n: n, m: m, lp: lp.New(m + S + len(n.rule))}
	ms.lp.SetScale(s.typical)
	if !s.oneCost {
		ms.lp.SetWatch(24)
	}
	ms.seen = make(map[uint64][]int32)
	ms.dem = make([]int64, m)
	ms.lo = append([]int64(nil), n.lo...)
	ms.hi = append([]int64(nil), n.hi...)
	ms.value = make([]int64, m)
	ms.ub = make([]int32, m)
	lengths := make([]int64, m)
	var pieces []int32
	for i, it := range n.item {
		ms.dem[i] = it.dem
		lengths[i] = it.len
		if len(it.parts) > 1 && pieces == nil {
			pieces = make([]int32, m)
		}
	}
	for i := range pieces {
		pieces[i] = int32(len(n.item[i].parts))
	}
	if n.listed {
		return ms.artificials()
	}
	ms.price = knapsack.New(lengths, pieces, s.maxCap, s.grid)
	return ms.artificials()
}

// artificials sets up the rows of rules, and a dear column for each item that
// stands for pieces not cut.
func (ms *master) artificials() *master {
	for i, r := range ms.n.rule {
		ms.lp.SetRow(ms.m+len(ms.lo)+i, math.Inf(-1), float64(r.atMost))
	}
	ms.bigM = ms.s.bigM
	for i := range ms.n.item {
		ms.lp.AddCol(ms.bigM, []int32{int32(i)}, []float64{1})
	}
	ms.base = ms.m
	return ms
}

// newMaster builds the linear program of a node.
func (s *solver) newMaster(n *node) *master {
	ms := s.emptyMaster(n)
	if n.depth == 0 {
		ms.exchanges()
	}
	ms.setRows()
	for st := range s.in.Stock {
		if ms.lo[st] > 0 {
			ms.add(column{stock: int32(st), cost: s.in.Stock[st].Cost - s.in.Credit.Of(s.in.Stock[st].Cap)})
		}
	}
	var basis []int
	for _, c := range n.cols {
		if ms.add(c) && c.warm {
			basis = append(basis, ms.lp.Cols()-1)
		}
	}
	if basis != nil {
		ms.lp.Start(basis)
	}
	if !n.listed {
		ms.prepareRules()
	}
	return ms
}

// exchanges adds columns that cut a piece from the place of the next longer one,
// at no cost. They keep the duals in the order of the lengths, which any optimal
// duals can be (Valério de Carvalho 2005), and so save most of the rounds; they
// are shut once the columns have converged.
func (ms *master) exchanges() {
	for i := 0; i+1 < ms.m; i++ {
		ms.lp.AddCol(0, []int32{int32(i), int32(i + 1)}, []float64{-1, 1})
		ms.base++
	}
}

// shutExchanges leaves cutting patterns alone in the master.
func (ms *master) shutExchanges() {
	for j := ms.m; j < ms.base; j++ {
		ms.lp.SetUpper(j, 0)
	}
}

// prepareRules tells the pricing which items meet which rule.
func (ms *master) prepareRules() {
	if len(ms.n.rule) == 0 {
		return
	}
	ms.rules = make([]knapsack.Rule, len(ms.n.rule))
	sides := make([][]knapsack.Side, ms.m)
	for k, r := range ms.n.rule {
		ms.rules[k].A, ms.rules[k].B, ms.rules[k].Half = int(r.a), int(r.b), r.half
		ms.rules[k].Penalty = 0
		if r.atMost == 0 {
			ms.rules[k].Penalty = knapsack.None
		}
		for i, it := range ms.n.item {
			for _, p := range it.tags {
				if p == r.a {
					sides[i] = append(sides[i], knapsack.Side{Rule: k})
				} else if p == r.b {
					sides[i] = append(sides[i], knapsack.Side{Rule: k, Second: true})
				}
			}
		}
	}
	ms.price.SetRules(ms.rules, sides)
}

// setRows writes remaining demands and boards into the linear program. Demands
// are nudged apart by less than any decision depends on, which keeps the
// simplex from stalling on ties; the safe bound uses the true ones.
func (ms *master) setRows() {
	for i, d := range ms.dem {
		b := float64(d)
		if d > 0 {
			b += 1e-7 * (1 + float64((i*7919)%1009)/1009)
		}
		ms.lp.SetRow(i, b, math.Inf(1))
	}
	for st := range ms.lo {
		lo, hi := math.Inf(-1), math.Inf(1)
		if ms.lo[st] > 0 {
			lo = float64(ms.lo[st])
		}
		if ms.hi[st] < ms.s.noLimit[st] {
			hi = float64(ms.hi[st]) + 1e-8*float64(1+st%7)
		}
		ms.lp.SetRow(ms.m+st, lo, hi)
	}
}

// hits is how often a column counts on a rule.
func hits(items []item, c *column, r rule) int32 {
	var na, nb int32
	for k, i := range c.item {
		for _, p := range items[i].tags {
			if p == r.a {
				na += c.count[k]
			} else if p == r.b {
				nb += c.count[k]
			}
		}
	}
	switch {
	case r.half:
		return na / 2
	case r.a == r.b && na >= 2, r.a != r.b && na >= 1 && nb >= 1:
		return 1
	}
	return 0
}

func (c *column) hash() uint64 {
	h := uint64(c.stock)*0x9E3779B97F4A7C15 + 1
	for k, i := range c.item {
		h ^= uint64(i)<<20 | uint64(uint32(c.count[k]))
		h *= 0xBF58476D1CE4E5B9
		h ^= h >> 29
	}
	return h
}

func (c *column) same(d *column) bool {
	if c.stock != d.stock || len(c.item) != len(d.item) {
		return false
	}
	for k := range c.item {
		if c.item[k] != d.item[k] || c.count[k] != d.count[k] {
			return false
		}
	}
	return true
}

// add puts a column into the linear program unless it is there; it reports
// whether it was new.
func (ms *master) add(c column) bool {
	h := c.hash()
	for _, j := range ms.seen[h] {
		if ms.cols[j].same(&c) {
			return false
		}
	}
	rows, vals := ms.entries(&c)
	if rows == nil {
		return false
	}
	j := ms.lp.AddCol(float64(c.cost), rows, vals)
	ms.seen[h] = append(ms.seen[h], int32(len(ms.cols)))
	ms.cols = append(ms.cols, c)
	if !ms.proper(&c) {
		ms.lp.SetUpper(j, 0)
	}
	return true
}

// entries are a column's rows in the linear program, nil when a rule forbids it.
// They are good until the next call.
func (ms *master) entries(c *column) (rows []int32, vals []float64) {
	rows, vals = ms.rowAt[:0], ms.rowVal[:0]
	for k, i := range c.item {
		rows = append(rows, i)
		vals = append(vals, float64(c.count[k]))
	}
	rows = append(rows, int32(ms.m)+c.stock)
	vals = append(vals, 1)
	for k, r := range ms.n.rule {
		if h := hits(ms.n.item, c, r); h > 0 {
			if r.atMost == 0 {
				return nil, nil
			}
			rows = append(rows, int32(ms.m+len(ms.lo)+k))
			vals = append(vals, float64(h))
		}
	}
	ms.rowAt, ms.rowVal = rows, vals
	return rows, vals
}

// proper reports whether a column does not overshoot the remaining demand.
func (ms *master) proper(c *column) bool {
	if ms.hi[c.stock] <= 0 {
		return false
	}
	for k, i := range c.item {
		if int64(c.count[k]) > ms.dem[i] {
			return false
		}
	}
	return true
}

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

// priceRound prices all stocks with the present duals, adds what improves and
// updates the safe bound. Coarse pricing stops early and may miss patterns, in
// which case exact is false.
func (ms *master) priceRound(fine bool, steady float64) (added int, exact bool) {
	ms.rounds++
	grid, limit := ms.s.coarse, int64(1000)
	if fine {
		grid, limit = ms.s.grid, max(100_000, int64(ms.s.grid*ms.m))
		before := ms.price.Nodes()
		defer func() { ms.refine(ms.price.Nodes() - before) }()
	}
	ms.price.SetGrid(grid)
	exact = true
	y := ms.blend(steady)
	scale := ms.loadDuals(y)
	if ms.s.in.Credit.Value != 0 {
		c := ms.s.in.Credit
		k := int64(scale)
		ms.price.SetCredit(func(rest int64) int64 { return c.Of(rest) * k })
	}
	ms.price.Load(ms.value, ms.ub)
	total := int128{}
	for i, d := range ms.dem {
		total.addMul(ms.value[i], d)
	}
	rowS := ms.m + len(ms.lo)
	for k, r := range ms.n.rule {
		if r.atMost > 0 {
			pen := int64(math.Floor(math.Min(0, y[rowS+k]) * scale))
			ms.rules[k].Penalty = pen
			total.addMul(pen, r.atMost)
		}
	}
	type found struct {
		st, col int
		gap     int64
	}
	var list []found
	for st, sk := range ms.s.in.Stock {
		if ms.hi[st] <= 0 {
			continue
		}
		free := int64(scale) * sk.Cost
		thr := free - int64(math.Floor(y[ms.m+st]*scale))
		tol := int64(scale * ms.s.tol)
		thr += tol
		top := thr
		if ms.price.Ceiling(sk.Cap) > thr {
			count, v, yes, all := ms.price.Best(sk.Cap, thr, ms.s.in.Most, limit)
			if !all {
				top = ms.price.Ceiling(sk.Cap)
				exact = false
			} else if yes {
				top = v
			}
			if yes {
				c := ms.column(st, count)
				if ms.add(c) {
					added++
					list = append(list, found{st, len(ms.cols) - 1, v - thr})
				}
			}
		} else {
			top = ms.price.Ceiling(sk.Cap)
		}
		// Each board of this stock costs at least free-top beyond the
		// duals of its pieces.
		if slack := free - top; slack >= 0 {
			total.addMul(slack, ms.lo[st])
		} else {
			total.addMul(slack, min(ms.hi[st], ms.s.noLimit[st]))
		}
	}
	if b := total.float() / scale; b > ms.bound {
		ms.bound = b
	}
	if b := total.float() / scale; ms.center == nil || b > ms.centerB {
		ms.center, ms.centerB = append(ms.center[:0], y...), b
	}
	if added > 0 && len(list) > 0 {
		sort.SliceStable(list, func(a, b int) bool { return list[a].gap > list[b].gap })
		extra := ms.s.extra
		for k, f := range list {
			if extra <= 0 || k == 2 {
				break
			}
			for i, d := range ms.dem {
				ms.ub[i] = int32(min(d, math.MaxInt32))
			}
			ms.price.Shrink(ms.ub)
			n := ms.companions(f.col, f.st, y, scale, extra)
			added += n
			extra -= n
		}
	}
	return added, exact
}

// finer doubles the fine grid, up to full resolution or what memory bears.
func (ms *master) finer() bool {
	if ms.price.Exact() || ms.s.grid >= 1<<20/(1+ms.m/64) {
		return false
	}
	ms.s.grid *= 2
	return true
}

// blend mixes the duals with those of the best bound, which steadies them from
// one round to the next (Wentges 1997).
func (ms *master) blend(steady float64) []float64 {
	y := ms.lp.Duals()
	if steady == 0 || ms.center == nil {
		return y
	}
	out := make([]float64, len(y))
	for i, v := range y {
		out[i] = float64(steady*ms.center[i]) + float64((1-steady)*v)
	}
	return out
}

// refine suits the fine grid to the instance: finer when the search takes much
// longer than filling the table, coarser when it takes far less.
func (ms *master) refine(nodes int64) {
	s := ms.s
	nodes *= 8
	cells := int64(s.grid * ms.m)
	switch {
	case nodes > 2*cells:
		ms.finer()
	case nodes*64 < cells && s.grid > 2048:
		s.grid /= 2
	}
}

// companions looks for more improving patterns of a stock from the pieces the
// patterns found before leave over, as if filling an order: it saves rounds.
func (ms *master) companions(col, st int, y []float64, scale float64, most int) (added int) {
	sk := ms.s.in.Stock[st]
	thr := int64(scale)*sk.Cost - int64(math.Floor(y[ms.m+st]*scale)) + int64(scale*ms.s.tol)
	left := append([]int32(nil), ms.ub...)
	c := &ms.cols[col]
	for added < most {
		for _, i := range c.item {
			left[i] = 0
		}
		ms.price.Shrink(left)
		count, _, yes, exact := ms.price.Best(sk.Cap, thr, ms.s.in.Most, 5000)
		if !yes || !exact {
			break
		}
		d := ms.column(st, count)
		if !ms.add(d) {
			break
		}
		c = &ms.cols[len(ms.cols)-1]
		added++
	}
	return added
}

// loadDuals turns the item duals into integers and returns the scale. The scale
// is a power of two small enough that no sum over a pattern or over all demands
// overflows.
func (ms *master) loadDuals(y []float64) float64 {
	total, big := 1.0, 1.0
	for i, d := range ms.dem {
		if y[i] > 0 {
			total += y[i] * float64(d)
			big = math.Max(big, y[i])
		}
	}
	for st, sk := range ms.s.in.Stock {
		big = math.Max(big, float64(sk.Cost))
		big = math.Max(big, math.Abs(y[ms.m+st]))
	}
	_, e := math.Frexp(math.Max(total, big*4))
	scale := math.Ldexp(1, max(0, min(59-e, 44)))
	for i, d := range ms.dem {
		ms.value[i], ms.ub[i] = 0, 0
		if d > 0 && y[i] > 0 {
			ms.value[i] = int64(math.Floor(y[i] * scale))
			ms.ub[i] = int32(min(d, math.MaxInt32))
		}
	}
	return scale
}

// column turns pricing counts into a column.
func (ms *master) column(st int, count []int32) column {
	c := column{stock: int32(st)}
	n := 0
	for _, a := range count {
		if a > 0 {
			n++
		}
	}
	c.item = make([]int32, 0, n)
	c.count = make([]int32, 0, n)
	used := int64(0)
	for i, a := range count {
		if a > 0 {
			c.item = append(c.item, int32(i))
			c.count = append(c.count, a)
			used += int64(a) * ms.n.item[i].len
		}
	}
	sk := ms.s.in.Stock[st]
	c.cost = sk.Cost
	if ms.s.in.Credit.Value != 0 {
		c.cost -= ms.s.in.Credit.Of(sk.Cap - used)
	}
	return c
}

// artificial is how much demand the linear program leaves unmet.
func (ms *master) artificial() float64 {
	t := 0.0
	for i := 0; i < ms.m; i++ {
		t += ms.lp.Value(i)
	}
	return t
}
