// Package plan runs the pipeline: frame, fit, take-off. It is the only package
// that knows all the stages; the command line, the server and the browser call
// Make and nothing deeper.
package plan

import (
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/takeoff"
)

// Plan is a job worked through.
type Plan struct {
	Job      *job.Job
	Kit      *kit.Kit
	Layout   *frame.Layout
	Fit      *fit.Result
	Takeoff  *takeoff.Result
	Findings []finding.Finding // of all stages, errors first
}

// Make works a job through with a kit. The error is document.Problems where the
// job is at fault. The same job and kit give the same plan on every platform.
func Make(j *job.Job, k *kit.Kit) (*Plan, error) {
	l, err := frame.Build(j, k)
	if err != nil {
		return nil, err
	}
	p := &Plan{Job: j, Kit: k, Layout: l, Fit: fit.Make(j, k, l)}
	if p.Takeoff, err = takeoff.Make(j, k, l, p.Fit); err != nil {
		return nil, err
	}
	p.Findings = append(p.Findings, l.Findings...)
	p.Findings = append(p.Findings, p.Fit.Findings...)
	p.Findings = append(p.Findings, p.Takeoff.Findings...)
	finding.Sort(p.Findings)
	return p, nil
}
