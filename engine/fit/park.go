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
	return append(append(out, f.meetsTracks(k, hand, line)...), f.meetsOthers(d, at, hand)...)
}

// meetsTracks finds tracks that are set already and that this door's would run into,
// where the leaves stay clear of each other: two tracks cannot hang in one place.
func (f *fitter) meetsTracks(k int, hand job.Hand, line []int) []trouble {
	d := &f.sliding[k]
	own, short, err := f.trackSpan(d, hand)
	if err != nil {
		return nil // told when the track is set
	}
	var out []trouble
	for _, o := range line {
		t := f.out.Bays[f.sliding[o].bay].Door.Track
		if o == k || t == nil || d.parked(hand).meets(span{t.Parked[0], t.Parked[1]}) > 0 || d.parked(hand).meets(f.sliding[o].closed) > 0 {
			continue // told of the leaves
		}
		// What a track has over its need is cut off; see track.
		if m := own.meets(span{t.X[0], t.X[1]}); m > max(0, -short) {
			name := f.lay.Bays[f.sliding[o].bay].Name
			out = append(out, trouble{finding.DoorMeets, fmt.Sprintf("parked on the %s, its track runs %s into the track of %s", hand, f.show(m), name),
				phrase.Of("found.park-tracks", onHand(hand), size("by", m), called("bay", name))})
		}
	}
	return out
}

// trackSpan is where a door's track hangs for a leaf that parks on one side, and how
// much too short it is to carry the leaf there.
func (f *fitter) trackSpan(d *slidingDoor, hand job.Hand) (at span, short measure.Length, err error) {
	door := f.out.Bays[d.bay].Door
	p := d.parked(hand)
	need := span{min(p.from, d.closed.from) - d.stop, max(p.to, d.closed.to) + d.stop}
	length, err := door.Door.Slide.Length.Length(&kit.Facts{Opening: door.Opening, Leaf: door.Leaf})
	if err != nil {
		return span{}, 0, err
	}
	length = length.Round(f.kit.Board.Mark, measure.Up)
	// The track starts at the closed end, where the leaf must stop exactly.
	if hand == job.Left {
		return span{need.to - length, need.to}, need.to - need.from - length, nil
	}
	return span{need.from, need.from + length}, need.to - need.from - length, nil
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
		f.find(t.code, finding.Warning, b.Name, t.message, phrase.Of("way.slide-other", phrase.With("key", phrase.Name("slides"))), phrase.Of("way.move-doorway"), phrase.Of("way.narrower-door"))
		f.saying(t.say)
	}
	f.track(k, door, hand, line)
}

// track places the track so that it carries the leaf from closed to parked,
// with the end stops at its ends. What the kit gives it over its need is cut off where
// a neighbour's track hangs.
func (f *fitter) track(k int, door *DoorFit, hand job.Hand, line []int) {
	d := &f.sliding[k]
	b := &f.lay.Bays[d.bay]
	s := door.Door.Slide
	at := d.parked(hand)
	on, short, err := f.trackSpan(d, hand)
	if err != nil {
		f.find(finding.DoorPark, finding.Error, b.Name, err.Error(), phrase.Of("way.mend-door"))
		f.say("found.mend-rule", called("rule", "doors "+door.Door.ID+".slide.length"))
		return
	}
	rule := phrase.Of("rule.formula-up", phrase.With("formula", phrase.Formula(s.Length.String())), phrase.With("mark", phrase.Length(f.kit.Board.Mark)))
	for _, o := range line {
		t := f.out.Bays[f.sliding[o].bay].Door.Track
		if o == k || t == nil {
			continue
		}
		if m := on.meets(span{t.X[0], t.X[1]}).Round(f.kit.Board.Mark, measure.Up); m > 0 && m <= -short {
			short += m
			if hand == job.Left {
				on.from += m
			} else {
				on.to -= m
			}
			rule = phrase.Of("rule.beside-track", phrase.With("rule", rule), size("by", m), called("bay", f.lay.Bays[f.sliding[o].bay].Name))
		}
	}
	length := on.to - on.from
	if short > 0 {
		f.find(finding.DoorPark, finding.Warning, b.Name,
			fmt.Sprintf("a track of %s is %s too short to let the leaf clear the doorway", f.show(length), f.show(short)), phrase.Of("way.longer-track"))
		f.say("found.track-short", size("length", length), size("by", short))
	}
	t := &TrackFit{Length: length, Parked: [2]measure.Length{at.from, at.to}, Closed: [2]measure.Length{d.closed.from, d.closed.to}, Hand: hand, X: [2]measure.Length{on.from, on.to}}
	t.Piece = f.add(Piece{
		Label: b.Name + "/track", Kind: Track, Item: s.Track, Run: b.Run, Bay: d.bay, Length: length, X: t.X[0] - d.from, Cut: true,
		State: f.out.Bays[d.bay].State,
		Why: reason.Of(phrase.Of("why.track", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(length), rule, f.kitSource("doors "+door.Door.ID+".slide.length", s.Of("length").Line),
			f.out.Bays[d.bay].WhyClear),
	})
	door.Track = t
}
