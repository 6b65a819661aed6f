package fit_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// The check values of these tests follow by hand from the check kit: end play
// 1/4 in, channels 1 1/2 in deep, at least 3/4 in of hold, marks of 1/16 in. A
// bay 138 in wide takes boards of 137 3/4 in; 18 courses of 5 in stand in its
// zone of 92 in.

// released is a bay's release as a job holds it: boards of one length, more lines
// behind.
func released(bay, width string, n int, length string, more ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "  - bay: %s\n    is: released\n    by: Sam\n    at: 2026-05-03 15:00\n    width: %s\n    pieces:\n", bay, width)
	for k := 1; k <= n; k++ {
		fmt.Fprintf(&b, "      - {label: %s/c%d, length: %s}\n", bay, k, length)
	}
	return b.String() + strings.Join(more, "")
}

// stated puts measurements and states into a job.
func stated(measurements, states string) []string {
	return []string{"structures:", "measurements:\n" + measurements + "states:\n" + states + "structures:"}
}

const (
	lagged  = "  - {frame: A1-back, is: lagged, at: 2026-05-03 09:00}\n"
	first   = "  - {bay: A1-back, width: 138 in, at: 2026-05-03 14:00}\n"
	back138 = "137 3/4 in"
)

func again(width string) string {
	return "  - {bay: A1-back, width: " + width + ", by: Jo, at: 2026-05-04 08:00}\n"
}

func TestReleaseFreezes(t *testing.T) {
	f := fitWith(t, barn, stated(first+again("137 1/2 in"), lagged+released("A1-back", "138 in", 18, back138))...)
	b := f.bay("A1-back")
	same(t, "clear width counted on", b.Clear, 138*in)
	if !b.Frozen || b.State != fit.Released || len(b.Pieces) != 18 {
		t.Fatalf("frozen %v, %s, %d pieces", b.Frozen, b.State, len(b.Pieces))
	}
	for _, i := range b.Pieces {
		p := &f.fit.Pieces[i]
		same(t, p.Label, p.Length, 137*in+in*3/4)
		if p.State != fit.Released || !p.Misfit {
			t.Errorf("%s is %s, misfit %v", p.Label, p.State, p.Misfit)
		}
		if chain := p.Why.Trace(); !strings.Contains(chain, "source.stated-by-at state=(kind.state-released) by=Sam at=2026-05-03 15:00") {
			t.Errorf("the reason does not go back to the release:\n%s", chain)
		}
	}
	f.tells(finding.FrozenLong, finding.Error, "A1-back", "A1-back/c1 … c18 (18 pieces)", `11' 5 3/4" is 1/2" too long`, "measured by Jo")
}

func TestWhatNoLongerFits(t *testing.T) {
	for _, c := range []struct {
		width string
		code  finding.Code
		parts []string
		not   []finding.Code
	}{
		// as it was: nothing to tell
		{"138 in", "", nil, []finding.Code{finding.FrozenFits, finding.FrozenLong, finding.FrozenShort}},
		// 1 1/2 − (138 3/8 − 137 3/4) = 7/8
		{"138 3/8 in", finding.FrozenFits, []string{"all its 18 frozen pieces still fit", `7/8" in the other`}, []finding.Code{finding.FrozenLong, finding.FrozenShort}},
		// exactly the least
		{"138 1/2 in", finding.FrozenFits, []string{`3/4" in the other`}, []finding.Code{finding.FrozenShort}},
		// 1 1/2 − (138 9/16 − 137 3/4) = 11/16, a sixteenth under the least
		{"138 9/16 in", finding.FrozenShort, []string{`only 11/16" stands`, `at least 3/4"`}, []finding.Code{finding.FrozenFits, finding.FrozenLong}},
		// a mark narrower: a mark too long
		{"137 15/16 in", finding.FrozenLong, []string{`1/16" too long`}, []finding.Code{finding.FrozenFits, finding.FrozenShort}},
		// 138 at the datum, 138 7/8 at 92 in: 138 1/2 lies at 52 4/7 in, in the eleventh course
		{"{bottom: 138 in, top: 138 7/8 in}", finding.FrozenFits, []string{"its other 10 frozen pieces"}, []finding.Code{finding.FrozenLong}},
		{"{bottom: 138 in, top: 138 7/8 in}", finding.FrozenShort, []string{"A1-back/c11:"}, nil},
		// 138 1/2 at half height, the same above: courses 1 to 18 hold
		{"{bottom: 138 in, middle: 138 1/2 in, top: 138 1/2 in}", finding.FrozenFits, []string{"all its 18"}, nil},
		// nothing goes in at all
		{"1/8 in", finding.FrozenLong, []string{"without a place in the bay"}, []finding.Code{finding.FrozenFits}},
	} {
		f := fitWith(t, barn, stated(first+again(c.width), lagged+released("A1-back", "138 in", 18, back138))...)
		if c.code != "" {
			f.tellsAny(c.code, "A1-back", c.parts...)
		}
		for _, code := range c.not {
			f.silent(code, "A1-back")
		}
	}
}

// tellsAny asks for a finding, among several of its code, that holds the texts.
func (f *fitted) tellsAny(code finding.Code, place string, parts ...string) {
	f.t.Helper()
	for _, v := range f.fit.Findings {
		has := v.Code == code && v.Place == place
		for _, p := range parts {
			has = has && strings.Contains(v.Message, p)
		}
		if has {
			return
		}
	}
	f.t.Errorf("%s: no %s with %q; found: %v", place, code, parts, f.fit.Findings)
}

// Boards beside a window: 138 − 36 leaves 51 each side, boards of 50 3/4; in 137 in
// they would be 50 1/4 and the whole ones 136 3/4.
func TestWindowMeasuredAgain(t *testing.T) {
	var states strings.Builder
	states.WriteString(lagged)
	f := fitWith(t, barn, append(stated(first, lagged), "back: boards", "back: {fill: window}")...)
	i, _ := f.lay.Bay("A1-back")
	s, err := f.fit.Release(i, "Sam", "2026-05-03 15:00")
	if err != nil {
		t.Fatal(err)
	}
	states.WriteString("  - bay: A1-back\n    is: released\n    width: 138 in\n    pieces:\n")
	for _, p := range s.Pieces {
		line := fmt.Sprintf("      - {label: %s, length: %s", p.Label, p.Length)
		if p.Item != "" {
			line += ", item: " + p.Item
		}
		if p.Covers != 0 {
			line += ", covers: " + p.Covers.String()
		}
		states.WriteString(line + "}\n")
	}
	f = fitWith(t, barn, append(stated(first+again("137 in"), states.String()), "back: boards", "back: {fill: window}")...)
	f.tellsAny(finding.FrozenLong, "A1-back", "c11L", `4' 2 3/4" is 1/2" too long`)
	f.tellsAny(finding.FrozenLong, "A1-back", "A1-back/c1", `11' 5 3/4" is 1" too long`)
	w := f.bay("A1-back").Window
	same(t, "window stays", w.X, 51*in)
}

// A mesh panel 140 in wide may lose 6 in at each end.
func TestGrilleThatCannotBeTrimmedSoFar(t *testing.T) {
	grille := []string{"back: boards", "back: {fill: grille, below: 6}"}
	f := fitWith(t, barn, append(stated(first, lagged), grille...)...)
	i, _ := f.lay.Bay("A1-back")
	s, err := f.fit.Release(i, "", "")
	if err != nil {
		t.Fatal(err)
	}
	states := lagged + released("A1-back", "138 in", len(s.Pieces)-1, back138, "      - {label: A1-back/grille, length: 137 3/4 in, item: mesh}\n")
	f = fitWith(t, barn, append(stated(first+again("136 in"), states), grille...)...)
	for _, v := range f.fit.Findings {
		if v.Code == finding.FrozenLong && strings.Contains(v.Message, "cannot") {
			t.Errorf("135 3/4 is within the trim: %s", v.Message)
		}
	}
	f = fitWith(t, barn, append(stated(first+again("112 1/4 in"), states), grille...)...)
	f.tellsAny(finding.FrozenLong, "A1-back", "A1-back/grille", "its ends cannot be trimmed that far")
}

// The job changed under a release: other boards, another kit rule.
func TestJobChangedUnderRelease(t *testing.T) {
	swaps := stated(first, lagged+released("A1-back", "138 in", 18, back138))
	// 17 courses of 5 3/8 and a tongue of 3/8 stand in 92 in with 1/4 to spare.
	f := fitWith(t, barn, append(swaps, "coverage: 5 in", "coverage: 5 3/8 in")...)
	f.tells(finding.FrozenLeft, finding.Warning, "A1-back", "A1-back/c18")
	if n := len(f.bay("A1-back").Pieces); n != 18 {
		t.Errorf("%d pieces, the frozen 18 stay", n)
	}
	// 17 courses of 5 1/8 leave 4 7/8 for an eighteenth.
	f = fitWith(t, barn, append(swaps, "coverage: 5 in", "coverage: 5 1/8 in")...)
	f.tells(finding.FrozenNew, finding.Warning, "A1-back", `A1-back/c18 to 4 7/8", released as a whole board`)
	f = fitWith(t, barn, append(swaps, "coverage: 5 in", "coverage: 4 1/2 in")...)
	f.tells(finding.FrozenNew, finding.Warning, "A1-back", "A1-back/c19")
	for _, i := range f.bay("A1-back").Pieces {
		if p := &f.fit.Pieces[i]; (p.Course > 18) == p.State.MayCut() {
			t.Errorf("%s is %s", p.Label, p.State)
		}
	}
	f = fitWith(t, barn, append(swaps, `end_play: 1/4"`, `end_play: 3/8"`)...)
	for _, i := range f.bay("A1-back").Pieces {
		p := &f.fit.Pieces[i]
		same(t, p.Label, p.Length, 137*in+in*3/4)
		if !strings.Contains(p.Why.Trace(), "rule.frozen length="+(137*in+in*5/8).String()) {
			t.Errorf("%s: %s", p.Label, p.Why)
		}
	}
}

// Releasing again takes what was measured since.
func TestReleaseAgain(t *testing.T) {
	f := fitWith(t, barn, stated(first+again("137 1/2 in"), lagged+released("A1-back", "138 in", 18, back138))...)
	i, _ := f.lay.Bay("A1-back")
	s, err := f.fit.Release(i, "Jo", "2026-05-04 09:00")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Pieces) != 18 || s.Pieces[0].Length != 137*in+in/4 || s.Width.Bottom != 137*in+in/2 {
		t.Errorf("%d pieces of %s to %s", len(s.Pieces), s.Pieces[0].Length, s.Width.Bottom)
	}
}

func TestReleaseRefused(t *testing.T) {
	for _, c := range []struct {
		name, measurements, states, bay, why string
	}{
		{"not lagged", first, "  - {frame: A1-front, is: tight}\n", "A1-back", "nobody stated that its channels are lagged"},
		{"not measured", "  - {bay: A1-left, width: 138 in}\n", lagged, "A1-back", "nobody measured it"},
		{"measured too early", "  - {bay: A1-back, width: 138 in, at: 2026-05-03 08:00}\n", lagged, "A1-back", "was not measured since"},
		{"frame not tight", "  - {bay: A1-front-right, width: 80 in}\n", "  - {frame: A1-front, is: standing}\n", "A1-front-right", "the frame of A1-front is only standing"},
		{"taper", "  - {bay: A1-back, width: {bottom: 138 in, top: 150 in}}\n", lagged, "A1-back", "cannot be released"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fitWith(t, barn, stated(c.measurements, c.states)...)
			i, ok := f.lay.Bay(c.bay)
			if !ok {
				t.Fatalf("no bay %s", c.bay)
			}
			_, err := f.fit.Release(i, "", "")
			var refused *fit.ReleaseError
			if !errors.As(err, &refused) || !strings.Contains(err.Error(), c.why) {
				t.Errorf("%v, want %q", err, c.why)
			}
		})
	}
}

// A release that the rules do not let is told, and freezes nothing.
func TestReleaseOutOfOrderIsTold(t *testing.T) {
	f := fitWith(t, barn, stated(first, released("A1-back", "138 in", 18, back138))...)
	f.tells(finding.StateOrder, finding.Error, "A1-back", "cannot be released", "does not count")
	if b := f.bay("A1-back"); b.Frozen || b.State != fit.Measured {
		t.Errorf("frozen %v, %s", b.Frozen, b.State)
	}
	f = fitWith(t, barn, stated(first, lagged+released("A1-back", "138 in", 18, back138, "  - {bay: A1-back, is: cut}\n", "  - {bay: A1-back, is: loaded}\n"))...)
	f.silent(finding.StateOrder, "A1-back")
	if b := f.bay("A1-back"); b.State != fit.Loaded {
		t.Errorf("%s, want loaded", b.State)
	}
}

func TestMeasuredBeforeTight(t *testing.T) {
	f := fitWith(t, barn, stated("  - {bay: A1-front-right, width: 82 in}\n", "  - {frame: A1-front, is: standing}\n")...)
	f.tells(finding.MeasuredEarly, finding.Warning, "A1-front-right", "only standing")
	f = fitWith(t, barn, stated("  - {bay: A1-front-right, width: 82 in}\n", "  - {frame: A1-front, is: standing}\n  - {frame: A1-front, is: tight}\n")...)
	f.silent(finding.MeasuredEarly, "A1-front-right")
	i, _ := f.lay.Run("A1-front")
	if f.fit.Frames[i] != job.StepTight {
		t.Errorf("the frame is %q", f.fit.Frames[i])
	}
}

// A bay started again from the drawing is drawn until it is measured anew.
func TestDrawnAgain(t *testing.T) {
	drawn := "  - {bay: A1-back, is: drawn, at: 2026-05-05 08:00}\n"
	f := fitWith(t, barn, stated(first, lagged+released("A1-back", "138 in", 18, back138, drawn))...)
	if b := f.bay("A1-back"); b.State != fit.Drawn || b.Clear != 138*in+in/8 {
		t.Errorf("%s, %s", b.State, b.Clear)
	}
	later := "  - {bay: A1-back, width: 137 in, at: 2026-05-05 09:00}\n"
	f = fitWith(t, barn, stated(first+later, lagged+released("A1-back", "138 in", 18, back138, drawn))...)
	if b := f.bay("A1-back"); b.State != fit.Measured || b.Clear != 137*measure.Inch {
		t.Errorf("%s, %s", b.State, b.Clear)
	}
}
