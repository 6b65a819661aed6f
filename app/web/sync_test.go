package web

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stallwright/app/sawing"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
	"stallwright/engine/job"
)

// note is a clear width read on site, in inches.
func note(id, bay string, inches int) string {
	return fmt.Sprintf(`{"kind":"note","note":{"id":%q,"at":"2026-05-20T10:00:%02dZ","by":"Sam","asked":"width","typed":"%d","width":{"bay":%q,"height":"bottom","is":"%d\""}}}`, id, len(id), inches, bay, inches)
}

// state says how far a frame or a bay has come.
func state(id, at, what string) string {
	return fmt.Sprintf(`{"kind":"note","note":{"id":%q,"at":%q,"by":"Sam","typed":"mark","state":%s}}`, id, at, what)
}

func cutLine(id string) string {
	return fmt.Sprintf(`{"id":%q,"at":"2026-05-21T08:00:00Z","by":"Jo","kind":"cut","cut":{"item":"board","length_nm":4876800000,"good":[],"rest_nm":[]}}`, id)
}

func stepLine(id string, second int, done bool) string {
	return fmt.Sprintf(`{"id":%q,"at":"2026-05-21T08:00:%02dZ","by":"Jo","kind":"step","step":{"step":"frame-1","done":%v}}`, id, second, done)
}

// records hands records in.
func (a *app) records(job string, lines ...string) *reply {
	a.t.Helper()
	list := []json.RawMessage{}
	for _, l := range lines {
		list = append(list, json.RawMessage(l))
	}
	return a.call("POST", "/api/jobs/"+job+"/records", map[string]any{"records": list})
}

// A day without signal on two phones, sent in pieces, twice, in any order and a week
// late: the same plan, and nothing lost.
func TestSyncedInAnyWayIsOneResult(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		src := exampleJob(t, "three-meadows")
		all := []string{
			note("a1", "L3-left", 137), note("b22", "L3-left", 138), // two people measured the same
			note("a333", "L4-right", 138), stepLine("s1", 1, true), stepLine("s2", 2, false), stepLine("s3", 3, true),
			note("gone", "Z9-left", 100), // a bay that the job does not have
			cutLine("c1"),
		}
		var plans, progress []string
		random := rand.New(rand.NewPCG(1, 2))
		for way := range 4 {
			id := fmt.Sprint("farm", way)
			a.make(id, src)
			lines := slices.Clone(all)
			for range way {
				lines = append(lines, all...)
			}
			random.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
			for len(lines) > 0 {
				n := min(len(lines), 1+random.IntN(5))
				a.records(id, lines[:n]...).want(200)
				lines = lines[n:]
			}
			var kept struct{ Records []Kept }
			a.call("GET", "/api/jobs/"+id+"/records", nil).want(200).into(&kept)
			if len(kept.Records) != len(all) {
				t.Errorf("way %d: %d records, want %d", way, len(kept.Records), len(all))
			}
			plans = append(plans, string(a.call("GET", "/api/jobs/"+id+"/plan", nil).want(200).Body))
			progress = append(progress, string(a.call("GET", "/api/jobs/"+id+"/progress", nil).want(200).says(`"done":true`).Body))
		}
		for way := 1; way < len(plans); way++ {
			if plans[way] != plans[0] || progress[way] != progress[0] {
				t.Errorf("way %d gives another result: %s", way, cmp.Diff(progress[0], progress[way]))
			}
		}
		if !strings.Contains(plans[0], "gone") {
			t.Error("the entry that the job has no place for is not told of")
		}
	})
}

// One bad record does not hold up the others, and is told.
func TestBadRecordIsToldAndTheOthersCount(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "three-meadows"))
	var out struct{ Results []Handed }
	a.records("farm", note("a1", "L3-left", 137), `{"kind":"hat"}`, `[]`, `7`, cutLine("c1"), strings.Replace(note("x", "L3-left", 1), `1\"`, `-1\"`, 1)).want(200).into(&out)
	var got []bool
	for _, r := range out.Results {
		got = append(got, r.Refused == "" && r.New)
	}
	if d := cmp.Diff([]bool{true, false, false, false, true, false}, got); d != "" {
		t.Errorf("%+v", out)
	}
	a.records("none", cutLine("c1")).want(404)
	a.call("POST", "/api/jobs/farm/records", map[string]any{"records": make([]int, 1001)}).want(422)
	a.records("farm").want(200)
}

func TestRecordsByThePage(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "three-meadows"))
	for i := range 5 {
		a.records("farm", cutLine(fmt.Sprint("c", i))).want(200)
	}
	var page struct {
		Records []Kept
		More    bool
		Seq     int64
	}
	after, n := int64(0), 0
	for more := true; more; more = page.More {
		a.call("GET", fmt.Sprintf("/api/jobs/farm/records?after=%d&limit=2", after), nil).want(200).into(&page)
		for _, k := range page.Records {
			if k.Seq <= after || k.Account != "this machine" {
				t.Errorf("%+v", k)
			}
			after = k.Seq
			n++
		}
	}
	if n != 5 || page.Seq != 6 {
		t.Errorf("%d records, seq %d", n, page.Seq)
	}
}

// release makes the record that releases a bay, as a phone does: from the plan with
// everything kept so far.
func (a *app) release(id, bay, record, at string) string {
	a.t.Helper()
	ctx := context.Background()
	src, err := a.server.source(ctx, id, 0)
	if err != nil {
		a.t.Fatal(err)
	}
	made, err := a.server.maker.Make(ctx, src)
	if err != nil {
		a.t.Fatal(err)
	}
	i, ok := made.Plan.Layout.Bay(bay)
	if !ok {
		a.t.Fatal("no bay ", bay)
	}
	s, err := made.Plan.Fit.Release(i, "Sam", at)
	if err != nil {
		a.t.Fatal(err)
	}
	e := job.Entry{ID: record, At: at, By: "Sam", Typed: "yes", State: &s}
	line, err := e.Line()
	if err != nil {
		a.t.Fatal(err)
	}
	return `{"kind":"note","note":` + string(line) + `}`
}

// From the tape to the saw: a bay is measured and released on site, its boards come
// on tickets, one is cut right, one wrong, and the rest is planned anew.
func TestFromTapeToSaw(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		a.make("farm", exampleJob(t, "three-meadows"))
		var saw struct{ Materials []sawing.SawMaterial }
		a.records("farm",
			state("s1", "2026-05-20T09:00:00Z", `{"frame":"L3-L4","is":"lagged"}`),
			`{"kind":"note","note":{"id":"w1","at":"2026-05-20T10:00:00Z","by":"Sam","typed":"138","width":{"bay":"L3-L4","height":"bottom","is":"138\""}}}`,
			`{"kind":"note","note":{"id":"w2","at":"2026-05-20T10:01:00Z","by":"Sam","typed":"138","width":{"bay":"L3-L4","height":"middle","is":"138\""}}}`,
			`{"kind":"note","note":{"id":"w3","at":"2026-05-20T10:02:00Z","by":"Sam","typed":"138","width":{"bay":"L3-L4","height":"top","is":"138\""}}}`,
		).want(200)
		a.records("farm", a.release("farm", "L3-L4", "s3", "2026-05-20T10:03:00Z")).want(200).says(`"new":true`)
		find := func() *sawing.SawMaterial {
			a.call("GET", "/api/jobs/farm/saw", nil).want(200).into(&saw)
			for i := range saw.Materials {
				if m := &saw.Materials[i]; m.Item == "board" && !m.Treated {
					return m
				}
			}
			return nil
		}
		m := find()
		if m == nil {
			t.Fatal("no boards to cut, though a bay was released")
		}
		if m.Done != 0 || m.Pieces == 0 || len(m.Tickets) == 0 {
			t.Fatalf("%+v", m)
		}
		first := m.Tickets[0]
		good := []map[string]any{}
		for _, k := range first.Marks {
			good = append(good, map[string]any{"label": k.Labels[0], "length_nm": k.LengthNM})
		}
		board := map[string]any{"id": "b1", "at": "2026-05-22T08:00:00Z", "kind": "cut", "cut": map[string]any{"item": m.Item, "length_nm": first.LengthNM, "from_rack": first.FromRack, "good": good}}
		wrong := map[string]any{"id": "b2", "at": "2026-05-22T08:05:00Z", "kind": "cut", "cut": map[string]any{"item": m.Item, "length_nm": first.LengthNM, "wrong": true}}
		a.call("POST", "/api/jobs/farm/records", map[string]any{"records": []any{wrong, board}}).want(200)
		pieces := m.Pieces
		after := find()
		left := int64(0)
		for _, k := range after.Tickets {
			left += k.Boards * int64(len(k.Marks))
		}
		if after.Done != int64(len(good)) || after.Done+left != pieces || after.Wrong != 1 || len(after.Buy) == 0 {
			t.Errorf("done %d, left %d of %d, %d wrong, to buy %v", after.Done, left, pieces, after.Wrong, after.Buy)
		}
	})
}
