package kit

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
)

var everything = []string{"structure", "wall", "fill", "door", "clamped", "courses", "bays", "panels", "quantity", "clear", "centres", "height", "datum", "zone", "end_play", "opening", "leaf", "post", "tube", "plate", "web", "board"}

func compiled(t testing.TB, text string, w want) Rule {
	t.Helper()
	r := Rule{}
	if err := r.FromScalar(text); err != nil {
		t.Fatal(err)
	}
	if err := r.compile(w, everything); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return r
}

var known = Facts{
	Structure: "pen", Wall: "section", Fill: "boards", Door: true, Courses: 13, Bays: 3, Panels: 2, Qty: 7,
	Clear: 100 * measure.Inch, Height: 96 * measure.Inch, Zone: 92 * measure.Inch, EndPlay: measure.Inch / 4, Tube: 2 * measure.Inch, Plate: measure.Inch / 4,
}

// Values by hand.
func TestRuleCounts(t *testing.T) {
	for text, want := range map[string]int{
		"4":                                     4,
		"2 + panels":                            4,
		"4 * up(courses, 3)":                    20, // 13/3 up is 5
		"down(courses, 3)":                      4,
		"up(12, 3)":                             4,
		"up(1, 3)":                              1,
		"up(0, 3)":                              0,
		"up(0 - 7, 2) + 10":                     7, // −3 1/2 up is −3
		"down(0 - 7, 2) + 10":                   6, // −3 1/2 down is −4
		`up(clear, L("24 in"))`:                 5, // 4 1/6
		`down(clear, L("24 in"))`:               4,
		`up(clear, L("25 in"))`:                 4,
		`up(clear - L("1 mm"), L("25 in"))`:     4,
		`up(clear + L("1 mm"), L("25 in"))`:     5,
		`most(2, up(clear, L("72 in")))`:        2,
		`least(2, up(clear, L("72 in")))`:       2,
		"door ? 6 : 4":                          6,
		"most(quantity, 5) - least(3, 9)":       4,
		"quantity % 4":                          3,
		"1 + 2 * 3":                             7,
		"(1 + 2) * 3":                           9,
		`up(L("1 in"), L("25.4 mm"))`:           1,
		`down(clear / 3, L("33 1/4 in"))`:       1, // 33 1/3
		`up(clear * 2, L("33 1/4 in"))`:         7, // 6.015…
		`up(3 * clear, L("300 in"))`:            1,
		`wall == "section" && !clamped ? 1 : 0`: 1,
	} {
		got, err := compiled(t, text, wantCount).Count(&known)
		if err != nil || got != want {
			t.Errorf("%s = %d, want %d (%v)", text, got, want, err)
		}
	}
}

func TestRuleLengths(t *testing.T) {
	for text, want := range map[string]measure.Length{
		"clear - end_play":                 99*measure.Inch + measure.Inch*3/4,
		`zone - L("2 in")`:                 90 * measure.Inch,
		"tube + plate + plate":             2*measure.Inch + measure.Inch/2,
		"clear / 3":                        846_666_666, // 2540 mm / 3, cut off at the nanometre
		"3 * plate - plate * 3":            0,
		`most(clear, L("9 ft"))`:           9 * measure.Foot,
		`least(clear, L("9 ft"))`:          100 * measure.Inch,
		`clear > L("8 ft") ? tube : plate`: 2 * measure.Inch,
	} {
		got, err := compiled(t, text, wantLength).Length(&known)
		if err != nil || got != want {
			t.Errorf("%s = %v, want %v (%v)", text, got, want, err)
		}
	}
}

func TestRuleConditions(t *testing.T) {
	for text, want := range map[string]bool{
		`structure == "pen"`:                   true,
		`structure != "pen" || door`:           true,
		`clear < zone`:                         false,
		`clear >= L("100 in")`:                 true,
		`clear <= L("100 in") && zone > clear`: false,
		`clear == L("2540 mm")`:                true,
		`!door`:                                false,
		`fill in ["boards", "grille"]`:         true,
	} {
		got, err := compiled(t, text, wantTruth).Holds(&known)
		if err != nil || got != want {
			t.Errorf("%s = %v, want %v (%v)", text, got, want, err)
		}
	}
	if ok, err := (Rule{}).Holds(&known); !ok || err != nil {
		t.Error("a condition not written does not hold")
	}
}

// What is refused when a kit is read: lengths that would become areas or bare
// numbers, broken counts, unknown facts, the wrong kind of result.
func TestRulesRefused(t *testing.T) {
	for _, c := range []struct {
		text string
		want want
		says string
	}{
		{"clear * clear", wantLength, "mismatched types"},
		{"clear / clear", wantCount, "mismatched types"},
		{"clear + 1", wantLength, "mismatched types"},
		{"1 - clear", wantLength, "mismatched types"},
		{"clear > 1", wantTruth, "mismatched types"},
		{"-clear", wantLength, "mismatched type"},
		{"courses / 2", wantCount, "up(a, b) or down(a, b)"},
		{"1.5", wantCount, "a broken number"},
		{"2 ** 2", wantCount, "a broken number"},
		{"clear * 1.5", wantLength, "mismatched types"},
		{"up(clear, 2)", wantCount, "cannot use"},
		{"up(clear)", wantCount, "not enough arguments"},
		{"most(clear, 2)", wantLength, "cannot use"},
		{"span", wantLength, "unknown name span"},
		{"len(structure)", wantCount, "unknown name len"},
		{`L("12")`, wantLength, "unit"},
		{`L("x")`, wantLength, "number"},
		{`L(structure)`, wantLength, "in quotes"},
		{"structure", wantTruth, "comes to text"},
		{"door", wantCount, "comes to true or false"},
		{"clear", wantCount, "comes to a length"},
		{"courses", wantLength, "comes to a count"},
		{"clear.nm", wantCount, "no field"},
		{"quantity * 1000001", wantCount, "over 1000000"},
		{"clear -", wantLength, "unexpected token"},
		{"", wantLength, "empty rule"},
		{strings.Repeat("1+", 300) + "1", wantCount, "more than 400"},
	} {
		r := Rule{}
		err := r.FromScalar(c.text)
		if err == nil {
			err = r.compile(c.want, everything)
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want a refusal with %q", c.text, err, c.says)
		}
	}
	r := Rule{text: "zone"}
	if err := r.compile(wantLength, []string{"clear"}); err == nil || !strings.Contains(err.Error(), "known here: clear") {
		t.Errorf("a fact not known there: %v", err)
	}
}

// Rules that only come to nonsense at their place are refused there, with a
// reason and without a panic.
func TestRulesThatFail(t *testing.T) {
	for text, says := range map[string]string{
		"courses - 20":                            "no count",
		"quantity * 1000000":                      "over 1000000",
		"quantity * quantity * quantity * 999999": "over 1000000",
		"up(quantity, 0)":                         "divides by nothing",
		"down(quantity, 0 - 2)":                   "divides by nothing",
		`up(clear, L("0 in"))`:                    "divides by nothing",
		"quantity % 0":                            "divide by zero",
		`up(clear * 1000000, L("1 mm"))`:          "beyond anything",
		`up(clear, L("0.000001 mm"))`:             "over 1000000",
	} {
		if n, err := compiled(t, text, wantCount).Count(&known); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s = %d, %v; want a refusal with %q", text, n, err, says)
		}
	}
	if l, err := compiled(t, "clear / 0", wantLength).Length(&known); err == nil {
		t.Errorf("clear / 0 = %v", l)
	}
	if _, err := (Rule{text: "4"}).Count(&known); err == nil {
		t.Error("a rule that was not compiled ran")
	}
}

// up and down against integers: down(a, b)·b ≤ a < (down(a, b) + 1)·b, and up is
// down unless something is left.
func TestDivisionRounds(t *testing.T) {
	up, down := compiled(t, "up(clear, zone)", wantCount), compiled(t, "down(clear, zone)", wantCount)
	rapid.Check(t, func(t *rapid.T) {
		a := measure.Length(rapid.Int64Range(0, int64(100*measure.Metre)).Draw(t, "a"))
		b := measure.Length(rapid.Int64Range(int64(measure.Millimetre), int64(100*measure.Metre)).Draw(t, "b"))
		f := Facts{Clear: a, Zone: b}
		lo, err1 := down.Count(&f)
		hi, err2 := up.Count(&f)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if measure.Length(lo)*b > a || measure.Length(lo+1)*b <= a || hi-lo != map[bool]int{true: 0, false: 1}[a%b == 0] {
			t.Fatalf("%v / %v: down %d, up %d", a, b, lo, hi)
		}
	})
}
