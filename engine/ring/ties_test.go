package ring

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/measure"

	"gonum.org/v1/gonum/mat"
)

// ringTies are the ties of a regular ring's sections, with the whole matrix for
// gonum.
func ringTies(n int, give []float64) (ties, *mat.Dense) {
	u := make([]vec, n)
	for i := range u {
		a := 2 * math.Pi * float64(i) / float64(n)
		u[i] = vec{math.Cos(a), math.Sin(a)}
	}
	b := mat.NewDense(n, 2*n, nil)
	g := mat.NewDense(2*n, 2*n, nil)
	for i := range u {
		j := (i + 1) % n
		for k := range 2 {
			b.Set(i, 2*i+k, b.At(i, 2*i+k)-u[i][k])
			b.Set(i, 2*j+k, b.At(i, 2*j+k)+u[i][k])
			g.Set(2*i+k, 2*i+k, give[i])
		}
	}
	var m mat.Dense
	m.Product(b, g, b.T())
	return newTies(u, give), &m
}

// Without play every condition is an equation: gonum solves B·G·Bᵀ·m = short.
func TestTiesAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewSource(41))
	for trial := 0; trial < 60; trial++ {
		n := 5 + rng.Intn(60)
		give, short := make([]float64, n), make([]float64, n)
		for i := range give {
			give[i], short[i] = 1, 0.1*rng.NormFloat64()
		}
		give[rng.Intn(n)] = freedPier
		x, whole := ringTies(n, give)
		got := make([]float64, n)
		x.meet(short, 0, got)
		var want mat.VecDense
		if err := want.SolveVec(whole, mat.NewVecDense(n, short)); err != nil {
			t.Fatal(err)
		}
		for i := range got {
			near(t, "multiplier", got[i], want.AtVec(i), 1e-9*(1+math.Abs(want.AtVec(i))))
		}
	}
}

// With play, what a multiplier set must satisfy (Karush, Kuhn and Tucker): no
// condition lacks more than play, one with a multiplier lacks just that on the
// multiplier's side. The products are gonum's.
func TestTiesWithPlay(t *testing.T) {
	rng := rand.New(rand.NewSource(42))
	idle, busy := 0, 0
	for trial := 0; trial < 200; trial++ {
		n := 5 + rng.Intn(60)
		give, short := make([]float64, n), make([]float64, n)
		for i := range give {
			give[i], short[i] = 1, 0.003*rng.NormFloat64()
		}
		x, whole := ringTies(n, give)
		m := make([]float64, n)
		const play = 0.0015
		x.meet(short, play, m)
		var met mat.VecDense
		met.MulVec(whole, mat.NewVecDense(n, m))
		for i := range m {
			lacks := short[i] - met.AtVec(i)
			switch {
			case m[i] == 0:
				idle++
				if math.Abs(lacks) > play+1e-12 {
					t.Fatalf("trial %d: condition %d lacks %v and does nothing", trial, i, lacks)
				}
			default:
				busy++
				if math.Abs(lacks-math.Copysign(play, m[i])) > 1e-12 {
					t.Fatalf("trial %d: condition %d lacks %v with multiplier %v", trial, i, lacks, m[i])
				}
			}
		}
	}
	if idle < 500 || busy < 500 {
		t.Errorf("%d conditions idle, %d busy", idle, busy)
	}
}

// A ring whose piers are all wrong is told to be set out anew, not mended pier by
// pier; one with two piers wrong far apart gets both named.
func TestManyAndTwoPiersWrong(t *testing.T) {
	rng := rand.New(rand.NewSource(43))
	sides := equalSides(60, 12*measure.Foot)
	c, err := Close(piersOf(rng, sides, measure.Foot), sides, Allowance{Seat: measure.Inch, Play: measure.Inch / 16})
	if err != nil || c.Fits || len(c.Moves) > 0 || !strings.Contains(strings.Join(c.Sentences, " "), "set the ring out again") {
		t.Errorf("%v %v", err, c.Sentences)
	}
	sides = equalSides(48, 12*measure.Foot)
	piers := piersOf(rng, sides, measure.Millimetre)
	for _, k := range []int{5, 30} {
		piers[k].X += 4 * measure.Inch
		piers[k].Y -= 5 * measure.Inch
	}
	c, err = Close(piers, sides, Allowance{Seat: measure.Inch / 2, Play: measure.Inch / 64})
	if err != nil || c.Fits || len(c.Moves) != 2 {
		t.Fatalf("%v %v", err, c.Sentences)
	}
	for i, m := range c.Moves {
		if d := m.Pier - []int{5, 30}[i]; d < -1 || d > 1 {
			t.Errorf("piers 6 and 31 are wrong; moves %+v", c.Moves)
		}
		piers[m.Pier] = m.To
	}
	if c, _ := Close(piers, sides, Allowance{Seat: measure.Inch / 2, Play: measure.Inch / 64}); !c.Fits {
		t.Errorf("moved as told: %v", c.Sentences)
	}
}

// BenchmarkClose is a pen of 16 and of 60 sections, one pier out of place.
func BenchmarkClose(b *testing.B) {
	for _, n := range []int{16, 60} {
		b.Run(map[int]string{16: "sections=16", 60: "sections=60"}[n], func(b *testing.B) {
			sides := equalSides(n, 12*measure.Foot)
			piers := piersOf(rand.New(rand.NewSource(1)), sides, 2*measure.Millimetre)
			piers[4].X += 5 * measure.Inch
			for b.Loop() {
				if _, err := Close(piers, sides, Allowance{Seat: measure.Inch / 2, Play: measure.Inch / 16}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
