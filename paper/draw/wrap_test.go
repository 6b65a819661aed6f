package draw

import (
	"strings"
	"testing"
)

// A length and a number with its unit stay on one line, unless the line is too
// narrow for them alone.
func TestWrapKeepsLengthsWhole(t *testing.T) {
	for _, whole := range []string{`7' 4 1/2"`, `1 1/16"`, "≈3' 5 3/4\"", "2184 mm", "12.4 kg", "18 ft²", `(4' 3 1/4")`, `2 1/8";`} {
		text := "the leaf is hung at a height of " + whole + " over the floor"
		for width := Micron(30 * MM); width < 120*MM; width += MM {
			if got := Wrap(text, Regular, Text35, width); !strings.Contains("\n"+strings.Join(got, "\n")+"\n", whole) {
				t.Fatalf("%q at %d: %q", whole, width, got)
			}
		}
	}
	if got := Wrap(`10 boards, each 7' 4 1/2" long`, Regular, Text35, 4*MM); len(got) < 5 {
		t.Errorf("too narrow for a length: %q", got)
	}
	if got, want := unbroken(strings.Fields("post 3 is 4 boards high")), 6; len(got) != want {
		t.Errorf("%q: numbers that are no lengths were joined", got)
	}
}
