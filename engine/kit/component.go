package kit

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Part is a thing that is counted and carried. Every component embeds what a
// Part states: its id (unique in the kit), its name as the crew says it, and
// its mass.
type Part struct {
	document.Where `yaml:"-" json:"-"`

	ID   string       `yaml:"id,required" doc:"short name, unique in the kit"`
	Name string       `yaml:"name,required" doc:"what the crew calls it"`
	Mass measure.Mass `yaml:"mass" doc:"mass of one"`
	// Per is set for parts sold and cut by length (tracks, edge caps).
	Per   measure.MassPerLength `yaml:"per" doc:"mass per length, for parts cut to length"`
	Stock []measure.Length      `yaml:"stock" doc:"lengths it is bought in, for parts cut to length"`
	Yield measure.Volume        `yaml:"yield" doc:"volume of concrete one makes, for bags of it"`
	With  []With                `yaml:"with" doc:"what comes with each one"`
}

// With is something that comes with a component: a count, and a length where
// it is cut to one.
type With struct {
	document.Where `yaml:"-" json:"-"`

	Use    string `yaml:"use,required" doc:"id of the part or fastener"`
	Count  Rule   `yaml:"count,required" doc:"how many"`
	When   Rule   `yaml:"when" doc:"only where this holds"`
	Length Rule   `yaml:"length" doc:"length it is cut to"`
	Grip   Rule   `yaml:"grip" doc:"for bolts: thickness clamped between head and nut, without washers"`
	Goes   Goes   `yaml:"goes" doc:"of a door: with which piece of work it is fitted: leaf, lowest (board), rollers, track, hang, adjust or handle; hang where left out"`
}

// Goes says with which piece of work a part of a door is fitted.
type Goes string

// With what a door's parts are fitted.
const (
	GoesLeaf    Goes = "leaf"    // while the leaf is boarded
	GoesLowest  Goes = "lowest"  // holds the lowest board, loaded from below
	GoesRollers Goes = "rollers" // rollers or hinges, onto the leaf
	GoesTrack   Goes = "track"   // hangs the track
	GoesHang    Goes = "hang"    // once the leaf hangs: stops
	GoesAdjust  Goes = "adjust"  // once it hangs right: floor guides
	GoesHandle  Goes = "handle"  // handles, latches, bolts
)

// Allowed lists with what a door's parts are fitted.
func (Goes) Allowed() []string {
	return []string{"leaf", "lowest", "rollers", "track", "hang", "adjust", "handle"}
}

// Channel is lagged to standing timber and holds the board ends.
type Channel struct {
	document.Where `yaml:"-" json:"-"`

	ID     string                `yaml:"id,required" doc:"short name, unique in the kit"`
	Name   string                `yaml:"name,required" doc:"what the crew calls it"`
	Inside measure.Length        `yaml:"inside,required" doc:"width inside the channel, across the board's thickness"`
	Leg    measure.Length        `yaml:"leg,required" doc:"depth from the inner face of the web to the edge of the legs"`
	Web    measure.Length        `yaml:"web,required" doc:"thickness of the web, from the timber to its inner face"`
	Length Rule                  `yaml:"length,required" doc:"length it is cut to, from zone and datum"`
	Per    measure.MassPerLength `yaml:"per,required" doc:"mass per length"`
	Stock  []measure.Length      `yaml:"stock" doc:"lengths it is bought in"`
	With   []With                `yaml:"with" doc:"what comes with each one"`
}

// Post is a steel post or pen upright whose channels hold the board ends.
type Post struct {
	document.Where `yaml:"-" json:"-"`

	ID     string                `yaml:"id,required" doc:"short name, unique in the kit"`
	Name   string                `yaml:"name,required" doc:"what the crew calls it"`
	Role   Role                  `yaml:"role,required" doc:"what it does in plan"`
	Along  measure.Length        `yaml:"along,required" doc:"outside size along the wall"`
	Across measure.Length        `yaml:"across,required" doc:"outside size across the wall"`
	Reach  measure.Length        `yaml:"reach,required" doc:"from the post's axis (mounted posts: from the timber's face; pen uprights: from the pin's axis) to the inner face of its channel's web"`
	Inside measure.Length        `yaml:"inside,required" doc:"width inside its channels"`
	Leg    measure.Length        `yaml:"leg,required" doc:"depth of its channels"`
	Height Rule                  `yaml:"height,required" doc:"its length, from height and datum"`
	Mass   measure.Mass          `yaml:"mass" doc:"mass of one, where it does not follow from its length"`
	Per    measure.MassPerLength `yaml:"per" doc:"mass per length"`
	With   []With                `yaml:"with" doc:"what comes with each one"`
}

// Tube is a frame's top or bottom tube, cut to each frame.
type Tube struct {
	document.Where `yaml:"-" json:"-"`

	ID    string                `yaml:"id,required" doc:"short name, unique in the kit"`
	Name  string                `yaml:"name,required" doc:"what the crew calls it"`
	Depth measure.Length        `yaml:"depth,required" doc:"outside size, upright"`
	Width measure.Length        `yaml:"width,required" doc:"outside size, across the wall"`
	Wall  measure.Length        `yaml:"wall" doc:"wall thickness"`
	Per   measure.MassPerLength `yaml:"per,required" doc:"mass per length"`
	Stock []measure.Length      `yaml:"stock" doc:"lengths it is bought in"`
}

// Bracket joins tubes to posts.
type Bracket struct {
	document.Where `yaml:"-" json:"-"`

	ID    string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name  string         `yaml:"name,required" doc:"what the crew calls it"`
	Plate measure.Length `yaml:"plate,required" doc:"thickness of its plate"`
	Mass  measure.Mass   `yaml:"mass,required" doc:"mass of one"`
}

// Clamp is a stack clamp: a threaded screw from the top tube onto the stack.
type Clamp struct {
	document.Where `yaml:"-" json:"-"`

	ID      string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name    string         `yaml:"name,required" doc:"what the crew calls it"`
	Least   measure.Length `yaml:"least,required" doc:"least room between stack and tube in which it fits"`
	Most    measure.Length `yaml:"most,required" doc:"most room it can take up and still press"`
	Reserve measure.Length `yaml:"reserve" doc:"travel kept for the boards to shrink"`
	Mass    measure.Mass   `yaml:"mass,required" doc:"mass of one"`
}

// Grille is a barred or mesh panel with a channel along its bottom and top,
// captured between two courses.
type Grille struct {
	document.Where `yaml:"-" json:"-"`

	ID     string                `yaml:"id,required" doc:"short name, unique in the kit"`
	Name   string                `yaml:"name,required" doc:"what the crew calls it"`
	Widths []measure.Length      `yaml:"widths,required" min:"1" doc:"widths made, end to end"`
	Height measure.Length        `yaml:"height,required" doc:"height overall, from the edge of the lower channel's legs to the edge of the upper's"`
	Lower  measure.Length        `yaml:"lower,required" doc:"depth of the lower channel: how much of the course below it swallows, tongue included"`
	Upper  measure.Length        `yaml:"upper,required" doc:"depth of the upper channel: how much of the course above it swallows"`
	Bar    measure.Length        `yaml:"bar" doc:"bar diameter; none for mesh"`
	Pitch  measure.Length        `yaml:"pitch" doc:"bar spacing, centre to centre"`
	Margin measure.Length        `yaml:"margin" doc:"from each end to the centre of the first bar"`
	Mesh   measure.Length        `yaml:"mesh" doc:"mesh opening; none for bars"`
	Trim   measure.Length        `yaml:"trim" doc:"most that may be cut from each end"`
	Rails  int                   `yaml:"rails" min:"1" doc:"members cut when an end is trimmed; 2 where left out"`
	Beside bool                  `yaml:"beside_feeder" doc:"a narrowed grille, made to stand beside a feeder"`
	Per    measure.MassPerLength `yaml:"per,required" doc:"mass per width"`
	With   []With                `yaml:"with" doc:"what comes with each one"`
}

// Window is a frame set into cut boards.
type Window struct {
	document.Where `yaml:"-" json:"-"`

	ID     string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name   string         `yaml:"name,required" doc:"what the crew calls it"`
	Width  measure.Length `yaml:"width,required" doc:"width it takes out of the courses, between the inner faces of its side channels' webs"`
	Height measure.Length `yaml:"height,required" doc:"height it takes out of the courses"`
	Leg    measure.Length `yaml:"leg,required" doc:"depth of its side channels"`
	Sill   int            `yaml:"sill,required" min:"0" doc:"full courses below it"`
	Mass   measure.Mass   `yaml:"mass,required" doc:"mass of one"`
	With   []With         `yaml:"with" doc:"what comes with each one"`
}

// Feeder is a pivoting feeder with a side channel of its own; it stands on
// full courses at one end of a bay, short courses and a narrowed grille beside
// it.
type Feeder struct {
	document.Where `yaml:"-" json:"-"`

	ID     string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name   string         `yaml:"name,required" doc:"what the crew calls it"`
	Width  measure.Length `yaml:"width,required" doc:"what it takes of the clear width, up to the inner face of its side channel's web"`
	Height measure.Length `yaml:"height,required" doc:"height from the course it stands on to the course above it"`
	Leg    measure.Length `yaml:"leg,required" doc:"depth of its side channel"`
	On     int            `yaml:"on,required" min:"1" doc:"full courses it stands on"`
	Swing  measure.Length `yaml:"swing,required" doc:"how far it swings out, from the wall's face"`
	Mass   measure.Mass   `yaml:"mass,required" doc:"mass of one"`
	With   []With         `yaml:"with" doc:"what comes with each one"`
}

// Base is what a post stands on.
type Base struct {
	document.Where `yaml:"-" json:"-"`

	ID       string         `yaml:"id,required" doc:"short name, unique in the kit"`
	Name     string         `yaml:"name,required" doc:"what the crew calls it"`
	Kind     BaseKind       `yaml:"kind,required" doc:"pad, pier, ground or slab"`
	Diameter measure.Length `yaml:"diameter" doc:"diameter of a pier"`
	Depth    measure.Length `yaml:"depth" doc:"depth of a pier below ground; the local frost line and code govern"`
	Size     measure.Length `yaml:"size" doc:"side of a pad or plate"`
	Cure     int            `yaml:"cure" min:"1" max:"60" doc:"days that a pier's concrete stands before a post is fixed to it; 7 where left out"`
	Seat     measure.Length `yaml:"seat" doc:"how far the post's axis or pin may stand from its middle; none where left out, but a foot on bare ground goes where its post comes down"`
	Mass     measure.Mass   `yaml:"mass" doc:"mass of what is delivered"`
	With     []With         `yaml:"with" doc:"what comes with each one"`
}

// Fastener is a family of one diameter in several lengths.
type Fastener struct {
	document.Where `yaml:"-" json:"-"`

	ID         string                `yaml:"id,required" doc:"short name, unique in the kit"`
	Name       string                `yaml:"name,required" doc:"what the crew calls it"`
	Kind       FastenerKind          `yaml:"kind,required" doc:"bolt, lag, screw, pin or anchor"`
	Diameter   measure.Length        `yaml:"diameter,required" doc:"nominal diameter"`
	Lengths    []measure.Length      `yaml:"lengths,required" doc:"lengths it is bought in"`
	Washer     measure.Length        `yaml:"washer" doc:"thickness of one washer"`
	Washers    int                   `yaml:"washers" min:"0" doc:"washers on each"`
	Nut        measure.Length        `yaml:"nut" doc:"thickness of the nut"`
	Projection measure.Length        `yaml:"projection" doc:"thread that must stand out past the nut"`
	Pilot      measure.Length        `yaml:"pilot" doc:"pilot hole in the timber"`
	Mass       measure.Mass          `yaml:"mass" doc:"mass of one with nut and washers, at the shortest length"`
	PerLength  measure.MassPerLength `yaml:"per" doc:"mass per length over the shortest"`
}
