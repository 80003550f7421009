package analyze

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"
)

// A measure is asked for by a constant, which a slip of the pen does not pass; and each
// name of this file is written by something.
func TestMeasuresAreAskedByName(t *testing.T) {
	t.Parallel()
	asks := map[string]bool{"value": true, "Measure": true, "has": true, "amountOf": true, "showsMeasure": true}
	asked, used := map[string]int{}, map[string]int{}
	fset := token.NewFileSet()
	for _, pattern := range []string{"*.go", "../plots/*.go", "../cmd/*/*.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") || path == "measures.go" {
				continue
			}
			f, err := parser.ParseFile(fset, path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch x := n.(type) {
				case *ast.Ident:
					used[x.Name]++
				case *ast.CallExpr:
					s, ok := x.Fun.(*ast.SelectorExpr)
					if !ok || !asks[s.Sel.Name] || len(x.Args) == 0 {
						break
					}
					switch arg := x.Args[len(x.Args)-1].(type) {
					case *ast.BasicLit:
						if arg.Kind == token.STRING {
							t.Errorf("%s: %s is asked for by its text", fset.Position(arg.Pos()), arg.Value)
						}
					case *ast.Ident:
						asked[arg.Name]++
					case *ast.SelectorExpr:
						asked[arg.Sel.Name]++
					}
				}
				return true
			})
		}
	}
	f, err := parser.ParseFile(fset, "measures.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, o := range f.Scope.Objects {
		ends := strings.HasPrefix(name, "MeasureLowEnd") || strings.HasPrefix(name, "MeasureHighEnd") // see EndMeasure
		if o.Kind == ast.Con && used[name] == asked[name] && !ends {
			t.Errorf("%s is asked for, and nothing writes it", name)
		}
	}
}
