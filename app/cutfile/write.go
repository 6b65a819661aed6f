package cutfile

import (
	"encoding/json"
	"fmt"
	"io"
	"math/big"
	"strings"
	"text/tabwriter"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

// Document is the plan as JSON. Each length is a text for people with its
// nanometres in a field beside it; amounts of money have two decimals.
type Document struct {
	Cost       json.Number   `json:"cost"`
	LowerBound json.Number   `json:"lower_bound"`
	Proven     bool          `json:"proven"`
	Gap        json.Number   `json:"gap"` // of the cost, rounded up to a millionth
	StockUsed  []StockUsed   `json:"stock_used"`
	Patterns   []PatternJSON `json:"patterns"`
	Waste      WasteJSON     `json:"waste"`
	Boards     int64         `json:"boards"`
	Work       int64         `json:"work"` // elementary steps, the same on every machine
	Stopped    bool          `json:"stopped"`
	Kept       *int64        `json:"kept,omitempty"`  // boards cut as the earlier plan said
	Order      *OrderJSON    `json:"order,omitempty"` // where pieces may turn out longer
}

// OrderJSON is what to buy before the pieces are measured.
type OrderJSON struct {
	Openings int          `json:"openings"` // that may turn out longer
	Choices  []ChoiceJSON `json:"choices"`  // as drawn first, all at their worst last
	Drives   []DriveJSON  `json:"drives"`   // of the choice between, dearest first
}

// ChoiceJSON is one order and what it is safe against.
type ChoiceJSON struct {
	AtOnce     int         `json:"at_once"` // openings that may turn out longer at once
	Cost       json.Number `json:"cost"`    // of the boards, spares aside
	More       json.Number `json:"more"`    // than as drawn: the price of the safety
	LowerBound json.Number `json:"lower_bound"`
	Proven     bool        `json:"proven"`
	Buy        []BuyJSON   `json:"buy"`
}

// BuyJSON is a line of an order.
type BuyJSON struct {
	Length   string      `json:"length"`
	LengthNM int64       `json:"length_nm"`
	Material string      `json:"material"`
	Price    json.Number `json:"price"`
	Boards   int64       `json:"boards"`
	Spares   int64       `json:"spares"` // for boards too bad to use
}

// DriveJSON is openings alike whose tolerance costs money.
type DriveJSON struct {
	Openings []string    `json:"openings"`
	Saves    json.Number `json:"saves"` // if they were sure
}

// StockUsed is a line of what to take.
type StockUsed struct {
	Length   string      `json:"length"`
	LengthNM int64       `json:"length_nm"`
	Material string      `json:"material"`
	Price    json.Number `json:"price"`
	Count    int64       `json:"count"`
	Spares   int64       `json:"spares,omitempty"` // to buy on top, for boards too bad to use
}

// PatternJSON is boards cut alike.
type PatternJSON struct {
	Stock    string      `json:"stock"`
	StockNM  int64       `json:"stock_nm"`
	Material string      `json:"material"`
	Times    int64       `json:"times"`
	Pieces   []PieceJSON `json:"pieces"`
	Offcut   string      `json:"offcut"`
	OffcutNM int64       `json:"offcut_nm"`
}

// PieceJSON is equal pieces on each board of a pattern.
type PieceJSON struct {
	Length   string `json:"length"`
	LengthNM int64  `json:"length_nm"`
	Label    string `json:"label"`
	Count    int64  `json:"count"`
}

// WasteJSON says where the length of the boards went beside the pieces.
type WasteJSON struct {
	Kerf     string `json:"kerf"`
	KerfNM   int64  `json:"kerf_nm"`
	Trim     string `json:"trim"`
	TrimNM   int64  `json:"trim_nm"`
	Offcut   string `json:"offcut"`
	OffcutNM int64  `json:"offcut_nm"`
	Scrap    string `json:"scrap"`
	ScrapNM  int64  `json:"scrap_nm"`
}

// amount writes hundredths with two decimals.
func amount(c int64) json.Number {
	sign := ""
	if c < 0 {
		sign, c = "-", -c
	}
	return json.Number(fmt.Sprintf("%s%d.%02d", sign, c/100, c%100))
}

// gap is (cost-bound)/cost rounded up to a millionth.
func gap(cost, bound int64) json.Number {
	if cost <= bound || cost <= 0 {
		return "0"
	}
	n := new(big.Int).Mul(big.NewInt(cost-bound), big.NewInt(1_000_000))
	d := big.NewInt(cost)
	q, r := new(big.Int).QuoRem(n, d, new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	v := q.Int64()
	return json.Number(fmt.Sprintf("%d.%06d", v/1_000_000, v%1_000_000))
}

// document makes the JSON of a plan, lengths written for sys.
func document(p *cut.Problem, out *answer, sys measure.System) Document {
	plan := &out.plan
	w := plan.Waste
	d := Document{
		Cost: amount(plan.Cost), LowerBound: amount(plan.Bound), Proven: plan.Proven,
		Gap: gap(plan.Cost, plan.Bound), Boards: plan.Boards, Work: plan.Work, Stopped: plan.Stopped,
		StockUsed: []StockUsed{}, Patterns: []PatternJSON{},
		Waste: WasteJSON{
			Kerf: w.Kerf.In(sys), KerfNM: int64(w.Kerf), Trim: w.Trim.In(sys), TrimNM: int64(w.Trim),
			Offcut: w.Offcut.In(sys), OffcutNM: int64(w.Offcut), Scrap: w.Scrap.In(sys), ScrapNM: int64(w.Scrap),
		},
	}
	spares := sparesOf(p, plan)
	for _, u := range plan.Used {
		s := p.Stock[u.Stock]
		d.StockUsed = append(d.StockUsed, StockUsed{s.Length.In(sys), int64(s.Length), s.Group, amount(s.Price), u.Count, spares[u.Stock]})
	}
	if out.before {
		d.Kept = &out.kept
	}
	if out.safety != nil {
		d.Order = orderJSON(p, out.safety, sys)
	}
	for _, q := range plan.Patterns {
		s := p.Stock[q.Stock]
		x := PatternJSON{Stock: s.Length.In(sys), StockNM: int64(s.Length), Material: s.Group, Times: q.Times,
			Offcut: q.Offcut.In(sys), OffcutNM: int64(q.Offcut), Pieces: []PieceJSON{}}
		for _, c := range q.Pieces {
			x.Pieces = append(x.Pieces, PieceJSON{c.Length.In(sys), int64(c.Length), c.Label, c.Count})
		}
		d.Patterns = append(d.Patterns, x)
	}
	return d
}

// sparesOf is how many boards to buy on top for defects, by stock.
func sparesOf(p *cut.Problem, plan *cut.Plan) map[int]int64 {
	out := map[int]int64{}
	for _, b := range p.Purchases(plan) {
		out[b.Stock] = b.Spares
	}
	return out
}

// orderJSON is the orders that survive the measuring.
func orderJSON(p *cut.Problem, s *cut.Safety, sys measure.System) *OrderJSON {
	d := &OrderJSON{Openings: s.Openings, Choices: []ChoiceJSON{}, Drives: []DriveJSON{}}
	for _, o := range s.Orders {
		c := ChoiceJSON{AtOnce: o.Gamma, Cost: amount(o.Cost), More: amount(o.Cost - s.Orders[0].Cost), LowerBound: amount(o.Least), Proven: o.Proven, Buy: []BuyJSON{}}
		for _, b := range o.Buy {
			st := p.Stock[b.Stock]
			c.Buy = append(c.Buy, BuyJSON{st.Length.In(sys), int64(st.Length), st.Group, amount(st.Price), b.Boards, b.Spares})
		}
		d.Choices = append(d.Choices, c)
	}
	for _, v := range s.Drives {
		d.Drives = append(d.Drives, DriveJSON{v.Openings, amount(v.Saves)})
	}
	return d
}

// writeOrder tells the orders: the gamble, the middle and all at their worst, and
// what drives the price.
func writeOrder(w io.Writer, p *cut.Problem, s *cut.Safety, sys measure.System) {
	fmt.Fprintf(w, "\nOrder before measuring\t%d openings may turn out longer than drawn\n", s.Openings)
	fmt.Fprintf(w, "longer at once\tcost\tmore\tleast\tbuy\n")
	for _, o := range s.Orders {
		at := fmt.Sprint(o.Gamma)
		switch o.Gamma {
		case 0:
			at = "none (as drawn)"
		case s.Openings:
			at = fmt.Sprintf("all %d", o.Gamma)
		}
		least := "proven"
		if !o.Proven {
			least = amount(o.Least).String()
		}
		buy := ""
		for _, b := range o.Buy {
			st := p.Stock[b.Stock]
			if buy != "" {
				buy += ", "
			}
			buy += fmt.Sprintf("%d of %s %s", b.Boards+b.Spares, st.Length.In(sys), st.Group)
			if b.Spares > 0 {
				buy += fmt.Sprintf(" (%d spare)", b.Spares)
			}
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", at, amount(o.Cost), amount(o.Cost-s.Orders[0].Cost), least, buy)
	}
	for _, v := range s.Drives {
		fmt.Fprintf(w, "%s less\tif sure of %s\n", amount(v.Saves), strings.Join(v.Openings, ", "))
	}
}

// writeTable writes the plan for people: what it costs and how good that is,
// what to take, and the saw tickets with their tape marks.
func writeTable(out io.Writer, p *cut.Problem, ans *answer, sys measure.System) error {
	plan := &ans.plan
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Cost\t%s\n", amount(plan.Cost))
	if plan.Proven {
		fmt.Fprintf(w, "Proven\tno plan costs less\n")
	} else {
		fmt.Fprintf(w, "Not proven\tno plan costs less than %s (gap %s)\n", amount(plan.Bound), gap(plan.Cost, plan.Bound))
	}
	fmt.Fprintf(w, "Boards\t%d in %d patterns\n", plan.Boards, plan.Distinct)
	if ans.before {
		fmt.Fprintf(w, "Kept\t%d boards are cut as told before\n", ans.kept)
	}
	l := plan.Waste
	fmt.Fprintf(w, "Waste\tkerf %s, trim %s, offcuts kept %s, scrap %s\n\n", l.Kerf.In(sys), l.Trim.In(sys), l.Offcut.In(sys), l.Scrap.In(sys))
	fmt.Fprintf(w, "Take\tof\tat\tmaterial\n")
	spares := sparesOf(p, plan)
	for _, u := range plan.Used {
		s := p.Stock[u.Stock]
		fmt.Fprintf(w, "%d\t%s\t%s\t%s", u.Count, s.Length.In(sys), amount(s.Price), s.Group)
		switch {
		case spares[u.Stock] > 0:
			fmt.Fprintf(w, "\tbuy %d: %d spare, for boards too bad to use", u.Count+spares[u.Stock], spares[u.Stock])
		case s.Price == 0:
			fmt.Fprintf(w, "\tpaid for already")
		}
		fmt.Fprintln(w)
	}
	if ans.safety != nil {
		writeOrder(w, p, ans.safety, sys)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	for _, t := range cut.Tickets(*p, *plan) {
		s := p.Stock[t.Stock]
		fmt.Fprintf(w, "\nTicket %d\t%d of %s\t%s\n", t.Number, t.Boards, s.Length.In(sys), s.Group)
		if t.First > 0 {
			fmt.Fprintf(w, "  square\t%s\tfrom the factory end, then hook the tape there\n", t.First.In(sys))
		}
		for _, m := range t.Marks {
			fmt.Fprintf(w, "  mark %s\tpiece %s\t%s\n", m.At.In(sys), m.Length.In(sys), labels(m.Labels))
		}
		if t.Keep > 0 {
			fmt.Fprintf(w, "  keep\t%s\t%s\n", t.Keep.In(sys), t.Label)
		}
	}
	return w.Flush()
}

// labels shortens a list in which neighbours repeat.
func labels(l []string) string {
	out := ""
	for i := 0; i < len(l); {
		j := i
		for j < len(l) && l[j] == l[i] {
			j++
		}
		if out != "" {
			out += ", "
		}
		out += l[i]
		if j-i > 1 {
			out += fmt.Sprintf(" ×%d", j-i)
		}
		i = j
	}
	return out
}
