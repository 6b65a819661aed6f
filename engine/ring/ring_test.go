package ring

import (
	"math"
	"math/cmplx"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/measure"

	"gonum.org/v1/gonum/mat"
)

func feet(f float64) measure.Length { return measure.Length(math.Round(f * float64(measure.Foot))) }

func equalSides(n int, l measure.Length) []measure.Length {
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = l
	}
	return out
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, within)
	}
}

// Closed forms: 20 sides on a 30 ft radius have chords of 2·30·sin 9° =
// 9.386 ft; 16 sides of 12 ft lie on R = 6/sin 11.25° = 30.755 ft. A cyclic
// quadrilateral of sides 7, 15, 20, 24 has R = 12.5 and area 234 (Brahmagupta's
// formula). Computed.
func TestPinCircle(t *testing.T) {
	side, err := RegularSide(feet(60), PinCircle, 20, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "chord, ft", float64(side)/float64(measure.Foot), 60*math.Sin(math.Pi/20), 1e-8)
	near(t, "chord, ft", float64(side)/float64(measure.Foot), 9.386, 5e-4)
	r, err := Radius(equalSides(16, 12*measure.Foot))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "radius, ft", float64(r)/float64(measure.Foot), 30.755, 5e-4)
	quad := []measure.Length{7 * measure.Foot, 15 * measure.Foot, 20 * measure.Foot, 24 * measure.Foot}
	r, err = Radius(quad)
	if err != nil || r != feet(12.5) {
		t.Errorf("radius %v, %v; want 12' 6\"", r, err)
	}
	p, err := Layout(Spec{Sides: quad})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area, sq ft", area(p), 234, 1e-6)
}

// area is the shoelace area of the pins in square feet.
func area(p Plan) float64 {
	sum := 0.0
	for i, a := range p.Piers {
		b := p.Piers[(i+1)%len(p.Piers)]
		sum += float64(a.X)/float64(measure.Foot)*float64(b.Y)/float64(measure.Foot) - float64(b.X)/float64(measure.Foot)*float64(a.Y)/float64(measure.Foot)
	}
	return sum / 2
}

// Brahmagupta for random cyclic quadrilaterals, the centre inside or not.
func TestRandomQuadrilateralsAgainstBrahmagupta(t *testing.T) {
	rng := rand.New(rand.NewSource(628))
	outside := 0
	for trial := 0; trial < 300; trial++ {
		var s [4]float64
		var sides []measure.Length
		sum := 0.0
		for i := range s {
			sides = append(sides, feet(2+20*rng.Float64()))
			s[i] = float64(sides[i]) / float64(measure.Foot)
			sum += s[i] / 2
		}
		product := (sum - s[0]) * (sum - s[1]) * (sum - s[2]) * (sum - s[3])
		if math.Min(math.Min(sum-s[0], sum-s[1]), math.Min(sum-s[2], sum-s[3])) < 0.5 {
			continue
		}
		p, err := Layout(Spec{Sides: sides})
		if err != nil {
			t.Fatal(err)
		}
		if c, _ := pinCircle(sides); c.outside {
			outside++
		}
		near(t, "area", area(p), math.Sqrt(product), 1e-5*math.Sqrt(product))
	}
	if outside < 10 {
		t.Errorf("only %d with the centre outside", outside)
	}
}

func TestLayoutHoldsTogether(t *testing.T) {
	sides := equalSides(14, 12*measure.Foot)
	sides[3] = 6 * measure.Foot // the gate
	sides[9] = 10 * measure.Foot
	facing := 30 * measure.Degree
	p, err := Layout(Spec{Sides: sides, Thickness: 2 * measure.Inch, Gate: 3, Facing: facing})
	if err != nil {
		t.Fatal(err)
	}
	n := len(sides)
	at := func(i int) complex128 {
		return complex(p.Piers[i%n].X.Metres(), p.Piers[i%n].Y.Metres())
	}
	for i, q := range p.Piers {
		near(t, "radius", cmplx.Abs(at(i)), p.Radius.Metres(), 2e-9)
		near(t, "chord", cmplx.Abs(at(i+1)-at(i)), q.Chord.Metres(), 3e-9)
		near(t, "skip chord", cmplx.Abs(at(i+2)-at(i)), q.Skip.Metres(), 3e-9)
		near(t, "across", cmplx.Abs(at(i+7)-at(i)), q.Opposite.Metres(), 3e-9)
		a := cmplx.Phase(at(i))
		if a < 0 {
			a += 2 * math.Pi
		}
		near(t, "angle", a, q.Angle.Radians(), 1e-9)
		if q.Chord != sides[i] {
			t.Errorf("chord %d is %v", i, q.Chord)
		}
	}
	near(t, "gate direction", cmplx.Phase(at(3)+at(4))*180/math.Pi, 30, 1e-6)
	// The nearest inner face is that of the longest section.
	apothem := math.Sqrt(p.Radius.Metres()*p.Radius.Metres()-math.Pow(feet(6).Metres(), 2)) - measure.Inch.Metres()
	near(t, "inside flats", p.InsideFlats.Metres(), 2*apothem, 3e-9)
	if p.InsideCorners <= p.InsideFlats || p.InsideCorners >= p.AcrossPins {
		t.Errorf("flats %v, corners %v, pins %v", p.InsideFlats, p.InsideCorners, p.AcrossPins)
	}
}

// What is asked for on each basis is what the layout then has.
func TestAskedDiameterComesBack(t *testing.T) {
	for _, on := range []Basis{PinCircle, InsideFlats, InsideCorners} {
		side, err := RegularSide(feet(60), on, 16, 3*measure.Inch)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Layout(Spec{Sides: equalSides(16, side), Thickness: 3 * measure.Inch})
		if err != nil {
			t.Fatal(err)
		}
		got := map[Basis]measure.Length{PinCircle: p.AcrossPins, InsideFlats: p.InsideFlats, InsideCorners: p.InsideCorners}[on]
		near(t, on.String(), got.Metres(), feet(60).Metres(), 2e-8)
	}
}

func TestImpossibleRingsAreRefused(t *testing.T) {
	for _, c := range []struct {
		sides []measure.Length
		want  string
	}{
		{equalSides(2, measure.Foot), "at least three"},
		{[]measure.Length{measure.Foot, measure.Foot, 2 * measure.Foot}, "cannot close: section 3"},
		{[]measure.Length{measure.Foot, 0, measure.Foot}, "section 2"},
		{[]measure.Length{10 * measure.Metre, 10 * measure.Metre, 20*measure.Metre - 1}, "all but flat"},
	} {
		if _, err := Layout(Spec{Sides: c.sides}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.sides, err, c.want)
		}
	}
	if _, err := Layout(Spec{Sides: equalSides(5, measure.Foot), Gate: 5}); err == nil {
		t.Error("a gate beyond the last section is taken")
	}
	if _, err := RegularSide(0, PinCircle, 12, 0); err == nil {
		t.Error("a ring of no size is taken")
	}
	if _, err := Close(make([]Place, 3), equalSides(4, measure.Foot), Allowance{}); err == nil || !strings.Contains(err.Error(), "3 piers for 4 sections") {
		t.Error(err)
	}
	if _, err := Close(make([]Place, 4), equalSides(4, measure.Foot), Allowance{}); err == nil || !strings.Contains(err.Error(), "same place") {
		t.Error(err)
	}
}

// piersOf are a layout's piers, each disturbed by up to spread.
func piersOf(rng *rand.Rand, sides []measure.Length, spread measure.Length) []Place {
	p, err := Layout(Spec{Sides: sides})
	if err != nil {
		panic(err)
	}
	var out []Place
	for _, q := range p.Piers {
		d := func() measure.Length { return measure.Length((2*rng.Float64() - 1) * float64(spread)) }
		out = append(out, Place{q.X + d() + 5*measure.Metre, q.Y + d() - 3*measure.Metre})
	}
	return out
}

// The closing error against rigid-body motion worked out apart: each section is
// a body whose frame is carried along the chain as a 3×3 homogeneous matrix
// (gonum), turned at each pin by the angle to the next pier seen in that frame.
func TestClosingErrorAgainstRigidBodies(t *testing.T) {
	rng := rand.New(rand.NewSource(31))
	for trial := 0; trial < 100; trial++ {
		n := 8 + rng.Intn(20)
		sides := equalSides(n, 10*measure.Foot)
		sides[rng.Intn(n)] = 6 * measure.Foot
		piers := piersOf(rng, sides, 40*measure.Millimetre)
		c, err := Close(piers, sides, Allowance{Seat: measure.Metre})
		if err != nil {
			t.Fatal(err)
		}
		frame := mat.NewDense(3, 3, []float64{1, 0, piers[0].X.Metres(), 0, 1, piers[0].Y.Metres(), 0, 0, 1})
		for i := range sides {
			p := piers[(i+1)%n]
			var inverse, local mat.Dense
			if err := inverse.Inverse(frame); err != nil {
				t.Fatal(err)
			}
			local.Mul(&inverse, mat.NewDense(3, 1, []float64{p.X.Metres(), p.Y.Metres(), 1}))
			a := math.Atan2(local.At(1, 0), local.At(0, 0))
			turn := mat.NewDense(3, 3, []float64{math.Cos(a), -math.Sin(a), 0, math.Sin(a), math.Cos(a), 0, 0, 0, 1})
			slide := mat.NewDense(3, 3, []float64{1, 0, sides[i].Metres(), 0, 1, 0, 0, 0, 1})
			var next mat.Dense
			next.Product(frame, turn, slide)
			frame.Copy(&next)
		}
		near(t, "end x", c.EndX.Metres(), frame.At(0, 2)-piers[0].X.Metres(), 2e-9)
		near(t, "end y", c.EndY.Metres(), frame.At(1, 2)-piers[0].Y.Metres(), 2e-9)
		near(t, "end", c.End.Metres(), math.Hypot(frame.At(0, 2)-piers[0].X.Metres(), frame.At(1, 2)-piers[0].Y.Metres()), 2e-9)
	}
}

// The chain pulled together against Lagrange's equations solved apart: Newton's
// method on the full system of pins and multipliers, dense, with the
// constraints' second derivatives (gonum LU).
func TestClosedChainAgainstLagrange(t *testing.T) {
	rng := rand.New(rand.NewSource(32))
	for trial := 0; trial < 40; trial++ {
		n := 6 + rng.Intn(16)
		sides := equalSides(n, 12*measure.Foot)
		sides[0] = 5 * measure.Foot
		piers := piersOf(rng, sides, 25*measure.Millimetre)
		c, err := Close(piers, sides, Allowance{Seat: measure.Metre})
		if err != nil || !c.Fits {
			t.Fatal(err, c.Sentences)
		}
		want := lagrange(piers, sides)
		for i, p := range c.Pins {
			near(t, "pin x", p.X.Metres(), want[2*i], 5e-9)
			near(t, "pin y", p.Y.Metres(), want[2*i+1], 5e-9)
			q := c.Pins[(i+1)%n]
			near(t, "side", math.Hypot((q.X-p.X).Metres(), (q.Y-p.Y).Metres()), sides[i].Metres(), 5e-9)
		}
	}
}

// lagrange minimises ½Σ|q−p|² under ½(|q_{i+1}−q_i|² − s_i²) = 0.
func lagrange(piers []Place, sides []measure.Length) []float64 {
	n := len(piers)
	z := make([]float64, 3*n)
	p := make([]float64, 2*n)
	for i := range piers {
		p[2*i], p[2*i+1] = piers[i].X.Metres(), piers[i].Y.Metres()
	}
	copy(z, p)
	for step := 0; step < 30; step++ {
		j, f := mat.NewDense(3*n, 3*n, nil), mat.NewVecDense(3*n, nil)
		for c := 0; c < 2*n; c++ {
			f.SetVec(c, z[c]-p[c])
			j.Set(c, c, 1)
		}
		for i := 0; i < n; i++ {
			k, m := (i+1)%n, z[2*n+i]
			length := -math.Pow(sides[i].Metres(), 2) / 2
			for a := 0; a < 2; a++ {
				d := z[2*k+a] - z[2*i+a]
				length += d * d / 2
				f.SetVec(2*k+a, f.AtVec(2*k+a)+m*d)
				f.SetVec(2*i+a, f.AtVec(2*i+a)-m*d)
				for _, x := range [][3]float64{{1, 1, m}, {0, 0, m}, {1, 0, -m}, {0, 1, -m}} {
					r, c := 2*[]int{i, k}[int(x[0])]+a, 2*[]int{i, k}[int(x[1])]+a
					j.Set(r, c, j.At(r, c)+x[2])
				}
				j.Set(2*n+i, 2*k+a, d)
				j.Set(2*n+i, 2*i+a, -d)
				j.Set(2*k+a, 2*n+i, d)
				j.Set(2*i+a, 2*n+i, -d)
			}
			f.SetVec(2*n+i, length)
		}
		var dz mat.VecDense
		if err := dz.SolveVec(j, f); err != nil {
			panic(err)
		}
		for c := range z {
			z[c] -= dz.AtVec(c)
		}
	}
	return z[:2*n]
}

// One pier set wrong must be the one to move, to where the layout had it, and
// after the move the ring must close. Now and then its neighbour can be moved
// instead (the two sections between their neighbours form a linkage with two
// closings); then both must be offered.
func TestThePierSetWrongIsTheOneToMove(t *testing.T) {
	rng := rand.New(rand.NewSource(33))
	first := 0
	const trials = 60
	for trial := 0; trial < trials; trial++ {
		n := 10 + rng.Intn(11)
		sides := equalSides(n, 10*measure.Foot)
		piers := piersOf(rng, sides, 2*measure.Millimetre)
		k := rng.Intn(n)
		right := piers[k]
		a := 2 * math.Pi * rng.Float64()
		off := 60 + 60*rng.Float64()
		piers[k].X += measure.Length(off * math.Cos(a) * 1e6)
		piers[k].Y += measure.Length(off * math.Sin(a) * 1e6)
		allow := Allowance{Seat: 13 * measure.Millimetre}
		c, err := Close(piers, sides, allow)
		if err != nil {
			t.Fatal(err)
		}
		if c.Fits || len(c.Moves) != 1 {
			t.Fatalf("trial %d: fits %v, moves %+v", trial, c.Fits, c.Moves)
		}
		if c.Moves[0].Pier == k {
			first++
		}
		offered := false
		for _, m := range append(c.Moves, c.Instead...) {
			near(t, "outward and sideways make the move", math.Hypot(m.Outward.Metres(), m.Sideways.Metres()), m.By.Metres(), 2e-9)
			if m.Pier == k {
				offered = true
				if d := math.Hypot((m.To.X - right.X).Metres(), (m.To.Y - right.Y).Metres()); d > 0.03 {
					t.Errorf("trial %d: sent %.0f mm from where it belongs", trial, 1e3*d)
				}
			}
			moved := append([]Place(nil), piers...)
			moved[m.Pier] = m.To
			if c, _ := Close(moved, sides, allow); !c.Fits || len(c.Moves) > 0 {
				t.Errorf("trial %d: after moving pier %d: %v", trial, m.Pier+1, c.Sentences)
			}
		}
		if !offered {
			t.Errorf("trial %d: pier %d is %.0f mm off but %+v, %+v are offered", trial, k, off, c.Moves, c.Instead)
		}
	}
	if first < trials*9/10 {
		t.Errorf("the pier set wrong came first in %d of %d", first, trials)
	}
}

func TestPlayTakesUpWhatItCan(t *testing.T) {
	sides := equalSides(16, 12*measure.Foot)
	piers := piersOf(rand.New(rand.NewSource(1)), equalSides(16, 12*measure.Foot+measure.Inch/16), 0)
	tight, err := Close(piers, sides, Allowance{Seat: measure.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	loose, err := Close(piers, sides, Allowance{Seat: measure.Millimetre, Play: measure.Inch / 16})
	if err != nil {
		t.Fatal(err)
	}
	if tight.Fits || !loose.Fits || loose.Off[loose.Worst] > 10 {
		t.Errorf("tight %v, with play %v", tight.Sentences, loose.Sentences)
	}
	if d := tight.Sum - measure.Inch; d.Abs() > 50 || loose.TakeUp != measure.Inch {
		t.Errorf("sum %v, take-up %v, want 1 in each", tight.Sum, loose.TakeUp)
	}
	// Every pier is 1/16 in over: R is off by Δs/(2·sin(π/16)).
	near(t, "off its pier", tight.Off[3].Metres(), measure.Inch.Metres()/16/2/math.Sin(math.Pi/16), 1e-8)
}
