package steps

import (
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/fit"
	"stallwright/paper/solid"
)

// How far off its place a part is drawn, in metres.
const (
	liftOff  = 0.45 // above
	pullOff  = 0.55 // before the wall
	slideOff = 0.30 // along the wall
	screwOff = 0.10 // of a fastener before its hole
)

// wayIn is how far off its place a part that the step adds is drawn: back along
// the way by which it goes in. Of boards that go in one after the other only the
// last is drawn so, the others where they come to stand.
func (p *picture) wayIn(a *actor) solid.Vec {
	s := &p.scene.Solids[a.solid]
	if s.Run < 0 {
		if p.appears[a.solid] < p.first || s.Piece >= 0 { // a post is drawn where its props hold it
			return solid.Vec{}
		}
		if s.Post >= 0 && strings.HasSuffix(s.Name, " pin") {
			return solid.Vec{Z: liftOff / 2}
		}
		if s.Post >= 0 && strings.Contains(s.Name, "/anchor") {
			return solid.Vec{Z: screwOff}
		}
		return solid.Vec{}
	}
	if a.laid {
		return solid.Vec{}
	}
	along := p.direction(s.Run)
	front := solid.Vec{X: along.Y, Y: -along.X}
	near := front // the side of the wall that is looked at
	if p.cam.Away.Dot(front) > 0 {
		near = front.Times(-1)
	}
	if !p.own(a) {
		return solid.Vec{}
	}
	o := &p.build.Operations[a.op]
	if s.Piece < 0 {
		switch name := s.Name[strings.LastIndex(s.Name, "/")+1:]; {
		case strings.Contains(name, " lag"):
			return along.Times((slideOff + screwOff) * p.inward(s))
		case strings.Contains(name, " bolt"):
			return front.Times(screwOff)
		}
		return solid.Vec{}
	}
	q := &p.Fit.Pieces[s.Piece]
	switch q.Kind {
	case fit.Board, fit.Packing, fit.Grille, fit.Window, fit.Feeder:
		if p.isLeaf(s) {
			return p.intoLeaf(s, o)
		}
		open := p.Layout.Runs[s.Run].Assembly.Top == ""
		switch {
		case open && p.has(build.Capture): // one over the other, as they go in
			return solid.Vec{Z: p.tier(s.Piece)}
		case !p.lastOf(s.Piece, o):
		case open && q.Kind == fit.Board:
			return solid.Vec{Z: p.overTop(s)}
		default:
			return near.Times(pullOff)
		}
	case fit.Channel:
		return along.Times(slideOff * p.inward(s))
	case fit.Post:
		if o.Kind == build.Lag {
			return along.Times(slideOff * p.inward(s))
		}
		if o.Kind == build.Bolt { // onto its tube
			return solid.Vec{Z: liftOff / 3}
		}
	case fit.Tube:
		if o.Kind != build.Bolt {
			break
		}
		if q.Z > 0 {
			return solid.Vec{Z: liftOff}
		}
		if len(p.Layout.Runs[s.Run].DoorPosts) == 0 {
			return near.Times(pullOff * 2 / 3)
		}
	}
	return solid.Vec{}
}

// inward is 1 for a part at its run's left end, −1 at its right: toward the
// opening.
func (p *picture) inward(s *solid.Solid) float64 {
	if strings.Contains(s.Name, "/right ") {
		return -1
	}
	return 1
}

// overTop is how far a board is lifted to be seen above what stands in its bay.
func (p *picture) overTop(s *solid.Solid) float64 {
	r := &p.Layout.Runs[s.Run]
	q := &p.Fit.Pieces[s.Piece]
	return (r.Zone - q.Z).Metres() + 0.12
}

// tier is how far a grille and the courses after it are lifted, each further than
// the one before.
func (p *picture) tier(piece int) float64 {
	n := 0
	for k, i := range p.step.Adds {
		if p.Fit.Pieces[i].Kind == fit.Grille {
			n = k
		}
	}
	for k, i := range p.step.Adds {
		if i == piece && k >= n {
			return 0.22 + float64(0.13*float64(k-n))
		}
	}
	return 0
}

// lastOf says whether a piece is the last that an operation adds, or the only one
// of its kind, as a grille is.
func (p *picture) lastOf(piece int, o *build.Operation) bool {
	if len(o.Adds) == 0 {
		return false
	}
	if k := p.Fit.Pieces[piece].Kind; k != fit.Board {
		return true
	}
	last := o.Adds[len(o.Adds)-1]
	if last == piece {
		return p.lastLoad(o)
	}
	// Beside a window or a feeder the last course has two boards.
	a, b := &p.Fit.Pieces[last], &p.Fit.Pieces[piece]
	return a.Kind == fit.Board && a.Bay == b.Bay && a.Course == b.Course && p.lastLoad(o)
}

// lastLoad says whether no other operation of the step loads the bay after it.
func (p *picture) lastLoad(o *build.Operation) bool {
	for _, k := range p.step.Ops {
		v := &p.build.Operations[k]
		if v.Place.Bay == o.Place.Bay && len(v.Adds) > 0 && p.Fit.Pieces[v.Adds[len(v.Adds)-1]].Kind == fit.Board && v.Adds[0] > o.Adds[len(o.Adds)-1] {
			return false
		}
	}
	return true
}

// intoLeaf is the way of a board into a leaf: from above, or from below.
func (p *picture) intoLeaf(s *solid.Solid, o *build.Operation) solid.Vec {
	q := &p.Fit.Pieces[s.Piece]
	d := p.Fit.Bays[s.Bay].Door
	if !p.lastOf(s.Piece, o) && !q.Below {
		return solid.Vec{}
	}
	if q.Below {
		// The lowest goes in last.
		return solid.Vec{Z: -(q.Z + q.Height).Metres() - 0.10 - float64(float64(d.Below-q.Course)*(q.Height.Metres()+0.05))}
	}
	return solid.Vec{Z: (d.Door.Leaf.Height - q.Z).Metres() + 0.35}
}
