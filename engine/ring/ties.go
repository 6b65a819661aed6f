package ring

import (
	"math"
	"slices"
)

// ties is the matrix B·G·Bᵀ of the length conditions of a closed chain, where row
// i of B is −u_i at pin i and +u_i at pin i+1, u the sections' directions, and
// G = diag(give). It is symmetric, and each condition meets only the one before
// and the one after, round the ring.
type ties struct {
	own  []float64 // of condition i with itself
	next []float64 // with condition i+1, round the ring
}

func newTies(u []vec, give []float64) ties {
	n := len(u)
	t := ties{make([]float64, n), make([]float64, n)}
	for i := range u {
		j := (i + 1) % n
		t.own[i] = give[i] + give[j]
		t.next[i] = -float64(give[j] * dot(u[i], u[j])) // they meet at pin i+1
	}
	return t
}

// lacks is what condition i still lacks with multipliers m.
func (t ties) lacks(i int, short, m []float64) float64 {
	n := len(m)
	h, j := (i+n-1)%n, (i+1)%n
	return short[i] - float64(t.own[i]*m[i]) - float64(t.next[h]*m[h]) - float64(t.next[i]*m[j])
}

// meet finds the multipliers m with which every condition lacks no more than
// play, and one that lacks less has none. m holds a first guess.
//
// It guesses which conditions bind and on which side, solves those as equations,
// and looks again, until nothing changes: a primal-dual active set, which ends
// after few guesses where the matrix is an M-matrix, as for a ring that turns less
// than a right angle at each pin (Hintermüller, Ito and Kunisch 2003; from
// memory). Where guesses go in circles, single conditions are met in turn for a
// while (Hildreth's method), and the guessing starts from there.
func (t ties) meet(short []float64, play float64, m []float64) {
	for range mostRounds {
		try := slices.Clone(m)
		if t.guess(short, play, try) {
			copy(m, try)
			return
		}
		if t.sweep(short, play, m) {
			return
		}
	}
}

// guess reports whether the guesses settled.
func (t ties) guess(short []float64, play float64, m []float64) bool {
	n := len(m)
	side, last := make([]int, n), make([]int, n)
	for k := 0; k < mostGuesses; k++ {
		for i := range m {
			w := m[i] + t.lacks(i, short, m)/t.own[i]
			edge := play / t.own[i]
			switch {
			case play == 0 || w > edge:
				side[i] = 1
			case w < -edge:
				side[i] = -1
			default:
				side[i] = 0
			}
		}
		if k > 0 && slices.Equal(side, last) {
			return true
		}
		copy(last, side)
		if !t.solve(side, short, play, m) {
			return false
		}
	}
	return false
}

// solve meets the binding conditions as equations; the others get nothing. It
// reports false where they do not determine the multipliers.
func (t ties) solve(side []int, short []float64, play float64, m []float64) bool {
	n := len(m)
	right := make([]float64, n)
	open := -1 // a condition that does not bind opens the ring
	for i := range right {
		right[i] = short[i] - float64(float64(side[i])*play)
		if side[i] == 0 {
			open = i
		}
	}
	if open < 0 {
		return t.round(right, m)
	}
	for k := 0; k < n; {
		i := (open + k) % n
		if side[i] == 0 {
			m[i] = 0
			k++
			continue
		}
		size := 1
		for side[(i+size)%n] != 0 {
			size++
		}
		run, ok := t.run(i, size, right)
		if !ok {
			return false
		}
		for d, v := range run {
			m[(i+d)%n] = v
		}
		k += size
	}
	return true
}

// round solves all conditions of the ring: those but the last as a run, once for
// the right side and once for what the last adds, then the last from both.
func (t ties) round(right, m []float64) bool {
	n := len(m)
	last := n - 1
	column := make([]float64, n)
	column[0], column[last-1] = t.next[last], t.next[last-1]
	a, okA := t.run(0, last, right)
	b, okB := t.run(0, last, column)
	if !okA || !okB {
		return false
	}
	pivot := t.own[last] - float64(t.next[last]*b[0]) - float64(t.next[last-1]*b[last-1])
	if !(pivot > leastPivot*t.own[last]) {
		return false
	}
	m[last] = (right[last] - float64(t.next[last]*a[0]) - float64(t.next[last-1]*a[last-1])) / pivot
	for i := range a {
		m[i] = a[i] - float64(b[i]*m[last])
	}
	return true
}

// leastPivot is how much of a condition's own must be left for it to say anything
// of its own; rounding leaves some 1e-15.
const leastPivot = 1e-12

// run solves size conditions in a row from the first, by elimination.
func (t ties) run(first, size int, right []float64) ([]float64, bool) {
	n := len(t.own)
	x, pivot := make([]float64, size), make([]float64, size)
	for d := range x {
		i := (first + d) % n
		pivot[d], x[d] = t.own[i], right[i]
		if d > 0 {
			tie := t.next[(i+n-1)%n]
			part := tie / pivot[d-1]
			pivot[d] -= float64(part * tie)
			x[d] -= float64(part * x[d-1])
		}
		if !(pivot[d] > leastPivot*t.own[i]) {
			return nil, false
		}
	}
	for d := size - 1; d >= 0; d-- {
		if d < size-1 {
			x[d] -= float64(t.next[(first+d)%n] * x[d+1])
		}
		x[d] /= pivot[d]
	}
	return x, true
}

// sweep meets one condition after another, each step drawn in by play. It reports
// whether they stand.
func (t ties) sweep(short []float64, play float64, m []float64) bool {
	for k := 0; k < mostSweeps; k++ {
		change := 0.0
		for i := range m {
			r := t.lacks(i, short, m) + float64(t.own[i]*m[i])
			switch {
			case r > play:
				r -= play
			case r < -play:
				r += play
			default:
				r = 0
			}
			v := r / t.own[i]
			change = max(change, math.Abs(v-m[i]))
			m[i] = v
		}
		if change < sweepEnd {
			return true
		}
	}
	return false
}
