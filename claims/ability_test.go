package claims

import "testing"

// TestRateAbilities: what a bare rate means, at both ends of each range: the rates of USB
// 2.0, USB 3.2 (Gen 1, Gen 2, Gen 2x2), USB4 Gen 3 and USB4 Version 2.0.
func TestRateAbilities(t *testing.T) {
	for _, tt := range []struct {
		gbps float64
		want Ability
	}{
		{0.48, CanUSB2}, {0.481, CanUSB32Gen1}, {5, CanUSB32Gen1}, {5.1, CanUSB32Gen2}, {10, CanUSB32Gen2},
		{10.1, CanUSB32Gen2x2}, {20, CanUSB32Gen2x2}, {20.1, CanUSB4Gen3}, {40, CanUSB4Gen3}, {40.1, CanUSB4Gen4},
		{80, CanUSB4Gen4}, {120, CanUSB4Asymmetric},
	} {
		if meant, _ := rateAbilities(tt.gbps); meant[0] != tt.want {
			t.Errorf("%v Gbps means %s, want %s", tt.gbps, meant[0], tt.want)
		}
	}
}
