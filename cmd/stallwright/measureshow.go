package main

import (
	"fmt"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"stallwright/app/walk"
	"stallwright/engine/measure"
)

// narrow is how many characters a phone's terminal holds in a line.
const narrow = 46

// show puts a question on the screen, big and plain.
func (s *session) show(q *walk.Question) {
	fmt.Fprintf(s.out, "\n%s\n%d of %d\n\n", strings.Repeat("=", narrow), q.No, q.Of)
	s.lines("  ", q.Ask)
	s.lines("  ", q.How)
	if q.Watch != "" {
		s.lines("  ! ", q.Watch)
	}
	fmt.Fprintln(s.out)
	s.lines("", q.Type)
	fmt.Fprint(s.out, "> ")
}

// say puts sentences on the screen.
func (s *session) say(lines []string) {
	for _, l := range lines {
		s.lines("", l)
	}
}

// lines writes a text in lines that a narrow screen holds; lines that begin with
// blanks keep them.
func (s *session) lines(indent, text string) {
	if strings.HasPrefix(text, " ") {
		fmt.Fprintln(s.out, indent+text)
		return
	}
	line := indent
	for _, word := range strings.Fields(text) {
		if line != indent && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > narrow {
			fmt.Fprintln(s.out, line)
			line = strings.Repeat(" ", utf8.RuneCountInString(indent))
		}
		if strings.TrimSpace(line) != "" && !strings.HasSuffix(line, " ") {
			line += " "
		}
		line += word
	}
	fmt.Fprintln(s.out, line)
}

// list prints the sheet.
func (s *session) list() error {
	if err := s.open(); err != nil {
		return err
	}
	p := s.walk.Plan()
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "no\twhat\tstate\tread\texpected\t")
	for _, q := range s.walk.Questions() {
		read, expected := "", ""
		if q.HasRead {
			read = q.Read.In(p.Job.Units)
		}
		if q.Known && q.Kind == walk.AskLength {
			expected = q.Expected.Round(p.Kit.Board.Mark, measure.Nearest).In(p.Job.Units)
			if q.Drawn {
				expected += " drawn"
			}
		}
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t\n", q.No, q.ID, q.Status, read, expected)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(s.out, "\nbays")
	for i := range p.Layout.Bays {
		if b := &p.Layout.Bays[i]; !b.IsOpen() {
			frame := string(p.Fit.Frames[b.Run])
			if frame == "" {
				frame = "not stated"
			}
			kind := "frame"
			if !p.Layout.Runs[b.Run].Framed() {
				kind = "channels"
			}
			fmt.Fprintf(w, "%s\t%s\t%s %s\t\n", b.Name, p.Fit.Bays[i].State.Words(), kind, frame)
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	open, waiting := s.walk.Left()
	_, err := fmt.Fprintf(s.out, "%d questions open, %d waiting.\n", open, waiting)
	return err
}
