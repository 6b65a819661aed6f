package views

import (
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// elevation is one stretch of wall being drawn at a scale. X runs along the
// wall from the axis of its first post, Y up from the highest finished floor.
type elevation struct {
	*tables
	stretch
	d      *draw.Drawing
	scale  draw.Scale
	number int // of the sheet
	x      map[int]measure.Length
	left   measure.Length // axis of the stretch's first post
	right  measure.Length // and of its last
	top    measure.Length // of its highest wall
	post   map[int]bool   // posts drawn
}

// elevation draws a stretch.
func (t *tables) elevation(s stretch, at draw.Scale, number int) *draw.Drawing {
	e := &elevation{tables: t, stretch: s, d: newDrawing(), scale: at, number: number, x: map[int]measure.Length{}, post: map[int]bool{}}
	e.left = t.line[s.runs[0]]
	e.right = e.left
	for _, r := range s.runs {
		e.x[r] = e.right
		e.right += t.Layout.Runs[r].Centres
		e.top = max(e.top, t.Layout.Runs[r].Height)
	}
	e.floor()
	for _, r := range s.runs {
		if t.Layout.Runs[r].Filled(t.Layout) {
			e.run(r)
		}
	}
	e.doors()
	e.matchLines()
	e.datum()
	e.chains()
	return e.d
}

// paper is the model length that stands for a length on paper.
func (e *elevation) paper(m draw.Micron) measure.Length { return e.scale.Model(m) }

// beyond is how far posts that go on upward are drawn above the wall.
func (e *elevation) beyond() measure.Length { return e.paper(6 * draw.MM) }

// floorAt is the finished floor at a post: the datum less its mark's height.
func (e *elevation) floorAt(post, run int) measure.Length {
	h, ok := e.marks[markAt{post, run}]
	if !ok {
		return 0
	}
	return e.Layout.Runs[run].Datum - h
}

// floor draws the finished floor from post to post, as levelled.
func (e *elevation) floor() {
	over := e.paper(5 * draw.MM)
	var pts []draw.Point
	add := func(x, z measure.Length) {
		if n := len(pts); n == 0 || pts[n-1].X < x {
			pts = append(pts, pt(x, z))
		}
	}
	first, last := e.runs[0], e.runs[len(e.runs)-1]
	add(e.left-e.half(e.Layout.Runs[first].From, first)-over, e.floorAt(e.Layout.Runs[first].From, first))
	for _, run := range e.runs {
		r := &e.Layout.Runs[run]
		add(e.x[run], e.floorAt(r.From, run))
		for _, p := range r.DoorPosts {
			add(e.doorPostAt(p, run), e.floorAt(p, run))
		}
		add(e.x[run]+r.Centres, e.floorAt(r.To, run))
	}
	end := e.Layout.Runs[last].To
	add(e.right+e.half(end, last)+over, e.floorAt(end, last))
	e.d.Add(&draw.Line{Layer: layerGround, Pen: extra, Points: pts, Keep: true})
}

// half is half of what a post shows in this wall.
func (e *elevation) half(post, run int) measure.Length { return e.Layout.Seen(post, run) / 2 }

// doorPostAt is where a door post's axis stands: at the end of a bay that
// belongs to it.
func (e *elevation) doorPostAt(post, run int) measure.Length {
	for _, v := range e.Layout.Runs[run].Bays {
		b := &e.Layout.Bays[v]
		if b.IsDoor() {
			at := e.x[run] + e.Fit.BayAt(e.Layout, v)
			switch post {
			case b.Ends[0].Post:
				return at - e.Layout.Posts[post].Along/2
			case b.Ends[1].Post:
				return at + e.Fit.Bays[v].Clear + e.Layout.Posts[post].Along/2
			}
		}
	}
	return e.x[run]
}

// run draws one run: what fills its bays, then tubes and posts before it.
func (e *elevation) run(run int) {
	r := &e.Layout.Runs[run]
	for _, v := range r.Bays {
		e.bay(v)
	}
	for _, i := range e.steel[run] {
		if p := &e.Fit.Pieces[i]; p.Kind == fit.Tube {
			e.tube(p, i)
		}
	}
	e.principal(r.From, run, e.x[run])
	e.principal(r.To, run, e.x[run]+r.Centres)
	for side := range r.Ends {
		e.end(run, side)
	}
	for _, p := range r.DoorPosts {
		e.doorPost(p, run)
	}
}

func (e *elevation) tube(p *fit.Piece, piece int) {
	tube := e.Kit.Tube(p.Item)
	if tube == nil {
		return
	}
	r := &e.Layout.Runs[p.Run]
	x, z := e.x[p.Run]+e.Fit.TubeAt(e.Layout, piece), r.Datum+p.Z
	e.d.Add(draw.Rectangle(layerFrame, medium, draw.White(), pt(x, z), pt(x+p.Length, z+tube.Depth)))
}

// principal draws a post that runs meet at, once.
func (e *elevation) principal(post, run int, x measure.Length) {
	if e.post[post] {
		return
	}
	e.post[post] = true
	p, h := &e.Layout.Posts[post], e.half(post, run)
	floor := e.floorAt(post, run)
	wall := e.Layout.Runs[run].Height
	switch p.Kind {
	case frame.Timber:
		e.broken(standing, draw.Tint(92), x-h, x+h, floor, wall+e.beyond())
	case frame.Joint:
		e.joint(x, floor, wall)
	default:
		if p.Height > wall+e.beyond() {
			e.broken(medium, draw.Tint(80), x-h, x+h, floor, wall+e.beyond())
			break
		}
		e.d.Add(draw.Rectangle(layerFrame, medium, draw.Tint(80), pt(x-h, floor), pt(x+h, floor+p.Height)))
	}
	e.postName(post, run, x)
}

// broken draws a post that goes on above the drawing.
func (e *elevation) broken(pen draw.Pen, fill draw.Fill, x0, x1, z0, z1 measure.Length) {
	w := x1 - x0
	e.d.Add(&draw.Polygon{Layer: layerFrame, Pen: pen, Fill: fill, Points: []draw.Point{
		pt(x0, z0), pt(x1, z0), pt(x1, z1), pt(x0+6*w/10, z1-w/3), pt(x0+4*w/10, z1+w/3), pt(x0, z1)}})
}

// joint draws the axis of a pen's joint and what the pins go through.
func (e *elevation) joint(x, floor, wall measure.Length) {
	over := e.paper(3 * draw.MM)
	e.d.Add(draw.NewLine(layerDatum, axis, pt(x, floor-over), pt(x, wall+over)))
}

// end draws what holds the board ends at one end of a run: a channel lagged to
// timber, a post of the frame's own, or the channel of a shared post.
func (e *elevation) end(run, side int) {
	r := &e.Layout.Runs[run]
	at, sign := e.x[run], measure.Length(1)
	if side == 1 {
		at, sign = at+r.Centres, -1
	}
	end := r.Ends[side]
	z0, z1 := r.Datum, r.Datum+r.Zone
	back := end.Reach
	switch {
	case r.Channel != nil:
		back -= r.Channel.Web
		z1 = z0 + e.steelLength(run, fit.Channel, z1-z0)
	case r.EndPost != nil:
		back = end.Face() - r.EndPost.Along
		if r.Assembly.Ends == kit.EndsMounted {
			back = end.Reach - r.EndPost.Reach
		}
		z0 = e.floorAt([2]int{r.From, r.To}[side], run)
		z1 = z0 + e.steelLength(run, fit.Post, r.Height)
	default:
		back = min(end.Reach, e.half(end.Post, run))
	}
	e.d.Add(draw.Rectangle(layerFrame, light, draw.White(), pt(at+sign*back, z0), pt(at+sign*end.Face(), z1)))
}

// steelLength is the length of a run's channels or posts of its own.
func (e *elevation) steelLength(run int, kind fit.PieceKind, otherwise measure.Length) measure.Length {
	for _, i := range e.steel[run] {
		p := &e.Fit.Pieces[i]
		if p.Kind == kind && (kind != fit.Post || p.Item == e.Layout.Runs[run].EndPost.ID) {
			return p.Length
		}
	}
	return otherwise
}

// doorPost draws a door post between the tubes, with its channel.
func (e *elevation) doorPost(post, run int) {
	p, r := &e.Layout.Posts[post], &e.Layout.Runs[run]
	x := e.doorPostAt(post, run)
	for _, v := range r.Bays {
		b := &e.Layout.Bays[v]
		at := e.x[run] + e.Fit.BayAt(e.Layout, v)
		for side, end := range b.Ends {
			if end.Post != post || end.Leg == 0 {
				continue
			}
			web, face := at, at+end.Leg
			if side == 1 {
				web, face = at+e.Fit.Bays[v].Clear, at+e.Fit.Bays[v].Clear-end.Leg
			}
			e.d.Add(draw.Rectangle(layerFrame, light, draw.White(), pt(web, r.Datum), pt(face, r.Datum+r.Zone)))
		}
	}
	e.d.Add(draw.Rectangle(layerFrame, medium, draw.White(), pt(x-p.Along/2, r.Datum), pt(x+p.Along/2, r.Datum+p.Height)))
	e.postName(post, run, x)
}

// postName writes a post's name and the height of its datum mark under it. A
// sheet that stands for several walls gives the height alone.
func (e *elevation) postName(post, run int, x measure.Length) {
	h, marked := e.marks[markAt{post, run}]
	text := ""
	if len(e.like) == 0 {
		text = e.Layout.Posts[post].Name
	}
	if marked {
		if text != "" {
			text += "\n"
		}
		text += e.say("views.mark", size("height", h))
		e.tick(x, e.Layout.Runs[run].Datum)
	}
	if text != "" {
		e.d.Add(&draw.Label{At: pt(x, e.floorAt(post, run)), Texts: []string{text}, Where: []draw.Where{draw.Under, draw.UnderLeft, draw.UnderRight}, End: draw.Arrow})
	}
}

// tick marks the datum on a post.
func (e *elevation) tick(x, z measure.Length) {
	w, h := e.paper(900), e.paper(1100)
	e.d.Add(&draw.Polygon{Layer: layerDatum, Fill: draw.Tint(0), Points: []draw.Point{pt(x, z), pt(x-w, z+h), pt(x+w, z+h)}})
}

// datum draws the datum line through the stretch, at the height of each run's
// own.
func (e *elevation) datum() {
	over := e.paper(4 * draw.MM)
	for k := 0; k < len(e.runs); {
		z := e.Layout.Runs[e.runs[k]].Datum
		from, to := e.x[e.runs[k]], measure.Length(0)
		for ; k < len(e.runs) && e.Layout.Runs[e.runs[k]].Datum == z; k++ {
			to = e.x[e.runs[k]] + e.Layout.Runs[e.runs[k]].Centres
		}
		e.d.Add(draw.NewLine(layerDatum, axis, pt(from-over, z), pt(to+over, z)))
	}
	last := e.runs[len(e.runs)-1]
	z := e.Layout.Runs[last].Datum
	at := e.right + e.half(e.Layout.Runs[last].To, last) + over
	e.d.Add(&draw.Label{At: pt(at, z), Texts: []string{e.say("views.datum")}, Where: []draw.Where{draw.OverRight, draw.ToRight}, End: draw.Plain})
}

// matchLines shows where the wall goes on, on another sheet.
func (e *elevation) matchLines() {
	for _, m := range []struct {
		on    bool
		x     measure.Length
		sheet int
		where draw.Where
	}{{e.before, e.left, e.number - 1, draw.ToRight}, {e.after, e.right, e.number + 1, draw.ToLeft}} {
		if !m.on {
			continue
		}
		lo, hi := -e.paper(4*draw.MM), e.top+e.paper(16*draw.MM)
		e.d.Add(&draw.Line{Layer: layerDatum, Pen: draw.Pen{Weight: draw.Heavy, Type: draw.Chain}, Points: []draw.Point{pt(m.x, lo), pt(m.x, hi)}, Keep: true},
			&draw.Label{At: pt(m.x, hi-e.paper(1500)), Texts: []string{e.say("views.match-line", number("sheet", m.sheet))}, Where: []draw.Where{m.where}, Lead: draw.LeadNever})
	}
}
