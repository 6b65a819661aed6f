package views

import (
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// Scales of plans. A detailed plan names every bay and post and dimensions the
// doorways; where a structure does not fit a sheet at its scale, an overview
// shows the whole and details follow, row by row.
const (
	planFinest   = 24
	planCoarsest = 64
)

// region is what one plan shows of a structure.
type region struct {
	structure   int
	rooms       []int
	whole       bool // all of the structure
	detailed    bool
	row         string // of a detail: its front wall
	scale       int64  // smallest picture wanted; 0 for planCoarsest
	part, parts int
}

func (t *tables) planSheets(o Options) []sheetPlan {
	var out []sheetPlan
	for s := range t.Layout.Structures {
		if t.Layout.Structures[s].Ring != nil {
			out = append(out, t.ringSheet(s))
			continue
		}
		for _, r := range t.regions(s, o) {
			out = append(out, t.planSheet(r, false))
		}
	}
	return out
}

// regions divides a structure among sheets.
func (t *tables) regions(s int, o Options) []region {
	var rooms []int
	for i := range t.Layout.Rooms {
		if t.Layout.Rooms[i].Structure == s {
			rooms = append(rooms, i)
		}
	}
	whole := region{structure: s, rooms: rooms, whole: true, detailed: true, part: 1, parts: 1}
	rows := t.rows(rooms)
	if t.fits(whole, o) || rows == nil {
		return []region{whole}
	}
	whole.detailed = false
	out := []region{whole}
	for _, row := range rows {
		out = append(out, t.rowRegions(s, row, o)...)
	}
	return out
}

func (t *tables) fits(r region, o Options) bool {
	p := t.planSheet(r, true)
	_, ok := p.scale(t.Plan, o)
	return ok
}

// rows groups rooms by the front they share; nil where rooms have no fronts of
// their own, as in a free form.
func (t *tables) rows(rooms []int) [][]int {
	var out [][]int
	last := -1
	for _, i := range rooms {
		runs := t.Layout.Rooms[i].Runs
		if len(runs) == 0 {
			return nil
		}
		wall := t.Layout.Runs[runs[0]].Wall
		if wall != last {
			out = append(out, nil)
		}
		last = wall
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// rowRegions divides a row among as few details as fit.
func (t *tables) rowRegions(s int, row []int, o Options) []region {
	widths := make([]measure.Length, len(row))
	var sum measure.Length
	for i, room := range row {
		widths[i] = t.Layout.Rooms[room].Width
		sum += widths[i]
	}
	most := t.rowScale(s, row, o)
	base := region{scale: most, structure: s, detailed: true, row: t.Layout.Walls[t.Layout.Runs[t.Layout.Rooms[row[0]].Runs[0]].Wall].Name}
	least := int(sum.DivDown(draw.Scale{Ratio: planCoarsest}.Model(o.paper(t.Job.Units).Height)))
	for n := max(1, least); ; n++ {
		groups := spread(widths, n)
		var out []region
		widest, wide := 0, measure.Length(0)
		for k, g := range groups {
			r := base
			r.part, r.parts = k+1, len(groups)
			w := measure.Length(0)
			for _, i := range g {
				r.rooms = append(r.rooms, row[i])
				w += widths[i]
			}
			if w > wide {
				widest, wide = k, w
			}
			out = append(out, r)
		}
		if n >= len(row) || t.fits(out[widest], o) {
			return out
		}
	}
}

// rowScale is the smallest picture wanted of a row: planCoarsest, or what it
// takes for its deepest room, since no division of the row makes that lower.
func (t *tables) rowScale(s int, row []int, o Options) int64 {
	deepest := row[0]
	for _, i := range row {
		if t.Layout.Rooms[i].Depth > t.Layout.Rooms[deepest].Depth {
			deepest = i
		}
	}
	one := t.planSheet(region{structure: s, rooms: []int{deepest}, detailed: true}, false)
	if at, ok := one.scale(t.Plan, o); ok {
		return max(at.Ratio, planCoarsest)
	}
	return planCoarsest
}

// planSheet plans a region's sheet. A try is only to see whether it fits.
func (t *tables) planSheet(r region, try bool) sheetPlan {
	st := &t.Layout.Structures[r.structure]
	scales := scalesBetween(t.Job.Units, planFinest, max(r.scale, planCoarsest))
	if !try {
		scales = scalesBetween(t.Job.Units, planFinest, 0)
	}
	title := t.say("views.title-plan", name("structure", st.Name))
	file := "plan-" + st.Name
	caption := t.say("views.caption-plan", name("structure", st.Name), phrase.With("kind", structureKind(st.Kind)))
	switch {
	case r.whole && !r.detailed:
		title = t.say("views.title-plan-whole", name("structure", st.Name))
		scales = scalesBetween(t.Job.Units, planFinest, 0)
	case !r.whole:
		first, last := t.Layout.Rooms[r.rooms[0]].Name, t.Layout.Rooms[r.rooms[len(r.rooms)-1]].Name
		title = t.say("views.title-plan-one", name("structure", st.Name), name("room", first))
		if last != first {
			title = t.say("views.title-plan-some", name("structure", st.Name), name("first", first), name("last", last))
		}
		file += "-" + first
	}
	v := t.view(r)
	state, _ := t.stateOf(t.baysOf(v.runs))
	lo, hi := t.bounds(v)
	return sheetPlan{
		wide: hi.X - lo.X, tall: hi.Y - lo.Y,
		name: file, title: title, caption: caption, state: state, notes: t.planNotes(v), scales: scales, room: 5 * draw.MM,
		drawing: func(at draw.Scale, _ int) *draw.Drawing { return t.draftPlan(v, at) },
	}
}

// structureKind is what a structure is, as its drawing says it.
func structureKind(k frame.Kind) phrase.Phrase {
	switch k {
	case frame.BarnRow:
		return phrase.Of("views.kind-barn-row")
	case frame.FreeBarn:
		return phrase.Of("views.kind-free-barn")
	}
	return words.Structure(k)
}

// seenPlan is a region with what of the layout belongs to it.
type seenPlan struct {
	region
	posts []int // principal posts
	runs  []int
	walls []int
	has   map[int]bool  // posts
	of    map[int][]int // runs of each wall
}

// view gathers the posts and runs of a region.
func (t *tables) view(r region) *seenPlan {
	v := &seenPlan{region: r, has: map[int]bool{}, of: map[int][]int{}}
	l := t.Layout
	for _, room := range r.rooms {
		for _, c := range l.Rooms[room].Corners {
			v.has[c] = true
		}
		for _, run := range l.Rooms[room].Runs {
			v.has[l.Runs[run].From], v.has[l.Runs[run].To] = true, true
		}
	}
	for i := range l.Posts {
		if p := &l.Posts[i]; p.Structure == r.structure && p.Kind != frame.Door {
			v.has[i] = v.has[i] || r.whole
			if v.has[i] {
				v.posts = append(v.posts, i)
			}
		}
	}
	for i := range l.Runs {
		run := &l.Runs[i]
		if run.Structure == r.structure && v.has[run.From] && v.has[run.To] {
			v.runs = append(v.runs, i)
			if v.of[run.Wall] == nil {
				v.walls = append(v.walls, run.Wall)
			}
			v.of[run.Wall] = append(v.of[run.Wall], i)
		}
	}
	return v
}
