package views

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/engine/setout"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// drawnSetout is a plan's setting-out drawings in a language; SETOUT_SVG names a
// folder to look at them in.
func drawnSetout(t *testing.T, job string, p *plan.Plan, lang string) []Sheet {
	t.Helper()
	w, err := words.For(lang, p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := Setout(p, Options{Words: w})
	if err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("SETOUT_SVG"); dir != "" {
		for _, s := range sheets {
			if err := os.WriteFile(filepath.Join(dir, job+"-"+lang+"-"+s.Name+".svg"), []byte(s.SVG()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return sheets
}

// setoutJobs are the examples, a levelled slope with one pier set wrong, and a
// barn too long for one sheet.
func setoutJobs(t *testing.T) map[string]*plan.Plan {
	t.Helper()
	out := map[string]*plan.Plan{}
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, f := range append(files, "../packet/testdata/hillside.yaml") {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(f), ".yaml")] = plantest.Make(t, f, string(src))
	}
	out["long"] = plantest.Make(t, "long.yaml", `job: Long barn
units: feet
kit: fernhollow
farm: {name: Long}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [8', 10', 12', 16']}
structures:
  - free-row:
      name: N
      rows: facing
      width: 12'
      depth: 12'
      aisle: 14'
      base: pier-12
      rooms: [stall, stall, stall, stall, stall, stall, stall, stall, stall, stall, stall, stall]
      second: [stall, stall, stall, stall, stall, stall, stall, stall, stall, stall, stall]
`)
	return out
}

// texts are all that is written on sheets, keys and notes included.
func texts(sheets []Sheet) string {
	var b strings.Builder
	for _, s := range sheets {
		for _, m := range s.Marks {
			if v, ok := m.(draw.Text); ok {
				b.WriteString(v.Text + "\n")
			}
		}
	}
	return b.String()
}

// Every number that a person needs with a tape in hand is on the drawing: of each
// stake its name and place, the checks, the heights. Nothing overlaps, in either
// language.
func TestSetoutDrawings(t *testing.T) {
	for job, p := range setoutJobs(t) {
		for _, lang := range []string{"en", "es"} {
			sheets := drawnSetout(t, job, p, lang)
			all := texts(sheets)
			tape := measure.TapeSixteenth
			if p.Job.Units == measure.Metric {
				tape = measure.TapeMillimetre
			}
			on := func(what string, l measure.Length) {
				if s := draw.SpanText(tape.Round(l, measure.Nearest), p.Job.Units); !strings.Contains(squeezed(all), squeezed(s)) {
					t.Errorf("%s, %s: %s (%s) is on no drawing", job, lang, what, s)
				}
			}
			for i := range p.Setout.Structures {
				s := &p.Setout.Structures[i]
				if s.Pen != nil {
					on("the radius", s.Pen.Radius.Value)
					on("the gate", s.Pen.Gate.Value)
					for _, q := range s.Pen.Piers {
						on(q.Name+" chord", q.Chord.Value)
						on(q.Name+" skip", q.Skip.Value)
						on(q.Name+" across", q.Across.Value)
						on(q.Name+" x", q.X.Value)
						on(q.Name+" y", q.Y.Value)
					}
				}
				if s.Grid != nil {
					on("the baseline", s.Grid.Length.Value)
					for _, k := range s.Grid.Stakes {
						if !strings.Contains(all, k.Name+"\n") {
							t.Errorf("%s, %s: %s is on no drawing", job, lang, k.Name)
						}
					}
					for _, f := range s.Grid.Frames {
						on("a diagonal", f.Diagonals[0].Value)
						on("a tolerance", f.Tolerance.Value)
					}
					for _, q := range s.Grid.Squares {
						on("a 3-4-5", q.Hyp.Value)
					}
				}
				for k := range s.Lines {
					l := &s.Lines[k]
					if l.Kind != setout.LineWall {
						continue
					}
					for _, m := range l.Marks {
						on(m.At+" along "+l.Name, m.From.Value)
						if !strings.Contains(all, m.At+"\n") {
							t.Errorf("%s, %s: %s is on no drawing of %s", job, lang, m.At, l.Name)
						}
					}
					for _, m := range p.Job.Measurements {
						if r, ok := p.Layout.Run(m.Bay); ok && p.Layout.Runs[r].Measured && p.Layout.Walls[p.Layout.Runs[r].Wall].Name == l.Name {
							for _, w := range m.Width.Readings() {
								on("a reading of "+m.Bay, w)
							}
						}
					}
				}
				if s.Bases != nil && s.Site != nil {
					for _, b := range s.Bases.List {
						on(b.Name+" top", b.Out.Value)
					}
				}
			}
			for _, s := range sheets {
				if o := draw.Overlaps(s.Sheet); len(o) > 0 {
					t.Errorf("%s, %s, %s: %q on %q", job, lang, s.Name, o[0].A.Text, o[0].B.Text)
				}
				if strings.Contains(strings.Join(s.Key, " "), "[") {
					t.Errorf("%s, %s, %s: %v", job, lang, s.Name, s.Key)
				}
			}
			if strings.Contains(all, "[en]") || strings.Contains(all, "[setout") || strings.Contains(all, "?}") {
				t.Errorf("%s lacks words in %s", job, lang)
			}
		}
	}
}
