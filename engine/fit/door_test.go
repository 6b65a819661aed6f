package fit_test

import (
	"testing"

	"stallwright/engine/finding"
)

// Worked by hand. Running face: datum 2 + zone 92 + rail 1 = 95 in above the
// floor. The leaf is 91 1/2 in high, so stem + gap = 3 1/2 in. The stems must
//
//	reach out at least 1 1/4 (their own least),
//	hold the gap under 2 3/4: 3 1/2 − 2 3/4 = 3/4, and below the guide's lip at
//	2 1/2 by a sixteenth: 1 1/16,
//	keep the leaf under the stop at 1,
//
// so the least is 1 1/4; and they must
//
//	not pass 2 3/4 (their own most),
//	leave a gap of 3/4: 2 3/4,
//	let the leaf rise less than 1 1/2 over the stop: 1 + 1 1/2 − 1/16 = 2 7/16,
//
// so the most is 2 7/16. Half way, 1 27/32, is 1 7/8 to the nearest sixteenth,
// away from zero at the half. Gap 3 1/2 − 1 7/8 = 1 5/8; rise 1 7/8 − 1 = 7/8.
// Lap: (51 1/2 − 48) / 2 = 1 3/4 in.
func TestSlidingLeafHangs(t *testing.T) {
	f := fitWith(t, barn)
	d := f.bay("A1-front-door").Door
	same(t, "least stem", d.Stems[0], in+in/4)
	same(t, "most stem", d.Stems[1], 2*in+in*7/16)
	same(t, "stem", d.Stem, in+in*7/8)
	same(t, "gap", d.Gap, in+in*5/8)
	same(t, "least gap", d.GapFrom, in+in/16)
	same(t, "most gap", d.GapTo, 2*in+in/4)
	same(t, "rise", d.Rise, in*7/8)
	same(t, "lap", d.Lap, in+in*3/4)
	for _, c := range []finding.Code{finding.DoorLap, finding.DoorHeight, finding.DoorLift, finding.DoorGuide, finding.HandleCovered, finding.DoorMeets, finding.DoorPark} {
		f.silent(c, "A1-front-door")
	}
}

// Each case changes one size of the kit or job.
func TestSlidingLeafCannotHang(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new string
		code     finding.Code
		parts    []string
	}{
		// 95 − 94 = 1: with stems of 1 1/4 the leaf would stand 1/4 in the floor.
		{"leaf too high", `height: 91 1/2"`, `height: 94"`, finding.DoorHeight, []string{`only -1/4"`, `at least 3/4"`}},
		// 95 − 88 = 7, less the longest stem 2 3/4: 4 1/4.
		{"leaf too low", `height: 91 1/2"`, `height: 88"`, finding.DoorHeight, []string{`still hangs 4 1/4"`, `at most 2 3/4"`}},
		// Stems of at least 1 1/4 under a stop at 1 let the leaf rise 1/4.
		{"lifts off", `keep: 1 1/2"`, `keep: 1/4"`, finding.DoorLift, []string{`lifted 1/4"`, `under 1/4"`}},
		// Stems at 2 7/16 leave a gap of 1 1/16, over a lip at 1.
		{"over its guide", `guide: 2 1/2"`, `guide: 1"`, finding.DoorGuide, []string{`hangs 1 1/16"`, `lip at 1"`}},
		// Exactly at the lip is not below it.
		{"level with its guide", `guide: 2 1/2"`, `guide: 1 1/16"`, finding.DoorGuide, []string{`hangs 1 1/16"`}},
		// 4 − 3/4 − 1 3/4 = 1 1/2.
		{"handle behind the jamb", `setback: 6 1/2"`, `setback: 4"`, finding.HandleCovered, []string{`only 1 1/2"`, `needs 2 1/2"`}},
		// An opening that came out at 49 in: (51 1/2 − 49) / 2 = 1 1/4.
		{"opening too wide", "structures:", "measurements: [{bay: A1-front-door, width: 49 in}]\nstructures:", finding.DoorLap, []string{`only 1 1/4"`, `at least 1 1/2"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fitWith(t, barn, c.old, c.new, `{fill: mesh, height: 32"}`, `{fill: mesh, height: 28"}`)
			f.tells(c.code, finding.Error, "A1-front-door", c.parts...)
		})
	}
	// A sixteenth more of guide, and it hangs.
	f := fitWith(t, barn, `guide: 2 1/2"`, `guide: 1 1/8"`)
	f.silent(finding.DoorGuide, "A1-front-door")
	same(t, "stem", f.bay("A1-front-door").Door.Stem, 2*in+in*7/16)
}

// The floor is 1 in lower at the second front post. Stem + gap is 3 1/2 in at the
// first and 4 1/2 at the second: the least stem is 4 1/2 − 2 1/2 + 1/16 = 2 1/16
// for the guide (4 1/2 − 2 3/4 = 1 3/4 for the gap), the most stays 2 7/16. Half
// way: 2 1/4. The gap is 1 1/4 in at the higher end, 2 1/4 at the lower.
func TestDoorOverUnevenFloor(t *testing.T) {
	floors := "floors: [{post: A.b1, height: 0 in}, {post: A.b2, height: -1 in}]\nstructures:"
	f := fitWith(t, barn, "structures:", floors)
	d := f.bay("A1-front-door").Door
	same(t, "least stem", d.Stems[0], 2*in+in/16)
	same(t, "most stem", d.Stems[1], 2*in+in*7/16)
	same(t, "stem", d.Stem, 2*in+in/4)
	same(t, "gap above the highest floor", d.Gap, in+in/4)
	same(t, "fall at least", d.Fall[0], 0)
	same(t, "fall at most", d.Fall[1], in)

	// Read at the door post itself, a quarter inch down, the floor falls by that
	// only: least stem 3 3/4 − 2 1/2 + 1/16 = 1 5/16.
	f = fitWith(t, barn, "structures:", `floors: [{post: A.b1, height: 0 in}, {post: A1-front.r, height: -1/4 in}, {post: A.b2, height: -1 in}]`+"\nstructures:")
	same(t, "least stem", f.bay("A1-front-door").Door.Stems[0], in+in*5/16)

	// 2 1/2 in down: 6 − 2 3/4 = 3 1/4 in of gap under the longest stem.
	f = fitWith(t, barn, "structures:", "floors: [{post: A.b1, height: 0 in}, {post: A.b2, height: -2 1/2 in}]\nstructures:")
	f.tells(finding.DoorHeight, finding.Error, "A1-front-door", `still hangs 3 1/4"`)

	// A leaf an inch higher (stem + gap 2 1/2 and 4 3/4): the stem would have to be
	// 2 at least and 1 3/4 at most.
	f = fitWith(t, barn, `height: 91 1/2"`, `height: 92 1/2"`, "structures:", "floors: [{post: A.b1, height: 0 in}, {post: A.b2, height: -2 1/4 in}]\nstructures:")
	f.tells(finding.DoorHeight, finding.Error, "A1-front-door", `differs by 2 1/4"`, `between 3/4" and 2 3/4"`)
}

// Swing leaf in 48 in: 48 − 46 7/8 − 1/2 = 5/8 in at the latch, between 3/8 and
// 7/8. In 48 5/16 it is 15/16, too much; in 47 11/16 it is 5/16, too little.
func TestSwingLeaf(t *testing.T) {
	swing := []string{"fronts: {at: left, slides: right,", "fronts: {door: swing, at: left,"}
	f := fitWith(t, barn, swing...)
	same(t, "latch gap", f.bay("A1-front-door").Door.Latch, in*5/8)
	f.silent(finding.DoorGap, "A1-front-door")
	for _, c := range []struct{ width, gap string }{{"48 5/16 in", `15/16"`}, {"47 11/16 in", `5/16"`}} {
		f := fitWith(t, barn, append(swing, "structures:", "measurements: [{bay: A1-front-door, width: "+c.width+"}]\nstructures:")...)
		f.tells(finding.DoorGap, finding.Error, "A1-front-door", c.gap, `between 3/8" and 7/8"`)
	}
	// Two leaves of 47 1/8 in 96: 96 − 94 1/4 − 1 = 3/4 in between them.
	f = fitWith(t, barn, "fronts: {at: left, slides: right,", "fronts: {door: pair, at: left,")
	d := f.bay("A1-front-door").Door
	same(t, "gap between two leaves", d.Latch, in*3/4)
	// 83 in of boards are 16 courses of 5 in; 3 in are left, more than a tongue.
	if d.Boards != 16 || d.Bands[1].Slack != 3*in {
		t.Errorf("%d boards, %v left over", d.Boards, d.Bands[1].Slack)
	}
	// 2 + 93 reach 95, the tube is at 94.
	f = fitWith(t, barn, append(swing, `height: 66"`, `height: 93"`)...)
	f.tells(finding.DoorHeight, finding.Error, "A1-front-door", `7' 11"`, `7' 10"`)
}

// A door's boards: the leaf is 51 1/2 in wide with stiles of 1 3/4: 48 in inside,
// boards of 47 3/4. In the lower band, 15 1/2 in, half an inch is left over the
// third course: room for its tongue of 3/8. In a band of 15 1/4 there is none.
func TestDoorBoards(t *testing.T) {
	f := fitWith(t, barn)
	b := f.bay("A1-front-door")
	same(t, "board", b.Board, 47*in+in*3/4)
	for _, i := range b.Pieces {
		if p := &f.fit.Pieces[i]; len(p.Notches) > 0 {
			t.Errorf("%s is notched", p.Label)
		}
	}
	f = fitWith(t, barn, `{fill: boards, height: 15 1/2", load: below}`, `{fill: boards, height: 15 1/4", load: below}`)
	cut := 0
	for _, i := range f.bay("A1-front-door").Pieces {
		p := &f.fit.Pieces[i]
		for _, n := range p.Notches {
			cut++
			if p.Course != 3 || n.Edge != "top" || n.Depth != in*3/8 || n.Width != p.Length {
				t.Errorf("%s: %+v", p.Label, n)
			}
		}
	}
	if cut != 1 {
		t.Errorf("%d tongues cut off, want that of the third board", cut)
	}
}
