package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"slices"
	"strings"
	"testing"
)

const sample = `package sample

type span uint16

const (
	high span = 31<<8 + 28
	flag span = 8<<8 + 8
)

const limit = 0.500

type Witness string

func over(a, b float64, yes bool) bool {
	if yes && a > limit*2 {
		return true
	}
	return !yes || b/0x3 == 1
}

var table = map[string]int{"a": 1, "b": 2}

var list = []Witness{"seller", "bench"}
`

func samplePackage(t *testing.T) *pkg {
	t.Helper()
	p := &pkg{path: "sample", name: "sample", fset: token.NewFileSet(), names: []string{"sample.go"},
		text: map[string][]byte{"sample.go": []byte(sample)}, files: map[string]*ast.File{},
		info: types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}}
	for name, text := range map[string]string{"sample.go": sample, "switch.go": "package sample; var " + switchName + " int"} {
		f, err := parser.ParseFile(p.fset, name, text, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		p.files[name] = f
	}
	p.onSwitch = p.files["switch.go"]
	conf := types.Config{}
	if _, err := conf.Check(p.path, p.fset, []*ast.File{p.files["sample.go"]}, &p.info); err != nil {
		t.Fatal(err)
	}
	return p
}

func TestFind(t *testing.T) {
	want := []string{
		"high: high 31<<8 + 28 → 30<<8 + 28", "high: high 31<<8 + 28 → 31<<8 + 29", "high: high 31<<8 + 28 → 31<<8 + 27",
		"high: flag 8<<8 + 8 → 9<<8 + 8", "high: flag 8<<8 + 8 → 8<<8 + 7",
		"limit: limit = 0.500 → limit = 0.501", "limit: limit = 0.500 → limit = 0.499",
		"over: yes → !yes", "over: yes && a > limit*2 → yes || a > limit*2", "over: a > limit*2 → a >= limit*2",
		"over: limit*2 → limit / 2", "over: limit*2 → limit*3", "over: limit*2 → limit*1",
		"over: return true → return false", "over: !yes || b/0x3 == 1 → !yes && b/0x3 == 1", "over: !yes → (yes)",
		"over: b/0x3 == 1 → b/0x3 != 1", "over: b/0x3 → b * 0x3", "over: b/0x3 → b/0x2", "over: b/0x3 → b/0x1",
		"over: b/0x3 == 1 → b/0x3 == 2", "over: b/0x3 == 1 → b/0x3 == 0",
		`table: "a" 1 → exchanged with 2`, `table: "a": 1 → "a": 2`, `table: "a": 1 → "a": 0`, `table: "b": 2 → "b": 3`, `table: "b": 2 → "b": 1`,
		`list: "seller" of []Witness{"seller", "bench"} → nothing`, `list: "bench" of []Witness{"seller", "bench"} → nothing`,
	}
	var got []string
	for _, m := range find(samplePackage(t), "sample.go") {
		got = append(got, strings.TrimPrefix(m.name, "sample.go: "))
		if !m.pkg.passes(m.file, m.source()) {
			t.Errorf("%s does not compile:\n%s", m.name, m.source())
		}
	}
	for _, name := range got {
		if !slices.Contains(want, name) {
			t.Errorf("unexpected %s", name)
		}
	}
	for _, name := range want {
		if !slices.Contains(got, name) {
			t.Errorf("missing %s", name)
		}
	}
}

// TestSwitched: all mutants that are expressions stand in one file, each once.
func TestSwitched(t *testing.T) {
	p := samplePackage(t)
	var ms []*mutant
	for i, m := range find(p, "sample.go") {
		m.number = i + 1
		if m.settle(); m.kind != "" {
			ms = append(ms, m)
		}
	}
	text := switched(p.text["sample.go"], ms)
	if !p.passes("sample.go", text) {
		t.Errorf("does not compile:\n%s", text)
	}
	if got := strings.Count(string(text), " case "); got != len(ms) || got < 20 {
		t.Errorf("%d switches for %d mutants", got, len(ms))
	}
}

func TestOtherNumbers(t *testing.T) {
	for value, want := range map[string]string{
		"5": "6 4", "0": "1", "0.500": "0.501 0.499", "10.0": "10.1 9.9", "460e-6": "461e-6 459e-6", "0.00393": "0.00394 0.00392",
		"0xFF00": "0xff01 0x7f00", "0b011": "0b10 0b1", "0x0": "0x1",
	} {
		if got := strings.Join(otherNumbers(&ast.BasicLit{Value: value}), " "); got != want {
			t.Errorf("%s: %s, want %s", value, got, want)
		}
	}
}
