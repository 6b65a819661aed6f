package fit

import (
	"strconv"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// BayAt is where a bay's left web (a doorway's left jamb) stands, from the axis
// of its run's left post: where it is drawn, moved inward by half of what its
// measured width falls short, so that what was measured stands in the middle.
func (r *Result) BayAt(l *frame.Layout, bay int) measure.Length {
	b := &l.Bays[bay]
	return l.Runs[b.Run].Ends[0].Reach + b.Start + (b.Clear-r.Bays[bay].Clear)/2
}

// LeafAt is where the left edge of a bay's n-th leaf (from 0) stands when
// closed, from the axis of its run's left post, and how high its bottom is
// above the finished floor. A bay without a door has no leaf: ok is false.
func (r *Result) LeafAt(l *frame.Layout, bay, n int) (x, z measure.Length, ok bool) {
	d := r.Bays[bay].Door
	if d == nil {
		return 0, 0, false
	}
	x = r.BayAt(l, bay)
	switch {
	case d.Door.Kind == kit.Sliding:
		return x - d.Lap, d.Gap, true
	case n > 0:
		return x + d.Opening - d.Door.Hinge.HingeGap - d.Leaf, d.Gap, true
	case d.Leaves == 1 && l.Bays[bay].Hinge == job.Right:
		return x + d.Opening - d.Door.Hinge.HingeGap - d.Leaf, d.Gap, true
	}
	return x + d.Door.Hinge.HingeGap, d.Gap, true
}

// TubeAt is where a tube's left end stands, from the axis of its run's left
// post: tubes lie in the middle of the run, or of the panel that they are the
// bottom of.
func (r *Result) TubeAt(l *frame.Layout, piece int) measure.Length {
	p := &r.Pieces[piece]
	run := &l.Runs[p.Run]
	at, clear := run.Ends[0].Reach, run.Clear
	if n, err := strconv.Atoi(strings.TrimPrefix(p.Label, run.Name+"/bottom")); err == nil {
		for _, v := range run.Bays {
			if b := &l.Bays[v]; !b.IsDoor() && !b.IsOpen() {
				if n--; n == 0 {
					at, clear = run.Ends[0].Reach+b.Start, b.Clear
				}
			}
		}
	}
	return at + (clear-p.Length)/2
}
