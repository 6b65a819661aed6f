package search

import (
	"cmp"
	"math"
	"slices"
)

// picker looks for the cheapest numbers of boards that break no cut, depth first,
// at each stock from what the root's linear program takes outwards.
type picker struct {
	c        *counts
	order    []int // places in priced: those whose boards cost most beyond their worth first
	cost     []int64
	hi       []int64
	rows     []countRow
	low, top int64 // costs that are looked for
	at       []int64
	found    []int64 // the cheapest so far, and of those the nearest
	far      float64 // how far they are from what the root's linear program takes, in cost
	share    []float64
	steps    int64
	until    int64 // steps after which numbers at the least cost are near enough
}

// nearSteps is how long to look for numbers nearer to what the root's linear
// program takes: they hold the pieces more likely.
const nearSteps = 20_000

// cheapest is the numbers of boards to try next, nil when all that is within the
// target has been tried. It raises low to their cost.
func (c *counts) cheapest() []int64 {
	s := c.s
	for wide := int64(0); c.low <= s.target() && !s.spent(); wide = 4*wide + 3*s.step {
		p := c.picker()
		p.low, p.top = c.low, s.target()
		if p.top-p.low > wide {
			p.top = p.low + wide
		}
		last := p.top
		for i := range p.rows {
			p.bound(&p.rows[i], 0)
		}
		p.from(0, 0, 0)
		s.work += p.steps
		if s.spent() {
			break // what was found need not be the cheapest
		}
		if p.found != nil {
			c.low = p.top
			return p.found
		}
		c.low = last + s.step
	}
	return nil
}

func (c *counts) picker() *picker {
	s := c.s
	p := &picker{c: c, at: make([]int64, len(s.in.Stock))}
	p.rows = append(p.rows, c.row(c.share))
	for i := max(0, len(c.cuts)-rowsMost); i < len(c.cuts); i++ {
		p.rows = append(p.rows, c.alone(i))
	}
	for k := range c.priced {
		p.order = append(p.order, k)
	}
	// Those alike in what they cost beyond their worth, as are all that the linear
	// program takes, go by price, so that few numbers are left for the last.
	beyond := func(k int) int64 { return int64(math.Abs(p.rows[0].red[k]) / (s.typical * 1e-6)) }
	slices.SortStableFunc(p.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(beyond(b), beyond(a)), cmp.Compare(s.in.Stock[c.priced[b]].Cost, s.in.Stock[c.priced[a]].Cost))
	})
	for _, k := range p.order {
		st := c.priced[k]
		p.cost = append(p.cost, s.in.Stock[st].Cost)
		p.hi = append(p.hi, s.limit(st))
	}
	for st, sk := range s.in.Stock {
		if sk.Cost == 0 {
			p.at[st] = s.limit(st)
		}
	}
	return p
}

// from tries all numbers from place k on. The numbers before cost spent and are
// away from what the root's linear program takes. end says that the search should
// end.
func (p *picker) from(k int, spent int64, away float64) (known reach, end bool) {
	p.steps += int64(2 * len(p.rows))
	if p.over() {
		return unsure, true
	}
	b := p.span(k, spent)
	known = b.reach()
	lo, hi := b.whole()
	left := len(p.order) - k
	switch {
	case known == dead:
		return dead, false
	case left == 1:
		p.last(k, spent, lo, hi)
		return known, p.over()
	case left == 2:
		return p.pair(k, spent, b, away)
	case k > 0 && lo < hi:
		rows := len(p.rows)
		defer func() { p.rows = p.rows[:rows] }()
		if !p.weighed(k) {
			known = unsure
		}
		b = p.span(k, spent)
		if b.reach() == dead {
			return dead, false
		}
		lo, hi = b.whole()
	}
	some := false
	for o := p.outwards(k, lo, hi, 1, 0); o.next(); {
		far := away + p.away(k, o.n)
		if p.exact() && far >= p.far {
			o.stop()
			continue
		}
		p.at[p.c.priced[p.order[k]]] = o.n
		for i := range p.rows {
			r := &p.rows[i]
			r.done[k+1] = r.done[k] + float64(r.red[p.order[k]]*float64(o.n))
		}
		below, end := p.from(k+1, spent+o.n*p.cost[k], far)
		if end {
			return unsure, true
		}
		some = some || below == alive
		if below == dead && some {
			o.stop()
		}
	}
	return known, false
}

// over reports whether the search should end: the work is spent, or numbers of
// the least cost looked for are near enough.
func (p *picker) over() bool {
	if p.steps > 1<<20 {
		p.c.s.work += p.steps
		p.steps, p.until = 0, p.until-p.steps
		return p.c.s.spent()
	}
	return p.exact() && p.steps > p.until
}

// away is how far a number at a place is from what the root's linear program
// takes, in cost.
func (p *picker) away(k int, n int64) float64 {
	return float64(math.Abs(float64(n)-p.c.middle[p.c.priced[p.order[k]]]) * float64(p.cost[k]))
}

// exact reports whether numbers of the least cost looked for were found.
func (p *picker) exact() bool { return p.found != nil && p.top == p.low }

// take keeps numbers at a cost if they are allowed, and cheaper or nearer than
// those found before.
func (p *picker) take(cost int64) bool {
	far := 0.0
	for k, o := range p.order {
		far += p.away(k, p.at[p.c.priced[o]])
	}
	if p.found != nil && cost == p.top && far >= p.far || !p.allowed() {
		return false
	}
	p.found = append(p.found[:0], p.at...)
	p.far = far
	if p.top = cost; p.exact() && p.until == 0 {
		p.until = p.steps + nearSteps
	}
	return true
}

// outwards goes through the numbers lo..hi that leave a given rest when divided
// by step, from the one near to what the root's linear program takes.
type outwards struct {
	lo, hi, step int64
	up, dn, mid  int64
	n            int64
}

func (p *picker) outwards(k int, lo, hi, step, rest int64) outwards {
	o := outwards{lo: lo, hi: hi, step: step}
	x := p.c.middle[p.c.priced[p.order[k]]]
	o.mid = max(lo, min(hi, int64(math.Round(x))))
	o.up = o.mid + mod(rest-o.mid, step)
	o.dn = o.up - step
	return o
}

func (o *outwards) next() bool {
	switch {
	case o.up > o.hi && o.dn < o.lo:
		return false
	case o.up <= o.hi && (o.dn < o.lo || o.up-o.mid <= o.mid-o.dn):
		o.n = o.up
		o.up += o.step
	default:
		o.n = o.dn
		o.dn -= o.step
	}
	return true
}

// stop ends the way on which the last number lies.
func (o *outwards) stop() {
	if o.n >= o.mid {
		o.up = o.hi + 1
	} else {
		o.dn = o.lo - 1
	}
}

// pair tries the numbers at the last two places. Few costs are looked for as a
// rule, and for each the number at one place must leave a multiple of the other's
// cost.
func (p *picker) pair(k int, spent int64, in between, away float64) (known reach, end bool) {
	p.project(k, spent, &in)
	if in.reach() == dead {
		return dead, false
	}
	lo, hi := in.whole()
	s := p.c.s
	a, b := p.cost[k], p.cost[k+1]
	sx, sy := p.c.priced[p.order[k]], p.c.priced[p.order[k+1]]
	g := gcd(a, b)
	step := b / g
	if levels := (p.top-p.low)/s.step + 1; levels*(8+(hi-lo)/step) > hi-lo {
		for o := p.outwards(k, lo, hi, 1, 0); o.next(); {
			p.at[sx] = o.n
			p.steps++
			p.last(k+1, spent+o.n*a, 0, p.hi[k+1])
			if p.over() {
				return unsure, true
			}
		}
		return alive, false
	}
	inv := solveMod(a/g, 1, step)
	for cost := p.low; cost <= p.top; cost += s.step {
		p.steps += 4
		left := cost - spent
		if left < 0 || left%g != 0 {
			continue
		}
		for o := p.outwards(k, lo, hi, step, mulMod(inv, mod(left/g, step), step)); o.next(); {
			y := left - o.n*a
			if p.exact() && away+p.away(k, o.n) >= p.far {
				o.stop()
				continue
			}
			if y < 0 || y/b > p.hi[k+1] {
				continue
			}
			p.at[sx], p.at[sy] = o.n, y/b
			p.take(cost)
		}
		if p.over() {
			return unsure, true
		}
	}
	return alive, false
}

// last tries the numbers at the last place that give a cost looked for, the
// cheapest first.
func (p *picker) last(k int, spent, lo, hi int64) {
	st, c := p.c.priced[p.order[k]], p.cost[k]
	if need := p.low - spent; need > 0 {
		lo = max(lo, (need+c-1)/c)
	}
	for n := lo; n <= hi && spent+n*c <= p.top; n++ {
		if p.at[st] = n; p.take(spent + n*c) {
			return
		}
	}
}

// allowed reports whether the numbers break no cut and were not tried before.
func (p *picker) allowed() bool {
	for i := range p.c.cuts {
		p.steps += int64(len(p.at))
		if _, broken := p.c.cuts[i].breaks(p.at); broken {
			return false
		}
	}
	for _, t := range p.c.tried {
		if slices.Equal(t, p.at) {
			return false
		}
	}
	return true
}
