package plan

import (
	"slices"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/takeoff"
)

// Sketch is a job worked through as far as a drawing board shows it, for whoever
// waits for the consequence of a change: every piece is fitted as in the plan, the
// order is counted with little search for the best cutting, nothing is set out and
// the work is not put in order. It is nothing to cut or to order from.
type Sketch struct {
	// Plan is what there is of the plan: its Setout and Build are nil, and so are
	// their findings.
	Plan *Plan

	told []finding.Finding
}

// NewSketch works a job through with the entries of its notebook. The error is as
// MakeWith's.
func NewSketch(j *job.Job, k *kit.Kit, entries []job.Entry) (*Sketch, error) {
	noted, told, err := withNotes(j, k, entries)
	if err != nil {
		return nil, err
	}
	p, err := fitted(noted, k)
	if err != nil {
		return nil, err
	}
	if p.Takeoff, err = takeoff.Sketch(noted, k, p.Layout, p.Fit); err != nil {
		return nil, err
	}
	p.Findings = slices.Concat(p.Layout.Findings, p.Site.Findings, p.Fit.Findings, p.Takeoff.Findings)
	finding.Sort(p.Findings)
	p.tell(told)
	return &Sketch{p, told}, nil
}

// Finish makes the plan that MakeWith makes, out of what is fitted already. The
// sketch stays as it is.
func (s *Sketch) Finish() (*Plan, error) {
	p := &Plan{Job: s.Plan.Job, Kit: s.Plan.Kit, Layout: s.Plan.Layout, Site: s.Plan.Site, Fit: s.Plan.Fit}
	p, err := p.finished()
	if err != nil {
		return nil, err
	}
	p.tell(s.told)
	return p, nil
}
