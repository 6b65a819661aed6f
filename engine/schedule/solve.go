package schedule

import (
	"context"
	"math/rand/v2"
)

// DefaultWork is the work spent when Options names none: a fraction of a second.
const DefaultWork int64 = 5_000_000

// Options steer the search. The zero value is the default.
type Options struct {
	// Work is what the search may spend, in elementary steps, the same on every
	// machine; zero means DefaultWork. A first schedule and a bound are made
	// whatever they cost.
	Work int64
}

// Planned is when an activity is done.
type Planned struct {
	Start, Finish     Moment
	StartAt, FinishAt int64 // on the axis of working minutes
	// Slack is how many working minutes later it may start without the whole
	// taking longer, if everybody keeps to the order of the schedule.
	Slack int64
}

// Task is what is done of an activity on one day.
type Task struct {
	Activity int   // index
	From, To int64 // minutes of the day
	Begins   bool  // it starts here, and is not carried over from a day before
	Ends     bool  // it finishes here
}

// Day is one day's work, in order of time and then of activity.
type Day struct {
	Day   int64 // counted from day 0, days off too; days without tasks are left out
	Tasks []Task
}

// Schedule is the answer. Planned is parallel to Project.Activities.
type Schedule struct {
	Planned  []Planned
	Days     []Day
	Minutes  int64 // working minutes from the start of day 0 to the last finish
	Bound    int64 // no schedule takes fewer working minutes
	Proven   bool  // Minutes equals Bound: no schedule is shorter
	Critical []int // activities that hold one another up, from the start to the last finish
	Work     int64 // elementary steps spent
	Stopped  bool  // the work or the context ended the search
}

// Solve schedules a project so that it takes as few working minutes as were
// found. Of schedules as short as that it looks for one near the order in which
// the activities stand, so that a crew is not sent to and fro. The error is what Check finds. When the work or the context ends the
// search, the schedule is the best so far.
func Solve(ctx context.Context, p *Project, opt Options) (*Schedule, error) {
	if err := Check(p); err != nil {
		return nil, err
	}
	s := newSolver(ctx, compile(p), opt)
	s.run()
	out := s.in.tell(s.best)
	out.Bound, out.Proven = s.bound, s.bound == out.Minutes
	out.Work, out.Stopped = s.work(), !out.Proven
	return out, nil
}

func newSolver(ctx context.Context, in *instance, opt Options) *solver {
	s := &solver{ctx: ctx, in: in, gen: newGenerator(in), rng: rand.New(rand.NewPCG(seed, seed)), limit: opt.Work}
	if s.limit <= 0 {
		s.limit = DefaultWork
	}
	return s
}

// mostProven is the most activities for which learning from dead ends pays.
const mostProven = 500

// run finds a schedule, a bound, and brings them together as far as the work
// reaches; a part of it is kept for putting the schedule in order.
func (s *solver) run() {
	s.construct()
	b := newBounder(s.in)
	s.bound = b.best(s.end)
	s.spent += b.work
	s.shorten(s.limit - s.limit/5)
	s.tidy(s.work() + s.limit/5)
}

// shorten improves the schedule and the bound in turns, each twice as long as the
// last.
func (s *solver) shorten(limit int64) {
	if s.in.n > mostProven {
		s.improve(limit)
		return
	}
	p := newProver(s)
	for share := limit / 64; !s.over(limit); share *= 2 {
		s.improve(min(limit, s.work()+share))
		if !s.over(limit) {
			p.prove(min(limit, s.work()+2*share))
		}
	}
}
