package page

import (
	"encoding/json"
	"fmt"

	"stallwright/app/walk"
	"stallwright/engine/job"
)

// Walk is the measuring sheet as it stands.
type Walk struct {
	Questions []walk.Question `json:"questions"`
	Stands    string          `json:"stands,omitempty"` // id of the one to answer now
	Open      int             `json:"open"`
	Waiting   int             `json:"waiting"`
	Help      string          `json:"help"`
}

func walked(a *Asked) (any, error) {
	w, err := a.walk()
	if err != nil {
		return nil, err
	}
	return stand(w), nil
}

// walk opens the sheet at the question that is stood at.
func (a *Asked) walk() (*walk.Walk, error) {
	j, k, entries, err := a.read()
	if err != nil {
		return nil, err
	}
	w, err := walk.New(j, k, entries)
	if err != nil {
		return nil, err
	}
	if a.Question != "" && !w.Stand(a.Question) {
		return nil, fmt.Errorf("the sheet holds no question %q any more", a.Question)
	}
	return w, nil
}

func stand(w *walk.Walk) *Walk {
	out := &Walk{Questions: w.Questions(), Help: walk.Help}
	out.Open, out.Waiting = w.Left()
	if q := w.Question(); q != nil {
		out.Stands = q.ID
	}
	return out
}

// Verdict is what comes of an answer.
type Verdict struct {
	Say   []string        `json:"say"`             // sentences to show at once
	Entry json.RawMessage `json:"entry,omitempty"` // to be stamped with id, time and who, and kept; none: not taken
	Then  []string        `json:"then,omitempty"`  // what follows once it is kept
	Walk  *Walk           `json:"walk,omitempty"`  // the sheet once it is kept
}

// answered takes an answer to the question that is stood at. Nothing is kept
// here: the entry goes back to the page, which keeps it.
func answered(a *Asked) (any, error) {
	w, err := a.walk()
	if err != nil {
		return nil, err
	}
	r := w.Say(a.Typed)
	if r.Entry == nil && a.Sure {
		r = w.Say(a.Typed)
	}
	v := &Verdict{Say: r.Say}
	if r.Entry == nil {
		return v, nil
	}
	e := *r.Entry
	e.ID, e.At, e.By = a.ID, a.When, a.By
	line, err := e.Line()
	if err != nil {
		return nil, err
	}
	if e, err = job.ReadEntry(line); err != nil {
		return nil, err
	}
	if v.Then, err = w.Keep(e); err != nil {
		return nil, err
	}
	v.Entry, v.Walk = line, stand(w)
	return v, nil
}
