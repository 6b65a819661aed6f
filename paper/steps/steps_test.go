package steps_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"

	"stallwright/engine/build"
	"stallwright/paper/draw"
	"stallwright/paper/steps"
	"stallwright/paper/words"
)

// examples draws every picture of every example, in English and in Spanish.
func examples(t *testing.T, check func(t *testing.T, d *steps.Drawer, lang string)) {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	if len(files) < 5 {
		t.Fatalf("only %d examples", len(files))
	}
	for i, f := range files {
		lang := []string{"en", "es"}[i%2]
		t.Run(filepath.Base(f), func(t *testing.T) {
			src, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			p := plantest.Make(t, f, string(src))
			w, err := words.For(lang, p.Job.Units)
			if err != nil {
				t.Fatal(err)
			}
			check(t, steps.New(p, w, steps.Options{}), lang)
		})
	}
}

// texts are those of a sheet.
func texts(s *draw.Sheet) map[string]bool {
	out := map[string]bool{}
	for _, b := range s.Texts() {
		out[b.Text] = true
	}
	return out
}

// Of every step that adds pieces there is a picture, in which no two texts stand
// on each other and none is cut off, every text is legible, each piece added is
// named (boards of a row by the first and the last), and everything the step
// screws or bolts is called out with its count.
func TestPictures(t *testing.T) {
	examples(t, func(t *testing.T, d *steps.Drawer, _ string) {
		drawn := 0
		for i := range d.Build.Steps {
			st := &d.Build.Steps[i]
			s, err := d.Picture(i)
			if err != nil {
				t.Fatalf("step %d: %v", st.No, err)
			}
			if s == nil {
				if len(st.Adds) > 0 {
					t.Errorf("step %d adds %d pieces and has no picture", st.No, len(st.Adds))
				}
				continue
			}
			drawn++
			if o := draw.Overlaps(s); len(o) > 0 {
				t.Errorf("step %d: %q stands on %q", st.No, o[0].A.Text, o[0].B.Text)
			}
			if o := draw.Outside(s); len(o) > 0 {
				t.Errorf("step %d: %q leaves the picture", st.No, o[0].Text)
			}
			said := texts(s)
			for _, m := range s.Marks {
				switch m := m.(type) {
				case draw.Curve:
					if m.Centre.Y+m.Radius > s.Height || m.Centre.Y < m.Radius || m.Centre.X < m.Radius || m.Centre.X+m.Radius > s.Width {
						t.Errorf("step %d: a circle on %s leaves the picture", st.No, m.Layer)
					}
				case draw.Text:
					if m.Height < steps.Least {
						t.Errorf("step %d: %q is %d µm high", st.No, m.Text, m.Height)
					}
				case draw.Stroke:
					for _, r := range m.Runs {
						for _, q := range r {
							if q.X < 0 || q.Y < 0 || q.X > s.Width || q.Y > s.Height {
								t.Fatalf("step %d: a line on %s leaves the picture at %v", st.No, m.Layer, q)
							}
						}
					}
				}
			}
			named(t, d, st, said)
		}
		if drawn < 10 {
			t.Errorf("only %d pictures", drawn)
		}
		t.Logf("%d pictures of %d steps", drawn, len(d.Build.Steps))
	})
}

// named checks that a step's pieces are named and its hardware counted.
func named(t *testing.T, d *steps.Drawer, st *build.Step, said map[string]bool) {
	t.Helper()
	has := func(code string) bool {
		for s := range said {
			for _, part := range strings.Split(s, " – ") {
				if part == code {
					return true
				}
			}
		}
		return false
	}
	short := func(label string) string { return strings.TrimPrefix(label, st.Place.Name+"/") }
	if n := len(st.Adds); n > 0 {
		first, last := &d.Fit.Pieces[st.Adds[0]], &d.Fit.Pieces[st.Adds[n-1]]
		if !has(short(first.Label)) && !has(short(last.Label)) {
			t.Errorf("step %d: neither %s nor %s is named in %v", st.No, first.Label, last.Label, said)
		}
		for _, i := range st.Adds {
			if q := &d.Fit.Pieces[i]; q.Kind != "board" && q.Kind != "packing" && q.Kind != "skirt" && !has(short(q.Label)) {
				t.Errorf("step %d: %s is not named", st.No, q.Label)
			}
		}
	}
	type kind struct {
		item   string
		length int64
	}
	count := map[kind]int{}
	for _, k := range st.Ops {
		for _, list := range [2][]build.Use{d.Build.Operations[k].Bolts, d.Build.Operations[k].Parts} {
			for _, u := range list {
				count[kind{u.Item, int64(u.Length)}] += u.Count
			}
		}
	}
	for k, n := range count {
		if !has(fmt.Sprintf("%d ×", n)) {
			t.Errorf("step %d: %d of %s are not called out", st.No, n, k.item)
		}
	}
}

// The same plan gives the same pictures, in whatever order the steps are asked
// for where each is asked for once.
func TestPicturesAgain(t *testing.T) {
	p := plantest.Make(t, "many.yaml", manyStalls(10))
	w, err := words.For("en", p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	a, b := steps.New(p, w, steps.Options{}), steps.New(p, w, steps.Options{})
	for i := 0; i < len(p.Build.Steps); i += 7 {
		s, err := a.Picture(i)
		if err != nil {
			t.Fatal(err)
		}
		again, err := b.Picture(i)
		if err != nil {
			t.Fatal(err)
		}
		if (s == nil) != (again == nil) || s != nil && s.SVG() != again.SVG() {
			t.Errorf("step %d drawn twice with two results", i+1)
		}
	}
}

// A wall whose posts lean takes boards of many lengths: each has its label, and
// all find room in a picture much smaller than the usual one.
func TestManyLengths(t *testing.T) {
	src := strings.Replace(manyStalls(10), "structures:", "measurements:\n  - {bay: R0_1-left, width: {bottom: 11 ft 5 in, top: 11 ft 10 in}}\nstructures:", 1)
	p := plantest.Make(t, "leaning.yaml", src)
	w, err := words.For("en", p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range []steps.Options{{}, {Width: 150 * draw.MM, Height: 80 * draw.MM}} {
		d := steps.New(p, w, o)
		most := 0
		for i := range p.Build.Steps {
			if p.Build.Steps[i].Place.Name != "R0_1-left" {
				continue
			}
			s, err := d.Picture(i)
			if err != nil {
				t.Fatal(err)
			}
			if s == nil {
				continue
			}
			if len(draw.Overlaps(s))+len(draw.Outside(s)) > 0 {
				t.Errorf("texts of %v clash or leave it", o)
			}
			n := 0
			for text := range texts(s) {
				if strings.HasPrefix(text, "c") && !strings.Contains(text, " in") {
					n++
				}
			}
			most = max(most, n)
		}
		if most < 4 {
			t.Errorf("only %d labels of boards of many lengths", most)
		}
	}
}
