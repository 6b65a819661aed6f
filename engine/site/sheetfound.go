package site

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// spots asks, room by room, whether a horse's floor is higher anywhere than at its
// posts. Free-standing rooms stand on what is made level for them.
func (w *walker) spots(structure int) {
	if w.s.lay.Structures[structure].Kind != frame.BarnRow && w.s.lay.Structures[structure].Kind != frame.FreeForm {
		return
	}
	for i := range w.s.lay.Rooms {
		r := &w.s.lay.Rooms[i]
		if r.Structure != structure || !r.Kind.ForHorse() {
			continue
		}
		t := Task{Kind: TaskSpots, Stage: StageFirst, Place: r.Name, Hook: phrase.Of("site.hook-spots")}
		for k := range w.s.job.Spots {
			if w.s.job.Spots[k].Room == r.Name {
				t.State = Done
			}
		}
		w.add(t)
	}
}

// crossings asks once for each structure what of the building crosses its walls:
// only where something of a building stands.
func (w *walker) crossings(structure int) {
	timber := false
	for i := range w.s.lay.Posts {
		p := &w.s.lay.Posts[i]
		timber = timber || p.Structure == structure && p.Kind == frame.Timber
	}
	if !timber {
		return
	}
	t := Task{Kind: TaskCrossings, Stage: StageFirst, Place: w.s.lay.Structures[structure].Name, Hook: phrase.Of("site.hook-crossings")}
	for i := range w.s.job.Obstructions {
		if b, ok := w.s.lay.Bay(w.s.job.Obstructions[i].Bay); ok && w.s.lay.Bays[b].Structure == structure {
			t.State = Done
		}
	}
	w.add(t)
}

// openings asks for the whole opening of each front that is framed between
// standing posts, before its frame is made: the frame is made to it.
func (w *walker) openings(structure int) {
	last := map[string]int{}
	for i := range w.s.job.Measurements {
		last[w.s.job.Measurements[i].Bay] = i
	}
	for i := range w.lay.Runs {
		r := &w.lay.Runs[i]
		if r.Structure != structure || !r.Filled(w.lay) || r.Assembly.Ends != kit.EndsMounted || w.lay.Posts[r.From].Kind != frame.Timber || w.lay.Posts[r.To].Kind != frame.Timber {
			continue
		}
		if _, one := w.lay.Bay(r.Name); one {
			continue // a front of one bay: its clear width is asked for once it stands
		}
		k, read := last[r.Name]
		if !read && w.made(r) {
			continue // too late: its frame is there, and its bays are measured
		}
		t := Task{
			Kind: TaskOpening, Stage: StageFrame, Bay: r.Name, Hook: phrase.Of("site.hook-opening"), Known: true, Drawn: !w.s.Moved(), Expected: w.between(i),
		}
		if read {
			m := &w.s.job.Measurements[k]
			t.Values, t.Readings, t.State = m.Width.Readings(), []int{k}, Done
			t.Expected = r.Drawn
			if m.From == job.FromFaces {
				t.Expected = w.between(i)
			}
			if off := m.Width.Least() - t.Expected; off.Abs() > farOff {
				t.State, t.Notes = Suspicious, append(t.Notes, phrase.Of("site.off-expected", phrase.With("off", w.s.marked(off.Abs()))))
			}
		}
		w.add(t)
	}
}

// half is half a post's side along a run.
func (w *walker) half(post, run int) measure.Length { return w.lay.Seen(post, run) / 2 }

// between is the way from face to face of a run's standing posts, as drawn or as
// they stand.
func (w *walker) between(run int) measure.Length {
	r := &w.lay.Runs[run]
	return frame.Distance(w.lay.Posts[r.From].At, w.lay.Posts[r.To].At) - w.half(r.From, run) - w.half(r.To, run)
}

// made says whether a run's frame is known to be there, or one of its bays was
// measured.
func (w *walker) made(r *frame.Run) bool {
	for i := range w.s.job.States {
		if s := &w.s.job.States[i]; s.Frame == r.Name {
			return true
		}
	}
	for _, b := range r.Bays {
		for i := range w.s.job.Measurements {
			if w.s.job.Measurements[i].Bay == w.lay.Bays[b].Name && w.lay.Bays[b].Name != r.Name {
				return true
			}
		}
	}
	return false
}
