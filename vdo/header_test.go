package vdo_test

import (
	"testing"

	. "example.com/gainsay/vdo"
)

// The header words a cable's answers to Discover Identity can begin with: PD
// R3.2 V1.2, Structured VDM Header table.
func TestIdentityHeaders(t *testing.T) {
	for _, base := range []struct {
		word         uint32
		version      string
		major, minor int
	}{
		{0xFF008041, "1.0", 0, 0},
		{0xFF00A041, "2.0", 1, 0},
		{0xFF00A841, "2.1", 1, 1},
	} {
		for _, kind := range []struct {
			add  uint32
			want CommandType
		}{{0, ACK}, {0x40, NAK}, {0x80, Busy}} {
			h := VDMHeader(base.word + kind.add)
			if !h.Structured() || h.SVID() != SVIDPowerDelivery || h.Command() != DiscoverIdentity || h.Type() != kind.want ||
				h.Version() != base.version || h.Major() != base.major || h.Minor() != base.minor ||
				h.Position() != 0 || h.ReservedBit() {
				t.Errorf("%08X: %v %04X %v %v %q %d.%d %d %v", uint32(h), h.Structured(), h.SVID(), h.Command(), h.Type(),
					h.Version(), h.Major(), h.Minor(), h.Position(), h.ReservedBit())
			}
			if !h.Is(SVIDPowerDelivery, DiscoverIdentity, kind.want) || h.Is(SVIDDisplayPort, DiscoverIdentity, kind.want) ||
				h.Is(SVIDPowerDelivery, DiscoverModes, kind.want) || h.Is(SVIDPowerDelivery, DiscoverIdentity, Request) {
				t.Errorf("%08X: Is disagrees with the accessors", uint32(h))
			}
			if h.Layout().Name() != "vdm-header" {
				t.Errorf("%08X: layout %s", uint32(h), h.Layout().Name())
			}
		}
	}
}

// Reserved versions have no name; an unstructured header has none of a
// structured one's fields.
func TestVersionsWithoutAName(t *testing.T) {
	for _, w := range []uint32{
		0xFF00B041, // minor 10b
		0xFF00B841, // minor 11b
		0xFF00C041, // major 10b
		0xFF00E041, // major 11b
		0xFF002041, // unstructured
	} {
		if v := VDMHeader(w).Version(); v != "" {
			t.Errorf("%08X: version %q", w, v)
		}
	}
	h := VDMHeader(0xF0550041)
	if h.Structured() || h.SVID() != 0xF055 || h.Is(0xF055, DiscoverIdentity, ACK) || h.Layout().Name() != "unstructured-header" {
		t.Errorf("%08X: structured %v, layout %s", uint32(h), h.Structured(), h.Layout().Name())
	}
}
