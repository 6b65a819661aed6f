package sawing_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stallwright/app/record"
	"stallwright/app/sawing"
	"stallwright/engine/cut"
	"stallwright/engine/measure"
	"stallwright/engine/takeoff"
)

const mm = measure.Millimetre

// planned is a material with six pieces of 1000 mm and two of 1900 mm, out of boards
// of 4000 mm for 10.00 without kerf or trim. By hand: 6 x 1000 + 2 x 1900 = 9800 mm,
// three boards, and no fewer hold it.
func planned(t testing.TB) takeoff.Cut {
	t.Helper()
	p := cut.Problem{Stock: []cut.Stock{{Length: 4000 * mm, Price: 1000, Available: cut.Unlimited}}, Saw: cut.Saw{Keep: 300 * mm}}
	for i := range 6 {
		p.Demands = append(p.Demands, cut.Demand{Label: fmt.Sprint("A/c", i+1), Length: 1000 * mm, Count: 1})
	}
	for i := range 2 {
		p.Demands = append(p.Demands, cut.Demand{Label: fmt.Sprint("B/c", i+1), Length: 1900 * mm, Count: 1})
	}
	plan, err := cut.Solve(context.Background(), p, cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Boards != 3 {
		t.Fatalf("the first plan takes %d boards", plan.Boards)
	}
	return takeoff.Cut{Item: "board", Name: "boards", Final: true, Problem: p, Plan: plan}
}

func board(id string, rest []int64, labels ...string) record.Record {
	b := &record.CutBoard{Item: "board", LengthNM: int64(4000 * mm), RestNM: rest}
	for _, l := range labels {
		n := 1000 * mm
		if l[0] == 'B' {
			n = 1900 * mm
		}
		b.Good = append(b.Good, record.Piece{Label: l, LengthNM: int64(n)})
	}
	return record.Record{ID: id, At: "2026-05-04T08:00:0" + id[len(id)-1:] + "Z", Kind: record.Cut, Cut: b}
}

// labels are the pieces that tickets still ask for.
func labels(m *sawing.Material) []string {
	var out []string
	for _, t := range m.Tickets {
		for _, k := range t.Marks {
			out = append(out, k.Labels...)
		}
	}
	slices.Sort(out)
	return out
}

func boards(m *sawing.Material) (n int64) {
	for _, t := range m.Tickets {
		n += t.Boards
	}
	return n
}

func one(t testing.TB, cuts []takeoff.Cut, records ...record.Record) *sawing.Material {
	t.Helper()
	all := sawing.Remaining(cuts, records)
	if len(all) != 1 {
		t.Fatalf("%d materials", len(all))
	}
	return &all[0]
}

func TestNothingCutIsThePlan(t *testing.T) {
	m := one(t, []takeoff.Cut{planned(t)})
	if m.Again || m.Done != 0 || m.Pieces != 8 || boards(m) != 3 || len(labels(m)) != 8 {
		t.Errorf("%+v", m)
	}
}

func TestCutPiecesAreNotAskedForAgain(t *testing.T) {
	m := one(t, []takeoff.Cut{planned(t)}, board("r1", nil, "A/c1", "A/c2", "A/c3", "A/c4"))
	if want := []string{"A/c5", "A/c6", "B/c1", "B/c2"}; !slices.Equal(labels(m), want) || m.Done != 4 || len(m.Buy) != 0 || boards(m) != 2 {
		t.Errorf("asks for %v, done %d, buy %v", labels(m), m.Done, m.Buy)
	}
}

// The first of four pieces was cut wrong, 2900 mm are left. By hand: still wanted
// are 6 x 1000 and 2 x 1900 mm. Two whole boards and the rest are 10,900 mm: enough
// by length, but do they come out? 4000 = 1900 + 2 x 1000, twice, leaves two pieces
// of 1000 mm for the rest of 2900 mm. So nothing is bought.
func TestWrongCutUsesItsRestFirst(t *testing.T) {
	bad := board("r1", []int64{int64(2900 * mm)})
	bad.Cut.Wrong = true
	m := one(t, []takeoff.Cut{planned(t)}, bad)
	if len(m.Buy) != 0 || m.Wrong != 1 || len(labels(m)) != 8 || boards(m) != 3 {
		t.Errorf("%+v", m)
	}
	if !slices.ContainsFunc(m.Tickets, func(k sawing.Ticket) bool { return k.Rack && k.Length == 2900*mm && len(k.Marks) == 2 }) {
		t.Errorf("the rest is not used: %+v", m.Tickets)
	}
}

// With nothing left of it, one more board is bought.
func TestRuinedBoardIsBoughtAgain(t *testing.T) {
	bad := board("r1", nil)
	bad.Cut.Wrong = true
	m := one(t, []takeoff.Cut{planned(t)}, bad)
	if d := cmp.Diff([]sawing.Buy{{Length: 4000 * mm, Count: 1}}, m.Buy); d != "" {
		t.Error(d)
	}
}

// A rest that was cut itself is off the rack.
func TestRestIsUsedOnce(t *testing.T) {
	bad := board("r1", []int64{int64(2900 * mm)})
	bad.Cut.Wrong = true
	second := record.Record{ID: "r2", At: "2026-05-04T08:00:02Z", Kind: record.Cut, Cut: &record.CutBoard{
		Item: "board", FromRack: true, LengthNM: int64(2900 * mm), Good: []record.Piece{{Label: "A/c1", LengthNM: int64(1000 * mm)}, {Label: "A/c2", LengthNM: int64(1000 * mm)}}}}
	m := one(t, []takeoff.Cut{planned(t)}, second, bad)
	if boards(m) != 2 || len(m.Buy) != 0 || len(labels(m)) != 6 {
		t.Errorf("%+v", m)
	}
	if slices.ContainsFunc(m.Tickets, func(k sawing.Ticket) bool { return k.Rack }) {
		t.Errorf("the rest is used twice: %+v", m.Tickets)
	}
}

func TestAnotherLengthIsNoPiece(t *testing.T) {
	wrong := board("r1", nil, "A/c1")
	wrong.Cut.Good[0].LengthNM = int64(999 * mm)
	stray := board("r2", nil, "Z/c1")
	m := one(t, []takeoff.Cut{planned(t)}, wrong, stray, board("r3", nil, "A/c2"), board("r4", nil, "A/c2"))
	if m.Done != 1 || len(m.Surplus) != 1 || m.Surplus[0].Record != "r4" {
		t.Errorf("%+v", m)
	}
	want := []sawing.Piece{{Record: "r1", Label: "A/c1", Length: 999 * mm, Wanted: 1000 * mm}, {Record: "r2", Label: "Z/c1", Length: 1000 * mm}}
	if d := cmp.Diff(want, m.Misfits); d != "" {
		t.Error(d)
	}
}

func TestAllCut(t *testing.T) {
	m := one(t, []takeoff.Cut{planned(t)}, board("r1", nil, "A/c1", "A/c2", "A/c3", "A/c4"), board("r2", nil, "A/c5", "A/c6", "B/c1"), board("r3", nil, "B/c2"))
	if m.Done != 8 || len(m.Tickets) != 0 || m.Shortage != "" {
		t.Errorf("%+v", m)
	}
}

// What was cut of a material the plan no longer holds is still told of.
func TestMaterialOutOfPlan(t *testing.T) {
	all := sawing.Remaining(nil, []record.Record{board("r1", nil, "A/c1")})
	if len(all) != 1 || len(all[0].Misfits) != 1 || all[0].Boards != 1 {
		t.Errorf("%+v", all)
	}
	v := planned(t)
	v.Final = false
	if all := sawing.Remaining([]takeoff.Cut{v}, nil); len(all) != 0 {
		t.Errorf("what is only drawn has tickets: %+v", all)
	}
}

// Whatever is cut, right or wrong, on whichever phone: done and asked for are the
// pieces wanted, each once, and the order of the records changes nothing.
func TestPiecesAddUp(t *testing.T) {
	v := planned(t)
	var names []string
	for _, d := range v.Problem.Demands {
		names = append(names, d.Label)
	}
	rapid.Check(t, func(t *rapid.T) {
		var records []record.Record
		for i := range rapid.IntRange(0, 5).Draw(t, "boards") {
			left, length := 4000*mm, int64(0)
			r := board(fmt.Sprint("r", i), nil)
			for _, l := range rapid.SliceOfN(rapid.SampledFrom(names), 0, 4).Draw(t, "labels") {
				length = int64(1000 * mm)
				if l[0] == 'B' {
					length = int64(1900 * mm)
				}
				if left >= measure.Length(length) {
					left -= measure.Length(length)
					r.Cut.Good = append(r.Cut.Good, record.Piece{Label: l, LengthNM: length})
				}
			}
			if left > 0 && rapid.Bool().Draw(t, "kept") {
				r.Cut.RestNM = []int64{int64(left)}
			}
			records = append(records, r)
		}
		all := sawing.Remaining([]takeoff.Cut{v}, records)
		m := &all[0]
		if m.Shortage != "" {
			t.Fatal(m.Shortage)
		}
		if int64(len(labels(m)))+m.Done != m.Pieces {
			t.Fatalf("%d done and %d asked for of %d", m.Done, len(labels(m)), m.Pieces)
		}
		slices.Reverse(records)
		if d := cmp.Diff(all, sawing.Remaining([]takeoff.Cut{v}, records)); d != "" {
			t.Fatal(d)
		}
	})
}
