package analyze

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// testedWords finds the texts in quotes that are compared with the form of a finding or
// asked as the name of a measure, and all other texts in quotes.
type testedWords struct {
	tested  map[*ast.BasicLit]string // how: "is", "begins" or "ends"
	written map[string]bool
}

func (w *testedWords) add(f *ast.File) {
	text := func(e ast.Expr) *ast.BasicLit {
		if l, ok := e.(*ast.BasicLit); ok && l.Kind == token.STRING {
			return l
		}
		return nil
	}
	form := func(e ast.Expr) bool {
		s, ok := e.(*ast.SelectorExpr)
		return ok && s.Sel.Name == "Form"
	}
	note := func(e ast.Expr, how string) {
		if l := text(e); l != nil {
			w.tested[l] = how
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.BinaryExpr:
			if (x.Op == token.EQL || x.Op == token.NEQ) && form(x.X) {
				note(x.Y, "is")
			}
		case *ast.SwitchStmt:
			if x.Tag == nil || !form(x.Tag) {
				break
			}
			for _, c := range x.Body.List {
				for _, e := range c.(*ast.CaseClause).List {
					note(e, "is")
				}
			}
		case *ast.CallExpr:
			s, ok := x.Fun.(*ast.SelectorExpr)
			switch {
			case !ok:
			case len(x.Args) == 1 && (s.Sel.Name == "has" || s.Sel.Name == "Measure" || s.Sel.Name == "amountOf"):
				note(x.Args[0], "is")
			case len(x.Args) == 2 && form(x.Args[0]) && s.Sel.Name == "HasPrefix":
				note(x.Args[1], "begins")
			case len(x.Args) == 2 && form(x.Args[0]) && s.Sel.Name == "HasSuffix":
				note(x.Args[1], "ends")
			}
		case *ast.BasicLit:
			if _, tested := w.tested[x]; !tested && x.Kind == token.STRING {
				s, _ := strconv.Unquote(x.Value)
				w.written[s] = true
			}
		}
		return true
	})
}

// known tells whether something else writes the word of a test.
func (w *testedWords) known(word, how string) bool {
	if w.written[word] {
		return true
	}
	for s := range w.written {
		if how == "begins" && strings.HasPrefix(s, word) || how == "ends" && strings.HasSuffix(s, word) {
			return true
		}
	}
	return false
}

func newTestedWords() *testedWords {
	return &testedWords{tested: map[*ast.BasicLit]string{}, written: map[string]bool{"": true}}
}

// A form or a measure that is asked for in other words than it is written in is never
// there, and a likelihood changes without a word.
func TestWordsAskedForAreWritten(t *testing.T) {
	t.Parallel()
	set := token.NewFileSet()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	w := newTestedWords()
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		w.add(f)
	}
	if len(w.tested) < 20 {
		t.Errorf("only %d words that are asked for were found", len(w.tested))
	}
	for l, how := range w.tested {
		if s, _ := strconv.Unquote(l.Value); !w.known(s, how) {
			t.Errorf("%s: %s is asked for, and written nowhere", set.Position(l.Pos()), l.Value)
		}
	}
}

func TestWordsAskedForAreFound(t *testing.T) {
	t.Parallel()
	src := `package x
func g(f F) bool {
	switch f.Form { case "right", "worng": return true }
	h.Form = "right"
	return f.has("mesaure") || f.Form == "right" || strings.HasPrefix(f.Form, "rigth") || write("measure") || strings.HasPrefix(f.Form, "rig")
}`
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	w := newTestedWords()
	w.add(f)
	bad := 0
	for l, how := range w.tested {
		if s, _ := strconv.Unquote(l.Value); !w.known(s, how) {
			bad++
		}
	}
	if bad != 3 {
		t.Errorf("%d slips found, want 3", bad)
	}
}
