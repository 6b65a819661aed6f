package build

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// RuleID names a rule of precedence for good.
type RuleID string

// Wait is one operation that must be done first, and the rule that says so.
type Wait struct {
	Op   int // into Result.Operations
	Rule RuleID
}

// Tool is a tool by its key in the catalogues: wrench for build.tool-wrench. Size
// is that of the drill, or of the bolt a wrench is for; zero for none.
type Tool struct {
	Key  string
	Size measure.Length
}

// Lift is the heaviest thing that an operation has people carry, against what
// they should.
type Lift struct {
	Piece  int          // into fit.Result.Pieces; -1 for a whole frame or a bag
	Mass   measure.Mass // of the thing
	Carry  measure.Mass // what comes on hands at once: half of it where one end stays down
	People int          // who can carry that within the limit
	Aid    bool         // more than a team may carry: a lifting aid
}

// Target is what to measure when an operation is done, what it should be, and how
// far it may be off.
type Target struct {
	What  phrase.Phrase
	Value measure.Length // zero where What says it all
	Least measure.Length // what is still right: from Least …
	Most  measure.Length // … to Most; both zero where What says it all
	Basis string         // where the tolerance comes from
}

// Step is what one page shows: a few operations that follow each other at one
// place.
type Step struct {
	No    int // from 1
	Title phrase.Phrase
	Place Place
	First int   // its first operation, into Result.Operations
	Ops   []int // its operations
	Adds  []int // pieces it adds, in the order they go in
	Like  int   // an earlier step that does the same with pieces of the same sizes elsewhere; -1 for none
	Done  bool
}
