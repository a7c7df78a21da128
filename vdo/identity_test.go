package vdo

import "testing"

// TestOfCable: product types of a cable plug (PD R3.2, T 6.35) with bits 20..16 zero are
// ID headers; a vendor's VDM header has its SVID there.
func TestOfCable(t *testing.T) {
	for w, want := range map[uint32]bool{
		0x18602FA1: true, 0x20602FA1: true, 0x70602FA1: true, 0x1C002FA1: true,
		0x1E4EA043: false, // SVID 0x1E4E, Discover Modes, ACK: passive by bits 29..27
		0x18D1A043: false, // SVID 0x18D1
		0x2109A043: false, // SVID 0x2109: active by bits 29..27
		0x00602FA1: false, 0x08602FA1: false, 0x28602FA1: false,
	} {
		if got := IDHeader(w).OfCable(); got != want {
			t.Errorf("%08X: %t", w, got)
		}
	}
}
