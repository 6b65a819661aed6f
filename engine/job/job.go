// Package job holds the job document: what is wanted and what was measured,
// written by hand in YAML and kept under version control. In goes a text; out
// comes a Job whose every value is read, in range and consistent with the rest
// of the text, or a list of all that is wrong with it, by line. What needs the
// kit or the geometry to judge is judged by later stages, which point back to
// the same lines.
package job

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Job is one customer's job: one or more structures, ordered and loaded
// together.
type Job struct {
	document.Where `yaml:"-" json:"-"`

	Job      string         `yaml:"job,required" doc:"what the office calls the job"`
	Date     string         `yaml:"date" doc:"date printed on the sheets, as 2026-05-04"`
	Revision int            `yaml:"revision" min:"0" doc:"raised with each issue of the papers"`
	Units    measure.System `yaml:"units,required" doc:"feet or metric: what sheets and tapes show"`
	Language string         `yaml:"language" doc:"of what the crew reads, as a BCP 47 tag: en, es, es-MX; English where left out"`
	Kit      string         `yaml:"kit,required" doc:"the component line: a shipped kit's name, or a path to a kit file beside the job"`
	Prices   string         `yaml:"prices" doc:"the price book for the offer: a path to its file beside the job"`
	Farm     Farm           `yaml:"farm,required" doc:"where it is built"`
	Lumber   Lumber         `yaml:"lumber,required" doc:"the boards"`
	Height   measure.Length `yaml:"height" doc:"nominal wall height of every structure that does not state its own; the kit's where left out"`

	Structures []Structure `yaml:"structures,required" min:"1" doc:"what is built"`

	Bays         map[string]BayChange `yaml:"bays" doc:"changes to single bays, by bay name"`
	Floors       []Floor              `yaml:"floors" doc:"height of the finished floor at posts, from one level line"`
	Measurements []Measurement        `yaml:"measurements" doc:"what the crew measured, in the order it was written down"`
	States       []State              `yaml:"states" doc:"how far frames and fills have come, in the order it was written down"`
	Readings     []Reading            `yaml:"readings" doc:"what was read between posts and off the rod, in the order it was written down"`
	Spots        []Spot               `yaml:"spots" doc:"places other than posts that a rod stands on: high spots of a floor, benchmarks, turning points"`
	Floor        *Layers              `yaml:"floor" doc:"what is still to be laid on the ground that the rod stood on; nothing where left out"`
	Tape         *Tape                `yaml:"tape" doc:"how well the crew's tape reads"`
	Rod          measure.Length       `yaml:"rod" doc:"standard deviation of a rod reading; 1/16 in where left out"`
	Piers        []Pier               `yaml:"piers" doc:"where a pen's piers came to stand"`
	Obstructions []Obstruction        `yaml:"obstructions" doc:"what crosses a wall: braces, girts, curbs, pipes, tracks"`
	Datum        *Datum               `yaml:"datum" doc:"what is done where a floor falls too far for one level line"`
	Saw          *Saw                 `yaml:"saw" doc:"how boards and steel are cut"`
	Crew         *Crew                `yaml:"crew" doc:"who builds it, with what, and when they work"`
	Labour       *Labour              `yaml:"labour" doc:"minutes of work by which ways to build a bay are compared"`
	Papers       *Papers              `yaml:"papers" doc:"how what goes out on paper is made"`

	file string // name of the text, for later messages
	src  []byte // the text itself
	told []Told // what the saw was told by an earlier plan
}

// Farm is where the job is built.
type Farm struct {
	document.Where `yaml:"-" json:"-"`

	Name    string `yaml:"name,required" doc:"the farm's name"`
	Place   string `yaml:"place" doc:"town or directions"`
	Contact string `yaml:"contact" doc:"whom to ask on site"`
	Notes   string `yaml:"notes" doc:"gate codes, dogs, where the truck can stand"`
}

// Structure is one thing to build: exactly one of its fields is set.
type Structure struct {
	document.Where `yaml:"-" json:"-"`

	Pen      *Pen      `yaml:"pen" doc:"a round pen of rigid sections joined by pins"`
	BarnRow  *BarnRow  `yaml:"barn-row" doc:"stalls between the posts of a standing post-frame barn"`
	FreeRow  *FreeRow  `yaml:"free-row" doc:"free-standing stalls that share walls"`
	FreeBarn *FreeRow  `yaml:"free-barn" doc:"free-standing stalls whose posts bear the roof"`
	FreeForm *FreeForm `yaml:"free-form" doc:"posts and bays, listed one by one"`

	Floor   *Layers  `yaml:"floor" doc:"what is still to be laid here, where it differs from the job's floor"`
	Trusses *Trusses `yaml:"trusses" doc:"how much height the building leaves over the walls"`
}

// Name is the name of whichever structure is set.
func (s *Structure) Name() string {
	switch {
	case s.Pen != nil:
		return s.Pen.Name
	case s.BarnRow != nil:
		return s.BarnRow.Name
	case s.FreeRow != nil:
		return s.FreeRow.Name
	case s.FreeBarn != nil:
		return s.FreeBarn.Name
	case s.FreeForm != nil:
		return s.FreeForm.Name
	}
	return ""
}

// Pen is a round pen: rigid sections inscribed in a circle. Its size is given
// by what it is across, by the number of sections, by their length, or by two
// of these.
type Pen struct {
	document.Where `yaml:"-" json:"-"`

	Name      string         `yaml:"name,required" doc:"short name: P"`
	Across    measure.Length `yaml:"across" doc:"size the customer asks for"`
	Measured  Measured       `yaml:"measured" doc:"what across means: pins (pin circle; where left out), flats (inside, wall to wall), corners (inside, joint to joint)"`
	Sections  int            `yaml:"sections" min:"3" max:"400" doc:"number of sections, the gate section included"`
	Section   measure.Length `yaml:"section" doc:"length of a plain section, pin to pin; the kit's where left out"`
	Different []Section      `yaml:"different" doc:"sections of another length, by number from the gate"`
	Height    measure.Length `yaml:"height" doc:"nominal wall height"`
	Fill      *Fill          `yaml:"fill" doc:"what fills the plain sections"`
	Gate      *PenGate       `yaml:"gate" doc:"the gate section, number 1; later sections go on anticlockwise seen from above"`
	Base      string         `yaml:"base" doc:"what the joints stand on: a base of the kit"`
}

// Measured says between what a pen's size is taken.
type Measured string

// What a pen's size may mean.
const (
	AcrossPins    Measured = "pins"
	AcrossFlats   Measured = "flats"
	AcrossCorners Measured = "corners"
)

// Allowed lists what a pen's size may mean.
func (Measured) Allowed() []string { return []string{"pins", "flats", "corners"} }

// Section is one pen section that differs from the rest.
type Section struct {
	document.Where `yaml:"-" json:"-"`

	At     int            `yaml:"at,required" min:"2" doc:"its number, counted from the gate section, which is 1"`
	Length measure.Length `yaml:"length,required" doc:"pin to pin"`
	Fill   *Fill          `yaml:"fill" doc:"what fills it"`
}

// PenGate is a pen's gate section.
type PenGate struct {
	document.Where `yaml:"-" json:"-"`

	Length measure.Length `yaml:"length" doc:"pin to pin; a plain section's where left out"`
	Toward *measure.Angle `yaml:"toward" doc:"where the gate faces from the pen's centre, as an angle from east, anticlockwise; 270° where left out"`
	Front  *Front         `yaml:"front" doc:"the gate and what stands beside it"`
}
