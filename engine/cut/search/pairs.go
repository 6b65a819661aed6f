package search

import (
	"math"
	"sort"
)

// pair picks two items whose boards in common are broken, near one half and
// long, and the whole number below. When none is broken it takes the longest
// two of a broken column.
func (s *solver) pair(ms *master, n *node) (i, j int, k int64, ok bool) {
	m := ms.m
	together := make(map[int64]float64)
	var keys []int64
	var fallback int64 = -1
	for _, b := range ms.lp.Basic() {
		x := ms.lp.Value(b)
		if b < ms.base || x < 1e-7 {
			continue
		}
		c := &ms.cols[b-ms.base]
		broken := math.Abs(x-math.Round(x)) > 1e-5
		for p, a := range c.item {
			for q := p; q < len(c.item); q++ {
				if p == q && c.count[p] < 2 {
					continue
				}
				key := int64(a)*int64(m) + int64(c.item[q])
				if _, seen := together[key]; !seen {
					keys = append(keys, key)
				}
				together[key] += x
				if broken && fallback < 0 {
					fallback = key
				}
			}
		}
	}
	sort.Slice(keys, func(a, b int) bool { return keys[a] < keys[b] })
	best := 0.0
	for _, key := range keys {
		y := together[key]
		f := y - math.Floor(y)
		if f < 1e-5 || f > 1-1e-5 {
			continue
		}
		a, b := int(key)/m, int(key)%m
		w := f * (1 - f) * float64(n.item[a].len+n.item[b].len)
		if w > best {
			best, i, j, k, ok = w, a, b, int64(math.Floor(y)), true
		}
	}
	if !ok && fallback >= 0 {
		i, j = int(fallback)/m, int(fallback)%m
		k, ok = int64(math.Round(together[fallback]))-1, true
		if k < 0 {
			return 0, 0, 0, false
		}
	}
	return i, j, k, ok
}

// apart is the child in which at most k boards hold both items.
func (n *node) apart(cols []column, i, j int, k int64) *node {
	c := n.child(nil)
	c.own = true
	r := int32(len(n.rule))
	c.item = append([]item(nil), n.item...)
	c.item[i].tags = append(append([]int32(nil), c.item[i].tags...), 2*r)
	b := 2 * r
	if i != j {
		b++
		c.item[j].tags = append(append([]int32(nil), c.item[j].tags...), b)
	}
	c.rule = append(append([]rule(nil), n.rule...), rule{a: 2 * r, b: b, atMost: k})
	for q := range cols {
		if k > 0 || hits(c.item, &cols[q], c.rule[r]) == 0 {
			c.cols = append(c.cols, cols[q])
		}
	}
	return c
}

// glue is the child in which at least k boards hold both items: k of each are
// glued into one longer item.
func (n *node) glue(cols []column, i, j int, k int64) *node {
	c := n.child(nil)
	c.own = true
	a, b := n.item[i], n.item[j]
	g := item{len: a.len + b.len, dem: k}
	g.parts = append(append([]int32(nil), a.parts...), b.parts...)
	g.tags = append(append([]int32(nil), a.tags...), b.tags...)
	rest := make([]int64, len(n.item))
	for q, it := range n.item {
		rest[q] = it.dem
	}
	rest[i] -= k
	rest[j] -= k
	if rest[i] < 0 || rest[j] < 0 {
		c.bound = math.MaxInt64
		return c
	}
	// New order: longest first, spent items dropped.
	at := make([]int32, len(n.item))
	c.item = nil
	gAt := int32(-1)
	for q, it := range n.item {
		if gAt < 0 && g.len >= it.len {
			gAt = int32(len(c.item))
			c.item = append(c.item, g)
		}
		at[q] = -1
		if rest[q] > 0 {
			at[q] = int32(len(c.item))
			it.dem = rest[q]
			c.item = append(c.item, it)
		}
	}
	if gAt < 0 {
		gAt = int32(len(c.item))
		c.item = append(c.item, g)
	}
	for q := range cols {
		warm := cols[q].warm
		if d, ok := remap(&cols[q], at, rest, -1, -1, gAt); ok {
			d.warm, warm = warm, false
			c.cols = append(c.cols, d)
		}
		if d, ok := remap(&cols[q], at, rest, int32(i), int32(j), gAt); ok {
			d.warm = warm
			c.cols = append(c.cols, d)
		}
	}
	return c
}

// remap carries a column into the items of a glued child, with one i and one j
// replaced by the glued item at g when i is given.
func remap(c *column, at []int32, rest []int64, i, j, g int32) (column, bool) {
	count := make(map[int32]int32)
	for k, it := range c.item {
		count[it] = c.count[k]
	}
	d := column{stock: c.stock, cost: c.cost}
	if i >= 0 {
		count[i]--
		count[j]--
		if count[i] < 0 || count[j] < 0 {
			return d, false
		}
	}
	put := func(it, n int32) {
		d.item = append(d.item, it)
		d.count = append(d.count, n)
	}
	glued := i < 0
	for _, it := range c.item {
		n := count[it]
		if n == 0 {
			continue
		}
		if at[it] < 0 || int64(n) > rest[it] {
			return d, false
		}
		if !glued && g < at[it] {
			put(g, 1)
			glued = true
		}
		put(at[it], n)
	}
	if !glued {
		put(g, 1)
	}
	return d, true
}
