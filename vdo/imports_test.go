package vdo_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The package must fit into a firmware test jig: no fmt, no reflection, no input
// or output, nothing that runs on start.
func TestImports(t *testing.T) {
	allowed := []string{"errors", "iter", "strconv"}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	files := 0
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		files++
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil || !slices.Contains(allowed, path) {
				t.Errorf("%s imports %s; allowed are %v", e.Name(), spec.Path.Value, allowed)
			}
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.Name == "init" {
				t.Errorf("%s has an init function", e.Name())
			}
		}
	}
	if files == 0 {
		t.Error("no file was looked at")
	}
}
