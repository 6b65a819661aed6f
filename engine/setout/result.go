// Package setout turns a plan's layout into what is staked, strung and dug: for
// a pen the centre, radius, chords and angles; for free-standing rows and barns
// corner stakes, right angles, diagonals and a grid of bases; for stalls in a
// standing barn the places of doorways along each post line; and, where the
// ground was levelled, heights, concrete, cut and fill.
//
// In come a job, its kit and its layout, and plain values read in the field. Out
// come lengths, angles and volumes, each with its reason, and findings. What
// always holds:
//
//   - Distances along a line all run from its first stake, so that no error of
//     one is carried into the next.
//   - Numbers are exact to the nanometre; paper rounds each once, to the nearest
//     mark of the tape. A tape laid out has no safe side.
//   - Concrete and bags round up.
//   - Numbers of a pen do not depend on where its gate faces: its baseline runs
//     through the gate.
package setout

import (
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
	"stallwright/engine/ring"
)

// Number is a length with its reason.
type Number struct {
	Value measure.Length
	Why   *reason.Reason
}

// Turn is an angle with its reason.
type Turn struct {
	Value measure.Angle
	Why   *reason.Reason
}

// Bulk is a volume with its reason.
type Bulk struct {
	Value measure.Volume
	Why   *reason.Reason
}

// Result is everything set out, structure by structure in the job's order.
type Result struct {
	Structures []Structure
	Findings   []finding.Finding
}

// Structure is one structure set out. What a structure does not need is nil or
// empty.
type Structure struct {
	Name  string
	Kind  frame.Kind
	Pen   *Pen   // pens
	Grid  *Grid  // free-standing rows and barns, and steel posts of a free form
	Lines []Line // running distances
	Bases *Bases // what posts stand on
	Site  *Site  // where the ground was levelled at every post
}

// Pen is a ring set out from its centre stake. Its baseline runs from the centre
// through the gate's middle; x runs along it, y to its left looking toward the
// gate, and angles turn anticlockwise from it, seen from above.
type Pen struct {
	Asked    job.Measured   // what the size asked for was taken across; empty where none was asked for
	AskedFor measure.Length // that size; zero where none was asked for
	Pins     Number         // diameter of the circle through the pins
	Flats    Number         // inside, from wall to wall, between plain sections
	Corners  Number         // inside, from joint to joint
	Radius   Number         // of the pin circle: centre stake to each pier
	Toward   measure.Angle  // where the gate faces, from east, anticlockwise
	Gate     Number         // from the centre stake to the gate's middle
	Piers    []Pier
	Play     Number // how much longer or shorter the pins let a section become
	TakeUp   Number // that of all sections: what the pins make up round the ring
	Seat     Number // how far a pin may stand from the middle of its pier
	Loose    bool   // its feet go where the pins come down: no seat binds
	Closing  *Closing
}

// Pier is where a pin stands.
type Pier struct {
	Post   int // of the layout
	Name   string
	Angle  Turn   // from the baseline, 0 to under 360°
	Chord  Number // to the next pier
	Skip   Number // to the pier after the next
	Across Number // to the pier half-way round
	Far    string // name of the pier half-way round
	X, Y   Number
}

// Closing is how the sections will close on measured piers.
type Closing struct {
	ring.Closing
	Piers []string       // names, in the order of its sections
	Seat  measure.Length // how far a pin may stand from the middle of its pier
	Why   *reason.Reason // of the closing error and of what is to be moved
	tape  measure.Tape
}

// Grid is stakes in a grid, or free, from a baseline between two of them. x runs
// along the baseline from its first stake, y to its left.
type Grid struct {
	From, To string // stakes at the baseline's ends
	Length   Number // of the baseline
	Squares  []Square
	Frames   []Frame
	Stakes   []Stake
}

// Square is a right angle taken by tape: 3-4-5.
type Square struct {
	At     string // stake at the corner
	Along  string // stake toward which the first leg is measured
	Across string // stake toward which the second leg is measured
	Legs   [2]Number
	Hyp    Number // between the legs' ends when the corner is square
}

// Frame is four corner stakes and what checks them.
type Frame struct {
	Kind      FrameKind
	Corners   [4]string // round the frame
	Sides     [4]Number // from each corner to the next
	Diagonals [2]Number // first corner to third, second to fourth
	Tolerance Number    // how far a diagonal may be off before the corners are set again
}

// Stake is one post's stake.
type Stake struct {
	Post   int // of the layout
	Name   string
	Corner bool // of a frame
	X, Y   Number
	Ties   [2]Number // from the baseline's two ends; set in a free form only
}

// Line is distances along a straight line, all from where its tape is hooked.
type Line struct {
	Kind  LineKind
	Name  string // of the wall, along walls
	Zero  string // post the tape is hooked on: its stake, or along a wall its right face
	Taped Taping // along walls
	Marks []Mark
}

// Mark is a place along a line.
type Mark struct {
	What MarkKind
	At   string // post or bay
	From Number // from the line's zero
	Own  Number // from the right face of the standing post on its left; along fronts only
}

// Bases is what the posts of a structure stand on.
type Bases struct {
	Bench string         // what heights count from; empty where the ground was not levelled
	Top   Number         // level of all tops, where the ground was levelled
	Laid  measure.Length // base and mats counted in Top
	List  []Base
	// Totals over the list.
	Concrete Bulk
	Dig      Bulk
	Bags     int    // each pier rounded up by itself
	Bag      string // what the bags are
	BagItem  string // by its id in the kit
}

// Base is what one post stands on.
type Base struct {
	Post     int
	Name     string // of the post
	Item     *kit.Base
	Ground   *Number // above the benchmark, where it was levelled
	Top      *Number // of the base, above the benchmark
	Out      *Number // top above the ground: how far it stands out, or is packed up
	Depth    Number  // of a pier's hole below the ground as found
	Length   Number  // of a pier, top to bottom
	Dig      Bulk    // hole of a pier
	Concrete Bulk
	Bags     int
	WhyBags  *reason.Reason
}

// Site is the ground under a structure, levelled at every post, and what it
// takes to build on it level or in steps.
type Site struct {
	Bench     string
	High, Low Number // of the ground at the posts
	HighAt    string
	LowAt     string
	Fall      Number // highest less lowest
	Centre    Number // of a pen's ground
	Read      bool   // Centre was levelled, not taken as the posts' mean
	Levels    []Level
	Stepped   Stepped
}

// Level is the whole site made level at one height.
type Level struct {
	Kind      LevelKind
	At        Number
	Prisms    []Prism
	Cut, Fill Bulk
	Stakes    []Depth // at each post
}

// Depth is how far the ground at a post lies above a level: to be dug, or, where
// it is negative, to be filled.
type Depth struct {
	Name string
	Dig  Number
}

// Prism is the ground between a level and the corners read, over one part of the
// plan: a triangle, a rectangle or a trapezoid.
type Prism struct {
	Part      Part
	Shape     Shape
	Corners   []string
	Area      measure.Area
	Cut, Fill measure.Volume
	Why       *reason.Reason
}

// Stepped is each bay (a pen's section, a room) made level at a height of its
// own, the highest ground at its own posts, so that nothing is dug.
type Stepped struct {
	Bays []Step
	Fill Bulk   // under rooms; none under a pen's wall
	Most Number // greatest step between bays that meet at a post
	At   string // that post
}

// Step is one bay of a stepped site.
type Step struct {
	Part Part
	At   Number         // its level
	Gap  Number         // under it at its lowest corner before anything is filled
	Fill measure.Volume // under it
}

// Why lists the reasons of the numbers of a post of the layout: its place, its
// checks, its base.
func (r *Result) Why(post int) []*reason.Reason {
	var out []*reason.Reason
	add := func(ns ...Number) {
		for _, n := range ns {
			if n.Why != nil {
				out = append(out, n.Why)
			}
		}
	}
	for i := range r.Structures {
		s := &r.Structures[i]
		if s.Pen != nil {
			for k := range s.Pen.Piers {
				if p := &s.Pen.Piers[k]; p.Post == post {
					add(s.Pen.Radius, p.Chord, p.Skip, p.Across, p.X, p.Y)
					out = append(out, p.Angle.Why)
					if s.Pen.Closing != nil {
						out = append(out, s.Pen.Closing.Why)
					}
				}
			}
		}
		if s.Grid != nil {
			for k := range s.Grid.Stakes {
				if p := &s.Grid.Stakes[k]; p.Post == post {
					add(p.X, p.Y, p.Ties[0], p.Ties[1])
				}
			}
		}
		if s.Bases != nil {
			for k := range s.Bases.List {
				if b := &s.Bases.List[k]; b.Post == post {
					if b.Top != nil {
						add(*b.Top, *b.Out)
					}
					if b.WhyBags != nil {
						out = append(out, b.WhyBags)
					}
				}
			}
		}
	}
	return out
}
