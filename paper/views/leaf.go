package views

import (
	"fmt"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// doors draws the doors of the stretch before its wall, and what of the tracks
// and parked leaves of the wall's other doors reaches into it.
func (e *elevation) doors() {
	shown := map[int]bool{}
	for _, run := range e.runs {
		shown[run] = true
		for _, v := range e.Layout.Runs[run].Bays {
			if e.Layout.Bays[v].IsDoor() {
				e.leaves(v)
			}
		}
	}
	wall := e.Layout.Walls[e.Layout.Runs[e.runs[0]].Wall]
	for _, run := range wall.Runs {
		if e.tables.alone[run] && !shown[run] {
			continue
		}
		for _, v := range e.Layout.Runs[run].Bays {
			if d := e.Fit.Bays[v].Door; d != nil && d.Track != nil {
				e.track(v, d)
			}
		}
	}
}

// leaves draws a door's closed leaves.
func (e *elevation) leaves(v int) {
	b, d := &e.Layout.Bays[v], e.Fit.Bays[v].Door
	if d == nil {
		return
	}
	for n := range d.Leaves {
		x, z, _ := e.Fit.LeafAt(e.Layout, v, n)
		x += e.x[b.Run]
		e.leaf(v, d, n, x, z)
	}
}

// leaf draws one closed leaf with its bands, boards and handle.
func (e *elevation) leaf(v int, d *fit.DoorFit, n int, x, z measure.Length) {
	l := &d.Door.Leaf
	e.d.Add(draw.Rectangle(layerDoor, medium, draw.White(), pt(x, z), pt(x+l.Width, z+l.Height)))
	in := l.Stile + l.Leg
	for _, band := range d.Bands {
		z0 := z + band.Z
		z1 := z0 + band.Panel.Height
		area := box(x+in, z0, x+l.Width-in, z1)
		switch p := &band.Panel; p.Fill {
		case kit.PanelMetal:
			e.d.Add(&draw.Polygon{Layer: layerDoor, Fill: draw.Tint(85), Points: area})
		case kit.PanelMesh:
			e.d.Add(&draw.Polygon{Layer: layerDoor, Fill: draw.Fill{Kind: draw.CrossedFill, Angle: 45 * draw.Degree, Pitch: 1500}, Points: area})
		case kit.PanelGrille:
			e.leafBars(p, x+in, x+l.Width-in, z0, z1)
		}
		e.d.Add(draw.NewLine(layerDoor, thin, pt(x+in, z0), pt(x+l.Width-in, z0)), draw.NewLine(layerDoor, thin, pt(x+in, z1), pt(x+l.Width-in, z1)))
	}
	for _, i := range e.Fit.Bays[v].Pieces {
		p := &e.Fit.Pieces[i]
		if p.Kind == fit.Board && p.Z+p.Height <= l.Height {
			e.d.Add(draw.NewLine(layerDoor, thinCut, pt(x+in, z+p.Z+p.Height), pt(x+l.Width-in, z+p.Z+p.Height)))
		}
	}
	for _, side := range []measure.Length{in, l.Width - in} {
		e.d.Add(draw.NewLine(layerDoor, thin, pt(x+side, z), pt(x+side, z+l.Height)))
	}
	if n == 0 {
		e.leafLengths(v, x+in, x+l.Width-in, z)
	}
	e.handle(v, d, n, x, z)
}

// leafBars draws a leaf's bars about its middle.
func (e *elevation) leafBars(p *kit.Panel, x0, x1, z0, z1 measure.Length) {
	if p.Pitch <= 0 {
		return
	}
	n := measure.Length((x1 - x0 - p.Bar).DivDown(p.Pitch))
	first := (x0+x1)/2 - n*p.Pitch/2
	e.bars(layerDoor, first, x1-p.Bar/2, p.Pitch, p.Bar, z0, z1)
}

// leafLengths writes the courses of a leaf and their length on its tallest band
// of boards.
func (e *elevation) leafLengths(v int, x0, x1, z measure.Length) {
	f := &e.Fit.Bays[v]
	for _, l := range e.layers(v) {
		all := courseRange(1, len(f.Courses))
		s := e.show(f.Board)
		e.within([]string{fmt.Sprintf("%s:\n%d × %s", all, len(f.Courses), s), all + "\n" + s}, x0, z+l.z0, x1, z+l.z1)
	}
}

// handle draws the slot that the handle moves in, at its true place.
func (e *elevation) handle(v int, d *fit.DoorFit, n int, x, z measure.Length) {
	h := d.Door.Handle
	if h == nil {
		return
	}
	// A leaf closes away from the side it parks or hangs on.
	closesLeft := d.Track != nil && d.Track.Hand == job.Right || d.Track == nil && (e.Layout.Bays[v].Hinge == job.Right || n == 1)
	at := x + d.Leaf - h.Setback
	if closesLeft {
		at = x + h.Setback
	}
	e.d.Add(draw.Circle(layerDoor, light, draw.White(), pt(at, z+h.Height), max(h.Slot/2, e.paper(600))))
}

// track draws the line rollers run on, the stops at its ends, and the parked
// leaf dashed, as far as they reach into the stretch.
func (e *elevation) track(v int, d *fit.DoorFit) {
	r := &e.Layout.Runs[e.Layout.Bays[v].Run]
	lo, hi := e.left-e.half(e.Layout.Runs[e.runs[0]].From, e.runs[0]), e.right+e.half(e.Layout.Runs[e.runs[len(e.runs)-1]].To, e.runs[len(e.runs)-1])
	if !e.before {
		lo = min(lo, d.Track.X[0])
	}
	if !e.after {
		hi = max(hi, d.Track.X[1])
	}
	clip := func(s [2]measure.Length) (a, b measure.Length, ok bool) {
		a, b = max(s[0], lo), min(s[1], hi)
		return a, b, a < b
	}
	z := r.Datum + r.Zone + d.Door.Slide.Rail
	if a, b, ok := clip(d.Track.X); ok {
		e.d.Add(draw.NewLine(layerTrack, heavy, pt(a, z), pt(b, z)))
		stop := e.paper(1200)
		for _, x := range d.Track.X {
			if x >= lo && x <= hi {
				e.d.Add(draw.NewLine(layerTrack, heavy, pt(x, z-stop), pt(x, z+stop)))
			}
		}
	}
	if a, b, ok := clip(d.Track.Parked); ok {
		e.d.Add(draw.Rectangle(layerHidden, dashed, draw.Fill{}, pt(a, d.Gap), pt(b, d.Gap+d.Door.Leaf.Height)))
	}
}

// doorWords tells what a door is, how it is made up and how it hangs.
func (t *tables) doorWords(d *fit.DoorFit) string {
	parts := []string{t.say("views.leaf", t.item("door", d.Door.ID, d.Door.Name), size("width", d.Leaf), size("height", d.Door.Leaf.Height))}
	switch {
	case d.Boards > 0 && d.Below > 0:
		parts = append(parts, t.say("views.leaf-boards-below", number("n", d.Boards), number("above", d.Above), number("below", d.Below)))
	case d.Boards > 0:
		parts = append(parts, t.say("views.leaf-boards", number("n", d.Boards)))
	}
	if tr := d.Track; tr != nil {
		parts = append(parts, t.say("views.leaf-gap-stems", size("gap", d.Gap), size("least", d.GapFrom), size("most", d.GapTo)),
			t.say("views.leaf-laps", size("lap", d.Lap)), t.say("views.leaf-track", size("length", tr.Length), phrase.With("hand", words.Hand(tr.Hand))))
	} else {
		parts = append(parts, t.say("views.leaf-gap", size("gap", d.Gap)), t.say("views.leaf-latch", size("latch", d.Latch)))
	}
	return strings.Join(parts, "; ")
}
