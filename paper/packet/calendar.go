package packet

import (
	"fmt"
	"hash/fnv"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/plan"
	"stallwright/paper/ical"
	"stallwright/paper/words"
)

// CrewDaysName is the file of crew days in a plan's folder, and TakeoffName the
// spreadsheet there.
const (
	CrewDaysName = "crew-days.ics"
	TakeoffName  = "takeoff.xlsx"
)

// CrewDays is the crew days for calendars people carry, an entry a day with its
// steps. Day n keeps its entry from one revision to the next, wherever it moves
// to. There is no file where nobody said when work begins.
func CrewDays(p *plan.Plan, d *build.Days, w *words.Words) ([]byte, error) {
	if d == nil || len(d.Sheets) == 0 || d.Sheets[0].Date == "" {
		return nil, nil
	}
	stamp := p.Job.Date
	if stamp == "" {
		stamp = d.Sheets[0].Date
	}
	c := &ical.Calendar{Name: p.Job.Job, Number: p.Job.Revision}
	var err error
	if c.Stamp, err = ical.ParseDate(stamp); err != nil {
		return nil, err
	}
	s := &stepText{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
	where := p.Job.Farm.Name
	if p.Job.Farm.Place != "" {
		where += ", " + p.Job.Farm.Place
	}
	for i := range d.Sheets {
		v := &d.Sheets[i]
		e := ical.Event{
			UID:     fmt.Sprintf("day-%d-%s@stallwright", i+1, jobMark(p)),
			Summary: p.Job.Job + ": " + s.say("build.days-day", counted("day", i+1)), Location: where,
			Description: strings.Join(s.tasks(v), "\n"),
		}
		if e.Day, err = ical.ParseDate(v.Date); err != nil {
			return nil, err
		}
		e.From, e.To = v.Tasks[0].From, v.Tasks[0].To
		for _, t := range v.Tasks {
			e.To = max(e.To, t.To)
		}
		// The day's breaks come on top of its work.
		e.To = min(e.To+int64(d.Hours.Break), max(e.To, int64(d.Hours.To)))
		c.Events = append(c.Events, e)
	}
	return c.Write()
}

// tasks are a day's steps, a line each.
func (s *stepText) tasks(v *build.Sheet) []string {
	lines := make([]string, 0, len(v.Tasks))
	for _, t := range v.Tasks {
		step := &s.p.Build.Steps[t.Step]
		line := fmt.Sprintf("%s-%s %d. %s", clockTime(t.From), clockTime(t.To), step.No, s.w.Say(step.Title))
		if t.Goes {
			line += " (" + s.say("build.days-goes-on") + ")"
		}
		lines = append(lines, line)
	}
	return lines
}

// jobMark tells one job's entries from another's.
func jobMark(p *plan.Plan) string {
	h := fnv.New64a()
	for _, text := range []string{p.Job.Job, "\n", p.Job.Farm.Name, "\n", p.Job.Farm.Place} {
		h.Write([]byte(text))
	}
	return fmt.Sprintf("%016x", h.Sum64())
}
