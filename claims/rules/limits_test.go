package rules

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// near is the marker section of a record with these words.
func near(words ...uint32) string {
	parts := make([]string, len(words))
	for i, w := range words {
		parts[i] = fmt.Sprintf("%08X", w)
	}
	return "marker: {near: \"" + strings.Join(parts, " ") + "\"}\n"
}

const (
	ack2      = 0xFF00A041 // ACK to Discover Identity, structured version 2.0
	ack1      = 0xFF008041 // the same in 1.0
	svidsAck2 = 0xFF00A042
	passiveID = 0x18602FA1
	activeID  = 0x20602FA1
	modalID   = 0x1C602FA1 // passive, supports modes
	vpdID     = 0x74602FA1
	modesTBT  = 0x8087A043

	passiveWord = 0x00082020 // Type-C, 10 ns, 20 V, 3 A, USB 2.0
	activeOne   = 0x00683832 // VDO version 1.3, Type-C, 3 A through, Gen 2
	activeTwo   = 0x46500009 // 70 °C, 80 °C, copper, everything carried, two lanes, Gen 2
)

func passive(field string, raw uint32) string {
	return near(ack2, passiveID, 0, 0, compose("passive-cable", passiveWord, field, raw))
}

// active is an active cable of VDO version 1.3 with fields of its words set.
func active(one, two map[string]uint32) string {
	w1, w2 := uint32(activeOne), uint32(activeTwo)
	for field, raw := range one {
		w1 = compose("active-cable-1", w1, field, raw)
	}
	for field, raw := range two {
		w2 = compose("active-cable-2", w2, field, raw)
	}
	return near(ack2, activeID, 0, 0, w1, w2)
}

// activeV12 is an active cable in the form of VDO version 1.2 without sideband wires.
func activeV12(two uint32) string {
	return near(ack2, activeID, 0, 0, activeOne&^(7<<21)|2<<21|1<<8, two)
}

// activePD2 is an active cable in the layout of PD 2.0.
func activePD2(farPlug, termination uint32) string {
	w := compose("active-cable-pd2", 0x00082051, "far-plug", farPlug)
	return near(ack1, activeID&^0x00600000, 0, 0, compose("active-cable-pd2", w, "termination", termination))
}

// hot is an active cable with these temperatures in °C.
func hot(most, shutdown uint32) string {
	return active(nil, map[string]uint32{"max-temperature": most, "shutdown-temperature": shutdown})
}

// TestRuleLimits puts rules to evidence just below, at and just above what they
// hold it against.
func TestRuleLimits(t *testing.T) {
	type fields = map[string]uint32
	for _, tt := range []struct {
		rule, sections string
		want           claims.Status
	}{
		// Type-C R2.0, Table 3-1: cables carry 3 A or 5 A. R2.1, 3.11: 50 V is the most declared.
		{"claimed-current-below-3-a", "claims: {current: 2.9 A}\n", claims.Found},
		{"claimed-current-below-3-a", "claims: {current: 3 A}\n", claims.Passed},
		{"claimed-current-unpublished", "claims: {current: 2.5 A}\n", claims.Passed},
		{"claimed-current-unpublished", "claims: {current: 3 A}\n", claims.Passed},
		{"claimed-current-unpublished", "claims: {current: 3.1 A}\n", claims.Found},
		{"claimed-current-unpublished", "claims: {current: 4.9 A}\n", claims.Found},
		{"claimed-current-unpublished", "claims: {current: 5 A}\n", claims.Passed},
		{"claimed-current-unpublished", "claims: {current: 5.1 A}\n", claims.Found},
		{"claimed-voltage-above-standard", "claims: {voltage: 50 V}\n", claims.Passed},
		{"claimed-voltage-above-standard", "claims: {voltage: 50.5 V}\n", claims.Found},
		// The 100 W class: above 60 W, up to 100 W.
		{"claimed-certified-in-withdrawn-power-class", "claims: {certified: true, power: 60 W}\n", claims.Passed},
		{"claimed-certified-in-withdrawn-power-class", "claims: {certified: true, power: 61 W}\n", claims.Found},
		{"claimed-certified-in-withdrawn-power-class", "claims: {certified: true, power: 100 W}\n", claims.Found},
		{"claimed-certified-in-withdrawn-power-class", "claims: {certified: true, power: 101 W}\n", claims.Passed},

		// Data: 480 Mbps is the whole of USB 2.0; one lane of Gen 2 is 10 Gbps, two of Gen 1 or one of
		// USB4 Gen 2 beside another 20 Gbps.
		{"marker-data-above-claim", "claims: {data: 12 Mbps}\n" + passive("speed", 0), claims.Passed},
		{"marker-data-above-claim", "claims: {data: 480 Mbps}\n" + passive("speed", 1), claims.Found},
		{"marker-data-above-claim", "claims: {data: 10 Gbps}\n" + passive("speed", 2), claims.Passed},
		{"marker-data-above-claim", "claims: {data: 9.9 Gbps}\n" + passive("speed", 2), claims.Found},
		{"claimed-rate-over-gen-1", "claims: {data: 5 Gbps}\n" + passive("speed", 1), claims.Passed},
		{"claimed-rate-over-gen-1", "claims: {data: 10.5 Gbps}\n" + passive("speed", 1), claims.Found},
		{"claimed-rate-over-gen-1", "claims: {data: 20 Gbps}\n" + passive("speed", 1), claims.Found},
		{"claimed-rate-over-gen-1", "claims: {data: 20.5 Gbps}\n" + passive("speed", 1), claims.Passed},
		{"claimed-rate-over-gen-1", "claims: {data: 20 Gbps}\n" + active(fields{"speed": 1}, nil), claims.NotApplicable},
		{"asymmetric-mode-below-gen-4", activeV12(activeTwo | 2), claims.NotApplicable},
		// 1 m of 24 AWG has 84 mΩ, with all that is allowed for some 130 mΩ.
		{"resistance-above-claimed-conductors", "claims: {conductors: 24 AWG, length: 1 m}\nbench: {vbus: 150 mohm, ground: 50 mohm, ohmmeter: 0.5 % + 0.5 mΩ}\n", claims.Found},
		{"resistance-above-claimed-conductors", "claims: {conductors: 24 AWG, length: 1 m}\nbench: {vbus: 120 mohm, ground: 50 mohm, ohmmeter: 0.5 % + 0.5 mΩ}\n", claims.Undecided},
		// A name of USB is no name of Thunderbolt, whatever modes the marker may have.
		{"claimed-data-on-unmarked-cable", "claims: {data: 10 Gbps}\nmarker: {asked: true}\n", claims.Undecided},
		{"claimed-data-on-unmarked-cable", "claims: {data: 10.5 Gbps}\nmarker: {asked: true}\n", claims.Found},
		{"claimed-data-on-unmarked-cable", "claims: {data: 481 Mbps, plugs: c-to-c}\nmarker: {asked: true}\n", claims.Found},
		{"claimed-data-on-unmarked-cable", "claims: {data: 480 Mbps, plugs: c-to-c}\nmarker: {asked: true}\n", claims.NotApplicable},
		// A Thunderbolt word of 20 Gbps a lane serves 40 Gbps, and nothing above.
		{"claimed-data-above-marker", "claims: {data: 40 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord, modesTBT, 0x00030001), claims.Undecided},
		{"claimed-data-above-marker", "claims: {data: 40 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord, modesTBT, 0x00020001), claims.Found},
		{"claimed-data-above-marker", "claims: {data: 80 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord, modesTBT, 0x00030001), claims.Found},
		{"claimed-data-above-marker", "claims: {data: 5 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord), claims.Found},
		{"claimed-data-above-marker", "claims: {data: 40 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord|1), claims.Undecided},
		{"claimed-data-above-marker", "claims: {data: 40 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0xFF010000), claims.Found},
		{"claimed-data-above-marker", "claims: {data: 40 Gbps}\n" + near(ack2, modalID, 0, 0, passiveWord|1, svidsAck2, 0x80870000), claims.Undecided},
		{"claimed-data-above-marker", "claims: {data: USB 3.2 Gen 2}\n" + near(ack1, passiveID, 0, 0, 0x00082051), claims.Found},
		{"claimed-data-above-marker", "claims: {data: USB4 Gen 3}\n" + near(ack1, passiveID, 0, 0, 0x00082051), claims.Undecided},

		// Active cables: 110 °C is the hottest that a plug is expected to allow.
		{"temperature-not-plausible", hot(110, 110), claims.Passed},
		{"temperature-not-plausible", hot(111, 110), claims.Found},
		{"temperature-not-plausible", hot(70, 111), claims.Found},
		{"temperature-not-plausible", hot(1, 80), claims.Passed},
		{"temperature-not-plausible", hot(0, 80), claims.Found},
		{"shutdown-not-above-operating-temperature", hot(80, 81), claims.Passed},
		{"shutdown-not-above-operating-temperature", hot(80, 80), claims.Found},
		{"far-plug-with-one-end-active", activePD2(1, 2), claims.Found},
		{"far-plug-with-one-end-active", activePD2(1, 3), claims.Passed},
		{"far-plug-with-one-end-active", activePD2(0, 2), claims.Passed},
		{"far-plug-with-one-end-active", near(ack1, passiveID&^0x00600000, 0, 0, 0x00082051), claims.NotApplicable},
		// The form of PD R3.0 V1.2 has temperatures, hub hops and the sideband bit, and reserves
		// what came later.
		{"hub-hops-without-usb-2", activeV12(activeTwo | 1<<6 | 1<<5), claims.Found},
		{"shutdown-not-above-operating-temperature", activeV12(0x50460000), claims.Found},
		{"temperature-not-plausible", activeV12(0x6F6F0000), claims.Found},
		{"sideband-missing-for-its-modes", activeV12(activeTwo), claims.NotApplicable},
		{"sideband-missing-for-its-modes", near(ack2, activeID|1<<26, 0, 0, activeOne&^(7<<21)|2<<21|1<<8, activeTwo, svidsAck2, 0x80870000), claims.Found},
		{"generation-bit-differs-from-speed", activeV12(activeTwo), claims.NotApplicable},
		{"usb4-declared-below-gen-2", activeV12(activeTwo &^ 1), claims.NotApplicable},
		{"asymmetric-mode-below-gen-4", activeV12(activeTwo | 2), claims.NotApplicable},
		{"isolated-but-not-optical", activeV12(activeTwo | 4), claims.NotApplicable},
		{"isolated-but-vbus-through", activeV12(activeTwo | 4), claims.NotApplicable},
		// 5 A without a word about EPR, in the PD 2.0 layout.
		{"5-a-20-v-class-deprecated", "claims: {power: 100 W}\n" + near(ack1, passiveID, 0, 0, 0x00082051), claims.Found},
		{"sideband-missing-for-its-modes", near(ack2, activeID|1<<26, 0, 0, activeOne|1<<8, activeTwo|1<<8, svidsAck2, 0xFF010000), claims.Found},
		{"sideband-missing-for-its-modes", near(ack2, activeID|1<<26, 0, 0, activeOne|1<<8, activeTwo|1<<8, svidsAck2, 0x80870000), claims.Found},
		{"sideband-missing-for-its-modes", near(ack2, activeID, 0, 0, activeOne|1<<8, activeTwo|1<<8), claims.NotApplicable},
		{"usb4-declared-below-gen-2", near(ack2, activeID|1<<26, 0, 0, compose("active-cable-1", activeOne, "speed", 1), activeTwo, svidsAck2, 0xFF010000), claims.Found},
		{"usb4-declared-below-gen-2", near(ack2, activeID|1<<26, 0, 0, compose("active-cable-1", activeOne, "speed", 1), activeTwo, svidsAck2, 0x80870000), claims.Undecided},

		// Identities in which one of the four words that tell a maker is not zero.
		{"vendor-id-zero", near(ack2, passiveID&^0xFFFF, 1, 0, passiveWord), claims.Found},
		{"vendor-id-zero", near(ack2, passiveID&^0xFFFF, 0, 1<<16, passiveWord), claims.Found},
		{"vendor-id-zero", near(ack2, passiveID&^0xFFFF, 0, 1, passiveWord), claims.Found},
		{"vendor-id-zero", near(ack2, passiveID&^0xFFFF, 0, 0, passiveWord), claims.NotApplicable},
		{"identity-not-programmed", near(ack2, passiveID&^0xFFFF, 0, 0, passiveWord), claims.Found},
		{"identity-not-programmed", near(ack2, passiveID, 0, 0, passiveWord), claims.Passed},
		{"identity-not-programmed", near(ack2, passiveID&^0xFFFF, 1, 0, passiveWord), claims.Passed},
		// A zero in either half ends a list of SVIDs.
		{"svid-list-without-end", near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0x80870000), claims.Passed},
		{"svid-list-without-end", near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0x0000FF01), claims.Passed},
		{"svid-list-without-end", near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0x8087FF01), claims.Found},
		// What one plug does not declare is no difference.
		{"plugs-disagree-on-power", strings.TrimSuffix(near(ack2, activeID, 0, 0, activeOne|8, activeTwo), "}\n") +
			fmt.Sprintf(", far: \"%08X %08X 00000000 00000000 %08X %08X\"}\n", uint32(ack2), activeID, activeOne|8|0x60, activeTwo), claims.Passed},
		// VPD VDO table: 10 mΩ is the least impedance; VBUS counts in 2 mΩ, ground in 1 mΩ.
		{"vpd-impedance-below-10-milliohm", near(ack2, vpdID, 0, 0, vpd(1, 5, 10)), claims.Passed},
		{"vpd-impedance-below-10-milliohm", near(ack2, vpdID, 0, 0, vpd(1, 4, 10)), claims.Found},
		{"vpd-impedance-below-10-milliohm", near(ack2, vpdID, 0, 0, vpd(1, 5, 9)), claims.Found},
		{"vpd-fields-set-without-charge-through", near(ack2, vpdID, 0, 0, vpd(0, 0, 0)), claims.Passed},
		{"vpd-fields-set-without-charge-through", near(ack2, vpdID, 0, 0, vpd(0, 1, 0)), claims.Found},
		{"vpd-fields-set-without-charge-through", near(ack2, vpdID, 0, 0, vpd(0, 0, 1)), claims.Found},

		// DP Alt Mode: of the pin assignments, A, B and F are withdrawn (bits 0, 1 and 5).
		{"displayport-pins-withdrawn", displayPort(1<<0, 0), claims.Found},
		{"displayport-pins-withdrawn", displayPort(0, 1<<1), claims.Found},
		{"displayport-pins-withdrawn", displayPort(1<<5, 0), claims.Found},
		{"displayport-pins-withdrawn", displayPort(1<<2|1<<3|1<<4, 1<<2|1<<3|1<<4), claims.Passed},
		// A Thunderbolt word is at odds with USB 2.0 wires only where nothing is active.
		{"thunderbolt-mode-over-usb-2-wires", near(ack2, modalID, 0, 0, passiveWord, modesTBT, 0x00030001), claims.Found},
		{"thunderbolt-mode-over-usb-2-wires", near(ack2, modalID, 0, 0, passiveWord, modesTBT, 0x02030001), claims.NotApplicable},
		{"thunderbolt-mode-over-usb-2-wires", near(ack2, activeID|1<<26, 0, 0, compose("active-cable-1", activeOne, "speed", 0), activeTwo, modesTBT, 0x00030001), claims.NotApplicable},
		// Thunderbolt 3 needs 10 Gbps a lane, which the PD 2.0 layout can state; Thunderbolt 4 needs 20.
		{"claimed-thunderbolt-above-marker", "claims: {modes: [thunderbolt-3]}\n" + near(ack1, passiveID, 0, 0, 0x00082050), claims.Found},
		{"claimed-thunderbolt-above-marker", "claims: {modes: [thunderbolt-3]}\n" + near(ack1, passiveID, 0, 0, 0x00082051), claims.Passed},
		{"claimed-thunderbolt-above-marker", "claims: {modes: [thunderbolt-4]}\n" + near(ack1, passiveID, 0, 0, 0x00082051), claims.Undecided},
		{"claimed-modes-on-unmarked-cable", "claims: {modes: [displayport], plugs: c-to-a}\n" + passive("speed", 1), claims.NotApplicable},
		{"claimed-modes-on-unmarked-cable", "claims: {modes: [displayport], plugs: c-to-c}\n" + passive("speed", 1), claims.Passed},
		{"claimed-video-on-unmarked-cable", "claims: {video: 4K60, plugs: c-to-a}\n" + passive("speed", 1), claims.NotApplicable},
		{"claimed-video-on-unmarked-cable", "claims: {video: 4K60, plugs: c-to-c}\n" + passive("speed", 1), claims.Passed},
		{"claimed-modes-over-usb-2", "claims: {modes: [thunderbolt-4], active: false, data: 480 Mbps, plugs: c-to-c}\n", claims.Found},
		{"claimed-modes-over-usb-2", "claims: {modes: [thunderbolt-4], active: false, data: 5 Gbps, plugs: c-to-c}\n", claims.Passed},
		{"claimed-thunderbolt-above-claimed-data", "claims: {modes: [thunderbolt-3], data: 480 Mbps}\n", claims.NotApplicable},
		{"claimed-thunderbolt-above-claimed-data", "claims: {modes: [thunderbolt-3], data: 5 Gbps}\n", claims.Found},
		{"claimed-thunderbolt-above-claimed-data", "claims: {modes: [thunderbolt-3], data: 10 Gbps}\n", claims.Passed},
		{"claimed-thunderbolt-above-claimed-data", "claims: {modes: [thunderbolt-4], data: 20 Gbps}\n", claims.Found},
		{"claimed-thunderbolt-above-claimed-data", "claims: {modes: [thunderbolt-4], data: 40 Gbps}\n", claims.Passed},

		// W = V A; a hundredth more may be rounding.
		{"claimed-power-above-claimed-voltage-and-current", "claims: {power: 101 W, voltage: 20 V, current: 5 A}\n", claims.Passed},
		{"claimed-power-above-claimed-voltage-and-current", "claims: {power: 101.1 W, voltage: 20 V, current: 5 A}\n", claims.Found},
		{"claimed-power-above-claimed-current", "claims: {power: 63.6 W, current: 3 A}\n", claims.Passed},
		{"claimed-power-above-claimed-current", "claims: {power: 63.7 W, current: 3 A}\n", claims.Found},
		{"claimed-power-above-claimed-voltage", "claims: {power: 101 W, voltage: 20 V}\n", claims.Passed},
		{"claimed-power-above-claimed-voltage", "claims: {power: 101.1 W, voltage: 20 V}\n", claims.Found},

		// 24 AWG has 84 mΩ a metre: 1.5 m keep VBUS's limit at 3 A, 167 mΩ, and not that at 5 A, 100 mΩ.
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m}\n", claims.Passed},
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m, power: 60 W}\n", claims.Passed},
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m, power: 100 W}\n", claims.Found},
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m, power: 100 W, plugs: c-to-c}\n", claims.Found},
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m, power: 100 W, plugs: c-to-a}\n", claims.Passed},
		{"claimed-conductors-too-thin-for-claim", "claims: {conductors: 24 AWG, length: 1.5 m, current: 5 A}\n", claims.Found},
		{"claimed-power-above-claimed-current", "claims: {power: 100 W, current: 3 A, plugs: c-to-c}\n", claims.Found},
		{"claimed-power-unpublished", "claims: {power: 65 W, plugs: c-to-c}\n", claims.Found},
		{"claimed-power-unpublished", "claims: {power: 12 W, plugs: c-to-a}\n", claims.NotApplicable},

		// The bench: 100 Ω and more is no path for VBUS.
		{"bench-vbus-conducts-against-marker", active(fields{"vbus-through": 0}, nil) + "bench: {ohmmeter: 1 %, vbus: 100 ohm}\n", claims.Passed},
		{"bench-vbus-conducts-against-marker", active(fields{"vbus-through": 0}, nil) + "bench: {ohmmeter: 1 %, vbus: 99.9 ohm}\n", claims.Found},
		// One change, or one conductor, is enough.
		{"bench-drifted-since-earlier-session", "bench: [{ohmmeter: 0.1 mΩ, loop: 100 mohm}, {ohmmeter: 0.1 mΩ, loop: 150 mohm}]\n", claims.Found},
		{"bench-lower-than-copper-allows", "bench: {ohmmeter: 0.1 mΩ, length: 2 m, vbus: 1 mohm, ground: 40 mohm}\n", claims.Found},

		// A length claimed may be rounded by a tenth.
		{"claimed-length-differs-from-tape", "claims: {length: 10 m}\nbench: {length: 9 m}\n", claims.Passed},
		{"claimed-length-differs-from-tape", "claims: {length: 10 m}\nbench: {length: 8.99 m}\n", claims.Found},
		{"claimed-length-differs-from-tape", "claims: {length: 10 m}\nbench: {length: 11 m}\n", claims.Passed},
		{"claimed-length-differs-from-tape", "claims: {length: 10 m}\nbench: {length: 11.01 m}\n", claims.Found},
		// 10 to 20 ns by the legend of 10 ns a metre begin at 1 m; 0.92 m may be 1.01 m rounded.
		{"claimed-length-unlikely-for-latency", "claims: {length: 0.92 m}\n" + passive("latency", 2), claims.Passed},
		{"claimed-length-unlikely-for-latency", "claims: {length: 0.9 m}\n" + passive("latency", 2), claims.Found},
		// Type-C R2.0, Table 3-1, practical lengths: the two below have none there.
		{"length-long-for-declared-speed", "bench: {length: 9 m}\n" + passive("speed", 7), claims.NotApplicable},
		{"length-long-for-declared-speed", "bench: {length: 9 m}\n" + near(ack2, vpdID, 0, 0, vpd(0, 0, 0)), claims.NotApplicable},
		{"length-long-for-declared-speed", "bench: {length: 5.5 m}\n" + active(nil, nil), claims.Passed},
		{"length-long-for-declared-speed", "bench: {length: 5.51 m}\n" + active(nil, nil), claims.Found},
		{"length-long-for-declared-speed", "bench: {length: 5.51 m}\n" + near(ack2, activeID, 0, 0, activeOne&^(7<<21)), claims.Found},
		{"length-long-for-declared-speed", "bench: {length: 55 m}\n" + active(nil, fields{"medium": 1}), claims.Passed},
		{"length-long-for-declared-speed", "bench: {length: 55.01 m}\n" + active(nil, fields{"medium": 1}), claims.Found},
		{"claimed-length-long-for-claimed-data", "claims: {length: 4.4 m, data: 480 Mbps}\n", claims.Passed},
		{"claimed-length-long-for-claimed-data", "claims: {length: 4.41 m, data: 480 Mbps}\n", claims.Found},
		{"claimed-length-long-for-claimed-data", "claims: {length: 4.41 m, data: 480 Mbps, plugs: c-to-c}\n", claims.Found},
		{"claimed-length-long-for-claimed-data", "claims: {length: 4.41 m, data: 480 Mbps, plugs: c-to-a}\n", claims.NotApplicable},
	} {
		if res := usual.Rule(tt.rule).Ask(caseOf(t, tt.sections)); res.Status != tt.want {
			t.Errorf("%s: %s (%s%v%v), want %s, of\n%s", tt.rule, res.Status, res.Why, res.Values, res.Missing, tt.want, tt.sections)
		}
	}
}

// vpd composes the word of a VCONN-powered USB device of 3 A.
func vpd(through, vbus, ground uint32) uint32 {
	w := compose("vpd", 0, "charge-through", through)
	return compose("vpd", compose("vpd", w, "vbus-impedance", vbus), "ground-impedance", ground)
}

// displayPort is a passive cable with a DisplayPort mode word of Alt Mode 2.1 that
// offers pin assignments.
func displayPort(sink, source uint32) string {
	return near(0xFF00A841, modalID, 0, 0, passiveWord|1, 0xFF01A843, 1<<30|sink<<16|source<<8|1<<2)
}

// TestPublishedWatts: USB PD R3.2: 5, 9, 15 and 20 V at 3 A; 20, 28, 36 and 48 V at 5 A.
func TestPublishedWatts(t *testing.T) {
	levels := []float64{5 * 3, 9 * 3, 15 * 3, 20 * 3, 20 * 5, 28 * 5, 36 * 5, 48 * 5}
	for _, w := range levels {
		for off, want := range map[float64]claims.Status{-1: claims.Found, 0: claims.Passed, 1: claims.Found} {
			if w+off > 240 {
				want = claims.NotApplicable
			}
			got := usual.Rule("claimed-power-unpublished").Ask(caseOf(t, fmt.Sprintf("claims: {power: %g W}\n", w+off)))
			if got.Status != want {
				t.Errorf("%g W: %s, want %s", w+off, got.Status, want)
			}
		}
	}
}

func TestGbps(t *testing.T) {
	for v, want := range map[float64]string{0.48: "480 Mbps", 1: "1 Gbps", 1.5: "1.5 Gbps", 20: "20 Gbps"} {
		if got := say.Gbps(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

// TestPracticalMetres: Type-C R2.0, Table 3-1: 4 m for USB 2.0, 2 m for Gen 1, 1 m
// for Gen 2, 0.8 m for Gen 3. A tenth more is within what rounding allows.
func TestPracticalMetres(t *testing.T) {
	rule := usual.Rule("length-long-for-declared-speed")
	for speed, tape := range map[vdo.Speed]float64{vdo.USB2: 4.4, vdo.USB32Gen1: 2.2, vdo.USB32Gen2: 1.1, vdo.USB4Gen3: 0.88, vdo.USB4Gen4: 0.88} {
		for off, want := range map[float64]claims.Status{-0.001: claims.Passed, 0.001: claims.Found} {
			if got := rule.Ask(caseOf(t, fmt.Sprintf("bench: {length: %g m}\n", tape+off)+passive("speed", uint32(speed)))); got.Status != want {
				t.Errorf("%s over %g m: %s, want %s", speed, tape+off, got.Status, want)
			}
		}
	}
	if got := rule.Ask(caseOf(t, "bench: {length: 4.4 m}\n"+passive("speed", 0))); got.Status != claims.Passed {
		t.Errorf("USB 2.0 over 4.4 m: %s", got.Status)
	}
}

// TestLengthsOfLatency: light makes 299 792 458 m a second (SI); the legend of
// the latency field counts 10 ns a metre; 4.2 ns a metre is a velocity factor of
// 0.80.
func TestLengthsOfLatency(t *testing.T) {
	if lightMetrePerNs != 299_792_458.0/1e9 {
		t.Errorf("light makes %v m a nanosecond", lightMetrePerNs)
	}
	for _, tt := range []struct {
		d           vdo.Delay
		least, most float64
	}{
		{vdo.Delay{UpTo: 1}, 0, 1 / 4.2},
		{vdo.Delay{Over: 10, UpTo: 20}, 1, 20 / 4.2},
		{vdo.Delay{Over: 70}, 7, math.Inf(1)},
	} {
		if least, most := fits(tt.d); least != tt.least || math.Abs(most-tt.most) > 1e-9 {
			t.Errorf("%+v: %v to %v m", tt.d, least, most)
		}
	}
	// The codes of an active cable of PD 3.x leave a gap, in which light may take longer
	// than the lower neighbour says.
	for code, want := range map[uint32]int{1: 10, 6: 60, 7: 1000, 8: 2000, 9: 3000, 10: 0} {
		c := caseOf(t, active(map[string]uint32{"latency": code}, nil))
		d, _ := c.Near.Summary.Latency.Get()
		if got := mostDelay(c, d); got != want {
			t.Errorf("active, code %d: at most %d ns, want %d", code, got, want)
		}
	}
	c, d := caseOf(t, passive("latency", 2)), vdo.Delay{Over: 10, UpTo: 20}
	at := func(l float64) span { return span{l, l, l} }
	for _, tt := range []struct {
		check func(*claims.Case, span, vdo.Delay) claims.Result
		l     float64
		want  claims.Status
	}{
		{fasterThanLight, 20 * lightMetrePerNs, claims.Passed},
		{fasterThanLight, math.Nextafter(20*lightMetrePerNs, 9), claims.Found},
		{unlikelyLength, 1, claims.Passed}, {unlikelyLength, math.Nextafter(1, 0), claims.Found},
		{unlikelyLength, 20 / fastestNsPerM, claims.Passed}, {unlikelyLength, math.Nextafter(20/fastestNsPerM, 9), claims.Found},
	} {
		if got := tt.check(c, at(tt.l), d); got.Status != tt.want {
			t.Errorf("%v m: %s, want %s", tt.l, got.Status, tt.want)
		}
	}
	if got := unlikelyLength(c, at(5), d).Values["fits"]; got != "1 m to 4.762 m" {
		t.Errorf("fits %q", got)
	}
}

// TestLegacyGbps: Type-C R2.0, 4.3: legacy cables have one SuperSpeed lane, 10 Gbps
// at Gen 2; mini-B has no SuperSpeed contacts, so 480 Mbps.
func TestLegacyGbps(t *testing.T) {
	rule := usual.Rule("claimed-data-over-legacy-cable")
	for _, plugs := range slices.Sorted(maps.Keys(legacyGbps)) {
		at, above := "10 Gbps", "10.1 Gbps"
		if plugs == record.CToMiniB || plugs == record.CToMicroBJack {
			at, above = "480 Mbps", "481 Mbps"
		}
		for rate, want := range map[string]claims.Status{at: claims.Passed, above: claims.Found} {
			c := caseOf(t, fmt.Sprintf("claims: {plugs: %s, data: %s}\n", plugs, rate))
			if got := rule.Ask(c); got.Status != want {
				t.Errorf("%s over %s: %s, want %s", rate, plugs, got.Status, want)
			}
		}
	}
}

// TestLengthsDiffer: the larger of a tenth of the claim and 6 cm, both edges within.
func TestLengthsDiffer(t *testing.T) {
	const inch = 0.0254
	for _, tt := range []struct {
		claimed, tape float64
		want          bool
	}{
		{0.6, 0.66, false}, {0.6, 0.54, false}, {0.6, 0.660001, true}, {0.6, 0.539999, true},
		{0.3, 0.36, false}, {0.3, 0.361, true}, {1, 1.1, false}, {1, 1.100001, true}, {1, 0.9, false}, {1, 0.899999, true},
		{2, 2.2, false}, {2, 2.201, true}, {72 * inch, 79.2 * inch, false}, {72 * inch, 79.21 * inch, true}, {0.1, 0.16, false},
	} {
		if got := lengthsDiffer(tt.claimed, tt.tape); got != tt.want {
			t.Errorf("%v m claimed, %v m by tape: %t", tt.claimed, tt.tape, got)
		}
	}
}
