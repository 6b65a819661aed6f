package job

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// State is one entry of how far a run's frame, or a bay's fill, has come. Entries
// are never changed, only added; the latest of a run or bay counts.
type State struct {
	document.Where `yaml:"-" json:"-"`

	Frame  string   `yaml:"frame" doc:"the run whose frame it is, by name; between standing timber, the run whose channels they are"`
	Bay    string   `yaml:"bay" doc:"the bay whose fill it is, by name"`
	Is     Step     `yaml:"is,required" doc:"of a frame: delivered, standing, tight (tight and squared), or lagged (channels, to both posts). Of a fill: drawn, measured, released, cut, loaded"`
	Width  *Width   `yaml:"width" doc:"released: the clear width that its pieces are made to"`
	Pieces []Frozen `yaml:"pieces" doc:"released: its pieces, frozen at these lengths"`
	By     string   `yaml:"by" doc:"who says so"`
	At     string   `yaml:"at" doc:"when, as 2026-05-03 14:10"`
	Note   string   `yaml:"note" doc:"anything seen"`
}

// Frozen is one piece of a released bay.
type Frozen struct {
	document.Where `yaml:"-" json:"-"`

	Label   string         `yaml:"label,required" doc:"its name: A1-A2/c7"`
	Length  measure.Length `yaml:"length,required" doc:"as it is cut, or as it comes"`
	Covers  measure.Length `yaml:"covers" doc:"boards: the face covered, where it is ripped to that"`
	Item    string         `yaml:"item" doc:"id in the kit; a board where left out"`
	Treated bool           `yaml:"treated" doc:"a treated board"`
}

// Step is how far a frame or a fill has come.
type Step string

// The steps of a frame, then those of a fill.
const (
	StepDelivered Step = "delivered"
	StepStanding  Step = "standing"
	StepTight     Step = "tight"  // tight and squared: its bays can be measured
	StepLagged    Step = "lagged" // channels lagged to both posts: the same for a run without a frame

	StepDrawn    Step = "drawn"    // starts again from the drawing
	StepMeasured Step = "measured" // measured for release
	StepReleased Step = "released" // its pieces are frozen and may be cut
	StepCut      Step = "cut"
	StepLoaded   Step = "loaded"
)

// Allowed lists the steps.
func (Step) Allowed() []string {
	return []string{"delivered", "standing", "tight", "lagged", "drawn", "measured", "released", "cut", "loaded"}
}

// OfFrame says whether it is a frame's step; the others are a fill's.
func (s Step) OfFrame() bool {
	switch s {
	case StepDelivered, StepStanding, StepTight, StepLagged:
		return true
	}
	return false
}

// Frozen says whether a fill at this step holds pieces that may be cut, or are.
func (s Step) Frozen() bool { return s == StepReleased || s == StepCut || s == StepLoaded }

// Name is the run or bay the entry speaks of.
func (s *State) Name() string {
	if s.Frame != "" {
		return s.Frame
	}
	return s.Bay
}

// Source says who said so, when, and where it is written.
func (s *State) Source() string { return said(string(s.Is), s.By, s.At, s.Pos()) }

// Same says whether two clear widths were read alike.
func (w Width) Same(v Width) bool {
	return w.Bottom == v.Bottom && w.Middle == v.Middle && w.Top == v.Top
}
