package packet

// Document is plan.json. Every length is text a person reads, with the exact
// value beside it in whole nanometres; masses are in whole micrograms. A reason
// is the number of an entry in Reasons, or -1. Names are those on labels and
// sheets. docs/plan-json.md explains each field.
type Document struct {
	Format     int            `json:"format"` // raised when a field changes its meaning
	Job        JobDoc         `json:"job"`
	Board      BoardDoc       `json:"board"`
	Structures []StructureDoc `json:"structures"`
	Posts      []PostDoc      `json:"posts"`
	Walls      []WallDoc      `json:"walls"`
	Runs       []RunDoc       `json:"runs"`
	Rooms      []RoomDoc      `json:"rooms"`
	Aisles     []AisleDoc     `json:"aisles"`
	Bays       []BayDoc       `json:"bays"`
	Pieces     []PieceDoc     `json:"pieces"`
	Marks      []MarkDoc      `json:"marks"`
	Setout     []SetoutDoc    `json:"setout"`
	Takeoff    []TakeoffDoc   `json:"takeoff"`
	Cuts       []CutDoc       `json:"cuts,omitempty"`
	Work       *WorkDoc       `json:"work,omitempty"`
	Mass       string         `json:"mass"`
	MassUG     int64          `json:"mass_ug"`
	Findings   []FindingDoc   `json:"findings"`
	Reasons    []ReasonDoc    `json:"reasons"`
}

// JobDoc is the job's head.
type JobDoc struct {
	Job        string `json:"job"`
	Date       string `json:"date,omitempty"`
	Revision   int    `json:"revision"`
	Units      string `json:"units"`
	Farm       string `json:"farm"`
	Place      string `json:"place,omitempty"`
	Kit        string `json:"kit"`
	KitVersion int    `json:"kit_version"`
}

// BoardDoc is one board's real section.
type BoardDoc struct {
	Nominal     string `json:"nominal"`
	Thickness   string `json:"thickness"`
	ThicknessNM int64  `json:"thickness_nm"`
	Coverage    string `json:"coverage"`
	CoverageNM  int64  `json:"coverage_nm"`
	Tongue      string `json:"tongue"`
	TongueNM    int64  `json:"tongue_nm"`
	Measured    bool   `json:"coverage_measured"`
}

// StructureDoc is one structure.
type StructureDoc struct {
	Name     string   `json:"name"`
	Kind     string   `json:"kind"`
	Height   string   `json:"height"`
	HeightNM int64    `json:"height_nm"`
	Ring     *RingDoc `json:"ring,omitempty"`
}

// RingDoc is a pen's circle.
type RingDoc struct {
	PinCircle   string   `json:"pin_circle"`
	PinCircleNM int64    `json:"pin_circle_nm"`
	Flats       string   `json:"inside_flats"`
	FlatsNM     int64    `json:"inside_flats_nm"`
	SectionsNM  []int64  `json:"sections_nm"`
	Sections    []string `json:"sections"`
	Interior    []string `json:"interior_angles"`
}

// PostDoc is a place in plan where something stands.
type PostDoc struct {
	Name      string `json:"name"`
	Structure string `json:"structure"`
	Kind      string `json:"kind"`
	X         string `json:"x"`
	XNM       int64  `json:"x_nm"`
	Y         string `json:"y"`
	YNM       int64  `json:"y_nm"`
	AlongNM   int64  `json:"along_nm"`
	AcrossNM  int64  `json:"across_nm"`
	Turn      string `json:"turn"`
	Item      string `json:"item,omitempty"`
	Base      string `json:"base,omitempty"`
	HeightNM  int64  `json:"height_nm,omitempty"`
}

// WallDoc is runs in a row.
type WallDoc struct {
	Name      string   `json:"name"`
	Structure string   `json:"structure"`
	Role      string   `json:"role"`
	Runs      []string `json:"runs"`
}

// RunDoc is what stands between two principal posts.
type RunDoc struct {
	Name      string   `json:"name"`
	Wall      string   `json:"wall"`
	Role      string   `json:"role"`
	From      string   `json:"from"`
	To        string   `json:"to"`
	Assembly  string   `json:"assembly"`
	Restraint string   `json:"restraint"`
	Framed    bool     `json:"framed"`
	Built     bool     `json:"built"` // false where nothing fills it
	Centres   string   `json:"centres"`
	CentresNM int64    `json:"centres_nm"`
	Clear     string   `json:"drawn_clear"`
	ClearNM   int64    `json:"drawn_clear_nm"`
	DatumNM   int64    `json:"datum_nm"`
	DropNM    int64    `json:"drop_nm,omitempty"` // its line has stepped so much lower than its structure's
	ZoneNM    int64    `json:"zone_nm"`
	Bays      []string `json:"bays"`
	DoorPosts []string `json:"door_posts,omitempty"`
	State     string   `json:"frame_state,omitempty"` // delivered, standing, tight, lagged
	Reason    int      `json:"reason"`
}

// RoomDoc is what walls enclose.
type RoomDoc struct {
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Width   string   `json:"width"`
	WidthNM int64    `json:"width_nm"`
	Depth   string   `json:"depth"`
	DepthNM int64    `json:"depth_nm"`
	Corners []string `json:"corners"`
	Runs    []string `json:"runs"`
}

// AisleDoc is a passage between two fronts.
type AisleDoc struct {
	Name    string `json:"name"`
	Width   string `json:"width"`
	WidthNM int64  `json:"width_nm"`
	Clear   string `json:"clear"`
	ClearNM int64  `json:"clear_nm"`
	Length  string `json:"length"`
}

// BayDoc is one bay as fitted.
type BayDoc struct {
	Name        string           `json:"name"`
	Run         string           `json:"run"`
	Room        string           `json:"room,omitempty"`
	Fill        string           `json:"fill"`
	State       string           `json:"state"`
	Clear       string           `json:"clear"`
	ClearNM     int64            `json:"clear_nm"`
	DrawnNM     int64            `json:"drawn_clear_nm"`
	Board       string           `json:"board,omitempty"`
	BoardNM     int64            `json:"board_nm,omitempty"`
	HoldLeftNM  int64            `json:"hold_left_nm,omitempty"`
	HoldRightNM int64            `json:"hold_right_nm,omitempty"`
	Courses     []CourseDoc      `json:"courses,omitempty"`
	Taper       *TaperDoc        `json:"taper,omitempty"`
	Thick       *ThickDoc        `json:"thick,omitempty"`
	Stack       *StackDoc        `json:"stack,omitempty"`
	Grille      *GrilleDoc       `json:"grille,omitempty"`
	Window      *WindowDoc       `json:"window,omitempty"`
	Feeder      *FeederDoc       `json:"feeder,omitempty"`
	Door        *DoorDoc         `json:"door,omitempty"`
	Obstacles   []ObstructionDoc `json:"obstructions,omitempty"`
	Reason      int              `json:"reason"`
}

// CourseDoc is one height of boards.
type CourseDoc struct {
	No       int      `json:"no"`
	Kind     string   `json:"kind"`
	ZNM      int64    `json:"z_nm"`
	HeightNM int64    `json:"height_nm"`
	Pieces   []string `json:"pieces"`
}

// TaperDoc is what is done about a bay that is wider at one height than at another.
type TaperDoc struct {
	HeightsNM []int64   `json:"heights_nm"`
	Widths    []string  `json:"widths"`
	WidthsNM  []int64   `json:"widths_nm"`
	Lengths   []string  `json:"lengths"`
	LengthsNM []int64   `json:"lengths_nm"`
	Shimmed   bool      `json:"shimmed"`
	Shims     []ShimDoc `json:"shims,omitempty"`
	ShimSide  string    `json:"shim_side,omitempty"`
	ByCut     *CostDoc  `json:"by_cut"`
	ByShim    *CostDoc  `json:"by_shim,omitempty"`
	Courses   []HoldDoc `json:"courses"`
	Reason    int       `json:"reason"`
}

// ShimDoc is what goes behind a channel at one of its lags.
type ShimDoc struct {
	ZNM     int64  `json:"z_nm"`
	Thick   string `json:"thick"`
	ThickNM int64  `json:"thick_nm"`
}

// CostDoc is what one way to deal with a taper takes.
type CostDoc struct {
	Lengths  int         `json:"lengths"`
	Boards   []BoughtDoc `json:"boards"`
	Settings int         `json:"more_settings"`
	Shims    int         `json:"shims"`
	Minutes  int         `json:"minutes"`
	Source   string      `json:"source"`
}

// BoughtDoc is boards of one length that the yard sells.
type BoughtDoc struct {
	LengthNM int64 `json:"length_nm"`
	Count    int   `json:"count"`
}

// HoldDoc is how one board of a tapered bay stands in its channels.
type HoldDoc struct {
	No           int   `json:"no"`
	ClearUnderNM int64 `json:"clear_under_nm"`
	ClearOverNM  int64 `json:"clear_over_nm"`
	LengthNM     int64 `json:"length_nm"`
	HoldLeftNM   int64 `json:"hold_left_nm"`
	HoldRightNM  int64 `json:"hold_right_nm"`
}

// ThickDoc is how a board's thickness stands to the inside of its channels.
type ThickDoc struct {
	InsideNM int64 `json:"inside_nm"`
	WetNM    int64 `json:"swollen_nm"`
	TwistNM  int64 `json:"twist_nm"`
	PlayNM   int64 `json:"play_nm"`
	Reason   int   `json:"reason"`
}

// ObstructionDoc is something of the building that crosses a bay.
type ObstructionDoc struct {
	What     string   `json:"what"`
	XNM      int64    `json:"x_nm"`
	WidthNM  int64    `json:"width_nm"`
	ZNM      int64    `json:"z_nm"`
	HeightNM int64    `json:"height_nm"`
	Face     string   `json:"face,omitempty"`
	IntoNM   int64    `json:"into_nm,omitempty"`
	Through  bool     `json:"through"`
	Cuts     []string `json:"cuts,omitempty"`
	Reason   int      `json:"reason"`
}

// StackDoc is how the courses come out in their zone.
type StackDoc struct {
	Zone      string `json:"zone"`
	ZoneNM    int64  `json:"zone_nm"`
	Top       string `json:"top"`
	TopNM     int64  `json:"top_nm"`
	Slack     string `json:"slack"`
	SlackNM   int64  `json:"slack_nm"`
	Packing   string `json:"packing,omitempty"`
	PackingNM int64  `json:"packing_nm,omitempty"`
	Clamp     string `json:"clamp,omitempty"`
	Reason    int    `json:"reason"`
}

// GrilleDoc is a grille cut to its bay.
type GrilleDoc struct {
	Item        string `json:"item"`
	Made        string `json:"made"`
	MadeNM      int64  `json:"made_nm"`
	Width       string `json:"width"`
	WidthNM     int64  `json:"width_nm"`
	TrimLeft    string `json:"trim_left"`
	TrimLeftNM  int64  `json:"trim_left_nm"`
	TrimRight   string `json:"trim_right"`
	TrimRightNM int64  `json:"trim_right_nm"`
	ZNM         int64  `json:"z_nm"`
	CutEnds     int    `json:"cut_ends"`
	Reason      int    `json:"reason"`
}

// WindowDoc is a window set into cut boards.
type WindowDoc struct {
	Item          string `json:"item"`
	XNM           int64  `json:"x_nm"`
	SillNM        int64  `json:"sill_nm"`
	HeadNM        int64  `json:"head_nm"`
	CutCourses    int    `json:"cut_courses"`
	Left          string `json:"left"`
	LeftNM        int64  `json:"left_nm"`
	Right         string `json:"right"`
	RightNM       int64  `json:"right_nm"`
	NotchBottomNM int64  `json:"notch_bottom_nm"`
	NotchTopNM    int64  `json:"notch_top_nm"`
}

// FeederDoc is a feeder on full courses, short ones beside it.
type FeederDoc struct {
	Item    string `json:"item"`
	Hand    string `json:"hand"`
	ZNM     int64  `json:"z_nm"`
	TopNM   int64  `json:"top_nm"`
	LevelNM int64  `json:"above_grille_nm"`
	Short   string `json:"short"`
	ShortNM int64  `json:"short_nm"`
	Shorts  int    `json:"short_courses"`
}

// DoorDoc is a door hung in its opening.
type DoorDoc struct {
	Item       string    `json:"item"`
	Kind       string    `json:"kind"`
	Leaves     int       `json:"leaves"`
	Leaf       string    `json:"leaf"`
	LeafNM     int64     `json:"leaf_nm"`
	LapNM      int64     `json:"lap_nm,omitempty"`
	Gap        string    `json:"gap"`
	GapNM      int64     `json:"gap_nm"`
	GapFromNM  int64     `json:"gap_from_nm"`
	GapToNM    int64     `json:"gap_to_nm"`
	StemNM     int64     `json:"stem_nm,omitempty"`
	StemFromNM int64     `json:"stem_from_nm,omitempty"`
	StemToNM   int64     `json:"stem_to_nm,omitempty"`
	RiseNM     int64     `json:"rise_nm,omitempty"`
	LatchNM    int64     `json:"latch_nm,omitempty"`
	Boards     int       `json:"boards"`
	FromAbove  int       `json:"boards_from_above"`
	FromBelow  int       `json:"boards_from_below"`
	Track      *TrackDoc `json:"track,omitempty"`
	Reason     int       `json:"reason"`
}

// TrackDoc is a sliding leaf's track; positions run along the wall.
type TrackDoc struct {
	Length       string `json:"length"`
	LengthNM     int64  `json:"length_nm"`
	FromNM       int64  `json:"from_nm"`
	ToNM         int64  `json:"to_nm"`
	Parks        string `json:"parks"`
	ParkedFromNM int64  `json:"parked_from_nm"`
	ParkedToNM   int64  `json:"parked_to_nm"`
}

// PieceDoc is one thing with a name of its own.
type PieceDoc struct {
	Label    string     `json:"label"`
	Kind     string     `json:"kind"`
	Item     string     `json:"item"`
	Place    string     `json:"place"`
	Course   int        `json:"course,omitempty"`
	Length   string     `json:"length"`
	LengthNM int64      `json:"length_nm"`
	MadeNM   int64      `json:"made_nm,omitempty"`
	HeightNM int64      `json:"height_nm,omitempty"`
	XNM      int64      `json:"x_nm"`
	ZNM      int64      `json:"z_nm"`
	Cut      bool       `json:"cut"`
	Treated  bool       `json:"treated,omitempty"`
	Ripped   bool       `json:"ripped,omitempty"`
	Fasten   bool       `json:"fasten,omitempty"`
	Below    bool       `json:"from_below,omitempty"`
	Notches  []NotchDoc `json:"notches,omitempty"`
	State    string     `json:"state"`
	Misfit   bool       `json:"misfit,omitempty"` // frozen, but it no longer fits what was measured since
	Reason   int        `json:"reason"`
}

// NotchDoc is something cut out of a board.
type NotchDoc struct {
	Edge    string `json:"edge"`
	XNM     int64  `json:"x_nm"`
	WidthNM int64  `json:"width_nm"`
	DepthNM int64  `json:"depth_nm"`
	HighNM  int64  `json:"high_nm,omitempty"`
	Why     string `json:"why"`
}

// MarkDoc is the datum line's mark on a post.
type MarkDoc struct {
	Post     string   `json:"post"`
	Height   string   `json:"height"`
	HeightNM int64    `json:"height_nm"`
	Runs     []string `json:"runs"`
	Reason   int      `json:"reason"`
}

// TakeoffDoc is one line of the order.
type TakeoffDoc struct {
	Item     string     `json:"item"`
	Name     string     `json:"name"`
	Class    string     `json:"class"`
	Length   string     `json:"length,omitempty"`
	LengthNM int64      `json:"length_nm,omitempty"`
	Treated  bool       `json:"treated,omitempty"`
	Count    int        `json:"count"`
	Buy      int        `json:"buy"`
	Spares   int        `json:"spares"`
	Order    int        `json:"order"`
	Mass     string     `json:"mass"`
	MassUG   int64      `json:"mass_ug"`
	Places   []PlaceDoc `json:"places"`
	Reason   int        `json:"reason"`
}

// PlaceDoc is how many of a line go where.
type PlaceDoc struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// FindingDoc is one finding.
type FindingDoc struct {
	Code     string   `json:"code"`
	Severity string   `json:"severity"`
	Place    string   `json:"place"`
	Message  string   `json:"message"`
	Choices  []string `json:"choices,omitempty"`
	Source   string   `json:"source,omitempty"`
}

// ReasonDoc is one step of a derivation.
type ReasonDoc struct {
	What   string `json:"what"`
	Value  string `json:"value,omitempty"`
	Rule   string `json:"rule,omitempty"`
	Source string `json:"source,omitempty"`
	From   []int  `json:"from,omitempty"`
}
