package job

import (
	"testing"

	"stallwright/engine/measure"
)

// Wood Handbook FPL-GTR-190 ch. 13, worked example (seen; C and ΔM from memory):
// a board 232 mm wide with C = 0.00245 becomes 233.7 mm from 8 to 11 %, 1.705 mm
// more. Douglas-fir's C is 0.00267; the rest of the formula must give the same.
func TestSwellingAsInTheWoodHandbook(t *testing.T) {
	l := Lumber{Species: DouglasFirLarch, Thickness: 232 * measure.Millimetre, Moisture: 8, Wettest: 11}
	more, _ := measure.MulDiv(int64(l.Swelling().Wet-l.Thickness), 245, 267, measure.Nearest)
	if d := measure.Length(more) - measure.Millimetre*1705/1000; d.Abs() > measure.Millimetre/100 {
		t.Errorf("%v more", measure.Length(more))
	}
}

// FPL-RP-489 (seen): lumber's thickness shrinks from green by 5.062 − 0.181 M
// percent, on average. A board that is sawn for the most swelling grows more than
// that, but not twice as much.
func TestSwellingBesideTheAverage(t *testing.T) {
	for from := 6; from < 19; from++ {
		l := Lumber{Species: SouthernPine, Thickness: 40 * measure.Millimetre, Moisture: from, Wettest: 19}
		average, _ := measure.MulDiv(int64(l.Thickness), int64(181*(19-from)), int64(100_000-5062+181*from), measure.Nearest)
		if got := int64(l.Swelling().Wet - l.Thickness); got <= average || got >= 2*average {
			t.Errorf("from %d %%: %d nm, %d on average", from, got, average)
		}
	}
	// Nothing swells that is loaded wetter, nor over fibre saturation.
	for _, l := range []Lumber{
		{Species: SouthernPine, Moisture: 25, Wettest: 19}, {Species: SouthernPine, Moisture: 32, Wettest: 60},
	} {
		if s := l.Swelling(); s.Wet != s.Dry {
			t.Errorf("%+v swells", l)
		}
	}
}
