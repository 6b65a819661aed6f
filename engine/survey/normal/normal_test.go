package normal

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// randomDesign has a local part (row r touches unknowns near r) and, when
// asked, one hub that every row touches.
func randomDesign(rng *rand.Rand, n, rows int, hub bool) (*Design, []float64) {
	d := &Design{Unknowns: n}
	var weight []float64
	for r := 0; r < rows; r++ {
		base := rng.Intn(n)
		seen := map[int]bool{}
		var cols []int
		var vals []float64
		put := func(c int) {
			if !seen[c] {
				seen[c] = true
				cols = append(cols, c)
				vals = append(vals, rng.NormFloat64())
			}
		}
		for k := 0; k < 3; k++ {
			put((base + rng.Intn(5)) % n)
		}
		if hub {
			put(0)
		}
		d.Add(cols, vals)
		weight = append(weight, 0.1+rng.Float64())
	}
	for c := 0; c < n; c++ { // every unknown is determined
		d.Add([]int{c}, []float64{1})
		weight = append(weight, 0.5)
	}
	return d, weight
}

// gonum's dense inverse is the independent reference.
func TestAgreesWithDenseInverse(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	for trial := 0; trial < 40; trial++ {
		n := 2 + rng.Intn(70)
		d, weight := randomDesign(rng, n, 2*n, trial%2 == 1)
		dense := mat.NewSymDense(n, nil)
		for r := 0; r < d.Rows(); r++ {
			cols, vals := d.Row(r)
			for a := range cols {
				for b := range cols {
					if cols[b] >= cols[a] {
						dense.SetSym(cols[a], cols[b], dense.At(cols[a], cols[b])+weight[r]*vals[a]*vals[b])
					}
				}
			}
		}
		var want mat.Dense
		if err := want.Inverse(dense); err != nil {
			t.Fatal(err)
		}
		f := Analyse(d).Factorise(d, weight, 1e-12)
		if len(f.Collapsed) > 0 {
			t.Fatalf("collapsed %v in a determined system", f.Collapsed)
		}
		inv := f.Inverse()
		for a := 0; a < n; a++ {
			unit := make([]float64, n)
			unit[a] = 1
			x := f.Solve(unit)
			for b := 0; b < n; b++ {
				if math.Abs(x[b]-want.At(b, a)) > 1e-11 {
					t.Fatalf("trial %d: Solve column %d row %d: %v, gonum %v", trial, a, b, x[b], want.At(b, a))
				}
				if z, ok := inv.At(a, b); ok && math.Abs(z-want.At(a, b)) > 1e-11 {
					t.Fatalf("trial %d: inverse (%d,%d): %v, gonum %v", trial, a, b, z, want.At(a, b))
				}
			}
		}
		for r := 0; r < d.Rows(); r++ {
			cols, vals := d.Row(r)
			sum := 0.0
			for a := range cols {
				if _, ok := inv.At(cols[a], cols[0]); !ok {
					t.Fatal("a pair sharing a row lies outside the envelope")
				}
				for b := range cols {
					sum += vals[a] * vals[b] * want.At(cols[a], cols[b])
				}
			}
			if got := inv.RowVariance(d, r); math.Abs(got-sum) > 1e-10 {
				t.Fatalf("row variance %v, gonum %v", got, sum)
			}
		}
	}
}

func TestUndeterminedUnknownIsHeldAndNamed(t *testing.T) {
	// x0 + x1 is known, x2 is known: one of x0, x1 cannot be determined.
	d := &Design{Unknowns: 3}
	d.Add([]int{0, 1}, []float64{1, 1})
	d.Add([]int{2}, []float64{2})
	f := Analyse(d).Factorise(d, []float64{1, 1}, 1e-10)
	if len(f.Collapsed) != 1 || f.Collapsed[0] == 2 {
		t.Fatalf("collapsed %v, want one of 0 and 1", f.Collapsed)
	}
	x := f.Solve([]float64{6, 6, 8})
	if math.Abs(x[0]+x[1]-6) > 1e-12 || math.Abs(x[2]-2) > 1e-12 {
		t.Errorf("solution %v", x)
	}
	if q, _ := f.Inverse().At(f.Collapsed[0], f.Collapsed[0]); q != 0 {
		t.Errorf("a held unknown has variance %v", q)
	}
}

func TestHubDoesNotFillTheFactor(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	d, _ := randomDesign(rng, 1500, 3000, true)
	if got := Analyse(d).Stored(); got > 60*1500 {
		t.Errorf("the factor of a ring with a hub stores %d entries for 1500 unknowns", got)
	}
}

func TestNoUnknowns(t *testing.T) {
	d := &Design{}
	f := Analyse(d).Factorise(d, nil, 1e-10)
	if x := f.Solve(nil); len(x) != 0 {
		t.Errorf("solution of nothing: %v", x)
	}
	f.Inverse()
}
