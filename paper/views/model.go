package views

import (
	"stallwright/engine/frame"
	"stallwright/engine/plan"
	"stallwright/paper/draw"
)

// Model is a view in true size, for files that other programs draw on. Plans
// have x to the east and y to the north from their structure's zero. In
// elevations x runs along the wall from the axis of its first post and y up from
// the highest finished floor.
type Model struct {
	File      string // that it goes to, without extension: one for each structure's plan, one for its elevations
	Structure int
	Wall      int // -1 for a plan
	Title     string
	Scale     draw.Scale // that its texts are sized for
	Drawing   *draw.Drawing
}

// Scales that the texts of models are sized for: those of a plan and of an
// elevation on a large sheet.
const (
	planModel      = 50
	elevationModel = 25
)

// Models draws each structure's plan, whole however large it is, and the
// elevations of its walls, as Plan and Elevations do.
func Models(p *plan.Plan, o Options) ([]Model, error) {
	w, err := o.words(p.Job.Units)
	if err != nil {
		return nil, err
	}
	t := newTables(p, w)
	files := make([]sheetPlan, 0, 2*len(p.Layout.Structures))
	for _, s := range p.Layout.Structures {
		files = append(files, sheetPlan{name: "plan-" + s.Name}, sheetPlan{name: "elevations-" + s.Name})
	}
	names := fileNames(files)
	var out []Model
	for s := range p.Layout.Structures {
		out = append(out, t.planModel(s, names[2*s]))
	}
	scale := draw.ScaleOf(elevationModel, p.Job.Units)
	for _, s := range t.stretches() {
		s.part, s.parts = 1, 1
		sheet := t.sheet(s, true)
		run := &p.Layout.Runs[s.runs[0]]
		out = append(out, Model{names[2*run.Structure+1], run.Structure, run.Wall, sheet.title, scale, sheet.drawing(scale, 1)})
	}
	return out, nil
}

// planModel is the whole plan of a structure.
func (t *tables) planModel(s int, file string) Model {
	scale := draw.ScaleOf(planModel, t.Job.Units)
	if t.Layout.Structures[s].Kind == frame.Pen {
		sheet := t.ringSheet(s)
		return Model{file, s, -1, sheet.title, scale, sheet.drawing(scale, 1)}
	}
	r := region{structure: s, whole: true, detailed: true, part: 1, parts: 1}
	for i := range t.Layout.Rooms {
		if t.Layout.Rooms[i].Structure == s {
			r.rooms = append(r.rooms, i)
		}
	}
	sheet := t.planSheet(r, true)
	return Model{file, s, -1, sheet.title, scale, sheet.drawing(scale, 1)}
}
