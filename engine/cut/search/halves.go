package search

import (
	"math"
	"sort"
)

// A cutting plane of rank one (Chvátal and Gomory; subset rows, Jepsen et al.
// 2008): of the pieces of up to three items, d in all, boards that hold n of
// them count n/2 times rounded down, and there can be no more than d/2 of those
// counts, rounded down. Fractional plans often have more.

// Limits on the cutting planes of a node: rounds of them, planes a round, and
// planes in all. Each makes the pricing slower.
const (
	halfRounds = 8
	halfEach   = 24
	halfMost   = 96
	halfLeast  = 0.02 // by how much a plane must be broken to be worth it
)

// triple is up to three items whose plane is broken.
type triple struct {
	items []int32
	by    float64
}

// tighten adds cutting planes to a solved node while they help. It returns the
// node's master, or nil when the node is done with: pruned, or lost.
func (s *solver) tighten(ms *master, n *node) *master {
	if s.in.Credit.Value != 0 {
		return ms
	}
	for round := 0; round < halfRounds; round++ {
		room := halfMost - len(n.rule)
		if room <= 0 {
			break
		}
		found := s.broken(ms, n)
		if len(found) == 0 {
			break
		}
		n.addHalves(found[:min(len(found), room, halfEach)])
		n.cols = s.useful(ms)
		ms = s.newMaster(n)
		out := ms.solve(s.target()+1, proven)
		n.bound = max(n.bound, s.safeBound(ms.bound))
		if n.bound > s.target() {
			return nil
		}
		if out != solved {
			n.lost = true
			return nil
		}
		n.hope = ms.obj
		if s.whole(ms) && n.bound > s.target() {
			return nil
		}
	}
	return ms
}

// addHalves writes planes into the node as rules.
func (n *node) addHalves(list []triple) {
	n.own = true
	n.item = append([]item(nil), n.item...)
	n.rule = append([]rule(nil), n.rule...)
	for _, t := range list {
		tag := int32(2 * len(n.rule))
		d := int64(0)
		for _, i := range t.items {
			n.item[i].tags = append(append([]int32(nil), n.item[i].tags...), tag)
			d += n.item[i].dem
		}
		n.rule = append(n.rule, rule{a: tag, b: tag, atMost: d / 2, half: true})
	}
}

// broken lists the sets of items whose planes the solved master breaks, most
// broken first, no item in more than a few.
func (s *solver) broken(ms *master, n *node) []triple {
	type use struct {
		c *column
		x float64
	}
	var cols []use
	near := make([][]int32, ms.m) // columns by item
	for _, j := range ms.lp.Basic() {
		x := ms.lp.Value(j)
		if j < ms.base || x < 1e-6 {
			continue
		}
		c := &ms.cols[j-ms.base]
		for _, i := range c.item {
			near[i] = append(near[i], int32(len(cols)))
		}
		cols = append(cols, use{c, x})
	}
	frac := func(x float64) bool { return math.Abs(x-math.Round(x)) > 1e-5 }
	count := make([]int32, len(cols))
	var out []triple
	try := func(items ...int32) {
		d := int64(0)
		for _, i := range items {
			d += n.item[i].dem
		}
		if d%2 == 0 {
			return
		}
		sum := 0.0
		for _, i := range items {
			for _, c := range near[i] {
				count[c] += at(cols[c].c, i)
			}
		}
		for _, i := range items {
			for _, c := range near[i] {
				sum += float64(cols[c].x * float64(count[c]/2))
				count[c] = 0
			}
		}
		s.work += int64(4 * len(items))
		if by := sum - float64(d/2); by > halfLeast {
			out = append(out, triple{append([]int32(nil), items...), by})
		}
	}
	// Neighbours: items that share a broken column.
	shares := make([]map[int32]bool, ms.m)
	for _, u := range cols {
		if !frac(u.x) {
			continue
		}
		for _, i := range u.c.item {
			if shares[i] == nil {
				shares[i] = map[int32]bool{}
			}
			for _, k := range u.c.item {
				if k != i {
					shares[i][k] = true
				}
			}
		}
	}
	list := make([][]int32, ms.m)
	for i, m := range shares {
		for k := range m {
			list[i] = append(list[i], k)
		}
		sort.Slice(list[i], func(a, b int) bool { return list[i][a] < list[i][b] })
	}
	for i := int32(0); i < int32(ms.m); i++ {
		if shares[i] == nil {
			continue
		}
		try(i)
		for _, j := range list[i] {
			if j > i {
				try(i, j)
			}
			for _, k := range list[j] {
				// i and k both share with j; each set once, at its middle item.
				if k > i && k != j && !(shares[i][k] && j > i) {
					try(i, j, k)
				}
			}
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].by > out[b].by })
	uses := make([]int, ms.m)
	keep := out[:0]
	for _, t := range out {
		most := 0
		for _, i := range t.items {
			most = max(most, uses[i])
		}
		if most >= 3 {
			continue
		}
		for _, i := range t.items {
			uses[i]++
		}
		keep = append(keep, t)
	}
	return keep
}

// at is how many of an item a column holds.
func at(c *column, item int32) int32 {
	for k, i := range c.item {
		if i == item {
			return c.count[k]
		}
	}
	return 0
}
