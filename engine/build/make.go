package build

import (
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/setout"
	"stallwright/engine/takeoff"
)

// Input is a plan's stages as far as the order of work needs them; all of one job.
type Input struct {
	Job     *job.Job
	Kit     *kit.Kit
	Layout  *frame.Layout
	Fit     *fit.Result
	Takeoff *takeoff.Result
	Setout  *setout.Result
}

// Make works out the order of work. An error means that rules exclude each other
// or a sum does not come out: a fault of ours, never of the job.
func Make(in Input) (*Result, error) { return makeWithout(in) }

// makeWithout is Make with some rules left out: tests see what breaks then.
func makeWithout(in Input, rules ...RuleID) (*Result, error) {
	b := newBuilder(in)
	b.skip = map[RuleID]bool{}
	for _, r := range rules {
		b.skip[r] = true
	}
	b.gather()
	if err := b.remaining(); err != nil {
		return nil, err
	}
	b.lifts()
	b.labour()
	b.tools()
	waits := b.rules()
	if err := b.order(waits); err != nil {
		return nil, err
	}
	b.done(waits)
	b.steps()
	b.short()
	return b.out, nil
}
