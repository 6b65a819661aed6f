package schedule

import "sort"

// parcel is an amount of a resource that an activity passes on when it is done.
type parcel struct {
	from   int // activity, or -1 for what is there from the start
	amount int64
	until  int64
}

// ordered is the instance with a link wherever a schedule hands a resource on,
// so that whoever keeps to its links keeps to the resources (a partial order
// schedule by chaining: Policella, Cesta, Oddi & Smith 2004).
func (in *instance) ordered(start []int64) *instance {
	out := *in
	out.pred, out.succ, out.order = make([][]arc, in.n), make([][]arc, in.n), nil
	for i := range in.n {
		for _, l := range in.pred[i] {
			out.link(l.to, i, l.lag, l.elapsed)
		}
	}
	held := make([][]parcel, len(in.capacity))
	for r, c := range in.capacity {
		held[r] = []parcel{{-1, c, 0}}
	}
	for _, i := range byStart(start) {
		for _, u := range in.needs[i] {
			held[u.res] = out.take(held[u.res], i, u.amount, start[i], start[i]+in.dur[i])
		}
	}
	out.sort()
	return &out
}

// take moves an amount from the parcels to activity i and links it to where they
// come from: first those it comes after anyway, then those free the longest.
func (in *instance) take(held []parcel, i int, amount, at, until int64) []parcel {
	comes := map[int]bool{-1: true}
	for _, l := range in.pred[i] {
		comes[l.to] = true
	}
	left := amount
	for _, known := range []bool{true, false} {
		for k := range held {
			p := &held[k]
			if left == 0 || p.until > at || p.amount == 0 || comes[p.from] != known {
				continue
			}
			part := min(left, p.amount)
			left -= part
			p.amount -= part
			if !known {
				in.link(p.from, i, 0, false)
			}
		}
	}
	keep := held[:0]
	for _, p := range held {
		if p.amount > 0 {
			keep = append(keep, p)
		}
	}
	keep = append(keep, parcel{i, amount, until})
	sort.SliceStable(keep, func(a, b int) bool { return keep[a].until < keep[b].until })
	return keep
}
