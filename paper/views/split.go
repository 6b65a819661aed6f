package views

import "stallwright/engine/measure"

// spread divides a row of widths into at most n groups of neighbours, so that
// the widest group is as narrow as can be. It returns the places in each group.
func spread(widths []measure.Length, n int) [][]int {
	lo, hi := measure.Length(0), measure.Length(0)
	for _, w := range widths {
		hi += w
		lo = max(lo, w)
	}
	for lo < hi {
		mid := lo + (hi-lo)/2
		if len(fill(widths, mid)) <= n {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return fill(widths, hi)
}

// fill makes groups no wider than most, each as full as can be.
func fill(widths []measure.Length, most measure.Length) [][]int {
	var out [][]int
	room := measure.Length(0)
	for i, w := range widths {
		if i == 0 || w > room {
			out, room = append(out, nil), most
		}
		out[len(out)-1] = append(out[len(out)-1], i)
		room -= w
	}
	return out
}
