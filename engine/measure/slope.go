package measure

import (
	"fmt"
	"math"
	"strings"
)

// Slope is a rise over a horizontal run, both kept as given: 4:12 is 4 in over
// 12 in, 2 % is 2 mm over 100 mm. An angle becomes the rise over a run of 1 m to
// the nearest nanometre, within 3·10^-8 degrees. The run is positive in every
// slope read; the zero value is no slope at all, and level is a rise of zero.
type Slope struct{ Rise, Run Length }

// steepest is the most an angle may be: nearer to upright, a nanometre of rise
// no longer holds it.
const steepest = 89 * Degree

const slopeHint = "Write 4:12, 4/12, 4 in 12, 2 %, 18.4° or 30 mm : 1 m"

// ParseSlope reads a slope as a ratio (4:12, 4/12, 4 in 12; equal units, kept as
// inches), a ratio of two lengths with units (30 mm : 1 m), per cent (2 %) or an
// angle up to 89° (18.4°). The run must be more than zero. The error is a
// *ParseError.
func ParseSlope(s string) (Slope, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return Slope{}, err
	}
	if at, size := splitSlope(s); at >= 0 {
		return ratioSlope(s, at, at+size)
	}
	if body, ok := strings.CutSuffix(strings.TrimSpace(s), "%"); ok {
		if _, err := ParseLength(body, NoUnit); err == nil {
			return Slope{}, r.fail(0, "per cent takes a plain number", slopeHint)
		}
		rise, err := ParseLength(body, MillimetreUnit)
		if err != nil {
			return Slope{}, within(err, s, strings.Index(s, body))
		}
		return Slope{rise, 100 * Millimetre}, nil
	}
	a, err := ParseAngle(s)
	if err != nil {
		return Slope{}, r.fail(0, "this is not a slope", slopeHint)
	}
	return SlopeFromAngle(a)
}

// splitSlope finds where rise and run part: at a colon, at the word "in" before
// a number, or at the only slash.
func splitSlope(s string) (at, size int) {
	if i := strings.Index(s, ":"); i >= 0 {
		return i, 1
	}
	const in = " in "
	if i := strings.Index(s, in); i >= 0 {
		if rest := strings.TrimLeft(s[i+len(in):], " "); rest != "" && isDigit(rest[0]) {
			return i, len(in)
		}
	}
	if strings.Count(s, "/") == 1 {
		return strings.Index(s, "/"), 1
	}
	return -1, 0
}

// ratioSlope reads the two sides of a ratio.
func ratioSlope(s string, end, start int) (Slope, error) {
	r := reader{text: s}
	rise, bareRise, err := slopeSide(s, 0, end)
	if err != nil {
		return Slope{}, err
	}
	run, bareRun, err := slopeSide(s, start, len(s))
	switch {
	case err != nil:
		return Slope{}, err
	case bareRise != bareRun:
		return Slope{}, r.fail(0, "one side has a unit and the other has none", slopeHint)
	case run <= 0:
		return Slope{}, r.fail(start, "the run must be more than zero", slopeHint)
	}
	return Slope{rise, run}, nil
}

// slopeSide reads s[from:to], a number taken as inches or a length with a unit.
func slopeSide(s string, from, to int) (l Length, bare bool, err error) {
	side := s[from:to]
	if l, err = ParseLength(side, NoUnit); err == nil {
		return l, false, nil
	}
	l, err = ParseLength(side, InchUnit)
	return l, true, within(err, s, from)
}

// within turns an error about a part of s, from byte offset at, into one about s.
func within(err error, s string, at int) error {
	if e, ok := err.(*ParseError); ok {
		return &ParseError{Text: s, Offset: e.Offset + max(at, 0), Problem: e.Problem, Hint: e.Hint}
	}
	return err
}

// SlopeFromAngle returns the slope that rises at angle a, as the rise over 1 m
// to the nearest nanometre. It refuses angles beyond 89° either way.
func SlopeFromAngle(a Angle) (Slope, error) {
	if a > steepest || a < -steepest {
		return Slope{}, &ParseError{Text: a.String(), Problem: "this is steeper than 89°", Hint: "Check the angle"}
	}
	rise := Length(math.Round(math.Tan(a.Radians()) * float64(Metre)))
	return Slope{rise, Metre}, nil
}

// Angle returns the angle of the slope above level, to the nearest nanodegree;
// a slope with no run is upright, and one with neither is level.
func (s Slope) Angle() Angle {
	rad := math.Atan2(float64(s.Rise), float64(s.Run))
	return Angle(math.Round(rad / math.Pi * float64(180*Degree)))
}

// Over returns the rise over a horizontal run, exact until it is rounded in
// direction d to a nanometre. It reports false when the slope has no run or the
// rise does not fit.
func (s Slope) Over(run Length, d Direction) (Length, bool) {
	v, ok := MulDiv(int64(s.Rise), int64(run), int64(s.Run), d)
	return Length(v), ok
}

// String writes the slope so that ParseSlope reads back the same rise and run:
// as per cent over a run of 100 mm, as an angle over 1 m if four decimals give
// it, as a plain ratio if both are decimal inches, else as two lengths.
func (s Slope) String() string {
	if s.Run == 100*Millimetre {
		return decimalText(int64(s.Rise), 6) + "%"
	}
	if s.Run == Metre {
		a := Length(s.Angle()).Round(Length(Degree)/10_000, Nearest)
		if back, err := SlopeFromAngle(Angle(a)); err == nil && back == s {
			return Angle(a).String()
		}
	}
	if rise, ok := plainInches(s.Rise); ok {
		if run, ok := plainInches(s.Run); ok {
			return rise + ":" + run
		}
	}
	return s.Rise.String() + " : " + s.Run.String()
}

// plainInches writes a length as decimal inches if four decimals do it.
func plainInches(l Length) (string, bool) {
	v, ok := MulDiv(int64(l), 10_000, int64(Inch), Down)
	if !ok || Length(v)*(Inch/10_000) != l {
		return "", false
	}
	return decimalText(v, 4), true
}

// MarshalText writes the form of String. It refuses a slope without a run.
func (s Slope) MarshalText() ([]byte, error) {
	text := s.String()
	if back, err := ParseSlope(text); err != nil || back != s {
		return nil, fmt.Errorf("the slope %s has no run, or is too large, and cannot be kept", text)
	}
	return []byte(text), nil
}

// UnmarshalText reads what ParseSlope reads.
func (s *Slope) UnmarshalText(text []byte) error { return reread(s, text, ParseSlope) }
