package price_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/money"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/takeoff"
)

func TestOffersAddUp(t *testing.T) {
	for _, file := range []string{"three-meadows.yaml", "harrow-field-pen.yaml", "alder-creek-barn-row.yaml", "stone-ford-mixed.yaml", "two-oaks-free-row.yaml"} {
		o := offerOf(t, planned(t, file, "species: douglas-fir-larch", "species: southern-pine"), book(t))
		adds(t, o)
		if !o.Complete() {
			t.Errorf("%s: the starter book leaves things without a price: %+v", file, o.Missing)
		}
		if o.Cost <= 0 || o.Net <= o.Cost || o.Tax <= 0 {
			t.Errorf("%s: cost %d, net %d, tax %d", file, o.Cost, o.Net, o.Tax)
		}
	}
}

// A metric job in kroner, and in yen, which have no smaller unit: boards cost whole
// yen, whatever hundredths the yard's list can hold.
func TestOtherCurrencies(t *testing.T) {
	p := planned(t, "nordlia-free-barn.yaml")
	for _, currency := range []string{"NOK", "JPY"} {
		src := "prices: bok\ndated: 2026-05-04\ncurrency: " + currency + "\nkit: nordhag\nrounding: {lines: nearest}\nmargin: 30 %\ntaxes: [{tax: MVA, rate: 25 %}]\nitems:\n"
		for i, id := range p.Kit.ItemIDs() {
			src += fmt.Sprintf("  - {item: %s, cost: %d}\n", id, 100+7*i)
		}
		b, err := price.Read("bok.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		p.Job.Lumber.Supply.Currency = currency
		o := offerOf(t, p, b)
		adds(t, o)
		if !o.Complete() || len(o.Without) != 2 || o.Without[0] != price.WithoutWork || o.Without[1] != price.WithoutDelivery {
			t.Errorf("%s: missing %v, without %v", currency, o.Missing, o.Without)
		}
		// 25 % of the whole, a half away from zero, by hand.
		if o.Tax != (o.Net*25+50)/100 {
			t.Errorf("%s: tax %d of %d", currency, o.Tax, o.Net)
		}
		saddles := find(t, o, "saddle")
		unit := money.Amount(0)
		for i, id := range p.Kit.ItemIDs() {
			if id == "saddle" {
				unit = money.Amount(100 + 7*i)
			}
		}
		if currency == "NOK" {
			unit *= 100
		}
		if saddles.Cost != unit*money.Amount(saddles.Count) {
			t.Errorf("%s: %d saddles cost %d at %d", currency, saddles.Count, saddles.Cost, unit)
		}
	}
}

// The arithmetic by hand: four sliding doors at 312.00 with 2 % waste cost
// 4 × 312.00 × 1.02 = 1272.96; with 8 % overhead and a quarter of the price as
// margin they sell at 1272.96 × 1.08 ÷ 0.75 = 1833.0624, so 1833.06.
func TestOneLineByHand(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	o := offerOf(t, p, book(t))
	l := find(t, o, "slide-48")
	if l.Count != 4 || l.Cost != 127296 || l.Price != 183306 {
		t.Errorf("%d doors cost %d and sell at %d", l.Count, l.Cost, l.Price)
	}
	// A price that the book states stands: one feeder at 365.00.
	if l := find(t, o, "feeder-24"); l.Price != 36500 || l.Cost != 24072 {
		t.Errorf("the feeder costs %d and sells at %d", l.Cost, l.Price)
	}
	// Per length, per hundred: 32 uprights of 6 ft at 5.60 a foot, 1075.20, and 2 %;
	// 152 screws at 14.50 a hundred, 22.04, and 2 %.
	if l := find(t, o, "pen-upright"); l.Cost != 109670 {
		t.Errorf("the uprights cost %d", l.Cost)
	}
	if l := find(t, o, "wood-screw"); l.Count != 152 || l.Cost != 2248 {
		t.Errorf("%d screws cost %d", l.Count, l.Cost)
	}
	// Sales tax by hand: 6.5 % of boards, parts and delivery.
	base := money.Amount(0)
	for _, l := range o.Lines {
		if l.Kind != price.Work {
			base += l.Price
		}
	}
	if o.Taxes[0].Base != base || o.Taxes[0].Amount != (base*65+500)/1000 {
		t.Errorf("tax %+v of %d", o.Taxes[0], base)
	}
}

func find(t testing.TB, o *price.Offer, item string) *price.Line {
	t.Helper()
	for i := range o.Lines {
		if o.Lines[i].Item == item {
			return &o.Lines[i]
		}
	}
	t.Fatalf("the offer has no line for %s", item)
	return nil
}

// Boards cost what the proven cut plan spends, and the spares beside it.
func TestBoardsCostWhatTheCutPlanBuys(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	o := offerOf(t, p, book(t))
	plan := int64(0)
	for i := range p.Takeoff.Cuts {
		c := &p.Takeoff.Cuts[i]
		if c.Class != takeoff.ClassLumber {
			continue
		}
		if !c.Priced || !c.Plan.Proven {
			t.Errorf("%s: priced %v, proven %v", c.Name, c.Priced, c.Plan.Proven)
		}
		plan += c.Plan.Cost
	}
	spares := int64(0)
	for i := range p.Takeoff.Lines {
		l := &p.Takeoff.Lines[i]
		for _, s := range p.Job.Lumber.Sells(l.Treated) {
			if l.Class == takeoff.ClassLumber && s.Length == l.Length {
				spares += int64(l.Spares) * int64(s.Price)
			}
		}
	}
	got := int64(0)
	for _, l := range o.Lines {
		if l.Kind == price.Lumber {
			got += int64(l.Cost)
		}
	}
	if got != plan+spares || plan == 0 {
		t.Errorf("boards cost %d; the cut plans spend %d and spares %d", got, plan, spares)
	}
}

func TestWhatHasNoPriceIsNamed(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	whole := offerOf(t, p, book(t))
	o := offerOf(t, p, book(t, "  - {item: roller, cost: 11.25}\n", "", "      - {length: 24', cost: 69.00}\n", "", "    - {trade: fitters, cost: 34.00}\n", ""))
	adds(t, o)
	if o.Complete() {
		t.Fatal("it says it is complete")
	}
	needs := map[price.Need]string{}
	for _, m := range o.Missing {
		needs[m.Need] += m.Item + " "
	}
	if needs[price.NeedItem] != "roller " || needs[price.NeedLength] != "tube-2 " || !strings.Contains(needs[price.NeedRate], "load") || strings.Contains(needs[price.NeedRate], "cut") {
		t.Errorf("missing: %v", needs)
	}
	roller, tubes := find(t, whole, "roller"), find(t, whole, "tube-2")
	if o.Net >= whole.Net-roller.Price-tubes.Price {
		t.Errorf("what has no price is in the sum: %d of %d", o.Net, whole.Net)
	}
	// Without a yard, and lengths without a price.
	p = planned(t, "three-meadows.yaml")
	p.Job.Lumber.Supply = nil
	for i := range p.Job.Lumber.Lengths {
		p.Job.Lumber.Lengths[i].Price = 0
	}
	o = offerOf(t, p, book(t))
	if o.Complete() || o.Missing[0].Need != price.NeedYard {
		t.Errorf("boards without a price: %+v", o.Missing)
	}
}

func TestRoundingOfTheSum(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	plain := offerOf(t, p, book(t))
	for _, c := range []struct {
		side string
		up   bool
	}{{"customer", false}, {"shop", true}} {
		o := offerOf(t, p, book(t, "  # total: customer\n  # step: 5.00", "  total: "+c.side+"\n  step: 5.00"))
		adds(t, o)
		if o.Net%500 != 0 || (o.Net > plain.Net) != c.up && plain.Net%500 != 0 || (o.Net-plain.Net)/500 != 0 {
			t.Errorf("%d to 5.00 for the %s is %d", plain.Net, c.side, o.Net)
		}
		base := money.Amount(0) // tax is of rounded prices
		for _, v := range o.Taxes {
			base += v.Base
		}
		if base == plain.Taxes[0].Base && o.Net != plain.Net {
			t.Errorf("the tax does not know of the rounding")
		}
	}
}

func TestPaidByDays(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	b := book(t, "paid: work", "paid: days", "    - {trade: saw, work: [cut, trim], cost: 31.00}\n", "")
	o := offerOf(t, p, b)
	adds(t, o)
	days, err := p.Days(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	// The job's crew of 3 works 07:00 to 15:30 less 30 minutes: 8 h a day each.
	want := 3 * int64(len(days.Sheets)) * 480
	if l := find(t, o, "fitters"); l.Minutes != want || int64(l.Cost) != want*3400/60 {
		t.Errorf("%d min cost %d; want %d min", l.Minutes, l.Cost, want)
	}
}

func TestBooksThatDoNotGoWithTheJob(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	for _, c := range []struct {
		what string
		book []string
		says string
		line int
	}{
		{"another kit", []string{"kit: fernhollow", "kit: nordhag"}, "fernhollow", 11},
		{"an item the kit does not have", []string{"item: roller,", "item: rollers,"}, "rollers", 67},
		{"another currency", []string{"currency: USD", "currency: CAD"}, "USD", 10},
	} {
		_, err := p.Offer(t.Context(), book(t, c.book...), nil)
		var ps document.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if !strings.Contains(ps.Error(), c.says) || ps[0].Pos.File != "prices.yaml" || ps[0].Pos.Line == 0 || ps[0].Hint == "" {
			t.Errorf("%s: %v", c.what, ps)
		}
	}
}

func TestComparedLineByLine(t *testing.T) {
	b := book(t)
	one := offerOf(t, planned(t, "three-meadows.yaml"), b)
	two := offerOf(t, planned(t, "three-meadows.yaml", "dividers: grille", "dividers: boards"), b)
	list := price.Compare(one, two)
	by, fewer := money.Amount(0), false
	for i := range list {
		by += list[i].By()
		fewer = fewer || list[i].Item == "grille-32" && list[i].CountB < list[i].CountA
	}
	if by != two.Net-one.Net || by == 0 || !fewer {
		t.Errorf("lines differ by %d, the offers by %d", by, two.Net-one.Net)
	}
}

func TestWhyOfAnAmount(t *testing.T) {
	o := offerOf(t, planned(t, "three-meadows.yaml"), book(t))
	for target, says := range map[string]string{
		"offer": "offer.why-total", "offer/tax": "rate=6.5 %", "offer/net": "offer.rule-lines", "offer/slide-48": "name=4) each=312.00",
		"offer/lumber": "offer.rule-proven", "offer/work": "offer.rule-work", "offer/delivery": "offer.rule-trips count=2",
	} {
		list, ok := o.Why(target)
		text := ""
		for _, w := range list {
			text += w.Why.Trace()
		}
		if !ok || !strings.Contains(text, says) {
			t.Errorf("%s: %.300s", target, text)
		}
	}
	if _, ok := o.Why("offer/hats"); ok {
		t.Error("it tells why of hats")
	}
	for _, name := range o.Names() {
		if _, ok := o.Why(name); !ok {
			t.Errorf("it cannot tell why of %s", name)
		}
	}
	// Down to the line of the file, and to the take-off.
	list, _ := o.Why("offer/track")
	chain := list[0].Why.Trace()
	for _, part := range []string{"prices.yaml:", "offer.why-cut-plan", "why.order-of", "kit=fernhollow"} {
		if !strings.Contains(chain, part) {
			t.Errorf("the chain does not hold %q:\n%s", part, chain)
		}
	}
}

// Whatever the book's figures, offers add up, and no price is under its cost by
// more than rounding.
func TestAnyBookAddsUp(t *testing.T) {
	p := planned(t, "three-meadows.yaml")
	rapid.Check(t, func(r *rapid.T) {
		o, b := drawn(r, p)
		adds(r, o)
		for i := range o.Lines {
			l := &o.Lines[i]
			if l.Kind != price.Rounded && l.Item != "feeder-24" && l.Price+2 < l.Cost {
				r.Fatalf("%s sells under its cost: %d for %d", l.Name, l.Price, l.Cost)
			}
		}
		again, err := p.Offer(t.Context(), b, nil)
		if err != nil || fmt.Sprint(again.Total, again.Shares) != fmt.Sprint(o.Total, o.Shares) {
			r.Fatalf("priced twice with two results: %v", err)
		}
	})
}

func drawn(r *rapid.T, p *plan.Plan) (*price.Offer, *price.Book) {
	side := rapid.SampledFrom([]string{"nearest", "even", "customer", "shop"})
	percent := func(name string, most int) string {
		return fmt.Sprintf("%d.%d %%", rapid.IntRange(0, most).Draw(r, name), rapid.IntRange(0, 99).Draw(r, name+" decimals"))
	}
	src := strings.NewReplacer(
		"lines: nearest", "lines: "+side.Draw(r, "lines")+"\n  total: "+side.Draw(r, "total")+"\n  step: "+fmt.Sprintf("%d.%02d", rapid.IntRange(0, 50).Draw(r, "step"), rapid.IntRange(1, 99).Draw(r, "cents")),
		"waste: 2 %", "waste: "+percent("waste", 20), "overhead: 8 %", "overhead: "+percent("overhead", 60), "margin: 25 %", "margin: "+percent("margin", 80), "rate: 6.5 %", "rate: "+percent("tax", 30),
		"312.00", fmt.Sprintf("%d.%02d", rapid.IntRange(0, 99999).Draw(r, "door"), rapid.IntRange(0, 99).Draw(r, "door cents")),
	).Replace(string(price.Starter()))
	b, err := price.Read("prices.yaml", []byte(src))
	if err != nil {
		r.Fatalf("%v", err)
	}
	o, err := p.Offer(r.Context(), b, nil)
	if err != nil {
		r.Fatalf("%v", err)
	}
	return o, b
}
