package measure

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseError says why a text could not be read as a quantity.
type ParseError struct {
	Text    string // the whole text as given
	Offset  int    // byte offset into Text where the trouble starts
	Problem string // what is wrong, as a clause without a full stop
	Hint    string // what would be right, as a sentence without a full stop; may be empty
}

// Error returns one or two sentences for the person who typed the text, such as
// “11' 14"”, character 5: 14 inches after the feet is a foot or more. Write 12' 2".
func (e *ParseError) Error() string {
	var b strings.Builder
	b.WriteString("“" + printable(e.Text, 60) + "”")
	if n := e.character(); n > 1 {
		fmt.Fprintf(&b, ", character %d", n)
	}
	b.WriteString(": " + e.Problem + ".")
	if e.Hint != "" {
		b.WriteString(" " + e.Hint + ".")
	}
	return b.String()
}

// character is Offset counted in characters from 1, as a person counts.
func (e *ParseError) character() int {
	at := min(max(e.Offset, 0), len(e.Text))
	return utf8.RuneCountInString(e.Text[:at]) + 1
}

// printable shortens s to at most n characters and spells out what a screen
// would not show.
func printable(s string, n int) string {
	var b strings.Builder
	for _, r := range s {
		if n == 0 {
			b.WriteString("…")
			break
		}
		n--
		if strconv.IsPrint(r) || r == '\u00a0' {
			b.WriteRune(r)
		} else {
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
}
