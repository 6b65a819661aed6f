package packet

// SetoutDoc is one structure set out: what is staked, strung, dug and poured.
// What a structure does not need is left out. Numbers of a pen count from its
// centre stake along the baseline through its gate and to the left of it; those
// of a grid from the first stake of its baseline, along it and to its left.
type SetoutDoc struct {
	Structure string          `json:"structure"`
	Kind      string          `json:"kind"`
	Pen       *SetoutPenDoc   `json:"pen,omitempty"`
	Grid      *SetoutGridDoc  `json:"grid,omitempty"`
	Lines     []SetoutLineDoc `json:"lines,omitempty"`
	Bases     *BasesDoc       `json:"bases,omitempty"`
	Ground    *GroundDoc      `json:"ground,omitempty"`
}

// TapedDoc is a length as a crew tapes it, to the nearest mark, with the exact
// one beside it.
type TapedDoc struct {
	Tape   string `json:"tape"`
	IsNM   int64  `json:"is_nm"`
	Reason int    `json:"reason"`
}

// TurnDoc is an angle from the baseline, anticlockwise seen from above, in
// degrees, minutes and seconds, with the exact one in billionths of a degree.
type TurnDoc struct {
	Transit string `json:"transit"`
	IsND    int64  `json:"is_nd"`
	Reason  int    `json:"reason"`
}

// VolumeDoc is a volume, rounded up for people, with the exact one in
// nanolitres.
type VolumeDoc struct {
	Shown  string `json:"shown"`
	IsNL   int64  `json:"is_nl"`
	Reason int    `json:"reason"`
}

// SetoutPenDoc is a ring set out from its centre stake.
type SetoutPenDoc struct {
	Asked     string      `json:"asked,omitempty"` // pins, flats or corners
	AskedFor  string      `json:"asked_for,omitempty"`
	AskedNM   int64       `json:"asked_for_nm,omitempty"`
	PinCircle TapedDoc    `json:"pin_circle"`
	Flats     TapedDoc    `json:"inside_flats"`
	Corners   TapedDoc    `json:"inside_corners"`
	Radius    TapedDoc    `json:"radius"`
	Gate      TapedDoc    `json:"gate_middle"`
	Toward    string      `json:"gate_toward"` // compass: clockwise from north
	TowardND  int64       `json:"gate_toward_nd"`
	Piers     []PierDoc   `json:"piers"`
	Play      TapedDoc    `json:"play"`
	TakeUp    TapedDoc    `json:"take_up"`
	Seat      TapedDoc    `json:"seat"`
	Loose     bool        `json:"feet_follow_pins"`
	Closing   *ClosingDoc `json:"closing,omitempty"`
}

// PierDoc is where a pin stands, and what checks it.
type PierDoc struct {
	Post     string   `json:"post"`
	Angle    TurnDoc  `json:"angle"`
	Next     TapedDoc `json:"to_next"`
	Skip     TapedDoc `json:"skip_one"`
	Across   TapedDoc `json:"across"`
	AcrossTo string   `json:"across_to"`
	X        TapedDoc `json:"x"`
	Y        TapedDoc `json:"y"`
}

// ClosingDoc is how the sections come out on piers as measured.
type ClosingDoc struct {
	Fits     bool         `json:"fits"`
	LacksNM  int64        `json:"lacks_nm"`
	TakeUpNM int64        `json:"take_up_nm"`
	EndXNM   int64        `json:"end_x_nm"`
	EndYNM   int64        `json:"end_y_nm"`
	EndNM    int64        `json:"end_nm"`
	Sections []SectionDoc `json:"sections"`
	Moves    []MoveDoc    `json:"moves,omitempty"`
	Instead  []MoveDoc    `json:"instead,omitempty"`
	Reason   int          `json:"reason"`
}

// SectionDoc is one section on its measured piers.
type SectionDoc struct {
	From    string `json:"from"`
	To      string `json:"to"`
	PiersNM int64  `json:"piers_nm"`
	LacksNM int64  `json:"lacks_nm"`
	OffNM   int64  `json:"pin_off_nm"` // the pin at From, off the middle of its pier
}

// MoveDoc is a pier to move, and where to.
type MoveDoc struct {
	Post       string `json:"post"`
	ByNM       int64  `json:"by_nm"`
	OutwardNM  int64  `json:"outward_nm"`
	SidewaysNM int64  `json:"sideways_nm"`
	XNM        int64  `json:"x_nm"`
	YNM        int64  `json:"y_nm"`
}

// SetoutGridDoc is stakes set out from a baseline between two of them.
type SetoutGridDoc struct {
	From    string      `json:"from"`
	To      string      `json:"to"`
	Length  TapedDoc    `json:"length"`
	Squares []SquareDoc `json:"right_angles,omitempty"`
	Frames  []FrameDoc  `json:"frames,omitempty"`
	Stakes  []StakeDoc  `json:"stakes"`
}

// SquareDoc is a right angle by tape: 3-4-5.
type SquareDoc struct {
	At     string     `json:"at"`
	Along  string     `json:"along"`
	Across string     `json:"across"`
	Legs   []TapedDoc `json:"legs"`
	Hyp    TapedDoc   `json:"between"`
}

// FrameDoc is four corner stakes and what checks them.
type FrameDoc struct {
	Kind      string     `json:"kind"`
	Corners   []string   `json:"corners"`
	Sides     []TapedDoc `json:"sides"`
	Diagonals []TapedDoc `json:"diagonals"`
	Within    TapedDoc   `json:"within"`
}

// StakeDoc is one post's stake; ties run from the baseline's two ends.
type StakeDoc struct {
	Post   string     `json:"post"`
	Corner bool       `json:"corner,omitempty"`
	X      TapedDoc   `json:"x"`
	Y      TapedDoc   `json:"y"`
	Ties   []TapedDoc `json:"ties,omitempty"`
}

// SetoutLineDoc is distances along a straight line, all from where its tape is
// hooked.
type SetoutLineDoc struct {
	Kind  string          `json:"kind"`
	Wall  string          `json:"wall,omitempty"`
	Zero  string          `json:"zero"` // post the tape is hooked on
	Marks []SetoutMarkDoc `json:"marks"`
}

// SetoutMarkDoc is a place along a line; own counts from the right face of the
// standing post on its left.
type SetoutMarkDoc struct {
	What string    `json:"what"`
	At   string    `json:"at"`
	From TapedDoc  `json:"from"`
	Own  *TapedDoc `json:"own,omitempty"`
}

// BasesDoc is what a structure's posts stand on.
type BasesDoc struct {
	Bench    string     `json:"bench,omitempty"` // what heights count from
	Top      *TapedDoc  `json:"top,omitempty"`
	LaidNM   int64      `json:"laid_nm,omitempty"`
	List     []BaseDoc  `json:"list"`
	Concrete *VolumeDoc `json:"concrete,omitempty"`
	Dig      *VolumeDoc `json:"dig,omitempty"`
	Bags     int        `json:"bags"`
	Bag      string     `json:"bag,omitempty"`
}

// BaseDoc is what one post stands on.
type BaseDoc struct {
	Post     string     `json:"post"`
	Item     string     `json:"item"`
	Kind     string     `json:"kind"`
	Ground   *TapedDoc  `json:"ground,omitempty"`
	Out      *TapedDoc  `json:"top_above_ground,omitempty"`
	AcrossNM int64      `json:"across_nm,omitempty"`
	Depth    *TapedDoc  `json:"depth,omitempty"`
	Length   *TapedDoc  `json:"length,omitempty"`
	Dig      *VolumeDoc `json:"dig,omitempty"`
	Concrete *VolumeDoc `json:"concrete,omitempty"`
	Bags     int        `json:"bags,omitempty"`
}

// GroundDoc is the ground under a structure, levelled at every post.
type GroundDoc struct {
	Bench    string          `json:"bench"`
	High     TapedDoc        `json:"high"`
	HighAt   string          `json:"high_at"`
	Low      TapedDoc        `json:"low"`
	LowAt    string          `json:"low_at"`
	Fall     TapedDoc        `json:"fall"`
	Levels   []LevelDoc      `json:"levels,omitempty"`
	Steps    []GroundStepDoc `json:"steps,omitempty"`
	Most     TapedDoc        `json:"greatest_step"`
	MostAt   string          `json:"greatest_step_at,omitempty"`
	StepFill VolumeDoc       `json:"steps_fill"`
}

// LevelDoc is the whole site made level at one height.
type LevelDoc struct {
	Kind   string     `json:"kind"`
	At     TapedDoc   `json:"at"`
	Cut    VolumeDoc  `json:"cut"`
	Fill   VolumeDoc  `json:"fill"`
	Stakes []DepthDoc `json:"stakes"`
	Prisms []PrismDoc `json:"prisms"`
}

// DepthDoc is how far the ground at a post lies above a level; below nothing it
// is filled.
type DepthDoc struct {
	Post string   `json:"post"`
	Dig  TapedDoc `json:"dig"`
}

// PrismDoc is the ground over one part of the plan.
type PrismDoc struct {
	Name    string   `json:"name"`
	Shape   string   `json:"shape"`
	Corners []string `json:"corners"`
	AreaUM2 int64    `json:"area_um2"`
	CutNL   int64    `json:"cut_nl"`
	FillNL  int64    `json:"fill_nl"`
	Reason  int      `json:"reason"`
}

// GroundStepDoc is one bay, section or room made level at its own highest post.
type GroundStepDoc struct {
	Name   string   `json:"name"`
	At     TapedDoc `json:"at"`
	Gap    TapedDoc `json:"gap"`
	FillNL int64    `json:"fill_nl"`
}
