package search

// Polish improves a plan without changing its cost: shorter boards where they
// cost the same, then fewer distinct patterns. The result is a plan again.
func Polish(in *Instance, runs []Run) []Run {
	runs = tidy(append([]Run(nil), runs...))
	runs = in.shorten(runs)
	for pass := 0; pass < 8; pass++ {
		next, ok := in.fuse(runs)
		if !ok {
			break
		}
		runs = next
	}
	return tidy(runs)
}

// shorten moves patterns to the shortest stock of the same cost that holds them
// and is to be had.
func (in *Instance) shorten(runs []Run) []Run {
	if in.Credit.Value != 0 {
		return runs
	}
	left := make([]int64, len(in.Stock))
	for s := range left {
		left[s] = in.Stock[s].Avail
	}
	for _, r := range runs {
		if left[r.Stock] != Unlimited {
			left[r.Stock] -= r.Times
		}
	}
	var out []Run
	for _, r := range runs {
		for r.Times > 0 {
			best := r.Stock
			for s, st := range in.Stock {
				q := r.Pattern
				q.Stock = s
				if left[s] > 0 && st.Cost == in.Stock[r.Stock].Cost && st.Cap < in.Stock[best].Cap && in.fits(&q) {
					best = s
				}
			}
			n := r.Times
			if best != r.Stock {
				n = min(n, left[best])
				if left[best] != Unlimited {
					left[best] -= n
				}
				if left[r.Stock] != Unlimited {
					left[r.Stock] += n
				}
			}
			q := r
			q.Stock, q.Times = best, n
			out = append(out, q)
			r.Times -= n
		}
	}
	return tidy(out)
}

// fuse looks for two patterns of one stock that can be cut as one, or three as
// two, and reports the first gain.
func (in *Instance) fuse(runs []Run) ([]Run, bool) {
	if in.Credit.Value != 0 || in.Gamma > 0 || len(runs) > 200 {
		return runs, false
	}
	for a := range runs {
		for b := a + 1; b < len(runs); b++ {
			if runs[a].Stock != runs[b].Stock {
				continue
			}
			if r, ok := in.recut([]Run{runs[a], runs[b]}, 1); ok {
				return replace(runs, r, a, b), true
			}
			for c := b + 1; c < len(runs); c++ {
				if runs[c].Stock != runs[a].Stock {
					continue
				}
				if r, ok := in.recut([]Run{runs[a], runs[b], runs[c]}, 2); ok {
					return replace(runs, r, a, b, c), true
				}
			}
		}
	}
	return runs, false
}

func replace(runs, with []Run, drop ...int) []Run {
	gone := map[int]bool{}
	for _, d := range drop {
		gone[d] = true
	}
	var out []Run
	for i, r := range runs {
		if !gone[i] {
			out = append(out, r)
		}
	}
	return append(out, with...)
}

// recut cuts the same pieces from as many boards by n patterns, one or two.
func (in *Instance) recut(runs []Run, n int) ([]Run, bool) {
	sum := map[int32]int64{}
	boards := int64(0)
	var splits []int64
	for _, r := range runs {
		boards += r.Times
		splits = append(splits, r.Times)
		for k, i := range r.Item {
			sum[i] += r.Times * int64(r.Count[k])
		}
	}
	var items []int32
	for i := range in.Len {
		if sum[int32(i)] > 0 {
			items = append(items, int32(i))
		}
	}
	st := runs[0].Stock
	if n == 1 {
		p := Pattern{Stock: st}
		for _, i := range items {
			if sum[i]%boards != 0 {
				return nil, false
			}
			p.Item = append(p.Item, i)
			p.Count = append(p.Count, int32(sum[i]/boards))
		}
		if !in.fits(&p) {
			return nil, false
		}
		return []Run{{p, boards}}, true
	}
	for _, t := range splits {
		if t == boards {
			continue
		}
		s := splitter{in: in, items: items, sum: sum, ta: t, tb: boards - t, st: st}
		most := int64(1) << 40
		if in.Most > 0 {
			most = int64(in.Most)
		}
		if s.try(0, in.Stock[st].Cap, in.Stock[st].Cap, most, most) {
			return []Run{{s.pattern(s.a), s.ta}, {s.pattern(s.b), s.tb}}, true
		}
	}
	return nil, false
}

// splitter looks for counts a and b with ta*a + tb*b equal to the sums, both of
// which fit the stock.
type splitter struct {
	in     *Instance
	items  []int32
	sum    map[int32]int64
	ta, tb int64
	st     int
	a, b   []int32
	steps  int
}

func (s *splitter) try(k int, restA, restB, leftA, leftB int64) bool {
	if restA < 0 || restB < 0 || leftA < 0 || leftB < 0 {
		return false
	}
	if k == len(s.items) {
		return true
	}
	if s.steps++; s.steps > 2000 {
		return false
	}
	l, want := s.in.Len[s.items[k]], s.sum[s.items[k]]
	for a := int64(0); a*s.ta <= want && a*l <= restA; a++ {
		if (want-a*s.ta)%s.tb != 0 {
			continue
		}
		b := (want - a*s.ta) / s.tb
		s.a, s.b = append(s.a[:k], int32(a)), append(s.b[:k], int32(b))
		if s.try(k+1, restA-a*l, restB-b*l, leftA-a, leftB-b) {
			return true
		}
	}
	return false
}

func (s *splitter) pattern(c []int32) Pattern {
	p := Pattern{Stock: s.st}
	for k, n := range c {
		if n > 0 {
			p.Item = append(p.Item, s.items[k])
			p.Count = append(p.Count, n)
		}
	}
	return p
}
