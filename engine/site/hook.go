package site

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// hooks are where a tape touched two posts, from the axis of each: a face's
// middle, a corner, or the axis itself.
type hooks [2]frame.Point

// hooked is where the tape of a distance or diagonal touched. Faces and corners
// are those of the drawn posts; a post out of place or a little twisted moves them
// along with it, to the second order in its twist.
func hooked(l *frame.Layout, r *job.Reading, a, b int) hooks {
	p, q := &l.Posts[a], &l.Posts[b]
	d := q.At.Sub(p.At)
	px, py := p.Sides()
	qx, qy := q.Sides()
	in := hooks{{X: half(px, d.X), Y: half(py, d.Y)}, {X: -half(qx, d.X), Y: -half(qy, d.Y)}}
	if r.Kind() == job.ReadDistance { // only along the line they stand in
		if d.X.Abs() >= d.Y.Abs() {
			in[0].Y, in[1].Y = 0, 0
		} else {
			in[0].X, in[1].X = 0, 0
		}
	}
	switch r.Touched() {
	case job.BetweenAxes:
		return hooks{}
	case job.BetweenOuter:
		return hooks{minus(in[0]), minus(in[1])}
	case job.BetweenSame: // the faces that look back to where the reading starts
		return hooks{minus(in[0]), in[1]}
	}
	return in
}

// half is half a side, on the side that d points to.
func half(side, d measure.Length) measure.Length {
	switch {
	case d > 0:
		return side / 2
	case d < 0:
		return -side / 2
	}
	return 0
}

func minus(p frame.Point) frame.Point { return frame.Point{X: -p.X, Y: -p.Y} }

// toAxes is what to add to a reading taken between hooks for it to run from axis
// to axis, the posts standing at p and q.
func (h hooks) toAxes(p, q frame.Point) measure.Length {
	if h == (hooks{}) {
		return 0
	}
	return frame.Distance(p, q) - frame.Distance(p.Add(h[0]), q.Add(h[1]))
}

// leaning moves hooks to the height the tape was held at, where the posts' leans
// are known.
func (h hooks) leaning(height measure.Length, leans [2]*Lean) hooks {
	for k, lean := range leans {
		if lean == nil || height == 0 {
			continue
		}
		x, _ := measure.MulDiv(int64(lean.Along), int64(height), int64(lean.Over), measure.Nearest)
		y, _ := measure.MulDiv(int64(lean.Across), int64(height), int64(lean.Over), measure.Nearest)
		h[k] = h[k].Add(frame.Point{X: measure.Length(x), Y: measure.Length(-y)})
	}
	return h
}

// plumb takes the latest plumb reading of each post, and at each face.
func (s *Site) plumb() {
	latest := map[string]int{}
	for i := range s.job.Readings {
		r := &s.job.Readings[i]
		if r.Kind() == job.ReadPlumb {
			latest[r.Plumb] = i
			s.Readings[i] = Reading{Name: "plumb of " + r.Plumb, Say: phrase.Of("slip.plumb", called("post", r.Plumb)), Status: Kept}
		}
	}
	for p := range s.lay.Posts {
		i, ok := latest[s.lay.Posts[p].Name]
		if !ok {
			continue
		}
		r := &s.job.Readings[i]
		s.Leans = append(s.Leans, Lean{Post: p, Along: r.Along, Across: r.Across, Over: r.Over, Face: r.Face, Source: r.Source()})
		s.tellLean(&s.Leans[len(s.Leans)-1])
	}
}

// lean is how a post leans; nil where nobody held it against a plumb bob.
func (s *Site) lean(post int) *Lean {
	for i := range s.Leans {
		if s.Leans[i].Post == post {
			return &s.Leans[i]
		}
	}
	return nil
}
