package instances

import (
	"fmt"
	"math/rand/v2"
	"sort"

	"stallwright/engine/cut/search"
)

func rng(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x5eed)) }

// Uniform makes a Falkenauer u instance: n sizes uniform on 20..100, capacity 150.
func Uniform(n int, seed uint64) Named {
	r := rng(seed)
	l, c := make([]int64, n), make([]int64, n)
	for i := range l {
		l[i], c[i] = 20+r.Int64N(81), 1
	}
	return pack(fmt.Sprintf("u%d-seed%d", n, seed), 150, l, c)
}

// SeveralStocks makes an instance by the recipe of Monaci as reported by Brandão
// and Pedroso (2016): n sizes uniform on least..100, cost of a board its length.
func SeveralStocks(n int, least int64, stocks []int64, seed uint64) Named {
	r := rng(seed)
	l, c := make([]int64, n), make([]int64, n)
	for i := range l {
		l[i], c[i] = least+r.Int64N(101-least), 1
	}
	x := pack(fmt.Sprintf("several%d-%d-%d-seed%d", len(stocks), least, n, seed), stocks[0], l, c)
	x.Stock = nil
	for _, s := range stocks {
		x.Stock = append(x.Stock, search.Stock{Cap: s, Cost: s, Avail: search.Unlimited})
	}
	return x
}

// Job makes a job-size instance in 1/64 inch: 5 to 80 distinct lengths from one
// to ten feet, demands from 1 to 300, 3 to 8 stock lengths of whole feet with
// prices in cents, and up to 40 offcuts on hand that cost nothing. The kerf is
// an eighth of an inch. Prices per foot differ by up to a tenth either way and
// are not rounded to anything coarser than a cent, which is the hard case for a
// proof.
func Job(seed uint64) Named {
	r := rng(seed)
	const inch, kerf = 64, 8
	m := 5 + r.IntN(76)
	distinct := map[int64]bool{}
	for len(distinct) < m {
		l := 12*inch + r.Int64N(108*inch)
		l -= l % (1 << r.IntN(4)) // tapes are read to 1/64, 1/32, 1/16 or 1/8
		distinct[l] = true
	}
	most := []int64{4, 20, 80, 300}[r.IntN(4)]
	n := Named{Name: fmt.Sprintf("job%d", seed)}
	for l := range distinct {
		n.Len = append(n.Len, l+kerf)
	}
	sort.Slice(n.Len, func(a, b int) bool { return n.Len[a] > n.Len[b] })
	for range n.Len {
		n.Dem = append(n.Dem, 1+r.Int64N(most))
	}
	feet := []int64{8, 10, 12, 14, 16, 18, 20, 24}
	r.Shuffle(len(feet), func(a, b int) { feet[a], feet[b] = feet[b], feet[a] })
	feet = feet[:3+r.IntN(6)]
	if longest := n.Len[0]; longest > 8*12*inch {
		feet[0] = 20
		for k := 1; k < len(feet); k++ {
			if feet[k] == 20 {
				feet[k] = 24
			}
		}
	}
	sort.Slice(feet, func(a, b int) bool { return feet[a] < feet[b] })
	perFoot := 90 + r.Float64()*120
	last := int64(-1)
	for _, f := range feet {
		if f == last {
			continue
		}
		last = f
		price := int64(float64(f) * perFoot * (0.9 + 0.2*r.Float64()))
		n.Stock = append(n.Stock, search.Stock{Cap: f*12*inch + kerf, Cost: price, Avail: search.Unlimited})
	}
	for k := r.IntN(41); k > 0; k-- {
		n.Stock = append(n.Stock, search.Stock{Cap: 24*inch + r.Int64N(120*inch) + kerf, Cost: 0, Avail: 1})
	}
	return n
}

// ShowGround makes one large order: distinct lengths and pieces as given, four
// stock lengths.
func ShowGround(distinct int, pieces int64, seed uint64) Named {
	r := rng(seed)
	const inch, kerf = 64, 8
	seen := map[int64]bool{}
	for len(seen) < distinct {
		seen[24*inch+r.Int64N(110*inch)] = true
	}
	n := Named{Name: fmt.Sprintf("showground-%d-%d", distinct, pieces)}
	for l := range seen {
		n.Len = append(n.Len, l+kerf)
	}
	sort.Slice(n.Len, func(a, b int) bool { return n.Len[a] > n.Len[b] })
	for i := range n.Len {
		left := pieces * int64(i+1) / int64(len(n.Len))
		done := pieces * int64(i) / int64(len(n.Len))
		n.Dem = append(n.Dem, max(1, left-done))
	}
	for k, f := range []int64{10, 12, 16, 20} {
		n.Stock = append(n.Stock, search.Stock{Cap: f*12*inch + kerf, Cost: []int64{1149, 1329, 1799, 2349}[k], Avail: search.Unlimited})
	}
	return n
}
