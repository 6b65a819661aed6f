package differ

import (
	"cmp"
	"slices"
	"strings"

	"stallwright/paper/packet"
)

// pieces compares everything with a name of its own and says what can be done
// with the old piece if it is made already.
func (c *comparer) pieces() {
	uses := map[string]*Use{}
	var order []string
	use := func(kind string) *Use {
		if uses[kind] == nil {
			uses[kind] = &Use{Kind: kind}
			order = append(order, kind)
		}
		return uses[kind]
	}
	for _, p := range c.m.pieces {
		if v, changed := c.piece(p); changed {
			c.d.Pieces = append(c.d.Pieces, v)
			use(v.Kind).count(v.Use)
		} else {
			use(v.Kind).Keep++
		}
	}
	c.elsewhere()
	for i := range c.d.Pieces {
		if v := &c.d.Pieces[i]; v.From != "" {
			use(v.Kind).Other++
		}
	}
	for _, k := range order {
		c.d.Use = append(c.d.Use, *uses[k])
	}
}

func (u *Use) count(use string) {
	switch use {
	case Keep:
		u.Keep++
	case Recut:
		u.Recut++
	case Again:
		u.Again++
	case Coming:
		u.New++
	case Gone:
		u.Gone++
	}
}

// piece compares one piece.
func (c *comparer) piece(p pair) (v Piece, changed bool) {
	v = Piece{oldAt: p.old, newAt: p.new}
	var o, n *packet.PieceDoc
	if p.old >= 0 {
		o = &c.old.Pieces[p.old]
		v.Old, v.OldNM, v.Kind, v.Place = o.Label, o.LengthNM, o.Kind, c.m.names.now(o.Place)
	}
	if p.new >= 0 {
		n = &c.new.Pieces[p.new]
		v.New, v.NewNM, v.Kind, v.Place = n.Label, n.LengthNM, n.Kind, n.Place
	}
	_, v.code, _ = strings.Cut(v.Name(), "/")
	switch {
	case o == nil:
		v.Use, v.Causes = Coming, c.at[v.Place]
		return v, true
	case n == nil:
		v.Use, v.Causes = Gone, c.at[v.Place]
		return v, true
	}
	v.Values, v.Causes = c.values(o, n), c.between(o.Reason, n.Reason)
	if front, ok := c.fronts[c.runOf(n)]; ok && len(v.Causes) > 0 {
		v.Causes = c.behind(front, v.Causes)
	}
	if len(v.Causes) == 0 && len(v.Values) > 0 {
		v.Causes = c.at[v.Place]
	}
	v.Use = c.serves(o, n)
	return v, len(v.Values) > 0 || len(v.Causes) > 0 || v.Old != v.New
}

// runOf is the run a piece stands in.
func (c *comparer) runOf(p *packet.PieceDoc) string {
	if run, ok := c.bayRun[p.Place]; ok {
		return run
	}
	return p.Place
}

// serves says how an old piece serves where a new one is wanted: as it is, cut
// again, or not at all. A piece can be made shorter and narrower, and more can be
// cut out of it; never the other way.
func (c *comparer) serves(o, n *packet.PieceDoc) string {
	switch {
	case o.Kind != n.Kind || o.Item != n.Item || o.Treated != n.Treated || o.MadeNM != n.MadeNM:
		return Again
	case o.Kind == "board" && c.otherSection():
		return Again
	case o.LengthNM < n.LengthNM || o.HeightNM < n.HeightNM:
		return Again
	}
	same := o.LengthNM == n.LengthNM && o.HeightNM == n.HeightNM
	if same && slices.Equal(o.Notches, n.Notches) && o.Ripped == n.Ripped {
		return Keep
	}
	if !n.Cut || o.Ripped && (!n.Ripped || o.HeightNM < n.HeightNM) {
		return Again
	}
	for _, v := range o.Notches {
		if !keeps(v, o, n) {
			return Again
		}
	}
	return Recut
}

// keeps says whether a notch of the old piece is wanted in the new one. A tongue
// cut off all along is; a notch must stand at the same place from the left end,
// since the piece is then cut at the right.
func keeps(v packet.NotchDoc, o, n *packet.PieceDoc) bool {
	for _, w := range n.Notches {
		all := v.WidthNM == o.LengthNM && w.WidthNM == n.LengthNM
		if v.Edge == w.Edge && v.DepthNM == w.DepthNM && (all || v.XNM == w.XNM && v.WidthNM == w.WidthNM) {
			return true
		}
	}
	return false
}

// otherSection says whether the boards of the two plans are different boards.
func (c *comparer) otherSection() bool {
	a, b := &c.old.Board, &c.new.Board
	return a.ThicknessNM != b.ThicknessNM || a.CoverageNM != b.CoverageNM || a.TongueNM != b.TongueNM || a.Nominal != b.Nominal
}

// elsewhere finds, for boards that must be made anew, old ones that are left
// over: first those of the very length, then, longest wanted first, the shortest
// that is long enough. Whoever comes first takes away nothing from a later,
// shorter one that another could not serve as well, so that as many as can be
// are served.
func (c *comparer) elsewhere() {
	if c.otherSection() {
		return
	}
	var wanted, free []int
	for i := range c.d.Pieces {
		v := &c.d.Pieces[i]
		if v.Kind != "board" {
			continue
		}
		if v.newAt >= 0 && (v.Use == Again || v.Use == Coming) {
			wanted = append(wanted, i)
		}
		if v.oldAt >= 0 && (v.Use == Again || v.Use == Gone) {
			free = append(free, i)
		}
	}
	old := func(i int) *packet.PieceDoc { return &c.old.Pieces[c.d.Pieces[i].oldAt] }
	new := func(i int) *packet.PieceDoc { return &c.new.Pieces[c.d.Pieces[i].newAt] }
	slices.SortStableFunc(wanted, func(a, b int) int { return cmp.Compare(new(b).LengthNM, new(a).LengthNM) })
	slices.SortStableFunc(free, func(a, b int) int { return cmp.Compare(old(a).LengthNM, old(b).LengthNM) })
	for _, treated := range []bool{false, true} {
		c.hand(of(wanted, func(i int) bool { return new(i).Treated == treated }), of(free, func(i int) bool { return old(i).Treated == treated }), old, new)
	}
}

func of(list []int, holds func(int) bool) []int {
	var out []int
	for _, v := range list {
		if holds(v) {
			out = append(out, v)
		}
	}
	return out
}

// hand gives left-over boards, shortest first, to those wanted, longest first.
func (c *comparer) hand(wanted, free []int, old, new func(int) *packet.PieceDoc) {
	// next[k] is the first board from k on that nobody took yet.
	next := make([]int, len(free)+1)
	for k := range next {
		next[k] = k
	}
	left := func(k int) int {
		for next[k] != k {
			next[k] = next[next[k]]
			k = next[k]
		}
		return k
	}
	for _, as := range []string{Keep, Recut} {
		for _, w := range wanted {
			v := &c.d.Pieces[w]
			if v.From != "" {
				continue
			}
			at, _ := slices.BinarySearchFunc(free, new(w).LengthNM, func(f int, l int64) int { return cmp.Compare(old(f).LengthNM, l) })
			for k := left(at); k < len(free) && (as == Recut || old(free[k]).LengthNM == new(w).LengthNM); k = left(k + 1) {
				if c.serves(old(free[k]), new(w)) == as {
					v.From, next[k] = old(free[k]).Label, k+1
					break
				}
			}
		}
	}
}
