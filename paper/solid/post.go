package solid

import (
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// Above the walls standing timber goes on to its roof; so much of it is drawn
// (common practice, no published source).
const timberAbove = 12 * measure.Inch

// post adds a principal or door post and what it stands on.
func (b *builder) post(i int) {
	p := &b.Layout.Posts[i]
	switch p.Kind {
	case frame.Timber:
		b.timber(i)
	case frame.Steel:
		b.shared(i)
		b.base(i)
	case frame.Door:
		b.doorPost(i)
	case frame.Joint:
		b.base(i)
		b.pins(i)
	}
}

// meeting is how a run meets one of its posts: its frame turned so that x points
// from the post into the run.
type meeting struct {
	run   int
	side  int // 0: the post is the run's left one
	frame Frame
	// web is the inner face of the channel's web from the post's axis.
	web measure.Length
}

// meets tells how a run meets its left or right post.
func (b *builder) meets(run, side int) meeting {
	r, f := &b.Layout.Runs[run], &b.run[run]
	m := meeting{run: run, side: side}
	if side == 0 {
		at := b.Layout.Posts[r.From].At
		m.frame = NewFrame(at, f.frame.Way)
		m.web = f.left + shift(at, f.frame)
		return m
	}
	at := b.Layout.Posts[r.To].At
	m.frame = NewFrame(at, frame.Point{X: -f.frame.Way.X, Y: -f.frame.Way.Y})
	m.web = frame.Distance(f.frame.At, at) - f.right
	return m
}

// shift is how far a frame's zero stands past a place, along its way.
func shift(at frame.Point, f Frame) measure.Length {
	d := frame.Distance(at, f.At)
	if back := f.Back(Vec{at.X.Metres(), at.Y.Metres(), 0}); back.X > 0 {
		return -d
	}
	return d
}

// at lists how built runs meet a post.
func (b *builder) meetings(post int) []meeting {
	var out []meeting
	for _, run := range b.at[post] {
		side := 0
		if b.Layout.Runs[run].To == post {
			side = 1
		}
		out = append(out, b.meets(run, side))
	}
	return out
}

// timber is a standing post. Where a channel or frame is known to stand further
// in than the timber's drawn face, that face is drawn where the steel lies on it.
func (b *builder) timber(i int) {
	p := &b.Layout.Posts[i]
	section := rect(-p.Along/2, p.Along/2, -p.Across/2, p.Across/2)
	f := NewFrame(p.At, frame.Point{X: 1})
	for _, m := range b.meetings(i) {
		r := &b.Layout.Runs[m.run]
		back := m.web
		switch {
		case r.Channel != nil:
			back -= r.Channel.Web
		case r.EndPost != nil:
			back -= r.EndPost.Reach
		}
		if v := b.narrowest(m); v != 0 {
			back -= v
		}
		section = clip(section, f, m.frame, back)
	}
	if len(section) < 3 {
		return
	}
	top := b.Layout.Structures[p.Structure].Height + timberAbove
	b.add(Solid{Name: p.Name, Piece: -1, Kind: Timber, Structure: p.Structure, Run: -1, Bay: -1, Post: i,
		Parts: parts(f, Prism{Axis: Up, To: top, Outline: [][]Point{section}})})
}

// narrowest is how much further out a tapered bay's channel stands at its widest
// height than where it is narrowest.
func (b *builder) narrowest(m meeting) measure.Length {
	r := &b.Layout.Runs[m.run]
	bay := r.Bays[0]
	if m.side == 1 {
		bay = r.Bays[len(r.Bays)-1]
	}
	t := b.Fit.Bays[bay].Taper
	if t == nil || t.Shimmed {
		return 0
	}
	most := measure.Length(0)
	for _, w := range t.Widths {
		most = max(most, (w-b.Fit.Bays[bay].Clear)/2)
	}
	return most
}

// clip keeps of a convex section, given in frame f, what lies at x ≤ limit of
// frame g, to the nanometre.
func clip(section []Point, f, g Frame, limit measure.Length) []Point {
	at := func(q Point) float64 {
		return g.Back(f.Place(q.U.Metres(), q.V.Metres(), 0)).X - limit.Metres()
	}
	const nm = 0.5e-9
	var out []Point
	for i, q := range section {
		r := section[(i+1)%len(section)]
		a, c := at(q), at(r)
		if a <= nm {
			out = append(out, q)
		}
		if a > nm && c < -nm || a < -nm && c > nm {
			t := a / (a - c)
			out = append(out, Point{q.U + scaled(r.U-q.U, t), q.V + scaled(r.V-q.V, t)})
		}
	}
	return slices.Compact(out)
}

// shared is a steel post that runs share: its body, and a channel for each run
// that meets it. Where tubes lie, the body is cut back to their ends.
func (b *builder) shared(i int) {
	p := &b.Layout.Posts[i]
	piece := b.pieceNamed(p.Name)
	if piece < 0 {
		return
	}
	s := b.ofPiece(piece, Steel)
	s.Structure, s.Post, s.Welded = p.Structure, i, true
	f := NewFrame(p.At, frame.Point{X: 1})
	k := p.Item
	wall := attached(k)
	section := rect(-p.Along/2, p.Along/2, -p.Across/2, p.Across/2)
	height := b.Fit.Pieces[piece].Length
	var cuts []cutBack
	for _, m := range b.meetings(i) {
		r := &b.Layout.Runs[m.run]
		// The body ends behind the web, wherever that was measured to stand.
		section = clip(section, f, m.frame, m.web-b.narrowest(m)-min(wall, m.web))
		for _, t := range b.run[m.run].tubes {
			x := t.x[0] + (m.web - b.run[m.run].left)
			if m.side == 1 {
				x = b.run[m.run].right - t.x[1] + m.web
			}
			if x < m.web+r.Ends[m.side].Leg {
				cuts = append(cuts, cutBack{m.frame, x, t.z})
			}
		}
		s.Parts = append(s.Parts, b.attachedChannel(m, k, p.Along/2)...)
	}
	s.Parts = append(s.Parts, b.body(f, section, wall, -b.drop(i), height, cuts)...)
	b.add(s)
}

// attached is how thick the walls of a post are whose channels stand on its
// sides: as thick as those channels' webs (common practice, no published source).
func attached(k *kit.Post) measure.Length {
	if t := k.Reach - k.Along/2; t > 0 {
		return t
	}
	return max((k.Across-k.Inside)/2, measure.Millimetre)
}

// cutBack is a tube that a post's body makes room for.
type cutBack struct {
	frame Frame
	x     measure.Length // the body stays at x ≤ this
	z     [2]measure.Length
}

// drop is how much lower than the highest floor a post stands: as the highest of
// the runs that meet it.
func (b *builder) drop(post int) measure.Length {
	least, first := measure.Length(0), true
	for _, run := range b.at[post] {
		if d := b.Layout.Runs[run].Drop; first || d < least {
			least, first = d, false
		}
	}
	return least
}

// body is an upright tube from a foot on, as high as said, with room cut for what
// enters it.
func (b *builder) body(f Frame, section []Point, wall, foot, height measure.Length, cuts []cutBack) []Part {
	knots := []measure.Length{foot, foot + height}
	for _, c := range cuts {
		for _, z := range c.z {
			if z > foot && z < foot+height {
				knots = append(knots, z)
			}
		}
	}
	slices.Sort(knots)
	knots = slices.Compact(knots)
	var out []Part
	for k := 1; k < len(knots); k++ {
		lo, hi := knots[k-1], knots[k]
		left, whole := section, true
		for _, c := range cuts {
			if c.z[0] < hi && c.z[1] > lo {
				if at := clip(left, f, c.frame, c.x); len(at) != len(left) || !slices.Equal(at, left) {
					left, whole = at, false
				}
			}
		}
		if len(left) < 3 {
			continue
		}
		p := Prism{Axis: Up, From: lo, To: hi, Outline: [][]Point{left}}
		if whole && len(left) == 4 {
			if u0, u1, v0, v1, ok := upright(left); ok {
				p.Outline, p.Cover = hollow(u0, u1, v0, v1, wall)
			}
		}
		out = append(out, Part{f, p})
	}
	return out
}

// upright says whether four corners are those of a rectangle along the axes.
func upright(q []Point) (u0, u1, v0, v1 measure.Length, ok bool) {
	u0, u1, v0, v1 = q[0].U, q[0].U, q[0].V, q[0].V
	for _, p := range q {
		u0, u1, v0, v1 = min(u0, p.U), max(u1, p.U), min(v0, p.V), max(v1, p.V)
	}
	for _, p := range q {
		if (p.U != u0 && p.U != u1) || (p.V != v0 && p.V != v1) {
			return 0, 0, 0, 0, false
		}
	}
	return u0, u1, v0, v1, u0 < u1 && v0 < v1
}

// attachedChannel is the channel on a post's side for one run, over the run's
// board zone: above and below it lie the tubes. back is the side of the body.
func (b *builder) attachedChannel(m meeting, k *kit.Post, back measure.Length) []Part {
	r := &b.Layout.Runs[m.run]
	bay := r.Bays[0]
	if m.side == 1 {
		bay = r.Bays[len(r.Bays)-1]
	}
	return b.zoneChannel(bay, m.side, m.frame, m.web, min(back, m.web-min(attached(k), m.web)), k.Inside, k.Leg, attached(k), b.datum(r), r.Zone)
}

// zoneChannel is a channel over a board zone, its web's inner face at web where
// its bay is narrowest, its back never further in than back. Where the bay
// tapers it follows what was measured, half on each side.
func (b *builder) zoneChannel(bay, side int, f Frame, web, back, inside, depth, leg, datum, length measure.Length) []Part {
	t := b.Fit.Bays[bay].Taper
	if t == nil || t.Shimmed || b.Layout.Bays[bay].IsDoor() {
		outline, cover := channel(back, web, web+depth, inside, leg)
		return parts(f, Prism{Axis: Up, From: datum, To: datum + length, Outline: outline, Cover: cover})
	}
	var out []Part
	put := func(lo, hi, from, to measure.Length) {
		if lo >= hi {
			return
		}
		outline, cover := channel(min(back, from-leg), from, from+depth, inside, leg)
		out = append(out, Part{f, Prism{Axis: Up, From: datum + lo, To: datum + hi, Outline: outline, Cover: cover, Lean: Point{U: to - from}}})
	}
	clear := b.Fit.Bays[bay].Clear
	at := func(k int) measure.Length { return web - (t.Widths[k]-clear)/2 }
	n := len(t.Heights) - 1
	for k := range n {
		lo, hi := t.Heights[k], min(t.Heights[k+1], length)
		to := at(k + 1)
		if hi < t.Heights[k+1] {
			to = at(k) + scaled(at(k+1)-at(k), float64(hi-lo)/float64(t.Heights[k+1]-lo))
		}
		put(lo, hi, at(k), to)
	}
	put(t.Heights[n], length, at(n), at(n))
	return out
}

// integral is a post whose channel is cut into its own section: its body from
// back to web, legs on to the face. It is added at each end of a run that brings
// posts of its own.
func (b *builder) integral(run, side, piece int) {
	r := &b.Layout.Runs[run]
	m := b.meets(run, side)
	k := r.EndPost
	back := m.web - k.Reach
	if r.Assembly.Ends == kit.EndsOwn {
		back = m.web + k.Leg - k.Along
	}
	s := b.ofPiece(piece, Steel)
	s.Welded = true
	leg := max((k.Across-k.Inside)/2, measure.Millimetre)
	height := b.Fit.Pieces[piece].Length
	section := rect(back, m.web, -k.Across/2, k.Across/2)
	var cuts []cutBack
	for _, t := range b.run[run].tubes {
		x := t.x[0] + (m.web - b.run[run].left)
		if side == 1 {
			x = b.run[run].right - t.x[1] + m.web
		}
		if x < m.web+k.Leg {
			cuts = append(cuts, cutBack{m.frame, max(x, back), t.z})
		}
	}
	s.Parts = b.body(m.frame, section, leg, -r.Drop, height, cuts)
	bay := r.Bays[0]
	if side == 1 {
		bay = r.Bays[len(r.Bays)-1]
	}
	if t := b.Fit.Bays[bay].Taper; t == nil || t.Shimmed {
		for _, y := range []measure.Length{-1, 1} {
			v0, v1 := k.Inside/2, k.Inside/2+leg
			if y < 0 {
				v0, v1 = -v1, -v0
			}
			s.Parts = append(s.Parts, parts(m.frame, box(m.web, m.web+k.Leg, v0, v1, b.datum(r), b.datum(r)+r.Zone))...)
		}
	} else {
		s.Parts = append(s.Parts, b.zoneChannel(bay, side, m.frame, m.web, m.web-b.narrowest(m)-measure.Millimetre, k.Inside, k.Leg, leg, b.datum(r), r.Zone)...)
	}
	b.add(s)
	if r.Assembly.Ends == kit.EndsMounted {
		b.lags(run, side, kit.JointMounted, m, -r.Drop, height-r.Drop)
	}
}

// pieceNamed finds a post's piece by its label; -1 where it has none.
func (b *builder) pieceNamed(label string) int {
	if i, ok := b.posts[label]; ok {
		return i
	}
	return -1
}
