package price

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stallwright/engine/document"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/money"
)

// Read reads a price book. The error is document.Problems: every mistake in the
// text, each with its line. Whether its items are those of the kit is seen by
// Against.
func Read(file string, src []byte) (*Book, error) {
	b := new(Book)
	r := document.NewReporter(file, src)
	if r.Read(b) {
		(&checker{r, b}).book()
	} else if !b.Pos().IsZero() {
		rest := document.NewReporter(file, src)
		(&checker{rest, b}).book()
		r.Rest(rest)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	b.file, b.src = file, src
	return b, nil
}

// Against checks a book against the kit it prices: the error is document.Problems,
// an item that the kit does not have among them.
func (b *Book) Against(k *kit.Kit) error {
	r := document.NewReporter(b.file, b.src)
	if b.Kit != k.Kit {
		r.Add(b.Of("kit"), "kit", b.Kit, fmt.Sprintf("this book prices the kit %s, the job takes %s", b.Kit, k.Kit), "the price book of "+k.Kit+", or kit: "+k.Kit+" where it is renamed")
		return r.Err()
	}
	ids := k.ItemIDs()
	for i := range b.Items {
		it := &b.Items[i]
		if _, ok := k.Item(it.Item); ok {
			continue
		}
		hint := "an id of the kit; stallwright kit show " + k.Kit + " lists them"
		if near, ok := document.Nearest(it.Item, ids); ok {
			hint = "did you mean " + near + "?"
		}
		r.Add(it.Of("item"), fmt.Sprintf("items[%d].item", i), it.Item, fmt.Sprintf("the kit %s has no item %q", k.Kit, it.Item), hint)
	}
	return r.Err()
}

// checker gathers what is wrong with a book in itself.
type checker struct {
	r *document.Reporter
	b *Book
}

func (c *checker) book() {
	b := c.b
	for _, d := range []struct{ key, text string }{{"dated", b.Dated}, {"until", b.Until}} {
		if _, err := time.Parse(time.DateOnly, d.text); err != nil && b.Has(d.key) {
			c.r.Add(b.Of(d.key), d.key, d.text, "this is no date", "write year-month-day, as 2026-05-04")
		}
	}
	if b.Until != "" && b.Until < b.Dated {
		c.r.Add(b.Of("until"), "until", b.Until, "the book ends before it begins", "a day after "+b.Dated)
	}
	if strings.TrimSpace(b.Prices) == "" {
		c.r.Add(b.Of("prices"), "prices", "", "the book has no name", "a short name, as spring-2026")
	}
	c.percents(b.Where, "", b.Waste, b.Overhead, b.Margin)
	seen := map[Kind]bool{}
	for i := range b.Groups {
		g, at := &b.Groups[i], fmt.Sprintf("groups[%d]", i)
		if seen[g.Of] {
			c.r.Add(g.Where.Of("of"), at+".of", string(g.Of), string(g.Of)+" is given twice", "keep the one with the right figures")
		}
		seen[g.Of] = true
		if g.Waste.Stated() && (g.Of == Work || g.Of == Freight) {
			c.r.Add(g.Where.Of("waste"), at+".waste", g.Waste.String(), "waste is of what is bought, not of "+string(g.Of), "overhead or margin")
		}
		c.percents(g.Where, at+".", g.Waste, g.Overhead, g.Margin)
	}
	c.rounding()
	c.items()
	c.labour()
	if d := b.Delivery; d != nil {
		c.figure(d.Where, "cost", "delivery.cost", d.Cost)
		c.figure(d.Where, "price", "delivery.price", d.Price)
		if d.Has("load") && d.Load <= 0 {
			c.r.Add(d.Of("load"), "delivery.load", d.Load.String(), "nothing goes on such a trip", "what the truck carries, as 3000 lb")
		}
	}
	for i := range b.Taxes {
		t := &b.Taxes[i]
		if t.Rate.Rat().Cmp(one) > 0 {
			c.r.Add(t.Of("rate"), fmt.Sprintf("taxes[%d].rate", i), t.Rate.String(), "a tax of more than the price is a slip", "check the point")
		}
	}
}

// percents checks what goes on cost and what stays of the price.
func (c *checker) percents(w document.Where, path string, waste, overhead, margin money.Percent) {
	for _, p := range []struct {
		key string
		p   money.Percent
	}{{"waste", waste}, {"overhead", overhead}} {
		if p.p.Rat().Cmp(ten) > 0 {
			c.r.Add(w.Of(p.key), path+p.key, p.p.String(), "more than ten times the cost is a slip", "check the point")
		}
	}
	if margin.Rat().Cmp(one) >= 0 {
		c.r.Add(w.Of("margin"), path+"margin", margin.String(), "a margin is a part of the price: under 100 %", "30 % makes 100 of cost 142.86 of price; 50 % doubles it")
	}
}

func (c *checker) rounding() {
	o := &c.b.Rounding
	switch {
	case o.Has("total") != o.Has("step"):
		c.r.Add(o.Pos(), "rounding", "", "total and step go together", "total: customer and step: 5.00, say")
	case o.Has("step"):
		c.figure(o.Where, "step", "rounding.step", o.Step)
		if v, ok := o.Step.In(c.b.Currency); ok && v <= 0 {
			c.r.Add(o.Of("step"), "rounding.step", o.Step.String(), "rounding to nothing", "a step above nothing, as 5.00")
		}
	}
}

// figure checks that an amount has no more decimals than the currency.
func (c *checker) figure(w document.Where, key, path string, f money.Figure) {
	n, known := c.b.Currency.Decimals()
	if _, ok := f.In(c.b.Currency); !ok && known {
		c.r.Add(w.Of(key), path, f.String(), fmt.Sprintf("%s has %d decimals", c.b.Currency, n), "an amount that can be paid; of small things the price of 100, with per: 100")
	}
}

func (c *checker) items() {
	seen := map[string]int{}
	for i := range c.b.Items {
		it, at := &c.b.Items[i], fmt.Sprintf("items[%d]", i)
		if line, twice := seen[it.Item]; twice {
			c.r.Add(it.Of("item"), at+".item", it.Item, fmt.Sprintf("%s is priced twice, first on line %d", it.Item, line), "keep the one that is right")
		}
		seen[it.Item] = it.Pos().Line
		c.figure(it.Where, "cost", at+".cost", it.Cost)
		c.figure(it.Where, "price", at+".price", it.Price)
		if !it.Has("cost") && len(it.Lengths) == 0 {
			c.r.Add(it.Pos(), at, "", it.Item+" has no cost", "cost: 12.40, or lengths with a cost each")
		}
		if it.Has("price") && !it.Has("cost") {
			c.r.Add(it.Of("price"), at+".price", "", "a price without what it costs: no margin could be told", "add cost")
		}
		sizes := map[measure.Length]bool{}
		for k := range it.Lengths {
			l, at := &it.Lengths[k], fmt.Sprintf("%s.lengths[%d]", at, k)
			c.figure(l.Where, "cost", at+".cost", l.Cost)
			c.figure(l.Where, "price", at+".price", l.Price)
			if l.Length <= 0 || sizes[l.Length] {
				c.r.Add(l.Of("length"), at+".length", l.Length.String(), "each length is above nothing and stands once", "keep the one that is right")
			}
			sizes[l.Length] = true
		}
	}
}

func (c *checker) labour() {
	l := c.b.Labour
	if l == nil {
		return
	}
	rest := 0
	seen := map[string]bool{}
	for i := range l.Rates {
		v, at := &l.Rates[i], fmt.Sprintf("labour.rates[%d]", i)
		c.figure(v.Where, "cost", at+".cost", v.Cost)
		c.figure(v.Where, "price", at+".price", v.Price)
		if len(v.Work) == 0 {
			rest++
		}
		for k, w := range v.Work {
			pos := v.Of(fmt.Sprintf("work[%d]", k))
			if !slices.Contains(kit.Work(), w) {
				hint := "one of " + strings.Join(kit.Work(), ", ")
				if near, ok := document.Nearest(w, kit.Work()); ok {
					hint = "did you mean " + near + "?"
				}
				c.r.Add(pos, at+".work", w, "there is no kind of work "+w, hint)
			} else if seen[w] {
				c.r.Add(pos, at+".work", w, w+" is given twice", "keep it with one trade")
			}
			seen[w] = true
		}
	}
	switch {
	case rest > 1:
		c.r.Add(l.Of("rates"), "labour.rates", "", "several rates are for everything else", "leave work out of one rate only")
	case l.Paid == PaidDays && (rest == 0 || len(l.Rates) > 1):
		c.r.Add(l.Of("rates"), "labour.rates", "", "whole days are paid at one rate", "one rate without work, or paid: work")
	}
}
