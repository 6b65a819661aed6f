package finding

// Code names a kind of finding for good: it is never given another meaning.
type Code string

// The findings, each with what it says.
const (
	// PenSize: what a pen of whole sections comes out at, beside what was asked.
	PenSize Code = "pen-size"
	// CoverageUnmeasured: the board's coverage is a table's, not the stack's.
	CoverageUnmeasured Code = "coverage-unmeasured"
	// NotMeasured: a bay is fitted from its drawn width; nothing may be cut from it.
	NotMeasured Code = "not-measured"
	// ReadingsDiffer: a bay was measured twice with different results.
	ReadingsDiffer Code = "readings-differ"
	// MeasuredFarOff: a measured width is far from the drawn one.
	MeasuredFarOff Code = "measured-far-off"
	// Taper: a bay is so much wider at one height that a board would lose its hold.
	Taper Code = "taper"
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
)
