package plan

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/reason"
)

// Stages is what the order of work is made of.
func (p *Plan) Stages() build.Input {
	return build.Input{Job: p.Job, Kit: p.Kit, Layout: p.Layout, Fit: p.Fit, Takeoff: p.Takeoff, Setout: p.Setout}
}

// Days puts the work that is left in time, with the job's crew; see build.Schedule.
func (p *Plan) Days(ctx context.Context, work int64) (*build.Days, error) {
	return build.Schedule(ctx, p.Stages(), p.Build, work)
}

// Repair works out how to replace a course of a bay, by its name and number: 7,
// c7, or c7L where one end of the piece's label says which of several boards is
// meant. The error is an UnknownError or a build.RepairError.
func (p *Plan) Repair(bay, course string) (*build.Replacement, error) {
	i, ok := p.Layout.Bay(bay)
	if !ok {
		return nil, p.unknown(bay, bay)
	}
	digits := strings.TrimPrefix(course, "c")
	end := strings.IndexFunc(digits, func(r rune) bool { return r < '0' || r > '9' })
	side := ""
	if end >= 0 {
		digits, side = digits[:end], digits[end:]
	}
	n, err := strconv.Atoi(digits)
	if err != nil {
		return nil, &build.RepairError{Why: fmt.Sprintf("%q is no course", course), Do: "its number from 1 at the bottom, as 7"}
	}
	return build.Repair(p.Stages(), i, n, side)
}

// whyWork tells why an operation of the order of work stands where it does, takes
// so long and needs so many people; nothing where there is none of that ID.
func (p *Plan) whyWork(id string) []Topic {
	rules := map[build.RuleID]build.Rule{}
	for _, r := range build.Rules() {
		rules[r.ID] = r
	}
	for i := range p.Build.Operations {
		o := &p.Build.Operations[i]
		if o.ID != id {
			continue
		}
		var from []*reason.Reason
		for _, w := range o.After {
			r := rules[w.Rule]
			from = append(from, reason.Of("after "+p.Build.Operations[w.Op].ID, "", r.Says, r.Source))
		}
		topics := []Topic{
			{id + ": its place in the order", reason.Of(id, fmt.Sprintf("operation %d of %d, step %d", i+1, len(p.Build.Operations), p.Build.Steps[o.Step].No), "when all before it is done, along the walls", "", from...)},
			{id + ": minutes", reason.Given("time with "+strconv.Itoa(o.People), fmt.Sprintf("%d min", o.Minutes), o.WhyMinutes)},
		}
		if l := o.Lift; l != nil {
			rule := fmt.Sprintf("%s comes on hands at once; %d may lift %s", p.ShowMass(l.Carry), l.People, p.ShowMass(build.LiftTeam(l.People)))
			if l.Aid {
				rule += ": a lifting aid"
			}
			topics = append(topics, Topic{id + ": people", reason.Of("people of "+id, strconv.Itoa(o.People), rule, build.LiftSource)})
		}
		return topics
	}
	return nil
}
