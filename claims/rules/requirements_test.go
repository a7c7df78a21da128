package rules

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/source"
)

var update = flag.Bool("update", false, "write REQUIREMENTS.md and the outcomes anew")

// requirement is something a cable, its marker or its seller must or should keep,
// with the rules that look for a failing, or the reason why none does.
type requirement struct {
	text    string
	rules   string // ids, separated by blanks
	because string // where rules leave something unchecked, or where there are none
}

type requirementTopic struct {
	title        string
	sources      []claims.Citation
	requirements []requirement
}

// requirements is every requirement we know. Add a row with each new fact, also
// where nothing can check it.
var requirements = []requirementTopic{
	{"The VDM header", []claims.Citation{source.PDVDMHeader, source.PDVersions}, []requirement{
		{"An answer to Discover Identity has object position 0.", "header-object-position-set", ""},
		{"Bit 5 is 0.", "header-reserved-bit-set", ""},
		{"The structured version is 1.0, 2.0 or 2.1.", "header-version-reserved header-minor-version-under-1-0 mode-header-wrong", ""},
		{"SVID 0xFF00 and command 1.", "", "an answer without them is not taken for an identity in the first place"},
		{"The revision in the message header goes with the structured version.", "header-revision-differs-from-version", ""},
		{"A responder supports every version up to its own, and answers in the one it was asked in.", "",
			"it takes several questions in different versions; the record holds one answer a plug"},
	}},
	{"The identity words", []claims.Citation{source.PDIdentity, source.PDIDHeader, source.PDProductType, source.PDVendorID, source.PDCertStat, source.PDProduct}, []requirement{
		{"A cable answers Discover Identity with ACK.", "marker-gives-no-identity one-plug-gives-no-identity", ""},
		{"The number of words is that of the product type and revision.", "object-count-wrong word-count-differs-from-vdo-version", ""},
		{"The product type is passive, active or VPD.", "product-type-reserved product-type-not-a-cable", ""},
		{"A plug is no USB host; a cable is no USB device, a VPD is one.", "plug-says-it-is-a-host cable-says-it-is-a-device vpd-not-a-device", ""},
		{"The port's product type is 0 on a plug.", "port-product-type-on-plug", ""},
		{"The connector type is plug, or 0 in older products.", "connector-code-reserved connector-says-receptacle", ""},
		{"Reserved bits are 0, in every layout by its revision. A passive cable has no SOP″, SBU or VBUS-through bits, so a passive word that looks active shows here.", "reserved-bits-set", ""},
		{"With vendor ID 0xFFFF the product ID is 0.", "product-id-without-vendor-id", ""},
		{"Vendor ID 0x0000 is assigned to nobody.", "vendor-id-zero identity-not-programmed", ""},
		{"An XID belongs to a vendor with an ID.", "xid-without-vendor-id", ""},
		{"The release is binary-coded decimal.", "release-not-decimal", ""},
		{"The modal bit goes with the SVIDs listed.", "modal-bit-without-modes modes-without-modal-bit", ""},
		{"A zero ends the list of SVIDs.", "svid-list-without-end", ""},
		{"The two plugs of a cable say the same.", "plugs-disagree-on-power plugs-disagree-on-speed plugs-disagree-on-identity", ""},
	}},
	{"The cable word", []claims.Citation{source.PDCableWord, source.PDPassive, source.PDActive1, source.PD2CableWord}, []requirement{
		{"The VDO version is one that the product type has.", "vdo-version-reserved", ""},
		{"The plug leads to Type-C or is captive, in PD 3.x.", "plug-type-reserved", ""},
		{"The plug declared is the one sold and seen.", "claimed-plugs-differ-from-marker seen-plugs-differ-from-marker captive-code-on-detachable-cable", ""},
		{"The latency is not 0, and a code its product type has.", "latency-invalid", ""},
		{"The termination code is one of a passive or of an active cable.", "termination-reserved", ""},
		{"A passive plug that knows Discover Identity alone does not want VCONN kept on.", "passive-needs-vconn-without-modes", ""},
		{"The voltage codes for 30 V and 40 V are deprecated, in a VPD all but 20 V.", "voltage-code-deprecated", ""},
		{"The current is 3 A or 5 A.", "current-code-invalid", ""},
		{"The speed is an assigned code of the revision.", "speed-code-reserved", ""},
		{"A PD 2.0 answer declares neither voltage, nor EPR, nor Gen 3 and above.", "",
			"its layout has no such fields, so nothing can be wrong; claims that need them end as not shown, see the rules about claims"},
		{"EPR comes with 50 V and 5 A.", "epr-without-50-v-5-a 50-v-without-epr", ""},
		{"5 A cables that are not EPR cables are deprecated.", "5-a-20-v-class-deprecated", ""},
		{"Every cable carries VBUS, unless it isolates its ends.", "vbus-not-through-though-not-isolated bench-vbus-conducts-against-marker", ""},
		{"A SOP″ controller is declared where there is one, and goes with two active ends.", "far-plug-answers-though-not-declared far-plug-with-one-end-active", ""},
	}},
	{"The second word of an active cable", []claims.Citation{source.PDActive2}, []requirement{
		{"Hub hops are 0 without USB 2.0.", "hub-hops-without-usb-2", ""},
		{"The generation bit goes with the speed.", "generation-bit-differs-from-speed", ""},
		{"Gen 3 and above run over two lanes.", "one-lane-above-gen-2", ""},
		{"USB4 begins at Gen 2.", "usb4-declared-below-gen-2 gen-3-declared-without-usb", ""},
		{"Only an isolated cable leaves USB 2.0 out.", "usb-2-absent-though-not-isolated", ""},
		{"Asymmetric mode belongs to Gen 4.", "asymmetric-mode-below-gen-4", ""},
		{"Optical isolation is optical, and lets no VBUS through.", "isolated-but-not-optical isolated-but-vbus-through", ""},
		{"Shutdown comes above the operating temperature, and both are those of a plug.", "shutdown-not-above-operating-temperature temperature-not-plausible", ""},
		{"USB4 and the modes need the sideband wires.", "sideband-missing-for-its-modes", ""},
		{"The second word and the Thunderbolt word describe the same electronics.", "thunderbolt-word-differs-from-second-word redriver-without-vconn", ""},
		{"The power in U3 is an assigned code.", "u3-power-reserved", ""},
		{"What is claimed is carried.", "claimed-data-above-marker claimed-usb-3-only-inside-a-tunnel", ""},
		{"The power in U3 and the way out of it are as declared.", "", "it takes a link in U3; neither record nor bench has it"},
	}},
	{"VCONN-powered USB devices", []claims.Citation{source.PDVPD}, []requirement{
		{"Impedances are at least 10 mΩ with charge-through.", "vpd-impedance-below-10-milliohm", ""},
		{"Current and impedances are 0 without charge-through.", "vpd-fields-set-without-charge-through", ""},
		{"EPR is not entered through one.", "", "the rating never goes above 100 W for one; a claim above is found by claimed-power-above-marker"},
		{"The impedances are those of the device.", "", "what they include is not told in any source read, so the bench's resistance is not held against them"},
	}},
	{"Thunderbolt and DisplayPort mode words", []claims.Citation{source.TypeCTBT, source.DPCable, source.PDSVIDs}, []requirement{
		{"Reserved bits are 0 and codes are assigned.", "thunderbolt-word-reserved-codes displayport-word-reserved-codes", ""},
		{"Pin assignments A, B and F are withdrawn.", "displayport-pins-withdrawn", ""},
		{"The DisplayPort word states a rate.", "displayport-word-without-rate", ""},
		{"The Thunderbolt word does not say less than the cable word, and not more than its wires. More than the cable word is usual before USB4.",
			"thunderbolt-slower-than-cable-word thunderbolt-mode-over-usb-2-wires", ""},
		{"A passive ID header with the active bit of the Thunderbolt word is a linear re-driver.", "", "that is how such cables are to answer; the rules take it so"},
		{"An active cable from before VDO version 1.3 serves USB4 only with rounded support.", "claimed-data-above-marker", ""},
		{"USB4 Gen 3 cables answer with the Thunderbolt 3 identity too (two ECNs of 2021).", "", "cables from before need not; the claim of Thunderbolt is what is held against it"},
	}},
	{"Power claimed", []claims.Citation{source.TypeCEPR, source.TypeCNo5A20V, source.PDCableWord, source.TypeCCables, source.TypeCLegacy, source.NatureWatt}, []requirement{
		{"The power claimed is one of a published tier.", "claimed-power-above-standard claimed-power-unpublished claimed-100-w-class-withdrawn", ""},
		{"The marker declares what the power claimed needs: 3 A to 60 W, 5 A to 100 W, EPR with 50 V and 5 A above.", "claimed-power-above-marker claimed-power-on-unmarked-cable", ""},
		{"The marker does not declare more than the seller stands for.", "marker-power-above-claim", ""},
		{"The current claimed is 3 A or 5 A, and what the marker declares.", "claimed-current-below-3-a claimed-current-unpublished claimed-current-above-marker claimed-current-on-unmarked-cable", ""},
		{"The voltage claimed is at most 50 V, and what the marker declares.", "claimed-voltage-above-standard claimed-voltage-above-marker claimed-voltage-on-unmarked-cable", ""},
		{"The seller claims the same everywhere.", "claimed-power-differs-by-source claimed-current-differs-by-source claimed-voltage-differs-by-source claimed-data-differs-by-source claimed-length-differs-by-source claimed-plugs-differ-by-source claimed-active-differs-by-source claimed-marked-differs-by-source claimed-certified-differs-by-source claimed-modes-differ-by-source claimed-video-differs-by-source claimed-conductors-differ-by-source", ""},
		{"Power, voltage and current claimed hold together.", "claimed-power-above-claimed-voltage-and-current claimed-power-above-claimed-current claimed-power-above-claimed-voltage claimed-epr-voltage-without-5-a", ""},
		{"Over a cable with an older connector: 5 V, 3 A, no Power Delivery.", "claimed-power-over-legacy-cable claimed-current-over-legacy-cable", ""},
		{"An EPR cable stands 53.65 V, and parts across VBUS 63 V.", "", "it takes a high-voltage test that the bench of a record does not make"},
		{"An EPR cable is visibly identified as one.", "", "the record has no key for the marks on a cable"},
	}},
	{"Resistance", []claims.Citation{source.TypeCDrop, source.ILACG8, source.NatureCopper, source.TypeCContacts}, []requirement{
		{"VBUS drops at most 500 mV at the rated current and ground 250 mV, mated contacts included.",
			"bench-over-limit-at-claimed-current bench-over-limit-at-stated-current bench-over-limit-at-declared-current bench-over-limit-at-3-a bench-ground-over-limit bench-ground-worse-than-vbus", ""},
		{"A round trip alone proves neither conductor.", "loop-reading-leaves-conductors-open bench-loop-differs-from-conductors", ""},
		{"A limit is decided with the uncertainty in mind.", "bench-too-near-the-limit bench-accuracy-not-stated bench-single-reading bench-few-repeats bench-calibration-past-due", ""},
		{"The limits hold warm too: 30 K and about 12 %.", "bench-within-only-while-cold bench-resistance-rises-with-current", ""},
		{"The ground limit holds with VCONN's return current added.", "", "the amount of that current is not told in any source read"},
		{"Contacts have at most 40 mΩ new and 50 mΩ after stress, four of them side by side for VBUS and for ground.", "bench-orientations-differ",
			"single contacts cannot be told apart from outside; a difference between the two ways up shows"},
		{"A cable keeps its resistance.", "bench-drifted-since-earlier-session bench-sessions-of-one-day-disagree bench-unit-likely-wrong", ""},
		{"Two measurements of one thing agree.", "bench-printed-differs-from-readings bench-reference-resistor-off", ""},
		{"The fixture is not the cable.", "bench-null-not-taken bench-null-at-other-current bench-offset-remains", ""},
		{"The resistance is that of the wire claimed, and of a wire that exists.", "resistance-above-claimed-conductors resistance-below-claimed-conductors resistance-consistent-with-clad-aluminium bench-lower-than-copper-allows claimed-conductors-too-thin-for-claim", ""},
		{"The plug's shell gets at most 30 K warmer than the room.", "bench-shell-too-warm bench-copper-too-warm", ""},
	}},
	{"Data", []claims.Citation{source.PDCableWord, source.TypeCCables, source.TypeCLegacy}, []requirement{
		{"The marker declares the speed claimed: 5, 10, 20, 40 and 80 Gbps.", "claimed-data-above-marker", ""},
		{"No published cable carries more than 80 Gbps, or 120 Gbps one way.", "claimed-data-above-standard", ""},
		{"USB4 Version 2.0 also runs over passive 40 Gbps cables.", "claimed-80-gbps-over-passive-gen-3", ""},
		{"Above USB 2.0 a Type-C to Type-C cable is marked.", "claimed-data-on-unmarked-cable claimed-unmarked-where-marking-is-required", ""},
		{"The marker does not declare more than the seller stands for.", "marker-data-above-claim", ""},
		{"10 and 20 Gbps over a passive Gen 1 cable hold in some ways only.", "claimed-rate-over-gen-1", ""},
		{"With an older connector there is one lane, of Gen 2 at most.", "claimed-data-over-legacy-cable", ""},
		{"The wires really carry the speed.", "", "it takes a link test or a network analyser; the bench of a record measures direct current"},
	}},
	{"Alternate modes and pictures", []claims.Citation{source.TypeCTBT, source.DPCable, source.VESACVT, source.VESADP}, []requirement{
		{"Thunderbolt needs its mode, except passive cables for Thunderbolt 3.", "claimed-thunderbolt-without-mode claimed-thunderbolt-3-without-mode", ""},
		{"Thunderbolt 3, 4 and 5 need 10, 20 and 40 Gbps a lane.", "claimed-thunderbolt-above-marker claimed-thunderbolt-above-claimed-data", ""},
		{"No marker states Thunderbolt 4 or 5.", "thunderbolt-generation-not-stated claimed-thunderbolt-5-over-passive-gen-3", ""},
		{"DisplayPort is carried, as a host concludes it.", "claimed-displayport-not-carried", ""},
		{"Modes and pictures need fast pairs, a marker, and the CC wire.", "claimed-modes-over-usb-2 claimed-modes-on-unmarked-cable claimed-modes-over-legacy-cable claimed-video-on-unmarked-cable claimed-video-over-legacy-cable", ""},
		{"The picture claimed fits what a host can send.", "claimed-video-above-marker claimed-video-only-compressed claimed-video-only-inside-a-tunnel", ""},
	}},
	{"Length", []claims.Citation{source.TypeCLengths, source.NatureLight}, []requirement{
		{"The length is the one claimed.", "claimed-length-differs-from-tape", ""},
		{"No signal is faster than light.", "length-faster-than-light tape-length-faster-than-light", ""},
		{"The latency goes with the length, by its legend or by physics.", "claimed-length-unlikely-for-latency tape-length-unlikely-for-latency", ""},
		{"Practical lengths by speed. They inform and do not bind.", "length-long-for-declared-speed claimed-length-long-for-claimed-data", ""},
		{"Practical lengths of cables with older connectors.", "", "the rows were not read in any source, only remembered"},
	}},
	{"Plugs, marking and activity", []claims.Citation{source.TypeCCables, source.TypeCLegacy, source.PDIdentity, source.PDProductType}, []requirement{
		{"The plugs are those claimed.", "claimed-plugs-differ-from-seen", ""},
		{"The marker of a captive cable says so.", "captive-cable-declares-another-end", ""},
		{"The marker is there, or not, as claimed.", "claimed-marked-but-silent claimed-unmarked-but-answers", ""},
		{"A cable with an older connector does not answer, and is not sold as marked.", "legacy-cable-answers seen-legacy-cable-answers claimed-marked-over-legacy-cable", ""},
		{"Active is what is sold as active, and is marked.", "claimed-active-differs-from-marker claimed-active-on-unmarked-cable", ""},
		{"A cable with a Type-A plug has one 56 kΩ pull-up, one with micro-B one 5.1 kΩ pull-down.", "", "the record has no key for the resistor at CC"},
		{"No cable has a Type-C receptacle and a micro-B plug.", "", "the record cannot name such an assembly"},
		{"An active cable draws at most 1 W or 1.5 W from VCONN, a passive marker 20 mW.", "", "the record has no key for VCONN, and the figures are only remembered"},
	}},
	{"Certification", []claims.Citation{source.PDCertStat, source.USBIFPower, source.USBIFData}, []requirement{
		{"An XID is there where certification is claimed, and is the number printed.", "claimed-certified-without-xid certificate-differs-from-xid", ""},
		{"An XID alone proves nothing.", "xid-proves-nothing-by-itself", ""},
		{"A claim of certification names a number.", "claimed-certified-without-number", ""},
		{"Makers of certified products have a vendor ID.", "claimed-certified-without-vendor-id", ""},
		{"Certified cables are 60 W or 240 W.", "claimed-certified-in-withdrawn-power-class claimed-certified-but-5-a-without-epr", ""},
		{"Certified Type-C to Type-C cables are 5, 20, 40 or 80 Gbps, or USB 2.0.", "claimed-certified-at-10-gbps", ""},
		{"A certified cable shows its marks.", "", "the record has no key for the marks on a cable"},
		{"The product of the XID is this product.", "", "it must be looked up by people; the tool asks no network"},
	}},
}

// TestRequirements holds that every requirement names its rules or the reason why
// there are none, that every rule serves a requirement, and that the page says
// the same.
func TestRequirements(t *testing.T) {
	served := map[string]bool{}
	var page strings.Builder
	page.WriteString("# Requirements and the rules that check them\n\n" +
		"Written by `go test ./claims -run TestRequirements -update`; do not edit.\n" +
		"`gainsay rules NAME` explains a rule.\n")
	kinds := map[claims.Kind]int{}
	for _, r := range catalogue {
		kinds[r.Kind]++
	}
	fmt.Fprintf(&page, "\n%d rules:", len(catalogue))
	for i, k := range claims.Kinds() {
		if i > 0 {
			page.WriteString(",")
		}
		fmt.Fprintf(&page, " %d for a %s", kinds[k], k)
	}
	page.WriteString(".\n")
	for _, topic := range requirements {
		fmt.Fprintf(&page, "\n## %s\n\n", topic.title)
		for _, c := range topic.sources {
			if !slices.Contains(Sources(), c) {
				t.Errorf("%s: %s is not in the table of clauses", topic.title, c)
			}
			fmt.Fprintf(&page, "- %s (%s)\n", c, c.Force)
		}
		page.WriteString("\n| requirement | rules |\n|---|---|\n")
		for _, req := range topic.requirements {
			ids := strings.Fields(req.rules)
			if len(ids) == 0 && req.because == "" {
				t.Errorf("%s: neither a rule nor a reason", req.text)
			}
			var cells []string
			for _, id := range ids {
				r := usual.Rule(id)
				if r == nil {
					t.Errorf("%s: no rule is called %s", req.text, id)
					continue
				}
				served[id] = true
				cells = append(cells, fmt.Sprintf("`%s` (%s)", id, r.Kind))
			}
			cell := strings.Join(cells, "<br>")
			switch {
			case len(ids) == 0:
				cell = "none: " + req.because
			case req.because != "":
				cell += "<br>" + req.because
			}
			fmt.Fprintf(&page, "| %s | %s |\n", req.text, cell)
		}
	}
	for _, r := range catalogue {
		if !served[r.ID] {
			t.Errorf("%s serves no requirement of the table", r.ID)
		}
	}
	page.WriteString("\n## Retired rules\n\n")
	for _, r := range Retired() {
		fmt.Fprintf(&page, "- `%s`: %s\n", r.ID, r.Reason)
	}
	if len(Retired()) == 0 {
		page.WriteString("None yet.\n")
	}
	const path = "REQUIREMENTS.md"
	if *update {
		if err := os.WriteFile(path, []byte(page.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to write it)", err)
	}
	if diff := cmp.Diff(string(want), page.String()); diff != "" {
		t.Errorf("%s is not up to date; run with -update (-want +got):\n%s", path, diff)
	}
}
