package views

import (
	"slices"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// draft is a plan view being drawn at a scale, in the structure's own plan
// coordinates.
type draft struct {
	*tables
	*seenPlan
	d     *draw.Drawing
	scale draw.Scale
	lo    draw.Point // bounds of the posts' axes
	hi    draw.Point
}

func (t *tables) draftPlan(v *seenPlan, at draw.Scale) *draw.Drawing {
	d := t.newDraft(v, at)
	for _, a := range d.aisles() {
		d.aisle(a)
	}
	if d.tiny() {
		d.outlines()
	} else {
		for _, run := range v.runs {
			d.run(run)
		}
		for _, p := range v.posts {
			d.post(p)
		}
	}
	d.rooms()
	d.planChains()
	return d.d
}

func (t *tables) newDraft(v *seenPlan, at draw.Scale) *draft {
	d := &draft{tables: t, seenPlan: v, d: newDrawing(), scale: at}
	d.lo, d.hi = t.bounds(v)
	return d
}

// bounds are those of the posts' axes.
func (t *tables) bounds(v *seenPlan) (lo, hi draw.Point) {
	for i, p := range v.posts {
		q := t.Layout.Posts[p].At
		if i == 0 {
			lo, hi = draw.Point(q), draw.Point(q)
		}
		lo = pt(min(lo.X, q.X), min(lo.Y, q.Y))
		hi = pt(max(hi.X, q.X), max(hi.Y, q.Y))
	}
	return lo, hi
}

// tiny says whether an overview's rooms are too small on paper for anything but
// their walls to be told apart.
func (d *draft) tiny() bool {
	if d.detailed || len(d.seenPlan.rooms) == 0 {
		return false
	}
	for _, i := range d.seenPlan.rooms {
		lo, hi := d.roomBox(&d.Layout.Rooms[i])
		if d.scale.Paper(hi.X-lo.X) >= roomLeast {
			return false
		}
	}
	return true
}

// outlines draws each wall as one line.
func (d *draft) outlines() {
	for _, w := range d.walls {
		var pts []draw.Point
		flush := func() {
			if len(pts) > 1 {
				d.d.Add(draw.NewLine(layerBoards, light, pts...))
			}
			pts = nil
		}
		for _, run := range d.wallRuns(w) {
			if r := &d.Layout.Runs[run]; r.Filled(d.Layout) {
				a, b := draw.Point(d.Layout.Posts[r.From].At), draw.Point(d.Layout.Posts[r.To].At)
				if a.X > b.X {
					a, b = b, a
				}
				if len(pts) == 0 {
					pts = append(pts, a)
				}
				pts = append(pts, b)
				continue
			}
			flush()
		}
		flush()
	}
}

func (d *draft) paper(m draw.Micron) measure.Length { return d.scale.Model(m) }

// at is a place of a run: along from its left post's axis, out toward its front.
func (d *draft) at(run int, along, out measure.Length) draw.Point {
	return draw.Point(d.Layout.At(run, along, out))
}

// slab is the four corners of a stretch of wall between two distances from its
// centre line.
func (d *draft) slab(run int, from, to, in, out measure.Length) []draw.Point {
	return []draw.Point{d.at(run, from, in), d.at(run, to, in), d.at(run, to, out), d.at(run, from, out)}
}

// angle is a run's direction as drawings measure angles.
func (d *draft) angle(run int) draw.Angle { return toDraw(d.Layout.Turn(run)) }

func toDraw(a measure.Angle) draw.Angle {
	return draw.Angle(int64(a) * int64(draw.Degree) / int64(measure.Degree))
}

// run draws what stands between two posts.
func (d *draft) run(run int) {
	r := &d.Layout.Runs[run]
	filled := r.Filled(d.Layout)
	for _, v := range r.Bays {
		d.bay(run, v)
	}
	if !filled {
		return
	}
	for side := range r.Ends {
		d.runEnd(run, side)
	}
	for _, p := range r.DoorPosts {
		d.doorPost(run, p)
	}
}

// bay draws one bay: its wall as thick as its boards, or its doorway.
func (d *draft) bay(run, v int) {
	b, f := &d.Layout.Bays[v], &d.Fit.Bays[v]
	x := d.Fit.BayAt(d.Layout, v)
	t := d.Fit.Board.Thickness / 2
	from, to := x, x+f.Clear
	switch {
	case b.IsDoor():
		d.door(run, v)
	case b.IsOpen():
		d.d.Add(draw.NewLine(layerHidden, dashed, d.at(run, from, 0), d.at(run, to, 0)))
	case f.Window != nil:
		w := f.Window
		d.wall(run, from, from+w.X, t, true)
		d.wall(run, from+w.X, from+w.X+w.Window.Width, t, false)
		d.wall(run, from+w.X+w.Window.Width, to, t, true)
	case f.Grille != nil || f.Feeder != nil:
		d.wall(run, from, to, t, false)
	default:
		d.wall(run, from, to, t, true)
	}
	if fd := f.Feeder; fd != nil {
		d.feeder(run, from+fd.X, fd)
	}
	d.crossing(run, v, x)
	d.bayName(run, v, x)
}

func (d *draft) wall(run int, from, to, t measure.Length, solid bool) {
	fill := draw.White()
	if solid {
		fill = draw.Tint(25)
	}
	d.d.Add(&draw.Polygon{Layer: layerBoards, Pen: light, Fill: fill, Points: d.slab(run, from, to, -t, t)})
}

// feeder draws a feeder in the wall and, dashed, how far it swings out.
func (d *draft) feeder(run int, x measure.Length, f *fit.FeederFit) {
	t := d.Fit.Board.Thickness
	d.d.Add(&draw.Polygon{Layer: layerFrame, Pen: medium, Fill: draw.White(), Points: d.slab(run, x, x+f.Feeder.Width, -t, t)},
		&draw.Polygon{Layer: layerHidden, Pen: dashed, Points: d.slab(run, x, x+f.Feeder.Width, t, f.Feeder.Swing)})
	if d.detailed {
		d.d.Add(&draw.Label{At: d.at(run, x+f.Feeder.Width/2, f.Feeder.Swing/2), Texts: []string{d.say("views.feeder")}, Where: []draw.Where{draw.Centre}})
	}
}

// runEnd draws the channel or post that a run brings to standing timber, or an
// upright beside a pen's joint.
func (d *draft) runEnd(run, side int) {
	r := &d.Layout.Runs[run]
	end := r.Ends[side]
	var back, half measure.Length
	switch {
	case r.Channel != nil:
		back, half = end.Reach-r.Channel.Web, r.Channel.Inside/2+r.Channel.Web
	case r.EndPost != nil && r.Assembly.Ends == kit.EndsMounted:
		back, half = end.Reach-r.EndPost.Reach, r.EndPost.Across/2
	case r.EndPost != nil:
		back, half = end.Face()-r.EndPost.Along, r.EndPost.Across/2
	default:
		return
	}
	from, to := back, end.Face()
	if side == 1 {
		from, to = r.Centres-end.Face(), r.Centres-back
	}
	d.d.Add(&draw.Polygon{Layer: layerFrame, Fill: draw.Tint(0), Points: d.slab(run, from, to, -half, half)})
}

func (d *draft) doorPost(run, post int) {
	p := &d.Layout.Posts[post]
	at := d.doorPostAlong(run, post)
	d.d.Add(&draw.Polygon{Layer: layerFrame, Fill: draw.Tint(0), Points: d.slab(run, at-p.Along/2, at+p.Along/2, -p.Across/2, p.Across/2)})
}

// doorPostAlong is where a door post's axis stands on its run.
func (d *draft) doorPostAlong(run, post int) measure.Length {
	for _, v := range d.Layout.Runs[run].Bays {
		b := &d.Layout.Bays[v]
		if !b.IsDoor() {
			continue
		}
		x, half := d.Fit.BayAt(d.Layout, v), d.Layout.Posts[post].Along/2
		switch post {
		case b.Ends[0].Post:
			return x - half
		case b.Ends[1].Post:
			return x + d.Fit.Bays[v].Clear + half
		}
	}
	return 0
}

// post draws a principal post to scale, with what it stands on dashed.
func (d *draft) post(post int) {
	p := &d.Layout.Posts[post]
	c := draw.Point(p.At)
	w, h := p.Along/2, p.Across/2
	nameW, nameH := w, h
	if p.Base != nil {
		nameW, nameH = max(w, p.Base.Size/2, p.Base.Diameter*3/8), max(h, p.Base.Size/2, p.Base.Diameter*3/8)
		switch {
		case p.Base.Diameter > 0:
			d.d.Add(draw.Circle(layerHidden, draw.Pen{Weight: draw.Thin, Type: draw.Dashed}, draw.Fill{}, c, p.Base.Diameter/2))
		case p.Base.Size > 0:
			h := p.Base.Size / 2
			d.d.Add(draw.Rectangle(layerHidden, draw.Pen{Weight: draw.Thin, Type: draw.Dashed}, draw.Fill{}, pt(c.X-h, c.Y-h), pt(c.X+h, c.Y+h)))
		}
	}
	switch p.Kind {
	case frame.Timber:
		d.d.Add(draw.Rectangle(layerFrame, draw.Pen{}, draw.White(), pt(c.X-w, c.Y-h), pt(c.X+w, c.Y+h)),
			draw.Rectangle(layerFrame, medium, draw.Hatch(45*draw.Degree, 600), pt(c.X-w, c.Y-h), pt(c.X+w, c.Y+h)))
	case frame.Joint:
		d.d.Add(draw.Circle(layerFrame, thin, draw.Tint(0), c, max(d.paper(500), p.Along/4)))
	default:
		d.d.Add(draw.Rectangle(layerFrame, draw.Pen{}, draw.Tint(0), pt(c.X-w, c.Y-h), pt(c.X+w, c.Y+h)))
	}
	if d.detailed {
		d.d.Add(&draw.Label{At: d.corner(c, nameW, nameH), Texts: []string{p.Name}, Where: d.outward(c)})
	}
}

// corner is the corner of a post that looks away from the plan's middle, so
// that its name starts outside it.
func (d *draft) corner(c draw.Point, w, h measure.Length) draw.Point {
	out := c
	if c.Y*2 >= d.lo.Y+d.hi.Y {
		out.Y += h
	} else {
		out.Y -= h
	}
	if c.X*2 >= d.lo.X+d.hi.X {
		out.X += w
	} else {
		out.X -= w
	}
	return out
}

// outward lists the places for a post's name, those outside the plan first.
func (d *draft) outward(c draw.Point) []draw.Where {
	up := []draw.Where{draw.OverRight, draw.OverLeft}
	down := []draw.Where{draw.UnderRight, draw.UnderLeft}
	if c.X*2 < d.lo.X+d.hi.X {
		slices.Reverse(up)
		slices.Reverse(down)
	}
	if c.Y*2 >= d.lo.Y+d.hi.Y {
		return append(up, down...)
	}
	return append(down, up...)
}

// bayName names a bay beside its wall: beside a doorway by what comes after the
// front's name alone.
func (d *draft) bayName(run, v int, x measure.Length) {
	if !d.detailed {
		return
	}
	b, f, r := &d.Layout.Bays[v], &d.Fit.Bays[v], &d.Layout.Runs[run]
	text := b.Name
	if len(r.Bays) > 1 && !b.IsDoor() && len(b.Name) > len(r.Name) && b.Name[:len(r.Name)] == r.Name {
		text = b.Name[len(r.Name):]
	}
	if b.IsOpen() {
		text = d.say("views.bay-open", name("bay", text))
	}
	a := d.angle(run)
	where := []draw.Where{draw.Over, draw.Under}
	t := d.Fit.Board.Thickness
	along := x + f.Clear/2
	if r.Role == job.WallDivider || r.Role == job.WallSide {
		along = x + f.Clear/5 // clear of the rooms' names
	}
	at := d.at(run, along, -t) // on the side away from leaves and swings
	switch (a/draw.Degree + 360 + 45) % 360 / 90 {
	case 0: // to the east: its front faces south
	case 1: // to the north: its front faces east
		where = []draw.Where{draw.ToLeft, draw.ToRight}
	case 2:
		where = []draw.Where{draw.Under, draw.Over}
	default:
		where = []draw.Where{draw.ToRight, draw.ToLeft}
	}
	d.d.Add(&draw.Label{At: at, Texts: []string{text}, Where: where, End: draw.Plain})
}
