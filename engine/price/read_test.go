package price_test

import (
	"errors"
	"strings"
	"testing"

	"stallwright/engine/document"
	"stallwright/engine/price"
)

func TestMistakesAreToldByLine(t *testing.T) {
	starter := string(price.Starter())
	for _, c := range []struct{ what, old, new, says string }{
		{"unknown key", "currency: USD", "currency: USD\ncurency: USD", `unknown key`},
		{"no such currency", "currency: USD", "currency: USA", "ISO 4217"},
		{"too many decimals", "cost: 312.00", "cost: 312.005", "2 decimals"},
		{"a float's exponent", "cost: 312.00", "cost: 3e2", "no amount"},
		{"below nothing", "cost: 312.00", "cost: -1", "no amount"},
		{"a percentage without its sign", "margin: 25 %", "margin: 25", "no percentage"},
		{"all of the price", "margin: 25 %", "margin: 100 %", "under 100 %"},
		{"no rounding", "rounding:\n  lines: nearest", "rounding: {}", "lines"},
		{"a side that is none", "lines: nearest", "lines: up", "allowed"},
		{"total without step", "# total: customer", "total: customer", "go together"},
		{"priced twice", "  - {item: handle, cost: 9.80}", "  - {item: handle, cost: 9.80}\n  - {item: handle, cost: 9.90}", "priced twice"},
		{"no cost", "{item: handle, cost: 9.80}", "{item: handle}", "no cost"},
		{"price without cost", "{item: handle, cost: 9.80}", "{item: handle, price: 9.80}", "no cost"},
		{"no kind of work", "work: [cut, trim]", "work: [cutt, trim]", "no kind of work"},
		{"two rates for the rest", "work: [cut, trim], ", "", "everything else"},
		{"no date", "dated: 2026-05-04", "dated: 4 May", "no date"},
		{"ends before it begins", "until: 2026-08-31", "until: 2026-04-31", "no date"},
		{"a tax beyond the price", "rate: 6.5 %", "rate: 650 %", "slip"},
		{"waste of work", "{of: work, margin: 20 %}", "{of: work, waste: 2 %}", "what is bought"},
		{"what it is for", "per: 100}", "per: 0 ft}", "neither a number"},
	} {
		if !strings.Contains(starter, c.old) {
			t.Fatalf("%s: the starter does not hold %q", c.what, c.old)
		}
		_, err := price.Read("prices.yaml", []byte(strings.Replace(starter, c.old, c.new, 1)))
		var ps document.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if !strings.Contains(ps.Error(), c.says) || ps[0].Pos.Line == 0 || ps[0].Pos.Column == 0 {
			t.Errorf("%s: %v", c.what, ps)
		}
	}
}

// A mistake of the writing does not hide the others.
func TestAllMistakesAtOnce(t *testing.T) {
	src := strings.NewReplacer("currency: USD", "curency: USD", "cost: 312.00", "cost: 312.005x", "margin: 25 %", "margin: 100 %", "until: 2026-08-31", "until: soon").Replace(string(price.Starter()))
	_, err := price.Read("prices.yaml", []byte(src))
	var ps document.Problems
	if !errors.As(err, &ps) || len(ps) < 4 {
		t.Errorf("%d mistakes told: %v", len(ps), err)
	}
}

// Any bytes give a book or its mistakes, and never a panic.
func FuzzRead(f *testing.F) {
	f.Add(price.Starter())
	f.Add([]byte("prices: x\nitems: []\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		b, err := price.Read("prices.yaml", src)
		var ps document.Problems
		if (b == nil) == (err == nil) || err != nil && !errors.As(err, &ps) {
			t.Errorf("%v, %v", b, err)
		}
	})
}
