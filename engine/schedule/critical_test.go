package schedule_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"stallwright/engine/schedule"
)

// chain makes a project of durations and predecessors by ID.
func chain(rows ...string) *schedule.Project {
	p := &schedule.Project{}
	index := map[string]int{}
	for _, row := range rows {
		f := strings.Fields(row)
		a := schedule.Activity{ID: f[0]}
		for _, c := range f[1] {
			a.Minutes = 10*a.Minutes + int64(c-'0')
		}
		for _, before := range f[2:] {
			a.After = append(a.After, schedule.Link{Activity: index[before]})
		}
		index[a.ID] = len(p.Activities)
		p.Activities = append(p.Activities, a)
	}
	return p
}

func ids(p *schedule.Project, path []int) string {
	var s []string
	for _, i := range path {
		s = append(s, p.Activities[i].ID)
	}
	return strings.Join(s, " ")
}

// An operations textbook's project of seven arrows between six events (chapter
// on project management, problem 1; all answers printed there).
func TestDatesOfAPublishedArrowNetwork(t *testing.T) {
	p := chain("1-2 7", "1-3 10", "2-4 6 1-2", "3-4 5 1-3", "3-5 4 1-3", "4-5 3 2-4 3-4", "5-6 2 3-5 4-5")
	n, err := schedule.Critical(p)
	if err != nil {
		t.Fatal(err)
	}
	want := [][4]int64{{0, 7, 2, 9}, {0, 10, 0, 10}, {7, 13, 9, 15}, {10, 15, 10, 15}, {10, 14, 14, 18}, {15, 18, 15, 18}, {18, 20, 18, 20}}
	for i, w := range want {
		if g := n.Times[i]; [4]int64{g.ES, g.EF, g.LS, g.LF} != w {
			t.Errorf("%s: ES EF LS LF %v, want %v", p.Activities[i].ID, g, w)
		}
	}
	if n.Minutes != 20 || ids(p, n.Path) != "1-3 3-4 4-5 5-6" {
		t.Errorf("length %d, path %s", n.Minutes, ids(p, n.Path))
	}
}

// The nine activities of C. Hendrickson, Project Management for Construction
// (table 10-1): length 30, critical path A C F I. Floats computed by hand from it.
func TestFloatsOfAPublishedProject(t *testing.T) {
	p := chain("A 4", "B 3", "C 8 A", "D 7 A", "E 9 B C", "F 12 B C", "G 2 D E", "H 5 D E", "I 6 F G")
	n, err := schedule.Critical(p)
	if err != nil {
		t.Fatal(err)
	}
	total := []int64{0, 9, 0, 11, 1, 0, 1, 4, 0}
	free := []int64{0, 9, 0, 10, 0, 0, 1, 4, 0}
	for i, g := range n.Times {
		if g.Total != total[i] || g.Free != free[i] {
			t.Errorf("%s: total float %d, free %d; want %d, %d", p.Activities[i].ID, g.Total, g.Free, total[i], free[i])
		}
	}
	if n.Minutes != 30 || ids(p, n.Path) != "A C F I" {
		t.Errorf("length %d, path %s", n.Minutes, ids(p, n.Path))
	}
}

func TestACycleIsToldInOrder(t *testing.T) {
	p := chain("stand 5", "pin 5 stand", "board 5 pin")
	p.Activities[0].After = []schedule.Link{{Activity: 2}}
	_, err := schedule.Critical(p)
	var c *schedule.Cycle
	if !errors.As(err, &c) {
		t.Fatalf("error %v, want a cycle", err)
	}
	ring := strings.Join(append(c.IDs, c.IDs...), " ")
	if len(c.IDs) != 3 || !strings.Contains(ring, "stand pin board") {
		t.Errorf("ring %v", c.IDs)
	}
	if !strings.Contains(err.Error(), "stand, then pin") && !strings.Contains(err.Error(), "pin, then board") {
		t.Errorf("message %q does not name the ring in order", err)
	}
}

func TestAllFaultsAreTold(t *testing.T) {
	p := &schedule.Project{
		Activities: []schedule.Activity{
			{ID: "lift", Minutes: -1, Uses: []schedule.Use{{Resource: 0, Amount: 2}, {Resource: 0, Amount: 1}}},
			{ID: "lift", Minutes: 700, Whole: true, After: []schedule.Link{{Activity: 7}, {Activity: 0, Lag: -3}}},
			{ID: "", Uses: []schedule.Use{{Resource: 3, Amount: 1}}},
		},
		Resources: []schedule.Resource{{Name: "people", Capacity: 2}},
		Calendar: schedule.Calendar{
			Days:   []schedule.Hours{{Start: 420, Minutes: 600}},
			Except: []schedule.Except{{Day: 3, Hours: schedule.Hours{Start: 1400, Minutes: 60}}},
		},
	}
	var f schedule.Faults
	if !errors.As(schedule.Check(p), &f) {
		t.Fatal("no faults")
	}
	for _, want := range []string{"takes -1 minutes", "needs 3 of \"people\"", "same name", "longest working day has 600", "after activity 7", "lag of -3", "no name", "resource 3", "exception for day 3"} {
		if !slices.ContainsFunc(f, func(x schedule.Fault) bool { return strings.Contains(x.Error(), want) }) {
			t.Errorf("no fault tells %q in:\n%v", want, f)
		}
	}
}

func TestConcreteCuresOverTheDaysOff(t *testing.T) {
	// Monday to Friday from 7:00 to 15:00. Poured on Friday by 11:00, 48 hours of
	// curing end on Sunday, so that work goes on at 7:00 on Monday.
	week := schedule.Hours{Start: 420, Minutes: 480}
	p := chain("dig 1920", "pour 240 dig", "stand 60")
	p.Activities[1].Whole = true
	p.Activities[2].After = []schedule.Link{{Activity: 1, Lag: 48 * 60, Elapsed: true}}
	p.Calendar.Days = []schedule.Hours{week, week, week, week, week, {}, {}}
	s, err := schedule.Solve(t.Context(), p, schedule.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Planned[1].Finish; got != (schedule.Moment{Day: 4, Minute: 660}) {
		t.Errorf("poured %v", got)
	}
	if got := s.Planned[2].Start; got != (schedule.Moment{Day: 7, Minute: 420}) {
		t.Errorf("stands %v", got)
	}
	if s.Planned[1].Slack != 240 {
		t.Errorf("the pour may be %d minutes later, want the rest of Friday, 240", s.Planned[1].Slack)
	}
	if len(s.Days) != 6 || len(s.Days[3].Tasks) != 1 || s.Days[3].Tasks[0] != (schedule.Task{Activity: 0, From: 420, To: 900, Ends: true}) {
		t.Errorf("days %v", s.Days)
	}
}
