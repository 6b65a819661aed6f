package job_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// readingsOf is the sound job with readings under it.
func readingsOf(lines string) string { return sound + lines }

func TestReadingsRead(t *testing.T) {
	j, err := job.Read("job.yaml", []byte(readingsOf(`tape: {fixed: 1/32", per: 10000}
rod: 2 mm
floor: {base: 4", mats: 3/4"}
spots:
  - {name: hump, room: A1}
  - {name: sill, bay: A1-A2, along: 4'}
  - {name: doorstep, height: 100'}
readings:
  - {distance: [A.a1, A.a2], is: 11' 6 1/2", by: Sam, at: 2026-05-03 14:10, note: hooked low}
  - {distance: [A.a1, A.a3], is: 7.2 m, between: same, height: 3'}
  - {diagonal: [A.a1, A.b2], is: 16' 2 7/8"}
  - {square: [A.a1, A.a3, A.b1], off: -1/4"}
  - {straight: [A.a2, A.a1, A.a3]}
  - {offset: [A.a2, A.a1, A.a3], is: 3/8", side: right}
  - {level: A.a1, from: S1, rod: 4' 3 1/2"}
  - {level: hump, from: S1, rod: -0.25 m}
  - {plumb: A.a1, over: 7', along: 1/4", across: -1/8", face: front}
`)))
	if err != nil {
		t.Fatal(err)
	}
	kinds := []job.ReadingKind{
		job.ReadDistance, job.ReadDistance, job.ReadDiagonal, job.ReadSquare, job.ReadStraight, job.ReadOffset, job.ReadLevel, job.ReadLevel, job.ReadPlumb,
	}
	for i, want := range kinds {
		if got := j.Readings[i].Kind(); got != want {
			t.Errorf("reading %d is a %s, want %s", i, got, want)
		}
	}
	if r := j.Readings[0]; r.Is != 11*measure.Foot+6*measure.Inch+measure.Inch/2 || r.Touched() != job.BetweenFaces || !strings.HasPrefix(r.Source(), "measured by Sam at 2026-05-03 14:10 (job.yaml:") {
		t.Errorf("the first reading is %v %s, %s", r.Is, r.Touched(), r.Source())
	}
	if r := j.Readings[2]; r.Touched() != job.BetweenCorners || strings.Join(r.Posts(), " ") != "A.a1 A.b2" {
		t.Errorf("the diagonal runs %s %v", r.Touched(), r.Posts())
	}
	if got := j.Floor.Thickness(); got != 4*measure.Inch+3*measure.Inch/4 {
		t.Errorf("base and mats are %v", got)
	}
}

// Every mistake is told at its line, with what would be right.
func TestReadingMistakes(t *testing.T) {
	for _, c := range []struct{ line, says, hint string }{
		{`- {distance: [A.a1], is: 12'}`, "this list has 1 item", "write at least 2 items"},
		{`- {distance: [A.a1, A.a1], is: 12'}`, "names A.a1 twice", "which post was the other?"},
		{`- {distance: [A.a1, A.a2]}`, "a reading of distance states is", `{distance: [A.a1, A.a2], is: 11' 6 1/2"}`},
		{`- {distance: [A.a1, A.a2], is: 12}`, "", "unit"},
		{`- {distance: [A.a1, A.a2], is: 0'}`, "is must be more than nothing", "write it as measured"},
		{`- {distance: [A.a1, A.a2], is: 12', diagonal: [A.a1, A.b2]}`, "a reading is one thing; 2 are given here", "start each with its own dash"},
		{`- {by: Sam}`, "a reading is one thing; 0 are given here", "start each with its own dash"},
		{`- {distance: [A.a1, A.a2], is: 12', betwen: axes}`, "betwen", "between"},
		{`- {distance: [A.a1, A.a2], is: 12', between: corners}`, "a distance runs between faces", "diagonal"},
		{`- {diagonal: [A.a1, A.b2], is: 16', between: faces}`, "a diagonal runs between corners", "corners, axes or outer"},
		{`- {diagonal: [A.a1, A.b2], is: 16', rod: 4'}`, "rod does not belong to a reading of diagonal", "leave it out"},
		{`- {level: A.a1, rod: 4'}`, "a reading of level states from", "{level: A.a1, from: S1, rod:"},
		{`- {level: A.a1, from: S1, rod: 40'}`, "no rod is over", "check the unit"},
		{`- {level: A.a1, from: " ", rod: 4'}`, "the set-up has no name", "S1 for the first"},
		{`- {plumb: A.a1, over: 7', along: 2'}`, "a post that leans this far does not stand", "check the unit and the sign"},
		{`- {plumb: A.a1, along: 1/4"}`, "a reading of plumb states over", "{plumb: A.a1, over: 7'"},
		{`- {square: [A.a1, A.a3, A.b1], off: 12'}`, "a post this far off belongs to another line", "check the unit"},
		{`- {offset: [A.a2, A.a1, A.a3], is: 12'}`, "a post this far from the string belongs to another line", "check the unit"},
		{`- {offset: [A.a2, A.a1, A.a3], is: 1", side: south}`, "south", "left"},
		{`- {distance: [A.a1, A.a2], is: 12', at: last week}`, "this is no time", "write 2026-05-03"},
		{`- {distance: [A.a1, A.a2], is: 12', height: 100'}`, "no tape is held at this height", "above the ground"},
	} {
		src := readingsOf("readings:\n  " + c.line + "\n")
		told(t, src, strings.Count(src, "\n"), c.line, c.says, c.hint)
	}
	for _, c := range []struct{ text, says, hint string }{
		{"spots:\n  - {name: x, room: A1, bay: A1-A2}\n", "a spot lies in a room or under a bay, not both", "keep bay"},
		{"spots:\n  - {name: x, along: 3'}\n", "no bay is named", "add bay"},
		{"spots:\n  - {name: A}\n", "is given twice", "give each its own"},
		{"spots:\n  - {name: x, height: 900 km}\n", "", ""},
		{"floor: {base: 4'}\n", "no base is this thick", "such as 4"},
		{"tape: {fixed: 2\"}\n", "a reading is good to something", "1/16"},
		{"tape: {per: 5}\n", "", "100"},
		{"rod: 0 mm\n", "a reading is good to something", "1/16"},
	} {
		src := readingsOf(c.text)
		told(t, src, strings.Count(src, "\n"), c.text, c.says, c.hint)
	}
}

func told(t *testing.T, src string, line int, what, says, hint string) {
	t.Helper()
	ps := problems(t, src)
	if len(ps) == 0 {
		t.Errorf("%s: no mistake is told", what)
		return
	}
	for _, p := range ps {
		if p.Pos.Line == line && strings.Contains(p.Message+p.Text, says) && strings.Contains(p.Hint+p.Message, hint) {
			return
		}
	}
	t.Errorf("%s:\n%v\nwant at line %d %q with %q", what, fmt.Sprint(ps), line, says, hint)
}
