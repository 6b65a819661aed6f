package money

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"stallwright/engine/document"
)

// Amount is money as a whole number of a currency's minor unit: cents of USD.
type Amount int64

// Text writes an amount with the currency's decimals and no thousands sign:
// 1234.50.
func (c Currency) Text(a Amount) string {
	n, _ := c.Decimals()
	return fixed(int64(a), n)
}

// fixed writes v·10^-n.
func fixed(v int64, n int) string {
	s := strconv.FormatInt(v, 10)
	sign := ""
	if v < 0 {
		sign, s = "-", s[1:]
	}
	if n == 0 {
		return sign + s
	}
	if short := n + 1 - len(s); short > 0 {
		s = strings.Repeat("0", short) + s
	}
	return sign + s[:len(s)-n] + "." + s[len(s)-n:]
}

// Figure is an amount as a person writes it, before anybody has said in which
// currency: 13.40. The zero Figure is nothing written.
type Figure struct {
	units  int64 // all its digits
	places int   // how many of them are decimals
	stated bool
}

var figure = regexp.MustCompile(`^(\d{1,12})(?:\.(\d{1,4}))?$`)

// UnmarshalText reads an amount of at most twelve digits and four decimals.
func (f *Figure) UnmarshalText(text []byte) error {
	p := figure.FindSubmatch(text)
	if p == nil {
		return &hinted{strconv.Quote(string(text)) + " is no amount of money", "an amount such as 13.40: digits, a point, decimals; the currency stands above"}
	}
	v, err := strconv.ParseInt(string(p[1])+string(p[2]), 10, 64)
	if err != nil {
		return err
	}
	*f = Figure{v, len(p[2]), true}
	return nil
}

// MarshalText writes it as it was written.
func (f Figure) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// String writes it as it was written; empty for nothing.
func (f Figure) String() string {
	if !f.stated {
		return ""
	}
	return fixed(f.units, f.places)
}

// Stated says that an amount was written, a zero too.
func (f Figure) Stated() bool { return f.stated }

// In is the amount in a currency's minor units; false where it has more decimals
// than the currency.
func (f Figure) In(c Currency) (Amount, bool) {
	n, ok := c.Decimals()
	v := f.units
	for p := f.places; p > n; p-- {
		if v%10 != 0 {
			return 0, false
		}
		v /= 10
	}
	for p := f.places; p < n; p++ {
		v *= 10
	}
	return Amount(v), ok
}

// FigureOf is an amount in hundredths as somebody writes it.
func FigureOf(hundredths int64) Figure { return Figure{hundredths, 2, true} }

// Describe tells the schema of it.
func (Figure) Describe() document.Description {
	return document.Description{Doc: "an amount of money, with at most the decimals its currency has", Pattern: `^[0-9]{1,12}(\.[0-9]{1,4})?$`, Examples: []string{"13.40", "1250"}}
}

// Percent is a percentage as the fraction it is. The zero Percent is nothing
// written, and counts as none.
type Percent struct {
	text     string
	num, den int64 // of one: 7.25 % is 725/10000
}

var percent = regexp.MustCompile(`^(\d{1,4})(?:\.(\d{1,6})| (\d{1,3})/(\d{1,3}))?\s*%$`)

// UnmarshalText reads a percentage with its sign: 7.25 %, 33 1/3 %.
func (p *Percent) UnmarshalText(text []byte) error {
	m := percent.FindStringSubmatch(strings.TrimSpace(string(text)))
	wrong := &hinted{strconv.Quote(string(text)) + " is no percentage", "such as 12 %, 7.25 % or 33 1/3 %, with its sign"}
	if m == nil {
		return wrong
	}
	num, _ := strconv.ParseInt(m[1], 10, 64)
	den := int64(1)
	for range m[2] {
		den *= 10
	}
	if m[2] != "" {
		d, _ := strconv.ParseInt(m[2], 10, 64)
		num = num*den + d
	}
	if m[4] != "" {
		a, _ := strconv.ParseInt(m[3], 10, 64)
		den, _ = strconv.ParseInt(m[4], 10, 64)
		if den == 0 {
			return wrong
		}
		num = num*den + a
	}
	*p = Percent{strings.TrimSpace(string(text)), num, den * 100}
	return nil
}

// MarshalText writes it as it was written.
func (p Percent) MarshalText() ([]byte, error) { return []byte(p.text), nil }

// String writes it as it was written; 0 % for nothing.
func (p Percent) String() string {
	if p.text == "" {
		return "0 %"
	}
	return p.text
}

// Stated says that it was written.
func (p Percent) Stated() bool { return p.text != "" }

// Rat is the fraction of one: 1/4 for 25 %.
func (p Percent) Rat() *big.Rat {
	if p.den == 0 {
		return new(big.Rat)
	}
	return big.NewRat(p.num, p.den)
}

// Describe tells the schema of it.
func (Percent) Describe() document.Description {
	return document.Description{Doc: "a percentage with its sign, exact", Pattern: `^[0-9]{1,4}(\.[0-9]{1,6}| [0-9]{1,3}/[0-9]{1,3})?\s*%$`, Examples: []string{"12 %", "7.25 %", "33 1/3 %"}}
}
