package measure

import (
	"errors"
	"math/big"
	"strings"
)

// ErrOutOfRange is returned by arithmetic whose result does not fit its type.
var ErrOutOfRange = errors.New("the result is too large to hold; check the digits and the units")

// factor is the exact size of a unit in a quantity's base unit, num/den.
type factor struct{ num, den int64 }

// unitName is one spelling of a unit, as plainUnit leaves it.
type unitName struct {
	name string
	size factor
}

// quantity is what a reader must know of one kind of quantity.
type quantity struct {
	units   []unitName
	most    int64             // the most a reader accepts, in base units
	mostIs  string            // most in words
	hint    string            // what may be written
	mistook map[string]string // hints for units that are nearly right; looked up only
}

// read reads a whole text as one number and one unit, rounded once, half away
// from zero, to whole base units.
func (q *quantity) read(s string) (int64, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return 0, err
	}
	r.space()
	negative := r.sign()
	at := r.pos
	v, err := q.term(&r)
	if err != nil {
		return 0, err
	}
	return q.round(&r, at, v, negative)
}

// term reads one number and the unit after it, up to the end of the text.
func (q *quantity) term(r *reader) (*big.Rat, error) {
	v, err := r.number()
	if err != nil {
		return nil, err
	}
	return q.inUnit(r, v, r.text[r.pos:])
}

// inUnit multiplies v by the unit spelled at the reader's place and moves over it.
func (q *quantity) inUnit(r *reader, v *big.Rat, spelled string) (*big.Rat, error) {
	at := r.pos
	name := plainUnit(spelled)
	if name == "" {
		return nil, r.fail(len(strings.TrimRight(r.text[:at], " ")), "the unit is missing", q.hint)
	}
	for _, u := range q.units {
		if u.name == name {
			r.pos += len(spelled)
			return v.Mul(v, big.NewRat(u.size.num, u.size.den)), nil
		}
	}
	hint := q.hint
	if h, ok := q.mistook[name]; ok {
		hint = h
	}
	return nil, r.fail(at, "“"+printable(strings.TrimSpace(spelled), 20)+"” is not a unit that fits here", hint)
}

// round turns v into base units.
func (q *quantity) round(r *reader, at int, v *big.Rat, negative bool) (int64, error) {
	if v.Cmp(new(big.Rat).SetInt64(q.most)) > 0 {
		return 0, r.fail(at, "this is more than "+q.mostIs, "Check the digits and the unit")
	}
	// floor(v + 1/2) of a value that is not negative
	twice := new(big.Int).Lsh(v.Num(), 1)
	twice.Add(twice, v.Denom()).Quo(twice, new(big.Int).Lsh(v.Denom(), 1))
	n := twice.Int64()
	if negative {
		n = -n
	}
	return n, nil
}

// number reads an unsigned number as an exact value and the blanks after it.
func (r *reader) number() (*big.Rat, error) {
	n, ok, err := r.numeral()
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, r.fail(r.pos, "a number was expected here", "Write the number first, then the unit")
	}
	r.space()
	if r.numberStarts() {
		return nil, r.fail(r.pos, "two numbers stand side by side", "Write thousands closed up, such as 3540")
	}
	v, ok := new(big.Rat).SetString(n.text()) // digits and a point; at most longestText
	if !ok {
		return nil, r.fail(n.at, "this number cannot be read", decimalHint)
	}
	if n.den != 0 {
		v.Add(v, big.NewRat(n.num, n.den))
	}
	return v, nil
}

// plainUnit takes the variety out of how units are spelled: case, blanks, full
// stops, raised digits, plurals, "per", "square" and "cubic".
func plainUnit(s string) string {
	s = strings.Join(strings.Fields(strings.ToLower(s)), " ")
	return strings.ReplaceAll(spellings.Replace(s), " ", "")
}

// spellings are tried in this order at each place.
var spellings = strings.NewReplacer(
	"²", "2", "³", "3", "^", "", ".", "", "⁄", "/", "∕", "/", " per ", "/", "square ", "sq", "cubic ", "cu",
	"pounds", "lb", "pound", "lb", "lbs", "lb", "ounces", "oz", "ounce", "oz",
	"kilogrammes", "kg", "kilogramme", "kg", "kilograms", "kg", "kilogram", "kg", "kgs", "kg",
	"grammes", "g", "gramme", "g", "grams", "g", "gram", "g", "tonnes", "t", "tonne", "t",
	"feet", "ft", "foot", "ft", "inches", "in", "inch", "in", "yards", "yd", "yard", "yd", "yds", "yd",
	"millimetres", "mm", "millimetre", "mm", "millimeters", "mm", "millimeter", "mm",
	"centimetres", "cm", "centimetre", "cm", "centimeters", "cm", "centimeter", "cm",
	"metres", "m", "metre", "m", "meters", "m", "meter", "m",
	"litres", "l", "litre", "l", "liters", "l", "liter", "l",
	"kilonewtons", "kn", "kilonewton", "kn", "newtons", "n", "newton", "n", "kips", "kip",
)

// shown is a unit to write in, with the most decimals to use.
type shown struct {
	symbol string
	size   factor
	places int
}

// in writes v, in base units, in this unit. exact says that the text, read
// back, gives v again.
func (u shown) in(v int64) (text string, exact bool) {
	scale := u.size.den
	for range u.places {
		scale *= 10
	}
	d, ok := MulDiv(v, scale, u.size.num, Nearest)
	if !ok {
		return "", false
	}
	back, ok := MulDiv(d, u.size.num, scale, Nearest)
	return decimalText(d, u.places) + u.symbol, ok && back == v
}

// exactly writes v in the first unit that gives it exactly, else as a decimal
// of a metric unit 10^places base units large, which always does.
func exactly(v int64, places int, symbol string, first ...shown) string {
	for _, u := range first {
		if text, ok := u.in(v); ok {
			return text
		}
	}
	return decimalText(v, places) + symbol
}

// roughly writes v in u, with ≈ when that is not exact.
func roughly(v int64, u shown) string {
	text, exact := u.in(v)
	switch {
	case exact:
		return text
	case text == "": // over what u can hold: a fallback that keeps the size right
		u.places = 0
		text, _ = u.in(v)
	}
	return "≈" + text
}
