package walk

import (
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

// Kind is what a question asks for.
type Kind string

// The kinds of question.
const (
	AskLength  Kind = "length"  // a tape or rod: feet and inches, or millimetres
	AskSmall   Kind = "small"   // a lean: inches or millimetres, with a sign
	AskReady   Kind = "ready"   // yes or no: is the frame tight, are the channels lagged?
	AskRelease Kind = "release" // yes or no: may the bay's boards be cut?

	AskSpots     Kind = "spots"     // yes or no: is a room's floor anywhere higher than at its posts?
	AskCrossings Kind = "crossings" // yes or no: does anything of the building cross a wall?
)

// Status is how far a question is.
type Status string

// How far a question may be.
const (
	Open     Status = "open"
	Done     Status = "done"
	Doubtful Status = "look again" // answered, but it disagrees with the drawing or with others
	Skipped  Status = "skipped"
	Waiting  Status = "waiting" // for the frame, or for other answers
)

// Question is one question of the sheet.
type Question struct {
	ID     string // the same in every session: width A1-A2 bottom
	No     int    // from 1, in walking order
	Of     int    // how many there are
	Kind   Kind
	Place  string // the bay, run, post or posts it is about
	Ask    string // the question itself, short
	How    string // what to hook the tape on
	Watch  string // what to watch; may be empty
	Type   string // how to type the answer
	Status Status

	Expected measure.Length // what it should come to
	Known    bool           // Expected is known
	Drawn    bool           // Expected is as drawn, not from other readings
	Read     measure.Length // the latest answer
	HasRead  bool

	task   site.TaskKind
	posts  []string
	setUp  string
	touch  job.Between
	bay    string
	height job.Height
	part   job.PlumbPart
	run    string
	framed bool
	small  measure.Length // the smallest slip that would be found
}
