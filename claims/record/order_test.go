package record

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gopkg.in/yaml.v3"
)

// shuffled writes YAML documents anew, the keys of every mapping in another order.
func shuffled(t *testing.T, text []byte, rng *rand.Rand) []byte {
	t.Helper()
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	var shuffle func(n *yaml.Node)
	shuffle = func(n *yaml.Node) {
		for _, c := range n.Content {
			shuffle(c)
		}
		if n.Kind != yaml.MappingNode {
			return
		}
		pairs := len(n.Content) / 2
		rng.Shuffle(pairs, func(i, j int) {
			for k := range 2 {
				n.Content[2*i+k], n.Content[2*j+k] = n.Content[2*j+k], n.Content[2*i+k]
			}
		})
	}
	for dec := yaml.NewDecoder(bytes.NewReader(text)); ; {
		var n yaml.Node
		if dec.Decode(&n) != nil {
			break
		}
		shuffle(&n)
		if err := enc.Encode(&n); err != nil {
			t.Fatal(err)
		}
	}
	return out.Bytes()
}

// TestKeyOrder holds that the order of keys means nothing: the records are equal
// but for places, and for the order of free notes.
func TestKeyOrder(t *testing.T) {
	var files []string
	for _, pattern := range []string{"../../testdata/rules/*.yaml", "../../examples/records/*.yaml", "../../examples/shelf/*.yaml"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	read := func(text []byte) (out []*Record) {
		for rec, err := range Read(bytes.NewReader(text), "order.yaml") {
			if err != nil {
				t.Error(err)
			}
			out = append(out, rec)
		}
		return out
	}
	rng := rand.New(rand.NewPCG(1, 1))
	records, moved := 0, 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		want := read(text)
		for range 3 {
			other := shuffled(t, text, rng)
			got := read(other)
			if diff := cmp.Diff(want, got, cmpopts.IgnoreTypes(Place{}), cmpopts.EquateErrors(), cmpopts.IgnoreUnexported(Pasted{}),
				cmpopts.SortSlices(func(a, b Note) bool { return a.Key < b.Key })); diff != "" {
				t.Errorf("%s, keys in another order (-) (+):\n%s\n%s", file, diff, other)
			}
			for i := range min(len(want), len(got)) {
				if want[i].Cable.At.Column != got[i].Cable.At.Column || want[i].Cable.At.Line != got[i].Cable.At.Line {
					moved++
				}
			}
		}
		records += len(want)
	}
	if records < 300 || moved < records {
		t.Errorf("%d records, %d times the id moved: too few to show anything", records, moved)
	}
}
