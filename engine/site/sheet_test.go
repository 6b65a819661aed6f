package site_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/site"
	"stallwright/engine/survey"
)

// planned is the sheet's network, every reading from axis to axis as drawn.
func planned(tasks []site.Task, l *frame.Layout) survey.Network {
	var net survey.Network
	for i := range l.Posts {
		if p := &l.Posts[i]; p.Kind == frame.Timber {
			net.Points = append(net.Points, survey.Point{Name: p.Name, X: p.At.X, Y: p.At.Y})
		}
	}
	for i := range tasks {
		net.Readings = append(net.Readings, survey.Reading{Kind: survey.Distance, Posts: tasks[i].Posts})
	}
	return net
}

// In barns of every size and kind each planned reading's slip can be named: a
// tenth of it and more shows in its own residual, and no other residual goes with
// it by 0.9 or more (the usual limit for telling two blunders apart, W. Förstner
// 1983, second-hand). What is added beyond bays, ways across and diagonals is
// needed: without any one of those readings some slip could no longer be named.
func TestEverySlipCouldBeNamed(t *testing.T) {
	for _, rows := range []string{"one", "facing", "back-to-back"} {
		for n := 1; n <= 20; n++ {
			tasks, l := tapeTasks(t, barn(rows, n, ""))
			net := planned(tasks, l)
			for i, v := range survey.Judge(net, survey.Options{}) {
				if !v.Named(0.1, 0.9) {
					t.Errorf("%s %d: %s: redundancy %.3f, correlation %.3f with %s", rows, n, called(&tasks[i]), v.Redundancy, v.Correlation, called(&tasks[v.Alike]))
				}
			}
			if most := 34 * len(net.Points) / 10; len(tasks) > most && n > 1 {
				t.Errorf("%s %d: %d readings for %d posts", rows, n, len(tasks), len(net.Points))
			}
			if n > 6 {
				continue
			}
			for i := range tasks {
				if !tasks[i].Check {
					continue
				}
				less := net
				less.Readings = slices.Delete(slices.Clone(net.Readings), i, i+1)
				if !slices.ContainsFunc(survey.Judge(less, survey.Options{}), func(v survey.Judged) bool { return !v.Named(0.1, 0.9) }) {
					t.Errorf("%s %d: %s is not needed", rows, n, called(&tasks[i]))
				}
			}
		}
	}
}

// The sheet of a barn in walking order: the rod and the plumb bob along the posts,
// the tape, the rod back, then the bays, framed ones once tight.
func TestSheetInWalkingOrder(t *testing.T) {
	s, l := adjust(t, barn("one", 2, "spots:\n  - {name: hump, room: A2}\n"))
	sheet := site.NewSheet(s, l)
	var walk []string
	for i, task := range sheet.Tasks {
		found := task.Kind == site.TaskSpots && task.Place == "A2" // the job has its hump already
		if task.No != i+1 || (task.State == site.Done) != found || task.Hook.Empty() {
			t.Errorf("task %d: %+v", i, task)
		}
		if task.Kind == site.TaskLevel {
			walk = append(walk, task.SetUp+" "+task.Posts[0])
		}
	}
	const want = "A-1 A.a1|A-1 A.a2|A-1 A.a3|A-1 A.b3|A-1 A.b2|A-1 A.b1|A-1 hump|A-2 hump|A-2 A.b1|A-2 A.b2|A-2 A.b3|A-2 A.a3|A-2 A.a2|A-2 A.a1"
	if got := strings.Join(walk, "|"); got != want {
		t.Errorf("levels are walked\n%s\nwant\n%s", got, want)
	}
	count := map[site.TaskKind]int{}
	bays := map[string]site.Task{}
	for _, task := range sheet.Tasks {
		count[task.Kind]++
		if task.Kind == site.TaskWidth {
			bays[task.Bay] = task
		}
	}
	if count[site.TaskPlumb] != 6 || count[site.TaskDistance] != 7 || count[site.TaskDiagonal] != 6 {
		t.Errorf("tasks: %v, want 6 posts held against the bob, 7 distances, 6 diagonals", count)
	}
	for i := range l.Bays {
		b := &l.Bays[i]
		task, ok := bays[b.Name]
		if ok == b.IsOpen() {
			t.Errorf("%s is on the sheet: %v", b.Name, ok)
		}
		if tight := l.Runs[b.Run].Framed(); ok && (task.Stage == site.StageTight) != tight || ok && tight && !told(task, "site.not-before-tight") {
			t.Errorf("%s: %+v", b.Name, task)
		}
		if ok && task.Expected != b.Clear {
			t.Errorf("%s is expected at %v, drawn %v", b.Name, task.Expected, b.Clear)
		}
	}
	// A 12 ft bay between 5 1/2 in posts shows 11 ft 6 1/2 in from face to face.
	for _, task := range sheet.Tasks {
		if task.Kind == site.TaskDistance && (task.Expected != 138*measure.Inch+measure.Inch/2 || task.Between != job.BetweenFaces || !task.Drawn) {
			t.Errorf("%v: %+v", task.Posts, task)
		}
	}
	if count[site.TaskSpots] != 2 || count[site.TaskCrossings] != 1 || count[site.TaskOpening] != 2 {
		t.Errorf("tasks: %v, want both floors walked, one look for what crosses, two whole fronts", count)
	}
	if sheet.Open != len(sheet.Tasks)-1 || len(sheet.Unnamed) != 0 {
		t.Errorf("%d of %d open, unnamed %v", sheet.Open, len(sheet.Tasks), sheet.Unnamed)
	}
}

// States: read is done; what disagrees is suspicious; what is open is compared with
// the posts as they stand.
func TestSheetStates(t *testing.T) {
	src := barn("facing", 3, "")
	tasks, _ := tapeTasks(t, src)
	var b strings.Builder
	b.WriteString("readings:\n")
	for i := range tasks {
		v := tasks[i].Expected.Round(measure.SixteenthInch, measure.Nearest)
		switch i {
		case 4:
			v += measure.Foot
		case 30:
			continue
		}
		fmt.Fprintf(&b, "  - {%s: [%s, %s], is: %s}\n", tasks[i].Kind, tasks[i].Posts[1], tasks[i].Posts[0], v)
	}
	b.WriteString("  - {plumb: A.a1, over: 7', along: 1/8\"}\n")
	b.WriteString("measurements:\n  - {bay: A1-A2, width: {bottom: 11' 6 1/4\", middle: 11' 6 1/4\", top: 11' 6 3/8\"}}\n  - {bay: A1-left, width: 11' 6 1/4\"}\n  - {bay: A3-right, width: {bottom: 11' 0\", middle: 11' 0\", top: 11' 0\"}}\n")
	s, l := adjust(t, src+b.String())
	states := map[site.State]int{}
	k := 0
	for _, task := range site.NewSheet(s, l).Tasks {
		states[task.State]++
		switch task.Kind {
		case site.TaskDistance, site.TaskDiagonal:
			want := site.Done
			if k == 4 {
				want = site.Suspicious
			}
			if k == 30 {
				want = site.Open
			}
			if task.State != want {
				t.Errorf("%v is %s (%v), want %s", task.Posts, task.State, task.Notes, want)
			}
			if k == 30 && (task.Drawn || (task.Expected-tasks[30].Expected).Abs() > measure.Inch/4) {
				t.Errorf("the open reading is expected at %v, as drawn: %v", task.Expected, task.Drawn)
			}
			k++
		case site.TaskPlumb:
			if (task.State == site.Done) != (task.Posts[0] == "A.a1") {
				t.Errorf("plumb of %v is %s", task.Posts, task.State)
			}
		case site.TaskWidth:
			want := map[string]site.State{"A1-A2": site.Done, "A3-right": site.Suspicious}[task.Bay]
			if want == "" {
				want = site.Open // one of three heights is not all
			}
			if task.State != want {
				t.Errorf("%s is %s (%v), want %s", task.Bay, task.State, task.Notes, want)
			}
		}
	}
	if states[site.Suspicious] != 2 {
		t.Errorf("states: %v", states)
	}
}

// The second set-up's rod is known before it is read, once both have read another
// point; a reading that differs is suspicious.
func TestSecondRoundIsCompared(t *testing.T) {
	s, l := adjust(t, barn("one", 1, `readings:
  - {level: A.a1, from: S1, rod: 50"}
  - {level: A.a2, from: S1, rod: 51"}
  - {level: A.b2, from: S1, rod: 52"}
  - {level: A.b1, from: S1, rod: 50"}
  - {level: A.b1, from: S2, rod: 53"}
  - {level: A.b2, from: S2, rod: 57"}
  - {level: A.a1, from: S2, rod: 53"}
`))
	for _, task := range site.NewSheet(s, l).Tasks {
		if task.Kind != site.TaskLevel {
			continue
		}
		switch task.SetUp + " " + task.Posts[0] {
		case "S2 A.a2": // 51 + the mean of 3, 5 and 3
			if !task.Known || task.Expected != 54*measure.Inch+11*measure.Inch/16 || task.State != site.Open {
				t.Errorf("%+v", task)
			}
		case "S2 A.b2":
			if task.State != site.Suspicious || !told(task, "site.other-set-up") {
				t.Errorf("%+v", task)
			}
		case "S1 A.a1", "S1 A.b1", "S2 A.a1", "S2 A.b1":
			if task.State != site.Done {
				t.Errorf("%+v", task)
			}
		}
	}
}

// Every kind of structure has a sheet; steel is not taped from post to post.
func TestSheetOfEveryStructure(t *testing.T) {
	s, l := adjust(t, `job: X
units: metric
kit: fernhollow
farm: {name: X}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12']}
structures:
  - pen: {name: P, across: 40', section: 12'}
  - free-row: {name: B, width: 12', depth: 12', rooms: [stall, stall]}
  - free-form:
      name: F
      height: 8'
      posts:
        - {name: nw, x: 0', y: 12', timber: 6 in}
        - {name: ne, x: 11', y: 12', timber: 6 in}
        - {name: se, x: 12', y: 0', timber: 6 in}
        - {name: sw, x: 0', y: 0', timber: 6 in}
        - {name: far, x: 30', y: 4', timber: 6 in}
        - {name: off, x: 31', y: 14', timber: 6 in}
      walls:
        - {name: west, posts: [sw, nw], assembly: timber-wall}
        - {name: out, posts: [far, off], assembly: timber-wall}
      rooms:
        - {name: box, posts: [nw, ne, se, sw]}
`)
	sheet := site.NewSheet(s, l)
	count := map[string]int{}
	for _, task := range sheet.Tasks {
		switch {
		case task.Bay != "":
			count["widths"]++
		case task.Place != "":
			count[string(task.Kind)+" of "+task.Place[:1]]++
		case task.Kind == site.TaskLevel:
			count["levels of "+task.Posts[0][:1]]++
		default:
			count[string(task.Kind)+" of "+task.Posts[0][:1]]++
		}
	}
	posts := map[string]int{}
	for i := range l.Posts {
		if l.Posts[i].Kind != frame.Door {
			posts[l.Posts[i].Name[:1]]++
		}
	}
	for _, k := range []string{"P", "B", "F"} {
		if count["levels of "+k] != 2*posts[k] {
			t.Errorf("%d levels in %s of %d posts", count["levels of "+k], k, posts[k])
		}
	}
	if count["distance of B"]+count["distance of P"] != 0 || count["distance of F"]+count["diagonal of F"] < 11 || count["widths"] == 0 {
		t.Errorf("%v", count)
	}
	if len(sheet.Unnamed) != 0 {
		t.Errorf("unnamed: %v", sheet.Unnamed)
	}
}

// told says whether a task has a note of this key.
func told(t site.Task, key string) bool {
	for _, n := range t.Notes {
		if n.Key == key {
			return true
		}
	}
	return false
}

// A ring's piers are taped round, skipping one, and across; feet on the ground are
// not. In no reading of the plan could a slip pass unnamed, and from readings true
// to the drawing the piers come out where they were set out, one of them moved.
func TestSheetOfARing(t *testing.T) {
	ring := func(base string) string {
		return `job: Ring
units: feet
kit: fernhollow
farm: {name: X}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12']}
structures:
  - pen: {name: P, across: 60', section: 12', base: ` + base + `}
`
	}
	s, l := adjust(t, ring("foot-plate"))
	for _, task := range site.NewSheet(s, l).Tasks {
		if task.Kind == site.TaskDistance || task.Kind == site.TaskDiagonal {
			t.Errorf("feet on the ground are taped: %+v", task)
		}
	}
	s, l = adjust(t, ring("pier-12"))
	sheet := site.NewSheet(s, l)
	var b strings.Builder
	b.WriteString("readings:\n")
	n := 0
	for _, task := range sheet.Tasks {
		if task.Kind != site.TaskDistance {
			continue
		}
		n++
		if task.Stage != site.StagePiers || task.Between != job.BetweenAxes {
			t.Errorf("%+v", task)
		}
		fmt.Fprintf(&b, "  - {distance: [%s, %s], is: %s}\n", task.Posts[0], task.Posts[1], task.Expected.Round(measure.SixteenthInch, measure.Nearest))
	}
	posts := 0
	for i := range l.Posts {
		if l.Posts[i].Kind == frame.Joint {
			posts++
		}
	}
	if n != 2*posts+posts/2 || len(sheet.Unnamed) != 0 {
		t.Errorf("%d readings of %d piers, unnamed %v", n, posts, sheet.Unnamed)
	}
	s, _ = adjust(t, ring("pier-12")+b.String())
	for _, v := range s.Posts {
		if d := frame.Distance(v.At, v.Drawn); !v.Placed || d > measure.Inch/8 {
			t.Errorf("%s comes out %v from its place", l.Posts[v.Post].Name, d)
		}
	}
	if s.Unread != nil || said(s, finding.ReadingSuspect) != nil {
		t.Errorf("%v", s.Findings)
	}
}

// A front measured from face to face of the standing posts gives the frame what its
// end posts leave: 1 1/4 in on each side in this kit, as its drawn width says.
func TestOpeningFromFaceToFace(t *testing.T) {
	drawn, _ := adjust(t, barn("one", 2, ""))
	s, l := adjust(t, barn("one", 2, "measurements:\n  - {bay: A1-front, width: 11' 6 3/4\", from: faces}\n"))
	i, _ := l.Run("A1-front")
	r := &l.Runs[i]
	// As drawn the posts' faces are 138 1/2 in apart.
	if r.Clear != r.Drawn+measure.Inch/4 || !r.Measured {
		t.Errorf("clear %v, drawn %v", r.Clear, r.Drawn)
	}
	find := func(s *site.Site) (out site.Task) {
		for _, task := range site.NewSheet(s, l).Tasks {
			if task.Kind == site.TaskOpening && task.Bay == "A1-front" {
				out = task
			}
		}
		return out
	}
	if a := find(drawn); a.Expected != 138*measure.Inch+measure.Inch/2 || a.State != site.Open {
		t.Errorf("%+v", a)
	}
	if b := find(s); b.State != site.Done {
		t.Errorf("%+v", b)
	}
}
