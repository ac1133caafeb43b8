package finding_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/finding/findingtest"
)

// Kinds must list every constant of kind.go once, in its order; the source itself is read for them.
func TestKindsListsEveryKind(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "kind.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var want []finding.Kind
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.BasicLit); ok && v.Kind == token.STRING {
			text, err := strconv.Unquote(v.Value)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, finding.Kind(text))
		}
		return true
	})
	if got := findingtest.Kinds(); len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("Kinds gives %v, kind.go has %v", got, want)
	}
}
