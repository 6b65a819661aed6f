package page

import (
	"encoding/json"
	"fmt"
	"strings"

	"stallwright/app/walk"
	"stallwright/engine/job"
)

// Walk is the measuring sheet as it stands.
type Walk struct {
	Questions []Question `json:"questions"`
	Stands    string     `json:"stands,omitempty"` // id of the one to answer now
	Open      int        `json:"open"`
	Waiting   int        `json:"waiting"`
	Help      string     `json:"help"`
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
	own := *j
	own.Language = a.language(j)
	w, err := walk.New(&own, k, entries)
	if err != nil {
		return nil, err
	}
	if a.Question != "" && !w.Stand(a.Question) {
		return nil, fmt.Errorf("the sheet holds no question %q any more", a.Question)
	}
	return w, nil
}

func stand(w *walk.Walk) *Walk {
	out := &Walk{Questions: []Question{}, Help: strings.Join(w.Help(), "\n")}
	p := w.Plan()
	for _, q := range w.Questions() {
		v := Question{ID: q.ID, No: q.No, Of: q.Of, Kind: string(q.Kind), Place: q.Place, Ask: q.Ask, How: q.How, Watch: q.Watch, Type: q.Type, Status: string(q.Status)}
		if q.Known {
			v.Expected, v.ExpectedNM, v.Drawn = p.Show(q.Expected), int64(q.Expected), q.Drawn
		}
		if q.HasRead {
			v.Read, v.ReadNM = p.Show(q.Read), int64(q.Read)
		}
		out.Questions = append(out.Questions, v)
	}
	out.Open, out.Waiting = w.Left()
	if q := w.Question(); q != nil {
		out.Stands = q.ID
	}
	return out
}

// Question is one question of the sheet.
type Question struct {
	ID         string `json:"id"`
	No         int    `json:"no"`
	Of         int    `json:"of"`
	Kind       string `json:"kind"` // length, small, ready, release
	Place      string `json:"place"`
	Ask        string `json:"ask"`
	How        string `json:"how"`
	Watch      string `json:"watch,omitempty"`
	Type       string `json:"type"` // how to type the answer
	Status     string `json:"status"`
	Expected   string `json:"expected,omitempty"`
	ExpectedNM int64  `json:"expected_nm,omitempty"`
	Drawn      bool   `json:"drawn,omitempty"` // expected as drawn, not from other readings
	Read       string `json:"read,omitempty"`
	ReadNM     int64  `json:"read_nm,omitempty"`
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
