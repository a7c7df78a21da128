package vdo_test

import (
	"reflect"
	"testing"

	. "example.com/gainsay/vdo"
)

// A reading is what an accessor must give for the raw number of a field.
type reading struct {
	field string
	of    func(raw uint32) uint32
}

// raw: the accessor gives the field's number as it stands, a flag for 1.
func raw(field string) reading { return reading{field, func(n uint32) uint32 { return n }} }

// inverted: the bit says yes with 0.
func inverted(field string) reading { return reading{field, func(n uint32) uint32 { return 1 - n }} }

// scaled: the accessor gives from + step × number.
func scaled(from, step uint32, field string) reading {
	return reading{field, func(n uint32) uint32 { return from + step*n }}
}

// Each accessor and the field it reads. Accessors of one type that read the same
// bits in several layouts are compared in each layout that has the field.
var accessors = []struct {
	word    func(uint32) any
	layouts []string
	read    map[string]reading
	derived []string // methods that give no single field; they have tests of their own
}{
	{
		word: func(w uint32) any { return VDMHeader(w) }, layouts: []string{"vdm-header"},
		read: map[string]reading{
			"SVID": raw("svid"), "Structured": raw("structured"), "Major": raw("version-major"),
			"Minor": raw("version-minor"), "Position": raw("object-position"), "Type": raw("command-type"),
			"ReservedBit": raw("reserved-5"), "Command": raw("command"),
		},
		derived: []string{"Version", "Is", "Layout"},
	},
	{
		word: func(w uint32) any { return IDHeader(w) }, layouts: []string{"id-header", "id-header-partner", "id-header-pd2"},
		read: map[string]reading{
			"Host": raw("usb-host"), "Device": raw("usb-device"), "Product": raw("product-type"), "Modal": raw("modal"),
			"DFP": raw("product-type-dfp"), "Connector": raw("connector"), "VendorID": raw("vendor-id"),
		},
		derived: []string{"OfCable"},
	},
	{
		word: func(w uint32) any { return CertStat(w) }, layouts: []string{"cert-stat"},
		read: map[string]reading{"XID": raw("certification-id")},
	},
	{
		word: func(w uint32) any { return Product(w) }, layouts: []string{"product"},
		read: map[string]reading{"ProductID": raw("product-id"), "Release": raw("release")},
	},
	{
		word: func(w uint32) any { return CablePD2(w) }, layouts: []string{"active-cable-pd2", "passive-cable-pd2"},
		read: map[string]reading{
			"Hardware": raw("hardware-version"), "Firmware": raw("firmware-version"), "End": raw("other-end"),
			"Latency": raw("latency"), "Termination": raw("termination"),
			"SSTX1": raw("sstx1-direction"), "SSTX2": raw("sstx2-direction"),
			"SSRX1": raw("ssrx1-direction"), "SSRX2": raw("ssrx2-direction"),
			"Current": raw("vbus-current"), "Through": raw("vbus-through"), "FarPlug": raw("far-plug"), "Speed": raw("speed"),
		},
	},
	{
		word: func(w uint32) any { return PassiveCable(w) }, layouts: []string{"passive-cable"},
		read: map[string]reading{
			"Hardware": raw("hardware-version"), "Firmware": raw("firmware-version"), "Version": raw("vdo-version"),
			"End": raw("plug-type"), "EPR": raw("epr"), "Latency": raw("latency"), "Termination": raw("termination"),
			"MaxVoltage": raw("max-voltage"), "Current": raw("vbus-current"), "Speed": raw("speed"),
		},
	},
	{
		word:    func(w uint32) any { return ActiveCable1(w) },
		layouts: []string{"active-cable-1", "active-cable-1-v12", "active-cable-early"},
		read: map[string]reading{
			"Hardware": raw("hardware-version"), "Firmware": raw("firmware-version"), "Version": raw("vdo-version"),
			"End": raw("plug-type"), "EPR": raw("epr"), "Latency": raw("latency"), "Termination": raw("termination"),
			"MaxVoltage": raw("max-voltage"), "SBU": inverted("sbu"), "SBUActive": raw("sbu-type"),
			"Current": raw("vbus-current"), "Through": raw("vbus-through"), "FarPlug": raw("far-plug"), "Speed": raw("speed"),
		},
	},
	{
		word: func(w uint32) any { return ActiveCable2(w) }, layouts: []string{"active-cable-2", "active-cable-2-v12"},
		read: map[string]reading{
			"MaxTemperature": raw("max-temperature"), "Shutdown": raw("shutdown-temperature"), "U3Power": raw("u3-power"),
			"U3ToU0ViaU3S": raw("u3-to-u0"), "Optical": raw("medium"), "Retimer": raw("active-element"),
			"USB4": inverted("usb4"), "HubHops": raw("usb2-hub-hops"), "USB2": inverted("usb2"), "USB32": inverted("usb32"),
			"Lanes": scaled(1, 1, "lanes"), "Isolated": raw("isolated"), "Asymmetric": raw("asymmetric"), "Gen2": raw("generation"),
		},
		derived: []string{"SpeedV12"},
	},
	{
		word: func(w uint32) any { return VPD(w) }, layouts: []string{"vpd"},
		read: map[string]reading{
			"Hardware": raw("hardware-version"), "Firmware": raw("firmware-version"), "Version": raw("vdo-version"),
			"MaxVoltage": raw("max-voltage"), "ChargeThrough": raw("charge-through"),
			"ChargeThroughAmps": scaled(3, 2, "charge-through-current"),
			"VBUSMilliohm":      scaled(0, 2, "vbus-impedance"), "GroundMilliohm": scaled(0, 1, "ground-impedance"),
		},
	},
	{
		word: func(w uint32) any { return SVIDPair(w) }, layouts: []string{"svid-pair"},
		read: map[string]reading{"First": raw("svid-first"), "Second": raw("svid-second")},
	},
	{
		word: func(w uint32) any { return ThunderboltCable(w) }, layouts: []string{"thunderbolt-cable"},
		read: map[string]reading{
			"Mode": raw("mode"), "Speed": raw("speed"), "Rounded": raw("rounded"), "Optical": raw("medium"),
			"Retimer": raw("retimer"), "UnidirectionalTraining": raw("link-training"), "Active": raw("active"),
		},
	},
	{
		word: func(w uint32) any { return DisplayPortCable(w) }, layouts: []string{"displayport-cable"},
		read: map[string]reading{
			"Version": raw("version"), "Component": raw("active-component"), "UHBR13": raw("uhbr13.5"),
			"UFPPins": raw("ufp-pins"), "DFPPins": raw("dfp-pins"), "Signalling": raw("signalling"),
		},
		derived: []string{"LaneGbps"},
	},
}

// Every accessor agrees with the listing, and every exported method of a word is
// in the table above.
func TestAccessorsAgreeWithTheListing(t *testing.T) {
	words := someWords(300)
	for _, a := range accessors {
		typ := reflect.TypeOf(a.word(0))
		known := map[string]bool{}
		for name := range a.read {
			known[name] = true
		}
		for _, name := range a.derived {
			known[name] = true
		}
		for i := range typ.NumMethod() {
			if name := typ.Method(i).Name; !known[name] {
				t.Errorf("%v.%s is compared with no field", typ, name)
			}
		}
		compared := map[string]int{}
		for _, name := range a.layouts {
			l := LayoutNamed(name)
			if l == nil {
				t.Fatalf("no layout %s", name)
			}
			for _, w := range words {
				fields := map[string]uint32{}
				for v := range l.Read(w) {
					fields[v.Name] = v.Raw
				}
				for method, r := range a.read {
					n, ok := fields[r.field]
					if !ok {
						continue // reserved in this form
					}
					compared[method]++
					got := number(t, reflect.ValueOf(a.word(w)).MethodByName(method).Call(nil)[0])
					if want := r.of(n); got != want {
						t.Errorf("%v(%08X).%s is %d; field %s of %s says %d", typ, w, method, got, r.field, name, want)
					}
				}
			}
		}
		for method := range a.read {
			if compared[method] < len(words) {
				t.Errorf("%v.%s: compared %d times", typ, method, compared[method])
			}
		}
	}
}

func number(t *testing.T, v reflect.Value) uint32 {
	t.Helper()
	switch {
	case v.Kind() == reflect.Bool && v.Bool():
		return 1
	case v.Kind() == reflect.Bool:
		return 0
	case v.CanInt():
		return uint32(v.Int())
	case v.CanUint():
		return uint32(v.Uint())
	}
	t.Fatalf("an accessor gives a %v", v.Type())
	return 0
}
