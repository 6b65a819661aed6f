package measure

import (
	"strconv"
	"strings"
	"unicode"
)

// ParseLength reads a length as people type it:
//
//	11' 7 5/8"   11'-7-5/8"   11ft 7-5/8in   139.625 in   ⅝″   -1/4"
//	3.54 m       354 cm       3540 mm        45 µm
//
// Feet and inches may be marked with ' and ", their typographic forms, two
// apostrophes for inches, or words; a number after feet needs no mark. Fractions
// are those of a tape, halves to 64ths. A number without any unit is read as
// bare units, or refused when bare is NoUnit.
//
// Refused, with the place and a hint: 12 or more inches after feet, decimal or
// fractional feet before inches, a fraction with a foot mark (most often an inch
// mark with one stroke missing), a mix of systems, commas, exponents, a space
// inside a number, text that is no whole number of nanometres, and anything
// over MaxLength. The error is a *ParseError.
func ParseLength(s string, bare Unit) (Length, error) {
	r := reader{text: s}
	if err := r.check(); err != nil {
		return 0, err
	}
	r.space()
	negative := r.sign()
	l, err := r.length(bare)
	if err != nil {
		return 0, err
	}
	if negative {
		l = -l
	}
	return l, nil
}

// length reads an unsigned length up to the end of the text.
func (r *reader) length(bare Unit) (Length, error) {
	n, u, prime, err := r.numberAndUnit()
	if err != nil {
		return 0, err
	}
	r.space()
	switch {
	case u == NoUnit:
		return r.bareLength(n, bare)
	case u == FootUnit && !r.end():
		return r.inchesAfter(n)
	case !r.end():
		return 0, r.surplus(n, u)
	case u == FootUnit && prime && n.den != 0:
		return 0, r.fail(n.at, "a fraction stands before feet", "For inches write "+n.full()+"\", for feet "+n.full()+" ft")
	}
	return r.value(n, u)
}

// numberAndUnit reads a numeral and the unit after it; the unit may be missing.
func (r *reader) numberAndUnit() (n numeral, u Unit, prime bool, err error) {
	n, ok, err := r.numeral()
	if err != nil {
		return n, NoUnit, false, err
	}
	if !ok {
		return n, NoUnit, false, r.noNumber()
	}
	r.space()
	u, prime, err = r.lengthUnit()
	return n, u, prime, err
}

// noNumber explains why no number starts here.
func (r *reader) noNumber() error {
	at := r.pos
	const hint = `Write a number with its unit, such as 7 5/8" or 3540 mm`
	c := r.peek()
	switch w := r.word(); {
	case w == "nan" || w == "inf" || w == "infinity":
		return r.fail(at, "“"+w+"” is not a number that can be measured", hint)
	case at >= len(r.text):
		return r.fail(at, "the number is missing", hint)
	case c == '+' || isHyphen(c):
		return r.fail(at, "there are two signs", hint)
	case c == '∞':
		return r.fail(at, "this is not a number that can be measured", hint)
	}
	return r.fail(at, "a number was expected here", hint)
}

// bareLength gives a numeral without a unit the unit bare.
func (r *reader) bareLength(n numeral, bare Unit) (Length, error) {
	switch {
	case !r.end() && r.numberStarts():
		return 0, r.fail(r.pos, "two numbers stand side by side", "Mark the feet (11' 7 5/8\"), and write thousands closed up (3540 mm)")
	case !r.end():
		return 0, r.unexpected()
	case bare.Length() == 0:
		return 0, r.fail(n.at, "the unit is missing", bareHint(n))
	case bare == FootUnit && n.den != 0:
		return 0, r.fail(n.at, "a fraction stands before feet", "For inches write "+n.full()+"\", for feet "+n.full()+" ft")
	}
	return r.value(n, bare)
}

// bareHint shows the ways n could have been meant.
func bareHint(n numeral) string {
	if n.den != 0 {
		return "Write " + n.full() + "\" for inches"
	}
	t := printable(n.text(), 20)
	return "Write " + t + "\" for inches, " + t + "' for feet or " + t + " mm"
}

// inchesAfter reads what follows feet and adds the two up.
func (r *reader) inchesAfter(feet numeral) (Length, error) {
	if err := r.joint(); err != nil {
		return 0, err
	}
	in, u, _, err := r.numberAndUnit()
	if err != nil {
		return 0, err
	}
	switch {
	case u == FootUnit:
		return 0, r.fail(in.at, "feet are given twice", "If the second number is inches write "+feet.full()+"' "+in.full()+"\"")
	case u.System() == Metric:
		return 0, r.fail(in.at, "feet and metric units are mixed", "Give the whole length in one system")
	case feet.point || feet.den != 0:
		return 0, r.fail(feet.at, "part of a foot and inches stand together", "Write whole feet and inches, such as 11' 6\", or feet alone, such as 11.5 ft")
	}
	r.space()
	if !r.end() {
		return 0, r.surplus(in, InchUnit)
	}
	inches, err := r.value(in, InchUnit)
	if err != nil {
		return 0, err
	}
	whole, err := r.value(feet, FootUnit)
	if err != nil {
		return 0, err
	}
	if inches >= Foot {
		return 0, r.fail(in.at, printable(in.full(), 20)+" inches after the feet is a foot or more", "If that is the length write "+(whole+inches).String())
	}
	if whole+inches > MaxLength {
		return 0, r.tooLong(feet.at)
	}
	return whole + inches, nil
}

// joint moves over what may stand between feet and inches: nothing, blanks,
// "and", or a hyphen. A hyphen with a blank only before it looks like a minus.
func (r *reader) joint() error {
	at := r.pos
	spaced := strings.TrimRightFunc(r.text[:at], unicode.IsSpace) != r.text[:at]
	if r.take(isHyphen) {
		if !r.space() && spaced {
			return r.fail(at, "this hyphen could be a minus", "Leave it out: 11' 7\"")
		}
		return nil
	}
	r.and()
	if c := r.peek(); c == '+' {
		return r.fail(r.pos, "sums are not worked out here", "Leave the plus out: 11' 7\"")
	}
	return nil
}

// surplus explains text after a length that was complete.
func (r *reader) surplus(n numeral, u Unit) error {
	if !r.numberStarts() {
		return r.unexpected()
	}
	at := r.pos
	next, v, _, err := r.numberAndUnit()
	switch {
	case err != nil:
		return err
	case v != NoUnit && v.System() != u.System():
		return r.fail(at, "metric and inch units are mixed", "Give the whole length in one system")
	case u.System() == Metric:
		return r.fail(at, "a second number follows", "Write one number and one unit, such as 3.54 m or 3540 mm")
	case next.den != 0 && next.whole == "" && n.den == 0 && u == InchUnit && v != FootUnit:
		return r.fail(at, "the fraction stands after the inch mark", "Put the mark last: "+n.text()+" "+next.fraction()+"\"")
	case v == FootUnit:
		return r.fail(at, "feet stand after inches", "Write feet first: 11' 7 5/8\"")
	}
	return r.fail(at, "a second number follows the inches", "Write feet first, then inches once: 11' 7 5/8\"")
}

// numberStarts says whether a number starts here.
func (r *reader) numberStarts() bool {
	c := r.peek()
	_, _, glyph := vulgar(c)
	return glyph || c == '.' || '0' <= c && c <= '9'
}

// unexpected refuses the character the reader stands at.
func (r *reader) unexpected() error {
	c := r.peek()
	hint := "Write one length, such as 11' 7 5/8\" or 3540 mm"
	switch {
	case isHyphen(c) || c == '+':
		return r.fail(r.pos, "a plus or minus may only stand in front", hint)
	case c == '²' || c == '³':
		return r.fail(r.pos, "this is an area or a volume, not a length", hint)
	}
	return r.fail(r.pos, "“"+printable(string(c), 1)+"” was not expected here", hint)
}

func (r *reader) tooLong(at int) *ParseError {
	return r.fail(at, "this is longer than "+strconv.FormatInt(int64(MaxLength/Metre/1000), 10)+" km", "Check the digits and the unit")
}

// value turns a numeral into a length, exactly or not at all.
func (r *reader) value(n numeral, u Unit) (Length, error) {
	size := u.Length()
	if len(n.whole) > 15 {
		return 0, r.tooLong(n.at)
	}
	var whole int64
	if n.whole != "" {
		whole, _ = strconv.ParseInt(n.whole, 10, 64) // at most 15 digits
	}
	if whole > int64(MaxLength/size) {
		return 0, r.tooLong(n.at)
	}
	l := Length(whole) * size
	switch {
	case n.den != 0 && u.System() == Metric:
		return 0, r.fail(n.at, "metric lengths take no fractions", "Write decimals, such as 3.5 mm")
	case n.den != 0:
		l += size / Length(n.den) * Length(n.num) // whole: Inch/64 is
	case n.decimals != "":
		part, ok := decimalPart(n.decimals, size)
		if !ok {
			return 0, r.fail(n.at, printable(n.text(), 30)+" "+u.String()+" is not a whole number of nanometres", "Leave out decimals finer than anyone can measure, or write inches as a fraction")
		}
		l += part
	}
	if l > MaxLength {
		return 0, r.tooLong(n.at)
	}
	return l, nil
}

// decimalPart is 0.decimals of size, if that is whole. A metre is 10^9 nm and a
// foot 2^8·3·5^5·127 nm: with no trailing zero, over nine decimals never are.
func decimalPart(decimals string, size Length) (Length, bool) {
	if len(decimals) > 9 {
		return 0, false
	}
	v, _ := strconv.ParseInt(decimals, 10, 64)
	scale := int64(1)
	for range decimals {
		scale *= 10
	}
	product := v * int64(size) // under 10^9 · 10^9
	return Length(product / scale), product%scale == 0
}
