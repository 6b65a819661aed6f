package offer

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

// Text is the customer's paper as plain text.
func (v *Paper) Text() []byte {
	var b bytes.Buffer
	head(&b, v.Title)
	fmt.Fprintln(&b, v.For)
	for _, n := range v.Notes {
		fmt.Fprintln(&b, n)
	}
	for i := range v.Parts {
		fmt.Fprintf(&b, "\n%s\n%s\n", v.Parts[i].Title, strings.Repeat("-", utf8.RuneCountInString(v.Parts[i].Title)))
		rows(&b, append(append([]Row(nil), v.Parts[i].Rows...), v.Parts[i].Sum))
	}
	fmt.Fprintln(&b)
	rows(&b, v.Totals)
	if len(v.Under) > 0 {
		fmt.Fprintln(&b)
	}
	for _, n := range v.Under {
		fmt.Fprintln(&b, n)
	}
	return b.Bytes()
}

func head(b *bytes.Buffer, title string) {
	fmt.Fprintf(b, "%s\n%s\n", title, strings.Repeat("=", utf8.RuneCountInString(title)))
}

func rows(b *bytes.Buffer, list []Row) {
	var cells [][]string
	for _, r := range list {
		cells = append(cells, []string{r.Text, r.Amount})
	}
	columns(b, cells, 1)
}

// columns sets cells below each other; those from the numbered column on stand at
// the right.
func columns(b *bytes.Buffer, cells [][]string, right int) {
	var wide []int
	for _, r := range cells {
		for i, c := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range cells {
		var line strings.Builder
		for i, c := range r {
			if i > 0 {
				line.WriteString("  ")
			}
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(c))
			if i >= right {
				line.WriteString(pad + c)
			} else {
				line.WriteString(c + pad)
			}
		}
		fmt.Fprintln(b, strings.TrimRight(line.String(), " "))
	}
}

// Office is the offer as the office reads it: each line with cost, price and
// margin, and what each structure comes to.
func Office(p *plan.Plan, o *price.Offer, w *words.Words) []byte {
	s := &scribe{p, o, w}
	var b bytes.Buffer
	head(&b, s.say("offer.title-office"))
	fmt.Fprintln(&b, s.say("offer.for", name("job", p.Job.Job), name("farm", p.Job.Farm.Name)))
	fmt.Fprintln(&b, s.say("offer.by-book", name("book", o.Book.Prices), name("date", o.Book.Dated), name("currency", string(o.Currency))))
	if y := p.Job.Lumber.Supply; y != nil {
		fmt.Fprintln(&b, s.say("offer.by-yard", name("yard", y.Yard), name("date", y.Dated)))
	}
	for _, n := range s.old() {
		fmt.Fprintln(&b, n)
	}
	if !o.Complete() {
		fmt.Fprintf(&b, "\n%s\n", s.say("offer.incomplete", countOf(len(o.Missing))))
		for _, m := range s.missing() {
			fmt.Fprintln(&b, "- "+m)
		}
	}
	fmt.Fprintln(&b)
	table := [][]string{{s.say("offer.col-item"), s.say("offer.col-length"), s.say("offer.col-count"), s.say("offer.col-cost"), s.say("offer.col-price"), s.say("offer.col-margin")}}
	for i := range o.Lines {
		l := &o.Lines[i]
		length := ""
		if l.Length > 0 {
			length = w.Length(l.Length)
		}
		what := s.item(l)
		if l.Onhand {
			what = s.say("offer.onhand", name("what", what))
		}
		table = append(table, []string{what, length, s.quantity(l), s.amount(l.Cost), s.amount(l.Price), s.percent(l.Price-l.Cost, l.Price)})
	}
	columns(&b, table, 1)
	fmt.Fprintln(&b)
	sums := [][]string{{"", s.say("offer.col-cost"), s.say("offer.col-price"), s.say("offer.col-margin")}}
	for i := range o.Structures {
		v := o.Shares[i]
		sums = append(sums, []string{s.structure(i), s.amount(v.Cost), s.amount(v.Price), s.percent(v.Price-v.Cost, v.Price)})
	}
	sums = append(sums, []string{s.say("offer.net"), s.amount(o.Cost), s.amount(o.Net), s.percent(o.Margin(), o.Net)})
	for i := range o.Taxes {
		t := &o.Taxes[i]
		sums = append(sums, []string{s.say("offer.tax", name("tax", t.Name), name("rate", s.rate(t.Rate)), name("base", s.amount(t.Base))), "", s.amount(t.Amount), ""})
	}
	sums = append(sums, []string{s.say("offer.total"), "", s.money(o.Total), ""})
	columns(&b, sums, 1)
	if under := s.under(); len(under) > 0 {
		fmt.Fprintln(&b)
		for _, n := range under {
			fmt.Fprintln(&b, n)
		}
	}
	return b.Bytes()
}
