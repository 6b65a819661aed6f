package build_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/build"
	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

func short(p *plan.Plan) []finding.Finding {
	var out []finding.Finding
	for _, f := range p.Build.Findings {
		if f.Code == finding.CrewLift {
			out = append(out, f)
		}
	}
	return out
}

// One person alone may lift 23 kg (NIOSH, DHHS 94-110): of a barn whose frames weigh
// more they are told the step and the load; of a crew of four, or of none that is
// named, nothing is told.
func TestACrewTooSmallIsTold(t *testing.T) {
	src := more["barn of one"]
	alone := planned(t, "crew: {people: 1}\n"+src)
	told := short(alone)
	if len(told) != 1 || told[0].Severity != finding.Warning || told[0].Place != alone.Layout.Structures[0].Name {
		t.Fatalf("told %+v", told)
	}
	var most measure.Mass
	at, steps := -1, map[int]bool{}
	for i := range alone.Build.Operations {
		o := &alone.Build.Operations[i]
		if o.Lift == nil || o.Lift.Carry <= 23*measure.Kilogram {
			continue
		}
		steps[o.Step] = true
		if o.Lift.Carry > most {
			most, at = o.Lift.Carry, i
		}
	}
	if at < 0 {
		t.Fatal("nothing is heavy; another job is needed here")
	}
	o := &alone.Build.Operations[at]
	for _, want := range []string{fmt.Sprintf("step %d (%s)", alone.Build.Steps[o.Step].No, o.ID), alone.ShowMass(most), alone.ShowMass(build.LiftOne), fmt.Sprintf("in %d of its steps", len(steps))} {
		if !strings.Contains(told[0].Message, want) {
			t.Errorf("%q lacks %q", told[0].Message, want)
		}
	}
	for _, crew := range []string{"crew: {people: 4}\n", ""} {
		if told := short(planned(t, crew+src)); len(told) > 0 {
			t.Errorf("%q: told %+v", crew, told)
		}
	}
}
