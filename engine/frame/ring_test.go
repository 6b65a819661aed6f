package frame

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
)

func solve(t *testing.T, sections []measure.Length) *Ring {
	t.Helper()
	r, err := SolveRing(sections, 0)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func equal(n int, l measure.Length) []measure.Length {
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = l
	}
	return out
}

// near compares lengths within a tolerance.
func near(t *testing.T, what string, got, want, within measure.Length) {
	t.Helper()
	if (got - want).Abs() > within {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

func metres(t *testing.T, m float64) measure.Length {
	t.Helper()
	l, err := measure.LengthFromMetres(m)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The closed form for a regular n-gon: R = L / (2 sin(π/n)), interior angle
// 180° (n − 2)/n.
func TestRegularRing(t *testing.T) {
	for n := 3; n <= 400; n++ {
		for _, l := range []measure.Length{8 * measure.Foot, 12 * measure.Foot, 3600 * measure.Millimetre} {
			r := solve(t, equal(n, l))
			near(t, "radius", r.Radius, metres(t, l.Metres()/(2*math.Sin(math.Pi/float64(n)))), 2)
			interior := measure.Angle(int64(180*measure.Degree) * int64(n-2) / int64(n))
			for i := range r.Interior {
				if d := r.Interior[i] - interior; d < -2 || d > 2 {
					t.Fatalf("%d sections: interior angle %v, want %v", n, r.Interior[i], interior)
				}
			}
			if r.Outside {
				t.Fatalf("%d equal sections: the centre is outside", n)
			}
		}
	}
}

// 20 sections around a radius of 30 ft have chords of 9.386 ft; 16 of 12 ft lie
// on a radius of 30.755 ft (closed form, three decimals of a foot).
func TestRingCheckValues(t *testing.T) {
	chord := metres(t, 9.386*0.3048)
	near(t, "radius of 20 sections", solve(t, equal(20, chord)).Radius, 30*measure.Foot, measure.Foot*16/10000)
	near(t, "radius of 16 sections", solve(t, equal(16, 12*measure.Foot)).Radius, metres(t, 30.755*0.3048), measure.Foot*5/10000)
}

// Brahmagupta's cyclic quadrilateral with sides 7, 15, 20, 24: circumradius 12.5,
// area 234, and 7-24 and 15-20 meet in right angles; the diameter 25 is a
// diagonal (7² + 24² = 15² + 20² = 25²). With the sides in the order 7, 24, 20,
// 15 the angles between 7 and 24 and between 20 and 15 are right.
func TestBrahmaguptaQuadrilateral(t *testing.T) {
	ft := measure.Foot
	for _, order := range [][]measure.Length{{7 * ft, 15 * ft, 20 * ft, 24 * ft}, {24 * ft, 7 * ft, 15 * ft, 20 * ft}, {7 * ft, 24 * ft, 20 * ft, 15 * ft}} {
		r := solve(t, order)
		near(t, "radius", r.Radius, 12*ft+ft/2, 2)
		pins := r.Pins()
		area := 0.0
		for i, p := range pins {
			q := pins[(i+1)%4]
			area += (p.X.Metres()*q.Y.Metres() - q.X.Metres()*p.Y.Metres()) / 2
		}
		if area /= 0.3048 * 0.3048; math.Abs(area-234) > 1e-6 {
			t.Errorf("area %v, want 234", area)
		}
	}
	r := solve(t, []measure.Length{7 * ft, 24 * ft, 20 * ft, 15 * ft})
	for _, i := range []int{0, 2} {
		if d := r.Interior[i] - measure.RightTurn; d < -2 || d > 2 {
			t.Errorf("angle %d: %v, want a right angle", i, r.Interior[i])
		}
	}
}

// byTurning finds the radius another way: by Newton's method in the curvature
// k = 1/R, with angles from the arc tangent, on the demand that a person who
// walks around the ring turns once. Only for rings whose centre is inside.
func byTurning(sections []measure.Length) float64 {
	longest := 0.0
	for _, l := range sections {
		longest = math.Max(longest, l.Metres())
	}
	// gap is the whole turn made by the sections, less a full one.
	gap := func(k float64) float64 {
		turn := 0.0
		for _, l := range sections {
			turn += 2 * math.Atan2(k*l.Metres()/2, math.Sqrt(math.Max(0, 1-k*k*l.Metres()*l.Metres()/4)))
		}
		return turn - 2*math.Pi
	}
	slope := func(k float64) float64 {
		s := 0.0
		for _, l := range sections {
			s += l.Metres() / math.Sqrt(math.Max(1e-18, 1-k*k*l.Metres()*l.Metres()/4))
		}
		return s
	}
	// gap grows and is convex in k, so Newton from the right end comes down to
	// the root without passing it.
	k := 2 / longest * (1 - 1e-12)
	for range 400 {
		step := gap(k) / slope(k)
		k -= step
		if math.Abs(step) < 1e-17*k {
			break
		}
	}
	return 1 / k
}

// walk lays the sections out by a ring's interior angles alone, from the origin
// toward the east, and returns where it ends and in which direction.
func walk(r *Ring) (x, y, heading float64) {
	n := len(r.Sections)
	for i, l := range r.Sections {
		x += l.Metres() * math.Cos(heading)
		y += l.Metres() * math.Sin(heading)
		heading += math.Pi - r.Interior[i%n].Radians()
	}
	return x, y, heading
}

// drawSections draws three to forty sections that close with the centre inside.
func drawSections(t *rapid.T) []measure.Length {
	n := rapid.IntRange(3, 40).Draw(t, "sections")
	lo, hi := int64(measure.Metre), int64(6*measure.Metre)
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = measure.Length(rapid.Int64Range(lo, hi).Draw(t, "length"))
	}
	return out
}

// What must hold of every ring: the pins lie on the circle, neighbours stand a
// section apart, the central angles make a full turn, the interior angles that
// of a polygon, and sections laid out by these angles close.
func TestRingProperties(t *testing.T) {
	inside := 0
	rapid.Check(t, func(t *rapid.T) {
		sections := drawSections(t)
		toward := measure.Angle(rapid.Int64Range(0, 360).Draw(t, "toward")) * measure.Degree
		r, err := SolveRing(sections, toward)
		if errors.Is(err, ErrNoRing) {
			if longest := slices.Max(sections); 2*longest < measure.Sum(sections...) {
				t.Fatalf("sections %v close, but: %v", sections, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if r.Radius > 100*measure.Sum(sections...) {
			return // all but straight, its radius ill-determined; frame refuses it as no pen
		}
		n := len(sections)
		var turn, interior measure.Angle
		pins := r.Pins()
		for i := range n {
			p, q := pins[i], pins[(i+1)%n]
			if d := distance(p, Point{}) - r.Radius; d.Abs() > 3 {
				t.Fatalf("pin %d stands %v off the circle", i, d)
			}
			// Pins are rounded to a nanometre, angles to a nanodegree: 0.02 nm in a
			// metre of radius.
			allowed := 4 + measure.Length(r.Radius.Metres()/20)
			if d := distance(p, q) - sections[i]; d.Abs() > allowed {
				t.Fatalf("section %d: pins %v apart, section %v", i, distance(p, q), sections[i])
			}
			turn, interior = turn+r.Central[i], interior+r.Interior[i]
		}
		off := measure.Angle(n)
		if d := turn - measure.FullTurn; d < -off || d > off {
			t.Fatalf("central angles add up to %v", turn)
		}
		if d := interior - measure.Angle(n-2)*180*measure.Degree; d < -off || d > off {
			t.Fatalf("interior angles add up to %v", interior)
		}
		if x, y, _ := walk(r); math.Hypot(x, y) > 1e-7*float64(n) {
			t.Fatalf("laid out by its angles the ring misses its start by %v, %v m", x, y)
		}
		// The first section faces where the gate is to face.
		mid := Point{(pins[0].X + pins[1].X) / 2, (pins[0].Y + pins[1].Y) / 2}
		if got := math.Atan2(mid.Y.Metres(), mid.X.Metres()); !r.Outside && math.Abs(math.Remainder(got-toward.Radians(), 2*math.Pi)) > 1e-6 {
			t.Fatalf("section 1 faces %v rad, want %v", got, toward)
		}
		// The mirrored order makes the mirrored ring.
		back := slices.Clone(sections)
		slices.Reverse(back)
		m, err := SolveRing(back, toward)
		allowed := 1 + r.Radius/1_000_000_000
		if r.Outside {
			allowed = r.Radius / 100_000 // flat rings are ill-determined; no pen is one
		}
		if err != nil || (m.Radius-r.Radius).Abs() > allowed || m.Outside != r.Outside {
			t.Fatalf("mirrored: radius %v, want %v (%v)", m.Radius, r.Radius, err)
		}
		if r.Outside {
			return
		}
		inside++
		if want := byTurning(sections); math.Abs(r.Radius.Metres()-want) > 1e-8*want+2e-9 {
			t.Fatalf("radius %v, by Newton %v m", r.Radius, want)
		}
	})
	if inside < 50 {
		t.Errorf("only %d rings had their centre inside", inside)
	}
}

// Random pins on a circle give sections whose ring is that circle: an answer
// known beforehand, centre inside or outside.
func TestRingFromPinsOnACircle(t *testing.T) {
	outside := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 30).Draw(t, "pins")
		radius := rapid.Float64Range(3, 30).Draw(t, "radius")
		spread := rapid.SampledFrom([]float64{2 * math.Pi, 2.5}).Draw(t, "spread")
		at := make([]float64, n)
		for i := range at {
			// Evenly spread, each moved by up to a third of a step.
			at[i] = spread * (float64(i) + rapid.Float64Range(-0.33, 0.33).Draw(t, "at")) / float64(n)
		}
		sections := make([]measure.Length, n)
		for i := range sections {
			l, err := measure.LengthFromMetres(2 * radius * math.Abs(math.Sin((at[(i+1)%n]-at[i])/2)))
			if err != nil {
				t.Fatal(err)
			}
			sections[i] = l
		}
		r, err := SolveRing(sections, 0)
		if err != nil {
			t.Fatalf("%v: %v", sections, err)
		}
		wide := false // whether some arc is over half a turn
		for i := range at {
			if d := math.Mod(at[(i+1)%n]-at[i]+4*math.Pi, 2*math.Pi); d > math.Pi {
				wide = true
			}
		}
		if wide {
			outside++
		}
		// Rounding sections to a nanometre moves the radius of a flat ring more:
		// the spread of 2.5 rad magnifies it some ten times.
		if math.Abs(r.Radius.Metres()-radius) > 1e-6*radius || r.Outside != wide {
			t.Fatalf("radius %v, want %v m; outside %v, want %v", r.Radius, radius, r.Outside, wide)
		}
	})
	if outside == 0 {
		t.Error("no ring had its centre outside")
	}
}

func TestRingsThatDoNotClose(t *testing.T) {
	ft := measure.Foot
	for _, c := range []struct {
		sections []measure.Length
		want     error
	}{
		{nil, ErrFewSections},
		{equal(2, 12*ft), ErrFewSections},
		{[]measure.Length{24 * ft, 12 * ft, 12 * ft}, ErrNoRing},
		{[]measure.Length{25 * ft, 12 * ft, 12 * ft}, ErrNoRing},
		{[]measure.Length{12 * ft, 0, 12 * ft}, nil},
		{[]measure.Length{12 * ft, -12 * ft, 12 * ft}, nil},
	} {
		_, err := SolveRing(c.sections, 0)
		if err == nil || (c.want != nil && !errors.Is(err, c.want)) {
			t.Errorf("%v: %v, want %v", c.sections, err, c.want)
		}
	}
}

// What a pen is across, by hand, for 16 sections of 12 ft: pins 12/sin(11.25°) =
// 12/0.195090322 = 61.509971 ft; flats 12/tan(11.25°) = 12/0.198912367 =
// 60.328074 ft, less a wall of 1 1/2 in; corners 61.509971 ft less an upright of
// 2 in.
func TestSizesAcross(t *testing.T) {
	r := solve(t, equal(16, 12*measure.Foot))
	near(t, "pins", r.PinCircle(), metres(t, 61.509971*0.3048), 3*measure.Micrometre)
	near(t, "flats", r.Flats(measure.Inch*3/2), metres(t, 60.328074*0.3048-0.0381), 3*measure.Micrometre)
	near(t, "corners", r.Corners(2*measure.Inch), metres(t, 61.509971*0.3048-0.0508), 3*measure.Micrometre)
}
