package measure_test

import (
	"encoding"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
)

var directions = []measure.Direction{measure.Down, measure.Up, measure.Nearest}

// lengths draws lengths readers accept, on marks of both systems and off them.
func lengths() *rapid.Generator[measure.Length] {
	return rapid.Custom(func(t *rapid.T) measure.Length {
		step := rapid.SampledFrom([]measure.Length{1, measure.SixtyFourthInch, measure.SixteenthInch, measure.Inch, measure.Foot, measure.Millimetre / 10, measure.Millimetre}).Draw(t, "step")
		most := min(measure.MaxLength/step, rapid.SampledFrom([]measure.Length{100, 10_000, measure.MaxLength}).Draw(t, "most"))
		return step * measure.Length(rapid.Int64Range(-int64(most), int64(most)).Draw(t, "n"))
	})
}

func TestLengthStringReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lengths().Draw(t, "l")
		back, err := measure.ParseLength(l.String(), measure.NoUnit)
		if err != nil || back != l {
			t.Fatalf("%d nm is written %s and read as %d (%v)", int64(l), l, int64(back), err)
		}
	})
}

// What In writes without ≈ is exact; with it, off by at most half of 1/64 in or
// of 0.1 mm.
func TestLengthInReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lengths().Draw(t, "l")
		for sys, step := range map[measure.System]measure.Length{measure.FeetInches: measure.SixtyFourthInch, measure.Metric: measure.Millimetre / 10} {
			text, rounded := strings.CutPrefix(l.In(sys), "≈")
			back, err := measure.ParseLength(text, measure.NoUnit)
			if rounded && l.Abs() > measure.MaxLength-step {
				return // rounded over what a reader accepts
			}
			if err != nil || rounded == (back == l) || 2*(back-l).Abs() > step {
				t.Fatalf("%d nm in %v is %s, off by %d (%v)", int64(l), sys, l.In(sys), int64(back-l), err)
			}
		}
	})
}

// Spacing, marks and words do not change what is read.
func TestSpellingsOfOneLengthAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet, in := rapid.Int64Range(0, 300_000).Draw(t, "feet"), rapid.Int64Range(0, 11).Draw(t, "in")
		num := rapid.Int64Range(0, 63).Draw(t, "num")
		want := measure.Length(feet)*measure.Foot + measure.Length(in)*measure.Inch + measure.Length(num)*measure.SixtyFourthInch
		pick := func(label string, from ...string) string { return rapid.SampledFrom(from).Draw(t, label) }
		text := fmt.Sprintf("%d%s%s%s%d%s%d%s64%s%s", feet,
			pick("gap", "", " ", "\u00a0"), pick("ft", "'", "′", "’", "ft", "FEET", "ft.", "foot"),
			pick("joint", "", " ", "-", " - ", " and "), in,
			pick("mixed", " ", "-", " and ", "  "), num, pick("slash", "/", "⁄"),
			pick("gap2", "", " ", "\u202f"), pick("inch", `"`, "″", "”", "''", "in", "in.", "Inches", ""))
		if got, err := measure.ParseLength(text, measure.NoUnit); err != nil || got != want {
			t.Fatalf("%s reads as %v (%v), want %v", text, got, err, want)
		}
	})
}

func TestRoundKeepsItsDirection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.OneOf(lengths(), rapid.Map(rapid.Int64Range(math.MinInt64/2, math.MaxInt64/2), func(v int64) measure.Length { return measure.Length(v) })).Draw(t, "l")
		mark := measure.Length(rapid.Int64Range(1, int64(measure.MaxLength)).Draw(t, "mark"))
		down, up, near := l.Round(mark, measure.Down), l.Round(mark, measure.Up), l.Round(mark, measure.Nearest)
		if !(down <= l && l <= up && l-down < mark && up-l < mark) {
			t.Fatalf("%d between %d and %d at %d", int64(l), int64(down), int64(up), int64(mark))
		}
		if off := (near - l).Abs(); off > mark/2 || mark%2 == 0 && off == mark/2 && near.Abs() < l.Abs() {
			t.Fatalf("%d to the nearest %d is %d", int64(l), int64(mark), int64(near))
		}
		for _, d := range directions {
			r := l.Round(mark, d)
			if r%mark != 0 || r.Round(mark, d) != r || -l.Round(mark, measure.Nearest) != (-l).Round(mark, measure.Nearest) {
				t.Fatalf("%d to %d %v is %d", int64(l), int64(mark), d, int64(r))
			}
		}
		if -down != (-l).Round(mark, measure.Up) {
			t.Fatalf("down of %d is not up of its opposite", int64(l))
		}
		if n := l.DivDown(mark); measure.Length(n)*mark != down || measure.Length(l.DivUp(mark))*mark != up {
			t.Fatalf("%d holds %d of %d", int64(l), n, int64(mark))
		}
	})
}

// MulDiv and Sum against math/big.
func TestWideArithmeticAgreesWithBig(t *testing.T) {
	any64 := rapid.OneOf(rapid.Int64(), rapid.SampledFrom([]int64{math.MinInt64, math.MinInt64 + 1, -1, 0, 1, math.MaxInt64}), rapid.Int64Range(-100, 100))
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := any64.Draw(t, "a"), any64.Draw(t, "b"), any64.Draw(t, "c")
		d := rapid.SampledFrom(directions).Draw(t, "d")
		got, ok := measure.MulDiv(a, b, c, d)
		want, wantOK := bigMulDiv(a, b, c, d)
		if ok != wantOK || got != want {
			t.Fatalf("%d·%d/%d %v is %d %v, want %d %v", a, b, c, d, got, ok, want, wantOK)
		}
		terms := rapid.SliceOf(any64).Draw(t, "terms")
		sum := new(big.Int)
		for _, v := range terms {
			sum.Add(sum, big.NewInt(v))
		}
		total := measure.Sum(terms...)
		switch {
		case sum.IsInt64() && sum.Int64() != total,
			!sum.IsInt64() && sum.Sign() > 0 && total != math.MaxInt64,
			!sum.IsInt64() && sum.Sign() < 0 && total != math.MinInt64:
			t.Fatalf("sum of %v is %d, want %v", terms, total, sum)
		}
	})
}

func bigMulDiv(a, b, c int64, d measure.Direction) (int64, bool) {
	if c == 0 {
		return 0, false
	}
	x := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(a), big.NewInt(b)), big.NewInt(c))
	floor := func(x *big.Rat) *big.Int { return new(big.Int).Div(x.Num(), x.Denom()) } // Euclidean, denominator positive
	var q *big.Int
	switch half := big.NewRat(1, 2); {
	case d == measure.Down:
		q = floor(x)
	case d == measure.Up:
		q = new(big.Int).Neg(floor(x.Neg(x)))
	case x.Sign() < 0:
		q = new(big.Int).Neg(floor(x.Add(x.Neg(x), half)))
	default:
		q = floor(x.Add(x, half))
	}
	if !q.IsInt64() {
		return 0, false
	}
	return q.Int64(), true
}

// Every other quantity reads back from its String and its marshalled form, over
// all it accepts.
func TestQuantityStringsReadBack(t *testing.T) {
	readsBack(t, "mass", measure.MaxMass, measure.Pound/10, measure.ParseMass)
	readsBack(t, "mass per length", measure.MaxMassPerLength, measure.KilogramPerMetre, measure.ParseMassPerLength)
	readsBack(t, "density", measure.MaxDensity, measure.KilogramPerCubicMetre, measure.ParseDensity)
	readsBack(t, "area", measure.MaxArea, measure.SquareInch, measure.ParseArea)
	readsBack(t, "volume", measure.MaxVolume, measure.CubicInch, measure.ParseVolume)
	readsBack(t, "force", measure.MaxForce, measure.Newton, measure.ParseForce)
	readsBack(t, "angle", measure.MaxAngle, measure.Degree/8, measure.ParseAngle)
}

func readsBack[T interface {
	~int64
	fmt.Stringer
	encoding.TextMarshaler
	In(measure.System) string
}](t *testing.T, name string, most, step T, parse func(string) (T, error)) {
	t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
		size := rapid.SampledFrom([]T{1, step}).Draw(t, "size")
		limit := min(most/size, rapid.SampledFrom([]T{100, 1_000_000, most}).Draw(t, "limit"))
		v := size * T(rapid.Int64Range(-int64(limit), int64(limit)).Draw(t, "n"))
		if back, err := parse(v.String()); err != nil || back != v {
			t.Fatalf("%d is written %s and read as %d (%v)", int64(v), v, int64(back), err)
		}
		if text, err := v.MarshalText(); err != nil || string(text) != v.String() {
			t.Fatalf("%d is kept as %s (%v)", int64(v), text, err)
		}
		for _, sys := range []measure.System{measure.FeetInches, measure.Metric} {
			text, rounded := strings.CutPrefix(v.In(sys), "≈")
			back, err := parse(text)
			if !rounded && (err != nil || back != v) {
				t.Fatalf("%d in %v is %s, read as %d (%v)", int64(v), sys, text, int64(back), err)
			}
			if rounded && err == nil && back == v {
				t.Fatalf("%d in %v is marked as rounded but exact: %s", int64(v), sys, text)
			}
		}
	}))
	if _, err := (most + 1).MarshalText(); err == nil {
		t.Errorf("%s over its limit was written", name)
	}
	for _, v := range []T{math.MaxInt64, math.MinInt64} { // must not panic
		if v.String() == "" || v.In(measure.FeetInches) == "≈" || v.In(measure.Metric) == "≈" {
			t.Errorf("%s at its limit is written as nothing", name)
		}
	}
}

func TestSlopeStringReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rise, run := lengths().Draw(t, "rise"), lengths().Filter(func(l measure.Length) bool { return l > 0 }).Draw(t, "run")
		s := measure.Slope{Rise: rise, Run: rapid.SampledFrom([]measure.Length{run, measure.Metre, 100 * measure.Millimetre, measure.Foot}).Draw(t, "kind")}
		if back, err := measure.ParseSlope(s.String()); err != nil || back != s {
			t.Fatalf("%d over %d is written %s and read as %v (%v)", int64(s.Rise), int64(s.Run), s, back, err)
		}
	})
}

func TestAngleSurvivesSlopeAndRadians(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenth := measure.Angle(rapid.Int64Range(-890, 890).Draw(t, "tenths")) * measure.Degree / 10
		s, err := measure.SlopeFromAngle(tenth)
		if err != nil {
			t.Fatal(err)
		}
		if off := s.Angle() - tenth; off > 30 || off < -30 { // 3·10^-8°
			t.Fatalf("%v comes back as %v", tenth, s.Angle())
		}
		if s.String() != tenth.String() {
			t.Fatalf("%v is written %v", tenth, s)
		}
		if a, err := measure.AngleFromRadians(tenth.Radians()); err != nil || a != tenth {
			t.Fatalf("%v through radians is %v (%v)", tenth, a, err)
		}
	})
}

func TestLeastAndGreatest(t *testing.T) {
	if got := measure.Min(3*measure.Inch, measure.Foot, -measure.Inch); got != -measure.Inch {
		t.Errorf("least is %v", got)
	}
	if got := measure.Max(3*measure.Pound, measure.Kilogram); got != 3*measure.Pound {
		t.Errorf("greatest is %v", got)
	}
	if got := measure.Sum[measure.Length](); got != 0 {
		t.Errorf("sum of none is %v", got)
	}
}
