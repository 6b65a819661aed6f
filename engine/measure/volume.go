package measure

import (
	"fmt"
	"math/big"
)

// Volume is a volume in nanolitres, thousandths of a cubic millimetre. A cubic
// inch is whole, 16 387 064 nL. The zero value is no volume. It holds ±9.2
// million m³; readers accept up to MaxVolume either way.
type Volume int64

// Units and limit of volume. A board foot is 144 cubic inches.
const (
	CubicMillimetre Volume = 1_000
	Litre           Volume = 1_000_000_000
	CubicMetre      Volume = 1_000_000_000_000
	CubicInch       Volume = 16_387_064
	CubicFoot       Volume = 1_728 * CubicInch
	CubicYard       Volume = 27 * CubicFoot
	BoardFoot       Volume = 144 * CubicInch
	MaxVolume       Volume = 10_000 * CubicMetre
)

var (
	cubicInchSize = factor{int64(CubicInch), 1}
	cubicFootSize = factor{int64(CubicFoot), 1}
	cubicYardSize = factor{int64(CubicYard), 1}
	boardFootSize = factor{int64(BoardFoot), 1}
)

var volumes = quantity{
	units: []unitName{
		{"ft3", cubicFootSize}, {"cuft", cubicFootSize}, {"in3", cubicInchSize}, {"cuin", cubicInchSize},
		{"yd3", cubicYardSize}, {"cuyd", cubicYardSize}, {"bdft", boardFootSize}, {"boardft", boardFootSize},
		{"mm3", factor{int64(CubicMillimetre), 1}}, {"cumm", factor{int64(CubicMillimetre), 1}},
		{"cm3", factor{1000 * int64(CubicMillimetre), 1}}, {"cucm", factor{1000 * int64(CubicMillimetre), 1}},
		{"m3", factor{int64(CubicMetre), 1}}, {"cum", factor{int64(CubicMetre), 1}}, {"l", factor{int64(Litre), 1}},
	},
	most: int64(MaxVolume), mostIs: "10 000 m³",
	hint: "Use ft3, yd3, in3, bd ft, m3 or litres, such as 0.6 ft3",
	mistook: map[string]string{
		"yd": "For concrete and gravel write yd3",
	},
}

// ParseVolume reads 2.75 ft3, 3 cu yd, 16 in³, 8 bd ft, 0.08 m3 or 12 litres,
// rounded once, half away from zero, to a whole nanolitre. The error is a
// *ParseError.
func ParseVolume(s string) (Volume, error) {
	v, err := volumes.read(s)
	return Volume(v), err
}

// Times returns the volume of a prism of this cross section and length l,
// rounded half away from zero to a nanolitre, or ErrOutOfRange.
func (a Area) Times(l Length) (Volume, error) {
	// µm²·nm is 10^-21 m³; a nanolitre is 10^-12 m³
	v, ok := MulDiv(int64(a), int64(l), 1_000_000_000, Nearest)
	if !ok {
		return 0, fmt.Errorf("%s by %s: %w", a, l, ErrOutOfRange)
	}
	return Volume(v), nil
}

// Cuboid returns the volume of a block a by b by c, the exact product rounded
// once, half away from zero, to a nanolitre, or ErrOutOfRange.
func Cuboid(a, b, c Length) (Volume, error) {
	p := big.NewInt(int64(a))
	p.Mul(p, big.NewInt(int64(b))).Mul(p, big.NewInt(int64(c))) // nm³ = 10^-27 m³
	const nanolitre, half = 1_000_000_000_000_000, 500_000_000_000_000
	if p.Sign() < 0 {
		p.Sub(p, big.NewInt(half))
	} else {
		p.Add(p, big.NewInt(half))
	}
	p.Quo(p, big.NewInt(nanolitre))
	if !p.IsInt64() {
		return 0, fmt.Errorf("%s by %s by %s: %w", a, b, c, ErrOutOfRange)
	}
	return Volume(p.Int64()), nil
}

// String writes the volume so that ParseVolume reads back the same value: m³
// when it is whole thousandths of one (litres), else ft³ or in³ if at most four
// decimals give it, else decimal mm³.
func (v Volume) String() string {
	if v%Litre == 0 && v != 0 {
		return decimalText(int64(v), 12) + " m³"
	}
	return exactly(int64(v), 3, " mm³", shown{" ft³", cubicFootSize, 4}, shown{" in³", cubicInchSize, 4})
}

// In writes the volume in ft³ to two decimals (in³ below 1 ft³) or in m³ to
// three decimals (litres to two below 0.1 m³), with ≈ when that rounds it.
func (v Volume) In(sys System) string {
	size := magnitude(int64(v))
	switch {
	case sys != Metric && size >= uint64(CubicFoot):
		return roughly(int64(v), shown{" ft³", cubicFootSize, 2})
	case sys != Metric:
		return roughly(int64(v), shown{" in³", cubicInchSize, 2})
	case size >= uint64(CubicMetre/10):
		return roughly(int64(v), shown{" m³", factor{int64(CubicMetre), 1}, 3})
	}
	return roughly(int64(v), shown{" L", factor{int64(Litre), 1}, 2})
}

// BoardFeet writes the volume in board feet to one decimal, with ≈ when that
// rounds it. Board measure of dressed lumber goes by nominal sizes: give those.
func (v Volume) BoardFeet() string { return roughly(int64(v), shown{" bd ft", boardFootSize, 1}) }

// MarshalText writes the form of String.
func (v Volume) MarshalText() ([]byte, error) { return keep(v, MaxVolume) }

// UnmarshalText reads what ParseVolume reads.
func (v *Volume) UnmarshalText(text []byte) error { return reread(v, text, ParseVolume) }
