package views

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/draw"
)

// middles are the middles on paper of a sheet's closed outlines of a pen and
// size, along x.
func middles(s Sheet, layer string, wide func(w, h draw.Micron) bool) []draw.PaperPoint {
	var out []draw.PaperPoint
	for _, m := range s.Marks {
		st, ok := m.(draw.Stroke)
		if !ok || st.Layer != layer || !st.Closed || len(st.Runs) != 1 {
			continue
		}
		lo, hi := st.Runs[0][0], st.Runs[0][0]
		for _, p := range st.Runs[0] {
			lo = draw.PaperPoint{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
			hi = draw.PaperPoint{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
		if wide(hi.X-lo.X, hi.Y-lo.Y) {
			out = append(out, draw.PaperPoint{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
		}
	}
	slices.SortFunc(out, func(a, b draw.PaperPoint) int {
		if a.X != b.X {
			return int(a.X - b.X)
		}
		return int(a.Y - b.Y)
	})
	return slices.Compact(out)
}

// about allows two micrometres of paper, for two roundings.
func about(paper draw.Micron, ratio int64, want measure.Length) bool {
	got := measure.Length(paper) * measure.Length(ratio) * measure.Micrometre
	return (got - want).Abs() <= 2*measure.Length(ratio)*measure.Micrometre
}

// Distances measured on the paper of a plan, times its scale, are those between
// the posts of the layout.
func TestPlansAreTrueToScale(t *testing.T) {
	checked := 0
	examples(t, func(t *testing.T, w worked) {
		l := w.plan.Layout
		for s := range l.Structures {
			if l.Structures[s].Kind != frame.BarnRow {
				continue
			}
			var want []frame.Point
			var size measure.Length
			for i := range l.Posts {
				if p := &l.Posts[i]; p.Structure == s && p.Kind == frame.Timber {
					want, size = append(want, p.At), p.Along
				}
			}
			slices.SortFunc(want, func(a, b frame.Point) int {
				return int(min(max((a.X-b.X)*1000+(a.Y-b.Y)/1000, -1), 1))
			})
			for _, sheet := range w.plans {
				if sheet.Title != l.Structures[s].Name+", plan of the whole" && sheet.Title != l.Structures[s].Name+", plan" {
					continue
				}
				at := sheet.Views[0].Scale
				got := middles(sheet, layerFrame, func(a, b draw.Micron) bool { return about(a, at.Ratio, size) && about(b, at.Ratio, size) })
				if len(got) != len(want) {
					t.Fatalf("%s shows %d posts, want %d", sheet.Name, len(got), len(want))
				}
				for i := range want {
					if !about(got[i].X-got[0].X, at.Ratio, want[i].X-want[0].X) || !about(got[i].Y-got[0].Y, at.Ratio, want[i].Y-want[0].Y) {
						t.Errorf("%s: post %d stands at %v on paper", sheet.Name, i, got[i])
					}
					checked++
				}
			}
		}
	})
	if checked < 10 {
		t.Errorf("only %d posts were measured", checked)
	}
}

// Course lines of a wall of boards lie at their courses' heights.
func TestCoursesAreTrueToScale(t *testing.T) {
	checked := 0
	examples(t, func(t *testing.T, w worked) {
		l := w.plan.Layout
		for i := range l.Walls {
			if len(l.Walls[i].Runs) != 1 || len(l.Runs[l.Walls[i].Runs[0]].Bays) != 1 {
				continue
			}
			v := l.Runs[l.Walls[i].Runs[0]].Bays[0]
			f := &w.plan.Fit.Bays[v]
			for _, sheet := range w.elevations {
				if sheet.Title != l.Bays[v].Name {
					continue
				}
				at := sheet.Views[0].Scale
				var ys []draw.Micron
				for _, m := range sheet.Marks {
					if st, ok := m.(draw.Stroke); ok && st.Layer == layerBoards && st.Pen.Weight > 0 {
						for _, r := range st.Runs {
							for k := 1; k < len(r); k++ {
								if r[k].Y == r[k-1].Y {
									ys = append(ys, r[k].Y)
								}
							}
						}
					}
				}
				slices.Sort(ys)
				ys = slices.Compact(ys)
				for _, c := range f.Courses {
					near := func(z measure.Length) bool {
						return slices.ContainsFunc(ys, func(y draw.Micron) bool { return about(y-ys[0], at.Ratio, z-f.Courses[0].Z) })
					}
					if !near(c.Z) || !near(c.Z+c.Height) {
						t.Errorf("%s: course %d is not drawn from %s to %s", sheet.Name, c.No, c.Z, c.Z+c.Height)
					}
					checked++
				}
			}
		}
	})
	if checked < 50 {
		t.Errorf("only %d courses were measured", checked)
	}
}

// A regular ring against the closed form: interior angle (n-2)·180°/n, radius
// of the circle through its corners s/(2·sin(180°/n)) (Euclid, Elements IV;
// any handbook of geometry).
func TestRingSheetSaysWhatTheClosedFormSays(t *testing.T) {
	for _, n := range []int{12, 16, 20} {
		p := plantest.Make(t, "ring.yaml", fmt.Sprintf(`job: Ring
units: metric
kit: fernhollow
farm: {name: Ring}
lumber: {species: southern-pine, ten_boards: 1300 mm, tongue: 10 mm, lengths: [4000 mm]}
structures:
  - pen: {name: P, sections: %d, section: 3600 mm, gate: {toward: 180°}}
`, n))
		sheets, err := Plan(p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		angle := fmt.Sprintf("inside angle %s°", strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", float64(n-2)*180/float64(n)), "0"), "."))
		across := "pin circle Ø ≈" + strings.TrimSuffix(fmt.Sprintf("%.1f", 3600/math.Sin(math.Pi/float64(n))), ".0")
		for _, want := range []string{angle, across, "gate faces west (270°)"} {
			if len(holding(sheets, want)) == 0 {
				t.Errorf("%d sections: no sheet says %q", n, want)
			}
		}
		for i := 2; i <= n; i++ {
			if len(holding(sheets, fmt.Sprintf("P-%d", i))) == 0 {
				t.Errorf("%d sections: section %d has no name", n, i)
			}
		}
	}
}

func TestOnlyOneSheetForSectionsAlike(t *testing.T) {
	p := plantest.Make(t, "ring.yaml", `job: Ring
units: feet
kit: fernhollow
farm: {name: Ring}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12']}
structures:
  - pen: {name: P, sections: 16, section: 12', different: [{at: 5, length: 10'}, {at: 9, length: 10'}]}
`)
	sheets, err := Elevations(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, s := range sheets {
		titles = append(titles, s.Title)
	}
	want := []string{"P-gate", "P-2 and 12 like it", "P-5 and 1 like it"}
	if !slices.Equal(titles, want) {
		t.Errorf("sheets %q, want %q", titles, want)
	}
}

// Where a doorway's jambs put its door posts is where frame set them, by two
// independent ways: along the run from the fitted opening, and in plan.
func TestDoorPostsStandWhereTheyWereFramed(t *testing.T) {
	checked := 0
	examples(t, func(t *testing.T, w worked) {
		l := w.plan.Layout
		d := &draft{tables: newTables(w.plan, mustWords(t, w.plan)), seenPlan: &seenPlan{}}
		for run := range l.Runs {
			for _, post := range l.Runs[run].DoorPosts {
				got, want := l.At(run, d.doorPostAlong(run, post), 0), l.Posts[post].At
				if off := max((got.X - want.X).Abs(), (got.Y - want.Y).Abs()); off > measure.Micrometre {
					t.Errorf("%s is drawn %s off its place", l.Posts[post].Name, off)
				}
				checked++
			}
		}
	})
	if checked < 10 {
		t.Errorf("only %d door posts were compared", checked)
	}
}
