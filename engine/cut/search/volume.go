package search

import (
	"math/bits"
	"sort"
)

// volume is a lower bound that needs no work: the pieces' length bought by the
// piece of board, the cheapest per length first, rounded down.
func (in *Instance) volume() int64 {
	if in.Credit.Value != 0 {
		return 0 // a board earns at most what it costs
	}
	need := uint64(0)
	for i, l := range in.Len {
		hi, lo := bits.Mul64(uint64(l), uint64(in.Dem[i]))
		sum, carry := bits.Add64(need, lo, 0)
		if hi != 0 || carry != 0 {
			return 0
		}
		need = sum
	}
	by := make([]int, 0, len(in.Stock))
	for s, st := range in.Stock {
		if st.Cap > 0 {
			by = append(by, s)
		}
	}
	sort.SliceStable(by, func(a, b int) bool {
		x, y := in.Stock[by[a]], in.Stock[by[b]]
		return less128(x.Cost, y.Cap, y.Cost, x.Cap)
	})
	cost := int64(0)
	for _, s := range by {
		st := in.Stock[s]
		hi, all := bits.Mul64(uint64(st.Cap), uint64(st.Avail))
		if hi == 0 && all < need {
			cost += st.Avail * st.Cost
			need -= all
			continue
		}
		hi, lo := bits.Mul64(need, uint64(st.Cost))
		q, _ := bits.Div64(hi%uint64(st.Cap), lo, uint64(st.Cap))
		return cost + int64(q)
	}
	return cost
}
