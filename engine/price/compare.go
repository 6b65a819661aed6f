package price

import (
	"stallwright/engine/measure"
	"stallwright/engine/money"
)

// Difference is one line of two offers beside each other.
type Difference struct {
	Kind           Kind
	Item, Name     string
	Length         measure.Length
	Treated        bool
	CountA, CountB int64 // pieces, trips, or minutes of work
	PriceA, PriceB money.Amount
	CostA, CostB   money.Amount
}

// By is what the second costs the customer more than the first.
func (d *Difference) By() money.Amount { return d.PriceB - d.PriceA }

type differenceKey struct {
	kind    Kind
	item    string
	length  measure.Length
	treated bool
	onhand  bool
}

// Compare sets two offers in the same currency beside each other, line by line, in
// the first one's order; lines that only the second has come where their kind ends.
func Compare(a, b *Offer) []Difference {
	at := map[differenceKey]int{}
	var out []Difference
	for _, kind := range append(append([]Kind(nil), kinds...), Rounded) {
		for side, o := range []*Offer{a, b} {
			for i := range o.Lines {
				l := &o.Lines[i]
				if l.Kind != kind {
					continue
				}
				key := differenceKey{l.Kind, l.Item, l.Length, l.Treated, l.Onhand}
				k, ok := at[key]
				if !ok {
					k = len(out)
					at[key] = k
					out = append(out, Difference{Kind: l.Kind, Item: l.Item, Name: l.Name, Length: l.Length, Treated: l.Treated})
				}
				d := &out[k]
				if side == 0 {
					d.CountA, d.PriceA, d.CostA = d.CountA+l.Count+l.Minutes, d.PriceA+l.Price, d.CostA+l.Cost
				} else {
					d.CountB, d.PriceB, d.CostB = d.CountB+l.Count+l.Minutes, d.PriceB+l.Price, d.CostB+l.Cost
				}
			}
		}
	}
	return out
}
