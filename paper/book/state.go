package book

import (
	"stallwright/engine/fit"
	"stallwright/paper/words"
)

// State is how far the bays on a page are: each state that one of them is in.
type State uint8

// The states. A page may hold bays of several; none where it shows no bay.
const (
	HoldsDrawn    State = 1 << iota // not measured
	HoldsMeasured                   // measured, not released
	HoldsReleased                   // released, cut or loaded
)

// stateOf is the state of one bay. Doors come made and open bays hold nothing
// to cut: they say nothing.
func (b *binder) stateOf(bay int) State {
	if bay < 0 {
		return 0
	}
	if v := &b.Layout.Bays[bay]; v.IsDoor() || v.IsOpen() {
		return 0
	}
	return state(b.Fit.Bays[bay].State)
}

func state(s fit.State) State {
	switch {
	case s == fit.Drawn:
		return HoldsDrawn
	case s.MayCut():
		return HoldsReleased
	}
	return HoldsMeasured
}

// stateOfRun is that of all bays of a run.
func (b *binder) stateOfRun(run int) State {
	s := State(0)
	if run >= 0 {
		for _, v := range b.Layout.Runs[run].Bays {
			s |= b.stateOf(v)
		}
	}
	return s
}

// stateOfAll is that of the whole job.
func (b *binder) stateOfAll() State {
	s := State(0)
	for i := range b.Layout.Bays {
		s |= b.stateOf(i)
	}
	return s
}

// stateWords says a state to whoever holds the page.
func (b *binder) stateWords(s State) string {
	switch s {
	case 0:
		return ""
	case HoldsDrawn:
		return b.say("page.state-drawn")
	case HoldsMeasured:
		return b.say("page.state-measured")
	case HoldsReleased:
		return b.say("page.state-released")
	case HoldsMeasured | HoldsReleased:
		return b.say("page.state-partly-released")
	}
	return b.say("page.state-partly-drawn")
}

// stateWord is a single bay's state in one word.
func (b *binder) stateWord(s fit.State) string { return b.words.Say(words.State(s)) }

// counts is how many filled bays are drawn, measured and released.
func (b *binder) counts() (drawn, measured, released int) {
	for i := range b.Layout.Bays {
		switch b.stateOf(i) {
		case HoldsDrawn:
			drawn++
		case HoldsMeasured:
			measured++
		case HoldsReleased:
			released++
		}
	}
	return drawn, measured, released
}
