// Package sawing says what is left to cut. In go a plan's cut plans and the records
// of boards already cut; out come the tickets that remain, what is done, and what of
// the cut pieces no longer fits the plan.
//
// What always holds: a piece counts as cut only if a record gives its label and the
// length the plan wants now; the same plan and records give the same tickets,
// whatever order the records come in. Boards that the plan takes count as on hand
// until a record says they were cut, so that a wrong cut first uses what is there,
// and what must be bought beyond it is told. It builds for the browser too.
package sawing

import (
	"cmp"
	"context"
	"slices"

	"stallwright/app/record"
	"stallwright/engine/cut"
	"stallwright/engine/measure"
	"stallwright/engine/takeoff"
)

// budget is the work one new plan may take, as for the first plan.
const budget = 20_000_000

// Material is what is cut of one kind of board or bar.
type Material struct {
	Item     string
	Name     string
	Treated  bool
	Pieces   int64 // wanted in all
	Done     int64 // of them, cut right
	Boards   int64 // cut so far, right or wrong
	Wrong    int64 // of them, with something cut wrong
	Again    bool  // the plan was made anew, because something was cut
	Tickets  []Ticket
	Buy      []Buy   // beyond what the plan took
	Misfits  []Piece // cut, but the plan wants another length now, or none
	Surplus  []Piece // cut once more than wanted
	Shortage string  // why there is no plan for the rest; empty where there is one
}

// Ticket is boards cut alike.
type Ticket struct {
	Number int
	Boards int64
	Length measure.Length // of each board
	Rack   bool           // an offcut or a rest on hand, not a bought length
	First  measure.Length // where the end is squared
	Marks  []cut.Mark
	Keep   measure.Length // what of each board goes on the rack
	Label  string         // to write on it
}

// Buy is boards to be bought.
type Buy struct {
	Length measure.Length
	Count  int64
}

// Piece is a piece that was cut and does not serve as planned.
type Piece struct {
	Record string // the record that tells of it
	Label  string
	Length measure.Length // as it was cut
	Wanted measure.Length // as the plan wants it; zero for not at all
}

// Remaining works out what is left to cut of each material whose sizes are final,
// in the plan's order. Records of materials that the plan no longer cuts come last,
// with their pieces as misfits.
func Remaining(cuts []takeoff.Cut, records []record.Record) []Material {
	byMaterial := map[key][]record.Record{}
	for _, r := range record.InOrder(records) {
		if r.Kind == record.Cut {
			k := key{r.Cut.Item, r.Cut.Treated}
			byMaterial[k] = append(byMaterial[k], r)
		}
	}
	out := []Material{}
	for i := range cuts {
		v := &cuts[i]
		if !v.Final {
			continue
		}
		k := key{v.Item, v.Treated}
		out = append(out, remaining(v, byMaterial[k]))
		delete(byMaterial, k)
	}
	var rest []key
	for k := range byMaterial {
		rest = append(rest, k)
	}
	slices.SortFunc(rest, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.item, b.item), cmp.Compare(mark(a.treated), mark(b.treated)))
	})
	for _, k := range rest {
		out = append(out, unplanned(k, byMaterial[k]))
	}
	return out
}

type key struct {
	item    string
	treated bool
}

func mark(b bool) int {
	if b {
		return 1
	}
	return 0
}

// unplanned tells of boards that were cut of a material the plan does not cut now.
func unplanned(k key, records []record.Record) Material {
	m := Material{Item: k.item, Name: k.item, Treated: k.treated}
	for _, r := range records {
		m.count(&r)
		for _, p := range r.Cut.Good {
			m.Misfits = append(m.Misfits, Piece{r.ID, p.Label, measure.Length(p.LengthNM), 0})
		}
	}
	return m
}

func (m *Material) count(r *record.Record) {
	m.Boards++
	if r.Cut.Wrong {
		m.Wrong++
	}
}

// remaining plans the rest of one material.
func remaining(v *takeoff.Cut, records []record.Record) Material {
	m := Material{Item: v.Item, Name: v.Name, Treated: v.Treated}
	for _, d := range v.Problem.Demands {
		m.Pieces += d.Count
	}
	if len(records) == 0 {
		m.tickets(&v.Problem, &v.Plan)
		return m
	}
	m.Again = true
	p, at := m.take(v, records)
	if m.Done == m.Pieces {
		return m
	}
	again, err := cut.Replan(context.Background(), p, v.Plan, at, cut.Options{Budget: budget})
	if err != nil {
		m.Shortage = err.Error()
		return m
	}
	m.tickets(&again.Problem, &again.Plan)
	for _, u := range again.Plan.Used {
		if s := &again.Problem.Stock[u.Stock]; s.Price > 0 {
			m.Buy = append(m.Buy, Buy{s.Length, u.Count})
		}
	}
	return m
}

// take goes through the records: what they cut is no longer wanted, the boards they
// took are no longer there, and the rests they left are.
func (m *Material) take(v *takeoff.Cut, records []record.Record) (cut.Problem, cut.Progress) {
	p := v.Problem
	p.Stock = slices.Clone(p.Stock)
	demand := map[string]int{}
	for i := range p.Demands {
		demand[p.Demands[i].Label] = i
	}
	cutSoFar := make([]int64, len(p.Demands))
	taken := make([]int64, len(p.Stock))
	var at cut.Progress
	for i := range records {
		r := &records[i]
		m.count(r)
		s := cut.Spoiled{Good: map[int]int64{}}
		for _, g := range r.Cut.Good {
			piece := Piece{Record: r.ID, Label: g.Label, Length: measure.Length(g.LengthNM)}
			d, wanted := demand[g.Label]
			if wanted {
				piece.Wanted = p.Demands[d].Length
			}
			switch {
			case piece.Wanted != piece.Length:
				m.Misfits = append(m.Misfits, piece)
			case cutSoFar[d] == p.Demands[d].Count:
				m.Surplus = append(m.Surplus, piece)
			default:
				cutSoFar[d]++
				m.Done++
				s.Good[d]++
			}
		}
		for _, l := range r.Cut.RestNM {
			s.Rest = append(s.Rest, measure.Length(l))
		}
		if k := source(p.Stock, taken, r.Cut); k >= 0 {
			taken[k]++
			s.Stock = k
		} else {
			rackOff(&at, r.Cut)
		}
		if len(p.Stock) > 0 {
			at.Spoiled = append(at.Spoiled, s)
		}
	}
	for k := range p.Stock {
		if a := p.Stock[k].Available; a != cut.Unlimited {
			p.Stock[k].Available = max(0, a-taken[k])
		}
	}
	for _, u := range v.Plan.Used {
		if p.Stock[u.Stock].Price > 0 {
			at.OnHand = append(at.OnHand, cut.Use{Stock: u.Stock, Count: max(0, u.Count-taken[u.Stock])})
		}
	}
	return p, at
}

// source is the stock that a cut board was taken from; -1 for none the plan knows.
func source(stock []cut.Stock, taken []int64, b *record.CutBoard) int {
	for k := range stock {
		s := &stock[k]
		rack := s.Price == 0
		if int64(s.Length) == b.LengthNM && rack == b.FromRack && (s.Available == cut.Unlimited || taken[k] < s.Available) {
			return k
		}
	}
	return -1
}

// rackOff takes a rest that an earlier board left off the rack, once it was cut
// itself.
func rackOff(at *cut.Progress, b *record.CutBoard) {
	if !b.FromRack {
		return
	}
	for i := range at.Spoiled {
		rest := at.Spoiled[i].Rest
		if k := slices.Index(rest, measure.Length(b.LengthNM)); k >= 0 {
			at.Spoiled[i].Rest = slices.Delete(slices.Clone(rest), k, k+1)
			return
		}
	}
}

// tickets lists a plan's tickets.
func (m *Material) tickets(p *cut.Problem, plan *cut.Plan) {
	for _, t := range cut.Tickets(*p, *plan) {
		s := &p.Stock[t.Stock]
		m.Tickets = append(m.Tickets, Ticket{
			Number: t.Number, Boards: t.Boards, Length: s.Length, Rack: s.Square && s.Price == 0,
			First: t.First, Marks: t.Marks, Keep: t.Keep, Label: t.Label,
		})
	}
}
