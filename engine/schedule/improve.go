package schedule

import (
	"context"
	"math/rand/v2"
	"slices"
	"sort"
)

// seed of the random choices; any would do, the same one gives the same schedule.
const seed = 310

// solver holds the best schedule and what is known of all.
type solver struct {
	ctx   context.Context
	in    *instance
	gen   *generator
	rng   *rand.Rand
	best  []int64
	end   int64   // length of the best
	stray int64   // how far the best strays from the order of the activities
	now   []int64 // where the search is: as short as the best
	bound int64
	spent int64 // work, apart from the generator's
	limit int64
}

func (s *solver) work() int64 { return s.spent + s.gen.work }

// over reports that no more may be done, or nothing is left to do.
func (s *solver) over(limit int64) bool {
	return s.end <= s.bound || s.work() >= limit || s.ctx.Err() != nil
}

// offer keeps a schedule that is shorter than the best, or as short and nearer to
// the order of the activities.
func (s *solver) offer(start []int64) {
	e := s.in.length(start)
	if s.best != nil && e > s.end {
		return
	}
	s.now = start
	stray := s.straying(start)
	if s.best == nil || e < s.end || stray < s.stray {
		s.best, s.end, s.stray = start, e, stray
	}
}

// straying is how far apart, in all, the activities' places are in the order of
// their starts and in their own.
func (s *solver) straying(start []int64) int64 {
	sum := int64(0)
	for k, i := range byStart(start) {
		sum += max(int64(k-i), int64(i-k))
	}
	s.spent += int64(len(start))
	return sum
}

// byStart is the activities in the order of their starts, then of their indexes.
func byStart(start []int64) []int {
	order := make([]int, len(start))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return start[order[a]] < start[order[b]] })
	return order
}

// rules are the priority rules (Kolisch 1996): latest finish, latest start, most
// work after, most successors, longest first, and those weighted by what the
// work holds of the scarcest resource.
func (s *solver) rules() [][]int64 {
	in := s.in
	ls := in.latest(in.length(in.heads()))
	n := in.n
	lf, span, works, count := make([]int64, n), make([]int64, n), make([]int64, n), make([]int64, n)
	scarce := s.scarcest()
	for k := n - 1; k >= 0; k-- {
		i := in.order[k]
		lf[i] = ls[i] + in.dur[i]
		works[i], count[i] = -in.dur[i], -1
		if scarce >= 0 {
			works[i] = 0
			for _, u := range in.needs[i] {
				if u.res == scarce {
					works[i] = -in.dur[i] * u.amount
				}
			}
		}
		most, kids := int64(0), int64(0)
		for _, l := range in.succ[i] {
			most = min(most, works[l.to])
			kids = min(kids, count[l.to])
		}
		span[i] = -in.dur[i]
		works[i] += most
		count[i] += kids - int64(len(in.succ[i]))
	}
	return [][]int64{ls, lf, works, count, span}
}

// scarcest is the resource with the most work asked of it for what there is.
func (s *solver) scarcest() int {
	in := s.in
	asked := make([]float64, len(in.capacity))
	for i := range in.n {
		for _, u := range in.needs[i] {
			asked[u.res] += float64(u.amount) * float64(in.dur[i]) / float64(in.capacity[u.res])
		}
	}
	best := -1
	for r, a := range asked {
		if a > 0 && (best < 0 || a > asked[best]) {
			best = r
		}
	}
	return best
}

// construct makes the first schedules: in the order of the activities, and by
// every rule in both ways.
func (s *solver) construct() {
	given := make([]int64, s.in.n)
	for i := range given {
		given[i] = int64(i)
	}
	s.offer(s.gen.parallel(given))
	s.offer(s.gen.serial(given))
	for k, rank := range s.rules() {
		for _, make := range []func([]int64) []int64{s.gen.parallel, s.gen.serial} {
			if k > 0 && s.over(s.limit) {
				return
			}
			s.offer(s.gen.justify(make(rank)))
		}
	}
}

// improve takes the best schedule apart in places and puts it together again:
// activities of a stretch of time get other ranks, and both kinds of generation
// and justification follow (after the iterated greedy and neighbourhoods of
// Palpant, Artigues & Michelon 2004). Every few rounds it starts afresh from a
// rule with noise.
func (s *solver) improve(limit int64) {
	in := s.in
	rules := s.rules()
	rank := make([]int64, in.n)
	for round := 0; !s.over(limit); round++ {
		if round%8 == 7 {
			base := rules[s.rng.IntN(2)]
			spread := max(1, s.end/int64(4+s.rng.IntN(20)))
			for i := range rank {
				rank[i] = base[i] + s.rng.Int64N(spread)
			}
			s.offer(s.gen.justify(s.generate(rank)))
			continue
		}
		order := byStart(s.now)
		s.spent += int64(in.n)
		for k, i := range order {
			rank[i] = int64(k) * 4
		}
		width := min(in.n, 6+s.rng.IntN(40))
		from := s.rng.IntN(in.n - width + 1)
		reach := int64(4 * (2 + s.rng.IntN(width)))
		for _, i := range order[from : from+width] {
			rank[i] += s.rng.Int64N(reach) - reach/2
		}
		s.offer(s.gen.justify(s.generate(rank)))
	}
}

// tidy brings the best schedule nearer to the order of the activities without
// making it longer: stretches of it are put in that order and generated again,
// and activities that are alike change places.
func (s *solver) tidy(limit int64) {
	in := s.in
	rank := make([]int64, in.n)
	s.offer(s.exchanged(s.best))
	for idle := 0; s.stray > 0 && idle < 50+2*in.n && s.work() < limit && s.ctx.Err() == nil; idle++ {
		before := s.stray
		order := byStart(s.best)
		width := 2 + s.rng.IntN(min(in.n-1, 60))
		from := s.rng.IntN(in.n - width + 1)
		slices.Sort(order[from : from+width])
		for k, i := range order {
			rank[i] = int64(k)
		}
		s.spent += int64(in.n)
		if start := s.generate(rank); in.length(start) <= s.end {
			s.offer(s.exchanged(start))
		}
		if s.stray < before {
			idle = 0
		}
	}
}

func (s *solver) generate(rank []int64) []int64 {
	if s.rng.IntN(3) == 0 {
		return s.gen.parallel(rank)
	}
	return s.gen.serial(rank)
}
