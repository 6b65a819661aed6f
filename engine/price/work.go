package price

import (
	"math/big"
	"slices"

	"stallwright/engine/money"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// tradeWork is the work of one trade.
type tradeWork struct {
	minutes int64
	by      []int64 // structure
	ops     int
}

// work prices the crew's time.
func (m *maker) work() {
	l := m.b.Labour
	if l == nil {
		m.o.Without = append(m.o.Without, WithoutWork)
		return
	}
	trades := make([]tradeWork, len(l.Rates))
	for i := range trades {
		trades[i].by = make([]int64, len(m.Layout.Structures))
	}
	done := int64(0) // minutes of what is done already
	unpaid := map[string]int64{}
	var kinds []string
	for i := range m.Build.Operations {
		op := &m.Build.Operations[i]
		minutes := int64(op.Minutes) * int64(max(op.People, 1))
		rate := m.rate(string(op.Kind))
		if rate < 0 {
			if !slices.Contains(kinds, string(op.Kind)) {
				kinds = append(kinds, string(op.Kind))
			}
			unpaid[string(op.Kind)] += minutes
			continue
		}
		t := &trades[rate]
		t.minutes += minutes
		t.ops++
		if s := op.Place.Structure; s >= 0 && s < len(t.by) {
			t.by[s] += minutes
		}
		if op.Done {
			done += minutes
		}
	}
	for _, k := range kinds {
		m.miss(Missing{Kind: Work, Item: k, Name: k, Count: unpaid[k], Need: NeedRate})
	}
	for i := range trades {
		v, t := &l.Rates[i], &trades[i]
		why := reason.Of(phrase.Of("offer.work-of", named("trade", v.Trade)), phrase.Time(t.minutes), phrase.Of("offer.rule-work", number("count", int64(t.ops))), phrase.Of("offer.source-order"))
		minutes := t.minutes
		if l.Paid == PaidDays {
			minutes, why = m.days(done)
		}
		if minutes == 0 {
			continue
		}
		hours := big.NewRat(minutes, 60)
		m.add(Line{Kind: Work, Item: v.Trade, Name: v.Trade, Minutes: minutes}, sum{
			cost: m.times(hours, v.Cost), price: m.times(hours, v.Price), how: phrase.Of("offer.rule-hours", number("minutes", minutes), named("each", v.Cost.String())),
			where: m.source(v.Pos()), from: why, weights: m.byWork(t.by),
		})
	}
}

// byWork is a trade's minutes by structure, or masses where no minute belongs to one.
func (m *maker) byWork(by []int64) []int64 {
	for _, n := range by {
		if n > 0 {
			return by
		}
	}
	return m.marks
}

// rate finds the rate of a kind of work; -1 for none.
func (m *maker) rate(work string) int {
	rest := -1
	for i := range m.b.Labour.Rates {
		switch v := &m.b.Labour.Rates[i]; {
		case slices.Contains(v.Work, work):
			return i
		case len(v.Work) == 0:
			rest = i
		}
	}
	return rest
}

// days is the paid minutes of a crew's whole days, and those of work that was done
// before.
func (m *maker) days(done int64) (int64, *reason.Reason) {
	d := m.Days
	if d == nil {
		return done, nil
	}
	each := int64(max(d.Hours.To-d.Hours.From-d.Hours.Break, 0))
	all := int64(d.People) * int64(len(d.Sheets)) * each
	from := reason.Given(phrase.Of("offer.why-day"), phrase.Time(each), phrase.Of("kind.name", named("name", d.Hours.Source)))
	rule := phrase.Of("offer.rule-days")
	if done > 0 {
		rule = phrase.Of("offer.rule-days-done", number("minutes", done))
	}
	return all + done, reason.Of(phrase.Of("offer.why-days"), phrase.Of("offer.value-days", number("people", int64(d.People)), number("days", int64(len(d.Sheets)))), rule, phrase.Of("offer.source-schedule"), from)
}

// delivery prices bringing it.
func (m *maker) delivery() {
	d := m.b.Delivery
	if d == nil {
		m.o.Without = append(m.o.Without, WithoutDelivery)
		return
	}
	trips := int64(1)
	why := reason.Given(phrase.Of("offer.why-load"), phrase.Mass(m.Takeoff.Mass), phrase.Of("offer.source-takeoff"))
	how := phrase.Of("offer.rule-trip")
	if d.Load > 0 {
		trips = max((int64(m.Takeoff.Mass)+int64(d.Load)-1)/int64(d.Load), 1)
		how = phrase.Of("offer.rule-trips", number("count", trips), m.massOf("load", d.Load))
	}
	n := big.NewRat(trips, 1)
	m.add(Line{Kind: Freight, Item: string(Freight), Name: string(Freight), Count: trips}, sum{
		cost: m.times(n, d.Cost), price: m.times(n, d.Price), how: phrase.Of("offer.rule-each", within("how", how), named("each", d.Cost.String())), where: m.source(d.Pos()), from: why, weights: m.marks,
	})
}

// total adds up, rounds the sum before tax, and taxes it.
func (m *maker) total() {
	o := m.o
	o.Shares = make([]Share, len(o.Structures))
	byKind := map[Kind]money.Amount{}
	var from []*reason.Reason
	for i := range o.Lines {
		l := &o.Lines[i]
		o.Cost += l.Cost
		o.Net += l.Price
		byKind[l.Kind] += l.Price
		for s := range l.Shares {
			o.Shares[s].Cost += l.Shares[s].Cost
			o.Shares[s].Price += l.Shares[s].Price
		}
		from = append(from, l.Why)
	}
	if o.Net > mostAmount || o.Cost > mostAmount {
		m.err = ErrTooMuch
	}
	o.WhyNet = reason.Of(phrase.Of("offer.why-net"), m.show(o.Net), phrase.Of("offer.rule-lines"), phrase.Phrase{}, from...)
	m.roundTotal(byKind)
	for i := range m.b.Taxes {
		m.tax(&m.b.Taxes[i], byKind)
	}
	if len(m.b.Taxes) == 0 {
		o.Without = append(o.Without, WithoutTax)
	}
	o.Total = o.Net + o.Tax
	from = []*reason.Reason{o.WhyNet}
	for i := range o.Taxes {
		from = append(from, o.Taxes[i].Why)
	}
	o.WhyTotal = reason.Of(phrase.Of("offer.why-total"), m.show(o.Total), phrase.Of("offer.rule-total"), phrase.Phrase{}, from...)
}

// kinds are the kinds of lines in order.
var kinds = []Kind{Lumber, Parts, Work, Freight}

// roundTotal rounds the sum before tax, as a line of its own, and shares it among
// kinds and structures so that both still add up.
func (m *maker) roundTotal(byKind map[Kind]money.Amount) {
	o, r := m.o, &m.b.Rounding
	step, ok := r.Step.In(m.b.Currency)
	if r.Total == "" || !ok || step <= 0 || len(o.Lines) == 0 {
		return
	}
	rounded, _ := money.Round(new(big.Rat).SetInt64(int64(o.Net)), step, r.Total)
	by := rounded - o.Net
	if by == 0 {
		return
	}
	w := make([]int64, len(kinds))
	for i, k := range kinds {
		w[i] = int64(byKind[k])
	}
	for i, v := range money.Allocate(by, w) {
		byKind[kinds[i]] += v
	}
	prices := make([]int64, len(o.Shares))
	for i := range o.Shares {
		prices[i] = int64(o.Shares[i].Price)
	}
	line := Line{Kind: Rounded, Item: string(Rounded), Name: string(Rounded), Price: by}
	for i, v := range money.Allocate(by, prices) {
		o.Shares[i].Price += v
		line.Shares = append(line.Shares, Share{Price: v})
	}
	line.Why = reason.Of(phrase.Of("offer.rounding"), m.show(by), phrase.Of("offer.rule-step", named("step", r.Step.String()), sideOf(r.Total)), m.source(r.Pos()), o.WhyNet)
	o.Lines = append(o.Lines, line)
	o.Net = rounded
	o.WhyNet = reason.Of(phrase.Of("offer.why-net"), m.show(rounded), phrase.Of("offer.rule-step", named("step", r.Step.String()), sideOf(r.Total)), m.source(r.Pos()), o.WhyNet)
}

// tax works out one tax.
func (m *maker) tax(t *Tax, byKind map[Kind]money.Amount) {
	on := t.On
	if len(on) == 0 {
		on = kinds
	}
	v := TaxLine{Name: t.Tax, Rate: t.Rate}
	for _, k := range kinds {
		if slices.Contains(on, k) {
			v.Base += byKind[k]
		}
	}
	side := m.b.Rounding.Tax
	if side == "" {
		side = money.Nearest
	}
	v.Amount = m.round(new(big.Rat).Mul(t.Rate.Rat(), new(big.Rat).SetInt64(int64(v.Base))), side)
	v.Why = reason.Of(phrase.Of("kind.name", named("name", t.Tax)), m.show(v.Amount), phrase.Of("offer.rule-tax", named("rate", t.Rate.String()), named("base", m.amount(v.Base)), sideOf(side)), m.source(t.Pos()))
	m.o.Tax += v.Amount
	m.o.Taxes = append(m.o.Taxes, v)
}
