package cut

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"

	"stallwright/engine/measure"
)

// opening is demands that turn out longer together: the boards of one bay.
type opening struct {
	name    string
	demands []int // indexes into Problem.Demands, those with a tolerance
}

// class is openings that cannot be told apart: the same pieces with the same
// tolerances. It does not matter which of them turn out longer, only how many.
type class struct {
	openings []opening
	adds     measure.Length // what one of them adds at its worst
}

// uncertain is one material of a problem whose pieces may turn out longer.
type uncertain struct {
	p       *Problem
	demands []int
	classes []class
	n       int // openings
}

// key names what moves together; a demand without an opening moves by itself.
func (d *Demand) key() string {
	if d.Opening != "" {
		return d.Opening
	}
	return "\x00" + d.Label
}

// uncertain sorts a material's openings into classes, in the order of the
// demands.
func (p *Problem) uncertain(group string) *uncertain {
	u := &uncertain{p: p}
	at := map[string]int{}
	var list []opening
	for i := range p.Demands {
		d := &p.Demands[i]
		if d.Group != group {
			continue
		}
		u.demands = append(u.demands, i)
		if d.Tolerance == 0 {
			continue
		}
		k, ok := at[d.key()]
		if !ok {
			k = len(list)
			at[d.key()] = k
			name := d.Opening
			if name == "" {
				name = d.Label
			}
			list = append(list, opening{name: name})
		}
		list[k].demands = append(list[k].demands, i)
	}
	u.n = len(list)
	alike := map[string]int{}
	for _, o := range list {
		shape, adds := p.shape(o.demands)
		k, ok := alike[shape]
		if !ok {
			k = len(u.classes)
			alike[shape] = k
			u.classes = append(u.classes, class{adds: adds})
		}
		u.classes[k].openings = append(u.classes[k].openings, o)
	}
	return u
}

// shape is what the pieces of an opening are, labels aside, and what they add in
// all at their worst.
func (p *Problem) shape(demands []int) (string, measure.Length) {
	var parts []string
	adds := measure.Length(0)
	count := map[[2]measure.Length]int64{}
	for _, i := range demands {
		d := &p.Demands[i]
		count[[2]measure.Length{d.Length, d.Tolerance}] += d.Count
		adds += d.Tolerance * measure.Length(d.Count)
	}
	for k, n := range count {
		parts = append(parts, fmt.Sprintf("%d+%d*%d", k[0], k[1], n))
	}
	slices.Sort(parts)
	return strings.Join(parts, " "), adds
}

// mostOutcomes is how many outcomes are looked at one by one.
const mostOutcomes = 40

// outcomes lists, up to openings that are alike, every way in which gamma
// openings turn out longer: how many of each class. Where there would be too
// many, classes that add little are taken to be longer always, as many of them
// as can be; what holds for such an outcome holds for the true ones.
func (u *uncertain) outcomes(gamma int) (list [][]int, exact bool) {
	free := make([]int, len(u.classes))
	for k := range free {
		free[k] = k
	}
	sort.SliceStable(free, func(a, b int) bool {
		x, y := &u.classes[free[a]], &u.classes[free[b]]
		return x.adds*measure.Length(min(gamma, len(x.openings))) > y.adds*measure.Length(min(gamma, len(y.openings)))
	})
	for n := len(free); ; n-- {
		list = list[:0]
		if u.spread(free[:n], gamma, make([]int, len(u.classes)), &list) {
			for _, o := range list {
				for _, k := range free[n:] {
					o[k] = min(gamma, len(u.classes[k].openings))
				}
			}
			return list, n == len(free)
		}
	}
}

// spread lists the ways to have gamma openings longer among the classes given;
// false when there are too many.
func (u *uncertain) spread(free []int, gamma int, so []int, list *[][]int) bool {
	if len(free) == 0 {
		if len(*list) == mostOutcomes {
			return false
		}
		*list = append(*list, slices.Clone(so))
		return true
	}
	room := 0 // in the classes after this one
	for _, k := range free[1:] {
		room += len(u.classes[k].openings)
	}
	k := free[0]
	most := min(gamma, len(u.classes[k].openings))
	for n := most; n >= max(0, min(gamma-room, most)); n-- {
		so[k] = n
		if !u.spread(free[1:], gamma-n, so, list) {
			return false
		}
	}
	so[k] = 0
	return true
}

// outcome is the problem in which so many openings of each class are longer,
// with equal pieces put together.
func (u *uncertain) outcome(longer []int) Problem {
	long := map[int]bool{}
	for k, n := range longer {
		for _, o := range u.classes[k].openings[:n] {
			for _, i := range o.demands {
				long[i] = true
			}
		}
	}
	q := *u.p
	q.Saw.Credit = 0 // an order is what is paid for boards
	q.Demands = nil
	at := map[measure.Length]int{}
	for _, i := range u.demands {
		d := u.p.Demands[i]
		if long[i] {
			d.Length += d.Tolerance
		}
		if k, ok := at[d.Length]; ok {
			q.Demands[k].Count += d.Count
			continue
		}
		at[d.Length] = len(q.Demands)
		d.Tolerance = 0
		q.Demands = append(q.Demands, d)
	}
	return q
}

// missing plans an outcome from boards ordered, and gives what must be bought on
// top, by stock, and its price. Boards paid for already are there in any case.
func (q *Problem) missing(ctx context.Context, ordered []int64, opt Options) (buy []int64, cost, work int64, err error) {
	r := *q
	r.Stock = slices.Clone(q.Stock)
	olds := len(q.Stock)
	for st, n := range ordered {
		s := q.Stock[st]
		if n == 0 || s.Price == 0 {
			continue
		}
		if s.Available != Unlimited {
			r.Stock[st].Available = max(0, s.Available-n)
		}
		s.Price, s.Available = 0, n
		r.Stock = append(r.Stock, s)
	}
	plan, err := r.solve(ctx, opt)
	if err != nil {
		return nil, 0, plan.Work, err
	}
	buy = make([]int64, olds)
	for _, use := range plan.Used {
		if use.Stock < olds && r.Stock[use.Stock].Price > 0 {
			buy[use.Stock] += use.Count
		}
	}
	return buy, plan.Cost, plan.Work, nil
}
