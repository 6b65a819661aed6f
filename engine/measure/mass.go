package measure

import "math/big"

// Mass is a mass in micrograms. The zero value is no mass. It holds ±9.2
// million tonnes; readers accept up to MaxMass either way.
type Mass int64

// Units of mass. The avoirdupois pound is 0.453 592 37 kg exactly (NIST SP 811,
// B.8). An ounce, a sixteenth of it, is no whole number of micrograms.
const (
	Microgram Mass = 1
	Gram      Mass = 1_000_000
	Kilogram  Mass = 1_000_000_000
	Tonne     Mass = 1000 * Kilogram
	Pound     Mass = 453_592_370
)

// MaxMass is the most a reader accepts, 1000 tonnes.
const MaxMass Mass = 1000 * Tonne

var (
	poundSize = factor{int64(Pound), 1}
	ounceSize = factor{int64(Pound), 16}
)

var masses = quantity{
	units: []unitName{
		{"lb", poundSize}, {"lbm", poundSize}, {"oz", ounceSize},
		{"kg", factor{int64(Kilogram), 1}}, {"g", factor{int64(Gram), 1}}, {"t", factor{int64(Tonne), 1}},
	},
	most: int64(MaxMass), mostIs: "1000 tonnes",
	hint: "Use lb, oz, kg, g or t, such as 12.5 lb or 5.4 kg",
	mistook: map[string]string{
		"ton": "A ton is 2000 lb, 2240 lb or 1000 kg: write pounds or kilograms", "tons": "A ton is 2000 lb, 2240 lb or 1000 kg: write pounds or kilograms",
		"lbf": "Pounds-force are a force; a mass is written lb", "n": "Newtons are a force; a mass is written kg",
	},
}

// ParseMass reads a mass: 12 lb, 12.5 lb, 12 1/2 lb, 12 lb 8 oz, 8 oz, 5.4 kg,
// 250 g, 1.2 t. It is rounded once, half away from zero, to a whole microgram:
// 1 oz is 28 349 523.125 µg. After pounds, ounces must be under 16. The error is
// a *ParseError.
func ParseMass(s string) (Mass, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return 0, err
	}
	r.space()
	negative := r.sign()
	at := r.pos
	v, err := readMass(&r)
	if err != nil {
		return 0, err
	}
	m, err := masses.round(&r, at, v, negative)
	return Mass(m), err
}

// readMass reads an unsigned mass of one unit, or of pounds and ounces.
func readMass(r *reader) (*big.Rat, error) {
	first, err := r.number()
	if err != nil {
		return nil, err
	}
	from := r.pos
	size, ok := masses.sizeOf(plainUnit(r.word()))
	r.and()
	r.space()
	if !ok || !r.numberStarts() {
		r.pos = from
		return masses.inUnit(r, first, r.text[from:])
	}
	if size != poundSize {
		return nil, r.fail(r.pos, "a second number follows", "Write one number and one unit, or pounds and ounces such as 12 lb 8 oz")
	}
	if !first.IsInt() {
		return nil, r.fail(from, "part of a pound and ounces stand together", "Write whole pounds and ounces, or pounds alone, such as 12.5 lb")
	}
	at := r.pos
	ounces, err := r.number()
	if err != nil {
		return nil, err
	}
	if size, ok := masses.sizeOf(plainUnit(r.text[r.pos:])); !ok || size != ounceSize {
		return nil, r.fail(r.pos, "ounces were expected after pounds", "Write 12 lb 8 oz")
	}
	if ounces.Cmp(big.NewRat(16, 1)) >= 0 {
		return nil, r.fail(at, "16 ounces after the pounds is a pound or more", "Write pounds and fewer than 16 oz")
	}
	first.Mul(first, big.NewRat(poundSize.num, poundSize.den))
	return first.Add(first, ounces.Mul(ounces, big.NewRat(ounceSize.num, ounceSize.den))), nil
}

// sizeOf looks a unit up.
func (q *quantity) sizeOf(name string) (factor, bool) {
	for _, u := range q.units {
		if u.name == name {
			return u.size, true
		}
	}
	return factor{}, false
}

// String writes the mass so that ParseMass reads back the same value: kilograms
// when it is whole grams, else pounds if at most four decimals give it, else
// decimal kilograms.
func (m Mass) String() string {
	if m%Gram == 0 && m != 0 {
		return decimalText(int64(m), 9) + " kg"
	}
	return exactly(int64(m), 9, " kg", shown{" lb", poundSize, 4})
}

// In writes the mass in pounds to two decimals or kilograms to two decimals
// (grams to one decimal below 1 kg), with ≈ when that rounds it.
func (m Mass) In(sys System) string {
	switch {
	case sys != Metric:
		return roughly(int64(m), shown{" lb", poundSize, 2})
	case -Kilogram < m && m < Kilogram && m != 0:
		return roughly(int64(m), shown{" g", factor{int64(Gram), 1}, 1})
	}
	return roughly(int64(m), shown{" kg", factor{int64(Kilogram), 1}, 2})
}

// ToLift writes the mass for loading and lifting, rounded up, the safe side for
// whoever lifts: to a tenth of a pound or kilogram under a hundred, whole above.
func (m Mass) ToLift(sys System) string {
	unit, symbol := Pound, " lb"
	if sys == Metric {
		unit, symbol = Kilogram, " kg"
	}
	tenths, _ := MulDiv(int64(m), 10, int64(unit), Up)
	if tenths >= 1000 {
		return decimalText((tenths+9)/10, 0) + symbol
	}
	whole, tenth := tenths/10, tenths%10
	return decimalText(whole, 0) + "." + decimalText(tenth, 0) + symbol
}

// MarshalText writes the form of String.
func (m Mass) MarshalText() ([]byte, error) { return keep(m, MaxMass) }

// UnmarshalText reads what ParseMass reads.
func (m *Mass) UnmarshalText(text []byte) error { return reread(m, text, ParseMass) }
