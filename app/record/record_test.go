package record

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const (
	noteLine = `{"kind":"note","note":{"id":"a1","at":"2026-05-03T14:10:00+02:00","by":"Sam","asked":"width A1-A2 bottom","typed":"11 6 1/8","width":{"bay":"A1-A2","height":"bottom","is":"11' 6 1/8\""}}}`
	cutLine  = `{"id":"c1","at":"2026-05-04T08:00:00Z","by":"Jo","kind":"cut","cut":{"item":"board","length_nm":4876800000,"good":[{"label":"A1-A2/c1","length_nm":2000000000}],"rest_nm":[1000000000]}}`
)

func read(t *testing.T, s string) Record {
	t.Helper()
	r, err := Read([]byte(s))
	if err != nil {
		t.Fatalf("%s: %v", s, err)
	}
	return r
}

func TestNoteTakesItsStampFromTheNotebooksLine(t *testing.T) {
	r := read(t, noteLine)
	if r.ID != "a1" || r.By != "Sam" || r.At != "2026-05-03T14:10:00+02:00" {
		t.Errorf("%+v", r)
	}
	e := Entries([]Record{r, read(t, cutLine)})
	if len(e) != 1 || e[0].Width == nil || e[0].Typed != "11 6 1/8" {
		t.Errorf("%+v", e)
	}
}

func TestWrittenIsReadAgain(t *testing.T) {
	for _, s := range []string{noteLine, cutLine} {
		r := read(t, s)
		line, err := r.Line()
		if err != nil {
			t.Fatal(err)
		}
		again := read(t, string(line))
		if d := cmp.Diff(r, again); d != "" {
			t.Error(d)
		}
	}
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct{ line, want string }{
		"nothing":            {``, "no record"},
		"two":                {cutLine + cutLine, "something follows"},
		"unknown key":        {strings.Replace(cutLine, `"by"`, `"bye"`, 1), "bye"},
		"no id":              {strings.Replace(cutLine, `"c1"`, `""`, 1), "id of its own"},
		"an id with blanks":  {strings.Replace(cutLine, `"c1"`, `"c 1"`, 1), "id of its own"},
		"no time":            {strings.Replace(cutLine, `2026-05-04T08:00:00Z`, `yesterday`, 1), "should be like"},
		"unknown kind":       {strings.Replace(cutLine, `"kind":"cut"`, `"kind":"saw"`, 1), "nothing else"},
		"part of other kind": {strings.Replace(cutLine, `"kind":"cut"`, `"kind":"step"`, 1), "nothing else"},
		"longer than board":  {strings.Replace(cutLine, `[1000000000]`, `[4000000000]`, 1), "more than the board"},
		"negative rest":      {strings.Replace(cutLine, `[1000000000]`, `[-1]`, 1), "not left"},
		"overflowing sum":    {strings.Replace(cutLine, `4876800000`, `9223372036854775807`, 1), "no board is"},
		"stamps disagree":    {strings.Replace(noteLine, `"kind"`, `"id":"b","kind"`, 1), "do not agree"},
		"note out of range":  {strings.Replace(noteLine, `11' 6 1/8\"`, `-3 mm`, 1), "more than nothing"},
		"unseen character":   {strings.Replace(cutLine, `"Jo"`, `"J\u202eo"`, 1), "cannot be seen"},
		"NUL":                {strings.Replace(cutLine, `"Jo"`, `"J\u0000o"`, 1), "cannot be seen"},
		"voids itself":       {`{"id":"v","at":"2026-05-04T08:00:00Z","kind":"void","void":{"record":"v"}}`, "itself"},
		"empty problem":      {`{"id":"v","at":"2026-05-04T08:00:00Z","kind":"problem","problem":{"text":" "}}`, "needs a text"},
		"too long":           {`{"id":"v","at":"2026-05-04T08:00:00Z","kind":"problem","problem":{"text":"` + strings.Repeat("x", 5000) + `"}}`, "longer than"},
	} {
		if _, err := Read([]byte(c.line)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want something with %q", name, err, c.want)
		}
	}
}

func tick(id, at, step string, done bool) Record {
	return Record{ID: id, At: at, Kind: Step, Step: &Tick{Step: step, Done: done}}
}

// What is taken back does not count, also when the taking back arrives first.
func TestTakenBack(t *testing.T) {
	one := tick("a", "2026-05-04T08:00:00Z", "s1", true)
	back := Record{ID: "b", At: "2026-05-04T07:00:00Z", Kind: Void, Void: &Voided{Record: "a"}}
	for _, list := range [][]Record{{one, back}, {back, one}} {
		if p := ProgressOf(list); len(p.Steps) != 0 {
			t.Errorf("%+v", p)
		}
	}
	// A reading of the tape is history and put right by a new one, never taken back.
	n := read(t, noteLine)
	if left := InOrder([]Record{n, {ID: "b", At: n.At, Kind: Void, Void: &Voided{Record: n.ID}}}); len(left) != 1 {
		t.Errorf("%+v", left)
	}
}

func TestLatestTickCounts(t *testing.T) {
	p := ProgressOf([]Record{
		tick("b", "2026-05-04T09:00:00Z", "s1", false),
		tick("a", "2026-05-04T10:00:00+02:00", "s1", true), // 08:00 in UTC: earlier
		tick("c", "2026-05-04T09:30:00Z", "s2", true),
	})
	if len(p.Steps) != 2 || p.Steps[0].Done || !p.Steps[1].Done {
		t.Errorf("%+v", p)
	}
}

func TestProblemIsSolvedWhereItWas(t *testing.T) {
	at := "2026-05-04T09:00:00Z"
	p := ProgressOf([]Record{
		{ID: "a", At: at, Kind: Problem, Problem: &Trouble{Place: "A1", Text: "post leans"}},
		{ID: "b", At: at, Kind: Problem, Problem: &Trouble{Place: "A2", Text: "bolt missing"}},
		{ID: "c", At: at, Kind: Problem, Problem: &Trouble{Place: "A1", Solved: true}},
	})
	if len(p.Problems) != 2 || !p.Problems[0].Solved || p.Problems[1].Solved {
		t.Errorf("%+v", p)
	}
}

// Twice, out of order, from several phones: one result.
func TestAnyOrderGivesOneResult(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []Record
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			id := fmt.Sprintf("r%d", rapid.IntRange(0, 6).Draw(t, "id"))
			at := fmt.Sprintf("2026-05-04T08:%02d:00Z", rapid.IntRange(0, 3).Draw(t, "minute"))
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				all = append(all, Record{ID: id, At: at, Kind: Void, Void: &Voided{Record: "r9"}})
			case 1:
				all = append(all, Record{ID: id, At: at, Kind: Problem, Problem: &Trouble{Place: "A", Text: id}})
			default:
				all = append(all, tick(id, at, rapid.SampledFrom([]string{"s1", "s2"}).Draw(t, "step"), rapid.Bool().Draw(t, "done")))
			}
		}
		again := rapid.Permutation(append(slices.Clone(all), rapid.SliceOf(rapid.SampledFrom(all)).Draw(t, "repeated")...)).Draw(t, "order")
		if d := cmp.Diff(InOrder(all), InOrder(again)); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(ProgressOf(all), ProgressOf(again)); d != "" {
			t.Fatal(d)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(noteLine))
	f.Add([]byte(cutLine))
	f.Fuzz(func(t *testing.T, line []byte) {
		r, err := Read(line)
		if err != nil {
			return
		}
		out, err := r.Line()
		if err != nil || !json.Valid(out) {
			t.Fatal(err)
		}
		if _, err := Read(out); err != nil {
			t.Fatalf("%s is written as %s, which is refused: %v", line, out, err)
		}
	})
}
