package search

import (
	"math"

	"stallwright/engine/cut/lp"
)

// newRelief builds the linear program that says whether given numbers of boards
// hold the pieces: patterns cost nothing, and each board beyond the given number
// costs what it costs. The least cost is zero just if they do.
func (s *solver) newRelief(root *node) *master {
	ms := s.emptyMaster(root)
	ms.given = make([]int64, len(s.in.Stock))
	for st, sk := range s.in.Stock {
		v := float64(sk.Cost)
		if sk.Cost == 0 {
			v = ms.bigM
		}
		ms.lp.AddCol(v, []int32{int32(ms.m + st)}, []float64{-1})
		ms.base++
	}
	// With no board given it is the root's program, each board bought on its
	// own: it begins with the root's basis and those boards.
	var basis []int
	bought := make([]bool, len(s.in.Stock))
	for k, c := range s.base.cols {
		c.cost = 0
		if ms.add(c) && s.base.lp.IsBasic(k+s.base.base) {
			basis = append(basis, ms.lp.Cols()-1)
			bought[c.stock] = true
		}
	}
	for st := range bought {
		if bought[st] {
			basis = append(basis, ms.m+st)
		}
	}
	ms.setGiven(ms.given)
	ms.lp.Start(basis)
	return ms
}

// setGiven writes the numbers of boards into the rows.
func (ms *master) setGiven(n []int64) {
	copy(ms.given, n)
	ms.setRows()
	for st, k := range n {
		ms.lp.SetRow(ms.m+st, math.Inf(-1), float64(k)+1e-8*float64(1+st%7))
	}
}

// holds reports whether the numbers of boards may hold the pieces; when they
// cannot, it adds the inequality that says so.
func (c *counts) holds(at []int64) bool {
	ms := c.relief
	ms.setGiven(at)
	fine := false
	for {
		st := ms.lp.Solve()
		ms.account()
		if st != lp.Optimal || ms.s.spent() {
			return true
		}
		short := ms.lp.Objective()
		if short < ms.s.typical*1e-5 {
			return true
		}
		cut, scale, added, exact := ms.reliefRound(fine)
		ms.account()
		by, broken := cut.breaks(at)
		if broken && (by/scale > 0.5*short || added == 0) {
			c.addCut(cut, scale)
			return false
		}
		switch {
		case added > 0:
			fine = false
		case exact || fine && !ms.finer():
			return true
		default:
			fine = true
		}
	}
}

// reliefRound prices with the present duals, adds patterns and gives the
// inequality they make.
func (ms *master) reliefRound(fine bool) (cut countCut, scale float64, added int, exact bool) {
	grid, limit := ms.s.coarse, int64(1000)
	if fine {
		grid, limit = ms.s.grid, max(100_000, int64(ms.s.grid*ms.m))
	}
	ms.price.SetGrid(grid)
	y := ms.lp.Duals()
	scale = ms.loadDuals(y)
	ms.price.Load(ms.value, ms.ub)
	cut.worth = make([]int64, len(ms.s.in.Stock))
	for i, d := range ms.dem {
		cut.need.addMul(ms.value[i], d)
	}
	exact = true
	tol := int64(scale * ms.s.tol)
	for st, sk := range ms.s.in.Stock {
		thr := int64(math.Ceil(-y[ms.m+st]*scale)) + tol
		top := ms.price.Ceiling(sk.Cap)
		if top > thr {
			count, v, yes, all := ms.price.Best(sk.Cap, thr, ms.s.in.Most, limit)
			switch {
			case !all:
				exact = false
			case yes:
				top = v
			default:
				top = thr
			}
			if yes {
				c := ms.column(st, count)
				c.cost = 0
				if ms.add(c) {
					added++
				}
			}
		}
		cut.worth[st] = max(0, top)
	}
	return cut, scale, added, exact
}

// cutOf is the inequality of the last pricing round of a solved master. A
// board's worth is its price where the pricing found no better pattern.
func (ms *master) cutOf() (countCut, float64) {
	ms.price.SetGrid(ms.s.grid)
	y := ms.lp.Duals()
	scale := ms.loadDuals(y)
	ms.price.Load(ms.value, ms.ub)
	cut := countCut{worth: make([]int64, len(ms.s.in.Stock))}
	for i, d := range ms.dem {
		cut.need.addMul(ms.value[i], d)
	}
	for st, sk := range ms.s.in.Stock {
		thr := int64(scale)*sk.Cost - int64(math.Floor(y[ms.m+st]*scale)) + int64(scale*ms.s.tol)
		top := ms.price.Ceiling(sk.Cap)
		if top > thr {
			if _, v, yes, all := ms.price.Best(sk.Cap, thr, ms.s.in.Most, 1_000_000); all {
				top = thr
				if yes {
					top = v
				}
			}
		}
		cut.worth[st] = max(0, top)
	}
	return cut, scale
}
