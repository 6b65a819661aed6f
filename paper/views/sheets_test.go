package views

import (
	"fmt"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/fit"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/draw"
)

func TestNoTextClashesOrLeavesTheFrame(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for _, s := range w.all {
			for _, o := range draw.Overlaps(s.Sheet) {
				t.Errorf("%s: %q stands on %q", s.Name, o.A.Text, o.B.Text)
			}
			for _, b := range draw.Outside(s.Sheet) {
				t.Errorf("%s: %q leaves the frame", s.Name, b.Text)
			}
			for _, text := range s.Shortened {
				t.Errorf("%s: %q is cut short", s.Name, text)
			}
		}
	})
}

func TestExamplesNeedNoKeyOnTheirPlans(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for _, s := range w.plans {
			if len(s.Key) > 0 {
				t.Errorf("%s sends readers to a key: %q", s.Name, s.Key)
			}
		}
	})
}

func TestEveryBayIsNamed(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		l := w.plan.Layout
		for i := range l.Bays {
			b := &l.Bays[i]
			sheets := w.elevations
			if !l.Runs[b.Run].Filled(l) {
				sheets = w.plans // nothing is built there
			}
			if len(holding(sheets, b.Name)) == 0 {
				t.Errorf("%s stands on no sheet", b.Name)
			}
		}
	})
}

// What a person cuts by is read back from the sheet and compared with the fit.
func TestBoardLengthsOnSheetsAreThoseOfTheFit(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for i := range w.plan.Fit.Bays {
			f := &w.plan.Fit.Bays[i]
			b := &w.plan.Layout.Bays[i]
			if len(f.Courses) == 0 {
				continue
			}
			sheets := holding(w.elevations, b.Name)
			for _, c := range f.Courses {
				for _, p := range c.Pieces {
					length := squeezed(w.plan.Fit.Pieces[p].Length.In(w.plan.Job.Units))
					if len(holding(sheets, length)) == 0 {
						t.Errorf("%s: no sheet with %s says %s", w.plan.Fit.Pieces[p].Label, b.Name, length)
					}
				}
			}
			last := fmt.Sprintf("c%d", f.Courses[len(f.Courses)-1].No)
			if len(holding(sheets, last)) == 0 {
				t.Errorf("%s has courses up to %s, but no sheet says so", b.Name, last)
			}
		}
	})
}

var written = regexp.MustCompile(`^c1–c(\d+): (\d+) × (.+), (drawn|measured)$`)

// The other way round: whatever a sheet says of a bay alone on it is so.
func TestNothingElseIsWritten(t *testing.T) {
	seen := 0
	examples(t, func(t *testing.T, w worked) {
		for i := range w.plan.Layout.Walls {
			wall := &w.plan.Layout.Walls[i]
			if len(wall.Runs) != 1 || len(w.plan.Layout.Runs[wall.Runs[0]].Bays) != 1 {
				continue
			}
			v := w.plan.Layout.Runs[wall.Runs[0]].Bays[0]
			f := &w.plan.Fit.Bays[v]
			for _, s := range w.elevations {
				if s.Title != w.plan.Layout.Bays[v].Name && !strings.HasPrefix(s.Title, w.plan.Layout.Bays[v].Name+" and ") {
					continue
				}
				for _, text := range s.Texts() {
					m := written.FindStringSubmatch(text.Text)
					if m == nil {
						continue
					}
					seen++
					n := 0 // in a bay that tapers, only the lowest boards are as long as the first
					for n < len(f.Courses) && w.plan.Fit.Pieces[f.Courses[n].Pieces[0]].Length == f.Board {
						n++
					}
					want := fmt.Sprintf("c1–c%d: %d × %s, %s", n, n, f.Board.In(w.plan.Job.Units), f.State)
					if text.Text != want {
						t.Errorf("%s says %q, the fit %q", s.Name, text.Text, want)
					}
				}
			}
		}
	})
	if seen < 5 {
		t.Errorf("only %d walls were read back", seen)
	}
}

func TestSheetsSayWhatIsNotMeasured(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for i := range w.plan.Layout.Bays {
			b := &w.plan.Layout.Bays[i]
			if b.IsDoor() || b.IsOpen() || w.plan.Fit.Bays[i].State != fit.Drawn {
				continue
			}
			for _, s := range w.elevations {
				// A name is on the sheet as its own text, not as part of another.
				whole := false
				for _, text := range s.Texts() {
					whole = whole || text.Text == b.Name
				}
				if !whole {
					continue
				}
				if !strings.Contains(s.Page.Block.State, "NOT") || !strings.Contains(packed(s), "Cutnothingfromthissheet") {
					t.Errorf("%s shows %s, not measured, and its state is %q", s.Name, b.Name, s.Page.Block.State)
				}
			}
		}
	})
}

func TestSheetsAreNumberedAsOneSet(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for i, s := range w.all {
			if s.Page.Block.Number != i+1 || s.Page.Block.Of != len(w.all) {
				t.Errorf("%s is sheet %d of %d, want %d of %d", s.Name, s.Page.Block.Number, s.Page.Block.Of, i+1, len(w.all))
			}
		}
		later, err := Elevations(w.plan, Options{First: 7, Of: 40})
		if err != nil {
			t.Fatal(err)
		}
		if b := later[0].Page.Block; b.Number != 7 || b.Of != 40 {
			t.Errorf("the first of a set from 7 to 40 is %d of %d", b.Number, b.Of)
		}
	})
}

// Match lines name the sheet on which the wall goes on.
func TestMatchLinesMeet(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		for i, s := range w.all {
			for _, text := range s.Texts() {
				var other int
				if _, err := fmt.Sscanf(text.Text, "match line, see sheet %d", &other); err != nil {
					continue
				}
				back := fmt.Sprintf("match line, see sheet %d", i+1)
				if other < 1 || other > len(w.all) || len(holding(w.all[other-1:other], back)) == 0 {
					t.Errorf("%s sends to sheet %d, which does not send back", s.Name, other)
				}
			}
		}
	})
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
		again, err := All(w.plan, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range again {
			if again[i].Name != w.all[i].Name || again[i].SVG() != w.all[i].SVG() {
				t.Errorf("%s differs when drawn again", w.all[i].Name)
			}
		}
	})
}

func TestPaperFollowsTheUnitsUnlessAsked(t *testing.T) {
	examples(t, func(t *testing.T, w worked) {
		want := "Letter"
		if w.plan.Job.Units.String() == "metric" {
			want = "A4"
		}
		if got := w.all[0].Page.Size.Name; got != want {
			t.Errorf("drawn on %s, want %s", got, want)
		}
	})
	p := plantest.Make(t, "small.yaml", bigJob(4))
	for _, size := range []draw.PaperSize{draw.A4, draw.A3, draw.Tabloid} {
		sheets, err := All(p, Options{Paper: size})
		if err != nil {
			t.Fatalf("%s: %v", size.Name, err)
		}
		if sheets[0].Page.Size != size {
			t.Errorf("asked for %s, got %s", size.Name, sheets[0].Page.Size.Name)
		}
	}
}

func TestFileNamesAreSafeAndDifferent(t *testing.T) {
	safe := regexp.MustCompile(`^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$`)
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"A", "a", "../..", "", "Ä", "con", strings.Repeat("x", 300), "wall-A", "wall a", "wall-A-2"})), 1, 30).Draw(t, "names")
		plans := make([]sheetPlan, len(names))
		for i, n := range names {
			plans[i].name = n
		}
		taken := map[string]bool{}
		for i, n := range fileNames(plans) {
			key := strings.ToLower(n)
			if !safe.MatchString(n) || len(n) > longestName+8 || taken[key] {
				t.Fatalf("%q became %q", names[i], n)
			}
			taken[key] = true
		}
	})
}

func TestWhatCannotBeBuiltIsSaidOnPlanAndElevation(t *testing.T) {
	p := plantest.Make(t, "small.yaml", strings.Replace(bigJob(4), "dividers: grille", "dividers: {fill: grille, grille: none-such}", 1))
	plans, err := Plan(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(holding(plans, "DOES NOT FIT: B1-B2")) == 0 {
		t.Error("no plan says that B1-B2 does not fit")
	}
	walls, err := Elevations(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(holding(walls, "B1-B2: DOES NOT FIT: the kit fernhollow has no grille")) == 0 {
		t.Error("no elevation says why B1-B2 does not fit")
	}
}
