package measure

import "fmt"

// Area is an area in square micrometres. A square inch is whole, 645 160 000
// µm². The zero value is no area. It holds ±9.2 km²; readers accept up to
// MaxArea either way.
type Area int64

// Units and limit of area.
const (
	SquareMillimetre Area = 1_000_000
	SquareMetre      Area = 1_000_000_000_000
	SquareInch       Area = 645_160_000
	SquareFoot       Area = 144 * SquareInch
	MaxArea          Area = 1_000_000 * SquareMetre // 1 km²
)

var (
	squareInchSize = factor{int64(SquareInch), 1}
	squareFootSize = factor{int64(SquareFoot), 1}
)

var areas = quantity{
	units: []unitName{
		{"ft2", squareFootSize}, {"sqft", squareFootSize}, {"in2", squareInchSize}, {"sqin", squareInchSize},
		{"yd2", factor{9 * int64(SquareFoot), 1}}, {"sqyd", factor{9 * int64(SquareFoot), 1}},
		{"mm2", factor{int64(SquareMillimetre), 1}}, {"sqmm", factor{int64(SquareMillimetre), 1}},
		{"cm2", factor{100 * int64(SquareMillimetre), 1}}, {"sqcm", factor{100 * int64(SquareMillimetre), 1}},
		{"m2", factor{int64(SquareMetre), 1}}, {"sqm", factor{int64(SquareMetre), 1}},
	},
	most: int64(MaxArea), mostIs: "1 km²",
	hint: "Use ft2, in2, m2 or mm2, such as 144 ft2",
}

// ParseArea reads 144 ft2, 0.84 in², 12 sq ft, 13.4 m2 or 542 mm², rounded once,
// half away from zero, to a whole square micrometre. The error is a *ParseError.
func ParseArea(s string) (Area, error) {
	v, err := areas.read(s)
	return Area(v), err
}

// Times returns the area of a rectangle l by m, rounded half away from zero to a
// square micrometre, or ErrOutOfRange.
func (l Length) Times(m Length) (Area, error) {
	v, ok := MulDiv(int64(l), int64(m), int64(Micrometre*Micrometre), Nearest)
	if !ok {
		return 0, fmt.Errorf("%s by %s: %w", l, m, ErrOutOfRange)
	}
	return Area(v), nil
}

// Per returns how long a strip of width w makes up area a: a/w rounded in
// direction d, and false when w is zero or the length does not fit.
func (a Area) Per(w Length, d Direction) (Length, bool) {
	v, ok := MulDiv(int64(a), int64(Micrometre*Micrometre), int64(w), d)
	return Length(v), ok
}

// String writes the area so that ParseArea reads back the same value: m² when it
// is whole hundredths of one, else ft² if two decimals give it or in² if four
// do, else decimal mm².
func (a Area) String() string {
	if a%(SquareMetre/100) == 0 && a != 0 {
		return decimalText(int64(a), 12) + " m²"
	}
	first := []shown{{" ft²", squareFootSize, 2}, {" in²", squareInchSize, 4}}
	return exactly(int64(a), 6, " mm²", first...)
}

// In writes the area in ft² to two decimals (in² to three below 1 ft²) or in m²
// to two decimals (mm² to one below 0.01 m²), with ≈ when that rounds it.
func (a Area) In(sys System) string {
	size := magnitude(int64(a))
	switch {
	case sys != Metric && size >= uint64(SquareFoot):
		return roughly(int64(a), shown{" ft²", squareFootSize, 2})
	case sys != Metric:
		return roughly(int64(a), shown{" in²", squareInchSize, 3})
	case size >= uint64(SquareMetre/100):
		return roughly(int64(a), shown{" m²", factor{int64(SquareMetre), 1}, 2})
	}
	return roughly(int64(a), shown{" mm²", factor{int64(SquareMillimetre), 1}, 1})
}

// MarshalText writes the form of String.
func (a Area) MarshalText() ([]byte, error) { return keep(a, MaxArea) }

// UnmarshalText reads what ParseArea reads.
func (a *Area) UnmarshalText(text []byte) error { return reread(a, text, ParseArea) }
