// Package schedule puts activities in time: by precedence alone (the critical
// path method), and with the people, tools and room there are.
//
// In comes a Project: activities with durations, what each comes after, what it
// uses, and the calendar of working days. Out comes a Network (earliest and
// latest times, floats, the critical path) or a Schedule (when each activity
// starts and finishes, day by day, with a lower bound on what any schedule
// takes). What always holds: no activity starts before what it comes after, no
// resource is ever asked for more than it has, work is done in working hours
// only, and the same project gives the same schedule on every machine.
//
// # Time
//
// All times are minutes. Inside, work is laid on an axis of working minutes: the
// first minute of work of the first day is 0, and the last one of a day is
// followed at once by the first one of the next. An activity that may be put
// down at the end of a day runs over that seam; one that is Whole may not. Only a
// Link that is Elapsed sees the nights and the days off between.
package schedule

// Limits on input, so that no sum can overflow and no mistake of units goes by.
const (
	maxActivities = 100_000
	maxMinutes    = 10_000_000 // of one activity or lag: some 19 years
	maxCapacity   = 1_000_000
)

// Activity is a piece of work. Its place in Project.Activities is its index.
type Activity struct {
	ID      string // how people and errors name it; distinct, not empty
	Minutes int64  // of work, at least zero
	Whole   bool   // must be done within one day, as a pour of concrete
	After   []Link // what must be finished before
	Uses    []Use  // what it holds from start to finish, overnight too if it goes on next day
}

// Link says that an activity starts no earlier than a lag after another one has
// finished.
type Link struct {
	Activity int   // index of the one that comes first
	Lag      int64 // minutes, at least zero
	Elapsed  bool  // the lag runs by the clock, nights and days off too, as concrete cures
}

// Use is an amount of a resource.
type Use struct {
	Resource int   // index in Project.Resources
	Amount   int64 // at least zero and at most the capacity
}

// Resource is something there is only so much of at a time: people of a crew,
// tools, room in a stall.
type Resource struct {
	Name     string
	Capacity int64
}

// Project is everything a schedule depends on.
type Project struct {
	Activities []Activity
	Resources  []Resource
	Calendar   Calendar
}

// Hours are the working hours of a day.
type Hours struct {
	Start   int64 // minute of the day, since midnight
	Minutes int64 // of work; zero for a day off
}

// Calendar says when work is done. The zero Calendar is a clock that never
// stops: working minutes and elapsed minutes are the same, and the day is 0.
type Calendar struct {
	Days   []Hours // in turn from day 0, then from the first again; seven for a week
	Except []Except
}

// Except gives one day hours of its own: a holiday, a short day.
type Except struct {
	Day   int64 // counted from day 0
	Hours Hours
}

// Moment is a time on the calendar.
type Moment struct {
	Day    int64 // counted from day 0, days off too
	Minute int64 // of the day, since midnight
}

// Before reports whether m comes before n.
func (m Moment) Before(n Moment) bool {
	return m.Day < n.Day || m.Day == n.Day && m.Minute < n.Minute
}
