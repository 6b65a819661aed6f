package steps

import (
	"math"

	"stallwright/engine/build"
	"stallwright/engine/kit"
	"stallwright/engine/portable"
	"stallwright/paper/draw"
	"stallwright/paper/solid"
)

// ways draws how the parts drawn off their places come to them: an arrow for
// each group that moves alike, and thin lines from ends to ends.
func (p *picture) ways() {
	if p.has(build.Seat, build.Pour, build.Anchor) {
		p.setLines()
	}
	var pointed []solid.Vec // ways that have their arrow
	for _, g := range p.movers() {
		p.wayOf(g, &pointed)
	}
	for _, k := range p.step.Ops {
		o := &p.build.Operations[k]
		switch {
		case o.Kind == build.Stand && o.Place.Run >= 0:
			p.swing(o.Place.Run)
		case o.Kind == build.Hang:
			p.roll(o.Place.Bay)
		case o.Kind == build.Square && o.Place.Room >= 0:
			p.diagonals(o.Place.Room)
		}
	}
}

// penAxis is the line along which a fastener goes in.
var penAxis = draw.Pen{Weight: draw.Thin, Type: draw.Chain}

// isFastener says whether a solid is a bolt or a screw.
func (p *picture) isFastener(i int) bool {
	s := &p.scene.Solids[i]
	f := p.Kit.Fastener(s.Item)
	return s.Piece < 0 && f != nil && f.Kind != kit.JointPin
}

// setLines draws the lines on the ground along which posts stand.
func (p *picture) setLines() {
	for i := range p.Layout.Runs {
		r := &p.Layout.Runs[i]
		if r.Structure != p.structure() || !r.Filled(p.Layout) {
			continue
		}
		a, b := p.Layout.Posts[r.From].At, p.Layout.Posts[r.To].At
		u, v := p.cam.On(solid.Vec{X: a.X.Metres(), Y: a.Y.Metres()}), p.cam.On(solid.Vec{X: b.X.Metres(), Y: b.Y.Metres()})
		if x0, y0, x1, y1, ok := p.box.clip(u.X, u.Y, v.X, v.Y); ok {
			p.put(draw.Stroke{Layer: layerStands, Pen: draw.Pen{Weight: draw.Thin, Type: draw.Chain}, Runs: [][]draw.PaperPoint{{p.paper(x0, y0), p.paper(x1, y1)}}})
		}
	}
}

// movers are the actors off their places, those that move alike and touch
// together.
func (p *picture) movers() [][]int {
	var out [][]int
	for i := range p.cast {
		a := &p.cast[i]
		if a.move == (solid.Vec{}) {
			continue
		}
		if p.isFastener(a.solid) {
			c := a.box.Centre()
			p.put(draw.Stroke{Layer: layerWay, Pen: penAxis, Runs: [][]draw.PaperPoint{{p.flat(c.Add(a.move)), p.flat(c)}}})
			continue
		}
		joined := false
		for k := range out {
			b := &p.cast[out[k][0]]
			if b.move == a.move && p.spread(b).meets(p.spread(a)) {
				out[k] = append(out[k], i)
				joined = true
				break
			}
		}
		if !joined {
			out = append(out, []int{i})
		}
	}
	return out
}

func (p *picture) wayOf(group []int, pointed *[]solid.Vec) {
	a := &p.cast[group[0]]
	// The places furthest to the left and to the right.
	lo, hi := a.mesh.Points[0], a.mesh.Points[0]
	for _, v := range a.mesh.Points {
		x := p.cam.On(v).X
		if x < p.cam.On(lo).X {
			lo = v
		}
		if x > p.cam.On(hi).X {
			hi = v
		}
	}
	for _, v := range []solid.Vec{lo, hi} {
		p.put(draw.Stroke{Layer: layerWay, Pen: penWay, Runs: [][]draw.PaperPoint{{p.flat(v.Add(a.move)), p.flat(v)}}})
	}
	// Of parts that go the same way to the same wall one arrow says it.
	if s := &p.scene.Solids[a.solid]; s.Bay >= 0 {
		way := a.move.Unit()
		for _, v := range *pointed {
			if v.Sub(way).Norm() < 1e-6 {
				return
			}
		}
		*pointed = append(*pointed, way)
	}
	mid := p.scene.Bounds(a.solid).Centre()
	from, to := p.flat(mid.Add(a.move)), p.flat(mid)
	p.arrow(from, to)
}

// Sizes of arrows.
const (
	shaft     = 1100.0 // half its width
	headHalf  = 2300.0
	headLong  = 4200.0
	arrowMost = 16 * draw.MM
	arrowMin  = 4 * draw.MM
)

// arrow draws a block arrow in the middle of the way from one place to another.
func (p *picture) arrow(from, to draw.PaperPoint) {
	dx, dy := float64(to.X-from.X), float64(to.Y-from.Y)
	d := hypot(dx, dy)
	if d < float64(arrowMin) {
		return
	}
	long := math.Min(d*0.8, float64(arrowMost))
	ux, uy := dx/d, dy/d
	cx, cy := float64(from.X)+float64(dx*0.52), float64(from.Y)+float64(dy*0.52)
	at := func(along, across float64) draw.PaperPoint {
		return draw.PaperPoint{X: draw.Micron(math.Round(cx + float64(ux*along) - float64(uy*across))), Y: draw.Micron(math.Round(cy + float64(uy*along) + float64(ux*across)))}
	}
	l := long / 2
	shaft, headHalf, headLong := shaft, headHalf, headLong
	if long < 2*headLong { // a short way has a small arrow
		k := long / (2 * headLong)
		shaft, headHalf, headLong = shaft*k, headHalf*k, headLong*k
	}
	p.put(draw.Stroke{Layer: layerWay, Pen: penArrow, Fill: draw.White(), Closed: true, Runs: [][]draw.PaperPoint{{
		at(-l, -shaft), at(l-headLong, -shaft), at(l-headLong, -headHalf), at(l, 0), at(l-headLong, headHalf), at(l-headLong, shaft), at(-l, shaft),
	}}})
}

// curve draws a block arrow's line with a head along places in space.
func (p *picture) curve(pts []solid.Vec) {
	var run []draw.PaperPoint
	for _, v := range pts {
		run = append(run, p.flat(v))
	}
	n := len(run)
	if n < 3 {
		return
	}
	p.put(draw.Stroke{Layer: layerWay, Pen: draw.Pen{Weight: draw.Extra}, Runs: [][]draw.PaperPoint{run[:n-1]}}) // the head covers the end
	p.tip(run[n-2], run[n-1])
}

// diagonals shows the two lengths to compare, over the tops of a room's corners.
func (p *picture) diagonals(room int) {
	c := p.Layout.Rooms[room].Corners
	if len(c) < 4 {
		return
	}
	high := p.Layout.Structures[p.structure()].Height.Metres()
	at := func(k int) draw.PaperPoint {
		v := p.Layout.Posts[c[k]].At
		return p.flat(solid.Vec{X: v.X.Metres(), Y: v.Y.Metres(), Z: high})
	}
	for k := range 2 {
		a, b := at(k), at(k+2)
		p.put(draw.Stroke{Layer: layerWay, Pen: draw.Pen{Weight: draw.Medium, Type: draw.Dashed}, Runs: [][]draw.PaperPoint{{a, b}}})
		p.tip(a, b)
		p.tip(b, a)
	}
}

// tip is an arrow's head at b, for a line from a.
func (p *picture) tip(a, b draw.PaperPoint) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	d := hypot(dx, dy)
	if d == 0 {
		return
	}
	ux, uy := dx/d, dy/d
	at := func(along, across float64) draw.PaperPoint {
		return draw.PaperPoint{X: b.X + draw.Micron(math.Round(float64(ux*along)-float64(uy*across))), Y: b.Y + draw.Micron(math.Round(float64(uy*along)+float64(ux*across)))}
	}
	p.put(draw.Stroke{Layer: layerWay, Fill: draw.Tint(0), Closed: true, Runs: [][]draw.PaperPoint{{b, at(-headLong, headHalf*2/3), at(-headLong, -headHalf*2/3)}}})
}

// swing shows a frame's way up from the ground: the path of the middle of its
// top.
func (p *picture) swing(run int) {
	r := &p.Layout.Runs[run]
	f := solid.NewFrame(p.Layout.Posts[r.From].At, p.Layout.Posts[r.To].At.Sub(p.Layout.Posts[r.From].At))
	mid, high := (r.Centres / 2).Metres(), r.Height.Metres()
	var pts []solid.Vec
	for i := range 13 {
		a := float64(12-i) / 12 * 65 * math.Pi / 180
		s, c := portable.SinCos(a)
		pts = append(pts, f.Place(mid, -high*s, high*c))
	}
	p.curve(pts)
}

// roll shows which way a sliding leaf runs.
func (p *picture) roll(bay int) {
	d := p.Fit.Bays[bay].Door
	if d == nil || d.Track == nil {
		return
	}
	run := p.Layout.Bays[bay].Run
	var b solid.Box
	found := false
	for i := range p.cast {
		a := &p.cast[i]
		if s := &p.scene.Solids[a.solid]; s.Kind == solid.Leaf && s.Bay == bay {
			b, found = p.bounds(a), true
		}
	}
	if !found {
		return
	}
	way := p.direction(run)
	if d.Track.Hand == "left" {
		way = way.Times(-1)
	}
	c := b.Centre()
	c.Z = b.Min.Z + float64((b.Max.Z-b.Min.Z)*0.42)
	p.arrow(p.flat(c.Add(way.Times(-0.4))), p.flat(c.Add(way.Times(0.4))))
}
