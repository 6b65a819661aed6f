package offer

import (
	"bytes"
	"fmt"

	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

func countOf(n int) phrase.Arg { return phrase.With("n", phrase.Count(n)) }

// Other is another offer for the same job, and its plan.
type Other struct {
	Plan  *plan.Plan
	Offer *price.Offer
	Name  string // what it is called, as its file
}

// Beside sets two offers beside each other: each line that differs, by what it
// costs the customer.
func Beside(a, b Other, w *words.Words) []byte {
	s := &scribe{a.Plan, a.Offer, w}
	var out bytes.Buffer
	head(&out, s.say("offer.title-beside"))
	fmt.Fprintln(&out, "A: "+a.Name)
	fmt.Fprintln(&out, "B: "+b.Name)
	for _, v := range []Other{a, b} {
		if !v.Offer.Complete() {
			fmt.Fprintln(&out, v.Name+": "+s.say("offer.incomplete", countOf(len(v.Offer.Missing))))
		}
	}
	fmt.Fprintln(&out)
	table := [][]string{{s.say("offer.col-item"), s.say("offer.col-length"), "A", "B", s.say("offer.col-price-a"), s.say("offer.col-price-b"), s.say("offer.col-by")}}
	same := 0
	for _, d := range price.Compare(a.Offer, b.Offer) {
		if d.PriceA == d.PriceB && d.CountA == d.CountB {
			same++
			continue
		}
		length := ""
		if d.Length > 0 {
			length = w.Length(d.Length)
		}
		ca, cb := count(d.CountA), count(d.CountB)
		switch d.Kind {
		case price.Work:
			ca, cb = s.hours(d.CountA), s.hours(d.CountB)
		case price.Rounded:
			ca, cb = "", ""
		}
		sb := &scribe{b.Plan, b.Offer, w}
		called := s.called(d.Kind, d.Item, d.Name, d.Treated)
		if d.CountA == 0 {
			called = sb.called(d.Kind, d.Item, d.Name, d.Treated)
		}
		table = append(table, []string{called, length, ca, cb, s.amount(d.PriceA), s.amount(d.PriceB), s.signed(d)})
	}
	table = append(table, []string{s.say("offer.net"), "", "", "", s.amount(a.Offer.Net), s.amount(b.Offer.Net), s.plus(int64(b.Offer.Net - a.Offer.Net))})
	table = append(table, []string{s.say("offer.taxes"), "", "", "", s.amount(a.Offer.Tax), s.amount(b.Offer.Tax), s.plus(int64(b.Offer.Tax - a.Offer.Tax))})
	table = append(table, []string{s.say("offer.total"), "", "", "", s.amount(a.Offer.Total), s.amount(b.Offer.Total), s.plus(int64(b.Offer.Total - a.Offer.Total))})
	columns(&out, table, 1)
	fmt.Fprintf(&out, "\n%s\n", s.say("offer.alike", countOf(same)))
	return out.Bytes()
}

func (s *scribe) signed(d price.Difference) string { return s.plus(int64(d.By())) }

// plus writes a difference with its sign.
func (s *scribe) plus(v int64) string {
	n, _ := s.o.Currency.Decimals()
	if v > 0 {
		return "+" + s.w.Decimal(v, n)
	}
	return s.w.Decimal(v, n)
}
