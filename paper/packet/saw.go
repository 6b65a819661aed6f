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
	Order   *CutOrderDoc   `json:"order,omitempty"`   // what to buy before the measuring, where the job states a tolerance
	Kept    int64          `json:"kept,omitempty"`    // boards cut as the plan before had them
	Tickets []SawTicketDoc `json:"tickets,omitempty"` // in the order to cut
}

// CutOrderDoc is what to buy so that it is enough however the openings turn out.
type CutOrderDoc struct {
	Openings int            `json:"openings"` // that may turn out longer
	AtOnce   int            `json:"at_once"`  // how many at once the order is safe against
	Choices  []CutChoiceDoc `json:"choices"`  // as drawn first, all at their worst last
	Drives   []CutDriveDoc  `json:"drives"`   // what drives the price, dearest first
}

// CutChoiceDoc is one order and what it is safe against.
type CutChoiceDoc struct {
	AtOnce   int         `json:"at_once"`
	Cost     int64       `json:"cost,omitempty"`  // hundredths, spares aside, where lengths have prices
	Bound    int64       `json:"bound,omitempty"` // no safe order costs less
	LengthNM int64       `json:"length_nm"`       // of all boards, spares aside
	Proven   bool        `json:"proven"`
	Buy      []CutBuyDoc `json:"buy"`
}

// CutBuyDoc is a line of an order.
type CutBuyDoc struct {
	LengthNM int64 `json:"length_nm"`
	Boards   int64 `json:"boards"`
	Spares   int64 `json:"spares"` // for boards too bad to use
}

// CutDriveDoc is openings alike whose tolerance costs money, or length.
type CutDriveDoc struct {
	Openings []string `json:"openings"`
	Saves    int64    `json:"saves,omitempty"` // hundredths, if they were sure
	SavesNM  int64    `json:"saves_nm,omitempty"`
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
		d.Order, d.Kept = orderDoc(v), v.Kept
		if w.brief {
			w.doc.Cuts = append(w.doc.Cuts, d)
			continue
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

// orderDoc is the orders that are safe against the measuring; nil for none.
func orderDoc(v *takeoff.Cut) *CutOrderDoc {
	if v.Order == nil {
		return nil
	}
	o := v.Order
	d := &CutOrderDoc{Openings: o.Openings, AtOnce: o.Orders[o.Middle].Gamma, Choices: []CutChoiceDoc{}, Drives: []CutDriveDoc{}}
	for i := range o.Orders {
		x := &o.Orders[i]
		c := CutChoiceDoc{AtOnce: x.Gamma, Proven: x.Proven, LengthNM: int64(ordered(v, x)), Buy: []CutBuyDoc{}}
		if v.Priced {
			c.Cost, c.Bound = x.Cost, x.Least
		}
		for _, b := range x.Buy {
			c.Buy = append(c.Buy, CutBuyDoc{int64(v.Problem.Stock[b.Stock].Length), b.Boards, b.Spares})
		}
		d.Choices = append(d.Choices, c)
	}
	for _, x := range o.Drives {
		c := CutDriveDoc{Openings: x.Openings}
		if v.Priced {
			c.Saves = x.Saves
		} else {
			c.SavesNM = x.Saves * int64(perUnit(v))
		}
		d.Drives = append(d.Drives, c)
	}
	return d
}

// ordered is the length of all boards of an order, spares aside.
func ordered(v *takeoff.Cut, o *cut.Order) measure.Length {
	sum := measure.Length(0)
	for _, u := range o.Boards {
		sum += v.Problem.Stock[u.Stock].Length * measure.Length(u.Count)
	}
	return sum
}

// perUnit is the length that a unit of cost stands for where lengths have no
// prices.
func perUnit(v *takeoff.Cut) measure.Length {
	for i := range v.Problem.Stock {
		if s := &v.Problem.Stock[i]; s.Price > 0 {
			return s.Length / measure.Length(s.Price)
		}
	}
	return 0
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
	s.under("packet.saw")
	rows := [][]string{s.header("packet.item", "packet.sizes", "packet.take", "packet.kerf", "packet.offcuts", "packet.scrap", "packet.least")}
	for i := range cuts {
		v := &cuts[i]
		sizes, least := s.say("packet.sizes-drawn"), s.say("packet.proven")
		if v.Final {
			sizes = s.say("packet.sizes-final")
		}
		if !v.Plan.Proven {
			least = s.say("packet.within", label("percent", s.w.Decimal((gapPPM(&v.Plan)+99)/100, 2)))
		}
		var take []string
		for _, u := range v.Plan.Used {
			st := &v.Problem.Stock[u.Stock]
			key := "packet.take-of"
			if st.Price == 0 {
				key = "packet.take-on-hand"
			}
			take = append(take, s.say(key, counted("n", int(u.Count)), sized("length", st.Length)))
		}
		g := &v.Plan.Waste
		rows = append(rows, []string{s.treated(v.Item, v.Treated), sizes, strings.Join(take, ", "), s.exact(g.Kerf), s.exact(g.Offcut), s.exact(g.Scrap), least})
	}
	s.table(rows)
	s.line("  " + s.say("packet.tickets", label("file", "saw-tickets.csv")))
	for i := range cuts {
		if cuts[i].Kept > 0 {
			s.line("  " + s.say("packet.kept", label("item", s.treated(cuts[i].Item, cuts[i].Treated)), counted("n", int(cuts[i].Kept))))
		}
	}
	for i := range cuts {
		s.safe(&cuts[i])
	}
}

// safe tells what to order before the measuring: as drawn, safe against some
// openings turning out longer at once, and against all; what each costs; and which
// openings drive the price.
func (s *summary) safe(v *takeoff.Cut) {
	o := v.Order
	if o == nil {
		return
	}
	money := func(c int64) string {
		if v.Priced {
			return s.w.Decimal(c, 2)
		}
		return s.exact(measure.Length(c) * perUnit(v))
	}
	s.line("")
	s.line("  " + s.say("packet.safe", label("item", s.treated(v.Item, v.Treated)), counted("n", o.Openings), sized("tolerance", s.p.Job.Lumber.Tolerance)))
	cost := "packet.safe-cost"
	if !v.Priced {
		cost = "packet.safe-length"
	}
	rows := [][]string{s.header("packet.safe-longer", cost, "packet.safe-more", "packet.least", "packet.safe-order", "")}
	for i := range o.Orders {
		x := &o.Orders[i]
		longer, chosen, least := s.w.Count(int64(x.Gamma)), "", s.say("packet.proven")
		switch x.Gamma {
		case 0:
			longer = s.say("packet.safe-none")
		case o.Openings:
			longer = s.say("packet.safe-all", counted("n", x.Gamma))
		}
		if i == o.Middle {
			chosen = s.say("packet.safe-chosen")
		}
		if !x.Proven {
			least = money(x.Least)
		}
		var buy []string
		for _, b := range x.Buy {
			buy = append(buy, s.say("packet.take-of", counted("n", int(b.Boards+b.Spares)), sized("length", v.Problem.Stock[b.Stock].Length)))
		}
		rows = append(rows, []string{longer, money(x.Cost), money(x.Cost - o.Orders[0].Cost), least, strings.Join(buy, ", "), chosen})
	}
	s.table(rows)
	for _, d := range o.Drives {
		s.line("  " + s.say("packet.safe-drives", label("saves", money(d.Saves)), label("openings", strings.Join(d.Openings, ", "))))
	}
}
