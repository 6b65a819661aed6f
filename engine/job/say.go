package job

import "stallwright/engine/phrase"

func called(as, s string) phrase.Arg { return phrase.With(as, phrase.Name(s)) }

// stepSays are the states for a crew in any language.
var stepSays = map[Step]string{
	StepDelivered: "state.delivered", StepStanding: "state.standing", StepTight: "state.tight", StepLagged: "state.lagged",
	StepDrawn: "kind.state-drawn", StepMeasured: "kind.state-measured", StepReleased: "kind.state-released",
	StepCut: "kind.state-cut", StepLoaded: "kind.state-loaded",
}

// Say is the state for a crew in any language; drawn for none.
func (s Step) Say() phrase.Phrase {
	if key, ok := stepSays[s]; ok {
		return phrase.Of(key)
	}
	return phrase.Of(stepSays[StepDrawn])
}

// say is what an entry states, as words has it.
func (s *State) say() phrase.Phrase {
	if s.Is == StepMeasured {
		return phrase.Of("state.for-release")
	}
	return s.Is.Say()
}

// say is the step as word has it.
func (f FillState) say(at Stands) phrase.Phrase {
	switch {
	case f.Is != "":
		return f.Is.Say()
	case len(at.All) > 0:
		return phrase.Of("state.only", phrase.With("state", StepMeasured.Say()))
	}
	return phrase.Of("state.only", phrase.With("state", StepDrawn.Say()))
}

// frameSay is a frame's state as frameWord has it.
func (p *Progress) frameSay(run string) phrase.Phrase {
	if s := p.frames[run]; s != nil {
		return phrase.Of("state.only", phrase.With("state", s.Is.Say()))
	}
	return phrase.Of("state.not-stated")
}
