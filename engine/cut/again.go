package cut

import (
	"cmp"
	"context"
	"slices"

	"stallwright/engine/measure"
)

// Told is boards that an earlier plan would cut alike, as the saw was told: what
// is to be kept of it where that costs nothing.
type Told struct {
	Group  string
	Length measure.Length // of the board
	Times  int64
	Pieces []ToldPiece
}

// ToldPiece is pieces of one label on each board.
type ToldPiece struct {
	Label string
	Count int64
}

// Tell is a plan as the saw is told it.
func (p *Problem) Tell(plan *Plan) []Told {
	var out []Told
	for _, q := range plan.Patterns {
		s := &p.Stock[q.Stock]
		t := Told{Group: s.Group, Length: s.Length, Times: q.Times}
		for _, x := range q.Pieces {
			t.Pieces = append(t.Pieces, ToldPiece{x.Label, x.Count})
		}
		out = append(out, t)
	}
	return out
}

// Again plans a problem, and among the cheapest plans found takes the one that
// keeps most of what the saw was told before. Boards told before that no longer
// hold their pieces, or whose pieces are cut already, are planned anew. kept are
// the boards still cut as told.
func Again(ctx context.Context, p Problem, before []Told, opt Options) (plan Plan, kept int64, err error) {
	fresh, err := Solve(ctx, p, opt)
	if err != nil || len(before) == 0 {
		return fresh, 0, err
	}
	plan, kept = p.keeping(ctx, &fresh, p.still(before), opt)
	return plan, kept, nil
}

// keeping plans around as many of the patterns as leave the plan no dearer than
// the fresh one.
func (p *Problem) keeping(ctx context.Context, fresh *Plan, keep []Pattern, opt Options) (Plan, int64) {
	// Where not all can stay, those that waste most go first.
	slices.SortStableFunc(keep, func(a, b Pattern) int { return cmp.Compare(a.Scrap+a.Offcut, b.Scrap+b.Offcut) })
	for n := len(keep); n > 0; n -= (n + 7) / 8 {
		plan, ok := p.around(ctx, keep[:n], opt)
		if !ok || plan.Cost > fresh.Cost {
			continue
		}
		plan.Bound, plan.Proven = fresh.Bound, plan.Cost == fresh.Bound
		plan.Work += fresh.Work
		kept := int64(0)
		for _, k := range keep[:n] {
			kept += k.Times
		}
		return plan, kept
	}
	return *fresh, 0
}

// still lists, as patterns of the problem, the boards told before that can be
// cut as they were, out of what is paid for already where there is any.
func (p *Problem) still(before []Told) []Pattern {
	type key struct{ group, label string }
	at := map[key]int{}
	left := make([]int64, len(p.Demands))
	for i := range p.Demands {
		d := &p.Demands[i]
		at[key{d.Group, d.Label}] = i
		left[i] = d.Count
	}
	boards := make([]int64, len(p.Stock))
	for s := range boards {
		boards[s] = p.Stock[s].Available
	}
	var out []Pattern
	for _, o := range before {
		n := o.Times
		var pieces []Piece
		for _, x := range o.Pieces {
			d, have := at[key{o.Group, x.Label}]
			if !have || x.Count <= 0 {
				n = 0
				break
			}
			n = min(n, left[d]/x.Count)
			pieces = append(pieces, Piece{d, p.Demands[d].Length, x.Label, x.Count})
		}
		for _, s := range p.alike(o.Group, o.Length) {
			t := n
			if boards[s] != Unlimited {
				t = min(t, boards[s])
			}
			if t <= 0 || !p.holds(s, pieces) {
				continue
			}
			if boards[s] != Unlimited {
				boards[s] -= t
			}
			c := p.finish(s, pieces)
			c.Times = t
			out = append(out, c)
			n -= t
			for _, x := range pieces {
				left[x.Demand] -= t * x.Count
			}
		}
	}
	return out
}

// alike are the stocks of a length, cheapest first.
func (p *Problem) alike(group string, l measure.Length) []int {
	var out []int
	for s := range p.Stock {
		if p.Stock[s].Group == group && p.Stock[s].Length == l {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(p.Stock[a].Price, p.Stock[b].Price) })
	return out
}
