package build_test

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"stallwright/engine/build"
	"stallwright/engine/build/buildtest"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
)

// shipped reads the kits that come with the program.
var shipped = sync.OnceValue(func() map[string]*kit.Kit {
	out := map[string]*kit.Kit{}
	for _, name := range kit.ShippedNames() {
		file, src, _ := kit.Shipped(name)
		k, err := kit.Read(file, src)
		if err != nil {
			panic(err)
		}
		out[name] = k
	}
	return out
})

func planned(t testing.TB, src string) *plan.Plan {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, shipped()[j.Kit])
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// examples are the example jobs, planned, by file name.
func examples(t testing.TB) map[string]*plan.Plan {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d examples (%v)", len(files), err)
	}
	out := map[string]*plan.Plan{}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(f)] = planned(t, string(src))
	}
	return out
}

// head begins a small job of the shipped kit in feet.
const head = `job: Test
units: feet
kit: fernhollow
farm: {name: Test}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [8', 10', 12', 14', 16']}
structures:
`

// more are jobs that show what no example does.
var more = map[string]string{
	"pen of grilles": head + `  - pen: {name: P, sections: 8, section: 10', height: 8', fill: {fill: grille, below: 10, above: 2}}
`,
	"pen on piers": head + `  - pen: {name: P, sections: 6, section: 10', base: pier-12}
`,
	"barn of one": head + `  - free-barn:
      name: N
      width: 12'
      depth: 12'
      rooms: [stall]
      fronts: {door: slide-48, at: left, slides: right, panels: grille}
      back: {fill: window}
      roof: {eave: 9', pitch: 3/12}
`,
	"a tapered bay, shimmed": `measurements:
  - {bay: A1-left, width: {bottom: 11' 6", middle: 11' 6 1/2", top: 11' 7"}}
bays: {A1-left: {shim: true}}
` + head + `  - barn-row: {name: A, post: 5 1/2 in x 5 1/2 in, spacing: 12', depth: 12', rooms: [stall, stall]}
`,
	"free-standing with feeder": head + `  - free-row:
      name: B
      width: 14'
      depth: 12'
      rooms: [stall, stall]
      fronts: {door: slide-48, at: right, slides: left, panels: feeder}
      dividers: grille
      back: {fill: window}
      sides: boards
`,
}

// everything is the examples and the jobs above, planned once; nothing changes a
// plan.
var everything map[string]*plan.Plan

func all(t testing.TB) map[string]*plan.Plan {
	t.Helper()
	if everything == nil {
		everything = examples(t)
		for name, src := range more {
			everything[name] = planned(t, src)
		}
	}
	return everything
}

// Every fact of the trade, and all that must hold of any order, holds in every
// example.
func TestOrderOfExamples(t *testing.T) {
	for name, p := range all(t) {
		t.Run(name, func(t *testing.T) { buildtest.Verify(t, p.Stages(), p.Build) })
	}
}

// Each fact hangs on the rule that is named with it: without the rule something
// breaks it. And each rule has a fact.
func TestEveryRuleCounts(t *testing.T) {
	plans := all(t)
	tested := map[build.RuleID]bool{}
	for _, f := range buildtest.Facts() {
		tested[f.Rule] = true
		pairs, broken := 0, 0
		for name, p := range plans {
			with := buildtest.Of(p.Stages(), p.Build)
			n := with.Holds(f, func(a, b int) {
				t.Errorf("%s, %s: not kept for %s and %s", name, f.Says, p.Build.Operations[a].ID, p.Build.Operations[b].ID)
			})
			if pairs += n; n == 0 || broken > 0 {
				continue
			}
			r, err := build.MakeWithout(p.Stages(), f.Rule)
			if err != nil {
				t.Fatalf("without %s: %v", f.Rule, err)
			}
			buildtest.Of(p.Stages(), r).Holds(f, func(int, int) { broken++ })
		}
		if pairs == 0 {
			t.Errorf("%q (%s) speaks of nothing in any job", f.Says, f.Rule)
		} else if broken == 0 {
			t.Errorf("%q holds without the rule %s too", f.Says, f.Rule)
		}
	}
	for _, r := range build.Rules() {
		if !tested[r.ID] {
			t.Errorf("no fact hangs on the rule %s", r.ID)
		}
		if r.Says == "" || !strings.HasSuffix(r.Says, ".") || r.Source == "" {
			t.Errorf("%s says %q by %q", r.ID, r.Says, r.Source)
		}
	}
}

// The steps of free-standing stalls, as the trade tells them: boards and grilles,
// clamps, roof posts, door track, door (common practice, no published source).
func TestRoofPostsAmongTheSteps(t *testing.T) {
	stage := func(k build.Kind) int {
		switch k {
		case build.Measure, build.Cut, build.Trim:
			return 1
		case build.Load, build.Capture, build.Fit:
			return 2
		case build.Clamp:
			return 3
		case build.Roof:
			return 4
		case build.Track:
			return 5
		case build.Hang:
			return 6
		}
		return 0
	}
	seen := 0
	for name, p := range all(t) {
		first, last := map[int]int{}, map[int]int{}
		for i := range p.Build.Steps {
			s := &p.Build.Steps[i]
			for _, k := range s.Ops {
				if o := &p.Build.Operations[k]; o.Kind == build.Roof {
					if _, ok := first[s.Place.Structure]; !ok {
						first[s.Place.Structure] = i
					}
					last[s.Place.Structure] = i
				}
			}
		}
		for i := range p.Build.Steps {
			s := &p.Build.Steps[i]
			to, ok := last[s.Place.Structure]
			if !ok {
				continue
			}
			for _, k := range s.Ops {
				o := &p.Build.Operations[k]
				door := o.Place.Bay >= 0 && p.Layout.Bays[o.Place.Bay].IsDoor()
				switch v := stage(o.Kind); {
				case v == 0 || v == 4 || v == 2 && door: // a leaf is boarded on trestles
				case v < 4 && i >= first[s.Place.Structure]:
					t.Errorf("%s: step %d, %s, comes after the roof posts", name, s.No, o.ID)
				case v > 4 && i <= to:
					t.Errorf("%s: step %d, %s, comes before the roof posts", name, s.No, o.ID)
				default:
					seen++
				}
			}
		}
	}
	if seen < 100 {
		t.Errorf("only %d operations round roof posts", seen)
	}
}

// The same job gives the same work.
func TestSameWork(t *testing.T) {
	for name, src := range more {
		a, b := planned(t, src), planned(t, src)
		for i := range a.Build.Operations {
			if a.Build.Operations[i].ID != b.Build.Operations[i].ID {
				t.Fatalf("%s: operation %d is %s, then %s", name, i, a.Build.Operations[i].ID, b.Build.Operations[i].ID)
			}
		}
	}
}

// The page for people lists every rule in its own words.
func TestRulesAreDocumented(t *testing.T) {
	page, err := os.ReadFile("../../docs/build.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(page)) {
		if cells := strings.Split(line, "|"); len(cells) == 5 && strings.HasPrefix(cells[2], " `") {
			rows++
		}
	}
	for _, r := range build.Rules() {
		if !strings.Contains(string(page), "| `"+string(r.ID)+"` | "+r.Says+" |") {
			t.Errorf("docs/build.md lacks: | `%s` | %s |", r.ID, r.Says)
		}
	}
	if rows != len(build.Rules()) {
		t.Errorf("docs/build.md lists %d rules, there are %d", rows, len(build.Rules()))
	}
}

// The whole order for a small pen, as a crew reads it.
func TestOrderOfASmallPen(t *testing.T) {
	p := planned(t, head+"  - pen: {name: P, sections: 3, section: 10', base: pier-12}\n")
	want := strings.Fields(`
		P/set-out P.p1/pour P.p2/pour P.p3/pour
		P-2/lay-out P-2/bolt P-2/stand P-2/move P-2/brace
		P-3/lay-out P-3/bolt P-3/stand P-3/move P.p3/pin-bottom P.p3/pin-top
		P-gate/lay-out P-gate/bolt P-gate/stand P-gate/move P.p1/pin-bottom P.p1/pin-top P.p2/pin-bottom P.p2/pin-top
		P/round P-2/tighten P-3/tighten P-gate/tighten P.p1/anchor P.p2/anchor P.p3/anchor P/unbrace
		P-2/measure P-3/measure P-gate-left/measure P-gate-door/measure P-gate-right/measure
		P-2/cut P-3/cut P-gate-left/cut P-gate-door/cut P-gate-right/cut
		P-2/treated-boards P-2/lower-boards-2 P-2/last-course-13 P-2/clamp
		P-3/treated-boards P-3/lower-boards-2 P-3/last-course-13 P-3/clamp
		P-gate-left/treated-boards P-gate-left/lower-boards-2 P-gate-left/last-course-13 P-gate-left/clamp
		P-gate-right/treated-boards P-gate-right/lower-boards-2 P-gate-right/last-course-13 P-gate-right/clamp
		P-gate-door/leaf-from-above P-gate-door/leaf-from-below P-gate-door/leaf-lowest P-gate-door/rollers
		P-gate-door/track P-gate-door/hang P-gate-door/adjust P-gate-door/nuts P-gate-door/handle
		P/check`)
	var got []string
	for i := range p.Build.Operations {
		got = append(got, p.Build.Operations[i].ID)
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("got:\n%s", strings.Join(got, " "))
	}
}
