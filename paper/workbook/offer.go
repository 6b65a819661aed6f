package workbook

import (
	"math"

	"stallwright/engine/money"
	"stallwright/engine/phrase"
	"stallwright/engine/price"
)

// offer is what the customer pays, line by line and by structure, before tax. No
// cost is on it.
func (b *book) offer(o *price.Offer) *sheet {
	s := &sheet{name: b.say("offer.title"), columns: []column{
		{b.say("offer.col-item"), label, 44, false},
		{b.say("offer.col-length"), text, 24, false},
		{b.say("offer.col-count"), count, 14, false},
		{b.say("offer.col-hours"), amount, 14, false},
		{b.say("offer.col-price") + ", " + string(o.Currency), amount, 18, true},
	}}
	for _, name := range o.Structures {
		s.columns = append(s.columns, column{b.w.Text("offer.price-of", phrase.With("name", phrase.Name(name))), amount, 18, true})
	}
	for i := range o.Lines {
		l := &o.Lines[i]
		row := []any{b.line(l), b.tape(l.Length), nil, nil, major(o.Currency, l.Price)}
		if l.Kind == price.Lumber || l.Kind == price.Parts || l.Kind == price.Freight {
			row[2] = int(l.Count)
		}
		if l.Minutes > 0 {
			row[3] = float64(l.Minutes) / 60
		}
		for _, v := range l.Shares {
			row = append(row, major(o.Currency, v.Price))
		}
		s.rows = append(s.rows, row)
	}
	return s
}

// line is what a line of the offer is called.
func (b *book) line(l *price.Line) string {
	switch l.Kind {
	case price.Work:
		return b.w.Text("offer.work-of", phrase.With("trade", phrase.Name(l.Name)))
	case price.Freight:
		return b.say("offer.delivery")
	case price.Rounded:
		return b.say("offer.rounding")
	}
	called := b.item(l.Item, l.Name)
	if l.Treated {
		called = b.w.Text("packet.treated", phrase.With("name", phrase.Name(called)))
	}
	return called
}

// major is an amount as a spreadsheet holds it. Spreadsheets know floating point
// only; the sheet is to look at, the offer itself counts whole minor units.
func major(c money.Currency, a money.Amount) float64 {
	n, _ := c.Decimals()
	return float64(a) / math.Pow10(n)
}
