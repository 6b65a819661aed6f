package workbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"stallwright/engine/phrase"
)

// sheet is one table with its heading and totals.
type sheet struct {
	name    string
	columns []column
	rows    [][]any // of text, numbers and formulas
}

// column is a column of a sheet.
type column struct {
	heading string
	kind    kind
	most    float64 // greatest width, in characters; longer texts are wrapped or run on
	sum     bool    // its total is shown
}

// formula is a cell worked out from others of its row: {A} stands for the row's
// cell in column A. Value is what it comes to now.
type formula struct {
	text  string
	value float64
}

const (
	headRow  = 5
	firstRow = headRow + 1
)

// cell is the name of a cell; columns count from 0, rows from 1.
func cell(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column+1, row)
	if err != nil {
		panic(err) // both are small and above zero
	}
	return name
}

func letter(column int) string { return strings.TrimRight(cell(column, 1), "1") }

// write puts a sheet into the book.
func (b *book) write(s *sheet) error {
	if b.first == "" {
		b.first = s.name
		if err := b.f.SetSheetName("Sheet1", s.name); err != nil {
			return err
		}
	} else if _, err := b.f.NewSheet(s.name); err != nil {
		return err
	}
	for _, step := range []func(*sheet) error{b.heading, b.body, b.totals, b.view, b.print} {
		if err := step(s); err != nil {
			return err
		}
	}
	return nil
}

// heading says what the sheet is of, and in which units its numbers are.
func (b *book) heading(s *sheet) error {
	j := b.p.Job
	date := j.Date
	if date == "" {
		date = b.say("workbook.no-date")
	}
	lines := []string{
		j.Job + ": " + s.name,
		b.w.Text("workbook.for", phrase.With("farm", phrase.Name(j.Farm.Name)), phrase.With("date", phrase.Name(date)), phrase.With("revision", phrase.Name(fmt.Sprint(j.Revision))), phrase.With("kit", phrase.Name(b.p.Kit.Kit))),
		b.unit("workbook.units-metric", "workbook.units-feet"),
	}
	for i, text := range lines {
		if err := b.f.SetCellStr(s.name, cell(0, i+1), text); err != nil {
			return err
		}
	}
	if err := b.f.SetCellStyle(s.name, "A1", "A1", b.title); err != nil {
		return err
	}
	for i, c := range s.columns {
		at := cell(i, headRow)
		if err := b.f.SetCellStr(s.name, at, c.heading); err != nil {
			return err
		}
		if err := b.f.SetCellStyle(s.name, at, at, b.head[c.kind]); err != nil {
			return err
		}
		if err := b.f.SetColWidth(s.name, letter(i), letter(i), s.width(i)); err != nil {
			return err
		}
	}
	return nil
}

// width is what a column's longest text needs, within limits.
func (s *sheet) width(column int) float64 {
	n := utf8.RuneCountInString(s.columns[column].heading) + 1
	for _, r := range s.rows {
		n = max(n, utf8.RuneCountInString(shown(r[column])))
	}
	return min(float64(n)+3, s.columns[column].most)
}

// shown is about what a cell shows.
func shown(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case formula:
		return fmt.Sprintf("%.2f", v.value)
	case float64:
		return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

// Height of a line of text, in points, of what stands around it, and of the tallest
// row that spreadsheets take: 409 (the office suites' own limit). What a taller
// text holds is in the cell all the same.
const (
	lineHeight = 12.5
	rowSpace   = 2
	tallest    = 409
)

// height is what a row's wrapped texts need. Programs differ in whether they work
// this out themselves.
func (s *sheet) height(row []any) float64 {
	lines := 1
	for k, v := range row {
		if s.columns[k].kind == label {
			lines = max(lines, wrapped(shown(v), s.width(k)*1.05))
		}
	}
	return min(float64(lines)*lineHeight+rowSpace, tallest)
}

// wrapped is how many lines a text takes, broken between words.
func wrapped(text string, width float64) int {
	lines, at := 1, 0.0
	for word := range strings.SplitSeq(text, " ") {
		n := float64(utf8.RuneCountInString(word))
		if at > 0 && at+1+n > width {
			lines, at = lines+1, 0
		}
		if at > 0 {
			at++
		}
		at += n
	}
	return lines
}

func (b *book) body(s *sheet) error {
	for i, row := range s.rows {
		if err := b.f.SetRowHeight(s.name, firstRow+i, s.height(row)); err != nil {
			return err
		}
		for k, v := range row {
			if err := b.put(s.name, cell(k, firstRow+i), v, firstRow+i); err != nil {
				return err
			}
		}
	}
	if len(s.rows) == 0 {
		return nil
	}
	for k, c := range s.columns {
		if err := b.f.SetCellStyle(s.name, cell(k, firstRow), cell(k, firstRow+len(s.rows)-1), b.style[c.kind]); err != nil {
			return err
		}
	}
	return nil
}

// put writes one cell: text never as anything but text, whatever it begins with.
func (b *book) put(sheet, at string, v any, row int) error {
	switch v := v.(type) {
	case nil:
		return nil
	case string:
		return b.f.SetCellStr(sheet, at, v)
	case formula:
		if err := b.f.SetCellFloat(sheet, at, v.value, -1, 64); err != nil {
			return err
		}
		text := v.text
		for c := 'A'; c <= 'Z'; c++ {
			text = strings.ReplaceAll(text, "{"+string(c)+"}", fmt.Sprintf("%c%d", c, row))
		}
		return b.f.SetCellFormula(sheet, at, text)
	}
	return b.f.SetCellValue(sheet, at, v)
}

// totals adds the columns up.
func (b *book) totals(s *sheet) error {
	row := firstRow + len(s.rows)
	if err := b.f.SetCellStr(s.name, cell(0, row), b.say("workbook.total")); err != nil {
		return err
	}
	for k, c := range s.columns {
		if err := b.f.SetCellStyle(s.name, cell(k, row), cell(k, row), b.total[c.kind]); err != nil {
			return err
		}
		if !c.sum || len(s.rows) == 0 {
			continue
		}
		sum := 0.0
		for _, r := range s.rows {
			switch v := r[k].(type) {
			case int:
				sum += float64(v)
			case float64:
				sum += v
			case formula:
				sum += v.value
			}
		}
		f := formula{fmt.Sprintf("SUM(%s:%s)", cell(k, firstRow), cell(k, row-1)), sum}
		if err := b.put(s.name, cell(k, row), f, row); err != nil {
			return err
		}
	}
	return nil
}

// view keeps the headings in sight and lets rows be filtered.
func (b *book) view(s *sheet) error {
	if err := b.f.SetPanes(s.name, &excelize.Panes{Freeze: true, YSplit: headRow, XSplit: 1, TopLeftCell: cell(1, firstRow), ActivePane: "bottomRight"}); err != nil {
		return err
	}
	return b.f.AutoFilter(s.name, cell(0, headRow)+":"+cell(len(s.columns)-1, headRow+max(len(s.rows), 1)), nil)
}

// print makes the sheet as wide as the page, with its headings on each.
func (b *book) print(s *sheet) error {
	landscape, wide, tall, yes := "landscape", 1, 0, true
	if err := b.f.SetPageLayout(s.name, &excelize.PageLayoutOptions{Size: &b.paper, Orientation: &landscape, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return err
	}
	if err := b.f.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
		return err
	}
	margin := 0.5
	if err := b.f.SetPageMargins(s.name, &excelize.PageLayoutMarginsOptions{Left: &margin, Right: &margin, Top: &margin}); err != nil {
		return err
	}
	if err := b.f.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddFooter: "&L" + strings.ReplaceAll(b.p.Job.Job, "&", "&&") + "&C&A&R&P / &N"}); err != nil {
		return err
	}
	return b.f.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", strings.ReplaceAll(s.name, "'", "''"), headRow, headRow), Scope: s.name,
	})
}
