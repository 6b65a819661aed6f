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

// Delivered is boards of one length that came.
type Delivered struct {
	document.Where `yaml:"-" json:"-"`

	Length  measure.Length `yaml:"length,required" doc:"as bought"`
	Count   int            `yaml:"count,required" min:"1" max:"1000000" doc:"how many that can be used"`
	Treated bool           `yaml:"treated" doc:"treated boards"`
}

// Sawn is boards of one length that went through the saw. They are taken off what
// was delivered, and off the offcuts; their pieces are made.
type Sawn struct {
	document.Where `yaml:"-" json:"-"`

	Length  measure.Length `yaml:"length,required" doc:"of the boards, as bought"`
	Count   int            `yaml:"count" min:"1" max:"1000000" doc:"how many; 1 where left out"`
	Treated bool           `yaml:"treated" doc:"treated boards"`
	Pieces  []string       `yaml:"pieces" doc:"labels of the good pieces they gave in all; none where a board was cut wrong"`
	Left    measure.Length `yaml:"left" doc:"what is left of each and can be used; nothing where left out"`
}

// Boards is how many they are.
func (s *Sawn) Boards() int { return max(1, s.Count) }

// Told is one board as an earlier plan had it cut. It is no part of the document:
// whoever plans again says what the saw was told, so that as much of it stays as
// costs nothing.
type Told struct {
	Item    string // an id of the kit, or board
	Treated bool
	Length  measure.Length
	Pieces  []string // labels
}

// Tell says what the saw was told by an earlier plan.
func (j *Job) Tell(boards []Told) { j.told = boards }

// Told is what the saw was told by an earlier plan.
func (j *Job) Told() []Told { return j.told }

// Saw is how boards and steel are cut.
type Saw struct {
	document.Where `yaml:"-" json:"-"`

	Kerf measure.Length `yaml:"kerf" doc:"width of the cut; 1/8 in where left out"`
	Trim measure.Length `yaml:"trim" doc:"lost at each end of a board to square it; nothing where left out"`
	Keep measure.Length `yaml:"keep" doc:"shortest offcut worth keeping; 2 ft where left out"`

	Worth Money          `yaml:"worth" doc:"what a kept offcut of board is worth for each full per; nothing where left out"`
	Per   measure.Length `yaml:"per" doc:"the length of offcut that worth is for"`
	Most  int            `yaml:"most" min:"0" max:"1000" doc:"most pieces from one board; any number where left out"`
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
		s.Worth, s.Per, s.Most = j.Saw.Worth, j.Saw.Per, j.Saw.Most
	}
	return s
}

// Sold is the lengths of treated or of untreated boards that the yard sells,
// shortest first.
func (l *Lumber) Sold(treated bool) []measure.Length {
	var out []measure.Length
	for _, s := range l.Sells(treated) {
		out = append(out, s.Length)
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
	c.yard(l)
	for _, list := range []struct {
		key   string
		sells []Sold
	}{{"lengths", l.Lengths}, {"treated_lengths", l.Treated}} {
		seen := map[measure.Length]bool{}
		for i := range list.sells {
			s := &list.sells[i]
			at := fmt.Sprintf("%s.%s[%d]", path, list.key, i)
			yard(s.Where, at, s.Length)
			if len(l.Lengths) > 0 && (s.Price > 0) != (l.Lengths[0].Price > 0) {
				c.r.Add(s.Pos(), at+".price", s.Length.String(), "some lengths have a price and some have none", "give every length its price, or none")
			}
			if seen[s.Length] && s.Price > 0 {
				c.r.Add(s.Pos(), at+".length", s.Length.String(), "this length is given twice", "keep the one with the right price")
			}
			seen[s.Length] = true
		}
	}
	for i := range l.Offcuts {
		yard(l.Offcuts[i].Where, fmt.Sprintf("%s.offcuts[%d]", path, i), l.Offcuts[i].Length)
	}
	if l.Tolerance < 0 || l.Tolerance > 600*measure.Millimetre {
		c.r.Add(l.Of("tolerance"), path+".tolerance", l.Tolerance.String(), "no opening turns out that much longer than drawn", "such as 1 in or 25 mm")
	}
	if l.AtOnce != nil && l.Tolerance == 0 {
		c.r.Add(l.Of("at_once"), path+".at_once", fmt.Sprint(*l.AtOnce), "it says how many openings may turn out longer, but not by how much", "add tolerance: 1 in")
	}
	there := map[boardKind]int{}
	for i := range l.Delivered {
		d := &l.Delivered[i]
		yard(d.Where, fmt.Sprintf("%s.delivered[%d]", path, i), d.Length)
		there[boardKind{d.Length, d.Treated}] += d.Count
	}
	for i := range l.Offcuts {
		o := &l.Offcuts[i]
		there[boardKind{o.Length, o.Treated}] += max(1, o.Count)
	}
	for i := range l.Sawn {
		c.sawn(&l.Sawn[i], fmt.Sprintf("%s.sawn[%d]", path, i), there)
	}
}

// yard checks that it is said once where the boards come from.
func (c *checker) yard(l *Lumber) {
	switch {
	case l.Yard == "" && len(l.Lengths) == 0 && !l.Has("lengths"):
		c.r.Add(l.Pos(), "lumber", "", "nothing says which lengths of board there are", "add lengths: [8', 10', 12'], or yard: our-yard.yaml")
	case l.Yard != "" && l.Has("lengths"):
		c.r.Add(l.Of("lengths"), "lumber.lengths", "", "the boards come from the yard's list and from here", "keep yard or lengths")
	case l.Has("treated_lengths") && !l.Has("lengths"):
		c.r.Add(l.Of("treated_lengths"), "lumber.treated_lengths", "", "these are lengths of treated boards only", "add lengths for the others, or leave both to a yard")
	}
}

// boardKind tells boards on the stack apart.
type boardKind struct {
	length  measure.Length
	treated bool
}

// sawn checks boards that went through the saw against what was there.
func (c *checker) sawn(s *Sawn, path string, there map[boardKind]int) {
	k := boardKind{s.Length, s.Treated}
	if there[k] -= s.Boards(); there[k] < 0 {
		c.r.Add(s.Of("length"), path+".length", s.Length.String(), fmt.Sprintf("%d more boards of this length were sawn than were delivered", -there[k]), "add them to delivered, or mend the count")
		there[k] = 0
	}
	if s.Left < 0 || s.Left >= s.Length {
		c.r.Add(s.Of("left"), path+".left", s.Left.String(), "what is left of a board is shorter than the board", "the usable rest of each, or leave it out")
	}
}

// saw checks the saw.
func (c *checker) saw(s *Saw) {
	if s == nil {
		return
	}
	switch {
	case s.Has("worth") != s.Has("per"):
		c.r.Add(s.Pos(), "saw", "", "worth and per go together", "worth: 0.40 and per: 1 ft, for each full foot of a kept offcut")
	case s.Worth > 0 && (s.Per <= 0 || s.Has("keep") && s.Keep == 0):
		c.r.Add(s.Of("worth"), "saw.worth", "", "an offcut that is worth something is kept, and is worth it for a length", "a per above nothing, and a keep")
	}
	for _, v := range []struct {
		key  string
		l    measure.Length
		most measure.Length
	}{{"kerf", s.Kerf, 20 * measure.Millimetre}, {"trim", s.Trim, 500 * measure.Millimetre}, {"keep", s.Keep, 30 * measure.Metre}, {"per", s.Per, 30 * measure.Metre}} {
		if v.l < 0 || v.l > v.most {
			c.r.Add(s.Of(v.key), "saw."+v.key, v.l.String(), fmt.Sprintf("%s lies between nothing and %s", v.key, v.most), "check the unit")
		}
	}
}
