package search

import (
	"math"

	"stallwright/engine/cut/knapsack"
	"stallwright/engine/cut/lp"
)

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
	cut     countCut // the inequality of the last pricing round
	rowAt   []int32  // entries of the column last looked at
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

// artificial is how much demand the linear program leaves unmet.
func (ms *master) artificial() float64 {
	t := 0.0
	for i := 0; i < ms.m; i++ {
		t += ms.lp.Value(i)
	}
	return t
}
