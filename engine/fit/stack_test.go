package fit_test

import (
	"fmt"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
)

// The zone is the wall's height less 4 in. Clamps take up 1/2 to 2 in (most 2 1/2,
// less a reserve of 1/2); the least rip is 2 1/2 in; a screwed wall may stay 2 in
// short. A stack of n courses is 5n + 3/8 high.
func TestStackInItsZone(t *testing.T) {
	for _, c := range []struct {
		height              string
		bay                 string
		courses             int // the ripped one included
		rip, packing, slack measure.Length
		code                finding.Code
		severity            finding.Severity
	}{
		// 92: 18 courses, 90 3/8, leave 1 5/8 for the clamp.
		{"96 in", "A1-front-right", 18, 0, 0, in + in*5/8, "", 0},
		// 93: 18 leave 2 5/8, too much. 93 − 90 − 1/2 = 2 1/2: ripped, no tongue.
		{"97 in", "A1-front-right", 19, 2*in + in/2, 0, in / 2, finding.RippedCourse, finding.Note},
		// 92 3/4: 18 leave 2 3/8, and a rip would be 2 1/4, too narrow. A strip that
		// leaves the clamp in the middle of its travel, 1 1/4: 2 3/8 − 1 1/4 = 1 1/8.
		{"96 3/4 in", "A1-front-right", 18, 0, in + in/8, 2*in + in*3/8, finding.Packed, finding.Note},
		// 95 7/8: a 19th course, 95 3/8, leaves the clamp just its 1/2 in.
		{"99 7/8 in", "A1-front-right", 19, 0, 0, in / 2, "", 0},
		// 1/16 less and it does not go in: 18, and a rip of 95 13/16 − 90 − 1/2 =
		// 5 5/16, at most a full course of 5, whose tongue is cut off.
		{"99 13/16 in", "A1-front-right", 19, 5 * in, 0, in * 13 / 16, finding.RippedCourse, finding.Note},
		// Screwed, 92: 1 5/8 short is allowed.
		{"96 in", "A1-back", 18, 0, 0, in + in*5/8, "", 0},
		// Screwed, 92 3/4: a rip of 2 3/4 fills it.
		{"96 3/4 in", "A1-back", 19, 2*in + in*3/4, 0, 0, finding.RippedCourse, finding.Note},
		// Screwed, 92 7/16: 2 1/16 short, a rip of 2 7/16 is too narrow.
		{"96 7/16 in", "A1-back", 18, 0, 0, 2*in + in/16, finding.StackShort, finding.Warning},
		// Screwed, 95 3/8: 19 courses just fit.
		{"99 3/8 in", "A1-back", 19, 0, 0, 0, "", 0},
	} {
		t.Run(c.height+" "+c.bay, func(t *testing.T) {
			f := fitWith(t, barn, "structures:", "height: "+c.height+"\nstructures:")
			b := f.bay(c.bay)
			if len(b.Courses) != c.courses {
				t.Errorf("%d courses, want %d", len(b.Courses), c.courses)
			}
			if last := b.Courses[len(b.Courses)-1]; c.rip > 0 {
				same(t, "ripped course", last.Height, c.rip)
				if p := f.fit.Pieces[last.Pieces[0]]; !p.Ripped || last.Kind != "ripped" {
					t.Errorf("%+v", p)
				}
			} else if last.Kind == "ripped" {
				t.Errorf("the last course is ripped to %v", last.Height)
			}
			same(t, "packing", b.Stack.Packing, c.packing)
			same(t, "slack", b.Stack.Slack, c.slack)
			for _, code := range []finding.Code{finding.RippedCourse, finding.Packed, finding.StackShort, finding.StackTooHigh} {
				if code == c.code {
					f.tells(code, c.severity, c.bay)
				} else {
					f.silent(code, c.bay)
				}
			}
		})
	}
}

// 12 courses below and 2 above a grille reach 14·5 + 2·3/8 + 29 5/8 = 100 3/8.
// One above and two below leave 92 − 3·5 − 3/8 − 29 5/8 = 47 in over the tip of
// the last groove; even a further course and a strip of one board's width leave
// the clamp without hold.
func TestGrilleStackThatCannotBe(t *testing.T) {
	f := fitWith(t, barn, "panels: boards", "panels: {fill: grille, below: 12}")
	f.tells(finding.StackTooHigh, finding.Error, "A1-front-right", `8' 4 3/8"`, `7' 8"`, `needs 1/2"`)
	f = fitWith(t, barn, "panels: boards", "panels: {fill: grille, below: 2, above: 1}")
	f.tells(finding.StackShort, finding.Error, "A1-front-right", `3' 6" short`)
	same(t, "packing", f.bay("A1-front-right").Stack.Packing, 0)
}

// Where neither fill nor assembly says on how many courses a grille stands, there
// is a finding and no piece.
func TestGrilleOnNothing(t *testing.T) {
	f := fitWith(t, barn, "panels: boards", "panels: grille",
		"    datum: L(\"2 in\")\n    zone: height - datum - L(\"2 in\")\n    below: 10\n    above: 2\n  - id: stall-front", "    datum: L(\"2 in\")\n    zone: height - datum - L(\"2 in\")\n  - id: stall-front",
		"    below: 10\n    above: 2\n  - id: free-wall", "    above: 2\n  - id: free-wall")
	f.tells(finding.NoGrille, finding.Error, "A1-front-right", "on how many")
	if n := len(f.bay("A1-front-right").Pieces); n != 0 {
		t.Errorf("%d pieces", n)
	}
}

// The feeder's top against the grille's, with a coverage of 5 1/16: 6 courses and
// 50 in make 80 3/8; 10 courses, 3/8 and 29 5/8 make 80 5/8: 1/4 in lower. With
// 5 1/32 it is 1/8, which does not show.
func TestFeederLevel(t *testing.T) {
	for _, c := range []struct {
		coverage string
		level    measure.Length
		told     bool
	}{{"5 1/16 in", -in / 4, true}, {"5 1/32 in", -in / 8, false}, {"4 15/16 in", in / 4, true}} {
		f := fitWith(t, barn, "panels: boards", "panels: {fill: feeder, hand: right}", "coverage: 5 in", "coverage: "+c.coverage)
		same(t, "level", f.bay("A1-front-right").Feeder.Level, c.level)
		if _, _, ok := f.found(finding.FeederHeight, "A1-front-right"); ok != c.told {
			t.Errorf("coverage %s: told %v, want %v", c.coverage, ok, c.told)
		}
	}
}

// The panel beside the doorway is 84 1/4 in clear. A feeder of 80 in leaves
// 4 1/4: no board worth setting.
func TestFeederTooWide(t *testing.T) {
	f := fitWith(t, barn, "panels: boards", "panels: feeder", `width: 24", height: 50"`, `width: 80", height: 50"`)
	f.tells(finding.FeederWidth, finding.Error, "A1-front-right", `6' 8"`)
	f = fitWith(t, barn, "panels: boards", "panels: {fill: feeder, below: 6}")
	f.tells(finding.FeederWidth, finding.Error, "A1-front-right")
}

// The courses' places, one by one, of ten courses, a grille and two: course k
// stands at 5(k − 1), the last two 3/8 + 29 5/8 = 30 in higher.
func TestCoursesStandWhereTheyShould(t *testing.T) {
	f := fitWith(t, barn, "panels: boards", "panels: grille")
	b := f.bay("A1-front-right")
	for k, c := range b.Courses {
		want := measure.Length(5*k) * in
		if k >= 10 {
			want += 30 * in
		}
		same(t, fmt.Sprint("course ", c.No), c.Z, want)
	}
	// Its lower channel's legs reach 1 in down from the tongue's tip at 50 3/8, so
	// they cover 5/8 in of the face below; the upper's cover 3/4 in.
	same(t, "grille", b.Grille.Z, 49*in+in*3/8)
	same(t, "swallowed below", b.Grille.Swallow[0], in*5/8)
	same(t, "swallowed above", b.Grille.Swallow[1], in*3/4)
}
