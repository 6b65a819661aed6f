package frame

import "stallwright/engine/job"

// twin is a second row like the first: the first seen in a mirror across the
// aisle, so that doors face doors and feeders face feeders.
func twin(rj rowJob, rooms []job.Room) (rowJob, []job.Room) {
	rj.fronts = mirrorFront(rj.fronts, 1)
	return rj, mirrored(rooms)
}

// mirrored is a row of rooms the other way round. Names given to rooms of the
// first row are not given again.
func mirrored(rooms []job.Room) []job.Room {
	out := make([]job.Room, len(rooms))
	for i, r := range rooms {
		r.Name = ""
		r.Left, r.Right = mirrorFill(r.Right), mirrorFill(r.Left)
		r.Back = mirrorFill(r.Back)
		r.Front = mirrorFront(r.Front, max(r.Spans, 1))
		out[len(rooms)-1-i] = r
	}
	return out
}

// mirrorFront turns a front of a room that takes n post spacings round.
func mirrorFront(f *job.Front, n int) *job.Front {
	if f == nil {
		return nil
	}
	m := *f
	switch {
	case f.At.Word == "left":
		m.At.Word = "right"
	case f.At.Word == "right":
		m.At.Word = "left"
	case f.At.From != 0:
		m.At.FromRight = !f.At.FromRight
	}
	m.Slides, m.Hinge = mirrorHand(f.Slides), mirrorHand(f.Hinge)
	if f.Hinge == "" {
		m.Hinge = job.Right // left where left out
	}
	m.Left, m.Right = mirrorFill(f.Right), mirrorFill(f.Left)
	m.Panels, m.Whole = mirrorFill(f.Panels), mirrorFill(f.Whole)
	m.Span = n + 1 - max(f.Span, 1)
	return &m
}

// mirrorFill turns a fill round: a feeder changes its end. A window placed from
// the left stays where it is told; one without a place is centred.
func mirrorFill(f *job.Fill) *job.Fill {
	if f == nil || f.Kind != job.FillFeeder {
		return f
	}
	m := *f
	m.Hand = job.Left
	if f.Hand != job.Right {
		m.Hand = job.Right
	}
	return &m
}

func mirrorHand(h job.Hand) job.Hand {
	switch h {
	case job.Left:
		return job.Right
	case job.Right:
		return job.Left
	}
	return h
}
