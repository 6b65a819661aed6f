package schedule

import "sort"

const (
	dayMinutes = 24 * 60
	// maxDays is how far the calendar is followed: some 5,000 years.
	maxDays = 2_000_000
)

// axis lays a calendar's working hours end to end. Its table grows as far as it
// is asked; it is not for use by two goroutines.
type axis struct {
	week   []Hours
	except map[int64]Hours
	// sum[k] is the working minutes before day k; nil for a clock that never stops.
	sum  []int64
	from []int64 // start of work of day k, in elapsed minutes
	at   int     // a guess of the day
}

func newAxis(c Calendar) *axis {
	if len(c.Days) == 0 {
		return &axis{}
	}
	x := &axis{week: c.Days, except: map[int64]Hours{}, sum: []int64{0}}
	for _, e := range c.Except {
		x.except[e.Day] = e.Hours
	}
	return x
}

// endless reports a clock that never stops.
func (x *axis) endless() bool { return x.week == nil }

func (x *axis) hours(day int64) Hours {
	if h, ok := x.except[day]; ok {
		return h
	}
	return x.week[day%int64(len(x.week))]
}

// grow adds a day to the table.
func (x *axis) grow() {
	day := int64(len(x.from))
	h := x.hours(day)
	x.from = append(x.from, day*dayMinutes+h.Start)
	x.sum = append(x.sum, x.sum[day]+h.Minutes)
}

// dayOf is the day that working minute w is worked on: the last day with
// sum[day] <= w < sum[day+1].
func (x *axis) dayOf(w int64) int {
	for x.sum[len(x.sum)-1] <= w {
		x.grow()
	}
	if k := x.at; k+1 < len(x.sum) && x.sum[k] <= w && w < x.sum[k+1] {
		return k
	}
	x.at = sort.Search(len(x.from), func(k int) bool { return x.sum[k+1] > w })
	return x.at
}

// starts is the elapsed minute at which working minute w begins.
func (x *axis) starts(w int64) int64 {
	if x.endless() {
		return w
	}
	k := x.dayOf(w)
	return x.from[k] + w - x.sum[k]
}

// ends is the elapsed minute at which w minutes of work are done.
func (x *axis) ends(w int64) int64 {
	if x.endless() {
		return w
	}
	if w <= 0 {
		return x.starts(0)
	}
	return x.starts(w-1) + 1
}

// worked is how many minutes of work are done before an elapsed minute, which is
// also the first working minute that begins no earlier.
func (x *axis) worked(t int64) int64 {
	if x.endless() {
		return t
	}
	if t < 0 {
		return 0
	}
	day := t / dayMinutes
	for int64(len(x.from)) <= day {
		x.grow()
	}
	return x.sum[day] + min(max(t-x.from[day], 0), x.sum[day+1]-x.sum[day])
}

// after is the earliest start that a link allows when what comes first finishes
// at f.
func (x *axis) after(f, lag int64, elapsed bool) int64 {
	if lag == 0 {
		return f
	}
	if !elapsed || x.endless() {
		return f + lag
	}
	return x.worked(x.ends(f) + lag)
}

// before is the latest finish that a link allows when what comes after starts at
// s; below zero if there is none.
func (x *axis) before(s, lag int64, elapsed bool) int64 {
	if lag == 0 {
		return s
	}
	if !elapsed || x.endless() {
		return s - lag
	}
	if s < 0 {
		return -1
	}
	t := x.starts(s) - lag
	if t < x.starts(0) {
		return -1
	}
	return x.worked(t)
}

// fits is the first start at or after s where d minutes need no night between.
func (x *axis) fits(s, d int64) int64 {
	if x.endless() || d == 0 {
		return s
	}
	k := x.dayOf(s)
	if s+d <= x.sum[k+1] {
		return s
	}
	for k++; ; k++ {
		for k+1 >= len(x.sum) {
			x.grow()
		}
		if x.sum[k]+d <= x.sum[k+1] {
			return x.sum[k]
		}
	}
}

// fitsBack is the last such start at or before s; below zero if there is none.
func (x *axis) fitsBack(s, d int64) int64 {
	if x.endless() || d == 0 || s < 0 {
		return s
	}
	for k := x.dayOf(s); k >= 0; k-- {
		if t := min(s, x.sum[k+1]-d); t >= x.sum[k] {
			return t
		}
	}
	return -1
}

// start tells when working minute w begins.
func (x *axis) start(w int64) Moment {
	t := x.starts(w)
	if x.endless() {
		return Moment{0, t}
	}
	return Moment{t / dayMinutes, t % dayMinutes}
}

// finish tells when w minutes of work are done. Work to midnight ends at minute
// 1440 of its day.
func (x *axis) finish(w int64) Moment {
	if w <= 0 || x.endless() {
		return x.start(w)
	}
	t := x.ends(w)
	day := (t - 1) / dayMinutes
	return Moment{day, t - day*dayMinutes}
}
