package book_test

import (
	"strings"
	"testing"

	"stallwright/engine/price"
	"stallwright/examples"
	"stallwright/paper/book"
	"stallwright/paper/draw"
)

// The customer's pages hold every amount of the offer's totals, whatever the book's
// people call things, and the packet itself holds no offer.
func TestOfferOnPaper(t *testing.T) {
	p := planOf(t, "three-meadows")
	for i, name := range append([]string{"Sales tax"}, hostile...) {
		lang := []string{"en", "es"}[i%2]
		b, err := price.Read("prices.yaml", []byte(examples.Prices))
		if err != nil {
			t.Fatal(err)
		}
		b.Taxes[0].Tax, b.Labour.Rates[0].Trade, b.Terms = name, name, []string{name, name}
		o, err := p.Offer(t.Context(), b, nil) // boards have no price here: what is missing is on it too
		if err != nil || o.Complete() {
			t.Fatalf("%v, missing %v", err, o.Missing)
		}
		made := made(t, p, lang, book.Options{Paper: draw.A4, Only: []book.Part{book.Offer}, Offer: o})
		clean(t, made)
		text := ""
		for _, pg := range made.Pages {
			if pg.Part != book.Offer {
				t.Fatalf("a page of %s among the offer's", pg.Part)
			}
			for _, m := range pg.Marks {
				if x, ok := m.(draw.Text); ok {
					text += x.Text + "\n"
				}
			}
		}
		for _, a := range []string{o.Currency.Text(o.Total), o.Currency.Text(o.Net), o.Currency.Text(o.Tax), o.Currency.Text(o.Shares[0].Price)} {
			if !strings.Contains(text, a) {
				t.Errorf("%s: %s is not on the offer", lang, a)
			}
		}
		if strings.Contains(text, o.Currency.Text(o.Cost)) {
			t.Error("the cost is on the customer's paper")
		}
	}
	for _, pg := range made(t, p, "en", book.Options{Only: []book.Part{book.Order, book.Offer}}).Pages {
		if pg.Part == book.Offer {
			t.Error("pages of an offer without one")
		}
	}
}
