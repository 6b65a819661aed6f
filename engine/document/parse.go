package document

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// parse turns the text into a tree. The second result is false if it is not YAML,
// which has been reported then; the tree is nil if there is nothing in the text.
func (r *Reporter) parse(text string) (*node, bool) {
	tokens, ok := r.tokenise(text)
	if !ok {
		return nil, false
	}
	file, err := parseTokens(tokens)
	if err != nil {
		r.addParseError(err)
		return nil, false
	}
	p := &planter{r: r, seen: make(map[*token.Token]bool, len(tokens))}
	var root *node
	before := r.Len()
	for _, doc := range file.Docs {
		if doc.Body != nil && doc.Body.Type() != ast.CommentType {
			root = p.plant(doc.Body)
		}
	}
	if p.broken || r.Len() == before && !p.nothingLost(tokens) {
		return nil, false
	}
	return root, true
}

// parseTokens keeps a fault of the parser from becoming one of the program.
func parseTokens(tokens token.Tokens) (file *ast.File, err error) {
	defer func() {
		if recover() != nil {
			err = errors.New("the text cannot be understood")
		}
	}()
	return parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
}

func (r *Reporter) addParseError(err error) {
	var located interface {
		GetMessage() string
		GetToken() *token.Token
	}
	if errors.As(err, &located) {
		r.addSyntax(located.GetMessage(), located.GetToken())
		return
	}
	r.addSyntax(err.Error(), nil)
}

// tokenPos is where a token stands.
func (r *Reporter) tokenPos(t *token.Token) Pos {
	if t == nil || t.Position == nil {
		return Pos{File: r.src.file}
	}
	if s, ok := r.spots[t]; ok && !s.start.IsZero() {
		return s.start
	}
	return r.src.at(t.Position.Line, t.Position.Column)
}

// written is a token as it stands in the text, its first line only.
func (r *Reporter) written(t *token.Token) string {
	s, ok := r.spots[t]
	if !ok || s.start.IsZero() {
		return firstLine(strings.TrimSpace(t.Origin))
	}
	text := r.src.from(s.start)
	if s.end.Line == s.start.Line {
		text = text[:r.src.offset(s.end.Line, s.end.Column+1)-r.src.offset(s.start.Line, s.start.Column)]
	}
	return strings.TrimRight(text, " \t")
}

func firstLine(s string) string {
	first, _, _ := strings.Cut(s, "\n")
	return strings.TrimRight(first, " \t")
}
