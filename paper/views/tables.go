package views

import (
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// tables hold, by run and by post, what elevations look up.
type tables struct {
	*plan.Plan
	words   *words.Words
	steel   [][]int        // pieces of each run that belong to no bay
	clamps  map[string]int // stack clamps counted for each bay
	marks   map[markAt]measure.Length
	alone   map[int]bool // runs that are seen alone: each section of a pen
	clear   map[string]bool
	errors  map[string][]string           // what is wrong, by place
	crosses map[int][]*fit.ObstructionFit // what crosses each bay
	line    []measure.Length              // where each run starts on its wall, as frame.Layout.Line has it
}

// markAt is a datum mark on a post as a run sees it.
type markAt struct{ post, run int }

func newTables(p *plan.Plan, w *words.Words) *tables {
	t := &tables{Plan: p, words: w, steel: make([][]int, len(p.Layout.Runs)), clamps: map[string]int{}, marks: map[markAt]measure.Length{}, alone: map[int]bool{}, clear: map[string]bool{}, errors: map[string][]string{}, crosses: map[int][]*fit.ObstructionFit{}}
	for i := range p.Fit.Obstructions {
		o := &p.Fit.Obstructions[i]
		t.crosses[o.Bay] = append(t.crosses[o.Bay], o)
	}
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity == finding.Error {
			t.errors[f.Place] = append(t.errors[f.Place], w.Told(f))
		}
	}
	for i := range p.Fit.Pieces {
		if q := &p.Fit.Pieces[i]; q.Run >= 0 && q.Bay < 0 {
			t.steel[q.Run] = append(t.steel[q.Run], i)
		}
	}
	for i := range p.Takeoff.Needs {
		if n := &p.Takeoff.Needs[i]; n.Class == kit.ClassClamp {
			t.clamps[n.Place] += n.Count
		}
	}
	for _, m := range p.Fit.Marks {
		for _, run := range m.Runs {
			t.marks[markAt{m.Post, run}] = m.Height
		}
	}
	t.line = make([]measure.Length, len(p.Layout.Runs))
	for w := range p.Layout.Walls {
		x := measure.Length(0)
		for _, run := range p.Layout.Walls[w].Runs {
			if t.line[run] = x; p.Layout.Structures[p.Layout.Walls[w].Structure].Kind != frame.Pen {
				x += p.Layout.Runs[run].Centres
			}
		}
	}
	for i := range p.Layout.Runs {
		if p.Layout.Structures[p.Layout.Runs[i].Structure].Kind == frame.Pen {
			t.alone[i] = true
		}
	}
	return t
}

// show writes a length as the job's readers do.
func (t *tables) show(l measure.Length) string { return t.words.Length(l) }

// faults are the errors found in a bay.
func (t *tables) faults(bay int) []string { return t.errors[t.Layout.Bays[bay].Name] }
