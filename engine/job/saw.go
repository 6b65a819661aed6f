package job

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Sold is a board length that the yard sells. Where it is written as a length
// alone, it has no price and there are any number.
type Sold struct {
	document.Where `yaml:"-" json:"-"`

	Length    measure.Length `yaml:"length,required" doc:"as bought"`
	Price     Money          `yaml:"price" doc:"of one board, as 13.40; all lengths have one or none has"`
	Available *int           `yaml:"available" min:"0" max:"1000000" doc:"boards to be had; any number where left out"`
}

// FromScalar reads a length alone.
func (s *Sold) FromScalar(text string) error { return s.Length.UnmarshalText([]byte(text)) }

// Offcut is boards left over from before, paid for already.
type Offcut struct {
	document.Where `yaml:"-" json:"-"`

	Length  measure.Length `yaml:"length,required" doc:"both ends square"`
	Count   int            `yaml:"count" min:"1" max:"100000" doc:"how many; 1 where left out"`
	Treated bool           `yaml:"treated" doc:"treated boards"`
}

// Saw is how boards and steel are cut.
type Saw struct {
	document.Where `yaml:"-" json:"-"`

	Kerf measure.Length `yaml:"kerf" doc:"width of the cut; 1/8 in where left out"`
	Trim measure.Length `yaml:"trim" doc:"lost at each end of a board to square it; nothing where left out"`
	Keep measure.Length `yaml:"keep" doc:"shortest offcut worth keeping; 2 ft where left out"`
}

// Money is an amount in hundredths.
type Money int64

var amount = regexp.MustCompile(`^(\d{1,9})(?:\.(\d{1,2}))?$`)

// UnmarshalText reads an amount with at most two decimals.
func (m *Money) UnmarshalText(text []byte) error {
	p := amount.FindSubmatch(text)
	if p == nil {
		return errors.New("want an amount of money such as 13.40")
	}
	whole, _ := strconv.ParseInt(string(p[1]), 10, 64)
	cents, _ := strconv.ParseInt((string(p[2]) + "00")[:2], 10, 64)
	*m = Money(whole*100 + cents)
	return nil
}

// MarshalText writes the amount with two decimals.
func (m Money) MarshalText() ([]byte, error) {
	return fmt.Appendf(nil, "%d.%02d", m/100, m%100), nil
}

// Sawing is the saw with what the job leaves out filled in: a kerf of 1/8 in and
// offcuts of 2 ft and more kept (common practice, no published source).
func (j *Job) Sawing() Saw {
	s := Saw{Kerf: measure.Inch / 8, Keep: 24 * measure.Inch}
	if j.Saw != nil {
		if j.Saw.Has("kerf") {
			s.Kerf = j.Saw.Kerf
		}
		if j.Saw.Has("keep") {
			s.Keep = j.Saw.Keep
		}
		s.Trim = j.Saw.Trim
	}
	return s
}

// Sold is the board lengths the yard sells, shortest first.
func (l *Lumber) Sold() []measure.Length {
	var out []measure.Length
	for i := range l.Lengths {
		out = append(out, l.Lengths[i].Length)
	}
	slices.Sort(out)
	return out
}

// sold checks the lengths, their prices and the offcuts on hand.
func (c *checker) sold(l *Lumber) {
	const path = "lumber"
	yard := func(w document.Where, path string, v measure.Length) {
		if v <= 0 || v > 30*measure.Metre {
			c.r.Add(w.Of("length"), path, v.String(), "no yard sells boards of that length", "lengths such as 8', 10', 12' or 3000 mm")
		}
	}
	seen := map[measure.Length]bool{}
	for i := range l.Lengths {
		s := &l.Lengths[i]
		at := fmt.Sprintf("%s.lengths[%d]", path, i)
		yard(s.Where, at, s.Length)
		if (s.Price > 0) != (l.Lengths[0].Price > 0) {
			c.r.Add(s.Pos(), at+".price", s.Length.String(), "some lengths have a price and some have none", "give every length its price, or none")
		}
		if seen[s.Length] && s.Price > 0 {
			c.r.Add(s.Pos(), at+".length", s.Length.String(), "this length is given twice", "keep the one with the right price")
		}
		seen[s.Length] = true
	}
	for i := range l.Offcuts {
		yard(l.Offcuts[i].Where, fmt.Sprintf("%s.offcuts[%d]", path, i), l.Offcuts[i].Length)
	}
}

// saw checks the saw.
func (c *checker) saw(s *Saw) {
	if s == nil {
		return
	}
	for _, v := range []struct {
		key  string
		l    measure.Length
		most measure.Length
	}{{"kerf", s.Kerf, 20 * measure.Millimetre}, {"trim", s.Trim, 500 * measure.Millimetre}, {"keep", s.Keep, 30 * measure.Metre}} {
		if v.l < 0 || v.l > v.most {
			c.r.Add(s.Of(v.key), "saw."+v.key, v.l.String(), fmt.Sprintf("%s lies between nothing and %s", v.key, v.most), "check the unit")
		}
	}
}
