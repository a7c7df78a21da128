package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/rules"
	"example.com/gainsay/vdo"
)

const module = "example.com/gainsay/"

// TestAPI holds every exported name of every package that can be imported against
// testdata/api.txt, a line a name: what kind it is, its type or signature, the
// value of a constant, the JSON key of a field. The names that scripts rely on stand
// there too: rules, layouts with their fields, commands with their options.
func TestAPI(t *testing.T) {
	var lines []string
	for _, p := range importable(t) {
		lines = append(lines, listing(p.types)...)
	}
	lines = append(lines, scriptNames()...)
	slices.Sort(lines)
	got := strings.Join(lines, "\n") + "\n"
	path := filepath.Join("..", "..", "testdata", "api.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to write it)", err)
	}
	gone, added := changes(strings.Split(string(want), "\n"), strings.Split(got, "\n"))
	if len(gone)+len(added) == 0 {
		return
	}
	t.Errorf("what importers and scripts rely on is no longer what testdata/api.txt lists:\n%s", changeText(gone, added))
	if len(gone) > 0 {
		t.Error("a line that is gone (-) breaks those who use the name: keep it, or say in the commit what they do instead")
	}
	t.Error("where it is meant, write the list anew: go test ./cmd/gainsay -run API -update; commit it with the change")
}

// scriptNames gives a line for each name that is permanent outside Go.
func scriptNames() (out []string) {
	for _, r := range rules.All() {
		out = append(out, fmt.Sprintf("rule %s, a %s about %s", r.ID, r.Kind, r.Property))
	}
	for _, r := range rules.Retired() {
		out = append(out, fmt.Sprintf("rule %s, retired", r.ID))
	}
	for _, l := range vdo.Layouts() {
		for _, f := range l.Fields() {
			out = append(out, fmt.Sprintf("layout %s, bits %d to %d: %s", l.Name(), f.High(), f.Low(), f.Name))
		}
	}
	for _, c := range commands() {
		c.flagSet().VisitAll(func(f *pflag.Flag) {
			out = append(out, strings.TrimSpace(fmt.Sprintf("command %s --%s %s", c.name, f.Name, strings.TrimSuffix(f.Value.Type(), "bool"))))
		})
	}
	return append(out, fmt.Sprintf("exit %d done, no contradiction", exitDone), fmt.Sprintf("exit %d something contradicted", exitContradicted),
		fmt.Sprintf("exit %d something not done", exitUndone))
}

// TestErrorTypes: every exported type of error unwraps to its cause, so that
// errors.Is and errors.As get there.
func TestErrorTypes(t *testing.T) {
	fails := types.Universe.Lookup("error").Type().Underlying().(*types.Interface)
	found := 0
	for _, p := range importable(t) {
		for _, name := range p.types.Scope().Names() {
			o, ok := p.types.Scope().Lookup(name).(*types.TypeName)
			if !ok || !o.Exported() || !types.Implements(types.NewPointer(o.Type()), fails) {
				continue
			}
			found++
			unwrap, _, _ := types.LookupFieldOrMethod(o.Type(), true, p.types, "Unwrap")
			if unwrap == nil {
				t.Errorf("%s.%s is an error without Unwrap", p.path, name)
				continue
			}
			if result := unwrap.Type().String(); result != "func() error" && result != "func() []error" {
				t.Errorf("%s.%s unwraps by %s, want func() error or func() []error", p.path, name, result)
			}
		}
	}
	if found < 12 {
		t.Errorf("only %d types of error were found", found)
	}
}

// changes gives the lines that are only in the first list and only in the second.
func changes(was, is []string) (gone, added []string) {
	only := func(of, other []string) (out []string) {
		for _, l := range of {
			if !slices.Contains(other, l) {
				out = append(out, l)
			}
		}
		return out
	}
	return only(was, is), only(is, was)
}

func changeText(gone, added []string) string {
	var b strings.Builder
	for _, l := range gone {
		fmt.Fprintf(&b, "- %s\n", l)
	}
	for _, l := range added {
		fmt.Fprintf(&b, "+ %s\n", l)
	}
	return b.String()
}

// TestAPIListing shows what changes the list.
func TestAPIListing(t *testing.T) {
	pkg := types.NewPackage(module+"p", "p")
	text := types.Typ[types.String]
	named := types.NewNamed(types.NewTypeName(token.NoPos, pkg, "T", nil), nil, nil)
	build := func(field, key string, fieldType types.Type, hidden bool) []string {
		fields := []*types.Var{types.NewField(token.NoPos, pkg, field, fieldType, false)}
		tags := []string{`json:"` + key + `"`}
		if hidden {
			fields, tags = append(fields, types.NewField(token.NoPos, pkg, "inner", text, false)), append(tags, "")
		}
		named.SetUnderlying(types.NewStruct(fields, tags))
		p := types.NewPackage(module+"p", "p")
		p.Scope().Insert(named.Obj())
		return listing(p)
	}
	base := build("A", "a", text, false)
	if want := []string{"p.T type struct", `p.T.A field string json:"a"`}; !reflect.DeepEqual(base, want) {
		t.Fatalf("%q, want %q", base, want)
	}
	for what, other := range map[string][]string{
		"a field renamed":      build("B", "a", text, false),
		"a key renamed":        build("A", "b", text, false),
		"a type changed":       build("A", "a", types.Typ[types.Int], false),
		"a field hidden":       build("a", "a", text, false),
		"a hidden field added": build("A", "a", text, true),
	} {
		if gone, added := changes(base, other); len(gone)+len(added) == 0 {
			t.Errorf("%s changes nothing: %q", what, other)
		}
	}
}

// goPackage is a package with its types and the files they are written in.
type goPackage struct {
	path  string // within the module
	dir   string
	files []string
	types *types.Package
}

// importable gives the packages of the module that others can import, in order.
func importable(t *testing.T) []goPackage {
	t.Helper()
	if testing.Short() {
		t.Skip("compiles every package")
	}
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Name,Dir,GoFiles", "./...")
	cmd.Dir = filepath.Join("..", "..")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, errs.String())
	}
	compiled := map[string]string{}
	var found []goPackage
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath, Export, Name, Dir string
			GoFiles                       []string
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		compiled[p.ImportPath] = p.Export
		path, ours := strings.CutPrefix(p.ImportPath, module)
		if ours && p.Name != "main" && !strings.Contains("/"+path+"/", "/internal/") {
			found = append(found, goPackage{path: path, dir: p.Dir, files: p.GoFiles})
		}
	}
	if len(found) < 11 {
		t.Fatalf("only %d packages were found", len(found))
	}
	imports := importer.ForCompiler(token.NewFileSet(), "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(compiled[path])
	})
	for i := range found {
		if found[i].types, err = imports.Import(module + found[i].path); err != nil {
			t.Fatal(err)
		}
	}
	slices.SortFunc(found, func(a, b goPackage) int { return strings.Compare(a.path, b.path) })
	return found
}

// inventedNames are those that the compiler gives to results without one.
var inventedNames = regexp.MustCompile(`#rv[0-9]+ `)

// listing gives a line for each exported name of a package.
func listing(p *types.Package) []string {
	at := strings.TrimPrefix(p.Path(), module)
	text := func(t types.Type) string {
		return inventedNames.ReplaceAllString(types.TypeString(t, func(other *types.Package) string {
			switch path, ours := strings.CutPrefix(other.Path(), module); {
			case other.Path() == p.Path():
				return ""
			case ours:
				return path
			}
			return other.Path()
		}), "")
	}
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(at+"."+format, args...)) }
	for _, name := range p.Scope().Names() {
		if !token.IsExported(name) {
			continue
		}
		switch o := p.Scope().Lookup(name).(type) {
		case *types.Const:
			add("%s const %s = %s", name, text(o.Type()), o.Val().ExactString())
		case *types.Var:
			add("%s var %s", name, text(o.Type()))
		case *types.Func:
			add("%s %s", name, text(o.Type()))
		case *types.TypeName:
			out = append(out, typeListing(at+"."+name, o, text)...)
		}
	}
	return out
}

// typeListing gives the lines of a type: itself, its exported fields and methods.
func typeListing(name string, o *types.TypeName, text func(types.Type) string) []string {
	if o.IsAlias() {
		return []string{fmt.Sprintf("%s type = %s", name, text(o.Type()))}
	}
	named := o.Type().(*types.Named)
	params := ""
	if list := named.TypeParams(); list.Len() > 0 {
		var parts []string
		for p := range list.TypeParams() {
			parts = append(parts, p.Obj().Name()+" "+text(p.Constraint()))
		}
		params = "[" + strings.Join(parts, ", ") + "]"
	}
	var out []string
	if s, ok := named.Underlying().(*types.Struct); ok {
		kind := "struct"
		for i := range s.NumFields() {
			f := s.Field(i)
			if !f.Exported() {
				kind = "struct with hidden fields"
				continue
			}
			line := fmt.Sprintf("%s.%s field %s", name, f.Name(), text(f.Type()))
			if f.Embedded() {
				line += " embedded"
			}
			if key, ok := reflect.StructTag(s.Tag(i)).Lookup("json"); ok {
				line += fmt.Sprintf(" json:%q", key)
			}
			out = append(out, line)
		}
		out = append([]string{name + " type" + params + " " + kind}, out...)
	} else {
		out = append(out, name+" type"+params+" "+text(named.Underlying()))
	}
	for m := range named.Methods() {
		if !m.Exported() {
			continue
		}
		star := ""
		if _, ok := m.Signature().Recv().Type().(*types.Pointer); ok {
			star = "*"
		}
		out = append(out, fmt.Sprintf("%s.%s method of %s%s %s", name, m.Name(), star, o.Name(), text(m.Type())))
	}
	return out
}
