package lp

import "math"

// axpy adds s times x to y.
func axpy(y, x []float64, s float64) {
	x = x[:len(y)]
	i := 0
	for ; i+4 <= len(y); i += 4 {
		a, b := y[i:i+4:i+4], x[i:i+4:i+4]
		a[0] += float64(s * b[0])
		a[1] += float64(s * b[1])
		a[2] += float64(s * b[2])
		a[3] += float64(s * b[3])
	}
	for ; i < len(y); i++ {
		y[i] += float64(s * x[i])
	}
}

// axpyNorm is axpy and returns the squared length of y after it.
func axpyNorm(y, x []float64, s float64) float64 {
	x = x[:len(y)]
	var n0, n1 float64
	i := 0
	for ; i+2 <= len(y); i += 2 {
		a := y[i] + float64(s*x[i])
		b := y[i+1] + float64(s*x[i+1])
		y[i], y[i+1] = a, b
		n0 += float64(a * a)
		n1 += float64(b * b)
	}
	for ; i < len(y); i++ {
		y[i] += float64(s * x[i])
		n0 += float64(y[i] * y[i])
	}
	return n0 + n1
}

// norms computes the squared lengths of the inverse's rows.
func (p *Problem) norms() {
	m := p.m
	if cap(p.norm) < m {
		p.norm = make([]float64, m)
	}
	p.norm = p.norm[:m]
	for r := range p.norm {
		n := 0.0
		for _, a := range p.inv[r*m : r*m+m] {
			n += float64(a * a)
		}
		p.norm[r] = n
	}
	p.flops += int64(m * m)
}

// ftran sets alpha to the basis inverse times a variable's column.
func (p *Problem) ftran(v int32) {
	m := p.m
	if v < 0 {
		c := int(^v)
		for r := 0; r < m; r++ {
			p.alpha[r] = -p.inv[r*m+c]
		}
		return
	}
	s, e := p.start[v], p.start[v+1]
	idx, val := p.idx[s:e], p.val[s:e]
	val = val[:len(idx)]
	for r := 0; r < m; r++ {
		row := p.inv[r*m : r*m+m]
		t := 0.0
		for k, i := range idx {
			t += float64(row[i] * val[k])
		}
		p.alpha[r] = t
	}
	p.flops += int64(m * len(idx))
}

// replace puts variable v into basis position r; alpha must hold its column.
// Returns the scaled pivot row's place in the inverse.
func (p *Problem) replace(r int, v int32) {
	m := p.m
	row := p.inv[r*m : r*m+m]
	f := 1 / p.alpha[r]
	for i := range row {
		row[i] = float64(row[i] * f)
	}
	n := 1
	for i := 0; i < m; i++ {
		if a := p.alpha[i]; i != r && (a > zeroTol || a < -zeroTol) {
			if p.steep {
				p.norm[i] = axpyNorm(p.inv[i*m:i*m+m], row, -a)
			} else {
				axpy(p.inv[i*m:i*m+m], row, -a)
			}
			n++
		}
	}
	if p.steep {
		p.norm[r] = float64(p.norm[r] * float64(f*f))
	}
	p.flops += int64(n * m)
	if old := p.head[r]; old >= 0 {
		p.pos[old] = -1
	} else {
		p.lpos[^old] = -1
	}
	p.head[r] = v
	if v >= 0 {
		p.pos[v] = int32(r)
	} else {
		p.lpos[^v] = int32(r)
	}
	p.since++
	p.pivots++
}

// refactor rebuilds the inverse from the basis by bringing its columns into the
// identity one at a time. Columns that turn out dependent are replaced by
// logicals. Reports whether the basis stayed the same set.
func (p *Problem) refactor() bool {
	var cols []int32
	free := make([]bool, p.m)
	for i := range free {
		free[i] = true
	}
	for _, v := range p.head {
		if v >= 0 {
			cols = append(cols, v)
		} else {
			free[^v] = false
		}
	}
	return p.factor(cols, free)
}

// Start makes the given columns basic, as far as they are independent, and
// logicals the rest: a basis from a like problem to begin with.
func (p *Problem) Start(cols []int) {
	free := make([]bool, p.m)
	for i := range free {
		free[i] = true
	}
	for _, v := range p.head {
		if v >= 0 {
			p.pos[v] = -1
		}
	}
	list := make([]int32, 0, len(cols))
	for _, j := range cols {
		if len(list) < p.m {
			list = append(list, int32(j))
		}
	}
	p.factor(list, free)
}

// factor builds the inverse from columns, each in one of the free rows.
func (p *Problem) factor(cols []int32, free []bool) bool {
	m := p.m
	for _, v := range cols {
		p.pos[v] = -1
	}
	clear(p.inv)
	for i := 0; i < m; i++ {
		p.inv[i*m+i] = -1
		p.head[i] = ^int32(i)
		p.lpos[i] = int32(i)
	}
	sortByLength(cols, p.start)
	same := true
	pend := 0
	for _, v := range cols {
		p.ftran(v)
		best, at := 1e-7, -1
		for r := 0; r < m; r++ {
			if a := math.Abs(p.alpha[r]); free[r] && a > best {
				best, at = a, r
			}
		}
		if at < 0 {
			same = false
			continue
		}
		free[at] = false
		p.replace(at, v)
		pend++
	}
	p.pivots -= pend
	p.since = 0
	for i := 0; i < m; i++ {
		if p.lpos[i] < 0 {
			p.rowUp[i] = restAtUp(p.lo[i], p.up[i], p.rowUp[i])
		}
	}
	p.values()
	return same
}

// sortByLength orders columns by the number of their entries, then by index, so
// that rebuilding fills in late.
func sortByLength(cols []int32, start []int32) {
	n := func(v int32) int32 { return start[v+1] - start[v] }
	// Insertion by counting: lengths are small.
	var most int32
	for _, v := range cols {
		most = max(most, n(v))
	}
	buckets := make([][]int32, most+1)
	for _, v := range cols {
		buckets[n(v)] = append(buckets[n(v)], v)
	}
	k := 0
	for _, b := range buckets {
		k += copy(cols[k:], b)
	}
}

// values recomputes the basic variables from the bounds the others rest at.
func (p *Problem) values() {
	m := p.m
	rhs := p.rho
	clear(rhs)
	for i := 0; i < m; i++ {
		if p.lpos[i] < 0 {
			rhs[i] += p.rowRest(i)
		}
	}
	for j, up := range p.atUp {
		if up && p.pos[j] < 0 && p.ub[j] != 0 {
			for k := p.start[j]; k < p.start[j+1]; k++ {
				rhs[p.idx[k]] -= float64(p.val[k] * p.ub[j])
			}
		}
	}
	at := p.at[:0]
	for i, b := range rhs {
		if b != 0 {
			at = append(at, int32(i))
		}
	}
	p.at = at
	for r := 0; r < m; r++ {
		row := p.inv[r*m : r*m+m]
		t := 0.0
		for _, i := range at {
			t += float64(row[i] * rhs[i])
		}
		p.xb[r] = t
	}
	p.flops += int64(m * m)
}

// duals recomputes y from the basis.
func (p *Problem) duals() {
	m := p.m
	clear(p.y)
	n := 0
	for r, v := range p.head {
		if v >= 0 && p.cost[v] != 0 {
			axpy(p.y, p.inv[r*m:r*m+m], p.cost[v])
			n++
		}
	}
	p.flops += int64(n * m)
}

// reduced is a column's reduced cost under y.
func (p *Problem) reduced(j int) float64 {
	d, y := p.cost[j], p.y
	s, e := p.start[j], p.start[j+1]
	idx, val := p.idx[s:e], p.val[s:e]
	val = val[:len(idx)]
	for k, i := range idx {
		d -= float64(val[k] * y[i])
	}
	return d
}

// Reduced is a column's reduced cost at the last solve.
func (p *Problem) Reduced(j int) float64 { return p.reduced(j) }

// Pivots counts the basis changes so far.
func (p *Problem) Pivots() int { return p.pivots }

// Keep drops the columns that keep does not name, of those outside the basis
// and at zero, and returns each column's new index or -1.
func (p *Problem) Keep(keep func(j int) bool) []int {
	at := make([]int, len(p.cost))
	n := 0
	var used int32
	for j := range p.cost {
		s, e := p.start[j], p.start[j+1]
		if p.pos[j] < 0 && !p.atUp[j] && !keep(j) {
			at[j] = -1
			continue
		}
		at[j] = n
		copy(p.idx[used:], p.idx[s:e])
		copy(p.val[used:], p.val[s:e])
		p.cost[n], p.ub[n], p.pos[n], p.atUp[n] = p.cost[j], p.ub[j], p.pos[j], p.atUp[j]
		if r := p.pos[n]; r >= 0 {
			p.head[r] = int32(n)
		}
		p.start[n] = used
		used += e - s
		n++
	}
	p.start[n] = used
	p.start, p.idx, p.val = p.start[:n+1], p.idx[:used], p.val[:used]
	p.cost, p.ub, p.pos, p.atUp = p.cost[:n], p.ub[:n], p.pos[:n], p.atUp[:n]
	return at
}
