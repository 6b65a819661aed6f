package takeoff_test

import (
	"os"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/takeoff"
)

const in, ft = measure.Inch, measure.Foot

const barn = `job: barn
units: feet
kit: check
farm: {name: Farm}
lumber: {species: other, density: 600 kg/m3, coverage: 5 in, tongue: 3/8 in, lengths: [8 ft, 14 ft]}
structures:
  - barn-row:
      name: A
      post: 5 1/2 in
      spacing: 12 ft
      depth: 12 ft
      rooms: [stall]
      fronts: {at: left, slides: right, panels: boards}
      sides: boards
      back: boards
`

// count takes a job off with the check kit; swaps change kit or job.
func count(t *testing.T, src string, swaps ...string) *takeoff.Result {
	t.Helper()
	kitSrc, err := os.ReadFile("../plan/testdata/check.yaml")
	if err != nil {
		t.Fatal(err)
	}
	line := string(kitSrc)
	for i := 0; i < len(swaps); i += 2 {
		switch {
		case strings.Contains(src, swaps[i]):
			src = strings.Replace(src, swaps[i], swaps[i+1], 1)
		case strings.Contains(line, swaps[i]):
			line = strings.Replace(line, swaps[i], swaps[i+1], 1)
		default:
			t.Fatalf("neither job nor kit holds %q", swaps[i])
		}
	}
	k, err := kit.Read("check.yaml", []byte(line))
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	l, err := frame.Build(j, k)
	if err != nil {
		t.Fatal(err)
	}
	r, err := takeoff.Make(j, k, l, fit.Make(j, k, l))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// line finds the line of an item and length that must be there.
func line(t *testing.T, r *takeoff.Result, item string, length measure.Length) *takeoff.Line {
	t.Helper()
	for i := range r.Lines {
		if l := &r.Lines[i]; l.Item == item && l.Length == length {
			return l
		}
	}
	t.Fatalf("no line of %s, %v, among %+v", item, length, r.Lines)
	return nil
}

// By hand: three timber walls of 18 boards, 137 7/8 in each, take 54 boards of
// 14 ft. The panel's 18 of 84 in take a board of 8 ft each; the door's 10 of
// 47 3/4 in come two from 8 ft (2·47 3/4 and a cut of 1/8 are 95 5/8 of 96 in): 5.
// Spares, one in 30 or part of it: 2 and 1.
func TestBoardLines(t *testing.T) {
	r := count(t, barn)
	for _, c := range []struct {
		length                   measure.Length
		count, buy, spare, order int
	}{{8 * ft, 10 + 18, 5 + 18, 1, 24}, {14 * ft, 54, 54, 2, 56}} {
		l := line(t, r, fit.Lumber, c.length)
		if l.Count != c.count || l.Buy != c.buy || l.Spares != c.spare || l.Order != c.order {
			t.Errorf("%v: %d pieces, %d boards, %d spare, %d to order; want %+v", c.length, l.Count, l.Buy, l.Spares, l.Order, c)
		}
		// 1 1/2 x 5 in of face at 600 kg/m³: 38.1·127 mm² · 600 = 2.90322 kg/m.
		want := float64(c.order) * c.length.Metres() * 0.0381 * 0.127 * 600
		if got := l.Mass.Kilograms(); got < want-0.001 || got > want+0.001 {
			t.Errorf("%v: %.4f kg, want %.4f", c.length, got, want)
		}
	}
	if r.Lines[0].Class != takeoff.ClassLumber || r.Lines[len(r.Lines)-1].Class != kit.ClassFastener {
		t.Errorf("lines begin with %s and end with %s", r.Lines[0].Class, r.Lines[len(r.Lines)-1].Class)
	}
}

// The bolts of one frame with a door: 6, of 4 in by the grip (see the plan's
// tests); spares one in 20 or part of it. Mass: 7 of 0.2 lb each.
func TestFastenerLine(t *testing.T) {
	l := line(t, count(t, barn), "bolt", 4*in)
	if l.Count != 6 || l.Buy != 6 || l.Spares != 1 || l.Order != 7 {
		t.Errorf("%+v", l)
	}
	if want := 7 * measure.Pound / 5; (l.Mass-want > 7) || (want-l.Mass > 7) {
		t.Errorf("%v, want %v", l.Mass, want)
	}
	why := l.Why.Trace()
	for _, part := range []string{"rule.order-count needed=6 buy=6 spare=1", "why.least-length item=bolt = " + (3*in + 9*in/16).String(), "rule.grip grip=" + (2*in + 3*in/4).String() + " washers=2"} {
		if !strings.Contains(why, part) {
			t.Errorf("the reason has no %q:\n%s", part, why)
		}
	}
	// Longer than any bought: the longest is taken, and told.
	r := count(t, barn, `grip: tube + plate + plate + L("1/4 in"), when: door`, `grip: L("4 in"), when: door`)
	told := false
	for _, f := range r.Findings {
		told = told || f.Code == finding.NoFastener && f.Place == "A1-front" && strings.Contains(f.Message, `longest bought is 4 1/2"`)
	}
	if !told {
		t.Errorf("%v", r.Findings)
	}
	line(t, r, "bolt", 4*in+in/2)
}

// A board longer than any sold is told once a bay, not once a course.
func TestBoardsTooLong(t *testing.T) {
	r := count(t, barn, "lengths: [8 ft, 14 ft]", "lengths: [8 ft, 10 ft]")
	told := map[string]int{}
	for _, f := range r.Findings {
		if f.Code == finding.NoStock {
			told[f.Place]++
		}
	}
	if len(told) != 3 || told["A1-back"] != 1 || told["A1-left"] != 1 || told["A1-right"] != 1 {
		t.Errorf("%v", told)
	}
}

// What comes with what comes with a part: 2 rollers with 3 washers of 2 pins
// each are 12 pins.
func TestPartsWithinParts(t *testing.T) {
	r := count(t, barn, "{id: roller, name: roller, mass: 2 lb}", "{id: roller, name: roller, mass: 2 lb, with: [{use: hinge, count: 3}]}",
		"{id: hinge, name: hinge, mass: 2 lb}", "{id: hinge, name: hinge, mass: 2 lb, with: [{use: pin, count: 2, when: door}]}")
	if l := line(t, r, "hinge", 0); l.Count != 6 {
		t.Errorf("%d hinges, want 6", l.Count)
	}
	if l := line(t, r, "pin", 8*in); l.Count != 12 {
		t.Errorf("%d pins, want 12", l.Count)
	}
	// A rule that asks for more than one place can take is told, not counted.
	r = count(t, barn, "{use: roller, count: 2}", "{use: roller, count: 20000}")
	told := false
	for _, f := range r.Findings {
		told = told || f.Code == finding.NoFastener && strings.Contains(f.Message, "10000 of roller")
	}
	if !told {
		t.Errorf("%v", r.Findings)
	}
}

// Steel lengths, by hand. The front's clear width is 136 in, its top tube 138;
// the panel's bottom tube 84 1/4 + 1; none lies across the doorway.
func TestSteelLines(t *testing.T) {
	r := count(t, barn)
	if l := line(t, r, "tube", 138*in); l.Count != 1 {
		t.Errorf("%d top tubes", l.Count)
	}
	if l := line(t, r, "tube", 85*in+in/4); l.Count != 1 {
		t.Errorf("%d bottom tubes", l.Count)
	}
	// Three walls, two channels each, as long as the zone.
	if l := line(t, r, "u", 92*in); l.Count != 6 {
		t.Errorf("%d channels", l.Count)
	}
	// 6 channels of 92 in at 2 lb/ft are 92 lb.
	if got := line(t, r, "u", 92*in).Mass; got < 92*measure.Pound-100 || got > 92*measure.Pound+100 {
		t.Errorf("channels of %v", got)
	}
	if l := line(t, r, "track", 105*in+in/2); l.Count != 1 {
		t.Errorf("%d tracks", l.Count)
	}
}
