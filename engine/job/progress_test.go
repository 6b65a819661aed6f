package job_test

import (
	"strings"
	"testing"

	"stallwright/engine/job"
)

// stands is a layout of one framed bay and one between channels, both measured.
func stands(measuredAt string) func(string) (job.Stands, bool) {
	m := func(bay string) []*job.Measurement {
		if measuredAt == "never" {
			return nil
		}
		return []*job.Measurement{{Bay: bay, At: measuredAt}}
	}
	return func(bay string) (job.Stands, bool) {
		switch bay {
		case "F-left":
			return job.Stands{Run: "F", Framed: true, All: m(bay)}, true
		case "C":
			return job.Stands{Run: "C", All: m(bay)}, true
		}
		return job.Stands{}, false
	}
}

// steps turns "F tight, F-left released 2026-05-03" into entries.
func steps(text string) []job.State {
	var out []job.State
	for _, part := range strings.Split(text, ", ") {
		words := strings.Fields(part)
		if len(words) < 2 {
			continue
		}
		s := job.State{Is: job.Step(words[1]), At: strings.Join(words[2:], " ")}
		if s.Is.OfFrame() {
			s.Frame = words[0]
		} else {
			s.Bay = words[0]
		}
		out = append(out, s)
	}
	return out
}

// The rules: a framed bay is measured for release, and released, only once its
// frame is tight and squared; channels lagged to timber count as that; cut follows
// released, loaded follows cut; the latest entry counts (common practice, no
// published source).
func TestStateRules(t *testing.T) {
	for _, c := range []struct {
		measured, steps string
		bay             string
		is              job.Step
		frozen          bool
		refused         string // part of why the last step is refused; empty where it counts
	}{
		{"", "F-left released", "F-left", "", false, "the frame of F is not stated to be tight"},
		{"", "F-left measured", "F-left", "", false, "cannot be measured for release"},
		{"", "F delivered, F standing, F-left released", "F-left", "", false, "the frame of F is only standing"},
		{"", "F tight, F-left released", "F-left", job.StepReleased, true, ""},
		{"", "F tight, F standing, F-left released", "F-left", "", false, "only standing"},
		{"", "F tight, F-left released, F standing", "F-left", job.StepReleased, true, ""},
		{"", "F tight, F-left measured, F-left released", "F-left", job.StepReleased, true, ""},
		{"never", "F tight, F-left released", "F-left", "", false, "nobody measured it"},
		{"never", "F tight, F-left measured", "F-left", "", false, "nobody measured it"},
		{"", "F tight, F-left cut", "F-left", "", false, "cannot be cut: it is only measured"},
		{"never", "F tight, F-left cut", "F-left", "", false, "cannot be cut: it is only drawn"},
		{"", "F tight, F-left loaded", "F-left", "", false, "cannot be loaded"},
		{"", "F tight, F-left released, F-left loaded", "F-left", job.StepReleased, true, "cannot be loaded: it is released"},
		{"", "F tight, F-left released, F-left cut", "F-left", job.StepCut, true, ""},
		{"", "F tight, F-left released, F-left cut, F-left loaded", "F-left", job.StepLoaded, true, ""},
		{"", "F tight, F-left released, F-left cut, F-left loaded, F-left cut", "F-left", job.StepCut, true, ""},
		{"", "F tight, F-left released, F-left cut, F-left released", "F-left", job.StepReleased, true, ""},
		{"", "F tight, F-left released, F-left measured", "F-left", job.StepMeasured, false, ""},
		{"", "F tight, F-left released, F-left measured, F-left cut", "F-left", job.StepMeasured, false, "cannot be cut: it is measured"},
		{"", "F tight, F-left released, F-left drawn", "F-left", job.StepDrawn, false, ""},
		{"", "F tight, F-left released, F-left drawn, F-left cut", "F-left", job.StepDrawn, false, "cannot be cut: it is drawn"},
		{"", "F tight, F-left drawn, F-left released", "F-left", job.StepDrawn, false, "was not measured since"},
		{"", "C released", "C", "", false, "nobody stated that its channels are lagged"},
		{"", "C delivered, C released", "C", "", false, "channels are lagged"},
		{"", "C lagged, C released", "C", job.StepReleased, true, ""},
		{"2026-05-03 10:00", "C lagged 2026-05-03 09:00, C released 2026-05-03 11:00", "C", job.StepReleased, true, ""},
		{"2026-05-03 08:00", "C lagged 2026-05-03 09:00, C released 2026-05-03 11:00", "C", "", false, "was not measured since"},
		{"2026-05-03 12:00", "C lagged 2026-05-03 09:00, C released 2026-05-03 11:00", "C", "", false, "was not measured since"},
		{"2026-05-03", "C lagged 2026-05-03 09:00, C released", "C", job.StepReleased, true, ""},
		{"2026-05-03 10:00", "C lagged, C drawn 2026-05-03 09:00, C released", "C", job.StepReleased, true, ""},
		{"2026-05-03 10:00", "C lagged, C drawn 2026-05-03 11:00, C released", "C", job.StepDrawn, false, "was not measured since"},
		{"", "X released", "X", "", false, "there is no bay X"},
	} {
		list := steps(c.steps)
		p := job.Follow(list, stands(c.measured))
		f := p.Fill(c.bay)
		if f.Is != c.is || (f.Release != nil) != c.frozen {
			t.Errorf("%s: it is %q, frozen %v; want %q, %v", c.steps, f.Is, f.Release != nil, c.is, c.frozen)
		}
		refused := p.Refused(list)
		switch {
		case c.refused == "" && len(refused) > 0:
			t.Errorf("%s: refused, %s", c.steps, refused[0].Why)
		case c.refused != "" && (len(refused) != 1 || !strings.Contains(refused[0].Why, c.refused) || refused[0].Do.Empty()):
			t.Errorf("%s: refused %+v, want %q", c.steps, refused, c.refused)
		}
	}
}

// What was refused is not told for ever: a later entry that counts makes up for it.
func TestRefusedEntryIsMadeUpFor(t *testing.T) {
	list := steps("F-left released, F tight, F-left released")
	if r := job.Follow(list, stands("")).Refused(list); len(r) > 0 {
		t.Errorf("still told: %+v", r)
	}
}

func TestBefore(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"2026-05-03 14:10", "2026-05-03 14:11", true},
		{"2026-05-03 14:10", "2026-05-03 14:10", false},
		{"2026-05-03", "2026-05-03 14:10", false}, // some time that day
		{"2026-05-02", "2026-05-03 00:01", true},
		{"", "2026-05-03", false},
		{"2026-05-03", "", false},
		// one instant: 14:10 two hours east is 12:10 at Greenwich
		{"2026-05-03T14:10:00+02:00", "2026-05-03T12:10:00Z", false},
		{"2026-05-03T14:10:00+02:00", "2026-05-03T12:10:01Z", true},
		// without an offset the clock on site is meant
		{"2026-05-03T14:10:00+02:00", "2026-05-03 14:11", true},
		{"2026-05-03T14:10:00.000001Z", "2026-05-03T14:10:00.000002Z", true},
	} {
		if got := job.Before(c.a, c.b); got != c.want {
			t.Errorf("Before(%q, %q) is %v", c.a, c.b, got)
		}
	}
}

func TestStatesInAJob(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"{is: tight}", "one frame or of one bay"},
		{"{frame: A1-front, bay: A1-A2, is: tight}", "one frame or of one bay"},
		{"{frame: A1-front, is: cut}", "a frame is not cut"},
		{"{bay: A1-A2, is: tight}", "a bay is not tight"},
		{"{bay: A1-A2, is: done}", "done"},
		{"{bay: A1-A2, is: released}", "says what it freezes"},
		{"{bay: A1-A2, is: cut, pieces: [{label: A1-A2/c1, length: 1 ft}]}", "belongs to an entry that releases"},
		{"{bay: A1-A2, is: released, pieces: [{label: B/c1, length: 1 ft}]}", "no piece of A1-A2"},
		{"{bay: A1-A2, is: released, pieces: [{label: A1-A2/c1, length: 1 ft}, {label: A1-A2/c1, length: 1 ft}]}", "frozen twice"},
		{"{bay: A1-A2, is: released, pieces: [{label: A1-A2/c1, length: 0 ft}]}", "more than nothing"},
		{"{bay: A1-A2, is: released, width: -1 ft, pieces: [{label: A1-A2/c1, length: 1 ft}]}", "no opening has this width"},
		{"{bay: A1-A2, is: cut, at: yesterday}", "this is no time"},
		{"{bay: A1-A2, is: cut, at: 2026-05-03}", ""},
	} {
		ps := problems(t, sound+"states:\n  - "+c.line+"\n")
		switch {
		case c.want == "" && len(ps) > 0:
			t.Errorf("%s: %v", c.line, ps)
		case c.want != "" && (len(ps) == 0 || !strings.Contains(ps.Error(), c.want)):
			t.Errorf("%s: %v, want %q", c.line, ps, c.want)
		case c.want != "" && ps[0].Pos.Line == 0:
			t.Errorf("%s: no line", c.line)
		}
	}
}
