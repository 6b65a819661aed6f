package steps

import (
	"math"
	"slices"
	"strings"

	"stallwright/engine/build"
	"stallwright/paper/draw"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// actor is a solid in a picture.
type actor struct {
	solid int
	mesh  *solid.Mesh
	move  solid.Vec // how far off its place it is drawn
	added bool
	op    int // that adds or moves it; -1 for what stands
	laid  bool
	box   solid.Box // round it where it comes to stand
}

// picture is one step's picture while it is drawn.
type picture struct {
	*Drawer
	step   *build.Step
	also   []*build.Step       // that the picture serves besides
	called func(string) string // names places anew for all of them; nil leaves them
	high   draw.Micron         // of the sheet
	first  int                 // its operations
	last   int
	cast   []actor
	cam    hidden.Camera
	lines  []hidden.Line
	box    rectangle // of the picture plane that is drawn
	sheet  *draw.Sheet
	area   draw.PaperRect // on the sheet, that the box fills
	scale  float64        // micrometres to the metre
}

// rectangle is part of the picture plane, in metres.
type rectangle struct{ x0, y0, x1, y1 float64 }

// hypot is the length of a way, the same to the bit everywhere (math.Hypot is not).
func hypot(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

func emptyRectangle() rectangle {
	inf := math.Inf(1)
	return rectangle{inf, inf, -inf, -inf}
}

func (r rectangle) with(x, y float64) rectangle {
	return rectangle{math.Min(r.x0, x), math.Min(r.y0, y), math.Max(r.x1, x), math.Max(r.y1, y)}
}

func (r rectangle) join(o rectangle) rectangle {
	return rectangle{math.Min(r.x0, o.x0), math.Min(r.y0, o.y0), math.Max(r.x1, o.x1), math.Max(r.y1, o.y1)}
}

func (r rectangle) meets(o rectangle) bool {
	return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1
}

func (r rectangle) empty() bool { return r.x0 > r.x1 }

// Picture draws a step, by its index in build.Result.Steps. It is nil where the
// step has nothing to show: cutting, trimming, setting out.
func (d *Drawer) Picture(step int) (*draw.Sheet, error) { return d.Shared([]int{step}, nil, High{}) }

// Shared draws one picture for steps of a group of [Drawer.Alike]: that of the
// first, its little plan showing every place, without the lengths that are not the
// same everywhere. Called gives what a place of the first step is called on the
// page: [A] for L1-back; nil leaves names as they are.
func (d *Drawer) Shared(group []int, called func(string) string, high High) (*draw.Sheet, error) {
	s := &d.build.Steps[group[0]]
	if len(s.Ops) == 0 {
		return nil, nil
	}
	p := &picture{Drawer: d, step: s, first: s.Ops[0], last: s.Ops[len(s.Ops)-1], called: called, high: d.opt.Height}
	for _, i := range group[1:] {
		p.also = append(p.also, &d.build.Steps[i])
	}
	p.choose()
	if !slices.ContainsFunc(p.cast, func(a actor) bool { return a.added }) {
		return nil, nil
	}
	p.near()
	p.look()
	p.explode()
	p.dress()
	p.crop()
	if high.Wanted > 0 {
		p.lower(high)
	}
	p.see()
	p.compose()
	return p.sheet, nil
}

// near leaves out what stands far from the place of the step, and gives the rest
// their surfaces.
func (p *picture) near() {
	focus := solid.Box{}
	first := true
	for i := range p.cast {
		a := &p.cast[i]
		if a.laid {
			a.mesh = p.laid(&p.scene.Solids[a.solid], p.scene.Mesh(a.solid))
			a.box = solid.Box{Min: a.mesh.Points[0], Max: a.mesh.Points[0]}
			for _, v := range a.mesh.Points {
				a.box = a.box.With(v)
			}
		} else {
			a.box = p.scene.Bounds(a.solid)
		}
		if s := &p.scene.Solids[a.solid]; a.box.Min.Z < -groundCut && !p.has(build.Pour) && (s.Kind == solid.Concrete || !a.added && p.isFastener(a.solid)) {
			a.mesh = cutAtGround(p.scene.Mesh(a.solid))
			a.box.Min.Z = -groundCut
		}
		if a.added {
			if first {
				focus, first = a.box, false
			}
			focus = focus.Join(a.box)
		}
	}
	reach := around
	if p.subject() < 0 {
		reach = aroundPosts
	}
	focus = focus.Grown(reach)
	p.cast = slices.DeleteFunc(p.cast, func(a actor) bool { return !a.added && !a.box.Meets(focus) })
}

// How far round the step's parts, in metres, what stands is shown: round posts,
// which stand alone, further.
const (
	around      = 0.9
	aroundPosts = 4.5
)

// dress gives every actor its surface: the full one to what is drawn off its
// place, the plain one to what stands among others.
func (p *picture) dress() {
	for i := range p.cast {
		a := &p.cast[i]
		switch {
		case a.mesh != nil:
		case a.move != (solid.Vec{}):
			a.mesh = p.scene.Mesh(a.solid)
		default:
			a.mesh = p.scene.Plain(a.solid)
		}
	}
}

// explode draws parts off their places, now that it is known from where they are
// looked at.
func (p *picture) explode() {
	for i := range p.cast {
		if a := &p.cast[i]; a.added {
			a.move = p.wayIn(a)
		}
	}
}

func (p *picture) structure() int {
	if s := p.step.Place.Structure; s >= 0 {
		return s
	}
	return p.build.Operations[p.first].Place.Structure
}

// moved are solids that stand already but are what the step is about: a frame
// stood up or brought to its place, a leaf hung, a frame tightened or squared.
func (p *picture) moved() map[int]int {
	out := map[int]int{}
	for _, k := range p.step.Ops {
		o := &p.build.Operations[k]
		var list []int
		switch o.Kind {
		case build.Stand, build.Move, build.Tighten, build.Square:
			if o.Place.Run >= 0 && o.Place.Bay < 0 {
				list = p.steelOf(o.Place.Run)
			}
			if o.Kind == build.Square && o.Place.Room >= 0 {
				for _, run := range p.Layout.Rooms[o.Place.Room].Runs {
					list = append(list, p.steelOf(run)...)
				}
			}
			if o.Kind == build.Stand || o.Kind == build.Move { // what hangs on the timber stays
				list = slices.DeleteFunc(list, func(i int) bool {
					at := p.appears[i]
					return at < 0 || at >= len(p.build.Operations) || p.build.Operations[at].Kind == build.Lag
				})
			}
		case build.Hang, build.Adjust, build.Handle, build.Unhang:
			for _, i := range p.byBay[o.Place.Bay] {
				if s := &p.scene.Solids[i]; p.isLeaf(s) {
					list = append(list, i)
				}
			}
		case build.Clamp, build.Fasten, build.Loosen:
		case build.Roof:
			list = p.byPost[o.Place.Post]
		case build.Anchor:
			for _, i := range p.byPost[o.Place.Post] {
				if p.isBase(i) {
					list = append(list, i)
				}
			}
		}
		for _, i := range list {
			if p.appears[i] < p.first {
				if _, ok := out[i]; !ok {
					out[i] = k
				}
			}
		}
	}
	return out
}

// steelOf lists the solids of a run's frame.
func (p *picture) steelOf(run int) []int {
	var out []int
	for _, i := range p.byRun[run] {
		if p.scene.Solids[i].Bay < 0 {
			out = append(out, i)
		}
	}
	return out
}

// isBase says whether a solid is what a post stands on.
func (p *picture) isBase(i int) bool { return strings.HasSuffix(p.scene.Solids[i].Name, "/base") }

// isLeaf says whether a solid hangs with a door's leaf.
func (p *picture) isLeaf(s *solid.Solid) bool {
	if s.Bay < 0 || !p.Layout.Bays[s.Bay].IsDoor() {
		return false
	}
	switch s.Kind {
	case solid.Leaf, solid.Lumber, solid.Treated:
		return true
	}
	return s.Piece < 0 && isOnLeaf(s.Name)
}

// unhung says whether a leaf's part is still on the trestles.
func (p *picture) unhung(s *solid.Solid) bool {
	if !p.isLeaf(s) {
		return false
	}
	at, ok := p.hangs[s.Bay]
	return ok && at > p.last
}

// bench is the doorway whose leaf the step boards, off its place; -1 for none.
func (p *picture) bench() int {
	bay := p.step.Place.Bay
	if bay < 0 || !p.Layout.Bays[bay].IsDoor() {
		return -1
	}
	if at, ok := p.hangs[bay]; !ok || at <= p.last {
		return -1
	}
	if !p.has(build.Load, build.Fasten, build.Rollers) {
		return -1
	}
	return bay
}

// leafOnBench casts a leaf alone.
func (p *picture) leafOnBench(bay int) {
	for _, i := range p.byBay[bay] {
		s := &p.scene.Solids[i]
		if at := p.appears[i]; at <= p.last && p.isLeaf(s) {
			a := actor{solid: i, op: -1}
			if at >= p.first {
				a.added, a.op = true, at
			}
			p.cast = append(p.cast, a)
		}
	}
}

// lying says whether a part lies on the ground still, its frame not stood up.
func (p *picture) lying(s *solid.Solid, at int) bool {
	if s.Run < 0 || s.Bay >= 0 || at < 0 {
		return false
	}
	stand, ok := p.stands[s.Run]
	if !ok || stand <= p.last || at >= stand {
		return false
	}
	k := p.build.Operations[at].Kind
	return at < len(p.build.Operations) && (k == build.Layout || k == build.Bolt)
}

// laidOut is how far before its place a frame lies on the ground, in metres.
const laidOut = 0.4

// laid is a mesh turned down on the ground before its run, its top outward.
func (p *picture) laid(s *solid.Solid, m *solid.Mesh) *solid.Mesh {
	f := s.Parts[0].Frame
	r := &p.Layout.Runs[s.Run]
	f = solid.NewFrame(p.Layout.Posts[r.From].At, p.Layout.Posts[r.To].At.Sub(p.Layout.Posts[r.From].At))
	turn := func(v solid.Vec) solid.Vec { // a quarter turn about the run
		q := f.Back(v)
		return f.Place(q.X, -q.Z-laidOut, q.Y+0.1)
	}
	out := &solid.Mesh{Faces: make([]solid.Face, len(m.Faces)), Edges: m.Edges, Wires: m.Wires, Points: make([]solid.Vec, len(m.Points))}
	for i, v := range m.Points {
		out.Points[i] = turn(v)
	}
	o := turn(solid.Vec{})
	for i := range m.Faces {
		out.Faces[i] = m.Faces[i]
		out.Faces[i].Normal = turn(m.Faces[i].Normal).Sub(o)
	}
	return out
}

// see finds what shows.
func (p *picture) see() {
	bodies := make([]hidden.Body, len(p.cast))
	for i := range p.cast {
		bodies[i] = hidden.Body{Mesh: p.cast[i].mesh, Move: p.cast[i].move}
	}
	p.lines = hidden.Lines(bodies, p.cam, hidden.Options{Window: hidden.Window{X0: p.box.x0, Y0: p.box.y0, X1: p.box.x1, Y1: p.box.y1}})
}

// on is a place of an actor on the picture plane.
func (p *picture) on(a *actor, v solid.Vec) solid.Vec { return p.cam.On(v.Add(a.move)) }

// spread is how much of the picture plane an actor takes up.
func (p *picture) spread(a *actor) rectangle {
	r := emptyRectangle()
	for _, v := range a.mesh.Points {
		q := p.on(a, v)
		r = r.with(q.X, q.Y)
	}
	return r
}

// Room kept round what the step is about, in metres: enough of what stands to
// know the place by.
const (
	roomShare = 0.06
	roomLeast = 0.25
)

// crop keeps what lies at the place of the step.
func (p *picture) crop() {
	p.box = emptyRectangle()
	for i := range p.cast {
		if a := &p.cast[i]; a.added {
			p.box = p.box.join(p.spread(a))
			if a.move != (solid.Vec{}) { // where it goes, too
				b := *a
				b.move = solid.Vec{}
				p.box = p.box.join(p.spread(&b))
			}
		}
	}
	room := math.Max(roomLeast, roomShare*math.Max(p.box.x1-p.box.x0, p.box.y1-p.box.y0))
	p.box = rectangle{p.box.x0 - room, p.box.y0 - room, p.box.x1 + room, p.box.y1 + room}
	// What the sheet has room for besides.
	if more := float64(1.1*(p.box.y1-p.box.y0)) - (p.box.x1 - p.box.x0); more > 0 {
		p.box.x0, p.box.x1 = p.box.x0-more/2, p.box.x1+more/2
	}
	p.cast = slices.DeleteFunc(p.cast, func(a actor) bool { return !a.added && !p.spread(&a).meets(p.box) })
}
