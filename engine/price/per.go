package price

import (
	"math/big"
	"strconv"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Per is what a price is for: so many pieces, so much length or so much mass. The
// zero Per is one piece.
type Per struct {
	text   string
	count  int64
	length measure.Length
	mass   measure.Mass
}

// perError says what a Per may be.
type perError struct{ text string }

func (e *perError) Error() string {
	return strconv.Quote(e.text) + " is neither a number of pieces, a length nor a mass"
}
func (e *perError) Hint() string { return "such as 100, 1 ft, 1 m, 100 lb, 1 kg" }

// UnmarshalText reads 100, 1 ft or 1 kg.
func (p *Per) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	if n, err := strconv.ParseInt(s, 10, 32); err == nil && n > 0 {
		*p = Per{text: s, count: n}
		return nil
	}
	if l, err := measure.ParseLength(s, measure.NoUnit); err == nil && l > 0 {
		*p = Per{text: s, length: l}
		return nil
	}
	if m, err := measure.ParseMass(s); err == nil && m > 0 {
		*p = Per{text: s, mass: m}
		return nil
	}
	return &perError{s}
}

// MarshalText writes it as it was written.
func (p Per) MarshalText() ([]byte, error) { return []byte(p.text), nil }

// Describe tells the schema of it.
func (Per) Describe() document.Description {
	return document.Description{Doc: "a number of pieces, a length or a mass", Examples: []string{"100", "1 ft", "1 kg"}}
}

// of is how many times what it is for goes into so many pieces of a length and a
// mass in all, and how that reads; false where what is counted has no length, or no
// mass.
func (p Per) of(count int64, length measure.Length, mass measure.Mass) (n *big.Rat, how phrase.Phrase, ok bool) {
	switch {
	case p.length > 0:
		if length <= 0 {
			return nil, phrase.Phrase{}, false
		}
		all := new(big.Int).Mul(big.NewInt(count), big.NewInt(int64(length)))
		return new(big.Rat).SetFrac(all, big.NewInt(int64(p.length))), phrase.Of("offer.rule-per-length", number("count", count), named("per", p.text)), true
	case p.mass > 0:
		if mass <= 0 {
			return nil, phrase.Phrase{}, false
		}
		return big.NewRat(int64(mass), int64(p.mass)), phrase.Of("offer.rule-per-mass", named("per", p.text)), true
	case p.count > 1:
		return big.NewRat(count, p.count), phrase.Of("offer.rule-per-count", number("count", count), number("per", p.count)), true
	}
	return big.NewRat(count, 1), phrase.Of("kind.name", number("name", count)), true
}
