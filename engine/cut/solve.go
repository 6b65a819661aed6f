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
}

// Solve plans the cutting. The error is Faults for a bad problem, *Infeasible
// when no plan exists. When the budget or the context ends the search early the
// plan is the best so far; only when there is none yet is the error the
// context's, or ErrBudget.
//
// The plan costs as little as was found. Among plans of that cost it wastes
// little, has few distinct patterns and few boards, in this order; those are
// improved by local search and not proven.
func Solve(ctx context.Context, p Problem, opt Options) (Plan, error) {
	if f := p.Check(); f != nil {
		return Plan{}, f
	}
	return p.solve(ctx, opt, 0, nil)
}

// solve plans every material. gamma above zero makes every pattern hold for that
// many demands at their worst. start gives runs to begin with, per material.
func (p *Problem) solve(ctx context.Context, opt Options, gamma int, start func(group string, m *model) []search.Run) (Plan, error) {
	plan := Plan{Proven: true}
	budget := opt.Budget
	if budget == 0 {
		budget = search.DefaultBudget
	}
	for _, g := range p.groups() {
		m, err := p.build(g, gamma)
		if err != nil {
			return Plan{}, err
		}
		so := search.Options{Budget: max(1, budget-plan.Work)}
		if start != nil {
			so.Start = start(g, m)
		}
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
		runs := search.Polish(&m.in, r.Runs)
		plan.Cost += r.Cost
		plan.Bound += r.Bound
		plan.Proven = plan.Proven && r.Proven
		plan.Stopped = plan.Stopped || r.Stopped
		p.lay(m, runs, &plan)
	}
	p.total(&plan)
	return plan, nil
}

// shortage names a piece that the limited stock does not reach.
func (p *Problem) shortage(ctx context.Context, m *model, so search.Options) error {
	k, n := search.Short(ctx, &m.in, so)
	d := m.demands[k][0]
	return &Infeasible{Demand: d, Label: p.Demands[d].Label, Reason: shortText(n)}
}
