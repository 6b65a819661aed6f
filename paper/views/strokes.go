package views

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// Layers, in the order they are painted.
const (
	layerGround  = draw.LayerGround
	layerBoards  = "boards"
	layerGrille  = "grille"
	layerFrame   = "frames" // tubes, channels, posts
	layerDoor    = "doors"
	layerTrack   = "track"
	layerHidden  = draw.LayerHidden
	layerDatum   = draw.LayerAxis
	layerSchemes = "swing"
)

// Pens. Three widths keep a sheet calm: thin for what fills, light for what is
// made of boards, medium for steel and outlines; the floor alone is heavier.
var (
	thin     = draw.Pen{Weight: draw.Thin}
	thinCut  = draw.Pen{Weight: draw.Thin, Yields: true} // interrupted for text
	light    = draw.Pen{Weight: draw.Light}
	medium   = draw.Pen{Weight: draw.Medium}
	heavy    = draw.Pen{Weight: draw.Heavy}
	extra    = draw.Pen{Weight: draw.Extra}
	dashed   = draw.Pen{Weight: draw.Light, Type: draw.Dashed, Yields: true}
	axis     = draw.Pen{Weight: draw.Thin, Type: draw.Chain, Yields: true}
	standing = draw.Pen{Weight: draw.Light, Grey: 45} // timber that stands there already
)

func newDrawing() *draw.Drawing {
	return draw.NewDrawing(layerGround, layerBoards, layerGrille, layerFrame, layerDoor, layerTrack, layerHidden, layerSchemes, layerDatum)
}

func pt(x, y measure.Length) draw.Point { return draw.Point{X: x, Y: y} }

// box is the corners of an upright rectangle.
func box(x0, y0, x1, y1 measure.Length) []draw.Point {
	return []draw.Point{pt(x0, y0), pt(x1, y0), pt(x1, y1), pt(x0, y1)}
}

// space is a point that only makes a drawing's extents larger, to keep room
// for notes outside its lines.
func space(x, y measure.Length) draw.Item {
	return &draw.Polygon{Points: []draw.Point{pt(x, y), pt(x, y), pt(x, y)}}
}
