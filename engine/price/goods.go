package price

import (
	"fmt"
	"math/big"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
	"stallwright/engine/takeoff"
)

// lumber prices the boards: those the cut plan buys, with spares, and those that
// were bought for this job before.
func (m *maker) lumber() {
	for i := range m.Takeoff.Lines {
		l := &m.Takeoff.Lines[i]
		if l.Class == takeoff.ClassLumber && l.Order > 0 {
			m.boards(Line{Kind: Lumber, Item: fit.Lumber, Name: l.Name, Class: l.Class, Length: l.Length, Treated: l.Treated, Count: int64(l.Order)}, l.Why)
		}
	}
	for i := range m.Job.Lumber.Delivered {
		d := &m.Job.Lumber.Delivered[i]
		m.boards(Line{Kind: Lumber, Item: fit.Lumber, Name: m.boardName(), Class: takeoff.ClassLumber, Length: d.Length, Treated: d.Treated, Onhand: true, Count: int64(d.Count)},
			reason.Given(phrase.Of("offer.why-delivered"), phrase.Count(int64(d.Count)), phrase.Of("offer.source-delivered", named("at", d.Pos().String()))))
	}
}

// boardName is what the take-off calls boards.
func (m *maker) boardName() string {
	for i := range m.Takeoff.Needs {
		if n := &m.Takeoff.Needs[i]; n.Class == takeoff.ClassLumber {
			return n.Name
		}
	}
	return fit.Lumber
}

// boards prices boards of one length.
func (m *maker) boards(l Line, why *reason.Reason) {
	s := m.sold(l.Treated, l.Length)
	if s == nil || s.Price == 0 {
		m.miss(Missing{Kind: Lumber, Item: l.Item, Name: l.Name, Length: l.Length, Treated: l.Treated, Count: l.Count, Need: NeedYard})
		return
	}
	each := m.hundredths(int64(s.Price))
	where := phrase.Of("offer.source-lumber", named("at", s.Pos().String()))
	if y := m.Job.Lumber.Supply; y != nil {
		where = phrase.Of("offer.source-yard", named("yard", y.Yard), named("date", y.Dated), named("at", s.Pos().String()))
		lead := y.Lead
		if l.Treated {
			lead = y.LeadTreated
		}
		if !l.Onhand {
			m.o.Lead = max(m.o.Lead, lead)
		}
	}
	text, _ := s.Price.MarshalText() // never fails
	m.add(l, sum{
		cost: each.Mul(each, big.NewRat(l.Count, 1)), how: phrase.Of("offer.rule-times", number("count", l.Count), named("each", string(text))), where: where,
		from: m.cutWhy(&l, why), weights: m.boardsBy(l.Treated),
	})
}

// sold is what the yard asks for a length; nil where it does not sell it.
func (m *maker) sold(treated bool, length measure.Length) *job.Sold {
	list := m.Job.Lumber.Sells(treated)
	for i := range list {
		if list[i].Length == length {
			return &list[i]
		}
	}
	return nil
}

// hundredths is an amount in hundredths as minor units.
func (m *maker) hundredths(v int64) *big.Rat {
	n, _ := m.b.Currency.Decimals()
	r := big.NewRat(v, 100)
	for range n {
		r.Mul(r, ten)
	}
	return r
}

// cutWhy says of boards how far the cut plan that buys them is proven.
func (m *maker) cutWhy(l *Line, why *reason.Reason) *reason.Reason {
	cut, gap := false, 0.0
	for i := range m.Takeoff.Cuts {
		if c := &m.Takeoff.Cuts[i]; c.Item == l.Item && c.Treated == l.Treated {
			cut = true
			if !c.Plan.Proven {
				gap = max(gap, c.Plan.Gap())
			}
		}
	}
	if !cut {
		return why
	}
	said := phrase.Of("offer.rule-proven")
	if gap > 0 {
		said = phrase.Of("offer.rule-gap", named("percent", fmt.Sprintf("%.2f", gap*100)))
	}
	return reason.Of(phrase.Of("offer.why-cut-plan"), phrase.Of("offer.value-boards", number("count", l.Count)), said, phrase.Of("offer.source-least"), why)
}

// boardsBy is how much board of one kind goes into each structure, by length.
func (m *maker) boardsBy(treated bool) []int64 {
	at := map[string]int64{}
	for i := range m.Takeoff.Needs {
		if n := &m.Takeoff.Needs[i]; n.Class == takeoff.ClassLumber && n.Treated == treated {
			at[n.Place] += int64(n.Length) / int64(measure.Millimetre) * int64(n.Count)
		}
	}
	return m.shared(at)
}

// parts prices the items of the kit.
func (m *maker) parts() {
	stocked := map[string]bool{}
	for i := range m.Takeoff.Lines {
		l := &m.Takeoff.Lines[i]
		if l.Class == takeoff.ClassLumber || l.Order == 0 {
			continue
		}
		it := m.b.item(l.Item)
		switch {
		case it == nil:
			m.miss(m.lacks(l, NeedItem))
		case len(it.Lengths) > 0 && m.cutOf(l.Item):
			if !stocked[l.Item] {
				stocked[l.Item] = true
				m.stock(it, l)
			}
		default:
			m.part(it, l)
		}
	}
}

func (m *maker) lacks(l *takeoff.Line, need Need) Missing {
	return Missing{Kind: Parts, Item: l.Item, Name: l.Name, Length: l.Length, Count: int64(l.Order), Need: need}
}

// cutOf says whether an item is cut from bought lengths by a cut plan.
func (m *maker) cutOf(item string) bool {
	for i := range m.Takeoff.Cuts {
		if m.Takeoff.Cuts[i].Item == item {
			return true
		}
	}
	return false
}

// part prices one line of the take-off.
func (m *maker) part(it *Item, l *takeoff.Line) {
	line := Line{Kind: Parts, Item: l.Item, Name: l.Name, Class: l.Class, Length: l.Length, Count: int64(l.Order)}
	at := map[string]int64{}
	for _, p := range l.Places {
		at[p.Name] += int64(p.Count)
	}
	n := big.NewRat(line.Count, 1)
	for k := range it.Lengths {
		if v := &it.Lengths[k]; v.Length == l.Length {
			m.add(line, sum{m.times(n, v.Cost), m.times(n, v.Price), phrase.Of("offer.rule-times", number("count", int64(l.Order)), named("each", v.Cost.String())), m.source(v.Pos()), l.Why, m.shared(at)})
			return
		}
	}
	if !it.Cost.Stated() {
		m.miss(m.lacks(l, NeedLength))
		return
	}
	n, how, ok := it.Per.of(line.Count, l.Length, l.Mass)
	if !ok {
		m.miss(m.lacks(l, NeedPer))
		return
	}
	m.add(line, sum{m.times(n, it.Cost), m.times(n, it.Price), phrase.Of("offer.rule-each", within("how", how), named("each", it.Cost.String())), m.source(it.Pos()), l.Why, m.shared(at)})
}

// stock prices steel by the whole lengths that the cut plans buy. A spare takes a
// whole length, the shortest that holds it.
func (m *maker) stock(it *Item, first *takeoff.Line) {
	count := map[measure.Length]int64{}
	var order []measure.Length
	buy := func(l measure.Length, n int64) {
		if _, ok := count[l]; !ok {
			order = append(order, l)
		}
		count[l] += n
	}
	at := map[string]int64{}
	for i := range m.Takeoff.Cuts {
		c := &m.Takeoff.Cuts[i]
		if c.Item != it.Item {
			continue
		}
		for s := range c.Problem.Stock {
			if n := c.Bought(s); n > 0 {
				buy(c.Problem.Stock[s].Length, n)
			}
		}
		for d := range c.Problem.Demands {
			n := &m.Takeoff.Needs[c.Needs[d]]
			at[n.Place] += int64(n.Length) / int64(measure.Millimetre) * int64(n.Count)
		}
	}
	kit, _ := m.Kit.Item(it.Item)
	for i := range m.Takeoff.Lines {
		l := &m.Takeoff.Lines[i]
		if l.Item != it.Item {
			continue
		}
		holds := shortest(kit.Stock, l.Length)
		switch {
		case holds == 0: // longer than any: a finding says so already
			m.miss(m.lacks(l, NeedLength))
		case l.Spares > 0:
			buy(holds, int64(l.Spares))
		}
	}
	for _, length := range order {
		line := Line{Kind: Parts, Item: it.Item, Name: first.Name, Class: first.Class, Length: length, Count: count[length]}
		n := big.NewRat(line.Count, 1)
		done := false
		for k := range it.Lengths {
			if v := &it.Lengths[k]; v.Length == length {
				m.add(line, sum{m.times(n, v.Cost), m.times(n, v.Price), phrase.Of("offer.rule-times", number("count", line.Count), named("each", v.Cost.String())), m.source(v.Pos()),
					m.cutWhy(&line, first.Why), m.shared(at)})
				done = true
			}
		}
		if !done {
			m.miss(Missing{Kind: Parts, Item: it.Item, Name: first.Name, Length: length, Count: line.Count, Need: NeedLength})
		}
	}
}

// shortest is the shortest stock length that holds a piece; zero for none.
func shortest(stock []measure.Length, piece measure.Length) measure.Length {
	var best measure.Length
	for _, s := range stock {
		if s >= piece && (best == 0 || s < best) {
			best = s
		}
	}
	return best
}
