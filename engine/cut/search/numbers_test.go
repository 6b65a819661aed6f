package search

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// The cheapest numbers of boards, one after the other, against trying all.
func TestCheapestNumbersComeInOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for trial := range 400 {
		in := &Instance{Len: []int64{10}, Dem: []int64{int64(6 + r.IntN(6))}}
		kinds := 1 + r.IntN(5)
		for range kinds {
			v := Stock{Cap: 20, Cost: int64(1 + r.IntN(40)), Avail: Unlimited}
			if r.IntN(3) == 0 {
				v.Avail = int64(1 + r.IntN(4))
			}
			in.Stock = append(in.Stock, v)
		}
		if r.IntN(3) == 0 {
			in.Stock = append(in.Stock, Stock{Cap: 20, Avail: 2})
		}
		s := newSolver(context.Background(), in, Options{})
		s.best = int64(60+r.IntN(60)) / s.step * s.step
		c := &counts{s: s, middle: make([]float64, len(in.Stock))}
		for st := range in.Stock {
			c.middle[st] = 3 * r.Float64()
			if in.Stock[st].Cost > 0 {
				c.priced = append(c.priced, st)
			}
		}
		c.small()
		for range 1 + r.IntN(4) {
			cut := countCut{scale: 1 << 10}
			for range in.Stock {
				cut.worth = append(cut.worth, int64(r.IntN(40<<10)))
			}
			cut.need.addMul(int64(r.IntN(70<<10)), 1)
			c.addCut(cut)
		}
		want := everyNumber(c)
		for k := 0; ; k++ {
			at := c.cheapest()
			if at == nil {
				if k < min(len(want), 12) {
					t.Fatalf("trial %d: ended after %d numbers, want %d", trial, k, len(want))
				}
				break
			}
			if k >= len(want) || c.low != want[k] || costOf(in, at) != c.low || slices.ContainsFunc(c.tried, func(x []int64) bool { return slices.Equal(x, at) }) {
				t.Fatalf("trial %d: number %d is %v at %d, want a new one at %v", trial, k, at, c.low, want[min(k, len(want)-1):])
			}
			if c.tried = append(c.tried, at); k == 12 {
				break
			}
		}
	}
}

func costOf(in *Instance, at []int64) int64 {
	sum := int64(0)
	for st, n := range at {
		sum += n * in.Stock[st].Cost
	}
	return sum
}

// everyNumber lists the costs of all numbers within the target that break no cut,
// cheapest first.
func everyNumber(c *counts) []int64 {
	s := c.s
	at := make([]int64, len(s.in.Stock))
	var out []int64
	var fill func(st int)
	fill = func(st int) {
		if st == len(at) {
			cost := costOf(s.in, at)
			ok := cost <= s.target()
			for i := range c.cuts {
				_, broken := c.cuts[i].breaks(at)
				ok = ok && !broken
			}
			if ok {
				out = append(out, cost)
			}
			return
		}
		if s.in.Stock[st].Cost == 0 {
			at[st] = s.limit(st)
			fill(st + 1)
			return
		}
		for at[st] = 0; at[st] <= s.limit(st); at[st]++ {
			fill(st + 1)
		}
		at[st] = 0
	}
	fill(0)
	slices.Sort(out)
	return out
}

func TestSolveModFindsTheLeast(t *testing.T) {
	for m := int64(1); m < 40; m++ {
		for a := int64(1); a < 60; a++ {
			if gcd(a, m) != 1 {
				continue
			}
			for b := int64(-20); b < 60; b++ {
				want := int64(0)
				for mod(a*want-b, m) != 0 {
					want++
				}
				if got := solveMod(a, b, m); got != want {
					t.Fatalf("%d x = %d modulo %d: %d, want %d", a, b, m, got, want)
				}
			}
		}
	}
}
