package site

import (
	"cmp"
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/survey"
)

// verdict is how far a plan is from naming every slip: of each reading by how much
// its correlation with another is over the limit, or 1 where it is hardly checked;
// nothing where a slip in it could be named.
type verdict []float64

// bad counts the readings in which a slip could not be named.
func (v verdict) bad() int {
	n := 0
	for _, over := range v {
		if over > 0 {
			n++
		}
	}
	return n
}

// better compares plans: fewer bad readings first, then those less so.
func (v verdict) better(than verdict) bool {
	if a, b := v.bad(), than.bad(); a != b {
		return a < b
	}
	sum := func(v verdict) (s float64) {
		for _, over := range v {
			s += over
		}
		return s
	}
	return sum(v) < sum(than)-1e-9
}

// worst lists the bad readings, the worst first, then as planned.
func (v verdict) worst() []int {
	var out []int
	for i, over := range v {
		if over > 0 {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		switch {
		case v[a] > v[b]+1e-9:
			return -1
		case v[b] > v[a]+1e-9:
			return 1
		}
		return 0
	})
	return out
}

func (d *design) judge(list []planned) verdict {
	out := make(verdict, len(list))
	for i, j := range survey.Judge(d.network(list), d.opt) {
		switch {
		case j.Named(leastRedundancy, mostAlike):
		case j.Redundancy < leastRedundancy:
			out[i] = 1
		default:
			out[i] = j.Correlation - mostAlike
		}
	}
	return out
}

// around is how many posts near a reading are paired for further ones.
const around = 8

// complete adds readings until every slip could be named: longer diagonals first,
// then second readings over the outer faces, which show other figures and so cannot
// be copied.
func (d *design) complete() {
	most := len(d.list) + 3*len(d.posts)
	for {
		bad := d.judge(d.list).worst()
		before := len(d.list)
		for k, i := range bad {
			if len(d.list) < most {
				d.help(i, k == 0)
			}
		}
		if len(d.list) == before {
			return // all named, or too few posts: nothing more can be read
		}
	}
}

// help adds the reading that helps most near a bad one. One that earlier helps have
// mended is let be, unless it must be helped.
func (d *design) help(i int, must bool) {
	near, at := d.window(d.list[i])
	now := near.judge(near.list)
	if now[at] == 0 && !must {
		return
	}
	best := planned{}
	for _, c := range d.candidates(d.list[i]) {
		if w := near.judge(append(slices.Clone(near.list), c)); w.better(now) {
			best, now = c, w
		}
	}
	if !best.extra {
		best = d.again(d.list[i])
	}
	if best.extra {
		d.list = append(d.list, best)
	}
}

// again is a reading once more, over the outer faces, then from axis to axis: two
// alike outvote a third where the rest of the plan hardly checks them.
func (d *design) again(v planned) planned {
	v.extra = true
	for _, v.touched = range []job.Between{job.BetweenOuter, job.BetweenAxes} {
		if !d.claimed(v, v.touched) {
			return v
		}
	}
	return planned{}
}

// window is the plan near one reading, and where the reading is in it: what a
// further reading there does is felt over two or three bays.
func (d *design) window(v planned) (part *design, at int) {
	const wide = 16
	out := &design{s: d.s, opt: d.opt}
	near := append([]int{v.a, v.b}, append(d.nearest(v.a, wide), d.nearest(v.b, wide)...)...)
	for _, i := range d.posts {
		if slices.Contains(near, i) {
			out.posts = append(out.posts, i)
		}
	}
	for _, r := range d.list {
		if slices.Contains(near, r.a) && slices.Contains(near, r.b) {
			out.list = append(out.list, r)
		}
	}
	return out, slices.Index(out.list, v)
}

// candidates are readings not yet planned near one that cannot be told from
// another, the shorter first.
func (d *design) candidates(v planned) []planned {
	near := []int{v.a, v.b}
	for _, i := range append(d.nearest(v.a, around), d.nearest(v.b, around)...) {
		if !slices.Contains(near, i) {
			near = append(near, i)
		}
	}
	var out []planned
	length := func(c planned) measure.Length {
		return frame.Distance(d.s.lay.Posts[c.a].At, d.s.lay.Posts[c.b].At)
	}
	for _, a := range []int{v.a, v.b} {
		for _, b := range near {
			c := d.reading(min(a, b), max(a, b))
			c.extra = true
			if a != b && !d.has(a, b, false) && length(c) <= tapeReach && !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b planned) int { return cmp.Compare(length(a), length(b)) })
	for _, c := range d.list {
		if slices.Contains(near[:2], c.a) && slices.Contains(near[:2], c.b) || slices.Contains(near, c.a) && slices.Contains(near, c.b) && len(d.posts) <= 4 {
			c.extra, c.touched = true, job.BetweenOuter
			if !d.has(c.a, c.b, true) {
				out = append(out, c)
			}
		}
	}
	return out
}

// thin takes out added readings that later ones made needless.
func (d *design) thin() {
	if d.judge(d.list).bad() > 0 {
		return
	}
	for i := len(d.list) - 1; i >= 0; i-- {
		if !d.list[i].extra {
			continue
		}
		near, k := d.window(d.list[i])
		if near.judge(slices.Delete(slices.Clone(near.list), k, k+1)).bad() > near.judge(near.list).bad() {
			continue // needed nearby already; the whole need not be asked
		}
		if without := slices.Delete(slices.Clone(d.list), i, i+1); d.judge(without).bad() == 0 {
			d.list = without
		}
	}
}
