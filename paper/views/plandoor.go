package views

import (
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// door draws a doorway: leaf, track and where it parks, or the leaf's swing.
func (d *draft) door(run, v int) {
	b, f := &d.Layout.Bays[v], d.Fit.Bays[v].Door
	if f == nil {
		return
	}
	depth := f.Door.Leaf.Depth
	if f.Track != nil {
		face := d.Layout.Runs[run].Assembly.Lap
		line := d.line[run] // the track's positions count from the wall's first post
		mid := face + depth/2
		d.d.Add(draw.NewLine(layerTrack, thin, d.at(run, f.Track.X[0]-line, mid), d.at(run, f.Track.X[1]-line, mid)),
			&draw.Polygon{Layer: layerHidden, Pen: dashed, Points: d.slab(run, f.Track.Parked[0]-line, f.Track.Parked[1]-line, face, face+depth)},
			&draw.Polygon{Layer: layerDoor, Pen: light, Fill: draw.White(), Points: d.slab(run, f.Track.Closed[0]-line, f.Track.Closed[1]-line, face, face+depth)})
		return
	}
	if f.Door.Kind == kit.Sliding {
		return // it could not be hung; a finding says why
	}
	for n := range f.Leaves {
		x, _, _ := d.Fit.LeafAt(d.Layout, v, n)
		d.swing(run, x, f.Leaf, depth, n == 1 || f.Leaves == 1 && b.Hinge == job.Right)
	}
}

// swing draws a leaf open at a right angle, before the wall's front, and the
// arc its edge takes.
func (d *draft) swing(run int, x, leaf, depth measure.Length, right bool) {
	a := d.angle(run)
	hinge, from, to, start := x, x, x+depth, a-90*draw.Degree
	if right {
		hinge, from, to, start = x+leaf, x+leaf-depth, x+leaf, a-180*draw.Degree
	}
	d.d.Add(&draw.Polygon{Layer: layerDoor, Pen: light, Fill: draw.White(), Points: d.slab(run, from, to, 0, leaf)},
		&draw.Arc{Layer: layerSchemes, Pen: thin, Centre: d.at(run, hinge, 0), Radius: leaf, Start: start, Sweep: 90 * draw.Degree})
}
