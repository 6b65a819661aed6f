package site

import (
	"cmp"
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
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
	ring  bool // a pen's piers
	stage Stage
	posts []int // standing posts, in the layout's order
	list  []planned
	opt   survey.Options
}

// design plans what to read between the standing posts of a structure: each bay,
// each way across, both diagonals of each field, and of longer diagonals or second
// readings over the outer corners as few as let every slip be named. Nil where
// fewer than two posts are standing timber: steel comes as it was made.
func (s *Site) design(structure int) *design {
	d := &design{s: s, opt: s.options(), stage: StageFirst}
	for i := range s.lay.Posts {
		p := &s.lay.Posts[i]
		if p.Structure != structure {
			continue
		}
		// A foot on the ground goes where its pin comes down; a pier stays where it was
		// poured, and the ring closes on it or does not.
		pier := p.Kind == frame.Joint && p.Base != nil && p.Base.Kind == kit.Pier
		if p.Kind == frame.Timber || pier {
			d.posts = append(d.posts, i)
			d.ring = d.ring || pier
		}
	}
	if len(d.posts) < 2 {
		return nil
	}
	if d.ring {
		d.stage = StagePiers
		d.round()
		return d
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

// round plans a pen's piers: each to the next, skipping one, and across. Two tapes
// at each pier place it, the third and the way across check and name.
func (d *design) round() {
	n := len(d.posts)
	for i := range d.posts {
		d.add(d.posts[i], d.posts[(i+1)%n])
	}
	for _, step := range []int{2, n / 2} {
		for i := range d.posts {
			if step < 2 || step == n-1 {
				continue
			}
			before := len(d.list)
			d.add(d.posts[i], d.posts[(i+step)%n])
			if len(d.list) > before {
				d.list[before].extra = true
			}
		}
	}
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
	if lines != 2 {
		return
	}
	// Between two lines alone every field's diagonals are checked by each other only,
	// so that longer ones are needed all along; thin takes out what can be spared.
	first := len(d.list)
	for n := 1; n+2 <= most; n++ {
		read(0, n, 1, n+2)
		read(1, n, 0, n+2)
	}
	for i := first; i < len(d.list); i++ {
		d.list[i].extra = true
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
	for _, i := range d.posts {
		d.tie(i)
	}
}

// tie gives a post the readings that place it (two), check one of them (three) and
// tell which is wrong (four), to the nearest posts within reach.
func (d *design) tie(post int) {
	const enough = 4
	n := 0
	for _, v := range d.list {
		if v.a == post || v.b == post {
			n++
		}
	}
	at := d.s.lay.Posts[post].At
	for _, q := range d.nearest(post, len(d.posts)) {
		if n >= enough || frame.Distance(at, d.s.lay.Posts[q].At) > tapeReach {
			return
		}
		if !d.has(post, q, false) {
			v := d.reading(min(post, q), max(post, q))
			v.extra = true
			d.list = append(d.list, v)
			n++
		}
	}
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
	case d.ring:
		v.touched = job.BetweenAxes
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

// claimed says whether the posts of a reading are planned to be read in this other
// way too.
func (d *design) claimed(v planned, touched job.Between) bool {
	return slices.ContainsFunc(d.list, func(o planned) bool {
		return o.touched == touched && (o.a == v.a && o.b == v.b || o.a == v.b && o.b == v.a)
	})
}

// walk is the order of a plan's readings: along the posts as they are numbered,
// each reading where the later of its two posts is reached.
func (d *design) walk() []int {
	if d.ring { // round the ring with one tape after another
		order := make([]int, len(d.list))
		for i := range order {
			order[i] = i
		}
		return order
	}
	key := func(v planned) [3]int {
		a, b := numbered(d.s.lay.Posts[v.a].Name), numbered(d.s.lay.Posts[v.b].Name)
		line := min(lineOf(d.s.lay.Posts[v.a].Name), lineOf(d.s.lay.Posts[v.b].Name))
		return [3]int{max(a, b), line, min(a, b)}
	}
	order := make([]int, len(d.list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		a, b := key(d.list[i]), key(d.list[k])
		return slices.Compare(a[:], b[:])
	})
	return order
}
