package survey

import (
	"math"
	"testing"

	"stallwright/engine/measure"
)

func metre(m float64) measure.Length { return measure.Length(math.Round(m * 1e9)) }
func foot(f float64) measure.Length {
	return measure.Length(math.Round(f * float64(measure.Foot)))
}

// equal is a precision the same for every length.
func equal(l measure.Length) Options { return Options{Tape: Precision{Fixed: l}} }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.6f, want %.6f ± %g", what, got, want, within)
	}
}

// Two braced quadrilaterals with one spare distance each.
//
// The first: input from Zaki et al., ISPRS XVII Congress, Part B3 (1992), seen;
// corrections computed from the plane condition, not printed there. The
// second: input from a textbook example 3.3 known at second hand; corrections
// computed two ways outside this project.
func TestBracedQuadrilaterals(t *testing.T) {
	type side struct {
		from, to          string
		length, corrected float64
	}
	for _, c := range []struct {
		name  string
		drawn []Point
		sides []side
	}{
		{"Zaki", []Point{
			{Name: "A"}, {Name: "B", X: metre(1341)}, {Name: "C", X: metre(-800), Y: metre(1765)}, {Name: "D", X: metre(681), Y: metre(2064)},
		}, []side{
			{"A", "B", 1341.785, -.0035}, {"B", "C", 2775.364, +.0062}, {"B", "D", 2167.437, -.0041},
			{"A", "C", 1937.887, -.0049}, {"A", "D", 2173.715, +.0047}, {"C", "D", 1511.014, -.0028},
		}},
		{"textbook", []Point{
			{Name: "A"}, {Name: "B", X: metre(1525)}, {Name: "C", X: metre(2300), Y: metre(2034)}, {Name: "D", X: metre(630), Y: metre(2317)},
		}, []side{
			{"A", "B", 1525.456, +.0810}, {"B", "C", 2176.945, +.1128}, {"C", "D", 1697.435, +.0672},
			{"A", "D", 2401.435, +.0975}, {"A", "C", 3073.845, -.1422}, {"B", "D", 2483.115, -.1129},
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := Network{Points: c.drawn}
			for _, s := range c.sides {
				net.Readings = append(net.Readings, Reading{Kind: Distance, Posts: []string{s.from, s.to}, Value: metre(s.length)})
			}
			r := Adjust(net, equal(100*measure.Millimetre))
			if len(r.Problems) > 0 || r.Test.Redundancy != 1 {
				t.Fatalf("problems %v, redundancy %d", r.Problems, r.Test.Redundancy)
			}
			sum := 0.0
			for i, s := range c.sides {
				near(t, r.Readings[i].Name+" correction", r.Readings[i].Residual.Metres(), s.corrected, 6e-5)
				sum += r.Readings[i].Redundancy
			}
			near(t, "sum of redundancy numbers", sum, 1, 1e-9)
		})
	}
}

// A point fixed by three distances: Ghilani, Adjustment Computations, known at
// second hand and from memory; the position computed outside this project.
func TestTrilateration(t *testing.T) {
	net := Network{
		Points: []Point{
			{Name: "A", X: metre(865.40), Y: metre(4527.15), Fixed: true},
			{Name: "B", X: metre(2432.55), Y: metre(2047.25), Fixed: true},
			{Name: "C", X: metre(2865.22), Y: metre(27.15), Fixed: true},
			{Name: "U", X: metre(6800), Y: metre(3700)},
		},
		Readings: []Reading{
			{Kind: Distance, Posts: []string{"A", "U"}, Value: metre(6049.00)},
			{Kind: Distance, Posts: []string{"B", "U"}, Value: metre(4736.83)},
			{Kind: Distance, Posts: []string{"C", "U"}, Value: metre(5446.49)},
		},
	}
	r := Adjust(net, equal(measure.Metre))
	near(t, "x of U", r.Points[3].X.Metres(), 6861.317, 1e-3)
	near(t, "y of U", r.Points[3].Y.Metres(), 3727.819, 1e-3)
}

// The level circuit of J. Mahun, Open Access Surveying Library, Least Squares
// Lite, chapters D (equal weights) and E (weights by set-ups). Seen: height
// differences, adjusted heights, standard deviations, S₀ and adjusted
// differences. Benchmark heights follow from the adjusted differences printed.
// Worked by hand the equal-weight S₀ is .02905; the .028 printed there, and the
// .014 that follows, leave out the residual of the last line. Its weighted
// heights carry a rounding of .001. The tolerances allow for both.
// Each line of levels is one set-up here, its difference the back reading less
// the fore reading, half of the line's variance in each.
func TestLevelCircuit(t *testing.T) {
	type line struct {
		from, to     string
		rise         float64
		setUps       float64
		equal, sigma float64 // adjusted difference and its standard deviation, equal weights
	}
	lines := []line{
		{"BMA", "Q", 8.91, 3, 8.898, .013}, {"BMB", "Q", -2.92, 2, -2.902, .013}, {"BMC", "Q", -4.67, 1, -4.702, .013},
		{"BMD", "Q", -8.66, 3, -8.622, .013}, {"BMA", "R", -3.56, 3, -3.558, .014}, {"BMC", "R", -17.12, 4, -17.158, .014},
		{"BMD", "R", -21.10, 2, -21.078, .014}, {"Q", "R", -12.47, 3, -12.456, .017},
	}
	for _, c := range []struct {
		name                  string
		weighted              bool
		q, qs, r, rs, s0      float64
		within, spreadsWithin float64
	}{
		{"equal", false, 815.418, .013, 802.962, .014, .028, 6e-4, 1.1e-3},
		{"by set-ups", true, 815.424, .012, 802.958, .016, .067, 1.3e-3, 6e-4},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := LevelNetwork{Points: []Mark{
				{Name: "BMA", Height: foot(806.52), Fixed: true}, {Name: "BMB", Height: foot(818.32), Fixed: true},
				{Name: "BMC", Height: foot(820.12), Fixed: true}, {Name: "BMD", Height: foot(824.04), Fixed: true},
				{Name: "Q"}, {Name: "R"},
			}}
			const unit = 0.1 // ft, standard deviation of unit weight
			for i, l := range lines {
				s := unit
				if c.weighted {
					s = unit * math.Sqrt(l.setUps/12)
				}
				s /= math.Sqrt2
				setUp := string(rune('1' + i))
				net.Readings = append(net.Readings,
					LevelReading{SetUp: setUp, Point: l.from, Value: foot(30), Sigma: foot(s)},
					LevelReading{SetUp: setUp, Point: l.to, Value: foot(30 - l.rise), Sigma: foot(s)})
			}
			r := AdjustLevels(net, Options{})
			ft := func(l measure.Length) float64 { return float64(l) / float64(measure.Foot) }
			near(t, "Q", ft(r.Points[4].Height), c.q, c.within)
			near(t, "R", ft(r.Points[5].Height), c.r, c.within)
			if r.Test.Redundancy != 6 {
				t.Errorf("redundancy %d, want 8 − 2", r.Test.Redundancy)
			}
			// Printed standard deviations are scaled by S₀.
			s0 := unit * math.Sqrt(r.Test.VarianceFactor)
			near(t, "S₀", s0, c.s0, c.spreadsWithin)
			scale := math.Sqrt(r.Test.VarianceFactor)
			near(t, "σ of Q", ft(r.Points[4].Sigma)*scale, c.qs, c.spreadsWithin)
			near(t, "σ of R", ft(r.Points[5].Sigma)*scale, c.rs, c.spreadsWithin)
			if c.weighted {
				return
			}
			for i, l := range lines {
				a, b := r.Readings[2*i], r.Readings[2*i+1]
				near(t, l.from+"–"+l.to, ft(a.Adjusted-b.Adjusted), l.equal, 6e-4)
			}
		})
	}
}

// The levelling network between benchmarks X and Y that P. R. Wolf and C. D.
// Ghilani work in Elementary Surveying and Adjustment Computations (unit
// weights): input and adjusted heights from memory, the heights reworked by
// hand from the three normal equations 3A − B = 210.94, −A + 3B − C = 102.12,
// −B + 3C = 214.08.
func TestLevelNetworkBetweenTwoBenchmarks(t *testing.T) {
	net := LevelNetwork{Points: []Mark{
		{Name: "X", Height: foot(100), Fixed: true}, {Name: "Y", Height: foot(107.5), Fixed: true}, {Name: "A"}, {Name: "B"}, {Name: "C"},
	}}
	for i, l := range []struct {
		from, to string
		rise     float64
	}{{"X", "A", 5.10}, {"A", "Y", 2.34}, {"Y", "C", -1.25}, {"C", "X", -6.13}, {"A", "B", -.68}, {"Y", "B", -3}, {"B", "C", 1.70}} {
		setUp := string(rune('a' + i))
		net.Readings = append(net.Readings,
			LevelReading{SetUp: setUp, Point: l.from, Value: foot(8), Sigma: foot(.05)},
			LevelReading{SetUp: setUp, Point: l.to, Value: foot(8 - l.rise), Sigma: foot(.05)})
	}
	r := AdjustLevels(net, Options{})
	for i, want := range []float64{105.141, 104.483, 106.188} {
		near(t, r.Points[2+i].Name, float64(r.Points[2+i].Height)/float64(measure.Foot), want, 6e-4)
	}
	if r.Test.Redundancy != 4 || len(r.Loops) != 3 {
		t.Errorf("redundancy %d and %d loops; want 7 − 3 = 4 and 3", r.Test.Redundancy, len(r.Loops))
	}
}

// cos θ = (d₁² − d₂²)/(4ab): a 12 ft bay whose diagonals differ by 1 in leans
// .707 in over its height (computed from the closed form).
func TestUnequalDiagonalsLean(t *testing.T) {
	side := 12 * measure.Foot
	d := math.Sqrt(2) * side.Metres()
	half := measure.Inch.Metres() / 2
	net := Network{
		Points: []Point{{Name: "A"}, {Name: "B", X: side}, {Name: "C", X: side, Y: side}, {Name: "D", Y: side}},
		Datum:  Datum{Origin: "A", Toward: "B"},
		Readings: []Reading{
			{Kind: Distance, Posts: []string{"A", "B"}, Value: side}, {Kind: Distance, Posts: []string{"B", "C"}, Value: side},
			{Kind: Distance, Posts: []string{"C", "D"}, Value: side}, {Kind: Distance, Posts: []string{"D", "A"}, Value: side},
			{Kind: Diagonal, Posts: []string{"A", "C"}, Value: toLength(d + half)}, {Kind: Diagonal, Posts: []string{"B", "D"}, Value: toLength(d - half)},
		},
	}
	r := Adjust(net, Options{})
	near(t, "lean", (r.Points[3].X - r.Points[0].X).Inches(), 0.707, 1e-3)
	near(t, "A stays", r.Points[0].X.Metres()+r.Points[0].Y.Metres(), 0, 1e-9)
	near(t, "B stays on the line", r.Points[1].Y.Metres(), 0, 1e-9)
}
