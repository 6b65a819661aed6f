package setout

import (
	"cmp"
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// grid sets out the posts of free-standing rows, which stand in lines from west
// to east. The baseline is the first row's front line.
func (m *maker) grid(s int, o *Structure) {
	lines := m.postLines(s)
	if len(lines) < 2 || len(lines[0]) < 2 {
		return
	}
	posts := m.layout.Posts
	base := lines[1] // back line, front line, and so on from north to south
	a, b := base[0], base[len(base)-1]
	src := phrase.Of("source.job-structure", called("structure", o.Name), called("at", m.job.Structures[s].Pos().String()))
	g := &Grid{From: m.name(a), To: m.name(b)}
	g.Length = m.of(frame.Distance(posts[a].At, posts[b].At), phrase.Of("why.baseline", phrase.With("from", phrase.Name(g.From)), phrase.With("to", phrase.Name(g.To))), phrase.Of("rule.rooms-on"), src)
	m.frames(g, lines)
	m.squares(g, lines)
	corner := map[string]bool{}
	for i := range g.Frames {
		for _, c := range g.Frames[i].Corners {
			corner[c] = true
		}
	}
	origin := reason.Given(phrase.Of("why.zero"), phrase.Name("0"), phrase.Of("source.first-stake", phrase.With("from", phrase.Name(g.From)), phrase.With("to", phrase.Name(g.To))))
	for _, line := range lines {
		for _, p := range line {
			at := project(posts[p].At, posts[a].At, posts[b].At)
			name := m.name(p)
			g.Stakes = append(g.Stakes, Stake{Post: p, Name: name, Corner: corner[name],
				X: m.of(at.X, phrase.Of("why.along", phrase.With("post", phrase.Name(name))), phrase.Of("rule.rooms-before"), src, origin),
				Y: m.of(at.Y, phrase.Of("why.left-of", phrase.With("post", phrase.Name(name))), phrase.Of("rule.depths"), src, origin)})
		}
	}
	o.Grid = g
	m.running(o, lines, src)
}

// postLines lists a structure's posts line by line from north to south, each
// from west to east.
func (m *maker) postLines(s int) [][]int {
	posts := m.layout.Posts
	list := slices.Clone(m.posts[s])
	slices.SortStableFunc(list, func(i, k int) int {
		return cmp.Or(cmp.Compare(posts[k].At.Y, posts[i].At.Y), cmp.Compare(posts[i].At.X, posts[k].At.X))
	})
	var lines [][]int
	for n, p := range list {
		if n == 0 || posts[p].At.Y != posts[list[n-1]].At.Y {
			lines = append(lines, nil)
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], p)
	}
	return lines
}

// frames are the corner stakes between each two lines, and of the whole.
func (m *maker) frames(g *Grid, lines [][]int) {
	add := func(kind FrameKind, north, south []int) {
		g.Frames = append(g.Frames, m.frameOf(kind, [4]int{south[0], south[len(south)-1], north[len(north)-1], north[0]}))
	}
	kinds := []FrameKind{FrameFirstRow, FrameAisle, FrameSecondRow}
	for i := 1; i < len(lines); i++ {
		kind := kinds[min(i, len(kinds))-1]
		if len(lines) == 2 {
			kind = FrameRow
		}
		add(kind, lines[i-1], lines[i])
	}
	if len(lines) > 2 {
		add(FrameWhole, lines[0], lines[len(lines)-1])
	}
}

// frameOf measures round four corners and across.
func (m *maker) frameOf(kind FrameKind, c [4]int) Frame {
	f := Frame{Kind: kind}
	at := func(i int) frame.Point { return m.layout.Posts[c[i%4]].At }
	for i := range c {
		f.Corners[i] = m.name(c[i])
	}
	var sides []*reason.Reason
	for i := range c {
		d := frame.Distance(at(i), at(i+1))
		f.Sides[i] = m.of(d, phrase.Of("why.from-to", phrase.With("from", phrase.Name(f.Corners[i])), phrase.With("to", phrase.Name(f.Corners[(i+1)%4]))), phrase.Of("rule.two-stakes"), phrase.Phrase{})
		sides = append(sides, f.Sides[i].Why)
	}
	for i := range f.Diagonals {
		d := frame.Distance(at(i), at(i+2))
		f.Diagonals[i] = m.of(d, phrase.Of("why.diagonal", phrase.With("from", phrase.Name(f.Corners[i])), phrase.With("to", phrase.Name(f.Corners[i+2]))), phrase.Of("rule.diagonal-stakes"), phrase.Of("source.pythagoras"), sides...)
	}
	f.Tolerance = m.tolerance(max(f.Diagonals[0].Value, f.Diagonals[1].Value))
	return f
}

// A tape is good to 1/16 in and one part in 5,000 of its length, one standard
// deviation (as the survey takes it; common practice, no published source). Two
// of these are still the tape; more is a stake in the wrong place.
const (
	tapeFixed = measure.SixteenthInch
	tapeParts = 5000
	tapeTimes = 2
)

// tolerance is how far a taped check over a length may be off.
func (m *maker) tolerance(l measure.Length) Number {
	t := m.tape.Round(tapeTimes*(tapeFixed+l/tapeParts), measure.Up)
	return m.of(t, phrase.Of("why.tolerance"), phrase.Of("rule.tape-twice"), phrase.Of("source.practice"), reason.Given(phrase.Of("why.over"), m.near(l), phrase.Of("source.check")))
}

// squares are the right angles at the baseline's ends.
func (m *maker) squares(g *Grid, lines [][]int) {
	front := lines[1]
	// The side that is longer takes the longer triangle.
	other := lines[0]
	if posts := m.layout.Posts; len(lines) > 2 && posts[front[0]].At.Y-posts[lines[len(lines)-1][0]].At.Y > posts[lines[0][0]].At.Y-posts[front[0]].At.Y {
		other = lines[len(lines)-1]
	}
	ends := [][3]int{{front[0], front[len(front)-1], other[0]}}
	if last := other[len(other)-1]; m.layout.Posts[last].At.X == m.layout.Posts[front[len(front)-1]].At.X {
		ends = append(ends, [3]int{front[len(front)-1], front[0], last})
	}
	for _, e := range ends {
		if sq, ok := m.square(e[0], e[1], e[2]); ok {
			g.Squares = append(g.Squares, sq)
		}
	}
}

// square is the largest 3-4-5 triangle of the tape's whole steps that fits along
// two sides that meet at a stake.
func (m *maker) square(at, along, across int) (Square, bool) {
	posts := m.layout.Posts
	a := frame.Distance(posts[at].At, posts[along].At)
	b := frame.Distance(posts[at].At, posts[across].At)
	legs, ok := ThreeFourFive(a, b, m.step())
	if !ok {
		return Square{}, false
	}
	sq := Square{At: m.name(at), Along: m.name(along), Across: m.name(across)}
	rule := phrase.Of("rule.largest-square", m.size("step", m.step()), m.size("along", a), m.size("across", b))
	for i := range sq.Legs {
		sq.Legs[i] = m.of(legs[i], phrase.Of("why.leg", phrase.With("post", phrase.Name(sq.At))), rule, phrase.Phrase{})
	}
	sq.Hyp = m.of(legs[2], phrase.Of("why.hypotenuse", phrase.With("post", phrase.Name(sq.At))), phrase.Of("rule.three-four-five"), phrase.Of("source.pythagoras"), sq.Legs[0].Why, sq.Legs[1].Why)
	return sq, true
}

// step is what a 3-4-5 goes up in: a foot, or half a metre.
func (m *maker) step() measure.Length {
	if m.job.Units == measure.Metric {
		return measure.Metre / 2
	}
	return measure.Foot
}

// ThreeFourFive finds the largest right triangle of 3, 4 and 5 times a whole
// number of steps whose legs fit on two sides. The third length lies between the
// ends of the first two. ok is false where not even one step fits.
func ThreeFourFive(along, across, step measure.Length) (legs [3]measure.Length, ok bool) {
	four := min(along.DivDown(4*step), across.DivDown(3*step)) // 4 along
	three := min(along.DivDown(3*step), across.DivDown(4*step))
	n, first, second := four, measure.Length(4), measure.Length(3)
	if three > four {
		n, first, second = three, 3, 4
	}
	if n < 1 {
		return legs, false
	}
	k := measure.Length(n) * step
	return [3]measure.Length{first * k, second * k, 5 * k}, true
}

// running are the tape's readings along each line of posts, and across the
// lines at both ends.
func (m *maker) running(o *Structure, lines [][]int, src phrase.Phrase) {
	kinds := []LineKind{LineBack, LineFront, LineSecondFront, LineSecondBack}
	for i, line := range lines {
		o.Lines = append(o.Lines, m.runningLine(kinds[min(i, len(kinds)-1)], line, src))
	}
	first, last := []int{}, []int{}
	for _, line := range lines {
		first, last = append(first, line[0]), append(last, line[len(line)-1])
	}
	o.Lines = append(o.Lines, m.runningLine(LineFirstEnd, first, src))
	x := m.layout.Posts[last[0]].At.X
	for _, p := range last {
		if m.layout.Posts[p].At.X != x {
			return // lines of unlike length have no common last end
		}
	}
	o.Lines = append(o.Lines, m.runningLine(LineLastEnd, last, src))
}

func (m *maker) runningLine(kind LineKind, line []int, src phrase.Phrase) Line {
	l := Line{Kind: kind, Zero: m.name(line[0])}
	zero := m.layout.Posts[line[0]].At
	for _, p := range line[1:] {
		d := frame.Distance(zero, m.layout.Posts[p].At)
		l.Marks = append(l.Marks, Mark{What: MarkStake, At: m.name(p), From: m.of(d, phrase.Of("why.from-to", phrase.With("from", phrase.Name(m.name(line[0]))), phrase.With("to", phrase.Name(m.name(p)))), phrase.Of("rule.sum-between"), src)})
	}
	return l
}

// free sets out the steel posts of a free form from a baseline along its first
// wall, each by coordinates and by ties from the baseline's ends.
func (m *maker) free(s int, o *Structure) {
	if len(m.posts[s]) == 0 {
		return
	}
	posts := m.layout.Posts
	a, b := -1, -1
	for i := range m.layout.Walls {
		if w := &m.layout.Walls[i]; w.Structure == s && len(w.Runs) > 0 {
			a, b = m.layout.Runs[w.Runs[0]].From, m.layout.Runs[w.Runs[len(w.Runs)-1]].To
			break
		}
	}
	if a < 0 || posts[a].At == posts[b].At {
		return
	}
	src := phrase.Of("source.job-structure", called("structure", o.Name), called("at", m.job.Structures[s].Pos().String()))
	g := &Grid{From: m.name(a), To: m.name(b)}
	g.Length = m.of(frame.Distance(posts[a].At, posts[b].At), phrase.Of("why.baseline", phrase.With("from", phrase.Name(g.From)), phrase.With("to", phrase.Name(g.To))), phrase.Of("rule.diagonal-posts"), src)
	for _, p := range m.posts[s] {
		at := project(posts[p].At, posts[a].At, posts[b].At)
		name := m.name(p)
		st := Stake{Post: p, Name: name,
			X: m.of(at.X, phrase.Of("why.along", phrase.With("post", phrase.Name(name))), phrase.Of("rule.turned"), src),
			Y: m.of(at.Y, phrase.Of("why.left-of", phrase.With("post", phrase.Name(name))), phrase.Of("rule.turned"), src)}
		for i, end := range []int{a, b} {
			st.Ties[i] = m.of(frame.Distance(posts[p].At, posts[end].At), phrase.Of("why.from-to", phrase.With("from", phrase.Name(m.name(end))), phrase.With("to", phrase.Name(name))), phrase.Of("rule.diagonal-posts"), src)
		}
		g.Stakes = append(g.Stakes, st)
	}
	o.Grid = g
}
