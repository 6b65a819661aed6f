package views

import (
	"slices"

	"stallwright/engine/plan"
)

// Wall draws only what shows one run, by its index into the layout: the run by
// itself, or the sheets of all its wall as Elevations has them. Nothing comes back
// where nothing is to be seen of it.
func Wall(p *plan.Plan, o Options, run int, whole bool) ([]Sheet, error) {
	return lay(p, o, func(t *tables, o Options) []sheetPlan {
		var out []sheetPlan
		for _, s := range t.stretches() {
			if !slices.Contains(s.runs, run) && !slices.Contains(s.like, run) {
				continue
			}
			if !whole {
				return []sheetPlan{t.sheet(stretch{runs: []int{run}, part: 1, parts: 1}, false)}
			}
			for _, part := range t.parts(s, o) {
				out = append(out, t.sheet(part, false))
			}
		}
		return out
	})
}
