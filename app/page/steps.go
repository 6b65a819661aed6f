package page

import (
	"fmt"

	"stallwright/app/record"
	"stallwright/engine/build"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

// Steps is the order of work as a crew reads it on a phone.
type Steps struct {
	Steps    []Step        `json:"steps"`
	Problems []record.Open `json:"problems"`
}

// Step is one page of it.
type Step struct {
	ID         string      `json:"id"` // the same while the work is the same: its first operation's
	No         int         `json:"no"`
	Title      string      `json:"title"`
	Place      string      `json:"place"`
	Done       bool        `json:"done"`
	By         string      `json:"by,omitempty"` // who ticked it off
	At         string      `json:"at,omitempty"`
	Note       string      `json:"note,omitempty"` // what was written down with the tick: a measure read
	Adds       []string    `json:"adds"`           // labels of the pieces it adds
	Operations []Operation `json:"operations"`
}

// Operation is one thing to do.
type Operation struct {
	ID       string   `json:"id"`
	Do       string   `json:"do"`
	How      []string `json:"how"`
	Parts    []string `json:"parts"`
	Bolts    []string `json:"bolts"`
	Tools    []string `json:"tools"`
	People   int      `json:"people"`
	Time     string   `json:"time"`
	Check    string   `json:"check,omitempty"`
	CheckNM  int64    `json:"check_nm,omitempty"`
	Cautions []string `json:"cautions"`
}

// ordered answers with the order of work and how far it is.
func ordered(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	records, err := a.records()
	if err != nil {
		return nil, err
	}
	w, err := a.words(p)
	if err != nil {
		return nil, err
	}
	progress := record.ProgressOf(records)
	ticks := map[string]record.StepState{}
	for _, s := range progress.Steps {
		ticks[s.Step] = s
	}
	out := &Steps{Steps: []Step{}, Problems: progress.Problems}
	for i := range p.Build.Steps {
		s := step(p, w, &p.Build.Steps[i])
		if t, ok := ticks[s.ID]; ok {
			s.Done, s.By, s.At, s.Note = s.Done || t.Done, t.By, t.At, t.Note
		}
		out.Steps = append(out.Steps, s)
	}
	return out, nil
}

// stepID names a step: the same while the work is the same.
func stepID(p *plan.Plan, s *build.Step) string { return p.Build.Operations[s.First].ID }

func step(p *plan.Plan, w *words.Words, s *build.Step) Step {
	v := Step{ID: stepID(p, s), No: s.No, Title: w.Say(s.Title), Place: s.Place.Name, Done: s.Done, Adds: []string{}}
	for _, n := range s.Adds {
		v.Adds = append(v.Adds, p.Fit.Pieces[n].Label)
	}
	for _, n := range s.Ops {
		v.Operations = append(v.Operations, operation(p, w, &p.Build.Operations[n]))
	}
	return v
}

func operation(p *plan.Plan, w *words.Words, o *build.Operation) Operation {
	v := Operation{ID: o.ID, Do: w.Say(o.Do), How: says(w, o.How), Parts: []string{}, Bolts: uses(p, w, o.Bolts), Tools: []string{},
		People: o.People, Time: w.Time(int64(o.Minutes)), Cautions: says(w, o.Cautions)}
	for _, n := range o.Adds {
		t := p.Fit.Pieces[n].Label
		if l := p.Fit.Pieces[n].Length; l > 0 {
			t += " " + w.Length(l)
		}
		v.Parts = append(v.Parts, t)
	}
	v.Parts = append(v.Parts, uses(p, w, o.Parts)...)
	for _, t := range o.Tools {
		name := w.Say(phrase.Of("build.tool-" + t.Key))
		if t.Size > 0 {
			name += " " + w.Length(t.Size)
		}
		v.Tools = append(v.Tools, name)
	}
	if o.Check != nil {
		v.Check, v.CheckNM = w.Say(o.Check.What), int64(o.Check.Value)
	}
	return v
}

func says(w *words.Words, list []phrase.Phrase) []string {
	out := []string{}
	for _, v := range list {
		out = append(out, w.Say(v))
	}
	return out
}

// uses lists hardware: how many, what, how long.
func uses(p *plan.Plan, w *words.Words, list []build.Use) []string {
	out := []string{}
	for _, t := range packet.Hardware(p, w, list) {
		out = append(out, fmt.Sprintf("%d × %s", t.Count, t.What))
	}
	return out
}
