// Package fit sizes every piece to its own bay. In go a job, the kit it names
// and the layout framed from both; out comes each piece with its length, its
// place, what is cut into it, and the reason for each number; and findings
// where something cannot fit or should be looked at. Nothing is clamped in
// silence: where a piece cannot be sized, there is a finding and no piece.
//
// What always holds: a board is never longer than its clear width less the end
// play; board lengths lie on the tape's marks; courses stack without overlap
// inside the board zone.
package fit

import (
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// State says how far a fill's numbers can be trusted.
type State string

// The states of a fill.
const (
	Drawn    State = "drawn"    // from the drawing: order from it, cut nothing
	Measured State = "measured" // from a tape on the standing bay
)

// PieceKind is what a piece is.
type PieceKind string

// The kinds of piece.
const (
	Board   PieceKind = "board"
	Packing PieceKind = "packing"
	Skirt   PieceKind = "skirt" // under the lowest board, where the floor falls
	Tube    PieceKind = "tube"
	Channel PieceKind = "channel"
	Post    PieceKind = "post"
	Grille  PieceKind = "grille"
	Door    PieceKind = "door"
	Window  PieceKind = "window"
	Feeder  PieceKind = "feeder"
	Track   PieceKind = "track"
)

// Lumber is the item name of boards; every other item is an id of the kit.
const Lumber = "board"

// Notch is something cut out of a board. X runs from the board's left end.
type Notch struct {
	Edge  string         // top, bottom, front face or back face
	X     measure.Length // from the piece's left end
	Width measure.Length
	Depth measure.Length // from the lower edge; from the tongue's tip; or into the thickness from a face
	High  measure.Length // of a face: how high from the lower edge
	Why   string
}

// Piece is one thing with a name of its own: cut, labelled, carried to a place.
type Piece struct {
	Label   string // bay (or run) and code: A1-A2/c7
	Kind    PieceKind
	Item    string // id in the kit, or Lumber
	Run     int    // -1 for posts that runs share
	Bay     int    // -1 where it belongs to a run or a post
	Course  int    // boards: from 1 at the bottom
	Length  measure.Length
	Made    measure.Length // as delivered, where it is trimmed from that; else zero
	Height  measure.Length // boards: face covered; others: overall height where it has one
	X       measure.Length // from the bay's (or run's) left web to its left end
	Z       measure.Length // its underside above the datum
	Cut     bool           // cut from longer stock
	Treated bool
	Ripped  bool // narrower than a full course; its tongue is gone
	Fasten  bool // nothing holds it from below: it is fastened
	Below   bool // loaded from below (doors)
	Notches []Notch
	State   State
	Misfit  bool // frozen, but it no longer fits what was measured since
	Why     *reason.Reason
}

// Course is one height of boards in a bay.
type Course struct {
	No     int
	Z      measure.Length // underside above the datum (doors: above the leaf's bottom)
	Height measure.Length // face covered
	Kind   string         // full, short, cut, closing, ripped
	Pieces []int          // into Result.Pieces
}

// Stack is how a bay's courses come out in its board zone.
type Stack struct {
	Zone    measure.Length
	Top     measure.Length // top of the stack above the datum, last tongue included
	Slack   measure.Length // zone less top, packing not counted
	Packing measure.Length // thickness of the packing strip; zero for none
	Clamp   *kit.Clamp     // what takes up the slack; nil in a screwed wall
	Why     *reason.Reason
}

// BayFit is what was worked out for one bay.
type BayFit struct {
	Bay      int
	State    State
	Clear    measure.Length // clear width counted on: the narrowest reading
	Widest   measure.Length // the widest reading
	WhyClear *reason.Reason
	Width    *job.Width        // the readings counted on; nil where it is drawn
	Thick    *ThickFit         // the board's thickness in its channels; nil in doorways
	Taper    *TaperFit         // nil where the bay is as wide at every height
	Frozen   bool              // its pieces were frozen by a release
	Board    measure.Length    // length of a full course
	Hold     [2]measure.Length // least depth in the left and right channel, pushed fully to the other end
	Courses  []Course
	Stack    *Stack
	Grille   *GrilleFit
	Window   *WindowFit
	Feeder   *FeederFit
	Door     *DoorFit
	Pieces   []int // every piece of the bay, into Result.Pieces

	profile profile // clear width with height; none where it is drawn
}

// Mark is the datum line's mark on a post.
type Mark struct {
	Post   int
	Runs   []int          // runs that start from it
	Height measure.Length // above the finished floor at this post
	Why    *reason.Reason
}

// Result is everything fitted.
type Result struct {
	Board  job.Board
	Bays   []BayFit // one for each bay of the layout, in its order
	Pieces []Piece
	Marks  []Mark
	// Obstructions are what crosses bays or stands close before them, by bay.
	Obstructions []ObstructionFit
	Frames       []job.Step // of each run of the layout: how far its frame has come; empty where nobody stated it
	Findings     []finding.Finding

	progress *job.Progress
	from     *fitter // what it was fitted from
}

// fitter works one job through.
type fitter struct {
	job      *job.Job
	kit      *kit.Kit
	lay      *frame.Layout
	out      *Result
	tape     measure.Tape
	board    job.Board
	coverage *reason.Reason
	endPlay  *reason.Reason
	measured map[string][]*job.Measurement
	leans    map[string]*job.Reading // the latest plumb reading of each post
	swelling job.Swelling
	levels   *Levels
	thaw     bool             // fit to the latest measurements, frozen or not
	floor    map[string]Floor // by post
	highest  []Floor          // of each structure

	treatedBay, treatedCount int // the bay (plus one) last asked for its treated courses
	sliding                  []slidingDoor
	line                     []measure.Length // of each run's left post, on its line
	ways                     [][]int          // of each wall: bays a parked leaf may be in the way of
}

// Make fits a layout.
func Make(j *job.Job, k *kit.Kit, l *frame.Layout) *Result { return newFitter(j, k, l).fit() }

func newFitter(j *job.Job, k *kit.Kit, l *frame.Layout) *fitter {
	f := &fitter{
		job: j, kit: k, lay: l, board: j.Lumber.Board(), measured: map[string][]*job.Measurement{},
		tape: measure.Tape{System: j.Units, Mark: k.Board.Mark},
		out:  &Result{Bays: make([]BayFit, len(l.Bays))},
	}
	f.out.Board, f.swelling = f.board, j.Lumber.Swelling()
	f.plumb()
	f.coverage = reason.Of(phrase.Of("why.coverage"), phrase.Length(f.board.Coverage), phrase.Phrase{}, f.board.Cite())
	f.endPlay = reason.Given(phrase.Of("why.end-play"), phrase.Length(k.Board.EndPlay), f.kitSource("board.end_play", k.Board.Of("end_play").Line))
	for i := range j.Measurements {
		m := &j.Measurements[i]
		f.measured[m.Bay] = append(f.measured[m.Bay], m)
	}
	return f
}

func (f *fitter) fit() *Result {
	j, l := f.job, f.lay
	f.follow()
	f.floors()
	if !f.board.Measured {
		f.find(finding.CoverageUnmeasured, finding.Note, j.Farm.Name, "the boards' coverage of "+f.show(f.board.Coverage)+" is a table's; mills differ",
			phrase.Of("way.ten-boards", phrase.With("key", phrase.Name("lumber.ten_boards"))))
		f.say("found.coverage", size("coverage", f.board.Coverage))
	}
	f.out.Pieces = make([]Piece, 0, f.expected())
	for i := range l.Bays {
		f.out.Bays[i] = BayFit{Bay: i}
		f.bay(i)
	}
	f.park()
	f.inDoors()
	f.freeze()
	f.frames()
	f.posts()
	f.skirts()
	f.marks()
	f.undone()
	finding.Sort(f.out.Findings)
	f.out.from = f
	return f.out
}

// expected is about how many pieces there will be, so that a large job's list
// does not grow by copying.
func (f *fitter) expected() int {
	n := 6*len(f.lay.Runs) + len(f.lay.Posts)
	for i := range f.lay.Bays {
		if b := &f.lay.Bays[i]; !b.IsOpen() {
			n += 3 + int(f.lay.Runs[b.Run].Zone.DivUp(f.board.Coverage))
		}
	}
	return n
}

// bay fits one bay by what fills it.
func (f *fitter) bay(i int) {
	b := &f.lay.Bays[i]
	f.clear(i)
	switch {
	case b.IsOpen():
		f.obstructions(i)
		return
	case b.IsDoor():
		f.door(i)
		f.obstructions(i)
		return
	}
	f.hold(i)
	switch b.Fill.Kind {
	case job.FillGrille:
		f.grilleBay(i)
	case job.FillWindow:
		f.windowBay(i)
	case job.FillFeeder:
		f.feederBay(i)
	default:
		f.boardsBay(i)
	}
	f.taper(i)
	f.obstructions(i)
}

// show writes a length as the job's readers do.
func (f *fitter) show(l measure.Length) string { return l.In(f.job.Units) }

func (f *fitter) find(code finding.Code, s finding.Severity, place, message string, choices ...phrase.Phrase) {
	f.out.Findings = append(f.out.Findings, finding.Finding{Code: code, Severity: s, Place: place, Message: message, Choices: choices})
}

// add keeps a piece and gives its index.
func (f *fitter) add(p Piece) int {
	f.out.Pieces = append(f.out.Pieces, p)
	i := len(f.out.Pieces) - 1
	if p.Bay >= 0 {
		f.out.Bays[p.Bay].Pieces = append(f.out.Bays[p.Bay].Pieces, i)
	}
	return i
}
