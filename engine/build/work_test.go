package build_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"stallwright/engine/build"
	"stallwright/engine/build/buildtest"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// NIOSH's load constant is 23 kg for one person (DHHS 94-110; read as CCOHS states
// it). Two people do two thirds of 46 kg, three a half of 69 kg (HSE L23, paragraph
// 120): 30.67 and 34.5 kg.
func TestLiftTeam(t *testing.T) {
	for n, want := range map[int]measure.Mass{1: 23 * measure.Kilogram, 2: 23 * measure.Kilogram * 4 / 3, 3: 34_500 * measure.Gram} {
		if got := build.LiftTeam(n); got != want {
			t.Errorf("%d people: %v, want %v", n, got, want)
		}
	}
	if d := build.LiftTeam(2) - 30_667*measure.Gram; d > measure.Gram || d < -measure.Gram {
		t.Errorf("two people: %v, want 30.67 kg", build.LiftTeam(2))
	}
}

// What is heavier than a crew may lift asks for an aid, not for people who are not
// there.
func TestCrewLimitsLifts(t *testing.T) {
	src := more["barn of one"]
	alone := planned(t, "crew: {people: 1}\n"+src)
	aids := 0
	for i := range alone.Build.Operations {
		l := alone.Build.Operations[i].Lift
		if l == nil {
			continue
		}
		if l.People > 1 {
			t.Errorf("%s takes %d people of one", alone.Build.Operations[i].ID, l.People)
		}
		if l.Aid != (l.Carry > build.LiftOne) {
			t.Errorf("%s: carries %v, aid %v", alone.Build.Operations[i].ID, l.Carry, l.Aid)
		}
		if l.Aid {
			aids++
			if !slices.Contains(alone.Build.Operations[i].Tools, build.Tool{Key: "lifting-aid"}) {
				t.Errorf("%s asks for no lifting aid", alone.Build.Operations[i].ID)
			}
		}
	}
	if aids == 0 {
		t.Error("nothing in a barn is too heavy for one")
	}
}

// Jobs and kits name tools and kinds of work as the order of work does.
func TestNamesAgree(t *testing.T) {
	tools := build.Tools()
	for _, name := range job.ToolName("").Allowed() {
		if !tools[name] {
			t.Errorf("a job may list the tool %s, which nothing takes", name)
		}
		delete(tools, name)
	}
	for name := range tools {
		t.Errorf("a job cannot list the tool %s", name)
	}
	kinds := build.Kinds()
	for _, name := range kit.Work() {
		if !kinds[build.Kind(name)] {
			t.Errorf("a kit may state minutes of %s, which is no kind of work", name)
		}
		delete(kinds, build.Kind(name))
	}
	for name := range kinds {
		t.Errorf("a kit cannot state minutes of %s", name)
	}
	keys := build.Keys()
	for _, name := range job.ToolName("").Allowed() {
		if !slices.Contains(keys, "build.tool-"+name) {
			t.Errorf("Keys lacks the tool %s", name)
		}
	}
	for _, name := range kit.Work() {
		if !slices.Contains(keys, build.Kind(name).Key()) {
			t.Errorf("Keys lacks the kind %s", name)
		}
	}
}

// A kit's own minutes count in place of ours, and say so.
func TestKitLabour(t *testing.T) {
	file, src, _ := kit.Shipped("fernhollow")
	k, err := kit.Read(file, append(slices.Clone(src), "\nlabour:\n  - {do: clamp, begin: 100, piece: 10, people: 3, source: timed in the yard}\n"...))
	if err != nil {
		t.Fatal(err)
	}
	p := planned(t, more["pen on piers"])
	in := p.Stages()
	in.Kit = k
	r, err := build.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Operations {
		o := &r.Operations[i]
		if o.Kind != build.Clamp {
			continue
		}
		if want := (100 + 10*o.Parts[0].Count + 2) / 3; o.People != 3 || o.Minutes != want || o.WhyMinutes != "timed in the yard" {
			t.Fatalf("%s: %d people, %d min (%s), want 3, %d", o.ID, o.People, o.Minutes, o.WhyMinutes, want)
		}
		return
	}
	t.Error("nothing is clamped")
}

func TestKitLabourRefused(t *testing.T) {
	file, src, _ := kit.Shipped("fernhollow")
	_, err := kit.Read(file, append(slices.Clone(src), "\nlabour:\n  - {do: clampp, begin: 1}\n  - {do: load}\n  - {do: load}\n"...))
	if err == nil || !strings.Contains(err.Error(), "no kind of work clampp") || !strings.Contains(err.Error(), "load is given twice") {
		t.Errorf("%v", err)
	}
}

// What states say is done is done, what must come before it and no state can speak
// of too, and nothing else.
func TestDone(t *testing.T) {
	src := `states:
  - {frame: P-2, is: tight, at: 2026-05-02}
  - {frame: P-3, is: standing, at: 2026-05-02}
` + more["pen on piers"]
	p := planned(t, src)
	done := map[string]bool{}
	for i := range p.Build.Operations {
		if o := &p.Build.Operations[i]; o.Done {
			done[o.ID] = true
		}
	}
	want := []string{
		"P/set-out", "P.p2/pour", "P.p3/pour", "P.p4/pour",
		"P-2/lay-out", "P-2/bolt", "P-2/stand", "P-2/move", "P-2/tighten", "P-2/brace",
		"P-3/lay-out", "P-3/bolt", "P-3/stand", "P-3/move",
		"P.p2/pin-bottom", "P.p2/pin-top", "P.p3/pin-bottom", "P.p3/pin-top",
	}
	for _, id := range want {
		if !done[id] {
			t.Errorf("%s is not done", id)
		}
		delete(done, id)
	}
	for id := range done {
		t.Errorf("%s is taken for done", id)
	}
}

// Frozen pieces that have no place any more are set aside, not built in.
func TestAside(t *testing.T) {
	p := planned(t, `measurements:
  - {bay: B1-left, width: 11' 7", at: 2026-05-03 08:00}
states:
  - {frame: B1-left, is: tight, at: 2026-05-02 09:00}
  - bay: B1-left
    is: released
    at: 2026-05-03 09:00
    width: {bottom: 11' 7"}
    pieces: [{label: B1-left/c1, length: 11' 6 3/4"}, {label: B1-left/c40, length: 3'}]
`+more["free-standing with feeder"])
	if len(p.Build.Aside) != 1 || p.Fit.Pieces[p.Build.Aside[0]].Label != "B1-left/c40" {
		t.Fatalf("set aside: %v", p.Build.Aside)
	}
}

// withKit plans a job with a changed text of its kit.
func withKit(t *testing.T, src string, change func(string) string) *plan.Plan {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	file, text, _ := kit.Shipped(j.Kit)
	changed := change(string(text))
	if changed == string(text) {
		t.Fatal("the kit is not changed")
	}
	k, err := kit.Read(file, []byte(changed))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A kit written before doors said when their parts are fitted still plans: all go
// on when the leaf is hung.
func TestKitWithoutGoes(t *testing.T) {
	for name, src := range more {
		p := withKit(t, src, func(s string) string { return regexp.MustCompile(`, goes: [a-z]+`).ReplaceAllString(s, "") })
		buildtest.Verify(t, p.Stages(), p.Build)
		for i := range p.Build.Operations {
			if o := &p.Build.Operations[i]; o.Kind == build.Rollers && len(o.Parts) > 0 {
				t.Errorf("%s: %s takes %+v, though no kit says so", name, o.ID, o.Parts)
			}
		}
	}
}

// Other counts at a joint are split another way, and still add up.
func TestKitWithOtherCounts(t *testing.T) {
	for name, src := range more {
		p := withKit(t, src, func(s string) string {
			s = strings.Replace(s, "use: joint-pin, count: 2", "use: joint-pin, count: 3", 1)
			s = strings.Replace(s, "use: lag-half, count: 3", "use: lag-half, count: 1", 1)
			return strings.Replace(s, "{at: door-post, use: bolt-three-eighths, count: 2", "{at: door-post, use: bolt-three-eighths, count: 5", 1)
		})
		t.Run(name, func(t *testing.T) { buildtest.Verify(t, p.Stages(), p.Build) })
	}
}

// The kit says how long its piers cure.
func TestKitCure(t *testing.T) {
	p := withKit(t, more["pen on piers"], func(s string) string {
		return strings.Replace(s, "    kind: pier\n", "    kind: pier\n    cure: 3\n", 1)
	})
	for i := range p.Build.Operations {
		if o := &p.Build.Operations[i]; o.Kind == build.Pour && o.Cure != 3*24*60 {
			t.Errorf("%s cures %d min, want three days", o.ID, o.Cure)
		}
	}
}
