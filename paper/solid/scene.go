package solid

import (
	"strconv"
	"strings"
	"sync"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// Kind is what a solid is made of, as pictures and models tell it apart.
type Kind string

// The kinds.
const (
	Timber   Kind = "timber"   // standing posts of a barn
	Lumber   Kind = "lumber"   // boards and packing
	Treated  Kind = "treated"  // treated boards
	Steel    Kind = "steel"    // posts, tubes, channels
	Panel    Kind = "panel"    // grilles, windows, feeders
	Leaf     Kind = "leaf"     // door leaves
	Hardware Kind = "hardware" // brackets, clamps, tracks, rollers, pins
	Concrete Kind = "concrete" // piers, pads
	Building Kind = "building" // what crosses a bay
)

// Solid is one thing with a shape.
type Solid struct {
	Name      string
	Piece     int // into fit.Result.Pieces; -1 for what is no piece of the job
	Item      string
	Kind      Kind
	Structure int
	Run       int // -1 where it belongs to a post alone
	Bay       int // -1 where it belongs to a run or a post
	Post      int // -1 where it belongs to a run or a bay
	Parts     []Part
	// Welded parts are one body: where two of them lie flush no line shows.
	Welded bool
	// Sheer solids are known only roughly: they are drawn, but take no part in
	// the test of what stands where.
	Sheer bool

	mesh  *Mesh
	plain *Mesh
	box   *Box
}

// Scene is every solid of a job, structure by structure.
type Scene struct {
	Plan   *plan.Plan
	Solids []Solid

	byPiece []int
	mu      sync.Mutex // of the surfaces made so far
}

// OfPiece is the solid of a piece; -1 where it has none.
func (s *Scene) OfPiece(piece int) int {
	if piece < 0 || piece >= len(s.byPiece) {
		return -1
	}
	return s.byPiece[piece]
}

// Mesh is the surface of a solid.
func (s *Scene) Mesh(i int) *Mesh {
	s.mu.Lock()
	defer s.mu.Unlock()
	v := &s.Solids[i]
	if v.mesh == nil {
		v.mesh = meshOf(v)
	}
	return v.mesh
}

// Plain is the surface of a solid as far as it shows where the solid stands among
// others: boards without tongue and groove, bars with four sides.
func (s *Scene) Plain(i int) *Mesh {
	v := &s.Solids[i]
	if len(v.Parts) == 0 || !v.hasPlain() {
		return s.Mesh(i)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if v.plain == nil {
		p := *v
		p.Parts = make([]Part, len(v.Parts))
		for k := range v.Parts {
			p.Parts[k] = v.Parts[k].plain()
		}
		v.plain = meshOf(&p)
	}
	return v.plain
}

// hasPlain says whether a solid has a plainer surface.
func (s *Solid) hasPlain() bool {
	switch s.Kind {
	case Lumber, Treated:
		return len(s.Parts) == 1
	case Panel, Leaf:
		return true
	}
	return false
}

// Bounds is the box round a solid.
func (s *Scene) Bounds(i int) Box {
	s.mu.Lock()
	defer s.mu.Unlock()
	v := &s.Solids[i]
	if v.box == nil {
		b := emptyBox()
		for k := range v.Parts {
			b = b.Join(v.Parts[k].bounds())
		}
		v.box = &b
	}
	return *v.box
}

// builder makes one plan's scene.
type builder struct {
	*plan.Plan
	out    *Scene
	board  measure.Length // thickness of a board
	run    []runFrame
	clamps map[string]int   // stack clamps counted for each bay
	at     [][]int          // runs that meet each post and are built
	posts  map[string]int   // pieces that are posts of the layout, by label
	ends   map[string]int   // channels and posts that runs bring, by label
	needs  map[string][]int // what the take-off counts at each place
}

// runFrame is where a run's parts stand in its own axes.
type runFrame struct {
	frame Frame
	// left and right are the inner faces of the webs at the run's ends.
	left, right measure.Length
	tubes       []tubeAt
	built       bool
}

// tubeAt is a tube where it lies: from end to end, and from underside to top.
type tubeAt struct {
	piece int
	x     [2]measure.Length
	z     [2]measure.Length
	half  measure.Length // half its width
	top   bool
}

// Make builds the scene of a plan.
func Make(p *plan.Plan) *Scene {
	b := &builder{Plan: p, out: &Scene{Plan: p, byPiece: make([]int, len(p.Fit.Pieces))}, board: p.Fit.Board.Thickness, clamps: map[string]int{}}
	for i := range b.out.byPiece {
		b.out.byPiece[i] = -1
	}
	b.needs = map[string][]int{}
	for i := range p.Takeoff.Needs {
		n := &p.Takeoff.Needs[i]
		b.needs[n.Place] = append(b.needs[n.Place], i)
		if n.Class == kit.ClassClamp {
			b.clamps[n.Place] += n.Count
		}
	}
	b.posts, b.ends = map[string]int{}, map[string]int{}
	for i := range p.Fit.Pieces {
		switch q := &p.Fit.Pieces[i]; q.Kind {
		case fit.Post:
			b.posts[q.Label], b.ends[q.Label] = i, i
		case fit.Channel:
			b.ends[q.Label] = i
		}
	}
	b.frames()
	for s := range p.Layout.Structures {
		b.structure(s)
	}
	return b.out
}

// datum is a run's datum line above the highest finished floor: lower by as much
// as its line has stepped down.
func (b *builder) datum(r *frame.Run) measure.Length { return r.Datum - r.Drop }

// structure adds what belongs to one structure: posts and what they stand on,
// then each run's steel, fills and doors.
func (b *builder) structure(s int) {
	for i := range b.Layout.Posts {
		if b.Layout.Posts[i].Structure == s {
			b.post(i)
		}
	}
	for i := range b.Layout.Runs {
		r := &b.Layout.Runs[i]
		if r.Structure != s || !b.run[i].built {
			continue
		}
		b.steel(i)
		for _, v := range r.Bays {
			b.bay(v)
		}
	}
	for i := range b.Fit.Obstructions {
		if o := &b.Fit.Obstructions[i]; b.Layout.Bays[o.Bay].Structure == s {
			b.obstruction(o)
		}
	}
}

// add keeps a solid.
func (b *builder) add(s Solid) *Solid {
	b.out.Solids = append(b.out.Solids, s)
	n := len(b.out.Solids) - 1
	if s.Piece >= 0 {
		b.out.byPiece[s.Piece] = n
	}
	return &b.out.Solids[n]
}

// ofPiece is a solid for a piece, without parts yet.
func (b *builder) ofPiece(piece int, kind Kind) Solid {
	p := &b.Fit.Pieces[piece]
	s := Solid{Name: p.Label, Piece: piece, Item: p.Item, Kind: kind, Run: p.Run, Bay: p.Bay, Post: -1}
	if p.Run >= 0 {
		s.Structure = b.Layout.Runs[p.Run].Structure
	}
	return s
}

// ofRun is a solid that is no piece, at a run or one of its bays.
func (b *builder) ofRun(name, item string, kind Kind, run, bay int) Solid {
	return Solid{Name: name, Piece: -1, Item: item, Kind: kind, Structure: b.Layout.Runs[run].Structure, Run: run, Bay: bay, Post: -1}
}

// parts puts prisms into a frame.
func parts(f Frame, list ...Prism) []Part {
	out := make([]Part, len(list))
	for i := range list {
		out[i] = Part{f, list[i]}
	}
	return out
}

// frames finds where every run's ends and tubes stand.
func (b *builder) frames() {
	b.run = make([]runFrame, len(b.Layout.Runs))
	b.at = make([][]int, len(b.Layout.Posts))
	for i := range b.Layout.Runs {
		r := &b.Layout.Runs[i]
		from, to := b.Layout.Posts[r.From].At, b.Layout.Posts[r.To].At
		f := &b.run[i]
		origin := from
		if len(r.Bays) > 1 {
			// A divided run is made to its measured opening: it stands in the
			// middle between its posts as drawn.
			origin = frame.Along(from, to, (frame.Distance(from, to)-r.Centres)/2)
		}
		f.frame = NewFrame(origin, to.Sub(from))
		f.built = r.Filled(b.Layout)
		first, last := r.Bays[0], r.Bays[len(r.Bays)-1]
		f.left = b.Fit.BayAt(b.Layout, first)
		f.right = b.Fit.BayAt(b.Layout, last) + b.Fit.Bays[last].Clear
		if v := &b.Layout.Bays[first]; v.IsDoor() {
			f.left -= r.Ends[0].Leg // a jamb is where the legs end
		}
		if v := &b.Layout.Bays[last]; v.IsDoor() {
			f.right += r.Ends[1].Leg
		}
		if f.built {
			b.at[r.From] = append(b.at[r.From], i)
			b.at[r.To] = append(b.at[r.To], i)
		}
	}
	for i := range b.Fit.Pieces {
		if p := &b.Fit.Pieces[i]; p.Kind == fit.Tube {
			b.tube(i, p)
		}
	}
}

// tube places a tube in the middle of its run, or of the panel it is the bottom
// of.
func (b *builder) tube(piece int, p *fit.Piece) {
	r, f, t := &b.Layout.Runs[p.Run], &b.run[p.Run], b.Kit.Tube(p.Item)
	left, right := f.left, f.right
	if v := b.panelOf(p); v >= 0 {
		left = b.Fit.BayAt(b.Layout, v)
		right = left + b.Fit.Bays[v].Clear
	}
	x := (left+right)/2 - p.Length/2
	z := b.datum(r) + p.Z
	f.tubes = append(f.tubes, tubeAt{piece: piece, x: [2]measure.Length{x, x + p.Length}, z: [2]measure.Length{z, z + t.Depth}, half: t.Width / 2, top: p.Z > 0})
}

// panelOf is the bay that a bottom tube beside a doorway lies under; -1 where it
// lies under its whole run.
func (b *builder) panelOf(p *fit.Piece) int {
	r := &b.Layout.Runs[p.Run]
	n, err := strconv.Atoi(strings.TrimPrefix(p.Label, r.Name+"/bottom"))
	if err != nil {
		return -1
	}
	for _, v := range r.Bays {
		if v := &b.Layout.Bays[v]; v.IsDoor() || v.IsOpen() {
			continue
		}
		if n--; n == 0 {
			return v
		}
	}
	return -1
}
