package offer

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"

	"stallwright/engine/measure"
	"stallwright/engine/money"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

// Document is an offer as data. Amounts are whole numbers of the currency's minor
// unit; beside the total stands its text.
type Document struct {
	Format     int         `json:"format"`
	Job        string      `json:"job"`
	Book       string      `json:"book"`
	Dated      string      `json:"dated"`
	Until      string      `json:"until,omitempty"`
	Currency   string      `json:"currency"`
	Decimals   int         `json:"decimals"` // of the currency's amounts
	Complete   bool        `json:"complete"`
	Missing    []string    `json:"missing"` // what has no price, for people
	Old        []string    `json:"old"`     // which prices do not hold any more, for people
	Without    []string    `json:"without"` // work, delivery, tax: what the offer leaves out
	Yard       string      `json:"yard,omitempty"`
	LeadDays   int         `json:"lead_days,omitempty"`
	Structures []Structure `json:"structures"`
	Lines      []Line      `json:"lines"`
	Taxes      []Tax       `json:"taxes"`
	Cost       int64       `json:"cost"`
	Lumber     int64       `json:"lumber"` // of it, what the boards cost
	Net        int64       `json:"net"`
	Tax        int64       `json:"tax"`
	Total      int64       `json:"total"`
	TotalText  string      `json:"total_text"`
}

// Structure is what one structure comes to.
type Structure struct {
	Name  string `json:"name"`
	Cost  int64  `json:"cost"`
	Price int64  `json:"price"`
}

// Line is one line.
type Line struct {
	Kind      string   `json:"kind"`
	Item      string   `json:"item"`
	Name      string   `json:"name"`
	Length    string   `json:"length,omitempty"`
	LengthNM  int64    `json:"length_nm,omitempty"`
	Treated   bool     `json:"treated,omitempty"`
	Delivered bool     `json:"delivered,omitempty"`
	Count     int64    `json:"count,omitempty"`
	Minutes   int64    `json:"minutes,omitempty"`
	Cost      int64    `json:"cost"`
	Price     int64    `json:"price"`
	Shares    []int64  `json:"shares"` // of the price, by structure
	Why       []string `json:"why"`
}

// Tax is one tax.
type Tax struct {
	Name   string `json:"name"`
	Rate   string `json:"rate"`
	Base   int64  `json:"base"`
	Amount int64  `json:"amount"`
}

// whyLines is how many lines of a reason go with a line: down to the take-off.
const whyLines = 4

// NewDocument is an offer as data, its names in the words' language.
func NewDocument(p *plan.Plan, o *price.Offer, w *words.Words) *Document {
	s := &scribe{p, o, w}
	n, _ := o.Currency.Decimals()
	d := &Document{
		Format: 1, Job: p.Job.Job, Book: o.Book.Prices, Dated: o.Book.Dated, Until: o.Book.Until, Currency: string(o.Currency), Decimals: n,
		Complete: o.Complete(), Missing: append([]string{}, s.missing()...), Old: append([]string{}, s.old()...), Without: []string{}, LeadDays: o.Lead,
		Structures: []Structure{}, Lines: []Line{}, Taxes: []Tax{},
		Cost: int64(o.Cost), Net: int64(o.Net), Tax: int64(o.Tax), Total: int64(o.Total), TotalText: s.money(o.Total),
	}
	if y := p.Job.Lumber.Supply; y != nil {
		d.Yard = y.Yard
	}
	for _, v := range o.Without {
		d.Without = append(d.Without, string(v))
	}
	for i, v := range o.Structures {
		d.Structures = append(d.Structures, Structure{v, int64(o.Shares[i].Cost), int64(o.Shares[i].Price)})
	}
	for i := range o.Lines {
		l := &o.Lines[i]
		v := Line{Kind: string(l.Kind), Item: l.Item, Name: s.item(l), LengthNM: int64(l.Length), Treated: l.Treated, Delivered: l.Onhand,
			Count: l.Count, Minutes: l.Minutes, Cost: int64(l.Cost), Price: int64(l.Price), Shares: []int64{}, Why: []string{}}
		if l.Length > 0 {
			v.Length = p.Show(l.Length)
		}
		if l.Kind == price.Lumber {
			d.Lumber += v.Cost
		}
		for _, x := range l.Shares {
			v.Shares = append(v.Shares, int64(x.Price))
		}
		chain := s.w.Chain(l.Why)
		v.Why = append(v.Why, chain[:min(len(chain), whyLines)]...)
		d.Lines = append(d.Lines, v)
	}
	for i := range o.Taxes {
		t := &o.Taxes[i]
		d.Taxes = append(d.Taxes, Tax{t.Name, t.Rate.String(), int64(t.Base), int64(t.Amount)})
	}
	return d
}

// JSON writes an offer as data.
func JSON(d *Document) ([]byte, error) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// CSV lists an offer's lines for a spreadsheet, each with its price, each
// structure's part of it and, for the office, its cost (RFC 4180). Headers and kinds
// are the same in every language, amounts have a point.
func CSV(p *plan.Plan, o *price.Offer, costs bool) ([]byte, error) {
	head := []string{"kind", "item", "name", "length", "length_mm", "treated", "count", "hours", "cost", "price"}
	for _, s := range o.Structures {
		head = append(head, "price "+s)
	}
	table := [][]string{head}
	text := o.Currency.Text
	for i := range o.Lines {
		l := &o.Lines[i]
		row := []string{string(l.Kind), l.Item, l.Name, "", "", "", "", "", text(l.Cost), text(l.Price)}
		if l.Length > 0 {
			row[3], row[4] = p.Show(l.Length), millimetres(l.Length)
		}
		if l.Treated {
			row[5] = "yes"
		}
		if l.Count > 0 {
			row[6] = fmt.Sprint(l.Count)
		}
		if l.Minutes > 0 {
			row[7] = fixed((l.Minutes*100 + 30) / 60)
		}
		for _, s := range l.Shares {
			row = append(row, text(s.Price))
		}
		table = append(table, row)
	}
	for i := range o.Missing {
		v := &o.Missing[i]
		row := make([]string, len(head))
		row[0], row[1], row[2], row[6], row[8], row[9] = string(v.Kind), v.Item, v.Name, fmt.Sprint(v.Count), "no price", "no price"
		if v.Length > 0 {
			row[3], row[4] = p.Show(v.Length), millimetres(v.Length)
		}
		table = append(table, row)
	}
	total := func(kind, called string, cost string, price money.Amount) {
		row := make([]string, len(head))
		row[0], row[2], row[8], row[9] = kind, called, cost, text(price)
		table = append(table, row)
	}
	total("net", "sum before tax", text(o.Cost), o.Net)
	for s, v := range o.Shares {
		table[len(table)-1][10+s] = text(v.Price)
	}
	for i := range o.Taxes {
		total("tax", o.Taxes[i].Name+" "+o.Taxes[i].Rate.String(), "", o.Taxes[i].Amount)
	}
	total("total", "total "+string(o.Currency), "", o.Total)
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	w.UseCRLF = true
	for _, r := range table {
		if !costs {
			r = append(r[:8:8], r[9:]...)
		}
		for i := range r {
			r[i] = plain(r[i])
		}
		if err := w.Write(r); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return buf.Bytes(), w.Error()
}

// plain keeps a cell from being read as a formula by a spreadsheet; a negative
// amount is none.
func plain(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) && !(s[0] == '-' && len(s) > 1 && strings.Trim(s[1:], "0123456789.") == "") {
		return "'" + s
	}
	return s
}

// fixed writes hundredths.
func fixed(v int64) string { return fmt.Sprintf("%d.%02d", v/100, v%100) }

// millimetres is a length in exact decimal millimetres.
func millimetres(l measure.Length) string {
	s := fmt.Sprintf("%d.%06d", l/measure.Millimetre, l%measure.Millimetre)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
