package draw

import "math"

// Micron is a length on paper in micrometres. It is a type of its own so that a
// paper size is never mistaken for a model length.
type Micron int64

// MM is one millimetre on paper.
const MM Micron = 1000

// PaperPoint is a place on a sheet: X to the right and Y up from the lower left
// corner of the trimmed sheet, in micrometres.
type PaperPoint struct{ X, Y Micron }

func (p PaperPoint) add(q PaperPoint) PaperPoint { return PaperPoint{p.X + q.X, p.Y + q.Y} }
func (p PaperPoint) sub(q PaperPoint) PaperPoint { return PaperPoint{p.X - q.X, p.Y - q.Y} }

// PaperRect is an upright rectangle on a sheet, Min at its lower left.
type PaperRect struct{ Min, Max PaperPoint }

func (r PaperRect) width() Micron  { return r.Max.X - r.Min.X }
func (r PaperRect) height() Micron { return r.Max.Y - r.Min.Y }

func (r PaperRect) inset(d Micron) PaperRect {
	return PaperRect{PaperPoint{r.Min.X + d, r.Min.Y + d}, PaperPoint{r.Max.X - d, r.Max.Y - d}}
}

func (r PaperRect) corners() quad {
	return quad{r.Min, {r.Max.X, r.Min.Y}, r.Max, {r.Min.X, r.Max.Y}}
}

func (r PaperRect) holds(p PaperPoint) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

func (r PaperRect) union(o PaperRect) PaperRect {
	return PaperRect{
		PaperPoint{min(r.Min.X, o.Min.X), min(r.Min.Y, o.Min.Y)},
		PaperPoint{max(r.Max.X, o.Max.X), max(r.Max.Y, o.Max.Y)},
	}
}

// bounds is the least rectangle round the points, of which there is at least one.
func bounds(pts []PaperPoint) PaperRect {
	r := PaperRect{pts[0], pts[0]}
	for _, p := range pts[1:] {
		r = r.union(PaperRect{p, p})
	}
	return r
}

// Angle is a turn in thousandths of a degree, counter-clockwise from the
// positive x axis.
type Angle int64

// Degree is one degree.
const Degree Angle = 1000

// trigOne is the length of the vector that Angle.vector returns.
const trigOne = 1_000_000_000

// vector returns cosine and sine times trigOne, rounded to whole numbers. A
// test shows that no angle is so near to a rounding tie that the last bits of
// math.Sin, which may differ between processors, could matter.
func (a Angle) vector() (cos, sin int64) {
	a = a.turn()
	quarter, rest := a/(90*Degree), a%(90*Degree)
	c, s := int64(trigOne), int64(0)
	if rest != 0 {
		rad := float64(rest) * (math.Pi / 180000)
		c = int64(math.Round(float64(math.Cos(rad) * trigOne)))
		s = int64(math.Round(float64(math.Sin(rad) * trigOne)))
	}
	switch quarter {
	case 1:
		return -s, c
	case 2:
		return -c, -s
	case 3:
		return s, -c
	}
	return c, s
}

// turn brings the angle into [0°, 360°).
func (a Angle) turn() Angle {
	if a %= 360 * Degree; a < 0 {
		a += 360 * Degree
	}
	return a
}

// upright turns text by half a turn where it would stand on its head, so that
// it reads from below or from the right (ISO 129-1, from memory).
func (a Angle) upright() Angle {
	if a = a.turn(); a > 90*Degree && a <= 270*Degree {
		return (a - 180*Degree).turn()
	}
	return a
}

// angleOf is the direction of a vector on paper, to the nearest thousandth of a
// degree; a zero vector gives 0.
func angleOf(v PaperPoint) Angle {
	deg := math.Atan2(float64(v.Y), float64(v.X)) * (180000 / math.Pi)
	return Angle(math.Round(deg)).turn()
}

// polar is the point at distance r from c in direction a.
func polar(c PaperPoint, r Micron, a Angle) PaperPoint {
	return rotated(c, a, PaperPoint{r, 0})
}

// rotated carries local, given in axes turned by a about c, to the sheet.
func rotated(c PaperPoint, a Angle, local PaperPoint) PaperPoint {
	cos, sin := a.vector()
	x, y := int64(local.X), int64(local.Y)
	return PaperPoint{
		c.X + Micron(divRound(x*cos-y*sin, trigOne)),
		c.Y + Micron(divRound(x*sin+y*cos, trigOne)),
	}
}

// divRound is a/b to the nearest whole number, halves away from zero; b > 0.
func divRound(a, b int64) int64 {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}

// distance is the length from p to q, rounded down.
func distance(p, q PaperPoint) Micron {
	d := q.sub(p)
	return Micron(isqrt(int64(d.X)*int64(d.X) + int64(d.Y)*int64(d.Y)))
}

// isqrt is the floor of the square root of n ≥ 0.
func isqrt(n int64) int64 {
	r := int64(math.Sqrt(float64(n)))
	for r*r > n {
		r--
	}
	for (r+1)*(r+1) <= n {
		r++
	}
	return r
}
