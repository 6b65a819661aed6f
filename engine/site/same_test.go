package site_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"math/rand"
	"os"
	"strings"
	"testing"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

// wholeBarn is a barn with readings of every kind, made from whole numbers alone.
func wholeBarn(t testing.TB) string {
	t.Helper()
	src := barn("facing", 2, "floor: {base: 4\"}\n")
	tasks, _ := tapeTasks(t, src)
	seed := uint32(7)
	values := make([]measure.Length, len(tasks))
	for i := range tasks {
		seed = seed*1664525 + 1013904223
		values[i] = (tasks[i].Expected + measure.Length(int64(seed>>8)%6_000_000-3_000_000)).Round(measure.SixteenthInch, measure.Nearest)
	}
	values[5] += 4 * measure.Inch
	return src + written(tasks, values) + `  - {offset: [A.a2, A.a1, A.a3], is: 1/4"}
  - {square: [A.a1, A.a3, A.b1], off: 1/8"}
  - {plumb: A.c2, over: 7', along: 5/8"}
` + strings.TrimPrefix(rods(0, 0.5, 1.25), "readings:\n")
}

// dump is everything a site holds, and its sheet, to the last digit.
func dump(s *site.Site, sheet *site.Sheet) string {
	var b strings.Builder
	for _, v := range s.Readings {
		fmt.Fprintf(&b, "%s %s %d %d %d %x %x %d\n", v.Name, v.Status, v.Read, v.Makes, v.Sigma, v.Redundancy, v.W, v.Smallest)
	}
	fmt.Fprintf(&b, "%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n", s.Posts, s.Gaps, s.Steps, s.Headroom, s.Findings, s.Wanted)
	for _, v := range s.Levels {
		fmt.Fprintf(&b, "%s %d %d %d %v\n", v.Name, v.Ground, v.Sigma, v.Finished, v.Known)
	}
	for _, v := range s.Marks {
		fmt.Fprintf(&b, "%d %d %d\n", v.Post, v.Above, v.Ground)
	}
	fmt.Fprintf(&b, "%+v\n", *sheet)
	return b.String()
}

// The same job gives the same site in any run, sheet and findings included.
func TestSameSiteEveryRun(t *testing.T) {
	src := wholeBarn(t)
	first := ""
	for range 3 {
		s, l := adjust(t, src)
		got := dump(s, site.NewSheet(s, l))
		if first == "" {
			first = got
		}
		if got != first {
			t.Fatal("two runs differ")
		}
	}
}

// And the same numbers, to the last bit, on every platform: these were recorded on
// amd64 and hold on 386 and wasm.
func TestSameSiteEverywhere(t *testing.T) {
	s, l := adjust(t, wholeBarn(t))
	var b strings.Builder
	for _, i := range []int{0, 5, 11} {
		p := s.Posts[i]
		fmt.Fprintf(&b, "%s %d %d %d %d %d\n", l.Posts[p.Post].Name, p.At.X, p.At.Y, p.SigmaX, p.Ellipse.Major, p.Ellipse.Direction)
	}
	for _, i := range []int{1, 5, 16, 33} {
		r := s.Readings[i]
		fmt.Fprintf(&b, "%s: %d %d %x %x %d\n", r.Name, r.Read, r.Makes, r.Redundancy, r.W, r.Smallest)
	}
	fmt.Fprintf(&b, "%s %d %d, mark %d %d\n", s.Levels[3].Name, s.Levels[3].Ground, s.Levels[3].Sigma, s.Marks[3].Above, s.Marks[3].Ground)
	const want = `A.a1 1031858 3657851371 1636861 2221665 66314250639
A.b3 7313860378 -974338 1709279 1793707 26835341004
A.d3 7314742198 -7921656859 1693019 2279014 66244110839
distance A.b1–A.c1: 4127500000 4127331401 0x1.e48c893a86104p-03 0x1.22d20aa7ce46p-03 28184299
diagonal A.b1–A.a2: 5075237500 4976146867 0x0p+00 0x1.9da27b4018ee5p+04 0
diagonal A.a1–A.b3: 7989887500 7989869685 0x1.32c88c5ebe83dp-01 0x1.d3fb44e2ca274p-08 23384185
offset of A.a2 from the line A.a1–A.a3: 6350000 1757706 0x1.56594c7490356p-01 0x1.700701aba8a8cp+00 26831479
A.b1 0 1587500, mark 57150000 158750000
`
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}

// Readings written in another order give the same posts to the nanometre's noise,
// and the same suspects.
func TestOrderOfReadingsDoesNotMatter(t *testing.T) {
	src := wholeBarn(t)
	head, body, _ := strings.Cut(src, "readings:\n")
	lines := strings.SplitAfter(strings.TrimSuffix(body, "\n"), "\n")
	lines[len(lines)-1] += "\n"
	a, _ := adjust(t, src)
	rand.New(rand.NewSource(3)).Shuffle(len(lines), func(i, k int) { lines[i], lines[k] = lines[k], lines[i] })
	b, _ := adjust(t, head+"readings:\n"+strings.Join(lines, ""))
	for i := range a.Posts {
		if d := a.Posts[i].At.Sub(b.Posts[i].At); d.X.Abs() > 100 || d.Y.Abs() > 100 {
			t.Errorf("post %d moves by %v", i, d)
		}
	}
	if x, y := suspects(a), suspects(b); x != y || x == "" {
		t.Errorf("suspects %q and %q", x, y)
	}
}

func suspects(s *site.Site) string {
	var out []string
	for _, r := range s.Readings {
		if r.Suspect {
			out = append(out, r.Name)
		}
	}
	return strings.Join(out, ", ")
}

// No readings, nothing worked out: the plan is the drawing's.
func TestNothingRead(t *testing.T) {
	j, k, l := draw(t, barn("facing", 3, ""))
	s := site.Adjust(j, k, l)
	if s.Moved() || len(s.Findings)+len(s.Levels)+len(s.Posts)+len(s.Marks) != 0 {
		t.Errorf("%+v", s)
	}
	p, err := plan.Make(j, k)
	if err != nil || p.Layout.Bays[0].Clear != l.Bays[0].Clear {
		t.Error(err)
	}
}

// Places stay whole nanometres here: floats are the survey's, and whatever could
// differ between processors with them. No file of the package takes math in.
func TestNoFloatsOfItsOwn(t *testing.T) {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			if i.Path.Value == `"math"` {
				t.Errorf("%s imports math", e.Name())
			}
		}
	}
}

func BenchmarkAdjustFortyPosts(b *testing.B) {
	src := barn("facing", 9, "")
	tasks, l := tapeTasks(b, src)
	src += written(tasks, stand(l, rand.New(rand.NewSource(1)), 1).readAll(tasks))
	j, k, l := draw(b, src)
	for b.Loop() {
		site.Adjust(j, k, l)
	}
}

func BenchmarkSheet(b *testing.B) {
	s, l := adjust(b, barn("facing", 20, ""))
	for b.Loop() {
		site.NewSheet(s, l)
	}
}
