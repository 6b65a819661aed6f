package document

import (
	"strings"
	"unicode/utf8"
)

// source is a text with its lines at hand.
type source struct {
	file  string
	raw   []byte   // as given
	lines []string // without line ends and byte order mark
	long  ruler    // of the long line that was asked for last
}

// ruler finds characters in a line quickly.
type ruler struct {
	line    int
	offsets []int // of every character, and of the end
}

// shortLine is how many bytes are counted through rather than measured once.
const shortLine = 256

func newSource(file string, raw []byte) source {
	s := source{file: file, raw: raw}
	if len(raw) > 0 && len(raw) <= MaxBytes {
		s.lines = strings.Split(plainBreaks(strings.TrimPrefix(string(raw), "\ufeff")), "\n")
	}
	return s
}

// plainBreaks turns the three line breaks of YAML (1.2.2, section 5.4) into one.
func plainBreaks(s string) string {
	if !strings.Contains(s, "\r") {
		return s
	}
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
}

// at is the place of a line and column, kept inside the text.
func (s *source) at(line, column int) Pos {
	line = max(1, min(line, len(s.lines)))
	column = max(1, column)
	if line > len(s.lines) {
		column = 1
	} else if most := s.characters(line) + 1; column > most {
		column = most
	}
	return Pos{File: s.file, Line: line, Column: column}
}

// characters is how many characters a line has.
func (s *source) characters(line int) int {
	if text := s.lines[line-1]; len(text) <= shortLine {
		return utf8.RuneCountInString(text)
	}
	return len(s.measure(line)) - 1
}

// offset is where the character at a column starts in its line, in bytes.
func (s *source) offset(line, column int) int {
	text := s.lines[line-1]
	if len(text) > shortLine {
		return s.measure(line)[column-1]
	}
	at := 0
	for range column - 1 {
		_, n := utf8.DecodeRuneInString(text[at:])
		at += n
	}
	return at
}

func (s *source) measure(line int) []int {
	if s.long.line != line {
		text := s.lines[line-1]
		s.long = ruler{line: line, offsets: make([]int, 0, len(text)+1)}
		for i := range text {
			s.long.offsets = append(s.long.offsets, i)
		}
		s.long.offsets = append(s.long.offsets, len(text))
	}
	return s.long.offsets
}

// from is the rest of the line from a place on, "" if it is not in this text.
func (s *source) from(p Pos) string {
	if s.lineAt(p) == "" || p.Column < 1 || p.Column > s.characters(p.Line)+1 {
		return ""
	}
	return s.lines[p.Line-1][s.offset(p.Line, p.Column):]
}

// before is the line up to a place.
func (s *source) before(p Pos) string {
	return strings.TrimSuffix(s.lineAt(p), s.from(p))
}

// lineAt is the line a place stands in, "" if it is not in this text.
func (s *source) lineAt(p Pos) string {
	if p.File != s.file || p.Line < 1 || p.Line > len(s.lines) {
		return ""
	}
	return s.lines[p.Line-1]
}

// indent is the number of spaces a line starts with.
func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// above is the next line above a place that has something on it, and below the
// number of the next one below it (0 if there is none).
func (s *source) above(p Pos) string {
	for i := p.Line - 2; i >= 0 && i < len(s.lines); i-- {
		if filled(s.lines[i]) {
			return s.lines[i]
		}
	}
	return ""
}

func (s *source) below(p Pos) int {
	for i := p.Line; i < len(s.lines); i++ {
		if filled(s.lines[i]) {
			return i + 1
		}
	}
	return 0
}

func filled(line string) bool {
	bare := strings.TrimLeft(line, " \t")
	return bare != "" && bare[0] != '#'
}
