package survey

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Kind is what a reading measures.
type Kind uint8

// The kinds of plane reading, with the posts each names, in order.
const (
	Distance   Kind = iota // from, to
	Diagonal               // from, to; a distance across a bay
	Offset                 // post, line from, line to; left of the line is positive
	Straight               // post, line from, line to; the post stands in the line
	RightAngle             // corner, first arm, second arm; the arms are square
	Rod                    // post, set-up; a level reading, see LevelReading
)

// String is the kind's word for a crew.
func (k Kind) String() string {
	switch k {
	case Distance:
		return "distance"
	case Diagonal:
		return "diagonal"
	case Offset:
		return "offset"
	case Straight:
		return "straight line"
	case RightAngle:
		return "right angle"
	case Rod:
		return "level reading"
	}
	return "reading of an unknown kind"
}

// posts is how many posts a reading of this kind names.
func (k Kind) posts() int {
	if k == Distance || k == Diagonal || k == Rod {
		return 2
	}
	return 3
}

func (k Kind) isDistance() bool { return k == Distance || k == Diagonal }

// Point is a post, pier or mark with the place it was drawn at. The drawn
// place starts the computation and, where nothing is fixed, sets the datum.
type Point struct {
	Name  string
	X, Y  measure.Length
	Fixed bool // the place is known and not to be adjusted
}

// Reading is one plane measurement as it was written down.
type Reading struct {
	Name  string         // what a crew lead calls it; made from kind and posts if empty
	Says  phrase.Phrase  // Name for a crew in any language; empty where there is none
	Kind  Kind           // what was measured
	Posts []string       // names of points, in the kind's order
	Value measure.Length // what was read; for Straight and RightAngle how far off, usually 0
	// Hooks is the part of Value that was not on the tape: what makes a reading
	// between two faces one between the posts' axes. Sentences and guesses speak
	// of what was written, Value less Hooks.
	Hooks measure.Length
	Sigma measure.Length // standard deviation; 0 to take it from Options
	By    string         // who read it
	When  string         // when, as written
}

// written is what stood on the tape and in the book.
func (r Reading) written() measure.Length { return r.Value - r.Hooks }

// label is the reading's own name, or one made from its posts.
func (r Reading) label() string {
	if r.Name != "" {
		return r.Name
	}
	p := r.Posts
	if len(p) != r.Kind.posts() {
		return r.Kind.String()
	}
	return placeLabel(r.Kind, p)
}

func placeLabel(k Kind, p []string) string {
	switch k {
	case Offset:
		return "offset of " + p[0] + " from the line " + p[1] + "–" + p[2]
	case Straight:
		return "straight line " + p[1] + "–" + p[0] + "–" + p[2]
	case RightAngle:
		return "right angle at " + p[0] + " (" + p[1] + "–" + p[0] + "–" + p[2] + ")"
	case Rod:
		return "level reading at " + p[0] + " from set-up " + p[1]
	}
	return k.String() + " " + p[0] + "–" + p[1]
}
