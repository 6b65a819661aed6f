package site

import (
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
	"stallwright/engine/survey"
)

// Limits of bringing readings between faces to the axes: each round the posts'
// places give the way from face to axis anew. It depends on them only to the
// second order, so that two or three rounds settle it.
const (
	mostRounds = 8
	settled    = measure.Micrometre
)

// planar is one structure's readings in plan.
type planar struct {
	s         *Site
	structure int
	index     []int // of each reading among the job's
	hooks     []hooks
	posts     []int // in the layout
	at        map[string]frame.Point
	net       survey.Network
}

// plane adjusts the posts of one structure.
func (s *Site) plane(structure int) {
	p := &planar{s: s, structure: structure, at: map[string]frame.Point{}}
	p.gather()
	if len(p.index) == 0 {
		return
	}
	opt := s.options()
	opt.PostFaces = p.faces()
	var r survey.Result
	for round := 0; round < mostRounds && (p.toAxes() || round == 0); round++ {
		r = survey.Adjust(p.net, opt)
		for _, v := range r.Points {
			if v.Determined {
				p.at[v.Name] = frame.Point{X: v.X, Y: v.Y}
			}
		}
	}
	p.take(r)
	p.tell(r)
}

// gather collects the structure's plane readings and the posts they touch.
func (p *planar) gather() {
	s, l := p.s, p.s.lay
	touched := map[int]bool{}
	for i := range s.job.Readings {
		r := &s.job.Readings[i]
		if k := r.Kind(); k == job.ReadLevel || k == job.ReadPlumb || k == "" {
			continue
		}
		var posts []int
		for _, name := range r.Posts() {
			if at, ok := l.Post(name); ok && l.Posts[at].Structure == p.structure && l.Posts[at].Kind != frame.Door {
				posts = append(posts, at)
			}
		}
		if len(posts) < len(r.Posts()) {
			continue // another structure's; frame has refused all else
		}
		for _, at := range posts {
			touched[at] = true
		}
		p.add(i, r, posts)
	}
	for i := range l.Posts {
		v := &l.Posts[i]
		if touched[i] {
			p.posts = append(p.posts, i)
			p.at[v.Name] = v.At
			p.net.Points = append(p.net.Points, survey.Point{Name: v.Name, X: v.At.X, Y: v.At.Y})
		}
	}
	for i := range l.Runs {
		r := &l.Runs[i]
		if touched[r.From] && touched[r.To] {
			p.net.Spans = append(p.net.Spans, [2]string{l.Posts[r.From].Name, l.Posts[r.To].Name})
		}
	}
}

// add takes one reading.
func (p *planar) add(i int, r *job.Reading, posts []int) {
	v := survey.Reading{Posts: r.Posts(), By: r.By, When: r.At}
	var h hooks
	switch r.Kind() {
	case job.ReadDistance, job.ReadDiagonal:
		if v.Kind = survey.Distance; r.Kind() == job.ReadDiagonal {
			v.Kind = survey.Diagonal
		}
		v.Value = r.Is
		h = hooked(p.s.lay, r, posts[0], posts[1]).leaning(r.Height, [2]*Lean{p.s.lean(posts[0]), p.s.lean(posts[1])})
		v.Name, v.Says = nameOf(v.Kind, r)
	case job.ReadOffset:
		if v.Kind, v.Value = survey.Offset, r.Is; r.Side == job.Right {
			v.Value = -r.Is
		}
	case job.ReadStraight:
		v.Kind, v.Value = survey.Straight, r.Off
	case job.ReadSquare:
		v.Kind, v.Value = survey.RightAngle, r.Off
	}
	p.index = append(p.index, i)
	p.hooks = append(p.hooks, h)
	p.net.Readings = append(p.net.Readings, v)
}

// nameOf is what a crew lead calls a distance or diagonal, and that in any language.
func nameOf(k survey.Kind, r *job.Reading) (string, phrase.Phrase) {
	a := survey.Advice{Kind: k, Posts: r.Posts()}
	name, say := a.String(), a.Say()
	reading := phrase.With("reading", say)
	switch {
	case r.Between == job.BetweenOuter && k == survey.Diagonal:
		return name + " over the outer corners", phrase.Of("slip.outer-corners", reading)
	case r.Between == job.BetweenOuter:
		return name + " over the outer faces", phrase.Of("slip.outer-faces", reading)
	case r.Between == job.BetweenSame:
		return name + " from like face to like face", phrase.Of("slip.like-faces", reading)
	case r.Between == job.BetweenAxes:
		return name + " from axis to axis", phrase.Of("slip.axes", reading)
	}
	return name, say
}

// faces are the sizes of the posts: a tape hooked on the wrong face is off by one.
func (p *planar) faces() []measure.Length {
	var out []measure.Length
	seen := map[measure.Length]bool{0: true}
	for _, i := range p.posts {
		x, y := p.s.lay.Posts[i].Sides()
		for _, l := range []measure.Length{x, y} {
			if !seen[l] {
				seen[l] = true
				out = append(out, l)
			}
		}
	}
	return out
}

// toAxes brings the readings to the posts' axes where they stand now. It says
// whether that changed any of them; if not, all are left as they were.
func (p *planar) toAxes() bool {
	add := make([]measure.Length, len(p.net.Readings))
	changed := false
	for k, r := range p.net.Readings {
		if r.Kind == survey.Distance || r.Kind == survey.Diagonal {
			add[k] = p.hooks[k].toAxes(p.at[r.Posts[0]], p.at[r.Posts[1]])
			changed = changed || (add[k]-r.Hooks).Abs() > settled
		}
	}
	for k := range p.net.Readings {
		if r := &p.net.Readings[k]; changed {
			r.Value += add[k] - r.Hooks
			r.Hooks = add[k]
		}
	}
	return changed
}

// take brings the survey's result into the site's terms.
func (p *planar) take(r survey.Result) {
	s := p.s
	for k, v := range r.Points {
		post := p.posts[k]
		drawn := s.lay.Posts[post].At
		out := Post{Post: post, Drawn: drawn, At: drawn, Placed: v.Determined}
		if v.Determined {
			out.At, out.SigmaX, out.SigmaY, out.Ellipse = frame.Point{X: v.X, Y: v.Y}, v.SigmaX, v.SigmaY, v.Ellipse
			if out.At != drawn && s.lay.Posts[post].Kind == frame.Timber {
				s.Places[v.Name] = out.At
			}
		}
		s.Posts = append(s.Posts, out)
	}
	for k, v := range r.Readings {
		s.Readings[p.index[k]] = readingOf(v, p.net.Readings[k].Hooks)
	}
	for _, v := range r.Spans {
		if v.Determined {
			s.spans[[2]string{v.From, v.To}] = v
		}
	}
	s.Tests = append(s.Tests, Test{p.structure, r.Test})
	s.Wanted = append(s.Wanted, r.Wanted...)
	touched := map[int]bool{}
	for _, i := range p.posts {
		touched[i] = true
	}
	for i := range s.lay.Posts {
		if v := &s.lay.Posts[i]; v.Structure == p.structure && v.Kind == frame.Timber && !touched[i] {
			s.Unread = append(s.Unread, v.Name)
		}
	}
}

// readingOf is an adjusted reading in the terms it was written in.
func readingOf(v survey.AdjustedReading, hooks measure.Length) Reading {
	r := Reading{
		Name: v.Name, Say: v.Say, Read: v.Value - hooks, Sigma: v.Sigma, Redundancy: v.Redundancy, W: v.W, Smallest: v.Smallest,
		Status: Unusable,
	}
	switch v.Status {
	case survey.Used:
		r.Status = Used
	case survey.SetAside:
		r.Status = SetAside
	default:
		return r
	}
	r.Makes, r.Off = v.Adjusted-hooks, v.Residual
	return r
}

// Because is the reason behind the distance between two posts that stand where
// readings put them, for frame.BuildAt; nil where it was drawn.
func (s *Site) Because(from, to string) *reason.Reason {
	_, moved := s.Places[from]
	_, too := s.Places[to]
	if !moved && !too {
		return nil
	}
	a, okA := s.lay.Post(from)
	b, okB := s.lay.Post(to)
	if !okA || !okB {
		return nil
	}
	l := frame.Distance(s.stands(a), s.stands(b))
	what := phrase.Of("why.axes", called("from", from), called("to", to))
	span, ok := s.spans[[2]string{from, to}]
	if !ok {
		return reason.Of(what, s.near(l), phrase.Of("rule.half-drawn"), phrase.Of("source.readings"))
	}
	var direct []*reason.Reason
	for i := range s.job.Readings {
		r := &s.job.Readings[i]
		if posts := r.Posts(); len(posts) == 2 && s.Readings[i].Status == Used && (posts[0] == from && posts[1] == to || posts[0] == to && posts[1] == from) {
			direct = append(direct, reason.Given(s.Readings[i].Say, phrase.Length(r.Is), r.Cite()))
		}
	}
	return reason.Of(what, s.near(l), phrase.Of("rule.posts-adjusted", phrase.With("plus", phrase.Name(s.plusMinus(span.Sigma)))), phrase.Of("source.readings-of", phrase.With("place", phrase.Name(s.lay.Structures[s.lay.Posts[a].Structure].Name))), direct...)
}

// stands is where a post stands as far as is known.
func (s *Site) stands(post int) frame.Point {
	if at, ok := s.Places[s.lay.Posts[post].Name]; ok {
		return at
	}
	return s.lay.Posts[post].At
}

// plusMinus writes a standard deviation, rounded up to a quarter of the mark.
func (s *Site) plusMinus(l measure.Length) string {
	return l.Round(max(s.tape.Mark/4, measure.SixtyFourthInch/4), measure.Up).In(s.job.Units)
}

// Moved says whether any standing post is known to stand elsewhere than drawn.
func (s *Site) Moved() bool { return len(s.Places) > 0 }

// Unframed tells that the posts where they stand leave no job to frame; the plan
// then keeps to the drawing.
func (s *Site) Unframed(why error) {
	place := s.job.Farm.Name
	s.find(finding.PostsUnframed, finding.Error, place, "with the posts where the readings put them the job cannot be framed, so the plan keeps to the drawing: "+firstLine(why.Error()),
		phrase.Of("way.suspects-first"), phrase.Of("way.correct-standing"))
	s.say("found.unframed")
	finding.Sort(s.Findings)
}

func firstLine(s string) string {
	for i, c := range s {
		if c == '\n' {
			return s[:i]
		}
	}
	return s
}
