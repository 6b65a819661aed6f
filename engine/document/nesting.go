package document

import (
	"fmt"

	"github.com/goccy/go-yaml/token"
)

// maxEmpty is how many values may be missing before the text is not parsed at all.
const maxEmpty = 1000

// nesting follows the structure of a text by its tokens and finds what the parser
// would take too long over: it recurses into each level and along the keys of a
// mapping, and moves all later tokens for each missing value. For texts that are
// not YAML it errs towards refusing.
type nesting struct {
	tokens token.Tokens
	blocks []level
	flows  []bracket
	marks  int // anchors, aliases and tags in front of the same value
	empty  int // values missing so far

	at            *token.Token // the token that goes too far
	message, hint string
}

// bracket is one open [ or {.
type bracket struct {
	group  bool // {
	colons int  // since the last comma
	keys   int
}

// level is one open block mapping or list.
type level struct {
	column int
	list   bool
	keys   int
}

// fits goes through the tokens up to the first that goes too far.
func (n *nesting) fits() bool {
	for i, t := range n.tokens {
		n.step(i, t)
		switch {
		case n.depth() > MaxDepth:
			n.message = fmt.Sprintf("this is nested deeper than %d levels", MaxDepth)
			n.hint = "check the brackets and the indentation above it"
		case n.keys() > MaxKeys:
			n.message = fmt.Sprintf("there are more than %d keys in one group", MaxKeys)
			n.hint = "split the group, or check the indentation above it"
		case n.empty > maxEmpty:
			n.message = fmt.Sprintf("more than %d values are missing above this", maxEmpty)
			n.hint = "write a value after each key and each -"
		default:
			continue
		}
		n.at = t
		return false
	}
	return true
}

// depth counts the levels the parser is in: brackets in a row of colons, and
// marks in front of a value, are levels to it.
func (n *nesting) depth() int {
	depth := len(n.blocks) + len(n.flows) + max(0, n.marks-1)
	if k := len(n.flows); k > 0 {
		depth += max(0, n.flows[k-1].colons-1)
	}
	return depth
}

// keys is how many keys the innermost group has so far.
func (n *nesting) keys() int {
	if k := len(n.flows); k > 0 {
		return n.flows[k-1].keys
	}
	if k := len(n.blocks); k > 0 {
		return n.blocks[k-1].keys
	}
	return 0
}

func (n *nesting) step(i int, t *token.Token) {
	k := len(n.flows)
	switch t.Type {
	case token.SequenceStartType, token.MappingStartType:
		n.flows = append(n.flows, bracket{group: t.Type == token.MappingStartType})
	case token.SequenceEndType, token.MappingEndType:
		if k > 0 {
			n.flows = n.flows[:k-1]
		}
	case token.CollectEntryType:
		n.marks = 0
		if k > 0 {
			n.comma(&n.flows[k-1])
		}
	case token.SequenceEntryType, token.MappingKeyType, token.MappingValueType:
		n.marks = 0
		if k == 0 {
			n.entry(i, t)
			return
		}
		n.flows[k-1].colons++
		if i+1 < len(n.tokens) && n.tokens[i+1].Type == token.CollectEntryType {
			n.empty++
		}
	case token.DocumentHeaderType:
		n.blocks, n.flows = n.blocks[:0], n.flows[:0]
	case token.AnchorType, token.AliasType, token.TagType:
		n.marks++
	}
}

// comma ends an entry in brackets; a key alone has no value.
func (n *nesting) comma(b *bracket) {
	if b.group {
		b.keys++
		if b.colons == 0 {
			n.empty++
		}
	}
	b.colons = 0
}

// entry takes the key or list item that t announces.
func (n *nesting) entry(i int, t *token.Token) {
	column, item := t.Position.Column, t.Type == token.SequenceEntryType
	if t.Type == token.MappingValueType && i > 0 && n.tokens[i-1].Position.Line == t.Position.Line {
		column = n.tokens[i-1].Position.Column
	}
	for k := len(n.blocks); k > 0; k = len(n.blocks) {
		top := n.blocks[k-1]
		if top.column < column || top.column == column && (!top.list || item) {
			break
		}
		n.blocks = n.blocks[:k-1]
	}
	if k := len(n.blocks); k == 0 || n.blocks[k-1].column != column || n.blocks[k-1].list != item {
		n.blocks = append(n.blocks, level{column: column, list: item})
	}
	if !item {
		n.blocks[len(n.blocks)-1].keys++
	}
	if n.missing(i+1, t.Position.Line, column, item) {
		n.empty++
	}
}

// missing says whether an entry at a column has no value, going by the next token.
func (n *nesting) missing(next, line, column int, item bool) bool {
	for ; next < len(n.tokens); next++ {
		t := n.tokens[next]
		switch {
		case t.Type == token.CommentType:
			continue
		case t.Position.Line == line || t.Position.Column > column:
			return false
		case t.Position.Column == column:
			return item || t.Type != token.SequenceEntryType
		}
		return true
	}
	return true
}
