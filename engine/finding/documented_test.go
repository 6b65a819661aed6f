package finding_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestEveryCodeIsExplained holds docs/findings.md to the codes: a person who
// meets a finding must be able to look it up.
func TestEveryCodeIsExplained(t *testing.T) {
	doc, err := os.ReadFile(filepath.FromSlash("../../docs/findings.md"))
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	codes := 0
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Values) != 1 {
				return true
			}
			if id, ok := spec.Type.(*ast.Ident); !ok || id.Name != "Code" {
				return true
			}
			lit, ok := spec.Values[0].(*ast.BasicLit)
			if !ok {
				return true
			}
			code, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			codes++
			if !strings.Contains(string(doc), "`"+code+"`") {
				t.Errorf("docs/findings.md does not explain %s", code)
			}
			return true
		})
	}
	if codes < 20 {
		t.Fatalf("found only %d codes; is the list elsewhere now?", codes)
	}
}
