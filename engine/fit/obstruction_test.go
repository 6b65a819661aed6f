package fit_test

import (
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/measure"
)

func crossed(t *testing.T, entry string, swaps ...string) *fitted {
	t.Helper()
	return fitWith(t, barn, append([]string{"structures:", "obstructions:\n  - " + entry + "\nstructures:"}, swaps...)...)
}

func (f *fitted) course(bay string, no int) []*fit.Piece {
	f.t.Helper()
	var out []*fit.Piece
	for _, i := range f.bay(bay).Courses[no-1].Pieces {
		out = append(out, &f.fit.Pieces[i])
	}
	return out
}

// By hand. The back is 138 1/8 in clear, its boards 137 7/8 in long; course 3 covers
// 10 to 15 in. An eighth stays clear all round, and a board may lie a quarter inch
// either way. At least 2 1/2 in of a face must be left.
func TestCutOuts(t *testing.T) {
	const at = "{bay: A1-back, what: pipe, left: 40 in, width: 2 in, "
	for _, c := range []struct {
		name, entry        string
		edge               string
		x, wide, deep, hig measure.Length
	}{
		// 10 3/8 to 11 5/8: 3 3/8 are left over it.
		{"low", at + "above_datum: 10 1/2 in, height: 1 in}", "bottom", 39*in + in*5/8, 2*in + in/2, in + in*5/8, 0},
		// 13 3/8 to 14 7/8: an eighth over it, 3 3/8 under it; tongue 3/8.
		{"high", at + "above_datum: 13 1/2 in, height: 1 1/4 in}", "top", 39*in + in*5/8, 2*in + in/2, 2 * in, 0},
		// From its lower edge, so that the board goes past it.
		{"in the back face", at + "above_datum: 12 in, height: 1 in, face: back, into: 1/2 in}", "back face", 39*in + in*5/8, 2*in + in/2, in / 2, 3*in + in/8},
		// 1 in is more than half of 1 1/2 in: cut through.
		{"deep in the front face", at + "above_datum: 10 1/2 in, height: 1 in, face: front, into: 1 in}", "bottom", 39*in + in*5/8, 2*in + in/2, in + in*5/8, 0},
		// The datum is 2 in over the floor.
		{"above the floor", at + "above_floor: 12 1/2 in, height: 1 in}", "bottom", 39*in + in*5/8, 2*in + in/2, in + in*5/8, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := crossed(t, c.entry)
			p := f.course("A1-back", 3)
			if len(p) != 1 || len(p[0].Notches) != 1 {
				t.Fatalf("%+v", p)
			}
			n := p[0].Notches[0]
			if n.Edge != c.edge {
				t.Errorf("cut at the %s, want the %s", n.Edge, c.edge)
			}
			same(t, "from", n.X, c.x)
			same(t, "over", n.Width, c.wide)
			same(t, "deep", n.Depth, c.deep)
			same(t, "high", n.High, c.hig)
			f.tells(finding.Obstructed, finding.Note, "A1-back", "A1-back/c3 with a cut-out", "lowest 2 courses cannot be dropped in")
			if strings.Count(p[0].Why.Rule.String(), "rule.cut-for thing=(thing.pipe)") != 1 {
				t.Errorf("no reason: %v", p[0].Why)
			}
		})
	}
}

// Over 10 7/8 to 13 1/8 neither 1 7/8 over it nor 7/8 under it hold: the course is
// cut in two. On its left 40 − 1/8 − 1/4 in; on its right from 42 1/8 in on,
// 138 1/8 − 42 1/8 − 1/4 in.
func TestCourseCutInTwo(t *testing.T) {
	const entry = "{bay: A1-back, what: girt, left: 40 in, width: 2 in, above_datum: 11 in, height: 2 in"
	f := crossed(t, entry+"}")
	p := f.course("A1-back", 3)
	if len(p) != 2 || p[0].Label != "A1-back/c3L" || p[1].Label != "A1-back/c3R" {
		t.Fatalf("%+v", p)
	}
	same(t, "left", p[0].Length, 39*in+in*5/8)
	same(t, "right", p[1].Length, 95*in+in*3/4)
	same(t, "right stands at", p[1].X, 42*in+in/8)
	f.tells(finding.EndsLoose, finding.Warning, "A1-back", "A1-back/c3L, c3R")
	f = crossed(t, entry+", holds: true}")
	f.silent(finding.EndsLoose, "A1-back")
	// Beside the web nothing is left on the left.
	f = crossed(t, strings.Replace(entry, "40 in", "0 in", 1)+"}")
	if p := f.course("A1-back", 3); len(p) != 1 || p[0].Label != "A1-back/c3R" {
		t.Errorf("%+v", p)
	}
	// A band as high as a course and as wide as the bay leaves nothing of it.
	f = crossed(t, "{bay: A1-back, what: track, above_datum: 10 in, height: 5 in}")
	f.tells(finding.Obstructed, finding.Error, "A1-back", "nothing that holds", "A1-back/c3")
	// What only stands before the boards is no matter to them.
	f = crossed(t, entry+", face: front, into: 0 in}")
	f.silent(finding.Obstructed, "A1-back")
	if p := f.course("A1-back", 3); len(p) != 1 || len(p[0].Notches) > 0 {
		t.Errorf("%+v", p)
	}
	// Over the wall it is clear of them.
	f = crossed(t, "{bay: A1-back, what: brace, left: 40 in, width: 2 in, above_datum: 100 in, height: 2 in}")
	f.tells(finding.Obstructed, finding.Note, "A1-back", "stands clear")
}

// What stands where a grille, a window, a feeder or a door does is told; what stands
// behind a sliding leaf is not in its way.
func TestObstructionMeets(t *testing.T) {
	const pipe = "{bay: A1-back, what: pipe, left: 60 in, width: 2 in, above_datum: 60 in, height: 2 in}"
	for fill, what := range map[string]string{"grille": "the grille", "window": "the window"} {
		f := crossed(t, pipe, "back: boards", "back: "+fill)
		f.tells(finding.ObstructionMeets, finding.Error, "A1-back", what)
	}
	// The leaf parks on the right of a doorway at the left.
	const before = "{bay: A1-front-right, what: pipe, left: 10 in, width: 2 in, above_floor: 40 in, height: 2 in, face: "
	f := crossed(t, before+"front, into: 0 in}")
	f.tells(finding.ObstructionMeets, finding.Error, "A1-front-door", "in A1-front-right", "where it parks")
	f = crossed(t, before+"back, into: 0 in}")
	f.silent(finding.ObstructionMeets, "A1-front-door")
	f = crossed(t, "{bay: A1-front-door, what: curb, above_floor: 0 in, height: 4 in}")
	f.tells(finding.ObstructionMeets, finding.Error, "A1-front-door", "where it stands closed")
	f = crossed(t, "{bay: A1-front-door, what: curb, above_floor: 0 in, height: 1/2 in}")
	f.tells(finding.ObstructionMeets, finding.Error, "A1-front-door", "the floor guide")
}
