package solid

import (
	"math"

	"stallwright/engine/portable"
)

// unit is the point of the unit circle at part i of n.
func unit(i, n int) (cos, sin float64) {
	s, c := portable.SinCos(float64(2*math.Pi) * (float64(i) / float64(n)))
	return c, s
}
