package offer

import (
	"stallwright/engine/fit"
	"stallwright/engine/money"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

// Paper is what a customer is shown: what each structure costs, by groups of
// things, and the total. No purchase cost is on it.
type Paper struct {
	Title  string
	For    string // whose farm, which job
	Notes  []string
	Parts  []Part
	Totals []Row
	Under  []string // what is not in it, how long it holds, terms
}

// Part is one structure.
type Part struct {
	Title string
	Rows  []Row
	Sum   Row
}

// Row is a text and an amount.
type Row struct {
	Text   string
	Amount string
	Strong bool
}

// Customer makes the customer's paper.
func Customer(p *plan.Plan, o *price.Offer, w *words.Words) *Paper {
	s := &scribe{p, o, w}
	out := &Paper{Title: s.say("offer.title"), For: s.say("offer.for", name("job", p.Job.Job), name("farm", p.Job.Farm.Name))}
	if p.Job.Date != "" {
		out.Notes = append(out.Notes, s.say("offer.dated", name("date", p.Job.Date)))
	}
	if !o.Complete() {
		out.Notes = append(out.Notes, s.say("offer.incomplete", phrase.With("n", phrase.Count(len(o.Missing)))))
		out.Notes = append(out.Notes, s.missing()...)
	}
	for i := range o.Structures {
		if part, ok := s.part(i); ok {
			out.Parts = append(out.Parts, part)
		}
	}
	out.Totals = append(out.Totals, Row{Text: s.say("offer.net"), Amount: s.money(o.Net)})
	for i := range o.Taxes {
		t := &o.Taxes[i]
		out.Totals = append(out.Totals, Row{Text: s.say("offer.tax", name("tax", t.Name), name("rate", s.rate(t.Rate)), name("base", s.money(t.Base))), Amount: s.money(t.Amount)})
	}
	out.Totals = append(out.Totals, Row{Text: s.say("offer.total"), Amount: s.money(o.Total), Strong: true})
	out.Under = s.under()
	return out
}

// part is what one structure costs; false for nothing.
func (s *scribe) part(i int) (Part, bool) {
	part := Part{Title: s.structure(i)}
	sums := map[string]money.Amount{}
	for k := range s.o.Lines {
		l := &s.o.Lines[k]
		if i >= len(l.Shares) {
			continue
		}
		key := string(l.Class)
		if key == "" {
			key = string(l.Kind)
		}
		sums[key] += l.Shares[i].Price
	}
	add := func(key, text string) {
		if v, ok := sums[key]; ok && v != 0 {
			part.Rows = append(part.Rows, Row{Text: text, Amount: s.money(v)})
		}
	}
	for _, g := range groups {
		add(g, s.say(heads[g]))
	}
	add(string(price.Work), s.say("offer.work"))
	add(string(price.Freight), s.say("offer.delivery"))
	add(string(price.Rounded), s.say("offer.rounding"))
	part.Sum = Row{Text: s.say("offer.sum-of", name("name", s.o.Structures[i])), Amount: s.money(s.o.Shares[i].Price), Strong: true}
	return part, len(part.Rows) > 0
}

// under is what stands below the total.
func (s *scribe) under() []string {
	out := s.without()
	if s.o.Book.Until != "" {
		out = append(out, s.say("offer.until", name("date", s.o.Book.Until)))
	}
	if s.o.Lead > 0 {
		out = append(out, s.say("offer.lead", phrase.With("n", phrase.Count(s.o.Lead))))
	}
	for i := range s.p.Fit.Bays {
		if v := &s.p.Layout.Bays[i]; s.p.Fit.Bays[i].State == fit.Drawn && !v.IsDoor() && !v.IsOpen() {
			out = append(out, s.say("offer.drawn"))
			break
		}
	}
	return append(out, s.o.Book.Terms...)
}
