// Package plan runs the pipeline: frame, site, fit, take-off, setting out, order
// of work. It is the only package that knows all the stages; the command line, the
// server and the browser call Make and nothing deeper.
package plan

import (
	"slices"

	"stallwright/engine/build"
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/setout"
	"stallwright/engine/site"
	"stallwright/engine/takeoff"
)

// Plan is a job worked through.
type Plan struct {
	Job      *job.Job
	Kit      *kit.Kit
	Layout   *frame.Layout
	Site     *site.Site // what was read on site, adjusted; its places are in Layout
	Fit      *fit.Result
	Takeoff  *takeoff.Result
	Setout   *setout.Result
	Build    *build.Result     // the order of work
	Findings []finding.Finding // of all stages, errors first
}

// Make works a job through with a kit. The error is document.Problems where the
// job is at fault. The same job and kit give the same plan on every platform.
func Make(j *job.Job, k *kit.Kit) (*Plan, error) {
	p, err := fitted(j, k)
	if err != nil {
		return nil, err
	}
	return p.finished()
}

// fitted works a job through as far as every piece.
func fitted(j *job.Job, k *kit.Kit) (*Plan, error) {
	if len(j.Lumber.Lengths) == 0 {
		r := j.Reporter()
		r.Add(j.Lumber.Of("yard"), "lumber.yard", j.Lumber.Yard, "the yard's list was not read", "its file beside the job, as lumber: {yard: our-yard.yaml}, or in the shop")
		return nil, r.Err()
	}
	l, read, err := onSite(j, k)
	if err != nil {
		return nil, err
	}
	return &Plan{Job: j, Kit: k, Layout: l, Site: read, Fit: fit.MakeOn(j, k, l, levels(read, l))}, nil
}

// finished counts, sets out and orders the work of what is fitted.
func (p *Plan) finished() (*Plan, error) {
	var err error
	if p.Takeoff, err = takeoff.Make(p.Job, p.Kit, p.Layout, p.Fit); err != nil {
		return nil, err
	}
	p.Setout = setout.Make(p.Job, p.Kit, p.Layout, fieldOf(p.Job, p.Layout, p.Site))
	if p.Build, err = build.Make(build.Input{Job: p.Job, Kit: p.Kit, Layout: p.Layout, Fit: p.Fit, Takeoff: p.Takeoff, Setout: p.Setout}); err != nil {
		return nil, err
	}
	p.Findings = slices.Concat(p.Layout.Findings, p.Site.Findings, p.Fit.Findings, p.Takeoff.Findings, p.Setout.Findings, p.Build.Findings)
	finding.Sort(p.Findings)
	return p, nil
}
