package page_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/app/page"
)

// examples are the jobs that everything is asked of, with their notebooks.
func examples(t *testing.T) map[string]page.Asked {
	t.Helper()
	out := map[string]page.Asked{}
	for _, pattern := range []string{"../../examples/*.yaml", "../../paper/packet/testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			src, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			a := page.Asked{Job: string(src)}
			if notes, err := os.ReadFile(strings.TrimSuffix(f, ".yaml") + ".notes.jsonl"); err == nil {
				for line := range strings.Lines(string(notes)) {
					a.Entries = append(a.Entries, strings.TrimSpace(line))
				}
			}
			out[strings.TrimSuffix(filepath.Base(f), ".yaml")] = a
		}
	}
	if len(out) < 7 {
		t.Fatalf("%d examples found", len(out))
	}
	return out
}

// machine is another machine to answer on.
type machine struct {
	name         string
	goos, goarch string
	needs        []string // programs, any one of them for each entry
	run          func(t *testing.T, program string) []string
}

var machines = []machine{
	{"browser", "js", "wasm", []string{"node"}, func(t *testing.T, program string) []string {
		root, err := exec.Command("go", "env", "GOROOT").Output()
		if err != nil {
			t.Fatal(err)
		}
		return []string{"node", "--stack-size=8192", filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec_node.js"), program}
	}},
	{"arm64", "linux", "arm64", []string{"qemu-aarch64-static"}, func(_ *testing.T, program string) []string {
		return []string{"qemu-aarch64-static", program}
	}},
	{"386", "linux", "386", nil, func(_ *testing.T, program string) []string { return []string{program} }},
}

// asks are what is asked elsewhere: jobs in feet and in metric units, a ring, one
// with an adjusted survey; emulation is too slow for all of them.
var asks = map[string][]string{
	"hillside":          {"plan"},
	"nordlia-free-barn": {"plan"},
	"stone-ford-mixed":  {"plan", "walk"},
	"three-meadows":     {"drawings"},
}

// A page, a phone, an old office machine and this one answer with the same bytes:
// plans with adjusted surveys, drawings, reasons, the walk.
func TestSameBytesEverywhere(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for other machines")
	}
	jobs := examples(t)
	for _, m := range machines {
		t.Run(m.name, func(t *testing.T) {
			for _, p := range m.needs {
				if _, err := exec.LookPath(p); err != nil {
					t.Skipf("%s is not installed", p)
				}
			}
			program := filepath.Join(t.TempDir(), "answer")
			build := exec.Command("go", "build", "-o", program, "./answer")
			build.Env = append(os.Environ(), "GOOS="+m.goos, "GOARCH="+m.goarch, "CGO_ENABLED=0")
			if out, err := build.CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			call := m.run(t, program)
			for name, questions := range asks {
				asked, ok := jobs[name]
				if !ok {
					t.Fatalf("no example %s", name)
				}
				for _, q := range questions {
					in, err := json.Marshal(asked)
					if err != nil {
						t.Fatal(err)
					}
					c := exec.Command(call[0], append(call[1:], q)...)
					c.Stdin = bytes.NewReader(in)
					got, err := c.Output()
					if err != nil {
						var exit *exec.ExitError
						if errors.As(err, &exit) {
							err = errors.New(err.Error() + ": " + string(exit.Stderr))
						}
						t.Fatalf("%s of %s: %v", q, name, err)
					}
					if want := page.Answer(q, in); !bytes.Equal(got, want) {
						t.Errorf("%s of %s differs at byte %d of %d", q, name, differs(got, want), len(want))
					}
				}
			}
		})
	}
}

func differs(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}
