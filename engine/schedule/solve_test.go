package schedule

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// sound checks a schedule minute by minute on a clock of its own.
func sound(t *testing.T, p *Project, s *Schedule) {
	t.Helper()
	n := newNaive(p)
	start := make([]int64, len(p.Activities))
	end := int64(0)
	for i := range start {
		start[i] = s.Planned[i].StartAt
		end = max(end, start[i]+p.Activities[i].Minutes)
	}
	for i := range start {
		if !n.allows(start, i, start[i]) {
			t.Fatalf("activity %d cannot start at %d in %v of %+v", i, start[i], start, p)
		}
		if at := s.Planned[i].Start; p.Activities[i].Minutes > 0 && at.Day*1440+at.Minute != n.at[start[i]] {
			t.Fatalf("activity %d starts at %v, the clock says %d", i, at, n.at[start[i]])
		}
		if at := s.Planned[i].Finish; p.Activities[i].Minutes > 0 && at.Day*1440+at.Minute != n.ended(start[i], p.Activities[i].Minutes) {
			t.Fatalf("activity %d ends at %v, the clock says %d", i, at, n.ended(start[i], p.Activities[i].Minutes))
		}
	}
	if s.Minutes != end || s.Bound > s.Minutes || s.Proven != (s.Bound == s.Minutes) {
		t.Fatalf("minutes %d, bound %d, proven %v; the last finish is %d", s.Minutes, s.Bound, s.Proven, end)
	}
	spent := make([]int64, len(start))
	for _, d := range s.Days {
		for _, task := range d.Tasks {
			spent[task.Activity] += task.To - task.From
		}
	}
	for i, m := range spent {
		if m != p.Activities[i].Minutes {
			t.Fatalf("the days give activity %d %d minutes, want %d", i, m, p.Activities[i].Minutes)
		}
	}
	slack(t, p, s, n, end)
}

// slack checks that all may start as late as their slack says, at once: the
// schedule's order then keeps links, days and resources, and ends in time.
func slack(t *testing.T, p *Project, s *Schedule, n *naive, end int64) {
	t.Helper()
	late := make([]int64, len(p.Activities))
	for i := range late {
		late[i] = s.Planned[i].StartAt + s.Planned[i].Slack
		if s.Planned[i].Slack < 0 || late[i]+p.Activities[i].Minutes > end {
			t.Fatalf("activity %d starts at %d with slack %d; the end is %d", i, s.Planned[i].StartAt, s.Planned[i].Slack, end)
		}
	}
	for i := range late {
		if !n.allows(late, i, late[i]) {
			t.Fatalf("with all slack used activity %d cannot start at %d in %v of %+v", i, late[i], late, p)
		}
	}
	if k := len(s.Critical); k == 0 || s.Planned[s.Critical[k-1]].FinishAt != end {
		t.Fatalf("critical %v does not lead to the last finish", s.Critical)
	}
}

func TestShortestByTryingEveryOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	proven := 0
	for range 1500 {
		p := random(rng, 7)
		s, err := Solve(context.Background(), p, Options{Work: 300_000})
		if err != nil {
			t.Fatalf("%v in %+v", err, p)
		}
		sound(t, p, s)
		best := newNaive(p).shortest()
		if s.Minutes < best || s.Bound > best || s.Proven && s.Minutes != best {
			t.Fatalf("minutes %d, bound %d, every order says %d: %+v", s.Minutes, s.Bound, best, p)
		}
		if s.Proven {
			proven++
		}
	}
	if proven < 1500 {
		t.Errorf("%d of 1500 proven", proven)
	}
}

// The prover alone, from the longest schedule and no bound, so that the other
// searches cannot hide its mistakes.
func TestProverAloneFindsTheShortest(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 1500 {
		p := random(rng, 7)
		s := newSolver(context.Background(), compile(p), Options{Work: 10_000_000})
		at := int64(0)
		s.best = make([]int64, s.in.n)
		for _, i := range s.in.order {
			for _, l := range s.in.pred[i] {
				at = max(at, s.in.axis.after(s.best[l.to]+s.in.dur[l.to], l.lag, l.elapsed))
			}
			s.best[i] = s.in.legal(i, at)
			at = s.best[i] + s.in.dur[i]
		}
		s.end, s.now = at, s.best
		newProver(s).prove(s.limit)
		if best := newNaive(p).shortest(); s.end != best || s.bound != best {
			t.Fatalf("found %d, bound %d, every order says %d: %+v", s.end, s.bound, best, p)
		}
		sound(t, p, s.in.tellBounded(s))
	}
}

func (in *instance) tellBounded(s *solver) *Schedule {
	out := in.tell(s.best)
	out.Bound, out.Proven = s.bound, s.bound == out.Minutes
	return out
}

func TestLargerSchedulesAreSoundAndTheSameAgain(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 30 {
		p := random(rng, 60)
		s, err := Solve(context.Background(), p, Options{Work: 200_000})
		if err != nil {
			t.Fatal(err)
		}
		sound(t, p, s)
		again, _ := Solve(context.Background(), p, Options{Work: 200_000})
		if d := cmp.Diff(s, again); d != "" {
			t.Fatal(d)
		}
	}
}

// More activities than the prover takes.
func TestAVeryLargeScheduleIsSound(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	p := random(rng, 60)
	for len(p.Activities) <= mostProven {
		q := random(rng, 60)
		for _, a := range q.Activities {
			a.ID = fmt.Sprint(len(p.Activities))
			at := len(p.Activities)
			a.Whole, a.Minutes = a.Whole && a.Minutes <= 8, min(a.Minutes, 8)
			a.After, a.Uses = nil, nil
			for k := max(0, at-40); k < at; k++ {
				if rng.IntN(15) == 0 {
					a.After = append(a.After, Link{Activity: k, Lag: rng.Int64N(3)})
				}
			}
			for r, res := range p.Resources {
				a.Uses = append(a.Uses, Use{r, rng.Int64N(res.Capacity + 1)})
			}
			p.Activities = append(p.Activities, a)
		}
	}
	s, err := Solve(context.Background(), p, Options{Work: 3_000_000})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p, s)
	t.Logf("%d activities take %d minutes, bound %d", len(p.Activities), s.Minutes, s.Bound)
}

func TestAnEndedContextStillGivesASchedule(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p := random(rand.New(rand.NewPCG(5, 6)), 40)
	s, err := Solve(ctx, p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p, s)
}

// Where nothing but the crew holds activities up, the crew goes through them in
// their order.
func TestEquallyShortSchedulesKeepTheOrder(t *testing.T) {
	p := &Project{Resources: []Resource{{Name: "people", Capacity: 2}}}
	for i := range 40 {
		p.Activities = append(p.Activities, Activity{ID: string(rune('A' + i)), Minutes: int64(10 + 7*i%5), Uses: []Use{{Amount: 1}}})
	}
	s, err := Solve(context.Background(), p, Options{})
	if err != nil || !s.Proven {
		t.Fatalf("%+v, %v", s, err)
	}
	var last int64
	late := 0
	for _, v := range s.Planned {
		if v.StartAt < last {
			late++
		}
		last = v.StartAt
	}
	if late > 2 {
		t.Errorf("%d of 40 activities start before the one they follow", late)
	}
}

func TestNothingToDo(t *testing.T) {
	s, err := Solve(context.Background(), &Project{}, Options{})
	if err != nil || !s.Proven || s.Minutes != 0 || len(s.Days) != 0 {
		t.Errorf("%+v, %v", s, err)
	}
}
