package site_test

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

// Job text in, sentence out: in barns read as the sheet says, with one reading
// wrong by half an inch to a foot, the wrong one is named first in at least 95 of
// 100 whose blunder is over the smallest that would be found; alarms elsewhere stay
// at the stated one in a thousand good readings (W. Baarda 1968).
func TestTheWrongReadingIsNamed(t *testing.T) {
	fair, named, good, alarms := 0, 0, 0, 0
	for _, rows := range []string{"one", "facing", "back-to-back"} {
		for _, n := range []int{1, 2, 3, 5} {
			src := barn(rows, n, "")
			tasks, l := tapeTasks(t, src)
			for seed := range int64(12) {
				rng := rand.New(rand.NewSource(1000*seed + int64(n)))
				values := stand(l, rng, 1).readAll(tasks)
				k := rng.Intn(len(tasks))
				by := measure.Length(8+rng.Intn(185)) * measure.SixteenthInch
				if rng.Intn(2) == 0 {
					by = -by
				}
				values[k] += by
				s, _ := adjust(t, src+written(tasks, values))
				told := said(s, finding.ReadingSuspect)
				for _, f := range told {
					if !strings.HasPrefix(f.Message, called(&tasks[k])) {
						alarms++
					}
				}
				good += len(tasks) - 1
				if by.Abs() < tasks[k].Smallest {
					continue
				}
				fair++
				if len(told) > 0 && strings.HasPrefix(told[0].Message, called(&tasks[k])) {
					named++
				} else {
					t.Logf("%s %d seed %d: %s is wrong by %v; told: %v", rows, n, seed, called(&tasks[k]), by, told)
				}
			}
		}
	}
	t.Logf("named %d of %d; %d alarms among %d good readings", named, fair, alarms, good)
	if fair < 100 || 100*named < 95*fair {
		t.Errorf("the wrong reading is named in %d of %d", named, fair)
	}
	if 1000*alarms > 3*good { // a third of the margin is chance: some 6 are expected among 5,000
		t.Errorf("%d alarms among %d good readings", alarms, good)
	}
}

// slipped plans a barn of 2×4 stalls with readings changed by f, and gives what is
// told of suspects and clashes.
func slipped(t *testing.T, seed int64, f func(tasks []site.Task, values []measure.Length) int) (told []string, wrong *site.Task, right measure.Length) {
	t.Helper()
	src := barn("facing", 4, "")
	tasks, l := tapeTasks(t, src)
	values := stand(l, rand.New(rand.NewSource(seed)), 1).readAll(tasks)
	before := append([]measure.Length(nil), values...)
	k := f(tasks, values)
	if k < 0 {
		t.Fatal("no reading to slip on: choose another seed")
	}
	j, kt, _ := draw(t, src+written(tasks, values))
	p, err := plan.Make(j, kt)
	if err != nil {
		t.Fatal(err)
	}
	return append(codes(p, finding.ReadingSuspect), codes(p, finding.ReadingsClash)...), &tasks[k], before[k]
}

func names(t *testing.T, told []string, wrong *site.Task, says string) {
	t.Helper()
	for _, m := range told {
		if strings.HasPrefix(m, called(wrong)) && strings.Contains(m, says) && strings.Contains(m, "measured by Sam (job.yaml:") {
			return
		}
	}
	t.Errorf("nothing names %s with %q: %q", called(wrong), says, told)
}

// 16' 3" written as 13' 6": the digits of feet and inches changed places, in the
// figures the tape showed, not in those between axes.
func TestTransposedDigits(t *testing.T) {
	told, wrong, right := slipped(t, 4, func(tasks []site.Task, values []measure.Length) int {
		for i, v := range values {
			feet, inches := v/measure.Foot, v%measure.Foot/measure.Inch
			if tasks[i].Kind == site.TaskDiagonal && feet == 16 && inches > 0 && inches < 10 && inches != 6 {
				values[i] = (10+inches)*measure.Foot + 6*measure.Inch + v%measure.Inch
				return i
			}
		}
		return -1
	})
	names(t, told, wrong, "Two digits changed places would explain it ("+right.String()+")")
}

// 3.52 m off a metre tape, written among feet as 3.52 ft.
func TestMetreAmongFeet(t *testing.T) {
	told, wrong, _ := slipped(t, 5, func(tasks []site.Task, values []measure.Length) int {
		hundredths := (values[7] / measure.Centimetre)
		values[7] = hundredths * measure.Foot / 100
		return 7
	})
	names(t, told, wrong, "Read in metres and written as feet would explain it")
}

// The way across written down for the bay: from the right post to another one.
func TestReadingOfTheWrongPair(t *testing.T) {
	told, wrong, _ := slipped(t, 6, func(tasks []site.Task, values []measure.Length) int {
		find := func(a, b string) int {
			for i := range tasks {
				if tasks[i].Posts[0] == a && tasks[i].Posts[1] == b {
					return i
				}
			}
			return -1
		}
		bay, across := find("A.c2", "A.c3"), find("A.c2", "A.d2")
		if d := (values[bay] - values[across]).Abs(); d < measure.Inch {
			t.Fatalf("bay and way across differ by %v only: choose another seed", d)
		}
		values[bay] = values[across]
		return bay
	})
	names(t, told, wrong, "Taken from A.c2 to A.d2 instead would explain it")
}

// Three readings wrong at once are all named, and nothing else.
func TestSeveralWrongReadings(t *testing.T) {
	var which []int
	src := barn("facing", 4, "")
	tasks, l := tapeTasks(t, src)
	values := stand(l, rand.New(rand.NewSource(11)), 1).readAll(tasks)
	for k, by := range map[int]measure.Length{3: 3 * measure.Inch, 20: -measure.Foot, 41: 2 * measure.Inch} {
		values[k] += by
		which = append(which, k)
	}
	s, _ := adjust(t, src+written(tasks, values))
	told := said(s, finding.ReadingSuspect)
	for _, k := range which {
		found := false
		for _, f := range told {
			found = found || strings.HasPrefix(f.Message, called(&tasks[k]))
		}
		if !found {
			t.Errorf("%s is not named: %v", called(&tasks[k]), told)
		}
		if r := s.Readings[k]; r.Status != site.SetAside || !r.Suspect {
			t.Errorf("reading %d: %+v", k, r)
		}
	}
	if len(told) != 3 {
		t.Errorf("%d readings are suspected: %v", len(told), told)
	}
	// Set aside, they change nothing: every post stands within four of its standard
	// deviations of where it comes out without the slips.
	for k, by := range map[int]measure.Length{3: 3 * measure.Inch, 20: -measure.Foot, 41: 2 * measure.Inch} {
		values[k] -= by
	}
	clean, _ := adjust(t, src+written(tasks, values))
	for i, p := range s.Posts {
		d := p.At.Sub(clean.Posts[i].At)
		if d.X.Abs() > 4*p.SigmaX || d.Y.Abs() > 4*p.SigmaY {
			t.Errorf("%s moves by %v with the slips", l.Posts[p.Post].Name, d)
		}
	}
}

// One stall read once over: a slip shows but cannot be located; the set is named,
// and the reading that would tell.
func TestOneSpareReadingNamesTheSet(t *testing.T) {
	s, _ := adjust(t, barn("one", 1, strings.Replace(handWorked, `195.8686"`, `198"`, 1)))
	f := said(s, finding.ReadingSuspect)
	if len(f) != 1 || !strings.Contains(f[0].Message, "The readings taken cannot tell which") {
		t.Fatalf("told: %v", f)
	}
	for i, r := range s.Readings {
		if !r.Suspect {
			t.Errorf("reading %d is not among the suspects", i)
		}
	}
}

// Posts that a few readings leave loose, and a second group of posts read only
// among themselves.
func TestTooFewReadings(t *testing.T) {
	src := barn("one", 4, `readings:
  - {distance: [A.a1, A.a2], is: 11' 6 1/2"}
  - {distance: [A.b1, A.b2], is: 11' 6 1/2"}
  - {distance: [A.a1, A.b1], is: 11' 6 1/2"}
  - {distance: [A.a2, A.b2], is: 11' 6 1/2"}
  - {distance: [A.a4, A.a5], is: 11' 6 1/2"}
`)
	s, l := adjust(t, src)
	loose := said(s, finding.PostUnplaced)
	if len(loose) == 0 {
		t.Fatalf("nothing is told: %v", s.Findings)
	}
	all := fmt.Sprint(loose)
	for _, want := range []string{"Posts A.a4 and A.a5 are measured to each other but not to the rest", "A diagonal or an offset would hold it"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not told: %s", want, all)
		}
	}
	if len(s.Wanted) == 0 || len(loose[0].Choices) == 0 {
		t.Errorf("no reading is proposed: %v", s.Wanted)
	}
	if f := said(s, finding.PostUnread); len(f) != 1 || !strings.Contains(f[0].Message, "A.a3, A.b3, A.b4 and A.b5") {
		t.Errorf("missing posts: %v", f)
	}
	for _, p := range s.Posts {
		if name := l.Posts[p.Post].Name; !p.Placed && s.Places[name] != (s.Places["none"]) {
			t.Errorf("%s is loose but moves the plan", name)
		}
	}
}
