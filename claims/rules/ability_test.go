package rules

import (
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
)

// Records of markers, plugs and silence, whose tables of abilities stand in
// testdata/abilities.txt.
var abilityCases = []struct{ name, record string }{
	{"nothing on record", "claims: {power: 60 W}"},
	{"unmarked, ends unknown", "marker: {asked: true}"},
	{"unmarked, C to C", "claims: {plugs: c-to-c}\nmarker: {asked: true}"},
	{"unmarked, captive", "claims: {plugs: c-captive}\nmarker: {asked: true}"},
	{"C to A", "claims: {plugs: c-to-a}"},
	{"C to mini-B", "claims: {plugs: c-to-mini-b}"},
	{"C to Micro-B receptacle", "claims: {plugs: c-to-micro-b-receptacle}"},
	{"refused", "marker: {near: FF00A081}"},
	{"passive, USB 2.0", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082040"}`},
	{"passive, Gen 1", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082041"}`},
	{"passive, Gen 2", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`},
	{"passive, Gen 3, modes not read", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082043"}`},
	{"passive, Gen 3, no modes", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082043"}`},
	{"passive, Gen 4", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082044"}`},
	{"passive, reserved speed", `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082047"}`},
	{"passive, reserved speed, Thunderbolt 20 Gbps", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082047 FF00A042 80870000 8087A043 00030001"}`},
	{"passive, Gen 2, Thunderbolt 20 Gbps", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042 FF00A042 80870000 8087A043 00030001"}`},
	{"passive, Gen 2, Thunderbolt 10 Gbps", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042 FF00A042 80870000 8087A043 00020001"}`},
	{"linear re-drivers, Gen 3", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00084843 FF00A042 80870000 8087A043 020B0001"}`},
	{"PD 2.0, passive, USB 2.0", `marker: {near: "FF008041 18002FA1 00000000 01020100 00082050"}`},
	{"PD 2.0, passive, Gen 2", `marker: {near: "FF008041 18002FA1 00000000 01020100 00082052"}`},
	{"PD 2.0, active, USB 2.0, modes not read", `marker: {near: "FF008041 24002FA1 00000000 01020100 00083858"}`},
	{"PD 2.0, active, Gen 2, no modes", `marker: {near: "FF008041 20002FA1 00000000 01020100 0008385A"}`},
	{"active, one word, Gen 2", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00083852"}`},
	{"active, version 1.2, Gen 2, two lanes", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00483858 46500009"}`},
	{"active, Gen 2, one lane, no USB4", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683852 46500101"}`},
	{"active, Gen 2, two lanes, USB4", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683852 46500009"}`},
	{"active, no USB 2.0", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683852 46500029"}`},
	{"active, Gen 3, Thunderbolt", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683853 46503209 FF00A042 80870000 8087A043 024B0001"}`},
	{"active, Gen 3, modes not read", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683853 46503209"}`},
	{"active, Gen 3, no USB4", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683853 46503109"}`},
	{"active, Gen 4, asymmetric, Thunderbolt", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683854 4650320B FF00A042 80870000 8087A043 024B0001"}`},
	{"active, Gen 4, not asymmetric", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683854 46503209 FF00A042 80870000 8087A043 024B0001"}`},
	{"active, for Thunderbolt 3 without SuperSpeed", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683850 46503310 FF00A042 80870000 8087A043 024B0001"}`},
	{"active, with its DisplayPort mode", `marker: {near: "FF00A841 24602FA1 00000000 01020100 00683852 46500009 FF00A842 FF010000 FF01A843 501C1C1C"}`},
	{"VPD", `marker: {near: "FF00A041 70602FA1 00000000 01020100 110050C3"}`},
	{"plugs: Gen 2 and USB 2.0", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A58 46500138"}`},
	{"plugs: Gen 2, and modes not read", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 24602FA1 00000000 01020100 00683A5A 46500009"}`},
	{"plugs: Gen 2, and no identity", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: FF00A081}`},
	{"passive, Gen 2, SVIDs without Thunderbolt", `marker: {near: "FF00A041 1C602FA1 00000000 01020100 00082042 FF00A042 FF010000"}`},
	{"passive, Gen 2, DisplayPort answered, Thunderbolt not asked", `marker: {near: "FF00A841 1C602FA1 00000000 01020100 00082042 FF01A843 501C1C1C"}`},
	{"PD 2.0, passive, USB 2.0, Thunderbolt 20 Gbps", `marker: {near: "FF008041 1C002FA1 00000000 01020100 00082050 FF008042 80870000 80878043 00030001"}`},
	{"PD 2.0, active, USB 2.0, DisplayPort listed alone", `marker: {near: "FF008041 24002FA1 00000000 01020100 00083858 FF008042 FF010000"}`},
	{"PD 2.0, active, Gen 1, modes not read", `marker: {near: "FF008041 24002FA1 00000000 01020100 00083859"}`},
	{"PD 2.0, active, USB 2.0, Thunderbolt 20 Gbps", `marker: {near: "FF008041 24002FA1 00000000 01020100 00083858 FF008042 80870000 80878043 000B0001"}`},
	{"PD 2.0, active, USB 2.0, no modes", `marker: {near: "FF008041 20002FA1 00000000 01020100 00083858"}`},
	{"active, one word, Gen 1", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00083851"}`},
	{"active, Gen 1, two lanes, no USB4", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683851 46500108"}`},
	{"active, version 1.2, Thunderbolt 20 Gbps, fourth generation", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009 FF00A042 80870000 8087A043 004B0001"}`},
	{"active, version 1.2, Thunderbolt 10 Gbps, fourth generation", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009 FF00A042 80870000 8087A043 004A0001"}`},
	{"active, version 1.2, Thunderbolt 20 Gbps, third generation", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009 FF00A042 80870000 8087A043 00430001"}`},
	{"active, version 1.2, Thunderbolt 5 Gbps a lane", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009 FF00A042 80870000 8087A043 00490001"}`},
	{"active, version 1.2, modes not read", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009"}`},
	{"active, version 1.2, DisplayPort listed alone", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00483858 46500009 FF00A042 FF010000"}`},
	{"active, Gen 1, USB4 declared, Thunderbolt 10 Gbps", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683851 46503208 FF00A042 80870000 8087A043 004A0001"}`},
	{"active, Gen 1, USB4 declared, Thunderbolt 20 Gbps", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683851 46503208 FF00A042 80870000 8087A043 004B0001"}`},
	{"active, Gen 1, USB4 declared, Thunderbolt 5 Gbps a lane", `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683851 46503208 FF00A042 80870000 8087A043 00490001"}`},
	{"active, Gen 1, USB4 declared, DisplayPort answered", `marker: {near: "FF00A841 24602FA1 00000000 01020100 00683851 46503208 FF01A843 501C1C1C"}`},
	{"active, reserved speed, USB4 declared", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683857 46503208"}`},
	{"plugs: excluded by the first, open by the second", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 24602FA1 00000000 01020100 00683A58 46500138"}`},
	{"plugs: Gen 1 at 3 A and Gen 2 at 5 A", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A39 46500008", far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}`},
	{"plugs: Gen 2 at 3 A and Gen 1 at 5 A", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A3A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A59 46500008"}`},
	{"plugs: reserved speed at 3 A and Gen 2 at 5 A", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A3F 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}`},
	{"plugs: Gen 2 at 3 A and reserved speed at 5 A", `marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A3A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A5F 46500009"}`},
}

// TestAbilities holds what each marker shows, excludes and leaves open, with reason and
// missing evidence, against testdata/abilities.txt. The rows were read against the
// sources that the table of abilities cites; a change shows there.
func TestAbilities(t *testing.T) {
	var b strings.Builder
	for _, tt := range abilityCases {
		c := caseOf(t, tt.record+"\n")
		b.WriteString(tt.name + "\n")
		for _, a := range claims.Abilities() {
			ans := c.Can(a)
			fmt.Fprintf(&b, "  %-40s %s\n", a, answerText(ans))
		}
		for _, rate := range []float64{0.48, 5, 10, 20, 40, 80, 120, 400} {
			fmt.Fprintf(&b, "  %-40s %s\n", fmt.Sprintf("%g Gbps", rate), answerText(c.CanRate(rate)))
		}
		data := c.CanCarryData(record.DataClaim{Standard: "USB 3.2 Gen 2", Gbps: 10})
		fmt.Fprintf(&b, "  %-40s %s\n", "claimed USB 3.2 Gen 2", answerText(data))
	}
	golden(t, "abilities.txt", b.String())
}

func answerText(a claims.Answerable) string {
	s := a.State.String()
	if a.By != claims.ByNothing {
		s += fmt.Sprintf(" by %d", a.By)
	}
	if a.Why != "" {
		s += ": " + a.Why
	}
	if len(a.Missing) > 0 {
		s += fmt.Sprint(" ", a.Missing)
	}
	if a.Source.Document != "" {
		s += " [" + a.Source.String() + "]"
	}
	return s
}
