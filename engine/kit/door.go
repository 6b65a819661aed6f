package kit

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Door is a door (a gate in a pen): its leaf or leaves, what they are made up
// of, and how they hang.
type Door struct {
	document.Where `yaml:"-" json:"-"`

	ID      string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name    string         `yaml:"name,required" doc:"what the crew calls it"`
	Kind    DoorKind       `yaml:"kind,required" doc:"sliding, swing or two-leaf"`
	Opening measure.Length `yaml:"opening,required" doc:"clear opening it is made for, between the door posts' faces"`
	Leaf    Leaf           `yaml:"leaf,required" doc:"size and make-up of one leaf"`
	Slide   *Slide         `yaml:"slide" doc:"how a sliding leaf hangs"`
	Hinge   *Hinge         `yaml:"hinge" doc:"how a swing leaf hangs"`
	Handle  *Handle        `yaml:"handle" doc:"where the handle stands"`
	With    []With         `yaml:"with" doc:"what comes with each one"`
}

// Leaf is one door leaf.
type Leaf struct {
	document.Where `yaml:"-" json:"-"`

	Width  measure.Length `yaml:"width,required" doc:"outside width"`
	Height measure.Length `yaml:"height,required" doc:"outside height"`
	Depth  measure.Length `yaml:"depth,required" doc:"outside depth, across the wall"`
	Stile  measure.Length `yaml:"stile,required" doc:"from the leaf's edge to the inner face of its side channel's web"`
	Leg    measure.Length `yaml:"leg,required" doc:"depth of its side channels"`
	Mass   measure.Mass   `yaml:"mass,required" doc:"mass of the empty frame"`
	Panels []Panel        `yaml:"panels,required" doc:"what it holds, from the bottom up"`
}

// Panel is one band of a leaf.
type Panel struct {
	document.Where `yaml:"-" json:"-"`

	Fill   PanelFill      `yaml:"fill,required" doc:"boards, rail, metal, grille, mesh or open"`
	Height measure.Length `yaml:"height,required" doc:"clear height of the band"`
	Load   LoadFrom       `yaml:"load" doc:"from where boards go in: above or below; above where left out"`
	Use    string         `yaml:"use" doc:"id of the part that fills it (metal, grille, mesh)"`
	Bar    measure.Length `yaml:"bar" doc:"bar diameter"`
	Pitch  measure.Length `yaml:"pitch" doc:"bar spacing, centre to centre"`
}

// LoadFrom is where a door's boards go in.
type LoadFrom string

// Where boards go in.
const (
	LoadAbove LoadFrom = "above"
	LoadBelow LoadFrom = "below" // nothing holds the lowest from below: it is fastened
)

// Allowed lists where a door's boards may go in.
func (LoadFrom) Allowed() []string { return []string{"above", "below"} }

// Slide is how a sliding leaf hangs from its track.
type Slide struct {
	document.Where `yaml:"-" json:"-"`

	Overlap   measure.Length `yaml:"overlap,required" doc:"least the closed leaf must lap over each jamb"`
	Track     string         `yaml:"track,required" doc:"id of the track part"`
	Length    Rule           `yaml:"length,required" doc:"track length, from opening and leaf"`
	Rail      measure.Length `yaml:"rail,required" doc:"height of the track's running face above the underside of the front's top tube"`
	Rollers   int            `yaml:"rollers,required" min:"1" doc:"rollers on a leaf"`
	StemLeast measure.Length `yaml:"stem_least,required" doc:"leaf top to running face with the roller stems screwed fully in"`
	StemMost  measure.Length `yaml:"stem_most,required" doc:"leaf top to running face with the stems fully out, thread still full"`
	Stop      measure.Length `yaml:"anti_lift,required" doc:"underside of the anti-lift stop below the running face: the leaf cannot rise past it"`
	Keep      measure.Length `yaml:"keep,required" doc:"the leaf must not be able to rise this far: past it a roller leaves the track"`
	FloorFrom measure.Length `yaml:"floor_least,required" doc:"least gap between leaf and finished floor"`
	FloorTo   measure.Length `yaml:"floor_most,required" doc:"most gap between leaf and finished floor"`
	Guide     measure.Length `yaml:"guide,required" doc:"height of the floor guide's lip: the leaf must hang lower than this"`
	StopWidth measure.Length `yaml:"stop_width" doc:"room the end stops take of the track at each end"`
}

// Hinge is how a swing leaf hangs.
type Hinge struct {
	document.Where `yaml:"-" json:"-"`

	HingeGap  measure.Length `yaml:"hinge_gap,required" doc:"gap between leaf and door post on the hinge side"`
	LatchGap  measure.Length `yaml:"latch_gap,required" doc:"least gap on the latch side (between the leaves of a two-leaf door)"`
	LatchMost measure.Length `yaml:"latch_most,required" doc:"most gap at which the latch still holds"`
	FloorGap  measure.Length `yaml:"floor_gap,required" doc:"gap between leaf and finished floor"`
}

// Handle is where the handle stands on a leaf.
type Handle struct {
	document.Where `yaml:"-" json:"-"`

	Height  measure.Length `yaml:"height,required" doc:"above the leaf's bottom"`
	Setback measure.Length `yaml:"setback,required" doc:"from the leaf's closing edge to the handle's axis"`
	Slot    measure.Length `yaml:"slot,required" doc:"width of the slot the handle moves in, centred on its axis"`
	Finger  measure.Length `yaml:"finger,required" doc:"least room between slot and jamb for a gloved hand"`
}
