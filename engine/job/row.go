package job

import (
	"errors"
	"fmt"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// BarnRow is stalls between the posts of a standing post-frame barn. The posts
// stand in lines along the barn: for one row a back line and a front line; for
// two rows facing, back and front, aisle, front and back; back to back, front,
// shared back, front.
type BarnRow struct {
	document.Where `yaml:"-" json:"-"`

	Name    string                           `yaml:"name,required" doc:"short name: A"`
	Rows    BarnRows                         `yaml:"rows" doc:"one, facing (across an aisle) or back-to-back; one where left out"`
	Post    PostSize                         `yaml:"post,required" doc:"real size of the timber posts, as 5 1/2 in x 5 1/2 in"`
	Spacing document.Several[measure.Length] `yaml:"spacing,required" doc:"post spacing along the barn, centre to centre: one for all, or one for each bay"`
	Depth   measure.Length                   `yaml:"depth,required" doc:"from the back post line to the front post line, centre to centre"`
	Aisle   measure.Length                   `yaml:"aisle" doc:"between the two front post lines, centre to centre"`
	Rooms   []Room                           `yaml:"rooms,required" min:"1" doc:"what each bay of the first row holds, from left to right seen from the aisle"`
	Second  []Room                           `yaml:"second" doc:"the second row, from left to right seen from its own front; like the first where left out"`
	Height  measure.Length                   `yaml:"height" doc:"nominal wall height"`
	Fronts  *Front                           `yaml:"fronts" doc:"every front that is not stated otherwise"`
	Divider *Fill                            `yaml:"dividers" doc:"what fills the dividing walls"`
	Sides   *Fill                            `yaml:"sides" doc:"what fills the end walls; open where the barn's own wall serves"`
	Back    *Fill                            `yaml:"back" doc:"what fills the back walls; open where the barn's own wall serves"`
	Offsets []Offset                         `yaml:"offsets" doc:"posts that do not stand where the grid puts them"`
}

// BarnRows says how the rows of a barn stand to each other.
type BarnRows string

// How rows stand.
const (
	OneRow     BarnRows = "one"
	Facing     BarnRows = "facing"
	BackToBack BarnRows = "back-to-back"
)

// Allowed lists how rows may stand.
func (BarnRows) Allowed() []string { return []string{"one", "facing", "back-to-back"} }

// Offset moves one post from its place in the grid.
type Offset struct {
	document.Where `yaml:"-" json:"-"`

	Post   string         `yaml:"post,required" doc:"the post, by name"`
	Along  measure.Length `yaml:"along" doc:"along the barn, toward its far end"`
	Across measure.Length `yaml:"across" doc:"across the barn, from the first row's back toward its front"`
}

// FreeRow is free-standing stalls, one row or two facing rows, that share
// walls; as a free-barn its posts bear the roof.
type FreeRow struct {
	document.Where `yaml:"-" json:"-"`

	Name    string         `yaml:"name,required" doc:"short name: B"`
	Rows    FreeRows       `yaml:"rows" doc:"single or facing (across an aisle); single where left out"`
	Width   measure.Length `yaml:"width,required" doc:"a stall's width, post centre to post centre"`
	Depth   measure.Length `yaml:"depth,required" doc:"a stall's depth, post centre to post centre"`
	Aisle   measure.Length `yaml:"aisle" doc:"between the two fronts, post centre to post centre"`
	Rooms   []Room         `yaml:"rooms,required" min:"1" doc:"the rooms of the first row, from left to right seen from the front"`
	Second  []Room         `yaml:"second" doc:"the second row, from left to right seen from its own front; like the first where left out"`
	Height  measure.Length `yaml:"height" doc:"nominal wall height"`
	Fronts  *Front         `yaml:"fronts" doc:"every front that is not stated otherwise"`
	Divider *Fill          `yaml:"dividers" doc:"what fills the dividing walls"`
	Sides   *Fill          `yaml:"sides" doc:"what fills the end walls"`
	Back    *Fill          `yaml:"back" doc:"what fills the back walls"`
	Base    string         `yaml:"base" doc:"what the posts stand on: a base of the kit"`
	Roof    *Roof          `yaml:"roof" doc:"the roof the posts bear (free-barn only)"`
}

// FreeRows says how free-standing rows stand to each other.
type FreeRows string

// How free-standing rows stand.
const (
	SingleRow FreeRows = "single"
	FacingRow FreeRows = "facing"
)

// Allowed lists how free-standing rows may stand.
func (FreeRows) Allowed() []string { return []string{"single", "facing"} }

// Roof is the roof that a free-barn's posts bear. Its structure is a licensed
// engineer's work; here it only gives the posts their heights.
type Roof struct {
	document.Where `yaml:"-" json:"-"`

	Eave  measure.Length `yaml:"eave,required" doc:"top of the back posts above the finished floor"`
	Pitch measure.Slope  `yaml:"pitch,required" doc:"rise over run, as 4/12"`
}

// RoomKind is what a room is for.
type RoomKind string

// The rooms.
const (
	Stall    RoomKind = "stall"
	Foaling  RoomKind = "foaling"
	Tack     RoomKind = "tack"
	Feed     RoomKind = "feed"
	Wash     RoomKind = "wash"
	Passage  RoomKind = "passage"
	OpenRoom RoomKind = "open"
)

// Allowed lists what a room may be for.
func (RoomKind) Allowed() []string {
	return []string{"stall", "foaling", "tack", "feed", "wash", "passage", "open"}
}

// ForHorse says whether a horse lives in it.
func (k RoomKind) ForHorse() bool { return k == Stall || k == Foaling }

// Room is one room of a row: a stall, or something else the same walls make.
// A kind alone may be written in its place.
type Room struct {
	document.Where `yaml:"-" json:"-"`

	Kind  RoomKind       `yaml:"kind" doc:"stall, foaling, tack, feed, wash, passage or open; stall where left out"`
	Name  string         `yaml:"name" doc:"its name; the row's name and a number where left out"`
	Width measure.Length `yaml:"width" doc:"its width, post centre to post centre (free-standing only)"`
	Spans int            `yaml:"spans" min:"1" max:"20" doc:"how many post spacings it takes (post-frame only); 1 where left out"`
	Front *Front         `yaml:"front" doc:"its front, where it differs"`
	Left  *Fill          `yaml:"left" doc:"the wall on its left, seen from the front, where it differs"`
	Right *Fill          `yaml:"right" doc:"the wall on its right, where it differs"`
	Back  *Fill          `yaml:"back" doc:"its back wall, where it differs"`
}

// FromScalar takes a room written as its kind alone.
func (r *Room) FromScalar(text string) error {
	k, err := oneOf(text, RoomKind("").Allowed(), "room")
	r.Kind = RoomKind(k)
	return err
}

// PostSize is the real size of a timber post: along the wall x across it.
type PostSize struct{ Along, Across measure.Length }

// UnmarshalText reads `5 1/2 in x 5 1/2 in`; one size alone is square.
func (p *PostSize) UnmarshalText(text []byte) error {
	parts := strings.FieldsFunc(string(text), func(r rune) bool { return r == 'x' || r == '×' || r == 'X' })
	if len(parts) == 0 || len(parts) > 2 {
		return &measure.ParseError{Text: string(text), Problem: "this is no post size", Hint: "write along x across, as 5 1/2 in x 5 1/2 in"}
	}
	a, err := measure.ParseLength(strings.TrimSpace(parts[0]), measure.NoUnit)
	if err != nil {
		return fmt.Errorf("along: %w", err)
	}
	b := a
	if len(parts) == 2 {
		if b, err = measure.ParseLength(strings.TrimSpace(parts[1]), measure.NoUnit); err != nil {
			return fmt.Errorf("across: %w", err)
		}
	}
	if a <= 0 || b <= 0 || a > 2*measure.Metre || b > 2*measure.Metre {
		return errors.New("a post must be more than nothing and under 2 m thick")
	}
	p.Along, p.Across = a, b
	return nil
}

// MarshalText writes the size as it is read.
func (p PostSize) MarshalText() ([]byte, error) {
	return []byte(p.Along.String() + " x " + p.Across.String()), nil
}

// Describe tells the schema what a post size looks like.
func (PostSize) Describe() document.Description {
	return document.Description{Doc: "along x across", Examples: []string{"5 1/2 in x 5 1/2 in", "140 mm"}}
}

// oneOf checks a word against a list and names the nearest one.
func oneOf(text string, allowed []string, what string) (string, error) {
	for _, a := range allowed {
		if a == text {
			return a, nil
		}
	}
	hint := "one of: " + strings.Join(allowed, ", ")
	if near, ok := document.Nearest(text, allowed); ok {
		hint = "did you mean " + near + "? " + hint
	}
	return "", &wordError{text: text, what: what, hint: hint}
}

// wordError is a word that is none of those allowed.
type wordError struct{ text, what, hint string }

func (e *wordError) Error() string { return fmt.Sprintf("%q is no %s", e.text, e.what) }

// Hint says what would be right.
func (e *wordError) Hint() string { return e.hint }
