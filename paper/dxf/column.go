package dxf

import (
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// between is left on paper between a drawing's title and what stands below it.
const between = 15 * draw.MM

// Column places drawings one below the other, each keeping its own x.
func Column(views []View, o Options) []View {
	out := make([]View, len(views))
	at := measure.Length(0)
	for i, v := range views {
		lo, hi, ok := v.Drawing.Extents()
		if ok {
			rows := rowsOf(v.Drawing, o.Units, v.Scale)
			if i > 0 {
				at -= hi.Y + v.Scale.Model(reach(rows, draw.Above))
			}
			v.At.Y = at
			at += lo.Y - v.Scale.Model(reach(rows, draw.Below)+titleBelow+between)
		}
		out[i] = v
	}
	return out
}
