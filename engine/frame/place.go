package frame

import "stallwright/engine/measure"

// At is the place in plan at distance along from the axis of a run's left post
// toward its right one, then out from the wall's centre line toward its front.
// Either may be negative. It is right to the nanometre.
func (l *Layout) At(run int, along, out measure.Length) Point {
	r := &l.Runs[run]
	p, q := l.Posts[r.From].At, l.Posts[r.To].At
	v := q.Sub(p)
	at := Along(p, q, along)
	// The front lies on the right of someone walking from the left post to the
	// right one, since it is the front that sees them as left and right.
	return Along(at, at.Add(Point{v.Y, -v.X}), out)
}

// Along is the place at distance d from p toward q, to the nanometre; p itself
// where both are the same.
func Along(p, q Point, d measure.Length) Point { return along(p, q, d) }

// Distance is how far apart two places are, down to the nanometre.
func Distance(p, q Point) measure.Length { return distance(p, q) }

// Line is where the axis of a run's left post stands on the line that a leaf
// slides along: from the axis of the first post of its wall. In a pen, where
// the wall turns at every joint, each section is a line of its own.
func (l *Layout) Line(run int) measure.Length {
	r := &l.Runs[run]
	if l.Structures[r.Structure].Kind == Pen {
		return 0
	}
	x := measure.Length(0)
	for _, i := range l.Walls[r.Wall].Runs {
		if i == run {
			break
		}
		x += l.Runs[i].Centres
	}
	return x
}

// Seen is how wide a post looks in the elevation of a run that it belongs to:
// the side that lies along the run.
func (l *Layout) Seen(post, run int) measure.Length {
	p, r := &l.Posts[post], &l.Runs[run]
	if p.Kind == Door || p.Kind == Joint {
		return p.Along // turned with its run
	}
	v := l.Posts[r.To].At.Sub(l.Posts[r.From].At)
	if v.X.Abs() >= v.Y.Abs() {
		return p.Along
	}
	return p.Across
}

// Turn is the direction of a run from its left post toward its right one, from
// east, anticlockwise. Its front faces a right turn clockwise from it.
func (l *Layout) Turn(run int) measure.Angle {
	r := &l.Runs[run]
	return l.Posts[r.From].turnTo(l.Posts[r.To].At)
}
