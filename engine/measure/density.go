package measure

import "math"

// MassPerLength is a mass per length in micrograms per metre, for tubes, posts
// and boards of one section. It holds ±9.2 million t/m; readers accept up to
// MaxMassPerLength either way.
type MassPerLength int64

// Density is a mass per volume in micrograms per cubic metre: 1 kg/m³ is 10^9.
// (Micrograms per cubic millimetre, the same as kg/m³, would be too coarse for
// lb/ft³.) It holds ±9.2·10^9 kg/m³; readers accept up to MaxDensity either way.
type Density int64

// Units and limits of mass per length and density.
const (
	KilogramPerMetre MassPerLength = 1_000_000_000
	MaxMassPerLength MassPerLength = 10_000 * KilogramPerMetre

	KilogramPerCubicMetre Density = 1_000_000_000
	MaxDensity            Density = 100_000 * KilogramPerCubicMetre
)

var (
	// 453 592 370 µg per 0.3048 m
	poundPerFoot = factor{int64(Pound) * 10_000, 3_048}
	// 453 592 370 µg per 0.3048³ m³, with 2^9 cancelled to fit: 3048 = 2³·3·127
	poundPerCubicFoot = factor{45_359_237 * (10_000_000_000_000 / 512), 27 * 127 * 127 * 127}
)

var linearMasses = quantity{
	units: []unitName{
		{"lb/ft", poundPerFoot}, {"kg/m", factor{int64(KilogramPerMetre), 1}}, {"g/m", factor{int64(KilogramPerMetre) / 1000, 1}},
	},
	most: int64(MaxMassPerLength), mostIs: "10 000 kg/m",
	hint: "Use lb/ft or kg/m, such as 3.05 lb/ft",
	mistook: map[string]string{
		"plf": "Pounds per linear foot may be a load: for a mass write lb/ft", "lbf/ft": "That is a load: for a mass write lb/ft",
	},
}

var densities = quantity{
	units: []unitName{
		{"lb/ft3", poundPerCubicFoot}, {"lb/cuft", poundPerCubicFoot}, {"pcf", poundPerCubicFoot},
		{"kg/m3", factor{int64(KilogramPerCubicMetre), 1}}, {"kg/cum", factor{int64(KilogramPerCubicMetre), 1}},
		{"g/cm3", factor{1000 * int64(KilogramPerCubicMetre), 1}},
	},
	most: int64(MaxDensity), mostIs: "100 000 kg/m³",
	hint: "Use lb/ft3 or kg/m3, such as 35 lb/ft3",
}

// ParseMassPerLength reads 3.05 lb/ft, 4.5 kg/m or 450 g/m, rounded once, half
// away from zero, to a whole microgram per metre. The error is a *ParseError.
func ParseMassPerLength(s string) (MassPerLength, error) {
	v, err := linearMasses.read(s)
	return MassPerLength(v), err
}

// ParseDensity reads 35 lb/ft3, 560 kg/m3 or 0.56 g/cm3, rounded once, half away
// from zero, to a whole microgram per cubic metre. The error is a *ParseError.
func ParseDensity(s string) (Density, error) {
	v, err := densities.read(s)
	return Density(v), err
}

// Of returns the mass of a length, from the exact 128-bit product rounded half
// away from zero to a microgram. Values that readers accept cannot overflow; any
// others end at the most a Mass holds.
func (w MassPerLength) Of(l Length) Mass {
	return Mass(scaled(int64(w), int64(l), int64(Metre)))
}

// Of returns the mass of a volume, from the exact 128-bit product rounded half
// away from zero to a microgram. Values that readers accept cannot overflow; any
// others end at the most a Mass holds.
func (d Density) Of(v Volume) Mass {
	return Mass(scaled(int64(d), int64(v), int64(CubicMetre)))
}

// PerLength returns the mass per length of a bar of this density and cross
// section, rounded half away from zero to a microgram per metre. A result out of
// range ends at the most a MassPerLength holds.
func (d Density) PerLength(section Area) MassPerLength {
	return MassPerLength(scaled(int64(d), int64(section), int64(SquareMetre)))
}

// scaled is a·b/c to the nearest, c > 0, ending at the limits of 64 bits.
func scaled(a, b, c int64) int64 {
	if v, ok := MulDiv(a, b, c, Nearest); ok {
		return v
	}
	if (a < 0) != (b < 0) {
		return math.MinInt64
	}
	return math.MaxInt64
}

// String writes the value so that ParseMassPerLength reads it back: kg/m when it
// is whole grams per metre, else lb/ft if at
// most four decimals give it, else decimal kg/m.
func (w MassPerLength) String() string {
	if w%(KilogramPerMetre/1000) == 0 && w != 0 {
		return decimalText(int64(w), 9) + " kg/m"
	}
	return exactly(int64(w), 9, " kg/m", shown{" lb/ft", poundPerFoot, 4})
}

// In writes the value in lb/ft or kg/m to three decimals, with ≈ when that
// rounds it.
func (w MassPerLength) In(sys System) string {
	if sys == Metric {
		return roughly(int64(w), shown{" kg/m", factor{int64(KilogramPerMetre), 1}, 3})
	}
	return roughly(int64(w), shown{" lb/ft", poundPerFoot, 3})
}

// MarshalText writes the form of String.
func (w MassPerLength) MarshalText() ([]byte, error) { return keep(w, MaxMassPerLength) }

// UnmarshalText reads what ParseMassPerLength reads.
func (w *MassPerLength) UnmarshalText(text []byte) error {
	return reread(w, text, ParseMassPerLength)
}

// String writes the value so that ParseDensity reads it back: kg/m³ when it is
// whole grams per cubic metre, else lb/ft³ if at most four decimals give it,
// else decimal kg/m³.
func (d Density) String() string {
	if d%(KilogramPerCubicMetre/1000) == 0 && d != 0 {
		return decimalText(int64(d), 9) + " kg/m³"
	}
	return exactly(int64(d), 9, " kg/m³", shown{" lb/ft³", poundPerCubicFoot, 4})
}

// In writes the value in lb/ft³ to two decimals or kg/m³ to one, with ≈ when
// that rounds it.
func (d Density) In(sys System) string {
	if sys == Metric {
		return roughly(int64(d), shown{" kg/m³", factor{int64(KilogramPerCubicMetre), 1}, 1})
	}
	return roughly(int64(d), shown{" lb/ft³", poundPerCubicFoot, 2})
}

// MarshalText writes the form of String.
func (d Density) MarshalText() ([]byte, error) { return keep(d, MaxDensity) }

// UnmarshalText reads what ParseDensity reads.
func (d *Density) UnmarshalText(text []byte) error { return reread(d, text, ParseDensity) }
