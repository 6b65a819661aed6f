// Package cutfile is the cutting plan at the edge: pieces and stock out of CSV,
// the plan into JSON or a table.
//
// In come readers and flag texts; out go an exit code, a plan on standard output
// and, when something is wrong, every fault with its file, line and column on
// standard error. Nothing is written to standard output unless a plan exists.
package cutfile

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"stallwright/engine/cut"
	"stallwright/engine/measure"
)

// MaxRows is the most rows a file may have. A file beyond it is a mistake, not
// an order.
const MaxRows = 100_000

// Fault is one thing wrong in a file.
type Fault struct {
	File         string
	Line, Column int // from one; Column counts bytes
	Text         string
}

// Error is file:line:column: text.
func (f Fault) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, f.Text)
}

// place is where a row's fields stand.
type place struct {
	line   int
	column map[string]int
}

// table is a file read by its header.
type table struct {
	file   string
	rows   []map[string]string
	places []place
	faults []Fault
}

func (t *table) fault(row int, field, format string, a ...any) {
	p := t.places[row]
	c := p.column[field]
	if c == 0 {
		c = 1
	}
	t.faults = append(t.faults, Fault{t.file, p.line, c, fmt.Sprintf(format, a...)})
}

// readTable reads a CSV with a header. A quote mark inside a field is an inch
// mark, so fields need no quoting for it.
func readTable(file string, r io.Reader, need, may []string) *table {
	t := &table{file: file}
	c := csv.NewReader(r)
	c.LazyQuotes = true
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = true
	head, err := c.Read()
	if err != nil {
		t.faults = append(t.faults, asFault(file, 1, err, "the file is empty; want the header "+strings.Join(need, ",")))
		return t
	}
	if len(head) > 0 {
		head[0] = strings.TrimPrefix(head[0], "\ufeff")
	}
	known := map[string]bool{}
	for _, h := range append(append([]string(nil), need...), may...) {
		known[h] = true
	}
	seen := map[string]bool{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		head[i] = h
		line, col := c.FieldPos(i)
		switch {
		case !known[h]:
			t.faults = append(t.faults, Fault{file, line, col, fmt.Sprintf("unknown column %q; want %s", h, strings.Join(need, ","))})
		case seen[h]:
			t.faults = append(t.faults, Fault{file, line, col, fmt.Sprintf("column %q stands twice", h)})
		}
		seen[h] = true
	}
	for _, h := range need {
		if !seen[h] {
			t.faults = append(t.faults, Fault{file, 1, 1, fmt.Sprintf("column %q is missing; want %s", h, strings.Join(need, ","))})
		}
	}
	if len(t.faults) > 0 {
		return t
	}
	for {
		rec, err := c.Read()
		if errors.Is(err, io.EOF) {
			return t
		}
		if err != nil {
			t.faults = append(t.faults, asFault(file, len(t.rows)+2, err, ""))
			return t
		}
		line, _ := c.FieldPos(0)
		if len(t.rows) == MaxRows {
			t.faults = append(t.faults, Fault{file, line, 1, fmt.Sprintf("more than %d rows", MaxRows)})
			return t
		}
		row := map[string]string{}
		p := place{line, map[string]int{}}
		for i, v := range rec {
			if i < len(head) {
				row[head[i]] = strings.TrimSpace(v)
				_, p.column[head[i]] = c.FieldPos(i)
			}
		}
		t.rows = append(t.rows, row)
		t.places = append(t.places, p)
		if len(rec) != len(head) {
			t.fault(len(t.rows)-1, "", "%d fields; the header has %d", len(rec), len(head))
		}
	}
}

// asFault places an error of the CSV reader.
func asFault(file string, line int, err error, empty string) Fault {
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		return Fault{file, pe.Line, max(1, pe.Column), pe.Err.Error()}
	}
	if errors.Is(err, io.EOF) {
		return Fault{file, line, 1, empty}
	}
	return Fault{file, line, 1, "cannot be read: " + err.Error()}
}

// length reads a length field.
func (t *table) length(row int, field string, bare measure.Unit) measure.Length {
	s := t.rows[row][field]
	l, err := measure.ParseLength(s, bare)
	if err == nil {
		if l <= 0 {
			t.fault(row, field, "%s %q; want a length above zero", field, s)
		}
		return l
	}
	text := err.Error()
	var pe *measure.ParseError
	if errors.As(err, &pe) {
		text = fmt.Sprintf("%s %q: %s", field, s, pe.Problem)
		if pe.Hint != "" {
			text += "; " + pe.Hint
		}
		p := t.places[row]
		t.faults = append(t.faults, Fault{t.file, p.line, max(1, p.column[field]) + pe.Offset, text})
		return 0
	}
	t.fault(row, field, "%s", text)
	return 0
}

// count reads a whole number of at least least.
func (t *table) count(row int, field string, least int64) int64 {
	s := t.rows[row][field]
	n, err := strconv.ParseInt(s, 10, 64)
	switch {
	case errors.Is(err, strconv.ErrRange):
		t.fault(row, field, "%s %q is far too large", field, s)
	case err != nil:
		t.fault(row, field, "%s %q is not a whole number", field, s)
	case n < least:
		t.fault(row, field, "%s %d; want at least %d", field, n, least)
	}
	return n
}

var money = regexp.MustCompile(`^(\d{1,10})(?:\.(\d{1,2}))?$`)

// price reads an amount of money with at most two decimals, in hundredths.
func (t *table) price(row int, field string) (cents int64, ok bool) {
	s := t.rows[row][field]
	m := money.FindStringSubmatch(s)
	if m == nil {
		t.fault(row, field, "%s %q; want an amount such as 12.50, not below zero", field, s)
		return 0, false
	}
	return hundredths(m), true
}

// hundredths is what an amount of money matched.
func hundredths(m []string) int64 {
	whole, _ := strconv.ParseInt(m[1], 10, 64)
	cents, _ := strconv.ParseInt((m[2] + "00")[:2], 10, 64)
	return whole*100 + cents
}

var percent = regexp.MustCompile(`^(\d{1,2})(?:\.(\d))?\s*%?$`)

// defects reads boards in a hundred, in thousandths.
func (t *table) defects(row int) int64 {
	s := t.rows[row]["defects"]
	m := percent.FindStringSubmatch(s)
	if m == nil {
		t.fault(row, "defects", "defects %q; want boards in a hundred, such as 3 or 2.5%%", s)
		return 0
	}
	n, _ := strconv.ParseInt(m[1]+(m[2] + "0")[:1], 10, 64)
	if n > 500 {
		t.fault(row, "defects", "defects %q; want at most 50 in a hundred", s)
	}
	return n
}

// readPieces reads length,count,label,material, and if they are there tolerance
// (how much longer it may turn out; blank for none) and opening (what turns out
// longer together).
func readPieces(file string, r io.Reader, bare measure.Unit) ([]cut.Demand, *table) {
	t := readTable(file, r, []string{"length", "count", "label", "material"}, []string{"tolerance", "opening"})
	var out []cut.Demand
	seen := map[[2]string]int{}
	for i, row := range t.rows {
		d := cut.Demand{Label: row["label"], Group: row["material"], Opening: row["opening"]}
		if row["tolerance"] != "" {
			d.Tolerance = t.length(i, "tolerance", bare)
		}
		d.Length = t.length(i, "length", bare)
		d.Count = t.count(i, "count", 1)
		if d.Label == "" {
			t.fault(i, "label", "the label is blank; every piece needs one")
		} else if j, twice := seen[[2]string{d.Group, d.Label}]; twice {
			t.fault(i, "label", "label %q is already on line %d", d.Label, t.places[j].line)
		} else {
			seen[[2]string{d.Group, d.Label}] = i
		}
		out = append(out, d)
	}
	if len(t.rows) == 0 && len(t.faults) == 0 {
		t.faults = append(t.faults, Fault{file, 2, 1, "no pieces"})
	}
	return out, t
}

// readStock reads length,price,available,material, and if they are there square
// (yes for boards whose ends need no trim) and defects (boards in a hundred too
// bad to use).
func readStock(file string, r io.Reader, bare measure.Unit) ([]cut.Stock, *table) {
	t := readTable(file, r, []string{"length", "price", "available", "material"}, []string{"square", "defects"})
	var out []cut.Stock
	for i, row := range t.rows {
		s := cut.Stock{Group: row["material"], Available: cut.Unlimited}
		s.Length = t.length(i, "length", bare)
		price, priced := t.price(i, "price")
		s.Price = price
		if row["available"] != "" {
			s.Available = t.count(i, "available", 0)
		} else if priced && price == 0 {
			t.fault(i, "price", "an unlimited stock needs a price above zero; state what is available, or the price")
		}
		if row["defects"] != "" {
			s.Defects = t.defects(i)
		}
		switch strings.ToLower(row["square"]) {
		case "yes":
			s.Square = true
		case "", "no":
		default:
			t.fault(i, "square", "square %q; want yes or no", row["square"])
		}
		out = append(out, s)
	}
	if len(t.rows) == 0 && len(t.faults) == 0 {
		t.faults = append(t.faults, Fault{file, 2, 1, "no stock"})
	}
	return out, t
}

// locate turns a fault of a problem into one of the files.
func locate(f cut.Fault, pieces, stock *table) Fault {
	t := pieces
	if f.Part == cut.InStock {
		t = stock
	}
	if f.Part == cut.InSaw || f.Index >= len(t.places) {
		return Fault{"flags", 1, 1, f.Field + ": " + f.Text}
	}
	p := t.places[f.Index]
	return Fault{t.file, p.line, max(1, p.column[f.Field]), f.Field + ": " + f.Text}
}

func sortFaults(f []Fault) {
	sort.SliceStable(f, func(a, b int) bool {
		if f[a].File != f[b].File {
			return f[a].File < f[b].File
		}
		if f[a].Line != f[b].Line {
			return f[a].Line < f[b].Line
		}
		return f[a].Column < f[b].Column
	})
}

// CheckStock reads a stock file, as Run does with lengths that carry their units,
// and tells everything that is wrong with it.
func CheckStock(file string, r io.Reader) []Fault {
	_, t := readStock(file, r, measure.NoUnit)
	sortFaults(t.faults)
	return t.faults
}
