package plan

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/phrase"
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
		place := called("place", id)
		var from []*reason.Reason
		for _, w := range o.After {
			r := rules[w.Rule]
			from = append(from, reason.Of(phrase.Of("why.after", phrase.With("operation", phrase.Name(p.Build.Operations[w.Op].ID))), nil, phrase.Of("order."+string(r.ID)), p.sourceOf(r.Source)))
		}
		topics := []Topic{
			{phrase.Of("topic.order", place), reason.Of(phrase.Of("why.operation", called("operation", id)), phrase.Of("amount.operation", count("no", i+1), count("all", len(p.Build.Operations)), count("step", p.Build.Steps[o.Step].No)), phrase.Of("rule.order"), phrase.Phrase{}, from...)},
			{phrase.Of("topic.minutes", place), reason.Given(phrase.Of("why.time-with", phrase.With("people", phrase.Count(o.People))), phrase.Of("amount.minutes", count("minutes", o.Minutes)), p.sourceOf(o.WhyMinutes))},
		}
		if l := o.Lift; l != nil {
			rule := "rule.lift"
			if l.Aid {
				rule = "rule.lift-aid"
			}
			says := phrase.Of(rule, phrase.With("mass", phrase.Mass(l.Carry)), count("people", l.People), phrase.With("most", phrase.Mass(build.LiftTeam(l.People))))
			topics = append(topics, Topic{phrase.Of("topic.people", place), reason.Of(phrase.Of("why.people", called("operation", id)), phrase.Count(o.People), says, p.sourceOf(build.LiftSource))})
		}
		return topics
	}
	return nil
}

// sourceOf is what a rule or the minutes of work rest on: common practice, the kit's
// own labour, or a publication by its title.
func (p *Plan) sourceOf(s string) phrase.Phrase {
	if s == build.Practice {
		return phrase.Of("source.practice")
	}
	if path, ok := strings.CutPrefix(s, "kit "+p.Kit.Kit+", "); ok {
		return p.Kit.Line(path, 0)
	}
	return phrase.Of("source.named", called("source", s))
}

func count(as string, n int) phrase.Arg { return phrase.With(as, phrase.Count(n)) }
