package document

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Problem is one mistake in a text.
type Problem struct {
	Pos     Pos    // where it is; zero when it is nowhere in particular
	Path    string // which value, as in structures[0].rooms[2].width; may be empty
	Text    string // the text that is wrong, as written; may be empty
	Message string // what is wrong
	Hint    string // what would be right; may be empty

	line string // the source line, for the snippet
}

// Problems are mistakes in order of their places. It is an error if not empty.
type Problems []Problem

// Error prints every problem as "file:line:column: message", followed by the line
// of the text, a caret under what is wrong, and the hint.
func (ps Problems) Error() string {
	parts := make([]string, len(ps))
	for i, p := range ps {
		parts[i] = p.String()
	}
	return strings.Join(parts, "\n")
}

// String prints the problem over several lines, without a newline at the end.
func (p Problem) String() string {
	var b strings.Builder
	if at := p.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	b.WriteString(p.Message)
	if p.line != "" && p.Pos.Line > 0 && p.Pos.Column > 0 {
		line, pad, width := p.snippet()
		number := fmt.Sprintf("%5d", p.Pos.Line)
		fmt.Fprintf(&b, "\n%s | %s", number, line)
		fmt.Fprintf(&b, "\n%s | %s%s", strings.Repeat(" ", len(number)), pad, strings.Repeat("^", width))
	}
	if p.Hint != "" {
		b.WriteString("\n  hint: " + p.Hint)
	}
	return b.String()
}

// snippetWidth is how many characters of a long line are shown.
const snippetWidth = 100

// snippet gives the part of the line worth showing, what to print before the
// caret so that it stands below the first wrong character, and how many carets.
func (p Problem) snippet() (line, pad string, width int) {
	chars := []rune(p.line)
	at := min(p.Pos.Column-1, len(chars))
	width = 1
	if first, _, _ := strings.Cut(p.Text, "\n"); first != "" && strings.HasPrefix(string(chars[at:]), first) {
		width = utf8.RuneCountInString(first)
	}
	start, end := 0, len(chars)
	if len(chars) > snippetWidth {
		start = max(0, min(at-snippetWidth/3, len(chars)-snippetWidth))
		end = start + snippetWidth
	}
	width = max(1, min(width, end-at))
	before, after := "", ""
	if start > 0 {
		before = "... "
	}
	if end < len(chars) {
		after = " ..."
	}
	// Tabs are kept in the padding so that they are as wide above as below.
	blank := strings.Map(func(c rune) rune {
		if c == '\t' {
			return c
		}
		return ' '
	}, string(chars[start:at]))
	return before + visible(string(chars[start:end])) + after, strings.Repeat(" ", len(before)) + blank, width
}

// visible replaces what a terminal would not show as one character.
func visible(s string) string {
	return strings.Map(func(c rune) rune {
		if c != '\t' && isControl(c) {
			return utf8.RuneError
		}
		return c
	}, s)
}

// isControl is true of the characters YAML calls not printable (YAML 1.2.2,
// production 1), of which only tab and the line breaks may stand in a text, and
// of the marks that reorder or hide neighbouring text on screen.
func isControl(c rune) bool {
	switch {
	case c < 0x20, 0x7f <= c && c <= 0x9f && c != 0x85, c == 0xfffe, c == 0xffff:
		return true
	case 0x202a <= c && c <= 0x202e, 0x2066 <= c && c <= 0x2069, c == 0xfeff:
		return true
	}
	return false
}

var spelled = strings.NewReplacer("\n", `\n`, "\r", `\r`, "\t", `\t`)

// quote sets text off from the sentence it stands in. The marks are not those of
// inches, which texts here are full of.
func quote(s string) string {
	const most = 60
	if chars := []rune(s); len(chars) > most {
		s = string(chars[:most]) + "..."
	}
	return "“" + visible(spelled.Replace(s)) + "”"
}

// sorted puts problems in order of place, drops repeats, and cuts the list at
// MaxProblems. dropped says that not all were even kept.
func sorted(ps Problems, dropped bool) Problems {
	ps = slices.Clone(ps)
	slices.SortStableFunc(ps, func(a, b Problem) int { return a.Pos.Compare(b.Pos) })
	ps = slices.Compact(ps)
	more := len(ps) - MaxProblems
	if more <= 0 {
		return ps
	}
	message := fmt.Sprintf("%d more problems are not shown", more)
	switch {
	case dropped:
		message = "more than " + message
	case more == 1:
		message = "1 more problem is not shown"
	}
	return append(ps[:MaxProblems:MaxProblems], Problem{Message: message, Hint: "put these right first, then read the text again"})
}
