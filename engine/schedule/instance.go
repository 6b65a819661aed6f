package schedule

// arc is a link seen from one of its ends.
type arc struct {
	to      int
	lag     int64
	elapsed bool
}

// need is an amount of a resource, above zero.
type need struct {
	res    int
	amount int64
}

// instance is a project as the search sees it.
type instance struct {
	n          int
	axis       *axis
	dur        []int64
	whole      []bool
	pred, succ [][]arc
	needs      [][]need
	capacity   []int64
	order      []int // topological, lowest index first among equals
}

// compile makes the instance of a project that Check has found good.
func compile(p *Project) *instance {
	n := len(p.Activities)
	in := &instance{
		n: n, axis: newAxis(p.Calendar),
		dur: make([]int64, n), whole: make([]bool, n),
		pred: make([][]arc, n), succ: make([][]arc, n), needs: make([][]need, n),
	}
	for _, r := range p.Resources {
		in.capacity = append(in.capacity, r.Capacity)
	}
	for i := range p.Activities {
		a := &p.Activities[i]
		in.dur[i] = a.Minutes
		in.whole[i] = a.Whole && !in.axis.endless() && a.Minutes > 0
		for _, l := range a.After {
			in.link(l.Activity, i, l.Lag, l.Elapsed)
		}
		for _, u := range a.Uses {
			in.use(i, u)
		}
	}
	in.sort()
	return in
}

func (in *instance) link(from, to int, lag int64, elapsed bool) {
	in.pred[to] = append(in.pred[to], arc{from, lag, elapsed})
	in.succ[from] = append(in.succ[from], arc{to, lag, elapsed})
}

// use adds up what is asked of one resource more than once. What takes no time
// holds nothing.
func (in *instance) use(i int, u Use) {
	if u.Amount == 0 || in.dur[i] == 0 {
		return
	}
	for k := range in.needs[i] {
		if in.needs[i][k].res == u.Resource {
			in.needs[i][k].amount += u.Amount
			return
		}
	}
	in.needs[i] = append(in.needs[i], need{u.Resource, u.Amount})
}

// sort puts the activities in an order that keeps every link.
func (in *instance) sort() {
	wait := make([]int, in.n)
	ready := heapOf[int]{less: func(a, b int) bool { return a < b }}
	for i := range in.n {
		if wait[i] = len(in.pred[i]); wait[i] == 0 {
			ready.push(i)
		}
	}
	for len(ready.item) > 0 {
		i := ready.pop()
		in.order = append(in.order, i)
		for _, l := range in.succ[i] {
			if wait[l.to]--; wait[l.to] == 0 {
				ready.push(l.to)
			}
		}
	}
}

// legal is the first start at or after s that activity i may have.
func (in *instance) legal(i int, s int64) int64 {
	if in.whole[i] {
		return in.axis.fits(s, in.dur[i])
	}
	return s
}

// legalBack is the last such start at or before s; below zero if there is none.
func (in *instance) legalBack(i int, s int64) int64 {
	if in.whole[i] {
		return in.axis.fitsBack(s, in.dur[i])
	}
	return s
}

// heads are the earliest starts by precedence alone.
func (in *instance) heads() []int64 {
	es := make([]int64, in.n)
	for _, i := range in.order {
		s := int64(0)
		for _, l := range in.pred[i] {
			s = max(s, in.axis.after(es[l.to]+in.dur[l.to], l.lag, l.elapsed))
		}
		es[i] = in.legal(i, s)
	}
	return es
}

// latest are the latest starts by precedence alone for which all is done at end;
// below zero where there is none.
func (in *instance) latest(end int64) []int64 {
	ls := make([]int64, in.n)
	for k := in.n - 1; k >= 0; k-- {
		i := in.order[k]
		f := end
		for _, l := range in.succ[i] {
			f = min(f, in.axis.before(ls[l.to], l.lag, l.elapsed))
		}
		ls[i] = in.legalBack(i, f-in.dur[i])
	}
	return ls
}

// length is when the last activity finishes.
func (in *instance) length(start []int64) int64 {
	end := int64(0)
	for i, s := range start {
		end = max(end, s+in.dur[i])
	}
	return end
}

// drive follows back what holds up the last finish, as far as links explain it.
func (in *instance) drive(start []int64) []int {
	at, end := -1, int64(-1)
	for _, i := range in.order {
		if f := start[i] + in.dur[i]; f > end {
			at, end = i, f
		}
	}
	var path []int
	for at >= 0 {
		path = append(path, at)
		next, latest := -1, int64(-1)
		for _, l := range in.pred[at] {
			s := in.axis.after(start[l.to]+in.dur[l.to], l.lag, l.elapsed)
			if s > latest || s == latest && start[l.to] > start[next] {
				next, latest = l.to, s
			}
		}
		if next >= 0 && in.legal(at, latest) < start[at] {
			next = -1
		}
		at = next
	}
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return path
}
