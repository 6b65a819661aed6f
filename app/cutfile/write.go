package cutfile

import (
	"encoding/json"
	"fmt"
	"io"
	"math/big"
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
}

// StockUsed is a line of what to take.
type StockUsed struct {
	Length   string      `json:"length"`
	LengthNM int64       `json:"length_nm"`
	Material string      `json:"material"`
	Price    json.Number `json:"price"`
	Count    int64       `json:"count"`
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
func document(p *cut.Problem, plan *cut.Plan, sys measure.System) Document {
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
	for _, u := range plan.Used {
		s := p.Stock[u.Stock]
		d.StockUsed = append(d.StockUsed, StockUsed{s.Length.In(sys), int64(s.Length), s.Group, amount(s.Price), u.Count})
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

// writeTable writes the plan for people: what it costs and how good that is,
// what to take, and the saw tickets with their tape marks.
func writeTable(out io.Writer, p *cut.Problem, plan *cut.Plan, sys measure.System) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Cost\t%s\n", amount(plan.Cost))
	if plan.Proven {
		fmt.Fprintf(w, "Proven\tno plan costs less\n")
	} else {
		fmt.Fprintf(w, "Not proven\tno plan costs less than %s (gap %s)\n", amount(plan.Bound), gap(plan.Cost, plan.Bound))
	}
	fmt.Fprintf(w, "Boards\t%d in %d patterns\n", plan.Boards, plan.Distinct)
	l := plan.Waste
	fmt.Fprintf(w, "Waste\tkerf %s, trim %s, offcuts kept %s, scrap %s\n\n", l.Kerf.In(sys), l.Trim.In(sys), l.Offcut.In(sys), l.Scrap.In(sys))
	fmt.Fprintf(w, "Take\tof\tat\tmaterial\n")
	for _, u := range plan.Used {
		s := p.Stock[u.Stock]
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\n", u.Count, s.Length.In(sys), amount(s.Price), s.Group)
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
