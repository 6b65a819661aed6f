package steps

import (
	"math"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/paper/draw"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// joint is a place worth seeing larger.
type joint struct {
	at    solid.Vec
	reach float64 // of what is shown round it, in metres
}

// detail is the joint of the step that is too small to see; nil for none.
func (p *picture) detail() *joint {
	if p.has(build.Seat, build.Pour) {
		return nil
	}
	best, seen := -1, 0.0
	worth := map[int]float64{}
	for i := range p.lines {
		l := &p.lines[i]
		if !p.cast[l.Body].added {
			continue
		}
		if x0, y0, x1, y1, ok := p.box.clip(l.X0, l.Y0, l.X1, l.Y1); ok {
			worth[l.Body] += hypot(x1-x0, y1-y0)
		}
	}
	for i := range p.cast {
		a := &p.cast[i]
		if !a.added || worth[i] == 0 || !p.own(a) && !(p.has(build.Hang, build.Anchor) && p.scene.Solids[a.solid].Piece < 0) {
			continue
		}
		if w := float64(p.small(a) * worth[i]); w > seen {
			best, seen = i, w
		}
	}
	if best < 0 {
		return nil
	}
	a := &p.cast[best]
	s := &p.scene.Solids[a.solid]
	j := &joint{at: p.bounds(a).Centre(), reach: 0.16}
	if p.isBase(a.solid) {
		j.reach = 0.24
	}
	if s.Piece < 0 {
		if a.move != (solid.Vec{}) { // between where it is drawn and where it goes
			j.at, j.reach = j.at.Sub(a.move.Times(0.6)), 0.2
		}
		return j
	}
	if at, ok := p.screwed(s); ok {
		return &joint{at: at, reach: 0.22}
	}
	// Of a long part that end at which most is to be seen.
	most := 0.0
	for _, at := range p.ends(a) {
		if s.Kind == solid.Panel { // its lower channel
			at.Z = p.bounds(a).Min.Z + 0.03
		}
		if m := p.ink(at, j.reach, best); m > most {
			most, j.at = m, at
		}
	}
	if most == 0 {
		return nil
	}
	return j
}

// screwed is where the lowest screw of a channel or post is drawn that the step
// lags.
func (p *picture) screwed(s *solid.Solid) (solid.Vec, bool) {
	head, _, _ := strings.Cut(s.Name, " ")
	for i := range p.cast {
		a := &p.cast[i]
		if v := &p.scene.Solids[a.solid]; a.added && p.own(a) && v.Run == s.Run && strings.HasPrefix(v.Name, head+" lag") {
			c := a.box.Centre()
			return c.Add(a.move.Times(0.75)), true
		}
	}
	return solid.Vec{}, false
}

// ends are the middles of a part's two ends.
func (p *picture) ends(a *actor) [2]solid.Vec {
	b := p.bounds(a)
	c, d := b.Centre(), b.Max.Sub(b.Min)
	along := solid.Vec{Z: d.Z / 2}
	if flat := hypot(d.X, d.Y); flat > d.Z {
		// The two corners of its box in plan between which it runs.
		along = solid.Vec{X: d.X / 2, Y: d.Y / 2}
		if q := a.mesh.Points[0].Add(a.move).Sub(c); q.X*q.Y < 0 {
			along.Y = -along.Y
		}
	}
	in := math.Max(0, 1-0.04/math.Max(along.Norm(), 0.04))
	return [2]solid.Vec{c.Sub(along.Times(in)), c.Add(along.Times(in))}
}

// ink is how much line is seen within a reach of a place: that of a part, and
// half as much worth that of others.
func (p *picture) ink(at solid.Vec, reach float64, actor int) float64 {
	c := p.cam.On(at)
	own, others := 0.0, 0.0
	for i := range p.lines {
		l := &p.lines[i]
		x0, y0, x1, y1, ok := clipCircle(l.X0-c.X, l.Y0-c.Y, l.X1-c.X, l.Y1-c.Y, reach)
		if !ok {
			continue
		}
		if long := hypot(x1-x0, y1-y0); l.Body == actor {
			own += long
		} else {
			others += long
		}
	}
	if own < reach/2 {
		return 0
	}
	return own + math.Min(others, 4*reach)/2
}

// small is how much a part wants to be seen larger: hardware most, then what
// joins at an end.
func (p *picture) small(a *actor) float64 {
	s := &p.scene.Solids[a.solid]
	name := s.Name[strings.LastIndex(s.Name, "/")+1:]
	switch {
	case p.isFastener(a.solid):
		return 0
	case s.Piece < 0 && (strings.HasSuffix(name, " bracket") && !strings.HasPrefix(name, "track") || strings.HasPrefix(name, "clamp") || strings.HasPrefix(name, "roller") || strings.HasPrefix(name, "hinge")):
		return 20
	case s.Piece < 0 && (strings.HasSuffix(name, " pin") || name == "base"):
		return 30
	case s.Piece < 0:
		return 0
	}
	switch p.Fit.Pieces[s.Piece].Kind {
	case fit.Channel:
		return 3
	case fit.Post:
		if s.Run >= 0 {
			return 2
		}
	case fit.Grille:
		return 2
	case fit.Board:
		if a.move != (solid.Vec{}) && !p.isLeaf(s) && p.firstCourse(s.Bay) {
			return 1
		}
	}
	return 0
}

// firstCourse says whether the step loads the first course of a bay: there it is
// worth seeing which way up a board goes.
func (p *picture) firstCourse(bay int) bool {
	for _, i := range p.step.Adds {
		if q := &p.Fit.Pieces[i]; q.Bay == bay && q.Kind == fit.Board && q.Course == 1 {
			return true
		}
	}
	return false
}

// enlarge draws a joint again in a circle, and rings it in the picture.
func (p *picture) enlarge(j *joint, at draw.PaperPoint, radius draw.Micron) {
	scale := float64(radius) / j.reach
	if scale < p.scale*2 {
		return // it is as large already
	}
	c := p.cam.On(j.at)
	near := solid.Box{Min: j.at, Max: j.at}.Grown(j.reach * 2.2)
	var bodies []hidden.Body
	var cast []int
	for i := range p.cast {
		a := &p.cast[i]
		if p.bounds(a).Meets(near) || p.spread(a).meets(rectangle{c.X - j.reach, c.Y - j.reach, c.X + j.reach, c.Y + j.reach}) {
			mesh := a.mesh
			if !a.laid && p.scene.Solids[a.solid].Kind != solid.Concrete {
				mesh = p.scene.Mesh(a.solid)
			}
			bodies = append(bodies, hidden.Body{Mesh: mesh, Move: a.move})
			cast = append(cast, i)
		}
	}
	p.put(draw.Curve{Layer: layerDetail, Pen: draw.Pen{Weight: draw.Medium}, Fill: draw.White(), Centre: at, Radius: radius, Sweep: 360 * draw.Degree})
	s := newStrokes()
	for _, l := range hidden.Lines(bodies, p.cam, hidden.Options{Window: hidden.Window{X0: c.X - j.reach, Y0: c.Y - j.reach, X1: c.X + j.reach, Y1: c.Y + j.reach}}) {
		x0, y0, x1, y1, ok := clipCircle(l.X0-c.X, l.Y0-c.Y, l.X1-c.X, l.Y1-c.Y, j.reach)
		if !ok {
			continue
		}
		pen := draw.Pen{Weight: draw.Light, Grey: 35}
		switch a := &p.cast[cast[l.Body]]; {
		case a.added && l.Outline:
			pen = penAdded
		case a.added:
			pen = penCrease
		}
		on := func(x, y float64) draw.PaperPoint {
			return draw.PaperPoint{X: at.X + draw.Micron(math.Round(x*scale)), Y: at.Y + draw.Micron(math.Round(y*scale))}
		}
		s.add(layerDetail, pen, on(x0, y0), on(x1, y1))
	}
	p.put(s.marks()...)
	ring := p.paper(c.X, c.Y)
	r := draw.Micron(math.Round(j.reach * p.scale))
	p.put(draw.Curve{Layer: layerDetail, Pen: draw.Pen{Weight: draw.Medium}, Centre: ring, Radius: r, Sweep: 360 * draw.Degree})
	// A line from rim to rim.
	dx, dy := float64(at.X-ring.X), float64(at.Y-ring.Y)
	if d := hypot(dx, dy); d > float64(radius+r) {
		p.put(draw.Stroke{Layer: layerDetail, Pen: penThin, Runs: [][]draw.PaperPoint{{
			{X: ring.X + draw.Micron(math.Round(dx/d*float64(r))), Y: ring.Y + draw.Micron(math.Round(dy/d*float64(r)))},
			{X: at.X - draw.Micron(math.Round(dx/d*float64(radius))), Y: at.Y - draw.Micron(math.Round(dy/d*float64(radius)))}}}})
	}
}

// clipCircle is what of a stretch lies within a radius of the origin.
func clipCircle(x0, y0, x1, y1, r float64) (a, b, c, d float64, ok bool) {
	dx, dy := x1-x0, y1-y0
	l := float64(dx*dx) + float64(dy*dy)
	if l == 0 {
		return 0, 0, 0, 0, false
	}
	m := (float64(x0*dx) + float64(y0*dy)) / l
	q := float64(m*m) - (float64(x0*x0)+float64(y0*y0)-float64(r*r))/l
	if q <= 0 {
		return 0, 0, 0, 0, false
	}
	root := math.Sqrt(q)
	t0, t1 := math.Max(0, -m-root), math.Min(1, -m+root)
	if t0 >= t1 {
		return 0, 0, 0, 0, false
	}
	return x0 + float64(dx*t0), y0 + float64(dy*t0), x0 + float64(dx*t1), y0 + float64(dy*t1), true
}
