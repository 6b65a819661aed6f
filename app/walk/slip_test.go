package walk

import (
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// The slips are those that survey recognises, each with its own test there; here
// they must come through for one tape between two known marks.
func TestSlip(t *testing.T) {
	const ft, in = measure.Foot, measure.Inch
	for _, c := range []struct {
		written, expected measure.Length
		want              string
	}{
		{12*ft + 3*in + in/2, 13*ft + 2*in + in*7/16, "wo digits changed places"},
		{10*ft + 6*in, 11*ft + 6*in + in/8, "ne whole foot short"},
		{3503 * measure.Millimetre, 3530 * measure.Millimetre, "wo digits changed places"},
		{11*ft + 6*in, 11*ft + 8*in, ""},
		{11*ft + 6*in, 11*ft + 6*in, ""},
	} {
		guess, _ := slip(c.written, c.expected, measure.TapeSixteenth)
		got := guess.Slip
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s for %s: %q, want %q", c.written, c.expected, got, c.want)
		}
	}
}
