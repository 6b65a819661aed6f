package cut

import (
	"context"
	"errors"
	"slices"
	"sort"

	"stallwright/engine/cut/search"
	"stallwright/engine/measure"
)

// Order is stock to buy before the pieces are measured.
type Order struct {
	// Gamma is how many openings may turn out longer at once without the order
	// falling short.
	Gamma int
	// Boards is what is bought; Cost its price, spares for defects left aside.
	Boards []Use
	Cost   int64
	// Least bounds from below the price of any order that survives: the dearest
	// single outcome looked at.
	Least  int64
	Proven bool // Cost equals Least
	// Buy is what to buy: the boards, and spares for defects.
	Buy  []Purchase
	Work int64 // elementary steps spent
}

// Purchase is a line of an order.
type Purchase struct {
	Stock  int   // index in Problem.Stock
	Boards int64 // needed
	Spares int64 // more, so that enough are sound at the stock's rate of defects
	Price  int64 // of boards and spares together
}

// Safety is what surviving the measuring costs.
type Safety struct {
	Openings int      // that may turn out longer
	Orders   []Order  // for rising Gamma; the first is the gamble, Gamma zero
	Drives   []Driver // what drives the price at the middle Gamma, dearest first
	Middle   int      // index in Orders of the one the drivers are told for
}

// Driver is openings alike whose tolerance costs money.
type Driver struct {
	Openings []string // their names, in the order of the demands
	Saves    int64    // what the order would cost less if they were sure
}

// Survive plans an order that stays feasible for every outcome in which at most
// gamma openings turn out longer, each demand of them by its tolerance, all others
// as drawn or shorter (budgeted uncertainty after Bertsimas and Sim 2004, with the
// cutting planned anew once the outcome is known, after Ben-Tal et al. 2004).
// Gamma zero is the gamble; gamma at least the number of openings is every piece
// at its worst.
//
// Openings that are alike are told apart by their number only. Of each way in
// which gamma of them turn out longer a cutting is planned from the boards
// ordered; the order grows by what is missing, and shrinks again as long as all
// still succeed (outcomes added one by one: Zeng and Zhao 2013). Where there are
// too many ways, classes of openings that add little are taken to be longer
// always, which is never less safe.
func Survive(ctx context.Context, p Problem, gamma int, opt Options) (Order, error) {
	if f := p.Check(); f != nil {
		return Order{}, f
	}
	if opt.Budget == 0 {
		opt.Budget = search.DefaultBudget
	}
	o := Order{Gamma: max(0, gamma)}
	boards := make([]int64, len(p.Stock))
	for _, g := range p.groups() {
		u := p.uncertain(g)
		part, err := u.survive(ctx, min(o.Gamma, u.n), Options{Budget: max(1, opt.Budget-o.Work)})
		if err != nil {
			return Order{}, err
		}
		for st, n := range part.boards {
			boards[st] += n
		}
		o.Cost += part.cost
		o.Least += part.least
		o.Work += part.work
	}
	o.Proven = o.Cost == o.Least
	for st, n := range boards {
		if n > 0 {
			o.Boards = append(o.Boards, Use{st, n})
		}
	}
	o.Buy = p.purchases(o.Boards)
	return o, nil
}

// partial is an order of one material.
type partial struct {
	boards      []int64 // by stock, those that cost something
	cost, least int64
	work        int64
}

// survive plans one material's order.
func (u *uncertain) survive(ctx context.Context, gamma int, opt Options) (partial, error) {
	out := partial{}
	left := func() Options { return Options{Budget: max(1, opt.Budget-out.work), rough: true} }
	list, exact := u.outcomes(gamma)
	type planned struct {
		q      Problem
		boards []int64
		cost   int64
	}
	all := make([]planned, len(list))
	for k, longer := range list {
		q := u.outcome(longer)
		plan, err := q.solve(ctx, Options{Budget: max(1, (opt.Budget-out.work)/int64(2*(len(list)-k))), rough: true})
		if err != nil {
			return out, u.named(err)
		}
		out.work += plan.Work
		all[k] = planned{q, q.priced(plan.Used), plan.Cost}
		if exact {
			out.least = max(out.least, plan.Bound)
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].cost > all[b].cost })
	x := slices.Clone(all[0].boards)
	for _, a := range all[1:] {
		buy, _, work, err := a.q.missing(ctx, x, left())
		if err != nil {
			return out, u.named(err)
		}
		out.work += work
		for st, n := range buy {
			x[st] += n
		}
	}
	fits := func(x []int64) bool {
		for _, a := range all {
			buy, _, work, err := a.q.missing(ctx, x, left())
			out.work += work
			if err != nil || slices.ContainsFunc(buy, func(n int64) bool { return n > 0 }) {
				return false
			}
		}
		return true
	}
	if !exact {
		if err := u.bound(ctx, gamma, &out, left()); err != nil {
			return out, err
		}
	}
	u.shrink(x, func(cost int64) bool { return cost > out.least && out.work < opt.Budget*3/4 && ctx.Err() == nil }, fits)
	out.boards, out.cost = x, u.price(x)
	out.least = min(out.least, out.cost)
	return out, nil
}

// bound raises the least price by true outcomes, where those looked at are worse
// than any true one: the openings that add most.
func (u *uncertain) bound(ctx context.Context, gamma int, out *partial, opt Options) error {
	longer := make([]int, len(u.classes))
	by := make([]int, len(u.classes))
	for k := range by {
		by[k] = k
	}
	sort.SliceStable(by, func(a, b int) bool { return u.classes[by[a]].adds > u.classes[by[b]].adds })
	for _, k := range by {
		longer[k] = min(gamma, len(u.classes[k].openings))
		gamma -= longer[k]
	}
	q := u.outcome(longer)
	plan, err := q.solve(ctx, opt)
	if err != nil {
		return u.named(err)
	}
	out.work += plan.Work
	out.least = max(out.least, plan.Bound)
	return nil
}

// shrink takes boards out of an order, or puts cheaper ones in their place, while
// it goes on fitting.
func (u *uncertain) shrink(x []int64, more func(cost int64) bool, fits func([]int64) bool) {
	var by []int
	for st := range x {
		if u.p.Stock[st].Price > 0 && u.p.Stock[st].Group == u.p.Demands[u.demands[0]].Group {
			by = append(by, st)
		}
	}
	sort.SliceStable(by, func(a, b int) bool { return u.p.Stock[by[a]].Price > u.p.Stock[by[b]].Price })
	for _, st := range by {
		for step := x[st]; step > 0; {
			if step = min(step, x[st]); step == 0 || !more(u.price(x)) {
				break
			}
			if x[st] -= step; fits(x) {
				continue
			}
			x[st] += step
			step /= 2
		}
		for _, to := range by {
			s, t := &u.p.Stock[st], &u.p.Stock[to]
			for x[st] > 0 && t.Price < s.Price && (t.Available == Unlimited || x[to] < t.Available) && more(u.price(x)) {
				x[st]--
				x[to]++
				if !fits(x) {
					x[st]++
					x[to]--
					break
				}
			}
		}
	}
}

// price is what boards cost.
func (u *uncertain) price(x []int64) int64 {
	sum := int64(0)
	for st, n := range x {
		sum += n * u.p.Stock[st].Price
	}
	return sum
}

// named gives an infeasible piece the name it has in the problem itself.
func (u *uncertain) named(err error) error {
	var inf *Infeasible
	if errors.As(err, &inf) {
		for _, i := range u.demands {
			if u.p.Demands[i].Label == inf.Label {
				inf.Demand = i
			}
		}
	}
	return err
}

// priced are the boards taken of stock that costs something, by stock.
func (p *Problem) priced(used []Use) []int64 {
	out := make([]int64, len(p.Stock))
	for _, u := range used {
		if p.Stock[u.Stock].Price > 0 {
			out[u.Stock] += u.Count
		}
	}
	return out
}

// purchases adds spares to boards: enough that, at the stated rate of defects,
// the sound ones suffice (rounded up).
func (p *Problem) purchases(used []Use) []Purchase {
	var out []Purchase
	for _, u := range used {
		s := &p.Stock[u.Stock]
		total := (u.Count*1000 + 999 - s.Defects) / (1000 - s.Defects)
		if s.Available != Unlimited {
			total = max(u.Count, min(total, s.Available))
		}
		out = append(out, Purchase{u.Stock, u.Count, total - u.Count, total * s.Price})
	}
	return out
}

// Purchases is what to buy for a plan: of the boards it takes those that cost
// something, and spares for defects.
func (p *Problem) Purchases(plan *Plan) []Purchase {
	var used []Use
	for st, n := range p.priced(plan.Used) {
		if n > 0 {
			used = append(used, Use{st, n})
		}
	}
	return p.purchases(used)
}

// Openings is how many openings may turn out longer.
func (p *Problem) Openings() int {
	seen := map[string]bool{}
	for i := range p.Demands {
		if d := &p.Demands[i]; d.Tolerance > 0 {
			seen[d.key()] = true
		}
	}
	return len(seen)
}

// Weigh plans the order for the gamble, for every opening at its worst, and for
// gamma between, and finds the openings that drive the price at gamma. drives is
// the most classes of openings to look at; opt.Budget is for one order.
func Weigh(ctx context.Context, p Problem, gamma, drives int, opt Options) (Safety, error) {
	out := Safety{Openings: p.Openings()}
	list := []int{0}
	if gamma > 0 && gamma < out.Openings {
		list = append(list, gamma)
	}
	if out.Openings > 0 {
		list = append(list, out.Openings)
	}
	for _, g := range list {
		o, err := Survive(ctx, p, g, opt)
		if err != nil {
			return out, err
		}
		// Room for more openings is room for fewer, and no less is needed.
		for k := range out.Orders {
			if out.Orders[k].Cost > o.Cost {
				was := out.Orders[k]
				out.Orders[k] = o
				out.Orders[k].Gamma, out.Orders[k].Least = was.Gamma, was.Least
				out.Orders[k].Proven = o.Cost == was.Least
			}
			o.Least = max(o.Least, out.Orders[k].Least)
		}
		o.Proven = o.Cost == o.Least
		out.Orders = append(out.Orders, o)
	}
	out.Middle = len(out.Orders) - 1
	if len(out.Orders) == 3 {
		out.Middle = 1
	}
	return out, p.drivers(ctx, &out, drives, opt)
}

// drivers prices the middle order again with one class of openings sure after
// another.
func (p *Problem) drivers(ctx context.Context, out *Safety, drives int, opt Options) error {
	mid := &out.Orders[out.Middle]
	var list []class
	for _, g := range p.groups() {
		list = append(list, p.uncertain(g).classes...)
	}
	sort.SliceStable(list, func(a, b int) bool {
		return list[a].adds*measure.Length(len(list[a].openings)) > list[b].adds*measure.Length(len(list[b].openings))
	})
	for _, c := range list[:min(drives, len(list))] {
		q := *p
		q.Demands = slices.Clone(p.Demands)
		var names []string
		for _, o := range c.openings {
			names = append(names, o.name)
			for _, i := range o.demands {
				q.Demands[i].Tolerance = 0
			}
		}
		o, err := Survive(ctx, q, mid.Gamma, opt)
		if err != nil {
			return err
		}
		if s := mid.Cost - o.Cost; s > 0 {
			out.Drives = append(out.Drives, Driver{names, s})
		}
	}
	sort.SliceStable(out.Drives, func(a, b int) bool { return out.Drives[a].Saves > out.Drives[b].Saves })
	return nil
}

// Measured plans the cutting after the measuring: measured gives the lengths by
// index of demand, ordered the boards on hand by index of stock, already paid
// for. Further boards can be had as the problem says. The plan's cost is what
// must be bought on top.
func Measured(ctx context.Context, p Problem, measured map[int]measure.Length, ordered []Use, opt Options) (Plan, error) {
	q := p
	q.Demands = append([]Demand(nil), p.Demands...)
	for i := range q.Demands {
		if l, ok := measured[i]; ok {
			q.Demands[i].Length = l
		}
	}
	return Solve(ctx, q.withOrdered(ordered), opt)
}

// withOrdered adds the boards on hand to a problem as free and limited. The
// added stocks follow the others in the order given.
func (p Problem) withOrdered(ordered []Use) Problem {
	p.Stock = append([]Stock(nil), p.Stock...)
	for _, u := range ordered {
		if u.Count <= 0 || u.Stock < 0 || u.Stock >= len(p.Stock) {
			continue
		}
		s := p.Stock[u.Stock]
		if s.Available != Unlimited {
			p.Stock[u.Stock].Available = max(0, s.Available-u.Count)
		}
		s.Price, s.Available = 0, u.Count
		p.Stock = append(p.Stock, s)
	}
	return p
}
