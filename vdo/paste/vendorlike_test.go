package paste

import "testing"

// TestVendorLikeWords holds that a word of an identity that looks like a vendor's
// VDM header does not cut the answer in two, and that such a header after the
// identity still begins a message.
func TestVendorLikeWords(t *testing.T) {
	tests := map[string][]int{
		"FF00A041 18602FA1 0008A043 01020100 00082042":                   {5}, // the XID
		"FF00A041 18602FA1 00000000 01020100 0008A043":                   {5}, // the cable word
		"18602FA1 0008A043 01020100 00082042":                            {4}, // without a header
		"FF00A041 20602FA1 0008A043 01020100 00683832 0008A043":          {6}, // the second cable word
		"FF00A041 1C602FA1 00000000 01020100 00082042 0008A043 00000001": {5, 2},
		"FF00A041 1C602FA1 FF00A042 80870000":                            {2, 2}, // cut short, then SVIDs
		"FF00A042 80870000 0008A043 00000001":                            {2, 2},
		"1C60A043 90310119":                                              {2}, // too few words for an identity
		"FF00A041 1C602FA1 00000000 01020100 00082042 1C60A043 90310119": {5, 2},
		"FF00A042 8087FF01 00000000 8087A063 00030001":                   {3, 2}, // the reserved bit is set
		"FF00A042 8087FF01 8087A163 00030001":                            {2, 2}, // an object position too
		"1E4EA041 1C60FFFF 00000000 01000100 00082042":                   {5},    // an identity under a vendor's SVID
	}
	for text, want := range tests {
		res, err := Read(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
		}
		var got []int
		for _, m := range res.Messages {
			got = append(got, len(m.Words))
		}
		if len(got) != len(want) || got[0] != want[0] || len(got) > 1 && got[1] != want[1] {
			t.Errorf("%s: messages of %v words, want %v", text, got, want)
		}
	}
}
