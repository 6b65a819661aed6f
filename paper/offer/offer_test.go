package offer_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/yard"
	"stallwright/examples"
	"stallwright/paper/offer"
	"stallwright/paper/words"
)

// demo is the demo farm's offer, with changes to its book (pairs of old and new).
func demo(t testing.TB, language string, change ...string) (*plan.Plan, *price.Offer, *words.Words) {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	j, err := job.Read("demo.yaml", []byte(examples.DemoInShop()))
	must(err)
	y, err := yard.Read("yard.yaml", []byte(examples.Yard))
	must(err)
	j, err = yard.Supply(j, y)
	must(err)
	file, src, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(file, src)
	must(err)
	p, err := plan.Make(j, k)
	must(err)
	b, err := price.Read("prices.yaml", []byte(strings.NewReplacer(change...).Replace(examples.Prices)))
	must(err)
	o, err := p.Offer(t.Context(), b, nil)
	must(err)
	w, err := words.For(language, j.Units)
	must(err)
	return p, o, w
}

// The customer's paper holds prices alone, and its amounts add up by what is printed.
func TestTheCustomerSeesNoCost(t *testing.T) {
	for _, language := range []string{"en", "es"} {
		p, o, w := demo(t, language)
		v := offer.Customer(p, o, w)
		text := string(v.Text())
		for i := range o.Lines {
			if l := &o.Lines[i]; l.Cost != l.Price && strings.Contains(text, " "+o.Currency.Text(l.Cost)+" ") {
				t.Errorf("%s: the cost of %s stands on the customer's paper", language, l.Name)
			}
		}
		if strings.Contains(text, o.Currency.Text(o.Cost)) || strings.Contains(text, o.Currency.Text(o.Margin())) || strings.Contains(text, "[en]") {
			t.Errorf("%s: cost, margin or English on the customer's paper:\n%s", language, text)
		}
		all := new(big.Rat)
		for _, part := range v.Parts {
			sum := new(big.Rat)
			for _, r := range part.Rows {
				sum.Add(sum, printed(t, r.Amount))
			}
			if sum.Cmp(printed(t, part.Sum.Amount)) != 0 {
				t.Errorf("%s: rows come to %s, printed is %s", part.Title, sum.FloatString(2), part.Sum.Amount)
			}
			all.Add(all, sum)
		}
		if all.Cmp(printed(t, v.Totals[0].Amount)) != 0 {
			t.Errorf("the structures come to %s, printed is %s", all.FloatString(2), v.Totals[0].Amount)
		}
		last := len(v.Totals) - 1
		sum := new(big.Rat)
		for _, r := range v.Totals[:last] {
			sum.Add(sum, printed(t, r.Amount))
		}
		if sum.Cmp(printed(t, v.Totals[last].Amount)) != 0 {
			t.Errorf("sum and taxes come to %s, the total is %s", sum.FloatString(2), v.Totals[last].Amount)
		}
	}
}

// printed reads an amount back from paper.
func printed(t *testing.T, s string) *big.Rat {
	t.Helper()
	number, currency, _ := strings.Cut(s, " ")
	r, ok := new(big.Rat).SetString(number)
	if !ok || currency != "USD" {
		t.Fatalf("%q is no amount in USD", s)
	}
	return r
}

// The list reads back as RFC 4180 has it, and adds up column by column; without
// costs there is no such column.
func TestTheListAddsUp(t *testing.T) {
	p, o, _ := demo(t, "en")
	for _, costs := range []bool{true, false} {
		data, err := offer.CSV(p, o, costs)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		first := 8
		if strings.Contains(strings.Join(rows[0], ","), "cost") != costs {
			t.Errorf("costs %v: columns %v", costs, rows[0])
		}
		sums := make([]*big.Rat, len(rows[0]))
		for c := range sums {
			sums[c] = new(big.Rat)
		}
		for _, r := range rows[1:] {
			for c := first; c < len(r); c++ {
				v, ok := new(big.Rat).SetString(strings.TrimPrefix(r[c], "'"))
				switch {
				case r[c] == "":
				case !ok:
					t.Fatalf("%q in %v", r[c], r)
				case r[0] == "net" && v.Cmp(sums[c]) != 0:
					t.Errorf("column %s comes to %s, the list says %s", rows[0][c], sums[c].FloatString(2), r[c])
				case r[0] != "net" && r[0] != "tax" && r[0] != "total":
					sums[c].Add(sums[c], v)
				}
			}
		}
	}
}

func TestWhatIsMissingStandsOnEveryPaper(t *testing.T) {
	p, o, w := demo(t, "es", "  - {item: roller, cost: 11.25}\n", "", "delivery: {cost: 165.00, load: 8000 lb}\n", "")
	d := offer.NewDocument(p, o, w)
	data, err := offer.JSON(d)
	if err != nil {
		t.Fatal(err)
	}
	var back offer.Document
	if err := json.Unmarshal(data, &back); err != nil || back.Complete || len(back.Missing) != 1 || len(back.Without) != 1 {
		t.Errorf("%v %+v", err, back)
	}
	list, err := offer.CSV(p, o, true)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"customer": string(offer.Customer(p, o, w).Text()), "office": string(offer.Office(p, o, w)), "list": string(list)} {
		if name == "list" {
			if !strings.Contains(text, "roller") || !strings.Contains(text, "no price") {
				t.Errorf("the list hides what has no price")
			}
			continue
		}
		if !strings.Contains(text, "NO ESTÁ COMPLETA") || !strings.Contains(text, "rodillo") || !strings.Contains(text, "La entrega no está incluida") {
			t.Errorf("%s:\n%.600s", name, text)
		}
	}
}

// The demo job is dated 2026-05-11; a book that ended before says so to the office,
// and not to the customer.
func TestOldPricesAreTold(t *testing.T) {
	p, o, w := demo(t, "en")
	if o.OldBook || o.OldYard || len(offer.NewDocument(p, o, w).Old) != 0 {
		t.Error("prices that hold are said to be old")
	}
	p, o, w = demo(t, "en", "until: 2026-07-31", "until: 2026-05-10")
	if !o.OldBook || o.OldYard || !strings.Contains(string(offer.Office(p, o, w)), "ended on 2026-05-10") || strings.Contains(string(offer.Customer(p, o, w).Text()), "ended on") {
		t.Error("a book that ended is not told, or told to the customer")
	}
}

func BenchmarkOffer(b *testing.B) {
	p, o, _ := demo(b, "en")
	for b.Loop() {
		if _, err := p.Offer(b.Context(), o.Book, nil); err != nil {
			b.Fatal(err)
		}
	}
}
