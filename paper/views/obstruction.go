package views

import (
	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// obstructions outlines, dashed, what of the building crosses a bay, and names it.
func (e *elevation) obstructions(v int, x measure.Length) {
	datum := e.Layout.Runs[e.Layout.Bays[v].Run].Datum
	for _, o := range e.crosses[v] {
		x0, z0 := x+o.X, datum+o.Z
		x1, z1 := x0+o.Width, z0+o.Height
		e.d.Add(draw.Rectangle(layerHidden, draw.Pen{Weight: draw.Medium, Type: draw.Dashed}, draw.Fill{}, pt(x0, z0), pt(x1, z1)),
			&draw.Label{At: pt((x0+x1)/2, (z0+z1)/2), Texts: []string{obstructionName(o)}, Lead: draw.LeadAlways, End: draw.Dot})
	}
}

// obstructionName is what stands at a dashed outline.
func obstructionName(o *fit.ObstructionFit) string {
	name := string(o.What)
	if o.What == "other" {
		name = "obstruction"
	}
	if o.Face != "" {
		name += ", " + string(o.Face)
	}
	return name
}
