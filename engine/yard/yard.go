// Package yard holds a lumber yard's list: which boards it sells, in which
// lengths, at what price, how many there are and how soon they come. In goes a
// YAML text; out comes a Yard whose every value is in range, or a list of all that
// is wrong with it, by line. Supply then gives a job the boards of a yard.
package yard

import (
	_ "embed"
	"fmt"
	"slices"
	"time"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/money"
)

// Yard is one yard's list.
type Yard struct {
	document.Where `yaml:"-" json:"-"`

	Yard     string         `yaml:"yard,required" doc:"what people call the yard"`
	Currency money.Currency `yaml:"currency,required" doc:"of every price here"`
	Dated    string         `yaml:"dated,required" doc:"day of the prices, as 2026-05-04"`
	Until    string         `yaml:"until" doc:"last day on which they hold"`
	Note     string         `yaml:"note" doc:"anything a reader should know: whom to ask, where to load"`
	Boards   []Boards       `yaml:"boards,required" min:"1" doc:"what it sells: one entry for each species, size, grade and treatment"`
}

// Boards is boards of one kind.
type Boards struct {
	document.Where `yaml:"-" json:"-"`

	Species   job.Species    `yaml:"species,required" doc:"southern-pine, douglas-fir-larch, spruce-pine-fir or other"`
	Nominal   job.Nominal    `yaml:"nominal" doc:"nominal size; 2x6 where neither it nor the thickness is stated"`
	Thickness measure.Length `yaml:"thickness" doc:"real thickness, where boards are sold by it"`
	Grade     string         `yaml:"grade" doc:"as stamped: No. 2, C24"`
	Treatment string         `yaml:"treatment" doc:"use category of treated boards, as UC3B; untreated where left out"`
	Lead      int            `yaml:"lead_days" min:"0" max:"400" doc:"working days from order to delivery; from the stack where left out"`
	Lengths   []job.Sold     `yaml:"lengths,required" min:"1" doc:"lengths with price and number, or lengths alone where prices are not known"`
}

// Treated says whether the boards are treated.
func (b *Boards) Treated() bool { return b.Treatment != "" }

// size says which boards they are, for messages.
func (b *Boards) size() string {
	s := string(b.Species)
	switch {
	case b.Thickness > 0:
		s += " " + b.Thickness.String()
	case b.Nominal != "":
		s += " " + string(b.Nominal)
	}
	if b.Grade != "" {
		s += " " + b.Grade
	}
	if b.Treated() {
		s += " " + b.Treatment
	}
	return s
}

//go:embed starter/yard.yaml
var starter []byte

// Starter is a commented list to begin from.
func Starter() []byte { return slices.Clone(starter) }

// Read reads a yard's list. The error is document.Problems: every mistake in the
// text, each with its line.
func Read(file string, src []byte) (*Yard, error) {
	y := new(Yard)
	r := document.NewReporter(file, src)
	if r.Read(y) {
		y.check(r)
	} else if !y.Pos().IsZero() && len(y.Boards) > 0 {
		rest := document.NewReporter(file, src)
		y.check(rest)
		r.Rest(rest)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return y, nil
}

func (y *Yard) check(r *document.Reporter) {
	for _, d := range []struct{ key, text string }{{"dated", y.Dated}, {"until", y.Until}} {
		if _, err := time.Parse(time.DateOnly, d.text); err != nil && y.Has(d.key) {
			r.Add(y.Of(d.key), d.key, d.text, "this is no date", "write year-month-day, as 2026-05-04")
		}
	}
	if y.Until != "" && y.Until < y.Dated {
		r.Add(y.Of("until"), "until", y.Until, "the prices end before they begin", "a day after "+y.Dated)
	}
	seen := map[string]int{}
	for i := range y.Boards {
		b := &y.Boards[i]
		at := fmt.Sprintf("boards[%d]", i)
		if line, twice := seen[b.size()]; twice {
			r.Add(b.Pos(), at, "", fmt.Sprintf("%s is listed already, on line %d", b.size(), line), "one entry for each species, size, grade and treatment")
		}
		seen[b.size()] = b.Pos().Line
		if b.Has("thickness") && (b.Thickness < 5*measure.Millimetre || b.Thickness > 200*measure.Millimetre) {
			r.Add(b.Of("thickness"), at+".thickness", b.Thickness.String(), "no board has this thickness", "check the unit")
		}
		y.lengths(r, b, at)
	}
}

// priced says whether the list's first board has a price.
func (y *Yard) priced() bool {
	return len(y.Boards[0].Lengths) > 0 && y.Boards[0].Lengths[0].Price > 0
}

func (y *Yard) lengths(r *document.Reporter, b *Boards, at string) {
	seen := map[measure.Length]bool{}
	for k := range b.Lengths {
		s := &b.Lengths[k]
		at := fmt.Sprintf("%s.lengths[%d]", at, k)
		pos := s.Pos()
		if pos.IsZero() {
			pos = b.Of(fmt.Sprintf("lengths[%d]", k))
		}
		switch {
		case s.Length <= 0 || s.Length > 30*measure.Metre:
			r.Add(pos, at+".length", s.Length.String(), "no yard sells boards of that length", "lengths such as 8', 10', 12' or 3000 mm")
		case seen[s.Length]:
			r.Add(pos, at+".length", s.Length.String(), "this length is given twice", "keep the one with the right price")
		case (s.Price > 0) != y.priced():
			r.Add(pos, at+".price", s.Length.String(), "some boards have a price and some have none", "give every length its price, or none")
		}
		if _, ok := money.FigureOf(int64(s.Price)).In(y.Currency); !ok {
			r.Add(pos, at+".price", "", fmt.Sprintf("%s has no such small money", y.Currency), "a price in whole units of the currency's smallest")
		}
		seen[s.Length] = true
	}
}
