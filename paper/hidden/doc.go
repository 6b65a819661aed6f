// Package hidden draws solids as lines with the hidden ones left out.
//
// In come bodies (surfaces of solids in space) and a [Camera]; out come the
// stretches of their edges that can be seen, on the picture plane. The method is
// analytic: every edge is cut where the outlines of faces before it cross it, so
// that lines end exactly where something hides them (after A. Appel, The Notion
// of Quantitative Invisibility, 1967, in its plain form: an edge against the
// faces near it in the picture, found by a grid).
//
// What always holds of the lines returned:
//
//   - no point of a line lies behind a face by more than [Options.Depth];
//   - creases show where at least one of their faces looks at the eye, soft edges
//     only where the surface turns away there;
//   - the same bodies and camera give the same lines, to the bit, on every
//     platform.
package hidden

import (
	"math"

	"stallwright/paper/solid"
)

// Camera is a way to look: orthogonal unit vectors to the right, up the picture,
// and away from the eye. Parallel lines stay parallel.
type Camera struct{ Right, Up, Away solid.Vec }

// Look is a camera that looks along a direction in plan, downward by a slope:
// toward is a way in plan (its z is ignored), drop the tangent of the angle below
// the horizontal.
func Look(toward solid.Vec, drop float64) Camera {
	flat := solid.Vec{X: toward.X, Y: toward.Y}.Unit()
	if flat == (solid.Vec{}) {
		flat = solid.Vec{Y: 1}
	}
	away := solid.Vec{X: flat.X, Y: flat.Y, Z: -drop}.Unit()
	right := solid.Vec{X: flat.Y, Y: -flat.X}
	return Camera{right, right.Cross(away), away}
}

// On is a place on the picture plane, and how far away it is.
func (c Camera) On(v solid.Vec) solid.Vec {
	return solid.Vec{X: c.Right.Dot(v), Y: c.Up.Dot(v), Z: c.Away.Dot(v)}
}

// Isometric is the drop at which all three axes look equally long (ISO 5456-3,
// isometric projection): the tangent of 35.26°.
var Isometric = 1 / math.Sqrt2

// Body is a surface to draw, moved from where it was made.
type Body struct {
	Mesh *solid.Mesh
	Move solid.Vec
	// Ghost bodies are drawn but hide nothing.
	Ghost bool
}

// Line is a stretch of an edge that can be seen, on the picture plane in metres.
type Line struct {
	X0, Y0, X1, Y1 float64
	Body           int  // into the bodies given
	Edge           int  // into its mesh's edges; of wires, past them
	Outline        bool // one side of it is open: no face, or one that looks away
}

// Options are the tolerances, in metres; the zero Options stand for the defaults.
type Options struct {
	// Depth is how far a face must lie before an edge to hide it: more than parts
	// that touch may stand in each other by rounding. 0.05 mm where zero.
	Depth float64
	// Window is the part of the picture plane that is wanted: edges wholly outside
	// it are left out, others may reach out of it. All of it where zero.
	Window Window
	// Short is the least length of a stretch worth drawing, unless its edge is no
	// longer. 0.2 mm where zero.
	Short float64
}

// Window is an upright rectangle of the picture plane.
type Window struct{ X0, Y0, X1, Y1 float64 }

func (o Options) or() Options {
	if o.Depth == 0 {
		o.Depth = 5e-5
	}
	if o.Short == 0 {
		o.Short = 2e-4
	}
	return o
}
