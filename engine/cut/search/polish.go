package search

// A Loss tells what of a board of a stock is neither piece nor offcut worth
// keeping when so much of its Cap is used, in any unit. It must not depend on
// anything else.
type Loss func(stock int, used int64) int64

// polishSteps is how much a plan may be looked over, in elementary steps.
const polishSteps = 400_000

// Polish improves a plan without changing its cost: less loss, then fewer
// distinct patterns, then fewer boards. It is a local search: two boards share
// their pieces anew, a board becomes another of the same cost, two or three
// patterns become one fewer, two boards become one. loss may be nil.
func Polish(in *Instance, runs []Run, loss Loss) []Run {
	if loss == nil {
		loss = func(int, int64) int64 { return 0 }
	}
	p := &polisher{in: in, loss: loss, runs: tidy(append([]Run(nil), runs...)), left: polishSteps}
	p.shorten()
	for p.left > 0 && (p.gather() || p.fuse() || p.join()) {
	}
	return tidy(p.runs)
}

type polisher struct {
	in   *Instance
	loss Loss
	runs []Run
	left int

	sum    []int64 // fuse: pieces of each item in the runs looked at
	seen   []int   // parts: the mark of each item looked at
	mark   int
	all    []int64 // recut: pieces of each item, zero between calls
	items  []int32
	splits []int64
	a, b   []int32
}

// lossOf is what a board cut by a pattern loses.
func (p *polisher) lossOf(q *Pattern) int64 { return p.loss(q.Stock, p.in.used(q)) }

// stays reports whether runs may take the place of others: the cost and the
// boards of each stock must be the same and the loss no more; less when less is
// asked for.
func (p *polisher) stays(old, new []Run, less bool) bool {
	cost, loss := int64(0), int64(0)
	for i := range old {
		cost -= old[i].Times * p.in.cost(&old[i].Pattern)
		loss -= old[i].Times * p.lossOf(&old[i].Pattern)
	}
	for i := range new {
		if !p.in.fits(&new[i].Pattern) {
			return false
		}
		cost += new[i].Times * p.in.cost(&new[i].Pattern)
		loss += new[i].Times * p.lossOf(&new[i].Pattern)
	}
	return cost == 0 && (loss < 0 || loss == 0 && !less)
}

// replace puts runs in the place of others.
func (p *polisher) replace(with []Run, drop ...int) {
	gone := map[int]bool{}
	for _, d := range drop {
		gone[d] = true
	}
	var out []Run
	for i, r := range p.runs {
		if !gone[i] {
			out = append(out, r)
		}
	}
	p.runs = tidy(append(out, with...))
}

// free is how many more boards of each stock can be had.
func (p *polisher) free() []int64 {
	left := make([]int64, len(p.in.Stock))
	for s := range left {
		left[s] = p.in.Stock[s].Avail
	}
	for _, r := range p.runs {
		if left[r.Stock] != Unlimited {
			left[r.Stock] -= r.Times
		}
	}
	return left
}

// shorten moves patterns to stock of the same cost that loses less, the shortest
// where it is the same.
func (p *polisher) shorten() {
	in, left := p.in, p.free()
	var out []Run
	for _, r := range p.runs {
		for r.Times > 0 {
			best := r.Pattern
			for s := range in.Stock {
				q := r.Pattern
				q.Stock = s
				if left[s] <= 0 || in.Stock[s].Cap < in.used(&q) || in.cost(&q) != in.cost(&best) || !in.fits(&q) {
					continue
				}
				a, b := p.lossOf(&q), p.lossOf(&best)
				if a < b || a == b && in.Stock[s].Cap < in.Stock[best.Stock].Cap {
					best = q
				}
			}
			q := r
			if best.Stock != r.Stock {
				q.Times = min(r.Times, left[best.Stock])
				if left[best.Stock] != Unlimited {
					left[best.Stock] -= q.Times
				}
				if left[r.Stock] != Unlimited {
					left[r.Stock] += q.Times
				}
			}
			q.Pattern = best
			out = append(out, q)
			r.Times -= q.Times
		}
	}
	p.runs = tidy(out)
}

// gather lets two boards share their pieces anew, so that what is left lies
// together and is worth keeping. It reports the first gain.
func (p *polisher) gather() bool {
	for a := range p.runs {
		for b := a; b < len(p.runs) && p.left > 0; b++ {
			p.left -= 10
			x, y := &p.runs[a], &p.runs[b]
			times := min(x.Times, y.Times)
			if a == b {
				times = x.Times / 2
			}
			la, lb := p.lossOf(&x.Pattern), p.lossOf(&y.Pattern)
			if times == 0 || la == p.loss(x.Stock, p.in.Stock[x.Stock].Cap) && lb == p.loss(y.Stock, p.in.Stock[y.Stock].Cap) && p.noRoom(x, y) {
				continue
			}
			s := p.sharer(x, y)
			s.best = la + lb
			if s.try(0); s.found == nil {
				continue
			}
			s.found[0].Times, s.found[1].Times = times, times
			old := []Run{{x.Pattern, times}, {y.Pattern, times}}
			if !p.stays(old, s.found, true) {
				continue
			}
			rest := append([]Run(nil), s.found...)
			if a == b {
				rest = append(rest, Run{x.Pattern, x.Times - 2*times})
				p.replace(rest, a)
			} else {
				rest = append(rest, Run{x.Pattern, x.Times - times}, Run{y.Pattern, y.Times - times})
				p.replace(rest, a, b)
			}
			return true
		}
	}
	return false
}

// noRoom reports whether two boards together leave too little to gain from.
func (p *polisher) noRoom(x, y *Run) bool {
	in := p.in
	rest := in.Stock[x.Stock].Cap - in.used(&x.Pattern) + in.Stock[y.Stock].Cap - in.used(&y.Pattern)
	return p.loss(x.Stock, max(0, in.Stock[x.Stock].Cap-rest)) == p.loss(x.Stock, in.Stock[x.Stock].Cap) &&
		p.loss(y.Stock, max(0, in.Stock[y.Stock].Cap-rest)) == p.loss(y.Stock, in.Stock[y.Stock].Cap)
}

// sharer tries the ways to part the pieces of two boards.
type sharer struct {
	p     *polisher
	a, b  Pattern // stocks of the two, and all pieces in b's lists
	on    []int32 // of each item on the first board
	best  int64
	found []Run
	steps int
}

func (p *polisher) sharer(x, y *Run) *sharer {
	s := &sharer{p: p, a: Pattern{Stock: x.Stock}, b: Pattern{Stock: y.Stock}}
	sum := map[int32]int32{}
	for _, r := range []*Run{x, y} {
		for k, i := range r.Item {
			sum[i] += r.Count[k]
		}
	}
	for i := range p.in.Len {
		if n := sum[int32(i)]; n > 0 {
			s.b.Item = append(s.b.Item, int32(i))
			s.b.Count = append(s.b.Count, n)
		}
	}
	s.on = make([]int32, len(s.b.Item))
	return s
}

func (s *sharer) try(k int) {
	if s.steps++; s.steps > 500 || s.p.left <= 0 {
		return
	}
	s.p.left--
	in := s.p.in
	if k == len(s.on) {
		a, b := s.part()
		ua, ub := in.used(&a), in.used(&b)
		if ua > in.Stock[a.Stock].Cap || ub > in.Stock[b.Stock].Cap || len(a.Item) == 0 || len(b.Item) == 0 {
			return
		}
		if l := s.p.loss(a.Stock, ua) + s.p.loss(b.Stock, ub); l < s.best {
			s.best = l
			s.found = []Run{{a, 0}, {b, 0}}
		}
		return
	}
	for n := s.b.Count[k]; n >= 0; n-- {
		s.on[k] = n
		s.try(k + 1)
	}
	s.on[k] = 0
}

// part is the two boards as they stand.
func (s *sharer) part() (a, b Pattern) {
	a.Stock, b.Stock = s.a.Stock, s.b.Stock
	for k, i := range s.b.Item {
		if n := s.on[k]; n > 0 {
			a.Item, a.Count = append(a.Item, i), append(a.Count, n)
		}
		if n := s.b.Count[k] - s.on[k]; n > 0 {
			b.Item, b.Count = append(b.Item, i), append(b.Count, n)
		}
	}
	return a, b
}

// join cuts the pieces of two boards from one, where a longer board costs as
// much as the two and no more is lost or told apart.
func (p *polisher) join() bool {
	left := p.free()
	for a := range p.runs {
		for b := a; b < len(p.runs) && p.left > 0; b++ {
			p.left -= 20
			x, y := p.runs[a], p.runs[b]
			if a == b && x.Times%2 != 0 || a != b && x.Times != y.Times {
				continue // some boards would stay, and a pattern be more
			}
			times := x.Times
			if a == b {
				times /= 2
			}
			if !p.joinable(&x, &y, times, left) {
				continue
			}
			_, all := p.sharer(&x, &y).part()
			for s := range p.in.Stock {
				q := all
				q.Stock = s
				old := []Run{{x.Pattern, times}, {y.Pattern, times}}
				if with := []Run{{q, times}}; left[s] >= times && p.stays(old, with, false) {
					if a == b {
						p.replace(with, a)
					} else {
						p.replace(with, a, b)
					}
					return true
				}
			}
		}
	}
	return false
}

// joinable reports whether some stock could take the pieces of two boards for what
// they cost.
func (p *polisher) joinable(x, y *Run, times int64, left []int64) bool {
	in := p.in
	if in.Credit.Value != 0 {
		return true
	}
	cost, used := in.Stock[x.Stock].Cost+in.Stock[y.Stock].Cost, in.used(&x.Pattern)+in.used(&y.Pattern)
	for s, st := range in.Stock {
		if st.Cost == cost && st.Cap >= used && left[s] >= times {
			return true
		}
	}
	return false
}
