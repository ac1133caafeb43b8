package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// swapped is what takes the place of an operator.
var swapped = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
}

// spot is a place of a file where text may be replaced.
type spot struct {
	path      string
	at        int // offset
	old, with string
}

// newFaults returns faults made at places drawn from all Go files under root that are no tests.
func newFaults(root string, draw *rand.Rand) (func() (fault, bool), error) {
	var spots []spot
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		found, err := spotsOf(path)
		spots = append(spots, found...)
		return err
	})
	if err != nil {
		return nil, err
	}
	return func() (fault, bool) {
		if len(spots) == 0 {
			return fault{}, false
		}
		i := draw.IntN(len(spots))
		s := spots[i]
		spots = slices.Delete(spots, i, i+1)
		return s.fault(), true
	}, nil
}

// spotsOf returns the places of one file.
func spotsOf(path string) ([]spot, error) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, 0)
	if err != nil {
		return nil, err
	}
	var out []spot
	add := func(p token.Pos, old, with string) {
		out = append(out, spot{path, set.Position(p).Offset, old, with})
	}
	operator := func(p token.Pos, t token.Token) {
		if with, ok := swapped[t]; ok {
			add(p, t.String(), with.String())
		}
	}
	var none, room []ast.Expr // literals that stand for nothing below 0, and room set aside
	ast.Inspect(file, func(n ast.Node) bool {
		if e, ok := n.(ast.Expr); ok && slices.Contains(room, e) {
			return false
		}
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BinaryExpr:
			operator(n.OpPos, n.Op)
		case *ast.AssignStmt:
			operator(n.TokPos, n.Tok)
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				add(n.OpPos, n.Op.String(), "")
			}
			if one, ok := n.X.(*ast.BasicLit); ok && n.Op == token.SUB && one.Value == "1" {
				none = append(none, one)
				add(one.Pos(), "1", "0")
			}
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "Inf" {
				return false // any positive number stands for +Inf
			}
			if f, ok := n.Fun.(*ast.Ident); ok && f.Name == "make" && len(n.Args) == 3 {
				room = append(room, n.Args[2])
			}
		case *ast.BasicLit:
			if with, ok := otherNumber(n); ok && !slices.Contains(none, ast.Expr(n)) {
				add(n.Pos(), n.Value, with)
			}
		}
		return true
	})
	return out, nil
}

// otherNumber returns another number for a literal: a whole one goes up by one, another by a tenth, of one for nothing.
func otherNumber(n *ast.BasicLit) (string, bool) {
	switch n.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			return strconv.FormatInt(v+1, 10), true
		}
	case token.FLOAT:
		v, err := strconv.ParseFloat(n.Value, 64)
		if err == nil && v == 0 {
			return "0.1", true
		}
		if err == nil && v > 1e-6 { // below: a limit of rounding
			return strconv.FormatFloat(v*1.1, 'g', 6, 64), true
		}
	}
	return "", false
}

// fault writes the change by whole lines, as a list has it.
func (s spot) fault() fault {
	data, err := os.ReadFile(s.path)
	if err != nil {
		panic(err)
	}
	text := string(data)
	begin := strings.LastIndexByte(text[:s.at], '\n') + 1
	for text[begin] == '\t' {
		begin++
	}
	end := len(text)
	if i := strings.IndexByte(text[s.at:], '\n'); i >= 0 {
		end = s.at + i
	}
	old := text[begin:end]
	nth := 0
	for from := 0; from <= begin; nth++ {
		i := strings.Index(text[from:], old)
		if i < 0 {
			break
		}
		from += i + len(old)
	}
	folder, file := filepath.Split(s.path)
	return fault{
		id: fmt.Sprintf("%s:%d", file, strings.Count(text[:s.at], "\n")+1), folder: strings.TrimSuffix(folder, "/"), file: file,
		old: old, with: old[:s.at-begin] + s.with + old[s.at-begin+len(s.old):], nth: nth,
	}
}
