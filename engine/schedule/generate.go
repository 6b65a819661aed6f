package schedule

// stepsEach is what taking an activity from the queue costs, in steps.
const stepsEach = 8

// generator makes schedules: serial and parallel schedule generation (Kelley
// 1963; Kolisch 1996) and double justification (Valls, Ballestin & Quintanilla
// 2005).
type generator struct {
	in    *instance
	use   []profile
	wait  []int
	work  int64
	queue heapOf[int]
	rank  []int64
}

func newGenerator(in *instance) *generator {
	return &generator{in: in, use: make([]profile, len(in.capacity)), wait: make([]int, in.n), rank: make([]int64, in.n)}
}

// serial takes the activities in the order of their ranks, as far as links
// allow, and starts each as early as it can without moving another.
func (g *generator) serial(rank []int64) []int64 {
	in := g.in
	start := make([]int64, in.n)
	g.reset()
	g.byRank(rank)
	for i := range in.n {
		if g.wait[i] = len(in.pred[i]); g.wait[i] == 0 {
			g.queue.push(i)
		}
	}
	for len(g.queue.item) > 0 {
		i := g.queue.pop()
		g.work += stepsEach + int64(len(in.pred[i])+len(in.succ[i]))
		s := int64(0)
		for _, l := range in.pred[i] {
			s = max(s, in.axis.after(start[l.to]+in.dur[l.to], l.lag, l.elapsed))
		}
		start[i] = g.early(i, s)
		g.hold(i, start[i])
		for _, l := range in.succ[i] {
			if g.wait[l.to]--; g.wait[l.to] == 0 {
				g.queue.push(l.to)
			}
		}
	}
	return start
}

// back takes the activities by rank from the end and starts each as late as it
// can to be done by end; nil if one would have to start before the work does.
func (g *generator) back(rank []int64, end int64) []int64 {
	in := g.in
	start := make([]int64, in.n)
	g.reset()
	g.byRank(rank)
	for i := range in.n {
		if g.wait[i] = len(in.succ[i]); g.wait[i] == 0 {
			g.queue.push(i)
		}
	}
	for len(g.queue.item) > 0 {
		i := g.queue.pop()
		g.work += stepsEach + int64(len(in.pred[i])+len(in.succ[i]))
		f := end
		for _, l := range in.succ[i] {
			f = min(f, in.axis.before(start[l.to], l.lag, l.elapsed))
		}
		if start[i] = g.late(i, f-in.dur[i]); start[i] < 0 {
			return nil
		}
		g.hold(i, start[i])
		for _, l := range in.pred[i] {
			if g.wait[l.to]--; g.wait[l.to] == 0 {
				g.queue.push(l.to)
			}
		}
	}
	return start
}

// byRank empties the queue and orders it anew: least rank first, then the
// lowest index.
func (g *generator) byRank(rank []int64) {
	g.queue.item = g.queue.item[:0]
	g.queue.less = func(a, b int) bool { return rank[a] < rank[b] || rank[a] == rank[b] && a < b }
}

func (g *generator) reset() {
	for k := range g.use {
		g.use[k].reset()
	}
	g.work += int64(g.in.n)
}

func (g *generator) hold(i int, s int64) {
	for _, u := range g.in.needs[i] {
		g.use[u.res].add(s, s+g.in.dur[i], u.amount)
	}
}

// early is the first start at or after s that suits all resources and the day.
func (g *generator) early(i int, s int64) int64 {
	in := g.in
	for {
		t := in.legal(i, s)
		for _, u := range in.needs[i] {
			next, steps := g.use[u.res].fits(t, in.dur[i], in.capacity[u.res]-u.amount)
			g.work += steps
			t = max(t, next)
		}
		if t == s {
			return s
		}
		s = t
	}
}

// late is the last start at or before s that suits all resources and the day.
func (g *generator) late(i int, s int64) int64 {
	in := g.in
	for s >= 0 {
		t := in.legalBack(i, s)
		for _, u := range in.needs[i] {
			next, steps := g.use[u.res].fitsBack(t, in.dur[i], in.capacity[u.res]-u.amount)
			g.work += steps
			t = min(t, next)
		}
		if t == s {
			return s
		}
		s = t
	}
	return s
}

// justify pushes a schedule to the right and to the left again while that makes
// it shorter. It never gets longer: each activity could keep its place.
func (g *generator) justify(start []int64) []int64 {
	in := g.in
	end := in.length(start)
	for {
		for i, s := range start {
			g.rank[i] = -(s + in.dur[i])
		}
		right := g.back(g.rank, end)
		if right == nil {
			return start
		}
		copy(g.rank, right)
		left := g.serial(g.rank)
		if e := in.length(left); e < end {
			start, end = left, e
			continue
		} else if e == end {
			start = left
		}
		return start
	}
}
