package document

import (
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/token"
)

// spot is where a token stands.
type spot struct{ start, end Pos }

// locate finds every token in the text by laying the tokens' own characters along
// it, white space aside. The scanner's positions are now and then off, after a
// text over several lines for example; these are exact. The second result is the
// place of the first character that is in no token, or the zero Pos: what the
// scanner drops, a person must hear of.
func (r *Reporter) locate(text string, tokens token.Tokens) (map[*token.Token]spot, Pos) {
	spots := make(map[*token.Token]spot, len(tokens))
	c := cursor{text: text, pos: Pos{File: r.src.file, Line: 1, Column: 1}}
	for _, t := range tokens {
		s, ok := c.lay(t)
		if !ok {
			return spots, c.pos
		}
		spots[t] = s
	}
	if c.skip(); c.text != "" {
		return spots, c.pos
	}
	return spots, Pos{}
}

// lay moves the cursor over a token.
func (c *cursor) lay(t *token.Token) (s spot, ok bool) {
	if t.Type == token.DoubleQuoteType || t.Type == token.SingleQuoteType {
		return c.quoted()
	}
	for _, want := range t.Origin {
		if blank(want) {
			continue
		}
		if c.skip(); c.peek() != want {
			return s, false
		}
		if s.start.IsZero() {
			s.start = c.pos
		}
		s.end = c.pos
		c.next()
	}
	return s, true
}

// quoted moves over a value in quotation marks; the scanner has resolved the
// escapes in its token.
func (c *cursor) quoted() (s spot, ok bool) {
	c.skip()
	mark := c.peek()
	if mark != '"' && mark != '\'' {
		return s, false
	}
	s.start = c.pos
	for c.next(); c.text != ""; c.next() {
		s.end = c.pos
		switch {
		case mark == '"' && c.peek() == '\\', mark == '\'' && strings.HasPrefix(c.text, "''"):
			c.next()
		case c.peek() == mark:
			c.next()
			return s, true
		}
	}
	return s, false
}

// cursor walks over a text.
type cursor struct {
	text string
	pos  Pos
}

func blank(c rune) bool { return c == ' ' || c == '\n' || c == '\t' }

func (c *cursor) peek() rune {
	if c.text == "" {
		return -1
	}
	first, _ := utf8.DecodeRuneInString(c.text)
	return first
}

func (c *cursor) next() {
	first, n := utf8.DecodeRuneInString(c.text)
	c.text = c.text[n:]
	if first == '\n' {
		c.pos.Line++
		c.pos.Column = 1
	} else {
		c.pos.Column++
	}
}

// skip moves over white space.
func (c *cursor) skip() {
	for c.text != "" && blank(c.peek()) {
		c.next()
	}
}
