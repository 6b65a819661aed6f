package frame

import (
	"fmt"

	"stallwright/engine/job"
)

// states checks the names by which the job speaks of frames and bays that have
// come some way.
func (b *builder) states() {
	var runs []string
	for i := range b.out.Runs {
		runs = append(runs, b.out.Runs[i].Name)
	}
	for i := range b.job.States {
		s := &b.job.States[i]
		path := fmt.Sprintf("states[%d]", i)
		if s.Bay != "" {
			if _, ok := b.out.bayByName[s.Bay]; !ok && !b.unframed(s.Bay) {
				b.problem(s.Of("bay"), path+".bay", s.Bay, fmt.Sprintf("there is no bay %q", s.Bay), nearest(s.Bay, b.out.BayNames()))
			}
			continue
		}
		r, ok := b.runs[s.Frame]
		switch {
		case !ok && !b.unframed(s.Frame):
			b.problem(s.Of("frame"), path+".frame", s.Frame, fmt.Sprintf("there is no frame %q", s.Frame), nearest(s.Frame, runs))
		case ok && b.out.Runs[r].Framed() && s.Is == job.StepLagged:
			b.problem(s.Of("is"), path+".is", string(s.Is), fmt.Sprintf("%s is a frame, not two channels", s.Frame), "delivered, standing, or tight")
		case ok && !b.out.Runs[r].Framed() && (s.Is == job.StepTight || s.Is == job.StepStanding):
			b.problem(s.Of("is"), path+".is", string(s.Is), fmt.Sprintf("%s has no frame to tighten: its channels are lagged to timber", s.Frame), "lagged")
		}
	}
}

// Run finds a run by name.
func (l *Layout) Run(name string) (int, bool) {
	for i := range l.Runs {
		if l.Runs[i].Name == name {
			return i, true
		}
	}
	return -1, false
}
