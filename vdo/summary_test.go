package vdo_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	. "example.com/gainsay/vdo"
)

// declared lists what a summary declares as "Field=value", in the order of its
// fields; what is absent is not in the list.
func declared(s Summary) []string {
	var list []string
	v := reflect.ValueOf(s)
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		if name == "PD2" {
			if s.PD2 {
				list = append(list, "PD2")
			}
			continue
		}
		if !v.Type().Field(i).IsExported() {
			continue
		}
		get := v.Field(i).MethodByName("Get").Call(nil)
		if !get[1].Bool() {
			if !get[0].IsZero() {
				list = append(list, name+" absent, yet "+fmt.Sprint(get[0].Interface()))
			}
			continue
		}
		format := "%s=%v"
		if k := get[0].Kind(); k == reflect.Uint16 || k == reflect.Uint32 || k == reflect.Slice {
			format = "%s=%X"
		}
		list = append(list, fmt.Sprintf(format, name, get[0].Interface()))
	}
	return list
}

// identity is a reply of a near plug.
func identity(words ...uint32) Reply { return Decode(words, Context{Plug: PlugNear}) }

func headerless(revision Revision, words ...uint32) Reply {
	return Decode(words, Context{Plug: PlugNear, Revision: revision, Headerless: true})
}

// What markers declare. Source of each layout: see the layouts; of the fallback
// of 30 V and 40 V to 20 V: PD R3.2 V1.2, Passive Cable VDO table.
var summaries = []struct {
	name    string
	replies []Reply
	want    string
}{
	{
		"passive EPR cable",
		[]Reply{identity(0xFF00A041, 0x1860FFFF, 0, 0x00000100, 0x120A2643)},
		`Product=passive cable; VendorID=FFFF; CertificationID=0; ProductID=0; Release=100; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=50; EPR=true; End=Type-C; Speed=USB4 Gen 3; Latency={0 10}; VCONNRequired=false`,
	},
	{
		"active cable, two words",
		[]Reply{identity(0xFF00A041, 0x2460FFFF, 0, 0x00000100, 0x006A3E5B, 0x46503209)},
		`Product=active cable; VendorID=FFFF; CertificationID=0; ProductID=0; Release=100; Host=false; Device=false; Modal=true;
		 Amps=5; Volts=50; EPR=true; End=Type-C; Speed=USB4 Gen 3; Lanes=2; Latency={0 10}; VCONNRequired=true; Through=true;
		 FarPlug=true; SBU=true; USB2=true; USB32=true; USB4=true; Optical=false; Retimer=true; Isolated=false; Asymmetric=false;
		 MaxTemperature=70; Shutdown=80; HubHops=0`,
	},
	{
		"passive cable, PD 2.0",
		[]Reply{identity(0xFF008041, 0x1800FFFF, 0, 0x00000100, 0x00084051)},
		`Product=passive cable; PD2; VendorID=FFFF; CertificationID=0; ProductID=0; Release=100; Host=false; Device=false; Modal=false;
		 Amps=5; End=Type-C; Speed=USB 3.2 Gen 1; Latency={10 20}; VCONNRequired=false; Through=true`,
	},
	{
		// Bits 10 and 9 are lane directions here; read as a voltage they would be 50 V.
		// Bit 17 would be EPR.
		"PD 2.0 declares no voltage, whatever bits 10:9 and 17 hold",
		[]Reply{identity(0xFF008041, 0x1800F055, 0, 0, 0x000A4651)},
		`Product=passive cable; PD2; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; End=Type-C; Speed=USB 3.2 Gen 1; Latency={10 20}; VCONNRequired=false; Through=true`,
	},
	{
		"headerless with PD 2.0 given declares no voltage either",
		[]Reply{headerless(Revision2, 0x1800F055, 0, 0, 0x00084651)},
		`Product=passive cable; PD2; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; End=Type-C; Speed=USB 3.2 Gen 1; Latency={10 20}; VCONNRequired=false; Through=true`,
	},
	{
		"the same words without a revision are read under PD 3.x",
		[]Reply{headerless(RevisionUnknown, 0x1800F055, 0, 0, 0x00084651)},
		`Product=passive cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=50; EPR=false; End=Type-C; Speed=USB 3.2 Gen 1; Latency={10 20}; VCONNRequired=false`,
	},
	{
		"active cable, PD 2.0: the passive latency column, a far plug",
		[]Reply{identity(0xFF008041, 0x2000F055, 0, 0, 0x0009105A)},
		`Product=active cable; PD2; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; End=Type-C; Speed=USB 3.2 Gen 2, USB4 Gen 2; Latency={70 0}; VCONNRequired=true; Through=true; FarPlug=true`,
	},
	{
		// Current 00b, other end Type-A, latency 9, termination 10b (active only),
		// speed 011b: all but the end are reserved for a passive PD 2.0 cable.
		"reserved codes under PD 2.0 declare nothing",
		[]Reply{identity(0xFF008041, 0x1800F055, 0, 0, 0x00013003)},
		`Product=passive cable; PD2; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 End=Type-A; Through=false`,
	},
	{
		"deprecated 30 V counts as 20 V",
		[]Reply{identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082240)},
		`Product=passive cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; EPR=false; End=Type-C; Speed=USB 2.0 only; Latency={0 10}; VCONNRequired=false`,
	},
	{
		"deprecated 40 V counts as 20 V",
		[]Reply{identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082440)},
		`Product=passive cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; EPR=false; End=Type-C; Speed=USB 2.0 only; Latency={0 10}; VCONNRequired=false`,
	},
	{
		// Plug type 01b, latency 9, termination 11b, current 11b, speed 101b.
		"reserved codes of a passive cable declare nothing",
		[]Reply{identity(0xFF00A041, 0x1860F055, 0x12345678, 0xABCD0210, 0x00053865)},
		`Product=passive cable; VendorID=F055; CertificationID=12345678; ProductID=ABCD; Release=210; Host=false; Device=false; Modal=false;
		 Volts=20; EPR=false`,
	},
	{
		"current code 00b declares no current",
		[]Reply{identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082000)},
		`Product=passive cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Volts=20; EPR=false; End=Type-C; Speed=USB 2.0 only; Latency={0 10}; VCONNRequired=false`,
	},
	{
		// 1000 ns, optical and isolated, SBU not supported, 5 A in a field that counts
		// only with VBUS through.
		"active cable without VBUS through declares no current",
		[]Reply{identity(0xFF00A041, 0x2060F055, 0, 0, 0x00791943, 0x4650360D)},
		`Product=active cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Volts=20; EPR=false; End=Type-C; Speed=USB4 Gen 3; Lanes=2; Latency={1000 1000}; VCONNRequired=true; Through=false;
		 FarPlug=false; SBU=false; USB2=true; USB32=true; USB4=true; Optical=true; Retimer=true; Isolated=true; Asymmetric=false;
		 MaxTemperature=70; Shutdown=80; HubHops=0`,
	},
	{
		"active cable, VDO 1.2: the speed is in the second word, USB4 and medium do not exist",
		[]Reply{identity(0xFF00A041, 0x2000F055, 0, 0, 0x004A3A53, 0x46500709)},
		`Product=active cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; End=Type-C; Speed=USB 3.2 Gen 2, USB4 Gen 2; Lanes=2; Latency={0 10}; VCONNRequired=true; Through=true;
		 FarPlug=false; SBU=true; USB2=true; USB32=true; MaxTemperature=70; Shutdown=80; HubHops=0`,
	},
	{
		"active cable, VDO 1.2, reserved signalling",
		[]Reply{identity(0xFF00A041, 0x2000F055, 0, 0, 0x00483851, 0x46500002)},
		`Product=active cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; End=Type-C; Lanes=1; Latency={0 10}; VCONNRequired=true; Through=true;
		 FarPlug=false; SBU=true; USB2=true; USB32=true; MaxTemperature=70; Shutdown=80; HubHops=0`,
	},
	{
		"early active word: no SBU, no EPR, no second word",
		[]Reply{identity(0xFF00A041, 0x2000F055, 0, 0, 0x000A39DA)},
		`Product=active cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; End=Type-C; Speed=USB 3.2 Gen 2, USB4 Gen 2; Latency={0 10}; VCONNRequired=true; Through=true; FarPlug=true`,
	},
	{
		"active cable, asymmetric Gen 4",
		[]Reply{identity(0xFF00A841, 0x2460F055, 0, 0, 0x006A3E54, 0x4650320B)},
		`Product=active cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=true;
		 Amps=5; Volts=50; EPR=true; End=Type-C; Speed=USB4 Gen 4; Lanes=2; Latency={0 10}; VCONNRequired=true; Through=true;
		 FarPlug=false; SBU=true; USB2=true; USB32=true; USB4=true; Optical=false; Retimer=true; Isolated=false; Asymmetric=true;
		 MaxTemperature=70; Shutdown=80; HubHops=0`,
	},
	{
		"VPD with charge-through",
		[]Reply{identity(0xFF00A041, 0x7060F055, 0, 0, 0x110050C3)},
		`Product=VCONN-powered USB device; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=true; Modal=false;
		 Amps=5; Volts=20; ChargeThrough=true; VBUSMilliohm=66; GroundMilliohm=33`,
	},
	{
		"VPD that a PD 2.0 port asked: no voltage, and an impedance of 8 mΩ declares nothing",
		[]Reply{identity(0xFF008041, 0x7000F055, 0, 0, 0x11000243)},
		`Product=VCONN-powered USB device; PD2; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=true; Modal=false;
		 Amps=3; ChargeThrough=true; GroundMilliohm=33`,
	},
	{
		"VPD without charge-through; its old 50 V code is deprecated",
		[]Reply{identity(0xFF00A041, 0x7060F055, 0, 0, 0x1101D0C2)},
		`Product=VCONN-powered USB device; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=true; Modal=false;
		 Volts=20; ChargeThrough=false`,
	},
	{
		"reserved product type",
		[]Reply{identity(0xFF00A041, 0x2860F055, 0, 0, 0x120A2643)},
		`VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false`,
	},
	{
		"not a cable",
		[]Reply{identity(0xFF00A041, 0xC460F055, 0, 0)},
		`Product=not a cable plug; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=true; Device=true; Modal=true`,
	},
	{
		"identity that stops after the ID header",
		[]Reply{identity(0xFF00A041, 0x1860F055)},
		`Product=passive cable; VendorID=F055; Host=false; Device=false; Modal=false`,
	},
	{
		"of several identities the first counts; NAK, BUSY, requests and partners say nothing",
		[]Reply{
			identity(0xFF00A081), identity(0xFF00A0C1), identity(0xFF00A001),
			Decode([]uint32{0xFF00A041, 0x80600001, 9, 9, 9}, Context{Plug: PlugPartner}),
			identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082040),
			identity(0xFF00A041, 0x1860BEEF, 0, 0, 0x120A2643),
		},
		`Product=passive cable; VendorID=F055; CertificationID=0; ProductID=0; Release=0; Host=false; Device=false; Modal=false;
		 Amps=5; Volts=20; EPR=false; End=Type-C; Speed=USB 2.0 only; Latency={0 10}; VCONNRequired=false`,
	},
	{
		"SVIDs end at a zero",
		[]Reply{identity(0xFF00A042, 0x8087FF01, 0xF0550000, 0x12345678)},
		`SVIDs=[8087 FF01 F055]`,
	},
	{
		"SVIDs without a closing zero, over two answers",
		[]Reply{identity(0xFF00A042, 0x8087FF01), identity(0xFF00A042, 0xF0550000)},
		`SVIDs=[8087 FF01 F055]`,
	},
	{
		"no SVIDs",
		[]Reply{identity(0xFF00A042, 0)},
		`SVIDs=[]`,
	},
	{
		"Thunderbolt mode: the first word of mode 1",
		[]Reply{identity(0x8087A043, 0x00030002, 0x020B0001, 0x00030001)},
		`Thunderbolt=20B0001`,
	},
	{
		"DisplayPort 2.1 content needs structured version 2.1",
		[]Reply{identity(0xFF01A843, 0x401C1C1C)},
		`DisplayPort=401C1C1C`,
	},
	{"DisplayPort under structured 2.0", []Reply{identity(0xFF01A043, 0x401C1C1C)}, ``},
	{"DisplayPort of an older form", []Reply{identity(0xFF01A843, 0x001C1C1C)}, ``},
	{
		"a partner's modes are not the cable's",
		[]Reply{
			Decode([]uint32{0x8087A043, 0x00000001}, Context{Plug: PlugPartner}),
			Decode([]uint32{0xFF01A843, 0x401C1C1C}, Context{Plug: PlugPartner}),
			Decode([]uint32{0xFF00A042, 0x8087FF01}, Context{Plug: PlugPartner}),
		}, ``,
	},
	{"a DisplayPort answer without a mode", []Reply{identity(0xFF01A843)}, ``},
	{"modes of a vendor are not those of DisplayPort", []Reply{identity(0xF055A843, 0x401C1C1C)}, ``},
	{"nothing", nil, ``},
	{"an empty message", []Reply{{}}, ``},
	{"unstructured", []Reply{identity(0xF0550001, 1, 2)}, ``},
}

// Termination: a passive cable says 00b or 01b, an active one 10b or 11b; other
// codes declare nothing (fact sheet §4 and §5, Passive and Active Cable VDO).
func TestVCONNRequired(t *testing.T) {
	open := Maybe[bool]{}
	for _, c := range []struct {
		name   string
		reply  func(code uint32) Reply
		byCode [4]Maybe[bool]
	}{
		{"passive", func(code uint32) Reply { return identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082040|code<<11) },
			[4]Maybe[bool]{Some(false), Some(true), open, open}},
		{"passive, PD 2.0", func(code uint32) Reply { return identity(0xFF008041, 0x1800F055, 0, 0, 0x00082050|code<<11) },
			[4]Maybe[bool]{Some(false), Some(true), open, open}},
		{"active", func(code uint32) Reply {
			return identity(0xFF00A041, 0x2060F055, 0, 0, 0x00682032|code<<11, 0x46500009)
		},
			[4]Maybe[bool]{open, open, Some(true), Some(true)}},
		{"active, PD 2.0", func(code uint32) Reply { return identity(0xFF008041, 0x2000F055, 0, 0, 0x00082050|code<<11) },
			[4]Maybe[bool]{open, open, Some(true), Some(true)}},
	} {
		for code, want := range c.byCode {
			if got := Summarize(c.reply(uint32(code))).VCONNRequired; got != want {
				t.Errorf("%s, code %d: %v, want %v", c.name, code, got, want)
			}
		}
	}
}

func TestSummarize(t *testing.T) {
	for _, c := range summaries {
		t.Run(c.name, func(t *testing.T) {
			var want []string
			for item := range strings.SplitSeq(c.want, ";") {
				if item = strings.TrimSpace(item); item != "" {
					want = append(want, item)
				}
			}
			if got := declared(Summarize(c.replies...)); !slices.Equal(got, want) {
				t.Errorf("\n got %s\nwant %s", strings.Join(got, "; "), strings.Join(want, "; "))
			}
		})
	}
}

func TestMaybe(t *testing.T) {
	var none Maybe[int]
	five := Some(5)
	if _, ok := none.Get(); ok || none.Known() || none.Or(3) != 3 || none.Is(func(int) bool { return true }) {
		t.Error("the zero Maybe declares something")
	}
	if v, ok := five.Get(); v != 5 || !ok || !five.Known() || five.Or(3) != 5 ||
		!five.Is(func(n int) bool { return n == 5 }) || five.Is(func(n int) bool { return n == 4 }) {
		t.Error("Some(5) is not 5")
	}
	if v, ok := Some(0).Get(); v != 0 || !ok {
		t.Error("a declared zero is not declared")
	}
}

var (
	passiveGen3 = identity(0xFF00A041, 0x1C60F055, 0, 0, 0x120A2643) // modal
	passiveGen2 = identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082042)
	passiveGen1 = identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082041)
	passiveGen4 = identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082044)
	passiveUSB2 = identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082040)
	passiveOdd  = identity(0xFF00A041, 0x1860F055, 0, 0, 0x00082047)
	activeModal = identity(0xFF00A041, 0x2460F055, 0, 0, 0x006A3E5B, 0x46503209)
	activeMute  = identity(0xFF00A041, 0x2060F055, 0, 0, 0x006A3E5B, 0x46503209)
	passivePD2  = identity(0xFF008041, 0x1C00F055, 0, 0, 0x00084052)

	svidsNone  = identity(0xFF00A042, 0)
	svidsTBT   = identity(0xFF00A042, 0x80870000)
	svidsDP    = identity(0xFF00A042, 0xFF010000)
	svidsBoth  = identity(0xFF00A042, 0x8087FF01, 0)
	svidsOther = identity(0xFF00A042, 0xF0550000)

	tbtPassive = identity(0x8087A043, 0x000B0001)
	tbtLRD     = identity(0x8087A043, 0x020B0001)
	tbtRetimed = identity(0x8087A043, 0x024B0001)
	dpPassive  = identity(0xFF01A843, 0x401C1C1C)
	dp10       = identity(0xFF01A843, 0x401C1C0C)
	dp135      = identity(0xFF01A843, 0x641C1C0C)
	dpOld      = identity(0xFF01A043, 0x001C1C05)
)

func TestHasSVID(t *testing.T) {
	for _, c := range []struct {
		replies []Reply
		svid    uint16
		want    Maybe[bool]
	}{
		{[]Reply{passiveGen3}, SVIDThunderbolt, Maybe[bool]{}},
		{[]Reply{svidsTBT}, SVIDThunderbolt, Some(true)},
		{[]Reply{svidsTBT}, SVIDDisplayPort, Some(false)},
		{[]Reply{svidsBoth}, SVIDDisplayPort, Some(true)},
		{[]Reply{svidsNone}, SVIDThunderbolt, Some(false)},
		{[]Reply{tbtLRD}, SVIDThunderbolt, Some(true)},
		{[]Reply{tbtLRD}, SVIDDisplayPort, Maybe[bool]{}},
		{[]Reply{dpPassive}, SVIDDisplayPort, Some(true)},
		{[]Reply{dpOld}, SVIDDisplayPort, Some(true)},
		{[]Reply{svidsOther, tbtLRD}, SVIDThunderbolt, Some(true)},
	} {
		if got := Summarize(c.replies...).HasSVID(c.svid); got != c.want {
			t.Errorf("%v, %04X: %v, want %v", c.replies, c.svid, got, c.want)
		}
	}
}

// Type-C R2.0 T F-11 and its ECN: a cable with linear re-drivers calls itself
// passive in the ID header, active in its mode word, without a re-timer.
func TestLinearRedriver(t *testing.T) {
	for _, c := range []struct {
		name    string
		replies []Reply
		want    Maybe[bool]
	}{
		{"passive, no mode word", []Reply{passiveGen3}, Maybe[bool]{}},
		{"mode word, no identity", []Reply{tbtLRD}, Maybe[bool]{}},
		{"passive, bit 25", []Reply{passiveGen3, tbtLRD}, Some(true)},
		{"passive, passive mode", []Reply{passiveGen3, tbtPassive}, Some(false)},
		{"passive, re-timer", []Reply{passiveGen3, tbtRetimed}, Some(false)},
		{"active", []Reply{activeModal, tbtLRD}, Some(false)},
		{"PD 2.0, bit 25 set", []Reply{passivePD2, tbtLRD}, Some(true)},
		{"PD 2.0, which does not define bit 25", []Reply{passivePD2, tbtPassive}, Maybe[bool]{}},
	} {
		if got := Summarize(c.replies...).LinearRedriver(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The better of the two words counts: older Thunderbolt 3 cables say 10 Gbps a
// lane in the cable word and 20 in the mode word (Type-C R2.1, Figure 5-1).
func TestLaneGbps(t *testing.T) {
	for _, c := range []struct {
		name    string
		replies []Reply
		want    Maybe[float64]
	}{
		{"nothing", nil, Maybe[float64]{}},
		{"reserved speed", []Reply{passiveOdd}, Maybe[float64]{}},
		{"Gen 1", []Reply{passiveGen1}, Some(5.0)},
		{"Gen 2", []Reply{passiveGen2}, Some(10.0)},
		{"Gen 2 and Thunderbolt 20 Gbps", []Reply{passiveGen2, tbtPassive}, Some(20.0)},
		{"Gen 4 and Thunderbolt 20 Gbps", []Reply{passiveGen4, tbtPassive}, Some(40.0)},
		{"Thunderbolt of a reserved speed", []Reply{identity(0x8087A043, 0x00000001)}, Maybe[float64]{}},
		{"Thunderbolt alone", []Reply{tbtPassive}, Some(20.0)},
		{"USB 2.0", []Reply{passiveUSB2}, Some(0.48)},
	} {
		if got := Summarize(c.replies...).LaneGbps(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// What a host concludes: DP Alt Mode 2.1, Figure 5-3.
func TestDisplayPortRate(t *testing.T) {
	none := Some(DisplayPortRate{})
	concluded := func(gbps float64) Maybe[DisplayPortRate] { return Some(DisplayPortRate{LaneGbps: gbps}) }
	said := func(gbps float64) Maybe[DisplayPortRate] { return Some(DisplayPortRate{gbps, true}) }
	open := Maybe[DisplayPortRate]{}
	for _, c := range []struct {
		name    string
		replies []Reply
		want    Maybe[DisplayPortRate]
	}{
		{"nothing known", nil, open},
		{"passive USB 2.0", []Reply{passiveUSB2}, none},
		{"passive Gen 1", []Reply{passiveGen1}, concluded(10)},
		{"passive Gen 2", []Reply{passiveGen2}, concluded(10)},
		{"passive Gen 3", []Reply{passiveGen3, svidsTBT, tbtPassive}, concluded(20)},
		{"passive Gen 4", []Reply{passiveGen4}, concluded(20)},
		{"passive, reserved speed", []Reply{passiveOdd}, open},
		{"active, not modal", []Reply{activeMute}, none},
		{"active, modal, nothing asked", []Reply{activeModal}, open},
		{"active, modal, Thunderbolt alone", []Reply{activeModal, svidsTBT}, open},
		{"active, modal, neither SVID", []Reply{activeModal, svidsOther}, none},
		{"active, modal, no SVID at all", []Reply{activeModal, svidsNone}, none},
		{"Thunderbolt with re-timer, no DisplayPort SVID", []Reply{activeModal, svidsTBT, tbtRetimed}, none},
		{"Thunderbolt linear re-driver, no DisplayPort SVID", []Reply{passiveGen3, svidsTBT, tbtLRD}, none},
		{"Thunderbolt listed, its word not on record", []Reply{passiveGen3, svidsTBT}, open},
		{"Thunderbolt listed over USB 2.0, its word not on record", []Reply{passiveUSB2, svidsTBT}, none},
		{"USB 2.0 with a passive Thunderbolt word", []Reply{passiveUSB2, svidsTBT, tbtPassive}, none},
		{"PD 2.0, bit 25 clear, which says nothing there", []Reply{passivePD2, svidsTBT, tbtPassive}, open},
		{"PD 2.0, bit 25 set", []Reply{passivePD2, svidsTBT, tbtLRD}, none},
		{"Gen 2 by its cable word, 20 Gbps by its Thunderbolt word", []Reply{passiveGen2, svidsTBT, tbtPassive}, concluded(20)},
		{"Thunderbolt linear re-driver, SVIDs not asked", []Reply{passiveGen3, tbtLRD}, open},
		{"Thunderbolt linear re-driver with a DisplayPort SVID not asked about", []Reply{passiveGen3, svidsBoth, tbtLRD}, open},
		{"Thunderbolt linear re-driver with DisplayPort", []Reply{passiveGen3, svidsBoth, tbtLRD, dpPassive}, said(20)},
		{"active with DisplayPort, not asked about", []Reply{activeModal, svidsDP}, open},
		{"DisplayPort word of an older form", []Reply{activeModal, svidsDP, dpOld}, open},
		{"DisplayPort word, UHBR20", []Reply{activeModal, dpPassive}, said(20)},
		{"DisplayPort word, UHBR10", []Reply{activeModal, dp10}, said(10)},
		{"DisplayPort word, UHBR13.5", []Reply{activeModal, dp135}, said(13.5)},
		{"DisplayPort word without identity", []Reply{dp10}, said(10)},
	} {
		if got := Summarize(c.replies...).DisplayPortRate(); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
