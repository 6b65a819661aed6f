package frame_test

import (
	"errors"
	"strings"
	"testing"

	"stallwright/engine/document"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

const twoStalls = `job: X
units: feet
kit: fernhollow
farm: {name: X}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [12']}
structures:
  - barn-row:
      name: A
      post: 5 1/2 in x 5 1/2 in
      spacing: 12'
      depth: 12'
      rooms: [stall, stall]
  - pen: {name: P, across: 40', section: 12'}
  - free-row: {name: B, width: 12', depth: 12', rooms: [stall]}
`

func read(t *testing.T, src string) (*job.Job, *kit.Kit) {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	file, text, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(file, text)
	if err != nil {
		t.Fatal(err)
	}
	return j, k
}

// Only standing timber takes its measured place; bays between two such posts
// follow, and say why.
func TestBuildAtMovesTimberOnly(t *testing.T) {
	j, k := read(t, twoStalls)
	drawn, err := frame.Build(j, k)
	if err != nil {
		t.Fatal(err)
	}
	moved := map[string]frame.Point{
		"A.a2": {X: 12*measure.Foot + measure.Inch, Y: 12 * measure.Foot},
		"B.a1": {X: measure.Foot}, "P.p1": {X: measure.Foot}, "Z.z9": {},
	}
	l, err := frame.BuildAt(j, k, moved, func(from, to string) *reason.Reason {
		if from == "A.a2" || to == "A.a2" {
			return reason.Given(phrase.Of("why.axes"), nil, phrase.Of("source.readings"))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i := range l.Posts {
		want := drawn.Posts[i].At
		if l.Posts[i].Name == "A.a2" {
			want = moved["A.a2"]
		}
		if l.Posts[i].At != want && l.Posts[i].Kind != frame.Door {
			t.Errorf("%s stands at %v, want %v", l.Posts[i].Name, l.Posts[i].At, want)
		}
	}
	// The back runs from right to left as seen from the front: A1 holds a1–a2.
	for name, by := range map[string]measure.Length{"A1-back": measure.Inch, "A2-back": -measure.Inch} {
		i, _ := l.Bay(name)
		was, _ := drawn.Bay(name)
		if got := l.Bays[i].Clear - drawn.Bays[was].Clear; got != by {
			t.Errorf("%s is %v wider than drawn, want %v", name, got, by)
		}
		if chain := l.Bays[i].Why.Trace(); !strings.Contains(chain, "source.readings") {
			t.Errorf("%s does not say why:\n%s", name, chain)
		}
	}
	if same, err := frame.BuildAt(j, k, nil); err != nil || len(same.Bays) != len(drawn.Bays) || same.Bays[0].Why.Trace() != drawn.Bays[0].Why.Trace() {
		t.Errorf("without places BuildAt is not Build: %v", err)
	}
}

// Names and places in readings that only the layout knows are told with line and
// hint.
func TestReadingsOfWrongPosts(t *testing.T) {
	for _, c := range []struct{ line, says, hint string }{
		{`- {distance: [A.a1, A.a9], is: 12'}`, `there is no post "A.a9"`, "did you mean A.a1?"},
		{`- {distance: [A.a1, B.a1], is: 12'}`, "belong to different structures", "read within one structure"},
		{`- {distance: [A.a1, A.b2], is: 16'}`, "do not look at each other", "diagonal"},
		{`- {diagonal: [A.a1, A.a3], is: 24'}`, "stand in one line", "distance"},
		{`- {distance: [A.a1, A1-front.l], is: 4'}`, "is a door post", "measurements"},
		{`- {distance: [P.p1, P.p2], is: 12', between: faces}`, "from pin to pin", "leave between out"},
		{`- {level: nowhere, from: S, rod: 4'}`, `there is no post or spot "nowhere"`, ""},
		{`- {plumb: A.a9, over: 4'}`, `there is no post "A.a9"`, "did you mean"},
		{`- {straight: [A.a2, A.a1, A.c3]}`, `there is no post "A.c3"`, "did you mean"},
	} {
		wrong(t, twoStalls+"readings:\n  "+c.line+"\n", c.says, c.hint)
	}
	for _, c := range []struct{ text, says, hint string }{
		{"spots:\n  - {name: x, room: A9}\n", `there is no room "A9"`, "A1 A2"},
		{"spots:\n  - {name: x, bay: A1-A9}\n", `there is no bay "A1-A9"`, "did you mean A1-A2?"},
		{"spots:\n  - {name: x, bay: A1-A2, along: 40'}\n", "are only 12' 0\" apart", "left post"},
		{"spots:\n  - {name: A.a1}\n", "a post is called A.a1 already", "a name of its own"},
		{"readings:\n  - {level: A.a1, from: S, rod: 4'}\nfloors:\n  - {post: A.a2, height: 1\"}\n", "has level readings", "leave floors out"},
	} {
		wrong(t, twoStalls+c.text, c.says, c.hint)
	}
	sound := twoStalls + `readings:
  - {distance: [A.a1, A.b2], is: 17', between: axes}
  - {distance: [P.p1, P.p2], is: 12'}
  - {level: A1-front.l, from: S, rod: 4'}
floors:
  - {post: B.a1, height: 1"}
`
	j, k := read(t, sound)
	if _, err := frame.Build(j, k); err != nil {
		t.Errorf("sound readings are refused: %v", err)
	}
}

func wrong(t *testing.T, src, says, hint string) {
	t.Helper()
	j, k := read(t, src)
	_, err := frame.Build(j, k)
	var ps document.Problems
	if !errors.As(err, &ps) {
		t.Errorf("%s: no mistake is told", says)
		return
	}
	for _, p := range ps {
		if strings.Contains(p.Message, says) && strings.Contains(p.Hint, hint) && p.Pos.Line > strings.Count(twoStalls, "\n") {
			return
		}
	}
	t.Errorf("%v\nwant %q with %q, at its line", ps, says, hint)
}
