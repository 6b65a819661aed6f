package steps

import (
	"fmt"

	"stallwright/engine/build"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/solid"
)

// Sizes of the props that hold posts and frames up, which no kit states (common
// practice, no published source): timber 1 1/2 x 3 1/2 in, from two thirds of the
// height to 4 ft out.
const (
	propThick = 3 * measure.Inch / 2
	propDeep  = 7 * measure.Inch / 2
	propOut   = 4 * measure.Foot
)

// props adds to the scene what holds up the posts stood and the frames braced. They
// show in the step that sets them only: later they are known to be there and would
// hide the rest.
func (d *Drawer) props() {
	d.propOf = map[int]int{}
	for i := range d.build.Operations {
		o := &d.build.Operations[i]
		switch {
		case o.Kind == build.Stand && o.Place.Post >= 0:
			x, y := d.outward(o.Place.Post)
			d.prop(i, o.Place.Post, 0, x)
			d.prop(i, o.Place.Post, 1, y)
		case o.Kind == build.Brace && o.Place.Run >= 0:
			r := &d.Layout.Runs[o.Place.Run]
			d.bothSides(i, r.From, o.Place.Run)
			d.bothSides(i, r.To, o.Place.Run)
		case o.Kind == build.Brace && o.Place.Wall >= 0:
			runs := d.Layout.Walls[o.Place.Wall].Runs
			first, last := runs[0], runs[len(runs)-1]
			d.bothSides(i, d.Layout.Runs[first].From, first)
			d.bothSides(i, d.Layout.Runs[last].To, last)
			for k, run := range [2]int{first, last} {
				r := &d.Layout.Runs[run]
				from, to := r.To, r.From // from the inner post to the wall's end
				if k == 1 {
					from, to = r.From, r.To
				}
				d.prop(i, to, 2, d.Layout.Posts[to].At.Sub(d.Layout.Posts[from].At))
			}
		}
	}
}

// bothSides props a post of a run square to the run.
func (d *Drawer) bothSides(op, post, run int) {
	r := &d.Layout.Runs[run]
	v := d.Layout.Posts[r.To].At.Sub(d.Layout.Posts[r.From].At)
	d.prop(op, post, 0, frame.Point{X: v.Y, Y: -v.X})
	d.prop(op, post, 1, frame.Point{X: -v.Y, Y: v.X})
}

// outward are the two ways along the axes of a structure that lead from a post
// out of it.
func (d *Drawer) outward(post int) (x, y frame.Point) {
	p := &d.Layout.Posts[post]
	var lo, hi frame.Point
	first := true
	for i := range d.Layout.Posts {
		q := &d.Layout.Posts[i]
		if q.Structure != p.Structure {
			continue
		}
		if first {
			lo, hi, first = q.At, q.At, false
		}
		lo = frame.Point{X: min(lo.X, q.At.X), Y: min(lo.Y, q.At.Y)}
		hi = frame.Point{X: max(hi.X, q.At.X), Y: max(hi.Y, q.At.Y)}
	}
	x, y = frame.Point{X: 1}, frame.Point{Y: 1}
	if 2*p.At.X < lo.X+hi.X {
		x.X = -1
	}
	if 2*p.At.Y < lo.Y+hi.Y {
		y.Y = -1
	}
	return x, y
}

// prop adds one, leaning on a post from a way.
func (d *Drawer) prop(op, post, n int, way frame.Point) {
	p := &d.Layout.Posts[post]
	high := d.Layout.Structures[p.Structure].Height * 2 / 3
	half := max(p.Along, p.Across) / 2
	out := half + propOut
	f := solid.NewFrame(p.At, way)
	d.scene.Solids = append(d.scene.Solids, solid.Solid{
		Name: fmt.Sprintf("%s/prop%d", p.Name, n+1), Piece: -1, Kind: solid.Timber, Structure: p.Structure, Run: -1, Bay: -1, Post: post, Sheer: true,
		Parts: []solid.Part{{Frame: f, Prism: solid.Prism{
			Axis: solid.Up, To: high, Lean: solid.Point{U: -(propOut - propDeep)},
			Outline: [][]solid.Point{{{U: out - propDeep, V: -propThick / 2}, {U: out, V: -propThick / 2}, {U: out, V: propThick / 2}, {U: out - propDeep, V: propThick / 2}}},
		}}},
	})
	d.propOf[len(d.scene.Solids)-1] = op
}
