package draw

// Weight is the width of a line on paper.
type Weight = Micron

// Widths of lines of ISO 128-2 (second-hand). A sheet looks calm with three of
// them: Thin, Medium and one of the heavy ones.
const (
	Thin   Weight = 180 // dimensions, leaders, hatch, axes
	Light  Weight = 250 // parts seen beyond
	Medium Weight = 350 // visible outlines
	Heavy  Weight = 500 // parts cut through, outlines of posts
	Extra  Weight = 700 // ground lines, sheet frame
)

// LineType is the pattern of a line after ISO 128-2, clause on basic types; the
// lengths of the elements in line widths d are from memory.
type LineType uint8

// The line types.
const (
	Continuous LineType = iota // type 01
	Dashed                     // type 02: dash 12d, gap 3d; hidden edges
	Chain                      // type 08: long dash 24d, gap 3d, dash 6d, gap 3d; axes (the dots of type 04 vanish in print)
)

// Pattern returns the lengths of dash and gap in turn for a line of width w;
// nil for a continuous line.
func (t LineType) Pattern(w Weight) []Micron {
	switch t {
	case Dashed:
		return []Micron{12 * w, 3 * w}
	case Chain:
		return []Micron{24 * w, 3 * w, 6 * w, 3 * w}
	}
	return nil
}

// Pen says how a line is drawn. The zero Pen draws nothing, so that a polygon
// can have a fill alone.
type Pen struct {
	Weight Weight
	Type   LineType
	Grey   uint8 // lightness in percent: 0 black, at most 60 so that it still prints
	Yields bool  // the line is interrupted for any text that it meets (axes, grids)
}

// FillKind is what a polygon is filled with.
type FillKind uint8

// The fills.
const (
	NoFill      FillKind = iota
	WhiteFill            // hides what was drawn before it
	TintFill             // an even grey
	HatchFill            // parallel lines on nothing
	CrossedFill          // two sets of parallel lines at right angles on nothing
)

// Fill is how an area is filled. The zero Fill leaves it open.
type Fill struct {
	Kind  FillKind
	Grey  uint8  // TintFill: lightness in percent, 100 white; text stays legible from 80
	Angle Angle  // hatches: direction of the lines
	Pitch Micron // hatches: distance between lines; 0 means 2 mm
}

// White fills with paper white.
func White() Fill { return Fill{Kind: WhiteFill} }

// Tint fills with an even grey of the given lightness in percent.
func Tint(lightness uint8) Fill { return Fill{Kind: TintFill, Grey: lightness} }

// Hatch fills with parallel thin lines. Lines are interrupted for text.
func Hatch(a Angle, pitch Micron) Fill { return Fill{Kind: HatchFill, Angle: a, Pitch: pitch} }
