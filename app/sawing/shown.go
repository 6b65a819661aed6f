package sawing

import "stallwright/engine/measure"

// The types below are a Material as devices and the API read it. Lengths are whole
// nanometres in fields that end in _nm, and as the job's readers write them beside.

// SawMaterial is what is cut of one kind of board or bar.
type SawMaterial struct {
	Item     string      `json:"item" doc:"for records of boards cut"`
	Name     string      `json:"name"`
	Treated  bool        `json:"treated"`
	Pieces   int64       `json:"pieces" doc:"wanted in all"`
	Done     int64       `json:"done" doc:"of them, cut right"`
	Boards   int64       `json:"boards" doc:"cut so far, right or wrong"`
	Wrong    int64       `json:"wrong" doc:"of them, with something cut wrong"`
	Again    bool        `json:"again" doc:"the plan was made anew since something was cut"`
	Tickets  []SawTicket `json:"tickets" nullable:"false" doc:"what is left to cut"`
	Buy      []SawLength `json:"buy" nullable:"false" doc:"boards to buy beyond what the plan took"`
	Misfits  []SawPiece  `json:"misfits" nullable:"false" doc:"cut, but the plan wants another length now, or none"`
	Surplus  []SawPiece  `json:"surplus" nullable:"false" doc:"cut once more than wanted"`
	Shortage string      `json:"shortage,omitempty" doc:"why there is no plan for the rest"`
}

// SawLength is how many of a length.
type SawLength struct {
	Length   string `json:"length"`
	LengthNM int64  `json:"length_nm"`
	Count    int64  `json:"count"`
}

// SawPiece is a piece that was cut and does not serve as planned.
type SawPiece struct {
	Record   string `json:"record" doc:"id of the record that tells of it"`
	Label    string `json:"label"`
	Length   string `json:"length" doc:"as it was cut"`
	LengthNM int64  `json:"length_nm"`
	Wanted   string `json:"wanted,omitempty" doc:"as the plan wants it; left out where it wants none"`
	WantedNM int64  `json:"wanted_nm,omitempty"`
}

// SawTicket is boards cut alike.
type SawTicket struct {
	Number   int       `json:"number"`
	Boards   int64     `json:"boards"`
	Length   string    `json:"length" doc:"of each board"`
	LengthNM int64     `json:"length_nm"`
	FromRack bool      `json:"from_rack" doc:"an offcut or a rest on hand, not a bought length"`
	First    string    `json:"first,omitempty" doc:"where the end is squared"`
	FirstNM  int64     `json:"first_nm,omitempty"`
	Marks    []SawMark `json:"marks" nullable:"false" doc:"on the tape, hooked once on the squared end"`
	Keep     string    `json:"keep,omitempty" doc:"what of each board goes on the rack"`
	KeepNM   int64     `json:"keep_nm,omitempty"`
	Label    string    `json:"label,omitempty" doc:"to write on it"`
}

// SawMark is where a piece ends.
type SawMark struct {
	At       string   `json:"at"`
	AtNM     int64    `json:"at_nm"`
	Length   string   `json:"length" doc:"of the piece"`
	LengthNM int64    `json:"length_nm"`
	Labels   []string `json:"labels" nullable:"false" doc:"one for each board"`
}

// Shown is a material as devices read it; show writes a length as the job's readers
// do.
func (m *Material) Shown(show func(measure.Length) string) SawMaterial {
	known := func(l measure.Length) string { // nothing where there is none
		if l <= 0 {
			return ""
		}
		return show(l)
	}
	v := SawMaterial{m.Item, m.Name, m.Treated, m.Pieces, m.Done, m.Boards, m.Wrong, m.Again, []SawTicket{}, []SawLength{}, []SawPiece{}, []SawPiece{}, m.Shortage}
	for _, t := range m.Tickets {
		d := SawTicket{
			Number: t.Number, Boards: t.Boards, Length: show(t.Length), LengthNM: int64(t.Length), FromRack: t.Rack, First: known(t.First),
			FirstNM: int64(t.First), Keep: known(t.Keep), KeepNM: int64(t.Keep), Label: t.Label, Marks: []SawMark{},
		}
		for _, k := range t.Marks {
			d.Marks = append(d.Marks, SawMark{show(k.At), int64(k.At), show(k.Length), int64(k.Length), k.Labels})
		}
		v.Tickets = append(v.Tickets, d)
	}
	for _, b := range m.Buy {
		v.Buy = append(v.Buy, SawLength{show(b.Length), int64(b.Length), b.Count})
	}
	pieces := func(list []Piece) []SawPiece {
		out := []SawPiece{}
		for _, p := range list {
			out = append(out, SawPiece{p.Record, p.Label, show(p.Length), int64(p.Length), known(p.Wanted), int64(p.Wanted)})
		}
		return out
	}
	v.Misfits, v.Surplus = pieces(m.Misfits), pieces(m.Surplus)
	return v
}
