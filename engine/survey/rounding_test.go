package survey

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A product of floats that is not rounded on its own may be fused with a later
// sum on some processors and not on others (Go specification, "Floating-point
// operators"), and results would differ. So in these packages each product must
// stand directly in float64(…), in another product or quotient, in a
// comparison, or in math.Sqrt(…); and only functions of math that are exact or
// correctly rounded on every processor may be called. A method of measure that
// ends in a product (Radians) may be inlined and needs the same; Metres and
// Inches end in a quotient. (Halving is a product to the compiler, and may be
// fused, but is exact, so that nothing changes.)
func TestEveryProductIsRounded(t *testing.T) {
	exact := map[string]bool{"Sqrt": true, "Abs": true, "Floor": true, "Mod": true, "Frexp": true, "Ldexp": true,
		"IsNaN": true, "IsInf": true, "Inf": true, "NaN": true, "RoundToEven": true}
	imports := importer.ForCompiler(token.NewFileSet(), "source", nil)
	for _, dir := range []string{".", "chance", "normal", "../portable", "../ring"} {
		fset := token.NewFileSet()
		var files []*ast.File
		names, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(names) == 0 {
			t.Fatal(dir, err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			f, err := parser.ParseFile(fset, name, src, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
		info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
		if _, err := (&types.Config{Importer: imports}).Check(dir, fset, files, info); err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			unrounded(f, info, exact, func(n ast.Node, why string) { t.Errorf("%s: %s", fset.Position(n.Pos()), why) })
		}
	}
}

func isFloat(info *types.Info, e ast.Expr) bool {
	tv := info.Types[e]
	if tv.Value != nil || tv.Type == nil { // a constant is worked out exactly
		return false
	}
	b, ok := tv.Type.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsFloat != 0
}

func unrounded(f *ast.File, info *types.Info, exact map[string]bool, report func(ast.Node, string)) {
	var stack []ast.Node
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		var parent ast.Node
		for k := len(stack) - 1; k >= 0; k-- {
			if _, paren := stack[k].(*ast.ParenExpr); !paren {
				parent = stack[k]
				break
			}
		}
		switch e := n.(type) {
		case *ast.AssignStmt:
			if e.Tok == token.MUL_ASSIGN && isFloat(info, e.Lhs[0]) {
				report(e, "x *= y leaves the product unrounded")
			}
		case *ast.CallExpr:
			if s, ok := e.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "Radians" && !rounds(parent, info) {
				report(e, "a product that may be inlined is not rounded")
			}
		case *ast.BinaryExpr:
			if e.Op == token.MUL && isFloat(info, e) && !rounds(parent, info) {
				report(e, "a product is not rounded on its own")
			}
		case *ast.SelectorExpr:
			if x, ok := e.X.(*ast.Ident); ok {
				if p, ok := info.Uses[x].(*types.PkgName); ok && p.Imported().Path() == "math" {
					if _, isFunc := info.Uses[e.Sel].(*types.Func); isFunc && !exact[e.Sel.Name] {
						report(e, "math."+e.Sel.Name+" may differ between processors")
					}
				}
			}
		}
		stack = append(stack, n)
		return true
	})
}

// rounds reports whether a product directly inside the node is rounded by it or
// cannot meet a sum.
func rounds(parent ast.Node, info *types.Info) bool {
	switch p := parent.(type) {
	case *ast.CallExpr:
		if tv := info.Types[p.Fun]; tv.IsType() {
			return true
		}
		s, ok := p.Fun.(*ast.SelectorExpr)
		return ok && s.Sel.Name == "Sqrt"
	case *ast.BinaryExpr:
		switch p.Op {
		case token.MUL, token.QUO, token.LSS, token.GTR, token.LEQ, token.GEQ:
			return true
		}
	}
	return false
}
