package plan_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/document"
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// text reads a file beside the tests.
func text(t testing.TB, name string) string {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// kitText is the text of a kit: one that ships, or one of testdata.
func kitText(t testing.TB, name string) (file, src string) {
	t.Helper()
	if file, src, ok := kit.Shipped(name); ok {
		return file, string(src)
	}
	file = filepath.Join("testdata", name+".yaml")
	return file, text(t, file)
}

// kits holds kits read once.
var kits = map[string]*kit.Kit{}

func readKit(t testing.TB, name string) *kit.Kit {
	t.Helper()
	if k := kits[name]; k != nil {
		return k
	}
	file, src := kitText(t, name)
	k, err := kit.Read(file, []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	kits[name] = k
	return k
}

// make plans a job text with the kit it names.
func planOf(t testing.TB, file, src string) *plan.Plan {
	t.Helper()
	j, err := job.Read(file, []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, readKit(t, j.Kit))
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p)
	return p
}

// load plans a job of testdata.
func load(t testing.TB, name string) *plan.Plan {
	t.Helper()
	file := filepath.Join("testdata", name+".yaml")
	return planOf(t, file, text(t, file))
}

// swap replaces a part of a text that must be in it.
func swap(t testing.TB, src, old, new string) string {
	t.Helper()
	if !strings.Contains(src, old) {
		t.Fatalf("the text holds no %q", old)
	}
	return strings.Replace(src, old, new, 1)
}

// bay finds a bay that must be there.
func bay(t testing.TB, p *plan.Plan, name string) *fit.BayFit {
	t.Helper()
	i, ok := p.Layout.Bay(name)
	if !ok {
		t.Fatalf("there is no bay %q among %v", name, p.Layout.BayNames())
	}
	return &p.Fit.Bays[i]
}

// needs counts what one place takes of one item, and the length it takes it in.
func needs(p *plan.Plan, place, item string) (n int, length measure.Length) {
	for i := range p.Takeoff.Needs {
		if v := &p.Takeoff.Needs[i]; v.Place == place && v.Item == item {
			n, length = n+v.Count, v.Length
		}
	}
	return n, length
}

// kinds counts a bay's courses by kind.
func kinds(b *fit.BayFit) map[string]int {
	out := map[string]int{}
	for _, c := range b.Courses {
		out[c.Kind]++
	}
	return out
}

func noErrors(t testing.TB, p *plan.Plan) {
	t.Helper()
	for _, f := range p.Findings {
		if f.Severity == finding.Error {
			t.Errorf("%s %s: %s", f.Code, f.Place, f.Message)
		}
	}
}

// isProblems says whether an error is a list of mistakes in a document.
func isProblems(err error) bool {
	var ps document.Problems
	return errors.As(err, &ps) && len(ps) > 0
}

const (
	in = measure.Inch
	ft = measure.Foot
	mm = measure.Millimetre
)
