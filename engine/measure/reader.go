package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestText is the most bytes a reader looks at; no quantity needs more.
const longestText = 200

// reader walks over one text. Its methods return *ParseError values that carry
// the place.
type reader struct {
	text string
	pos  int
}

func (r *reader) fail(at int, problem, hint string) *ParseError {
	return &ParseError{Text: r.text, Offset: at, Problem: problem, Hint: hint}
}

// check refuses, before any reading, text with nothing in it or with characters
// that a person cannot see or that have two readings.
func (r *reader) check() error {
	if len(r.text) > longestText {
		return r.fail(longestText, "the text is too long for one measurement", "")
	}
	if strings.TrimFunc(r.text, unicode.IsSpace) == "" {
		return r.fail(0, "nothing was entered", `Write a number with its unit, such as 7 5/8" or 3540 mm`)
	}
	for i, c := range r.text {
		switch {
		case c == utf8.RuneError || unicode.Is(unicode.Cc, c) || unicode.Is(unicode.Cf, c) || unicode.Is(unicode.Zl, c) || unicode.Is(unicode.Zp, c):
			return r.fail(i, "there is a character here that cannot be seen", "Type the measurement again by hand")
		case c == ',' || c == '，' || c == '٫' || c == '٬':
			return r.fail(i, "a comma can mean a decimal point or thousands", "Write decimals with a point (3.54) and thousands without a mark (3540)")
		case c == '≈' || c == '~' || c == '±':
			return r.fail(i, "this is a rounded or approximate value", "Enter the measured value without the "+string(c)+" sign")
		case c > unicode.MaxASCII && unicode.Is(unicode.Nd, c):
			return r.fail(i, "this digit is not one of 0 to 9", "Use the plain digits 0 to 9")
		}
	}
	return nil
}

func (r *reader) end() bool { return r.pos >= len(r.text) }

// peek returns the next character, or -1 at the end.
func (r *reader) peek() rune {
	if r.end() {
		return -1
	}
	c, _ := utf8.DecodeRuneInString(r.text[r.pos:])
	return c
}

// take moves over the next character if ok accepts it.
func (r *reader) take(ok func(rune) bool) bool {
	if r.end() {
		return false
	}
	c, n := utf8.DecodeRuneInString(r.text[r.pos:])
	if !ok(c) {
		return false
	}
	r.pos += n
	return true
}

// space moves over blanks of any width and says whether there were any.
func (r *reader) space() bool {
	from := r.pos
	for r.take(unicode.IsSpace) {
	}
	return r.pos > from
}

// digits moves over a run of digits and returns it.
func (r *reader) digits() string {
	from := r.pos
	for !r.end() && isDigit(r.text[r.pos]) {
		r.pos++
	}
	return r.text[from:r.pos]
}

// word moves over a run of letters, with the full stop of an abbreviation, and
// returns it in lower case without the stop.
func (r *reader) word() string {
	from := r.pos
	for r.take(unicode.IsLetter) {
	}
	w := strings.ToLower(r.text[from:r.pos])
	if w != "" {
		r.take(func(c rune) bool { return c == '.' })
	}
	return w
}

// and moves over the word "and" with the blanks around it.
func (r *reader) and() {
	from := r.pos
	r.space()
	if r.word() == "and" {
		r.space()
		return
	}
	r.pos = from
}

// sign reads a leading plus or minus.
func (r *reader) sign() (negative bool) {
	negative = isHyphen(r.peek())
	if r.take(func(c rune) bool { return c == '+' || isHyphen(c) }) {
		r.space()
	}
	return negative
}

// lengthUnit reads a mark or a word for a unit of length. It returns NoUnit
// without moving when there is neither, and an error for a word it does not
// know. prime says that feet were written with a mark.
func (r *reader) lengthUnit() (u Unit, prime bool, err error) {
	from := r.pos
	if r.take(isDoublePrime) {
		return InchUnit, true, nil
	}
	if r.take(isPrime) {
		if !r.take(isPrime) {
			return FootUnit, true, nil
		}
		if isPrime(r.peek()) || isDoublePrime(r.peek()) {
			return NoUnit, true, r.fail(from, "there are too many marks here", "Use ' for feet and \" for inches")
		}
		return InchUnit, true, nil
	}
	w := r.word()
	if w == "" {
		return NoUnit, false, nil
	}
	if u, ok := unitWord(w); ok {
		return u, false, nil
	}
	hint := unitHint
	if w == "yd" || w == "yds" || w == "yard" || w == "yards" {
		hint = "Write feet: a yard is 3 ft"
	}
	return NoUnit, false, r.fail(from, "“"+printable(w, 20)+"” is not a unit of length known here", hint)
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// isHyphen accepts the characters keyboards and word processors put for a
// hyphen or a minus.
func isHyphen(c rune) bool {
	switch c {
	case '-', '‐', '‑', '–', '−':
		return true
	}
	return false
}

func isSlash(c rune) bool { return c == '/' || c == '⁄' || c == '∕' }

func isPrime(c rune) bool {
	switch c {
	case '\'', '’', '‘', '′', '´', '`', 'ʹ', 'ʼ':
		return true
	}
	return false
}

func isDoublePrime(c rune) bool {
	switch c {
	case '"', '”', '“', '″', 'ʺ', '〃':
		return true
	}
	return false
}
