package search

import (
	"math"
	"slices"

	"stallwright/engine/cut/lp"
)

// scanMost is how many linear programs a scan may solve.
const scanMost = 600

// scanner searches a listed node depth first on one linear program: it takes the
// item with the fewest patterns left, and of them the one the program uses most,
// cuts it once more than the program's whole part, and later no more often.
// Patterns go off the list as soon as their reduced cost is beyond what is left.
type scanner struct {
	s     *solver
	ms    *master
	pool  []column
	lpOf  []int32 // per pattern of the list: column of the master, or -1
	from  []int32 // per column of the master: pattern of the list, or -1
	mark  []bool
	taken []fixing
	left  int
	miss  int // an item left out that did not go in, or -1
}

// capped is a pattern that may be cut so many times more.
type capped struct {
	q int32
	k int64
}

// scan searches a listed node to the end, and reports whether it got there. miss
// is an item left out that did not go into the boards of a plan, or -1.
func (s *solver) scan(ms *master, n *node) (done bool, miss int) {
	c := &scanner{s: s, ms: ms, pool: n.pool, left: scanMost, miss: -1}
	c.lpOf = make([]int32, len(c.pool))
	c.mark = make([]bool, len(c.pool))
	c.from = make([]int32, len(ms.cols))
	for j := range c.from {
		c.from[j] = -1
	}
	alive := make([]int32, len(c.pool))
	for q := range c.pool {
		alive[q] = int32(q)
		if c.lpOf[q] = ms.find(&c.pool[q]); c.lpOf[q] >= 0 {
			c.from[c.lpOf[q]] = int32(q)
		}
	}
	for j, q := range c.from {
		if q < 0 {
			ms.lp.SetUpper(j+ms.base, 0)
		}
	}
	ms.lp.SetCutoff(math.Inf(1))
	done = c.down(0, alive, nil)
	return done, c.miss
}

// find is the column of the master that is the same, or -1.
func (ms *master) find(c *column) int32 {
	for _, j := range ms.seen[c.hash()] {
		if ms.cols[j].same(c) {
			return j
		}
	}
	return -1
}

// down searches what is left, and reports whether all of it was.
func (c *scanner) down(spent int64, alive []int32, caps []capped) bool {
	s, ms := c.s, c.ms
	if n := ms.n; n.most > 0 && s.target() < n.most {
		return true // with all its boards no plan below is better
	}
	if c.left--; c.left < 0 || s.spent() {
		return false
	}
	alive, pruned, ok := c.bound(spent, alive, caps)
	ms.account()
	if pruned || !ok {
		return ok
	}
	if whole, taken := c.whole(); whole {
		return taken
	}
	q, x := c.choose(alive)
	if q < 0 {
		return false
	}
	k := int64(math.Floor(x+1e-5)) + 1
	mark := len(c.taken)
	keep := ms.save()
	if c.take(q, k) {
		if !c.down(spent+k*c.pool[q].cost, alive, lower(caps, q, k)) {
			return false
		}
	}
	c.taken = c.taken[:mark]
	c.restore(keep, alive, caps)
	if k == 1 {
		alive = slices.DeleteFunc(slices.Clone(alive), func(p int32) bool { return p == q })
		c.shut(q)
		return c.down(spent, alive, caps)
	}
	caps = append(slices.DeleteFunc(slices.Clone(caps), func(p capped) bool { return p.q == q }), capped{q, k - 1})
	c.cap(caps[len(caps)-1])
	return c.down(spent, alive, caps)
}

// lower takes k off a pattern's cap.
func lower(caps []capped, q int32, k int64) []capped {
	out := slices.Clone(caps)
	for i := range out {
		if out[i].q == q {
			out[i].k -= k
		}
	}
	return out
}

func (c *scanner) shut(q int32) { c.cap(capped{q, 0}) }

func (c *scanner) cap(p capped) {
	if j := c.lpOf[p.q]; j >= 0 {
		c.ms.lp.SetUpper(int(j)+c.ms.base, float64(p.k))
	}
}

// take fixes a pattern k times and reports whether that can be.
func (c *scanner) take(q int32, k int64) bool {
	ms := c.ms
	col := &c.pool[q]
	for n, i := range col.item {
		if k*int64(col.count[n]) > ms.dem[i] {
			return false
		}
	}
	if k > ms.hi[col.stock] {
		return false
	}
	for n, i := range col.item {
		ms.dem[i] -= k * int64(col.count[n])
	}
	ms.hi[col.stock] -= k
	c.taken = append(c.taken, fixing{int(c.lpOf[q]), k})
	c.rows()
	return true
}

// rows writes what is left into the linear program.
func (c *scanner) rows() {
	ms := c.ms
	ms.setRows()
	for k := range ms.n.rule {
		ms.lp.SetRow(ms.m+len(ms.lo)+k, math.Inf(-1), float64(c.most(k)))
	}
}

// most is how often a plane's counts may come in what is left.
func (c *scanner) most(rule int) int64 {
	d := int64(0)
	for i, it := range c.ms.n.item {
		for _, t := range it.tags {
			if t == c.ms.n.rule[rule].a {
				d += c.ms.dem[i]
			}
		}
	}
	return d / 2
}

// restore goes back to a state, with the columns found since.
func (c *scanner) restore(keep state, alive []int32, caps []capped) {
	ms := c.ms
	ms.restore(keep)
	for _, q := range alive {
		c.mark[q] = true
	}
	for j := keep.cols; j < len(ms.cols); j++ {
		if q := c.from[j]; !c.mark[q] {
			c.shut(q)
		}
	}
	for _, q := range alive {
		c.mark[q] = false
	}
	for _, p := range caps {
		c.cap(p)
	}
}

// bound solves the linear program over the patterns left. It returns those that
// a better plan may still use; pruned when there is none; not ok when the
// program could not be solved.
func (c *scanner) bound(spent int64, alive []int32, caps []capped) (still []int32, pruned, ok bool) {
	s, ms := c.s, c.ms
	alive = slices.DeleteFunc(slices.Clone(alive), func(q int32) bool {
		gone := !ms.proper(&c.pool[q])
		if gone {
			c.shut(q)
		}
		return gone
	})
	value := make([]int64, len(alive))
	pen := make([]int64, len(ms.n.rule))
	top := make([]int64, len(ms.lo))
	dual := make([]int64, len(ms.lo))
	for {
		if ms.lp.Solve() != lp.Optimal {
			return nil, false, false
		}
		ms.rounds++
		y := ms.lp.Duals()
		scale := ms.loadDuals(y)
		total := int128{}
		for i, d := range ms.dem {
			total.addMul(ms.value[i], d)
		}
		for k := range ms.n.rule {
			pen[k] = int64(math.Floor(math.Min(0, y[ms.m+len(ms.lo)+k]) * scale))
			if pen[k] < 0 {
				total.addMul(pen[k], c.most(k))
			}
		}
		clear(top)
		entries := 0
		for n, q := range alive {
			col := &c.pool[q]
			entries += len(col.item)
			v := int64(0)
			for k, i := range col.item {
				v += ms.value[i] * int64(col.count[k])
			}
			for k, r := range ms.n.rule {
				if pen[k] < 0 {
					v += pen[k] * int64(hits(ms.n.item, col, r))
				}
			}
			value[n] = v
			if !isCapped(caps, q) {
				top[col.stock] = max(top[col.stock], v)
			}
		}
		s.work += int64(2 * entries)
		clear(dual)
		for st, sk := range s.in.Stock {
			if slack := int64(scale)*sk.Cost - top[st]; slack < 0 && ms.hi[st] > 0 {
				dual[st] = slack
				total.addMul(slack, min(ms.hi[st], s.noLimit[st]))
			}
		}
		for n, q := range alive {
			st := c.pool[q].stock
			if red := int64(scale)*s.in.Stock[st].Cost - dual[st] - value[n]; red < 0 {
				total.addMul(red, capOf(caps, q)) // capped, or it would have counted
			}
		}
		room := int128{}
		room.addMul(int64(scale), s.goal(ms.n)-spent)
		room.sub(total)
		if room.hi < 0 {
			return nil, true, true
		}
		type found struct {
			n   int
			gap int64
		}
		var list []found
		tol := int64(scale * s.tol)
		for n, q := range alive {
			st := int(c.pool[q].stock)
			thr := int64(scale)*s.in.Stock[st].Cost - int64(math.Floor(y[ms.m+st]*scale)) + tol
			if value[n] > thr && c.lpOf[q] < 0 {
				list = append(list, found{n, value[n] - thr})
			}
		}
		if len(list) > 0 {
			slices.SortStableFunc(list, func(a, b found) int {
				switch {
				case a.gap > b.gap:
					return -1
				case a.gap < b.gap:
					return 1
				}
				return 0
			})
			for _, f := range list[:min(len(list), 20+ms.m/4)] {
				q := alive[f.n]
				if ms.add(c.pool[q]) {
					c.lpOf[q] = int32(len(ms.cols) - 1)
					c.from = append(c.from, q)
				}
			}
			continue
		}
		for n, q := range alive {
			st := c.pool[q].stock
			red := int128{}
			red.addMul(1, int64(scale)*s.in.Stock[st].Cost-dual[st]-value[n])
			if room.less(red) {
				c.shut(q)
				continue
			}
			still = append(still, q)
		}
		return still, false, true
	}
}

func isCapped(caps []capped, q int32) bool {
	return slices.ContainsFunc(caps, func(p capped) bool { return p.q == q })
}

func capOf(caps []capped, q int32) int64 {
	for _, p := range caps {
		if p.q == q {
			return p.k
		}
	}
	return 0
}

// whole offers the linear program's plan when it is in whole boards, and reports
// whether it was better than the best.
func (c *scanner) whole() (whole, taken bool) {
	ms := c.ms
	var plan []fixing
	for _, j := range ms.lp.Basic() {
		x := ms.lp.Value(j)
		if x < 1e-5 {
			continue
		}
		n := math.Round(x)
		if math.Abs(x-n) > 1e-5 {
			return false, false
		}
		if j < ms.base {
			return false, false
		}
		plan = append(plan, fixing{j - ms.base, int64(n)})
	}
	for j := range ms.cols {
		if ms.lp.IsBasic(j + ms.base) {
			continue
		}
		if x := ms.lp.Value(j + ms.base); x > 0 {
			plan = append(plan, fixing{j, int64(math.Round(x))})
		}
	}
	var runs []Run
	for _, t := range append(plan, c.taken...) {
		runs = append(runs, Run{c.s.pattern(ms.n, &ms.cols[t.col]), t.times})
	}
	if ms.n.leftOut > 0 {
		if runs, c.miss = c.s.complete(ms.n, runs); c.miss >= 0 {
			return true, false
		}
	}
	return true, c.s.accept(runs)
}

// complete puts the items a node leaves out into the boards of a plan, and into
// boards the plan leaves over. It returns one that does not go in, or -1.
func (s *solver) complete(n *node, runs []Run) ([]Run, int) {
	used := make([]int64, len(s.in.Stock))
	for _, r := range runs {
		used[r.Stock] += r.Times
	}
	for st, u := range used {
		if rest := min(n.hi[st], s.in.Stock[st].Avail) - u; rest > 0 && rest < Unlimited/2 {
			runs = append(runs, Run{Pattern{Stock: st}, rest})
		}
	}
	for i := range n.item {
		if n.item[i].dem > 0 {
			continue
		}
		for left := s.in.Dem[i]; left > 0; {
			at, least := -1, int64(math.MaxInt64)
			for k := range runs {
				r := &runs[k]
				if rest := s.in.Stock[r.Stock].Cap - s.in.used(&r.Pattern) - s.in.Len[i]; r.Times > 0 && rest >= 0 && rest < least {
					if p := r.Pattern.with(int32(i)); s.in.fits(&p) {
						at, least = k, rest
					}
				}
			}
			if at < 0 {
				return nil, i
			}
			t := min(left, runs[at].Times)
			runs[at].Times -= t
			runs = append(runs, Run{runs[at].Pattern.with(int32(i)), t})
			left -= t
		}
	}
	return runs, -1
}

// with is the pattern and one more of an item.
func (p *Pattern) with(i int32) Pattern {
	q := Pattern{Stock: p.Stock}
	put := false
	for k, it := range p.Item {
		n := p.Count[k]
		switch {
		case it == i:
			n++
			put = true
		case it > i && !put:
			q.Item, q.Count = append(q.Item, i), append(q.Count, 1)
			put = true
		}
		q.Item, q.Count = append(q.Item, it), append(q.Count, n)
	}
	if !put {
		q.Item, q.Count = append(q.Item, i), append(q.Count, 1)
	}
	return q
}

// choose picks the pattern to branch on: of the item with the fewest patterns
// left that are not settled, the one used most.
func (c *scanner) choose(alive []int32) (int32, float64) {
	ms := c.ms
	many := make([]int, ms.m)
	broken := make([]bool, ms.m)
	for _, q := range alive {
		x := 0.0
		if j := c.lpOf[q]; j >= 0 {
			x = ms.lp.Value(int(j) + ms.base)
		}
		for _, i := range c.pool[q].item {
			many[i]++
			broken[i] = broken[i] || math.Abs(x-math.Round(x)) > 1e-5
		}
	}
	at := -1
	for i := range many {
		if broken[i] && (at < 0 || many[i] < many[at]) {
			at = i
		}
	}
	if at < 0 {
		return -1, 0
	}
	best, x := int32(-1), 0.0
	most := -1.0
	for _, q := range alive {
		j := c.lpOf[q]
		if j < 0 || !slices.Contains(c.pool[q].item, int32(at)) {
			continue
		}
		v := ms.lp.Value(int(j) + ms.base)
		if f := v - math.Floor(v+1e-5); f > 1e-5 && f > most {
			most, best, x = f, q, v
		}
	}
	return best, x
}
