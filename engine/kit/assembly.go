package kit

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Assembly is one way a run between two principal posts is built.
type Assembly struct {
	document.Where `yaml:"-" json:"-"`

	ID        string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name      string         `yaml:"name,required" doc:"what the crew calls it"`
	Ends      Ends           `yaml:"ends,required" doc:"whose posts it stands between: channel, mounted, shared or own"`
	End       string         `yaml:"end" doc:"id of the channel, mounted post or upright at each end; not for shared"`
	DoorPost  string         `yaml:"door_post" doc:"id of the post beside a doorway"`
	Top       string         `yaml:"top" doc:"id of the top tube; none in a screwed wall"`
	Bottom    string         `yaml:"bottom" doc:"id of the bottom tube"`
	TopCut    Rule           `yaml:"top_length" doc:"length of the top tube, from clear and centres"`
	BottomCut Rule           `yaml:"bottom_length" doc:"length of each bottom tube, from clear and centres"`
	Bracket   string         `yaml:"bracket" doc:"id of the bracket where a tube meets a post"`
	Restraint Restraint      `yaml:"restraint,required" doc:"screwed or clamped"`
	Clamp     string         `yaml:"clamp" doc:"id of the stack clamp, where clamped"`
	Datum     Rule           `yaml:"datum,required" doc:"height of the underside of the first board above the finished floor"`
	Zone      Rule           `yaml:"zone,required" doc:"room for boards above the datum: to the underside of the top tube, or to the top of a screwed wall"`
	Below     int            `yaml:"below" min:"0" doc:"full courses below a grille"`
	Above     int            `yaml:"above" min:"0" doc:"full courses above a grille"`
	Lap       measure.Length `yaml:"front_face" doc:"from the wall's centre line to the face a sliding leaf hangs before"`
}

// Uses says what each kind of structure is built of.
type Uses struct {
	document.Where `yaml:"-" json:"-"`

	Pen      *PenUse `yaml:"pen"`
	BarnRow  *RowUse `yaml:"barn-row"`
	FreeRow  *RowUse `yaml:"free-row"`
	FreeBarn *RowUse `yaml:"free-barn"`
}

// PenUse is what a round pen is built of.
type PenUse struct {
	document.Where `yaml:"-" json:"-"`

	Section  string           `yaml:"section,required" doc:"assembly of a plain section"`
	Gate     string           `yaml:"gate,required" doc:"assembly of the gate section"`
	Door     string           `yaml:"door,required" doc:"id of the gate's door"`
	Sections []measure.Length `yaml:"sections,required" doc:"section lengths made, pin to pin"`
	Base     string           `yaml:"base" doc:"id of what a joint stands on where the job does not say"`
	Play     measure.Length   `yaml:"play" doc:"how much longer or shorter, pin to pin, the clearance of pins in their holes lets a section become; none where left out"`
	Height   measure.Length   `yaml:"height,required" doc:"nominal wall height"`
}

// RowUse is what a row of stalls is built of.
type RowUse struct {
	document.Where `yaml:"-" json:"-"`

	Front   string         `yaml:"front,required" doc:"assembly of a stall front"`
	Divider string         `yaml:"divider,required" doc:"assembly of a dividing wall"`
	Side    string         `yaml:"side,required" doc:"assembly of an end wall"`
	Back    string         `yaml:"back,required" doc:"assembly of a back wall"`
	Door    string         `yaml:"door,required" doc:"id of a front's door"`
	Corner  string         `yaml:"corner" doc:"id of the corner post (free-standing)"`
	Line    string         `yaml:"line" doc:"id of the post where a dividing wall meets a front or back (free-standing)"`
	Base    string         `yaml:"base" doc:"id of what a post stands on where the job does not say"`
	Height  measure.Length `yaml:"height,required" doc:"nominal wall height"`
}

// JointKind is how two things meet; DESIGN vocabulary, fixed by the engine.
type JointKind string

// The joints.
const (
	JointChannel  JointKind = "channel-timber" // a channel lagged to standing timber
	JointMounted  JointKind = "front-timber"   // a frame's end post lagged to standing timber
	JointFrame    JointKind = "frame"          // a frame's corners: tubes into brackets, once a frame
	JointDoorPost JointKind = "door-post"      // a door post standing on its tubes
	JointSections JointKind = "sections"       // two rigid sections pinned
	JointBase     JointKind = "base"           // a post on its pad, pier or slab
	JointPanel    JointKind = "panel"          // a filled bay: clamps or screws
	JointRoof     JointKind = "roof"           // a roof post under the roof's beam
	JointSkirt    JointKind = "skirt"          // a board under the lowest one, screwed to both posts
)

// Allowed lists the joints.
func (JointKind) Allowed() []string {
	return []string{"channel-timber", "front-timber", "frame", "door-post", "sections", "base", "panel", "roof", "skirt"}
}

// JointRule is what one kind of joint takes.
type JointRule struct {
	document.Where `yaml:"-" json:"-"`

	At     JointKind `yaml:"at,required" doc:"which joint"`
	Use    string    `yaml:"use,required" doc:"id of the fastener or part"`
	Count  Rule      `yaml:"count,required" doc:"how many at each"`
	When   Rule      `yaml:"when" doc:"only where this holds"`
	Grip   Rule      `yaml:"grip" doc:"for bolts: thickness clamped between head and nut, without washers"`
	Length Rule      `yaml:"length" doc:"for lags, screws and pins: length wanted; the shortest bought length not under it is taken"`
	Spot   string    `yaml:"where" doc:"where on the joint, in words: bottom, middle, top"`
}

// Treated asks for treated courses at the bottom of walls.
type Treated struct {
	document.Where `yaml:"-" json:"-"`

	Courses int  `yaml:"courses,required" min:"1" doc:"how many, from the bottom"`
	When    Rule `yaml:"when,required" doc:"in which walls"`
}

// Spare says how many spares go with an order.
type Spare struct {
	document.Where `yaml:"-" json:"-"`

	For   string `yaml:"for,required" doc:"an id, or a kind: bolt, lag, screw, pin, anchor, board, part"`
	Count Rule   `yaml:"count,required" doc:"how many spares, from quantity"`
}
