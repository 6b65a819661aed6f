package setout

import (
	"fmt"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// LineKind is which line of a structure a tape runs along.
type LineKind string

// The lines of rows and barns, and walls between standing posts.
const (
	LineBack        LineKind = "back"
	LineFront       LineKind = "front"
	LineSecondFront LineKind = "second-front"
	LineSecondBack  LineKind = "second-back"
	LineFirstEnd    LineKind = "first-end" // across the lines
	LineLastEnd     LineKind = "last-end"
	LineWall        LineKind = "wall" // Name is the wall's
)

// MarkKind is what stands at a mark of a line.
type MarkKind string

// What can stand at a mark; left and right as one faces the wall.
const (
	MarkStake        MarkKind = "stake"
	MarkPostLeft     MarkKind = "post-left-face"
	MarkPostRight    MarkKind = "post-right-face"
	MarkDoorPost     MarkKind = "door-post-centre"
	MarkDoorwayLeft  MarkKind = "doorway-left-edge"
	MarkDoorwayRight MarkKind = "doorway-right-edge"
)

// FrameKind is what four corner stakes enclose.
type FrameKind string

// What corner stakes enclose.
const (
	FrameRow       FrameKind = "row"
	FrameFirstRow  FrameKind = "first-row"
	FrameAisle     FrameKind = "aisle"
	FrameSecondRow FrameKind = "second-row"
	FrameWhole     FrameKind = "whole"
)

// LevelKind is how a site is made level.
type LevelKind string

// The levels worked out for a site.
const (
	LevelAlike LevelKind = "cut-and-fill-alike"
	LevelFill  LevelKind = "fill-only" // at the highest post
)

// PartKind is a part of a plan that ground is reckoned over.
type PartKind string

// The parts of a plan.
const (
	PartRoom    PartKind = "room"
	PartAisle   PartKind = "aisle"
	PartSection PartKind = "section" // of a pen
)

// Part is one part of a plan: a room by its name, a stretch of the aisle from
// one post to the next or a pen's section by its number from 1.
type Part struct {
	Kind PartKind
	Name string
	No   int
}

func (p Part) String() string {
	if p.Kind == PartRoom {
		return p.Name
	}
	return fmt.Sprintf("%s %d", p.Kind, p.No)
}

// Phrase names the part.
func (p Part) Phrase() phrase.Phrase {
	switch p.Kind {
	case PartAisle:
		return phrase.Of("setout.part-aisle", phrase.With("no", phrase.Count(p.No)))
	case PartSection:
		return phrase.Of("setout.part-section", phrase.With("no", phrase.Count(p.No)))
	}
	return phrase.Of("setout.part-room", phrase.With("name", phrase.Name(p.Name)))
}

// Phrase names the line.
func (l *Line) Phrase() phrase.Phrase {
	switch l.Kind {
	case LineBack:
		return phrase.Of("setout.line-back")
	case LineFront:
		return phrase.Of("setout.line-front")
	case LineSecondFront:
		return phrase.Of("setout.line-second-front")
	case LineSecondBack:
		return phrase.Of("setout.line-second-back")
	case LineFirstEnd:
		return phrase.Of("setout.line-first-end")
	case LineLastEnd:
		return phrase.Of("setout.line-last-end")
	}
	return phrase.Of("setout.line-wall", phrase.With("name", phrase.Name(l.Name)))
}

// Hook says where the line's tape is hooked.
func (l *Line) Hook() phrase.Phrase {
	if l.Kind == LineWall {
		return phrase.Of("setout.hook-face", phrase.With("post", phrase.Name(l.Zero)))
	}
	return phrase.Of("setout.hook-stake", phrase.With("post", phrase.Name(l.Zero)))
}

// Phrase says what stands at the mark.
func (k MarkKind) Phrase() phrase.Phrase {
	switch k {
	case MarkStake:
		return phrase.Of("setout.mark-stake")
	case MarkPostLeft:
		return phrase.Of("setout.mark-post-left")
	case MarkPostRight:
		return phrase.Of("setout.mark-post-right")
	case MarkDoorPost:
		return phrase.Of("setout.mark-door-post")
	case MarkDoorwayLeft:
		return phrase.Of("setout.mark-doorway-left")
	case MarkDoorwayRight:
		return phrase.Of("setout.mark-doorway-right")
	}
	return phrase.Phrase{}
}

// Phrase names what the corners enclose.
func (k FrameKind) Phrase() phrase.Phrase {
	switch k {
	case FrameFirstRow:
		return phrase.Of("setout.frame-first-row")
	case FrameAisle:
		return phrase.Of("setout.frame-aisle")
	case FrameSecondRow:
		return phrase.Of("setout.frame-second-row")
	case FrameWhole:
		return phrase.Of("setout.frame-whole")
	}
	return phrase.Of("setout.frame-row")
}

// Phrase names the way to level a site.
func (k LevelKind) Phrase() phrase.Phrase {
	if k == LevelAlike {
		return phrase.Of("setout.level-alike")
	}
	return phrase.Of("setout.level-fill")
}

// Phrase names the shape of a part in plan.
func (s Shape) Phrase() phrase.Phrase {
	switch s {
	case Triangle:
		return phrase.Of("setout.shape-triangle")
	case Rectangular:
		return phrase.Of("setout.shape-rectangle")
	case Trapezoid:
		return phrase.Of("setout.shape-trapezoid")
	case Quadrilateral:
		return phrase.Of("setout.shape-quadrilateral")
	}
	return phrase.Of("setout.shape-polygon")
}

// Shape is a part's shape in plan, for whoever checks its area by hand.
type Shape string

// The shapes.
const (
	Triangle      Shape = "triangle"
	Rectangular   Shape = "rectangle"
	Trapezoid     Shape = "trapezoid"
	Quadrilateral Shape = "quadrilateral"
	Polygon       Shape = "polygon"
)

// Taping is what a line's distances rest on.
type Taping struct{ Measured, Openings int }

// Phrase says it.
func (t Taping) Phrase() phrase.Phrase {
	switch {
	case t.Measured == 0:
		return phrase.Of("setout.as-drawn")
	case t.Measured == t.Openings:
		return phrase.Of("setout.as-measured")
	}
	return phrase.Of("setout.as-measured-in-part", phrase.With("n", phrase.Count(t.Measured)), phrase.With("of", phrase.Count(t.Openings)))
}

// Compass turns an angle that counts anticlockwise from east into one clockwise
// from north, from 0 to under a full turn.
func Compass(a measure.Angle) measure.Angle {
	return ((90*measure.Degree-a)%measure.FullTurn + measure.FullTurn) % measure.FullTurn
}

// Bearing names a direction of the compass by its nearest wind and its angle.
func Bearing(compass measure.Angle) phrase.Phrase {
	const eighth = measure.FullTurn / 8
	k := (compass + eighth/2) / eighth
	args := []phrase.Arg{phrase.With("wind", wind(int(k%8))), phrase.With("compass", phrase.Name(DegMinSec(compass)))}
	if compass != k*eighth {
		return phrase.Of("setout.bearing-near", args...)
	}
	return phrase.Of("setout.bearing", args...)
}

// wind is one of the eight winds, clockwise from north.
func wind(k int) phrase.Phrase {
	return [...]phrase.Phrase{
		phrase.Of("kind.north"), phrase.Of("kind.north-east"), phrase.Of("kind.east"), phrase.Of("kind.south-east"),
		phrase.Of("kind.south"), phrase.Of("kind.south-west"), phrase.Of("kind.west"), phrase.Of("kind.north-west"),
	}[k]
}
