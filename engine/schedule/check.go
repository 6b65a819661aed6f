package schedule

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong with a project.
type Fault struct {
	Activity string // ID of the activity it is about, or empty
	Text     string // what is wrong and what would be right
}

func (f Fault) Error() string {
	if f.Activity == "" {
		return f.Text
	}
	return fmt.Sprintf("activity %q: %s", f.Activity, f.Text)
}

// Faults is everything wrong with a project.
type Faults []Fault

func (f Faults) Error() string {
	s := make([]string, len(f))
	for i := range f {
		s[i] = f[i].Error()
	}
	return strings.Join(s, "\n")
}

// Cycle is a ring of activities each of which comes after the one before it.
// It is a single Fault's cause and is told with the IDs in order.
type Cycle struct {
	IDs []string // the first is not repeated at the end
}

func (c *Cycle) Error() string {
	return fmt.Sprintf("these activities wait for one another in a ring: %s, then %s again; one of them must not wait",
		strings.Join(c.IDs, ", then "), c.IDs[0])
}

// Check finds what is wrong with a project: Faults, or a *Cycle, or nil.
func Check(p *Project) error {
	var f Faults
	add := func(id, format string, args ...any) { f = append(f, Fault{id, fmt.Sprintf(format, args...)}) }
	checkCalendar(p, add)
	for i, r := range p.Resources {
		if r.Capacity < 0 || r.Capacity > maxCapacity {
			add("", "resource %d (%q) has a capacity of %d; it must be from 0 to %d", i, r.Name, r.Capacity, int64(maxCapacity))
		}
	}
	if len(p.Activities) > maxActivities {
		add("", "there are %d activities; at most %d are scheduled", len(p.Activities), maxActivities)
		return f
	}
	longest := longestDay(p.Calendar)
	seen := map[string]int{}
	for i := range p.Activities {
		a := &p.Activities[i]
		if other, ok := seen[a.ID]; ok {
			add(a.ID, "activities %d and %d have the same name; each needs its own", other, i)
		}
		seen[a.ID] = i
		checkActivity(p, a, longest, add)
	}
	if f == nil {
		checkReach(p, add)
	}
	if f != nil {
		return f
	}
	if c := findCycle(p); c != nil {
		return c
	}
	return nil
}

func checkActivity(p *Project, a *Activity, longest int64, add func(id, format string, args ...any)) {
	if a.ID == "" {
		add("", "an activity has no name")
	}
	if a.Minutes < 0 || a.Minutes > maxMinutes {
		add(a.ID, "takes %d minutes; it must be from 0 to %d", a.Minutes, int64(maxMinutes))
	}
	if a.Whole && len(p.Calendar.Days) > 0 && a.Minutes > longest {
		add(a.ID, "must be done within one day and takes %d minutes; the longest working day has %d", a.Minutes, longest)
	}
	for _, l := range a.After {
		if l.Activity < 0 || l.Activity >= len(p.Activities) {
			add(a.ID, "comes after activity %d; there are %d", l.Activity, len(p.Activities))
		} else if l.Lag < 0 || l.Lag > maxMinutes {
			add(a.ID, "has a lag of %d minutes after %q; it must be from 0 to %d", l.Lag, p.Activities[l.Activity].ID, int64(maxMinutes))
		}
	}
	for _, u := range a.Uses {
		switch {
		case u.Resource < 0 || u.Resource >= len(p.Resources):
			add(a.ID, "uses resource %d; there are %d", u.Resource, len(p.Resources))
		case u.Amount < 0:
			add(a.ID, "uses %d of %q; it must be at least 0", u.Amount, p.Resources[u.Resource].Name)
		}
	}
	checkUses(p, a, add)
}

// checkUses sums what is asked of a resource more than once.
func checkUses(p *Project, a *Activity, add func(id, format string, args ...any)) {
	for i, u := range a.Uses {
		if u.Resource < 0 || u.Resource >= len(p.Resources) {
			continue
		}
		sum, first := int64(0), true
		for j, v := range a.Uses {
			if v.Resource == u.Resource && v.Amount > 0 {
				first = first && j >= i
				sum = min(sum+min(v.Amount, 2*maxCapacity), 2*maxCapacity)
			}
		}
		if c := p.Resources[u.Resource].Capacity; first && sum > c {
			add(a.ID, "needs %d of %q at a time; there are %d", sum, p.Resources[u.Resource].Name, c)
		}
	}
}

func checkCalendar(p *Project, add func(id, format string, args ...any)) {
	hours := func(name string, h Hours) {
		if h.Minutes < 0 || h.Start < 0 || h.Start+h.Minutes > dayMinutes || h.Minutes > dayMinutes || h.Start > dayMinutes {
			add("", "%s works %d minutes from minute %d; hours must lie within the day's %d minutes", name, h.Minutes, h.Start, int64(dayMinutes))
		}
	}
	c := p.Calendar
	if len(c.Days) == 0 {
		if len(c.Except) > 0 {
			add("", "the calendar has exceptions and no days to except them from")
		}
		return
	}
	if len(c.Days) > 3660 || len(c.Except) > 36600 {
		add("", "the calendar lists %d days and %d exceptions; give the days of a week, which repeat", len(c.Days), len(c.Except))
	}
	for i, h := range c.Days {
		hours(fmt.Sprintf("day %d of the calendar", i), h)
	}
	if longestDay(c) == 0 {
		add("", "no day of the calendar has working hours")
	}
	seen := map[int64]bool{}
	for _, e := range c.Except {
		hours(fmt.Sprintf("the exception for day %d", e.Day), e.Hours)
		if e.Day < 0 || e.Day > maxDays {
			add("", "there is an exception for day %d; days count from 0 to %d", e.Day, int64(maxDays))
		}
		if seen[e.Day] {
			add("", "day %d has two exceptions; it can have one", e.Day)
		}
		seen[e.Day] = true
	}
}

// checkReach refuses work that would not end within the days the calendar is
// followed, even if all of it were done one after the other.
func checkReach(p *Project, add func(id, format string, args ...any)) {
	c := p.Calendar
	if len(c.Days) == 0 {
		return
	}
	turn := int64(0) // minutes of work in one turn of the days
	for _, h := range c.Days {
		turn += h.Minutes
	}
	work, turns, elapsed := int64(0), int64(2+len(c.Except)), int64(0)
	for i := range p.Activities {
		a := &p.Activities[i]
		work += a.Minutes
		if a.Whole {
			turns++
		}
		lag, wait := int64(0), int64(0)
		for _, l := range a.After {
			if l.Elapsed {
				wait = max(wait, l.Lag+dayMinutes)
			} else {
				lag = max(lag, l.Lag)
			}
		}
		work += lag
		elapsed += wait
	}
	if days := (work/turn+turns)*int64(len(c.Days)) + elapsed/dayMinutes; days > maxDays {
		add("", "with %d minutes of work in %d days the work could take %d days; at most %d are planned", turn, len(c.Days), days, int64(maxDays))
	}
}

// longestDay is the longest of the days that come again and again: a Whole
// activity that fits it will find a day.
func longestDay(c Calendar) int64 {
	most := int64(0)
	for _, h := range c.Days {
		most = max(most, h.Minutes)
	}
	return most
}

// findCycle finds a ring by depth-first search in order of the indexes.
func findCycle(p *Project) *Cycle {
	const (
		fresh = iota
		open
		done
	)
	n := len(p.Activities)
	state, next := make([]int8, n), make([]int, n)
	var path []int
	for root := range n {
		if state[root] != fresh {
			continue
		}
		path = append(path[:0], root)
		state[root] = open
		for len(path) > 0 {
			at := path[len(path)-1]
			after := p.Activities[at].After
			if next[at] == len(after) {
				state[at] = done
				path = path[:len(path)-1]
				continue
			}
			to := after[next[at]].Activity
			next[at]++
			switch state[to] {
			case fresh:
				state[to] = open
				path = append(path, to)
			case open:
				return ring(p, path, to)
			}
		}
	}
	return nil
}

// ring reads a cycle off the search's path, what comes first told first.
func ring(p *Project, path []int, to int) *Cycle {
	c := &Cycle{}
	for i := len(path) - 1; i >= 0; i-- {
		c.IDs = append(c.IDs, p.Activities[path[i]].ID)
		if path[i] == to {
			break
		}
	}
	return c
}
