package measure

// Force is a force in micronewtons. The zero value is no force. It holds ±9.2
// million MN; readers accept up to MaxForce either way.
type Force int64

// Units and limit of force. A pound-force, 4.448 221 615 260 5 N exactly
// (NIST SP 811, B.8), is no whole number of micronewtons.
const (
	Micronewton Force = 1
	Newton      Force = 1_000_000
	Kilonewton  Force = 1000 * Newton
	MaxForce    Force = 1_000_000 * Kilonewton
)

var (
	poundForce     = factor{44_482_216_152_605, 10_000_000}
	kipForce       = factor{44_482_216_152_605, 10_000}
	newtonSize     = factor{int64(Newton), 1}
	kilonewtonSize = factor{int64(Kilonewton), 1}
)

var forces = quantity{
	units: []unitName{
		{"lbf", poundForce}, {"lb-force", poundForce}, {"lbforce", poundForce}, {"kip", kipForce},
		{"n", newtonSize}, {"kn", kilonewtonSize},
	},
	most: int64(MaxForce), mostIs: "1 000 000 kN",
	hint: "Use lbf, kip, N or kN, such as 305 lbf",
	mistook: map[string]string{
		"lb": "A pound is a mass: for a force write lbf",
		"kg": "A kilogram is a mass: for a force write N",
	},
}

// ParseForce reads 305 lbf, 1.2 kip, 1357 N or 4.5 kN, rounded once, half away
// from zero, to a whole micronewton. The error is a *ParseError.
func ParseForce(s string) (Force, error) {
	v, err := forces.read(s)
	return Force(v), err
}

// String writes the force so that ParseForce reads back the same value: newtons
// when it is whole millinewtons, else lbf if at most four decimals give it, else
// decimal newtons.
func (f Force) String() string {
	if f%(Newton/1000) == 0 && f != 0 {
		return decimalText(int64(f), 6) + " N"
	}
	return exactly(int64(f), 6, " N", shown{" lbf", poundForce, 4})
}

// In writes the force in lbf or N to one decimal (kN to two from 10 kN), with ≈
// when that rounds it.
func (f Force) In(sys System) string {
	switch {
	case sys != Metric:
		return roughly(int64(f), shown{" lbf", poundForce, 1})
	case magnitude(int64(f)) >= uint64(10*Kilonewton):
		return roughly(int64(f), shown{" kN", kilonewtonSize, 2})
	}
	return roughly(int64(f), shown{" N", newtonSize, 1})
}

// MarshalText writes the form of String.
func (f Force) MarshalText() ([]byte, error) { return keep(f, MaxForce) }

// UnmarshalText reads what ParseForce reads.
func (f *Force) UnmarshalText(text []byte) error { return reread(f, text, ParseForce) }
