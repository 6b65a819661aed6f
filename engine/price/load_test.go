package price_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/money"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

// planned plans an example with boards of the starter yard, or of a metric one.
func planned(t testing.TB, file string, change ...string) *plan.Plan {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + file)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(change...).Replace(string(src))
	j, err := job.Read(file, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	list := string(yard.Starter())
	if j.Units == measure.Metric {
		list = metricYard
	}
	y, err := yard.Read("yard.yaml", []byte(list))
	if err != nil {
		t.Fatal(err)
	}
	if j, err = yard.Supply(j, y); err != nil {
		t.Fatal(err)
	}
	name, ksrc, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(name, ksrc)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const metricYard = `yard: Fjellbruk
currency: NOK
dated: 2026-05-04
boards:
  - {species: other, thickness: 40 mm, lengths: [{length: 2400 mm, price: 94.80}, {length: 3000 mm, price: 118.50}, {length: 3600 mm, price: 142.20}, {length: 4200 mm, price: 165.90}]}
  - {species: other, thickness: 40 mm, treatment: NTR-AB, lead_days: 7, lengths: [{length: 3600 mm, price: 189.00}, {length: 4200 mm, price: 221.00}]}
`

// book reads the starter book with changes, pairs of old and new text.
func book(t testing.TB, change ...string) *price.Book {
	t.Helper()
	src := string(price.Starter())
	for i := 0; i < len(change); i += 2 {
		if !strings.Contains(src, change[i]) {
			t.Fatalf("the starter book does not hold %q", change[i])
		}
	}
	b, err := price.Read("prices.yaml", []byte(strings.NewReplacer(change...).Replace(src)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func offerOf(t testing.TB, p *plan.Plan, b *price.Book) *price.Offer {
	t.Helper()
	o, err := p.Offer(context.Background(), b, nil)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// adds says what of an offer's sums does not add up.
func adds(t interface{ Errorf(string, ...any) }, o *price.Offer) {
	var cost, net, tax money.Amount
	shares := make([]price.Share, len(o.Structures))
	for i := range o.Lines {
		l := &o.Lines[i]
		cost, net = cost+l.Cost, net+l.Price
		var c, p money.Amount
		for s, v := range l.Shares {
			c, p = c+v.Cost, p+v.Price
			shares[s].Cost += v.Cost
			shares[s].Price += v.Price
		}
		if c != l.Cost || p != l.Price {
			t.Errorf("the shares of %s add up to %d and %d, not to %d and %d", l.Name, c, p, l.Cost, l.Price)
		}
		if l.Why == nil || len(l.Why.Chain()) < 2 {
			t.Errorf("%s has no reason", l.Name)
		}
	}
	for _, v := range o.Taxes {
		tax += v.Amount
	}
	if cost != o.Cost || net != o.Net || tax != o.Tax || o.Total != o.Net+o.Tax {
		t.Errorf("lines come to %d and %d, the offer says %d and %d; taxes to %d of %d; total %d", cost, net, o.Cost, o.Net, tax, o.Tax, o.Total)
	}
	for s := range shares {
		if shares[s] != o.Shares[s] {
			t.Errorf("%s: lines come to %v, the offer says %v", o.Structures[s], shares[s], o.Shares[s])
		}
	}
}
