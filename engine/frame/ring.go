package frame

import (
	"errors"
	"fmt"
	"math"

	"stallwright/engine/measure"
)

// Ring is a polygon of rigid sections inscribed in a circle, solved.
//
// Numerics here use float64 with products spelled out so that no platform may
// fuse them, and come back to Length and Angle through the named roundings of
// package measure.
type Ring struct {
	Sections []measure.Length // pin to pin, gate first, anticlockwise
	Radius   measure.Length   // of the pin circle
	Central  []measure.Angle  // angle each section takes at the centre
	Interior []measure.Angle  // angle inside the ring at the pin between section i and section i+1
	Bearings []measure.Angle  // from the centre to the pin before section i, from east, anticlockwise
	Outside  bool             // the centre lies outside the ring: its longest section spans more than half
}

// Errors of SolveRing.
var (
	ErrFewSections = errors.New("a ring takes at least three sections")
	ErrNoRing      = errors.New("the longest section is as long as all the others together: nothing closes")
)

// SolveRing inscribes sections of the given lengths, in this order, in a
// circle: it finds the radius R at which the central angles
//
//	θ = 2·asin(L / 2R)
//
// add up to a full turn (for a ring of equal sections, R = L / (2·sin(180°/n))).
// toward is where the first section faces from the centre. Where the longest
// section would span more than half the circle, its angle is 360° − θ and the
// centre lies outside.
func SolveRing(sections []measure.Length, toward measure.Angle) (*Ring, error) {
	if len(sections) < 3 {
		return nil, ErrFewSections
	}
	longest, sum := 0, measure.Length(0)
	for i, l := range sections {
		if l <= 0 {
			return nil, fmt.Errorf("section %d has no length", i+1)
		}
		if l > sections[longest] {
			longest = i
		}
		sum += l
	}
	if sections[longest] >= sum-sections[longest] {
		return nil, ErrNoRing
	}
	r := &Ring{Sections: append([]measure.Length(nil), sections...)}
	chord := make([]float64, len(sections))
	for i, l := range sections {
		chord[i] = l.Metres()
	}
	radius, outside := circumradius(chord, longest)
	r.Outside = outside
	var err error
	if r.Radius, err = measure.LengthFromMetres(radius); err != nil {
		return nil, err
	}
	theta := centralAngles(chord, radius, longest, outside)
	at := toward.Radians() - theta[0]/2
	for i := range theta {
		next := theta[(i+1)%len(theta)]
		central, err1 := measure.AngleFromRadians(theta[i])
		interior, err2 := measure.AngleFromRadians(math.Pi - (theta[i]+next)/2)
		bearing, err3 := measure.AngleFromRadians(at)
		if err := errors.Join(err1, err2, err3); err != nil {
			return nil, err
		}
		r.Central = append(r.Central, central)
		r.Interior = append(r.Interior, interior)
		r.Bearings = append(r.Bearings, bearing)
		at += theta[i]
	}
	return r, nil
}

// centralAngles are the angles the chords take at the centre.
func centralAngles(chord []float64, radius float64, longest int, outside bool) []float64 {
	theta := make([]float64, len(chord))
	for i, c := range chord {
		theta[i] = 2 * math.Asin(math.Min(1, c/(2*radius)))
	}
	if outside {
		theta[longest] = 2*math.Pi - theta[longest]
	}
	return theta
}

// circumradius finds the circle by bisection, halving until the float cannot
// be halved further, so that the answer does not depend on a tolerance.
func circumradius(chord []float64, longest int) (radius float64, outside bool) {
	excess := func(r float64, outside bool) float64 {
		sum := 0.0
		for _, t := range centralAngles(chord, r, longest, outside) {
			sum += t
		}
		return sum - 2*math.Pi
	}
	lo := chord[longest] / 2
	// With the longest chord as a diameter the angles add up to a turn or more
	// if the centre is inside, and to less if it is outside.
	outside = excess(lo, false) < 0
	hi := lo
	grows := func(r float64) bool { return (excess(r, outside) > 0) != outside }
	for grows(hi) && hi < 1e9 {
		lo, hi = hi, hi*2
	}
	for {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			return hi, outside
		}
		if grows(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
}

// Pins are the pin positions about the centre at (0, 0): pin i stands before
// section i, so section i runs from pin i to pin i+1.
func (r *Ring) Pins() []Point {
	out := make([]Point, len(r.Bearings))
	radius := r.Radius.Metres()
	for i, b := range r.Bearings {
		sin, cos := math.Sincos(b.Radians())
		x, errX := measure.LengthFromMetres(float64(radius * cos))
		y, errY := measure.LengthFromMetres(float64(radius * sin))
		if errX == nil && errY == nil {
			out[i] = Point{x, y}
		}
	}
	return out
}

// PinCircle is the diameter of the circle through the pins.
func (r *Ring) PinCircle() measure.Length { return 2 * r.Radius }

// Flats is the inside width between walls of the given thickness that face each
// other: twice the way from the centre to the middle of the most common
// section, less the wall.
func (r *Ring) Flats(wall measure.Length) measure.Length {
	plain := r.plain()
	c, radius := plain.Metres(), r.Radius.Metres()
	apothem := math.Sqrt(math.Max(0, float64(radius*radius)-float64(c*c)/4))
	l, err := measure.LengthFromMetres(apothem)
	if err != nil {
		return 0
	}
	return 2*l - wall
}

// Corners is the inside width from joint to joint, less the uprights' size.
func (r *Ring) Corners(upright measure.Length) measure.Length { return 2*r.Radius - upright }

// plain is the length most sections have; the longer of two equally common.
func (r *Ring) plain() measure.Length {
	count := map[measure.Length]int{}
	best := r.Sections[0]
	for _, l := range r.Sections {
		count[l]++
		if count[l] > count[best] || (count[l] == count[best] && l > best) {
			best = l
		}
	}
	return best
}

// atan2 is the direction of d in radians, for drawing.
func atan2(d Point) float64 { return math.Atan2(d.Y.Metres(), d.X.Metres()) }
