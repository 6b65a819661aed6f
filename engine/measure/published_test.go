package measure_test

import (
	"math/big"
	"testing"

	"stallwright/engine/measure"
)

// The factors against NIST Special Publication 811 (2008), Appendix B.8, where a
// factor in bold is exact and any other is rounded to the digits given. "seen at
// second hand" rows were read in a copy of the table, not in NIST's own
// text; the others are from memory.
func TestFactorsAgreeWithSP811(t *testing.T) {
	const secondHand, memory = "seen at second hand", "from memory"
	length := func(s string) (int64, error) {
		v, err := measure.ParseLength(s, measure.NoUnit)
		return int64(v), err
	}
	mass := func(s string) (int64, error) { v, err := measure.ParseMass(s); return int64(v), err }
	area := func(s string) (int64, error) { v, err := measure.ParseArea(s); return int64(v), err }
	volume := func(s string) (int64, error) { v, err := measure.ParseVolume(s); return int64(v), err }
	force := func(s string) (int64, error) { v, err := measure.ParseForce(s); return int64(v), err }
	density := func(s string) (int64, error) { v, err := measure.ParseDensity(s); return int64(v), err }
	linear := func(s string) (int64, error) { v, err := measure.ParseMassPerLength(s); return int64(v), err }

	for _, c := range []struct {
		text  string
		read  func(string) (int64, error)
		perSI int64  // our base units in the SI unit of the table
		value string // as printed
		half  string // half a unit of the last digit printed; empty when exact
		note  string
	}{
		{"1 in", length, int64(measure.Metre), "2.54e-2", "", secondHand},
		{"1 ft", length, int64(measure.Metre), "3.048e-1", "", secondHand},
		{"3 ft", length, int64(measure.Metre), "9.144e-1", "", secondHand + " (yard)"},
		{"1 micron", length, int64(measure.Metre), "1.0e-6", "", secondHand},
		{"1 oz", mass, int64(measure.Kilogram), "2.834952e-2", "0.0000005e-2", secondHand},
		{"1 lb", mass, int64(measure.Kilogram), "4.535924e-1", "0.0000005e-1", secondHand},
		{"1 lb", mass, int64(measure.Kilogram), "4.5359237e-1", "", secondHand + " (footnote 22)"},
		{"1 t", mass, int64(measure.Kilogram), "1.0e3", "", secondHand},
		{"1 in2", area, int64(measure.SquareMetre), "6.4516e-4", "", secondHand},
		{"1 ft2", area, int64(measure.SquareMetre), "9.290304e-2", "", secondHand},
		{"1 yd2", area, int64(measure.SquareMetre), "8.361274e-1", "0.0000005e-1", secondHand},
		{"1 in3", volume, int64(measure.CubicMetre), "1.638706e-5", "0.0000005e-5", secondHand},
		{"1 in3", volume, int64(measure.CubicMetre), "1.6387064e-5", "", secondHand + " (footnote 13)"},
		{"1 ft3", volume, int64(measure.CubicMetre), "2.831685e-2", "0.0000005e-2", secondHand},
		{"1 litre", volume, int64(measure.CubicMetre), "1.0e-3", "", secondHand},
		{"1 yd3", volume, int64(measure.CubicMetre), "7.645549e-1", "0.0000005e-1", memory},
		{"1 bd ft", volume, int64(measure.CubicMetre), "2.359737e-3", "0.0000005e-3", memory},
		{"1 lbf", force, int64(measure.Newton), "4.448222", "0.0000005", memory},
		{"10000000 lbf", force, int64(measure.Newton), "4.4482216152605e7", "", secondHand + " (footnote 23)"},
		{"1 kip", force, int64(measure.Newton), "4.448222e3", "0.0000005e3", memory},
		{"1 lb/ft3", density, int64(measure.KilogramPerCubicMetre), "1.601846e1", "0.0000005e1", memory},
		{"1 lb/ft", linear, int64(measure.KilogramPerMetre), "1.488164", "0.0000005", memory},
	} {
		got, err := c.read(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		want := rat(c.value)
		diff := new(big.Rat).SetFrac64(got, c.perSI)
		diff.Abs(diff.Sub(diff, want))
		if c.half == "" && diff.Sign() != 0 || c.half != "" && diff.Cmp(rat(c.half)) > 0 {
			t.Errorf("%s reads as %d base units, published %s SI units (%s)", c.text, got, c.value, c.note)
		}
	}
}

func rat(s string) *big.Rat {
	v, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("bad number in test: " + s)
	}
	return v
}

// NIST SP 811, Appendix B.8 (seen at second hand): 1° is 1.745 329 E-02 rad, 1'
// is 2.908 882 E-04 rad, 1" is 4.848 137 E-06 rad. A second is kept to a
// nanodegree, a part in 280 000, so it is taken a thousandfold.
func TestAnglesAgreeWithSP811(t *testing.T) {
	for _, c := range []struct {
		text            string
		want, tolerance float64
	}{
		{"1°", 1.745329e-2, 0.5e-8},
		{"1000'", 2.908882e-1, 0.5e-7},
		{"1000\"", 4.848137e-3, 0.5e-9},
	} {
		a, err := measure.ParseAngle(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if d := a.Radians() - c.want; d > c.tolerance || d < -c.tolerance {
			t.Errorf("%s is %.10g rad, published %g", c.text, a.Radians(), c.want)
		}
	}
}

// NIST Handbook 44, Appendix C, section 4, exact values (seen at second hand):
// avoirdupois ounce 28.349 523 125 g, cubic inch 16.387 064 cm³, pound
// 453.592 37 g. Section 2: 12 in = 1 ft, 3 ft = 1 yd, 144 in² = 1 ft², 1728 in³
// = 1 ft³, 27 ft³ = 1 yd³, 16 oz = 1 lb (from memory).
func TestUnitsAgreeWithHandbook44(t *testing.T) {
	eight, _ := measure.ParseMass("8 oz")
	if want := measure.Mass(8 * 28_349_523_125 / 1000); eight != want {
		t.Errorf("8 oz = %d µg, want %d", eight, want)
	}
	for _, c := range []struct {
		name      string
		got, want int64
	}{
		{"in³ in nL", int64(measure.CubicInch), 16_387_064},
		{"lb in µg", int64(measure.Pound), 453_592_370},
		{"in in a foot", int64(measure.Foot / measure.Inch), 12},
		{"ft in a yard", int64(measure.Yard / measure.Foot), 3},
		{"in² in a ft²", int64(measure.SquareFoot / measure.SquareInch), 144},
		{"in³ in a ft³", int64(measure.CubicFoot / measure.CubicInch), 1728},
		{"ft³ in a yd³", int64(measure.CubicYard / measure.CubicFoot), 27},
		{"board feet in a ft³", int64(measure.CubicFoot / measure.BoardFoot), 12},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.name, c.got, c.want)
		}
	}
}

// Weights worked from published section tables: pipe 2 Std has 1.075 in² and
// 3.65 lb/ft, at 490 lb/ft³ of steel (AISC, from memory; the section as in Mott,
// Table A16-6). 1.075/144·490 = 3.658.
func TestTubeWeightFromSectionAndDensity(t *testing.T) {
	steel, err := measure.ParseDensity("490 lb/ft3")
	if err != nil {
		t.Fatal(err)
	}
	section, err := measure.ParseArea("1.075 in2")
	if err != nil {
		t.Fatal(err)
	}
	low, _ := measure.ParseMassPerLength("3.65 lb/ft")
	high, _ := measure.ParseMassPerLength("3.66 lb/ft")
	if w := steel.PerLength(section); w < low || w > high {
		t.Errorf("2 in pipe weighs %s, published 3.65 lb/ft", w.In(measure.FeetInches))
	}
}

// A concrete pier 12 in across and 42 in deep holds 2.749 ft³ (closed form,
// π/4·1·3.5); at 150 lb/ft³ (common practice, no published source) 412 lb.
func TestConcretePierMass(t *testing.T) {
	section, err := measure.ParseArea("113.0973355 in2") // π·6²
	if err != nil {
		t.Fatal(err)
	}
	pier, err := section.Times(42 * measure.Inch)
	if err != nil {
		t.Fatal(err)
	}
	if got := pier.In(measure.FeetInches); got != "≈2.75 ft³" {
		t.Errorf("pier holds %s, want ≈2.75 ft³", got)
	}
	concrete, _ := measure.ParseDensity("150 lb/ft3")
	if got := concrete.Of(pier).In(measure.FeetInches); got != "≈412.33 lb" { // 150·2.748894
		t.Errorf("pier weighs %s, want ≈412.33 lb", got)
	}
}
