package dxf

import (
	"math"

	"stallwright/paper/draw"
)

// direction is the way from a to b in thousandths of a degree. It turns texts
// and dimension lines; no length comes from it.
func direction(a, b draw.Point) draw.Angle {
	deg := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X)) * 180 / math.Pi
	return turned(draw.Angle(math.Round(deg * float64(draw.Degree))))
}
