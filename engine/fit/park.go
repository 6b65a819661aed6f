package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// slidingDoor is one sliding leaf on its wall. Positions run along the wall
// from its first post's axis; in a pen, where walls turn at every joint, along
// the section.
type slidingDoor struct {
	bay        int
	line       int            // doors of one line can meet each other: the wall, or the pen's section
	from, to   measure.Length // jambs
	lo, hi     measure.Length // ends of what carries the track
	closed     span
	leaf, stop measure.Length
}

// span is a stretch of wall.
type span struct{ from, to measure.Length }

// meets is how far two stretches overlap; zero or less when they do not.
func (s span) meets(t span) measure.Length { return min(s.to, t.to) - max(s.from, t.from) }

// at is where a bay's left web, or a doorway's left jamb, stands on its line.
func (f *fitter) at(bay int) measure.Length {
	return f.line[f.lay.Bays[bay].Run] + f.out.BayAt(f.lay, bay)
}

// lines finds where each run's left post stands on its line, and what stands on
// each wall that a parked leaf may be in the way of.
func (f *fitter) lines() {
	f.line, f.ways = make([]measure.Length, len(f.lay.Runs)), make([][]int, len(f.lay.Walls))
	for w := range f.lay.Walls {
		x := measure.Length(0)
		for _, run := range f.lay.Walls[w].Runs {
			r := &f.lay.Runs[run]
			if f.lay.Structures[r.Structure].Kind != frame.Pen {
				f.line[run] = x
				x += r.Centres
			}
			for _, v := range r.Bays {
				b := &f.lay.Bays[v]
				if f.out.Bays[v].Feeder != nil || (b.IsDoor() && b.Door.Kind != kit.Sliding) {
					f.ways[w] = append(f.ways[w], v)
				}
			}
		}
	}
}

// carried is the stretch of a door's line over which runs stand that can carry a
// track: those to its left and right up to the first that is not built.
func (f *fitter) carried(run int) span {
	r := &f.lay.Runs[run]
	if f.lay.Structures[r.Structure].Kind == frame.Pen {
		return span{0, r.Centres}
	}
	var s span
	here := false
	for _, i := range f.lay.Walls[r.Wall].Runs {
		here = here || i == run
		s.to += f.lay.Runs[i].Centres
		switch built := f.lay.Runs[i].Filled(f.lay); {
		case !built && here:
			s.to -= f.lay.Runs[i].Centres
			return s
		case !built:
			s.from = s.to
		}
	}
	return s
}

// park chooses the side each sliding leaf parks on, sets its track, and checks
// what the parked leaf would stand before.
func (f *fitter) park() {
	f.lines()
	for i := range f.lay.Bays {
		b := &f.lay.Bays[i]
		if b.IsDoor() && b.Door.Kind == kit.Sliding {
			f.sliding = append(f.sliding, f.slidingDoor(i))
		}
	}
	lines := map[int][]int{} // doors of each line
	for k := range f.sliding {
		lines[f.sliding[k].line] = append(lines[f.sliding[k].line], k)
	}
	for k := range f.sliding {
		f.setTrack(k, lines[f.sliding[k].line])
	}
}

func (f *fitter) slidingDoor(i int) slidingDoor {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	line := b.Wall
	if f.lay.Structures[b.Structure].Kind == frame.Pen {
		line = -1 - b.Run
	}
	from, carried := f.at(i), f.carried(b.Run)
	lap := out.Door.Lap
	return slidingDoor{
		bay: i, line: line, from: from, to: from + out.Clear, lo: carried.from, hi: carried.to,
		closed: span{from - lap, from + out.Clear + lap}, leaf: b.Door.Leaf.Width, stop: b.Door.Slide.StopWidth,
	}
}

// parked is where the leaf stands when the doorway is clear.
func (d *slidingDoor) parked(hand job.Hand) span {
	if hand == job.Left {
		return span{d.from - d.leaf, d.from}
	}
	return span{d.to, d.to + d.leaf}
}

// trouble is what a leaf parked on one side would stand before.
type trouble struct {
	code    finding.Code
	message string
	say     phrase.Phrase
}

func (f *fitter) troubles(k int, hand job.Hand, line []int) []trouble {
	d := &f.sliding[k]
	at := d.parked(hand)
	var out []trouble
	if past := max(d.lo-at.from, at.to-d.hi); past > 0 {
		out = append(out, trouble{finding.DoorPark, fmt.Sprintf("parked on the %s, the leaf stands %s past the end of what carries its track", hand, f.show(past)),
			phrase.Of("found.park-past", onHand(hand), size("by", past))})
	}
	for _, o := range line {
		if o == k {
			continue
		}
		other := &f.sliding[o]
		if other.closed.from-other.leaf > at.to || other.closed.to+other.leaf < at.from {
			continue // neither its doorway nor its leaf reaches here
		}
		name := f.lay.Bays[other.bay].Name
		if m := at.meets(other.closed); m > 0 {
			out = append(out, trouble{finding.DoorMeets, fmt.Sprintf("parked on the %s, the leaf covers %s of %s and its latch", hand, f.show(m), name),
				phrase.Of("found.park-covers", onHand(hand), size("by", m), called("bay", name))})
			continue
		}
		if t := f.out.Bays[other.bay].Door.Track; t != nil {
			if m := at.meets(span{t.Parked[0], t.Parked[1]}); m > 0 {
				out = append(out, trouble{finding.DoorMeets, fmt.Sprintf("parked on the %s, the leaf meets the parked leaf of %s over %s", hand, name, f.show(m)),
					phrase.Of("found.park-meets", onHand(hand), size("by", m), called("bay", name))})
			}
		}
	}
	return append(out, f.meetsOthers(d, at, hand)...)
}

// meetsOthers finds feeders of the same wall that would swing into the leaf, and
// doorways of swing doors that it would stand before.
func (f *fitter) meetsOthers(d *slidingDoor, at span, hand job.Hand) []trouble {
	var out []trouble
	for _, v := range f.ways[f.lay.Bays[d.bay].Wall] {
		b, from := &f.lay.Bays[v], f.at(v)
		if d.line < 0 && b.Run != f.lay.Bays[d.bay].Run {
			continue
		}
		if fd := f.out.Bays[v].Feeder; fd != nil {
			from += fd.X
			if m := at.meets(span{from, from + fd.Feeder.Width}); m > 0 {
				out = append(out, trouble{finding.DoorMeets, fmt.Sprintf("parked on the %s, the leaf stands before the feeder of %s, which swings out %s", hand, b.Name, f.show(fd.Feeder.Swing)),
					phrase.Of("found.park-feeder", onHand(hand), size("swing", fd.Feeder.Swing), called("bay", b.Name))})
			}
			continue
		}
		if m := at.meets(span{from, from + f.out.Bays[v].Clear}); m > 0 {
			out = append(out, trouble{finding.DoorMeets, fmt.Sprintf("parked on the %s, the leaf stands %s before the doorway of %s", hand, f.show(m), b.Name),
				phrase.Of("found.park-doorway", onHand(hand), size("by", m), called("bay", b.Name))})
		}
	}
	return out
}

// setTrack picks the side (the one asked for, else the one without trouble,
// else the one with less) and sets the track.
func (f *fitter) setTrack(k int, line []int) {
	d := &f.sliding[k]
	b, door := &f.lay.Bays[d.bay], f.out.Bays[d.bay].Door
	hands := []job.Hand{job.Left, job.Right}
	if d.hi-d.to > d.from-d.lo {
		hands = []job.Hand{job.Right, job.Left}
	}
	if b.Slides != "" {
		hands = []job.Hand{b.Slides}
	}
	hand, bad := hands[0], f.troubles(k, hands[0], line)
	for _, h := range hands[1:] {
		if other := f.troubles(k, h, line); len(other) < len(bad) {
			hand, bad = h, other
		}
	}
	for _, t := range bad {
		f.find(t.code, finding.Warning, b.Name, t.message, "let it park on the other side (slides)", "move the doorway", "a narrower door")
		f.saying(t.say)
	}
	f.track(d, door, hand)
}

// track places the track so that it carries the leaf from closed to parked,
// with the end stops at its ends.
func (f *fitter) track(d *slidingDoor, door *DoorFit, hand job.Hand) {
	b := &f.lay.Bays[d.bay]
	s := door.Door.Slide
	at := d.parked(hand)
	need := span{min(at.from, d.closed.from) - d.stop, max(at.to, d.closed.to) + d.stop}
	length, err := s.Length.Length(&kit.Facts{Opening: door.Opening, Leaf: door.Leaf})
	if err != nil {
		f.find(finding.DoorPark, finding.Error, b.Name, err.Error(), "mend the door in the kit")
		return
	}
	length = length.Round(f.kit.Board.Mark, measure.Up)
	if short := need.to - need.from - length; short > 0 {
		f.find(finding.DoorPark, finding.Warning, b.Name,
			fmt.Sprintf("a track of %s is %s too short to let the leaf clear the doorway", f.show(length), f.show(short)), "a longer track (the kit's track length rule)")
		f.say("found.track-short", size("length", length), size("by", short))
	}
	t := &TrackFit{Length: length, Parked: [2]measure.Length{at.from, at.to}, Closed: [2]measure.Length{d.closed.from, d.closed.to}, Hand: hand}
	// The track starts at the closed end, where the leaf must stop exactly.
	if hand == job.Left {
		t.X = [2]measure.Length{need.to - length, need.to}
	} else {
		t.X = [2]measure.Length{need.from, need.from + length}
	}
	t.Piece = f.add(Piece{
		Label: b.Name + "/track", Kind: Track, Item: s.Track, Run: b.Run, Bay: d.bay, Length: length, X: t.X[0] - d.from, Cut: true,
		State: f.out.Bays[d.bay].State,
		Why: reason.Of("track of "+b.Name, f.show(length), s.Length.String()+", up to "+f.show(f.kit.Board.Mark), f.kitSource("doors "+door.Door.ID+".slide.length", s.Of("length").Line),
			f.out.Bays[d.bay].WhyClear),
	})
	door.Track = t
}
