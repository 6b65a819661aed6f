// Package steps draws the step pictures of a job: one picture a step, from its
// own geometry, after the published principles of assembly instructions
// (Agrawala, Phan, Heiser, Haymaker, Klingner, Hanrahan, Tversky, Designing
// Effective Step-by-Step Assembly Instructions, 2003; Heiser et al. 2004).
//
// In come a plan and what says its words; out comes a sheet for each step that
// has something to show, without frame or title, to stand on a page among text.
//
//   - What the step adds is drawn heavy and lightly tinted, what stands already
//     thin, what comes later not at all.
//   - The picture looks from where the step's parts are best seen, and steps at
//     the same run look from the same side.
//   - What goes in is drawn off its place along its way in, with an arrow.
//   - Fasteners stand in a row below, full size where they fit, with their counts;
//     a joint too small to see is drawn again larger.
//   - Every part added is named by its label.
//   - One picture serves steps that do the same elsewhere; it then gives only what
//     holds at every place (see [Drawer.Alike]).
//
// What always holds of a sheet returned: no two texts overlap and none leaves the
// sheet; nothing is coloured; the same plan gives the same sheets.
package steps

import (
	"stallwright/engine/build"
	"stallwright/engine/plan"
	"stallwright/paper/draw"
	"stallwright/paper/solid"
	"stallwright/paper/words"
)

// Options say how pictures are made. The zero Options are for a page in letter or
// A4 size standing upright.
type Options struct {
	Width  draw.Micron // 180 mm where zero
	Height draw.Micron // 120 mm where zero
}

// Drawer draws the steps of one plan. It may be used by one goroutine at a time.
type Drawer struct {
	*plan.Plan
	build *build.Result
	words *words.Words
	scene *solid.Scene
	opt   Options

	appears []int       // operation that brings each solid: -1 before all, past the last for never
	brought [][]int     // solids of each operation
	stands  map[int]int // run: the operation that stands its frame up
	hangs   map[int]int // bay: the operation that hangs its leaf
	byRun   map[int][]int
	byBay   map[int][]int
	byPost  map[int][]int
	side    map[int]int // run: the way in which it is looked at, once found
	from    [][]int     // solids of each structure
	// portraits are solids by the item that they show.
	portraits map[string]int
	propOf    map[int]int // props: the operation that sets them
}

// New prepares to draw the steps of a plan in some words.
func New(p *plan.Plan, w *words.Words, o Options) *Drawer {
	if o.Width == 0 {
		o.Width = 180 * draw.MM
	}
	if o.Height == 0 {
		o.Height = 120 * draw.MM
	}
	d := &Drawer{Plan: p, build: p.Build, words: w, scene: solid.Make(p), opt: o, side: map[int]int{}}
	d.props()
	d.index()
	return d
}

// Scene is what the pictures are drawn from.
func (d *Drawer) Scene() *solid.Scene { return d.scene }
