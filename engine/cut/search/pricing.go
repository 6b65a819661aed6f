package search

import (
	"math"
	"sort"
)

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
	ms.cut.need, ms.cut.scale = total, scale
	ms.cut.worth = append(ms.cut.worth[:0], make([]int64, len(ms.lo))...)
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
		ms.cut.worth[st] = max(0, top)
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
		count, _, yes, _ := ms.price.Best(sk.Cap, thr, ms.s.in.Most, 500)
		if !yes {
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
