// Package knapsack finds the best cutting pattern for one board: the bounded
// knapsack that column generation prices with, solved exactly in integers.
//
// In come item lengths, bounds and integer values; out come item counts that
// fit a capacity and the exact largest value, or a proof that no pattern beats a
// threshold. Time does not grow with the resolution of the lengths: a dynamic
// program on a coarse grid (lengths and capacity rounded down, which can only
// loosen it) bounds what the remaining items can still add, and a depth-first
// search over items at full resolution decides. When the lengths already fit
// the grid the bound is exact and the search walks straight to the optimum.
//
// The bounding idea is that of Martello and Toth, Knapsack Problems (1990),
// chapter 3, with the dynamic program in the place of the fractional bound.
package knapsack

import (
	"math"
	"math/bits"
	"sync"
)

// None is the penalty of a rule that no pattern may break.
const None = math.MinInt64 / 4

// Rule is a charge on patterns that hold two things together: it applies once
// when the counts on both sides are reached.
type Rule struct {
	Penalty int64 // at most zero; None forbids
	A, B    int   // sides; equal when two of the same are meant
	Half    bool  // with A equal to B: applies once for every two of the same
}

// Side ties an item to a side of a rule.
type Side struct {
	Rule   int
	Second bool // counts on side B
}

// Solver prices patterns over one list of items. It keeps its tables between
// calls. The zero Solver is not usable; call New.
type Solver struct {
	length  []int64
	pieces  []int32 // pieces in one item, against the most pieces per board
	maxCap  int64
	grid    int
	sides   [][]Side
	shift   uint
	width   int
	work    int64
	order   []int32 // items taking part, longest first
	w, v    []int64
	ub      []int32
	np      []int32
	table   []int64   // len(order)+1 rows of width
	pieceUB []int64   // best value of one piece among items k..
	density []float64 // best value per length among items k.., rounded up
	credit  func(rest int64) int64
	rules   []Rule
	first   []int32 // per rule: count on side A, B
	second  []int32

	most    int32
	count   []int32
	best    int64
	bestAt  []int32
	found   bool
	nodes   int64
	all     int64
	maxNode int64
	over    bool
	visit   func(value int64) bool
}

// New makes a solver for items of the given lengths (any unit, longest first),
// each of the given number of pieces (nil: one each), for capacities up to
// maxCap. grid is the number of cells of the bounding table.
func New(length []int64, pieces []int32, maxCap int64, grid int) *Solver {
	s := &Solver{length: length, pieces: pieces, maxCap: maxCap}
	s.SetGrid(grid)
	s.count = make([]int32, len(length))
	s.bestAt = make([]int32, len(length))
	return s
}

// SetGrid changes the number of cells of the bounding table.
func (s *Solver) SetGrid(grid int) {
	s.grid = grid
	s.shift = 0
	for s.maxCap>>s.shift >= int64(grid) {
		s.shift++
	}
	s.width = int(s.maxCap>>s.shift) + 1
}

// Exact reports whether the bounding table is at full resolution.
func (s *Solver) Exact() bool { return s.shift == 0 }

// SetCredit sets what the rest of a board is worth, in the unit of the values;
// it must not fall as the rest grows. Nil: nothing.
func (s *Solver) SetCredit(f func(rest int64) int64) { s.credit = f }

// SetRules sets the charges on pairs. sides has one list per item.
func (s *Solver) SetRules(rules []Rule, sides [][]Side) {
	s.rules, s.sides = rules, sides
	s.first = make([]int32, len(rules))
	s.second = make([]int32, len(rules))
}

// Release hands the solver's table back for others to use. The solver can be
// used again after the next Load.
func (s *Solver) Release() {
	tables.put(s.table)
	s.table = nil
}

// pool keeps tables for the next solver: they are large and soon done with, and
// Load writes every cell.
type pool struct{ p sync.Pool }

var tables pool

func (p *pool) get(n int) []int64 {
	if t, ok := p.p.Get().(*[]int64); ok && cap(*t) >= n {
		return (*t)[:n]
	}
	size := 1 << bits.Len(uint(n-1))
	return make([]int64, n, size)
}

func (p *pool) put(t []int64) {
	if cap(t) > 0 {
		p.p.Put(&t)
	}
}

// Work counts elementary steps so far.
func (s *Solver) Work() int64 { return s.work }

// Nodes counts the nodes of all searches so far.
func (s *Solver) Nodes() int64 { return s.all }

// Load sets the items' values and bounds and builds the bounding table. Items
// with no value or no bound take no part. The sum of value times bound must
// fit in an int64.
func (s *Solver) Load(value []int64, bound []int32) {
	s.order, s.w, s.v, s.ub, s.np = s.order[:0], s.w[:0], s.v[:0], s.ub[:0], s.np[:0]
	for i, v := range value {
		if v <= 0 || bound[i] <= 0 || s.length[i] > s.maxCap {
			continue
		}
		s.order = append(s.order, int32(i))
		s.w = append(s.w, s.length[i])
		s.v = append(s.v, v)
		b := int64(bound[i])
		if most := s.maxCap / s.length[i]; b > most {
			b = most
		}
		s.ub = append(s.ub, int32(b))
		n := int32(1)
		if s.pieces != nil {
			n = s.pieces[i]
		}
		s.np = append(s.np, n)
	}
	n := len(s.order)
	if need := (n + 1) * s.width; cap(s.table) < need {
		s.Release()
		s.table = tables.get(need)
	} else {
		s.table = s.table[:need]
	}
	last := s.table[n*s.width:]
	if s.credit == nil {
		clear(last)
	} else {
		for c := range last {
			rest := min(int64(c+1)<<s.shift-1, s.maxCap)
			last[c] = s.credit(rest)
		}
	}
	s.pieceUB = append(s.pieceUB[:0], make([]int64, n+1)...)
	s.density = append(s.density[:0], make([]float64, n+1)...)
	for k := n - 1; k >= 0; k-- {
		s.density[k] = max(s.density[k+1], float64(float64(s.v[k])/float64(s.w[k]))*(1+1e-14))
		s.pieceUB[k] = max(s.pieceUB[k+1], (s.v[k]+int64(s.np[k])-1)/int64(s.np[k]))
		s.layer(k)
	}
	s.work += int64(n*s.width) / 4
}

// layer fills the table's row k from row k+1.
func (s *Solver) layer(k int) {
	from := s.table[(k+1)*s.width : (k+2)*s.width]
	to := s.table[k*s.width : (k+1)*s.width]
	w, v, ub := int(s.w[k]>>s.shift), s.v[k], int64(s.ub[k])
	switch {
	case w == 0:
		for c, b := range from {
			to[c] = b + v*ub
		}
	case ub == 1:
		better(to, from, from, w, v)
	case ub < int64((s.width-1)/w):
		// Parcels of 1, 2, 4, ... and the rest make every number up to ub.
		better(to, from, from, w, v)
		s.work += int64(s.width) / 4
		for left, parcel := ub-1, int64(2); left > 0; parcel *= 2 {
			n := min(parcel, left)
			left -= n
			step, gain := w*int(n), v*n
			if step >= len(to) {
				break
			}
			t, f := to[step:], to[:len(to)-step]
			f = f[:len(t)]
			for c := len(t) - 1; c >= 0; c-- {
				t[c] = max(t[c], f[c]+gain)
			}
			s.work += int64(s.width) / 4
		}
	default:
		better(to, from, to, w, v)
	}
}

// better sets each cell of to to that of from, or to the cell of with w before
// it and v more if that is more. with may be to itself: any number of times.
func better(to, from, with []int64, w int, v int64) {
	if w >= len(to) {
		copy(to, from)
		return
	}
	copy(to[:w], from)
	t, f, g := to[w:], from[w:], with[:len(with)-w]
	f, g = f[:len(t)], g[:len(t)]
	for ; len(t) >= 4 && len(f) >= 4 && len(g) >= 4; t, f, g = t[4:], f[4:], g[4:] {
		t[0] = max(f[0], g[0]+v)
		t[1] = max(f[1], g[1]+v)
		t[2] = max(f[2], g[2]+v)
		t[3] = max(f[3], g[3]+v)
	}
	f, g = f[:len(t)], g[:len(t)]
	for c := range t {
		t[c] = max(f[c], g[c]+v)
	}
}

// Ceiling is an upper bound on the value of any pattern of the given capacity,
// penalties left aside. It costs nothing.
func (s *Solver) Ceiling(capacity int64) int64 {
	if capacity < 0 {
		return 0
	}
	return s.table[capacity>>s.shift]
}

// Best finds the pattern of largest value above the threshold in a board of the
// given capacity with at most most pieces (0: any number). ok is false when
// there is none, which is then proven unless exact is false: the node limit
// stopped the search, and only Ceiling bounds it. The counts, one per item, are
// the solver's own until the next call.
func (s *Solver) Best(capacity, threshold int64, most int32, limit int64) (count []int32, value int64, ok, exact bool) {
	s.visit = nil
	s.begin(threshold, most, limit)
	if capacity < 0 {
		return s.bestAt, s.best, false, true
	}
	if s.rules == nil {
		s.walk(capacity)
	} else if gap := s.Ceiling(capacity) - threshold; gap > 64 {
		// Aim high first: a search above a high threshold is short, and what
		// it finds is the best.
		for _, part := range []int64{16, 4} {
			s.begin(threshold+gap-gap/part, most, limit/8)
			s.dfs(0, capacity, 0, 0)
			s.book()
			if s.found && !s.over {
				return s.bestAt, s.best, true, true
			}
		}
		s.begin(threshold, most, limit)
	}
	s.dfs(0, capacity, 0, 0)
	s.book()
	return s.bestAt, s.best, s.found, !s.over
}

// book books the nodes of a search.
func (s *Solver) book() {
	s.work += s.nodes * 2
	s.all += s.nodes
}

// Each calls visit for every pattern worth more than the threshold, maximal or
// not, with the counts (the solver's own) and the value, until visit says false
// or the node limit is reached. It reports whether all were visited.
func (s *Solver) Each(capacity, threshold int64, most int32, limit int64, visit func(count []int32, value int64) bool) bool {
	s.begin(threshold, most, limit)
	s.visit = func(value int64) bool { return visit(s.count, value) }
	if capacity >= 0 {
		s.dfs(0, capacity, 0, 0)
	}
	s.work += s.nodes * 2
	s.all += s.nodes
	return !s.over
}

func (s *Solver) begin(threshold int64, most int32, limit int64) {
	if most <= 0 {
		most = math.MaxInt32
	}
	s.most, s.best, s.found, s.nodes, s.over, s.maxNode = most, threshold, false, 0, false, limit
	clear(s.count)
	clear(s.first)
	clear(s.second)
}

// walk takes, item by item, the number the table promises most for: a good
// first pattern, which spares the search most of its nodes.
func (s *Solver) walk(rest int64) {
	value, used := int64(0), int32(0)
	for k := range s.order {
		w, v := s.w[k], s.v[k]
		next := s.table[(k+1)*s.width:]
		top := next[rest>>s.shift]
		a := int64(0)
		most := min(rest/w, int64(s.ub[k]), int64((s.most-used)/s.np[k]))
		for b := int64(1); b <= most; b++ {
			if t := v*b + next[(rest-w*b)>>s.shift]; t > top {
				top, a = t, b
			}
		}
		s.count[s.order[k]] = int32(a)
		rest -= a * w
		value += a * v
		used += int32(a) * s.np[k]
	}
	if s.credit != nil {
		value += s.credit(rest)
	}
	if value > s.best {
		s.best, s.found = value, true
		copy(s.bestAt, s.count)
	}
	clear(s.count)
}

// dfs decides items k.. given the capacity and value so far.
func (s *Solver) dfs(k int, rest, value int64, used int32) {
	n := len(s.order)
	cell := int(rest >> s.shift)
	dense, long := s.shift > 0 && s.credit == nil, float64(rest)
	for ; k < n; k++ {
		if dense && value+int64(long*s.density[k])+1 <= s.best {
			return
		}
		if value+s.table[k*s.width+cell] <= s.best {
			return
		}
		left := s.most - used
		if left < s.np[k] && left <= 0 {
			break
		}
		if s.most != math.MaxInt32 && s.credit == nil {
			if hi, lo := bits.Mul64(uint64(s.pieceUB[k]), uint64(left)); hi == 0 && lo < 1<<62 && value+int64(lo) <= s.best {
				return
			}
		}
		w := s.w[k]
		if w > rest || left < s.np[k] {
			continue
		}
		a := min(s.ub[k], left)
		if np := s.np[k]; np > 1 {
			a = min(a, left/np)
		}
		if w*int64(a) > rest {
			a = int32(rest / w) // so few that the division is seldom needed
		}
		i := s.order[k]
		for ; a >= 1; a-- {
			s.nodes++
			if s.nodes > s.maxNode {
				s.over = true
			}
			if s.over {
				return
			}
			charge, legal := int64(0), true
			if s.sides != nil && len(s.sides[i]) > 0 {
				charge, legal = s.press(int(i), a)
			}
			if legal {
				s.count[i] = a
				s.dfs(k+1, rest-w*int64(a), value+s.v[k]*int64(a)+charge, used+a*s.np[k])
				s.count[i] = 0
			}
			if s.sides != nil && len(s.sides[i]) > 0 {
				s.release(int(i), a)
			}
		}
	}
	if s.credit != nil {
		value += s.credit(rest)
	}
	if value <= s.best {
		return
	}
	if s.visit != nil {
		if !s.visit(value) {
			s.over = true
		}
		return
	}
	s.best, s.found = value, true
	copy(s.bestAt, s.count)
}

// press adds a copies of item i to the rules' counts and returns what that
// newly costs.
func (s *Solver) press(i int, a int32) (charge int64, legal bool) {
	legal = true
	for _, sd := range s.sides[i] {
		r := &s.rules[sd.Rule]
		if r.Half {
			was := s.first[sd.Rule] / 2
			s.first[sd.Rule] += a
			charge += r.Penalty * int64(s.first[sd.Rule]/2-was)
			continue
		}
		was := s.broken(sd.Rule)
		if sd.Second {
			s.second[sd.Rule] += a
		} else {
			s.first[sd.Rule] += a
		}
		if !was && s.broken(sd.Rule) {
			if r.Penalty == None {
				legal = false
			} else {
				charge += r.Penalty
			}
		}
	}
	return charge, legal
}

func (s *Solver) release(i int, a int32) {
	for _, sd := range s.sides[i] {
		if sd.Second {
			s.second[sd.Rule] -= a
		} else {
			s.first[sd.Rule] -= a
		}
	}
}

func (s *Solver) broken(r int) bool {
	if s.rules[r].A == s.rules[r].B {
		return s.first[r] >= 2
	}
	return s.first[r] >= 1 && s.second[r] >= 1
}

// Shrink sets the items' bounds, none above those of Load, without rebuilding
// the table, which stays valid: fewer items can only be worth less.
func (s *Solver) Shrink(bound []int32) {
	for k, i := range s.order {
		s.ub[k] = int32(min(int64(bound[i]), s.maxCap/s.w[k]))
	}
}
