package cut_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

const (
	inch = measure.Inch
	foot = 12 * measure.Inch
)

// job makes a random small job in 1/16 inch.
func job(seed uint64) cut.Problem {
	r := rand.New(rand.NewPCG(seed, 11))
	p := cut.Problem{Saw: cut.Saw{Kerf: inch / 8, Trim: inch * measure.Length(r.IntN(2)) / 2, Keep: 2 * foot}}
	for k := 0; k < 3+r.IntN(6); k++ {
		p.Demands = append(p.Demands, cut.Demand{
			Label: fmt.Sprintf("bay %d", k+1), Group: "pine",
			Length: 2*foot + measure.Length(r.Int64N(9*12*16))*(inch/16),
			Count:  1 + r.Int64N(8), Tolerance: inch * measure.Length(r.IntN(3)),
		})
	}
	for _, f := range []int64{12, 14, 16} {
		p.Stock = append(p.Stock, cut.Stock{Length: measure.Length(f) * foot, Price: f*100 + r.Int64N(200), Available: cut.Unlimited, Group: "pine"})
	}
	for k := r.IntN(4); k > 0; k-- {
		p.Stock = append(p.Stock, cut.Stock{Length: 3*foot + measure.Length(r.IntN(96))*inch, Available: 1, Group: "pine", Square: true})
	}
	return p
}

func solve(t *testing.T, p cut.Problem) cut.Plan {
	t.Helper()
	plan, err := cut.Solve(context.Background(), p, cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p, plan)
	return plan
}

// verify checks a plan from the problem's own words: every demand met exactly,
// no board over-filled, stock as available, cost the sum of prices, bound no
// more than cost, waste adding up.
func verify(t *testing.T, p cut.Problem, plan cut.Plan) {
	t.Helper()
	got := make([]int64, len(p.Demands))
	used := make([]int64, len(p.Stock))
	cost := int64(0)
	for _, q := range plan.Patterns {
		s := p.Stock[q.Stock]
		used[q.Stock] += q.Times
		cost += q.Times * s.Price
		room := s.Length
		if !s.Square {
			room -= 2 * p.Saw.Trim
		}
		first := true
		for _, x := range q.Pieces {
			if p.Demands[x.Demand].Group != s.Group {
				t.Errorf("piece of %q on stock of %q", p.Demands[x.Demand].Group, s.Group)
			}
			got[x.Demand] += q.Times * x.Count
			for c := int64(0); c < x.Count; c++ {
				if !first {
					room -= p.Saw.Kerf
				}
				first = false
				room -= x.Length
			}
		}
		if room < 0 {
			t.Errorf("board over-filled by %v", -room)
		}
		if want := room - min(room, p.Saw.Kerf); q.Offcut+q.Scrap != want {
			t.Errorf("rest %v, want %v", q.Offcut+q.Scrap, want)
		}
	}
	for i, d := range p.Demands {
		if got[i] != d.Count {
			t.Errorf("demand %d: %d pieces, want %d", i, got[i], d.Count)
		}
	}
	for i, s := range p.Stock {
		if s.Available != cut.Unlimited && used[i] > s.Available {
			t.Errorf("stock %d: %d used of %d", i, used[i], s.Available)
		}
	}
	if p.Saw.Credit == 0 && cost != plan.Cost {
		t.Errorf("cost %d, prices add up to %d", plan.Cost, cost)
	}
	if plan.Bound > plan.Cost {
		t.Errorf("bound %d above cost %d", plan.Bound, plan.Cost)
	}
	w := plan.Waste
	if w.Boards != w.Pieces+w.Kerf+w.Trim+w.Offcut+w.Scrap {
		t.Errorf("waste does not add up: %+v", w)
	}
}

func TestPlanHoldsUnderRenamingAndScaling(t *testing.T) {
	for seed := uint64(1); seed <= 12; seed++ {
		p := job(seed)
		a := solve(t, p)
		if !a.Proven {
			t.Fatalf("job %d: not proven", seed)
		}
		q := p
		q.Demands = append([]cut.Demand(nil), p.Demands...)
		for i := range q.Demands {
			j := len(q.Demands) - 1 - i
			q.Demands[i] = p.Demands[j]
			q.Demands[i].Label = fmt.Sprintf("other %d", j)
		}
		if b := solve(t, q); b.Cost != a.Cost {
			t.Errorf("job %d: cost %d after renaming, %d before", seed, b.Cost, a.Cost)
		}
		q = p
		q.Demands = append([]cut.Demand(nil), p.Demands...)
		q.Stock = append([]cut.Stock(nil), p.Stock...)
		for i := range q.Demands {
			q.Demands[i].Length *= 3
		}
		for i := range q.Stock {
			q.Stock[i].Length *= 3
		}
		q.Saw.Kerf, q.Saw.Trim, q.Saw.Keep = 3*p.Saw.Kerf, 3*p.Saw.Trim, 3*p.Saw.Keep
		if b := solve(t, q); b.Cost != a.Cost {
			t.Errorf("job %d: cost %d after scaling, %d before", seed, b.Cost, a.Cost)
		}
	}
}

func TestCostRisesWithPricesAndFallsWithBoards(t *testing.T) {
	for seed := uint64(20); seed <= 30; seed++ {
		p := job(seed)
		a := solve(t, p)
		dear := p
		dear.Stock = append([]cut.Stock(nil), p.Stock...)
		dear.Stock[int(seed)%3].Price += 137
		if b := solve(t, dear); b.Cost < a.Cost {
			t.Errorf("job %d: dearer stock, cost %d from %d", seed, b.Cost, a.Cost)
		}
		more := p
		more.Stock = append(append([]cut.Stock(nil), p.Stock...), cut.Stock{Length: 9 * foot, Available: 2, Group: "pine"})
		if b := solve(t, more); b.Cost > a.Cost {
			t.Errorf("job %d: more boards, cost %d from %d", seed, b.Cost, a.Cost)
		}
	}
}

func TestSamePlanEveryTime(t *testing.T) {
	p := job(40)
	a, b := solve(t, p), solve(t, p)
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Error("two runs differ")
	}
}

// The kerf counts between pieces and after the last one only if something is
// left: three pieces of 31 7/8" and two 1/8" kerfs fill 95 7/8" exactly.
func TestKerfConvention(t *testing.T) {
	p := cut.Problem{
		Demands: []cut.Demand{{Label: "a", Length: 31*inch + 7*inch/8, Count: 3}},
		Stock:   []cut.Stock{{Length: 95*inch + 7*inch/8, Price: 1, Available: cut.Unlimited}},
		Saw:     cut.Saw{Kerf: inch / 8},
	}
	if plan := solve(t, p); plan.Boards != 1 || plan.Waste.Kerf != inch/4 || plan.Waste.Scrap != 0 {
		t.Errorf("%d boards, waste %+v", plan.Boards, plan.Waste)
	}
	p.Stock[0].Length -= inch / 64
	if plan := solve(t, p); plan.Boards != 2 {
		t.Errorf("a 64th short: %d boards", plan.Boards)
	}
	// Trim at both ends.
	p.Stock[0].Length += inch/64 + inch
	p.Saw.Trim = inch / 2
	if plan := solve(t, p); plan.Boards != 1 || plan.Waste.Trim != inch {
		t.Errorf("%d boards, waste %+v", plan.Boards, plan.Waste)
	}
}

func TestInfeasibleNamesThePiece(t *testing.T) {
	p := cut.Problem{
		Demands: []cut.Demand{{Label: "short", Length: foot, Count: 1}, {Label: "long", Length: 17 * foot, Count: 1}},
		Stock:   []cut.Stock{{Length: 16 * foot, Price: 1, Available: cut.Unlimited}},
	}
	_, err := cut.Solve(context.Background(), p, cut.Options{})
	var inf *cut.Infeasible
	if !errors.As(err, &inf) || inf.Label != "long" {
		t.Errorf("%v", err)
	}
	p.Demands[1].Length = 9 * foot
	p.Demands[1].Count = 3
	p.Stock[0].Available = 2
	_, err = cut.Solve(context.Background(), p, cut.Options{})
	if !errors.As(err, &inf) || inf.Label != "long" {
		t.Errorf("%v", err)
	}
}

func TestBadProblemsAreRefused(t *testing.T) {
	good := job(1)
	for name, spoil := range map[string]func(*cut.Problem){
		"zero length":      func(p *cut.Problem) { p.Demands[0].Length = 0 },
		"negative length":  func(p *cut.Problem) { p.Stock[0].Length = -1 },
		"overflow length":  func(p *cut.Problem) { p.Demands[0].Length = 1 << 62 },
		"zero count":       func(p *cut.Problem) { p.Demands[0].Count = 0 },
		"huge count":       func(p *cut.Problem) { p.Demands[0].Count = 1 << 60 },
		"negative price":   func(p *cut.Problem) { p.Stock[0].Price = -5 },
		"duplicate label":  func(p *cut.Problem) { p.Demands[1].Label = p.Demands[0].Label },
		"free unlimited":   func(p *cut.Problem) { p.Stock[0].Price = 0 },
		"negative kerf":    func(p *cut.Problem) { p.Saw.Kerf = -1 },
		"credit too large": func(p *cut.Problem) { p.Saw.Credit, p.Saw.CreditStep = 100000, foot },
	} {
		p := good
		p.Demands = append([]cut.Demand(nil), good.Demands...)
		p.Stock = append([]cut.Stock(nil), good.Stock...)
		spoil(&p)
		var f cut.Faults
		if _, err := cut.Solve(context.Background(), p, cut.Options{}); !errors.As(err, &f) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestStopsWithBestSoFar(t *testing.T) {
	p := job(3)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	plan, err := cut.Solve(ctx, p, cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p, plan)
	if !plan.Stopped || plan.Proven {
		t.Errorf("stopped %v, proven %v", plan.Stopped, plan.Proven)
	}
}

// At equal cost first what is lost counts, then patterns, then boards. By hand:
// of two boards of 10' for pieces of 4', 4', 5' and 5' either 4+5 and 4+5 come out
// (1' left twice, nothing to keep from 2' up), or 5+5 and 4+4 (2' to keep).
func TestEqualCostIsDecidedByWasteThenPatternsThenBoards(t *testing.T) {
	p := cut.Problem{
		Demands: []cut.Demand{{Label: "a", Length: 5 * foot, Count: 2}, {Label: "b", Length: 4 * foot, Count: 2}},
		Stock:   []cut.Stock{{Length: 10 * foot, Price: 500, Available: cut.Unlimited}},
		Saw:     cut.Saw{Keep: 2 * foot},
	}
	if plan := solve(t, p); plan.Waste.Offcut != 2*foot || plan.Waste.Scrap != 0 {
		t.Errorf("kept %v, scrap %v; 2' can be kept", plan.Waste.Offcut, plan.Waste.Scrap)
	}
	// Nothing worth keeping: one pattern twice rather than two patterns.
	p.Saw.Keep = 3 * foot
	if plan := solve(t, p); plan.Distinct != 1 {
		t.Errorf("%d patterns; one does", plan.Distinct)
	}
	// Two boards of 8' cost what one of 16' does.
	p = cut.Problem{
		Demands: []cut.Demand{{Label: "a", Length: 4 * foot, Count: 4}},
		Stock:   []cut.Stock{{Length: 8 * foot, Price: 500, Available: cut.Unlimited}, {Length: 16 * foot, Price: 1000, Available: cut.Unlimited}},
	}
	if plan := solve(t, p); plan.Boards != 1 {
		t.Errorf("%d boards; one does", plan.Boards)
	}
	// A shorter board at the same price loses less.
	p = cut.Problem{
		Demands: []cut.Demand{{Label: "a", Length: 7 * foot, Count: 3}},
		Stock:   []cut.Stock{{Length: 12 * foot, Price: 500, Available: cut.Unlimited}, {Length: 8 * foot, Price: 500, Available: 2}},
	}
	if plan := solve(t, p); plan.Waste.Scrap != 2*foot-0+5*foot {
		t.Errorf("scrap %v, want %v", plan.Waste.Scrap, 7*foot)
	}
}

// Offcuts earn only what the user says, and then count in the cost: by hand, at
// 0.10 a foot from 2' up, 9' out of 12' at 5.00 leaves 3' worth 0.30.
func TestOffcutsEarnWhatTheUserSays(t *testing.T) {
	p := cut.Problem{
		Demands: []cut.Demand{{Label: "a", Length: 9 * foot, Count: 1}},
		Stock:   []cut.Stock{{Length: 12 * foot, Price: 500, Available: cut.Unlimited}},
		Saw:     cut.Saw{Keep: 2 * foot},
	}
	if plan := solve(t, p); plan.Cost != 500 {
		t.Errorf("cost %d without a value for offcuts", plan.Cost)
	}
	p.Saw.Credit, p.Saw.CreditStep = 10, foot
	if plan := solve(t, p); plan.Cost != 470 || !plan.Proven {
		t.Errorf("cost %d, proven %v, want 470", plan.Cost, plan.Proven)
	}
}
