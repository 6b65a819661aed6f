package survey

import (
	"math"

	"stallwright/engine/measure"
)

// metres is a length as float64 metres, for the numerics only.
func metres(l measure.Length) float64 { return l.Metres() }

// toLength is the one way a computed number of metres becomes a length again:
// measure.LengthFromMetres, to the nearest nanometre. What is no length a
// reader accepts (the computation did not settle) comes back as the outermost
// length, or none for what is not a number, so that a result is always whole.
func toLength(m float64) measure.Length {
	l, err := measure.LengthFromMetres(m)
	switch {
	case err == nil:
		return l
	case math.IsNaN(m):
		return 0
	case m < 0:
		return -measure.MaxLength
	}
	return measure.MaxLength
}

// toAngle is the same for an angle in radians.
func toAngle(rad float64) measure.Angle {
	a, err := measure.AngleFromRadians(rad)
	if err != nil {
		return 0
	}
	return a
}
