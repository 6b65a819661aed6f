package survey

import (
	"stallwright/engine/measure"
	"stallwright/engine/survey/chance"
)

// Network is everything measured in plan.
type Network struct {
	Points   []Point
	Readings []Reading
	Datum    Datum
	// Spans are pairs of points whose adjusted distance is asked for, read or not.
	Spans [][2]string
}

// Datum says what the adjusted coordinates refer to when fewer than two points
// are fixed. The zero value fits all adjusted points as closely as a move and a
// turn can to where they were drawn (inner constraints). It moves and turns
// the whole; it never changes a distance, a residual or a test.
type Datum struct {
	Fit    []string // only these points are fitted to their drawn places
	Origin string   // or: this point stays where it was drawn,
	Toward string   // and this one stays in its drawn direction from it
}

// Options are the limits and tolerances of an adjustment. The zero value of
// each field means the usual one, given with it.
type Options struct {
	Tape   Precision // distances and diagonals; 1/16 in + 200 ppm
	Line   Precision // offsets and straight lines, by length of the line; 1/8 in + 100 ppm
	Square Precision // right angles, by length of the second arm; 1/8 in + 1,000 ppm
	Rod    Precision // level readings; 1/16 in

	// CutOff is how many of its own standard deviations a residual may reach
	// before its reading is suspected. 3.29: one good reading in a thousand
	// goes beyond (Baarda 1968).
	CutOff float64
	// Power is the chance with which a blunder of the stated smallest size is
	// found. 0.99.
	Power float64
	// GlobalAlpha is the significance of the test of all readings together.
	// 0.05.
	GlobalAlpha float64
	// Odds is how much likelier one suspect must be than another before the
	// other is cleared. 20.
	Odds float64

	Reach     measure.Length   // longest distance worth proposing to read; 100 ft
	PostFaces []measure.Length // post sizes: a tape hooked on the wrong face is off by one of these
	Show      measure.Tape     // how lengths are written in sentences; feet, 1/16 in
}

// filled gives the options with the usual values where none are set.
func (o Options) filled() Options {
	usual := func(p *Precision, d Precision) {
		if p.Fixed <= 0 && p.PartsPerMillion <= 0 {
			*p = d
		}
	}
	usual(&o.Tape, tapePrecision)
	usual(&o.Line, linePrecision)
	usual(&o.Square, squarePrecision)
	usual(&o.Rod, rodPrecision)
	number := func(v *float64, d, low, high float64) {
		if !(*v > low && *v < high) {
			*v = d
		}
	}
	number(&o.CutOff, 3.29, 0, 100)
	number(&o.Power, 0.99, 0, 1)
	number(&o.GlobalAlpha, 0.05, 0, 1)
	number(&o.Odds, 20, 1, 1e9)
	if o.Reach <= 0 {
		o.Reach = 100 * measure.Foot
	}
	if o.Show == (measure.Tape{}) {
		o.Show = measure.TapeSixteenth
	}
	return o
}

// noncentrality is how many standard deviations of its own estimate a blunder
// must have to be found with the asked power at the cut-off (Baarda's δ₀).
func (o Options) noncentrality() float64 {
	return o.CutOff + chance.NormalQuantile(o.Power)
}

func (o Options) show(l measure.Length) string {
	return o.Show.Show(o.Show.Round(l, measure.Nearest))
}

// sigma is a plane reading's standard deviation in metres; span is the length
// it runs over, in metres.
func (o Options) sigma(r Reading, span float64) float64 {
	if r.Sigma > 0 {
		return max(1e-6, metres(r.Sigma))
	}
	switch r.Kind {
	case Offset, Straight:
		return o.Line.sigma(span)
	case RightAngle:
		return o.Square.sigma(span)
	}
	return o.Tape.sigma(span)
}
