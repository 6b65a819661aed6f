package build_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"stallwright/engine/build"
	"stallwright/engine/plan"
	"stallwright/engine/schedule"
)

// crewed is a job with a crew.
func crewed(crew, src string) string { return "crew: " + crew + "\n" + src }

const pair = `{people: 3, start: 2026-05-18, from: 07:00, to: 15:30, break: 30, off: [2026-05-25], tools: [{tool: saw, count: 1}, {tool: drill, count: 1}]}`

func days(t *testing.T, p *plan.Plan) *build.Days {
	t.Helper()
	d, err := p.Days(context.Background(), 200_000)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// minute is a moment on one line.
func minute(m schedule.Moment) int64 { return m.Day*24*60 + m.Minute }

// What waits for something begins when that is done and cured; no more people and
// scarce tools are at work than there are; work is done in the crew's hours; and
// the bound is no longer than the schedule.
func TestDaysKeepEverything(t *testing.T) {
	for _, name := range []string{"pen on piers", "barn of one", "free-standing with feeder"} {
		p := planned(t, crewed(pair, more[name]))
		d := days(t, p)
		if d.People != 3 || !d.Stated || d.Bound > d.Minutes || d.Network > d.Minutes || len(d.Sheets) == 0 || len(d.Path) == 0 {
			t.Errorf("%s: %d people (stated %v), bound %d, network %d, takes %d on %d days", name, d.People, d.Stated, d.Bound, d.Network, d.Minutes, len(d.Sheets))
		}
		start := map[int]build.StepTime{}
		for _, s := range d.Steps {
			start[s.Step] = s
		}
		for i := range p.Build.Operations {
			o := &p.Build.Operations[i]
			for _, w := range o.After {
				if b := &p.Build.Operations[w.Op]; minute(d.Ops[i].Start) < minute(d.Ops[w.Op].Finish)+int64(b.Cure) {
					t.Errorf("%s: %s begins at %+v; %s ends at %+v and cures %d min", name, o.ID, d.Ops[i].Start, b.ID, d.Ops[w.Op].Finish, b.Cure)
				}
			}
			if f := d.Ops[i]; minute(f.Finish) <= minute(f.Start) {
				t.Errorf("%s: %s takes from %+v to %+v", name, o.ID, f.Start, f.Finish)
			}
		}
		hands := map[string]int{}
		for _, s := range d.Sheets {
			date := time.Date(2026, 5, 18, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(s.Day))
			if s.Date != date.Format(time.DateOnly) || date.Weekday() == time.Saturday || date.Weekday() == time.Sunday || s.Date == "2026-05-25" {
				t.Errorf("%s: work on day %d, %s", name, s.Day, s.Date)
			}
			for _, k := range s.Tasks {
				if k.From < 7*60 || k.To > 15*60 || k.From > k.To {
					t.Errorf("%s: step %d from minute %d to %d; work is from 420 to 900", name, k.Step+1, k.From, k.To)
				}
				for m := k.From; m < k.To; m++ {
					hands[fmt.Sprint(s.Day, m)] += start[k.Step].People
				}
			}
		}
		for at, n := range hands {
			if n > 3 {
				t.Errorf("%s: %d people at work at %s", name, n, at)
			}
		}
	}
}

// Piers cure seven days before a post stands on them, by the clock: work poured on
// a Monday is built on from the Monday after.
func TestCuringPassesByTheClock(t *testing.T) {
	p := planned(t, crewed(pair, more["barn of one"]))
	d := days(t, p)
	var poured, stood int64
	for i := range p.Build.Operations {
		switch o := &p.Build.Operations[i]; o.Kind {
		case build.Pour:
			poured = max(poured, minute(d.Ops[i].Finish))
		case build.Stand:
			if stood == 0 || minute(d.Ops[i].Start) < stood {
				stood = minute(d.Ops[i].Start)
			}
		}
	}
	if stood < poured+7*24*60 {
		t.Errorf("poured until minute %d, the first post stands at %d: %.1f days", poured, stood, float64(stood-poured)/1440)
	}
}

// More hands never take longer than the bound of fewer, and one pair of hands takes
// at least the sum of all it has to do.
func TestDaysByCrew(t *testing.T) {
	src := more["free-standing with feeder"]
	one := planned(t, crewed("{people: 1, start: 2026-05-18}", src))
	d := days(t, one)
	sum := int64(0)
	for _, s := range d.Steps {
		sum += int64(s.Minutes)
	}
	if d.Minutes != sum || !d.Proven {
		t.Errorf("alone: %d min for %d of work, proven %v", d.Minutes, sum, d.Proven)
	}
	if four := days(t, planned(t, crewed("{people: 4, start: 2026-05-18}", src))); four.Minutes >= d.Minutes {
		t.Errorf("four take %d min, one %d", four.Minutes, d.Minutes)
	}
}

// What is done takes no time any more.
func TestDaysOfWhatIsLeft(t *testing.T) {
	src := more["pen on piers"]
	before, after := planned(t, src), planned(t, "states:\n  - {frame: P-2, is: tight, at: 2026-05-02}\n"+src)
	if a, b := days(t, before), days(t, after); b.Minutes >= a.Minutes {
		t.Errorf("with a section up it takes %d min, without %d", b.Minutes, a.Minutes)
	}
}

// Daylight ends a day: dusk at 15:00 leaves half an hour less than a day to 15:30.
func TestDaylight(t *testing.T) {
	for crew, want := range map[string]int{
		"{people: 2, from: 07:00, to: 15:30, break: 30}":                            480,
		"{people: 2, from: 07:00, to: 15:30, break: 30, dark: 15:00}":               450,
		"{people: 2, from: 07:00, to: 15:30, break: 30, light: 07:40, dark: 16:00}": 440,
		"{people: 2}": 495,
	} {
		p := planned(t, crewed(crew, more["pen on piers"]))
		if got := p.Job.Working().Minutes(); got != want {
			t.Errorf("%s: %d min of work in a day, want %d", crew, got, want)
		}
	}
}
