package cut

import (
	"context"
	"fmt"

	"stallwright/engine/measure"
)

// Progress is how far a plan has been carried out.
type Progress struct {
	// Done is how many boards of each pattern of the old plan were cut right,
	// by index of pattern.
	Done map[int]int64
	// Spoiled are boards that were cut wrong.
	Spoiled []Spoiled
	// Measured are new lengths by index of demand, for the pieces still to
	// be cut.
	Measured map[int]measure.Length
	// OnHand are whole boards left, already paid for, by stock.
	OnHand []Use
}

// Spoiled is a board cut wrong: the good pieces it gave, and what is left of it.
type Spoiled struct {
	Stock int           // index in Problem.Stock
	Good  map[int]int64 // good pieces, by index of demand
	Rest  []measure.Length
}

// Replanned is a plan for the rest of the work.
type Replanned struct {
	Problem Problem // what is left: its demands and stock are what Plan refers to
	Plan    Plan
	Kept    int64 // boards still cut as the old plan said
	Changed int64 // boards of the new plan that are new
	Demand  []int // per demand of Problem, the index in the old problem
}

// Replan plans what is left after part of a plan was cut. Boards on hand and the
// rests of spoiled boards are free; others cost what the problem says. Among
// the cheapest plans found it takes the one that keeps most of the old plan.
func Replan(ctx context.Context, p Problem, old Plan, at Progress, opt Options) (Replanned, error) {
	out := Replanned{}
	left, err := p.remaining(&old, &at)
	if err != nil {
		return out, err
	}
	q := p.withOrdered(at.OnHand)
	q.Demands = nil
	for i, d := range p.Demands {
		if left[i] == 0 {
			continue
		}
		d.Count = left[i]
		if l, ok := at.Measured[i]; ok {
			d.Length = l
		}
		q.Demands = append(q.Demands, d)
		out.Demand = append(out.Demand, i)
	}
	for _, sp := range at.Spoiled {
		for _, r := range sp.Rest {
			if r > 0 {
				q.Stock = append(q.Stock, Stock{Label: "rest of a spoiled board", Length: r, Available: 1, Group: p.Stock[sp.Stock].Group, Square: true})
			}
		}
	}
	if f := q.Check(); f != nil {
		return out, f
	}
	out.Problem = q
	fresh, err := q.solve(ctx, opt)
	if err != nil {
		return out, err
	}
	out.Plan, out.Kept = q.keeping(ctx, &fresh, q.still(p.remains(&old, &at)), opt)
	out.Changed = out.Plan.Boards - out.Kept
	return out, nil
}

// remaining counts the pieces still to be cut.
func (p *Problem) remaining(old *Plan, at *Progress) ([]int64, error) {
	left := make([]int64, len(p.Demands))
	for i, d := range p.Demands {
		left[i] = d.Count
	}
	for k, n := range at.Done {
		if k < 0 || k >= len(old.Patterns) || n < 0 || n > old.Patterns[k].Times {
			return nil, fmt.Errorf("pattern %d: %d boards done, the plan has %d patterns and cuts that one no more often than planned", k+1, n, len(old.Patterns))
		}
		for _, x := range old.Patterns[k].Pieces {
			left[x.Demand] -= n * x.Count
		}
	}
	for k, sp := range at.Spoiled {
		if sp.Stock < 0 || sp.Stock >= len(p.Stock) {
			return nil, fmt.Errorf("spoiled board %d: no stock %d", k+1, sp.Stock+1)
		}
		for d, n := range sp.Good {
			if d < 0 || d >= len(left) || n < 0 {
				return nil, fmt.Errorf("spoiled board %d: %d good pieces of demand %d", k+1, n, d+1)
			}
			left[d] -= n
		}
	}
	for d := range left {
		left[d] = max(0, left[d])
	}
	return left, nil
}

// remains is what the saw was told and has not cut yet.
func (p *Problem) remains(old *Plan, at *Progress) []Told {
	var out []Told
	for k, t := range p.Tell(old) {
		if t.Times -= at.Done[k]; t.Times > 0 {
			out = append(out, t)
		}
	}
	return out
}

// holds reports whether pieces fit a board.
func (q *Problem) holds(st int, pieces []Piece) bool {
	n, sum := int64(0), measure.Length(0)
	for _, x := range pieces {
		n += x.Count
		sum += measure.Length(x.Count) * (x.Length + q.Saw.Kerf)
	}
	if q.Saw.MostPieces > 0 && n > int64(q.Saw.MostPieces) {
		return false
	}
	return sum-q.Saw.Kerf <= q.usable(&q.Stock[st])
}

// around plans what the kept patterns leave over and joins the two.
func (q *Problem) around(ctx context.Context, keep []Pattern, opt Options) (Plan, bool) {
	r := *q
	r.Stock = append([]Stock(nil), q.Stock...)
	left := make([]int64, len(q.Demands))
	for i, d := range q.Demands {
		left[i] = d.Count
	}
	cost := int64(0)
	for _, k := range keep {
		if s := &r.Stock[k.Stock]; s.Available != Unlimited {
			s.Available -= k.Times
		}
		cost += k.Times * (max(q.Stock[k.Stock].Price, q.worth(k.Stock)) - q.credit(k.Offcut))
		for _, x := range k.Pieces {
			left[x.Demand] -= k.Times * x.Count
		}
	}
	r.Demands = nil
	var back []int
	for i, d := range q.Demands {
		if left[i] > 0 {
			d.Count = left[i]
			r.Demands = append(r.Demands, d)
			back = append(back, i)
		}
	}
	rest, err := r.solve(ctx, opt)
	if err != nil {
		return Plan{}, false
	}
	plan := Plan{Cost: cost + rest.Cost, Work: rest.Work, Stopped: rest.Stopped, Distinct: rest.Distinct + len(keep)}
	plan.Patterns = append(plan.Patterns, keep...)
	for _, x := range rest.Patterns {
		x.Pieces = append([]Piece(nil), x.Pieces...)
		for i := range x.Pieces {
			x.Pieces[i].Demand = back[x.Pieces[i].Demand]
		}
		plan.Patterns = append(plan.Patterns, x)
	}
	q.total(&plan)
	return plan, true
}

// worth is the credit a limited board would earn if kept whole.
func (q *Problem) worth(st int) int64 {
	if q.Stock[st].Available == Unlimited {
		return 0
	}
	return q.credit(q.usable(&q.Stock[st]))
}
