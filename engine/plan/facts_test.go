package plan_test

import (
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// The facts below are those of the trade as its people tell them: common
// practice, no published source. The check kit's parts are invented; the counts
// must come out of its rules and of the geometry.

func count(t *testing.T, what string, got, want int) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %d, want %d (common practice, no published source)", what, got, want)
	}
}

func length(t *testing.T, what string, got, want measure.Length) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// A board is a quarter inch shorter than its clear width. Clear widths by hand:
// the divider stands between posts 5 1/2 in thick and 12 ft apart, its channels'
// webs 3/16 in thick: 144 − 5 1/2 − 2·3/16 = 138 1/8 in.
func TestBoardIsClearWidthLessAQuarterInch(t *testing.T) {
	p := load(t, "check-barn")
	b := bay(t, p, "A2-A3")
	length(t, "clear", b.Clear, 138*in+in/8)
	length(t, "board", b.Board, 137*in+in*7/8)
	for i := range p.Fit.Bays {
		if v := &p.Fit.Bays[i]; !p.Layout.Bays[i].IsDoor() {
			if short := v.Clear - in/4 - v.Board; short < 0 || short >= in/16 {
				t.Errorf("%s: board %v in %v", p.Layout.Bays[i].Name, v.Board, v.Clear)
			}
		}
	}
}

// An 8 ft wall (96 in, less 2 in below the boards and 2 in above: a zone of
// 92 in) is 18 courses of 5 in coverage: 18·5 + 3/8 = 90 3/8 in, and a 19th would
// reach 95 3/8 in. With 96 in free it takes 19. With a grille it is 10 below and
// 2 above: 12·5 + 2·3/8 + (31 3/8 − 1 − 3/4) = 90 3/8 in again.
func TestEightFootWall(t *testing.T) {
	p := load(t, "check-barn")
	solid := bay(t, p, "A2-A3")
	count(t, "courses of a solid wall", len(solid.Courses), 18)
	count(t, "full courses of a solid wall", kinds(solid)["full"], 18)
	length(t, "top of a solid wall", solid.Stack.Top, 90*in+in*3/8)

	barred := bay(t, p, "A1-A2")
	if barred.Grille == nil {
		t.Fatal("no grille")
	}
	below := 0
	for _, c := range barred.Courses {
		if c.Z < barred.Grille.Z {
			below++
		}
	}
	count(t, "courses below the grille", below, 10)
	count(t, "courses above the grille", len(barred.Courses)-below, 2)
	length(t, "top of a wall with a grille", barred.Stack.Top, 90*in+in*3/8)

	file, src := kitText(t, "check")
	src = swap(t, src, `zone: height - datum - L("2 in")`, `zone: height`) // the timber wall's comes first
	k, err := kit.Read(file, []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	kits["check-96"] = k
	high := planOf(t, "check-96.yaml", swap(t, text(t, "testdata/check-barn.yaml"), "kit: check", "kit: check-96"))
	count(t, "courses in 96 in", len(bay(t, high, "A2-A3").Courses), 19)
	count(t, "courses in 92 in, in the same barn", len(bay(t, p, "A3-right").Courses), 18)
}

// A feeder stands on 6 courses with 4 short ones beside it; its top comes level
// with the grille's; full courses close the wall. Its top by hand: 6·5 + 50 =
// 80 in; the grille's: 10·5 + 3/8 + 29 5/8 = 80 in.
func TestFeederStandsAmongCourses(t *testing.T) {
	p := load(t, "check-barn")
	b := bay(t, p, "A2-front-right")
	if b.Feeder == nil || b.Grille == nil {
		t.Fatalf("no feeder or grille: %v", p.Findings)
	}
	k := kinds(b)
	count(t, "courses under the feeder", k["full"], 6)
	count(t, "short courses beside it", k["short"], 4)
	count(t, "closing courses", k["closing"], 2)
	length(t, "feeder's top over the grille's", b.Feeder.Level, 0)
	length(t, "feeder's top", b.Feeder.Top, 80*in)
	// Short boards: the panel's clear width, less the feeder's 24 in, less 1/4 in.
	// The panel: the front's 144 − 5 1/2 − 2·1 1/4 = 136 in, less leg 1 1/2, door
	// 48, half a door post 1 1/4 and its reach 1 in: 84 1/4 in.
	length(t, "panel", b.Clear, 84*in+in/4)
	length(t, "short boards", b.Feeder.Short, 60*in)
	for _, c := range b.Courses {
		if got := p.Fit.Pieces[c.Pieces[0]].Length; (c.Kind == "short") != (got == 60*in) {
			t.Errorf("course %d, %s, is %v long", c.No, c.Kind, got)
		}
	}
	length(t, "grille beside the feeder", b.Grille.Width, 60*in)
	length(t, "feeder, right of 60 1/4 in", b.Feeder.X, 60*in+in/4)
}

// A plain pen section has 4 corner bolts, a gate section 6 longer ones. By hand:
// grip 2 + 1/4 = 2 1/4, with two washers of 1/8, a nut of 7/16 and 1/8 standing
// out 3 1/16 in: 3 1/2 in bought. Gate: 2 + 2·1/4 + 1/4 = 2 3/4, so 3 9/16: 4 in.
func TestPenSection(t *testing.T) {
	p := load(t, "check-pen")
	noErrors(t, p)
	n, l := needs(p, "P-2", "bolt")
	count(t, "corner bolts of a plain section", n, 4)
	length(t, "their length", l, 3*in+in/2)
	n, l = needs(p, "P-gate", "bolt")
	count(t, "corner bolts of the gate section", n, 6)
	length(t, "their length", l, 4*in)
	n, _ = needs(p, "P.p5", "pin")
	count(t, "pins a joint", n, 2)
	n = 0
	for i := range p.Takeoff.Needs {
		if p.Takeoff.Needs[i].Item == "pin" {
			n += p.Takeoff.Needs[i].Count
		}
	}
	count(t, "pins of 16 joints", n, 32)
	n, _ = needs(p, "P-2", "clamp")
	count(t, "stack clamps of a clamped panel", n, 2)
	for _, name := range []string{"P-2", "P-16", "P-gate-left"} {
		treated := 0
		for _, c := range bay(t, p, name).Courses {
			if p.Fit.Pieces[c.Pieces[0]].Treated {
				if treated++; c.No != treated {
					t.Errorf("%s: course %d is treated, but not the one below", name, c.No)
				}
			}
		}
		count(t, "treated courses at the bottom of "+name, treated, 2)
	}
	if b := bay(t, load(t, "check-barn"), "A2-A3"); load(t, "check-barn").Fit.Pieces[b.Courses[0].Pieces[0]].Treated {
		t.Error("a barn's divider is treated, though the rule asks it of pens only")
	}
}

func TestStallFastenings(t *testing.T) {
	p := load(t, "check-barn")
	n, _ := needs(p, "A1-front-right", "clamp")
	count(t, "stack clamps of a clamped panel", n, 2)
	n, _ = needs(p, "A2-A3", "clamp")
	count(t, "stack clamps of a screwed wall", n, 0)
	n, l := needs(p, "A2-A3", "lag-small")
	count(t, "small lags of a wall's two channels (bottom, middle, top)", n, 2*3)
	length(t, "their length", l, 2*in)
	n, l = needs(p, "A1-front", "lag-half")
	count(t, "half-inch lags of a front's two posts (top and bottom)", n, 2*2)
	length(t, "shortest bought not under 3 1/2 in", l, 4*in)
	if f := p.Kit.Fastener("lag-half"); f.Pilot <= 0 || f.Pilot >= f.Diameter {
		t.Errorf("pilot hole %v for a lag of %v", f.Pilot, f.Diameter)
	}
	for _, j := range p.Kit.Joints {
		if j.At == kit.JointMounted && j.Spot != "top and bottom" || j.At == kit.JointChannel && j.Spot != "bottom, middle and top" {
			t.Errorf("%s: %q", j.At, j.Spot)
		}
	}
}

// A sliding door hangs on 2 rollers and takes 10 boards: 7 loaded from above, 3
// from below, of which the lowest is fastened. The leaf's lower band, 15 1/2 in,
// takes three boards of 5 in, the upper, 35 1/2 in, seven.
func TestSlidingDoor(t *testing.T) {
	p := load(t, "check-barn")
	b := bay(t, p, "A1-front-door")
	n, _ := needs(p, "A1-front-door", "roller")
	count(t, "rollers a door", n, 2)
	count(t, "boards in a door", b.Door.Boards, 10)
	count(t, "loaded from above", b.Door.Above, 7)
	count(t, "loaded from below", b.Door.Below, 3)
	var fastened []int
	below := 0
	for _, i := range b.Pieces {
		v := &p.Fit.Pieces[i]
		if v.Fasten {
			fastened = append(fastened, v.Course)
		}
		if v.Below {
			below++
		}
	}
	count(t, "pieces marked to load from below", below, 3)
	if len(fastened) != 1 || fastened[0] != 1 {
		t.Errorf("boards %v are fastened, want the lowest only", fastened)
	}
}

// A window cuts 36 in out of 7 courses above the tenth; one closing course
// stands above.
func TestWindowCutsCourses(t *testing.T) {
	p := load(t, "check-barn")
	b := bay(t, p, "A1-back")
	k := kinds(b)
	count(t, "courses below the window", k["full"], 10)
	count(t, "courses cut", k["cut"], 7)
	count(t, "closing courses", k["closing"], 1)
	for _, c := range b.Courses {
		if c.Kind != "cut" {
			continue
		}
		if c.No < 11 || c.No > 17 || len(c.Pieces) != 2 {
			t.Errorf("course %d is cut into %d", c.No, len(c.Pieces))
		}
		l, r := p.Fit.Pieces[c.Pieces[0]].Length, p.Fit.Pieces[c.Pieces[1]].Length
		// 138 1/8 − 36 = 102 1/8 in, less twice the end play, in sixteenths down.
		if out := b.Clear - l - r - 2*(in/4); out < 36*in || out >= 36*in+in/8 {
			t.Errorf("%v is cut out of course %d", out, c.No)
		}
	}
}

// What comes with a two-leaf door comes once, not with each leaf.
func TestTwoLeafDoorHasItsHingesOnce(t *testing.T) {
	src := swap(t, text(t, "testdata/check-barn.yaml"), "        - {kind: stall, right: grille}", "        - {kind: stall, right: grille, front: {door: pair, at: centre, panels: open}}")
	p := planOf(t, "pair.yaml", src)
	n, _ := needs(p, "A1-front-door", "hinge")
	count(t, "hinges", n, 6)
	n, _ = needs(p, "A1-front-door", "pair")
	count(t, "leaves", n, 2)
	for i := range p.Fit.Pieces {
		if v := &p.Fit.Pieces[i]; v.Kind == fit.Tube && p.Layout.Runs[v.Run].Name == "A1-front" && v.Z < 0 {
			t.Errorf("%s lies under an open panel", v.Label)
		}
	}
}

// No kit that ships may carry the set of values above.
func TestShippedKitsDoNotShareTheCheckValues(t *testing.T) {
	for _, name := range kit.ShippedNames() {
		k := readKit(t, name)
		joint := func(at kit.JointKind, door bool) int {
			for i := range k.Joints {
				facts := kit.Facts{Structure: "pen", Door: door, Clear: 11 * ft, Height: 6 * ft, Clamped: true, Panels: 2, Bays: 1, Courses: 13}
				ok, err := k.Joints[i].When.Holds(&facts)
				if k.Joints[i].At != at || err != nil || !ok {
					continue
				}
				if f := k.Fastener(k.Joints[i].Use); f == nil {
					continue
				}
				n, _ := k.Joints[i].Count.Count(&facts)
				return n
			}
			return 0
		}
		front := k.Assembly(k.Uses.BarnRow.Front)
		pen := 0
		for _, v := range k.Treated {
			if ok, _ := v.When.Holds(&kit.Facts{Structure: "pen", Wall: "section"}); ok {
				pen = max(pen, v.Courses)
			}
		}
		same, of := 0, 0
		for _, shared := range []bool{
			k.Board.EndPlay == in/4,
			front.Below == 10 && front.Above == 2,
			k.Feeders[0].On == 6,
			joint(kit.JointFrame, false) == 4 && joint(kit.JointFrame, true) == 6,
			joint(kit.JointChannel, false) == 3,
			joint(kit.JointMounted, false) == 2,
			k.Windows[0].Width == 36*in && k.Windows[0].Sill == 10,
			pen == 2,
		} {
			if of++; shared {
				same++
			}
		}
		if same > of/4 {
			t.Errorf("%s shares %d of %d check values", name, same, of)
		}
	}
}

// Findings of the check barn, all foreseen.
func TestCheckBarnHasNoErrors(t *testing.T) {
	p := load(t, "check-barn")
	for _, f := range p.Findings {
		if f.Severity > finding.Note {
			t.Errorf("%s %s %s: %s", f.Severity, f.Code, f.Place, f.Message)
		}
	}
}
