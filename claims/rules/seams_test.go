package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
)

// What becomes of a record where published rules meet: each row is one fact, its source,
// a record, and what must follow. want is a list of "property standing" (contradicted,
// confirmed, open) and of "rule", which must be found, or "no rule", which must not be.
// "no contradiction" and "no breach" are of the whole report. "unsettled" and "N W" are of
// the rating.
var seams = []struct{ fact, source, record, want string }{
	{"a captive cable needs no marker, nor 3 A or 5 A", "USB Type-C R2.x §4.4.1, extended to captive cables (from memory)", `
claims: {power: 100 W, current: 5 A, plugs: c-captive}
marker: {asked: true}`, "power open, no contradiction, no breach"},
	{"a captive dock answers with plug type 10b", "captured docks (common practice)", `
claims: {plugs: c-captive}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`, "no contradiction, no breach"},
	{"Thunderbolt and USB4 tunnel DisplayPort", "USB4, DisplayPort tunnelling; DP Alt Mode 2.1, Figure 5-3", `
claims: {video: 4K60}
marker: {near: "FF00A041 24602FA1 00000000 01020100 00683853 46503209 FF00A042 80870000 8087A043 024B0001"}`, "claimed-video-only-inside-a-tunnel, no contradiction"},
	{"modes are open until asked", "PD R3.x, ID Header VDO table, bit 26", `
claims: {modes: [displayport, thunderbolt-3], video: 4K60}
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042"}`, "modes open, no contradiction"},
	{"a linear re-driver carries no DisplayPort, but a tunnel", "DP Alt Mode 2.1, Figure 5-3; Type-C R2.0 T F-11 and ECN", `
claims: {modes: [displayport], video: 4K60}
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00084843 FF00A042 80870000 8087A043 020B0001"}`, "modes contradicted, video open, claimed-video-only-inside-a-tunnel"},
	{"bit 26 = 0 on a passive cable above USB 2.0 needs no SVIDs", "DP Alt Mode 2.1, Figure 5-3", `
claims: {modes: [displayport]}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`, "modes confirmed"},
	{"a listed Thunderbolt without its word may be a linear re-driver", "DP Alt Mode 2.1, Figure 5-3; Type-C R2.0 T F-11 and ECN", `
claims: {modes: [displayport]}
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082043 FF00A042 80870000"}`, "modes open, no contradiction"},
	{"no published cable carries more than 80 Gbps both ways", "USB4 Version 2.0", `
claims: {data: 400 Gbps}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082044"}`, "data contradicted"},
	{"no breach is needed of the marker for it", "USB4 Version 2.0", `
claims: {data: 400 Gbps}`, "claimed-data-above-standard"},
	{"120 Gbps one way over an active cable that declares it", "PD R3.2, Active Cable VDO 2, bit 1", `
claims: {data: 120 Gbps}
marker: {near: "FF00A041 24602FA1 00000000 01020100 00683854 4650320B FF00A042 80870000 8087A043 024B0001"}`, "data confirmed, no contradiction, no breach"},
	{"passive Gen 4 wires have no direction", "USB4 Version 2.0 (from memory)", `
claims: {data: 120 Gbps}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082044"}`, "data open, no contradiction, no breach"},
	{"10 Gbps over Gen 1 has other ways", "USB Type-C R2.0, note to the table of USB4-compatible cables", `
claims: {data: 10 Gbps}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`, "data open, no contradiction"},
	{"20 Gbps over Gen 1 has other ways", "USB Type-C R2.0, note to the table of USB4-compatible cables", `
claims: {data: 20 Gbps}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`, "data open, no contradiction"},
	{"USB 3.2 Gen 2 over Gen 1 has none", "PD R3.x, Passive Cable VDO table", `
claims: {data: USB 3.2 Gen 2}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`, "data contradicted"},
	{"USB 3.2 Gen 2x2 over Gen 1 has none", "PD R3.x, Passive Cable VDO table", `
claims: {data: USB 3.2 Gen 2x2}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`, "data contradicted"},
	{"80 Gbps also runs over passive Gen 3", "USB Promoter Group, 2022-09", `
claims: {data: 80 Gbps}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082043"}`, "data open, no contradiction"},
	{"Thunderbolt 5 likewise", "USB Promoter Group, 2022-09", `
claims: {modes: [thunderbolt-5]}
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082043 FF00A042 80870000 8087A043 000B0001"}`, "modes open, no contradiction"},
	{"PPS reaches 21 V: 63 W at 3 A", "PD R3.x (from memory)", `
claims: {power: 63 W, voltage: 21 V, current: 3 A}`, "no contradiction, no breach"},
	{"PPS reaches 21 V: 105 W at 5 A", "PD R3.x (from memory)", `
claims: {power: 105 W, voltage: 21 V, current: 5 A}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`, "no contradiction, no breach"},
	{"another charging scheme over A-to-C states V and I itself", "USB Type-C R2.x, legacy cables: 5 V, 3 A", `
claims: {power: 66 W, voltage: 11 V, current: 6 A, plugs: c-to-a}
bench: {voltmeter: 0.05 % + 20 µV, ammeter: 0.1 % + 1 mA, readings: [{current: 1 A, vbus: 30 mV, ground: 20 mV}, {current: 1 A, vbus: 30 mV, ground: 20 mV}, {current: 1 A, vbus: 30 mV, ground: 20 mV}]}`,
		"no bench-over-limit-at-claimed-current, no bench-over-limit-at-stated-current"},
	{"DisplayPort leaves USB 2.0 beside it", "DP Alt Mode, pin assignment C", `
claims: {modes: [displayport], data: USB 2.0}`, "no contradiction, no breach"},
	{"a tunnel carries USB 3.2 at 10 Gbps", "USB4, USB 3.2 tunnelling", `
claims: {data: 10 Gbps}
marker: {near: "FF00A041 24602FA1 00000000 01020100 00683850 46503310 FF00A042 80870000 8087A043 024B0001"}`, "no contradiction"},
	{"a length 10 % off, on the edge", "common practice", `
claims: {length: 0.6 m}
bench: {length: 0.66 m}`, "length confirmed, no contradiction"},
	{"a length one millimetre beyond the edge", "common practice", `
claims: {length: 0.6 m}
bench: {length: 0.661 m}`, "length contradicted"},
	{"a length beyond it the other way", "common practice", `
claims: {length: 2 m}
bench: {length: 1.799 m}`, "length contradicted"},
	{"a gauge is confirmed only where the next thinner is excluded", "IEC 60228 and AWG tables; contacts as Type-C §3.7.8.1", `
claims: {length: 1 m, plugs: c-to-c, conductors: 20 AWG}
bench: {length: 1 m, ambient: 20 °C, ohmmeter: 0.1 % + 0.1 mohm, vbus: 66 mohm, ground: 66 mohm}`, "no confirmed conductors"},
	{"active of unknown ends, silent", "legacy ends are possible", `
claims: {active: true}
marker: {asked: true}`, "active open, no contradiction"},
	{"two plugs that differ: the lesser counts and nothing is settled", "PD R3.x: SOP′ is the end that supplies VCONN", `
claims: {power: 240 W}
marker: {near: "FF00A041 20602FA1 00000000 01020100 006A3E5A 46503209", far: "FF00A041 20602FA1 00000000 01020100 00683A3A 46503209"}`, "power contradicted, unsettled"},
	{"a PD 2.0 answer cannot show EPR", "PD R2.0 V1.3, T 6-28", `
claims: {power: 240 W}
marker: {near: "FF008041 18002FA1 00000000 01020100 00082052"}`, "power open, no contradiction"},
	{"3 A by a PD 2.0 answer is settled: EPR cables are 5 A", "Type-C R2.1 §3.11", `
claims: {power: 240 W}
marker: {near: "FF008041 18002FA1 00000000 01020100 00082032"}`, "power contradicted"},
	{"no rule about VDO versions under PD 2.0", "PD R2.0 V1.3, T 6-28", `
marker: {near: "FF008041 18002FA1 00000000 01020100 00082052"}`, "no vdo-version-reserved, no breach"},
	{"40 Gbps against a passive PD 2.0 answer of USB 2.0", "PD R2.0 V1.3, T 6-28", `
claims: {data: 40 Gbps}
marker: {near: "FF008041 18002FA1 00000000 01020100 00082050"}`, "data contradicted"},
	{"40 Gbps against an active PD 2.0 answer of USB 2.0, modes not asked", "Thunderbolt 3 cables answer so (two notes agree)", `
claims: {data: 40 Gbps}
marker: {near: "FF008041 24002FA1 00000000 01020100 00083858"}`, "data open, no contradiction"},
	{"bit 25 of the Thunderbolt word under PD 2.0, set", "field captures (common practice)", `
claims: {active: true}
marker: {near: "FF008041 1C002FA1 00000000 01020100 00082852 FF008042 80870000 80878043 020B0001"}`, "no contradiction"},
	{"bit 25 under PD 2.0, clear: undecided", "Type-C R2.0 T F-11: the bit came by ECN for PD R3", `
claims: {active: true}
marker: {near: "FF008041 1C002FA1 00000000 01020100 00082852 FF008042 80870000 80878043 000B0001"}`, "active open, no contradiction"},
	{"active current 00b is not 3 A", "PD R3.0 V2.0, T 6-39", `
claims: {current: 3 A}
marker: {near: "FF00A041 20602FA1 00000000 01020100 0068381A 46500009"}`, "no confirmed current"},
	{"VCONN asked for with bit 26 = 0", "captured certified cables; PD R3.x, Passive Cable VDO", `
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082842"}`, "no breach"},
	{"a delay in the gap of the latency codes", "PD R3.x, Active Cable VDO 1: 60 to 70 ns, then 1000 ns", `
claims: {length: 50 m, active: true}
marker: {near: "FF00A041 20602FA1 00000000 01020100 00710852 4650340D"}`, "no claimed-length-unlikely-for-latency, no length-faster-than-light, no contradiction"},
	{"video over Thunderbolt 3 of 20 Gbps a lane", "figure on cable mode selection, relayed", `
claims: {video: 8K60}
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042 FF00A042 80870000 8087A043 00030001"}`, "no claimed-video-only-compressed, no contradiction"},
	{"no faster than light within the tape's tolerance", "common practice: 1 % + 1 cm", `
bench: {length: 3.02 m}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`, "no tape-length-faster-than-light"},
	{"Gen 3 with USB4 and USB 3.2 both unsupported", "PD R3.2, Active Cable VDO 2, bits 8 and 4", `
marker: {near: "FF00A041 20602FA1 00000000 01020100 00683853 46503319"}`, "gen-3-declared-without-usb"},
	{"a mode under a vendor's SVID is no identity", "PD R3.x, ID Header VDO: bits 20..16 reserved", `
marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042 1E4EA043 90310119"}`, "no contradiction, no breach"},
	{"an identity under a vendor's SVID is no identity", "PD R3.2 V1.2, T 6.33", `
claims: {power: 60 W}
marker: {near: "1E4EA041 1C60FFFF 00000000 01000100 00082042"}`, "no contradiction, no breach"},
	{"c-to-mini-b is rated 500 mA", "USB Type-C R2.x (from memory)", `
claims: {plugs: c-to-mini-b}
bench: {voltmeter: 0.05 % + 20 µV, ammeter: 0.1 % + 1 mA, vbus: 200 mohm, ground: 110 mohm, ohmmeter: 0.1 % + 0.1 mohm}`, "no breach, no contradiction"},
	{"video without a DisplayPort SVID: 001b too counts as UHBR10", "DP Alt Mode 2.1, Figure 5-3", `
claims: {modes: [displayport]}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`, "modes confirmed"},
	{"rounded = 01b binds only before VDO version 1.3", "firmware relays of the USB4 entry rule", `
claims: {data: 40 Gbps}
marker: {near: "FF00A041 24602FA1 00000000 01020100 00683853 46503209 FF00A042 80870000 8087A043 02430001"}`, "no breach, no contradiction"},
	{"current where VBUS is not through, PD 2.0", "PD R3.x states it of the active word only", `
marker: {near: "FF008041 18002FA1 00000000 01020100 00082042"}`, "no breach"},
	{"active VDO version 000b with two words is reserved", "PD R3.2, Active Cable VDO", `
marker: {near: "FF00A041 20602FA1 00000000 01020100 00083852 46503209"}`, "vdo-version-reserved"},
	{"active VDO version 000b alone is the early form", "PD R3.0 (one relay)", `
marker: {near: "FF00A041 20602FA1 00000000 01020100 00083852"}`, "no breach"},
	{"VPD impedances below 10 mΩ are reserved", "PD R3.2 V1.0, VPD VDO table", `
marker: {near: "FF00A041 70602FA1 00000000 01020100 11005093"}`, "vpd-impedance-below-10-milliohm"},
	{"VPD impedances of 10 mΩ are not", "PD R3.2 V1.0, VPD VDO table", `
marker: {near: "FF00A041 70602FA1 00000000 01020100 11005295"}`, "no breach"},
}

func TestSeams(t *testing.T) {
	for i, s := range seams {
		t.Run(fmt.Sprint(i, " ", s.fact), func(t *testing.T) {
			for rec, err := range record.Read(strings.NewReader("gainsay: 1\ncable: seam"+s.record+"\n"), s.source) {
				if err != nil {
					t.Fatal(err)
				}
				r, err := usual.Check(rec)
				if err != nil {
					t.Fatal(err)
				}
				for want := range strings.SplitSeq(s.want, ", ") {
					if !seamHolds(t, r, want) {
						t.Errorf("want %q\n%s", want, seamText(r))
					}
				}
			}
		})
	}
}

func seamHolds(t *testing.T, r *claims.Report, want string) bool {
	t.Helper()
	ofKind := func(k claims.Kind) bool {
		return !slices.ContainsFunc(r.Findings, func(f claims.Finding) bool { return f.Kind == k })
	}
	standing := func(p, s string) bool {
		return slices.ContainsFunc(r.Claims, func(o claims.ClaimOutcome) bool {
			return string(o.Property) == p && (string(o.Standing) == s || s == "open" && o.Standing == claims.NotShown)
		})
	}
	words := strings.Fields(want)
	switch {
	case want == "no contradiction":
		return ofKind(claims.Contradiction)
	case want == "no breach":
		return ofKind(claims.Breach)
	case want == "unsettled":
		return !r.Rating.Settled
	case len(words) == 3: // no confirmed property
		return !standing(words[2], words[1])
	case len(words) == 2 && words[0] != "no":
		return standing(words[0], words[1])
	}
	id := words[len(words)-1]
	if usual.Rule(id) == nil {
		t.Errorf("no rule is named %s", id)
	}
	found := slices.ContainsFunc(r.Findings, func(f claims.Finding) bool { return f.Rule == id })
	return found == (len(words) == 1)
}

func seamText(r *claims.Report) string {
	var b strings.Builder
	for _, o := range r.Claims {
		fmt.Fprintf(&b, "  %s %s: %s %s\n", o.Property, o.Claimed, o.Standing, o.Because)
	}
	for _, f := range r.Findings {
		fmt.Fprintf(&b, "  %s %s: %s\n", f.Kind, f.Rule, f.Says)
	}
	return b.String()
}
