// Package frame turns a job and a kit into posts, runs, bays, walls, rooms and
// aisles. A round pen, a row in a post-frame barn, a free-standing row and a
// barn of free-standing stalls all come out as the same few things:
//
//   - a Post is a place in plan where something stands;
//   - a Run is what stands between two principal posts, and where it is framed
//     is delivered and set as one frame;
//   - a Bay is a run, or a part of one beside a door post, with one fill;
//   - a Wall is runs in a row; a Room is what walls enclose.
//
// Plan coordinates have x to the east and y to the north from each structure's
// own zero. Sizes here are as drawn; what was measured comes in with fit. What
// always holds: every bay's posts are two different posts, names are unique,
// drawn clear widths are more than nothing.
package frame

import (
	"stallwright/engine/document"
	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
)

// Point is a place in plan: X to the east, Y to the north.
type Point struct{ X, Y measure.Length }

// Sub is the way from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add is p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Kind is the kind of a structure, as jobs name it.
type Kind string

// The kinds of structure.
const (
	Pen      Kind = "pen"
	BarnRow  Kind = "barn-row"
	FreeRow  Kind = "free-row"
	FreeBarn Kind = "free-barn"
	FreeForm Kind = "free-form"
)

// PostKind says what a post is.
type PostKind string

// What posts are.
const (
	Timber PostKind = "timber" // standing timber of a post-frame barn
	Steel  PostKind = "steel"  // a post of the kit, shared by the runs that meet it
	Joint  PostKind = "joint"  // where two pen sections are pinned; their uprights belong to the runs
	Door   PostKind = "door"   // a door post, standing on its frame's tubes
)

// Post is a place in plan where something stands.
type Post struct {
	Name      string
	Structure int
	Kind      PostKind
	At        Point
	Along     measure.Length // outside size along Turn
	Across    measure.Length // outside size across it
	Turn      measure.Angle  // direction of its along side, from east, anticlockwise
	Item      *kit.Post      // steel and door posts
	Base      *kit.Base      // what it stands on, where the kit says
	Height    measure.Length // length of a steel post; zero for timber
}

// Run is what stands between two principal posts.
type Run struct {
	Name      string
	Structure int
	Wall      int
	Role      job.WallRole
	From, To  int // posts, left and right seen from the wall's front
	Assembly  *kit.Assembly
	Channel   *kit.Channel // at each end, where channels are lagged to timber
	EndPost   *kit.Post    // at each end, where mounted or own
	Height    measure.Length
	Datum     measure.Length // underside of the first board above the finished floor
	Drop      measure.Length // how much lower than its structure's datum line this run's has stepped
	Zone      measure.Length // room for boards above the datum
	Centres   measure.Length // between the principal posts' axes
	Clear     measure.Length // clear width, web to web: measured between standing timber where the job holds that, else drawn
	Drawn     measure.Length // clear width as drawn
	Measured  bool           // Clear is measured
	Ends      [2]End
	Bays      []int
	DoorPosts []int
	Why       *reason.Reason // of Clear
	WhyZone   *reason.Reason // of Zone
}

// Framed says whether the run is delivered as a frame with tubes.
func (r *Run) Framed() bool { return r.Assembly.Ends != kit.EndsChannel }

// Clamped says whether its boards are held by stack clamps.
func (r *Run) Clamped() bool { return r.Assembly.Restraint == kit.Clamped }

// End is one end of a run or bay: the channel that holds the board ends, or
// the face of a jamb.
type End struct {
	Post   int            // the post it belongs to
	Reach  measure.Length // from the post's axis to the inner face of the channel's web
	Leg    measure.Length // depth of the channel
	Inside measure.Length // width inside the channel
}

// Face is from the post's axis to where the channel's legs end.
func (e End) Face() measure.Length { return e.Reach + e.Leg }

// Bay is one filled (or open) part of a run.
type Bay struct {
	Name      string
	Structure int
	Wall      int
	Run       int
	Room      int // the room it fronts or bounds; -1 for none
	Fill      job.Fill
	Door      *kit.Door      // set where the bay is a doorway
	Slides    job.Hand       // side a sliding leaf parks on; empty: either
	Hinge     job.Hand       // side a swing leaf hangs on
	Ends      [2]End         // left and right
	Start     measure.Length // from the run's left web to this bay's left web (doorways: jamb face)
	Clear     measure.Length // drawn clear width (doorways: clear opening)
	Why       *reason.Reason // of Clear
	Pos       document.Pos   // where the job speaks of it
}

// IsDoor says whether the bay is a doorway.
func (b *Bay) IsDoor() bool { return b.Door != nil }

// IsOpen says whether nothing fills the bay.
func (b *Bay) IsOpen() bool { return b.Door == nil && b.Fill.Kind == job.FillOpen }

// Wall is runs in a row.
type Wall struct {
	Name      string
	Structure int
	Role      job.WallRole
	Runs      []int
}

// Room is what walls enclose.
type Room struct {
	Name      string
	Kind      job.RoomKind
	Structure int
	Corners   []int          // posts, in order
	Width     measure.Length // post centre to post centre, along the front
	Depth     measure.Length // post centre to post centre, front to back
	Runs      []int          // runs around it
}

// Aisle is a passage between two fronts.
type Aisle struct {
	Name      string
	Structure int
	Width     measure.Length // post centre to post centre
	Clear     measure.Length // between the posts' faces
	Length    measure.Length
	Corners   [4]Point
}

// Structure is one structure of the job.
type Structure struct {
	Name   string
	Kind   Kind
	Ring   *Ring // pens only
	Height measure.Length
}

// JointAt is one joint of the job: what meets, and what is known there.
type JointAt struct {
	Kind kit.JointKind
	Run  int // the run it belongs to; -1 where it belongs to a post alone
	Bay  int // the bay, for panels; else -1
	Post int // the post; -1 where it belongs to a whole frame
}

// Layout is everything framed.
type Layout struct {
	Structures []Structure
	Posts      []Post
	Runs       []Run
	Bays       []Bay
	Walls      []Wall
	Rooms      []Room
	Aisles     []Aisle
	Joints     []JointAt
	Findings   []finding.Finding

	bayByName  map[string]int
	postByName map[string]int
}

// Bay finds a bay by name.
func (l *Layout) Bay(name string) (int, bool) {
	i, ok := l.bayByName[name]
	return i, ok
}

// Post finds a post by name.
func (l *Layout) Post(name string) (int, bool) {
	i, ok := l.postByName[name]
	return i, ok
}

// BayNames lists the bays in order.
func (l *Layout) BayNames() []string {
	out := make([]string, len(l.Bays))
	for i := range l.Bays {
		out[i] = l.Bays[i].Name
	}
	return out
}

// Facts is what rules may know about a run.
func (l *Layout) Facts(run int) kit.Facts {
	r := &l.Runs[run]
	f := kit.Facts{
		Structure: string(l.Structures[r.Structure].Kind), Wall: string(r.Role),
		Door: r.hasDoor(l), Clamped: r.Clamped(), Bays: len(r.Bays),
		Clear: r.Clear, Centres: r.Centres, Height: r.Height, Datum: r.Datum, Zone: r.Zone,
	}
	for _, b := range r.Bays {
		if !l.Bays[b].IsDoor() && !l.Bays[b].IsOpen() {
			f.Panels++
		}
	}
	return f
}

func (r *Run) hasDoor(l *Layout) bool {
	for _, b := range r.Bays {
		if l.Bays[b].IsDoor() {
			return true
		}
	}
	return false
}

// Filled says whether a run holds anything at all; an open one is not built.
func (r *Run) Filled(l *Layout) bool {
	for _, b := range r.Bays {
		if !l.Bays[b].IsOpen() {
			return true
		}
	}
	return false
}
