package search

// item is one row of a node's master: an original piece, or pieces glued
// together by branching.
type item struct {
	len   int64
	dem   int64
	parts []int32 // original items, repeated for copies
	tags  []int32 // sides of rules it counts on: 2r and 2r+1 for rule r
}

// rule limits on how many boards two items may lie together: at most atMost
// boards hold both an item tagged a and one tagged b (two tagged a when a
// equals b). Tags are handed out when the rule is made, and items glued later
// inherit them, so that the rule goes on meaning the same boards.
//
// A half rule counts the pieces tagged a instead: a board that holds n of them
// counts n/2 times, rounded down, and all boards together at most atMost times.
// That is a cutting plane where atMost is half of all such pieces, rounded down.
type rule struct {
	a, b   int32
	atMost int64
	half   bool
}

// column is a pattern in a node's items.
type column struct {
	stock int32
	item  []int32
	count []int32
	cost  int64
	warm  bool // basic in the linear program it comes from
}

// node is one problem of the search tree.
type node struct {
	item    []item
	lo, hi  []int64 // boards per stock
	rule    []rule
	cols    []column // to start from
	bound   int64    // safe lower bound
	hope    float64  // what the linear program says, for the order
	depth   int
	id      int
	own     bool  // rules or glued items: needs a master of its own
	rank    int64 // hope in coarse steps
	solved  bool
	lost    bool    // could not be solved or branched; its bound stands
	at      int     // stock to branch on, or -1
	k       int64   // boards of it, at most or one more at least
	up      bool    // the child with more boards first
	kids    []*node // children by items
	most    int64   // all its boards cost no more, nor need a plan below; zero for no such limit
	listed  bool    // pool holds every pattern that a better plan below may use
	pool    []column
	leftOut int // items left out of a listed node
}

// hits is how often a column counts on a rule.
func hits(items []item, c *column, r rule) int32 {
	var na, nb int32
	for k, i := range c.item {
		for _, p := range items[i].tags {
			if p == r.a {
				na += c.count[k]
			} else if p == r.b {
				nb += c.count[k]
			}
		}
	}
	switch {
	case r.half:
		return na / 2
	case r.a == r.b && na >= 2, r.a != r.b && na >= 1 && nb >= 1:
		return 1
	}
	return 0
}

func (c *column) hash() uint64 {
	h := uint64(c.stock)*0x9E3779B97F4A7C15 + 1
	for k, i := range c.item {
		h ^= uint64(i)<<20 | uint64(uint32(c.count[k]))
		h *= 0xBF58476D1CE4E5B9
		h ^= h >> 29
	}
	return h
}

func (c *column) same(d *column) bool {
	if c.stock != d.stock || len(c.item) != len(d.item) {
		return false
	}
	for k := range c.item {
		if c.item[k] != d.item[k] || c.count[k] != d.count[k] {
			return false
		}
	}
	return true
}

// child copies a node one deeper.
func (n *node) child(cols []column) *node {
	c := &node{item: n.item, rule: n.rule, cols: cols, bound: n.bound, hope: n.hope, depth: n.depth + 1, own: n.own, most: n.most}
	c.lo = append([]int64(nil), n.lo...)
	c.hi = append([]int64(nil), n.hi...)
	return c
}
