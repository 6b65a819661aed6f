package frame

import (
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/portable"
	"stallwright/engine/ring"
)

// Ring is a polygon of rigid sections inscribed in a circle, as package ring
// solves it.
type Ring struct {
	Sections []measure.Length // pin to pin, gate first, anticlockwise
	Radius   measure.Length   // of the pin circle
	Central  []measure.Angle  // angle each section takes at the centre
	Interior []measure.Angle  // angle inside the ring at the pin between section i and section i+1
	Bearings []measure.Angle  // from the centre to the pin before section i, from east, anticlockwise
	Outside  bool             // the centre lies outside the ring: its longest section spans more than half

	pins []Point
}

// Errors of SolveRing; others name a section without length.
var (
	ErrFewSections = ring.ErrFewSections
	ErrNoRing      = ring.ErrNoRing
)

// SolveRing inscribes sections of the given lengths, in this order, in a
// circle. toward is where the first section faces from the centre, from east,
// anticlockwise. See ring.Layout.
func SolveRing(sections []measure.Length, toward measure.Angle) (*Ring, error) {
	p, err := ring.Layout(ring.Spec{Sides: sections, Facing: toward})
	if err != nil {
		return nil, err
	}
	n := len(sections)
	r := &Ring{Sections: append([]measure.Length(nil), sections...), Radius: p.Radius, Outside: p.Outside}
	for i := range p.Piers {
		q := &p.Piers[i]
		r.Central = append(r.Central, q.Central)
		r.Interior = append(r.Interior, p.Piers[(i+1)%n].Interior)
		r.Bearings = append(r.Bearings, q.Angle)
		r.pins = append(r.pins, Point{q.X, q.Y})
	}
	return r, nil
}

// Pins are the pin positions about the centre at (0, 0): pin i stands before
// section i, so section i runs from pin i to pin i+1.
func (r *Ring) Pins() []Point { return append([]Point(nil), r.pins...) }

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
func atan2(d Point) float64 { return portable.Atan2(d.Y.Metres(), d.X.Metres()) }
