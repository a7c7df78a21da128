package vdo

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What begins a message, by hand from PD R3.2 V1.2 T 6.33 (VDM header), the ID Header
// VDO table (bits 20..16 reserved) and the counts of the clause of Discover Identity.
func TestFirst(t *testing.T) {
	const passive, active, vpd = 0x1C60A043, 0x2460A043, 0x3460A043 // ID headers that look like Discover Modes answers under a vendor's SVID
	for _, c := range []struct {
		name  string
		words []uint32
		want  []string // the messages: h for VDM header first, i for ID header first, and the number of words
	}{
		{"nothing", nil, nil},
		{"an identity", []uint32{0xFF00A041, 0x1C60F055, 0, 0x00010100, 0x00082042}, []string{"h5"}},
		{"without its header", []uint32{0x1C60F055, 0, 0x00010100, 0x00082042}, []string{"i4"}},
		{"a request", []uint32{0xFF00A001}, []string{"h1"}},
		{"the reserved bit of the header is set", []uint32{0xFF00A061, 0x1C60F055, 0, 0, 0x00082042}, []string{"h5"}},
		{"identity, SVIDs, modes", []uint32{0xFF00A041, 0x1C60F055, 0, 0, 0x00082042, 0xFF00A042, 0x8087FF01, 0, 0x8087A043, 0x00030001, 0xFF01A043, 0x00000405},
			[]string{"h5", "h3", "h2", "h2"}},
		{"a Modes header with the reserved bit", []uint32{0xFF00A042, 0x8087FF01, 0x8087A063, 0x00030001}, []string{"h2", "h2"}},
		{"a Modes header with an object position", []uint32{0xFF00A042, 0x8087FF01, 0x8087A163, 0x00030001}, []string{"h2", "h2"}},
		{"two SVIDs of one maker are a pair", []uint32{0xFF00A042, 0x80878086, 0xFF018087}, []string{"h3"}},
		{"a vendor's mode, bits 20..16 set", []uint32{0x1E4EA043, 0x90310119}, []string{"h2"}},
		{"a vendor's mode, too few words for an identity", []uint32{passive, 0x90310119}, []string{"h2"}},
		{"the same under structured 1.0", []uint32{0x1C608043, 0x90310119}, []string{"h2"}},
		{"active type, too few words", []uint32{active, 0x90310119, 0x01020304}, []string{"h3"}},
		{"VPD type, too few words", []uint32{vpd, 0x90310119}, []string{"h2"}},
		{"as many words as an identity", []uint32{passive, 0, 0x00010100, 0x00082042}, []string{"i4"}},
		{"as many, but reserved codes in the cable word", []uint32{passive, 0x01020304, 0x18D1A043, 0x00030001}, []string{"h2", "h2"}},
		{"as many, but reserved bits in the cable word", []uint32{passive, 0x90310119, 0x1E4EA043, 0x90310119}, []string{"h2", "h2"}},
		{"a vendor's mode behind an identity", []uint32{0xFF00A041, 0x1C60F055, 0, 0, 0x00082042, passive, 0x90310119}, []string{"h5", "h2"}},
		{"behind an identity without header", []uint32{0x1C60F055, 0, 0, 0x00082042, 0x1E4EA043, 0x90310119}, []string{"i4", "h2"}},
		{"behind an active PD 2.0 identity", []uint32{0xFF008041, 0x2400F055, 0, 0, 0x00084651, 0x1E4E8043, 1}, []string{"h5", "h2"}},
		{"a cable word like a vendor's header", []uint32{0xFF00A041, 0x1C60F055, 0, 0, 0x0008A043}, []string{"h5"}},
		{"such a second word of an active cable", []uint32{0xFF00A041, 0x2460F055, 0, 0, 0x006A3E5B, 0x4650A043}, []string{"h6"}},
		{"an XID like a vendor's header", []uint32{0x1C60F055, 0x1E4EA043, 0, 0x00082042}, []string{"i4"}},
		{"Discover Identity under a vendor's SVID", []uint32{0x1E4EA041, 0x1C60FFFF, 0, 0x01000100, 0x00082042}, []string{"h5"}},
		{"such a word with no ID header behind", []uint32{0x1E4EA041, 0, 0, 0}, []string{"i4"}},
		{"two identities without header", []uint32{0x1C60F055, 0, 0, 0x00082042, 0x1C60F055, 0, 0, 0x00082043}, []string{"i4", "i4"}},
		{"active of two words, then passive", []uint32{0x2460F055, 0, 0, 0x006A3E5B, 0x46503209, 0x1C60F055, 0, 0, 0x00082043}, []string{"i5", "i4"}},
		{"an identity alone and surplus words", []uint32{0x1C60F055, 0, 0, 0x00082042, 1, 2}, []string{"i6"}},
		{"a marker never programmed", []uint32{0, 0, 0, 0}, []string{"i4"}},
		{"the ID header alone", []uint32{0x1C60F055}, []string{"i1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, cut(c.words)); diff != "" {
				t.Errorf("%08X (-want +got):\n%s", c.words, diff)
			}
		})
	}
}

func cut(words []uint32) []string {
	var got []string
	for len(words) > 0 {
		n, headerless := First(words)
		s := "h"
		if headerless {
			s = "i"
		}
		got = append(got, s+decimal(uint32(n)))
		words = words[n:]
	}
	return got
}

// Messages joined come apart where they were joined, whatever XID, product and cable
// words they have. Lists of SVIDs end with 0, and mode words are those of a table.
func TestFirstSeparatesWhatWasJoined(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	modes := []uint32{0x00000001, 0x00030001, 0x40000405, 0x90310119, 0x01020304}
	for range 20000 {
		var words []uint32
		var want []string
		header := uint32(0xFF00A041)
		if random.IntN(3) == 0 {
			header = 0xFF008041
		}
		id := 0x1C600000 | random.Uint32()&0xFFFF
		words = append(words, header, id, random.Uint32(), random.Uint32(), 0x00082042|random.Uint32()&0xFF000000)
		for VDMHeader(words[2]).standard() || VDMHeader(words[3]).standard() {
			words[2], words[3] = random.Uint32(), random.Uint32()
		}
		want = append(want, "h5")
		for range random.IntN(4) {
			svid := []uint32{SVIDDisplayPort, SVIDThunderbolt, 0x1E4E, 0x18D1, 0x2109, 0x1C60}[random.IntN(6)]
			words = append(words, svid<<16|header&0xFF00|0x43, modes[random.IntN(len(modes))])
			want = append(want, "h2")
		}
		if diff := cmp.Diff(want, cut(words)); diff != "" {
			t.Fatalf("%08X (-want +got):\n%s", words, diff)
		}
	}
}
