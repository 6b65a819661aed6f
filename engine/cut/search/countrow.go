package search

import (
	"cmp"
	"math"
	"slices"
)

// countRow is a bound on numbers of boards: whatever numbers meet the cuts cost
// at least need and the sum of red times number.
type countRow struct {
	red  []float64 // per priced stock: what a board costs beyond its worth
	need float64
	rest []float64 // per place in the order: the least that the stocks from there can add
	done []float64 // per place: what the numbers before add
}

// row weighs the cuts by multipliers, none below zero.
func (c *counts) row(share []float64) countRow {
	r := countRow{red: make([]float64, len(c.priced))}
	for k, st := range c.priced {
		r.red[k] = float64(c.s.in.Stock[st].Cost)
	}
	for i, l := range share {
		if l > 0 {
			c.weigh(&r, i, l)
		}
	}
	return r
}

func (c *counts) weigh(r *countRow, cut int, l float64) {
	r.need += float64(l * c.need[cut])
	for k, w := range c.worth[cut] {
		r.red[k] -= float64(l * w)
	}
}

// alone is the bound of a single cut, with the multiplier that is best where
// numbers may be broken.
func (c *counts) alone(cut int) countRow {
	s, w := c.s, c.worth[cut]
	order := make([]int, len(c.priced))
	for k := range order {
		order[k] = k
	}
	cost := func(k int) float64 { return float64(s.in.Stock[c.priced[k]].Cost) }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(float64(cost(a)*w[b]), float64(cost(b)*w[a]))
	})
	l, left := 0.0, c.need[cut]
	for _, k := range order {
		if left <= 0 || w[k] <= 0 {
			break
		}
		l = cost(k) / w[k]
		left -= float64(w[k] * float64(s.limit(c.priced[k])))
	}
	r := countRow{red: make([]float64, len(c.priced))}
	for k := range r.red {
		r.red[k] = cost(k)
	}
	c.weigh(&r, cut, l)
	return r
}

// rowsMost is how many of the cuts bound the numbers while they are looked for;
// all of them are asked in the end.
const rowsMost = 12

// bound prepares a row: the least it adds from each place on, and what the
// numbers before place k add.
func (p *picker) bound(r *countRow, k int) {
	n := len(p.order)
	r.rest, r.done = make([]float64, n+1), make([]float64, n+1)
	for q := n - 1; q >= k; q-- {
		r.rest[q] = r.rest[q+1] + math.Min(0, float64(r.red[p.order[q]]*float64(p.hi[q])))
	}
	size := math.Abs(r.need) - r.rest[k] + float64(p.top)
	for q := range k {
		d := float64(r.red[p.order[q]] * float64(p.at[p.c.priced[p.order[q]]]))
		r.done[k] += d
		size += math.Abs(d)
	}
	// Far more is given away than so few operations can lose to rounding.
	r.need -= float64(1e-9 * size)
}

// reach says what is known of numbers that are not all chosen: whether the rest
// can be chosen within the rows and the cost when it may be broken. Those that
// can lie side by side at every place, which whole ones need not.
type reach int

const (
	unsure reach = iota
	alive
	dead
)

// between is a range of numbers, broken or whole.
type between struct{ lo, hi float64 }

func (b between) reach() reach {
	if b.lo > b.hi+float64(1e-9*(1+math.Abs(b.lo))) {
		return dead
	}
	return alive
}

// cut keeps what meets red n <= room.
func (b *between) cut(red, room float64) {
	switch {
	case math.IsNaN(red), math.IsNaN(room):
		// says nothing
	case red > 0:
		b.hi = math.Min(b.hi, room/red)
	case red < 0:
		b.lo = math.Max(b.lo, room/red)
	case room < 0:
		b.hi = math.Inf(-1)
	}
}

// whole is the range of whole numbers.
func (b between) whole() (lo, hi int64) {
	if b.lo > b.hi+1 {
		return 0, -1
	}
	return int64(math.Ceil(b.lo)), int64(math.Floor(b.hi))
}

// span is the range of numbers at a place that no row rules out, given what the
// numbers before cost.
func (p *picker) span(k int, spent int64) between {
	b := between{0, math.Min(float64(p.hi[k]), float64(p.top-spent)/float64(p.cost[k])+1e-9)}
	for i := range p.rows {
		r := &p.rows[i]
		b.cut(r.red[p.order[k]], float64(p.top)-r.need-r.done[k]-r.rest[k+1])
	}
	return b
}

// weighed adds the row of the small program with the numbers before place k
// fixed, which bounds what is below better than any other. It reports whether the
// program was solved.
func (p *picker) weighed(k int) bool {
	for q, o := range p.order {
		if q < k {
			n := p.at[p.c.priced[o]]
			p.c.box(o, n, n)
		} else {
			p.c.box(o, 0, p.hi[q])
		}
	}
	share, ok := p.c.weights(p.share)
	p.share = share
	p.rows = append(p.rows, p.c.row(p.share))
	p.bound(&p.rows[len(p.rows)-1], k)
	return ok
}

// project narrows the range at the last place but one to where the last can still
// meet each cut within the cost.
func (p *picker) project(k int, spent int64, in *between) {
	x, y := p.order[k], p.order[k+1]
	for i := range p.c.cuts {
		w := p.c.worth[i]
		if w[y] < float64(p.cost[k+1])*1e-6 {
			continue // so many boards would be worth a cut alone that it says nothing
		}
		p.steps += int64(len(p.order))
		need := p.c.need[i]
		size := math.Abs(need)
		for q := range k {
			o := p.order[q]
			d := float64(w[o] * float64(p.at[p.c.priced[o]]))
			need -= d
			size += d
		}
		// a x + b y <= top and y >= (need - w_x x) / w_y
		rate := float64(p.cost[k+1]) / w[y]
		red := float64(p.cost[k]) - float64(rate*w[x])
		room := float64(p.top-spent) - float64(rate*need)
		// Far more is given away than so few operations can lose to rounding.
		room += float64(1e-9 * (float64(p.top) + float64(rate*size)))
		if tiny := 1e-9 * float64(p.cost[k]); math.Abs(red) < tiny {
			room += float64(tiny * float64(p.hi[k]))
			red = 0
		}
		in.cut(red, room)
	}
}
