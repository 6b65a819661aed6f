package packet

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/words"
)

// fieldText is plain text for the field in a crew's language: titles, steps with
// hanging lines, narrow tables.
type fieldText struct {
	buf  bytes.Buffer
	w    *words.Words
	tape measure.Tape
	to   Scribe // where the text goes in place of buf; nil: buf
}

// sheetWidth is how many characters stand on a line of a printed sheet.
const sheetWidth = 100

// show writes a length as the crew's tape shows it.
func (f *fieldText) show(l measure.Length) string { return f.w.Length(f.mark(l)) }

// mark is a length at the nearest mark of the tape.
func (f *fieldText) mark(l measure.Length) measure.Length { return f.tape.Round(l, measure.Nearest) }

// taped is a length as a value of a phrase.
func (f *fieldText) taped(name string, l measure.Length) phrase.Arg {
	return phrase.With(name, phrase.Length(f.mark(l)))
}

// label is a text that no language changes, as a value of a phrase.
func label(name, text string) phrase.Arg { return phrase.With(name, phrase.Name(text)) }

func (f *fieldText) say(key string, args ...phrase.Arg) string { return f.w.Text(key, args...) }

// line writes a line as it is; an empty one parts.
func (f *fieldText) line(text string) {
	if f.to != nil {
		f.toHead(text)
		return
	}
	f.buf.WriteString(text + "\n")
}

func (f *fieldText) title(text, under string) {
	if f.to != nil {
		f.to.Title(text)
		return
	}
	f.line("\n" + text + "\n" + strings.Repeat(under, len([]rune(text))))
}

// para writes a text between two margins, its first line behind a head.
func (f *fieldText) para(head string, margin int, text string) {
	if f.to != nil {
		f.to.Para(text)
		return
	}
	lead := head + strings.Repeat(" ", max(margin-len([]rune(head)), 0))
	at := len([]rune(lead))
	out := lead
	for i, word := range strings.Fields(text) {
		n := len([]rune(word))
		switch {
		case i > 0 && at+1+n > sheetWidth:
			f.line(strings.TrimRight(out, " "))
			out, at = strings.Repeat(" ", margin)+word, margin+n
		case i > 0:
			out, at = out+" "+word, at+1+n
		default:
			out, at = out+word, at+n
		}
	}
	f.line(strings.TrimRight(out, " "))
}

// step writes a numbered step: its name, then what is done, sentence by sentence
// on lines of their own.
func (f *fieldText) step(no int, name string, margin int, sentences ...string) {
	if f.to != nil {
		f.to.Step(no, name, sentences)
		return
	}
	head := fmt.Sprintf("  %d. %s", no, name)
	for _, s := range sentences {
		f.para(head, margin, s)
		head = ""
	}
}

// margin is where the text of steps with these names begins.
func margin(names ...string) int {
	most := 0
	for _, n := range names {
		most = max(most, len([]rune(n)))
	}
	return most + len("  1. ") + 2
}

// table aligns rows in columns, two spaces apart; cells must hold no tabs.
func (f *fieldText) table(rows [][]string) {
	if f.to != nil {
		f.to.Table(rows)
		return
	}
	var text bytes.Buffer
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, "  "+strings.Join(r, "\t")+"\t")
	}
	_ = w.Flush() // a bytes.Buffer takes every write
	for line := range strings.Lines(text.String()) {
		f.buf.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
}

// fieldTape is the tape that a job's crew carries.
func fieldTape(sys measure.System) measure.Tape {
	if sys == measure.Metric {
		return measure.TapeMillimetre
	}
	return measure.TapeSixteenth
}
