package cutfile

import (
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

// sawn is boards that went through the saw: what good pieces they gave in all,
// and what is left of each.
type sawn struct {
	row    int
	length measure.Length
	count  int64
	group  string
	pieces []cut.ToldPiece
	left   measure.Length
}

var times = regexp.MustCompile(`^(.*?)\s*[x×]\s*(\d{1,7})$`)

// readSawn reads length,count,material,pieces,left. pieces lists the labels of the
// good pieces, with ; between and x 3 behind one that was cut three times.
func readSawn(file string, r io.Reader, bare measure.Unit) ([]sawn, *table) {
	t := readTable(file, r, []string{"length", "count", "material", "pieces", "left"}, nil)
	var out []sawn
	for i, row := range t.rows {
		s := sawn{row: i, group: row["material"]}
		s.length = t.length(i, "length", bare)
		s.count = t.count(i, "count", 1)
		if row["left"] != "" {
			if s.left = t.length(i, "left", bare); s.left >= s.length && s.length > 0 {
				t.fault(i, "left", "left %q; what is left of a board is shorter than the board", row["left"])
			}
		}
		for _, part := range strings.Split(row["pieces"], ";") {
			part = strings.TrimSpace(part)
			if part == "" {
				continue
			}
			x := cut.ToldPiece{Label: part, Count: 1}
			if m := times.FindStringSubmatch(part); m != nil {
				x.Label = m[1]
				x.Count, _ = strconv.ParseInt(m[2], 10, 64)
			}
			s.pieces = append(s.pieces, x)
		}
		out = append(out, s)
	}
	return out, t
}

// maxAnswer is the longest earlier answer that is read, in bytes.
const maxAnswer = 256 << 20

// readAfter reads an earlier answer: the boards it took and how each was to be
// cut.
func readAfter(file string, r io.Reader) (Document, *Fault) {
	var d Document
	dec := json.NewDecoder(io.LimitReader(r, maxAnswer))
	if err := dec.Decode(&d); err != nil {
		return d, &Fault{file, 1, 1, "this is no plan that stallwright cut --json wrote: " + err.Error()}
	}
	for i, u := range d.StockUsed {
		if u.LengthNM <= 0 || u.Count < 0 {
			return d, &Fault{file, 1, 1, fmt.Sprintf("stock_used[%d]: a board has a length, and a count of at least 0", i)}
		}
	}
	for i, q := range d.Patterns {
		if q.StockNM <= 0 || q.Times < 0 {
			return d, &Fault{file, 1, 1, fmt.Sprintf("patterns[%d]: a board has a length, and times of at least 0", i)}
		}
	}
	return d, nil
}

// told is how the earlier answer would cut.
func (d *Document) told() []cut.Told {
	var out []cut.Told
	for _, q := range d.Patterns {
		t := cut.Told{Group: q.Material, Length: measure.Length(q.StockNM), Times: q.Times}
		for _, x := range q.Pieces {
			t.Pieces = append(t.Pieces, cut.ToldPiece{Label: x.Label, Count: x.Count})
		}
		out = append(out, t)
	}
	return out
}

// goOn turns a problem into what is left of it: the boards an earlier answer took
// are paid for, boards sawn are gone, their good pieces are done and their rests
// are there. rows tells the line of the pieces file for each demand that is left.
func goOn(p *cut.Problem, before *Document, list []sawn, t *table) (rows []int) {
	bought := len(p.Stock)
	if before != nil {
		for _, u := range before.StockUsed {
			if u.Count > 0 && u.Price != "0.00" && u.Price != "0" {
				p.Stock = append(p.Stock, cut.Stock{Label: "on hand", Length: measure.Length(u.LengthNM), Available: u.Count, Group: u.Material})
			}
		}
	}
	boards := len(p.Stock)
	at := map[[2]string]int{}
	for i, d := range p.Demands {
		at[[2]string{d.Group, d.Label}] = i
	}
	left := make([]int64, len(p.Demands))
	for i, d := range p.Demands {
		left[i] = d.Count
	}
	for _, s := range list {
		need := s.count
		take := func(k int) {
			st := &p.Stock[k]
			if st.Group == s.group && st.Length == s.length && st.Price == 0 && st.Available > 0 {
				n := min(need, st.Available)
				st.Available -= n
				need -= n
			}
		}
		for k := bought; k < boards; k++ {
			take(k)
		}
		for k := 0; k < bought; k++ {
			take(k)
		}
		if need > 0 {
			t.fault(s.row, "length", "%d boards of %v of %q were sawn, but %d fewer were there", s.count, s.length, s.group, need)
		}
		for _, x := range s.pieces {
			i, ok := at[[2]string{s.group, x.Label}]
			switch {
			case !ok:
				t.fault(s.row, "pieces", "no piece of %q is called %q", s.group, x.Label)
			case x.Count > left[i]:
				t.fault(s.row, "pieces", "%q is cut %d times more often than it is wanted", x.Label, x.Count-left[i])
			default:
				left[i] -= x.Count
			}
		}
		if s.left > 0 {
			p.Stock = append(p.Stock, cut.Stock{Label: "rest", Length: s.left, Available: s.count, Group: s.group, Square: true})
		}
	}
	var still []cut.Demand
	for i, d := range p.Demands {
		if d.Count = left[i]; d.Count > 0 {
			still = append(still, d)
			rows = append(rows, i)
		}
	}
	p.Demands = still
	return rows
}
