package main

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"
)

// TestComments: every exported name of every package that can be imported has a
// comment that says more than the name: types, functions, methods, each field of
// a struct, each constant and variable of a group; that of a function that gives an
// error says which. A package's comment shows an example of its use.
func TestComments(t *testing.T) {
	seen := 0
	for _, p := range importable(t) {
		fset := token.NewFileSet()
		example := false
		for _, name := range p.files {
			file, err := parser.ParseFile(fset, filepath.Join(p.dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			// Indented lines of a package comment are shown as code.
			example = example || strings.Contains(file.Doc.Text(), "\n\t")
			for _, n := range exportedNames(file) {
				seen++
				if why := n.lacks(); why != "" {
					t.Errorf("%s: %s.%s %s: %q", fset.Position(n.pos), p.path, n.name, why, n.comment)
				}
			}
		}
		if !example {
			t.Errorf("%s: the package comment shows no example of its use", p.path)
		}
	}
	if seen < 1500 {
		t.Errorf("only %d names were looked at", seen)
	}
}

// TestExamples: every package that can be imported has examples that run, each with
// its output; where it has causes of errors, one matches them with errors.Is and one
// with errors.As.
func TestExamples(t *testing.T) {
	for _, p := range importable(t) {
		names, err := filepath.Glob(filepath.Join(p.dir, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		var files []*ast.File
		for _, name := range names {
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
		calls := map[string]bool{}
		examples := doc.Examples(files...)
		for _, e := range examples {
			if e.Output == "" {
				t.Errorf("%s: Example%s has no output", p.path, e.Name)
			}
			ast.Inspect(e.Code, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok {
						calls[x.Name+"."+s.Sel.Name] = true
					}
				}
				return true
			})
		}
		if len(examples) < 2 {
			t.Errorf("%s has %d examples", p.path, len(examples))
		}
		for _, name := range p.types.Scope().Names() {
			if strings.HasPrefix(name, "Err") && (!calls["errors.Is"] || !calls["errors.As"]) {
				t.Errorf("%s has %s, and no examples with errors.Is and errors.As", p.path, name)
			}
		}
	}
}

// exportedName is a name that importers see, with its comment.
type exportedName struct {
	name, comment string
	whole         bool // a declaration of its own, whose comment begins with its name
	fails         bool // a function that gives an error
	pos           token.Pos
}

// exportedNames lists them as far as they have, or should have, a comment.
func exportedNames(file *ast.File) (out []exportedName) {
	add := func(under string, id *ast.Ident, whole bool, comments ...*ast.CommentGroup) {
		if !id.IsExported() {
			return
		}
		text := ""
		for _, c := range comments {
			text += c.Text() + " "
		}
		out = append(out, exportedName{name: under + id.Name, comment: strings.TrimSpace(text), whole: whole, pos: id.Pos()})
	}
	// fails marks the function that was added last, if it gives an error.
	fails := func(d *ast.FuncDecl) {
		if n := len(out); n > 0 && out[n-1].pos == d.Name.Pos() && d.Type.Results != nil && d.Name.Name != "Unwrap" {
			ast.Inspect(d.Type.Results, func(n ast.Node) bool {
				id, ok := n.(*ast.Ident)
				out[len(out)-1].fails = out[len(out)-1].fails || ok && id.Name == "error"
				return true
			})
		}
	}
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				add("", d.Name, true, d.Doc)
			} else if on := receiver(d.Recv.List[0].Type); ast.IsExported(on) {
				add(on+".", d.Name, true, d.Doc)
			}
			fails(d)
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				alone := d.Doc
				if d.Lparen.IsValid() {
					alone = nil // it is the group's
				}
				switch s := spec.(type) {
				case *ast.TypeSpec:
					add("", s.Name, true, alone, s.Doc)
					if st, ok := s.Type.(*ast.StructType); ok && s.Name.IsExported() {
						for _, f := range st.Fields.List {
							for _, id := range f.Names {
								add(s.Name.Name+".", id, false, f.Doc, f.Comment)
							}
						}
					}
				case *ast.ValueSpec:
					for _, id := range s.Names {
						add("", id, false, alone, s.Doc, s.Comment)
					}
				}
			}
		}
	}
	return out
}

// receiver names the type that a method is on.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// fillers say nothing by themselves.
var fillers = regexp.MustCompile(`(?i)^(a|an|and|are|gets?|gives?|has|in|is|its?|of|or|returns?|tells?|the|this|to|whether|with)$`)

// saysError: a type or cause of this or another package, or that there is none.
var saysError = regexp.MustCompile(`\*?\[?\*?[a-z.]*(Error|Errors|Problem|BrokenError)\b|\bErr[A-Z]|never fails|error of (the|its)\s+(reader|writer)`)

// nameParts are the words a name is made of.
var nameParts = regexp.MustCompile(`[A-Z]+[a-z0-9]*|[a-z0-9]+`)

// lacks says what is wrong with a comment, or nothing.
func (n exportedName) lacks() string {
	own := n.name[strings.LastIndexByte(n.name, '.')+1:]
	switch {
	case n.comment == "":
		return "has no comment"
	case n.whole && !strings.HasPrefix(n.comment, own+" "):
		return "has a comment that does not begin with its name"
	case n.fails && !saysError.MatchString(n.comment):
		return "gives an error, and its comment does not say which"
	}
	said := map[string]bool{strings.ToLower(own): true}
	for _, w := range nameParts.FindAllString(own, -1) {
		said[strings.TrimSuffix(strings.ToLower(w), "s")] = true
	}
	words := strings.FieldsFunc(n.comment, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(".,:;()\"", r) })
	for _, w := range words {
		if !fillers.MatchString(w) && !said[strings.TrimSuffix(strings.ToLower(w), "s")] {
			return ""
		}
	}
	return "has a comment that says no more than its name"
}

// TestCommentsLack shows what counts as a comment and what does not.
func TestCommentsLack(t *testing.T) {
	const source = `package p

// Bare is the bare.
type Bare struct {
	A int
	B int // V
	// C is the C.
	C int
	e int
}

func F() {}

// It does things.
func G() {}

// H opens a port.
func H() {}

// I gives an error.
func I() (int, error) { return 0, nil }

// J gives an *Error.
func J() (int, error) { return 0, nil }

// Causes of an error.
var (
	ErrX = 1
	ErrY = 2 // the file ends early
	errZ = 3
)

const K = 1

// M is the length in m.
const M = 1

func (b *Bare) N() {}
func (b *hidden) O() {}
type hidden struct{ P int }
`
	file, err := parser.ParseFile(token.NewFileSet(), "p.go", source, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var lack []string
	for _, n := range exportedNames(file) {
		if n.lacks() != "" {
			lack = append(lack, n.name)
		}
	}
	if got, want := strings.Join(lack, " "), "Bare Bare.A Bare.C F G I ErrX K Bare.N"; got != want {
		t.Errorf("%s lack a comment, want %s", got, want)
	}
}
