package search_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"stallwright/engine/cut/search"
)

// brute finds the least cost by trying every way to fill the board that holds
// the first piece left, memoised over what is left.
type brute struct {
	in   *search.Instance
	memo map[string]int64
}

const none = math.MaxInt64 / 4

func (b *brute) best(dem, avail []int64) int64 {
	first := -1
	for i, d := range dem {
		if d > 0 {
			first = i
			break
		}
	}
	if first < 0 {
		return 0
	}
	key := fmt.Sprint(dem, avail)
	if v, ok := b.memo[key]; ok {
		return v
	}
	best := int64(none)
	for s := range b.in.Stock {
		if avail[s] == 0 {
			continue
		}
		b.fill(s, 0, first, dem, make([]int64, len(dem)), avail, &best)
	}
	b.memo[key] = best
	return best
}

// fill tries all counts of items i.. on a board of stock s.
func (b *brute) fill(s, i, first int, dem, on, avail []int64, best *int64) {
	if i == len(dem) {
		if on[first] == 0 || !b.fits(s, on) {
			return
		}
		left := make([]int64, len(dem))
		for k := range dem {
			left[k] = dem[k] - on[k]
		}
		av := append([]int64(nil), avail...)
		if av[s] != search.Unlimited {
			av[s]--
		}
		if c := b.best(left, av); c < none {
			*best = min(*best, c+b.cost(s, on))
		}
		return
	}
	for n := int64(0); n <= dem[i]; n++ {
		on[i] = n
		b.fill(s, i+1, first, dem, on, avail, best)
	}
	on[i] = 0
}

func (b *brute) room(on []int64) int64 {
	u := int64(0)
	for i, n := range on {
		u += n * b.in.Len[i]
	}
	return u
}

func (b *brute) fits(s int, on []int64) bool {
	n := int64(0)
	for _, c := range on {
		n += c
	}
	return b.room(on) <= b.in.Stock[s].Cap && (b.in.Most == 0 || n <= int64(b.in.Most))
}

func (b *brute) cost(s int, on []int64) int64 {
	return b.in.Stock[s].Cost - b.in.Credit.Of(b.in.Stock[s].Cap-b.room(on))
}

// small makes a random instance that brute force can solve.
func small(r *rand.Rand, kind int) search.Instance {
	var in search.Instance
	m := 2 + r.IntN(4)
	seen := map[int64]bool{}
	for len(in.Len) < m {
		l := 5 + r.Int64N(40)
		if !seen[l] {
			seen[l] = true
			in.Len = append(in.Len, l)
		}
	}
	for i := range in.Len {
		for j := i + 1; j < m; j++ {
			if in.Len[j] > in.Len[i] {
				in.Len[i], in.Len[j] = in.Len[j], in.Len[i]
			}
		}
	}
	for range in.Len {
		in.Dem = append(in.Dem, 1+r.Int64N(3))
	}
	for k := 1 + r.IntN(3); k > 0; k-- {
		in.Stock = append(in.Stock, search.Stock{Cap: 40 + r.Int64N(60), Cost: 20 + r.Int64N(60), Avail: search.Unlimited})
	}
	switch kind {
	case 1: // limited boards, some free
		for i := range in.Stock {
			in.Stock[i].Avail = 1 + r.Int64N(4)
		}
		in.Stock = append(in.Stock, search.Stock{Cap: 10 + r.Int64N(50), Cost: 0, Avail: 1})
	case 2:
		in.Most = int32(1 + r.IntN(3))
	case 3:
		in.Credit = search.Credit{Kerf: r.Int64N(3), Keep: 5 + r.Int64N(10), Step: 2 + r.Int64N(8), Value: 1}
		for i := range in.Stock {
			// Keeping a board whole must not pay.
			in.Stock[i].Cost += in.Credit.Of(in.Stock[i].Cap)
		}
	}
	return in
}

// TestBruteForce compares optima with exhaustive search: plain, limited boards,
// most pieces a board, credit for offcuts.
func TestBruteForce(t *testing.T) {
	names := []string{"plain", "limited", "most pieces", "credit"}
	for kind, name := range names {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, uint64(kind)))
			for trial := 0; trial < 150; trial++ {
				in := small(r, kind)
				b := brute{&in, map[string]int64{}}
				avail := make([]int64, len(in.Stock))
				for s := range avail {
					avail[s] = in.Stock[s].Avail
				}
				want := b.best(in.Dem, avail)
				got := search.Solve(context.Background(), &in, search.Options{})
				if want >= none {
					if !got.Infeasible {
						t.Fatalf("trial %d: want infeasible, got %+v\n%+v", trial, got, in)
					}
					continue
				}
				if !got.Proven || got.Cost != want || got.Bound != want {
					t.Fatalf("trial %d: cost %d bound %d proven %v, want %d\n%+v\n%+v", trial, got.Cost, got.Bound, got.Proven, want, in, got)
				}
				check(t, &in, search.Polish(&in, got.Runs, nil), want)
			}
		})
	}
}

// check verifies a plan from scratch: demands met exactly, nothing over-filled,
// stock within what is to be had, cost the sum of the boards.
func check(t *testing.T, in *search.Instance, runs []search.Run, cost int64) {
	t.Helper()
	b := brute{in: in}
	dem := append([]int64(nil), in.Dem...)
	used := make([]int64, len(in.Stock))
	sum := int64(0)
	for _, r := range runs {
		on := make([]int64, len(in.Len))
		for k, i := range r.Item {
			on[i] += int64(r.Count[k])
			dem[i] -= r.Times * int64(r.Count[k])
		}
		if !b.fits(r.Stock, on) {
			t.Errorf("over-filled: %+v", r)
		}
		used[r.Stock] += r.Times
		sum += r.Times * b.cost(r.Stock, on)
	}
	for i, d := range dem {
		if d != 0 {
			t.Errorf("item %d: %d pieces too few", i, d)
		}
	}
	for s, n := range used {
		if n > in.Stock[s].Avail {
			t.Errorf("stock %d: %d boards used of %d", s, n, in.Stock[s].Avail)
		}
	}
	if sum != cost {
		t.Errorf("cost %d, boards add up to %d", cost, sum)
	}
}
