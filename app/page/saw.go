package page

import (
	"fmt"

	"stallwright/app/record"
	"stallwright/app/sawing"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// Material is what is left to cut of one kind of board or bar.
type Material struct {
	Item     string   `json:"item"`
	Name     string   `json:"name"`
	Treated  bool     `json:"treated"`
	Pieces   int64    `json:"pieces"` // wanted in all
	Done     int64    `json:"done"`   // of them, cut right
	Boards   int64    `json:"boards"` // cut so far
	Wrong    int64    `json:"wrong"`  // of them, with something cut wrong
	Again    bool     `json:"again"`  // the plan was made anew because of what was cut
	Tickets  []Ticket `json:"tickets"`
	Buy      []Buy    `json:"buy"`     // beyond what was planned
	Misfits  []string `json:"misfits"` // cut pieces that the plan wants no more as they are
	Surplus  []string `json:"surplus"` // cut once more than wanted
	Shortage string   `json:"shortage,omitempty"`
}

// Ticket is boards to be cut alike. Texts are what the tape shows.
type Ticket struct {
	Number   int    `json:"number"`
	Boards   int64  `json:"boards"`
	Length   string `json:"length"`
	LengthNM int64  `json:"length_nm"`
	Rack     bool   `json:"rack"` // an offcut on hand
	First    string `json:"first"`
	FirstNM  int64  `json:"first_nm"`
	Marks    []Mark `json:"marks"`
	Keep     string `json:"keep,omitempty"`
	KeepNM   int64  `json:"keep_nm"`
	Label    string `json:"label,omitempty"`
}

// Mark is one running mark on the tape.
type Mark struct {
	At       string   `json:"at"`
	AtNM     int64    `json:"at_nm"`
	Length   string   `json:"length"`
	LengthNM int64    `json:"length_nm"`
	Labels   []string `json:"labels"` // one for each board
}

// Buy is boards to be bought.
type Buy struct {
	Length string `json:"length"`
	Count  int64  `json:"count"`
}

// records reads what was written down; one that cannot be read is named.
func (a *Asked) records() ([]record.Record, error) {
	var out []record.Record
	for i, line := range a.Records {
		r, err := record.Read(line)
		if err != nil {
			return nil, fmt.Errorf("record %d cannot be read: %w", i+1, err)
		}
		out = append(out, r)
	}
	return record.InOrder(out), nil
}

// saw answers what is left to cut.
func saw(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	records, err := a.records()
	if err != nil {
		return nil, err
	}
	out := []Material{}
	for _, m := range sawing.Remaining(p.Takeoff.Cuts, records) {
		out = append(out, material(p, &m))
	}
	return out, nil
}

func material(p *plan.Plan, m *sawing.Material) Material {
	v := Material{Item: m.Item, Name: m.Name, Treated: m.Treated, Pieces: m.Pieces, Done: m.Done, Boards: m.Boards, Wrong: m.Wrong, Again: m.Again,
		Tickets: []Ticket{}, Buy: []Buy{}, Misfits: labels(m.Misfits), Surplus: labels(m.Surplus), Shortage: m.Shortage}
	for _, t := range m.Tickets {
		k := Ticket{Number: t.Number, Boards: t.Boards, Length: p.Show(t.Length), LengthNM: int64(t.Length), Rack: t.Rack,
			First: shown(p, t.First), FirstNM: int64(t.First), Marks: []Mark{}, Keep: shown(p, t.Keep), KeepNM: int64(t.Keep), Label: t.Label}
		for _, x := range t.Marks {
			k.Marks = append(k.Marks, Mark{p.Show(x.At), int64(x.At), p.Show(x.Length), int64(x.Length), x.Labels})
		}
		v.Tickets = append(v.Tickets, k)
	}
	for _, b := range m.Buy {
		v.Buy = append(v.Buy, Buy{p.Show(b.Length), b.Count})
	}
	return v
}

// shown is a length as the tape shows it; nothing for none.
func shown(p *plan.Plan, l measure.Length) string {
	if l == 0 {
		return ""
	}
	return p.Show(l)
}

func labels(pieces []sawing.Piece) []string {
	out := []string{}
	for _, v := range pieces {
		out = append(out, v.Label)
	}
	return out
}
