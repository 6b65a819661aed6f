package search

// greedy fills boards one pattern at a time, longest piece first, each time on
// the stock that gives the most length for its cost, and cuts the pattern as
// often as it goes. It reports nil when limited boards run out.
func (in *Instance) greedy() []Run {
	dem := append([]int64(nil), in.Dem...)
	avail := make([]int64, len(in.Stock))
	for s := range avail {
		avail[s] = in.Stock[s].Avail
	}
	var runs []Run
	for {
		best, bestUsed := Pattern{Stock: -1}, int64(0)
		left := false
		for _, d := range dem {
			left = left || d > 0
		}
		if !left {
			return runs
		}
		for s := range in.Stock {
			if avail[s] <= 0 {
				continue
			}
			p := in.fill(s, dem)
			if len(p.Item) == 0 {
				continue
			}
			u := in.used(&p)
			if best.Stock < 0 || less128(in.cost(&p), bestUsed, in.cost(&best), u) {
				best, bestUsed = p, u
			}
		}
		if best.Stock < 0 {
			return nil
		}
		times := avail[best.Stock]
		for k, i := range best.Item {
			times = min(times, dem[i]/int64(best.Count[k]))
		}
		for k, i := range best.Item {
			dem[i] -= times * int64(best.Count[k])
		}
		if avail[best.Stock] != Unlimited {
			avail[best.Stock] -= times
		}
		runs = append(runs, Run{best, times})
	}
}

// less128 reports a*b < c*d.
func less128(a, b, c, d int64) bool {
	var x, y int128
	x.addMul(a, b)
	y.addMul(c, d)
	return x.hi < y.hi || x.hi == y.hi && x.lo < y.lo
}

// fill is the first-fit pattern of a stock.
func (in *Instance) fill(s int, dem []int64) Pattern {
	p := Pattern{Stock: s}
	rest := in.Stock[s].Cap
	left := int64(1) << 40
	if in.Most > 0 {
		left = int64(in.Most)
	}
	for i, l := range in.Len {
		n := min(dem[i], rest/l, left)
		if n > 0 {
			p.Item = append(p.Item, int32(i))
			p.Count = append(p.Count, int32(n))
			rest -= n * l
			left -= n
		}
	}
	return p
}
