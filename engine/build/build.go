// Package build turns a plan into the order of work. In go the job, the kit, the
// layout, everything fitted to it, the take-off and what was set out; out come
// operations (one thing a crew does, with its parts, fasteners, tools, people and
// minutes), the rules that say which must come before which, one order that keeps
// them all, and steps (what one page shows).
//
// What always holds:
//
//   - every piece fitted is added by exactly one operation, or is told to be set
//     aside;
//   - the hardware of all operations is the hardware of the take-off, to the last
//     screw;
//   - no rule is broken by the order, and no two rules exclude each other;
//   - an operation's pieces can go in: what stands above them is not there yet.
//
// Which rule made an operation wait for another stands in the graph itself. The
// facts of the trade behind the rules are common practice without a published
// source; each says so.
package build

import (
	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Result is the whole job as work.
type Result struct {
	Operations []Operation // in an order that a crew can follow
	Steps      []Step      // the operations again, in the same order, a few each
	Aside      []int       // pieces of a release that have no place any more, into fit.Result.Pieces
	Findings   []finding.Finding
}

// Kind is what an operation does.
type Kind string

// The kinds of operation. Those from Unload on take something out again; they
// stand in repairs only.
const (
	SetOut  Kind = "set-out" // stakes, lines, the circle
	Mark    Kind = "mark"    // the datum line on a post
	Pour    Kind = "pour"    // a hole dug and filled with concrete
	Seat    Kind = "seat"    // a pad or foot laid where a post comes
	Layout  Kind = "lay-out" // a frame's parts on the ground
	Bolt    Kind = "bolt"    // parts bolted together, nuts not yet tight
	Stand   Kind = "stand"   // a frame or post stood up
	Move    Kind = "move"    // a standing frame brought to its place
	Pin     Kind = "pin"     // one pin of a joint
	Brace   Kind = "brace"   // props that hold what stands
	Lag     Kind = "lag"     // a channel or post screwed to timber
	Level   Kind = "level"   // brought to the datum line
	Square  Kind = "square"  // diagonals made equal
	Tighten Kind = "tighten" // every bolt of a frame
	Anchor  Kind = "anchor"  // a foot fixed to concrete
	Unbrace Kind = "unbrace" // props taken away
	Measure Kind = "measure" // clear widths of a bay
	Cut     Kind = "cut"     // a bay's boards, by the saw tickets
	Load    Kind = "load"    // boards into their channels
	Trim    Kind = "trim"    // a grille cut to its bay
	Capture Kind = "capture" // a grille set on its course
	Fit     Kind = "fit"     // a window or feeder set among its courses
	Fasten  Kind = "fasten"  // boards screwed
	Clamp   Kind = "clamp"   // the stack clamped
	Roof    Kind = "roof"    // roof posts fixed under the roof
	Track   Kind = "track"   // a door's track hung
	Rollers Kind = "rollers" // rollers or hinges on a leaf, nuts loose
	Hang    Kind = "hang"    // a leaf hung
	Adjust  Kind = "adjust"  // a leaf made level and clear, nuts tight
	Handle  Kind = "handle"  // handle and latch
	Check   Kind = "check"   // nothing is added: it is looked at
	Loosen  Kind = "loosen"  // clamps or screws undone
	Unload  Kind = "unload"  // boards taken out
	Unhang  Kind = "unhang"  // a leaf taken down
)

// Place is where an operation happens. Numbers are those of the layout; -1 for
// none.
type Place struct {
	Structure, Wall, Run, Bay, Room, Post int
	Name                                  string // of the narrowest of them, as labels have it
}

// Operation is one thing a crew does.
type Operation struct {
	ID     string // unique in the job: P-2/stand
	Kind   Kind
	Place  Place
	Do     phrase.Phrase   // what to do, with this job's numbers
	How    []phrase.Phrase // how, where that is not plain from Do
	Adds   []int           // pieces, into fit.Result.Pieces, in the order they go in
	Parts  []Use           // hardware: counted parts that are no fasteners
	Bolts  []Use           // hardware: fasteners
	Tools  []Tool
	Lift   *Lift // the heaviest thing handled; nil for nothing worth naming
	People int   // hands needed at once, at least 1
	// Minutes is how long it takes with that many people; WhyMinutes is where the
	// rule stands.
	Minutes    int
	WhyMinutes string
	Cure       int // minutes that pass after it before what waits for it may begin, work or no work
	Check      *Target
	Cautions   []phrase.Phrase
	After      []Wait // what must be done before, by index; each before this one in the order
	Done       bool   // the job's states say so
	Step       int    // into Result.Steps
}

// Use is hardware that an operation takes: some of one need of the take-off.
type Use struct {
	Need  int // into takeoff.Result.Needs
	Count int
	Item  string
	Name  string
	// Length is as cut, or as bought for fasteners; zero where it has none.
	Length   measure.Length
	Diameter measure.Length // of fasteners
	Fastener kit.FastenerKind
	Post     int // where it goes: the joint's post; -1 where it belongs to a whole frame or bay
	Piece    int // the piece it comes with, into fit.Result.Pieces; -1 for none
}
