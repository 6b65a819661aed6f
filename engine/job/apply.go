package job

import (
	"slices"
	"strings"
)

// Apply adds a notebook's entries to a job: measurements, readings, states, spots
// and obstructions, each with who and when. The job itself is not changed. Entries may come in any order
// and more than once; they are taken in order of time, then id. Where the job's own
// lists say when something was read, entries go in among them by time, else after
// them. Whether the job holds the bays and posts they name is for frame.Build to
// say.
//
// Clear widths read one height after another make one measurement; a height read
// again starts a new one that keeps the others. What was read before a frame was
// tight (or channels were lagged), or before a bay was started again from the
// drawing, is not mixed with what was read after.
func Apply(j *Job, entries []Entry) *Job {
	a := applied(j, entries)
	a.finish()
	return a.job
}

// Heights is the clear width of each bay that entries speak of, as far as it was
// read since the bay's frame was tight: heights not read are none. A bay that is
// not in it stands as the job itself holds it.
func Heights(j *Job, entries []Entry) map[string]Width {
	a := applied(j, entries)
	out := map[string]Width{}
	for bay, r := range a.round {
		if r == nil {
			out[bay] = Width{}
		} else {
			out[bay] = Width{Bottom: r.m.Width.Bottom, Middle: r.m.Width.Middle, Top: r.m.Width.Top}
		}
	}
	return out
}

// applier turns entries into parts of a job.
type applier struct {
	job    *Job
	rounds []*round // in the order they were begun
	round  map[string]*round
	plumb  map[string]*Reading // plumb readings that are not complete, by post
}

// round is one measurement in the making.
type round struct {
	m    Measurement
	read map[Height]bool // in this round
}

// applied takes entries into a copy of a job, measurements in the making apart.
func applied(j *Job, entries []Entry) *applier {
	ordered, _ := InOrder(entries)
	out := *j
	out.Measurements, out.Readings, out.States = slices.Clone(j.Measurements), slices.Clone(j.Readings), slices.Clone(j.States)
	out.Spots, out.Obstructions = slices.Clone(j.Spots), slices.Clone(j.Obstructions)
	a := &applier{job: &out, round: map[string]*round{}, plumb: map[string]*Reading{}}
	for i := range ordered {
		a.take(&ordered[i])
	}
	return a
}

func (a *applier) take(e *Entry) {
	switch {
	case e.Width != nil:
		a.width(e)
	case e.Plumb != nil:
		a.lean(e)
	case e.Reading != nil:
		a.levelled(e.Reading.Level)
		a.job.Readings = among(a.job.Readings, *e.Reading, func(r *Reading) string { return r.At })
	case e.State != nil:
		a.job.States = among(a.job.States, *e.State, func(s *State) string { return s.At })
		a.state(e.State)
	case e.Spot != nil:
		a.spot(e.Spot)
	case e.Crosses != nil:
		a.job.Obstructions = append(a.job.Obstructions, *e.Crosses)
	}
}

// levelled drops the floors that the job states of a structure once the rod stands
// at one of its posts: they count from another line. Names of posts begin with
// their structure's.
func (a *applier) levelled(post string) {
	structure, _, ok := strings.Cut(post, ".")
	if !ok {
		return
	}
	a.job.Floors = slices.DeleteFunc(slices.Clone(a.job.Floors), func(f Floor) bool { return strings.HasPrefix(f.Post, structure+".") })
}

// spot adds a place for the rod; one that was found twice is one.
func (a *applier) spot(s *Spot) {
	for i := range a.job.Spots {
		if a.job.Spots[i].Name == s.Name {
			return
		}
	}
	a.job.Spots = append(a.job.Spots, *s)
}

// among puts what was written at a time behind everything in a list that is not
// known to be later.
func among[T any](list []T, v T, at func(*T) string) []T {
	i := len(list)
	for i > 0 && Before(at(&v), at(&list[i-1])) {
		i--
	}
	return slices.Insert(list, i, v)
}

// width takes one height of a bay's clear width.
func (a *applier) width(e *Entry) {
	w := e.Width
	r, open := a.round[w.Bay]
	switch {
	case !open:
		r = &round{m: Measurement{Bay: w.Bay}, read: map[Height]bool{}}
		if m := a.latest(w.Bay); m != nil {
			r.m.Width = Width{Bottom: m.Width.Bottom, Middle: m.Width.Middle, Top: m.Width.Top}
		}
		a.begin(r)
	case r == nil: // all read before is void
		r = &round{m: Measurement{Bay: w.Bay}, read: map[Height]bool{}}
		a.begin(r)
	case r.read[w.Height]:
		again := &round{m: r.m, read: map[Height]bool{}}
		r = again
		a.begin(r)
	}
	r.read[w.Height] = true
	switch w.Height {
	case AtBottom:
		r.m.Width.Bottom = w.Is
	case AtMiddle:
		r.m.Width.Middle = w.Is
	case AtTop:
		r.m.Width.Top = w.Is
	}
	r.m.Where, r.m.By, r.m.At, r.m.From = w.Where, e.By, e.At, w.From
	r.m.Note = joinNotes(r.m.Note, e.Note)
}

func joinNotes(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "" || a == b:
		return a
	}
	return a + "; " + b
}

func (a *applier) begin(r *round) {
	a.round[r.m.Bay] = r
	a.rounds = append(a.rounds, r)
}

// latest is the last measurement of a bay that the job itself holds.
func (a *applier) latest(bay string) *Measurement {
	for i := len(a.job.Measurements) - 1; i >= 0; i-- {
		if m := &a.job.Measurements[i]; m.Bay == bay {
			return m
		}
	}
	return nil
}

// state ends the rounds of bays whose earlier readings are void by it. A bay is
// called as its run, or its run's name goes before its own.
func (a *applier) state(s *State) {
	if s.Bay != "" {
		if s.Is == StepDrawn {
			a.round[s.Bay] = nil
		}
		return
	}
	if s.Is != StepTight && s.Is != StepLagged {
		return
	}
	for _, r := range a.rounds {
		if r.m.Bay == s.Frame || strings.HasPrefix(r.m.Bay, s.Frame+"-") {
			a.round[r.m.Bay] = nil
		}
	}
	for i := range a.job.Measurements {
		if bay := a.job.Measurements[i].Bay; bay == s.Frame || strings.HasPrefix(bay, s.Frame+"-") {
			a.round[bay] = nil
		}
	}
}

// lean takes one number of a plumb reading.
func (a *applier) lean(e *Entry) {
	p := e.Plumb
	r := a.plumb[p.Post]
	if r == nil {
		r = &Reading{Plumb: p.Post}
		a.plumb[p.Post] = r
	}
	switch p.Part {
	case PlumbOver:
		r.Over = p.Is
	case PlumbAlong:
		r.Along = p.Is
	case PlumbAcross:
		r.Across = p.Is
	}
	r.Where, r.By, r.At, r.Note = p.Where, e.By, e.At, joinNotes(r.Note, e.Note)
	// Over is asked last: without it nobody knows what a lean means, and a lean
	// of nothing is a reading too.
	if r.Over > 0 {
		a.job.Readings = among(a.job.Readings, *r, func(r *Reading) string { return r.At })
	}
}

// finish adds the measurements; one without its bottom width does not count yet.
func (a *applier) finish() {
	for _, r := range a.rounds {
		if r.m.Width.Bottom > 0 {
			a.job.Measurements = among(a.job.Measurements, r.m, func(m *Measurement) string { return m.At })
		}
	}
}
