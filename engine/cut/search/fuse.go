package search

import "slices"

// fuse looks for two patterns of one stock that can be cut as one, or three as
// two, and reports the first gain.
func (p *polisher) fuse() bool {
	runs := p.runs
	if p.sum == nil {
		p.sum, p.seen = make([]int64, len(p.in.Len)), make([]int, len(p.in.Len))
	}
	clear(p.sum)
	for a := range runs {
		p.count(&runs[a], 1)
		for b := a + 1; b < len(runs) && p.left > 0; b++ {
			if runs[a].Stock != runs[b].Stock {
				continue
			}
			p.count(&runs[b], 1)
			two := runs[a].Times + runs[b].Times
			p.left -= 30
			if p.parts(two, two, &runs[a], &runs[b]) {
				old := []Run{runs[a], runs[b]}
				if r, ok := p.recut(old, 1); ok && p.stays(old, r, false) {
					p.replace(r, a, b)
					return true
				}
			}
			for c := b + 1; c < len(runs) && p.left > 0; c++ {
				if runs[c].Stock != runs[a].Stock {
					continue
				}
				p.count(&runs[c], 1)
				p.left -= 30
				if p.threeAsTwo(a, b, c) {
					return true
				}
				p.count(&runs[c], -1)
			}
			p.count(&runs[b], -1)
		}
		p.count(&runs[a], -1)
	}
	return false
}

// threeAsTwo cuts the boards of three patterns by two if it can.
func (p *polisher) threeAsTwo(a, b, c int) bool {
	runs := p.runs
	boards := runs[a].Times + runs[b].Times + runs[c].Times
	can := false
	for _, r := range [3]int{a, b, c} {
		t := runs[r].Times
		can = can || p.parts(t, boards-t, &runs[a], &runs[b], &runs[c])
	}
	if !can {
		return false
	}
	old := []Run{runs[a], runs[b], runs[c]}
	r, ok := p.recut(old, 2)
	if ok = ok && p.stays(old, r, false); ok {
		p.replace(r, a, b, c)
	}
	return ok
}

// count adds n times the pieces of a run to the sums.
func (p *polisher) count(r *Run, n int64) {
	for k, i := range r.Item {
		p.sum[i] += n * r.Times * int64(r.Count[k])
	}
}

// parts reports whether the runs' pieces may be so many of one pattern and so
// many of another: each sum must be, and what each pattern then holds at least
// must fit.
func (p *polisher) parts(ta, tb int64, runs ...*Run) bool {
	restA := p.in.Stock[runs[0].Stock].Cap
	restB := restA
	p.mark++
	for _, r := range runs {
		for _, i := range r.Item {
			if p.seen[i] == p.mark {
				continue
			}
			p.seen[i] = p.mark
			a := least(p.sum[i], ta, tb)
			b := least(p.sum[i], tb, ta)
			restA -= a * p.in.Len[i]
			restB -= b * p.in.Len[i]
			if a < 0 || restA < 0 || restB < 0 {
				return false
			}
		}
	}
	return true
}

// least is the least a such that a times ta and some number times tb make n, or -1.
func least(n, ta, tb int64) int64 {
	for a := int64(0); n >= 0; a++ {
		if n%tb == 0 {
			return a
		}
		n -= ta
	}
	return -1
}

// recut cuts the same pieces from as many boards by n patterns, one or two.
func (p *polisher) recut(runs []Run, n int) ([]Run, bool) {
	in := p.in
	if p.all == nil {
		p.all = make([]int64, len(in.Len))
	}
	sum, items, splits := p.all, p.items[:0], p.splits[:0]
	boards := int64(0)
	for _, r := range runs {
		boards += r.Times
		splits = append(splits, r.Times)
		for k, i := range r.Item {
			if sum[i] == 0 && r.Count[k] > 0 {
				items = append(items, i)
			}
			sum[i] += r.Times * int64(r.Count[k])
		}
	}
	p.items, p.splits = items, splits
	defer func() {
		for _, i := range items {
			sum[i] = 0
		}
	}()
	slices.Sort(items)
	st := runs[0].Stock
	if n == 1 {
		q := Pattern{Stock: st}
		for _, i := range items {
			if sum[i]%boards != 0 {
				return nil, false
			}
			q.Item = append(q.Item, i)
			q.Count = append(q.Count, int32(sum[i]/boards))
		}
		if !in.fits(&q) {
			return nil, false
		}
		return []Run{{q, boards}}, true
	}
	for k, t := range splits {
		if t == boards || slices.Contains(splits[:k], t) || slices.Contains(splits[:k], boards-t) {
			continue
		}
		s := splitter{in: in, items: items, sum: sum, ta: t, tb: boards - t, st: st, a: p.a, b: p.b}
		most := int64(1) << 40
		if in.Most > 0 {
			most = int64(in.Most)
		}
		ok := s.try(0, in.Stock[st].Cap, in.Stock[st].Cap, most, most)
		p.left -= s.steps
		p.a, p.b = s.a, s.b
		if ok {
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
	sum    []int64
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
