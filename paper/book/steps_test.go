package book

import (
	"slices"
	"testing"
)

// Boards in a row read as one, and nothing else does.
func TestRanges(t *testing.T) {
	for _, c := range []struct{ in, want []string }{
		{[]string{"A/c1", "A/c2", "A/c3", "A/c4"}, []string{"A/c1–c4"}},
		{[]string{"A/c1", "A/c2"}, []string{"A/c1", "A/c2"}},
		{[]string{"A/c9", "A/c10", "A/c11", "B/c12"}, []string{"A/c9–c11", "B/c12"}},
		{[]string{"A/c3", "A/c2", "A/c1"}, []string{"A/c3", "A/c2", "A/c1"}},
		{[]string{"A/c1L", "A/c1R", "A/c2L", "A/c2R", "A/c3L", "A/c3R"}, []string{"A/c1L–c3L", "A/c1R–c3R"}},
		{[]string{"A/c1L", "A/c2R", "A/c3L"}, []string{"A/c1L", "A/c2R", "A/c3L"}},
		{[]string{"P.p1", "P.p2", "P.p3"}, []string{"P.p1", "P.p2", "P.p3"}},
		{nil, nil},
	} {
		if got := ranges(c.in); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
}
