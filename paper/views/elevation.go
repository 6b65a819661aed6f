package views

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// Scales of elevations: the largest picture worth making, and the smallest at
// which courses can still be told apart and numbered.
const (
	elevationFinest   = 16 // 3/4" = 1'-0", 1:20
	elevationCoarsest = 50 // 1/4" = 1'-0", 1:50
)

// stretch is part of a wall, or all of it, that one sheet shows.
type stretch struct {
	runs          []int
	like          []int // single runs, alike in everything, that the sheet also stands for
	before, after bool  // the wall goes on, on the sheet before or after
	part, parts   int   // from 1
}

// elevationSheets plans the elevations of every structure, wall by wall.
func (t *tables) elevationSheets(o Options) []sheetPlan {
	var out []sheetPlan
	for _, s := range t.stretches() {
		for _, part := range t.parts(s, o) {
			out = append(out, t.sheet(part, false))
		}
	}
	return out
}

// stretches lists what is to be drawn: each wall that holds anything, and of
// single runs alike in everything only the first, with the rest named.
func (t *tables) stretches() []stretch {
	var out []stretch
	first := map[string]int{} // by what a single run looks like, the latest stretch
	for w := range t.Layout.Walls {
		for _, runs := range t.seen(w) {
			if len(runs) > 1 {
				out = append(out, stretch{runs: runs})
				continue
			}
			key := t.looks(runs[0])
			if i, ok := first[key]; ok && t.nameable(&out[i], runs[0]) {
				out[i].like = append(out[i].like, runs[0])
				continue
			}
			first[key] = len(out)
			out = append(out, stretch{runs: runs})
		}
	}
	return out
}

// seen are the runs of a wall that are looked at together, without those at its
// ends that hold nothing.
func (t *tables) seen(wall int) [][]int {
	runs := t.Layout.Walls[wall].Runs
	var out [][]int
	if len(runs) > 0 && t.alone[runs[0]] {
		for _, r := range runs {
			if t.Layout.Runs[r].Filled(t.Layout) {
				out = append(out, []int{r})
			}
		}
		return out
	}
	filled := func(i int) bool { return t.Layout.Runs[runs[i]].Filled(t.Layout) }
	lo, hi := 0, len(runs)
	for lo < hi && !filled(lo) {
		lo++
	}
	for lo < hi && !filled(hi-1) {
		hi--
	}
	if lo == hi {
		return nil
	}
	return t.atSteps(runs[lo:hi])
}

// mostNames is how many characters of names one sheet lists, so that they stay
// a note and do not become the sheet.
const mostNames = 420

// nameable says whether a stretch's sheet still has room to name one run more.
func (t *tables) nameable(s *stretch, run int) bool {
	n := len(t.standsFor(run))
	for _, r := range s.like {
		n += len(t.standsFor(r)) + 2
	}
	return n <= mostNames
}

// standsFor names a run and its posts, for the list of those alike.
func (t *tables) standsFor(run int) string {
	r := &t.Layout.Runs[run]
	s := r.Name
	if len(r.Bays) > 1 || t.Layout.Bays[r.Bays[0]].Name != r.Name {
		names := make([]string, len(r.Bays))
		for i, v := range r.Bays {
			names[i] = t.Layout.Bays[v].Name
		}
		s = strings.Join(names, ", ")
	}
	return t.say("views.run-between", name("run", s), name("from", t.Layout.Posts[r.From].Name), name("to", t.Layout.Posts[r.To].Name))
}

// parts splits a stretch at posts into as few parts as fit a sheet, then halves
// those in which not every text would find its place.
func (t *tables) parts(s stretch, o Options) []stretch {
	s.part, s.parts = 1, 1
	if len(s.runs) == 1 {
		return []stretch{s}
	}
	n := 1
	if fits := func(part stretch) bool {
		plan := t.sheet(part, true)
		_, ok := plan.scale(t.Plan, o)
		return ok
	}; !fits(s) {
		widest := draw.Scale{Ratio: elevationCoarsest}.Model(o.paper(t.Job.Units).Height)
		for n = max(2, int(t.width(s.runs).DivDown(widest))); n < len(s.runs) && !fits(t.widest(t.split(s, n))); n++ {
		}
	}
	var groups [][]int
	for _, part := range t.split(s, n) {
		groups = append(groups, t.halved(part, o)...)
	}
	return numbered(groups)
}

// halved divides a part until each of its runs' texts finds its place.
func (t *tables) halved(s stretch, o Options) [][]int {
	if len(s.runs) == 1 || t.isClear(s, o) {
		return [][]int{s.runs}
	}
	var out [][]int
	for _, half := range t.split(s, 2) {
		half.before, half.after = true, true
		out = append(out, t.halved(half, o)...)
	}
	return out
}

// isClear says whether a part's sheet has room for every text. Parts that look
// alike, with names of the same lengths, need be tried only once.
func (t *tables) isClear(s stretch, o Options) bool {
	var key strings.Builder
	fmt.Fprintln(&key, s.before, s.after)
	for _, run := range s.runs {
		key.WriteString(t.looks(run))
		for _, v := range t.Layout.Runs[run].Bays {
			fmt.Fprintln(&key, utf8.RuneCountInString(t.Layout.Bays[v].Name))
		}
	}
	ok, known := t.clear[key.String()]
	if !known {
		plan := t.sheet(s, true)
		ok = plan.clear(t.Plan, o)
		t.clear[key.String()] = ok
	}
	return ok
}

// numbered are the parts of a wall in order.
func numbered(groups [][]int) []stretch {
	out := make([]stretch, len(groups))
	for i, runs := range groups {
		out[i] = stretch{runs: runs, before: i > 0, after: i < len(groups)-1, part: i + 1, parts: len(groups)}
	}
	return out
}

func (t *tables) width(runs []int) measure.Length {
	w := measure.Length(0)
	for _, r := range runs {
		w += t.Layout.Runs[r].Centres
	}
	return w
}

// split makes at most n parts of a stretch, the widest as narrow as can be.
func (t *tables) split(s stretch, n int) []stretch {
	widths := make([]measure.Length, len(s.runs))
	for i, r := range s.runs {
		widths[i] = t.Layout.Runs[r].Centres
	}
	groups := spread(widths, n)
	for _, g := range groups {
		for k, i := range g {
			g[k] = s.runs[i]
		}
	}
	return numbered(groups)
}

func (t *tables) widest(parts []stretch) stretch {
	best, most := parts[0], measure.Length(0)
	for _, s := range parts {
		w := t.width(s.runs)
		if s.before && s.after {
			w++ // of two equally wide, the one with two match lines
		}
		if w > most {
			best, most = s, w
		}
	}
	return best
}

// sheet plans the sheet of a stretch. A try is only to see whether it fits.
func (t *tables) sheet(s stretch, try bool) sheetPlan {
	scales := scalesBetween(t.Job.Units, elevationFinest, elevationCoarsest)
	if !try && len(s.runs) == 1 {
		scales = scalesBetween(t.Job.Units, elevationFinest, 0)
	}
	title, caption, file := t.title(s)
	bays := t.baysOf(s.runs)
	state, drawn := t.stateOf(bays)
	if s.parts > 1 {
		title = t.say("views.title-part", name("title", title), number("part", s.part), number("parts", s.parts))
		file = fmt.Sprintf("%s-%d", file, s.part)
	}
	return sheetPlan{
		wide: t.width(s.runs), tall: t.Layout.Runs[s.runs[0]].Height,
		name: file, title: title, state: state, caption: caption, notes: t.notes(s, drawn), scales: scales, room: 3 * draw.MM,
		drawing: func(at draw.Scale, number int) *draw.Drawing { return t.elevation(s, at, number) },
	}
}

func (t *tables) baysOf(runs []int) []int {
	var out []int
	for _, r := range runs {
		out = append(out, t.Layout.Runs[r].Bays...)
	}
	return out
}

// title is a sheet's title, the caption under its view and the file it goes to,
// which is named alike in every language.
func (t *tables) title(s stretch) (title, caption, file string) {
	r := &t.Layout.Runs[s.runs[0]]
	w := &t.Layout.Walls[r.Wall]
	title = w.Name
	if t.alone[s.runs[0]] {
		title = r.Name
	}
	switch {
	case r.Role == job.WallGate:
		caption = t.say("views.caption-gate", name("section", title))
	case t.alone[s.runs[0]]:
		caption = t.say("views.caption-section", name("section", title))
	case r.Role == job.WallFront:
		caption = t.say("views.caption-front", name("wall", title))
	default:
		caption = t.say(wallCaption(r.Role), name("wall", title), name("post", t.Layout.Posts[r.From].Name))
	}
	file = "wall-" + title
	if n := len(s.like); n > 0 {
		title = t.say("views.title-like", name("title", title), number("n", n))
		file += fmt.Sprintf("-and-%d-like-it", n)
	}
	return title, caption, file
}

// wallCaption is the caption of a wall by what it does.
func wallCaption(r job.WallRole) string {
	switch r {
	case job.WallDivider:
		return "views.caption-dividing"
	case job.WallSide:
		return "views.caption-end"
	case job.WallBack:
		return "views.caption-back"
	}
	return "views.caption-wall"
}
