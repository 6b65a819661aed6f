// Package solid is the scene of a job: the true three-dimensional shape of
// every piece, where frame and fit put it.
//
// In comes a *plan.Plan; out comes a [Scene] of [Solid]s, each named by its
// piece's label, made of [Part]s: straight prisms whose defining lengths are
// exact. Elevations, step pictures and the model for others are drawn from the
// same plan, so that the board in the picture is the board on the list. Nothing
// is fitted here again.
//
// Axes: in plan x points east and y north, as frame has them; z points up from
// the highest finished floor of the structure. A part's own axes run along its
// wall from the left post to the right one, from the wall's front to its back,
// and up.
//
// What always holds of a scene:
//
//   - every piece of fit.Result has one solid, except where its bay could not be
//     filled;
//   - a part is convex, or covered by convex ones that do not overlap;
//   - the same plan gives the same scene, to the bit, on every platform.
//
// What a kit does not state is drawn by common practice (no published source)
// and says so where it is set: thickness of legs, rods, wheels, plates of feet.
package solid
