// Package cut plans how pieces come out of stock lengths at least cost.
//
// In comes a Problem: pieces wanted, boards to be had with their prices, and
// how the saw works. Out comes a Plan: which boards to cut by which patterns,
// what that costs, a lower bound on what any plan costs, and where every
// millimetre of the boards went. What always holds: every piece is cut exactly
// as often as wanted, no board is over-filled, the waste adds up, and the bound
// is safe against floating error.
//
// # The saw
//
// From a board of length L the trim is lost at both ends (a saw cut there eats
// from the trim, not from the pieces). Pieces follow one another from one end
// with a kerf between neighbours. After the last piece a cut is made only if
// something is left; the kerf of that cut comes out of what is left. So n pieces
// fit when their lengths and n-1 kerfs fit in L less both trims, which is the
// same as each piece being a kerf longer and the board too.
package cut

import (
	"fmt"
	"sort"
	"strings"

	"stallwright/engine/measure"
)

// Unlimited is the Available of a stock that never runs out.
const Unlimited int64 = -1

// Limits on input, so that no sum can overflow and no mistake of units goes by.
const (
	maxCount = 10_000_000
	maxPrice = 1_000_000_000_00
)

// Demand is a number of equal pieces.
type Demand struct {
	Label  string         // what is written on the piece; distinct within a group
	Length measure.Length // finished length, above zero
	Count  int64          // above zero
	Group  string         // material; pieces come from stock of the same group
	// Tolerance is how much longer the piece may turn out when measured.
	// Only orders look at it.
	Tolerance measure.Length
	// Opening names what turns out longer together: demands of one opening do so
	// all at once. A demand without one does by itself.
	Opening string
}

// Stock is one kind of board, or an offcut on hand.
type Stock struct {
	Label     string         // may be empty
	Length    measure.Length // as bought, above zero
	Price     int64          // of one board in the smallest money unit, at least zero
	Available int64          // boards to be had, or Unlimited (which needs a price)
	Group     string
	Square    bool  // both ends are square already: no end trim, as with offcuts
	Defects   int64 // boards in a thousand too bad to use, 0..500; only orders look at it
}

// Saw is how boards are cut.
type Saw struct {
	Kerf       measure.Length // width of the cut
	Trim       measure.Length // lost at each end of a board that is not square
	Keep       measure.Length // shortest offcut worth keeping; zero keeps none
	CreditStep measure.Length // length of a kept offcut that earns Credit once; zero for no credit
	Credit     int64          // worth of each full CreditStep, smallest money unit
	MostPieces int            // most pieces from one board; zero for any number
}

// Problem is everything a plan depends on.
type Problem struct {
	Demands []Demand
	Stock   []Stock
	Saw     Saw
}

// Part names a list of the problem.
type Part string

// The parts of a problem a Fault can lie in.
const (
	InDemands Part = "demand"
	InStock   Part = "stock"
	InSaw     Part = "saw"
)

// Fault is one thing wrong with a problem.
type Fault struct {
	Part  Part
	Index int    // in Demands or Stock
	Field string // length, count, label, price, available, kerf, trim, ...
	Text  string // what is wrong and what would be right
}

// Error says where and what.
func (f Fault) Error() string {
	if f.Part == InSaw {
		return fmt.Sprintf("saw: %s: %s", f.Field, f.Text)
	}
	return fmt.Sprintf("%s %d: %s: %s", f.Part, f.Index+1, f.Field, f.Text)
}

// Faults is every fault of a problem, in order.
type Faults []Fault

// Error lists the faults.
func (f Faults) Error() string {
	var s []string
	for _, x := range f {
		s = append(s, x.Error())
	}
	return strings.Join(s, "\n")
}

// Check lists what is wrong with the problem, nil when nothing is.
func (p *Problem) Check() Faults {
	var out Faults
	add := func(part Part, i int, field, format string, a ...any) {
		out = append(out, Fault{part, i, field, fmt.Sprintf(format, a...)})
	}
	sw := p.Saw
	for _, x := range []struct {
		name string
		l    measure.Length
	}{{"kerf", sw.Kerf}, {"trim", sw.Trim}, {"keep", sw.Keep}, {"credit step", sw.CreditStep}} {
		if x.l < 0 || x.l > measure.MaxLength {
			add(InSaw, 0, x.name, "%v is out of range; want 0 to %v", x.l, measure.MaxLength)
		}
	}
	if sw.Credit < 0 || sw.Credit > maxPrice {
		add(InSaw, 0, "credit", "%d is out of range; want 0 to %d", sw.Credit, int64(maxPrice))
	}
	if sw.Credit > 0 && sw.CreditStep <= 0 {
		add(InSaw, 0, "credit step", "a credit needs the length that earns it")
	}
	if sw.MostPieces < 0 {
		add(InSaw, 0, "most pieces", "%d is below zero; want 0 for any number", sw.MostPieces)
	}
	seen := map[[2]string]int{}
	total := int64(0)
	for i, d := range p.Demands {
		if d.Length <= 0 || d.Length > measure.MaxLength {
			add(InDemands, i, "length", "%v is out of range; want above 0 and at most %v", d.Length, measure.MaxLength)
		}
		if d.Tolerance < 0 || d.Tolerance > measure.MaxLength {
			add(InDemands, i, "tolerance", "%v is out of range; want 0 to %v", d.Tolerance, measure.MaxLength)
		}
		if d.Count <= 0 || d.Count > maxCount {
			add(InDemands, i, "count", "%d is out of range; want 1 to %d", d.Count, maxCount)
		} else if total += d.Count; total > maxCount {
			add(InDemands, i, "count", "more than %d pieces in all", maxCount)
			total = 0
		}
		key := [2]string{d.Group, d.Label}
		if j, twice := seen[key]; twice {
			add(InDemands, i, "label", "%q is already the label of demand %d", d.Label, j+1)
		} else {
			seen[key] = i
		}
	}
	for i, s := range p.Stock {
		if s.Length <= 0 || s.Length > measure.MaxLength {
			add(InStock, i, "length", "%v is out of range; want above 0 and at most %v", s.Length, measure.MaxLength)
		}
		if s.Available < Unlimited || s.Available > maxCount {
			add(InStock, i, "available", "%d is out of range; want 0 to %d, or blank for unlimited", s.Available, maxCount)
		}
		if s.Price < 0 || s.Price > maxPrice {
			add(InStock, i, "price", "%d is out of range; want 0 to %d", s.Price, int64(maxPrice))
		} else if s.Price == 0 && s.Available == Unlimited {
			add(InStock, i, "price", "an unlimited stock needs a price above zero")
		} else if c := p.credit(s.Length); c > 0 && s.Price <= c && s.Available == Unlimited {
			add(InStock, i, "price", "the credit for keeping it whole (%d) is no less than its price", c)
		}
		if s.Defects < 0 || s.Defects > 500 {
			add(InStock, i, "defects", "%d in a thousand is out of range; want 0 to 500", s.Defects)
		}
	}
	return out
}

// credit is what a kept offcut of the given length is worth.
func (p *Problem) credit(l measure.Length) int64 {
	if p.Saw.Credit == 0 || p.Saw.CreditStep <= 0 || l < p.Saw.Keep || l <= 0 {
		return 0
	}
	return p.Saw.Credit * int64(l/p.Saw.CreditStep)
}

// usable is the length of a board between its trims.
func (p *Problem) usable(s *Stock) measure.Length {
	if s.Square {
		return s.Length
	}
	return s.Length - 2*p.Saw.Trim
}

// Infeasible is the error of a problem that no plan solves.
type Infeasible struct {
	Demand int    // index of a demand that cannot be met
	Label  string // its label
	Reason string // why, in words a person can act on
}

// Error names the piece and the reason.
func (e *Infeasible) Error() string {
	return fmt.Sprintf("piece %q cannot be cut: %s", e.Label, e.Reason)
}

// groups are the materials of the demands, sorted.
func (p *Problem) groups() []string {
	set := map[string]bool{}
	for _, d := range p.Demands {
		set[d.Group] = true
	}
	var out []string
	for g := range set {
		out = append(out, g)
	}
	sort.Strings(out)
	return out
}
