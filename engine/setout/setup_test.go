package setout_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/setout"
)

const (
	in = measure.Inch
	ft = measure.Foot
	mm = measure.Millimetre
)

var kits = map[string]*kit.Kit{}

func readKit(name string) (*kit.Kit, error) {
	if k := kits[name]; k != nil {
		return k, nil
	}
	file, src, _ := kit.Shipped(name)
	k, err := kit.Read(file, src)
	kits[name] = k
	return k, err
}

// fataler is what both testing and rapid stop a test with.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// setOut frames a job text and sets it out.
func setOut(t fataler, src string, f setout.Field) (*setout.Result, *frame.Layout) {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	k, err := readKit(j.Kit)
	if err != nil {
		t.Fatal(err)
	}
	l, err := frame.Build(j, k)
	if err != nil {
		t.Fatal(err)
	}
	if f.Piers == nil {
		f.Piers = setout.PiersOf(j)
	}
	return setout.Make(j, k, l, f), l
}

// head is a job's head in feet, or in metres.
func head(metric bool) string {
	units, kit := "feet", "fernhollow"
	if metric {
		units, kit = "metric", "nordhag"
	}
	return fmt.Sprintf("job: Test\nunits: %s\nkit: %s\nfarm: {name: Test Farm}\nlumber: {species: southern-pine, coverage: 130 mm, tongue: 8 mm, lengths: [8 ft, 12 ft, 16 ft]}\nstructures:\n", units, kit)
}

// penJob is a pen of n sections of a length, with more of its keys.
func penJob(n int, section measure.Length, more string) string {
	return head(false) + fmt.Sprintf("  - pen:\n      name: P\n      sections: %d\n      section: %s\n%s", n, exact(section), indent(more, 6))
}

func rowJob(kind, rooms, more string) string {
	return head(false) + fmt.Sprintf("  - %s:\n      name: B\n      width: 12'\n      depth: 12'\n      rooms: %s\n%s", kind, rooms, indent(more, 6))
}

func indent(s string, n int) string {
	var b strings.Builder
	for line := range strings.Lines(s) {
		b.WriteString(strings.Repeat(" ", n) + line)
	}
	return b.String() + "\n"
}

// exact writes a length so that the reader takes it back whole.
func exact(l measure.Length) string {
	return fmt.Sprintf("%d.%06d mm", l/measure.Millimetre, l%measure.Millimetre)
}

func near(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got measure.Length, want float64, within measure.Length) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= float64(within)) {
		t.Errorf("%s: %v (%d nm), want %.1f nm within %d", what, got, int64(got), want, int64(within))
	}
}

func found(r *setout.Result, code finding.Code) []finding.Finding {
	var out []finding.Finding
	for _, f := range r.Findings {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

func exampleText(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	out := map[string]string{}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(f)] = string(src)
	}
	return out
}
