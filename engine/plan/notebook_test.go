package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// notes reads lines of a notebook.
func notes(t *testing.T, lines ...string) []job.Entry {
	t.Helper()
	var out []job.Entry
	for i, l := range lines {
		e, err := job.ReadEntry([]byte(fmt.Sprintf(`{"id":"e%d","at":"2026-05-03T14:%02d:00Z","by":"Sam","typed":"x",%s}`, i, i, l)))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

// Entries the job has no place for are told and left out; the others count.
func TestNotebookEntriesWithoutAPlace(t *testing.T) {
	const src = `job: notes
units: feet
kit: fernhollow
farm: {name: Farm}
lumber: {species: southern-pine, coverage: 5 1/8", tongue: 3/8", lengths: [12']}
structures:
  - barn-row: {name: A, post: 5 1/2 in x 5 1/2 in, spacing: 12', depth: 12', rooms: [stall, stall]}
`
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	entries := notes(t,
		`"width":{"bay":"A1-A2","height":"bottom","is":"11' 6\""}`,
		`"width":{"bay":"A1-A9","height":"bottom","is":"11' 6\""}`,
		`"reading":{"distance":["A.a1","A.a9"],"is":"11' 6\""}`,
		`"reading":{"distance":["A.a1","A.b2"],"is":"16' 6\""}`, // across a bay: no faces look at each other
		`"state":{"frame":"A1-A2","is":"tight"}`,                // two channels
		`"state":{"bay":"A9","is":"cut"}`,
		`"reading":{"distance":["A.a1","A.a2"],"is":"11' 6 1/2\"","between":"faces"}`,
	)
	noted, unused, err := plan.Noted(j, readKit(t, "fernhollow"), entries)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, u := range unused {
		ids = append(ids, u.ID)
		if u.Why == "" || u.Hint == "" {
			t.Errorf("%+v", u)
		}
	}
	if s := strings.Join(ids, " "); s != "e1 e2 e3 e4 e5" {
		t.Errorf("left out: %s", s)
	}
	if len(noted.Measurements) != 1 || len(noted.Readings) != 1 || len(noted.States) != 0 {
		t.Errorf("%d measurements, %d readings, %d states", len(noted.Measurements), len(noted.Readings), len(noted.States))
	}
	p, err := plan.MakeWith(j, readKit(t, "fernhollow"), entries)
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, f := range p.Findings {
		if f.Code == finding.NotebookEntry {
			told++
		}
	}
	if told != 5 {
		t.Errorf("%d told", told)
	}
	i, _ := p.Layout.Bay("A1-A2")
	if b := p.Fit.Bays[i]; b.State != fit.Measured || b.Clear != 138*measure.Inch {
		t.Errorf("%s, %s", b.State, b.Clear)
	}
	if none, err := plan.MakeWith(j, readKit(t, "fernhollow"), nil); err != nil || len(none.Findings) == 0 {
		t.Errorf("without entries: %v", err)
	}
}
