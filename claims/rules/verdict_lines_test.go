package rules

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/claims/record"
)

const (
	v60  = `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082022"}`
	v100 = `marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}`
	v240 = `marker: {near: "FF00A041 18602FA1 00000000 01020100 000A2642"}`
	good = `bench: {ohmmeter: 0.1 % + 0.1 mohm, vbus: 60 mohm, ground: 30 mohm}`
	thin = `bench: {ohmmeter: 0.1 % + 0.1 mohm, vbus: 130 mohm, ground: 60 mohm}`
	bad  = `bench: {ohmmeter: 0.1 % + 0.1 mohm, vbus: 190 mohm, ground: 60 mohm}`
	edge = `bench: {ohmmeter: 0.1 % + 0.1 mohm, vbus: 166.6 mohm, ground: 60 mohm}`
)

// Records whose verdicts stand in testdata/verdicts.txt.
var verdictCases = []string{
	"label: nothing", good, thin, bad, edge, v100, v100 + "\n" + good,
	"claims: {power: 100 W}", "claims: {power: 100 W}\n" + v100, "claims: {power: 100 W}\n" + v100 + "\n" + good,
	"claims: {power: 100 W}\n" + v100 + "\n" + thin, "claims: {power: 100 W}\n" + v100 + "\n" + bad, "claims: {power: 60 W}\n" + v100 + "\n" + edge,
	"claims: {power: 240 W}\n" + v100 + "\n" + good, "claims: {power: 240 W}\n" + v240 + "\n" + good, "claims: {power: 60 W}\n" + v60 + "\n" + good,
	"claims: {voltage: 20 V, current: 5 A}\n" + v100 + "\n" + good, "claims: {voltage: 20 V}\n" + v100, "claims: {current: 5 A}\n" + v100,
	"claims: {data: 10 Gbps}\n" + v100, "claims: {data: 40 Gbps}\n" + v100, "claims: {data: 40 Gbps, power: 100 W}\n" + v100 + "\n" + good,
	"claims: {data: 40 Gbps, power: 240 W}\n" + v100 + "\n" + good, "claims: {data: 10 Gbps, length: 1 m}\n" + v100, "claims: {length: 1 m}\nbench: {length: 1 m}",
	"claims: {power: 300 W}", "claims: {power: 300 W}\nwaive: [{rule: claimed-power-above-standard, reason: misprint}]",
	"claims: {power: 300 W, data: 400 Gbps}\nwaive: [{rule: claimed-power-above-standard, reason: misprint}, {rule: claimed-data-above-standard, reason: misprint}]",
	"claims: {power: 100W+}", "claims: {power: 100W+, data: 10 Gbps}\n" + v100, "claims: {data: none}\n" + v100,
	"claims: {power: 15 W, plugs: c-to-a}\n" + good, "claims: {power: 60 W, plugs: c-to-a}\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 006A3E4A 46503209"}` + "\n" + good,
	`marker: {near: "FF00A041 18602FA1 00000000 01020100 001A2042"}`,
	"claims: [{source: label, power: 60 W}, {source: page, power: 100 W}]\n" + v100 + "\n" + good,
	"claims: [{source: label, power: 100 W}, {source: page, power: 100 W}]\n" + v100 + "\n" + good,
	"claims: [{source: label, power: 60 W}, {source: page, power: 100 W}, {source: box, power: 240 W}]\n" + v100 + "\n" + good,
	"claims: [{source: label, data: 5 Gbps, video: 4K60}, {source: page, data: 10 Gbps, video: 8K60}]\n" + v100,
	"claims: [{source: label, data: USB 3.2 Gen 2}, {source: page, data: 10 Gbps}]\n" + v100,
	"claims: [{source: label, data: USB4 Gen 2}, {source: page, data: USB 3.2 Gen 2x2}]\n" + v100,
	"claims: [{source: label, length: 1 m}, {source: page, length: 1.02 m}]", "claims: [{source: label, length: 1 m}, {source: page, length: 1.021 m}]",
	"claims: [{source: label, conductors: 20 AWG}, {source: page, conductors: 22 AWG}]", "claims: [{source: label, conductors: 0.5 mm²}, {source: page, conductors: 0.515 mm²}]",
	"claims: [{source: label, modes: [thunderbolt-3]}, {source: page, modes: [thunderbolt-4]}]", "claims: [{source: label, modes: [displayport]}, {source: page, modes: [thunderbolt-4]}]",
	"claims: [{source: label, active: true}, {source: page, active: false}]", "claims: [{source: label, marked: true}, {source: page, marked: true}]",
	"claims: [{source: label, power: 100 W}, {source: page, power: 100.05 W}]", "claims: [{source: label, current: 3 A}, {source: page, current: 5 A}]", "claims: [{source: label, voltage: 20 V}, {source: page, voltage: 48 V}]",
	"claims: [{source: label, power: 100 W}, {source: page, data: 10 Gbps}]\n" + v100,
	"claims: [{source: label, plugs: c-to-c}, {source: page, plugs: c-to-a}]", "claims: [{source: label, certified: true}, {source: page, certified: false}]", "claims: [{source: label, video: 4K60}, {source: page, video: 8K60}]",
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A3A 46500009"}` + "\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 006A3E5A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}` + "\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 18602FA1 00000000 01020100 00082042"}` + "\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}` + "\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", turned: "FF00A041 20602FA1 00000000 01020100 00683A3A 46500009"}` + "\n" + good,
	`marker: {near: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009", far: FF00A081}` + "\n" + good,
	`marker: {near: FF00A081, far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}` + "\n" + good,
	`marker: {near: FF00A081}` + "\n" + good, "marker: {asked: true}\n" + good,
	`claims: {modes: [displayport]}` + "\n" + `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683A5A 46500009 FF00A042 80870000", far: "FF00A041 24602FA1 00000000 01020100 00683A5A 46500009"}`,
	`claims: {modes: [displayport]}` + "\n" + `marker: {near: "FF00A841 24602FA1 00000000 01020100 00683A5A 46500009 FF01A843 501C1C1C", far: "FF00A841 24602FA1 00000000 01020100 00683A5A 46500009"}`,
	`claims: {modes: [thunderbolt-3]}` + "\n" + `marker: {near: "FF00A041 24602FA1 00000000 01020100 00683A5A 46500009 8087A043 024B0001", far: "FF00A041 20602FA1 00000000 01020100 00683A5A 46500009"}`,
}

// TestVerdictLines holds verdict, rating, use and findings of some records, word for word,
// against testdata/verdicts.txt, which was read against the definitions of the outcomes.
func TestVerdictLines(t *testing.T) {
	var b strings.Builder
	for i, text := range verdictCases {
		for rec, err := range record.Read(strings.NewReader("gainsay: 1\ncable: a\n"+text+"\n"), "a.yaml") {
			if err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			r, err := usual.Check(rec)
			if err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			b.WriteString(strings.ReplaceAll(text, "\n", "; ") + "\n")
			for _, line := range r.Lines() {
				b.WriteString("  " + line + "\n")
			}
			verdict, err := json.Marshal(r.Verdict)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&b, "  %s, contradicted %t\n  %d W by %v, settled %t: %s\n", verdict, r.Contradicted(), r.Rating.PowerW, r.Rating.LimitedBy, r.Rating.Settled, r.Use)
			for _, o := range r.Claims {
				fmt.Fprintf(&b, "  %s %s %s: %s by %v %s\n", o.Of, o.Property, o.Claimed, o.Standing, o.By, o.Because)
			}
			for _, f := range r.Findings {
				fmt.Fprintf(&b, "  %s %s: %s\n", f.Kind, f.Rule, f.Says)
			}
			for _, n := range r.NotExamined {
				if i%20 == 0 { // long, and much the same
					fmt.Fprintf(&b, "  not examined: %s %v %v %s\n", n.Witness, n.Needs, n.Rules, n.Because)
				}
			}
		}
	}
	golden(t, "verdicts.txt", b.String())
}
