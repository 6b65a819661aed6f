package chance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Upper critical values as printed in the chi-square tables of statistics
// texts (five decimals, as in "The Chi-Square Distribution" table appended to
// university papers, rows 1-10; large degrees: "Appendix D, critical values of
// chi-square", rows 100 to 500). Seen.
func TestChiSquareAgainstPrintedTable(t *testing.T) {
	for _, c := range []struct {
		degrees int
		alpha   float64
		want    float64
		within  float64
	}{
		{1, .05, 3.84146, 6e-6}, {2, .05, 5.99146, 6e-6}, {3, .05, 7.81473, 6e-6},
		{4, .05, 9.48773, 6e-6}, {5, .05, 11.07050, 6e-6}, {6, .05, 12.59159, 6e-6},
		{7, .05, 14.06714, 6e-6}, {10, .05, 18.30704, 6e-6},
		{1, .01, 6.63490, 6e-6}, {2, .01, 9.21034, 6e-6}, {5, .01, 15.08627, 6e-6}, {8, .01, 20.09024, 6e-6},
		{1, .005, 7.87944, 6e-6}, {4, .005, 14.86026, 6e-6}, {9, .005, 23.58935, 6e-6},
		{5, .95, 1.14548, 6e-6}, {10, .90, 4.86518, 6e-6}, {10, .995, 2.15586, 6e-6},
		{100, .95, 77.9295, 6e-5}, {200, .90, 174.835, 6e-4}, {300, .995, 240.663, 6e-4}, {500, .90, 459.926, 6e-4}, {500, .995, 422.303, 6e-4},
	} {
		if got := ChiSquareCritical(c.alpha, c.degrees); math.Abs(got-c.want) > c.within {
			t.Errorf("chi-square %v with %d degrees: %.6f, printed %.5f", c.alpha, c.degrees, got, c.want)
		}
	}
}

// Upper points of the normal distribution: Abramowitz & Stegun table 26.5 (from
// memory), and the two figures of W. Baarda's method (1968): a two-sided 0.001
// cut-off of 3.29 and, with power 0.80, a non-centrality of 17.075.
func TestNormalAgainstPrintedTable(t *testing.T) {
	for _, c := range []struct{ p, want, within float64 }{
		{.975, 1.959964, 5e-7}, {.99, 2.326348, 5e-7}, {.995, 2.575829, 5e-7},
		{.9995, 3.290527, 5e-7}, {.80, .841621, 5e-7}, {.25, -.674490, 5e-7}, {1e-9, -5.997807, 5e-7},
	} {
		if got := NormalQuantile(c.p); math.Abs(got-c.want) > c.within {
			t.Errorf("z(%v) = %.7f, printed %v", c.p, got, c.want)
		}
	}
	if got := NormalBeyond(3.290527); math.Abs(got-.001) > 1e-8 {
		t.Errorf("beyond 3.29: %v, want 0.001", got)
	}
	d := NormalQuantile(.9995) + NormalQuantile(.80)
	if math.Abs(d*d-17.075) > 5e-4 {
		t.Errorf("non-centrality %.4f, Baarda 17.075", d*d)
	}
}

// gonum's distributions are an independent implementation.
func TestAgreesWithIndependentLibrary(t *testing.T) {
	for k := 1; k <= 6000; k += 1 + k/7 {
		d := distuv.ChiSquared{K: float64(k)}
		for _, f := range []float64{.05, .5, .9, 1, 1.1, 2, 4} {
			x := f * float64(k)
			got, want := ChiSquareBeyond(x, k), d.Survival(x)
			if math.Abs(got-want) > 2e-11 {
				t.Errorf("Q(%d, %v) = %v, gonum %v", k, x, got, want)
			}
		}
	}
	for i := 1; i < 1000; i++ {
		p := float64(i) / 1000
		if got, want := NormalQuantile(p), distuv.UnitNormal.Quantile(p); math.Abs(got-want) > 1e-12 {
			t.Errorf("z(%v) = %v, gonum %v", p, got, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	if !math.IsNaN(ChiSquareCritical(.05, 0)) || !math.IsNaN(ChiSquareCritical(0, 3)) || !math.IsNaN(NormalQuantile(1.5)) {
		t.Error("outside the domain must be NaN")
	}
	if ChiSquareBeyond(-1, 3) != 1 {
		t.Error("everything lies beyond a negative value")
	}
}
