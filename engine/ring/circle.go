package ring

import (
	"errors"
	"fmt"
	"math"

	"stallwright/engine/measure"
	"stallwright/engine/portable"
)

// circle is the pin circle of a cyclic polygon, metres.
type circle struct {
	radius float64
	// outside: the centre lies beyond the longest side, which then turns back
	// over the sum of the others.
	outside bool
	longest int
}

// halfAngle is half the angle at the centre under a side s.
func (c circle) halfAngle(s float64) float64 {
	return portable.Asin(min(1, s/float64(2*c.radius)))
}

// Radius is the radius of the circle through the pins of a ring with these
// sides, pin to pin.
func Radius(sides []measure.Length) (measure.Length, error) {
	c, err := pinCircle(sides)
	if err != nil {
		return 0, err
	}
	return measure.LengthFromMetres(c.radius)
}

// Why sections make no ring; errors name the section and wrap one of these.
var (
	ErrFewSections = errors.New("a ring needs at least three sections")
	ErrNoRing      = errors.New("the ring cannot close")
)

// checkSides refuses sides that cannot close.
func checkSides(sides []measure.Length) error {
	if len(sides) < 3 {
		return fmt.Errorf("%w, not %d", ErrFewSections, len(sides))
	}
	var sum, longest measure.Length
	at := 0
	for i, s := range sides {
		if s <= 0 || s > measure.MaxLength {
			return fmt.Errorf("section %d is %s long; a section is longer than nothing", i+1, s)
		}
		sum += s
		if s > longest {
			longest, at = s, i
		}
	}
	if longest >= sum-longest {
		return fmt.Errorf("%w: section %d (%s) is as long as all the others together (%s)", ErrNoRing, at+1, longest, sum-longest)
	}
	return nil
}

// pinCircle solves Σ asin(s/2R) = π for R by bisection, or, when the centre
// lies outside the polygon, asin(longest/2R) = Σ asin(other/2R).
func pinCircle(sides []measure.Length) (circle, error) {
	if err := checkSides(sides); err != nil {
		return circle{}, err
	}
	var c circle
	sum := 0.0
	for i, s := range sides {
		sum += s.Metres()
		if s > sides[c.longest] {
			c.longest = i
		}
	}
	long := sides[c.longest].Metres()
	excess := func(r float64) float64 {
		t := circle{radius: r}
		total := 0.0
		for i, s := range sides {
			if h := t.halfAngle(s.Metres()); i == c.longest && c.outside {
				total -= h
			} else {
				total += h
			}
		}
		if c.outside {
			return -total
		}
		return total - math.Pi
	}
	low, high := long/2, sum/4
	if excess(low) < 0 {
		c.outside = true
		for high = long; excess(high) > 0; high = float64(2 * high) {
			if high > float64(1000*sum) {
				return c, fmt.Errorf("the ring is all but flat: section %d is nearly as long as all the others together", c.longest+1)
			}
		}
	}
	for k := 0; k < 200; k++ {
		mid := low + float64(0.5*(high-low))
		if mid <= low || mid >= high {
			break
		}
		if excess(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	c.radius = high
	return c, nil
}

// Basis says what a ring's asked-for diameter is measured across.
type Basis uint8

// What a diameter can be measured across.
const (
	PinCircle     Basis = iota // the circle through the pins
	InsideFlats                // between the inner faces of opposite sections
	InsideCorners              // between inner corners, where inner faces meet
)

// String is the basis in words.
func (b Basis) String() string {
	switch b {
	case InsideFlats:
		return "inside flats"
	case InsideCorners:
		return "inside corners"
	}
	return "pin circle"
}

// RegularSide is the side, pin to pin, of a ring of n equal sections that is
// asked for as a diameter on some basis. thickness is the sections' depth,
// half of it inside the pin line.
func RegularSide(diameter measure.Length, on Basis, n int, thickness measure.Length) (measure.Length, error) {
	if n < 3 {
		return 0, fmt.Errorf("%w, not %d", ErrFewSections, n)
	}
	if diameter <= 0 || diameter > measure.MaxLength || thickness < 0 {
		return 0, fmt.Errorf("a ring cannot be %s across with sections %s thick", diameter, thickness)
	}
	sin, cos := portable.SinCos(math.Pi / float64(n))
	radius := diameter.Metres() / 2
	inside := thickness.Metres() / 2
	switch on {
	case InsideFlats: // apothem = radius asked for + half the thickness
		radius = (radius + inside) / cos
	case InsideCorners: // the corner lies on the line from the centre to the pin
		radius += inside / cos
	}
	return measure.LengthFromMetres(float64(float64(2*radius) * sin))
}
