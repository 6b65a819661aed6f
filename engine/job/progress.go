package job

import (
	"fmt"

	"stallwright/engine/phrase"
)

// Stands is what the rules of states have to know of a bay.
type Stands struct {
	Run    string // the run it is part of
	Framed bool   // its run is delivered as a frame; else its channels are lagged to timber
	// All are the bay's own measurements in order, the latest last.
	All []*Measurement
}

// FillState is how far a bay's fill has come.
type FillState struct {
	Is      Step   // the latest step; empty where none was stated
	State   *State // the entry that says so
	Release *State // the release whose pieces count; nil where none are frozen
	Drawn   *State // the entry since which earlier measurements do not count; nil for none
}

// Refusal is an entry that does not count, and why.
type Refusal struct {
	State *State
	Why   string        // a clause without a full stop
	Do    phrase.Phrase // what would be right
	Say   phrase.Phrase // Why for a crew in any language
}

// Progress is how far the frames and fills of a job have come. The zero value is
// a job of which nothing was stated.
type Progress struct {
	frames  map[string]*State
	ready   map[string]*State // the latest entry that made a run ready to be measured, while that holds
	fills   map[string]*FillState
	stands  func(bay string) (Stands, bool)
	refused []Refusal
}

// Follow goes through entries in their order and keeps those that the rules
// allow: a bay is measured for release and released only once its frame is tight
// (or its channels are lagged), and only from a measurement taken then; cut
// follows released, loaded follows cut. stands tells of a bay; false where there
// is none of that name.
func Follow(states []State, stands func(bay string) (Stands, bool)) *Progress {
	p := &Progress{frames: map[string]*State{}, ready: map[string]*State{}, fills: map[string]*FillState{}, stands: stands}
	for i := range states {
		s := &states[i]
		if no := p.Refuses(s); no != nil {
			p.refused = append(p.refused, *no)
			continue
		}
		p.take(s)
	}
	return p
}

// take makes an entry count.
func (p *Progress) take(s *State) {
	if s.Frame != "" {
		p.frames[s.Frame] = s
		if s.Is == StepTight || s.Is == StepLagged {
			p.ready[s.Frame] = s
		} else {
			delete(p.ready, s.Frame)
		}
		return
	}
	f := p.fills[s.Bay]
	if f == nil {
		f = &FillState{}
		p.fills[s.Bay] = f
	}
	f.Is, f.State = s.Is, s
	switch s.Is {
	case StepReleased:
		f.Release = s
	case StepMeasured:
		f.Release, f.Drawn = nil, nil
	case StepDrawn:
		f.Release, f.Drawn = nil, s
	}
}

// Frame is the latest entry of a run; nil for none.
func (p *Progress) Frame(run string) *State { return p.frames[run] }

// Ready is the entry since which a run's bays can be measured for release; nil
// where they cannot.
func (p *Progress) Ready(run string) *State { return p.ready[run] }

// Fill is how far a bay has come.
func (p *Progress) Fill(bay string) FillState {
	if f := p.fills[bay]; f != nil {
		return *f
	}
	return FillState{}
}

// Refused lists the entries that do not count and that no later entry of the same
// run or bay made up for, in order.
func (p *Progress) Refused(states []State) []Refusal {
	last := map[string]int{} // index of the last entry that counts, by name
	no := map[*State]bool{}
	for _, r := range p.refused {
		no[r.State] = true
	}
	at := map[*State]int{}
	for i := range states {
		s := &states[i]
		at[s] = i
		if !no[s] {
			last[s.key()] = i
		}
	}
	var out []Refusal
	for _, r := range p.refused {
		if i, ok := last[r.State.key()]; !ok || i < at[r.State] {
			out = append(out, r)
		}
	}
	return out
}

func (s *State) key() string {
	if s.Frame != "" {
		return "frame " + s.Frame
	}
	return "bay " + s.Bay
}

// Counts says whether a measurement of a bay counts after the bay was started
// again from the drawing, if it was.
func (p *Progress) Counts(bay string, m *Measurement) bool {
	d := p.Fill(bay).Drawn
	return d == nil || Before(d.At, m.At)
}

// Refuses says why an entry cannot follow what counts so far, and what would be
// right; nil lets it.
func (p *Progress) Refuses(s *State) *Refusal {
	if s.Frame != "" {
		return nil
	}
	at, ok := p.stands(s.Bay)
	if !ok {
		return &Refusal{s, fmt.Sprintf("there is no bay %s", s.Bay), phrase.Of("way.name-bay"), phrase.Of("state.no-bay", called("bay", s.Bay))}
	}
	f := p.Fill(s.Bay)
	switch s.Is {
	case StepMeasured, StepReleased:
		return p.unready(s, at)
	case StepCut:
		if !f.Is.Frozen() {
			return &Refusal{s, fmt.Sprintf("%s cannot be cut: it is %s", s.Bay, f.word(at)), phrase.Of("way.release-first"),
				phrase.Of("state.not-cut", called("bay", s.Bay), phrase.With("now", f.say(at)))}
		}
	case StepLoaded:
		if f.Is != StepCut && f.Is != StepLoaded {
			return &Refusal{s, fmt.Sprintf("%s cannot be loaded: it is %s", s.Bay, f.word(at)), phrase.Of("way.cut-then-load"),
				phrase.Of("state.not-loaded", called("bay", s.Bay), phrase.With("now", f.say(at)))}
		}
	}
	return nil
}

// word is the step in words, measurements without an entry counted.
func (f FillState) word(at Stands) string {
	switch {
	case f.Is != "":
		return string(f.Is)
	case len(at.All) > 0:
		return "only measured"
	}
	return "only drawn"
}

// unready says why a bay cannot be measured for release, or released; nil where it
// can.
func (p *Progress) unready(s *State, at Stands) *Refusal {
	ready := p.ready[at.Run]
	bay, to := called("bay", s.Bay), phrase.With("state", s.say())
	switch {
	case ready == nil && at.Framed:
		return &Refusal{s, fmt.Sprintf("%s cannot be %s: the frame of %s is %s", s.Bay, s.words(), at.Run, p.frameWord(at.Run)),
			phrase.Of("way.stand-frame"),
			phrase.Of("state.not-tight", bay, to, called("run", at.Run), phrase.With("now", p.frameSay(at.Run)))}
	case ready == nil:
		return &Refusal{s, fmt.Sprintf("%s cannot be %s: nobody stated that its channels are lagged to both posts", s.Bay, s.words()),
			phrase.Of("way.lag-channels"), phrase.Of("state.not-lagged", bay, to)}
	case len(at.All) == 0:
		return &Refusal{s, fmt.Sprintf("%s cannot be %s: nobody measured it", s.Bay, s.words()), phrase.Of("way.measure-first"), phrase.Of("state.not-measured", bay, to)}
	}
	for _, m := range at.All {
		late := Before(s.At, m.At)
		early := Before(m.At, ready.At)
		if !late && !early && (s.Is == StepMeasured || p.Counts(s.Bay, m)) {
			return nil
		}
	}
	return &Refusal{s, fmt.Sprintf("%s cannot be %s: it was not measured since the frame is tight or the channels are lagged", s.Bay, s.words()),
		phrase.Of("way.measure-now"), phrase.Of("state.not-since", bay, to)}
}

func (s *State) words() string {
	if s.Is == StepMeasured {
		return "measured for release"
	}
	return string(s.Is)
}

func (p *Progress) frameWord(run string) string {
	if s := p.frames[run]; s != nil {
		return "only " + string(s.Is)
	}
	return "not stated to be tight"
}
