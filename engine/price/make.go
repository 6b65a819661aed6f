package price

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/money"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

var (
	one = big.NewRat(1, 1)
	ten = big.NewRat(10, 1)
)

// ErrTooMuch says that an amount is beyond what can be counted.
var ErrTooMuch = errors.New("the offer comes to more money than can be counted: check the prices")

// Make makes the offer. The error is document.Problems where the book does not go
// with the job, or ErrTooMuch.
func Make(in Input, b *Book) (*Offer, error) {
	if err := b.Against(in.Kit); err != nil {
		return nil, err
	}
	if s := in.Job.Lumber.Supply; s != nil && s.Currency != string(b.Currency) {
		r := document.NewReporter(b.file, b.src)
		r.Add(b.Of("currency"), "currency", string(b.Currency), fmt.Sprintf("%s asks for %s, this book for %s", s.Yard, s.Currency, b.Currency), "a yard's list and a price book in one currency")
		return nil, r.Err()
	}
	m := &maker{Input: in, b: b, o: &Offer{Book: b, Currency: b.Currency}}
	for i := range in.Layout.Structures {
		m.o.Structures = append(m.o.Structures, in.Layout.Structures[i].Name)
	}
	m.o.OldBook = after(in.Job.Date, b.Until)
	if s := in.Job.Lumber.Supply; s != nil {
		m.o.OldYard = after(in.Job.Date, s.Until)
	}
	m.places()
	m.lumber()
	m.parts()
	m.work()
	m.delivery()
	m.total()
	if m.err != nil {
		return nil, m.err
	}
	return m.o, nil
}

// after says that a day is later than another; false where one of them is not stated.
func after(day, last string) bool { return day != "" && last != "" && day > last }

// maker works one offer through.
type maker struct {
	Input
	b     *Book
	o     *Offer
	at    map[string]int // structure of each bay, run and post by name
	marks []int64        // mass by structure, for what is shared by it
	err   error
}

// places finds which structure each place belongs to, and how heavy each is.
func (m *maker) places() {
	l := m.Layout
	m.at = map[string]int{}
	for i := range l.Posts {
		m.at[l.Posts[i].Name] = l.Posts[i].Structure
	}
	for i := range l.Runs {
		m.at[l.Runs[i].Name] = l.Runs[i].Structure
		for _, b := range l.Runs[i].Bays {
			m.at[l.Bays[b].Name] = l.Runs[i].Structure
		}
	}
	m.marks = make([]int64, len(l.Structures))
	for i := range m.Takeoff.Needs {
		n := &m.Takeoff.Needs[i]
		if s, ok := m.at[n.Place]; ok {
			m.marks[s] += int64(n.Mass) / 1000 // grams and less do not matter to a share
		}
	}
}

// sum is what a line is worked out from.
type sum struct {
	cost    *big.Rat      // in minor units, before waste
	price   *big.Rat      // where the book states one; nil where it follows from the cost
	how     phrase.Phrase // how the cost comes about
	where   phrase.Phrase // and where its price stands
	from    *reason.Reason
	weights []int64 // by structure
}

// add prices a line and adds it to the offer.
func (m *maker) add(l Line, s sum) {
	waste, overhead, margin := m.b.group(l.Kind)
	what := within("what", m.what(&l))
	cost, how := s.cost, s.how
	if (l.Kind == Lumber || l.Kind == Parts) && waste.Rat().Sign() > 0 {
		cost = new(big.Rat).Mul(cost, new(big.Rat).Add(one, waste.Rat()))
		how = phrase.Of("offer.rule-waste", within("how", how), named("waste", waste.String()))
	}
	l.Cost = m.round(cost, money.Nearest)
	l.WhyCost = reason.Of(phrase.Of("offer.why-cost", what), m.show(l.Cost), how, s.where, s.from)
	if s.price != nil {
		l.Price = m.round(s.price, m.b.Rounding.Lines)
		l.Why = reason.Of(phrase.Of("offer.why-price", what), m.show(l.Price), phrase.Of("offer.rule-stated", sideOf(m.b.Rounding.Lines)), s.where, l.WhyCost)
	} else {
		p := new(big.Rat).Mul(cost, new(big.Rat).Add(one, overhead.Rat()))
		p.Quo(p, new(big.Rat).Sub(one, margin.Rat()))
		l.Price = m.round(p, m.b.Rounding.Lines)
		l.Why = reason.Of(phrase.Of("offer.why-price", what), m.show(l.Price), phrase.Of("offer.rule-price", named("overhead", overhead.String()), named("margin", margin.String()), sideOf(m.b.Rounding.Lines)),
			phrase.Of("offer.source-group", named("book", m.b.Prices), within("kind", phrase.Of(kindNames[l.Kind]))), l.WhyCost)
	}
	costs, prices := money.Allocate(l.Cost, s.weights), money.Allocate(l.Price, s.weights)
	for i := range costs {
		l.Shares = append(l.Shares, Share{costs[i], prices[i]})
	}
	m.o.Lines = append(m.o.Lines, l)
}

// round rounds to the minor unit.
func (m *maker) round(v *big.Rat, side money.Side) money.Amount {
	a, ok := money.Round(v, 1, side)
	if !ok || a > mostAmount || a < -mostAmount {
		m.err = ErrTooMuch
	}
	return a
}

// mostAmount keeps sums of lines inside 64 bits.
const mostAmount money.Amount = 1 << 53

// minor is a figure in minor units; nil where none was written.
func (m *maker) minor(f money.Figure) *big.Rat {
	if !f.Stated() {
		return nil
	}
	a, _ := f.In(m.b.Currency) // checked when it was read
	return new(big.Rat).SetInt64(int64(a))
}

// times is n of a figure; nil for none written.
func (m *maker) times(n *big.Rat, f money.Figure) *big.Rat {
	v := m.minor(f)
	if v == nil {
		return nil
	}
	return v.Mul(v, n)
}

// miss notes what has no price.
func (m *maker) miss(v Missing) { m.o.Missing = append(m.o.Missing, v) }

// shared is how a line's pieces are shared among structures.
func (m *maker) shared(places map[string]int64) []int64 {
	w := make([]int64, len(m.Layout.Structures))
	some := false
	for name, n := range places {
		if s, ok := m.at[name]; ok {
			w[s] += n
			some = some || n > 0
		}
	}
	if !some {
		return m.marks
	}
	return w
}

// Why answers for an offer's total (offer), its tax (offer/tax), its sum before tax
// (offer/net) and each line by item, trade or kind (offer/tube-top, offer/lumber,
// offer/work, offer/delivery). ok is false where it holds nothing of that name.
func (o *Offer) Why(target string) (list []Topic, ok bool) {
	name, inside := strings.CutPrefix(target, "offer/")
	switch {
	case target == "offer" || name == "total" && inside:
		return []Topic{{phrase.Of("offer.why-total"), o.WhyTotal}}, true
	case !inside:
		return nil, false
	case name == "net":
		return []Topic{{phrase.Of("offer.why-net"), o.WhyNet}}, true
	case name == "tax":
		for i := range o.Taxes {
			list = append(list, Topic{o.Taxes[i].Why.What, o.Taxes[i].Why})
		}
		return list, len(list) > 0
	}
	for i := range o.Lines {
		l := &o.Lines[i]
		if l.Item == name || string(l.Kind) == name || l.Name == name {
			list = append(list, Topic{l.Why.What, l.Why})
		}
	}
	return list, len(list) > 0
}

// Names are what Why answers for.
func (o *Offer) Names() []string {
	out := []string{"offer", "offer/net"}
	if len(o.Taxes) > 0 {
		out = append(out, "offer/tax")
	}
	seen := map[string]bool{}
	for i := range o.Lines {
		if id := o.Lines[i].Item; id != "" && !seen[id] {
			seen[id] = true
			out = append(out, "offer/"+id)
		}
	}
	return out
}

// Topic is one answer to a question why.
type Topic struct {
	Title phrase.Phrase
	Why   *reason.Reason
}
