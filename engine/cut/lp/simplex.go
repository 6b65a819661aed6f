package lp

import "math"

// Solve re-optimises from the present basis: the dual method when a basic
// variable breaks its bounds, then the primal method. Call it after any mix of
// added columns and changed bounds. The dual method needs the basis to price
// out, which holds after an earlier Optimal unless costs changed; columns that
// price out wrongly wait for the primal method.
func (p *Problem) Solve() Status {
	p.maxIter = 20*p.m + 2000
	if p.since > 0 && p.since > 60+p.m/2 {
		p.refactor()
	}
	for try := 0; try < 6; try++ {
		p.values()
		p.duals()
		if p.worst() >= 0 {
			s := p.dual()
			p.duals()
			switch s {
			case Optimal:
			case Beyond:
				return s
			case Infeasible:
				if p.since > 0 {
					p.refactor()
					continue
				}
				return s
			default:
				p.refactor()
				continue
			}
		}
		s := p.primal()
		if s == Optimal && p.worst() < 0 {
			return Optimal
		}
		if s == Unbounded && p.since == 0 {
			return s
		}
		p.refactor()
	}
	return Stalled
}

// worst is the basis position that breaks its bounds most, or -1.
func (p *Problem) worst() int {
	at, most := -1, feasTol
	for r := range p.xb {
		lo, up := p.bounds(r)
		if v := lo - p.xb[r]; v > most {
			at, most = r, v
		}
		if v := p.xb[r] - up; v > most {
			at, most = r, v
		}
	}
	return at
}

// steepest is the basis position whose bound is broken most for the length of
// its row (dual steepest edge, Forrest and Goldfarb 1992), or -1.
func (p *Problem) steepest() int {
	at, most := -1, 0.0
	for r, x := range p.xb {
		lo, up := p.bounds(r)
		v := lo - x
		if w := x - up; w > v {
			v = w
		}
		if v <= feasTol {
			continue
		}
		if w := float64(v*v) / p.norm[r]; w > most {
			at, most = r, w
		}
	}
	return at
}

// enter finds the nonbasic variable whose move lowers the cost fastest. Under
// the index rule (against cycling) it takes the first one.
func (p *Problem) enter(first bool) (v int32, dir, d float64, ok bool) {
	tol := float64(costTol * p.scale)
	best := tol
	if first {
		for j := range p.cost {
			if d, in := p.gain(int32(j)); in && d > best {
				best, v, ok = d, int32(j), true
				break
			}
		}
		p.flops += int64(len(p.idx))
	} else {
		v, best, ok = p.promising(tol)
	}
	if !ok || !first {
		for i := 0; i < p.m; i++ {
			if p.lpos[i] >= 0 || p.lo[i] == p.up[i] {
				continue
			}
			di := p.y[i]
			free := math.IsInf(p.lo[i], -1) && math.IsInf(p.up[i], 1)
			if p.rowUp[i] || free && di > 0 {
				di = -di
			}
			if -di > best {
				best, v, ok = -di, ^int32(i), true
			}
		}
	}
	if !ok {
		return 0, 0, 0, false
	}
	dir = 1
	if v >= 0 {
		d = p.reduced(int(v))
		if p.atUp[v] {
			dir = -1
		}
	} else {
		d = p.y[^v]
		if d > 0 {
			dir = -1
		}
	}
	return v, dir, d, true
}

// gain is how fast the cost falls when a column moves from its bound, and
// whether it can.
func (p *Problem) gain(j int32) (float64, bool) {
	if p.pos[j] >= 0 || p.ub[j] == 0 {
		return 0, false
	}
	if d := p.reduced(int(j)); p.atUp[j] {
		return d, true
	} else {
		return -d, true
	}
}

// promising finds the column whose move lowers the cost fastest among the few
// that did best when all were looked at last, as long as one of them still does
// well; then it looks at all again (partial pricing, Dantzig 1963).
func (p *Problem) promising(tol float64) (v int32, best float64, ok bool) {
	best = math.Max(tol, float64(p.high*0.3))
	work := 0
	for _, j := range p.few {
		work += int(p.start[j+1] - p.start[j])
		if d, in := p.gain(j); in && d > best {
			best, v, ok = d, j, true
		}
	}
	p.flops += int64(work)
	if ok {
		return v, best, true
	}
	best, p.high, p.few = tol, 0, p.few[:0]
	var least float64
	at := 0
	for j := range p.cost {
		d, in := p.gain(int32(j))
		if !in || d <= tol {
			continue
		}
		if d > best {
			best, v, ok = d, int32(j), true
		}
		// Keep the best few, the least of them at index at.
		if p.watch == 0 {
			continue
		}
		if len(p.few) < p.watch {
			p.few, p.worth = append(p.few, int32(j)), append(p.worth[:len(p.few)], d)
		} else if d > least {
			p.few[at], p.worth[at] = int32(j), d
		} else {
			continue
		}
		if len(p.few) == p.watch {
			at = 0
			for k, w := range p.worth {
				if w < p.worth[at] {
					at = k
				}
			}
			least = p.worth[at]
		}
	}
	p.high = best
	p.flops += int64(len(p.idx))
	return v, best, ok
}

// primal runs the primal simplex from a basis within bounds.
func (p *Problem) primal() Status {
	flat := 0
	p.few, p.high = p.few[:0], 0
	for it := 0; it < p.maxIter; it++ {
		if p.since > 100+p.m/2 {
			p.refactor()
			p.duals()
			if p.worst() >= 0 {
				return Stalled
			}
		}
		v, dir, d, ok := p.enter(flat > 50+p.m)
		if !ok {
			return Optimal
		}
		p.ftran(v)
		r, step, toUp := p.leave(v, dir)
		if r == -2 {
			return Unbounded
		}
		if step > 1e-11 {
			flat = 0
		} else {
			flat++
		}
		p.move(v, dir, step, r, toUp, d)
	}
	return Stalled
}

// leave is the primal ratio test: how far v may move, and who stops it. r is -1
// when v's own other bound does and -2 when nobody does.
func (p *Problem) leave(v int32, dir float64) (r int, step float64, toUp bool) {
	r, step = -2, math.Inf(1)
	if v >= 0 {
		if !math.IsInf(p.ub[v], 1) {
			r, step = -1, p.ub[v]
		}
	} else if w := p.up[^v] - p.lo[^v]; !math.IsInf(w, 1) && !math.IsNaN(w) {
		r, step = -1, w
	}
	piv := 0.0
	for i, a := range p.alpha {
		a = float64(a * dir)
		if a < pivotTol && a > -pivotTol {
			continue
		}
		lo, up := p.bounds(i)
		var t float64
		if a > 0 {
			if math.IsInf(lo, -1) {
				continue
			}
			t = (p.xb[i] - lo) / a
		} else {
			if math.IsInf(up, 1) {
				continue
			}
			t = (p.xb[i] - up) / a
		}
		if t < 0 {
			t = 0
		}
		m := math.Abs(a)
		if t < step-1e-10 || t <= step+1e-10 && m > piv && r != -1 {
			r, toUp, piv = i, a < 0, m
			if t < step {
				step = t
			}
		}
	}
	return r, step, toUp
}

// move carries out a primal step.
func (p *Problem) move(v int32, dir, step float64, r int, toUp bool, d float64) {
	t := float64(dir * step)
	if t != 0 {
		for i, a := range p.alpha {
			p.xb[i] -= float64(t * a)
		}
	}
	if r == -1 {
		if v >= 0 {
			p.atUp[v] = !p.atUp[v]
		} else {
			p.rowUp[^v] = !p.rowUp[^v]
		}
		return
	}
	x := t
	if v >= 0 {
		if p.atUp[v] {
			x += p.ub[v]
		}
		p.atUp[v] = false
	} else {
		x += p.rowRest(int(^v))
	}
	p.swap(r, v, x, toUp, d)
}

// swap replaces the variable in position r by v with value x and updates the
// duals; the one that leaves rests at its upper bound if toUp.
func (p *Problem) swap(r int, v int32, x float64, toUp bool, d float64) {
	old := p.head[r]
	p.replace(r, v)
	if old >= 0 {
		p.atUp[old] = toUp
	} else {
		p.rowUp[^old] = toUp
	}
	p.xb[r] = x
	axpy(p.y, p.inv[r*p.m:r*p.m+p.m], d)
}

// dual runs the dual simplex until every basic variable is within bounds. What
// prices out wrongly counts as zero meanwhile, as if its cost were shifted; the
// caller recomputes the duals and lets the primal method finish.
func (p *Problem) dual() Status {
	p.priceAll()
	p.norms()
	p.steep = true
	defer func() { p.steep = false }()
	for it := 0; it < p.maxIter; it++ {
		if p.since > 100+p.m/2 {
			p.refactor()
			p.norms()
			p.duals()
			p.priceAll()
			p.spread(it)
		}
		if it%(p.m+50) == p.m+49 {
			p.spread(it)
		}
		r := p.steepest()
		if r < 0 {
			return Optimal
		}
		if !math.IsInf(p.cutoff, 1) && p.Objective() > p.cutoff {
			return Beyond
		}
		lo, up := p.bounds(r)
		toUp := p.xb[r] > up
		copy(p.rho, p.inv[r*p.m:r*p.m+p.m])
		v, ok := p.dualEnter(toUp)
		if !ok {
			return Infeasible
		}
		p.ftran(v)
		a := p.alpha[r]
		if math.Abs(a) < pivotTol {
			return Stalled
		}
		target := lo
		if toUp {
			target = up
		}
		t := (p.xb[r] - target) / a
		for i, al := range p.alpha {
			p.xb[i] -= float64(t * al)
		}
		x := t
		if v >= 0 {
			if p.atUp[v] {
				x += p.ub[v]
			}
			p.atUp[v] = false
		} else {
			x += p.rowRest(int(^v))
		}
		d := p.reprice(v, p.head[r])
		p.swap(r, v, x, toUp, d)
	}
	return Stalled
}

// spread moves the reduced costs apart, each a little farther from zero, when
// ties keep the dual method from getting on. It is a shift of costs like the
// others, undone when the method ends.
func (p *Problem) spread(it int) {
	rounds := it / (p.m + 50)
	if rounds == 0 {
		return
	}
	eps := float64(p.scale*1e-6) * float64(rounds)
	for j := range p.d {
		e := float64(eps * (0.5 + float64(uint32(j+it)*2654435761>>8)/(1<<24)))
		if j < len(p.cost) {
			if p.pos[j] >= 0 || p.ub[j] == 0 {
				continue
			}
			if p.atUp[j] {
				e = -e
			}
		} else {
			i := j - len(p.cost)
			if p.lpos[i] >= 0 || math.IsInf(p.lo[i], -1) && math.IsInf(p.up[i], 1) {
				continue
			}
			if p.rowUp[i] {
				e = -e
			}
		}
		p.d[j] += e
	}
}

// priceAll computes the reduced costs of everything outside the basis: columns
// first, then logicals.
func (p *Problem) priceAll() {
	n := len(p.cost)
	if need := n + p.m; cap(p.d) < need {
		p.d = make([]float64, need, need+need/2)
		p.arow = make([]float64, need, need+need/2)
	}
	p.d, p.arow = p.d[:n+p.m], p.arow[:n+p.m]
	for j := range p.cost {
		p.d[j] = 0
		if p.pos[j] < 0 && p.ub[j] != 0 {
			d := p.reduced(j)
			if p.atUp[j] {
				d = math.Min(d, 0)
			} else {
				d = math.Max(d, 0)
			}
			p.d[j] = d
		}
	}
	for i, y := range p.y {
		switch {
		case p.lpos[i] >= 0, math.IsInf(p.lo[i], -1) && math.IsInf(p.up[i], 1):
			p.d[n+i] = 0
		case p.rowUp[i]:
			p.d[n+i] = math.Min(y, 0)
		default:
			p.d[n+i] = math.Max(y, 0)
		}
	}
	p.flops += int64(len(p.idx))
}

// reprice updates the reduced costs for v entering in the place of old, by the
// pivot row in arow, and returns v's reduced cost before.
func (p *Problem) reprice(v, old int32) float64 {
	n := len(p.cost)
	q, o := int(v), int(old)
	if v < 0 {
		q = n + int(^v)
	}
	if old < 0 {
		o = n + int(^old)
	}
	d := p.d[q]
	if t := d / p.arow[q]; math.Abs(t) > 1e-13 {
		for j, a := range p.arow {
			if a != 0 {
				p.d[j] -= float64(t * a)
			}
		}
		p.d[o] = -t
	} else {
		p.d[o] = 0
	}
	p.d[q] = 0
	return d
}

// dualEnter is the dual ratio test on the row held in rho: the variable whose
// reduced cost reaches zero first, the larger pivot on a tie. It leaves the
// pivot row in arow.
func (p *Problem) dualEnter(toUp bool) (v int32, ok bool) {
	best, piv := math.Inf(1), 0.0
	sign := 1.0
	if toUp {
		sign = -1
	}
	try := func(u int32, a, dj float64, atUp, free bool) {
		// The leaving variable must move by sign; u moving up changes it by -a.
		a = float64(a * sign)
		if atUp {
			a, dj = -a, -dj
		}
		if free {
			a, dj = -math.Abs(a), math.Abs(dj)
		}
		if a > -pivotTol {
			return
		}
		t := math.Max(dj, 0) / -a
		if t < best-1e-12 || t <= best+1e-12 && -a > piv {
			best, piv, v, ok = t, -a, u, true
		}
	}
	n := len(p.cost)
	rho := p.rho
	pos, ub, arow, start := p.pos[:n], p.ub[:n], p.arow[:n], p.start[:n+1]
	for j := range arow {
		arow[j] = 0
		if pos[j] >= 0 || ub[j] == 0 {
			continue
		}
		idx, val := p.idx[start[j]:start[j+1]], p.val[start[j]:start[j+1]]
		val = val[:len(idx)]
		a := 0.0
		for k, i := range idx {
			a += float64(rho[i] * val[k])
		}
		arow[j] = a
		b := float64(a * sign)
		if b > pivotTol && !p.atUp[j] || b <= pivotTol && b >= -pivotTol {
			continue
		}
		try(int32(j), a, p.d[j], p.atUp[j], false)
	}
	p.flops += int64(len(p.idx))
	for i := 0; i < p.m; i++ {
		p.arow[n+i] = 0
		if p.lpos[i] < 0 {
			p.arow[n+i] = -rho[i]
			if p.lo[i] != p.up[i] {
				free := math.IsInf(p.lo[i], -1) && math.IsInf(p.up[i], 1)
				try(^int32(i), -rho[i], p.d[n+i], p.rowUp[i], free)
			}
		}
	}
	return v, ok
}
