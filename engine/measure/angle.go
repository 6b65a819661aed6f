package measure

import "math/big"

// Angle is an angle in nanodegrees. The zero value is no angle; where an angle
// turns, counter-clockwise is positive. It holds ±9.2·10^9 degrees; readers
// accept up to MaxAngle either way.
type Angle int64

// Units and limit of angle.
const (
	Degree    Angle = 1_000_000_000
	RightTurn Angle = 90 * Degree
	FullTurn  Angle = 360 * Degree
	MaxAngle  Angle = 1_000 * FullTurn
)

var angles = quantity{
	most: int64(MaxAngle), mostIs: "1000 turns",
	hint: "Use degrees, such as 22.5° or 12° 30'",
}

// ParseAngle reads 45°, 22.5 deg, 45 degrees or 12° 30' 15", rounded once, half
// away from zero, to a whole nanodegree (0.02 nm in a metre). Minutes and
// seconds must be under 60 and follow whole units. The error is a *ParseError.
func ParseAngle(s string) (Angle, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return 0, err
	}
	r.space()
	negative := r.sign()
	at := r.pos
	v, err := r.angle()
	if err != nil {
		return 0, err
	}
	n, err := angles.round(&r, at, v, negative)
	return Angle(n), err
}

// angle reads an unsigned angle, in nanodegrees, up to the end of the text.
func (r *reader) angle() (*big.Rat, error) {
	total := new(big.Rat)
	last := 0 // parts of a degree in the unit read last: 1, 60 or 3600
	for whole := true; ; {
		at := r.pos
		v, err := r.number()
		if err != nil {
			return nil, err
		}
		unit := r.pos
		parts := r.angleUnit()
		switch {
		case parts == 0:
			return nil, r.fail(unit, "the unit of the angle is missing or not known", angles.hint)
		case parts <= last:
			return nil, r.fail(unit, "degrees, minutes and seconds are out of order", "Write 12° 30' 15\"")
		case !whole:
			return nil, r.fail(at, "part of a degree or minute has something after it", "Write whole degrees and minutes, or decimal degrees alone")
		case last != 0 && v.Cmp(big.NewRat(60, 1)) >= 0:
			return nil, r.fail(at, "60 or more after the larger unit", "Write minutes and seconds under 60")
		}
		last, whole = parts, v.IsInt()
		total.Add(total, v.Mul(v, big.NewRat(int64(Degree), int64(parts))))
		r.space()
		if r.end() {
			return total, nil
		}
		if !r.numberStarts() {
			return nil, r.fail(r.pos, "something follows the angle", angles.hint)
		}
	}
}

// angleUnit reads a degree, minute or second and returns how many make a
// degree, or 0.
func (r *reader) angleUnit() int {
	switch {
	case r.take(func(c rune) bool { return c == '°' || c == 'º' || c == '˚' }):
		return 1
	case r.take(isDoublePrime):
		return 3600
	case r.take(isPrime):
		if r.take(isPrime) {
			return 3600
		}
		return 60
	}
	switch r.word() {
	case "deg", "degs", "degree", "degrees":
		return 1
	case "min", "minute", "minutes":
		return 60
	case "sec", "second", "seconds":
		return 3600
	}
	return 0
}

// String writes the angle exactly, in decimal degrees, such as 22.5°.
func (a Angle) String() string { return decimalText(int64(a), 9) + "°" }

// In writes the angle in degrees to two decimals, with ≈ when that rounds it;
// both systems use degrees.
func (a Angle) In(System) string { return roughly(int64(a), shown{"°", factor{int64(Degree), 1}, 2}) }

// MarshalText writes the form of String.
func (a Angle) MarshalText() ([]byte, error) { return keep(a, MaxAngle) }

// UnmarshalText reads what ParseAngle reads.
func (a *Angle) UnmarshalText(text []byte) error { return reread(a, text, ParseAngle) }
