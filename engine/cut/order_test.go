package cut_test

import (
	"context"
	"fmt"
	"math/bits"
	"slices"
	"testing"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

// survives tries every outcome in which at most gamma openings turn out longer,
// each with the boards ordered and those paid for already, and nothing else.
func survives(t *testing.T, p cut.Problem, o cut.Order, gamma int) {
	t.Helper()
	var names []string
	for _, d := range p.Demands {
		if !slices.Contains(names, d.Opening) {
			names = append(names, d.Opening)
		}
	}
	for set := 0; set < 1<<len(names); set++ {
		if bits.OnesCount(uint(set)) > gamma {
			continue
		}
		q := p
		q.Stock = append([]cut.Stock(nil), p.Stock...)
		for i := range q.Stock {
			if q.Stock[i].Price > 0 {
				q.Stock[i].Available = 0
			}
		}
		for _, u := range o.Boards {
			q.Stock[u.Stock].Available = u.Count
		}
		q.Demands = append([]cut.Demand(nil), p.Demands...)
		for i := range q.Demands {
			if d := &q.Demands[i]; set>>slices.Index(names, d.Opening)&1 == 1 {
				d.Length += d.Tolerance
			}
		}
		if _, err := cut.Solve(context.Background(), q, cut.Options{}); err != nil {
			t.Fatalf("gamma %d, outcome %b of %v: %v", gamma, set, names, err)
		}
	}
}

// The order must hold for every outcome, also where an opening has several
// demands and where openings are alike.
func TestOrderSurvivesEveryOutcome(t *testing.T) {
	for seed := uint64(50); seed <= 57; seed++ {
		p := job(seed)
		if len(p.Demands) > 6 {
			p.Demands = p.Demands[:6]
		}
		for i := range p.Demands {
			d := &p.Demands[i]
			d.Opening = d.Label
			if seed%2 == 0 && i > 0 && i%3 == 0 {
				d.Opening = p.Demands[i-1].Opening
			}
			if seed%4 == 1 && i%2 == 1 {
				d.Length, d.Count, d.Tolerance = p.Demands[i-1].Length, p.Demands[i-1].Count, p.Demands[i-1].Tolerance
			}
		}
		last := int64(0)
		for _, gamma := range []int{0, 1, 2, len(p.Demands)} {
			o, err := cut.Survive(context.Background(), p, gamma, cut.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sum := int64(0)
			for _, u := range o.Boards {
				sum += u.Count * p.Stock[u.Stock].Price
			}
			if sum != o.Cost || o.Least > o.Cost || o.Proven != (o.Cost == o.Least) {
				t.Errorf("job %d, gamma %d: cost %d, prices add up to %d, least %d, proven %v", seed, gamma, o.Cost, sum, o.Least, o.Proven)
			}
			if o.Least < last {
				t.Errorf("job %d, gamma %d: no order below %d, but for fewer openings none below %d", seed, gamma, o.Least, last)
			}
			last = o.Least
			survives(t, p, o, gamma)
		}
	}
}

// Ten openings of ten boards each, drawn at 11' 11 1/2": each board gives one
// piece. As drawn a board of 12' does at 10.00, at the worst (12' 1/2") it takes
// one of 14' at 13.00. By hand: as drawn 100 of 12', 1000.00; three openings at
// once 70 of 12' and 30 of 14', 1090.00; all at once 100 of 14', 1300.00. Room for
// three on every board by itself would cost as much as for all.
func TestOrderIsNoDearerThanItMustBe(t *testing.T) {
	p := cut.Problem{Stock: []cut.Stock{
		{Length: 12 * foot, Price: 1000, Available: cut.Unlimited},
		{Length: 14 * foot, Price: 1300, Available: cut.Unlimited, Defects: 30},
	}}
	for k := range 10 {
		p.Demands = append(p.Demands, cut.Demand{Label: fmt.Sprintf("bay %d", k), Opening: fmt.Sprintf("bay %d", k),
			Length: 12*foot - inch/2, Count: 10, Tolerance: inch})
	}
	s, err := cut.Weigh(context.Background(), p, 3, 4, cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := []int64{100000, 109000, 130000}
	if len(s.Orders) != 3 || s.Openings != 10 || s.Middle != 1 {
		t.Fatalf("%+v", s)
	}
	for k, o := range s.Orders {
		if o.Cost != want[k] || !o.Proven {
			t.Errorf("gamma %d: cost %d, want %d, proven %v", o.Gamma, o.Cost, want[k], o.Proven)
		}
	}
	// 30 sound boards at 3 in 100 bad take 31.
	if b := s.Orders[1].Buy; len(b) != 2 || b[1].Boards != 30 || b[1].Spares != 1 || b[1].Price != 31*1300 {
		t.Errorf("to buy: %+v", b)
	}
	if len(s.Drives) != 1 || len(s.Drives[0].Openings) != 10 || s.Drives[0].Saves != 9000 {
		t.Errorf("drivers: %+v", s.Drives)
	}
}

func TestSafetyCostsNoLessForMore(t *testing.T) {
	p := job(60)
	s, err := cut.Weigh(context.Background(), p, 2, 3, cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for k := 1; k < len(s.Orders); k++ {
		if s.Orders[k].Cost < s.Orders[k-1].Cost {
			t.Errorf("gamma %d costs %d, gamma %d %d", s.Orders[k].Gamma, s.Orders[k].Cost, s.Orders[k-1].Gamma, s.Orders[k-1].Cost)
		}
	}
}

func TestMeasuredCutsFromTheOrder(t *testing.T) {
	p := job(61)
	o, err := cut.Survive(context.Background(), p, len(p.Demands), cut.Options{})
	if err != nil {
		t.Fatal(err)
	}
	long := map[int]measure.Length{}
	for i, d := range p.Demands {
		long[i] = d.Length + d.Tolerance
	}
	plan, err := cut.Measured(context.Background(), p, long, o.Boards, cut.Options{})
	if err != nil || plan.Cost != 0 {
		t.Errorf("cost %d on top of the order, %v", plan.Cost, err)
	}
}
