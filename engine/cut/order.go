package cut

import (
	"context"
	"sort"

	"stallwright/engine/measure"
)

// Order is stock to buy before the pieces are measured.
type Order struct {
	// Gamma is how many demands may take their worst length at once without
	// the order falling short.
	Gamma int
	// Plan is the cutting by drawn lengths that leaves each board room for
	// any Gamma demands on it at their worst. Its cost is the price of the
	// order. Bound and Proven speak of the cheapest order whose boards are
	// assigned before the measuring.
	Plan Plan
	// Buy is what to buy: the plan's boards and spares for defects.
	Buy []Purchase
	// Least is a lower bound on the price of any order that survives, even
	// one cut anew for each outcome: the dearest single outcome looked at.
	Least int64
}

// Purchase is a line of an order.
type Purchase struct {
	Stock  int   // index in Problem.Stock
	Boards int64 // the plan needs
	Spares int64 // more, so that enough are sound at the stock's rate of defects
	Price  int64 // of boards and spares together
}

// Safety is what surviving the measuring costs.
type Safety struct {
	Orders []Order  // for rising Gamma; the first is the gamble, Gamma zero
	Drives []Driver // what drives the price at the middle Gamma, dearest first
}

// Driver is a demand whose tolerance costs money.
type Driver struct {
	Demand int   // index in Problem.Demands
	Saves  int64 // what the order would cost less if this demand were sure
}

// Survive plans an order that stays feasible for every outcome in which at most
// gamma demands come out longer by their tolerance, all others as drawn or
// shorter. Each cutting pattern keeps room for the gamma demands on it that
// could lengthen it most (budgeted uncertainty: Bertsimas and Sim, The Price of
// Robustness, 2004), so a feasible cut exists for every outcome: the plan's own.
// Gamma zero is the gamble; gamma at least the number of demands is every piece
// at its worst.
func Survive(ctx context.Context, p Problem, gamma int, opt Options) (Order, error) {
	if f := p.Check(); f != nil {
		return Order{}, f
	}
	gamma = max(0, min(gamma, len(p.Demands)))
	o := Order{Gamma: gamma}
	var err error
	if gamma == 0 {
		o.Plan, err = p.solve(ctx, opt, 0, nil)
	} else {
		o.Plan, err = p.solve(ctx, opt, gamma, nil)
	}
	if err != nil {
		return Order{}, err
	}
	o.Buy = p.purchases(&o.Plan)
	o.Least, err = p.worstOutcome(ctx, gamma, opt)
	o.Least = min(o.Least, o.Plan.Cost)
	return o, err
}

// purchases adds spares to the boards of a plan: enough that, at the stated
// rate of defects, the sound ones suffice (rounded up).
func (p *Problem) purchases(plan *Plan) []Purchase {
	var out []Purchase
	for _, u := range plan.Used {
		s := &p.Stock[u.Stock]
		total := (u.Count*1000 + 999 - s.Defects) / (1000 - s.Defects)
		if s.Available != Unlimited {
			total = max(u.Count, min(total, s.Available))
		}
		out = append(out, Purchase{u.Stock, u.Count, total - u.Count, total * s.Price})
	}
	return out
}

// worstOutcome bounds from below the price of any order that survives: the cost
// of the single outcome in which the gamma demands that add most length are at
// their worst.
func (p *Problem) worstOutcome(ctx context.Context, gamma int, opt Options) (int64, error) {
	q := *p
	q.Demands = append([]Demand(nil), p.Demands...)
	by := make([]int, len(q.Demands))
	for i := range by {
		by[i] = i
	}
	add := func(i int) measure.Length { return q.Demands[i].Tolerance * measure.Length(q.Demands[i].Count) }
	sort.SliceStable(by, func(a, b int) bool { return add(by[a]) > add(by[b]) })
	for _, i := range by[:gamma] {
		q.Demands[i].Length += q.Demands[i].Tolerance
	}
	plan, err := q.solve(ctx, opt, 0, nil)
	if err != nil {
		return 0, err
	}
	return plan.Bound, nil
}

// Weigh plans the order for the gamble, for every demand at its worst, and for
// the values of gamma between that are asked for, and finds the demands that
// drive the price at the middle one. drives is the most drivers to look for.
func Weigh(ctx context.Context, p Problem, gammas []int, drives int, opt Options) (Safety, error) {
	all := map[int]bool{0: true, len(p.Demands): true}
	for _, g := range gammas {
		all[max(0, min(g, len(p.Demands)))] = true
	}
	var list []int
	for g := range all {
		list = append(list, g)
	}
	sort.Ints(list)
	var out Safety
	for _, g := range list {
		o, err := Survive(ctx, p, g, opt)
		if err != nil {
			return out, err
		}
		// Room for more demands is room for fewer.
		for k := range out.Orders {
			if out.Orders[k].Plan.Cost > o.Plan.Cost {
				c := o
				c.Gamma = out.Orders[k].Gamma
				out.Orders[k] = c
			}
		}
		out.Orders = append(out.Orders, o)
	}
	mid := out.Orders[len(out.Orders)/2]
	by := make([]int, 0, len(p.Demands))
	for i, d := range p.Demands {
		if d.Tolerance > 0 {
			by = append(by, i)
		}
	}
	add := func(i int) measure.Length {
		return p.Demands[i].Tolerance * measure.Length(p.Demands[i].Count)
	}
	sort.SliceStable(by, func(a, b int) bool { return add(by[a]) > add(by[b]) })
	for _, i := range by[:min(drives, len(by))] {
		q := p
		q.Demands = append([]Demand(nil), p.Demands...)
		q.Demands[i].Tolerance = 0
		plan, err := q.solve(ctx, opt, mid.Gamma, nil)
		if err != nil {
			return out, err
		}
		if s := mid.Plan.Cost - plan.Cost; s > 0 {
			out.Drives = append(out.Drives, Driver{i, s})
		}
	}
	sort.SliceStable(out.Drives, func(a, b int) bool { return out.Drives[a].Saves > out.Drives[b].Saves })
	return out, nil
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
