package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
)

// The further states of a fill. Drawn and Measured say how far its numbers can be
// trusted; from Released on its pieces are frozen and may be cut, or are.
const (
	Released State = "released"
	Cut      State = "cut"
	Loaded   State = "loaded"
)

// MayCut says whether a saw may be set to a piece of this state.
func (s State) MayCut() bool { return s == Released || s == Cut || s == Loaded }

// Words says what may be done with a fill of this state.
func (s State) Words() string {
	switch s {
	case Drawn:
		return "drawn, not measured: order from it, cut nothing"
	case Measured:
		return "measured, not released: cut nothing yet"
	case Released:
		return "released: cut it"
	case Cut:
		return "cut"
	case Loaded:
		return "loaded"
	}
	return string(s)
}

// Order ranks the states, drawn first.
func (s State) Order() int {
	for i, v := range []State{Drawn, Measured, Released, Cut, Loaded} {
		if v == s {
			return i
		}
	}
	return -1
}

// follow reads how far frames and fills have come.
func (f *fitter) follow() {
	f.out.progress = job.Follow(f.job.States, f.stands)
	f.out.Frames = make([]job.Step, len(f.lay.Runs))
	for i := range f.lay.Runs {
		if s := f.out.progress.Frame(f.lay.Runs[i].Name); s != nil {
			f.out.Frames[i] = s.Is
		}
	}
	for _, r := range f.out.progress.Refused(f.job.States) {
		where := ""
		if at := r.State.Pos().String(); at != "" {
			where = " (" + at + ")"
		}
		f.find(finding.StateOrder, finding.Error, r.State.Name(), r.Why+"; this entry does not count"+where, r.Do)
		f.say("state.does-not-count", phrase.With("why", r.Say))
	}
}

// stands tells the rules of states about a bay.
func (f *fitter) stands(bay string) (job.Stands, bool) {
	i, ok := f.lay.Bay(bay)
	if !ok {
		return job.Stands{}, false
	}
	r := &f.lay.Runs[f.lay.Bays[i].Run]
	return job.Stands{Run: r.Name, Framed: r.Framed(), All: f.measured[bay]}, true
}

// Progress is how far the job's frames and fills have come.
func (r *Result) Progress() *job.Progress { return r.progress }

// counting is the bay's measurement that counts, and the one before it; nil for
// none.
func (f *fitter) counting(bay string) (m, before *job.Measurement) {
	for _, v := range f.measured[bay] {
		if f.out.progress.Counts(bay, v) {
			m, before = v, m
		}
	}
	return m, before
}

// early tells of a bay that was measured although its frame is known not to be
// tight.
func (f *fitter) early(i int) {
	r := &f.lay.Runs[f.lay.Bays[i].Run]
	s := f.out.progress.Frame(r.Name)
	if s != nil && f.out.progress.Ready(r.Name) == nil {
		f.find(finding.MeasuredEarly, finding.Warning, f.lay.Bays[i].Name,
			fmt.Sprintf("measured, but its frame is only %s: its width changes once it is tightened", s.Is), phrase.Of("way.tighten-measure"))
		f.say("state.early", phrase.With("state", s.Is.Say()))
	}
}
