package search

import (
	"math"

	"stallwright/engine/cut/lp"
)

// fixing is a column taken into the plan.
type fixing struct {
	col   int
	times int64
}

// dive rounds the solved master of a node down to whole boards: take the whole
// parts, then the column nearest to a whole board, solve the rest again with
// new columns, and so on. Choices up to depth deep may be taken back width
// times in all at each level (limited discrepancy search). It reports whether
// a better plan was found.
func (s *solver) dive(ms *master, n *node, depth, width int) bool {
	keep := ms.save()
	ms.diving = true
	defer func() { ms.diving = false }()
	for st := range ms.lo {
		ms.lo[st] = 0 // fewer boards would be as welcome
	}
	d := diver{s: s, ms: ms, n: n, depth: depth, width: width}
	before := s.best
	d.down(0, nil, 0, width)
	ms.restore(keep)
	return s.best < before
}

// state is a master's remainder with its basis.
type state struct {
	lp         *lp.Problem
	cols       int
	dem        []int64
	lo, hi     []int64
	bound, obj float64
}

func (ms *master) save() state {
	return state{ms.lp.Clone(), len(ms.cols), append([]int64(nil), ms.dem...),
		append([]int64(nil), ms.lo...), append([]int64(nil), ms.hi...), ms.bound, ms.obj}
}

// restore puts a saved state back; columns found since stay.
func (ms *master) restore(st state) {
	w := ms.lp.Work()
	old := st.lp.Work()
	ms.lp = st.lp
	ms.lastW += old - w
	copy(ms.dem, st.dem)
	copy(ms.lo, st.lo)
	copy(ms.hi, st.hi)
	ms.bound, ms.obj = st.bound, st.obj
	for j := st.cols; j < len(ms.cols); j++ {
		c := &ms.cols[j]
		rows, vals := ms.entries(c)
		k := ms.lp.AddCol(float64(c.cost), rows, vals)
		if !ms.proper(c) {
			ms.lp.SetUpper(k, 0)
		}
	}
}

type diver struct {
	s            *solver
	ms           *master
	n            *node
	depth, width int
	taken        []fixing
}

// down goes on from a solved remainder whose taken columns cost spent. It
// reports true when the search should end: a plan was found, or work ran out.
func (d *diver) down(level int, tabu []int, spent int64, width int) bool {
	ms, s := d.ms, d.s
	mark := len(d.taken)
	defer func() { d.taken = d.taken[:mark] }()
	// Whole parts first.
	whole := false
	type cand struct {
		j    int
		frac float64
	}
	var best cand
	best.j = -1
	var bestUsed int64
	var take []fixing
	for _, j := range ms.lp.Basic() {
		c := j - ms.base
		if c < 0 {
			continue
		}
		x := ms.lp.Value(j)
		if n := math.Floor(x + 1e-5); n >= 1 {
			take = append(take, fixing{c, int64(n)})
			whole = true
		}
		f := x - math.Floor(x+1e-5)
		if f < 1e-5 || contains(tabu, c) || !ms.proper(&ms.cols[c]) {
			continue
		}
		u := ms.used(c)
		if best.j < 0 || f > best.frac+1e-6 || f > best.frac-1e-6 && (u > bestUsed || u == bestUsed && c < best.j) {
			best, bestUsed = cand{c, f}, u
		}
	}
	var again *state
	if whole {
		for _, t := range take {
			n := t.times
			c := &ms.cols[t.col]
			for k, i := range c.item {
				n = min(n, ms.dem[i]/int64(c.count[k]))
			}
			n = min(n, ms.hi[c.stock])
			if n > 0 {
				spent += d.fix(t.col, n)
			}
		}
	} else {
		if best.j < 0 {
			return false
		}
		if level < d.depth && width > 0 {
			st := ms.save()
			again = &st
		}
		spent += d.fix(best.j, 1)
	}
	if d.finish(spent, level, width) {
		return true
	}
	if again == nil || s.spent() {
		return s.spent()
	}
	d.taken = d.taken[:mark]
	ms.restore(*again)
	spent -= ms.cols[best.j].cost
	return d.down(level+1, append(append([]int(nil), tabu...), best.j), spent, width-1)
}

// finish solves the remainder after a fixing and goes further down.
func (d *diver) finish(spent int64, level, width int) bool {
	ms, s := d.ms, d.s
	if ms.done() {
		return s.offer(ms, d.taken)
	}
	if !ms.feasibleBoards() {
		return false
	}
	ms.setRows()
	ms.screen()
	switch ms.solve(s.goal(d.n)-spent+1, guess) {
	case cutOff:
		return false
	case noWork:
		return true
	case trouble:
		return false
	}
	if ms.artificial() > 1e-5 {
		return false
	}
	return d.down(level+1, nil, spent, width)
}

// fix takes a column n times and returns what it costs.
func (d *diver) fix(c int, n int64) int64 {
	ms := d.ms
	col := &ms.cols[c]
	for k, i := range col.item {
		ms.dem[i] -= n * int64(col.count[k])
	}
	ms.hi[col.stock] -= n
	ms.lo[col.stock] = max(0, ms.lo[col.stock]-n)
	d.taken = append(d.taken, fixing{c, n})
	return n * col.cost
}

func (ms *master) done() bool {
	for _, d := range ms.dem {
		if d > 0 {
			return false
		}
	}
	return true
}

func (ms *master) feasibleBoards() bool {
	for st := range ms.lo {
		if ms.lo[st] > ms.hi[st] {
			return false
		}
	}
	return true
}

// screen shuts columns that overshoot what remains.
func (ms *master) screen() {
	for c := range ms.cols {
		j := c + ms.base
		if ms.lp.Upper(j) != 0 && !ms.proper(&ms.cols[c]) {
			ms.lp.SetUpper(j, 0)
		}
	}
}

// reopen lifts the shutting of columns that fit again.
func (ms *master) reopen() {
	for c := range ms.cols {
		j := c + ms.base
		if shut := !ms.proper(&ms.cols[c]); shut {
			ms.lp.SetUpper(j, 0)
		} else if ms.lp.Upper(j) == 0 {
			ms.lp.SetUpper(j, math.Inf(1))
		}
	}
}

func (ms *master) used(c int) int64 {
	u := int64(0)
	col := &ms.cols[c]
	for k, i := range col.item {
		u += ms.n.item[i].len * int64(col.count[k])
	}
	return u
}

func contains(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}
