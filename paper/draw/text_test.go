package draw

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// Values of the hmtx, OS/2 and glyf tables of DejaVu Sans 2.37 (from memory of
// the published font: 2048 units to the em, digits 1303 wide, capitals 1493
// high, space 651; Bold digits 1425). Condensed is Sans at nine tenths, 1172.7
// for a digit; that the font cuts this to 1172 was read from the font itself.
func TestTextIsMeasuredAsTheFontHasIt(t *testing.T) {
	for _, c := range []struct {
		face  Face
		text  string
		units int64
	}{
		{Regular, "0123456789", 13030}, {Regular, "1 2", 2*1303 + 651}, {Bold, "77", 2 * 1425}, {Condensed, "0", 1172}, {Regular, "H", 1540},
	} {
		// At this height one font unit is one micrometre.
		if got := c.face.measure(c.text, 1493).Width; got != Micron(c.units) {
			t.Errorf("%q in face %d is %d units wide, want %d", c.text, c.face, got, c.units)
		}
	}
	if e := Regular.measure("H", 1493); e.Up != 1493 || e.Down != 0 {
		t.Errorf("H reaches from -%d to %d, want 0 to 1493", e.Down, e.Up)
	}
	if e := Regular.measure("g", 1493); e.Down < 400 || e.Down > 450 {
		t.Errorf("g hangs %d units under the line, want about 425 (a fifth of the em)", e.Down)
	}
	if got := Regular.EmSize(MinText); got != 3429 { // 2.5 mm x 2048/1493 = 3.4293 mm
		t.Errorf("2.5 mm text has an em of %d, want 3429", got)
	}
}

func TestCleanTextIsOneSafeLine(t *testing.T) {
	for in, want := range map[string]string{
		"a\x00b\tc":                 "a b c",
		"  two   spaces ":           "two spaces",
		"bad \xff bytes":            "bad \ufffd bytes",
		"turn\u202eed":              "turned",
		"zero\u200bwidth\ufeff":     "zerowidth",
		"z\u0300\u0301\u0302\u0303": "z\u0300\u0301",
		"\ufffe\uffff":              "\ufffd\ufffd",
		"3\u00a0mm":                 "3\u00a0mm",
	} {
		if got := clean(in); got != want {
			t.Errorf("clean(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestWrapLosesNothingAndKeepsToItsWidth(t *testing.T) {
	for _, text := range []string{"one two three four five", "Donaudampfschifffahrtsgesellschaft and more", "a\nb", "", strings.Repeat("x", 300), "5\u00a0mm gap at 12\u00a0mm"} {
		for _, width := range []Micron{-5, 0, 8 * MM, 30 * MM} {
			ls := wrap(text, Regular, MinText, width)
			strip := func(s string) string { return strings.NewReplacer(" ", "", "\n", "").Replace(s) }
			if got := strip(strings.Join(ls, "")); got != strip(text) {
				t.Errorf("wrap(%q, %d) kept %q", text, width, got)
			}
			for _, l := range ls {
				if utf8.RuneCountInString(l) > 1 && Regular.measure(l, MinText).Width > width {
					t.Errorf("line %q is wider than %d", l, width)
				}
			}
		}
	}
}
