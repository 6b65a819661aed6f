package views

import (
	"os"
	"slices"
	"testing"

	"stallwright/engine/plan/plantest"
)

// What shows one wall is what the whole set shows of it, numbers aside; and a run
// by itself names each of its bays.
func TestWallIsOfTheSet(t *testing.T) {
	const file = "../../examples/stone-ford-mixed.yaml"
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p := plantest.Make(t, file, string(src))
	all, err := Elevations(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for run := 0; run < len(p.Layout.Runs); run += 3 { // enough of them, in a short time
		r := &p.Layout.Runs[run]
		whole, err := Wall(p, Options{}, run, true)
		if err != nil {
			t.Fatal(err)
		}
		one, err := Wall(p, Options{}, run, false)
		if err != nil {
			t.Fatal(err)
		}
		if !r.Filled(p.Layout) && len(one) == 0 {
			continue
		}
		if len(one) != 1 || len(whole) == 0 {
			t.Fatalf("%s: %d sheets of it, %d of its wall", r.Name, len(one), len(whole))
		}
		for _, s := range whole {
			if !slices.ContainsFunc(all, func(v Sheet) bool { return v.Title == s.Title }) {
				t.Errorf("%s: the set has no sheet %q", r.Name, s.Title)
			}
		}
		for _, b := range r.Bays {
			if name := p.Layout.Bays[b].Name; len(holding(one, name)) == 0 {
				t.Errorf("%s by itself does not name %s", r.Name, name)
			}
		}
	}
}
