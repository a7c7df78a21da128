package typec_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo/typec"
)

// A word that is missing or could not be read keeps its place: none behind it moves up.
// The words are those of the tree without the fault, up to it.
func TestGapsKeepTheirPlace(t *testing.T) {
	modes := passive.with(files{
		"port0-plug0/number_of_alternate_modes": "3",
		"port0-plug0/port0-plug0.0/svid":        "8087", "port0-plug0/port0-plug0.0/mode": "1", "port0-plug0/port0-plug0.0/vdo": "0x00000001",
		"port0-plug0/port0-plug0.1/svid": "8087", "port0-plug0/port0-plug0.1/mode": "2", "port0-plug0/port0-plug0.1/vdo": "0x00000002",
		"port0-plug0/port0-plug0.2/svid": "8087", "port0-plug0/port0-plug0.2/mode": "3", "port0-plug0/port0-plug0.2/vdo": "0x00000003",
	})
	read := func(tree files) *typec.Cable {
		ports, err := typec.Read(tree.fs())
		if err != nil {
			t.Fatal(err)
		}
		return ports[0].Cable
	}
	words := func(c *typec.Cable) (identity, mode []uint32) {
		for _, m := range c.Messages() {
			if m.Headerless {
				identity = m.Words
			} else {
				mode = m.Words[1:]
			}
		}
		return identity, mode
	}
	whole := read(modes)
	wantIdentity, wantMode := words(whole)
	if !whole.Whole() || len(wantMode) != 3 || len(wantIdentity) != 4 {
		t.Fatalf("the tree without a fault: %v, %08X, %08X", whole.Whole(), wantIdentity, wantMode)
	}
	for name, c := range map[string]struct {
		file, text     string
		identity, mode int // words left
		whole          bool
	}{
		"first mode":           {"port0-plug0/port0-plug0.0/vdo", "what", 4, 0, false},
		"second mode":          {"port0-plug0/port0-plug0.1/vdo", "what", 4, 1, false},
		"last mode":            {"port0-plug0/port0-plug0.2/vdo", "0x123456789", 4, 2, false},
		"an index left out":    {"port0-plug0/port0-plug0.1/mode", "4", 4, 1, false},
		"an index twice":       {"port0-plug0/port0-plug0.2/mode", "2", 4, 2, false},
		"an SVID":              {"port0-plug0/port0-plug0.1/svid", "what", 4, 1, false},
		"the ID header":        {"port0-cable/identity/id_header", "what", 0, 3, false},
		"the certification":    {"port0-cable/identity/cert_stat", "what", 1, 3, false},
		"the product":          {"port0-cable/identity/product", "what", 2, 3, false},
		"the cable's own word": {"port0-cable/identity/product_type_vdo1", "what", 3, 3, false},
		"a word that is zero":  {"port0-cable/identity/product_type_vdo2", "what", 4, 3, false},
	} {
		t.Run(name, func(t *testing.T) {
			cable := read(modes.with(files{c.file: c.text}))
			identity, mode := words(cable)
			if diff := cmp.Diff(wantIdentity[:c.identity], slices.Clip(identity)); diff != "" && len(identity)+c.identity > 0 {
				t.Errorf("identity (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(wantMode[:c.mode], mode); diff != "" && len(mode)+c.mode > 0 {
				t.Errorf("modes (-want +got):\n%s", diff)
			}
			if cable.Whole() != c.whole {
				t.Errorf("Whole is %v, want %v", cable.Whole(), c.whole)
			}
		})
	}
}
