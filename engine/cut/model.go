package cut

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stallwright/engine/cut/search"
	"stallwright/engine/measure"
)

// model is one material's problem in the integers of the search.
type model struct {
	in      search.Instance
	demands [][]int // per item: indexes into Problem.Demands
	stock   [][]int // per stock of the instance: indexes into Problem.Stock
	unit    int64   // nanometres per unit of length
}

// build reduces one material to a cutting stock instance: each piece and each
// board a kerf longer (see the package comment), lengths divided by their
// greatest common divisor, equal pieces and equal boards merged.
func (p *Problem) build(group string) (*model, error) {
	m := &model{}
	byLen := map[int64][]int{}
	for i, d := range p.Demands {
		if d.Group != group {
			continue
		}
		l := int64(d.Length) + int64(p.Saw.Kerf)
		if byLen[l] == nil {
			m.in.Len = append(m.in.Len, l)
		}
		byLen[l] = append(byLen[l], i)
	}
	slices.SortFunc(m.in.Len, func(a, b int64) int { return cmp.Compare(b, a) })
	for _, l := range m.in.Len {
		n := int64(0)
		for _, d := range byLen[l] {
			n += p.Demands[d].Count
		}
		m.demands = append(m.demands, byLen[l])
		m.in.Dem = append(m.in.Dem, n)
	}
	m.in.Most = int32(min(p.Saw.MostPieces, math.MaxInt32))
	if p.Saw.Credit > 0 {
		m.in.Credit = search.Credit{Kerf: int64(p.Saw.Kerf), Keep: int64(p.Saw.Keep), Step: int64(p.Saw.CreditStep), Value: p.Saw.Credit}
	}
	if err := p.addStock(m, group); err != nil {
		return nil, err
	}
	m.scale()
	return m, nil
}

// addStock puts the group's boards into the model, merging equal ones, and
// checks that every piece fits in some board.
func (p *Problem) addStock(m *model, group string) error {
	at := map[[4]int64]int{}
	var longest measure.Length
	any := false
	for i := range p.Stock {
		s := &p.Stock[i]
		if s.Group != group || s.Available == 0 {
			continue
		}
		any = true
		use := p.usable(s)
		longest = max(longest, use)
		if use <= 0 {
			continue
		}
		st := search.Stock{Cap: int64(use) + int64(p.Saw.Kerf), Cost: s.Price, Avail: search.Unlimited}
		if s.Available != Unlimited {
			st.Avail = s.Available
		}
		// An offcut on hand is worth what keeping it would earn.
		if s.Available != Unlimited {
			st.Cost = max(st.Cost, p.credit(use))
		}
		if st.Cap < m.in.Len[len(m.in.Len)-1] {
			continue
		}
		key := [4]int64{st.Cap, st.Cost, s.Defects, int64(s.Length)}
		if k, ok := at[key]; ok {
			m.stock[k] = append(m.stock[k], i)
			if st.Avail == search.Unlimited || m.in.Stock[k].Avail == search.Unlimited {
				m.in.Stock[k].Avail = search.Unlimited
			} else {
				m.in.Stock[k].Avail += st.Avail
			}
			continue
		}
		at[key] = len(m.in.Stock)
		m.in.Stock = append(m.in.Stock, st)
		m.stock = append(m.stock, []int{i})
	}
	for k, ds := range m.demands {
		d := p.Demands[ds[0]]
		need := m.in.Len[k] - int64(p.Saw.Kerf)
		if need > int64(longest) {
			why := fmt.Sprintf("it needs %v and the longest usable length is %v", measure.Length(need), longest)
			if !any {
				why = fmt.Sprintf("there is no stock of material %q", group)
			}
			return &Infeasible{Demand: ds[0], Label: d.Label, Reason: why}
		}
	}
	return nil
}

// scale divides all lengths by their greatest common divisor. Boards round
// down, which no pattern can tell when there is no credit for the rest.
func (m *model) scale() {
	g := int64(0)
	for _, l := range m.in.Len {
		g = gcd(g, l)
	}
	if c := m.in.Credit; c.Value > 0 {
		g = gcd(gcd(gcd(g, c.Kerf), c.Keep), c.Step)
		for _, s := range m.in.Stock {
			g = gcd(g, s.Cap)
		}
		m.in.Credit.Kerf /= g
		m.in.Credit.Keep /= g
		m.in.Credit.Step /= g
	}
	m.unit = g
	for i := range m.in.Len {
		m.in.Len[i] /= g
	}
	for i := range m.in.Stock {
		m.in.Stock[i].Cap /= g
	}
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}
