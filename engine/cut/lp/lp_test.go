package lp_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	glp "gonum.org/v1/gonum/optimize/convex/lp"

	"stallwright/engine/cut/lp"
)

// random makes a covering program: rows at least b, nonnegative entries.
func random(r *rand.Rand, m, n int) (a [][]float64, b, c []float64) {
	for i := 0; i < m; i++ {
		row := make([]float64, n)
		for j := range row {
			if r.IntN(3) == 0 {
				row[j] = float64(1 + r.IntN(4))
			}
		}
		a = append(a, row)
		b = append(b, float64(1+r.IntN(9)))
	}
	for j := 0; j < n; j++ {
		a[j%m][j] = float64(1 + r.IntN(3)) // no row and no column is empty
	}
	for j := 0; j < n; j++ {
		c = append(c, float64(5+r.IntN(40)))
	}
	return a, b, c
}

func build(a [][]float64, b, c []float64) *lp.Problem {
	p := lp.New(len(b))
	for i, v := range b {
		p.SetRow(i, v, math.Inf(1))
	}
	for j, v := range c {
		var rows []int32
		var vals []float64
		for i := range b {
			if a[i][j] != 0 {
				rows = append(rows, int32(i))
				vals = append(vals, a[i][j])
			}
		}
		p.AddCol(v, rows, vals)
	}
	return p
}

// reference is the optimum by gonum's dense simplex.
// Columns of nothing are left out: gonum refuses them, and as every cost is
// above zero no optimum uses them.
func reference(t *testing.T, a [][]float64, b, c []float64) float64 {
	a, c = withoutEmpty(a, c)
	m, n := len(b), len(c)
	d := mat.NewDense(m, n+m, nil)
	for i := range b {
		for j := range c {
			d.Set(i, j, a[i][j])
		}
		d.Set(i, n+i, -1)
	}
	z, _, err := glp.Simplex(append(append([]float64(nil), c...), make([]float64, m)...), d, b, 1e-10, nil)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// withoutEmpty drops the columns that hold nothing.
func withoutEmpty(a [][]float64, c []float64) ([][]float64, []float64) {
	rows := make([][]float64, len(a))
	var cost []float64
	for j, v := range c {
		empty := true
		for i := range a {
			empty = empty && a[i][j] == 0
		}
		if empty {
			continue
		}
		cost = append(cost, v)
		for i := range a {
			rows[i] = append(rows[i], a[i][j])
		}
	}
	return rows, cost
}

func TestAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for k := 0; k < 60; k++ {
		a, b, c := random(r, 2+r.IntN(8), 10+r.IntN(20))
		p := build(a, b, c)
		if s := p.Solve(); s != lp.Optimal {
			t.Fatalf("case %d: status %v", k, s)
		}
		want := reference(t, a, b, c)
		if got := p.Objective(); math.Abs(got-want) > 1e-6*want {
			t.Errorf("case %d: %v, gonum %v", k, got, want)
		}
		// Strong duality, and no column prices out.
		dual := 0.0
		for i, y := range p.Duals() {
			dual += y * b[i]
		}
		if math.Abs(dual-want) > 1e-6*want {
			t.Errorf("case %d: duals give %v, want %v", k, dual, want)
		}
		for j := range c {
			if p.Reduced(j) < -1e-6 {
				t.Errorf("case %d: column %d prices at %v", k, j, p.Reduced(j))
			}
		}
		// A warm start after changed bounds gives what a cold start gives.
		for i := range b {
			b[i] = float64(1 + r.IntN(9))
			p.SetRow(i, b[i], math.Inf(1))
		}
		if s := p.Solve(); s != lp.Optimal {
			t.Fatalf("case %d: status %v when warm", k, s)
		}
		if want := reference(t, a, b, c); math.Abs(p.Objective()-want) > 1e-6*want {
			t.Errorf("case %d: %v when warm, gonum %v", k, p.Objective(), want)
		}
	}
}

func TestUpperBoundsAndTwoSidedRows(t *testing.T) {
	// minimise 2x + 3y, x + y >= 4, x <= 3, 1 <= y <= 2.
	p := lp.New(2)
	p.SetRow(0, 4, math.Inf(1))
	p.SetRow(1, 1, 2)
	x := p.AddCol(2, []int32{0}, []float64{1})
	y := p.AddCol(3, []int32{0, 1}, []float64{1, 1})
	p.SetUpper(x, 3)
	if s := p.Solve(); s != lp.Optimal || math.Abs(p.Objective()-9) > 1e-9 {
		t.Fatalf("%v %v", s, p.Objective())
	}
	if math.Abs(p.Value(x)-3) > 1e-9 || math.Abs(p.Value(y)-1) > 1e-9 {
		t.Errorf("x %v y %v", p.Value(x), p.Value(y))
	}
	p.SetUpper(x, 1)
	if s := p.Solve(); s != lp.Infeasible {
		t.Errorf("status %v, want infeasible: at most 1 + 2 of 4", s)
	}
}

func TestCutoffStopsEarly(t *testing.T) {
	p := lp.New(1)
	p.SetRow(0, 10, math.Inf(1))
	p.AddCol(1, []int32{0}, []float64{1})
	p.SetCutoff(5)
	if s := p.Solve(); s != lp.Beyond && p.Objective() <= 5 {
		t.Errorf("status %v at cost %v", s, p.Objective())
	}
}
