package finding

// Code names a kind of finding for good: it is never given another meaning.
type Code string

// The findings, each with what it says.
const (
	// PenSize: what a pen of whole sections comes out at, beside what was asked.
	PenSize Code = "pen-size"
	// PenJoint: a pen's sections turn too sharply for their uprights.
	PenJoint Code = "pen-joint"
	// CoverageUnmeasured: the board's coverage is a table's, not the stack's.
	CoverageUnmeasured Code = "coverage-unmeasured"
	// NotMeasured: a bay is fitted from its drawn width; nothing may be cut from it.
	NotMeasured Code = "not-measured"
	// StateOrder: an entry of how far a frame or a fill has come cannot follow the
	// others and does not count.
	StateOrder Code = "state-order"
	// MeasuredEarly: a bay was measured although its frame is not tight.
	MeasuredEarly Code = "measured-early"
	// FrozenFits: a released bay was measured again, and its pieces still fit.
	FrozenFits Code = "frozen-fits"
	// FrozenLong: pieces of a released bay are too long for what was measured since.
	FrozenLong Code = "frozen-long"
	// FrozenShort: pieces of a released bay are too short for what was measured since.
	FrozenShort Code = "frozen-short"
	// FrozenNew: a released bay takes pieces that its release does not hold.
	FrozenNew Code = "frozen-new"
	// FrozenLeft: a released bay has no place any more for pieces of its release.
	FrozenLeft Code = "frozen-left"
	// NotebookEntry: an entry of the notebook speaks of what the job does not hold.
	NotebookEntry Code = "notebook-entry"
	// ReadingsDiffer: a bay was measured twice with different results.
	ReadingsDiffer Code = "readings-differ"
	// MeasuredFarOff: a measured width is far from the drawn one.
	MeasuredFarOff Code = "measured-far-off"
	// Taper: a bay is so much wider at one height that one length of board would
	// lose its hold there: the courses are cut to their own heights, or a channel is
	// shimmed.
	Taper Code = "taper"
	// WidthLean: a bay's widths and the leans of its posts disagree.
	WidthLean Code = "width-lean"
	// BoardSwells: swollen, the boards would not go into the channel.
	BoardSwells Code = "board-swells"
	// ChannelTwist: the channels lean so far apart across the wall that a board binds.
	ChannelTwist Code = "channel-twist"
	// GrilleTaper: a grille cannot stand in a tapered bay with its ends held and its
	// gaps small at every height.
	GrilleTaper Code = "grille-taper"
	// Obstructed: something of the building crosses a wall's boards.
	Obstructed Code = "obstructed"
	// EndsLoose: boards cut beside an obstruction are not held at that end.
	EndsLoose Code = "ends-loose"
	// ObstructionMeets: something of the building stands where a grille, a window, a
	// feeder, a door or its track, a tube or a post does.
	ObstructionMeets Code = "obstruction-meets"
	// BoardTooThick: the boards do not go into the channel.
	BoardTooThick Code = "board-too-thick"
	// BoardLoose: the boards rattle in the channel.
	BoardLoose Code = "board-loose"
	// LittleHold: a board pushed to one end does not stand deep enough in the other.
	LittleHold Code = "little-hold"
	// StackTooHigh: the courses do not fit under the tube.
	StackTooHigh Code = "stack-too-high"
	// StackShort: the stack stays short of its zone and neither clamp, ripped
	// course nor packing makes it up.
	StackShort Code = "stack-short"
	// RippedCourse: the last course is ripped.
	RippedCourse Code = "ripped-course"
	// Packed: a packing strip goes under the clamps.
	Packed Code = "packed"
	// NoGrille: no grille of the kit fits the bay.
	NoGrille Code = "no-grille"
	// BarGap: a gap beside a grille's outermost bar is wider than between bars.
	BarGap Code = "bar-gap"
	// ZincRepair: trimmed ends to deburr and repair with zinc.
	ZincRepair Code = "zinc-repair"
	// FeederHeight: the feeder's top and the grille's do not come level.
	FeederHeight Code = "feeder-height"
	// FeederWidth: the feeder leaves no room for short courses.
	FeederWidth Code = "feeder-width"
	// WindowPlace: the window does not fit where it is asked for.
	WindowPlace Code = "window-place"
	// DoorLap: a leaf does not lap a jamb far enough.
	DoorLap Code = "door-lap"
	// DoorHeight: a leaf cannot hang between floor and track.
	DoorHeight Code = "door-height"
	// DoorLift: a leaf could be lifted off its track.
	DoorLift Code = "door-lift"
	// DoorGuide: a leaf hangs above its floor guide.
	DoorGuide Code = "door-guide"
	// DoorGap: a swing leaf leaves too little or too much gap at the latch.
	DoorGap Code = "door-gap"
	// DoorPark: a sliding leaf has no free wall to park before.
	DoorPark Code = "door-park"
	// DoorMeets: a parked or swinging leaf, or its track, meets a neighbour's
	// door, latch or feeder.
	DoorMeets Code = "door-meets"
	// HandleCovered: the handle's slot passes behind a jamb, or leaves no room for a hand.
	HandleCovered Code = "handle-covered"
	// NoFastener: no bought length is long enough for the grip.
	NoFastener Code = "no-fastener"
	// NoStock: a piece is longer than any length sold.
	NoStock Code = "no-stock"
	// RingCloses: how a pen's sections close on its measured piers.
	RingCloses Code = "ring-closes"
	// RingOpen: a pen's sections do not close on its measured piers.
	RingOpen Code = "ring-open"
	// PiersMissing: only some of a pen's piers are measured.
	PiersMissing Code = "piers-missing"
	// GroundMissing: the ground is levelled at only some posts of a structure.
	GroundMissing Code = "ground-missing"
	// GroundFalls: what a sloping site takes, level or in steps.
	GroundFalls Code = "ground-falls"
	// BagsShort: piers take more concrete than comes with them.
	BagsShort Code = "bags-short"
	// ReadingSuspect: a tape or rod reading disagrees with the others.
	ReadingSuspect Code = "reading-suspect"
	// ReadingsClash: readings exclude each other: a duplicate that differs, three
	// that make no triangle, a number in another unit.
	ReadingsClash Code = "readings-clash"
	// ReadingUnchecked: nothing checks a reading; a slip in it would not show.
	ReadingUnchecked Code = "reading-unchecked"
	// PostUnplaced: the readings of a post do not place it.
	PostUnplaced Code = "post-unplaced"
	// PostUnread: no reading touches a post whose neighbours were read.
	PostUnread Code = "post-unread"
	// PostMoved: where posts stand, beside where they were drawn.
	PostMoved Code = "post-moved"
	// PostLeans: a post leans so far that its bays taper.
	PostLeans Code = "post-leans"
	// PostsUnframed: with the posts where they stand the job cannot be framed.
	PostsUnframed Code = "posts-unframed"
	// DatumLine: which floor governs the datum line and how far the floor falls.
	DatumLine Code = "datum-line"
	// FloorGap: the datum line leaves too wide a gap under a bay's lowest board.
	FloorGap Code = "floor-gap"
	// CrewLift: a step's load is more than the crew may lift.
	CrewLift Code = "crew-lift"
	// Headroom: the walls reach into the trusses over them.
	Headroom Code = "headroom"
)
