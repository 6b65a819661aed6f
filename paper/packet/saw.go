package packet

import (
	"fmt"
	"strings"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/takeoff"
)

// CutDoc is how the pieces of one material come out of what is bought.
type CutDoc struct {
	Item    string         `json:"item"`
	Treated bool           `json:"treated,omitempty"`
	Final   bool           `json:"final"`             // sizes are final: it has saw tickets
	Cost    int64          `json:"cost,omitempty"`    // hundredths, where lengths have prices
	Bound   int64          `json:"bound,omitempty"`   // no plan costs less
	Proven  bool           `json:"proven"`            // no plan costs less, or takes less length where there are no prices
	GapPPM  int64          `json:"gap_ppm"`           // what might still be saved, in millionths, rounded up
	Stock   []CutStockDoc  `json:"stock"`             // what is taken
	Waste   CutWasteDoc    `json:"waste"`             // where its length goes beside the pieces
	Tickets []SawTicketDoc `json:"tickets,omitempty"` // in the order to cut
}

// CutStockDoc is boards or bars of one length taken.
type CutStockDoc struct {
	LengthNM int64 `json:"length_nm"`
	Count    int64 `json:"count"`
	OnHand   bool  `json:"on_hand,omitempty"`
}

// CutWasteDoc says where length goes beside the pieces.
type CutWasteDoc struct {
	KerfNM   int64 `json:"kerf_nm"`
	TrimNM   int64 `json:"trim_nm"`
	OffcutNM int64 `json:"offcut_nm"`
	ScrapNM  int64 `json:"scrap_nm"`
}

// SawTicketDoc is boards cut alike.
type SawTicketDoc struct {
	Number   int          `json:"number"`
	Boards   int64        `json:"boards"`
	LengthNM int64        `json:"length_nm"`
	FirstNM  int64        `json:"first_nm"` // where the end is squared
	Marks    []SawMarkDoc `json:"marks"`
	KeepNM   int64        `json:"keep_nm"`
	Label    string       `json:"label,omitempty"` // of the kept offcut
}

// SawMarkDoc is one mark on the tape, which is hooked once on the squared end.
type SawMarkDoc struct {
	At       string   `json:"at"`
	AtNM     int64    `json:"at_nm"`
	LengthNM int64    `json:"length_nm"`
	Labels   []string `json:"labels"` // one for each board
}

// cuts writes the cut plans.
func (w *writer) cuts() {
	for i := range w.p.Takeoff.Cuts {
		v := &w.p.Takeoff.Cuts[i]
		g := &v.Plan
		d := CutDoc{Item: v.Item, Treated: v.Treated, Final: v.Final, Proven: g.Proven, GapPPM: gapPPM(g), Stock: []CutStockDoc{},
			Waste: CutWasteDoc{int64(g.Waste.Kerf), int64(g.Waste.Trim), int64(g.Waste.Offcut), int64(g.Waste.Scrap)}}
		if v.Priced {
			d.Cost, d.Bound = g.Cost, g.Bound
		}
		for _, u := range g.Used {
			s := &v.Problem.Stock[u.Stock]
			d.Stock = append(d.Stock, CutStockDoc{int64(s.Length), u.Count, s.Price == 0})
		}
		for _, t := range tickets(v) {
			x := SawTicketDoc{t.Number, t.Boards, int64(v.Problem.Stock[t.Stock].Length), int64(t.First), nil, int64(t.Keep), t.Label}
			for _, m := range t.Marks {
				x.Marks = append(x.Marks, SawMarkDoc{w.show(m.At), int64(m.At), int64(m.Length), m.Labels})
			}
			d.Tickets = append(d.Tickets, x)
		}
		w.doc.Cuts = append(w.doc.Cuts, d)
	}
}

// gapPPM is a plan's gap in millionths of its cost, rounded up.
func gapPPM(g *cut.Plan) int64 {
	if g.Cost <= g.Bound {
		return 0
	}
	ppm, _ := measure.MulDiv(g.Cost-g.Bound, 1_000_000, g.Cost, measure.Up)
	return ppm
}

// tickets are the saw tickets of a cut plan: none where a size may still change.
func tickets(v *takeoff.Cut) []cut.Ticket {
	if !v.Final {
		return nil
	}
	return cut.Tickets(v.Problem, v.Plan)
}

// sawList is the saw tickets, a row for each mark.
func sawList(p *plan.Plan) [][]string {
	rows := [][]string{{"item", "treated", "ticket", "boards", "of", "of_mm", "square_at", "mark", "mark_mm", "piece", "piece_mm", "labels", "keep", "keep_mm", "keep_label"}}
	for i := range p.Takeoff.Cuts {
		v := &p.Takeoff.Cuts[i]
		for _, t := range tickets(v) {
			s := &v.Problem.Stock[t.Stock]
			for k, m := range t.Marks {
				row := []string{v.Item, yes(v.Treated), fmt.Sprint(t.Number), fmt.Sprint(t.Boards), p.Show(s.Length), millimetres(s.Length), "",
					p.Show(m.At), millimetres(m.At), p.Show(m.Length), millimetres(m.Length), strings.Join(m.Labels, "; "), "", "", ""}
				if k == 0 && t.First > 0 {
					row[6] = p.Show(t.First)
				}
				if k == len(t.Marks)-1 && t.Keep > 0 {
					row[12], row[13], row[14] = p.Show(t.Keep), millimetres(t.Keep), t.Label
				}
				rows = append(rows, row)
			}
		}
	}
	return rows
}

// saw tells what the saw takes and how good that is.
func (s *summary) saw() {
	cuts := s.p.Takeoff.Cuts
	if len(cuts) == 0 {
		return
	}
	s.title("Saw")
	rows := [][]string{{"item", "sizes", "take", "kerf", "offcuts kept", "scrap", "least"}}
	for i := range cuts {
		v := &cuts[i]
		name, sizes, least := v.Item, "drawn", "proven"
		if v.Treated {
			name += ", treated"
		}
		if v.Final {
			sizes = "final"
		}
		if !v.Plan.Proven {
			least = fmt.Sprintf("within %s %%", percent(gapPPM(&v.Plan)))
		}
		var take []string
		for _, u := range v.Plan.Used {
			st := &v.Problem.Stock[u.Stock]
			word := fmt.Sprintf("%d of %s", u.Count, s.p.Show(st.Length))
			if st.Price == 0 {
				word += " on hand"
			}
			take = append(take, word)
		}
		g := &v.Plan.Waste
		rows = append(rows, []string{name, sizes, strings.Join(take, ", "), s.p.Show(g.Kerf), s.p.Show(g.Offcut), s.p.Show(g.Scrap), least})
	}
	s.table(rows)
	s.line("  Tickets are in saw-tickets.csv, for final sizes only. Drawn sizes go to the order; cut nothing from them.")
}

// percent writes millionths as hundredths of a percent, rounded up.
func percent(ppm int64) string {
	h := (ppm + 99) / 100
	return fmt.Sprintf("%d.%02d", h/100, h%100)
}
