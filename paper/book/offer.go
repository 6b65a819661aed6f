package book

import (
	"stallwright/paper/draw"
	"stallwright/paper/offer"
	"stallwright/paper/page"
)

// offer is what the customer pays, structure by structure. No cost is on it.
func (b *binder) offer() error {
	v := offer.Customer(b.Plan, b.o.Offer, b.words)
	f := page.New(b.format)
	f.Text(v.For, page.Style{Size: page.Large, Face: draw.Bold})
	for i, n := range v.Notes {
		face := draw.Regular
		if !b.o.Offer.Complete() && i > 0 {
			face = draw.Bold
		}
		f.Text(n, page.Style{Size: page.Body, Face: face})
	}
	var marks []mark
	for _, part := range v.Parts {
		f.Keep(func() {
			f.Heading(part.Title, page.Title2, 25*draw.MM)
			f.Table(b.amounts(append(append([]offer.Row(nil), part.Rows...), part.Sum)))
		})
		marks = append(marks, mark{part.Title, f.Page()})
	}
	f.Keep(func() {
		f.Heading(b.say("offer.in-all"), page.Title2, 25*draw.MM)
		f.Table(b.amounts(v.Totals))
	})
	for _, n := range v.Under {
		f.Item("•", n, page.Style{Size: page.Body})
	}
	f.Space(6 * draw.MM)
	f.Signature(b.say("offer.accepted"), b.say("book.sign-date"))
	b.add(Offer, f, nil, marks...)
	return nil
}

// amounts is a table of texts and amounts.
func (b *binder) amounts(rows []offer.Row) page.Table {
	t := page.Table{Size: page.Body, Columns: []page.Column{{Head: b.say("offer.col-item"), Wide: true}, {Head: b.say("offer.col-price"), Align: draw.End}}}
	for _, r := range rows {
		row := page.Cells(r.Text, r.Amount)
		t.Rows = append(t.Rows, row)
	}
	return t
}
