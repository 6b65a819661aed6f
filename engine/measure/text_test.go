package measure_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// site holds one of every type that is kept as text.
type site struct {
	System  measure.System
	Width   measure.Length
	Floor   measure.Area
	Pier    measure.Volume
	Grille  measure.Mass
	Tube    measure.MassPerLength
	Wood    measure.Density
	Kick    measure.Force
	Corner  measure.Angle
	Roof    measure.Slope
	Apron   measure.Slope
	Leaning measure.Slope
}

func TestEveryQuantityIsKeptAsText(t *testing.T) {
	const text = `{"System":"metric","Width":"3540 mm","Floor":"144 ft²","Pier":"2.75 ft³","Grille":"12.5 lb",` +
		`"Tube":"3.05 lb/ft","Wood":"560 kg/m³","Kick":"305 lbf","Corner":"22.5°","Roof":"4:12","Apron":"2%","Leaning":"18.4°"}`
	var s site
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		t.Fatal(err)
	}
	if s.System != measure.Metric || s.Floor != 144*measure.SquareFoot || s.Corner != 45*measure.Degree/2 {
		t.Errorf("read as %+v", s)
	}
	data, err := json.Marshal(s)
	if err != nil || string(data) != text {
		t.Errorf("kept as %s (%v)", data, err)
	}
}

func TestWrongTextLeavesTheValueAlone(t *testing.T) {
	for _, text := range []string{
		`{"System":"cubits"}`, `{"Width":"3540"}`, `{"Floor":"3 ft"}`, `{"Pier":"3 yards"}`, `{"Grille":"12"}`,
		`{"Tube":"3 lb"}`, `{"Wood":"35"}`, `{"Kick":"305 lb"}`, `{"Corner":"45"}`, `{"Roof":"4:0"}`,
	} {
		s := site{System: measure.Metric, Width: 1, Floor: 1, Pier: 1, Grille: 1, Tube: 1, Wood: 1, Kick: 1, Corner: 1, Roof: measure.Slope{Rise: 1, Run: 1}}
		before := s
		if err := json.Unmarshal([]byte(text), &s); err == nil || s != before {
			t.Errorf("%s gave %+v (%v)", text, s, err)
		}
	}
}

func TestWhatCannotBeReadBackIsNotKept(t *testing.T) {
	if text, err := (measure.Slope{Rise: measure.Inch}).MarshalText(); err == nil {
		t.Errorf("a slope without a run was kept as %s", text)
	}
	if text, err := measure.System(7).MarshalText(); err == nil {
		t.Errorf("no system was kept as %s", text)
	}
}

// Every one-character fraction of Unicode's Number Forms and Latin-1 blocks: the
// value of a tape's, a refusal for the others.
func TestOneCharacterFractions(t *testing.T) {
	for text, want := range map[string]measure.Length{
		"½": measure.Inch / 2, "¼": measure.Inch / 4, "¾": 3 * measure.Inch / 4,
		"⅛": measure.Inch / 8, "⅜": 3 * measure.Inch / 8, "⅝": 5 * measure.Inch / 8, "⅞": 7 * measure.Inch / 8,
	} {
		if got, err := measure.ParseLength(text+`"`, measure.NoUnit); err != nil || got != want {
			t.Errorf("%s in reads as %v (%v)", text, got, err)
		}
		if got, err := measure.ParseLength("3"+text+" in", measure.NoUnit); err != nil || got != 3*measure.Inch+want {
			t.Errorf("3%s in reads as %v (%v)", text, got, err)
		}
	}
	for _, text := range []string{"⅓", "⅔", "⅕", "⅖", "⅗", "⅘", "⅙", "⅚", "⅐", "⅑", "⅒", "⅟", "↉"} {
		if got, err := measure.ParseLength("3"+text+" in", measure.NoUnit); err == nil {
			t.Errorf("3%s in reads as %v", text, got)
		}
	}
	if got, err := measure.ParseLength("¹³⁄₁₆ in", measure.NoUnit); err != nil || got != 13*measure.SixteenthInch {
		t.Errorf("raised and lowered digits read as %v (%v)", got, err)
	}
}

func TestNamesOfTapesUnitsAndDirections(t *testing.T) {
	for got, want := range map[string]string{
		measure.TapeSixteenth.String():  `feet, 1/16" marks`,
		measure.TapeMillimetre.String(): `metric, 1 mm marks`,
		measure.Tape{}.String():         `feet, no marks`,
		measure.Down.String():           "down",
		measure.Up.String():             "up",
		measure.Nearest.String():        "nearest",
		measure.InchUnit.String():       "in",
		measure.MetreUnit.String():      "m",
		measure.Unit(200).String():      "",
	} {
		if got != want {
			t.Errorf("named %s, want %s", got, want)
		}
	}
	if measure.Unit(200).Length() != 0 || measure.FootUnit.Length() != measure.Foot {
		t.Error("a unit has the wrong size")
	}
	if measure.Inch.DivDown(0) != 0 || measure.Inch.DivUp(-1) != 0 {
		t.Error("no size fits a whole number of times")
	}
}

// Numbers for numerical work: exact binary fractions, so equality is right.
func TestFloatsForNumericalWork(t *testing.T) {
	for _, c := range []struct{ got, want float64 }{
		{(measure.Metre / 8).Metres(), 0.125},
		{(measure.Millimetre / 2).Millimetres(), 0.5},
		{(5 * measure.SixteenthInch).Inches(), 0.3125},
		{(measure.Kilonewton / 4).Newtons(), 250},
		{(3 * measure.Kilogram / 2).Kilograms(), 1.5},
		{(measure.SquareMetre / 4).SquareMetres(), 0.25},
		{(3 * measure.CubicMetre / 4).CubicMetres(), 0.75},
	} {
		if c.got != c.want {
			t.Errorf("got %g, want %g", c.got, c.want)
		}
	}
}

// Over what two decimals can hold in 64 bits, the size must still be right.
func TestHugeQuantitiesKeepTheirSize(t *testing.T) {
	if got := measure.Volume(math.MaxInt64).In(measure.FeetInches); !strings.HasPrefix(got, "≈3257") { // 9.22e6 m³ · 35.3147
		t.Errorf("the largest volume is %s", got)
	}
	if got := measure.Force(math.MinInt64).String(); got != "-9223372036854.775808 N" {
		t.Errorf("the least force is %s", got)
	}
}
