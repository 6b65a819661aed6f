package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// Expected values are sums of 25.4 mm inches worked by hand: 11 ft 7 5/8 in is
// 139.625 in, 139.625 · 25.4 = 3546.475 mm.
const elevenSevenFive measure.Length = 3_546_475_000

func TestParseLengthReadsWhatPeopleType(t *testing.T) {
	for _, c := range []struct {
		text string
		want measure.Length
	}{
		{`11' 7 5/8"`, elevenSevenFive},
		{`11'7-5/8"`, elevenSevenFive},
		{`11'-7 5/8"`, elevenSevenFive},
		{`11' - 7 5/8"`, elevenSevenFive},
		{`11ft 7-5/8in`, elevenSevenFive},
		{`11 ft 7 5/8 in`, elevenSevenFive},
		{`11 ft. 7 5/8 in.`, elevenSevenFive},
		{`11 FEET 7 5/8 Inches`, elevenSevenFive},
		{`11 feet and 7 and 5/8 inches`, elevenSevenFive},
		{`11 foot 7.625 inch`, elevenSevenFive},
		{`11' 7 5/8`, elevenSevenFive},
		{`11'7 5/8''`, elevenSevenFive},
		{`139 5/8 in`, elevenSevenFive},
		{`139.625"`, elevenSevenFive},
		{`  139.6250000"  `, elevenSevenFive},
		{`11′ 7⅝″`, elevenSevenFive},
		{`11’ 7 ⅝”`, elevenSevenFive},
		{`11‘ 7-⅝“`, elevenSevenFive},
		{"11\u00a0ft\u00a07\u202f5⁄8\u2009in", elevenSevenFive},
		{`11' 7⁵⁄₈"`, elevenSevenFive},
		{`11′ 7 10/16′′`, elevenSevenFive},
		{`+11' 7 40/64"`, elevenSevenFive},
		{`-11' 7 5/8"`, -elevenSevenFive},
		{`−11' 7 5/8"`, -elevenSevenFive},
		{`3546.475 mm`, elevenSevenFive},
		{`354.6475cm`, elevenSevenFive},
		{`3.546475 metres`, elevenSevenFive},
		{`3546475 µm`, elevenSevenFive},
		{`5/8"`, 15_875_000},
		{`½ in`, 12_700_000},
		{`.5"`, 12_700_000},
		{`-1/4"`, -6_350_000},
		{`+1/2 in`, 12_700_000},
		{`1/64"`, 396_875},
		{`0/8"`, 0},
		{`11'`, 3_352_800_000},
		{`11.5 ft`, 3_505_200_000},
		{`11.5'`, 3_505_200_000},
		{`2 1/2 ft`, 762_000_000},
		{`14 3/8"`, 365_125_000},
		{`3.54 m`, 3_540_000_000},
		{`3540 mm`, 3_540_000_000},
		{`3540 millimeters`, 3_540_000_000},
		{`354 cm`, 3_540_000_000},
		{`0.000001 mm`, 1},
		{`0.000000001 m`, 1},
		{`0 mm`, 0},
		{`-0"`, 0},
		{`0007"`, 177_800_000},
		{`100000 m`, measure.MaxLength},
		{`-100000 m`, -measure.MaxLength},
	} {
		got, err := measure.ParseLength(c.text, measure.NoUnit)
		if err != nil || got != c.want {
			t.Errorf("%s reads as %d nm (%v), want %d", c.text, int64(got), err, int64(c.want))
		}
	}
}

func TestParseLengthTakesBareNumbersOnlyWhenTold(t *testing.T) {
	for _, c := range []struct {
		text string
		bare measure.Unit
		want measure.Length
	}{
		{"7 5/8", measure.InchUnit, 193_675_000},
		{"5/8", measure.InchUnit, 15_875_000},
		{"11.5", measure.FootUnit, 3_505_200_000},
		{"3540", measure.MillimetreUnit, 3_540_000_000},
		{"-354", measure.CentimetreUnit, -3_540_000_000},
		{"3.54", measure.MetreUnit, 3_540_000_000},
		{`7"`, measure.MetreUnit, 177_800_000}, // a unit that is there wins
	} {
		got, err := measure.ParseLength(c.text, c.bare)
		if err != nil || got != c.want {
			t.Errorf("%s with %v reads as %d nm (%v), want %d", c.text, c.bare, int64(got), err, int64(c.want))
		}
	}
}

func TestParseLengthRefusesAndSaysWhy(t *testing.T) {
	for _, c := range []struct {
		text    string
		offset  int
		problem string // part of Problem
		hint    string // part of Hint
	}{
		{`12`, 0, "unit is missing", `12" for inches`},
		{`7 5/8`, 0, "unit is missing", `7 5/8"`},
		{`0`, 0, "unit is missing", ""},
		{`11' 14"`, 4, "a foot or more", `12' 2"`},
		{`11' 12"`, 4, "a foot or more", `12' 0"`},
		{`11.5' 3"`, 0, "part of a foot", `11' 6"`},
		{`1 1/2 ft 3 in`, 0, "part of a foot", ""},
		{`7 5/8'`, 0, "before feet", `7 5/8"`},
		{`½'`, 0, "before feet", `1/2"`},
		{`11' 7'`, 4, "feet are given twice", `11' 7"`},
		{`7" 11'`, 3, "feet stand after inches", ""},
		{`7" 5/8`, 3, "after the inch mark", `7 5/8"`},
		{`7" 5/8"`, 3, "after the inch mark", `7 5/8"`},
		{`7" 3"`, 3, "second number", ""},
		{`11 7 5/8"`, 3, "two numbers", "11'"},
		{`3 540 mm`, 2, "two numbers", "3540 mm"},
		{`3 m 2 in`, 4, "mixed", "one system"},
		{`11' 3 mm`, 4, "mixed", "one system"},
		{`5" 3 mm`, 3, "mixed", "one system"},
		{`3 m 54 cm`, 4, "second number", "3.54 m"},
		{`3 m 54`, 4, "second number", "3.54 m"},
		{`3,54 m`, 1, "comma", "3.54"},
		{`1,200 mm`, 1, "comma", ""},
		{`1/0"`, 2, "divided by zero", ""},
		{`1/00"`, 2, "divided by zero", ""},
		{`7 1/3"`, 4, "over 3 is not on a tape", "16ths"},
		{`7 3/10"`, 4, "over 10 is not on a tape", ""},
		{`7 ⅓"`, 2, "over 3 is not on a tape", ""},
		{`7 1/128"`, 4, "not on a tape", ""},
		{`1/1"`, 2, "not on a tape", ""},
		{`9/8"`, 0, "one or more", "1 1/8"},
		{`7 8/8"`, 2, "one or more", "Write 1"},
		{`99999999999999999999/8"`, 0, "one or more", ""},
		{`5 / 8"`, 2, "space inside", "5/8"},
		{`7 5/ 8"`, 4, "space inside", "5/8"},
		{`5/"`, 2, "no number follows", ""},
		{`7.5 5/8"`, 0, "decimal and a fraction", ""},
		{`1/2.5"`, 3, "decimal and a fraction", ""},
		{`7 - 5/8"`, 2, "could be a minus", "7 5/8"},
		{`7 -5/8"`, 2, "could be a minus", ""},
		{`11' -7"`, 4, "could be a minus", `11' 7"`},
		{`11' + 7"`, 4, "sums", ""},
		{`11 - 7 in`, 3, "only stand in front", ""},
		{`11-7-5/8"`, 2, "only stand in front", ""},
		{`--5"`, 1, "two signs", ""},
		{`5."`, 1, "decimal point", ""},
		{`1.2.3 mm`, 3, "two decimal points", ""},
		{`1/2 m`, 0, "no fractions", ""},
		{`0.3333333"`, 0, "whole number of nanometres", ""},
		{`0.0000001 mm`, 0, "whole number of nanometres", ""},
		{`0.0000000001 m`, 0, "whole number of nanometres", ""},
		{`100000.001 m`, 0, "longer than 100 km", ""},
		{`328083' 11.9"`, 0, "longer than 100 km", ""},
		{`99999999999999999999999 m`, 0, "longer than 100 km", ""},
		{`1e3 mm`, 1, "exponent", ""},
		{`1E-3 m`, 1, "exponent", ""},
		{`NaN`, 0, "not a number", ""},
		{`nan mm`, 0, "not a number", ""},
		{`-Inf`, 1, "not a number", ""},
		{`∞ mm`, 0, "not a number", ""},
		{`0x10 mm`, 1, "not a unit", ""},
		{``, 0, "nothing was entered", ""},
		{" \u00a0 ", 0, "nothing was entered", ""},
		{`-`, 1, "number is missing", ""},
		{`mm`, 0, "number was expected", ""},
		{`'5"`, 0, "number was expected", ""},
		{"1\tmm", 1, "cannot be seen", ""},
		{"5\"\n", 2, "cannot be seen", ""},
		{"5\x00\"", 1, "cannot be seen", ""},
		{"5\u200b\"", 1, "cannot be seen", ""},
		{"5\xff\"", 1, "cannot be seen", ""},
		{`٥ mm`, 0, "not one of 0 to 9", ""},
		{`≈5"`, 0, "approximate", ""},
		{`5 yd`, 2, "not a unit", "3 ft"},
		{`5 km`, 2, "not a unit", "mm"},
		{`5 in²`, 4, "an area", ""},
		{`11'''`, 2, "too many marks", ""},
		{`11' 7 5/8" (3546.5 mm)`, 11, "not expected", ""},
		{strings.Repeat(" ", 250) + `5"`, 200, "too long", ""},
	} {
		l, err := measure.ParseLength(c.text, measure.NoUnit)
		var e *measure.ParseError
		if !errors.As(err, &e) {
			t.Errorf("%q reads as %v (%v), want a refusal", c.text, l, err)
			continue
		}
		if l != 0 || e.Text != c.text || e.Offset != c.offset || !strings.Contains(e.Problem, c.problem) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%q refused at %d with %q, %q; want %d, %q, %q", c.text, e.Offset, e.Problem, e.Hint, c.offset, c.problem, c.hint)
		}
	}
	for _, bare := range []measure.Unit{measure.MillimetreUnit, measure.FootUnit} {
		if _, err := measure.ParseLength("7 5/8", bare); err == nil {
			t.Errorf("7 5/8 was read as %v", bare)
		}
	}
}

func TestParseErrorIsASentence(t *testing.T) {
	_, err := measure.ParseLength("11' 14\"", measure.NoUnit)
	want := "“11' 14\"”, character 5: 14 inches after the feet is a foot or more. If that is the length write 12' 2\"."
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	_, err = measure.ParseLength("5\x07", measure.NoUnit)
	if err == nil || strings.Contains(err.Error(), "\x07") {
		t.Errorf("a control character reached the message: %q", err)
	}
}

func TestLengthIsWrittenForBothSystems(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		l                        measure.Length
		exact, feet, metric, two string
	}{
		{0, `0"`, `0"`, `0 mm`, `0" (0 mm)`},
		{elevenSevenFive, `11' 7 5/8"`, `11' 7 5/8"`, `≈3546.5 mm`, `11' 7 5/8" (3546.5 mm)`},
		{-measure.Inch / 4, `-1/4"`, `-1/4"`, `≈-6.4 mm`, `-1/4" (-6.4 mm)`},
		{7*measure.Inch + 10*measure.SixteenthInch, `7 5/8"`, `7 5/8"`, `≈193.7 mm`, `7 5/8" (193.7 mm)`},
		{measure.Foot, `1' 0"`, `1' 0"`, `304.8 mm`, `1' 0" (304.8 mm)`},
		{measure.Foot + measure.SixtyFourthInch, `1' 0 1/64"`, `1' 0 1/64"`, `≈305.2 mm`, `1' 0 1/64" (305.2 mm)`},
		{127 * mm, `5"`, `5"`, `127 mm`, `5" (127 mm)`},
		{3540 * mm, `3540 mm`, `≈11' 7 3/8"`, `3540 mm`, `3540 mm (11' 7 3/8")`}, // 139.370 in = 139 23.7/64
		{3540*mm + mm/2, `3540.5 mm`, `≈11' 7 25/64"`, `3540.5 mm`, `3540.5 mm (11' 7 25/64")`},
		{1, `0.000001 mm`, `≈0"`, `≈0 mm`, `≈0" (≈0 mm)`},
		{-1, `-0.000001 mm`, `≈0"`, `≈0 mm`, `≈0" (≈0 mm)`},
	} {
		if got := c.l.String(); got != c.exact {
			t.Errorf("%d nm String %s, want %s", int64(c.l), got, c.exact)
		}
		if got := c.l.In(measure.FeetInches); got != c.feet {
			t.Errorf("%d nm in feet %s, want %s", int64(c.l), got, c.feet)
		}
		if got := c.l.In(measure.Metric); got != c.metric {
			t.Errorf("%d nm in metric %s, want %s", int64(c.l), got, c.metric)
		}
		if got := measure.Both(c.l); got != c.two {
			t.Errorf("%d nm in both %s, want %s", int64(c.l), got, c.two)
		}
	}
}

func TestTapeShowsItsMarks(t *testing.T) {
	for _, c := range []struct {
		tape measure.Tape
		l    measure.Length
		want string
	}{
		{measure.TapeSixteenth, elevenSevenFive, `11' 7 5/8"`},
		{measure.TapeSixteenth, elevenSevenFive + measure.SixtyFourthInch, `≈11' 7 5/8"`},
		{measure.TapeThirtySecond, elevenSevenFive + measure.ThirtySecondInch, `11' 7 21/32"`},
		{measure.TapeMillimetre, elevenSevenFive, `≈3546 mm`},
		{measure.TapeMillimetre, 3546 * measure.Millimetre, `3546 mm`},
		{measure.Tape{}, elevenSevenFive, `11' 7 5/8"`},
		{measure.Tape{System: measure.FeetInches, Mark: measure.Foot / 10}, measure.Foot / 10, `30.48 mm`}, // no tape fraction
	} {
		if got := c.tape.Show(c.l); got != c.want {
			t.Errorf("%v shows %v as %s, want %s", c.tape, c.l, got, c.want)
		}
	}
	// A board of 11' 7 5/8" less 1/4" play, to the mark below: 3546.475 - 6.35 =
	// 3540.125 mm.
	board := elevenSevenFive - measure.Inch/4
	if got := measure.TapeMillimetre.Round(board, measure.Down); got != 3540*measure.Millimetre {
		t.Errorf("board rounds down to %v, want 3540 mm", got)
	}
}

func TestRoundAtSignsAndHalves(t *testing.T) {
	for _, c := range []struct {
		l, mark           measure.Length
		down, up, nearest measure.Length
	}{
		{7, 4, 4, 8, 8},
		{6, 4, 4, 8, 8},
		{5, 4, 4, 8, 4},
		{-5, 4, -8, -4, -4},
		{-6, 4, -8, -4, -8},
		{-7, 4, -8, -4, -8},
		{8, 4, 8, 8, 8},
		{-8, 4, -8, -8, -8},
		{1, 5, 0, 5, 0},
		{-1, 5, -5, 0, 0},
		{7, 0, 7, 7, 7},
		{7, -4, 7, 7, 7},
		{math.MaxInt64, 10, math.MaxInt64 - 7, math.MaxInt64 - 7, math.MaxInt64 - 7},
		{math.MinInt64, 10, math.MinInt64 + 8, math.MinInt64 + 8, math.MinInt64 + 8},
		{math.MinInt64, math.MaxInt64, -math.MaxInt64, -math.MaxInt64, -math.MaxInt64},
	} {
		for d, want := range map[measure.Direction]measure.Length{measure.Down: c.down, measure.Up: c.up, measure.Nearest: c.nearest} {
			if got := c.l.Round(c.mark, d); got != want {
				t.Errorf("%d to %d %v is %d, want %d", int64(c.l), int64(c.mark), d, int64(got), int64(want))
			}
		}
	}
}

func TestLengthKeepsItsValueAsText(t *testing.T) {
	type doc struct{ Width measure.Length }
	for _, l := range []measure.Length{0, 1, elevenSevenFive, -measure.MaxLength, 3540 * measure.Millimetre} {
		data, err := json.Marshal(doc{l})
		if err != nil {
			t.Fatal(err)
		}
		var back doc
		if err := json.Unmarshal(data, &back); err != nil || back.Width != l {
			t.Errorf("%s came back as %v (%v)", data, back.Width, err)
		}
	}
	back := doc{7}
	if err := json.Unmarshal([]byte(`{"Width":"3540"}`), &back); err == nil || back.Width != 7 {
		t.Errorf("a number without a unit was kept as %v (%v)", back.Width, err)
	}
	if _, err := (measure.MaxLength + 1).MarshalText(); err == nil {
		t.Error("a length that cannot be read back was written")
	}
}

func TestParseUnitAndSystem(t *testing.T) {
	for text, want := range map[string]measure.Unit{
		"in": measure.InchUnit, `"`: measure.InchUnit, "''": measure.InchUnit, "Inches": measure.InchUnit,
		"ft": measure.FootUnit, "'": measure.FootUnit, " feet ": measure.FootUnit,
		"mm": measure.MillimetreUnit, "cm": measure.CentimetreUnit, "m": measure.MetreUnit, "meters": measure.MetreUnit, "µm": measure.MicrometreUnit,
	} {
		if got, err := measure.ParseUnit(text); err != nil || got != want {
			t.Errorf("unit %q reads as %v (%v), want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "3 mm", "mm2", "yd", "mm mm", "''''"} {
		if got, err := measure.ParseUnit(text); err == nil {
			t.Errorf("unit %q reads as %v, want a refusal", text, got)
		}
	}
	for _, s := range []measure.System{measure.FeetInches, measure.Metric} {
		if got, err := measure.ParseSystem(s.String()); err != nil || got != s {
			t.Errorf("system %v reads as %v (%v)", s, got, err)
		}
	}
	if _, err := measure.ParseSystem("imperial"); err == nil {
		t.Error(`system "imperial" was read`)
	}
}
