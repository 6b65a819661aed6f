package fit

import (
	"slices"

	"stallwright/engine/measure"
)

// lengths is the least and the most length a board may have.
type lengths struct{ least, most measure.Length }

// takes says whether a length lies in it.
func (s lengths) takes(l measure.Length) bool { return s.least <= l && l <= s.most }

// grouped picks the fewest lengths of which every span takes at least one, each as
// long as it may be, shortest first. Going through the spans by their most, the
// first that takes none of the lengths picked so far needs a length of its own:
// the best is its most, which serves every later span that any length of it could
// (stabbing intervals with the fewest points: J. Kleinberg, É. Tardos, Algorithm
// Design, ch. 4, exercise; from memory). A span of nothing takes its most.
func grouped(spans []lengths) []measure.Length {
	order := slices.Clone(spans)
	slices.SortFunc(order, func(a, b lengths) int {
		switch {
		case a.most < b.most:
			return -1
		case a.most > b.most:
			return 1
		}
		return 0
	})
	var picked []measure.Length
	for _, s := range order {
		if n := len(picked); n == 0 || picked[n-1] < s.least && picked[n-1] != s.most {
			picked = append(picked, s.most)
		}
	}
	return picked
}

// longest is the longest of the lengths picked that a span takes; its most where
// none is.
func (s lengths) longest(picked []measure.Length) measure.Length {
	for _, l := range slices.Backward(picked) {
		if l <= s.most && (l >= s.least || l == s.most) {
			return l
		}
	}
	return s.most
}
