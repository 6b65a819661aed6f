package site

import (
	"cmp"
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/survey"
)

// What makes a planned reading good enough: a slip in it can be named, not only
// noticed. Under 0.9 the correlation with any other reading's residual lets the
// one be told from the other (W. Förstner 1983; the usual limit, second-hand); a
// redundancy of a tenth shows a slip of an inch and a half to a crew with a common
// tape.
const (
	leastRedundancy = 0.1
	mostAlike       = 0.9
)

// tapeReach is the longest distance worth planning: a common long tape, with one
// hand on each end (common practice, no published source).
const tapeReach = 40 * measure.Foot

// planned is a distance or diagonal to be read.
type planned struct {
	kind    survey.Kind
	a, b    int // posts of the layout
	touched job.Between
	extra   bool // beyond bays and their diagonals: there so that a slip can be named
}

// design is a structure's planned readings in plan.
type design struct {
	s     *Site
	posts []int // standing posts, in the layout's order
	list  []planned
	opt   survey.Options
}

// design plans what to read between the standing posts of a structure: each bay,
// each way across, both diagonals of each field, and of longer diagonals or second
// readings over the outer corners as few as let every slip be named. Nil where
// fewer than two posts are standing timber: steel comes as it was made.
func (s *Site) design(structure int) *design {
	d := &design{s: s, opt: s.options()}
	for i := range s.lay.Posts {
		if p := &s.lay.Posts[i]; p.Structure == structure && p.Kind == frame.Timber {
			d.posts = append(d.posts, i)
		}
	}
	if len(d.posts) < 2 {
		return nil
	}
	if s.lay.Structures[structure].Kind == frame.BarnRow {
		d.grid()
	} else {
		d.form(structure)
	}
	d.complete()
	d.thin()
	return d
}

// grid plans a barn's bays, ways across and diagonals, from its first posts on.
func (d *design) grid() {
	at := map[[2]int]int{} // line, number
	lines, most := 0, 0
	for _, i := range d.posts {
		name := d.s.lay.Posts[i].Name
		n, line := numbered(name), lineOf(name)
		at[[2]int{line, n}] = i
		lines, most = max(lines, line+1), max(most, n)
	}
	read := func(l, n, l2, n2 int) {
		a, okA := at[[2]int{l, n}]
		b, okB := at[[2]int{l2, n2}]
		if okA && okB {
			d.add(a, b)
		}
	}
	for n := 1; n <= most; n++ {
		for l := range lines {
			read(l, n, l, n+1)
			read(l, n, l+1, n)
			read(l, n, l+1, n+1)
			read(l+1, n, l, n+1)
		}
	}
}

// lineOf is a post's line: 0 for A.a3.
func lineOf(name string) int {
	for i := 0; i+1 < len(name); i++ {
		if name[i] == '.' {
			return int(name[i+1]) - 'a'
		}
	}
	return 0
}

// form plans a free form: along every run, and between all corners of a room.
func (d *design) form(structure int) {
	standing := map[int]bool{}
	for _, i := range d.posts {
		standing[i] = true
	}
	read := func(a, b int) {
		if standing[a] && standing[b] {
			d.add(a, b)
		}
	}
	for i := range d.s.lay.Runs {
		if r := &d.s.lay.Runs[i]; r.Structure == structure {
			read(r.From, r.To)
		}
	}
	for i := range d.s.lay.Rooms {
		if r := &d.s.lay.Rooms[i]; r.Structure == structure {
			for k, a := range r.Corners {
				for _, b := range r.Corners[k+1:] {
					read(a, b)
				}
			}
		}
	}
	d.join()
}

// join ties posts that runs and rooms leave apart to the two nearest of the rest.
func (d *design) join() {
	for range d.posts {
		group := map[int]int{}
		for _, i := range d.posts {
			group[i] = i
		}
		for range d.posts {
			for _, v := range d.list {
				least := min(group[v.a], group[v.b])
				group[v.a], group[v.b] = least, least
			}
		}
		apart := -1
		for _, i := range d.posts {
			if group[i] != group[d.posts[0]] {
				apart = i
				break
			}
		}
		if apart < 0 {
			return
		}
		n := 0
		for _, q := range d.nearest(apart, len(d.posts)) {
			if group[q] != group[apart] && n < 2 {
				d.add(apart, q)
				n++
			}
		}
	}
}

// add plans one reading between posts, once.
func (d *design) add(a, b int) {
	if a == b || d.has(a, b, false) {
		return
	}
	d.list = append(d.list, d.reading(a, b))
}

// reading is the reading between two posts, between the faces or corners that
// look at each other where there are such.
func (d *design) reading(a, b int) planned {
	p, q := d.s.lay.Posts[a].At, d.s.lay.Posts[b].At
	v := planned{kind: survey.Distance, a: a, b: b, touched: job.BetweenFaces}
	switch {
	case frame.Across(p, q):
		v.kind, v.touched = survey.Diagonal, job.BetweenCorners
	case !frame.InLine(p, q):
		v.touched = job.BetweenAxes
	}
	return v
}

// has says whether the posts are planned to be read already: over the outer faces,
// or else between those that look at each other.
func (d *design) has(a, b int, outer bool) bool {
	for _, v := range d.list {
		if (v.a == a && v.b == b || v.a == b && v.b == a) && (v.touched == job.BetweenOuter) == outer {
			return true
		}
	}
	return false
}

// nearest are the standing posts nearest to one, as drawn.
func (d *design) nearest(post, most int) []int {
	at := d.s.lay.Posts[post].At
	var out []int
	for _, i := range d.posts {
		if i != post {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Compare(frame.Distance(at, d.s.lay.Posts[a].At), frame.Distance(at, d.s.lay.Posts[b].At))
	})
	return out[:min(most, len(out))]
}

// network is the plan as a survey, where posts are drawn.
func (d *design) network(list []planned) survey.Network {
	var net survey.Network
	for _, i := range d.posts {
		p := &d.s.lay.Posts[i]
		net.Points = append(net.Points, survey.Point{Name: p.Name, X: p.At.X, Y: p.At.Y})
	}
	for _, v := range list {
		net.Readings = append(net.Readings, survey.Reading{Kind: v.kind, Posts: []string{d.s.lay.Posts[v.a].Name, d.s.lay.Posts[v.b].Name}})
	}
	return net
}

// verdict is how far a plan is from naming every slip.
type verdict struct {
	bad   int     // readings in which a slip could not be named
	alike float64 // by how much their correlations are over the limit, together
	worst int     // the worst of them; -1 for none
}

func (v verdict) better(than verdict) bool {
	if v.bad != than.bad {
		return v.bad < than.bad
	}
	return v.alike < than.alike-1e-9
}

func (d *design) judge(list []planned) verdict {
	out := verdict{worst: -1}
	most := 0.0
	for i, j := range survey.Judge(d.network(list), d.opt) {
		if j.Named(leastRedundancy, mostAlike) {
			continue
		}
		out.bad++
		over := j.Correlation - mostAlike
		if j.Redundancy < leastRedundancy {
			over = 1
		}
		out.alike += over
		if over > most+1e-9 {
			most, out.worst = over, i
		}
	}
	return out
}

// around is how many posts near a reading are paired for further ones.
const around = 8

// complete adds readings, each the one that helps most near the worst, until every
// slip could be named: longer diagonals first, then second readings over the outer
// faces, which show other figures and so cannot be copied.
func (d *design) complete() {
	for most := len(d.list) + 3*len(d.posts); len(d.list) < most; {
		v := d.judge(d.list)
		if v.bad == 0 {
			return
		}
		near := d.window(d.list[v.worst])
		best, now := planned{}, near.judge(near.list)
		for _, c := range d.candidates(d.list[v.worst]) {
			if w := near.judge(append(slices.Clone(near.list), c)); w.better(now) {
				best, now = c, w
			}
		}
		if !best.extra {
			return // too few posts: nothing more can be read
		}
		d.list = append(d.list, best)
	}
}

// window is the plan near one reading: what a further reading there does is felt
// over two or three bays.
func (d *design) window(v planned) *design {
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
	return out
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
	if d.judge(d.list).bad > 0 {
		return
	}
	for i := len(d.list) - 1; i >= 0; i-- {
		if !d.list[i].extra {
			continue
		}
		if without := slices.Delete(slices.Clone(d.list), i, i+1); d.judge(without).bad == 0 {
			d.list = without
		}
	}
}

// drawn is the plan's network with every reading as drawn: what each will be worth
// in lengths.
func (d *design) drawn() survey.Network {
	net := d.network(d.list)
	for i, v := range d.list {
		net.Readings[i].Value = frame.Distance(d.s.lay.Posts[v.a].At, d.s.lay.Posts[v.b].At)
	}
	return net
}
