package views

import (
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// obstructions outlines, dashed, what of the building crosses a bay, and names it.
func (e *elevation) obstructions(v int, x measure.Length) {
	datum := e.Layout.Runs[e.Layout.Bays[v].Run].Datum
	for _, o := range e.crosses[v] {
		x0, z0 := x+o.X, datum+o.Z
		x1, z1 := x0+o.Width, z0+o.Height
		e.d.Add(draw.Rectangle(layerHidden, draw.Pen{Weight: draw.Medium, Type: draw.Dashed}, draw.Fill{}, pt(x0, z0), pt(x1, z1)),
			&draw.Label{At: pt((x0+x1)/2, (z0+z1)/2), Texts: []string{e.words.Say(obstructionName(o))}, Lead: draw.LeadAlways, End: draw.Dot})
	}
}

// obstructionName is what stands at a dashed outline.
func obstructionName(o *fit.ObstructionFit) phrase.Phrase {
	what := words.Obstruction(o.What)
	switch o.Face {
	case job.WallFrontFace:
		return phrase.Of("views.obstruction-front", phrase.With("what", what))
	case job.WallBackFace:
		return phrase.Of("views.obstruction-back", phrase.With("what", what))
	}
	return what
}
