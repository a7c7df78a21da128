package vdo_test

import (
	"testing"

	. "example.com/gainsay/vdo"
)

// maxFields is more than the fields of any layout; a power of two.
const maxFields = 16

// The typed accessors once more, called directly, for the loops over all words:
// take puts the raw number of each field named, as its accessor gives it, in v.
// (accessor_test.go compares every method with its field by reflection, which is
// too slow for that, and checks that no method is left out.)
var typed = []struct {
	layouts []string
	fields  []string
	take    func(w uint32, v *[maxFields]uint32)
}{
	{
		[]string{"vdm-header"},
		[]string{"svid", "structured", "version-major", "version-minor", "object-position", "command-type", "reserved-5", "command"},
		func(n uint32, v *[maxFields]uint32) {
			w := VDMHeader(n)
			v[0], v[1], v[2], v[3] = uint32(w.SVID()), bit(w.Structured()), uint32(w.Major()), uint32(w.Minor())
			v[4], v[5], v[6], v[7] = uint32(w.Position()), uint32(w.Type()), bit(w.ReservedBit()), uint32(w.Command())
		},
	},
	{
		[]string{"unstructured-header"},
		[]string{"vendor-id", "structured"},
		func(n uint32, v *[maxFields]uint32) {
			w := VDMHeader(n)
			v[0], v[1] = uint32(w.SVID()), bit(w.Structured())
		},
	},
	{
		[]string{"id-header", "id-header-partner"},
		[]string{"usb-host", "usb-device", "product-type", "modal", "product-type-dfp", "connector", "vendor-id"},
		func(n uint32, v *[maxFields]uint32) {
			w := IDHeader(n)
			v[0], v[1], v[2], v[3] = bit(w.Host()), bit(w.Device()), uint32(w.Product()), bit(w.Modal())
			v[4], v[5], v[6] = uint32(w.DFP()), uint32(w.Connector()), uint32(w.VendorID())
		},
	},
	{
		[]string{"id-header-pd2"},
		[]string{"usb-host", "usb-device", "product-type", "modal", "vendor-id"},
		func(n uint32, v *[maxFields]uint32) {
			w := IDHeader(n)
			v[0], v[1], v[2], v[3] = bit(w.Host()), bit(w.Device()), uint32(w.Product()), bit(w.Modal())
			v[4] = uint32(w.VendorID())
		},
	},
	{
		[]string{"cert-stat"},
		[]string{"certification-id"},
		func(n uint32, v *[maxFields]uint32) { v[0] = CertStat(n).XID() },
	},
	{
		[]string{"product"},
		[]string{"product-id", "release"},
		func(n uint32, v *[maxFields]uint32) {
			w := Product(n)
			v[0], v[1] = uint32(w.ProductID()), uint32(w.Release())
		},
	},
	{
		[]string{"passive-cable-pd2", "active-cable-pd2"},
		[]string{"hardware-version", "firmware-version", "other-end", "latency", "termination",
			"sstx1-direction", "sstx2-direction", "ssrx1-direction", "ssrx2-direction",
			"vbus-current", "vbus-through", "far-plug", "speed"},
		func(n uint32, v *[maxFields]uint32) {
			w := CablePD2(n)
			v[0], v[1], v[2] = uint32(w.Hardware()), uint32(w.Firmware()), uint32(w.End())
			v[3], v[4] = uint32(w.Latency()), uint32(w.Termination())
			v[5], v[6], v[7], v[8] = bit(w.SSTX1()), bit(w.SSTX2()), bit(w.SSRX1()), bit(w.SSRX2())
			v[9], v[10], v[11], v[12] = uint32(w.Current()), bit(w.Through()), bit(w.FarPlug()), uint32(w.Speed())
		},
	},
	{
		[]string{"passive-cable"},
		[]string{"hardware-version", "firmware-version", "vdo-version", "plug-type", "epr", "latency", "termination",
			"max-voltage", "vbus-current", "speed"},
		func(n uint32, v *[maxFields]uint32) {
			w := PassiveCable(n)
			v[0], v[1], v[2], v[3] = uint32(w.Hardware()), uint32(w.Firmware()), uint32(w.Version()), uint32(w.End())
			v[4], v[5], v[6] = bit(w.EPR()), uint32(w.Latency()), uint32(w.Termination())
			v[7], v[8], v[9] = uint32(w.MaxVoltage()), uint32(w.Current()), uint32(w.Speed())
		},
	},
	{
		[]string{"active-cable-early", "active-cable-1-v12", "active-cable-1"},
		[]string{"hardware-version", "firmware-version", "vdo-version", "plug-type", "epr", "latency", "termination",
			"max-voltage", "sbu", "sbu-type", "vbus-current", "vbus-through", "far-plug", "speed"},
		func(n uint32, v *[maxFields]uint32) {
			w := ActiveCable1(n)
			v[0], v[1], v[2], v[3] = uint32(w.Hardware()), uint32(w.Firmware()), uint32(w.Version()), uint32(w.End())
			v[4], v[5], v[6], v[7] = bit(w.EPR()), uint32(w.Latency()), uint32(w.Termination()), uint32(w.MaxVoltage())
			v[8], v[9], v[10] = bit(!w.SBU()), bit(w.SBUActive()), uint32(w.Current())
			v[11], v[12], v[13] = bit(w.Through()), bit(w.FarPlug()), uint32(w.Speed())
		},
	},
	{
		[]string{"active-cable-2-v12", "active-cable-2"},
		[]string{"max-temperature", "shutdown-temperature", "u3-power", "u3-to-u0", "medium", "active-element", "usb4",
			"usb2-hub-hops", "usb2", "usb32", "lanes", "isolated", "asymmetric", "generation"},
		func(n uint32, v *[maxFields]uint32) {
			w := ActiveCable2(n)
			v[0], v[1] = uint32(w.MaxTemperature()), uint32(w.Shutdown())
			v[2], v[3], v[4], v[5] = uint32(w.U3Power()), bit(w.U3ToU0ViaU3S()), bit(w.Optical()), bit(w.Retimer())
			v[6], v[7], v[8], v[9] = bit(!w.USB4()), uint32(w.HubHops()), bit(!w.USB2()), bit(!w.USB32())
			v[10], v[11], v[12], v[13] = uint32(w.Lanes()-1), bit(w.Isolated()), bit(w.Asymmetric()), bit(w.Gen2())
		},
	},
	{
		[]string{"vpd"},
		[]string{"hardware-version", "firmware-version", "vdo-version", "max-voltage", "charge-through-current",
			"vbus-impedance", "ground-impedance", "charge-through"},
		func(n uint32, v *[maxFields]uint32) {
			w := VPD(n)
			v[0], v[1], v[2], v[3] = uint32(w.Hardware()), uint32(w.Firmware()), uint32(w.Version()), uint32(w.MaxVoltage())
			v[4], v[5] = uint32(w.ChargeThroughAmps()-3)/2, uint32(w.VBUSMilliohm())/2
			v[6], v[7] = uint32(w.GroundMilliohm()), bit(w.ChargeThrough())
		},
	},
	{
		[]string{"svid-pair"},
		[]string{"svid-first", "svid-second"},
		func(n uint32, v *[maxFields]uint32) {
			w := SVIDPair(n)
			v[0], v[1] = uint32(w.First()), uint32(w.Second())
		},
	},
	{
		[]string{"thunderbolt-cable"},
		[]string{"active", "link-training", "retimer", "medium", "rounded", "speed", "mode"},
		func(n uint32, v *[maxFields]uint32) {
			w := ThunderboltCable(n)
			v[0], v[1], v[2] = bit(w.Active()), bit(w.UnidirectionalTraining()), bit(w.Retimer())
			v[3], v[4], v[5], v[6] = bit(w.Optical()), uint32(w.Rounded()), uint32(w.Speed()), uint32(w.Mode())
		},
	},
	{
		[]string{"displayport-cable"},
		[]string{"version", "active-component", "uhbr13.5", "ufp-pins", "dfp-pins", "signalling"},
		func(n uint32, v *[maxFields]uint32) {
			w := DisplayPortCable(n)
			v[0], v[1], v[2] = uint32(w.Version()), uint32(w.Component()), bit(w.UHBR13())
			v[3], v[4], v[5] = uint32(w.UFPPins()), uint32(w.DFPPins()), uint32(w.Signalling())
		},
	},
	{
		[]string{"data"}, nil, func(uint32, *[maxFields]uint32) {},
	},
}

// untyped are the fields that only the listing has.
var untyped = map[string]bool{
	"unstructured-header vendor-data": true,
	"passive-cable-pd2 receptacle":    true,
	"active-cable-pd2 receptacle":     true,
	"active-cable-2-v12 signalling":   true, // SpeedV12 reads it
	"data data":                       true,
}

func bit(b bool) uint32 {
	if b {
		return 1
	}
	return 0
}

// typedFields gives the function that calls the accessors of a layout, and where
// it puts which field. Every field that is not reserved must have one.
func typedFields(t *testing.T, l *Layout) (take func(uint32, *[maxFields]uint32), places map[string]int) {
	t.Helper()
	places = map[string]int{}
	for _, a := range typed {
		for _, name := range a.layouts {
			if name != l.Name() {
				continue
			}
			take = a.take
			for i, field := range a.fields {
				places[field] = i
			}
		}
	}
	if take == nil {
		t.Fatalf("%s: no accessors to compare with", l.Name())
	}
	for _, f := range l.Fields() {
		if _, ok := places[f.Name]; !ok && !f.Reserved() && !untyped[l.Name()+" "+f.Name] {
			t.Errorf("%s %s: no accessor to compare with", l.Name(), f.Name)
		}
	}
	return take, places
}
