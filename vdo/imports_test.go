package vdo_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The package must fit into a firmware test jig. Its comment promises what these
// tests hold: nothing imported but iter, and so no reflection, fmt, unsafe, input
// or output; no goroutine, channel or map; no init function; no package-level
// variable that changes.

// sources parses the package's files without its tests.
func sources(t *testing.T) []*ast.File {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	fset := token.NewFileSet()
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, e.Name(), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	if len(files) < 10 {
		t.Fatalf("%d files were found", len(files))
	}
	return files
}

func TestImports(t *testing.T) {
	for _, file := range sources(t) {
		for _, spec := range file.Imports {
			if path, err := strconv.Unquote(spec.Path.Value); err != nil || path != "iter" {
				t.Errorf("%s is imported; allowed is iter alone", spec.Path.Value)
			}
		}
	}
	needs := func(packages string) []string {
		out, err := exec.Command("go", "list", "-deps", packages).Output()
		if err != nil {
			t.Skipf("go list: %v", err)
		}
		return strings.Fields(string(out))
	}
	// What iter needs is the runtime, and of that every program has all.
	allowed := append(needs("iter"), "example.com/gainsay/vdo")
	for _, p := range needs(".") {
		if !slices.Contains(allowed, p) {
			t.Errorf("%s is needed, and iter does not need it", p)
		}
	}
	for _, p := range []string{"reflect", "internal/reflectlite", "fmt", "io", "os", "syscall", "sync", "time"} {
		if slices.Contains(allowed, p) {
			t.Errorf("iter needs %s now; think again", p)
		}
	}
}

func TestNoMachinery(t *testing.T) {
	for _, why := range machinery(sources(t)...) {
		t.Error(why)
	}
	const bad = `package p
import "iter"
var v int
var table = []int{1}
func init() {}
func f(seq iter.Seq[int], p *int) (m map[int]int) {
	go f(nil, nil)
	v = 1
	v++
	table[0]++
	c := make(chan int)
	local := 1
	local, v = 2, local
	for v = range seq {}
	return nil
}
`
	file, err := parser.ParseFile(token.NewFileSet(), "p.go", bad, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	if found := machinery(file); len(found) != 9 {
		t.Errorf("%d found in a file with nine: %q", len(found), found)
	}
}

// machinery says what the files of a package have that a jig may lack.
func machinery(files ...*ast.File) (found []string) {
	global := map[string]bool{}
	var decls []ast.Decl
	for _, file := range files {
		decls = append(decls, file.Decls...)
	}
	for _, d := range decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil && d.Name.Name == "init" {
				found = append(found, "an init function")
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				if v, ok := s.(*ast.ValueSpec); ok && d.Tok == token.VAR {
					for _, n := range v.Names {
						global[n.Name] = true
					}
				}
			}
		}
	}
	changed := func(es ...ast.Expr) {
		for _, e := range es {
			if id := root(e); id != nil && global[id.Name] {
				found = append(found, "the package's variable "+id.Name+" changes")
			}
		}
	}
	look := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			found = append(found, "a goroutine")
		case *ast.ChanType:
			found = append(found, "a channel")
		case *ast.MapType:
			found = append(found, "a map")
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				changed(n.Lhs...)
			}
		case *ast.IncDecStmt:
			changed(n.X)
		case *ast.RangeStmt:
			if n.Tok == token.ASSIGN {
				changed(n.Key, n.Value)
			}
		}
		return true
	}
	for _, file := range files {
		ast.Inspect(file, look)
	}
	return found
}

// root is the variable that an expression is a part of.
func root(e ast.Expr) *ast.Ident {
	switch e := e.(type) {
	case *ast.Ident:
		return e
	case *ast.IndexExpr:
		return root(e.X)
	case *ast.SelectorExpr:
		return root(e.X)
	case *ast.StarExpr:
		return root(e.X)
	case *ast.ParenExpr:
		return root(e.X)
	}
	return nil
}
