package schedule

import "sort"

// tell makes the Schedule of a project's starts.
func (in *instance) tell(start []int64) *Schedule {
	out := &Schedule{Planned: make([]Planned, in.n), Minutes: in.length(start)}
	net := in.ordered(start)
	late := net.latest(out.Minutes)
	out.Critical = net.drive(start)
	for i, s := range start {
		f := s + in.dur[i]
		p := Planned{StartAt: s, FinishAt: f, Slack: late[i] - s, Start: in.axis.start(s), Finish: in.axis.finish(f)}
		if in.dur[i] == 0 {
			p.Start = in.instant(i, start)
			p.Finish = p.Start
		}
		out.Planned[i] = p
	}
	out.Days = in.days(out.Planned)
	return out
}

// instant is when an activity that takes no time is done: in the evening with
// the last of what it comes after, unless a lag has still to run by then.
func (in *instance) instant(i int, start []int64) Moment {
	evening := in.axis.ends(start[i])
	for _, l := range in.pred[i] {
		if f := start[l.to] + in.dur[l.to]; l.elapsed && in.axis.ends(f)+l.lag > evening {
			return in.axis.start(start[i])
		}
	}
	return in.axis.finish(start[i])
}

// days lists the work day by day.
func (in *instance) days(planned []Planned) []Day {
	tasks := map[int64][]Task{}
	for i := range planned {
		p := &planned[i]
		if in.dur[i] == 0 || in.axis.endless() {
			tasks[p.Start.Day] = append(tasks[p.Start.Day], Task{i, p.Start.Minute, p.Finish.Minute, true, true})
			continue
		}
		for s := p.StartAt; s < p.FinishAt; {
			k := in.axis.dayOf(s)
			e := min(p.FinishAt, in.axis.sum[k+1])
			from, to := in.axis.start(s), in.axis.finish(e)
			tasks[from.Day] = append(tasks[from.Day], Task{i, from.Minute, to.Minute, s == p.StartAt, e == p.FinishAt})
			s = e
		}
	}
	days := make([]Day, 0, len(tasks))
	for d, t := range tasks {
		sort.SliceStable(t, func(a, b int) bool {
			return t[a].From < t[b].From || t[a].From == t[b].From && t[a].Activity < t[b].Activity
		})
		days = append(days, Day{d, t})
	}
	sort.Slice(days, func(a, b int) bool { return days[a].Day < days[b].Day })
	return days
}
