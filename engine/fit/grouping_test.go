package fit

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/measure"
)

// fewest tries every set of lengths, smallest sets first: the fewest of which each
// span takes one. Only the mosts of the spans need be tried, since any length can
// be raised to the least most of the spans that take it.
func fewest(spans []lengths) int {
	for n := 1; n <= len(spans); n++ {
		if someOf(spans, nil, 0, n) {
			return n
		}
	}
	return 0
}

func someOf(spans []lengths, picked []measure.Length, from, left int) bool {
	if left == 0 {
		return !slices.ContainsFunc(spans, func(s lengths) bool { return !slices.ContainsFunc(picked, s.takes) })
	}
	for k := from; k < len(spans); k++ {
		if someOf(spans, append(picked, spans[k].most), k+1, left-1) {
			return true
		}
	}
	return false
}

// The greedy grouping takes as few lengths as trying all sets does, each span takes
// one of them, and gets the longest it can.
func TestGroupingIsFewest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(r, "courses")
		spans := make([]lengths, n)
		for k := range spans {
			least := measure.Length(rapid.IntRange(0, 30).Draw(r, "least"))
			spans[k] = lengths{least, least + measure.Length(rapid.IntRange(0, 12).Draw(r, "room"))}
		}
		picked := grouped(spans)
		if want := fewest(spans); len(picked) != want {
			r.Errorf("%v: %d lengths %v, %d would do", spans, len(picked), picked, want)
		}
		if !slices.IsSorted(picked) {
			r.Errorf("%v are not in order", picked)
		}
		for _, s := range spans {
			l := s.longest(picked)
			if !s.takes(l) || !slices.Contains(picked, l) {
				r.Errorf("%v takes none of %v", s, picked)
			}
			for _, other := range picked {
				if s.takes(other) && other > l {
					r.Errorf("%v got %v, but takes %v", s, l, other)
				}
			}
		}
	})
}

// A course that nothing suits gets a length of its own, its longest, and spoils
// nothing else.
func TestGroupingWithAnEmptySpan(t *testing.T) {
	spans := []lengths{{5, 9}, {12, 10}, {6, 11}}
	picked := grouped(spans)
	if !slices.Equal(picked, []measure.Length{9, 10}) {
		t.Errorf("picked %v", picked)
	}
	if l := spans[1].longest(picked); l != 10 {
		t.Errorf("the empty span gets %v", l)
	}
}

// By hand: 100 at the bottom, 104 half way up a zone of 80, 102 at its top.
func TestProfile(t *testing.T) {
	p := profile{z: []measure.Length{0, 40, 80}, w: []measure.Length{100, 104, 102}}
	for _, c := range []struct{ from, to, least, most measure.Length }{
		{0, 0, 100, 100}, {-5, -1, 100, 100}, {20, 20, 102, 102}, {60, 60, 103, 103}, {80, 90, 102, 102},
		{10, 30, 101, 103}, {30, 60, 103, 104}, {0, 80, 100, 104}, {5, 5, 100, 101},
	} {
		if r := p.over(c.from, c.to); r != (room{c.least, c.most}) {
			t.Errorf("from %d to %d: %d to %d, want %d to %d", c.from, c.to, r.least, r.most, c.least, c.most)
		}
	}
}
