package schedule

import (
	"cmp"
	"slices"
)

// exchanged is a schedule in which activities that take as long and use the same
// have changed places where that puts them in their own order and no link
// forbids it. It is as long as the one it is made from.
func (s *solver) exchanged(start []int64) []int64 {
	in := s.in
	start = slices.Clone(start)
	for _, group := range in.twins() {
		for swapped := true; swapped; {
			swapped = false
			slices.SortStableFunc(group, func(a, b int) int { return cmp.Compare(start[a], start[b]) })
			for k := 1; k < len(group); k++ {
				a, b := group[k-1], group[k]
				s.spent += 4
				if a < b || start[a] == start[b] {
					continue
				}
				start[a], start[b] = start[b], start[a]
				if in.linked(start, a) && in.linked(start, b) {
					group[k-1], group[k] = b, a
					swapped = true
				} else {
					start[a], start[b] = start[b], start[a]
				}
			}
		}
	}
	return start
}

// twins are groups of two or more activities that take as long and use the same.
func (in *instance) twins() [][]int {
	order := slices.Clone(in.order)
	slices.Sort(order)
	same := func(a, b int) int {
		if c := cmp.Compare(in.dur[a], in.dur[b]); c != 0 {
			return c
		}
		if in.whole[a] != in.whole[b] {
			if in.whole[a] {
				return 1
			}
			return -1
		}
		return slices.CompareFunc(in.needs[a], in.needs[b], func(x, y need) int {
			return cmp.Or(cmp.Compare(x.res, y.res), cmp.Compare(x.amount, y.amount))
		})
	}
	slices.SortStableFunc(order, same)
	var out [][]int
	for i := 0; i < len(order); {
		j := i + 1
		for j < len(order) && same(order[i], order[j]) == 0 {
			j++
		}
		if j > i+1 {
			out = append(out, order[i:j:j])
		}
		i = j
	}
	return out
}

// linked reports that an activity's start keeps all its links.
func (in *instance) linked(start []int64, i int) bool {
	for _, l := range in.pred[i] {
		if in.axis.after(start[l.to]+in.dur[l.to], l.lag, l.elapsed) > start[i] {
			return false
		}
	}
	for _, l := range in.succ[i] {
		if in.axis.after(start[i]+in.dur[i], l.lag, l.elapsed) > start[l.to] {
			return false
		}
	}
	return true
}
