package book_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/book"
	"stallwright/paper/words"
)

func mustMake(t testing.TB, j *job.Job, k *kit.Kit) *plan.Plan {
	t.Helper()
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// example is an example's text.
func example(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// exampleNames lists the examples.
func exampleNames(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	var out []string
	for _, f := range files {
		out = append(out, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	return out
}

// planOf plans an example as it stands, once: a plan is not changed by printing.
func planOf(t testing.TB, name string) *plan.Plan {
	t.Helper()
	plans.Lock()
	defer plans.Unlock()
	if p := plans.made[name]; p != nil {
		return p
	}
	j, k := plantest.Read(t, name+".yaml", example(t, name))
	if plans.made == nil {
		plans.made = map[string]*plan.Plan{}
	}
	plans.made[name] = mustMake(t, j, k)
	return plans.made[name]
}

var plans struct {
	sync.Mutex
	made map[string]*plan.Plan
}

// without is every part but one.
func without(p book.Part) []book.Part {
	var out []book.Part
	for _, name := range book.PartNames() {
		if book.Part(name) != p {
			out = append(out, book.Part(name))
		}
	}
	return out
}

// releasedPlan is an example whose frames are tight, and whose bays were measured
// as drawn and then released as far as their names pass.
func releasedPlan(t testing.TB, name string, pass func(bay string) bool) *plan.Plan {
	t.Helper()
	j, k := plantest.Read(t, name+".yaml", example(t, name))
	p := mustMake(t, j, k)
	for i := range p.Layout.Runs {
		r := &p.Layout.Runs[i]
		if !r.Filled(p.Layout) {
			continue
		}
		is := job.StepTight
		if !r.Framed() {
			is = job.StepLagged
		}
		j.States = append(j.States, job.State{Frame: r.Name, Is: is, At: "2026-06-01 08:00"})
	}
	for i := range p.Layout.Bays {
		if b := &p.Layout.Bays[i]; !b.IsOpen() && !b.IsDoor() && pass(b.Name) {
			w := p.Fit.Bays[i].Clear.Round(k.Board.Mark, measure.Down)
			j.Measurements = append(j.Measurements, job.Measurement{Bay: b.Name, Width: job.Width{Bottom: w, Middle: w, Top: w}, At: "2026-06-01 10:00"})
		}
	}
	p = mustMake(t, j, k)
	for i := range p.Layout.Bays {
		b := &p.Layout.Bays[i]
		if b.IsOpen() || b.IsDoor() || !pass(b.Name) {
			continue
		}
		if s, err := p.Fit.Release(i, "Sam", "2026-06-01 12:00"); err == nil {
			j.States = append(j.States, s)
		} else {
			t.Logf("%s: %v", b.Name, err)
		}
	}
	return mustMake(t, j, k)
}

// all passes every bay, some about half of them.
func all(string) bool { return true }

func some(bay string) bool {
	n := 0
	for _, c := range bay {
		n += int(c)
	}
	return n%2 == 0
}

// in is the words of a language for a plan.
func in(t testing.TB, p *plan.Plan, lang string) *words.Words {
	t.Helper()
	w, err := words.For(lang, p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// made is a packet.
func made(t testing.TB, p *plan.Plan, lang string, o book.Options) *book.Book {
	t.Helper()
	b, err := book.Make(p, in(t, p, lang), o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// printed is a packet's PDF in a file.
func printed(t testing.TB, b *book.Book) string {
	t.Helper()
	data, err := b.PDF()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "packet.pdf")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// tool runs a program that is not ours, and skips the test where it is missing.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed (Debian: poppler-utils, qpdf, zbar-tools)", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// pagesOf is the text of each page as poppler reads it, blanks in a row as one.
func pagesOf(t testing.TB, path string) []string {
	t.Helper()
	pages := strings.Split(tool(t, "pdftotext", "-raw", path, "-"), "\f")
	for i := range pages {
		pages[i] = strings.Join(strings.Fields(pages[i]), " ")
	}
	return pages[:len(pages)-1]
}
