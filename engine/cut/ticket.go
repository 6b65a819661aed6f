package cut

import (
	"fmt"
	"sort"
	"strings"

	"stallwright/engine/measure"
)

// Ticket is what the saw operator works from: identical boards, cut alike.
type Ticket struct {
	Number int // from one, in the order to cut
	Stock  int // index in Problem.Stock
	Boards int64
	// First is where the board is squared, from its factory end; zero when
	// nothing is trimmed.
	First measure.Length
	Marks []Mark
	Keep  measure.Length // offcut to keep from each board, zero for none
	Label string         // to write on the kept offcut, empty without one
}

// Mark is one cut on the tape, hooked once on the squared end.
type Mark struct {
	At     measure.Length // where the piece ends: its far face, on the keep side of the blade
	Next   measure.Length // where the next piece begins, a kerf on
	Length measure.Length // of the piece
	Labels []string       // one for each board of the ticket
}

// Tickets turns a plan into saw tickets. Patterns alike but for their labels
// become one ticket, so that the boards can be gang-cut; each mark then lists
// one label per board. Tickets follow the order of the demands, so that the
// boards of one wall come off the saw together when its demands stand together.
func Tickets(p Problem, plan Plan) []Ticket {
	type group struct {
		first    int
		patterns []Pattern
	}
	byShape := map[string]int{}
	var groups []group
	for _, q := range plan.Patterns {
		q.Pieces = sawOrder(q.Pieces)
		key := shape(&q)
		k, ok := byShape[key]
		if !ok {
			k = len(groups)
			byShape[key] = k
			groups = append(groups, group{first: len(p.Demands)})
		}
		groups[k].patterns = append(groups[k].patterns, q)
		for _, x := range q.Pieces {
			groups[k].first = min(groups[k].first, x.Demand)
		}
	}
	sort.SliceStable(groups, func(a, b int) bool { return groups[a].first < groups[b].first })
	var out []Ticket
	for _, g := range groups {
		t := p.ticket(g.patterns)
		t.Number = len(out) + 1
		if t.Keep > 0 {
			t.Label = fmt.Sprintf("offcut %d", t.Number)
		}
		out = append(out, t)
	}
	return out
}

// sawOrder puts the longest pieces first, so that a late mistake costs least.
func sawOrder(pieces []Piece) []Piece {
	out := append([]Piece(nil), pieces...)
	sort.SliceStable(out, func(a, b int) bool { return out[a].Length > out[b].Length })
	return out
}

// shape is a pattern without its labels.
func shape(q *Pattern) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d", q.Stock)
	for i := 0; i < len(q.Pieces); {
		n := int64(0)
		l := q.Pieces[i].Length
		for ; i < len(q.Pieces) && q.Pieces[i].Length == l; i++ {
			n += q.Pieces[i].Count
		}
		fmt.Fprintf(&b, " %d*%d", n, l)
	}
	return b.String()
}

// ticket joins patterns of one shape.
func (p *Problem) ticket(patterns []Pattern) Ticket {
	q := &patterns[0]
	t := Ticket{Stock: q.Stock, Keep: q.Offcut}
	if !p.Stock[q.Stock].Square {
		t.First = p.Saw.Trim
	}
	at := measure.Length(0)
	for _, x := range q.Pieces {
		for c := int64(0); c < x.Count; c++ {
			at += x.Length
			t.Marks = append(t.Marks, Mark{At: at, Next: at + p.Saw.Kerf, Length: x.Length})
			at += p.Saw.Kerf
		}
	}
	for k := range patterns {
		t.Boards += patterns[k].Times
		for b := int64(0); b < patterns[k].Times; b++ {
			i := 0
			for _, x := range patterns[k].Pieces {
				for c := int64(0); c < x.Count; c++ {
					t.Marks[i].Labels = append(t.Marks[i].Labels, x.Label)
					i++
				}
			}
		}
	}
	return t
}
