package views

import (
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// crossing draws, dashed, what of the building crosses a bay or stands close
// before it, seen from above: as deep in the wall as it goes, and some way out of
// it on the side it comes from.
func (d *draft) crossing(run, v int, x measure.Length) {
	half, out := d.Fit.Board.Thickness/2, d.paper(2*draw.MM)
	for _, o := range d.crosses[v] {
		in, to := -half-out, half+out
		switch o.Face {
		case job.WallFrontFace:
			in, to = half-o.Into, half+out
		case job.WallBackFace:
			in, to = -half-out, -half+o.Into
		}
		d.d.Add(&draw.Polygon{Layer: layerHidden, Pen: draw.Pen{Weight: draw.Medium, Type: draw.Dashed}, Points: d.slab(run, x+o.X, x+o.X+o.Width, in, to)})
		if d.detailed {
			d.d.Add(&draw.Label{At: d.at(run, x+o.X+o.Width/2, (in+to)/2), Texts: []string{d.words.Say(obstructionName(o))}, Lead: draw.LeadAlways, End: draw.Dot})
		}
	}
}
