package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
)

// truthful types what a true tape would show: the expected length where that is
// known, a rod of 1.5 m and posts in plumb.
func truthful(c *crew, q *Question) string {
	mark, show := measure.SixteenthInch, func(l measure.Length) string { return l.String() }
	if c.job.Units == measure.Metric {
		mark, show = measure.Millimetre, func(l measure.Length) string { return fmt.Sprint(int64(l / measure.Millimetre)) }
	}
	switch q.Kind {
	case AskReady, AskRelease:
		return "yes"
	case AskSpots, AskCrossings:
		return "no"
	case AskSmall:
		return "0"
	}
	if q.Known {
		l := q.Expected.Round(mark, measure.Nearest)
		if c.job.Units != measure.Metric {
			return l.In(measure.FeetInches)
		}
		return show(l)
	}
	if strings.HasPrefix(q.ID, "plumb") {
		return map[measure.System]string{measure.Metric: "2100", measure.FeetInches: "7 0"}[c.job.Units]
	}
	return map[measure.System]string{measure.Metric: "1500", measure.FeetInches: "5 0"}[c.job.Units]
}

// A crew that reads truly walks through a whole job to its last question: nothing
// is held back, nothing suspected, every bay that holds boards released. The
// examples with most posts take a minute and are walked where WALK_ALL is set.
func TestWholeWalkOfTheExamples(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		if os.Getenv("WALK_ALL") == "" && name != "harrow-field-pen" && name != "old-dairy-free-form" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			c := begin(t, string(src))
			before := len(c.walk.Plan().Findings)
			asked := 0
			for q := c.walk.Question(); q != nil; q = c.walk.Question() {
				if asked++; asked > 4*len(c.walk.Questions()) {
					t.Fatalf("still asked: %s", q.ID)
				}
				id := q.ID
				c.types(truthful(c, q))
				if all := strings.Join(c.said, " "); strings.Contains(all, "STOP") || strings.Contains(all, "[walk") || strings.Contains(all, "?}") {
					t.Errorf("%s: %s", id, all)
					c.types("skip")
				}
			}
			open, waiting := c.walk.Left()
			t.Logf("%d questions, %d answered, %d open, %d waiting, %d findings before, %d after", len(c.walk.Questions()), asked, open, waiting, before, len(c.walk.Plan().Findings))
			for i := range c.walk.questions {
				if q := &c.walk.questions[i]; q.Status == Open || q.Status == Doubtful || q.Status == Skipped || q.Status == Waiting && q.Watch == "" && q.Kind != AskRelease {
					t.Errorf("%s is %s: %s", q.ID, q.Status, q.Watch)
				}
			}
			for _, f := range c.walk.Plan().Findings {
				if f.Code == finding.ReadingSuspect || f.Code == finding.ReadingsClash || f.Code == finding.PostUnplaced {
					t.Errorf("%s: %s", f.Place, f.Message)
				}
			}
		})
	}
}
