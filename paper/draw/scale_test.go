package draw

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// The ratio follows from the words: paper inches over model inches.
func TestRatiosAreWhatTheWordsSay(t *testing.T) {
	for _, sys := range []measure.System{measure.Metric, measure.FeetInches} {
		last := int64(0)
		for _, s := range Scales(sys) {
			if want := ratioOfWords(t, s.Words); want.Cmp(big.NewRat(s.Ratio, 1)) != 0 {
				t.Errorf("%s is kept as 1:%d, and says 1:%s", s.Words, s.Ratio, want.RatString())
			}
			if s.Ratio <= last {
				t.Errorf("%s is out of order", s.Words)
			}
			last = s.Ratio
			if ScaleOf(s.Ratio, sys) != s {
				t.Errorf("%s is not found by its ratio", s.Words)
			}
		}
	}
}

func ratioOfWords(t *testing.T, words string) *big.Rat {
	var a, b int64
	switch {
	case words == "full size":
		return big.NewRat(1, 1)
	case words == "half size":
		return big.NewRat(2, 1)
	case strings.HasPrefix(words, "1:"):
		fmt.Sscanf(words, "1:%d", &b)
		return big.NewRat(b, 1)
	}
	left, right, _ := strings.Cut(words, " = ")
	paper := new(big.Rat)
	for _, part := range strings.Fields(strings.TrimSuffix(left, `"`)) {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			t.Fatalf("cannot read %q", words)
		}
		paper.Add(paper, r)
	}
	fmt.Sscanf(right, "%d'-%d", &a, &b)
	return new(big.Rat).Quo(big.NewRat(12*a+b, 1), paper)
}

func TestLargestScaleThatFitsIsChosen(t *testing.T) {
	for _, c := range []struct {
		w, h measure.Length
		want int64
	}{
		// A4 across has 267 x 190 mm in the frame; less block, caption and
		// clearances a drawing may be 255 x 139.7 mm.
		{255 * mil, 139 * mil, 1}, {256 * mil, 100 * mil, 2}, {5 * measure.Metre, 2 * measure.Metre, 20}, {5200 * mil, 2 * measure.Metre, 25},
		{100 * measure.Metre, measure.Metre, 500},
	} {
		d := NewDrawing()
		d.Add(Rectangle("", seenPen, Fill{}, pt(0, 0), pt(c.w, c.h)))
		s, err := Lay(landscapeA4(), View{Drawing: d})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Views[0].Scale.Ratio; got != c.want {
			t.Errorf("%s x %s is drawn 1:%d, want 1:%d", c.w.In(measure.Metric), c.h.In(measure.Metric), got, c.want)
		}
	}
}
