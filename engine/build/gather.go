package build

import (
	"fmt"

	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
)

// role is what an operation is to the rules: finer than its kind.
type role string

// The roles. One of a kind stands at one place.
const (
	roleSetOut    role = "set-out"
	roleDatum     role = "datum"      // the datum line marked round a structure
	rolePour      role = "pour"       // of a post
	roleSeat      role = "seat"       // of a post
	roleLayout    role = "lay-out"    // of a run
	roleBolt      role = "bolt"       // of a run: its corners on the ground
	roleStand     role = "stand"      // of a run or post
	roleMove      role = "move"       // of a run
	rolePinLow    role = "pin-bottom" // of a post
	rolePinHigh   role = "pin-top"    // of a post
	roleBrace     role = "brace"      // of a run, wall or structure
	roleRound     role = "round"      // of a pen: closed, round and level
	roleTighten   role = "tighten"    // of a run
	roleAnchor    role = "anchor"     // of a post
	roleLagLeft   role = "channel-left"
	roleLagRight  role = "channel-right"
	roleMark      role = "mark" // of a post: two faces
	rolePostLow   role = "front-post-below"
	rolePostHigh  role = "front-post-above"
	roleEndLow    role = "end-post-below"
	roleEndHigh   role = "end-post-above"
	roleDoorPosts role = "door-posts" // of a run
	roleCorners   role = "corners"    // of a run that stands between timber
	roleBottom    role = "bottom-tubes"
	roleTop       role = "top-tube"
	roleSquare    role = "square"  // of a room
	roleFrames    role = "frames"  // of a structure: all fronts, or all frames, are tight
	roleMeasure   role = "measure" // of a bay
	roleShim      role = "shim"
	roleCut       role = "cut"
	roleFirst     role = "first-board"
	roleTreated   role = "treated-boards"
	roleLower     role = "lower-boards"
	roleTrim      role = "trim-grille"
	roleGrille    role = "grille"
	roleWindow    role = "window"
	roleBeside    role = "cut-boards"
	roleFeeder    role = "feeder"
	roleShort     role = "short-boards"
	roleInto      role = "course-into-grille"
	roleClosing   role = "closing-boards"
	roleLast      role = "last-course"
	roleFasten    role = "fasten"
	roleClamp     role = "clamp"
	roleClamped   role = "clamped" // of a structure: every stack is clamped
	roleRoof      role = "roof"    // of a post
	roleUnbrace   role = "unbrace" // of a structure
	roleLeaf      role = "leaf-from-above"
	roleLeafBelow role = "leaf-from-below"
	roleLowest    role = "leaf-lowest"
	roleRollers   role = "rollers"
	roleTrack     role = "track"
	roleHang      role = "hang"
	roleAdjust    role = "adjust"
	roleNuts      role = "nuts"
	roleHandle    role = "handle"
	roleCheck     role = "check" // of a room, or of a structure without rooms
)

// scope says what an index of a place counts.
type scope uint8

const (
	ofStructure scope = iota
	ofWall
	ofRun
	ofBay
	ofRoom
	ofPost
)

// spot is a place as rules look operations up.
type spot struct {
	scope scope
	at    int
}

type nodeKey struct {
	role role
	spot spot
}

// node is an operation in the making.
type node struct {
	Operation
	role  role
	spot  spot
	stage int // of the whole work, see order.go
	walk  int // order of its place within the stage
	page  string
	title phrase.Phrase
}

// builder gathers operations, then what each waits for.
type builder struct {
	Input
	out   *Result
	nodes []node
	at    map[nodeKey]int
	skip  map[RuleID]bool // rules left out, in tests
	given []int           // of each need: how many were given to operations
	// needs by the joint they hold together, by the piece and by the need they come
	// with.
	ofJoint         map[int][]int
	ofPiece         map[int]int
	ofNeed          map[int][]int
	joints          map[jointKey][]int // into Layout.Joints
	placed          map[int]bool       // pieces that an operation adds
	ofPost          map[string][]int   // pieces of posts that runs share, by the name of the post
	marksAt         map[int][]int      // datum marks of each post, into fit.Result.Marks
	runOf           [][]int            // pieces of each run that belong to no bay
	stacks          map[int][]int      // of each bay: its operations from the bottom up
	rooms           [][]int            // of each run: the rooms it bounds
	runs            [][]int            // of each structure: its runs that are built
	posts           [][]int            // of each structure
	cornerOf, endOf [][]int            // of each post: rooms with a corner there; runs that end there
	sorted          []int              // nodes in the order of work
}

type jointKey struct {
	kind      kit.JointKind
	run, post int
}

func newBuilder(in Input) *builder {
	b := &builder{
		Input: in, out: &Result{}, at: map[nodeKey]int{}, given: make([]int, len(in.Takeoff.Needs)),
		ofJoint: map[int][]int{}, ofPiece: map[int]int{}, ofNeed: map[int][]int{}, joints: map[jointKey][]int{},
		placed: map[int]bool{}, ofPost: map[string][]int{}, marksAt: map[int][]int{}, runOf: make([][]int, len(in.Layout.Runs)), stacks: map[int][]int{},
		rooms: make([][]int, len(in.Layout.Runs)), runs: make([][]int, len(in.Layout.Structures)), posts: make([][]int, len(in.Layout.Structures)),
	}
	for i := range in.Takeoff.Needs {
		n := &in.Takeoff.Needs[i]
		switch {
		case n.With >= 0:
			b.ofNeed[n.With] = append(b.ofNeed[n.With], i)
		case n.Joint >= 0:
			b.ofJoint[n.Joint] = append(b.ofJoint[n.Joint], i)
		case n.Piece >= 0:
			b.ofPiece[n.Piece] = i
		}
	}
	for i := range in.Layout.Joints {
		j := &in.Layout.Joints[i]
		k := jointKey{j.Kind, j.Run, j.Post}
		if j.Kind == kit.JointPanel {
			k = jointKey{j.Kind, j.Bay, -1}
		}
		b.joints[k] = append(b.joints[k], i)
	}
	for i := range in.Fit.Pieces {
		switch p := &in.Fit.Pieces[i]; {
		case p.Run >= 0 && p.Bay < 0:
			b.runOf[p.Run] = append(b.runOf[p.Run], i)
		case p.Run < 0 && p.Bay < 0:
			b.ofPost[p.Label] = append(b.ofPost[p.Label], i)
		}
	}
	for i := range in.Fit.Marks {
		p := in.Fit.Marks[i].Post
		b.marksAt[p] = append(b.marksAt[p], i)
	}
	for i := range in.Layout.Rooms {
		for _, r := range in.Layout.Rooms[i].Runs {
			b.rooms[r] = append(b.rooms[r], i)
		}
	}
	for i := range in.Layout.Runs {
		if r := &in.Layout.Runs[i]; r.Filled(in.Layout) {
			b.runs[r.Structure] = append(b.runs[r.Structure], i)
		}
	}
	for i := range in.Layout.Posts {
		s := in.Layout.Posts[i].Structure
		b.posts[s] = append(b.posts[s], i)
	}
	return b
}

// add makes an operation of a role at a place and gives its index.
func (b *builder) add(r role, k Kind, s spot, stage, walk int, do phrase.Phrase) int {
	n := node{role: r, spot: s, stage: stage, walk: walk}
	n.Kind, n.Do, n.People, n.Step = k, do, 1, -1
	n.Place = b.place(s)
	n.ID = n.Place.Name + "/" + string(r)
	b.nodes = append(b.nodes, n)
	i := len(b.nodes) - 1
	b.at[nodeKey{r, s}] = i
	return i
}

// place fills in what a spot lies in.
func (b *builder) place(s spot) Place {
	l := b.Layout
	p := Place{Structure: -1, Wall: -1, Run: -1, Bay: -1, Room: -1, Post: -1}
	switch s.scope {
	case ofStructure:
		p.Structure, p.Name = s.at, l.Structures[s.at].Name
	case ofWall:
		p.Structure, p.Wall, p.Name = l.Walls[s.at].Structure, s.at, l.Walls[s.at].Name
	case ofRoom:
		p.Structure, p.Room, p.Name = l.Rooms[s.at].Structure, s.at, l.Rooms[s.at].Name
	case ofPost:
		p.Structure, p.Post, p.Name = l.Posts[s.at].Structure, s.at, l.Posts[s.at].Name
	case ofRun:
		r := &l.Runs[s.at]
		p.Structure, p.Wall, p.Run, p.Name = r.Structure, r.Wall, s.at, r.Name
		if rooms := b.rooms[s.at]; len(rooms) == 1 {
			p.Room = rooms[0]
		}
	case ofBay:
		v := &l.Bays[s.at]
		p.Structure, p.Wall, p.Run, p.Bay, p.Room, p.Name = v.Structure, v.Wall, v.Run, s.at, v.Room, v.Name
	}
	return p
}

// node finds the operation of a role at a place; -1 for none.
func (b *builder) node(r role, s spot) int {
	if i, ok := b.at[nodeKey{r, s}]; ok {
		return i
	}
	return -1
}

// page says on which page operations come, and what stands over it.
func (b *builder) page(name string, title phrase.Phrase, ops ...int) {
	for _, i := range ops {
		if i >= 0 {
			b.nodes[i].page, b.nodes[i].title = name, title
		}
	}
}

// piece has an operation add pieces, with what comes with each.
func (b *builder) piece(op int, pieces ...int) {
	for _, p := range pieces {
		if b.placed[p] {
			continue
		}
		b.placed[p] = true
		b.nodes[op].Adds = append(b.nodes[op].Adds, p)
		if n, ok := b.ofPiece[p]; ok {
			b.given[n] = b.Takeoff.Needs[n].Count
			if b.Fit.Pieces[p].Kind != fit.Door { // what comes with a door goes to its own operations
				b.with(op, n, p, -1)
			}
		}
	}
}

// with gives an operation everything that comes with a need.
func (b *builder) with(op, need, piece, post int) {
	for _, n := range b.ofNeed[need] {
		b.use(op, n, b.left(n), piece, post)
	}
}

// left is how many of a need no operation has yet.
func (b *builder) left(need int) int { return b.Takeoff.Needs[need].Count - b.given[need] }

// use gives an operation some of a need, and with the last of it what comes with
// it.
func (b *builder) use(op, need, count, piece, post int) {
	n := &b.Takeoff.Needs[need]
	count = min(count, b.left(need))
	if count <= 0 {
		return
	}
	b.given[need] += count
	u := Use{Need: need, Count: count, Item: n.Item, Name: n.Name, Length: n.Length, Post: post, Piece: piece}
	if n.Class == kit.ClassFastener {
		if f := b.Kit.Fastener(n.Item); f != nil {
			u.Diameter, u.Fastener = f.Diameter, f.Kind
		}
		b.nodes[op].Bolts = append(b.nodes[op].Bolts, u)
	} else {
		b.nodes[op].Parts = append(b.nodes[op].Parts, u)
	}
	if b.left(need) == 0 {
		b.with(op, need, piece, post)
	}
}

// needsAt are the needs of the joints of a kind at a run (or, for panels, a bay)
// and post.
func (b *builder) needsAt(kind kit.JointKind, run, post int) []int {
	var out []int
	for _, j := range b.joints[jointKey{kind, run, post}] {
		out = append(out, b.ofJoint[j]...)
	}
	return out
}

// hold gives an operation a share (part of parts) of everything that holds a joint
// together, rounded up, or where part is parts all that is left.
func (b *builder) hold(op int, kind kit.JointKind, run, post, part, parts int) {
	for _, n := range b.needsAt(kind, run, post) {
		count := (b.Takeoff.Needs[n].Count*part + parts - 1) / parts
		if part >= parts {
			count = b.left(n)
		}
		b.use(op, n, count, -1, post)
	}
}

// pieceOf finds the piece of a run with a code: P-2/top.
func (b *builder) pieceOf(run int, code string) []int {
	want := b.Layout.Runs[run].Name + "/" + code
	for _, i := range b.runOf[run] {
		if b.Fit.Pieces[i].Label == want {
			return []int{i}
		}
	}
	return nil
}

// kindOf lists the pieces of a run of a kind that no operation adds yet.
func (b *builder) kindOf(run int, k fit.PieceKind, keep func(*fit.Piece) bool) []int {
	var out []int
	for _, i := range b.runOf[run] {
		if p := &b.Fit.Pieces[i]; p.Kind == k && !b.placed[i] && (keep == nil || keep(p)) {
			out = append(out, i)
		}
	}
	return out
}

// remaining tells what no operation took; it must be nothing.
func (b *builder) remaining() error {
	for i := range b.Takeoff.Needs {
		n := &b.Takeoff.Needs[i]
		if n.Piece >= 0 && !b.placed[n.Piece] {
			continue // told by Aside
		}
		if n.With >= 0 {
			if p := b.root(i); p >= 0 && !b.placed[p] {
				continue
			}
		}
		if b.left(i) != 0 {
			return fmt.Errorf("order of work: %d of %d %s at %s go into no operation", b.left(i), n.Count, n.Item, n.Place)
		}
	}
	return nil
}

// root is the piece that a need comes with in the end; -1 for none.
func (b *builder) root(need int) int {
	n := &b.Takeoff.Needs[need]
	for n.With >= 0 {
		n = &b.Takeoff.Needs[n.With]
	}
	return n.Piece
}

func name(s string) phrase.Name { return phrase.Name(s) }

// called is what the kit calls one of its things, for catalogues that have it in a
// language of their own.
func (b *builder) called(id, word string) phrase.Phrase {
	return phrase.Of("kit-"+b.Kit.Kit+"."+id, phrase.With("name", name(word)))
}
