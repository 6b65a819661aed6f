package cut_test

import (
	"fmt"
	"testing"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

func TestTicketsFollowTheTape(t *testing.T) {
	for seed := uint64(80); seed < 90; seed++ {
		p := job(seed)
		plan := solve(t, p)
		boards := int64(0)
		written := map[string]int64{}
		for _, k := range cut.Tickets(p, plan) {
			boards += k.Boards
			end := measure.Length(0)
			for _, m := range k.Marks {
				if m.At-m.Length != end || m.Next != m.At+p.Saw.Kerf {
					t.Errorf("job %d ticket %d: piece of %v from %v to %v", seed, k.Number, m.Length, end, m.At)
				}
				end = m.Next
				if int64(len(m.Labels)) != k.Boards {
					t.Errorf("job %d ticket %d: %d labels on %d boards", seed, k.Number, len(m.Labels), k.Boards)
				}
				for _, l := range m.Labels {
					written[l]++
				}
			}
		}
		if boards != plan.Boards {
			t.Errorf("job %d: %d boards on tickets, %d in the plan", seed, boards, plan.Boards)
		}
		for _, d := range p.Demands {
			if written[d.Label] != d.Count {
				t.Errorf("job %d: %q written %d times, want %d", seed, d.Label, written[d.Label], d.Count)
			}
		}
	}
}

// Boards alike are one ticket, so that they can be gang-cut, and tickets follow the
// order of the demands, so that what belongs to one wall comes off the saw together.
func TestTicketsGangAndFollowTheWalls(t *testing.T) {
	for seed := uint64(100); seed < 110; seed++ {
		p := job(seed)
		at := map[string]int{}
		for i, d := range p.Demands {
			at[d.Label] = i
		}
		last := 0
		seen := map[string]int{}
		for _, k := range cut.Tickets(p, solve(t, p)) {
			first, shape := len(p.Demands), fmt.Sprint(k.Stock)
			for _, m := range k.Marks {
				shape += fmt.Sprint(" ", m.Length)
				for _, l := range m.Labels {
					first = min(first, at[l])
				}
			}
			if first < last {
				t.Errorf("job %d: ticket %d begins with demand %d, the one before with %d", seed, k.Number, first, last)
			}
			if was, twice := seen[shape]; twice {
				t.Errorf("job %d: tickets %d and %d are cut alike", seed, was, k.Number)
			}
			last, seen[shape] = first, k.Number
		}
	}
}
