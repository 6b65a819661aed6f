package fit

import (
	"fmt"
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
)

// ReleaseError says why a bay cannot be released.
type ReleaseError struct {
	Bay string
	Why string        // a clause
	Do  phrase.Phrase // what would be right; may be empty
	Say phrase.Phrase // Why for a crew in any language
}

func (e *ReleaseError) Error() string { return e.Why }

// Release makes the entry that releases a bay: its pieces as they would be made
// now, frozen, with the clear width they are made to. by and at (as
// 2026-05-03 14:10) go into the entry. The error is a ReleaseError: the rules of
// states do not let it, nothing is to be cut for it, or something about it cannot
// be built as described.
func (r *Result) Release(bay int, by, at string) (job.State, error) {
	l := r.from.lay
	name := l.Bays[bay].Name
	s := job.State{Bay: name, Is: job.StepReleased, By: by, At: at}
	if l.Bays[bay].IsOpen() {
		return s, &ReleaseError{name, name + " is open: it holds no pieces", phrase.Phrase{}, phrase.Of("state.is-open", called("bay", name))}
	}
	if no := r.progress.Refuses(&s); no != nil {
		return s, &ReleaseError{name, no.Why, no.Do, no.Say}
	}
	if r.Bays[bay].Frozen {
		// What is frozen stands in the result; what would be made now does not.
		r = r.withdrawn(name, at)
	}
	for _, f := range r.Findings {
		if f.Place == name && f.Severity == finding.Error && f.Code != finding.StateOrder {
			var do phrase.Phrase
			if len(f.Choices) > 0 {
				do = phrase.Of("state.choose", phrase.With("way", f.Choices[0]))
			}
			return s, &ReleaseError{name, fmt.Sprintf("%s cannot be released: %s", name, f.Message), do, phrase.Of("state.not-releasable", called("bay", name), phrase.With("why", heard(&f)))}
		}
	}
	b := &r.Bays[bay]
	if b.State == Drawn || len(b.Pieces) == 0 {
		return s, &ReleaseError{name, name + " has no measured pieces to release", phrase.Of("way.measure-first"), phrase.Of("state.no-pieces", called("bay", name))}
	}
	s.Width = b.Width
	for _, k := range b.Pieces {
		s.Pieces = append(s.Pieces, frozen(&r.Pieces[k]))
	}
	return s, nil
}

// withdrawn is the job fitted again without a bay's release.
func (r *Result) withdrawn(bay, at string) *Result {
	f := r.from
	j := *f.job
	j.States = append(slices.Clip(j.States), job.State{Bay: bay, Is: job.StepMeasured, At: at})
	return MakeOn(&j, f.kit, f.lay, f.levels)
}

func frozen(p *Piece) job.Frozen {
	v := job.Frozen{Label: p.Label, Length: p.Length, Treated: p.Treated}
	if p.Item != Lumber {
		v.Item = p.Item
	}
	if p.Ripped {
		v.Covers = p.Height
	}
	return v
}
