package schedule

import "sort"

// parallel goes through time and starts at each moment what can start, by rank.
func (g *generator) parallel(rank []int64) []int64 {
	in := g.in
	p := &pass{in: in, start: make([]int64, in.n), free: append([]int64(nil), in.capacity...), wait: g.wait}
	p.coming.less = func(a, b event) bool { return a.time < b.time || a.time == b.time && a.activity < b.activity }
	for i := range in.n {
		if p.wait[i] = len(in.pred[i]); p.wait[i] == 0 {
			p.coming.push(event{in.legal(i, 0), i, false})
		}
	}
	less := func(a, b int) bool { return rank[a] < rank[b] || rank[a] == rank[b] && a < b }
	for len(p.coming.item) > 0 {
		now := p.coming.item[0].time
		for len(p.coming.item) > 0 && p.coming.item[0].time == now {
			e := p.coming.pop()
			if e.done {
				p.release(e.activity)
				continue
			}
			k := sort.Search(len(p.ready), func(k int) bool { return less(e.activity, p.ready[k]) })
			p.ready = append(p.ready, 0)
			copy(p.ready[k+1:], p.ready[k:])
			p.ready[k] = e.activity
		}
		g.work += int64(len(p.ready)) + stepsEach
		p.begin(now)
	}
	return p.start
}

// event is an activity that becomes ready, or is done.
type event struct {
	time     int64
	activity int
	done     bool
}

// pass is the state of parallel generation.
type pass struct {
	in     *instance
	start  []int64
	free   []int64
	wait   []int
	ready  []int // by rank
	coming heapOf[event]
}

func (p *pass) release(i int) {
	for _, u := range p.in.needs[i] {
		p.free[u.res] += u.amount
	}
}

// begin starts what can start now.
func (p *pass) begin(now int64) {
	keep := p.ready[:0]
	for _, i := range p.ready {
		switch {
		case !p.room(i):
			keep = append(keep, i)
		case p.in.legal(i, now) > now:
			p.coming.push(event{p.in.legal(i, now), i, false})
		default:
			p.set(i, now)
		}
	}
	p.ready = keep
}

func (p *pass) room(i int) bool {
	for _, u := range p.in.needs[i] {
		if p.free[u.res] < u.amount {
			return false
		}
	}
	return true
}

// set starts an activity and lets those come that waited for it alone.
func (p *pass) set(i int, now int64) {
	in := p.in
	p.start[i] = now
	for _, u := range in.needs[i] {
		p.free[u.res] -= u.amount
	}
	p.coming.push(event{now + in.dur[i], i, true})
	for _, l := range in.succ[i] {
		if p.wait[l.to]--; p.wait[l.to] > 0 {
			continue
		}
		s := int64(0)
		for _, m := range in.pred[l.to] {
			s = max(s, in.axis.after(p.start[m.to]+in.dur[m.to], m.lag, m.elapsed))
		}
		p.coming.push(event{in.legal(l.to, s), l.to, false})
	}
}
