package packet_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"stallwright/checks"
	"stallwright/engine/measure"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

// ical.js, which is not ours, gives back every crew day with all of its steps.
func TestAnotherReaderSeesEveryCrewDay(t *testing.T) {
	p := example(t, "harrow-field-pen")
	d, err := p.Days(t.Context(), 1_000_000)
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("es", measure.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	data, err := packet.CrewDays(p, d, w)
	if err != nil {
		t.Fatal(err)
	}
	var seen struct {
		Events []struct {
			UID, Description string
			Start, End       struct{ Text string }
		}
	}
	if err := json.Unmarshal(checks.Node(t, "ical.mjs", data), &seen); err != nil {
		t.Fatal(err)
	}
	if len(seen.Events) != len(d.Sheets) || len(d.Sheets) == 0 {
		t.Fatalf("%d events for %d days", len(seen.Events), len(d.Sheets))
	}
	ids := map[string]bool{}
	for i, e := range seen.Events {
		v := &d.Sheets[i]
		ids[e.UID] = true
		first := time.Date(2000, 1, 1, 0, int(v.Tasks[0].From), 0, 0, time.UTC).Format("15:04:05")
		if e.Start.Text != v.Date+"T"+first || e.End.Text <= e.Start.Text || !strings.HasPrefix(e.End.Text, v.Date) {
			t.Errorf("day %d lasts from %s to %s, want %s at %s", i+1, e.Start.Text, e.End.Text, v.Date, first)
		}
		if lines := strings.Split(e.Description, "\n"); len(lines) != len(v.Tasks) {
			t.Errorf("day %d tells %d steps of %d", i+1, len(lines), len(v.Tasks))
		}
	}
	if len(ids) != len(seen.Events) {
		t.Error("two days have the same UID")
	}
}

// A job that says no date has no calendar.
func TestNoDateNoCalendar(t *testing.T) {
	p := example(t, "harrow-field-pen")
	p.Job.Date = ""
	if p.Job.Crew != nil {
		p.Job.Crew.Start = ""
	}
	d, err := p.Days(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en", measure.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	if data, err := packet.CrewDays(p, d, w); data != nil || err != nil {
		t.Errorf("%q, %v", data, err)
	}
}
