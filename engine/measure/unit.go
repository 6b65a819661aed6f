package measure

import (
	"fmt"
	"strings"
)

// Unit names a unit of length. The zero value, NoUnit, means that none is known.
type Unit uint8

// The units of length that can be read.
const (
	NoUnit Unit = iota
	InchUnit
	FootUnit
	MillimetreUnit
	CentimetreUnit
	MetreUnit
	MicrometreUnit // coatings
)

// unitInfo is indexed by Unit.
var unitInfo = [...]struct {
	symbol string
	size   Length
}{
	NoUnit:         {"", 0},
	InchUnit:       {"in", Inch},
	FootUnit:       {"ft", Foot},
	MillimetreUnit: {"mm", Millimetre},
	CentimetreUnit: {"cm", Centimetre},
	MetreUnit:      {"m", Metre},
	MicrometreUnit: {"µm", Micrometre},
}

// Length returns the size of one unit, or 0 for NoUnit.
func (u Unit) Length() Length {
	if int(u) >= len(unitInfo) {
		return 0
	}
	return unitInfo[u].size
}

// String returns the symbol: "in", "ft", "mm", "cm", "m", "µm", or "" for NoUnit.
func (u Unit) String() string {
	if int(u) >= len(unitInfo) {
		return ""
	}
	return unitInfo[u].symbol
}

// System returns the system of measurement the unit belongs to; NoUnit counts
// as FeetInches, the zero System.
func (u Unit) System() System {
	switch u {
	case MillimetreUnit, CentimetreUnit, MetreUnit, MicrometreUnit:
		return Metric
	}
	return FeetInches
}

// ParseUnit reads the name or mark of a unit of length, in any letter case:
// in, inch, inches, ", ft, foot, feet, ', mm, cm, m, µm and their full names.
// The error is a *ParseError.
func ParseUnit(s string) (Unit, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return NoUnit, err
	}
	r.space()
	at := r.pos
	u, _, err := r.lengthUnit()
	if err != nil {
		return NoUnit, err
	}
	if u == NoUnit {
		return NoUnit, r.fail(at, "a unit of length was expected", unitHint)
	}
	r.space()
	if !r.end() {
		return NoUnit, r.fail(r.pos, "something follows the unit", unitHint)
	}
	return u, nil
}

const unitHint = "Use in, ft, mm, cm or m"

// unitWord looks up a unit written as a word in lower case.
func unitWord(word string) (Unit, bool) {
	switch word {
	case "in", "ins", "inch", "inches":
		return InchUnit, true
	case "ft", "foot", "feet":
		return FootUnit, true
	case "mm", "mms", "millimetre", "millimetres", "millimeter", "millimeters":
		return MillimetreUnit, true
	case "cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters":
		return CentimetreUnit, true
	case "m", "metre", "metres", "meter", "meters":
		return MetreUnit, true
	case "µm", "μm", "um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers":
		return MicrometreUnit, true
	}
	return NoUnit, false
}

// System is a system of measurement to write in. The zero value is FeetInches.
type System uint8

// The two systems.
const (
	FeetInches System = iota // feet, inches and fractions; pounds
	Metric                   // millimetres; kilograms
)

// String returns "feet" or "metric".
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "feet"
}

// ParseSystem reads "feet" or "metric", in any letter case.
func ParseSystem(s string) (System, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "feet":
		return FeetInches, nil
	case "metric":
		return Metric, nil
	}
	return FeetInches, &ParseError{Text: s, Problem: "this is not a system of measurement", Hint: `Use "feet" or "metric"`}
}

// MarshalText writes "feet" or "metric".
func (s System) MarshalText() ([]byte, error) {
	if s > Metric {
		return nil, fmt.Errorf("measure: %d is not a system of measurement", uint8(s))
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads what ParseSystem reads.
func (s *System) UnmarshalText(text []byte) error {
	v, err := ParseSystem(string(text))
	if err == nil {
		*s = v
	}
	return err
}
