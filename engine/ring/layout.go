package ring

import (
	"fmt"
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/portable"
)

// Spec is a ring to set out.
type Spec struct {
	Sides     []measure.Length // pin to pin, counter-clockwise; side i runs from pier i to pier i+1
	Thickness measure.Length   // depth of the sections, half of it inside the pin line
	Gate      int              // index of the section, usually the gate, whose middle ...
	Facing    measure.Angle    // ... lies in this direction from the centre
}

// Plan is a ring set out.
type Plan struct {
	Radius        measure.Length // of the pin circle
	Outside       bool           // the centre lies outside: the longest section spans more than half the circle
	AcrossPins    measure.Length // twice that
	InsideFlats   measure.Length // least width between inner faces, through the centre
	InsideCorners measure.Length // twice the least distance from the centre to an inner corner
	Piers         []Pier
}

// Pier is where a pin stands, counted from the centre stake.
type Pier struct {
	X, Y     measure.Length
	Angle    measure.Angle  // from the baseline, 0 to under 360°
	Chord    measure.Length // to the next pier: the section itself
	Skip     measure.Length // to the pier after the next: the check chord
	Opposite measure.Length // to the pier half-way round: the check across
	Central  measure.Angle  // the section's own angle at the centre
	Interior measure.Angle  // angle inside the ring between the section before and this one
}

// Layout sets a ring out from its centre.
func Layout(s Spec) (Plan, error) {
	c, err := pinCircle(s.Sides)
	if err != nil {
		return Plan{}, err
	}
	n := len(s.Sides)
	if s.Gate < 0 || s.Gate >= n {
		return Plan{}, fmt.Errorf("the gate is given as section %d, but there are %d sections", s.Gate+1, n)
	}
	central := c.central(s.Sides)
	turn := make([]float64, n+1) // angle of each pier from pier 0
	for i, a := range central {
		turn[i+1] = turn[i] + a
	}
	first := float64(s.Facing.Radians()) - float64(0.5*(turn[s.Gate]+turn[s.Gate+1]))
	xy := make([][2]float64, n)
	p := Plan{Piers: make([]Pier, n)}
	for i := range xy {
		sin, cos := portable.SinCos(first + turn[i])
		xy[i] = [2]float64{float64(c.radius * cos), float64(c.radius * sin)}
	}
	length := func(m float64) measure.Length {
		l, e := measure.LengthFromMetres(m)
		if e != nil && err == nil {
			err = e
		}
		return l
	}
	for i := range xy {
		q := &p.Piers[i]
		q.X, q.Y = length(xy[i][0]), length(xy[i][1])
		q.Angle = direction(first + turn[i])
		q.Central = direction(central[i])
		q.Interior = direction(math.Pi - float64(0.5*(central[(i+n-1)%n]+central[i])))
		q.Chord = s.Sides[i]
		q.Skip = length(apart(xy[i], xy[(i+2)%n]))
		q.Opposite = length(apart(xy[i], xy[(i+n/2)%n]))
	}
	p.Radius, p.Outside = length(c.radius), c.outside
	p.AcrossPins = length(float64(2 * c.radius))
	p.InsideFlats = length(c.insideFlats(s))
	p.InsideCorners = length(c.insideCorners(s))
	return p, err
}

// central is the angle at the centre under each section.
func (c circle) central(sides []measure.Length) []float64 {
	out := make([]float64, len(sides))
	for i, side := range sides {
		out[i] = float64(2 * c.halfAngle(side.Metres()))
		if c.outside && i == c.longest {
			out[i] = float64(2*math.Pi) - out[i]
		}
	}
	return out
}

// direction is an angle brought into 0 to under 360°.
func direction(rad float64) measure.Angle {
	a, err := measure.AngleFromRadians(rad)
	if err != nil {
		return 0
	}
	return ((a % measure.FullTurn) + measure.FullTurn) % measure.FullTurn
}

func apart(a, b [2]float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// inner is how far a section's inner face lies from the centre.
func (c circle) inner(side measure.Length, s Spec) float64 {
	h := side.Metres() / 2
	return math.Sqrt(max(0, float64(c.radius*c.radius)-float64(h*h))) - s.Thickness.Metres()/2
}

// insideFlats is twice the least distance from the centre to an inner face.
func (c circle) insideFlats(s Spec) float64 {
	least := math.Inf(1)
	for _, side := range s.Sides {
		least = min(least, c.inner(side, s))
	}
	return max(0, float64(2*least))
}

// insideCorners is twice the least distance from the centre to a point where
// the inner faces of neighbours meet: two lines at distances d and e from the
// centre, their normals an angle t apart, meet at √(d² + e² − 2de·cos t)/sin t.
func (c circle) insideCorners(s Spec) float64 {
	least := math.Inf(1)
	n := len(s.Sides)
	for i := range s.Sides {
		a, b := s.Sides[i], s.Sides[(i+1)%n]
		d, e := c.inner(a, s), c.inner(b, s)
		t := c.halfAngle(a.Metres()) + c.halfAngle(b.Metres())
		sin, cos := portable.SinCos(t)
		if sin <= 0 {
			continue
		}
		square := float64(d*d) + float64(e*e) - float64(float64(float64(2*d)*e)*cos)
		least = min(least, math.Sqrt(max(0, square))/sin)
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return float64(2 * least)
}
