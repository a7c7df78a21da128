package typec_test

import (
	"strings"
	"testing"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/typec"
)

// Whatever the attributes hold: nothing panics, what is not understood is a
// problem, what is a word comes through, and the other port stays as it was.
func FuzzAttributes(f *testing.F) {
	f.Add("0x18602fa1", "0x000a2643", "3.0", "8087", "1", "0x024b0001")
	f.Add("", "0", "0.0", "ff01", "2", "0x501c1c1c")
	f.Add("0x0", "\x00", "2.0", "0x", "mode", "-1")
	f.Add("FFFFFFFFF", "\xff\xfe", "3.10", "+123", "7", " 1 2")
	f.Fuzz(func(t *testing.T, id, cable, revision, svid, index, word string) {
		tree := files{}
		for name, text := range passive {
			tree[strings.ReplaceAll(name, "port0", "port1")] = text
		}
		tree = tree.with(active).with(files{"port0-cable/identity/product_type_vdo2": "0x0"})
		fsys := tree.fs()
		for name, text := range map[string]string{
			"port0-cable/identity/id_header":          id,
			"port0-cable/identity/product_type_vdo1":  cable,
			"port0-cable/usb_power_delivery_revision": revision,
			"port0-plug0/port0-plug0.0/svid":          svid,
			"port0-plug0/port0-plug0.0/mode":          index,
			"port0-plug0/port0-plug0.0/vdo":           word,
		} {
			fsys[name].Data = []byte(text)
		}
		ports, err := typec.Read(fsys)
		if err != nil || len(ports) != 2 {
			t.Fatalf("%d ports, %v", len(ports), err)
		}
		if got := outcomes(ports[1:]); len(got.Problems) != 0 || len(got.Messages) != 1 {
			t.Errorf("the other port: %q", got)
		}
		c := ports[0].Cable
		mode := c.Near.Modes[0]
		for _, n := range []typec.Attribute{c.Identity.IDHeader.Attribute, c.Identity.ProductType[0].Attribute, c.PDRevision, mode.SVID.Attribute, mode.Index.Attribute, mode.Word.Attribute} {
			found := n.Known()
			for _, p := range c.Problems {
				found = found || p.Path == n.Path && p.Error() != ""
			}
			if !found {
				t.Errorf("%s holds something not understood, and no problem says so", n.Path)
			}
		}
		identified := false
		for _, m := range c.Messages() {
			identified = identified || m.Headerless
			r := vdo.Decode(m.Words, m.Context())
			h, headed := r.Header()
			switch {
			case headed == m.Headerless || len(m.Remarks) == 0:
				t.Errorf("%08X: headerless %v, remarks %q", m.Words, m.Headerless, m.Remarks)
			case headed && (h.Type() != vdo.ACK || h.Command() != vdo.DiscoverModes || h.Version() == ""):
				t.Errorf("%08X: not the header of a Discover Modes answer", uint32(h))
			case m.Headerless && m.Words[0] != c.Identity.IDHeader.Value:
				t.Errorf("%08X does not begin with the ID header %08X", m.Words, c.Identity.IDHeader.Value)
			}
			vdo.Summarize(r)
		}
		if identified != c.Identity.IDHeader.Known() {
			t.Errorf("ID header read: %v, message: %v", c.Identity.IDHeader.Known(), identified)
		}
	})
}
