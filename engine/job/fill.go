package job

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// FillKind is what a bay is filled with.
type FillKind string

// The fills.
const (
	FillBoards FillKind = "boards"
	FillGrille FillKind = "grille"
	FillWindow FillKind = "window"
	FillFeeder FillKind = "feeder"
	FillOpen   FillKind = "open"
)

// Allowed lists the fills a person may ask for. Doors are asked for by a front.
func (FillKind) Allowed() []string {
	return []string{"boards", "grille", "window", "feeder", "open"}
}

// Fill is what fills a bay and how. A kind alone may be written in its place.
type Fill struct {
	document.Where `yaml:"-" json:"-"`

	Kind     FillKind       `yaml:"fill,required" doc:"boards, grille, window, feeder or open"`
	Grille   string         `yaml:"grille" doc:"id of the grille; the first of the kit's that fits where left out"`
	Below    int            `yaml:"below" min:"1" doc:"full courses below the grille; the kit's where left out"`
	Above    int            `yaml:"above" min:"1" doc:"full courses above the grille; the kit's where left out"`
	Window   string         `yaml:"window" doc:"id of the window; the kit's first where left out"`
	Sill     int            `yaml:"sill" min:"1" doc:"full courses below the window; the kit's where left out"`
	From     measure.Length `yaml:"from" doc:"from the left web to the window; centred where left out"`
	Feeder   string         `yaml:"feeder" doc:"id of the feeder; the kit's first where left out"`
	Hand     Hand           `yaml:"hand" doc:"the end of the bay at which the feeder stands, seen from the front; left where left out"`
	Treated  int            `yaml:"treated" min:"0" doc:"treated courses at the bottom; by the kit's rule where left out"`
	Assembly string         `yaml:"assembly" doc:"id of another way to build this run"`
}

// FromScalar takes a fill written as its kind alone.
func (f *Fill) FromScalar(text string) error {
	k, err := oneOf(text, FillKind("").Allowed(), "fill")
	f.Kind = FillKind(k)
	return err
}

// Hand is left or right, seen from the front (in a pen: from outside).
type Hand string

// The hands.
const (
	Left  Hand = "left"
	Right Hand = "right"
)

// Allowed lists the hands.
func (Hand) Allowed() []string { return []string{"left", "right"} }

// Front is a stall front (or a pen's gate section): a doorway and the panels
// beside it. open alone may be written in its place, or a fill for a front
// without a doorway.
type Front struct {
	document.Where `yaml:"-" json:"-"`

	Door   string `yaml:"door" doc:"id of the door; the kit's where left out"`
	At     DoorAt `yaml:"at" doc:"left, centre or right, or the distance from the left post's axis to the doorway's middle; centre where left out"`
	Slides Hand   `yaml:"slides" doc:"the side a sliding leaf parks on; the roomier one where left out"`
	Hinge  Hand   `yaml:"hinge" doc:"the side a swing leaf hangs on; left where left out"`
	Panels *Fill  `yaml:"panels" doc:"what fills the panels beside the doorway; a grille where left out"`
	Left   *Fill  `yaml:"left" doc:"the panel on the left, where it differs"`
	Right  *Fill  `yaml:"right" doc:"the panel on the right, where it differs"`
	Span   int    `yaml:"span" min:"1" doc:"which of the room's post spacings holds the doorway, from the left; the first where left out"`
	Whole  *Fill  `yaml:"whole" doc:"a front without a doorway: what fills it"`
}

// FromScalar takes a front written as a fill alone: a front without a doorway.
func (f *Front) FromScalar(text string) error {
	k, err := oneOf(text, FillKind("").Allowed(), "front")
	f.Whole = &Fill{Kind: FillKind(k)}
	return err
}

// DoorAt is where a doorway stands in its run.
type DoorAt struct {
	Word string         // left, centre or right; empty when From counts
	From measure.Length // from the left post's axis to the doorway's middle
	// FromRight says that From counts from the right post instead: so a row
	// that mirrors another has it. It cannot be written.
	FromRight bool
}

// UnmarshalText reads a word or a distance.
func (d *DoorAt) UnmarshalText(text []byte) error {
	switch s := string(text); s {
	case "left", "centre", "right":
		d.Word = s
		return nil
	case "center":
		d.Word = "centre"
		return nil
	}
	l, err := measure.ParseLength(string(text), measure.NoUnit)
	if err != nil {
		return &measure.ParseError{Text: string(text), Problem: "this is no place for a doorway", Hint: "left, centre or right, or a distance such as 4' 6\" from the left post's axis to the doorway's middle"}
	}
	d.From = l
	return nil
}

// MarshalText writes what is read.
func (d DoorAt) MarshalText() ([]byte, error) {
	if d.Word != "" {
		return []byte(d.Word), nil
	}
	if d.From == 0 {
		return []byte("centre"), nil
	}
	return []byte(d.From.String()), nil
}

// Describe tells the schema what a doorway's place looks like.
func (DoorAt) Describe() document.Description {
	return document.Description{Doc: "left, centre, right, or a distance from the left post's axis to the doorway's middle", Examples: []string{"left", "centre", "right", "4' 6\"", "1400 mm"}}
}

// BayChange changes one bay.
type BayChange struct {
	document.Where `yaml:"-" json:"-"`

	Fill   *Fill  `yaml:"fill" doc:"what fills it instead"`
	Door   string `yaml:"door" doc:"another door (door bays)"`
	Slides Hand   `yaml:"slides" doc:"the side its leaf parks on (door bays)"`
	Shim   bool   `yaml:"shim" doc:"a bay that tapers, between channels on timber: true shims one channel until the bay is parallel, false cuts its courses to their own heights"`
	Note   string `yaml:"note" doc:"why"`
}

// FreeForm is posts and bays listed one by one.
type FreeForm struct {
	document.Where `yaml:"-" json:"-"`

	Name   string         `yaml:"name,required" doc:"short name: F"`
	Height measure.Length `yaml:"height" doc:"nominal wall height"`
	Posts  []FormPost     `yaml:"posts,required" min:"2" doc:"the posts"`
	Walls  []FormWall     `yaml:"walls,required" min:"1" doc:"the walls, each a straight row of bays"`
	Rooms  []FormRoom     `yaml:"rooms" doc:"what the walls enclose"`
	Base   string         `yaml:"base" doc:"what steel posts stand on: a base of the kit"`
}

// FormPost is one post of a free form.
type FormPost struct {
	document.Where `yaml:"-" json:"-"`

	Name   string         `yaml:"name,required" doc:"its name"`
	X      measure.Length `yaml:"x,required" doc:"east of the job's own zero"`
	Y      measure.Length `yaml:"y,required" doc:"north of the job's own zero"`
	Timber *PostSize      `yaml:"timber" doc:"real size, where it is standing timber"`
	Post   string         `yaml:"post" doc:"id of the steel post, where it is steel"`
}

// FormWall is one straight wall of a free form.
type FormWall struct {
	document.Where `yaml:"-" json:"-"`

	Name     string     `yaml:"name,required" doc:"its name"`
	Posts    []string   `yaml:"posts,required" min:"2" doc:"the posts it runs along, from left to right seen from its front"`
	Assembly string     `yaml:"assembly,required" doc:"how its runs are built: an assembly of the kit"`
	Wall     WallRole   `yaml:"role" doc:"front, back, side or divider; divider where left out"`
	Fill     *Fill      `yaml:"fill" doc:"what fills its runs"`
	Doors    []FormDoor `yaml:"doors" doc:"its doorways"`
}

// FormDoor is a doorway in a wall of a free form.
type FormDoor struct {
	document.Where `yaml:"-" json:"-"`

	Run   int    `yaml:"run,required" min:"1" doc:"which run between two posts, from the left"`
	Front *Front `yaml:"front,required" doc:"the doorway and the panels beside it"`
}

// WallRole is what a wall does.
type WallRole string

// The walls.
const (
	WallFront   WallRole = "front"
	WallBack    WallRole = "back"
	WallSide    WallRole = "side"
	WallDivider WallRole = "divider"
	WallSection WallRole = "section" // of a pen
	WallGate    WallRole = "gate"    // of a pen
)

// Allowed lists what a wall of a free form may do.
func (WallRole) Allowed() []string { return []string{"front", "back", "side", "divider"} }

// FormRoom is a room of a free form.
type FormRoom struct {
	document.Where `yaml:"-" json:"-"`

	Name  string   `yaml:"name,required" doc:"its name"`
	Kind  RoomKind `yaml:"kind" doc:"what it is for; stall where left out"`
	Posts []string `yaml:"posts,required" min:"3" doc:"the posts around it, in order"`
}
