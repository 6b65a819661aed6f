package views

import (
	"slices"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// aisles are those of the structure that the region shows, if it is the whole.
func (d *draft) aisles() []*frame.Aisle {
	var out []*frame.Aisle
	for i := range d.Layout.Aisles {
		if a := &d.Layout.Aisles[i]; a.Structure == d.structure && d.whole {
			out = append(out, a)
		}
	}
	return out
}

// aisle names an aisle and dimensions its clear width at its west end.
func (d *draft) aisle(a *frame.Aisle) {
	lo, hi := a.Corners[0], a.Corners[2]
	in := (a.Width - a.Clear) / 2
	mid := pt((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
	if d.scale.Paper(a.Clear) < 6*draw.MM {
		return
	}
	d.d.Add(&draw.Label{At: mid, Texts: []string{d.say("views.aisle-clear", name("aisle", a.Name), size("clear", a.Clear)), a.Name}, Where: []draw.Where{draw.Centre}, Lead: draw.LeadNever})
	if d.detailed && a.Clear > 0 {
		x := lo.X + d.paper(7*draw.MM)
		d.d.Add(&draw.Dim{Points: []draw.Point{pt(x, lo.Y+in), pt(x, lo.Y+in+a.Clear)}, Side: draw.Left, Arrows: true})
	}
}

// spanLeast is the least a span may measure on paper for chains of many.
const spanLeast = 12 * draw.MM

// planChains draws a plan's dimensions.
func (d *draft) planChains() {
	if len(d.posts) == 0 {
		return
	}
	if d.tables.rows(d.seenPlan.rooms) == nil {
		d.wallChains()
		return
	}
	top, bottom := d.lineWalls()
	if top >= 0 {
		d.lineChains(top, draw.Above, false)
	}
	if bottom >= 0 && bottom != top {
		d.lineChains(bottom, draw.Below, d.sameLine(top, bottom))
	}
	if d.detailed {
		for _, w := range d.walls {
			if d.Layout.Walls[w].Role == job.WallFront && w != top && w != bottom {
				d.insideDoorways(w)
			}
		}
	}
	d.depths()
}

// lineWalls are the front or back walls that stand furthest north and south.
func (d *draft) lineWalls() (top, bottom int) {
	top, bottom = -1, -1
	for _, w := range d.walls {
		if role := d.Layout.Walls[w].Role; role != job.WallFront && role != job.WallBack {
			continue
		}
		if y := d.wallY(w); top < 0 || y > d.wallY(top) {
			top = w
		}
		if y := d.wallY(w); bottom < 0 || y < d.wallY(bottom) {
			bottom = w
		}
	}
	return top, bottom
}

func (d *draft) wallY(w int) measure.Length {
	ps := d.wallPosts(w)
	return d.Layout.Posts[ps[0]].At.Y
}

// wallRuns are the runs of a wall that the region shows, from west to east.
func (d *draft) wallRuns(w int) []int {
	out := slices.Clone(d.of[w])
	if len(out) > 0 && d.Layout.Posts[d.Layout.Runs[out[0]].From].At.X > d.Layout.Posts[d.Layout.Runs[out[0]].To].At.X {
		slices.Reverse(out)
	}
	return out
}

// wallPosts are its posts from west to east.
func (d *draft) wallPosts(w int) []int {
	var out []int
	for _, run := range d.wallRuns(w) {
		r := &d.Layout.Runs[run]
		a, b := r.From, r.To
		if d.Layout.Posts[a].At.X > d.Layout.Posts[b].At.X {
			a, b = b, a
		}
		if len(out) == 0 {
			out = append(out, a)
		}
		out = append(out, b)
	}
	return out
}

// sameLine says whether two walls' posts stand opposite each other, so that one
// chain serves both.
func (d *draft) sameLine(a, b int) bool {
	return slices.EqualFunc(d.wallPosts(a), d.wallPosts(b), func(p, q int) bool {
		return d.Layout.Posts[p].At.X == d.Layout.Posts[q].At.X
	})
}

// lineChains dimensions a line of posts outside the plan: doorways, if it is a
// front seen in detail; post spacing, unless the opposite line has the same; and
// the whole.
func (d *draft) lineChains(w int, side draw.Side, known bool) {
	edge := func(p draw.Point, post int) draw.Point {
		h := d.Layout.Posts[post].Across / 2
		if side == draw.Below {
			h = -h
		}
		return pt(p.X, p.Y+h)
	}
	tier := 1
	if d.detailed && d.Layout.Walls[w].Role == job.WallFront {
		if pts := d.doorwayPoints(w); len(pts) > 0 {
			d.d.Add(&draw.Dim{Points: pts, Side: side, Tier: tier})
			tier++
		}
	}
	if known {
		return
	}
	posts := d.wallPosts(w)
	pts := make([]draw.Point, len(posts))
	narrow := false
	for i, p := range posts {
		pts[i] = edge(draw.Point(d.Layout.Posts[p].At), p)
		narrow = narrow || !d.detailed && i > 0 && d.scale.Paper(pts[i].X-pts[i-1].X) < spanLeast
	}
	if !narrow && len(pts) > 1 {
		d.d.Add(&draw.Dim{Points: pts, Side: side, Tier: tier})
		tier++
	}
	if d.whole && side == draw.Above && (len(pts) > 2 || narrow) {
		d.d.Add(&draw.Dim{Points: []draw.Point{pts[0], pts[len(pts)-1]}, Side: side, Tier: tier})
	}
}

// doorwayPoints are posts and jambs along a front, from west to east; nil where
// it has no doorway.
func (d *draft) doorwayPoints(w int) []draw.Point {
	var pts []draw.Point
	any := false
	add := func(p draw.Point) {
		if n := len(pts); n == 0 || pts[n-1].X < p.X {
			pts = append(pts, p)
		}
	}
	for _, run := range d.wallRuns(w) {
		r := &d.Layout.Runs[run]
		here := []draw.Point{draw.Point(d.Layout.Posts[r.From].At), draw.Point(d.Layout.Posts[r.To].At)}
		for _, v := range r.Bays {
			if d.Layout.Bays[v].IsDoor() {
				any = true
				x := d.Fit.BayAt(d.Layout, v)
				here = append(here, d.at(run, x, 0), d.at(run, x+d.Fit.Bays[v].Clear, 0))
			}
		}
		slices.SortFunc(here, func(a, b draw.Point) int { return int(min(max(a.X-b.X, -1), 1)) })
		for _, p := range here {
			add(p)
		}
	}
	if !any {
		return nil
	}
	return pts
}

// insideDoorways dimensions the doorways of a front that looks on an aisle.
func (d *draft) insideDoorways(w int) {
	pts := d.doorwayPoints(w)
	if len(pts) < 2 {
		return
	}
	side := draw.Below
	if d.angle(d.wallRuns(w)[0]) == 180*draw.Degree {
		side = draw.Above
	}
	d.d.Add(&draw.Dim{Points: pts, Side: side, Offset: 11 * draw.MM})
}

// depths dimensions the post lines across the plan, on the west.
func (d *draft) depths() {
	var pts []draw.Point
	for _, w := range d.walls {
		role := d.Layout.Walls[w].Role
		if role != job.WallFront && role != job.WallBack {
			continue
		}
		if ps := d.wallPosts(w); len(ps) > 0 {
			pts = append(pts, draw.Point(d.Layout.Posts[ps[0]].At))
		}
	}
	slices.SortFunc(pts, func(a, b draw.Point) int { return int(min(max(a.Y-b.Y, -1), 1)) })
	pts = slices.CompactFunc(pts, func(a, b draw.Point) bool { return a.Y == b.Y })
	if len(pts) < 2 {
		return
	}
	all := d.scale.Paper(pts[len(pts)-1].Y - pts[0].Y)
	if all < spanLeast {
		return
	}
	if all/draw.Micron(len(pts)) > spanLeast/2 {
		d.d.Add(&draw.Dim{Points: pts, Side: draw.Left, Tier: 1})
	}
	if len(pts) > 2 {
		d.d.Add(&draw.Dim{Points: []draw.Point{pts[0], pts[len(pts)-1]}, Side: draw.Left, Tier: 2})
	}
}

// wallChains dimensions each wall of a free form along itself, before its
// front.
func (d *draft) wallChains() {
	for _, w := range d.walls {
		var pts []draw.Point
		for _, run := range d.Layout.Walls[w].Runs {
			r := &d.Layout.Runs[run]
			if len(pts) == 0 {
				pts = append(pts, draw.Point(d.Layout.Posts[r.From].At))
			}
			pts = append(pts, draw.Point(d.Layout.Posts[r.To].At))
		}
		if len(pts) > 1 {
			d.d.Add(&draw.Dim{Points: pts, Side: draw.Along, Offset: -9 * draw.MM})
		}
	}
	lo, hi := d.lo, d.hi
	if lo.X < hi.X {
		d.d.Add(&draw.Dim{Points: []draw.Point{pt(lo.X, hi.Y), hi}, Side: draw.Above, Tier: 1})
	}
	if lo.Y < hi.Y {
		d.d.Add(&draw.Dim{Points: []draw.Point{lo, pt(lo.X, hi.Y)}, Side: draw.Left, Tier: 1})
	}
}
