// Package price makes the offer for a planned job from a price book: what each
// thing costs the shop, what the customer pays for it, and why.
//
// In go a price book (a YAML text, read strictly), the take-off with its cut
// plans, the order of work and, where crews are paid by the day, its days. Out
// comes an Offer: lines by what is sold, each shared among the structures, with
// cost and price kept apart, taxes and a total.
//
// What always holds:
//
//   - every amount is a whole number of the currency's minor unit; a fraction is
//     rounded once, to the side that the book states;
//   - lines add up to the total, and the structures' shares to the lines;
//   - boards cost what the proven cut plan buys, nothing else;
//   - what has no price is named, and the offer says that it is not complete;
//   - every amount has its reason.
package price

import (
	_ "embed"
	"slices"

	"stallwright/engine/document"
	"stallwright/engine/measure"
	"stallwright/engine/money"
)

// Book is a price book: what the items of one kit, work and delivery cost the
// shop, and how prices follow from that.
type Book struct {
	document.Where `yaml:"-" json:"-"`

	Prices   string         `yaml:"prices,required" doc:"what the shop calls this book"`
	Dated    string         `yaml:"dated,required" doc:"day of the prices, as 2026-05-04"`
	Until    string         `yaml:"until" doc:"last day on which an offer by it holds"`
	Currency money.Currency `yaml:"currency,required" doc:"of every amount here, by ISO 4217"`
	Kit      string         `yaml:"kit,required" doc:"short name of the kit whose items are priced"`
	Note     string         `yaml:"note" doc:"anything a reader of the book should know; not on the offer"`
	Terms    []string       `yaml:"terms" doc:"sentences that stand under the offer: payment, how long it holds"`

	Rounding Rounding `yaml:"rounding,required" doc:"to whose side fractions go"`

	Waste    money.Percent `yaml:"waste" doc:"on what is bought: breakage, loss; on top of what the cut plan and the kit's spares count already"`
	Overhead money.Percent `yaml:"overhead" doc:"on cost: rent, tools, office"`
	Margin   money.Percent `yaml:"margin" doc:"part of the price that stays: price = cost with overhead ÷ (1 − margin)"`
	Groups   []Group       `yaml:"groups" doc:"kinds of things whose waste, overhead or margin differ"`

	Items    []Item    `yaml:"items,required" doc:"what each item of the kit costs"`
	Labour   *Labour   `yaml:"labour" doc:"work on site; where left out the offer is for delivery only, and says so"`
	Delivery *Delivery `yaml:"delivery" doc:"bringing it; where left out the customer fetches it, and the offer says so"`
	Taxes    []Tax     `yaml:"taxes" doc:"on the price; where left out the offer says that it is without tax"`

	file string
	src  []byte
}

// Rounding says to whose side fractions of money go.
type Rounding struct {
	document.Where `yaml:"-" json:"-"`

	Lines money.Side   `yaml:"lines,required" doc:"of a line's price, to the minor unit: nearest (a half away from zero), even (a half to the even), customer (down), shop (up)"`
	Total money.Side   `yaml:"total" doc:"of the sum before tax, to a multiple of step"`
	Step  money.Figure `yaml:"step" doc:"what the sum before tax is rounded to, as 5.00; needed with total"`
	Tax   money.Side   `yaml:"tax" doc:"of each tax, to the minor unit; nearest where left out"`
}

// Kind is a kind of line, for groups and taxes.
type Kind string

// The kinds.
const (
	Lumber  Kind = "lumber"   // boards
	Parts   Kind = "parts"    // items of the kit
	Work    Kind = "work"     // labour on site
	Freight Kind = "delivery" // bringing it
	Rounded Kind = "rounding" // what the total was rounded by
)

// Allowed lists the kinds that groups and taxes speak of.
func (Kind) Allowed() []string {
	return []string{string(Lumber), string(Parts), string(Work), string(Freight)}
}

// Group is a kind of things that differ from the book's own percentages.
type Group struct {
	document.Where `yaml:"-" json:"-"`

	Of       Kind          `yaml:"of,required" doc:"lumber, parts, work or delivery"`
	Waste    money.Percent `yaml:"waste" doc:"the book's where left out"`
	Overhead money.Percent `yaml:"overhead" doc:"the book's where left out"`
	Margin   money.Percent `yaml:"margin" doc:"the book's where left out"`
}

// Item is what one item of the kit costs: each, by count, length or mass, or by
// the length bought.
type Item struct {
	document.Where `yaml:"-" json:"-"`

	Item    string       `yaml:"item,required" doc:"an id of the kit"`
	Cost    money.Figure `yaml:"cost" doc:"what the shop pays; needed where no lengths are priced"`
	Price   money.Figure `yaml:"price" doc:"what the customer pays, where it does not follow from cost and margin"`
	Per     Per          `yaml:"per" doc:"what cost and price are for: 100 (pieces), 1 ft, 1 kg; one piece where left out"`
	Lengths []Length     `yaml:"lengths" doc:"cost by the length bought: of fasteners and grilles their size, of steel cut from stock the whole stock length"`
}

// Length is what one bought length costs.
type Length struct {
	document.Where `yaml:"-" json:"-"`

	Length measure.Length `yaml:"length,required" doc:"as bought"`
	Cost   money.Figure   `yaml:"cost,required" doc:"of one"`
	Price  money.Figure   `yaml:"price" doc:"what the customer pays for one, where it does not follow from cost and margin"`
}

// Paid says what of a crew's time is paid.
type Paid string

// What is paid.
const (
	PaidWork Paid = "work" // the minutes of each operation, for each hand it takes
	PaidDays Paid = "days" // whole days of the whole crew, as the schedule has them
)

// Allowed lists what may be paid.
func (Paid) Allowed() []string { return []string{string(PaidWork), string(PaidDays)} }

// Labour is what work on site costs.
type Labour struct {
	document.Where `yaml:"-" json:"-"`

	Paid  Paid   `yaml:"paid,required" doc:"work (the time each operation takes, for each hand) or days (the crew's days on site)"`
	Rates []Rate `yaml:"rates,required" min:"1" doc:"cost of an hour by trade; one rate without work is for everything else"`
}

// Rate is the cost of one person's hour.
type Rate struct {
	document.Where `yaml:"-" json:"-"`

	Trade string       `yaml:"trade,required" doc:"as the offer names it: fitters"`
	Work  []string     `yaml:"work" doc:"kinds of work, as stallwright steps shows them: cut, load, hang; everything not named elsewhere where left out"`
	Cost  money.Figure `yaml:"cost,required" doc:"of one person's hour"`
	Price money.Figure `yaml:"price" doc:"what the customer pays for it, where it does not follow from cost and margin"`
}

// Delivery is what bringing it costs.
type Delivery struct {
	document.Where `yaml:"-" json:"-"`

	Cost  money.Figure `yaml:"cost,required" doc:"of one trip"`
	Price money.Figure `yaml:"price" doc:"what the customer pays for a trip, where it does not follow from cost and margin"`
	Load  measure.Mass `yaml:"load" doc:"what goes on one trip; all in one where left out"`
}

// Tax is a tax on the price.
type Tax struct {
	document.Where `yaml:"-" json:"-"`

	Tax  string        `yaml:"tax,required" doc:"as the offer names it: sales tax, MVA"`
	Rate money.Percent `yaml:"rate,required" doc:"of the price"`
	On   []Kind        `yaml:"on" doc:"lumber, parts, work, delivery; all where left out"`
}

//go:embed starter/prices.yaml
var starter []byte

// Starter is a commented price book to begin from.
func Starter() []byte { return slices.Clone(starter) }

// group is the percentages that a kind of things has.
func (b *Book) group(k Kind) (waste, overhead, margin money.Percent) {
	waste, overhead, margin = b.Waste, b.Overhead, b.Margin
	for i := range b.Groups {
		if g := &b.Groups[i]; g.Of == k {
			if g.Waste.Stated() {
				waste = g.Waste
			}
			if g.Overhead.Stated() {
				overhead = g.Overhead
			}
			if g.Margin.Stated() {
				margin = g.Margin
			}
		}
	}
	return waste, overhead, margin
}

// item finds what an item costs.
func (b *Book) item(id string) *Item {
	for i := range b.Items {
		if b.Items[i].Item == id {
			return &b.Items[i]
		}
	}
	return nil
}
