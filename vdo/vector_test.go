package vdo_test

import (
	"slices"
	"strings"
	"testing"

	. "example.com/gainsay/vdo"
)

// Synthetic answers, composed by hand from the published tables; no product
// answers with them. Every field of every word is stated, reserved runs too.
var vectors = []struct {
	name   string
	words  []uint32
	fields []string // of each word, from bit 31 down
}{
	{
		// Structured 2.0, no vendor ID, USB4 Gen 3, 5 A, 50 V, EPR, below 10 ns.
		name:  "passive EPR cable",
		words: []uint32{0xFF00A041, 0x1860FFFF, 0x00000000, 0x00000100, 0x120A2643},
		fields: []string{
			"svid=USB PD structured=structured version-major=2.x version-minor=x.0 object-position=0 command-type=ACK reserved-5=0 command=Discover Identity",
			"usb-host=no usb-device=no product-type=passive cable modal=no product-type-dfp=none connector=plug reserved-20-16=0 vendor-id=0xFFFF, the vendor has none",
			"certification-id=none presented",
			"product-id=0x0000 release=1.00",
			"hardware-version=1 firmware-version=2 vdo-version=1.0 reserved-20=0 plug-type=Type-C epr=yes latency=up to 10 ns, about 1 m" +
				" termination=VCONN not required after discovery max-voltage=50 V reserved-8-7=0 vbus-current=5 A reserved-4-3=0 speed=USB4 Gen 3",
		},
	},
	{
		name:  "active cable, two words",
		words: []uint32{0xFF00A041, 0x2460FFFF, 0x00000000, 0x00000100, 0x006A3E5B, 0x46503209},
		fields: []string{
			"svid=USB PD structured=structured version-major=2.x version-minor=x.0 object-position=0 command-type=ACK reserved-5=0 command=Discover Identity",
			"usb-host=no usb-device=no product-type=active cable modal=yes product-type-dfp=none connector=plug reserved-20-16=0 vendor-id=0xFFFF, the vendor has none",
			"certification-id=none presented",
			"product-id=0x0000 release=1.00",
			"hardware-version=0 firmware-version=0 vdo-version=1.3 reserved-20=0 plug-type=Type-C epr=yes latency=up to 10 ns, about 1 m" +
				" termination=both ends active, VCONN required max-voltage=50 V sbu=yes sbu-type=passive vbus-current=5 A vbus-through=yes far-plug=yes speed=USB4 Gen 3",
			"max-temperature=70 °C shutdown-temperature=80 °C reserved-15=0 u3-power=0.5 to 1 mW u3-to-u0=direct medium=copper active-element=re-timer" +
				" usb4=yes usb2-hub-hops=0 usb2=yes usb32=yes lanes=two isolated=no asymmetric=no generation=Gen 2 or higher",
		},
	},
	{
		name:  "passive cable, PD 2.0",
		words: []uint32{0xFF008041, 0x1800FFFF, 0x00000000, 0x00000100, 0x00084051},
		fields: []string{
			"svid=USB PD structured=structured version-major=1.0 version-minor=x.0 object-position=0 command-type=ACK reserved-5=0 command=Discover Identity",
			"usb-host=no usb-device=no product-type=passive cable modal=no reserved-25-16=0 vendor-id=0xFFFF, the vendor has none",
			"certification-id=none presented",
			"product-id=0x0000 release=1.00",
			"hardware-version=0 firmware-version=0 reserved-23-20=0 other-end=Type-C receptacle=plug latency=10 to 20 ns, about 2 m" +
				" termination=VCONN not required after discovery sstx1-direction=fixed sstx2-direction=fixed ssrx1-direction=fixed ssrx2-direction=fixed" +
				" vbus-current=5 A vbus-through=yes reserved-3=0 speed=USB 3.1 Gen 1",
		},
	},
	{
		// Charge-through 5 A, 66 mΩ VBUS, 33 mΩ ground.
		name:  "VPD",
		words: []uint32{0xFF00A041, 0x7060FFFF, 0x00000000, 0x00000100, 0x110050C3},
		fields: []string{
			"svid=USB PD structured=structured version-major=2.x version-minor=x.0 object-position=0 command-type=ACK reserved-5=0 command=Discover Identity",
			"usb-host=no usb-device=yes product-type=VCONN-powered USB device modal=no product-type-dfp=none connector=plug reserved-20-16=0 vendor-id=0xFFFF, the vendor has none",
			"certification-id=none presented",
			"product-id=0x0000 release=1.00",
			"hardware-version=1 firmware-version=1 vdo-version=1.0 reserved-20-17=0 max-voltage=20 V charge-through-current=5 A reserved-13=0" +
				" vbus-impedance=66 mΩ ground-impedance=33 mΩ charge-through=yes",
		},
	},
	{
		name:   "Thunderbolt mode, third generation passive",
		words:  []uint32{0x8087A043, 0x000B0001},
		fields: []string{tbtHeader, "reserved-31-26=0 active=no reserved-24=0 link-training=bidirectional, or passive retimer=no medium=copper" + tbtTail},
	},
	{
		name:   "Thunderbolt mode, linear re-driver",
		words:  []uint32{0x8087A043, 0x020B0001},
		fields: []string{tbtHeader, "reserved-31-26=0 active=yes reserved-24=0 link-training=bidirectional, or passive retimer=no medium=copper" + tbtTail},
	},
	{
		name:   "Thunderbolt mode, re-timed",
		words:  []uint32{0x8087A043, 0x024B0001},
		fields: []string{tbtHeader, "reserved-31-26=0 active=yes reserved-24=0 link-training=bidirectional, or passive retimer=yes medium=copper" + tbtTail},
	},
	{
		name:  "DisplayPort mode, passive",
		words: []uint32{0xFF01A843, 0x401C1C1C},
		fields: []string{dpHeader, "version=2.1 active-component=none, passive reserved-27=0 uhbr13.5=no reserved-25-24=0 ufp-pins=C D E dfp-pins=C D E" +
			" reserved-7-6=0 signalling=HBR3, UHBR10, UHBR20 reserved-1-0=0"},
	},
	{
		name:  "DisplayPort mode, re-driver",
		words: []uint32{0xFF01A843, 0x641C1C1C},
		fields: []string{dpHeader, "version=2.1 active-component=re-driver reserved-27=0 uhbr13.5=yes reserved-25-24=0 ufp-pins=C D E dfp-pins=C D E" +
			" reserved-7-6=0 signalling=HBR3, UHBR10, UHBR20 reserved-1-0=0"},
	},
}

const (
	tbtHeader = "svid=Thunderbolt structured=structured version-major=2.x version-minor=x.0 object-position=0 command-type=ACK reserved-5=0 command=Discover Modes"
	tbtTail   = " rounded=third and fourth, rounded and non-rounded speed=10 and 20 Gbps a lane mode=Thunderbolt"
	dpHeader  = "svid=DisplayPort structured=structured version-major=2.x version-minor=x.1 object-position=0 command-type=ACK reserved-5=0 command=Discover Modes"
)

func TestVectors(t *testing.T) {
	for _, c := range vectors {
		r := Decode(c.words, Context{Plug: PlugNear})
		if as := r.Assumptions(); len(as) != 0 {
			t.Errorf("%s: assumed %v", c.name, as)
		}
		var got []string
		for i, w := range r.Words() {
			var fields []string
			for v := range r.Layout(i).Read(w) {
				meaning := v.Meaning
				switch {
				case v.Reserved() && v.Raw == 0:
					meaning = "0"
				case v.Standing != Defined:
					meaning += " [" + v.Standing.String() + "]"
				}
				fields = append(fields, v.Name+"="+meaning)
			}
			got = append(got, strings.Join(fields, " "))
		}
		if !slices.Equal(got, c.fields) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(c.fields, "\n     "))
		}
	}
}
