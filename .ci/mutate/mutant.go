package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// A mutant is one change: some bytes of a file read otherwise.
type mutant struct {
	number   int // from 1
	name     string
	file     string // from the top of the repository
	line     int
	from, to int
	is       string // what stands there instead
	// kind is the type of the expression from..to, where a switch can choose
	// between the two while the program runs; else empty, and the mutant is built
	// by itself.
	kind string
	// constant is where the declaration begins that has to be one of variables for
	// that, else -1.
	constant int
	pkg      *pkg
	suite    *suite
}

// source is the file with the change in it.
func (m *mutant) source() []byte {
	text := m.pkg.text[m.file]
	return slices.Concat(text[:m.from], []byte(m.is), text[m.to:])
}

// switchName is the variable that says which mutant is on.
const switchName = "mutantOn"

// switchFile declares it, in a file that is added to a package.
func switchFile(packageName string) string {
	return "package " + packageName + `

import (
	"os"
	"strconv"
)

var ` + switchName + ` = func() int { n, _ := strconv.Atoi(os.Getenv("` + switchName + `")); return n }()
`
}

// switched is a file with all the mutants given in it, each behind its number.
// They are of this file and have a kind.
func switched(text []byte, ms []*mutant) []byte {
	text = slices.Clone(text)
	for _, m := range ms {
		if m.constant >= 0 {
			copy(text[m.constant:], "var  ") // where "const" was
		}
	}
	return choices(text, ms)
}

func choices(text []byte, ms []*mutant) []byte {
	ms = slices.Clone(ms)
	// The outer before the inner, those at one place together.
	slices.SortStableFunc(ms, func(a, b *mutant) int { return cmp.Or(a.from-b.from, b.to-a.to) })
	var out []byte
	at := 0
	for len(ms) > 0 {
		m := ms[0]
		same := 1
		for same < len(ms) && ms[same].from == m.from && ms[same].to == m.to {
			same++
		}
		inner := same
		for inner < len(ms) && ms[inner].from < m.to {
			inner++
		}
		out = append(out, text[at:m.from]...)
		out = append(out, "(func() "+m.kind+" { switch "+switchName+" {"...)
		for _, one := range ms[:same] {
			out = fmt.Appendf(out, " case %d: return %s;", one.number, one.is)
		}
		out = append(out, " }; return "...)
		var within []*mutant
		for _, one := range ms[same:inner] {
			moved := *one
			moved.from -= m.from
			moved.to -= m.from
			within = append(within, &moved)
		}
		out = append(out, choices(text[m.from:m.to], within)...)
		out = append(out, " }())"...)
		at, ms = m.to, ms[inner:]
	}
	return append(out, text[at:]...)
}

// pkg is a package as go's type checker sees it.
type pkg struct {
	path     string
	fset     *token.FileSet
	imports  types.Importer
	names    []string // of the files, in order
	files    map[string]*ast.File
	text     map[string][]byte
	info     types.Info
	name     string
	onSwitch *ast.File // declares the switch
}

// settle finds out whether the mutant can be switched on while the program runs,
// and whether it compiles at all.
func (m *mutant) settle() (compiles bool) {
	if m.kind != "" && m.pkg.passes(m.file, switched(m.pkg.text[m.file], []*mutant{m})) {
		return true
	}
	m.kind = ""
	return m.pkg.passes(m.file, m.source())
}

// passes tells whether the package passes the type checker with a file changed.
func (p *pkg) passes(file string, text []byte) bool {
	f, err := parser.ParseFile(p.fset, file, text, parser.SkipObjectResolution)
	if err != nil {
		return false
	}
	files := []*ast.File{p.onSwitch}
	for _, name := range p.names {
		if name == file {
			files = append(files, f)
		} else {
			files = append(files, p.files[name])
		}
	}
	conf := types.Config{Importer: p.imports}
	_, err = conf.Check(p.path, p.fset, files, nil)
	return err == nil
}

// mutants lists every mutant of every suite in a fixed order.
func mutants() ([]*mutant, error) {
	exports, packages, err := goList()
	if err != nil {
		return nil, err
	}
	var out []*mutant
	for i := range suites {
		s := &suites[i]
		p, err := load(s.folder, packages, exports)
		if err != nil {
			return nil, err
		}
		for _, name := range p.names {
			if !slices.ContainsFunc(s.files, func(pattern string) bool {
				ok, _ := filepath.Match(pattern, filepath.Base(name))
				return ok
			}) {
				continue
			}
			for _, m := range find(p, name) {
				m.suite = s
				out = append(out, m)
			}
		}
	}
	seen := map[string]int{}
	for i, m := range out {
		m.number = i + 1
		seen[m.name]++
		if n := seen[m.name]; n > 1 {
			m.name += fmt.Sprintf(" #%d", n)
		}
	}
	return out, nil
}

type listed struct {
	ImportPath, Export, Dir string
	GoFiles                 []string
}

// goList asks go for the packages of the suites and for what they import, built.
func goList() (exports map[string]string, packages map[string]listed, err error) {
	args := []string{"list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles"}
	for _, s := range suites {
		args = append(args, "./"+s.folder)
	}
	cmd := exec.Command("go", args...)
	cmd.Stderr = os.Stderr
	text, err := cmd.Output()
	if err != nil {
		return nil, nil, err
	}
	exports, packages = map[string]string{}, map[string]listed{}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var l listed
		if err := d.Decode(&l); errors.Is(err, io.EOF) {
			return exports, packages, nil
		} else if err != nil {
			return nil, nil, err
		}
		exports[l.ImportPath] = l.Export
		packages[l.Dir] = l
	}
}

func load(folder string, packages map[string]listed, exports map[string]string) (*pkg, error) {
	dir, err := filepath.Abs(folder)
	if err != nil {
		return nil, err
	}
	l, ok := packages[dir]
	if !ok {
		return nil, fmt.Errorf("%s is no package", folder)
	}
	p := &pkg{path: l.ImportPath, fset: token.NewFileSet(), files: map[string]*ast.File{}, text: map[string][]byte{},
		info: types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}}
	p.imports = importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})
	var files []*ast.File
	for _, base := range l.GoFiles {
		name := filepath.ToSlash(filepath.Join(folder, base))
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(p.fset, name, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		p.names, p.files[name], p.text[name] = append(p.names, name), f, text
		files = append(files, f)
	}
	p.name = files[0].Name.Name
	p.onSwitch, err = parser.ParseFile(p.fset, "switch.go", "package "+p.name+"; var "+switchName+" int", 0)
	if err != nil {
		return nil, err
	}
	conf := types.Config{Importer: p.imports}
	_, err = conf.Check(p.path, p.fset, files, &p.info)
	return p, err
}

// finder collects the mutants of one file.
type finder struct {
	*pkg
	file string
	decl string
	// constants is the declaration, if it is one of constants.
	constants *ast.GenDecl
	top       int        // the highest bit of a span
	stack     []ast.Node // the nodes above the present one, the nearest last
	out       []*mutant
}

func find(p *pkg, file string) []*mutant {
	f := finder{pkg: p, file: file, top: 31}
	if strings.HasPrefix(file, "vdo/frame/") {
		f.top = 15 // message headers
	}
	for _, d := range p.files[file].Decls {
		f.decl, f.constants = declName(d), nil
		if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.CONST {
			f.constants = g
		}
		ast.Inspect(d, func(n ast.Node) bool {
			if n == nil {
				f.stack = f.stack[:len(f.stack)-1]
				return false
			}
			if !f.visit(n) {
				return false
			}
			f.stack = append(f.stack, n)
			return true
		})
	}
	return f.out
}

// declName is the name of a function, with its receiver, or of the first thing
// that a declaration declares.
func declName(d ast.Decl) string {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			return d.Name.Name
		}
		t := d.Recv.List[0].Type
		if star, ok := t.(*ast.StarExpr); ok {
			t = star.X
		}
		if index, ok := t.(*ast.IndexExpr); ok {
			t = index.X
		}
		return t.(*ast.Ident).Name + "." + d.Name.Name
	case *ast.GenDecl:
		if s, ok := d.Specs[0].(*ast.ValueSpec); ok {
			return s.Names[0].Name
		}
	}
	return "declaration"
}

func (f *finder) offset(p token.Pos) int { return f.fset.Position(p).Offset }

func (f *finder) textOf(n ast.Node) string {
	return string(f.text[f.file][f.offset(n.Pos()):f.offset(n.End())])
}

// short is a node's text in one line of bounded length.
func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

// add notes a mutant in which node n reads otherwise, told as was → told.
func (f *finder) add(n ast.Node, is, was, told string) {
	constant := -1
	if f.constants != nil {
		constant = f.offset(f.constants.Pos())
	}
	f.out = append(f.out, &mutant{constant: constant, file: f.file, line: f.fset.Position(n.Pos()).Line, pkg: f.pkg,
		from: f.offset(n.Pos()), to: f.offset(n.End()), is: is, kind: f.kind(n),
		name: fmt.Sprintf("%s: %s: %s → %s", f.file, f.decl, short(was), short(told))})
}

// replace is add, told as it stands.
func (f *finder) replace(n ast.Node, is string) { f.add(n, is, f.textOf(n), is) }

// replaceIn is add, told by the text of a larger node around n.
func (f *finder) replaceIn(around, n ast.Node, is string) {
	base := f.offset(around.Pos())
	text := f.textOf(around)
	f.add(n, is, text, text[:f.offset(n.Pos())-base]+is+text[f.offset(n.End())-base:])
}

// kind is the type of an expression as it is written in this file, empty where
// there is none or it must be constant.
func (f *finder) kind(n ast.Node) string {
	e, ok := n.(ast.Expr)
	if !ok || f.constants != nil && !mayBeVariables(f.constants) {
		return ""
	}
	t := f.info.Types[e].Type
	if id, ok := e.(*ast.Ident); ok && f.info.Uses[id] != nil {
		t = f.info.Uses[id].Type()
	}
	if t == nil {
		return ""
	}
	foreign := false
	text := types.TypeString(types.Default(t), func(p *types.Package) string {
		if p.Path() == f.path {
			return ""
		}
		foreign = foreign || !slices.ContainsFunc(f.files[f.file].Imports, func(s *ast.ImportSpec) bool {
			return s.Name == nil && s.Path.Value == strconv.Quote(p.Path())
		})
		return p.Name()
	})
	if foreign {
		return ""
	}
	return text
}

// mayBeVariables tells whether constants could as well be variables: each with its
// type, and not known outside the package. The type checker then has the last word.
func mayBeVariables(d *ast.GenDecl) bool {
	for _, s := range d.Specs {
		v := s.(*ast.ValueSpec)
		if v.Type == nil || len(v.Values) == 0 || v.Names[0].IsExported() {
			return false
		}
	}
	return true
}

func (f *finder) parent(up int) ast.Node {
	if up > len(f.stack) {
		return nil
	}
	return f.stack[len(f.stack)-up]
}
