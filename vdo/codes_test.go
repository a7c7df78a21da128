package vdo_test

import (
	"strings"
	"testing"

	. "example.com/gainsay/vdo"
)

// The code tables as published, value by value from 0: part of the meaning; "!"
// for reserved or invalid, "~" before a meaning that is deprecated.
var codeTables = []struct {
	source string
	fields string // layout field, ...
	want   []string
}{
	{"PD R3.2 V1.2, Structured VDM Header table", "vdm-header structured", []string{"unstructured", "structured"}},
	{"PD R3.2 V1.2, Structured VDM Header table", "vdm-header version-major", []string{"1.0", "2.x", "!", "!"}},
	{"PD R3.2 V1.2, Structured VDM Header table", "vdm-header version-minor", []string{"x.0", "x.1", "!", "!"}},
	{"PD R3.2 V1.2, Structured VDM Header table", "vdm-header command-type", []string{"request", "ACK", "NAK", "BUSY"}},
	{"PD R3.2 V1.2, Structured VDM Header table", "vdm-header command", []string{"!",
		"Discover Identity", "Discover SVIDs", "Discover Modes", "Enter Mode", "Exit Mode", "Attention",
		"!", "!", "!", "!", "!", "!", "!", "!", "!",
		"16", "17", "18", "19", "20", "21", "22", "23", "24", "25", "26", "27", "28", "29", "30", "31"}},
	{"PD R3.x, cable plug product types", "id-header product-type",
		[]string{"not a cable", "!", "!", "passive cable", "active cable", "!", "VCONN-powered USB device", "!"}},
	{"PD R3.0, ID Header VDO table, SOP (VPD 110b in PD 3.0 listings)", "id-header-partner product-type",
		[]string{"not a USB device", "hub", "peripheral", "power supply", "!", "alternate mode adapter", "VCONN-powered", "!"}},
	{"PD R3.x, ID Header VDO table", "id-header connector; id-header-partner connector",
		[]string{"not stated", "!", "receptacle", "plug"}},
	{"PD R2.0 V1.3, T 6-28 and 6-29", "passive-cable-pd2 other-end; active-cable-pd2 other-end",
		[]string{"Type-A", "Type-B", "Type-C", "captive"}},
	{"PD R3.x, Passive and Active Cable VDO tables",
		"passive-cable plug-type; active-cable-early plug-type; active-cable-1-v12 plug-type; active-cable-1 plug-type",
		[]string{"!", "!", "Type-C", "captive"}},
	{"PD R2.0 V1.3, T 6-28; the first text had a receptacle here", "passive-cable-pd2 receptacle; active-cable-pd2 receptacle",
		[]string{"plug", "!"}},
	{"PD R3.x, Passive Cable VDO table; PD R2.0 V1.3 for both types",
		"passive-cable latency; passive-cable-pd2 latency; active-cable-pd2 latency",
		[]string{"!", "up to 10 ns", "10 to 20 ns", "20 to 30 ns", "30 to 40 ns", "40 to 50 ns", "50 to 60 ns", "60 to 70 ns",
			"over 70 ns", "!", "!", "!", "!", "!", "!", "!"}},
	{"PD R3.x, Active Cable VDO table", "active-cable-early latency; active-cable-1-v12 latency; active-cable-1 latency",
		[]string{"!", "up to 10 ns", "10 to 20 ns", "20 to 30 ns", "30 to 40 ns", "40 to 50 ns", "50 to 60 ns", "60 to 70 ns",
			"1000 ns", "2000 ns", "3000 ns", "!", "!", "!", "!", "!"}},
	{"PD R3.x, Passive Cable VDO table; PD R2.0 V1.3 T 6-28", "passive-cable termination; passive-cable-pd2 termination",
		[]string{"VCONN not required", "VCONN required", "!", "!"}},
	{"PD R3.x, Active Cable VDO table; PD R2.0 V1.3 T 6-29",
		"active-cable-pd2 termination; active-cable-early termination; active-cable-1-v12 termination; active-cable-1 termination",
		[]string{"!", "!", "one end active", "both ends active"}},
	{"PD R2.0 V1.3, T 6-28", "passive-cable-pd2 sstx1-direction; passive-cable-pd2 sstx2-direction; " +
		"active-cable-pd2 ssrx1-direction; active-cable-pd2 ssrx2-direction", []string{"fixed", "configurable"}},
	{"PD R3.2 V1.2, Passive Cable VDO table: 01b and 10b deprecated",
		"passive-cable max-voltage; active-cable-early max-voltage; active-cable-1-v12 max-voltage; active-cable-1 max-voltage",
		[]string{"20 V", "~30 V", "~40 V", "50 V"}},
	{"PD R3.2 V1.0, VPD VDO table: all but 20 V deprecated", "vpd max-voltage",
		[]string{"20 V", "~30 V", "~40 V", "~50 V"}},
	{"PD R3.2 V1.2, Passive Cable VDO table: 00b and 11b invalid", "passive-cable vbus-current",
		[]string{"!", "3 A", "5 A", "!"}},
	{"PD R2.0 V1.3, T 6-28 and 6-29; 00b was 1.5 A in the first text", "passive-cable-pd2 vbus-current; active-cable-pd2 vbus-current",
		[]string{"!", "3 A", "5 A", "!"}},
	{"PD R2.0 V1.3, T 6-28", "passive-cable-pd2 vbus-through; active-cable-pd2 far-plug; active-cable-1 vbus-through",
		[]string{"no", "yes"}},
	{"PD R2.0 V1.3, T 6-28 and 6-29", "passive-cable-pd2 speed; active-cable-pd2 speed",
		[]string{"USB 2.0 only", "USB 3.1 Gen 1", "USB 3.1 Gen 1 and Gen 2", "!", "!", "!", "!", "!"}},
	{"PD R3.2, Passive and Active Cable VDO tables", "passive-cable speed; active-cable-1 speed",
		[]string{"USB 2.0 only", "USB 3.2 Gen 1", "USB 3.2 Gen 2, USB4 Gen 2", "USB4 Gen 3", "USB4 Gen 4", "!", "!", "!"}},
	{"PD R3.x, Passive Cable VDO table", "passive-cable vdo-version; vpd vdo-version",
		[]string{"1.0", "!", "!", "!", "!", "!", "!", "!"}},
	{"PD R3.2 V1.0, Active Cable VDO table; 000b is reserved with two words", "active-cable-1 vdo-version; active-cable-1-v12 vdo-version",
		[]string{"!", "1.1", "1.2", "1.3", "!", "!", "!", "!"}},
	{"PD R3.0, Active Cable VDO standing alone (one relay)", "active-cable-early vdo-version",
		[]string{"1.0", "1.1", "1.2", "1.3", "!", "!", "!", "!"}},
	{"PD R2.0 V1.3, T 6-23; 110b is a VPD of PD 3.x, asked by a PD 2.0 port", "id-header-pd2 product-type",
		[]string{"undefined", "!", "!", "passive cable", "active cable", "!", "VCONN-powered USB device, of PD 3.x", "!"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table; 1 means no", "active-cable-2 usb4; active-cable-2 usb2; active-cable-2 usb32",
		[]string{"yes", "no"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 medium", []string{"copper", "optical"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 active-element", []string{"re-driver", "re-timer"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 u3-to-u0", []string{"direct", "U3S"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 lanes", []string{"one", "two"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 isolated; active-cable-2 asymmetric", []string{"no", "yes"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 generation", []string{"Gen 1", "Gen 2 or higher"}},
	{"PD R3.2 V1.0, Active Cable VDO2 table", "active-cable-2 u3-power; active-cable-2-v12 u3-power",
		[]string{"more than 10 mW", "5 to 10 mW", "1 to 5 mW", "0.5 to 1 mW", "0.2 to 0.5 mW", "50 to 200 µW", "less than 50 µW", "!"}},
	{"PD R3.0 V1.2, T 6-37", "active-cable-2-v12 signalling", []string{"Gen 1", "Gen 2", "!", "!"}},
	{"Type-C R2.0, T F-11", "thunderbolt-cable speed",
		[]string{"!", "USB 3.1 Gen 1", "10 Gbps", "10 and 20 Gbps", "!", "!", "!", "!"}},
	{"Type-C R2.0, T F-11", "thunderbolt-cable rounded", []string{"third, non-rounded", "third and fourth", "!", "!"}},
	{"Type-C R2.0, T F-11", "thunderbolt-cable link-training", []string{"bidirectional", "unidirectional"}},
	{"Type-C R2.0, T F-11", "thunderbolt-cable medium", []string{"copper", "optical"}},
	{"DP Alt Mode 2.1, Table 4-4", "displayport-cable version", []string{"2.0 or older", "2.1", "!", "!"}},
	{"DP Alt Mode 2.1, Table 4-4", "displayport-cable active-component", []string{"passive", "re-timer", "re-driver", "optical"}},
	{"DP Alt Mode 2.1, Table 4-4: a bit mask", "displayport-cable signalling",
		[]string{"none", "HBR3", "UHBR10", "HBR3, UHBR10", "UHBR20", "HBR3, UHBR20", "UHBR10, UHBR20", "HBR3, UHBR10, UHBR20",
			"unassigned", "HBR3, (bit 3", "UHBR10, (bit 3", "HBR3, UHBR10, (bit 3", "UHBR20, (bit 3", "HBR3, UHBR20, (bit 3",
			"UHBR10, UHBR20, (bit 3", "HBR3, UHBR10, UHBR20, (bit 3"}},
}

func TestCodeTables(t *testing.T) {
	for _, table := range codeTables {
		for place := range strings.SplitSeq(table.fields, "; ") {
			name, field, _ := strings.Cut(place, " ")
			l := LayoutNamed(name)
			if l == nil {
				t.Fatalf("no layout %s", name)
			}
			for code, want := range table.want {
				word, err := l.Compose(switchOn(name), Value{Field: field, Raw: uint32(code)})
				if err != nil {
					t.Fatal(err)
				}
				v := fieldOf(t, l, word, field)
				if v.Most() != uint32(len(table.want)-1) {
					t.Fatalf("%s: the table has %d rows for a field up to %d", place, len(table.want), v.Most())
				}
				standing, part := Defined, want
				switch {
				case want == "!":
					standing, part = Reserved, ""
				case want[0] == '~':
					standing, part = Deprecated, want[1:]
				}
				if v.Standing != standing || !strings.Contains(v.Meaning, part) {
					t.Errorf("%s %d: %q, %v; want %q (%s)", place, code, v.Meaning, v.Standing, want, table.source)
				}
			}
		}
	}
}

// switchOn is a word in which no field of the layout switches another off.
func switchOn(layout string) uint32 {
	switch {
	case strings.HasPrefix(layout, "active-cable-1"), layout == "active-cable-early":
		return 1 << 4 // VBUS through
	case layout == "vpd":
		return 1 // charge-through
	}
	return 0
}

// A switched field is ignored where another field of its word is off, and counts
// where that one is on.
type switched struct {
	by      string
	on, off uint32 // numbers of that field
}

// PD R3.x: the active current counts only with VBUS through, the SBU type only
// with SBU, the VPD's figures only with charge-through.
var switches = map[string]switched{
	"active-cable-1 vbus-current":     {by: "vbus-through", on: 1, off: 0},
	"active-cable-1-v12 vbus-current": {by: "vbus-through", on: 1, off: 0},
	"active-cable-early vbus-current": {by: "vbus-through", on: 1, off: 0},
	"active-cable-1 sbu-type":         {by: "sbu", on: 0, off: 1},
	"active-cable-1-v12 sbu-type":     {by: "sbu", on: 0, off: 1},
	"vpd charge-through-current":      {by: "charge-through", on: 1, off: 0},
	"vpd vbus-impedance":              {by: "charge-through", on: 1, off: 0},
	"vpd ground-impedance":            {by: "charge-through", on: 1, off: 0},
}

func TestIgnoredFields(t *testing.T) {
	for name, c := range switches {
		layout, field, _ := strings.Cut(name, " ")
		l := LayoutNamed(layout)
		for _, word := range edgeWords() {
			const defined = 10 // in the impedances; wider than the other fields
			code := uint32(1)
			if strings.HasSuffix(field, "impedance") {
				code = defined
			}
			word, err := l.Compose(word, Value{field, code}, Value{c.by, c.on})
			if err != nil {
				t.Fatal(err)
			}
			if v := fieldOf(t, l, word, field); v.Standing != Defined {
				t.Errorf("%s %s in %08X: %v, want defined", layout, field, word, v.Standing)
			}
			word, err = l.Compose(word, Value{c.by, c.off})
			if err != nil {
				t.Fatal(err)
			}
			if v := fieldOf(t, l, word, field); v.Standing != Ignored || v.Note == "" || v.Raw != code {
				t.Errorf("%s %s in %08X: %v, note %q", layout, field, word, v.Standing, v.Note)
			}
		}
	}
	// Nothing else is ever ignored.
	for _, l := range Layouts() {
		for _, word := range edgeWords() {
			for v := range l.Read(word) {
				if v.Standing == Ignored && v.Note == "" {
					t.Errorf("%s %s in %08X is ignored without saying why", l.Name(), v.Name, word)
				}
				if v.Standing == Ignored && (l.Name() == "passive-cable" || strings.HasSuffix(l.Name(), "pd2")) {
					t.Errorf("%s %s in %08X is ignored; no such rule", l.Name(), v.Name, word)
				}
			}
		}
	}
}

func TestReservedRuns(t *testing.T) {
	l := LayoutNamed("passive-cable")
	if v := fieldOf(t, l, 0, "reserved-8-7"); v.Standing != Reserved || v.Meaning != "zero, as it should be" {
		t.Errorf("%+v", v)
	}
	if v := fieldOf(t, l, 1<<7, "reserved-8-7"); v.Standing != Reserved || v.Meaning != "not zero, though reserved" || v.Raw != 1 {
		t.Errorf("%+v", v)
	}
}

// PD R3.x, Passive and Active Cable VDO tables.
func TestLatency(t *testing.T) {
	for code := range Latency(16) {
		passive, okP := code.Passive()
		active, okA := code.Active()
		var wantP, wantA Delay
		validP, validA := code >= 1 && code <= 8, code >= 1 && code <= 10
		switch {
		case code >= 1 && code <= 7:
			wantP = Delay{10*int(code) - 10, 10 * int(code)}
			wantA = wantP
		case code == 8:
			wantP, wantA = Delay{70, 0}, Delay{1000, 1000}
		case code == 9:
			wantA = Delay{2000, 2000}
		case code == 10:
			wantA = Delay{3000, 3000}
		}
		if passive != wantP || okP != validP {
			t.Errorf("%d passive: %v %v, want %v %v", code, passive, okP, wantP, validP)
		}
		if active != wantA || okA != validA {
			t.Errorf("%d active: %v %v, want %v %v", code, active, okA, wantA, validA)
		}
	}
}

func TestCurrent(t *testing.T) {
	for code, want := range []int{0, 3, 5, 0} {
		amps, ok := Current(code).Amps()
		if amps != want || ok != (want != 0) {
			t.Errorf("%02b: %d A, %v", code, amps, ok)
		}
	}
	if Current3A.String() != "3 A" || Current5A.String() != "5 A" {
		t.Error(Current3A, Current5A)
	}
}

// PD R3.2 V1.2, Passive Cable VDO table: a receiver reads 30 V and 40 V as 20 V.
func TestMaxVoltage(t *testing.T) {
	for code, want := range []int{20, 20, 20, 50} {
		v := MaxVoltage(code)
		if v.Volts() != want || v.Deprecated() != (code == 1 || code == 2) || v.String() == "" {
			t.Errorf("%02b: %d V, deprecated %v", code, v.Volts(), v.Deprecated())
		}
	}
}

// USB 3.2 and USB4: 5, 10, 20 and 40 Gbps a lane; Gen 3 and Gen 4 are named for
// two lanes.
func TestSpeed(t *testing.T) {
	for _, c := range []struct {
		code       Speed
		id         string
		lane, name float64
	}{
		{USB2, "usb2", 0.48, 0.48}, {USB32Gen1, "usb32-gen1", 5, 5}, {USB32Gen2, "usb32-gen2", 10, 10},
		{USB4Gen3, "usb4-gen3", 20, 40}, {USB4Gen4, "usb4-gen4", 40, 80},
		{5, "", 0, 0}, {6, "", 0, 0}, {7, "", 0, 0},
	} {
		if c.code.ID() != c.id || c.code.LaneGbps() != c.lane || c.code.Gbps() != c.name || c.code.Valid() != (c.id != "") {
			t.Errorf("%03b: %q, %g a lane, %g, valid %v", c.code, c.code.ID(), c.code.LaneGbps(), c.code.Gbps(), c.code.Valid())
		}
	}
	if s := USB4Gen3.String(); s != "USB4 Gen 3" {
		t.Error(s)
	}
	if s := Speed(6).String(); s != "reserved (6)" {
		t.Error(s)
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{EndTypeA.ID(), "type-a"}, {EndTypeB.ID(), "type-b"}, {EndTypeC.ID(), "type-c"}, {EndCaptive.ID(), "captive"},
		{EndTypeC.String(), "Type-C"},
		{NotACable.ID(), "none"}, {PassiveType.ID(), "passive-cable"}, {ActiveType.ID(), "active-cable"}, {VPDType.ID(), "vpd"},
		{ProductType(5).ID(), ""}, {PassiveType.String(), "passive cable"}, {ProductType(5).String(), "reserved (5)"},
		{DiscoverIdentity.ID(), "discover-identity"}, {DiscoverSVIDs.ID(), "discover-svids"}, {DiscoverModes.ID(), "discover-modes"},
		{EnterMode.ID(), "enter-mode"}, {ExitMode.ID(), "exit-mode"}, {Attention.ID(), "attention"}, {Command(0).ID(), ""}, {Command(16).ID(), ""},
		{DiscoverModes.String(), "Discover Modes"}, {Command(17).String(), "command 17 of the SVID"},
		{Request.ID(), "request"}, {ACK.ID(), "ack"}, {NAK.ID(), "nak"}, {Busy.ID(), "busy"}, {Busy.String(), "BUSY"},
		{TBT20Gbps.String(), "10 and 20 Gbps a lane"},
		{Defined.String(), "defined"}, {Reserved.String(), "reserved"}, {Deprecated.String(), "deprecated"}, {Ignored.String(), "ignored"},
		{Standing(9).String(), "standing 9"}, {Assumption(99).String(), "assumption 99"},
		{PlugUnknown.String(), "unknown"}, {PlugNear.String(), "near"}, {PlugFar.String(), "far"}, {PlugPartner.String(), "partner"},
		{RevisionUnknown.String(), "unknown"}, {Revision1.String(), "1.0"}, {Revision2.String(), "2.0"}, {Revision3.String(), "3.x"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Numbers in words: SVIDs, identifiers, releases, temperatures, impedances, pin
// masks.
func TestNumbersInWords(t *testing.T) {
	for _, c := range []struct {
		layout, field string
		raw           uint32
		want          string
	}{
		{"vdm-header", "svid", 0xFF00, "USB PD"},
		{"vdm-header", "svid", 0xFF01, "DisplayPort"},
		{"vdm-header", "svid", 0xFF02, "MHL"},
		{"vdm-header", "svid", 0x8087, "Thunderbolt"},
		{"vdm-header", "svid", 0xF055, "0xF055"},
		{"vdm-header", "object-position", 7, "7"},
		{"unstructured-header", "vendor-data", 0x7FFF, "0x7FFF"},
		{"svid-pair", "svid-second", 0, "none"},
		{"id-header", "vendor-id", 0xF055, "0xF055"},
		{"id-header", "vendor-id", 0xFFFF, "0xFFFF, the vendor has none"},
		{"id-header", "vendor-id", 0, "0x0000, assigned to nobody"},
		{"cert-stat", "certification-id", 0, "none presented"},
		{"cert-stat", "certification-id", 0x00012345, "0x00012345"},
		{"product", "product-id", 0x0A1B, "0x0A1B"},
		{"product", "release", 0x0100, "1.00"},
		{"product", "release", 0x0210, "2.10"},
		{"product", "release", 0x1234, "12.34"},
		{"active-cable-2", "max-temperature", 70, "70 °C"},
		{"active-cable-2", "shutdown-temperature", 255, "255 °C"},
		{"vpd", "vbus-impedance", 33, "66 mΩ"},
		{"vpd", "vbus-impedance", 63, "126 mΩ"},
		{"vpd", "vbus-impedance", 4, "8 mΩ, below the 10 mΩ allowed"},
		{"vpd", "vbus-impedance", 5, "10 mΩ"},
		{"vpd", "ground-impedance", 9, "9 mΩ, below the 10 mΩ allowed"},
		{"vpd", "ground-impedance", 10, "10 mΩ"},
		{"vpd", "ground-impedance", 63, "63 mΩ"},
		{"thunderbolt-cable", "mode", 1, "Thunderbolt"},
		{"thunderbolt-cable", "mode", 2, "0x0002"},
		{"displayport-cable", "ufp-pins", 0, "none"},
		{"displayport-cable", "dfp-pins", 0b111111, "A B C D E F"},
		{"displayport-cable", "dfp-pins", 0b1001_0100, "C E (bit 7 of the field, unassigned)"},
		{"data", "data", 0xDEADBEEF, "0xDEADBEEF"},
	} {
		l := LayoutNamed(c.layout)
		word, err := l.Compose(0, Value{c.field, c.raw})
		if err != nil {
			t.Fatal(err)
		}
		if got := fieldOf(t, l, word, c.field).Meaning; got != c.want {
			t.Errorf("%s %s %#x: %q, want %q", c.layout, c.field, c.raw, got, c.want)
		}
	}
}

// PD R3.0 V1.2, T 6-37: the speed is in the second word.
func TestSpeedV12(t *testing.T) {
	for code, want := range []Speed{USB32Gen1, USB32Gen2, 0, 0} {
		got, ok := ActiveCable2(code).SpeedV12()
		if got != want || ok != (code < 2) {
			t.Errorf("%02b: %v %v", code, got, ok)
		}
	}
}

// Type-C R2.0, T F-11.
func TestThunderboltSpeed(t *testing.T) {
	for code, want := range []float64{0, 10, 10, 20, 0, 0, 0, 0} {
		if got := TBTSpeed(code).LaneGbps(); got != want {
			t.Errorf("%03b: %g Gbps", code, got)
		}
	}
}

// DP Alt Mode 2.1, Table 4-4; DisplayPort 2.1: HBR3 8.1, UHBR10, 13.5 and 20
// Gbps a lane.
func TestDisplayPortRates(t *testing.T) {
	for _, c := range []struct {
		mask uint32
		uhbr uint32
		want float64
	}{
		{0, 0, 0}, {DPHBR3, 0, 8.1}, {DPUHBR10, 0, 10}, {DPHBR3 | DPUHBR10, 0, 10}, {DPUHBR20, 0, 20},
		{DPHBR3 | DPUHBR10 | DPUHBR20, 1, 20}, {DPUHBR10, 1, 13.5}, {0, 1, 13.5}, {8, 0, 0},
	} {
		w := DisplayPortCable(c.mask<<2 | c.uhbr<<26)
		if got := w.LaneGbps(); got != c.want {
			t.Errorf("%08X: %g, want %g", uint32(w), got, c.want)
		}
	}
}
