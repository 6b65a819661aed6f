package cut

import (
	"context"

	"stallwright/engine/cut/search"
)

// Options steer the search. The zero value is the default.
type Options struct {
	// Budget is the work to spend, in elementary steps, the same on every
	// machine; zero means search.DefaultBudget.
	Budget int64
	rough  bool // only what is taken counts, not how it is cut
}

// Solve plans the cutting. The error is Faults for a bad problem, *Infeasible
// when no plan exists. When the budget or the context ends the search early the
// plan is the best so far; only when there is none yet is the error the
// context's, or ErrBudget.
//
// The plan costs as little as was found. Among plans of that cost little is lost
// (neither piece nor kept offcut), there are few distinct patterns, and few
// boards, in this order; those are improved by local search and not proven.
func Solve(ctx context.Context, p Problem, opt Options) (Plan, error) {
	if f := p.Check(); f != nil {
		return Plan{}, f
	}
	return p.solve(ctx, opt)
}

// solve plans every material.
func (p *Problem) solve(ctx context.Context, opt Options) (Plan, error) {
	plan := Plan{Proven: true}
	budget := opt.Budget
	if budget == 0 {
		budget = search.DefaultBudget
	}
	for _, g := range p.groups() {
		m, err := p.build(g)
		if err != nil {
			return Plan{}, err
		}
		so := search.Options{Budget: max(1, budget-plan.Work)}
		r := search.Solve(ctx, &m.in, so)
		plan.Work += r.Work
		if r.Infeasible {
			return Plan{}, p.shortage(ctx, m, so)
		}
		if r.Runs == nil {
			if err := ctx.Err(); err != nil {
				return Plan{}, err
			}
			return Plan{}, ErrBudget
		}
		runs := r.Runs
		if !opt.rough {
			runs = search.Polish(&m.in, runs, p.loss(m))
		}
		plan.Cost += r.Cost
		plan.Bound += r.Bound
		plan.Proven = plan.Proven && r.Proven
		plan.Stopped = plan.Stopped || r.Stopped
		p.lay(m, runs, &plan)
	}
	p.total(&plan)
	return plan, nil
}

// loss is what of a board is neither piece nor offcut worth keeping.
func (p *Problem) loss(m *model) search.Loss {
	kerf := int64(p.Saw.Kerf)
	return func(stock int, used int64) int64 {
		s := &p.Stock[m.stock[stock][0]]
		rest := int64(p.usable(s)) + kerf - used*m.unit
		if kept := rest - kerf; p.Saw.Keep > 0 && kept >= int64(p.Saw.Keep) {
			return int64(s.Length) - kept
		}
		return int64(s.Length)
	}
}

// shortage names a piece that the limited stock does not reach.
func (p *Problem) shortage(ctx context.Context, m *model, so search.Options) error {
	k, n := search.Short(ctx, &m.in, so)
	d := m.demands[k][0]
	return &Infeasible{Demand: d, Label: p.Demands[d].Label, Reason: shortText(n)}
}
