package frame

import (
	"fmt"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// divide splits a run into bays: one, or a doorway with panels beside it.
func (b *builder) divide(run int, w wish) {
	r := &b.out.Runs[run]
	if w.front == nil || w.front.Whole != nil {
		fill := job.Fill{Kind: job.FillBoards}
		switch {
		case w.front != nil:
			fill = *w.front.Whole
		case w.fill != nil:
			fill = *w.fill
		}
		b.bay(Bay{
			Name: w.name, Structure: r.Structure, Wall: w.wall, Run: run, Room: w.room,
			Fill: fill, Ends: r.Ends, Clear: r.Drawn, Why: r.Why,
		}, w)
		return
	}
	b.doorway(run, w)
}

// doorway sets the door posts and makes the bays. Lengths here run from the
// left web's inner face to the right.
func (b *builder) doorway(run int, w wish) {
	r := &b.out.Runs[run]
	f := w.front
	id := f.Door
	if id == "" {
		id = w.door
	}
	d := b.kit.Door(id)
	if d == nil {
		b.problem(f.Of("door"), w.path+".door", id, fmt.Sprintf("%s: the kit %s has no door %q", w.name, b.kit.Kit, id), nearest(id, b.doors()))
		return
	}
	dp := b.kit.Post(r.Assembly.DoorPost)
	if dp == nil {
		b.problem(w.pos, w.path, r.Assembly.ID, fmt.Sprintf("%s: the assembly %s has no door post", w.name, r.Assembly.ID), "another assembly, or a front without a doorway")
		return
	}
	left, right, ok := b.jambs(run, d, dp, w)
	if !ok {
		return
	}
	at := f.Of("at")
	if !f.Has("at") {
		at = w.pos
	}
	room := r.Clear - r.Ends[1].Leg // the right jamb may not pass this
	if left < r.Ends[0].Leg || right > room {
		b.problem(at, w.path+".at", f.At.Word, fmt.Sprintf("%s: a doorway of %s does not fit here: the opening between the end posts is %s", w.name, b.show(d.Opening), b.show(room-r.Ends[0].Leg)), "a narrower door, a wider run, or another place for it")
		return
	}
	b.panels(run, d, dp, left, right, w)
}

// jambs places the doorway's two jamb faces.
func (b *builder) jambs(run int, d *kit.Door, dp *kit.Post, w wish) (left, right measure.Length, ok bool) {
	r := &b.out.Runs[run]
	lo, hi := r.Ends[0].Leg, r.Clear-r.Ends[1].Leg
	switch {
	case hi-lo == d.Opening || w.front.At.Word == "left":
		return lo, lo + d.Opening, true
	case w.front.At.Word == "right":
		return hi - d.Opening, hi, true
	case w.front.At.FromRight:
		right = r.Clear + r.Ends[1].Reach - w.front.At.From + d.Opening/2
		return right - d.Opening, right, true
	case w.front.At.From != 0:
		left = w.front.At.From - r.Ends[0].Reach - d.Opening/2
		return left, left + d.Opening, true
	}
	left = (r.Clear - d.Opening) / 2
	return left, left + d.Opening, true
}

// panels makes door posts and bays once the jambs stand.
func (b *builder) panels(run int, d *kit.Door, dp *kit.Post, left, right measure.Length, w wish) {
	r := &b.out.Runs[run]
	f := w.front
	lead, tail := r.Ends[0], r.Ends[1]
	base := Bay{Structure: r.Structure, Wall: w.wall, Run: run, Room: w.room}
	doorEnds := [2]End{lead, tail}

	if left > lead.Leg {
		axis := left - dp.Along/2
		if clear := axis - dp.Reach; b.roomFor(clear, lead.Leg+dp.Leg, "left", w) {
			p := b.doorPost(run, ".l", axis, dp, w)
			end := End{Post: p, Reach: dp.Reach, Leg: dp.Leg, Inside: dp.Inside}
			v := base
			v.Name, v.Fill, v.Ends, v.Clear = w.name+"-left", panelFill(f.Left, f.Panels), [2]End{lead, end}, clear
			v.Why = reason.Of(phrase.Of("why.drawn-clear-of", phrase.With("place", phrase.Name(v.Name))), phrase.Length(clear), phrase.Of("rule.left-to-door"), phrase.Of("source.job-at", phrase.With("path", phrase.Name(w.path)), phrase.With("at", phrase.Name(w.pos.String()))), r.Why)
			b.bay(v, w)
			doorEnds[0] = End{Post: p}
		}
	}
	v := base
	v.Name, v.Door, v.Slides, v.Hinge = w.name+"-door", d, f.Slides, f.Hinge
	if v.Hinge == "" {
		v.Hinge = job.Left
	}
	if right < r.Clear-tail.Leg {
		doorEnds[1] = End{Post: b.doorPost(run, ".r", right+dp.Along/2, dp, w)}
	}
	v.Ends, v.Start, v.Clear = doorEnds, left, right-left
	v.Why = reason.Given(phrase.Of("why.drawn-opening", phrase.With("bay", phrase.Name(v.Name))), phrase.Length(v.Clear), b.kitSource("doors "+d.ID+".opening", d.Of("opening")))
	b.bay(v, w)

	if right < r.Clear-tail.Leg {
		start := right + dp.Along/2 + dp.Reach
		if clear := r.Clear - start; b.roomFor(clear, tail.Leg+dp.Leg, "right", w) {
			end := End{Post: doorEnds[1].Post, Reach: dp.Reach, Leg: dp.Leg, Inside: dp.Inside}
			v := base
			v.Name, v.Fill, v.Ends, v.Start, v.Clear = w.name+"-right", panelFill(f.Right, f.Panels), [2]End{end, tail}, start, clear
			v.Why = reason.Of(phrase.Of("why.drawn-clear-of", phrase.With("place", phrase.Name(v.Name))), phrase.Length(clear), phrase.Of("rule.door-to-right"), phrase.Of("source.job-at", phrase.With("path", phrase.Name(w.path)), phrase.With("at", phrase.Name(w.pos.String()))), r.Why)
			b.bay(v, w)
		}
	}
}

// roomFor refuses a panel too narrow for its own two channels.
func (b *builder) roomFor(clear, legs measure.Length, side string, w wish) bool {
	if clear > legs {
		return true
	}
	b.problem(w.pos, w.path, "", fmt.Sprintf("%s: the panel on the %s of the doorway would be only %s wide", w.name, side, b.show(max(clear, 0))), "move the doorway against the post (at: "+side+") or further away")
	return false
}

// doorPost adds a door post with its axis at the given distance from the run's
// left web.
func (b *builder) doorPost(run int, suffix string, axis measure.Length, dp *kit.Post, w wish) int {
	r := &b.out.Runs[run]
	from, to := b.out.Posts[r.From].At, b.out.Posts[r.To].At
	h, err := dp.Height.Length(&kit.Facts{Height: r.Height, Datum: r.Datum, Zone: r.Zone})
	if err != nil {
		b.problem(w.pos, w.path, "", fmt.Sprintf("%s: %v", w.name, err), "mend the post "+dp.ID+" of the kit")
	}
	p := b.post(Post{
		Name: w.name + suffix, Structure: r.Structure, Kind: Door, At: along(from, to, r.Ends[0].Reach+axis),
		Along: dp.Along, Across: dp.Across, Turn: b.out.Posts[r.From].turnTo(to), Item: dp, Height: h,
	}, w.pos, w.path)
	b.out.Runs[run].DoorPosts = append(b.out.Runs[run].DoorPosts, p)
	return p
}

// panelFill is what fills the panel beside a doorway.
func panelFill(own, both *job.Fill) job.Fill {
	switch {
	case own != nil:
		return *own
	case both != nil:
		return *both
	}
	return job.Fill{Kind: job.FillGrille}
}
