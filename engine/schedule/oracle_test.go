package schedule

import (
	"math/rand/v2"
)

// clock lists the elapsed minute at which each working minute begins, and its
// day, by going through the calendar minute by minute.
func clock(c Calendar, n int) (at, day []int64) {
	for t := int64(0); len(at) < n; t++ {
		if len(c.Days) == 0 {
			at, day = append(at, t), append(day, 0)
			continue
		}
		d := t / 1440
		h := c.Days[d%int64(len(c.Days))]
		for _, e := range c.Except {
			if e.Day == d {
				h = e.Hours
			}
		}
		if m := t % 1440; m >= h.Start && m < h.Start+h.Minutes {
			at, day = append(at, t), append(day, d)
		}
	}
	return at, day
}

// naive schedules by trial, minute by minute, sharing nothing with the package.
type naive struct {
	p       *Project
	at, day []int64
}

func newNaive(p *Project) *naive {
	total := int64(1)
	for _, a := range p.Activities {
		total += 3*a.Minutes + 20
		for _, l := range a.After {
			if total += 4; !l.Elapsed || len(p.Calendar.Days) == 0 {
				total += l.Lag
			}
		}
	}
	n := &naive{p: p}
	n.at, n.day = clock(p.Calendar, int(total))
	return n
}

// ended is the elapsed minute when an activity that started at s is done.
func (n *naive) ended(s, d int64) int64 {
	if s+d == 0 {
		return n.at[0]
	}
	return n.at[s+d-1] + 1
}

// allows reports whether activity i may start at s beside those that have a
// start at or above zero.
func (n *naive) allows(start []int64, i int, s int64) bool {
	a := &n.p.Activities[i]
	if a.Whole && a.Minutes > 0 && len(n.p.Calendar.Days) > 0 && n.day[s] != n.day[s+a.Minutes-1] {
		return false
	}
	for _, l := range a.After {
		f := start[l.Activity] + n.p.Activities[l.Activity].Minutes
		if f+l.Lag > s && !l.Elapsed || l.Elapsed && (f > s || n.ended(start[l.Activity], n.p.Activities[l.Activity].Minutes)+l.Lag > n.at[s]) {
			if !(l.Elapsed && l.Lag == 0 && f <= s) {
				return false
			}
		}
	}
	for r, res := range n.p.Resources {
		for t := s; t < s+a.Minutes; t++ {
			used := int64(0)
			for k := range start {
				if k != i && start[k] < 0 {
					continue
				}
				from := start[k]
				if k == i {
					from = s
				}
				if from <= t && t < from+n.p.Activities[k].Minutes {
					for _, u := range n.p.Activities[k].Uses {
						if u.Resource == r {
							used += u.Amount
						}
					}
				}
			}
			if used > res.Capacity {
				return false
			}
		}
	}
	return true
}

// shortest tries every order: a shortest schedule is among those in which each
// activity in turn starts as early as it can.
func (n *naive) shortest() int64 {
	start := make([]int64, len(n.p.Activities))
	for i := range start {
		start[i] = -1
	}
	best := int64(1) << 40
	var try func(placed int, end int64)
	try = func(placed int, end int64) {
		if end >= best {
			return
		}
		if placed == len(start) {
			best = end
			return
		}
	next:
		for i := range start {
			if start[i] >= 0 {
				continue
			}
			for _, l := range n.p.Activities[i].After {
				if start[l.Activity] < 0 {
					continue next
				}
			}
			s := int64(0)
			for !n.allows(start, i, s) {
				s++
			}
			start[i] = s
			try(placed+1, max(end, s+n.p.Activities[i].Minutes))
			start[i] = -1
		}
	}
	try(0, 0)
	return best
}

// random makes a small project.
func random(rng *rand.Rand, most int) *Project {
	p := &Project{}
	for r := range 1 + rng.IntN(3) {
		p.Resources = append(p.Resources, Resource{Name: string(rune('a' + r)), Capacity: 1 + rng.Int64N(4)})
	}
	longest := int64(8)
	if rng.IntN(3) > 0 {
		for range 1 + rng.IntN(4) {
			h := Hours{Start: 400 + rng.Int64N(100), Minutes: rng.Int64N(9)}
			p.Calendar.Days = append(p.Calendar.Days, h)
		}
		p.Calendar.Days = append(p.Calendar.Days, Hours{Start: 420, Minutes: longest})
		if rng.IntN(2) == 0 {
			p.Calendar.Except = []Except{{Day: rng.Int64N(4), Hours: Hours{Start: 1434, Minutes: 6}}}
		}
	}
	for i := range 1 + rng.IntN(most) {
		a := Activity{ID: string(rune('A' + i)), Minutes: rng.Int64N(longest + 1), Whole: rng.IntN(3) == 0}
		for k := range i {
			if rng.IntN(4) == 0 {
				l := Link{Activity: k}
				switch rng.IntN(4) {
				case 0:
					l.Lag = rng.Int64N(5)
				case 1:
					l.Lag, l.Elapsed = rng.Int64N(3000), true
					if len(p.Calendar.Days) == 0 {
						l.Lag = rng.Int64N(6)
					}
				}
				a.After = append(a.After, l)
			}
		}
		for r, res := range p.Resources {
			if rng.IntN(3) > 0 {
				a.Uses = append(a.Uses, Use{Resource: r, Amount: rng.Int64N(res.Capacity + 1)})
			}
		}
		p.Activities = append(p.Activities, a)
	}
	return p
}
