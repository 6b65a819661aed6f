// Package site makes what a crew read between posts and off a rod into places,
// heights and marks. In go a job and the layout drawn for it; out come the
// adjusted places of the posts with how well each is known, every reading beside
// what the others make it, the readings that cannot be right in a sentence a crew
// lead understands, the finished floor at every post and spot, the datum line and
// its marks, the gap it leaves under each bay, and the sheet of what to measure.
//
// What always holds: readings are never changed; one that is not used says why.
// Lengths stay whole nanometres; the only floats are those of package survey,
// which come back rounded. The same job and layout give the same site on every
// platform. Posts that readings do not place stay where they were drawn.
package site

import (
	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/survey"
)

// Site is a job's readings worked through.
type Site struct {
	Posts    []Post          // posts that plane readings touch, in the layout's order
	Readings []Reading       // of each of the job's readings, in its order
	Tests    []Test          // of each structure's plane readings, then of the levels
	Unread   []string        // standing posts that no plane reading touches, in structures where others are read
	Unlevel  []string        // the same for level readings
	Wanted   []survey.Advice // readings that are missing, most useful first
	Leans    []Lean          // posts held against a plumb bob, in the layout's order
	Levels   []Level         // every post and spot that was levelled or whose floor is stated
	Lines    []Line          // datum lines of each structure
	Marks    []Mark          // where a line is marked on each post
	Gaps     []Gap           // what the lines leave under the lowest board of each filled bay
	Steps    []Step          // where a line would step for every gap to be small enough
	Headroom []Headroom      // over the walls, where the job states how high the building is
	Findings []finding.Finding

	// Places are the adjusted places of timber posts that do not stand where they
	// were drawn, in the coordinates of their structures: for frame.BuildAt.
	Places map[string]frame.Point

	job   *job.Job
	kit   *kit.Kit
	lay   *frame.Layout
	tape  measure.Tape
	spans map[[2]string]survey.Span

	floorOf []int  // of each post of the layout: its known floor in Levels, -1 for none
	horse   []bool // of each run: a horse stands on one side, or nobody knows who does
}

// Post is where a post was found to stand.
type Post struct {
	Post    int         // in the layout
	Drawn   frame.Point // where it was drawn
	At      frame.Point // where it stands
	SigmaX  measure.Length
	SigmaY  measure.Length
	Ellipse survey.Ellipse
	Placed  bool // the readings place it; if not, At is where it was drawn
}

// Status says what became of a reading.
type Status string

// What can become of a reading.
const (
	Used     Status = "used"
	SetAside Status = "set aside" // it disagrees with the others
	Unusable Status = "cannot be used"
	Kept     Status = "kept" // nothing is adjusted with it: plumb readings
)

// Reading is one of the job's readings beside what the others make it, all in the
// terms it was written in: between the faces the tape touched.
type Reading struct {
	Name   string        // what a crew lead calls it
	Say    phrase.Phrase // Name in any language
	Status Status
	Read   measure.Length // as written; offsets and lines: left of the line is positive
	Makes  measure.Length // what the adjusted posts make it
	Off    measure.Length // Makes − Read
	Sigma  measure.Length // standard deviation it was given
	// Redundancy is the part of an error in it that shows in Off; W is Off over its
	// standard deviation; Smallest is the smallest blunder that would be found, none
	// where nothing checks it. See survey.AdjustedReading.
	Redundancy float64
	W          float64
	Smallest   measure.Length
	Suspect    bool // named in a finding, alone or among others
}

// Test is the test of all readings of one structure together; of the levels,
// where Structure is -1.
type Test struct {
	Structure int
	survey.GlobalTest
}

// Lean is how far a post leans.
type Lean struct {
	Post   int
	Along  measure.Length // top over bottom, along the barn
	Across measure.Length // and across it
	Over   measure.Length // the height between
	Face   job.PostFace   // the face it was read at, where that was written
	Source string
}

// Adjust works the readings of a job through. The layout is the one drawn for the
// same job with the same kit, so that every name in a reading is known.
func Adjust(j *job.Job, k *kit.Kit, l *frame.Layout) *Site {
	s := &Site{
		job: j, kit: k, lay: l, Places: map[string]frame.Point{}, spans: map[[2]string]survey.Span{},
		tape: measure.Tape{System: j.Units, Mark: k.Board.Mark}, Readings: make([]Reading, len(j.Readings)),
	}
	s.plumb()
	for i := range l.Structures {
		s.plane(i)
	}
	s.level()
	s.lines()
	finding.Sort(s.Findings)
	return s
}

// show writes a length as the job's readers do, to the tape's mark.
func (s *Site) show(l measure.Length) string {
	return l.Round(s.tape.Mark, measure.Nearest).In(s.job.Units)
}

// exact writes a length that was read as it was written.
func (s *Site) exact(l measure.Length) string { return l.In(s.job.Units) }

// options are the survey's options for this job.
func (s *Site) options() survey.Options {
	o := survey.Options{Show: s.tape}
	if t := s.job.Tape; t != nil && (t.Fixed > 0 || t.Per > 0) {
		o.Tape = survey.Precision{Fixed: measure.SixteenthInch, PartsPerMillion: 200}
		if t.Fixed > 0 {
			o.Tape.Fixed = t.Fixed
		}
		if t.Per > 0 {
			o.Tape.PartsPerMillion = int64(1_000_000 / t.Per)
		}
	}
	if s.job.Rod > 0 {
		o.Rod.Fixed = s.job.Rod
	}
	return o
}

func (s *Site) find(code finding.Code, sev finding.Severity, place, message string, choices ...phrase.Phrase) {
	s.Findings = append(s.Findings, finding.Finding{Code: code, Severity: sev, Place: place, Message: message, Choices: choices})
}
