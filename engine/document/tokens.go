package document

import (
	"strings"

	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/token"
)

// tokenise splits the text and refuses, before it is parsed, what this package
// does not take at all. It returns false if parsing makes no sense any more.
func (r *Reporter) tokenise(text string) (token.Tokens, bool) {
	tokens := lexer.Tokenize(text)
	spots, lost := r.locate(text, tokens)
	r.spots = spots
	if bad := tokens.InvalidToken(); bad != nil {
		r.addSyntax(bad.Error, bad)
		return nil, false
	}
	if n := (nesting{tokens: tokens}); !n.fits() {
		r.Add(r.tokenPos(n.at), "", firstLine(n.at.Value), n.message, n.hint)
		return nil, false
	}
	if !lost.IsZero() {
		r.Add(lost, "", "", "this cannot be read as YAML", "put the whole value in quotation marks, or check the indentation")
		return nil, false
	}
	return tokens, r.refuseExtras(tokens) && r.checkColons(tokens)
}

// refuseExtras reports the parts of YAML a hand-written document has no use for.
// Anchors, aliases and tags are told one by one and reading goes on around them.
func (r *Reporter) refuseExtras(tokens token.Tokens) bool {
	marks := 0
	content, ended := false, false
	for i, t := range tokens {
		name := ""
		if i+1 < len(tokens) {
			name = firstLine(tokens[i+1].Value)
		}
		at := r.tokenPos(t)
		switch t.Type {
		case token.AnchorType:
			r.Add(at, "", "&"+name, "anchors (&name) are not used here", "write the value out where it is needed")
			marks++
		case token.AliasType:
			r.Add(at, "", "*"+name, "aliases (*name) are not used here", "write the value out; a text that starts with * goes in quotation marks")
			marks++
		case token.TagType:
			r.Add(at, "", firstLine(t.Value), "tags (!name) are not used here", "leave the tag out; a text that starts with ! goes in quotation marks")
			marks++
		case token.MergeKeyType:
			r.Add(at, "", "<<", "merge keys (<<) are not used here", "write the keys out")
			marks++
		case token.StringType, token.MappingKeyType:
			if t.Value != "?" {
				break
			}
			r.Add(at, "", "?", "keys marked with ? are not used here", "write key: value; a value that starts with ? goes in quotation marks")
			return false
		case token.DirectiveType:
			if at.Column > 1 {
				r.Add(at, "", "%", "a value cannot start with this character", "put the whole value in quotation marks")
			} else {
				r.Add(at, "", "%", "directives (%...) are not used here", "leave the line out")
			}
			return false
		case token.DocumentHeaderType, token.DocumentEndType:
			if t.Type == token.DocumentEndType {
				ended = true
			}
			if content && t.Type == token.DocumentHeaderType {
				r.Add(at, "", "---", "a second document starts here", "put each document in a file of its own")
				return false
			}
			continue
		case token.CommentType:
			continue
		}
		if ended {
			r.Add(at, "", firstLine(t.Value), "there is more text after the end of the document (...)", "put each document in a file of its own")
			return false
		}
		content = true
	}
	return marks <= MaxProblems
}

// checkColons makes sure that each colon follows its key on the same line and is
// followed by a space. The parser lets other things through, and means something
// else by them than the YAML specification does (1.2.2, sections 7.3.3 and 7.4.2).
func (r *Reporter) checkColons(tokens token.Tokens) bool {
	ok := true
	for i, t := range tokens {
		if t.Type != token.MappingValueType || i == 0 {
			continue
		}
		colon, key := r.spots[t].start, r.spots[tokens[i-1]]
		after := r.src.from(colon)
		switch {
		case key.start.Line != colon.Line:
			r.addSplitKey(key.start, colon)
		case len(after) > 1 && !strings.ContainsRune(" \t,]}", rune(after[1])):
			r.Add(colon, "", ":", "there is no space after this colon", "write a space after it; a value with a colon in it goes in quotation marks")
		default:
			continue
		}
		ok = false
	}
	return ok
}

// addSplitKey explains a key that starts on an earlier line than its colon: the
// colon was moved, or the lines above lack a colon, or have one and a value, which
// the key was taken to go on with.
func (r *Reporter) addSplitKey(key, colon Pos) {
	before := r.src.before(key)
	switch {
	case strings.TrimLeft(r.src.before(colon), " ") == "":
		r.Add(colon, "", ":", "this colon does not stand on the line of its key", "write key: value")
	case strings.Contains(before, ":"):
		r.addDeeper(colon.Line)
	default:
		r.Add(key, "", firstLine(r.src.from(key)), notKeyValue, keyHint)
	}
}
