package packet

import (
	"fmt"
	"time"

	"stallwright/engine/build"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// Days is the work that is left on crew days, as plain text: what holds the job
// up, how near that is to the shortest possible, and a sheet for each day.
func Days(p *plan.Plan, d *build.Days, w *words.Words) []byte {
	s := &stepText{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
	s.title(p.Job.Job, "=")
	crew := "build.days-crew-assumed"
	if d.Stated {
		crew = "build.days-crew"
	}
	s.line(s.say(crew, counted("n", d.People)))
	s.line(s.say("build.days-hours", phrase.With("from", phrase.Name(clockTime(int64(d.Hours.From)))), phrase.With("to", phrase.Name(clockTime(int64(d.Hours.To)))), phrase.With("breaks", phrase.Time(d.Hours.Break))))
	s.line(s.say("build.days-length", phrase.With("time", phrase.Time(d.Minutes)), counted("n", len(d.Sheets))))
	if d.Proven {
		s.line(s.say("build.days-proven"))
	} else {
		s.line(s.say("build.days-bound", phrase.With("time", phrase.Time(d.Bound))))
	}
	s.line(s.say("build.days-network", phrase.With("time", phrase.Time(d.Network))))
	if len(d.Sheets) == 0 {
		return s.buf.Bytes()
	}
	at := map[int]*build.StepTime{}
	for i := range d.Steps {
		at[d.Steps[i].Step] = &d.Steps[i]
	}
	for i := range d.Sheets {
		v := &d.Sheets[i]
		title := s.say("build.days-day", phrase.With("day", phrase.Count(v.Day+1)))
		if v.Date != "" {
			title = s.say("build.days-date", phrase.With("day", phrase.Count(v.Day+1)), phrase.With("date", phrase.Name(v.Date)))
		}
		s.title(title, "-")
		rows := [][]string{s.cells("build.days-when", "build.days-step", "build.days-people", "build.days-slack")}
		for _, t := range v.Tasks {
			step, time := &p.Build.Steps[t.Step], at[t.Step]
			name := fmt.Sprintf("%d. %s", step.No, w.Say(step.Title))
			if t.Goes {
				name += " (" + s.say("build.days-goes-on") + ")"
			}
			slack := w.Time(time.Slack)
			if time.Slack == 0 {
				slack = s.say("build.days-none")
			}
			rows = append(rows, []string{clockTime(t.From) + "-" + clockTime(t.To), name, fmt.Sprint(time.People), slack})
		}
		s.table(rows)
	}
	s.title(s.say("build.days-path"), "-")
	for _, k := range d.Path {
		step := &p.Build.Steps[k]
		s.line(fmt.Sprintf("  %d. %s", step.No, w.Say(step.Title)))
	}
	return s.buf.Bytes()
}

func (s *stepText) cells(keys ...string) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = s.say(k)
	}
	return out
}

// clockTime is minutes after midnight as a clock shows them.
func clockTime(minutes int64) string {
	return time.Time{}.Add(time.Duration(minutes) * time.Minute).Format("15:04")
}
