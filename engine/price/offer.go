package price

import (
	"stallwright/engine/build"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/money"
	"stallwright/engine/reason"
	"stallwright/engine/takeoff"
)

// Input is the planned job that an offer is made for.
type Input struct {
	Job     *job.Job
	Kit     *kit.Kit
	Layout  *frame.Layout
	Takeoff *takeoff.Result
	Build   *build.Result
	Days    *build.Days // needed where the book pays days
}

// Offer is what the job costs, and what the customer pays.
type Offer struct {
	Book       *Book
	Currency   money.Currency
	Structures []string // names, as shares count them
	Lines      []Line
	Taxes      []TaxLine
	Missing    []Missing // what has no price: the offer is not complete
	Without    []Without // what the offer leaves out, and says so

	Cost   money.Amount // what the shop pays, of all lines
	Net    money.Amount // what the customer pays before tax, the total's rounding included
	Tax    money.Amount
	Total  money.Amount
	Shares []Share // of cost and net, by structure

	Lead     int  // days until the boards come, by the yard's list
	OldBook  bool // the job is dated after the last day of the book
	OldYard  bool // or of the yard's list
	WhyNet   *reason.Reason
	WhyTotal *reason.Reason
}

// Complete says that everything the job takes has a price.
func (o *Offer) Complete() bool { return len(o.Missing) == 0 }

// Margin is what stays of the net.
func (o *Offer) Margin() money.Amount { return o.Net - o.Cost }

// Line is one line of an offer.
type Line struct {
	Kind    Kind
	Item    string         // an id of the kit, lumber, or a trade
	Name    string         // as lists call it
	Class   kit.Class      // of lumber and parts
	Length  measure.Length // as cut or bought; zero where it has none
	Treated bool
	Onhand  bool         // delivered already: paid for with this job
	Count   int64        // pieces, trips; 0 for work
	Minutes int64        // of work, all hands together
	Cost    money.Amount // what the shop pays
	Price   money.Amount // what the customer pays
	Shares  []Share      // by structure, adding up to cost and price
	WhyCost *reason.Reason
	Why     *reason.Reason // of the price
}

// Share is a structure's part of a cost and a price.
type Share struct{ Cost, Price money.Amount }

// TaxLine is one tax.
type TaxLine struct {
	Name   string
	Rate   money.Percent
	Base   money.Amount
	Amount money.Amount
	Why    *reason.Reason
}

// Missing is something that the job takes and nobody has priced.
type Missing struct {
	Kind    Kind
	Item    string
	Name    string
	Length  measure.Length
	Treated bool
	Count   int64
	Need    Need
}

// Need says what would price it.
type Need string

// What may be missing.
const (
	NeedItem   Need = "item"   // the book does not list it
	NeedLength Need = "length" // the book lists it, but not in this length
	NeedPer    Need = "per"    // it is priced by a length or mass that it does not have
	NeedYard   Need = "yard"   // the yard's list, or the job, gives no price for these boards
	NeedRate   Need = "rate"   // no rate is for this work
)

// Without is something that an offer leaves out.
type Without string

// What an offer may leave out.
const (
	WithoutWork     Without = "work"
	WithoutDelivery Without = "delivery"
	WithoutTax      Without = "tax"
)
