package fit_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/measure"
)

// By hand. The zone is 92 in, courses cover 5 in and their tongues stand 3/8 in
// out; the channels are 1 1/2 in deep, the least engagement 3/4 in, the end play
// 1/4 in. From 138 in at the datum to 138 9/16 in at the top of the zone the bay
// widens 9/16/92 in an inch. A board of 137 3/4 in, right for the lowest course,
// keeps its hold up to a width of 138 1/2 in, which lies 81.78 in up: the tongue of
// the course at 75 in ends at 80 3/8 in, that of the next at 85 3/8 in. So courses
// 1 to 16 take 137 3/4 in, 17 and 18 more: at 80 in the bay is 138.489 in wide, less
// 1/4 in and down to the sixteenth 138 3/16 in. That goes in at 75 in too (138.459 in)
// but not at 70 in (138.428 in): course 16 gets it as well, and is held the deeper.
func TestCoursesAtTheirOwnHeights(t *testing.T) {
	f := fitWith(t, barn, measured("  - {bay: A1-back, width: {bottom: 138 in, top: 138 9/16 in}}\n")...)
	b := f.bay("A1-back")
	if b.Taper == nil || len(b.Taper.Lengths) != 2 {
		t.Fatalf("%+v", b.Taper)
	}
	same(t, "short boards", b.Taper.Lengths[0], 137*in+in*3/4)
	same(t, "long boards", b.Taper.Lengths[1], 138*in+in*3/16)
	for k, c := range b.Courses {
		want := b.Taper.Lengths[0]
		if k >= 15 {
			want = b.Taper.Lengths[1]
		}
		same(t, fmt.Sprintf("course %d", k+1), f.fit.Pieces[c.Pieces[0]].Length, want)
	}
	same(t, "clear", b.Clear, 138*in)
	// Three lags in 92 in, half a step from the ends: 15 1/3, 46 and 76 2/3 in, and
	// so much of 9/16 in, down to the sixteenth: 0.094, 0.281 and 0.469 in.
	want := []fit.Shim{{Z: 15*in + in*5/16, Thick: in / 16}, {Z: 46 * in, Thick: in / 4}, {Z: 76*in + in*11/16, Thick: in * 7 / 16}}
	if fmt.Sprint(b.Taper.Shims) != fmt.Sprint(want) {
		t.Errorf("shims %v, want %v", b.Taper.Shims, want)
	}
	if c := b.Taper.ByCut; c.Settings != 1 || c.Minutes != 3 || len(c.Boards) != 1 || c.Boards[0].Count != 18 {
		t.Errorf("by cut: %+v", c)
	}
	if c := b.Taper.ByShim; c.Shims != 3 || c.Minutes != 15 || c.Lengths != 1 {
		t.Errorf("by shims: %+v", c)
	}
}

// The job chooses: with shims one length for all, and the finding is only a note.
func TestShimsChosen(t *testing.T) {
	src := "labour: {shim: 7, setting: 4}\nbays: {A1-back: {shim: true}}\nmeasurements:\n  - {bay: A1-back, width: {bottom: 138 in, top: 138 9/16 in}}\nstructures:"
	f := fitWith(t, barn, "structures:", src)
	b := f.bay("A1-back")
	for _, c := range b.Courses {
		same(t, "shimmed board", f.fit.Pieces[c.Pieces[0]].Length, 137*in+in*3/4)
	}
	f.tells(finding.Taper, finding.Note, "A1-back", "21 min (job, labour)", "4 min")
	if !b.Taper.Shimmed {
		t.Error("it is not shimmed")
	}
}

// Where even one course is held at one edge only, it is said.
func TestTaperTooSteep(t *testing.T) {
	f := fitWith(t, barn, measured("  - {bay: A1-back, width: {bottom: 138 in, top: 150 in}}\n")...)
	f.tells(finding.Taper, finding.Error, "A1-back", "course 1 alone", "at least 3/4\"")
}

// Every board lies in its channels at every height with the least engagement, is
// never longer than the clear width over its own height less the end play, and
// lies on the tape's marks; with equal readings all boards are of the length that
// one reading gives. Widths are reckoned here again, in whole numbers.
func TestBoardsOfTaperedBays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sixteenths := func(what string, most int) measure.Length {
			return 138*in + measure.Length(rapid.IntRange(0, most).Draw(r, what))*in/16
		}
		bottom, middle, top := sixteenths("bottom", 24), sixteenths("middle", 24), sixteenths("top", 24)
		line := fmt.Sprintf("  - {bay: A1-back, width: {bottom: %s, middle: %s, top: %s}}\n", bottom, middle, top)
		f := fitWith(t, barn, measured(line)...)
		b := f.bay("A1-back")
		if _, severity, told := f.found(finding.Taper, "A1-back"); told && severity == finding.Error {
			return
		}
		// 92 times the clear width at a height, doubled: exact.
		at := func(z measure.Length) (num, den int64) {
			half := int64(46 * in)
			if z <= 46*in {
				return int64(bottom)*(half-int64(z)) + int64(middle)*int64(z), half
			}
			return int64(middle)*(2*half-int64(z)) + int64(top)*(int64(z)-half), half
		}
		for _, c := range b.Courses {
			p := &f.fit.Pieces[c.Pieces[0]]
			if p.Length%(in/16) != 0 {
				r.Errorf("%s is %v long", p.Label, p.Length)
			}
			for _, z := range []measure.Length{c.Z, c.Z + c.Height, 46 * in} {
				if z < c.Z || z > c.Z+c.Height {
					continue
				}
				num, den := at(z)
				if int64(p.Length+in/4)*den > num {
					r.Errorf("%s, %v long, does not go in at %v: %v %v %v", p.Label, p.Length, z, bottom, middle, top)
				}
				if int64(p.Length+3*in/4)*den < num {
					r.Errorf("%s, %v long, is not held at %v: %v %v %v", p.Label, p.Length, z, bottom, middle, top)
				}
			}
		}
		if bottom == middle && middle == top {
			for _, c := range b.Courses {
				same(t, "even bay", f.fit.Pieces[c.Pieces[0]].Length, bottom-in/4)
			}
		}
	})
}

// One reading and the same three times give the same fit in all.
func TestEqualReadingsChangeNothing(t *testing.T) {
	one := fitWith(t, barn, measured("  - {bay: A1-back, width: 138 1/16 in}\n")...)
	three := fitWith(t, barn, measured("  - {bay: A1-back, width: {bottom: 138 1/16 in, middle: 138 1/16 in, top: 138 1/16 in}}\n")...)
	if three.bay("A1-back").Taper != nil {
		t.Error("it tapers")
	}
	for i := range one.fit.Pieces {
		p, q := one.fit.Pieces[i], three.fit.Pieces[i]
		p.Why, q.Why = nil, nil
		if fmt.Sprint(p) != fmt.Sprint(q) {
			t.Errorf("%v\n%v", p, q)
		}
	}
}

// Leans. The back's posts stand along the barn: the right one leans 1/2 in out over
// 46 in, so 1 in over the zone of 92 in, and the bay is 1 in wider at its top. Read
// 1/2 in wider there, tape and bob are 1/2 in apart; read 1 in, they agree.
func TestLeansAndWidths(t *testing.T) {
	lean := "readings:\n  - {plumb: A.a1, over: 46 in}\n  - {plumb: A.a2, over: 46 in, along: %s, across: %s}\n"
	with := func(width, along, across string) *fitted {
		return fitWith(t, barn, measured("  - {bay: A1-back, width: "+width+"}\n"+fmt.Sprintf(lean, along, across))...)
	}
	f := with("138 in", "1/2 in", "0 in")
	b := f.bay("A1-back")
	if b.Taper == nil || len(b.Taper.Widths) != 2 {
		t.Fatalf("%+v", b.Taper)
	}
	wider := b.Taper.Widths[1] - b.Taper.Widths[0]
	if wider != in {
		t.Errorf("%v wider at the top, want 1 in", wider)
	}
	f = with("{bottom: 138 in, top: 138 1/2 in}", "1/2 in", "0 in")
	f.tells(finding.WidthLean, finding.Warning, "A1-back", `1/2" apart`, "the tape counts")
	f = with("{bottom: 138 in, top: 139 in}", "1/2 in", "0 in")
	f.silent(finding.WidthLean, "A1-back")
	// Twist: 2 in across over 46 in are 4 in over the zone, and 5/92 of them over a
	// course: 0.217 in. With 1 3/4 in inside and boards of 1 1/2 in swollen by
	// 1 1/2 · 0.00265 · 4 = 0.0159 in, 0.017 in of play is left; at 2 1/4 in none.
	f = with("138 in", "0 in", "2 in")
	f.silent(finding.ChannelTwist, "A1-back")
	thick := f.bay("A1-back").Thick
	same(t, "twist", thick.Twist, (4*in*5+91)/92)
	same(t, "swollen", thick.Wet, in*3/2+403860)
	f = with("138 in", "0 in", "2 1/4 in")
	f.tells(finding.ChannelTwist, finding.Error, "A1-back", "lean 4 1/2\" apart")
}

// Boards loaded at 6 % may swell to 30 %: 1.7 · 0.00265 · 24 = 0.108 in, past 1 3/4 in.
func TestSwollenBoards(t *testing.T) {
	f := fitWith(t, barn, "coverage: 5 in", "thickness: 1.7 in, moisture: 6, moisture_most: 35, coverage: 5 in")
	f.tells(finding.BoardSwells, finding.Error, "A1-back", "6 %", "35 %")
	f = fitWith(t, barn, "coverage: 5 in", "thickness: 1.7 in, moisture: 25, coverage: 5 in")
	f.silent(finding.BoardSwells, "A1-back")
	same(t, "wetter as loaded", f.bay("A1-back").Thick.Wet, in*17/10)
}

// Boards beside a window are cut to the narrowest reading. Their courses reach from
// 50 to 85 3/8 in, tongue included: at 9/16 in over 92 in the bay is 0.522 in wider
// there, and of 1 1/4 in of hold less than 3/4 in is left; at 1/2 in, 0.464 in.
func TestWindowInTaperedBay(t *testing.T) {
	with := func(top, shim string) *fitted {
		return fitWith(t, barn, "back: boards", "back: window", "structures:",
			"bays: {A1-back: {shim: "+shim+"}}\nmeasurements:\n  - {bay: A1-back, width: {bottom: 138 in, top: "+top+"}}\nstructures:")
	}
	with("138 1/2 in", "false").silent(finding.Taper, "A1-back")
	f := with("138 9/16 in", "false")
	told := false
	for _, v := range f.fit.Findings {
		told = told || v.Code == finding.Taper && v.Severity == finding.Error && strings.Contains(v.Message, "A1-back/c17L")
	}
	if !told {
		t.Errorf("nothing told: %v", f.fit.Findings)
	}
	f = with("138 9/16 in", "true")
	if _, severity, _ := f.found(finding.Taper, "A1-back"); severity == finding.Error {
		t.Error("shimmed, it is told all the same")
	}
}
