package fit_test

import (
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/measure"
)

func measured(lines string) []string {
	return []string{"structures:", "measurements:\n" + lines + "structures:"}
}

// Drawn: 144 − 5 1/2 − 2·3/16 = 138 1/8. Boards a quarter inch less, down to the
// sixteenth; channels 1 1/2 deep, so that a board pushed to one end stands 1 1/2
// less what is free in the other.
func TestMeasuredBeatsDrawn(t *testing.T) {
	for _, c := range []struct {
		width       string
		clear       measure.Length
		board, hold measure.Length
	}{
		{"", 138*in + in/8, 137*in + in*7/8, in + in/4},
		{"138 in", 138 * in, 137*in + in*3/4, in + in/4},
		{"138 1/32 in", 138*in + in/32, 137*in + in*3/4, in + in*7/32},
		{"{bottom: 138 in, middle: 137 15/16 in, top: 138 1/16 in}", 137*in + in*15/16, 137*in + in*11/16, in + in/4},
	} {
		var swaps []string
		if c.width != "" {
			swaps = measured("  - {bay: A1-back, width: " + c.width + "}\n")
		}
		f := fitWith(t, barn, swaps...)
		b := f.bay("A1-back")
		same(t, c.width+" clear", b.Clear, c.clear)
		same(t, c.width+" board", b.Board, c.board)
		same(t, c.width+" left hold", b.Hold[0], c.hold)
		same(t, c.width+" right hold", b.Hold[1], c.hold)
		want := fit.Measured
		if c.width == "" {
			want = fit.Drawn
		}
		for _, i := range b.Pieces {
			if p := &f.fit.Pieces[i]; p.State != want {
				t.Errorf("%s is %s, want %s", p.Label, p.State, want)
			}
		}
	}
}

// Widest and narrowest may differ by what the hold of 1 1/4 has over the least of
// 3/4: half an inch. Over that one length does not do for all courses.
func TestTaper(t *testing.T) {
	f := fitWith(t, barn, measured("  - {bay: A1-back, width: {bottom: 138 in, top: 138 1/2 in}}\n")...)
	f.silent(finding.Taper, "A1-back")
	f = fitWith(t, barn, measured("  - {bay: A1-back, width: {bottom: 138 in, top: 138 9/16 in}}\n")...)
	f.tells(finding.Taper, finding.Warning, "A1-back", `9/16" wider`, "2 lengths", "3 shims")
}

func TestTapeSlips(t *testing.T) {
	// Within an eighth two readings agree; the later one counts in any case.
	f := fitWith(t, barn, measured("  - {bay: A1-back, width: 138 in}\n  - {bay: A1-back, width: 137 7/8 in}\n")...)
	f.silent(finding.ReadingsDiffer, "A1-back")
	same(t, "later reading", f.bay("A1-back").Clear, 137*in+in*7/8)
	f = fitWith(t, barn, measured("  - {bay: A1-back, width: 138 in}\n  - {bay: A1-back, width: 138 3/16 in}\n")...)
	f.tells(finding.ReadingsDiffer, finding.Warning, "A1-back", `3/16" apart`)
	// 138 1/8 drawn: 135 1/8 is 3 in off, which posts may be; 135 1/16 is more.
	f = fitWith(t, barn, measured("  - {bay: A1-back, width: 135 1/8 in}\n")...)
	f.silent(finding.MeasuredFarOff, "A1-back")
	f = fitWith(t, barn, measured("  - {bay: A1-back, width: 135 1/16 in}\n")...)
	f.tells(finding.MeasuredFarOff, finding.Warning, "A1-back", `3 1/16" off`)
}

// Boards 1 1/2 in thick go into channels 1 3/4 in wide inside. 1 7/8 do not; 1 1/4
// rattle: 1/2 in is over a third of them.
func TestThickness(t *testing.T) {
	f := fitWith(t, barn)
	f.silent(finding.BoardLoose, "A1-back")
	f = fitWith(t, barn, "coverage: 5 in", "thickness: 1 7/8 in, coverage: 5 in")
	f.tells(finding.BoardTooThick, finding.Error, "A1-back", `1 7/8"`, `1 3/4"`)
	f = fitWith(t, barn, "coverage: 5 in", "thickness: 1 1/4 in, coverage: 5 in")
	f.tells(finding.BoardLoose, finding.Warning, "A1-back", `1/2" of play`)
}

// A kit's own length rule is followed, but never past the end play; nor may
// rounding leave too little hold in a channel just deep enough.
func TestBoardLengthRule(t *testing.T) {
	f := fitWith(t, barn, "length: clear - end_play", `length: clear - L("3/8 in")`)
	same(t, "board", f.bay("A1-back").Board, 137*in+in*3/4)
	f = fitWith(t, barn, "length: clear - end_play", "length: clear")
	f.tells(finding.LittleHold, finding.Error, "A1-back", "board.length")
	if n := len(f.bay("A1-back").Courses); n != 0 {
		t.Errorf("%d courses of boards that are too long", n)
	}
	// Legs of 1 in hold 3/4 and an end play of 1/4; in 138 1/32 the board is 9/32
	// short, rounded down, and holds by 23/32.
	f = fitWith(t, barn, append(measured("  - {bay: A1-back, width: 138 1/32 in}\n"), `leg: 1 1/2"`, `leg: 1"`)...)
	f.tells(finding.LittleHold, finding.Error, "A1-back", `only 23/32"`)
}

// The panel beside the doorway is 84 1/4 in clear: the grille 84, cut from
// 85 1/2, 3/4 off each end. Its margins of 3 1/2 to the bars' centres leave 3 in
// to the first bar, less the trim 2 1/4.
func TestTrimmedGrille(t *testing.T) {
	bars := []string{"panels: boards", "panels: {fill: grille, grille: bars}"}
	f := fitWith(t, barn, bars...)
	g := f.bay("A1-front-right").Grille
	same(t, "width", g.Width, 84*in)
	same(t, "off the left", g.Trim[0], in*3/4)
	same(t, "off the right", g.Trim[1], in*3/4)
	same(t, "left gap", g.Gap[0], 2*in+in/4)
	same(t, "right gap", g.Gap[1], 2*in+in/4)
	if g.Ends != 4 {
		t.Errorf("%d ends to deburr, want two rails at both ends", g.Ends)
	}
	f.tells(finding.ZincRepair, finding.Note, "A1-front-right", `3/4" left and 3/4" right`, "4 cut ends")
	// Pushed fully to one side, 1/4 of play opens at the other; the channel's leg
	// covers 1 1/2: 1 in is open, less than the 2 in between bars.
	f.silent(finding.BarGap, "A1-front-right")
	// With legs of 1/2 in less at that post 2 1/4 + 1/4 − 1 = 1 1/2 are open; with
	// bars 1 5/8 apart that is still less, 1 3/8 apart more.
	f = fitWith(t, barn, append(bars, `inside: 1 3/4", leg: 1 1/2", height: zone`, `inside: 1 3/4", leg: 1", height: zone`, `bar: 1", pitch: 3"`, `bar: 1", pitch: 2 3/8"`)...)
	f.tells(finding.BarGap, finding.Warning, "A1-front-right", "left bar")

	// Of 84 3/16 clear, 1 9/16 come off: half is 25/32, so 3/4 left, 13/16 right.
	f = fitWith(t, barn, append(bars, measured("  - {bay: A1-front-right, width: 84 3/16 in}\n")...)...)
	g = f.bay("A1-front-right").Grille
	same(t, "off the left", g.Trim[0], in*3/4)
	same(t, "off the right", g.Trim[1], in*13/16)
	same(t, "right gap", g.Gap[1], 2*in+in*3/16)

	// At most 3 in come off each end: down to 79 1/2, in 79 3/4.
	f = fitWith(t, barn, append(bars, measured("  - {bay: A1-front-right, width: 79 3/4 in}\n")...)...)
	same(t, "width", f.bay("A1-front-right").Grille.Width, 79*in+in/2)
	f = fitWith(t, barn, append(bars, measured("  - {bay: A1-front-right, width: 79 11/16 in}\n")...)...)
	f.tells(finding.NoGrille, finding.Error, "A1-front-right", `6' 7 7/16"`)
}

// A window 36 in wide in the middle of 138 1/8: (138 1/8 − 36) / 2 = 51 1/16 on
// each side, boards 50 13/16.
func TestWindowBoardsAndNotches(t *testing.T) {
	back := []string{"back: boards", "back: {fill: window}"}
	f := fitWith(t, barn, append(back, `width: 36", height: 35"`, `width: 36", height: 32"`)...)
	b := f.bay("A1-back")
	w := b.Window
	same(t, "left boards", w.Boards[0], 50*in+in*13/16)
	same(t, "right boards", w.Boards[1], 50*in+in*13/16)
	same(t, "their hold", w.Hold[0], in+in/4)
	// 32 in are 6 courses and 2 in of the one above; the tongue of the one below,
	// 3/8 in, is cut away. Boards of 137 7/8 in can move 1/4 in: pushed to the left
	// web they are cut from 51 1/16 to 87 1/16 in, pushed to the right one from
	// 50 13/16 on.
	if w.CutCourses != 6 {
		t.Errorf("%d courses cut, want 6", w.CutCourses)
	}
	same(t, "notch below", w.NotchBottom, in*3/8)
	same(t, "notch above", w.NotchTop, 2*in)
	for _, c := range b.Courses {
		n := f.fit.Pieces[c.Pieces[0]].Notches
		switch c.No {
		case 10, 17:
			depth, edge := in*3/8, "top"
			if c.No == 17 {
				depth, edge = 2*in, "bottom"
			}
			if len(n) != 1 || n[0].X != 50*in+in*13/16 || n[0].Width != 36*in+in/4 || n[0].Depth != depth || n[0].Edge != edge {
				t.Errorf("course %d: %+v", c.No, n)
			}
		default:
			if len(n) != 0 {
				t.Errorf("course %d is notched: %+v", c.No, n)
			}
		}
	}
	// 33 in would leave 2 in of the 17th course over the window, under the least
	// rip of 2 1/2: it is cut through.
	f = fitWith(t, barn, append(back, `width: 36", height: 35"`, `width: 36", height: 33"`)...)
	if w := f.bay("A1-back").Window; w.CutCourses != 7 || w.NotchTop != 0 {
		t.Errorf("%d courses cut, notch %v", w.CutCourses, w.NotchTop)
	}
	f.tells(finding.Packed, finding.Note, "A1-back", `only 2" would be left`)

	// From 20 in: boards of 19 3/4, and of 138 1/8 − 56 − 1/4 = 81 7/8.
	f = fitWith(t, barn, "back: boards", "back: {fill: window, from: 20 in}")
	same(t, "left boards", f.bay("A1-back").Window.Boards[0], 19*in+in*3/4)
	same(t, "right boards", f.bay("A1-back").Window.Boards[1], 81*in+in*7/8)
}

func TestWindowOutOfPlace(t *testing.T) {
	for _, c := range []struct{ fill, part string }{
		{"{fill: window, from: 5 in}", `only 4 3/4" on its left`}, // the least stub is 6 in
		{"{fill: window, from: 97 in}", `only 4 7/8" on its right`},
		{"{fill: window, from: 130 in}", "on its right"},
		{"{fill: window, sill: 11}", "no closing course: the wall has 18"},
		{"{fill: window, window: none}", `no window "none"`},
	} {
		f := fitWith(t, barn, "back: boards", "back: "+c.fill)
		f.tells(finding.WindowPlace, finding.Error, "A1-back", c.part)
	}
}

// Datum marks: 2 in above the highest floor, which is half an inch up at A.a1.
func TestDatumMarks(t *testing.T) {
	f := fitWith(t, barn, "structures:", "floors: [{post: A.b1, height: 0 in}, {post: A.b2, height: -1 in}, {post: A.a1, height: 1/2 in}]\nstructures:")
	want := map[string]measure.Length{"A.b1": 2*in + in/2, "A.b2": 3*in + in/2, "A.a1": 2 * in, "A.a2": 2 * in}
	seen := 0
	for _, m := range f.fit.Marks {
		post := &f.lay.Posts[m.Post]
		if w, ok := want[post.Name]; ok {
			seen++
			same(t, post.Name, m.Height, w)
		}
	}
	if seen != len(want) {
		t.Errorf("%d posts marked of %d", seen, len(want))
	}
	// All floors below the level line: the highest counts, not zero.
	f = fitWith(t, barn, "structures:", "floors: [{post: A.b1, height: -2 in}, {post: A.b2, height: -3 in}]\nstructures:")
	for _, m := range f.fit.Marks {
		if f.lay.Posts[m.Post].Name == "A.b2" {
			same(t, "A.b2", m.Height, 3*in)
		}
	}
}
