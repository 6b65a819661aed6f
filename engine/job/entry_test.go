package job_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// sameEntry compares entries, where they stand in a text left out.
var sameEntry = cmp.Comparer(func(a, b document.Where) bool { return true })

// drawEntry draws an entry of any kind.
func drawEntry(t *rapid.T) job.Entry {
	e := job.Entry{
		ID:    rapid.StringMatching(`[a-z0-9]{1,6}`).Draw(t, "id"),
		At:    time.Date(2026, 5, 3, 14, 0, rapid.IntRange(0, 30).Draw(t, "second"), 0, time.FixedZone("", 3600*rapid.IntRange(-3, 3).Draw(t, "offset"))).Format(time.RFC3339),
		By:    rapid.StringN(0, 10, -1).Draw(t, "by"),
		Typed: rapid.String().Draw(t, "typed"),
	}
	length := measure.Length(rapid.Int64Range(1, int64(20*measure.Metre)).Draw(t, "length"))
	bay := rapid.SampledFrom([]string{"A1-A2", "A1-front-left"}).Draw(t, "bay")
	switch rapid.IntRange(0, 8).Draw(t, "kind") {
	case 0:
		e.Width = &job.WidthEntry{Bay: bay, Height: rapid.SampledFrom([]job.Height{job.AtBottom, job.AtMiddle, job.AtTop}).Draw(t, "height"), Is: length}
	case 1:
		e.Plumb = &job.PlumbEntry{Post: "A.a1", Part: rapid.SampledFrom([]job.PlumbPart{job.PlumbOver, job.PlumbAlong, job.PlumbAcross}).Draw(t, "part"), Is: length}
	case 2:
		e.Reading = &job.Reading{Diagonal: []string{"A.a1", "A.b2"}, Is: length, Between: job.BetweenOuter}
	case 3:
		e.Reading = &job.Reading{Level: "A.a1", From: "S1", Rod: length - 10*measure.Metre}
	case 4:
		e.State = &job.State{Bay: bay, Is: job.StepReleased, Width: &job.Width{Bottom: length}, Pieces: []job.Frozen{{Label: bay + "/c1", Length: length, Treated: true}, {Label: bay + "/pack", Length: length, Covers: measure.Inch}}}
	case 6:
		e.Width = &job.WidthEntry{Bay: "A1-front", Height: job.AtTop, Is: length, From: job.FromFaces}
	case 7:
		e.Spot = &job.Spot{Name: rapid.SampledFrom([]string{"A1.high.1", "A1.high.2"}).Draw(t, "spot"), Room: "A1"}
	case 8:
		above := length / 10
		e.Crosses = &job.Obstruction{Bay: bay, What: "pipe", Left: length / 4, Width: measure.Inch, AboveFloor: &above, Height: measure.Inch}
	case 5:
		e.Skip = rapid.Bool().Draw(t, "skip")
		e.Note = rapid.String().Draw(t, "note")
	}
	return e
}

// signed is an entry as any reader of its line sees it.
func signed(t interface{ Fatal(...any) }, e job.Entry) job.Entry {
	line, err := e.Line()
	if err != nil {
		t.Fatal(err)
	}
	out, err := job.ReadEntry(line)
	if err != nil {
		t.Fatal(fmt.Errorf("%s: %w", line, err))
	}
	return out
}

// A line reads back as what was written, word for word; read and written again it
// is the same line.
func TestEntryRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawEntry(t)
		line, err := e.Line()
		if err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(string(line), "\n\r") {
			t.Fatalf("more than one line: %q", line)
		}
		got := signed(t, e)
		if got.Typed != strings.ToValidUTF8(e.Typed, "\ufffd") {
			t.Fatalf("typed %q, read %q", e.Typed, got.Typed)
		}
		if e.Width != nil && got.Width.Is != e.Width.Is || e.Plumb != nil && got.Plumb.Is != e.Plumb.Is {
			t.Fatalf("%s reads as another length", line)
		}
		if e.Reading != nil && (got.Reading.Is != e.Reading.Is || got.Reading.Rod != e.Reading.Rod || got.Reading.By != e.By) {
			t.Fatalf("%s reads as another reading", line)
		}
		if e.State != nil && (got.State.Pieces[1].Covers != e.State.Pieces[1].Covers || got.State.Width.Bottom != e.State.Width.Bottom || !got.State.Pieces[0].Treated) {
			t.Fatalf("%s reads as another state", line)
		}
		again, err := got.Line()
		if err != nil || string(again) != signedLine(t, got) {
			t.Fatalf("written again: %s, %v", again, err)
		}
	})
}

func signedLine(t interface{ Fatal(...any) }, e job.Entry) string {
	out := signed(t, e)
	line, err := out.Line()
	if err != nil {
		t.Fatal(err)
	}
	return string(line)
}

// A level reading of nothing is a reading: its key is kept.
func TestRodOfNothing(t *testing.T) {
	e := job.Entry{ID: "a", At: "2026-05-03T14:10:00Z", Reading: &job.Reading{Level: "A.a1", From: "S1"}}
	if got := signed(t, e); got.Reading == nil || got.Reading.Level != "A.a1" {
		t.Errorf("%+v", got)
	}
}

func TestEntryRefused(t *testing.T) {
	const head = `{"id":"a","at":"2026-05-03T14:10:00Z","typed":"x"`
	for _, c := range []struct{ line, want string }{
		{``, "no entry"},
		{`{}`, "id"},
		{`[]`, "no entry"},
		{head + `}{}`, "follows"},
		{head + `,"more":1}`, "more"},
		{head, "no entry"},
		{`{"id":"a","at":"noon","typed":"x"}`, "when"},
		{`{"id":"a b","at":"2026-05-03T14:10:00Z","typed":"x"}`, "id"},
		{head + `,"width":{"bay":"A1-A2","height":"bottom"}}`, "is"},
		{head + `,"width":{"bay":"A1-A2","height":"knee","is":"1 ft"}}`, "knee"},
		{head + `,"width":{"bay":"A1-A2","height":"top","is":"0 ft"}}`, "more than nothing"},
		{head + `,"width":{"bay":"A1-A2","height":"top","is":12}}`, ""},
		{head + `,"width":{"bay":"A1-A2","height":"top","is":"1 ft","by":"x"}}`, "by"},
		{head + `,"reading":{"distance":["A.a1"],"is":"1 ft"}}`, "too few"},
		{head + `,"reading":{"distance":["A.a1","A.a1"],"is":"1 ft"}}`, "twice"},
		{head + `,"state":{"bay":"A1-A2","is":"tight"}}`, "not tight"},
		{head + `,"state":{"bay":"A1-A2","is":"cut"},"width":{"bay":"A1-A2","height":"top","is":"1 ft"}}`, "one"},
	} {
		if _, err := job.ReadEntry([]byte(c.line)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.line, err, c.want)
		}
	}
}

// The order entries come in, and how often each is there, change nothing.
func TestOrderOfEntriesDoesNotMatter(t *testing.T) {
	j, err := job.Read("job.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		var entries []job.Entry
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			entries = append(entries, signed(t, drawEntry(t)))
		}
		shuffled := rapid.Permutation(append(entries, entries[:len(entries)/2]...)).Draw(t, "shuffled")
		a, clashA := job.InOrder(entries)
		b, clashB := job.InOrder(shuffled)
		if d := cmp.Diff(a, b, sameEntry); d != "" || !cmp.Equal(clashA, clashB) {
			t.Fatalf("another order: %s\n%v %v", d, clashA, clashB)
		}
		x, y := job.Apply(j, entries), job.Apply(j, shuffled)
		if d := cmp.Diff(x.Measurements, y.Measurements, sameEntry); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(x.States, y.States, sameEntry); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(x.Readings, y.Readings, sameEntry); d != "" {
			t.Fatal(d)
		}
		if len(j.Measurements) != 1 || len(j.States) != 0 || len(j.Readings) != 0 {
			t.Fatal("the job itself has changed")
		}
	})
}

func TestClashingEntries(t *testing.T) {
	a := signed(t, job.Entry{ID: "a", At: "2026-05-03T14:10:00Z", Typed: "1"})
	b := signed(t, job.Entry{ID: "a", At: "2026-05-03T14:10:00Z", Typed: "2"})
	for _, list := range [][]job.Entry{{a, b}, {b, a}} {
		got, clash := job.InOrder(list)
		if len(got) != 1 || got[0].Typed != "1" || len(clash) != 1 {
			t.Errorf("%v, %v", got, clash)
		}
	}
}

// widths writes entries "A1-A2 bottom 138" one minute after the other; "A1-A2
// lagged" and "A1-A2 drawn" are states.
func widths(t *testing.T, text string) []job.Entry {
	t.Helper()
	var out []job.Entry
	for i, part := range strings.Split(text, ", ") {
		words := strings.Fields(part)
		e := job.Entry{ID: fmt.Sprintf("e%d", i), At: time.Date(2026, 5, 4, 8, i, 0, 0, time.UTC).Format(time.RFC3339), By: "Sam"}
		switch words[1] {
		case "lagged", "tight":
			e.State = &job.State{Frame: words[0], Is: job.Step(words[1])}
		case "drawn":
			e.State = &job.State{Bay: words[0], Is: job.StepDrawn}
		default:
			l, err := measure.ParseLength(words[2], measure.InchUnit)
			if err != nil {
				t.Fatal(err)
			}
			e.Width = &job.WidthEntry{Bay: words[0], Height: job.Height(words[1]), Is: l}
		}
		out = append(out, signed(t, e))
	}
	return out
}

// One height after another makes one measurement; a height read again starts a new
// one that keeps the others; what was read before a frame was tight is not mixed
// with what was read after. In job sound, A1-A2 was measured as 138 in on 3 May.
func TestHeightsMakeMeasurements(t *testing.T) {
	for _, c := range []struct{ entries, want string }{
		{"A1-A2 bottom 137", "138/0/0 137/0/0"},
		{"A1-A2 bottom 137, A1-A2 middle 136, A1-A2 top 135", "138/0/0 137/136/135"},
		{"A1-A2 middle 136", "138/0/0 138/136/0"},
		{"A1-A2 bottom 137, A1-A2 top 135, A1-A2 bottom 134", "138/0/0 137/0/135 134/0/135"},
		{"A1-A2 lagged, A1-A2 middle 136", "138/0/0"}, // its bottom is not read yet
		{"A1-A2 lagged, A1-A2 middle 136, A1-A2 bottom 137", "138/0/0 137/136/0"},
		{"A1-A2 bottom 137, A1-A2 top 135, A1-A2 lagged, A1-A2 bottom 134", "138/0/0 137/0/135 134/0/0"},
		{"A1-A2 bottom 137, A1-A2 drawn, A1-A2 bottom 134", "138/0/0 137/0/0 134/0/0"},
		{"A1-front-left bottom 40, A1-front tight, A1-front-left top 41, A1-front-left bottom 42", "138/0/0 40/0/0 42/0/41"},
		{"A1-front-left bottom 40, A1-front-left top 41, A2-front tight, A1-front-left bottom 42", "138/0/0 40/0/41 42/0/41"},
	} {
		j, err := job.Read("job.yaml", []byte(sound))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range job.Apply(j, widths(t, c.entries)).Measurements {
			got = append(got, fmt.Sprintf("%d/%d/%d", m.Width.Bottom/measure.Inch, m.Width.Middle/measure.Inch, m.Width.Top/measure.Inch))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: %s, want %s", c.entries, s, c.want)
		}
	}
}

// A measurement the job itself dates later than an entry stays the latest.
func TestEntriesGoInByTime(t *testing.T) {
	j, err := job.Read("job.yaml", []byte(strings.Replace(sound, "2026-05-03 14:10", "2026-05-09 14:10", 1)))
	if err != nil {
		t.Fatal(err)
	}
	list := job.Apply(j, widths(t, "A1-A2 bottom 137")).Measurements
	if n := len(list); n != 2 || list[1].Width.Bottom != 138*measure.Inch {
		t.Errorf("%+v", list)
	}
	if src := list[0].Source(); src != "measured by Sam at 2026-05-04 08:00 (notebook entry e0)" {
		t.Errorf("source %q", src)
	}
}

func TestPlumbIsAReadingOnceItsHeightIsKnown(t *testing.T) {
	j, err := job.Read("job.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	part := func(i int, p job.PlumbPart, l measure.Length) job.Entry {
		return signed(t, job.Entry{ID: fmt.Sprintf("e%d", i), At: time.Date(2026, 5, 4, 8, i, 0, 0, time.UTC).Format(time.RFC3339), Plumb: &job.PlumbEntry{Post: "A.a1", Part: p, Is: l}})
	}
	entries := []job.Entry{part(1, job.PlumbAlong, measure.Inch/4), part(2, job.PlumbAcross, 0)}
	if n := len(job.Apply(j, entries).Readings); n != 0 {
		t.Errorf("%d readings without a height", n)
	}
	got := job.Apply(j, append(entries, part(3, job.PlumbOver, 7*measure.Foot))).Readings
	if len(got) != 1 || got[0].Plumb != "A.a1" || got[0].Along != measure.Inch/4 || got[0].Across != 0 || got[0].Over != 7*measure.Foot {
		t.Errorf("%+v", got)
	}
}

func FuzzReadEntry(f *testing.F) {
	for _, s := range []string{
		`{"id":"a","at":"2026-05-03T14:10:00Z","typed":"11 6","width":{"bay":"A1-A2","height":"bottom","is":"11' 6\""}}`,
		`{"id":"a","at":"2026-05-03T14:10:00+02:00","typed":"yes","state":{"bay":"B","is":"released","pieces":[{"label":"B/c1","length":"1 ft"}]}}`,
		`{"id":"a","at":"2026-05-03T14:10:00Z","typed":"4","reading":{"level":"A.a1","from":"S1","rod":"4 ft"}}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		e, err := job.ReadEntry(line)
		if err != nil {
			return
		}
		if _, err := e.Line(); err != nil {
			t.Errorf("read but not written: %v", err)
		}
	})
}

// Once the rod stood at a post, the floors that a job states of that structure no
// longer count: they start from another line. Those of other structures stay.
func TestRodBeatsStatedFloors(t *testing.T) {
	j := &job.Job{Floors: []job.Floor{{Post: "A.a1"}, {Post: "A.b9", Height: measure.Inch}, {Post: "B.a1"}}}
	e := signed(t, job.Entry{ID: "e1", At: "2026-05-03T14:00:00Z", Typed: "5 0", Reading: &job.Reading{Level: "A.a1", From: "S1", Rod: 5 * measure.Foot}})
	out := job.Apply(j, []job.Entry{e})
	if len(out.Floors) != 1 || out.Floors[0].Post != "B.a1" || len(j.Floors) != 3 {
		t.Errorf("left: %+v; the job itself: %+v", out.Floors, j.Floors)
	}
}
