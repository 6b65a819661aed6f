package search

// tightest plans a single unlimited stock board by board: the longest piece
// left, then whatever fills the rest of the board best (minimum bin slack:
// Gupta and Ho 1999, with the longest piece fixed as Fleszar and Hindi 2002).
func (in *Instance) tightest() []Run {
	f := filler{in: in, dem: append([]int64(nil), in.Dem...)}
	var runs []Run
	for first := 0; first < len(f.dem); {
		if f.dem[first] == 0 {
			first++
			continue
		}
		p := f.board(first)
		times := int64(1) << 40
		for k, i := range p.Item {
			times = min(times, f.dem[i]/int64(p.Count[k]))
		}
		for k, i := range p.Item {
			f.dem[i] -= times * int64(p.Count[k])
		}
		runs = append(runs, Run{p, times})
	}
	return runs
}

// filler fills one board.
type filler struct {
	in    *Instance
	dem   []int64
	count []int32
	best  []int32
	slack int64
	least int64 // shortest piece left
	steps int
}

// board is the best filling found that holds one of item first, within some
// thousand steps.
func (f *filler) board(first int) Pattern {
	f.count = make([]int32, len(f.dem))
	f.best = make([]int32, len(f.dem))
	f.slack = f.in.Stock[0].Cap + 1
	f.steps = 0
	f.count[first] = 1
	left := int64(1) << 40
	if f.in.Most > 0 {
		left = int64(f.in.Most)
	}
	f.dem[first]--
	f.fill(first, f.in.Stock[0].Cap-f.in.Len[first], left-1)
	f.dem[first]++
	p := Pattern{}
	for i, n := range f.best {
		if n > 0 {
			p.Item = append(p.Item, int32(i))
			p.Count = append(p.Count, n)
		}
	}
	return p
}

func (f *filler) fill(i int, rest, left int64) {
	if rest < f.slack {
		f.slack = rest
		copy(f.best, f.count)
	}
	for ; i < len(f.dem) && f.slack > 0 && left > 0; i++ {
		if f.steps++; f.steps > 20000 {
			return
		}
		l := f.in.Len[i]
		for n := min(f.dem[i], rest/l, left); n > 0 && f.slack > 0; n-- {
			f.count[i] += int32(n)
			f.fill(i+1, rest-n*l, left-n)
			f.count[i] -= int32(n)
		}
	}
}

// halves is the bound L2 of Martello and Toth (1990, section 8.3.2) on the
// boards of a single stock, times its cost: pieces over half a board lie alone,
// and shorter ones go beside them or on boards of their own.
func (in *Instance) halves() int64 {
	c := in.Stock[0].Cap
	best := int64(0)
	try := func(a int64) {
		alone, room, short := int64(0), int64(0), int64(0)
		for i, l := range in.Len {
			switch d := in.Dem[i]; {
			case l > c-a:
				alone += d
			case 2*l > c:
				alone += d
				room += d * (c - l)
			case l >= a:
				short += d * l
			}
		}
		n := alone
		if short > room {
			n += (short - room + c - 1) / c
		}
		best = max(best, n)
	}
	try(0)
	for _, l := range in.Len {
		if 2*l <= c {
			try(l)
		}
	}
	return best * in.Stock[0].Cost
}
