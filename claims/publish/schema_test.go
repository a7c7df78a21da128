package publish_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/shelf"
	"example.com/gainsay/vdo"
)

var update = flag.Bool("update", false, "write the schemas anew")

// published are the objects that each form may hold, and what it is.
var published = map[string]struct {
	title string
	forms []any
}{
	"report":  {"what 'gainsay check --json' prints, an object a record", []any{claims.Report{}}},
	"decode":  {"what 'gainsay decode --json' prints, an object a message, an object for what was set aside or not understood", []any{publish.Message{}, publish.SetAside{}, publish.Failure{}, publish.LoneWord{}}},
	"shelf":   {"what 'gainsay shelf --json' prints, an object a record and a last one with the counts", []any{publish.ShelfItem{}, publish.ShelfEnd{}}},
	"sample":  {"what 'gainsay sample --json' prints", []any{publish.Sample{}}},
	"ohms":    {"what 'gainsay ohms --json' prints", []any{publish.Ohms{}}},
	"ports":   {"what 'gainsay ports --json' prints, an object a port", []any{publish.Port{}}},
	"rules":   {"what 'gainsay rules --json' prints, an object a rule", []any{publish.Rule{}}},
	"layout":  {"what 'gainsay layout --json' prints, an object a layout", []any{publish.Layout{}}},
	"compose": {"what 'gainsay compose --json' prints", []any{publish.LoneWord{}}},
}

// never are keys of structs that several forms share which one of the forms cannot
// have. A Thunderbolt mode word beside an identity tells of linear re-drivers, and
// decode shows each message by itself. The kernel shows words without a text around
// them, which read in one way only, and no list of SVIDs.
var never = map[string][]string{
	"decode": {"Cable.linear_redriver"},
	"ports":  {"Cable.svids", "Message.at", "Message.time_s", "Message.others"},
}

// TestSchemas: the files are the schemas of the structs: no key of a struct is
// missing in them, and none is there that no struct has.
func TestSchemas(t *testing.T) {
	comments := readComments(t, ".", "..")
	for _, name := range publish.Schemas() {
		form, ok := published[name]
		if !ok {
			t.Fatalf("%s has no struct", name)
		}
		s := schemaMaker{comments: comments, defined: map[string]reflect.Type{}, never: never[name]}
		want := s.schema(name, form.title, form.forms)
		path := filepath.Join("schema", name+".schema.json")
		if *update {
			if err := os.WriteFile(path, want, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatalf("%v (run the test with -update to write it)", err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is out of date: go test ./claims/publish -run Schemas -update (-want +got):\n%s", path, diff)
		}
		if embedded, ok := publish.Schema(name); !*update && (!ok || !bytes.Equal(embedded, got)) {
			t.Errorf("Schema(%q) does not give the file", name)
		}
	}
	if len(published) != len(publish.Schemas()) {
		t.Errorf("%d forms, %d schemas", len(published), len(publish.Schemas()))
	}
	files, err := filepath.Glob("schema/*")
	if err != nil || len(files) != len(publish.Schemas()) {
		t.Errorf("%d files for %d schemas, %v", len(files), len(publish.Schemas()), err)
	}
	if _, ok := publish.Schema("nothing"); ok {
		t.Error("there is a schema of nothing")
	}
	for place := range enums {
		if !slices.Contains(enumsUsed, place) {
			t.Errorf("no struct has %s, whose values are listed", place)
		}
	}
}

// enums are the values of texts that come from a closed list; enumsUsed those
// that some schema has.
var (
	enums = map[string][]string{
		"Field.standing":               texts(vdo.Defined, vdo.Ignored),
		"Code.standing":                texts(vdo.Defined, vdo.Ignored),
		"Word.layout":                  layoutNames(),
		"Layout.layout":                layoutNames(),
		"ReplyForm.command":            ids(vdo.Command.ID, vdo.DiscoverIdentity, vdo.Attention),
		"ReplyForm.answer":             ids(vdo.CommandType.ID, vdo.Request, vdo.Busy),
		"ReplyForm.structured_version": structuredVersions,
		"ReplyForm.revision":           texts(vdo.Revision1, vdo.Revision3),
		"ReplyForm.plug":               texts(vdo.PlugNear, vdo.PlugPartner),
		"Cable.product":                ids(vdo.ProductType.ID, vdo.NotACable, 7),
		"Cable.speed":                  ids(vdo.Speed.ID, vdo.USB2, vdo.USB4Gen4),
		"Cable.plug_type":              ids(vdo.End.ID, vdo.EndTypeA, vdo.EndCaptive),
		"LimitResult.conductor":        texts(bench.VBUS, bench.Loop),
		"LimitResult.outcome":          texts(bench.Undecided, bench.Over),

		"Load.warm":           texts(bench.Undecided, bench.Over),
		"Resistance.how":      texts(bench.Ratio, bench.Subtracted),
		"Contribution.type":   texts(bench.TypeA, bench.TypeB),
		"Note.kind":           texts(bench.AccuracyAssumed, bench.UnitSlip),
		"ShelfItem.length_by": {"seller", "tape"},
		"ShelfVerdict.fit":    texts(claims.ShownFit, claims.Unfit),
		"ShelfAcross.rule":    {shelf.SameIdentity, shelf.ChangedWords, shelf.SamplesDiffer, shelf.ChangedOhms, shelf.IDGivenTwice},
		"Source.force":        texts(claims.Shall, claims.Practice),
		"Window.from":         structuredVersions,
		"Window.until":        structuredVersions,
		"Rule.needs[]":        nil, // those of claims.Evidence
	}
	enumsUsed          []string
	structuredVersions = []string{"1.0", "2.0", "2.1"}
)

// patterns are the forms of numbers written in hex.
var patterns = map[string]string{
	"Word.word": form32, "Layout.reserved_mask": form32,
	"ReplyForm.svid": form16, "Cable.svids[]": form16,
	"Cable.vendor_id": form16, "Cable.product_id": form16, "Cable.release": form16, "Cable.certification_id": form32,
	"MarkerIdentity.vendor_id": form16, "MarkerIdentity.product_id": form16, "MarkerIdentity.release": form16,
	"MarkerIdentity.certification_id": form32,
	"ShelfItem.date":                  `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`,
}

const (
	form16 = "^0x[0-9A-F]{4}$"
	form32 = "^0x[0-9A-F]{8}$"
)

// texts are the names of a list of constants, from the first to the last.
func texts[T interface {
	~uint8
	String() string
}](first, last T) []string {
	return ids(T.String, first, last)
}

func ids[T ~uint8](name func(T) string, first, last T) (out []string) {
	for v := first; ; v++ {
		if s := name(v); s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
		if v == last {
			return out
		}
	}
}

func layoutNames() (out []string) {
	for _, l := range vdo.Layouts() {
		out = append(out, l.Name())
	}
	return out
}

// sourceComments are the comments of structs and fields, by "Type" and
// "Type.Field", and the values of each named type of text.
type sourceComments struct {
	text   map[string]string
	values map[string][]string
}

func readComments(t *testing.T, dirs ...string) sourceComments {
	t.Helper()
	c := sourceComments{map[string]string{}, map[string][]string{}}
	for _, dir := range dirs {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			pkg := "publish."
			if dir == ".." {
				pkg = "claims."
			}
			ast.Inspect(file, func(n ast.Node) bool { return c.add(pkg, n) })
		}
	}
	return c
}

func (c sourceComments) add(pkg string, n ast.Node) bool {
	d, ok := n.(*ast.GenDecl)
	if !ok {
		_, inside := n.(*ast.FuncDecl)
		return !inside
	}
	for _, spec := range d.Specs {
		switch s := spec.(type) {
		case *ast.TypeSpec:
			c.text[pkg+s.Name.Name] = new(doc.Package).Synopsis(d.Doc.Text())
			if st, ok := s.Type.(*ast.StructType); ok {
				for _, f := range st.Fields.List {
					for _, id := range f.Names {
						c.text[pkg+s.Name.Name+"."+id.Name] = f.Doc.Text() + f.Comment.Text()
					}
				}
			}
		case *ast.ValueSpec:
			id, ok := s.Type.(*ast.Ident)
			if !ok || d.Tok != token.CONST || len(s.Values) != 1 {
				continue
			}
			if value, ok := s.Values[0].(*ast.BasicLit); ok && value.Kind == token.STRING {
				c.values[pkg+id.Name] = append(c.values[pkg+id.Name], strings.Trim(value.Value, `"`))
			}
		}
	}
	return true
}

func (c sourceComments) of(name string) string {
	return strings.Join(strings.Fields(c.text[name]), " ")
}

// ordered is a JSON object whose keys stay in order.
type ordered []pair

type pair struct {
	key   string
	value any
}

func (o ordered) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, p := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, _ := json.Marshal(p.key)
		b.Write(append(key, ':'))
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(p.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// schemaMaker makes the schema of one form.
type schemaMaker struct {
	comments sourceComments
	defined  map[string]reflect.Type
	order    []string
	never    []string // keys to leave out, as "Struct.key"
}

func (s *schemaMaker) schema(name, title string, forms []any) []byte {
	var roots []ordered
	for _, f := range forms {
		roots = append(roots, s.of(reflect.TypeOf(f), ""))
	}
	out := ordered{{"$schema", "http://json-schema.org/draft-07/schema#"}, {"$id", fmt.Sprintf("urn:gainsay:%s:%d", name, publish.FormatVersion)},
		{"title", title}, {"anyOf", roots}}
	var definitions ordered
	for i := 0; i < len(s.order); i++ { // it grows on the way
		definitions = append(definitions, pair{s.order[i], s.object(s.defined[s.order[i]])})
	}
	out = append(out, pair{"definitions", definitions})
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(out); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// of is the schema of a type at a place, "Struct.key".
func (s *schemaMaker) of(t reflect.Type, at string) ordered {
	switch t.Kind() {
	case reflect.Pointer:
		return s.of(t.Elem(), at)
	case reflect.Struct:
		name := t.Name()
		if have, ok := s.defined[name]; ok && have != t {
			panic("two types are called " + name)
		} else if !ok {
			s.defined[name] = t
			s.order = append(s.order, name)
		}
		return ordered{{"$ref", "#/definitions/" + name}}
	case reflect.Slice:
		return ordered{{"type", "array"}, {"items", s.of(t.Elem(), at+"[]")}}
	case reflect.Array:
		return ordered{{"type", "array"}, {"items", s.of(t.Elem(), at+"[]")}, {"minItems", t.Len()}, {"maxItems", t.Len()}}
	case reflect.Map:
		return ordered{{"type", "object"}, {"additionalProperties", s.of(t.Elem(), at+"{}")}}
	case reflect.Bool:
		return ordered{{"type", "boolean"}}
	case reflect.Float64:
		return ordered{{"type", "number"}}
	case reflect.Int:
		if strings.HasSuffix(at, ".gainsay") {
			return ordered{{"type", "integer"}, {"enum", []int{publish.FormatVersion}}}
		}
		return ordered{{"type", "integer"}}
	case reflect.Uint32:
		return ordered{{"type", "integer"}, {"minimum", 0}, {"maximum", uint32(1<<32 - 1)}}
	case reflect.String:
		out := ordered{{"type", "string"}}
		values := s.comments.values["claims."+t.Name()]
		if list, ok := enums[at]; ok {
			enumsUsed = append(enumsUsed, at)
			if values = list; list == nil {
				values = s.comments.values["claims.Evidence"]
			}
		}
		if len(values) > 0 {
			out = append(out, pair{"enum", values})
		}
		if p := patterns[at]; p != "" {
			out = append(out, pair{"pattern", p})
		}
		return out
	}
	panic(fmt.Sprintf("%s: no schema for %v", at, t))
}

// object is the schema of a struct.
func (s *schemaMaker) object(t reflect.Type) ordered {
	properties, required := s.fields(t)
	return ordered{{"description", s.comments.of(packageOf(t) + t.Name())}, {"type", "object"}, {"required", required}, {"properties", properties}}
}

// fields are the keys of a struct, those of an embedded one among them, and which
// of them are always there.
func (s *schemaMaker) fields(t reflect.Type) (properties ordered, required []string) {
	required = []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		tag, tagged := f.Tag.Lookup("json")
		if f.Anonymous && !tagged {
			inner, needed := s.fields(f.Type)
			properties, required = append(properties, inner...), append(required, needed...)
			continue
		}
		if !tagged {
			continue // not exported
		}
		key, options, _ := strings.Cut(tag, ",")
		if slices.Contains(s.never, t.Name()+"."+key) {
			continue
		}
		p := s.of(f.Type, t.Name()+"."+key)
		if about := s.comments.of(packageOf(t) + t.Name() + "." + f.Name); about != "" {
			p = append(ordered{{"description", about}}, p...)
			if p[1].key == "$ref" { // nothing may stand beside it in draft 07
				p = ordered{p[0], {"allOf", []ordered{{p[1]}}}}
			}
		}
		properties = append(properties, pair{key, p})
		if options == "" {
			required = append(required, key)
		}
	}
	return properties, required
}

// packageOf names the package of a type as readComments does.
func packageOf(t reflect.Type) string {
	return t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:] + "."
}
