package ring

import (
	"math"
)

// vec is a place or a shift in plan, metres.
type vec [2]float64

func (a vec) minus(b vec) vec { return vec{a[0] - b[0], a[1] - b[1]} }

func (a vec) plus(b vec, times float64) vec {
	return vec{a[0] + float64(times*b[0]), a[1] + float64(times*b[1])}
}

func (a vec) length() float64 {
	return math.Sqrt(float64(a[0]*a[0]) + float64(a[1]*a[1]))
}

// along is the direction of a; the X axis for no length.
func (a vec) along() vec {
	l := a.length()
	if l == 0 {
		return vec{1, 0}
	}
	return vec{a[0] / l, a[1] / l}
}

func dot(a, b vec) float64 { return float64(a[0]*b[0]) + float64(a[1]*b[1]) }

// lay sets rigid sections down one after another from the first pier, each
// swung until it points at the next pier. The last place is where the ring's
// end comes to lie; it should be the first.
func lay(pier []vec, side []float64) []vec {
	n := len(pier)
	pin := make([]vec, n+1)
	pin[0] = pier[0]
	for i := 0; i < n; i++ {
		target := pier[(i+1)%n]
		pin[i+1] = pin[i].plus(target.minus(pin[i]).along(), side[i])
	}
	return pin
}

// Limits of the closed chain's computation.
const (
	mostLinearisations = 30
	mostRounds         = 12    // of guessing, then sweeping
	mostGuesses        = 12    // in a round
	mostSweeps         = 120   // after a round that did not settle
	sweepEnd           = 1e-14 // metres
	linearEnd          = 1e-11 // metres
)

// closed is the closed chain of rigid sections whose pins lie nearest to the
// piers: Σ w·|pin − pier|² least, each section its length give or take play.
// give[i] = 1/w is how freely pin i leaves its pier. settled is false when no
// such chain was found.
//
// It is an adjustment of conditions (Mikhail and Ackermann, chapter 8):
// linearised about the latest pins, the multipliers of the n length conditions
// follow from n equations, each of which involves its neighbours alone. The play
// makes each a condition with two bounds.
func closed(pier []vec, side []float64, play float64, give []float64) (pin []vec, settled bool) {
	n := len(pier)
	pin = append([]vec(nil), pier...)
	multiplier := make([]float64, n)
	for k := 0; k < mostLinearisations; k++ {
		u := make([]vec, n)         // direction of each section
		short := make([]float64, n) // what the pins at their piers lack, linearised
		for i := range u {
			j := (i + 1) % n
			d := pin[j].minus(pin[i])
			u[i] = d.along()
			fromPiers := dot(u[i], pin[j].minus(pier[j])) - dot(u[i], pin[i].minus(pier[i]))
			short[i] = side[i] - d.length() + fromPiers
		}
		newTies(u, give).meet(short, play, multiplier)
		moved := 0.0
		for i := range pin {
			h := (i + n - 1) % n
			at := pier[i].plus(u[h], float64(give[i]*multiplier[h])).plus(u[i], -float64(give[i]*multiplier[i]))
			moved = max(moved, at.minus(pin[i]).length())
			pin[i] = at
		}
		if moved < linearEnd {
			return pin, true
		}
	}
	return pin, false
}
