// Package plan runs the pipeline: frame, site, fit, take-off, setting out, order
// of work. It is the only package that knows all the stages; the command line, the
// server and the browser call Make and nothing deeper.
package plan

import (
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
	l, read, err := onSite(j, k)
	if err != nil {
		return nil, err
	}
	p := &Plan{Job: j, Kit: k, Layout: l, Site: read, Fit: fit.MakeOn(j, k, l, levels(read, l))}
	if p.Takeoff, err = takeoff.Make(j, k, l, p.Fit); err != nil {
		return nil, err
	}
	p.Setout = setout.Make(j, k, l, fieldOf(j, l, read))
	if p.Build, err = build.Make(build.Input{Job: j, Kit: k, Layout: l, Fit: p.Fit, Takeoff: p.Takeoff, Setout: p.Setout}); err != nil {
		return nil, err
	}
	p.Findings = append(p.Findings, l.Findings...)
	p.Findings = append(p.Findings, read.Findings...)
	p.Findings = append(p.Findings, p.Fit.Findings...)
	p.Findings = append(p.Findings, p.Takeoff.Findings...)
	p.Findings = append(p.Findings, p.Setout.Findings...)
	p.Findings = append(p.Findings, p.Build.Findings...)
	finding.Sort(p.Findings)
	return p, nil
}
