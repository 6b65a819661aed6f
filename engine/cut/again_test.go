package cut_test

import (
	"context"
	"testing"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

func TestReplanKeepsWhatItCan(t *testing.T) {
	for seed := uint64(70); seed < 80; seed++ {
		p := job(seed)
		old := solve(t, p)
		var hand []cut.Use
		hand = append(hand, old.Used...)
		hand[0].Count-- // the first board of the first pattern was cut
		done := map[int]int64{}
		for k, q := range old.Patterns {
			if q.Stock == hand[0].Stock {
				done[k] = 1
				break
			}
		}
		r, err := cut.Replan(context.Background(), p, old, cut.Progress{Done: done, OnHand: hand}, cut.Options{})
		if err != nil {
			t.Fatal(err)
		}
		verify(t, r.Problem, r.Plan)
		if r.Plan.Cost != 0 || r.Changed != 0 {
			t.Errorf("job %d: nothing changed, yet cost %d and %d boards changed", seed, r.Plan.Cost, r.Changed)
		}
		// One demand re-measured longer.
		d := old.Patterns[len(old.Patterns)-1].Pieces[0].Demand
		r, err = cut.Replan(context.Background(), p, old, cut.Progress{Done: done, OnHand: hand,
			Measured: map[int]measure.Length{d: p.Demands[d].Length + inch}}, cut.Options{})
		if err != nil {
			t.Fatal(err)
		}
		verify(t, r.Problem, r.Plan)
	}
}

// A re-measured piece changes the boards it lies on and leaves the others as the
// saw was told.
func TestAgainKeepsWhatTheSawWasTold(t *testing.T) {
	for seed := uint64(90); seed < 100; seed++ {
		p := job(seed)
		old := solve(t, p)
		told := p.Tell(&old)
		plan, kept, err := cut.Again(context.Background(), p, told, cut.Options{})
		if err != nil || kept != old.Boards || plan.Cost != old.Cost {
			t.Errorf("job %d: %d of %d boards kept, cost %d after %d, %v", seed, kept, old.Boards, plan.Cost, old.Cost, err)
		}
		verify(t, p, plan)
		q := p
		q.Demands = append([]cut.Demand(nil), p.Demands...)
		q.Demands[0].Length -= inch / 2
		plan, kept, err = cut.Again(context.Background(), q, told, cut.Options{})
		if err != nil {
			t.Fatal(err)
		}
		verify(t, q, plan)
		fresh := solve(t, q)
		if plan.Cost != fresh.Cost || kept == 0 && fresh.Cost == old.Cost {
			t.Errorf("job %d: %d boards kept, cost %d, from scratch %d", seed, kept, plan.Cost, fresh.Cost)
		}
	}
}
