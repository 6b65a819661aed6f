package document

import (
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

type kind uint8

const (
	scalar kind = iota
	list
	mapping
	refused // already reported; reads as nothing
)

// node is a value as it was written.
type node struct {
	kind    kind
	pos     Pos
	text    string // of a scalar: its characters, quotation marks and escapes resolved
	raw     string // of a scalar: as written, first line only
	plain   bool   // a scalar without quotation marks
	items   []*node
	entries []entry
}

type entry struct {
	name  string
	key   Pos
	value *node
}

// isNull is true of a value that was left out, and of ~ and null.
func (n *node) isNull() bool {
	if n.kind != scalar || !n.plain {
		return false
	}
	switch n.text {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// what names the kind of value for people.
func (n *node) what() string {
	switch {
	case n.isNull(), n.kind == scalar && n.text == "":
		return "empty"
	case n.kind == list:
		return "a list"
	case n.kind == mapping:
		return "a group of keys"
	}
	return "a single value"
}

// planter makes our tree of the parser's.
type planter struct {
	r      *Reporter
	seen   map[*token.Token]bool
	flows  int  // open brackets
	broken bool // the tree is not what the text means
}

func (p *planter) plant(n ast.Node) *node {
	switch n := n.(type) {
	case *ast.MappingNode:
		return p.mapping(n)
	case *ast.MappingValueNode:
		one := p.entry(n)
		return &node{kind: mapping, pos: one.key, entries: []entry{one}}
	case *ast.SequenceNode:
		return p.list(n)
	case *ast.LiteralNode:
		p.seen[n.Value.Token] = true
		return &node{pos: p.r.tokenPos(n.Start), text: n.Value.Value, raw: firstLine(n.Start.Value)}
	case *ast.AnchorNode:
		return p.through(n.Name, n.Value)
	case *ast.TagNode:
		return p.through(nil, n.Value)
	case *ast.AliasNode:
		return p.through(n.Value, nil)
	case *ast.CommentGroupNode:
		return &node{kind: refused, pos: p.r.tokenPos(n.GetToken())}
	case ast.ScalarNode:
		return p.scalar(n.GetToken())
	}
	p.broken = true
	p.r.addSyntax("unexpected value", n.GetToken())
	return &node{kind: refused, pos: p.r.tokenPos(n.GetToken())}
}

// through steps over an anchor, alias or tag, which has been reported already.
func (p *planter) through(name, value ast.Node) *node {
	at := &node{kind: refused}
	if name != nil {
		at.pos = p.plant(name).pos
	}
	if value == nil {
		return at
	}
	if v := p.plant(value); v.kind != scalar {
		return v
	}
	return at
}

func (p *planter) scalar(t *token.Token) *node {
	p.seen[t] = true
	n := &node{pos: p.r.tokenPos(t), text: t.Value, raw: p.r.written(t)}
	switch t.Type {
	case token.SingleQuoteType, token.DoubleQuoteType:
	case token.ImplicitNullType:
		n.plain, n.text, n.raw = true, "", ""
	default:
		n.plain = true
	}
	return n
}

func (p *planter) list(s *ast.SequenceNode) *node {
	n := &node{kind: list, pos: p.r.tokenPos(s.Start), items: make([]*node, 0, len(s.Values))}
	if s.IsFlowStyle {
		p.flows++
		defer func() { p.flows-- }()
	}
	for i, v := range s.Values {
		item := p.plant(v)
		if item.isNull() && item.raw == "" && i < len(s.Entries) {
			item.pos, item.raw = p.r.tokenPos(s.Entries[i].Start), "-"
		}
		n.items = append(n.items, item)
	}
	return n
}

func (p *planter) mapping(m *ast.MappingNode) *node {
	n := &node{kind: mapping, entries: make([]entry, 0, len(m.Values))}
	if m.IsFlowStyle {
		p.flows++
		defer func() { p.flows-- }()
	}
	for _, v := range m.Values {
		n.entries = append(n.entries, p.entry(v))
	}
	if n.pos = p.r.tokenPos(m.Start); !m.IsFlowStyle && len(n.entries) > 0 {
		n.pos = n.entries[0].key
	}
	return n
}

// entry reads one key and its value. A key that is not a single value, or is
// empty, has the name "" and is reported here.
func (p *planter) entry(v *ast.MappingValueNode) entry {
	var key ast.Node = v.Key
	if k, ok := key.(*ast.MappingKeyNode); ok {
		key = k.Value
	}
	e := entry{key: p.r.tokenPos(v.Key.GetToken()), value: &node{plain: true}}
	if _, merge := key.(*ast.MergeKeyNode); key != nil && !merge {
		if k := p.plant(key); k.kind == scalar && k.text != "" && !k.isNull() {
			e.name, e.key = k.text, k.pos
		} else if k.kind != refused {
			p.r.Add(e.key, "", k.raw, "a key has to be a single word or text, but this is "+k.what(), "write key: value")
		}
	}
	if v.Value != nil {
		e.value = p.plant(v.Value)
		p.checkIndent(e)
	}
	if e.value.isNull() && e.value.raw == "" {
		e.value.pos, e.value.raw = e.key, e.name
	}
	return e
}

// checkIndent refuses a value on a later line that is not indented deeper than its
// key, which the parser lets through. A list may stand right below its key.
func (p *planter) checkIndent(e entry) {
	at := e.value.pos
	if p.flows > 0 || at.Line <= e.key.Line || at.Column > e.key.Column || e.value.isNull() && e.value.raw == "" ||
		e.value.kind == list && at.Column == e.key.Column {
		return
	}
	p.broken = true
	p.r.addSyntax(notAllowed, &token.Token{Position: &token.Position{Line: at.Line, Column: at.Column}, Origin: e.value.raw})
}

// nothingLost makes sure that every value in the text has a place in the tree.
func (p *planter) nothingLost(tokens token.Tokens) bool {
	for _, t := range tokens {
		switch t.Type {
		case token.StringType, token.SingleQuoteType, token.DoubleQuoteType, token.NullType, token.BoolType,
			token.IntegerType, token.BinaryIntegerType, token.OctetIntegerType, token.HexIntegerType,
			token.FloatType, token.InfinityType, token.NanType:
			if !p.seen[t] {
				p.r.addSyntax(notAllowed, t)
				return false
			}
		}
	}
	return true
}
