// Package offer puts an offer on paper: what a customer reads, without a purchase
// cost on it; what the office reads, line by line with cost, price and margin; two
// offers beside each other; and both as data for other programs.
//
// In go an offer, its plan and the words of a language. Nothing is worked out here:
// every amount is one of the offer's.
package offer

import (
	"strconv"
	"strings"

	"stallwright/engine/money"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

// scribe says the parts of one offer.
type scribe struct {
	p *plan.Plan
	o *price.Offer
	w *words.Words
}

func (s *scribe) say(key string, args ...phrase.Arg) string { return s.w.Text(key, args...) }

func name(key, v string) phrase.Arg { return phrase.With(key, phrase.Name(v)) }

// amount writes an amount with the language's decimal sign and no currency.
func (s *scribe) amount(a money.Amount) string {
	n, _ := s.o.Currency.Decimals()
	return s.w.Decimal(int64(a), n)
}

// money writes an amount with its currency.
func (s *scribe) money(a money.Amount) string {
	return s.amount(a) + " " + string(s.o.Currency)
}

// percent is part of whole in percent with one decimal, rounded to the nearest;
// empty for a whole of nothing.
func (s *scribe) percent(part, whole money.Amount) string {
	if whole == 0 {
		return ""
	}
	return s.w.Decimal(perMille(part, whole), 1) + " %"
}

// perMille is part of whole in thousandths, rounded half away from zero.
func perMille(part, whole money.Amount) int64 {
	n, d := int64(part)*1000, int64(whole)
	if d < 0 {
		n, d = -n, -d
	}
	if n < 0 {
		return -((-n + d/2) / d)
	}
	return (n + d/2) / d
}

// rate is a percentage as the book writes it, with the language's decimal sign.
func (s *scribe) rate(p money.Percent) string {
	return strings.ReplaceAll(p.String(), ".", s.w.Decimal(1, 1)[1:2])
}

// item is what a line is called, with its length.
func (s *scribe) item(l *price.Line) string { return s.called(l.Kind, l.Item, l.Name, l.Treated) }

func (s *scribe) called(kind price.Kind, item, called string, treated bool) string {
	switch kind {
	case price.Work:
		return s.say("offer.work-of", name("trade", called))
	case price.Freight:
		return s.say("offer.delivery")
	case price.Rounded:
		return s.say("offer.rounding")
	}
	text := s.w.Say(words.Item(s.p.Kit.Kit, item, called))
	if treated {
		return s.say("packet.treated", name("name", text))
	}
	return text
}

// groups are what a customer's lines are gathered by, in order.
var groups = []string{"lumber", "post", "tube", "channel", "bracket", "grille", "door", "window", "feeder", "clamp", "part", "base", "fastener"}

// heads are what the groups are called.
var heads = map[string]string{
	"lumber": "book.class-lumber", "post": "book.class-post", "tube": "book.class-tube", "channel": "book.class-channel",
	"bracket": "book.class-bracket", "grille": "book.class-grille", "door": "book.class-door", "window": "book.class-window",
	"feeder": "book.class-feeder", "clamp": "book.class-clamp", "part": "book.class-part", "base": "book.class-base", "fastener": "book.class-fastener",
}

// structure heads a structure's lines.
func (s *scribe) structure(i int) string {
	v := &s.p.Layout.Structures[i]
	return v.Name + ": " + s.w.Say(words.Structure(v.Kind))
}

func count(n int64) string { return strconv.FormatInt(n, 10) }

// hours writes minutes as hours with two decimals.
func (s *scribe) hours(minutes int64) string { return s.w.Decimal((minutes*100+30)/60, 2) + " h" }

// quantity is how much of a line there is.
func (s *scribe) quantity(l *price.Line) string {
	switch {
	case l.Kind == price.Work:
		return s.hours(l.Minutes)
	case l.Kind == price.Rounded:
		return ""
	}
	return count(l.Count)
}

// missing says what has no price.
func (s *scribe) missing() []string {
	var out []string
	for i := range s.o.Missing {
		v := &s.o.Missing[i]
		what := s.called(v.Kind, v.Item, v.Name, v.Treated)
		if v.Length > 0 {
			what += " " + s.w.Length(v.Length)
		}
		how := count(v.Count)
		if v.Kind == price.Work {
			how = s.hours(v.Count)
		}
		out = append(out, s.say("offer.missing", name("what", what), name("count", how), phrase.With("why", phrase.Of(needs[v.Need]))))
	}
	return out
}

var needs = map[price.Need]string{
	price.NeedItem: "offer.need-item", price.NeedLength: "offer.need-length", price.NeedPer: "offer.need-per",
	price.NeedYard: "offer.need-yard", price.NeedRate: "offer.need-rate",
}

// old says which prices do not hold any more on the job's date: for the office.
func (s *scribe) old() []string {
	var out []string
	if s.o.OldBook {
		out = append(out, s.say("offer.old-book", name("book", s.o.Book.Prices), name("date", s.o.Book.Until)))
	}
	if y := s.p.Job.Lumber.Supply; s.o.OldYard && y != nil {
		out = append(out, s.say("offer.old-yard", name("yard", y.Yard), name("date", y.Until)))
	}
	return out
}

// without says what the offer leaves out.
func (s *scribe) without() []string {
	var out []string
	for _, v := range s.o.Without {
		out = append(out, s.say(leaves[v]))
	}
	return out
}

var leaves = map[price.Without]string{
	price.WithoutWork: "offer.without-work", price.WithoutDelivery: "offer.without-delivery", price.WithoutTax: "offer.without-tax",
}
