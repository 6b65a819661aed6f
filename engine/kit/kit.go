// Package kit describes what a shop makes: a component line, as data with
// rules. In goes a YAML text; out comes a Kit whose every reference is
// resolved, whose every rule is compiled and type-checked, and whose every
// size is plausible; or a list of all that is wrong with it, by line.
//
// The engine knows no line: posts, tubes, grilles, doors, hardware, how they
// meet and how many fasteners that takes are all stated here.
package kit

import (
	"errors"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Kit is a whole component line.
type Kit struct {
	document.Where `yaml:"-" json:"-"`

	Kit     string         `yaml:"kit,required" doc:"short name by which jobs ask for this kit"`
	Title   string         `yaml:"title,required" doc:"what the shop calls the line"`
	Version int            `yaml:"version,required" min:"1" doc:"raised whenever a size or rule changes"`
	Units   measure.System `yaml:"units,required" doc:"feet or metric: how the shop's tapes are marked"`
	Note    string         `yaml:"note" doc:"anything a reader should know"`

	Board Board `yaml:"board,required" doc:"how boards stand in channels"`

	Channels  []Channel  `yaml:"channels" doc:"channels lagged to standing timber"`
	Posts     []Post     `yaml:"posts,required" doc:"steel posts and pen uprights"`
	Tubes     []Tube     `yaml:"tubes" doc:"tubes cut to each frame"`
	Brackets  []Bracket  `yaml:"brackets" doc:"plates and corner brackets"`
	Clamps    []Clamp    `yaml:"clamps" doc:"stack clamps"`
	Grilles   []Grille   `yaml:"grilles" doc:"barred or mesh panels captured between boards"`
	Windows   []Window   `yaml:"windows" doc:"window frames set into cut boards"`
	Feeders   []Feeder   `yaml:"feeders" doc:"pivoting feeders"`
	Doors     []Door     `yaml:"doors" doc:"sliding, swing and two-leaf doors"`
	Bases     []Base     `yaml:"bases" doc:"pads, piers and anchors under posts"`
	Fasteners []Fastener `yaml:"fasteners,required" doc:"bolts, lags, screws and pins"`
	Parts     []Part     `yaml:"parts" doc:"everything else that is counted: rollers, tracks, guides, handles, caps"`

	Assemblies []Assembly  `yaml:"assemblies,required" doc:"the ways a run between two posts is built"`
	Uses       Uses        `yaml:"uses,required" doc:"which assembly and posts each structure takes"`
	Joints     []JointRule `yaml:"joints,required" doc:"what holds each kind of joint together"`
	Treated    []Treated   `yaml:"treated" doc:"where treated courses are asked for"`
	Spares     []Spare     `yaml:"spares" doc:"how many spares go with the order"`
	Labour     []Labour    `yaml:"labour" doc:"how long kinds of work take, where the shop knows better than common practice"`

	items map[string]Item
}

// Board is how a board stands in its channels.
type Board struct {
	document.Where `yaml:"-" json:"-"`

	EndPlay   measure.Length `yaml:"end_play,required" doc:"clear width less board length: room to slide the board in and to swell"`
	Engage    measure.Length `yaml:"engage,required" doc:"least depth a board must stand in each channel when pushed fully to the other end"`
	Length    Rule           `yaml:"length" doc:"board length from clear and end_play; clear - end_play where left out"`
	Mark      measure.Length `yaml:"mark" doc:"finest mark boards are cut to; 1/16 in or 1 mm where left out"`
	LeastRip  measure.Length `yaml:"least_rip,required" doc:"narrowest ripped course that still holds"`
	MostGap   measure.Length `yaml:"most_gap,required" doc:"most a stack may stay short of its zone where no clamp takes it up"`
	LeastStub measure.Length `yaml:"least_stub" doc:"shortest board worth setting beside a window or feeder"`
}

// Fixed lists that a kit's words come from.
type (
	// Role is what a post does in plan.
	Role string
	// Restraint is what holds the boards of a wall in.
	Restraint string
	// PanelFill is what one panel of a door leaf holds.
	PanelFill string
	// DoorKind is how a door opens.
	DoorKind string
	// FastenerKind is the kind of a fastener.
	FastenerKind string
	// BaseKind is what a post stands on.
	BaseKind string
	// Ends says whose posts a run stands between.
	Ends string
)

// Roles of posts.
const (
	CornerPost Role = "corner"  // where two walls end
	LinePost   Role = "line"    // where a wall passes and another may meet it
	FrontPost  Role = "front"   // end of a front, lagged to standing timber
	DoorPost   Role = "door"    // beside a doorway, standing on tubes
	Upright    Role = "upright" // end of a rigid pen section
	RoofPost   Role = "roof"    // column that bears the roof
)

// Restraints.
const (
	Screwed Restraint = "screwed" // channels on timber, no tube above; boards screwed
	Clamped Restraint = "clamped" // a threaded screw from the top tube onto the stack
)

// Panels of a door leaf.
const (
	PanelBoards PanelFill = "boards"
	PanelRail   PanelFill = "rail"
	PanelMetal  PanelFill = "metal"
	PanelGrille PanelFill = "grille"
	PanelMesh   PanelFill = "mesh"
	PanelOpen   PanelFill = "open"
)

// Doors.
const (
	Sliding DoorKind = "sliding"
	Swing   DoorKind = "swing"
	TwoLeaf DoorKind = "two-leaf"
)

// Fasteners.
const (
	Bolt      FastenerKind = "bolt"
	LagScrew  FastenerKind = "lag"
	WoodScrew FastenerKind = "screw"
	JointPin  FastenerKind = "pin"
	Anchor    FastenerKind = "anchor"
)

// Bases.
const (
	Pad    BaseKind = "pad"    // plate on compacted ground or slab
	Pier   BaseKind = "pier"   // concrete pier in the ground
	Ground BaseKind = "ground" // foot plate on bare ground
	Slab   BaseKind = "slab"   // anchored to concrete
)

// Ends of a run.
const (
	EndsChannel Ends = "channel" // a channel lagged to standing timber
	EndsMounted Ends = "mounted" // a post of the frame's own, lagged to standing timber
	EndsShared  Ends = "shared"  // the structure's posts, shared with the next run
	EndsOwn     Ends = "own"     // uprights of the section's own, pinned to the next
)

// Allowed lists the roles.
func (Role) Allowed() []string {
	return []string{"corner", "line", "front", "door", "upright", "roof"}
}

// Allowed lists the restraints.
func (Restraint) Allowed() []string { return []string{"screwed", "clamped"} }

// Allowed lists what a door's panel may hold.
func (PanelFill) Allowed() []string {
	return []string{"boards", "rail", "metal", "grille", "mesh", "open"}
}

// Allowed lists the kinds of door.
func (DoorKind) Allowed() []string { return []string{"sliding", "swing", "two-leaf"} }

// Allowed lists the kinds of fastener.
func (FastenerKind) Allowed() []string { return []string{"bolt", "lag", "screw", "pin", "anchor"} }

// Allowed lists the kinds of base.
func (BaseKind) Allowed() []string { return []string{"pad", "pier", "ground", "slab"} }

// Allowed lists whose posts a run may stand between.
func (Ends) Allowed() []string { return []string{"channel", "mounted", "shared", "own"} }

// Read reads a kit. The error, when there is one, is document.Problems: every
// mistake in the text, each with its line.
func Read(file string, src []byte) (*Kit, error) {
	k := new(Kit)
	r := document.NewReporter(file, src)
	if r.Read(k) {
		k.check(r)
	} else if !k.Pos().IsZero() {
		k.checkRest(r, file, src)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return k, nil
}

// checkRest checks what could be read of a text with mistakes, so that a person
// hears of everything at once. What it finds on the line of a mistake already
// told, or at no line, only follows from that mistake.
func (k *Kit) checkRest(r *document.Reporter, file string, src []byte) {
	told := map[int]bool{0: true}
	var was document.Problems
	if errors.As(r.Err(), &was) {
		for i := range was {
			told[was[i].Pos.Line] = true
		}
	}
	rest := document.NewReporter(file, src)
	k.check(rest)
	var more document.Problems
	if errors.As(rest.Err(), &more) {
		for _, p := range more {
			if !told[p.Pos.Line] {
				r.Add(p.Pos, p.Path, p.Text, p.Message, p.Hint)
			}
		}
	}
}
