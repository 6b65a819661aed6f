package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// use is one place in the program that names a message.
type use struct {
	at     string
	key    string
	values []string // named beside it
	all    bool     // values are all that it is given
}

// keyForm is what a message's key looks like: an area, a dot, an entry.
var keyForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*\.[a-z0-9]+(-[a-z0-9]+)*$`)

// fileForm are file names that look like keys.
var fileForm = regexp.MustCompile(`\.(csv|txt|json|yaml|svg|pdf|xlsx|dxf|glb|gltf|ics)$`)

func isKey(s string) bool { return keyForm.MatchString(s) && !fileForm.MatchString(s) }

// root is the top of the module.
const root = "../.."

// sources are the program's parsed files, tests left out.
var sources = sync.OnceValues(func() (map[string]*ast.File, error) {
	out := map[string]*ast.File{}
	set := token.NewFileSet()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == "node_modules" || strings.HasPrefix(d.Name(), ".") && d.Name() != root && d.Name() != "..") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		out[filepath.ToSlash(path)] = f
		return nil
	})
	return out, err
})

// uses are all places that name a message: string literals that look like a key
// of an area, and what is handed to phrase.Of.
func uses(t *testing.T, areas map[string]bool) []use {
	t.Helper()
	files, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	var out []use
	for path, f := range files {
		inCall := map[*ast.BasicLit]bool{}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if len(n.Args) == 0 {
					return true
				}
				lit, key := literal(n.Args[0])
				if lit == nil || !isKey(key) {
					return true
				}
				area, _, _ := strings.Cut(key, ".")
				if !areas[area] && !isCall(n, "phrase", "Of") {
					return true
				}
				inCall[lit] = true
				u := use{at: path, key: key, all: n.Ellipsis == token.NoPos}
				for _, a := range n.Args[1:] {
					c, ok := a.(*ast.CallExpr)
					if !ok || len(c.Args) == 0 {
						u.all = false
						continue
					}
					if l, name := literal(c.Args[0]); l != nil {
						u.values = append(u.values, name)
					} else {
						u.all = false
					}
				}
				out = append(out, u)
			case *ast.BasicLit:
				if _, key := literal(n); !inCall[n] && isKey(key) {
					if area, _, _ := strings.Cut(key, "."); areas[area] {
						out = append(out, use{at: path, key: key})
					}
				}
			}
			return true
		})
	}
	slices.SortFunc(out, func(a, b use) int { return strings.Compare(a.key+a.at, b.key+b.at) })
	return out
}

// literal is a string literal and what it says.
func literal(e ast.Expr) (*ast.BasicLit, string) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return nil, ""
	}
	s, err := strconv.Unquote(l.Value)
	if err != nil {
		return nil, ""
	}
	return l, s
}

// isCall says whether a call is of pkg.name.
func isCall(c *ast.CallExpr, pkg, name string) bool {
	s, ok := c.Fun.(*ast.SelectorExpr)
	if !ok || s.Sel.Name != name {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == pkg
}

// constants are the values of a type's string constants in a package.
func constants(t *testing.T, pkg, typeName string) []string {
	t.Helper()
	files, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for path, f := range files {
		if filepath.ToSlash(filepath.Dir(path)) != root+"/"+pkg {
			continue
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				if id, ok := v.Type.(*ast.Ident); !ok || id.Name != typeName {
					continue
				}
				for _, e := range v.Values {
					if l, s := literal(e); l != nil {
						out = append(out, s)
					}
				}
			}
		}
	}
	slices.Sort(out)
	if len(out) == 0 {
		t.Fatalf("no constants of %s.%s were found", pkg, typeName)
	}
	return out
}
