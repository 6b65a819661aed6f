package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/paper/words"
)

// Options say how a workbook is printed.
type Options struct {
	A4    bool         // paper; else Letter
	Offer *price.Offer // of the plan, for a sheet of prices without costs; nil: none
}

// Make writes the workbook.
func Make(p *plan.Plan, w *words.Words, o Options) ([]byte, error) {
	b := &book{p: p, w: w, f: excelize.NewFile(), paper: 1}
	if o.A4 {
		b.paper = 9
	}
	defer b.f.Close()
	if err := b.f.SetDefaultFont("Arial"); err != nil {
		return nil, err
	}
	if err := b.styles(); err != nil {
		return nil, err
	}
	sheets := []*sheet{b.takeoff(), b.cutList(), b.pieces()}
	if o.Offer != nil {
		sheets = append(sheets, b.offer(o.Offer))
	}
	for _, s := range sheets {
		s.name = tab(s.name)
		if err := b.write(s); err != nil {
			return nil, fmt.Errorf("sheet %q: %w", s.name, err)
		}
	}
	if err := b.finish(); err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := b.f.Write(&buf); err != nil {
		return nil, err
	}
	return numericFormulas(buf.Bytes())
}

// book is a workbook being written.
type book struct {
	p     *plan.Plan
	w     *words.Words
	f     *excelize.File
	paper int // the format's number of a paper size
	first string
	style map[kind]int
	head  map[kind]int
	title int
	total map[kind]int
}

// kind is what a column holds.
type kind int

const (
	text    kind = iota
	label        // text that is wrapped
	count        // whole numbers
	number       // numbers with up to four decimals
	amount       // numbers with two decimals
	centred      // short text in the middle
)

// formats are the number formats of kinds.
var formats = map[kind]string{count: "0", number: "0.####", amount: "#,##0.00"}

// font is one that every office has, or has one of the same widths for.
func font(size float64, bold bool) *excelize.Font {
	return &excelize.Font{Family: "Arial", Size: size, Bold: bold}
}

// align sets numbers to the right and text a little off the number before it.
func align(k kind) *excelize.Alignment {
	a := &excelize.Alignment{Vertical: "top", WrapText: k == label}
	switch k {
	case text, label:
		a.Horizontal, a.Indent = "left", 1
	case centred:
		a.Horizontal = "center"
	default:
		a.Horizontal = "right"
	}
	return a
}

func (b *book) styles() error {
	b.style, b.total, b.head = map[kind]int{}, map[kind]int{}, map[kind]int{}
	for k := text; k <= centred; k++ {
		cell := excelize.Style{Font: font(10, false), Alignment: align(k), Border: []excelize.Border{{Type: "bottom", Color: "BFBFBF", Style: 1}}}
		if f, ok := formats[k]; ok {
			cell.CustomNumFmt = &f
		}
		var err error
		if b.style[k], err = b.f.NewStyle(&cell); err != nil {
			return err
		}
		cell.Font = font(10, true)
		cell.Border = []excelize.Border{{Type: "top", Color: "000000", Style: 2}}
		if b.total[k], err = b.f.NewStyle(&cell); err != nil {
			return err
		}
		head := excelize.Style{Font: font(10, true), Alignment: align(k), Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E6E6E6"}},
			Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}}
		head.Alignment.WrapText, head.Alignment.Vertical = true, "center"
		if b.head[k], err = b.f.NewStyle(&head); err != nil {
			return err
		}
	}
	var err error
	b.title, err = b.f.NewStyle(&excelize.Style{Font: font(14, true)})
	return err
}

// say is a message of the catalogues.
func (b *book) say(key string) string { return b.w.Text(key) }

// length is a length in the unit of number columns: inches or millimetres.
func (b *book) length(l measure.Length) float64 {
	if b.metric() {
		return l.Millimetres()
	}
	return l.Inches()
}

// perRun is how many of length's units one of a long run's has: metres or feet.
func (b *book) perRun() int64 {
	if b.metric() {
		return 1000
	}
	return 12
}

// mass is a mass in kilograms or pounds.
func (b *book) mass(m measure.Mass) float64 {
	if b.metric() {
		return m.Kilograms()
	}
	return float64(m) / float64(measure.Pound)
}

func (b *book) metric() bool { return b.p.Job.Units == measure.Metric }

// unit is the message of a unit, in the job's system.
func (b *book) unit(metric, feet string) string {
	if b.metric() {
		return b.say(metric)
	}
	return b.say(feet)
}

// finish sets what the whole file says of itself. The dates are the job's, or
// none: nothing comes from a clock.
func (b *book) finish() error {
	stamp := "2000-01-01T00:00:00Z"
	if b.p.Job.Date != "" {
		stamp = b.p.Job.Date + "T00:00:00Z"
	}
	if err := b.f.SetDocProps(&excelize.DocProperties{
		Title: b.p.Job.Job, Creator: "Stallwright", LastModifiedBy: "Stallwright", Created: stamp, Modified: stamp, Language: b.w.Language().Tag,
	}); err != nil {
		return err
	}
	all := true
	return b.f.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &all})
}

// numericFormulas says of each formula's kept value that it is a number. The
// library marks it as text, and a reader that does not calculate would show it
// so.
func numericFormulas(data []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		part, err := io.ReadAll(r)
		if err = firstOf(err, r.Close()); err != nil {
			return nil, err
		}
		if strings.HasPrefix(f.Name, "xl/worksheets/") {
			part = bytes.ReplaceAll(part, []byte(` t="str"><f>`), []byte(`><f>`))
		}
		w, err := out.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(part); err != nil {
			return nil, err
		}
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

func firstOf(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// tabMost is the most characters that a tab's name may have.
const tabMost = 31

// tab makes a name one that a tab may have, whatever a translator called it.
func tab(name string) string {
	name = strings.NewReplacer("[", "(", "]", ")", ":", " ", "\\", "-", "/", "-", "?", " ", "*", " ").Replace(name)
	if r := []rune(name); len(r) > tabMost {
		name = string(r[:tabMost])
	}
	return strings.Trim(name, "' ")
}
