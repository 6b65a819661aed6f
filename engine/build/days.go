package build

import (
	"context"
	"fmt"
	"slices"
	"time"

	"stallwright/engine/job"
	"stallwright/engine/schedule"
)

// Days is the remaining work of a job in time: which step when, with the people,
// tools and hours there are.
type Days struct {
	People int       // of the crew
	Stated bool      // by the job; else as many as the heaviest work takes at once
	Hours  job.Hours // of a working day
	Steps  []StepTime
	Ops    []OpTime // parallel to Result.Operations
	Sheets []Sheet  // days with work, in order
	// Minutes is the working time from the first to the last, and Bound a time that
	// no schedule can be shorter than; Proven says that they are equal.
	Minutes, Bound int64
	Proven         bool
	// Network is how long it would take with no end of people and tools, and Path
	// the steps that hold it up then, into Result.Steps.
	Network int64
	Path    []int
}

// StepTime is when a step is done. Done steps take no time and have no times.
type StepTime struct {
	Step          int // into Result.Steps
	Minutes       int
	People        int
	Start, Finish schedule.Moment
	// Slack is how many working minutes later it may start without the whole
	// taking longer, if everybody keeps to the order of the schedule; Float is how
	// many if there were no end of people and tools: the total float of the critical
	// path method.
	Slack, Float int64
}

// OpTime is when an operation begins and ends; both zero where it is done already.
type OpTime struct{ Start, Finish schedule.Moment }

// Sheet is one day's work.
type Sheet struct {
	Day   int64  // from the first, days off too
	Date  string // as 2026-05-18; empty where nobody said when work begins
	Tasks []Task
}

// Task is what is done of a step on one day, in minutes after midnight.
type Task struct {
	Step     int
	From, To int64
	Goes     bool // it began on a day before
}

// leastCrew is how many build where a job names no crew.
const leastCrew = 2

// Schedule puts the work that is left in time. work bounds the search, in
// elementary steps; zero is the schedule package's own. When the context ends the
// search, the schedule is the best so far. The error says what of the crew cannot
// do the work.
func Schedule(ctx context.Context, in Input, r *Result, work int64) (*Days, error) {
	m := newTimer(in, r)
	if len(m.steps) == 0 {
		return m.out, nil
	}
	p := m.project()
	net, err := schedule.Critical(p)
	if err != nil {
		return nil, fmt.Errorf("crew days: %w", err)
	}
	plan, err := schedule.Solve(ctx, p, schedule.Options{Work: work})
	if err != nil {
		return nil, fmt.Errorf("crew days: %w", err)
	}
	m.out.Network = net.Minutes
	for _, i := range net.Path {
		m.out.Path = append(m.out.Path, m.steps[i])
	}
	m.take(p, plan, net)
	return m.out, nil
}

// timer works one schedule through.
type timer struct {
	in    Input
	r     *Result
	out   *Days
	steps []int       // that are left, into Result.Steps
	at    map[int]int // of each, its place among them
	tools []string    // of which the crew has only so many
}

func newTimer(in Input, r *Result) *timer {
	m := &timer{in: in, r: r, at: map[int]int{}, out: &Days{Hours: in.Job.Working(), Ops: make([]OpTime, len(r.Operations)), People: leastCrew}}
	for i := range r.Steps {
		if !r.Steps[i].Done {
			m.at[i] = len(m.steps)
			m.steps = append(m.steps, i)
		}
	}
	for i := range r.Operations {
		m.out.People = max(m.out.People, r.Operations[i].People)
	}
	if c := in.Job.Crew; c != nil {
		m.out.People, m.out.Stated = c.People, true
		for i := range c.Tools {
			m.tools = append(m.tools, string(c.Tools[i].Tool))
		}
	}
	return m
}

// project is the remaining steps as activities: people and scarce tools as
// resources, curing as time that passes by the clock.
func (m *timer) project() *schedule.Project {
	p := &schedule.Project{Resources: []schedule.Resource{{Name: "people", Capacity: int64(m.out.People)}}, Calendar: m.calendar()}
	for i, t := range m.tools {
		p.Resources = append(p.Resources, schedule.Resource{Name: t, Capacity: int64(m.in.Job.Crew.Tools[i].Count)})
	}
	for _, s := range m.steps {
		p.Activities = append(p.Activities, m.activity(s))
	}
	return p
}

// activity is one step: its operations one after the other.
func (m *timer) activity(s int) schedule.Activity {
	v := &m.r.Steps[s]
	a := schedule.Activity{ID: fmt.Sprintf("step %d", v.No)}
	people := 1
	needs := map[string]bool{}
	links := map[int]int{} // of a step, the longest wait after it
	for _, k := range v.Ops {
		o := &m.r.Operations[k]
		for _, w := range o.After {
			before := &m.r.Operations[w.Op]
			if to, left := m.at[before.Step]; left && before.Step != s && !before.Done {
				links[to] = max(links[to], before.Cure)
			}
		}
		if o.Done {
			continue
		}
		a.Minutes += m.spent(o)
		people = max(people, min(o.People, m.out.People))
		a.Whole = a.Whole || o.Kind == Pour
		for _, t := range o.Tools {
			needs[t.Key] = true
		}
	}
	a.Whole = a.Whole && a.Minutes <= int64(m.out.Hours.Minutes())
	var order []int
	for to := range links {
		order = append(order, to)
	}
	slices.Sort(order)
	for _, to := range order {
		a.After = append(a.After, schedule.Link{Activity: to, Lag: int64(links[to]), Elapsed: links[to] > 0})
	}
	a.Uses = []schedule.Use{{Resource: 0, Amount: int64(people)}}
	for i, t := range m.tools {
		if needs[t] {
			a.Uses = append(a.Uses, schedule.Use{Resource: i + 1, Amount: 1})
		}
	}
	return a
}

// spent is how long an operation takes a crew that may be smaller than it wants:
// the same work by fewer hands.
func (m *timer) spent(o *Operation) int64 {
	if o.People <= m.out.People {
		return int64(o.Minutes)
	}
	return int64((o.Minutes*o.People + m.out.People - 1) / m.out.People)
}

// calendar is the crew's week from its first day on.
func (m *timer) calendar() schedule.Calendar {
	h := m.out.Hours
	day := schedule.Hours{Start: int64(h.From), Minutes: int64(h.Minutes())}
	first := time.Monday
	if !h.Start.IsZero() {
		first = h.Start.Weekday()
	}
	var c schedule.Calendar
	for k := range 7 {
		v := schedule.Hours{}
		if h.Days[(int(first)+k)%7] {
			v = day
		}
		c.Days = append(c.Days, v)
	}
	if h.Start.IsZero() {
		return c
	}
	for _, off := range h.Off {
		if n := int64(off.Sub(h.Start).Hours() / 24); n >= 0 {
			c.Except = append(c.Except, schedule.Except{Day: n})
		}
	}
	slices.SortFunc(c.Except, func(a, b schedule.Except) int { return int(a.Day - b.Day) })
	c.Except = slices.CompactFunc(c.Except, func(a, b schedule.Except) bool { return a.Day == b.Day })
	return c
}

// take reads a schedule back into steps, operations and days.
func (m *timer) take(p *schedule.Project, plan *schedule.Schedule, net *schedule.Network) {
	m.out.Minutes, m.out.Bound, m.out.Proven = plan.Minutes, plan.Bound, plan.Proven
	for i, s := range m.steps {
		v := &plan.Planned[i]
		m.out.Steps = append(m.out.Steps, StepTime{Step: s, Minutes: int(p.Activities[i].Minutes), People: int(p.Activities[i].Uses[0].Amount),
			Start: v.Start, Finish: v.Finish, Slack: v.Slack, Float: net.Times[i].Total})
	}
	spans := make([][]span, len(m.steps))
	for _, d := range plan.Days {
		sheet := Sheet{Day: d.Day}
		if h := m.out.Hours; !h.Start.IsZero() {
			sheet.Date = h.Start.AddDate(0, 0, int(d.Day)).Format(time.DateOnly)
		}
		for _, t := range d.Tasks {
			sheet.Tasks = append(sheet.Tasks, Task{Step: m.steps[t.Activity], From: t.From, To: t.To, Goes: !t.Begins})
			spans[t.Activity] = append(spans[t.Activity], span{d.Day, t.From, t.To})
		}
		m.out.Sheets = append(m.out.Sheets, sheet)
	}
	for i, s := range m.steps {
		m.operations(s, spans[i])
	}
}

// span is a stretch of one day.
type span struct{ day, from, to int64 }

// operations puts a step's operations one after the other into its stretches of
// time.
func (m *timer) operations(s int, in []span) {
	at := int64(0)
	for _, k := range m.r.Steps[s].Ops {
		o := &m.r.Operations[k]
		if o.Done {
			continue
		}
		end := at + m.spent(o)
		m.out.Ops[k] = OpTime{moment(in, at, false), moment(in, end, true)}
		at = end
	}
}

// moment is when so many minutes of some stretches are over; at a seam, the end of
// the one before or the start of the next.
func moment(in []span, minutes int64, end bool) schedule.Moment {
	for i, v := range in {
		if n := v.to - v.from; minutes > n || minutes == n && !end && i < len(in)-1 {
			minutes -= n
			continue
		}
		return schedule.Moment{Day: v.day, Minute: v.from + minutes}
	}
	if len(in) == 0 {
		return schedule.Moment{}
	}
	last := in[len(in)-1]
	return schedule.Moment{Day: last.day, Minute: last.to}
}
