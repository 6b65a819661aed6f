package views

import (
	"slices"
	"strconv"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// chains draws an elevation's dimensions: clear widths, post spacing and the
// whole below, heights on the left, one stack on the right.
func (e *elevation) chains() {
	floor := measure.Length(0)
	for _, run := range e.runs {
		floor = min(floor, e.floorAt(e.Layout.Runs[run].From, run), e.floorAt(e.Layout.Runs[run].To, run))
	}
	// Names and marks stand between the floor and the first dimension line.
	low := floor - e.paper(8*draw.MM)
	if len(e.like) > 0 {
		low = floor - e.paper(4*draw.MM)
	}
	e.d.Add(space(e.left, low))
	var posts []draw.Point
	for _, run := range e.runs {
		r := &e.Layout.Runs[run]
		posts = append(posts, pt(e.x[run], low))
		if r.Filled(e.Layout) {
			for _, v := range r.Bays {
				e.clearWidth(v, low)
			}
		}
	}
	posts = append(posts, pt(e.right, low))
	e.d.Add(&draw.Dim{Points: posts, Side: draw.Below, Tier: 2})
	if len(posts) > 2 && !e.before && !e.after {
		e.d.Add(&draw.Dim{Points: []draw.Point{posts[0], posts[len(posts)-1]}, Side: draw.Below, Tier: 3})
	}
	e.heights()
	e.stackChain()
	e.courseNumbers()
}

// clearWidth dimensions a bay from web to web, a doorway from jamb to jamb. A
// measured width is written as measured.
func (e *elevation) clearWidth(v int, y measure.Length) {
	b, f := &e.Layout.Bays[v], &e.Fit.Bays[v]
	x := e.x[b.Run] + e.Fit.BayAt(e.Layout, v)
	e.d.Add(&draw.Dim{Points: []draw.Point{pt(x, y), pt(x+f.Clear, y)}, Side: draw.Below, Tier: 1, Arrows: b.IsDoor()})
}

// heights dimensions floor, datum, board zone and wall on the left.
func (e *elevation) heights() {
	run := e.firstFilled()
	r := &e.Layout.Runs[run]
	x := e.left - e.half(r.From, run)
	pts := []draw.Point{pt(x, 0), pt(x, r.Datum), pt(x, r.Datum+r.Zone)}
	if r.Height > r.Datum+r.Zone {
		pts = append(pts, pt(x, r.Height))
	}
	if r.Datum == 0 {
		pts = pts[1:]
	}
	e.d.Add(&draw.Dim{Points: pts, Side: draw.Left, Tier: 1})
	if len(pts) > 2 {
		e.d.Add(&draw.Dim{Points: []draw.Point{pts[0], pts[len(pts)-1]}, Side: draw.Left, Tier: 2})
	}
}

func (e *elevation) firstFilled() int {
	for _, run := range e.runs {
		if e.Layout.Runs[run].Filled(e.Layout) {
			return run
		}
	}
	return e.runs[0]
}

// panels are the stretch's bays of boards from left to right.
func (e *elevation) panels() []int {
	var out []int
	for _, v := range e.baysOf(e.runs) {
		if b := &e.Layout.Bays[v]; !b.IsDoor() && len(e.Fit.Bays[v].Courses) > 0 {
			out = append(out, v)
		}
	}
	return out
}

// stackChain dimensions the rightmost stack: its blocks of courses, what stands
// between them, and the room under the tube.
func (e *elevation) stackChain() {
	panels := e.panels()
	if len(panels) == 0 {
		return
	}
	v := panels[len(panels)-1]
	f, r := &e.Fit.Bays[v], &e.Layout.Runs[e.Layout.Bays[v].Run]
	last := e.runs[len(e.runs)-1]
	x := e.right + e.half(e.Layout.Runs[last].To, last)
	zs := []measure.Length{0}
	for i := range f.Courses {
		c := &f.Courses[i]
		if i > 0 && c.Z != f.Courses[i-1].Z+f.Courses[i-1].Height {
			zs = append(zs, f.Courses[i-1].Z+f.Courses[i-1].Height, c.Z)
		}
	}
	end := &f.Courses[len(f.Courses)-1]
	zs = append(zs, end.Z+end.Height, r.Zone)
	zs = slices.Compact(zs)
	var pts []draw.Point
	for _, z := range zs {
		pts = append(pts, pt(x, r.Datum+z))
	}
	if len(pts) > 1 {
		e.d.Add(&draw.Dim{Points: pts, Side: draw.Right, Tier: 1})
	}
}

// courseNumbers numbers the courses of the leftmost stack beside its post, and
// those of every stack unlike the one on its left on its own boards.
func (e *elevation) courseNumbers() {
	panels := e.panels()
	for i, v := range panels {
		b := &e.Layout.Bays[v]
		datum := e.Layout.Runs[b.Run].Datum
		first := e.runs[0]
		switch {
		case i == 0:
			edge := e.left - e.half(e.Layout.Runs[first].From, first)
			cols := e.numberColumns(v, edge, datum, true)
			e.d.Add(space(edge-e.paper(draw.Micron(cols)*numberColumn), datum))
		case !e.sameStack(v, panels[i-1]):
			f := &e.Fit.Bays[v]
			if e.scale.Paper(f.Board) > 36*draw.MM && f.Feeder == nil && f.Window == nil {
				e.numberColumns(v, e.x[b.Run]+e.Fit.BayAt(e.Layout, v)+b.Ends[0].Leg, datum, false)
			}
		}
	}
}

// sameStack says whether two bays' courses stand at the same heights.
func (e *elevation) sameStack(a, b int) bool {
	if e.Layout.Runs[e.Layout.Bays[a].Run].Datum != e.Layout.Runs[e.Layout.Bays[b].Run].Datum {
		return false
	}
	return slices.EqualFunc(e.Fit.Bays[a].Courses, e.Fit.Bays[b].Courses, func(p, q fit.Course) bool { return p.Z == q.Z && p.Height == q.Height })
}

// numberColumn is the width on paper that course numbers of two digits take.
const numberColumn = 7 * draw.MM

// numberColumns writes a stack's course numbers beside x, to its left or right.
// Where courses are narrower than a line of text, neighbours stand in columns of
// their own; where that takes more than three, none are written. It returns
// the number of columns.
func (e *elevation) numberColumns(v int, x, datum measure.Length, left bool) int {
	courses := e.Fit.Bays[v].Courses
	pitch := e.scale.Paper(courses[0].Height)
	const roomy = 3200 // a line of text with a gap
	cols := 1
	for draw.Micron(cols)*pitch < roomy {
		if cols++; cols > 3 {
			return 0
		}
	}
	for i := range courses {
		c := &courses[i]
		off, anchor := e.paper(1200+draw.Micron(i%cols)*numberColumn), draw.Start
		if left {
			off, anchor = -off, draw.End
		}
		e.d.Add(&draw.Note{Layer: layerBoards, At: pt(x+off, datum+c.Z+c.Height/2-e.paper(1250)), Text: "c" + strconv.Itoa(c.No), Face: draw.Condensed, Anchor: anchor})
	}
	return cols
}
