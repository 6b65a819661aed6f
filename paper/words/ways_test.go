package words

import (
	"go/ast"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// raised are the places of the engine that raise a finding: a call of find, or a
// Finding written out; each with its code, and whether what is so is said by a
// phrase. Ways out are phrases by their type.
type raised struct {
	at, code string
	says     bool
}

// found lists every finding that the engine can raise, from its sources.
func found(t *testing.T) []raised {
	t.Helper()
	files, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	var out []raised
	for path, f := range files {
		if !strings.HasPrefix(path, root+"/engine/") {
			continue
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Body != nil && fn.Name.Name != "find" {
				out = append(out, raisedBy(path, fn)...)
			}
		}
	}
	slices.SortFunc(out, func(a, b raised) int { return strings.Compare(a.code+a.at, b.code+b.at) })
	return out
}

// raisedBy are the findings of one function. What says one follows it there.
func raisedBy(path string, fn *ast.FuncDecl) []raised {
	var out []raised
	says := false
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			s, ok := n.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			says = says || s.Sel.Name == "say" || s.Sel.Name == "saying"
			if s.Sel.Name == "find" && len(n.Args) >= 3 && (codeOf(n.Args[0]) != "" || len(n.Args) > 4) {
				out = append(out, raised{at: path, code: codeOf(n.Args[0])})
			}
		case *ast.CompositeLit:
			if s, ok := n.Type.(*ast.SelectorExpr); !ok || s.Sel.Name != "Finding" {
				return true
			}
			r := raised{at: path}
			for _, e := range n.Elts {
				kv, ok := e.(*ast.KeyValueExpr)
				if !ok {
					continue
				}
				switch key, _ := kv.Key.(*ast.Ident); key.Name {
				case "Code":
					r.code = codeOf(kv.Value)
				case "Say":
					r.says = true
				}
			}
			if r.code != "" {
				out = append(out, r)
			}
		case *ast.AssignStmt:
			for _, l := range n.Lhs {
				if s, ok := l.(*ast.SelectorExpr); ok && s.Sel.Name == "Say" {
					says = true
				}
			}
		}
		return true
	})
	for i := range out {
		out[i].says = out[i].says || says
	}
	return out
}

// codeOf is the name of a finding's code where it is written; empty where it is
// handed on.
func codeOf(e ast.Expr) string {
	s, ok := e.(*ast.SelectorExpr)
	if !ok {
		return ""
	}
	if x, ok := s.X.(*ast.Ident); !ok || x.Name != "finding" {
		return ""
	}
	return s.Sel.Name
}

// Every finding that the engine can raise says what is so by a phrase, with its
// numbers, so that a crew reads it in its own language; and every code is raised
// somewhere. That each phrase is in every catalogue other tests see to.
func TestEveryFindingIsSaidByAPhrase(t *testing.T) {
	files, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	missing := map[string]bool{}
	for path, f := range files {
		if path != root+"/engine/finding/codes.go" {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if v, ok := n.(*ast.ValueSpec); ok && len(v.Names) == 1 {
				missing[v.Names[0].Name] = true
			}
			return true
		})
		// Codes that are handed to find by a variable stand in a table of their own.
		for path, f := range files {
			if !strings.HasPrefix(path, root+"/engine/") || strings.HasSuffix(path, "finding/codes.go") {
				continue
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if e, ok := n.(ast.Expr); ok {
					delete(missing, codeOf(e))
				}
				return true
			})
		}
	}
	for name := range missing {
		t.Errorf("nothing raises finding.%s", name)
	}
	list := found(t)
	for _, r := range list {
		if !r.says {
			t.Errorf("%s raises %s, which no phrase says", r.at, r.code)
		}
	}
	if len(list) < 80 {
		t.Errorf("only %d places raise a finding; the search has lost its way", len(list))
	}
}

// sample is a value of each name that a message has, so that it can be rendered: a
// count where it chooses the plural, else a length, which no language has letters of.
func sample(m *entry) []phrase.Arg {
	var out []phrase.Arg
	for _, n := range m.names() {
		if n == "n" {
			out = append(out, phrase.With(n, phrase.Count(2)))
			continue
		}
		out = append(out, phrase.With(n, phrase.Length(measure.Inch)))
	}
	return out
}

// letters is a word of a rendered text.
var letters = regexp.MustCompile(`\pL{3,}`)

// What a finding says, its headline, its ways out and the reasons behind numbers are
// rendered in Spanish otherwise than in English, and hold no English word: none that
// the English catalogue of those areas has and the Spanish one has not, but for what
// the list lets stand.
func TestFindingsAndReasonsAreSpanish(t *testing.T) {
	all := opened(t)
	same := reviewed(t, "same.yaml")
	es, err := For("es", measure.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	en, err := For(English, measure.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, key := range all[English].keys {
		area, _, _ := strings.Cut(key, ".")
		if !slices.Contains([]string{"finding", "found", "way", "why", "rule", "source", "order", "slip", "state", "topic", "amount", "thing", "fact"}, area) {
			continue
		}
		m := all[English].of[key]
		if !m.lettered() {
			continue
		}
		read++
		p := phrase.Of(key, sample(m)...)
		a, b := en.Say(p), es.Say(p)
		if _, ok := same[key]; a == b && !ok {
			t.Errorf("%s is rendered in Spanish as in English: %q", key, b)
		}
		if strings.Contains(b, "["+English+"]") || strings.Contains(b, "?}") {
			t.Errorf("%s is rendered in Spanish as %q", key, b)
		}
		for _, w := range letters.FindAllString(b, -1) {
			if englishWords.MatchString(w) {
				t.Errorf("%s holds %q in Spanish: %q", key, w, b)
			}
		}
	}
	if read < 400 {
		t.Errorf("only %d messages were read", read)
	}
}

// The headline of each code is what a finding without a phrase says, with no help
// from English.
func TestHeadlinesAreSpanish(t *testing.T) {
	es, err := For("es", measure.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range constants(t, "engine/finding", "Code") {
		f := finding.Finding{Code: finding.Code(c), Message: "English", Choices: []phrase.Phrase{phrase.Of("way.move-it")}}
		if said := es.Told(&f); strings.HasPrefix(said, "[") || said == f.Message {
			t.Errorf("%s is told as %s", c, strconv.Quote(said))
		}
		if ways := es.Choices(&f); len(ways) != 1 || ways[0] != "cámbielo de lugar" {
			t.Errorf("%s: ways out %q", c, ways)
		}
	}
}
