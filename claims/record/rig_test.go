package record

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/gainsay/claims/quantity"
)

const rigText = `gainsay-rig: 1
name: bench A
voltmeter: {accuracy: 0.05 % + 20 µV, calibrated: 2026-03-01, due: 2027-03-01, certificate: K-17, expanded: 12 µV, k: 2}
ammeter: 0.1 % + 1 mA
ohmmeter: 0.5 %
null: [{current: 1 A, vbus: 1.2 mV, ground: 0.9 mV}, {current: 1 A, vbus: 1.3 mV, ground: 0.9 mV}]
fixture: "sense points at the receptacle's contacts"
`

func TestRig(t *testing.T) {
	rig, err := ReadRig(strings.NewReader(rigText), "bench-a.rig.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if rig.Name.Value != "bench A" || len(rig.Nulls) != 2 || math.Abs(rig.Nulls[1].VBUS.Value-0.0013) > 1e-12 || math.Abs(rig.Calibrated.Voltmeter.Standard()-6e-6) > 1e-18 || rig.Fixture.Value == "" {
		t.Errorf("%+v", rig)
	}
	for _, k := range RigKeys() {
		if name := k.Path[strings.LastIndex(k.Path, ".")+1:]; !strings.Contains(k.Path, "null.") && !strings.Contains(rigText, name+":") {
			t.Errorf("key %s does not stand in the rig", k.Path)
		}
	}
	r := one(t, "gainsay: 1\ncable: a\nrig: bench-a.rig.yaml\nbench:\n  - {vbus: 90 mohm}\n  - {ammeter: 1 %, null: {current: 2 A, vbus: 3 mV}, readings: [{current: 1 A, vbus: 90 mV}]}\n", "a.yaml")
	r.UseRig(rig)
	if r.Used != rig {
		t.Error("the rig is not kept")
	}
	if s := r.Bench[0]; !cmp.Equal(s.Voltmeter.Value, quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}, cmpopts.EquateApprox(1e-12, 0)) || s.Ohmmeter.Value.Reading != 0.005 || len(s.Nulls) != 2 || s.Calibrated.Voltmeter.Certificate.Value != "K-17" {
		t.Errorf("what the session leaves open: %+v", s)
	}
	if s := r.Bench[1]; s.Ammeter.Value.Reading != 0.01 || len(s.Nulls) != 1 || s.Nulls[0].Current.Value != 2 {
		t.Errorf("a session's own keys win: %+v", s)
	}
	if err := Validate(r); err != nil {
		t.Error(err)
	}
}

func TestRigErrors(t *testing.T) {
	for text, want := range map[string]string{
		"":                                    "bench.rig.yaml:1:1: the file is empty; a rig file begins with gainsay-rig: 1",
		"name: a\n":                           "bench.rig.yaml:1:1: gainsay-rig: this key is missing: version of the rig format; write it like gainsay-rig: 1",
		"gainsay-rig: 2\n":                    "bench.rig.yaml:1:14: gainsay-rig: rig format version \"2\" is not known; this gainsay reads version 1",
		"gainsay-rig: 1\nvolts: 1\n":          "bench.rig.yaml:2:1: volts: no such key",
		"gainsay-rig: 1\nvoltmeter: {k: 2}\n": "bench.rig.yaml:2:12: voltmeter: neither accuracy nor expanded is given",
		"gainsay-rig: 1\nvoltmeter: {expanded: 1 mV, k: 0}\n": "bench.rig.yaml:2:32: voltmeter.k: \"0\" is not a coverage factor",
		"gainsay-rig: 1\nvoltmeter: {expanded: 1 mA}\n":       "voltmeter.expanded",
		"gainsay-rig: 1\nnull: {current: 1 A}\n":              "no drop is given",
		"gainsay-rig: 1\nname: a\nname: b\n":                  "this key stands here a second time",
		"gainsay-rig: 1\n---\ngainsay-rig: 1\n":               "a second document begins here",
	} {
		rig, err := ReadRig(strings.NewReader(text), "bench.rig.yaml")
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v\nwant %s", text, rig, err, want)
		}
	}
	for key, want := range map[string]string{
		"rig: ../bench-a.rig.yaml":     `"../bench-a.rig.yaml" is not the bare name of a file`,
		"rig: bench-a.yaml":            `"bench-a.yaml" does not end in .rig.yaml`,
		"rig: .rig.yaml":               "is not the bare name of a file",
		"photos: [a.gif]":              `"a.gif" does not end in .jpg or .jpeg or .png`,
		"bench: {readings: nulls.txt}": `"nulls.txt" does not end in .csv`,
		"bench: {readings: [{current: 1 A, vbus: 1 mV, mating: 0}]}":   `"0" is not the number of a mating`,
		"bench: {readings: [{current: 1 A, vbus: 1 mV, mating: two}]}": `"two" is not the number of a mating`,
		"bench: {wires: {sbu: maybe}}":                                 `"maybe" is no continuity`,
		"bench: {wires: {sbu: 56 kohm}}":                               `"56 kohm" is no continuity`,
		"bench: {wires: {usb2: 25}}":                                   `"25" is no continuity`,
		"bench: {heat: {current: 5 A}}":                                "bench.heat.shell: this key is missing",
		"bench: {reference: {resistor: 1 mohm}}":                       "bench.reference.current: this key is missing",
		"bench: {copper: 41 V}":                                        "bench.copper",
	} {
		_, errs := read(t, "gainsay: 1\ncable: a\n"+key+"\n", "a.yaml")
		if len(errs) == 0 || !strings.Contains(errs[0].Error(), want) {
			t.Errorf("%s: %v, want %s", key, errs, want)
		}
	}
}

// TestBuiltObserved: what was built in Go is held against the same tables.
func TestBuiltObserved(t *testing.T) {
	r := &Record{Cable: Stated[string]{Value: "a", Known: true}}
	r.Rig = Stated[string]{Value: "a/b", Known: true}
	r.Photos = []Stated[string]{{Value: "x.gif", Known: true}}
	r.Bench = []Session{{
		Heat:       Stated[Heat]{Known: true},
		Wires:      Stated[Wires]{Known: true, Value: Wires{CC: Stated[Continuity]{Known: true, Value: Continuity{Count: -1}}}},
		Table:      Stated[string]{Value: "a.txt", Known: true},
		Calibrated: Calibrations{Voltmeter: Calibration{K: Stated[float64]{Known: true}}},
	}}
	var keys []string
	for _, e := range Validate(r).(Errors) {
		keys = append(keys, e.Key)
	}
	want := []string{"photos", "rig", "bench.wires.cc", "bench.heat.current", "bench.heat.shell", "bench.voltmeter.k", "bench.readings"}
	if diff := cmp.Diff(want, keys); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// FuzzReadRig: no panic, and every error has its place.
func FuzzReadRig(f *testing.F) {
	f.Add(rigText)
	f.Add("gainsay-rig: 1\nnull: {current: 0 A, loop: 1 mV, mating: 3}\n")
	f.Add("gainsay-rig: [1]\nvoltmeter: {accuracy: {}}\n---\n")
	f.Fuzz(func(t *testing.T, text string) {
		rig, err := ReadRig(strings.NewReader(text), "a.rig.yaml")
		if (rig == nil) == (err == nil) {
			t.Fatalf("%v, %v", rig, err)
		}
		if rig != nil {
			(&Record{Bench: []Session{{}}}).UseRig(rig)
		}
	})
}
