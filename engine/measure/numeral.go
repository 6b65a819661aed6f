package measure

import (
	"strconv"
	"strings"
)

// numeral is an unsigned number as typed: decimal digits, a tape fraction, or
// whole digits and a fraction.
type numeral struct {
	at       int    // where it starts
	whole    string // digits before the point, without leading zeros
	decimals string // digits after the point, without trailing zeros
	point    bool   // a decimal point was typed
	num, den int64  // the fraction; den is 0 when there is none
}

// text is the numeral without its fraction, for hints.
func (n numeral) text() string {
	w := n.whole
	if w == "" {
		w = "0"
	}
	if n.decimals != "" {
		w += "." + n.decimals
	}
	return w
}

// fraction is the fraction as a person writes it.
func (n numeral) fraction() string {
	return strconv.FormatInt(n.num, 10) + "/" + strconv.FormatInt(n.den, 10)
}

// full is the numeral with its fraction, for hints.
func (n numeral) full() string {
	switch {
	case n.den == 0:
		return n.text()
	case n.whole == "":
		return n.fraction()
	}
	return n.text() + " " + n.fraction()
}

const (
	fractionHint = `Tapes have halves, 4ths, 8ths, 16ths, 32nds and 64ths: write 7 5/8`
	decimalHint  = "Write plain decimals, such as 0.25"
)

// numeral reads a number. ok is false, and nothing is read, when none starts here.
func (r *reader) numeral() (n numeral, ok bool, err error) {
	n.at = r.pos
	if ok, err = r.fractionOnly(&n); ok || err != nil {
		return n, ok, err
	}
	whole := r.digits()
	if r.peek() == '.' {
		r.pos++
		n.point = true
		n.decimals = r.digits()
		switch {
		case n.decimals == "" && whole == "":
			r.pos = n.at
			return n, false, nil
		case n.decimals == "":
			return n, false, r.fail(r.pos-1, "no digits follow the decimal point", decimalHint)
		case r.peek() == '.':
			return n, false, r.fail(r.pos, "there are two decimal points", decimalHint)
		}
	} else if whole == "" {
		return n, false, nil
	}
	if r.exponent() {
		return n, false, r.fail(r.pos, "a number with an exponent is not read", decimalHint)
	}
	n.whole = strings.TrimLeft(whole, "0")
	n.decimals = strings.TrimRight(n.decimals, "0")
	if err := r.spacedSlash(); err != nil {
		return n, false, err
	}
	if err := r.fractionAfter(&n); err != nil {
		return n, false, err
	}
	if n.den != 0 && n.point {
		return n, false, r.fail(n.at, "a decimal and a fraction stand together", "Write either "+n.text()+" or a whole number and a fraction such as 7 5/8")
	}
	return n, true, nil
}

// exponent says whether a power of ten follows, as in 1e3.
func (r *reader) exponent() bool {
	rest := r.text[r.pos:]
	if rest == "" || rest[0] != 'e' && rest[0] != 'E' {
		return false
	}
	rest = strings.TrimLeft(rest[1:], "+-")
	return rest != "" && isDigit(rest[0])
}

// spacedSlash refuses "5 / 8": it could be two numbers.
func (r *reader) spacedSlash() error {
	from := r.pos
	defer func() { r.pos = from }()
	if r.space() && isSlash(r.peek()) {
		return r.fail(r.pos, "there is a space inside the fraction", "Write it closed up, such as 5/8")
	}
	return nil
}

// fractionOnly reads a numeral that is nothing but a fraction: 5/8, ⅝, ⁵⁄₈.
func (r *reader) fractionOnly(n *numeral) (bool, error) {
	from := r.pos
	if num, den, ok := vulgar(r.peek()); ok {
		r.take(func(rune) bool { return true })
		return true, r.setFraction(n, from, from, num, den)
	}
	num := r.digits()
	if num == "" {
		num = r.smallDigits('⁰')
	}
	if num == "" || !isSlash(r.peek()) {
		r.pos = from
		return false, nil
	}
	r.take(isSlash)
	at := r.pos
	den := r.digits()
	if den == "" {
		den = r.smallDigits('₀')
	}
	switch {
	case den == "" && r.space() && r.digits() != "":
		return false, r.fail(at, "there is a space inside the fraction", "Write it closed up, such as 5/8")
	case den == "":
		return false, r.fail(at, "no number follows the fraction bar", fractionHint)
	}
	r.pos = at
	if r.digits() == "" {
		r.smallDigits('₀')
	}
	if r.peek() == '.' {
		return false, r.fail(r.pos, "a decimal and a fraction stand together", fractionHint)
	}
	return true, r.setFraction(n, from, at, num, den)
}

// fractionAfter reads the fraction that may follow whole digits: 7 5/8, 7-5/8,
// 7½, 7 and 5/8. It does not move when none follows.
func (r *reader) fractionAfter(n *numeral) error {
	from := r.pos
	spaced := r.space()
	hyphen := r.pos
	if r.take(isHyphen) {
		if r.space() {
			spaced = true
		}
	} else {
		hyphen = -1
		r.pos = from
		r.and()
		spaced = r.pos > from || r.space()
	}
	var f numeral
	ok, err := r.fractionOnly(&f)
	if err != nil {
		return err
	}
	if !ok {
		r.pos = from
		return nil
	}
	if hyphen >= 0 && spaced {
		return r.fail(hyphen, "this hyphen could be a minus", "Close it up or leave it out: "+n.text()+" "+f.fraction())
	}
	n.num, n.den = f.num, f.den
	return nil
}

// setFraction checks a fraction and keeps it in n. Tape fractions are powers of
// two up to 64; thirds and tenths are refused because no mark on a tape is one.
func (r *reader) setFraction(n *numeral, at, denAt int, num, den string) error {
	num, den = strings.TrimLeft(num, "0"), strings.TrimLeft(den, "0")
	if den == "" {
		return r.fail(denAt, "a fraction cannot be divided by zero", fractionHint)
	}
	switch den {
	case "2", "4", "8", "16", "32", "64":
	default:
		return r.fail(denAt, "a fraction over "+printable(den, 12)+" is not on a tape", fractionHint)
	}
	n.den, _ = strconv.ParseInt(den, 10, 64)
	if num == "" {
		num = "0"
	}
	v, err := strconv.ParseInt(num, 10, 64)
	if err != nil || v >= n.den {
		return r.fail(at, "the fraction "+printable(num, 12)+"/"+den+" is one or more", properHint(v, n.den))
	}
	n.num = v
	return nil
}

// properHint writes num/den as a whole number and a proper fraction.
func properHint(num, den int64) string {
	whole, rest := num/den, num%den
	if num <= 0 || whole > 999 {
		return fractionHint
	}
	for rest > 0 && rest%2 == 0 && den > 2 {
		rest, den = rest/2, den/2
	}
	n := numeral{whole: strconv.FormatInt(whole, 10), num: rest, den: den}
	if rest == 0 {
		n.den = 0
	}
	return "Write " + n.full()
}

// smallDigits moves over superscript or subscript digits, zero being the first
// of the ten, and returns them as plain ones.
func (r *reader) smallDigits(zero rune) string {
	var b strings.Builder
	for {
		c := r.peek()
		switch {
		case zero == '⁰' && c == '¹':
			c = '⁰' + 1
		case zero == '⁰' && (c == '²' || c == '³'):
			c = '⁰' + 2 + (c - '²')
		}
		if c < zero || c > zero+9 || b.Len() > longestText {
			return b.String()
		}
		r.take(func(rune) bool { return true })
		b.WriteByte('0' + byte(c-zero))
	}
}

// vulgar splits a one-character fraction. Those no tape has are split too, so
// that the refusal can name them.
func vulgar(c rune) (num, den string, ok bool) {
	switch c {
	case '½':
		return "1", "2", true
	case '¼':
		return "1", "4", true
	case '¾':
		return "3", "4", true
	case '⅛':
		return "1", "8", true
	case '⅜':
		return "3", "8", true
	case '⅝':
		return "5", "8", true
	case '⅞':
		return "7", "8", true
	case '⅓':
		return "1", "3", true
	case '⅔':
		return "2", "3", true
	case '⅕':
		return "1", "5", true
	case '⅖':
		return "2", "5", true
	case '⅗':
		return "3", "5", true
	case '⅘':
		return "4", "5", true
	case '⅙':
		return "1", "6", true
	case '⅚':
		return "5", "6", true
	case '⅐':
		return "1", "7", true
	case '⅑':
		return "1", "9", true
	case '⅒':
		return "1", "10", true
	}
	return "", "", false
}
