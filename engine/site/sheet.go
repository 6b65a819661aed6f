package site

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/survey"
)

// Stage is when a task can be done.
type Stage string

// The stages, in the order a crew meets them.
const (
	StageFirst  Stage = "before anything is fixed" // level, plumb, distances of standing posts
	StageSecond Stage = "second round of the level"
	StageFrame  Stage = "before the frame is made" // whole fronts between standing posts
	StagePiers  Stage = "once the piers are set"
	StageFixed  Stage = "once the channels are fixed"
	StageTight  Stage = "once the frame stands, is tight and squared"
)

// State says how far a task is.
type State string

// The states of a task.
const (
	Open       State = "open"
	Done       State = "done"
	Suspicious State = "suspicious" // read, but it disagrees with others or with the drawing: read it again
)

// TaskKind is what a task asks to be read.
type TaskKind string

// The tasks. Width is a bay's clear width and Opening that of a whole front between
// the faces of standing posts, both written under measurements; Spots asks for high
// spots of a room's floor, Crossings for what of the building crosses walls; the
// others are written under readings.
const (
	TaskLevel    TaskKind = "level"
	TaskPlumb    TaskKind = "plumb"
	TaskDistance TaskKind = "distance"
	TaskDiagonal TaskKind = "diagonal"
	TaskWidth    TaskKind = "width"

	TaskOpening   TaskKind = "opening"
	TaskSpots     TaskKind = "spots"
	TaskCrossings TaskKind = "crossings"
)

// Task is one thing to measure.
type Task struct {
	No       int // from 1, in walking order
	Kind     TaskKind
	Stage    Stage
	Posts    []string      // the posts, or the post or spot of a level reading
	Bay      string        // of a width; of an opening the whole front
	Place    string        // of spots: the room; of crossings: the structure
	SetUp    string        // of a level reading: the one it is planned from
	Hook     phrase.Phrase // what to hook the tape on, or where to hold the rod
	Expected measure.Length
	Known    bool // Expected is known; a first level reading's is not
	// Drawn says that Expected is as drawn; if not, it follows from earlier readings.
	Drawn    bool
	Between  job.Between      // of a distance or diagonal
	Check    bool             // beyond what the fit needs: there so that a slip can be named
	Values   []measure.Length // what was read, latest last; of a width: bottom, middle, top of the latest
	State    State
	Notes    []phrase.Phrase // what to watch, or why it is suspicious
	Readings []int           // the readings (of a width: measurements) that did it
	Smallest measure.Length  // the smallest slip that all planned readings together would find; none for what is not adjusted
}

// Sheet is what to measure for a whole job, in walking order.
type Sheet struct {
	Tasks []Task
	Open  int // tasks not done
	// Unnamed are the planned distances and diagonals in which a slip would be
	// noticed but could not be named: none but where posts are too few or stand in
	// one row.
	Unnamed []int
}

// NewSheet makes the measuring sheet of a job, with what was measured already
// ticked off. The layout is the one framed on the posts as they stand, as far as
// that is known; bays are compared with it.
//
// Levels are read twice, from two set-ups: the second reading is compared with the
// first on the spot, and where they differ a third, taken there and then, names
// the wrong one.
func NewSheet(s *Site, standing *frame.Layout) *Sheet {
	w := &walker{s: s, lay: standing, sheet: &Sheet{}, placed: map[int]frame.Point{}}
	for i := range s.Posts {
		if v := &s.Posts[i]; v.Placed {
			w.placed[v.Post] = v.At
		}
	}
	for i := range s.lay.Structures {
		w.structure(i)
	}
	for i := range w.sheet.Tasks {
		t := &w.sheet.Tasks[i]
		t.No = i + 1
		if t.State != Done {
			w.sheet.Open++
		}
	}
	return w.sheet
}

// walker lays the tasks out in the order a crew walks.
type walker struct {
	s      *Site
	lay    *frame.Layout // framed on the posts as they stand
	placed map[int]frame.Point
	sheet  *Sheet
}

func (w *walker) add(t Task) {
	if t.State == "" {
		t.State = Open
	}
	w.sheet.Tasks = append(w.sheet.Tasks, t)
}

// structure walks one structure: along the posts with rod and plumb bob, along the
// bays with the tape, back along the posts with the level moved, and later, bay by
// bay, what stands.
func (w *walker) structure(i int) {
	stops := w.stops(i)
	first, second := w.setUps(i)
	for _, at := range stops {
		w.level(at, first, StageFirst)
		if at.post >= 0 && w.s.lay.Posts[at.post].Kind == frame.Timber {
			w.plumb(at.post)
		}
	}
	w.spots(i)
	w.tape(i)
	for k := len(stops) - 1; k >= 0; k-- {
		w.level(stops[k], second, StageSecond)
	}
	w.crossings(i)
	w.openings(i)
	w.widths(i)
}

// stop is where a crew stands: at a post or a spot.
type stop struct{ post, spot int }

func (w *walker) name(at stop) string {
	if at.post >= 0 {
		return w.s.lay.Posts[at.post].Name
	}
	return w.s.job.Spots[at.spot].Name
}

// stops are a structure's posts, one line up and the next one down, then its
// spots.
func (w *walker) stops(structure int) []stop {
	var lines [][]int
	for i := range w.s.lay.Posts {
		p := &w.s.lay.Posts[i]
		if p.Structure != structure || p.Kind == frame.Door {
			continue
		}
		n := len(lines)
		if n == 0 || lineOf(w.s.lay.Posts[lines[n-1][0]].Name) != lineOf(p.Name) {
			lines = append(lines, nil)
			n++
		}
		lines[n-1] = append(lines[n-1], i)
	}
	var out []stop
	for k, line := range lines {
		for n := range line {
			if k%2 == 1 {
				n = len(line) - 1 - n
			}
			out = append(out, stop{line[n], -1})
		}
	}
	for i := range w.s.job.Spots {
		if w.s.structureOf(&w.s.job.Spots[i]) == structure {
			out = append(out, stop{-1, i})
		}
	}
	return out
}

// setUps are the two set-ups a structure is levelled from: those it was read from,
// in the order they came, or new ones.
func (w *walker) setUps(structure int) (first, second string) {
	var used []string
	for i := range w.s.job.Readings {
		r := &w.s.job.Readings[i]
		if r.Kind() != job.ReadLevel {
			continue
		}
		if p, ok := w.s.lay.Post(r.Level); ok && w.s.lay.Posts[p].Structure == structure {
			if len(used) == 0 || used[len(used)-1] != r.From && used[0] != r.From {
				used = append(used, r.From)
			}
		}
	}
	name := w.s.lay.Structures[structure].Name
	switch len(used) {
	case 0:
		return name + "-1", name + "-2"
	case 1:
		return used[0], name + "-2"
	}
	return used[0], used[1]
}

// plumb asks for a post's lean.
func (w *walker) plumb(post int) {
	name := w.s.lay.Posts[post].Name
	t := Task{
		Kind: TaskPlumb, Stage: StageFirst, Posts: []string{name}, Known: true, Drawn: true,
		Hook: phrase.Of("site.hook-plumb"),
	}
	for i := range w.s.job.Readings {
		if r := &w.s.job.Readings[i]; r.Plumb == name {
			t.Values, t.Readings, t.State = []measure.Length{r.Along, r.Across}, append(t.Readings, i), Done
		}
	}
	w.add(t)
}

// tape asks for the distances and diagonals of a structure's standing posts.
func (w *walker) tape(structure int) {
	d := w.s.design(structure)
	if d == nil {
		return
	}
	judged := survey.Judge(d.network(d.list), d.opt)
	for _, k := range d.walk() {
		v := d.list[k]
		t := Task{
			Kind: TaskDistance, Stage: d.stage, State: Open, Posts: []string{w.s.lay.Posts[v.a].Name, w.s.lay.Posts[v.b].Name},
			Hook: d.hook(v), Between: v.touched, Check: v.extra, Known: true, Drawn: true, Smallest: judged[k].Smallest,
		}
		if v.kind == survey.Diagonal {
			t.Kind = TaskDiagonal
		}
		t.Expected = w.s.between(v, w.s.lay.Posts[v.a].At, w.s.lay.Posts[v.b].At)
		w.done(&t, d, v)
		if p, ok := w.placed[v.a]; ok && t.State == Open {
			if q, ok := w.placed[v.b]; ok {
				t.Expected, t.Drawn = w.s.between(v, p, q).Round(w.s.tape.Mark, measure.Nearest), false
			}
		}
		if !judged[k].Named(leastRedundancy, mostAlike) {
			w.sheet.Unnamed = append(w.sheet.Unnamed, len(w.sheet.Tasks)+1)
			t.Notes = append(t.Notes, phrase.Of("site.read-twice"))
		}
		w.add(t)
	}
}

func (d *design) hook(v planned) phrase.Phrase {
	switch {
	case d.ring:
		return phrase.Of("site.hook-piers")
	case v.touched == job.BetweenOuter && v.kind == survey.Diagonal:
		return phrase.Of("site.hook-outer-corners")
	case v.touched == job.BetweenOuter:
		return phrase.Of("site.hook-outer-faces")
	case v.touched == job.BetweenAxes:
		return phrase.Of("site.hook-axes")
	case v.kind == survey.Diagonal:
		return phrase.Of("site.hook-inner-corners")
	}
	return phrase.Of("site.hook-faces")
}

// between is what the tape shows between two posts that stand at p and q.
func (s *Site) between(v planned, p, q frame.Point) measure.Length {
	r := job.Reading{Between: v.touched}
	names := []string{s.lay.Posts[v.a].Name, s.lay.Posts[v.b].Name}
	if v.kind == survey.Diagonal {
		r.Diagonal = names
	} else {
		r.Distance = names
	}
	return frame.Distance(p, q) - hooked(s.lay, &r, v.a, v.b).toAxes(p, q)
}

// done ticks a tape task off with the readings of its two posts. Another way to
// hook the tape than the one asked for will do, unless it is asked for too.
func (w *walker) done(t *Task, d *design, v planned) {
	for i := range w.s.job.Readings {
		r := &w.s.job.Readings[i]
		posts := r.Posts()
		if k := r.Kind(); k != job.ReadDistance && k != job.ReadDiagonal {
			continue
		}
		same := posts[0] == t.Posts[0] && posts[1] == t.Posts[1] || posts[0] == t.Posts[1] && posts[1] == t.Posts[0]
		if !same || r.Touched() != v.touched && (v.extra || d.claimed(v, r.Touched())) {
			continue
		}
		t.Values, t.Readings = append(t.Values, r.Is), append(t.Readings, i)
		t.State = Done
	}
	if len(t.Readings) == 0 {
		return
	}
	last := t.Readings[len(t.Readings)-1]
	out := &w.s.Readings[last]
	far := t.Values[len(t.Values)-1] - t.Expected
	switch {
	case out.Suspect || out.Status == SetAside:
		t.State, t.Notes = Suspicious, []phrase.Phrase{phrase.Of("site.disagrees")}
	case w.s.job.Readings[last].Touched() == v.touched && far.Abs() > farOff && out.Redundancy < leastRedundancy:
		t.State, t.Notes = Suspicious, []phrase.Phrase{phrase.Of("site.off-drawing", phrase.With("off", w.s.marked(far.Abs())))}
	}
}

// marked is a length for a phrase, to the tape's mark.
func (s *Site) marked(l measure.Length) phrase.Length {
	return phrase.Length(l.Round(s.tape.Mark, measure.Nearest))
}

// Phrase says when a task can be done.
func (s Stage) Phrase() phrase.Phrase {
	switch s {
	case StageSecond:
		return phrase.Of("site.stage-second")
	case StageFrame:
		return phrase.Of("site.stage-frame")
	case StagePiers:
		return phrase.Of("site.stage-piers")
	case StageFixed:
		return phrase.Of("site.stage-fixed")
	case StageTight:
		return phrase.Of("site.stage-tight")
	}
	return phrase.Of("site.stage-first")
}
