package knapsack_test

import (
	"math/rand/v2"
	"testing"

	"stallwright/engine/cut/knapsack"
)

// exhaust finds the best value by trying all counts.
func exhaust(w, v []int64, ub []int32, c int64, most int32) int64 {
	if len(w) == 0 {
		return 0
	}
	best := int64(0)
	for a := int32(0); a <= ub[0] && int64(a)*w[0] <= c && a <= most; a++ {
		best = max(best, int64(a)*v[0]+exhaust(w[1:], v[1:], ub[1:], c-int64(a)*w[0], most-a))
	}
	return best
}

func TestBestAgainstExhaustion(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for k := 0; k < 400; k++ {
		n := 1 + r.IntN(7)
		w, v, ub := make([]int64, n), make([]int64, n), make([]int32, n)
		for i := range w {
			w[i] = 1 + r.Int64N(400)
			v[i] = r.Int64N(3) * (w[i]*10 + r.Int64N(200)) // some without value
			ub[i] = int32(r.IntN(4))
		}
		c := 1 + r.Int64N(1000)
		most := int32(1 + r.IntN(8))
		want := exhaust(w, v, ub, c, most)
		// The grid must not matter: full resolution, coarse, absurdly coarse.
		for _, grid := range []int{2000, 64, 3} {
			s := knapsack.New(w, nil, 1000, grid)
			s.Load(v, ub)
			if up := s.Ceiling(c); up < want {
				t.Fatalf("case %d grid %d: ceiling %d below %d", k, grid, up, want)
			}
			count, got, ok, exact := s.Best(c, want-1, most, 1<<40)
			if want > 0 && (!ok || !exact || got != want) {
				t.Fatalf("case %d grid %d: %d %v %v, want %d", k, grid, got, ok, exact, want)
			}
			if ok {
				used, value := int64(0), int64(0)
				for i, a := range count {
					used += int64(a) * w[i]
					value += int64(a) * v[i]
					if a > ub[i] {
						t.Fatalf("case %d: %d of item %d, at most %d", k, a, i, ub[i])
					}
				}
				if used > c || value != got {
					t.Fatalf("case %d: uses %d of %d, worth %d of %d", k, used, c, value, got)
				}
			}
			if _, _, ok, exact := s.Best(c, want, most, 1<<40); ok || !exact {
				t.Fatalf("case %d grid %d: found more than the best", k, grid)
			}
		}
	}
}

func TestRulesForbidAndCharge(t *testing.T) {
	s := knapsack.New([]int64{5, 4, 3}, nil, 20, 32)
	s.SetRules([]knapsack.Rule{{Penalty: knapsack.None, A: 0, B: 1}}, [][]knapsack.Side{{{Rule: 0}}, {{Rule: 0, Second: true}}, nil})
	s.Load([]int64{50, 40, 1}, []int32{1, 1, 1})
	if _, v, _, _ := s.Best(20, 0, 0, 1000); v != 51 {
		t.Errorf("best %d with the first two apart, want 51", v)
	}
	s.SetRules([]knapsack.Rule{{Penalty: -7, A: 0, B: 1}}, [][]knapsack.Side{{{Rule: 0}}, {{Rule: 0, Second: true}}, nil})
	s.Load([]int64{50, 40, 1}, []int32{1, 1, 1})
	if _, v, _, _ := s.Best(20, 0, 0, 1000); v != 84 {
		t.Errorf("best %d with a charge of 7, want 84", v)
	}
}
