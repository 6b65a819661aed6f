package job

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Reading is one thing read on site with a tape, a string, a square, a plumb bob
// or a level: exactly one of its first seven fields is set. Readings are never
// changed, only added.
type Reading struct {
	document.Where `yaml:"-" json:"-"`

	Distance []string `yaml:"distance" min:"2" max:"2" doc:"two posts that stand in a line of the structure, and the tape between them"`
	Diagonal []string `yaml:"diagonal" min:"2" max:"2" doc:"two posts across a bay, and the tape between them"`
	Square   []string `yaml:"square" min:"3" max:"3" doc:"the corner post, the post at the end of the first arm, the post at the end of the second: are the arms square?"`
	Straight []string `yaml:"straight" min:"3" max:"3" doc:"the post, then the two posts it should stand in line with"`
	Offset   []string `yaml:"offset" min:"3" max:"3" doc:"the post, then the two posts that the string runs between, axes or like faces"`
	Level    string   `yaml:"level" doc:"the post or spot at whose foot the rod stood"`
	Plumb    string   `yaml:"plumb" doc:"the post held against the plumb bob or the long level"`

	Is      measure.Length `yaml:"is" doc:"what the tape showed (distance, diagonal, offset)"`
	Between Between        `yaml:"between" doc:"what the tape touched. distance: faces (those that look at each other; where left out), axes, outer (those that look away), same (left face to left face). diagonal: corners (inner corner to inner corner; where left out), axes, outer"`
	Height  measure.Length `yaml:"height" doc:"how high above the ground the tape was held (distance, diagonal); at the foot where left out"`
	Side    Hand           `yaml:"side" doc:"offset: the side of the string the post stands on, looking from the first of the two posts to the second; left where left out"`
	Off     measure.Length `yaml:"off" doc:"square: how far the end of the second arm stands from square, toward the first arm; away from it is negative. straight: how far out of line, to the left looking along it; right is negative. Nothing where left out"`
	From    string         `yaml:"from" doc:"level: the set-up of the instrument; moved, it is a new set-up"`
	Rod     measure.Length `yaml:"rod" doc:"level: what the rod showed; held upside down from above, negative"`
	Over    measure.Length `yaml:"over" doc:"plumb: the height from the lower mark to the upper one"`
	Along   measure.Length `yaml:"along" doc:"plumb: how far the top leans along the barn, toward its far end; the other way is negative"`
	Across  measure.Length `yaml:"across" doc:"plumb: how far the top leans across the barn, from the first row's back toward its front; the other way is negative"`
	Face    PostFace       `yaml:"face" doc:"plumb: the face it was read at: near or far (the ends of the barn), front or back"`

	By   string `yaml:"by" doc:"who read it"`
	At   string `yaml:"at" doc:"when, as 2026-05-03 14:10"`
	Note string `yaml:"note" doc:"anything seen"`
}

// ReadingKind is what a reading measures, by its key.
type ReadingKind string

// The readings.
const (
	ReadDistance ReadingKind = "distance"
	ReadDiagonal ReadingKind = "diagonal"
	ReadSquare   ReadingKind = "square"
	ReadStraight ReadingKind = "straight"
	ReadOffset   ReadingKind = "offset"
	ReadLevel    ReadingKind = "level"
	ReadPlumb    ReadingKind = "plumb"
)

// kinds lists the readings that are set, with the posts or spots they name.
func (r *Reading) kinds() (kinds []ReadingKind, posts []string) {
	set := func(k ReadingKind, on bool, names ...string) {
		if on {
			kinds = append(kinds, k)
			posts = names
		}
	}
	set(ReadDistance, r.Distance != nil, r.Distance...)
	set(ReadDiagonal, r.Diagonal != nil, r.Diagonal...)
	set(ReadSquare, r.Square != nil, r.Square...)
	set(ReadStraight, r.Straight != nil, r.Straight...)
	set(ReadOffset, r.Offset != nil, r.Offset...)
	set(ReadLevel, r.Level != "", r.Level)
	set(ReadPlumb, r.Plumb != "", r.Plumb)
	return kinds, posts
}

// Kind is what the reading measures; empty where none or several are set.
func (r *Reading) Kind() ReadingKind {
	if kinds, _ := r.kinds(); len(kinds) == 1 {
		return kinds[0]
	}
	return ""
}

// Posts are the posts (for a level reading: the post or spot) the reading names,
// in its kind's order.
func (r *Reading) Posts() []string {
	_, posts := r.kinds()
	return posts
}

// Touched is what the tape of a distance or a diagonal touched.
func (r *Reading) Touched() Between {
	switch {
	case r.Between != "":
		return r.Between
	case r.Kind() == ReadDiagonal:
		return BetweenCorners
	}
	return BetweenFaces
}

// Source says who read it, when, and where it is written.
func (r *Reading) Source() string { return taken(r.By, r.At, r.Pos()) }

// Between is what a tape touched at its two ends.
type Between string

// What a tape may touch.
const (
	BetweenFaces   Between = "faces"   // the faces that look at each other
	BetweenAxes    Between = "axes"    // the middles of the posts
	BetweenOuter   Between = "outer"   // the faces, or corners, that look away from each other
	BetweenSame    Between = "same"    // the same face of each: left to left
	BetweenCorners Between = "corners" // the corners that look at each other
)

// Allowed lists what a tape may touch.
func (Between) Allowed() []string { return []string{"faces", "axes", "outer", "same", "corners"} }

// PostFace is a face of a post in a barn: near looks toward the end the posts are
// numbered from, far toward the other, front and back as the first row's.
type PostFace string

// The faces of a post.
const (
	NearFace  PostFace = "near"
	FarFace   PostFace = "far"
	FrontFace PostFace = "front"
	BackFace  PostFace = "back"
)

// Allowed lists the faces of a post.
func (PostFace) Allowed() []string { return []string{"near", "far", "front", "back"} }

// Spot is a named place a rod may stand that is no post: a high spot of a floor,
// a benchmark, a turning point.
type Spot struct {
	document.Where `yaml:"-" json:"-"`

	Name     string         `yaml:"name,required" doc:"its name"`
	Room     string         `yaml:"room" doc:"the room in whose floor it is a high spot"`
	Bay      string         `yaml:"bay" doc:"the bay under which it lies"`
	Along    measure.Length `yaml:"along" doc:"with bay: from the left post's axis of the run; in the middle of the bay where left out"`
	Height   measure.Length `yaml:"height" doc:"a benchmark: its known height above the job's zero"`
	Finished bool           `yaml:"finished" doc:"the floor here is finished: base and mats are not laid on it"`
}

// Layers is what is still to be laid on the ground that was measured.
type Layers struct {
	document.Where `yaml:"-" json:"-"`

	Base measure.Length `yaml:"base" doc:"thickness of the base still to be laid, compacted"`
	Mats measure.Length `yaml:"mats" doc:"thickness of the mats on it"`
}

// Thickness is base and mats together; none for nil.
func (l *Layers) Thickness() measure.Length {
	if l == nil {
		return 0
	}
	return l.Base + l.Mats
}

// Trusses say how much height the building leaves.
type Trusses struct {
	document.Where `yaml:"-" json:"-"`

	Under measure.Length `yaml:"under,required" doc:"from the ground up to the lowest underside of trusses, beams or door tracks over the walls"`
	Post  string         `yaml:"post,required" doc:"the post beside which that was read"`
}

// Tape is how well a tape reads.
type Tape struct {
	document.Where `yaml:"-" json:"-"`

	Fixed measure.Length `yaml:"fixed" doc:"standard deviation of hooking and reading; 1/16 in where left out"`
	Per   int            `yaml:"per" min:"100" max:"1000000" doc:"and one part in so many of the length; 5000 where left out"`
}
