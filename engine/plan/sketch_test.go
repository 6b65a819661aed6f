package plan_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/plan"
)

// A plan made out of a sketch is the plan made at once, to the last number, with
// and without a notebook; and what the sketch shows of pieces is the plan's own.
func TestFinishedSketchIsThePlan(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(f, src)
		if err != nil {
			t.Fatal(err)
		}
		k := readKit(t, j.Kit)
		var entries []job.Entry
		if notes, err := os.ReadFile(strings.TrimSuffix(f, ".yaml") + ".notes.jsonl"); err == nil {
			for line := range strings.Lines(string(notes)) {
				e, err := job.ReadEntry([]byte(strings.TrimSpace(line)))
				if err != nil {
					t.Fatal(err)
				}
				entries = append(entries, e)
			}
		}
		want, err := plan.MakeWith(j, k, entries)
		if err != nil {
			t.Fatal(err)
		}
		s, err := plan.NewSketch(j, k, entries)
		if err != nil {
			t.Fatal(err)
		}
		before := dump(s.Plan)
		got, err := s.Finish()
		if err != nil {
			t.Fatal(err)
		}
		if dump(got) != dump(want) {
			t.Errorf("%s: the finished sketch is another plan", f)
		}
		if dump(s.Plan) != before {
			t.Errorf("%s: finishing changed the sketch", f)
		}
		if len(s.Plan.Takeoff.Needs) != len(want.Takeoff.Needs) || len(s.Plan.Fit.Pieces) != len(want.Fit.Pieces) {
			t.Errorf("%s: the sketch holds other pieces", f)
		}
	}
}
