package survey

import (
	"math"

	"stallwright/engine/survey/normal"
)

// Tolerances of the numerics.
const (
	// pivotTolerance: an unknown whose pivot falls below this part of its
	// diagonal is not determined. A post known 30,000 times worse than the tape
	// is still determined; rounding noise is some 1e-13.
	pivotTolerance = 1e-9
	// priorSigma, metres: how firmly an undetermined post is held to where it
	// was drawn. Loose beside any tape, firm beside rounding.
	priorSigma = 10.0
	// probeSigma, metres: how loosely every post is held while looking for
	// those the readings leave loose. A thousand posts swinging on one hinge
	// share the hold, so it is loose enough for that.
	probeSigma = 100.0
	// looseSigma, metres: a post so probed and known no better than this is not
	// determined by the readings.
	looseSigma = 1.0
	// looseReading, metres: what the adjustment makes of a reading set aside,
	// known no better than this and touching a held post, checks nothing.
	looseReading = 0.1
	// leastRedundancy: a redundancy number below this is nothing but rounding.
	leastRedundancy = 1e-6
)

// system is a linearised set of readings: one design row each, followed by one
// row per unknown that holds it where it was drawn, with weight only where
// needed.
type system struct {
	design   *normal.Design
	readings int
	sigma    []float64 // of each reading, metres
	value    []float64 // of each reading, metres
	misclose []float64 // value read − value computed at the current coordinates
	weight   []float64 // per design row
}

func newSystem(unknowns int, value, sigma []float64) *system {
	return &system{
		design: &normal.Design{Unknowns: unknowns}, readings: len(sigma), value: value, sigma: sigma,
		misclose: make([]float64, len(sigma)), weight: make([]float64, len(sigma)+unknowns),
	}
}

// addPriors appends the rows that can hold an unknown; call it once all
// reading rows are in.
func (s *system) addPriors() {
	for c := 0; c < s.design.Unknowns; c++ {
		s.design.Add([]int{c}, []float64{1})
	}
}

// setWeights gives weight to the active readings and the held unknowns.
func (s *system) setWeights(active, hold []bool, holdSigma float64) {
	for i, sg := range s.sigma {
		s.weight[i] = 0
		if active[i] {
			s.weight[i] = 1 / float64(sg*sg)
		}
	}
	for c := 0; c < s.design.Unknowns; c++ {
		s.weight[s.readings+c] = 0
		if hold[c] {
			s.weight[s.readings+c] = 1 / float64(holdSigma*holdSigma)
		}
	}
}

// rightSide is AᵀP·misclose; drift is how far each unknown has moved from where
// it is held.
func (s *system) rightSide(drift []float64) []float64 {
	b := make([]float64, s.design.Unknowns)
	for i, w := range s.weight[:s.readings] {
		if w != 0 {
			s.design.AddTransposed(i, float64(w*s.misclose[i]), b)
		}
	}
	for c := range b {
		if w := s.weight[s.readings+c]; w != 0 {
			b[c] -= float64(w * drift[c])
		}
	}
	return b
}

// sumSquares is Σ (misclose/σ)² over the active readings.
func (s *system) sumSquares() float64 {
	sum := 0.0
	for i, w := range s.weight[:s.readings] {
		if w != 0 {
			sum += float64(w * float64(s.misclose[i]*s.misclose[i]))
		}
	}
	return sum
}

// estimate is a solved system: what each reading's residual says.
type estimate struct {
	*system
	factor   *normal.Factor
	inverse  *normal.Inverse
	active   []bool
	hold     []bool
	cofactor []float64 // variance of each reading's computed value, m²
	spare    int       // degrees of freedom
}

func (s *system) estimate(f *normal.Factor, active, hold []bool) *estimate {
	e := &estimate{system: s, factor: f, inverse: f.Inverse(), active: active, hold: hold}
	e.cofactor = make([]float64, s.readings)
	used := 0
	for i := range e.cofactor {
		e.cofactor[i] = e.inverse.RowVariance(s.design, i)
		if active[i] {
			used++
		}
	}
	// Each held unknown takes up as much of a degree of freedom as its own
	// redundancy number leaves: together, the rank the readings lack.
	lack := 0.0
	for c := range hold {
		if hold[c] {
			q, _ := e.inverse.At(c, c)
			lack += q / (priorSigma * priorSigma)
		}
	}
	e.spare = used - s.design.Unknowns + len(f.Collapsed) + int(math.Floor(lack+0.5))
	return e
}

// adjusted is what the estimate makes of reading i, metres.
func (e *estimate) adjusted(i int) float64 { return e.value[i] - e.misclose[i] }

// redundancy is the redundancy number of reading i; 0 if it is not active or
// nothing checks it.
func (e *estimate) redundancy(i int) float64 {
	if !e.active[i] {
		return 0
	}
	r := 1 - e.cofactor[i]/float64(e.sigma[i]*e.sigma[i])
	if r < leastRedundancy {
		return 0
	}
	return min(r, 1)
}

// against compares reading i with what the other active readings make of it:
// how far it is above them, and the standard deviation of that. A sigma of 0
// means that nothing checks it.
func (e *estimate) against(i int) (difference, sigma float64) {
	if e.active[i] {
		r := e.redundancy(i)
		if r == 0 {
			return 0, 0
		}
		return e.misclose[i] / r, e.sigma[i] / math.Sqrt(r)
	}
	if e.loose(i) {
		return 0, 0
	}
	return e.misclose[i], math.Sqrt(float64(e.sigma[i]*e.sigma[i]) + max(0, e.cofactor[i]))
}

// loose reports whether what the active readings make of reading i rests on
// where a post was drawn.
func (e *estimate) loose(i int) bool {
	cols, _ := e.design.Row(i)
	for _, c := range cols {
		if e.hold[c] {
			return e.cofactor[i] > looseReading*looseReading
		}
	}
	return false
}

// w is the w-test of reading i: how many standard deviations it is above what
// the others make it.
func (e *estimate) w(i int) float64 {
	d, s := e.against(i)
	if s == 0 {
		return 0
	}
	return d / s
}

// shadow is how an error of one standard deviation in reading i shows in the
// residual of every active reading, in that reading's standard deviations:
// column i of I − AQAᵀP, both sides scaled.
func (e *estimate) shadow(i int) []float64 {
	b := make([]float64, e.design.Unknowns)
	e.design.AddTransposed(i, 1/e.sigma[i], b)
	q := e.factor.Solve(b)
	out := make([]float64, e.readings)
	for j := range out {
		if e.active[j] {
			out[j] = -e.design.Dot(j, q) / e.sigma[j]
		}
	}
	if e.active[i] {
		out[i]++
	}
	return out
}
