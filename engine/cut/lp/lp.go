// Package lp is a small bounded-variable simplex for column generation.
//
// In come rows with a lower and an upper bound on their activity and sparse
// columns with a cost and an upper bound; out come values, duals and a basis
// that survives added columns and changed bounds. It always minimises, every
// column is at least zero.
//
// Why not a library: column generation needs the duals of every restricted
// master and a warm start after each added column or changed bound. The dense
// routine in gonum gives neither. Every product is rounded before it is added
// (explicit float64 conversions), so that results are bit for bit the same on
// machines with and without fused multiply-add.
//
// The values are floating point and carry no guarantee. Whoever needs a bound
// that is safe must build one from the duals in integers.
package lp

import "math"

// Status says how a solve ended.
type Status int

// The ways a solve ends.
const (
	Optimal    Status = iota
	Infeasible        // no point satisfies the bounds
	Unbounded         // the cost falls without end
	Stalled           // the iteration limit or numerical trouble
	Beyond            // the cost rose past the cutoff on the way to the optimum
)

// Tolerances, in the units of the rows (feasTol, zeroTol), of the cost
// relative to the typical cost (costTol), and of pivots.
const (
	feasTol  = 1e-9
	costTol  = 1e-9
	pivotTol = 1e-8
	zeroTol  = 1e-12
)

// Problem is a linear program: minimise the sum of cost times value, subject to
// lower <= activity <= upper on each row and 0 <= value <= upper on each column.
// The zero Problem is not usable; call New.
type Problem struct {
	m       int
	lo, up  []float64
	start   []int32
	idx     []int32
	val     []float64
	cost    []float64
	ub      []float64
	scale   float64 // typical cost, for costTol
	head    []int32 // basis position -> variable; a row's logical is ^row
	pos     []int32 // column -> basis position, or -1
	lpos    []int32 // row -> basis position of its logical, or -1
	atUp    []bool  // nonbasic column sits at its upper bound
	rowUp   []bool  // nonbasic logical sits at its upper bound
	inv     []float64
	xb      []float64
	y       []float64
	alpha   []float64
	rho     []float64
	d       []float64 // reduced costs during the dual method
	arow    []float64 // pivot row during the dual method
	since   int       // pivots since the inverse was rebuilt
	pivots  int
	flops   int64
	maxIter int
	cutoff  float64
	watch   int       // columns that partial pricing keeps an eye on; none for full pricing
	few     []int32   // columns that promised most when all were priced last
	worth   []float64 // what they promised then
	high    float64   // the most of them
	norm    []float64 // squared lengths of the inverse's rows, during the dual method
	steep   bool      // norm is kept up
	at      []int32   // rows whose right-hand side is not zero
}

// New makes a problem with m rows, all free, and no columns. The basis is the
// rows' logicals.
func New(m int) *Problem {
	p := &Problem{m: m, start: []int32{0}, scale: 1, cutoff: math.Inf(1)}
	p.lo = make([]float64, m)
	p.up = make([]float64, m)
	p.head = make([]int32, m)
	p.lpos = make([]int32, m)
	p.rowUp = make([]bool, m)
	p.inv = make([]float64, m*m)
	p.xb = make([]float64, m)
	p.y = make([]float64, m)
	p.alpha = make([]float64, m)
	p.rho = make([]float64, m)
	for i := range p.lo {
		p.lo[i], p.up[i] = math.Inf(-1), math.Inf(1)
		p.head[i] = ^int32(i)
		p.lpos[i] = int32(i)
		p.inv[i*m+i] = -1
	}
	return p
}

// Clone copies the problem with its basis; the two share nothing.
func (p *Problem) Clone() *Problem {
	q := *p
	q.lo = append([]float64(nil), p.lo...)
	q.up = append([]float64(nil), p.up...)
	q.start = append([]int32(nil), p.start...)
	q.idx = append([]int32(nil), p.idx...)
	q.val = append([]float64(nil), p.val...)
	q.cost = append([]float64(nil), p.cost...)
	q.ub = append([]float64(nil), p.ub...)
	q.head = append([]int32(nil), p.head...)
	q.pos = append([]int32(nil), p.pos...)
	q.lpos = append([]int32(nil), p.lpos...)
	q.atUp = append([]bool(nil), p.atUp...)
	q.rowUp = append([]bool(nil), p.rowUp...)
	q.inv = append([]float64(nil), p.inv...)
	q.xb = append([]float64(nil), p.xb...)
	q.y = append([]float64(nil), p.y...)
	q.alpha = make([]float64, p.m)
	q.rho = make([]float64, p.m)
	q.d, q.arow, q.norm = nil, nil, nil
	q.few, q.worth, q.at = nil, nil, nil
	return &q
}

// Rows is the number of rows.
func (p *Problem) Rows() int { return p.m }

// Cols is the number of columns.
func (p *Problem) Cols() int { return len(p.cost) }

// Work is the number of multiplications done so far, for budgets that must not
// depend on a clock.
func (p *Problem) Work() int64 { return p.flops }

// AddCol adds a column at zero, not in the basis, with no upper bound and
// returns its index. Rows must be distinct.
func (p *Problem) AddCol(cost float64, rows []int32, vals []float64) int {
	p.idx = append(p.idx, rows...)
	p.val = append(p.val, vals...)
	p.start = append(p.start, int32(len(p.idx)))
	p.cost = append(p.cost, cost)
	p.ub = append(p.ub, math.Inf(1))
	p.pos = append(p.pos, -1)
	p.atUp = append(p.atUp, false)
	return len(p.cost) - 1
}

// SetRow sets the bounds on a row's activity. The basis stays.
func (p *Problem) SetRow(i int, lo, up float64) {
	p.lo[i], p.up[i] = lo, up
	if p.lpos[i] < 0 {
		p.rowUp[i] = restAtUp(lo, up, p.rowUp[i])
	}
}

// SetUpper sets a column's upper bound. The basis stays.
func (p *Problem) SetUpper(j int, up float64) {
	p.ub[j] = up
	if math.IsInf(up, 1) {
		p.atUp[j] = false
	}
}

// Upper is a column's upper bound.
func (p *Problem) Upper(j int) float64 { return p.ub[j] }

// SetCost sets a column's cost. The basis stays.
func (p *Problem) SetCost(j int, c float64) { p.cost[j] = c }

// SetWatch turns partial pricing on: between looks at all columns the primal
// method keeps to the n that promised most. It saves time where columns are many
// and the optimum is all that counts; full pricing, the default, takes other paths
// among equal optima.
func (p *Problem) SetWatch(n int) { p.watch = n }

// SetCutoff lets Solve stop with Beyond once the dual method shows that the
// optimum costs more. The duals are then those of that moment.
func (p *Problem) SetCutoff(c float64) { p.cutoff = c }

// SetScale states a typical cost of one column, against which reduced costs
// count as zero. It is 1 at first.
func (p *Problem) SetScale(c float64) { p.scale = c }

// Value is a column's value at the last solve.
func (p *Problem) Value(j int) float64 {
	if r := p.pos[j]; r >= 0 {
		return p.xb[r]
	}
	if p.atUp[j] {
		return p.ub[j]
	}
	return 0
}

// IsBasic reports whether a column is in the basis.
func (p *Problem) IsBasic(j int) bool { return p.pos[j] >= 0 }

// Basic lists the columns in the basis in order of position.
func (p *Problem) Basic() []int {
	var out []int
	for _, v := range p.head {
		if v >= 0 {
			out = append(out, int(v))
		}
	}
	return out
}

// Duals gives the rows' duals at the last solve: a row at its lower bound has a
// dual of at least zero, at its upper bound of at most zero. The slice is the
// problem's own.
func (p *Problem) Duals() []float64 { return p.y }

// Objective is the cost at the last solve.
func (p *Problem) Objective() float64 {
	z := 0.0
	for r, v := range p.head {
		if v >= 0 {
			z += float64(p.cost[v] * p.xb[r])
		}
	}
	for j, up := range p.atUp {
		if up && p.pos[j] < 0 {
			z += float64(p.cost[j] * p.ub[j])
		}
	}
	return z
}

// restAtUp says which bound a nonbasic logical rests at.
func restAtUp(lo, up float64, now bool) bool {
	switch {
	case math.IsInf(lo, -1) && !math.IsInf(up, 1):
		return true
	case math.IsInf(up, 1):
		return false
	}
	return now
}

func (p *Problem) rowRest(i int) float64 {
	if p.rowUp[i] {
		return p.up[i]
	}
	if math.IsInf(p.lo[i], -1) {
		return 0
	}
	return p.lo[i]
}

// bounds of the variable in basis position r.
func (p *Problem) bounds(r int) (lo, up float64) {
	v := p.head[r]
	if v >= 0 {
		return 0, p.ub[v]
	}
	return p.lo[^v], p.up[^v]
}
