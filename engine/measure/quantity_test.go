package measure_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// Values in base units worked by hand from the exact factors in published_test.go.
func TestQuantitiesAreReadAndWritten(t *testing.T) {
	type value interface {
		fmt.Stringer
		In(measure.System) string
	}
	show := func(v value, err error) (string, error) {
		if err != nil {
			return "", err
		}
		return strings.Join([]string{v.String(), v.In(measure.FeetInches), v.In(measure.Metric)}, " | "), nil
	}
	mass := func(s string) (string, error) { v, err := measure.ParseMass(s); return show(v, err) }
	linear := func(s string) (string, error) { v, err := measure.ParseMassPerLength(s); return show(v, err) }
	density := func(s string) (string, error) { v, err := measure.ParseDensity(s); return show(v, err) }
	area := func(s string) (string, error) { v, err := measure.ParseArea(s); return show(v, err) }
	volume := func(s string) (string, error) { v, err := measure.ParseVolume(s); return show(v, err) }
	force := func(s string) (string, error) { v, err := measure.ParseForce(s); return show(v, err) }
	angle := func(s string) (string, error) { v, err := measure.ParseAngle(s); return show(v, err) }
	for _, c := range []struct {
		read       func(string) (string, error)
		text, want string
	}{
		{mass, "12 lb", "12 lb | 12 lb | ≈5.44 kg"},        // 5.443 108 44 kg
		{mass, "12.5 lbs", "12.5 lb | 12.5 lb | ≈5.67 kg"}, // 5.669 904 625 kg
		{mass, "12 1/2 pounds", "12.5 lb | 12.5 lb | ≈5.67 kg"},
		{mass, "12 lb 8 oz", "12.5 lb | 12.5 lb | ≈5.67 kg"},
		{mass, "12.25 lb", "12.25 lb | 12.25 lb | ≈5.56 kg"},
		{mass, "8 oz", "0.5 lb | 0.5 lb | ≈226.8 g"}, // 226.796 185 g
		{mass, "1 oz", "0.0625 lb | ≈0.06 lb | ≈28.3 g"},
		{mass, "5.4 kg", "5.4 kg | ≈11.9 lb | 5.4 kg"}, // 11.904 962 lb
		{mass, "250 g", "0.25 kg | ≈0.55 lb | 250 g"},  // 0.551 156 lb
		{mass, "-2 kg", "-2 kg | ≈-4.41 lb | -2 kg"},
		{mass, "0 kg", "0 lb | 0 lb | 0 kg"},
		{linear, "3.05 lb/ft", "3.05 lb/ft | 3.05 lb/ft | ≈4.539 kg/m"}, // 3.05·1.488 163 9
		{linear, "4.5 kg/m", "4.5 kg/m | ≈3.024 lb/ft | 4.5 kg/m"},
		{linear, "450 g per metre", "0.45 kg/m | ≈0.302 lb/ft | 0.45 kg/m"},
		{density, "35 lb/ft3", "35 lb/ft³ | 35 lb/ft³ | ≈560.6 kg/m³"}, // 35·16.018 463
		{density, "35 pounds per cubic foot", "35 lb/ft³ | 35 lb/ft³ | ≈560.6 kg/m³"},
		{density, "560 kg/m³", "560 kg/m³ | ≈34.96 lb/ft³ | 560 kg/m³"},
		{density, "7.85 g/cm^3", "7850 kg/m³ | ≈490.06 lb/ft³ | 7850 kg/m³"},
		{area, "144 ft2", "144 ft² | 144 ft² | ≈13.38 m²"}, // 13.378 037 76
		{area, "0.84 in²", "0.84 in² | 0.84 in² | ≈541.9 mm²"},
		{area, "12 sq ft", "12 ft² | 12 ft² | ≈1.11 m²"},
		{area, "13.4 square metres", "13.4 m² | ≈144.24 ft² | 13.4 m²"},
		{area, "542 mm2", "542 mm² | ≈0.84 in² | 542 mm²"},
		{volume, "2.75 cu ft", "2.75 ft³ | 2.75 ft³ | ≈77.87 L"},
		{volume, "8 board feet", "1152 in³ | 1152 in³ | ≈18.88 L"},
		{volume, "3 yd3", "81 ft³ | 81 ft³ | ≈2.294 m³"},
		{volume, "12 litres", "0.012 m³ | ≈732.28 in³ | 12 L"},
		{force, "305 lbf", "305 lbf | 305 lbf | ≈1356.7 N"}, // 1356.707 6
		{force, "1.2 kip", "1200 lbf | 1200 lbf | ≈5337.9 N"},
		{force, "45 kN", "45000 N | ≈10116.4 lbf | 45 kN"},
		{angle, "45°", "45° | 45° | 45°"},
		{angle, "22.5 degrees", "22.5° | 22.5° | 22.5°"},
		{angle, "22 1/2 deg", "22.5° | 22.5° | 22.5°"},
		{angle, `12° 30' 15"`, "12.504166667° | ≈12.5° | ≈12.5°"},
		{angle, `-0° 30′`, "-0.5° | -0.5° | -0.5°"},
	} {
		if got, err := c.read(c.text); err != nil || got != c.want {
			t.Errorf("%s is written %s (%v), want %s", c.text, got, err, c.want)
		}
	}
}

func TestQuantitiesRefuseAndSayWhy(t *testing.T) {
	mass := func(s string) error { _, err := measure.ParseMass(s); return err }
	density := func(s string) error { _, err := measure.ParseDensity(s); return err }
	volume := func(s string) error { _, err := measure.ParseVolume(s); return err }
	force := func(s string) error { _, err := measure.ParseForce(s); return err }
	angle := func(s string) error { _, err := measure.ParseAngle(s); return err }
	slope := func(s string) error { _, err := measure.ParseSlope(s); return err }
	for _, c := range []struct {
		read       func(string) error
		text, want string // want is part of the message
	}{
		{mass, "12", "unit is missing"},
		{mass, "lb", "number was expected"},
		{mass, "12 stone", "not a unit"},
		{mass, "2 tons", "2000 lb"},
		{mass, "12 lbf", "force"},
		{mass, "5 Mg", "not a unit"},
		{mass, "12,5 kg", "comma"},
		{mass, "1e3 kg", "exponent"},
		{mass, "12 lb 16 oz", "a pound or more"},
		{mass, "12.5 lb 3 oz", "part of a pound"},
		{mass, "12 lb 3 g", "ounces were expected"},
		{mass, "5 kg 3 g", "second number"},
		{mass, "1000.000001 t", "more than 1000 tonnes"},
		{mass, "99999999999999999999999999999 kg", "more than"},
		{mass, "NaN kg", "number was expected"},
		{mass, "5 6 kg", "two numbers"},
		{density, "35 lb/ft", "not a unit"},
		{volume, "3 yards", "yd3"},
		{force, "305 lb", "lbf"},
		{angle, "45", "unit of the angle"},
		{angle, "12.5° 30'", "part of a degree"},
		{angle, "12° 60'", "60 or more"},
		{angle, "30' 12°", "out of order"},
		{angle, "12° x", "something follows"},
		{slope, "4:0", "more than zero"},
		{slope, "4:-12", "more than zero"},
		{slope, "4", "not a slope"},
		{slope, "90°", "steeper than 89°"},
		{slope, `4" : 12`, "one side has a unit"},
		{slope, `2" %`, "plain number"},
		{slope, "4:x", "number was expected"},
	} {
		err := c.read(c.text)
		var e *measure.ParseError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s refused with %v, want %q", c.text, err, c.want)
		}
	}
}

func TestSlopesAreReadAndWritten(t *testing.T) {
	const in, mm = measure.Inch, measure.Millimetre
	for _, c := range []struct {
		text string
		want measure.Slope
		out  string
	}{
		{"4/12", measure.Slope{Rise: 4 * in, Run: 12 * in}, "4:12"},
		{"4:12", measure.Slope{Rise: 4 * in, Run: 12 * in}, "4:12"},
		{"4 in 12", measure.Slope{Rise: 4 * in, Run: 12 * in}, "4:12"},
		{"3 1/2 : 12", measure.Slope{Rise: 7 * in / 2, Run: 12 * in}, "3.5:12"},
		{"1/4 in 12", measure.Slope{Rise: in / 4, Run: 12 * in}, "0.25:12"},
		{"1:50", measure.Slope{Rise: in, Run: 50 * in}, "1:50"},
		{"2 %", measure.Slope{Rise: 2 * mm, Run: 100 * mm}, "2%"},
		{"-1.5%", measure.Slope{Rise: -3 * mm / 2, Run: 100 * mm}, "-1.5%"},
		{"30 mm : 1 m", measure.Slope{Rise: 30 * mm, Run: 1000 * mm}, "30 mm : 1000 mm"},
		{`1/4" : 1'`, measure.Slope{Rise: in / 4, Run: 12 * in}, "0.25:12"},
		// tan 18.4° = 0.332 655 724 3, computed apart by the sine and cosine series to 38 places
		{"18.4°", measure.Slope{Rise: 332_655_724, Run: 1000 * mm}, "18.4°"},
		{"0°", measure.Slope{Run: 1000 * mm}, "0°"},
	} {
		got, err := measure.ParseSlope(c.text)
		if err != nil || got != c.want || got.String() != c.out {
			t.Errorf("%s reads as %d over %d, %s (%v)", c.text, int64(got.Rise), int64(got.Run), got, err)
		}
	}
	// 5 in 12 is 22.62° (closed form: atan 5/12 of the 5-12-13 triangle).
	s, _ := measure.ParseSlope("5:12")
	if got := s.Angle().In(measure.Metric); got != "≈22.62°" {
		t.Errorf("5:12 is %s", got)
	}
	if rise, ok := s.Over(10*measure.Foot, measure.Up); !ok || rise != 50*measure.Inch {
		t.Errorf("5:12 rises %v in 10 ft", rise)
	}
	if _, ok := (measure.Slope{Rise: 1}).Over(1, measure.Up); ok {
		t.Error("a slope without a run gave a rise")
	}
}

func TestProductsOfLengths(t *testing.T) {
	twelve := 12 * measure.Foot
	stall, err := twelve.Times(twelve)
	if err != nil || stall != 144*measure.SquareFoot {
		t.Errorf("12 ft square is %v (%v)", stall, err)
	}
	// A nominal 2x6 12 ft long is 12 board feet (2·6·144/144).
	board, err := measure.Cuboid(2*measure.Inch, 6*measure.Inch, twelve)
	if err != nil || board.BoardFeet() != "12 bd ft" {
		t.Errorf("2x6x12 is %s (%v)", board.BoardFeet(), err)
	}
	section, _ := (2 * measure.Inch).Times(6 * measure.Inch)
	if prism, err := section.Times(twelve); err != nil || prism != board {
		t.Errorf("by section %v (%v), at once %v", prism, err, board)
	}
	if l, ok := stall.Per(twelve, measure.Up); !ok || l != twelve {
		t.Errorf("144 ft² by 12 ft is %v", l)
	}
	// 1/64 in squared is 157 509.765 625 µm², which rounds to 157 510.
	if a, err := measure.SixtyFourthInch.Times(measure.SixtyFourthInch); err != nil || a != 157_510 {
		t.Errorf("1/64 in squared is %d µm² (%v)", int64(a), err)
	}
	if _, err := measure.MaxLength.Times(measure.MaxLength); !errors.Is(err, measure.ErrOutOfRange) {
		t.Errorf("100 km squared: %v", err)
	}
	if _, err := measure.Cuboid(measure.MaxLength, measure.MaxLength, measure.Metre); !errors.Is(err, measure.ErrOutOfRange) {
		t.Errorf("100 km squared by 1 m: %v", err)
	}
	if v, err := measure.Cuboid(-1, 1_000_000, 500_000_000); err != nil || v != -1 { // half a nanolitre, away from zero
		t.Errorf("a half rounds to %d (%v)", int64(v), err)
	}
	if _, err := measure.Area(math.MaxInt64).Times(measure.MaxLength); !errors.Is(err, measure.ErrOutOfRange) {
		t.Errorf("out of range: %v", err)
	}
}

func TestMassOfEndsAtItsLimits(t *testing.T) {
	if m := measure.MassPerLength(math.MaxInt64).Of(2 * measure.Metre); m != math.MaxInt64 {
		t.Errorf("got %d", int64(m))
	}
	if m := measure.Density(math.MaxInt64).Of(-2 * measure.CubicMetre); m != math.MinInt64 {
		t.Errorf("got %d", int64(m))
	}
	tube, _ := measure.ParseMassPerLength("3.05 lb/ft")
	if got := tube.Of(20 * measure.Foot).In(measure.FeetInches); got != "61 lb" && got != "≈61 lb" {
		t.Errorf("20 ft of 3.05 lb/ft weigh %s, want 61 lb", got)
	}
	if m := measure.MaxMassPerLength.Of(measure.MaxLength); m != 1_000_000_000*measure.Kilogram {
		t.Errorf("the longest and heaviest that can be read weighs %v", m)
	}
	if m := measure.MaxDensity.Of(measure.MaxVolume); m != 1_000_000_000*measure.Kilogram {
		t.Errorf("the largest and densest that can be read weighs %v", m)
	}
}

func TestNumericsComeBackOnce(t *testing.T) {
	if l, err := measure.LengthFromMetres(3.546475); err != nil || l != elevenSevenFive {
		t.Errorf("3.546475 m is %v (%v)", l, err)
	}
	if a, err := measure.AngleFromRadians(-math.Pi / 4); err != nil || a != -45*measure.Degree {
		t.Errorf("-π/4 is %v (%v)", a, err)
	}
	if f, err := measure.ForceFromNewtons(1.5); err != nil || f != 3*measure.Newton/2 {
		t.Errorf("1.5 N is %v (%v)", f, err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		if l, err := measure.LengthFromMetres(bad); err == nil {
			t.Errorf("%g m is %v", bad, l)
		}
		if a, err := measure.AngleFromRadians(bad); err == nil {
			t.Errorf("%g rad is %v", bad, a)
		}
		if f, err := measure.ForceFromNewtons(bad); err == nil {
			t.Errorf("%g N is %v", bad, f)
		}
	}
}
