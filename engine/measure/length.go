package measure

import (
	"fmt"
	"strconv"
)

// Length is a distance in nanometres. The zero value is no length. It holds
// ±9.2 million km; readers accept up to MaxLength either way.
type Length int64

// Units of length. All are exact: the inch is 25.4 mm (NIST SP 811, B.8).
const (
	Nanometre  Length = 1
	Micrometre Length = 1_000
	Millimetre Length = 1_000_000
	Centimetre Length = 10_000_000
	Metre      Length = 1_000_000_000

	Inch Length = 25_400_000
	Foot Length = 12 * Inch
	Yard Length = 3 * Foot

	SixteenthInch    Length = Inch / 16
	ThirtySecondInch Length = Inch / 32
	SixtyFourthInch  Length = Inch / 64 // 396 875 nm, whole
)

// MaxLength is the most a reader accepts, 100 km: anything longer on a job is a
// slip, and sums and products of accepted lengths stay far from overflow.
const MaxLength Length = 100_000 * Metre

// tenthMillimetre is the finest step In writes in metric.
const tenthMillimetre = Millimetre / 10

// Abs returns the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// String writes the length exactly, so that ParseLength reads back the same
// value: feet, inches and a reduced fraction when it is a whole number of
// 1/64 in, otherwise decimal millimetres. A length that is exact both ways
// (127 mm is 5 in) is written in feet and inches; use In to choose.
func (l Length) String() string {
	if l%SixtyFourthInch == 0 {
		return feetInches(int64(l / SixtyFourthInch))
	}
	return decimalText(int64(l), 6) + " mm"
}

// In writes the length for people who work in sys. In feet and inches it is
// exact on 1/64 in, in metric on 0.1 mm; any other length is rounded to the
// nearest of these and marked with a leading ≈. Feet are left out below one
// foot (7 5/8"), inches never (11' 0"); zero is 0" or 0 mm.
func (l Length) In(sys System) string {
	step := SixtyFourthInch
	if sys == Metric {
		step = tenthMillimetre
	}
	return approx(l, step) + l.Round(step, Nearest).on(sys)
}

// on writes l exactly: in sys if sys can, otherwise as String does.
func (l Length) on(sys System) string {
	if sys == Metric {
		return decimalText(int64(l), 6) + " mm"
	}
	return l.String()
}

// approx is the mark to put before a length that is not a multiple of step.
func approx(l, step Length) string {
	if l%step != 0 {
		return "≈"
	}
	return ""
}

// Both writes the length in both systems, the exact one first and the other
// after it in brackets: 11' 7 5/8" (3546.5 mm), 3540 mm (11' 7 3/8"). The value
// in brackets is a conversion for information, rounded as In rounds but not
// marked. If neither system has it exactly, feet and inches come first and both
// carry ≈.
func Both(l Length) string {
	feet, metric := l.Round(SixtyFourthInch, Nearest), l.Round(tenthMillimetre, Nearest)
	switch {
	case feet == l:
		return l.In(FeetInches) + " (" + metric.In(Metric) + ")"
	case metric == l:
		return l.In(Metric) + " (" + feet.In(FeetInches) + ")"
	}
	return l.In(FeetInches) + " (" + l.In(Metric) + ")"
}

// MarshalText writes the exact form of String. It refuses a length over
// MaxLength, which could not be read back.
func (l Length) MarshalText() ([]byte, error) {
	if l > MaxLength || l < -MaxLength {
		return nil, fmt.Errorf("the length %s is over %s and cannot be kept", l, decimalText(int64(MaxLength/Metre), 0)+" m")
	}
	return []byte(l.String()), nil
}

// UnmarshalText reads what ParseLength reads, but no number without a unit.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := ParseLength(string(text), NoUnit)
	if err == nil {
		*l = v
	}
	return err
}

// feetInches writes n sixty-fourths of an inch.
func feetInches(n int64) string {
	var buf [32]byte
	b := buf[:0]
	if n < 0 {
		b = append(b, '-')
	}
	m := magnitude(n)
	feet, whole, frac := m/768, m%768/64, m%64
	if feet > 0 {
		b = strconv.AppendUint(b, feet, 10)
		b = append(b, '\'', ' ')
	}
	if whole > 0 || feet > 0 || frac == 0 {
		b = strconv.AppendUint(b, whole, 10)
		if frac > 0 {
			b = append(b, ' ')
		}
	}
	if frac > 0 {
		den := uint64(64)
		for frac%2 == 0 {
			frac, den = frac/2, den/2
		}
		b = strconv.AppendUint(b, frac, 10)
		b = append(b, '/')
		b = strconv.AppendUint(b, den, 10)
	}
	return string(append(b, '"'))
}

// decimalText writes v·10^-places without trailing zeros: decimalText(35405, 1)
// is 3540.5.
func decimalText(v int64, places int) string {
	var buf [48]byte
	b := buf[:0]
	if v < 0 {
		b = append(b, '-')
	}
	digits := strconv.FormatUint(magnitude(v), 10)
	for len(digits) <= places {
		digits = "0" + digits
	}
	cut := len(digits) - places
	b = append(b, digits[:cut]...)
	end := len(digits)
	for end > cut && digits[end-1] == '0' {
		end--
	}
	if end > cut {
		b = append(b, '.')
		b = append(b, digits[cut:end]...)
	}
	return string(b)
}
