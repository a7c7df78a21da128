package record

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var updateSchema = flag.Bool("update", false, "write the schema file anew")

// TestSchemaCurrent: the file in the repository is the schema of these tables.
func TestSchemaCurrent(t *testing.T) {
	if *updateSchema {
		if err := os.WriteFile(SchemaName, Schema(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(SchemaName)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(Schema()), string(got)); diff != "" {
		t.Errorf("%s is out of date; run the test with -update (-want +got):\n%s", SchemaName, diff)
	}
}

// TestSchemaKeys: the schema has every key of the tables, and no other, with the
// same help and the same required ones.
func TestSchemaKeys(t *testing.T) {
	type node struct {
		Description string
		Required    []string
		Properties  map[string]json.RawMessage
		AnyOf       []json.RawMessage
		Items       json.RawMessage
	}
	got := map[string]Key{}
	var walk func(raw json.RawMessage, path string)
	walk = func(raw json.RawMessage, path string) {
		var n node
		if err := json.Unmarshal(raw, &n); err != nil {
			t.Fatal(err)
		}
		for name, p := range n.Properties {
			var inner node
			if err := json.Unmarshal(p, &inner); err != nil {
				t.Fatal(err)
			}
			k := Key{Path: join(path, name), Help: inner.Description}
			for _, r := range n.Required {
				k.Required = k.Required || r == name
			}
			got[k.Path] = k
			walk(p, k.Path)
		}
		for _, one := range append(n.AnyOf, n.Items) {
			if one != nil {
				walk(one, path)
			}
		}
	}
	walk(Schema(), "")
	want := map[string]Key{}
	for _, k := range Keys() {
		k.Form = ""
		want[k.Path] = k
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestSchemaRecords holds the loader's side of testdata/schema/records.jsonl; the
// other side, an independent validator with the schema, is a step of .ci/run. The
// schema never refuses what loads.
func TestSchemaRecords(t *testing.T) {
	f, err := os.Open("../../testdata/schema/records.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	loads, refused := 0, 0
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		var one struct {
			About         string
			Loads, Schema bool
			Record        json.RawMessage
		}
		d := json.NewDecoder(bytes.NewReader(sc.Bytes()))
		d.DisallowUnknownFields()
		if err := d.Decode(&one); err != nil {
			t.Fatalf("%v: %s", err, sc.Text())
		}
		var last error
		n := 0
		recs, errs := read(t, string(one.Record)+"\n", "test.jsonl")
		if n = len(recs) + len(errs); len(errs) > 0 {
			last = errs[0]
		}
		if n != 1 || (last == nil) != one.Loads {
			t.Errorf("%s: %d records, error %v; want it to load: %v", one.About, n, last, one.Loads)
		}
		if one.Loads && !one.Schema {
			t.Errorf("%s: the schema refuses what loads", one.About)
		}
		if one.Loads {
			loads++
		} else if !one.Schema {
			refused++
		}
	}
	if sc.Err() != nil || loads < 15 || refused < 25 {
		t.Errorf("%d load, %d are refused by both, %v", loads, refused, sc.Err())
	}
}

func TestDraftNamesSchema(t *testing.T) {
	first, _, _ := strings.Cut(Draft("x"), "\n")
	if !strings.HasSuffix(first, "$schema="+SchemaName) {
		t.Errorf("the draft begins with %q", first)
	}
}

// TestDraftHasKeys: the draft shows every key, on a line of its own or, where the
// key has no example, in the example of the key that it stands under; and what
// it shows loads once the marks of a comment are off.
func TestDraftHasKeys(t *testing.T) {
	known := map[string]bool{}
	for _, k := range Keys() {
		known[k.Path] = true
		above, _, nested := strings.Cut(k.Path, ".")
		if i := strings.LastIndex(k.Path, "."); i > 0 {
			above = k.Path[:i]
		}
		if nested && example[k.Path] == "" && example[above] == "" {
			t.Errorf("%s has no example and would not be in the draft", k.Path)
		}
	}
	for path := range example {
		if !known[path] {
			t.Errorf("%s has an example and is no key", path)
		}
	}
	head, rest, _ := strings.Cut(Draft("x"), "cable:")
	rest = strings.ReplaceAll(rest, "\n# ", "\n")
	rest = strings.NewReplacer(`"FF00A041 18602FA1 ..."`, "FF00A081", `far: "..."`, "far: FF00A081").Replace(rest)
	for rec, err := range Read(strings.NewReader(head+"cable:"+rest), "draft.yaml") {
		if err != nil || len(rec.Bench) != 1 || !rec.Claims[0].Certificate.Known || len(rec.Waive) != 1 {
			t.Errorf("%+v, %v", rec, err)
		}
	}
}
