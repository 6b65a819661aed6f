package differ_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
)

// kits are the shipped ones, read once; no test changes them.
var kits = map[string]*kit.Kit{}

// tryDocument plans a job text; the error is document.Problems.
func tryDocument(file, src string) (*packet.Document, error) {
	j, err := job.Read(file, []byte(src))
	if err != nil {
		return nil, err
	}
	if kits[j.Kit] == nil {
		kitFile, kitSrc, ok := kit.Shipped(j.Kit)
		if !ok {
			return nil, fmt.Errorf("no kit %s", j.Kit)
		}
		if kits[j.Kit], err = kit.Read(kitFile, kitSrc); err != nil {
			return nil, err
		}
	}
	p, err := plan.Make(j, kits[j.Kit])
	if err != nil {
		return nil, err
	}
	return packet.NewDocument(p), nil
}

func documentOf(t testing.TB, file, src string) *packet.Document {
	t.Helper()
	d, err := tryDocument(file, src)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func text(t testing.TB, name string) string {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("../../examples", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

func example(t testing.TB, name string) *packet.Document {
	t.Helper()
	return documentOf(t, name+".yaml", text(t, name))
}

func exampleNames(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".yaml")
	}
	return files
}

// wish is a small job by what random edits change of it.
type wish struct {
	name, kit, coverage, spacing, depth, divider, front, at string
	rows                                                    string
	rooms                                                   []string // kind or kind and name
	readings                                                map[string]string
	blank                                                   int // lines that only shift the others
}

var bays = []string{"A1-A2", "A2-A3", "A1-left"}

func drawWish(r *rapid.T) wish {
	w := wish{readings: map[string]string{}}
	for k := range 9 {
		w = w.change(r, k)
	}
	return w
}

// change draws one thing anew.
func (w wish) change(r *rapid.T, k int) wish {
	one := func(from ...string) string { return rapid.SampledFrom(from).Draw(r, "of") }
	switch k {
	case 0:
		w.name, w.kit = one("A", "A", "B"), one("fernhollow", "fernhollow", "fernhollow", "nordhag")
	case 1:
		w.coverage = one(`5 1/8"`, `5 1/16"`, `5"`)
	case 2:
		w.spacing = one("12'", "12'", "11' 6\"", "13'")
	case 3:
		w.depth = one("12'", "12'", "14'")
	case 4:
		w.divider = one("grille", "boards", "{fill: grille, below: 7}", "{fill: boards, treated: 2}", "feeder")
	case 5:
		w.front, w.at = one("grille", "boards"), one("left", "centre", "right")
	case 6:
		w.rows = one("one", "one", "facing")
	case 7:
		n := rapid.IntRange(2, 4).Draw(r, "rooms")
		w.rooms = nil
		for i := range n {
			w.rooms = append(w.rooms, one("stall", "stall", "tack", fmt.Sprintf("{kind: stall, name: Mare%d}", rapid.IntRange(1, 2).Draw(r, "mare")*10+i)))
		}
	case 8:
		old := w.readings
		w.readings = map[string]string{}
		for _, b := range bays {
			w.readings[b] = old[b]
		}
		w.readings[rapid.SampledFrom(bays).Draw(r, "bay")] = one("", `11' 6 1/4"`, `11' 6"`, `11' 6 3/8"`, `11' 5 3/16"`)
		w.blank = rapid.IntRange(0, 3).Draw(r, "blank")
	}
	return w
}

func (w wish) text() string {
	var b strings.Builder
	b.WriteString(strings.Repeat("# shifted\n", w.blank))
	door := "slide-48"
	if w.kit == "nordhag" {
		door = "slide-1200"
	}
	fmt.Fprintf(&b, "job: drawn\nunits: feet\nkit: %s\nfarm: {name: Drawn}\nlumber: {species: southern-pine, coverage: %s, tongue: 3/8 in, lengths: [8', 10', 12', 14', 16']}\nstructures:\n", w.kit, w.coverage)
	fmt.Fprintf(&b, "  - barn-row:\n      name: %s\n      rows: %s\n      post: 5 1/2 in x 5 1/2 in\n      spacing: %s\n      depth: %s\n", w.name, w.rows, w.spacing, w.depth)
	if w.rows == "facing" {
		b.WriteString("      aisle: 12'\n")
	}
	fmt.Fprintf(&b, "      fronts: {door: %s, at: %s, panels: %s}\n      dividers: %s\n      sides: boards\n      back: boards\n      rooms:\n", door, w.at, w.front, w.divider)
	for _, v := range w.rooms {
		if strings.HasPrefix(v, "{") {
			fmt.Fprintf(&b, "        - %s\n", v)
		} else {
			fmt.Fprintf(&b, "        - {kind: %s}\n", v)
		}
	}
	head := "measurements:\n"
	for _, bay := range bays {
		name := strings.ReplaceAll(bay, "A", w.name)
		if v := w.readings[bay]; v != "" && w.has(name) {
			fmt.Fprintf(&b, "%s  - {bay: %s, width: %s, by: crew lead, at: 2026-05-03 14:10}\n", head, name, v)
			head = ""
		}
	}
	return b.String()
}

// has says whether a wall of that name is there: a room with a name of its own
// lends that to its walls.
func (w wish) has(name string) bool {
	for i := range 3 {
		if strings.Contains(name, fmt.Sprintf("%s%d", w.name, i+1)) && (i >= len(w.rooms) || strings.HasPrefix(w.rooms[i], "{")) {
			return false
		}
	}
	return true
}

// drawPair draws a job and the same with one to three things changed, both
// planned.
func drawPair(r *rapid.T) (old, new *packet.Document) {
	w := drawWish(r)
	v := w
	for range rapid.IntRange(1, 3).Draw(r, "changes") {
		v = v.change(r, rapid.IntRange(0, 8).Draw(r, "change"))
	}
	plan := func(file, src string) *packet.Document {
		d, err := tryDocument(file, src)
		var ps document.Problems
		if errors.As(err, &ps) {
			r.Skip(err.Error())
		}
		if err != nil {
			r.Fatal(err)
		}
		return d
	}
	return plan("old.yaml", w.text()), plan("new.yaml", v.text())
}
