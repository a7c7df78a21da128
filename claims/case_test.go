package claims

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

func recordOf(t *testing.T, sections string) *record.Record {
	t.Helper()
	for rec, err := range record.Read(strings.NewReader("gainsay: 1\ncable: test\n"+sections), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		return rec
	}
	t.Fatal("no record")
	return nil
}

// TestCaseErrors: what makes no sense together is told with its place and key.
func TestCaseErrors(t *testing.T) {
	for _, tt := range []struct{ sections, want string }{
		{"bench: {readings: [{current: 3 A, vbus: 300 mV}, {current: 3 A, vbus: -100 mV}], null: {current: 3 A, vbus: 200 mV}}\n",
			"test.yaml:3:50: bench.readings[1].vbus: -100 mV at 3 A;" +
				" there should be a drop with the sign of its current"},
		{"bench: {readings: [{current: 3 A, vbus: 100 mV}], null: {current: 3 A, vbus: 200 mV}}\n",
			"test.yaml:3:20: bench.readings[0].vbus: the readings give -33.3 ± 1.1 mΩ, the null of 200 mV taken off;" +
				" there should be a drop above that of the null at the same current\n" +
				"test.yaml:3:8: bench: no usable reading; there should be a current and a drop over vbus, ground or the loop"},
		{"bench: {vbus: 50 mohm, loop: 20 mohm}\n",
			"test.yaml:3:8: bench.ground: the loop's 20 mΩ leave -30 mΩ beside VBUS; there should be a loop above its part"},
		{"bench: [{length: 1 m}, {vbus: 50 mohm, loop: 20 mohm}]\n",
			"test.yaml:3:24: bench[1].ground: the loop's 20 mΩ leave -30 mΩ beside VBUS; there should be a loop above its part"},
	} {
		_, err := newCase(recordOf(t, tt.sections), nil, bench.Assumption{})
		var be *bench.Error
		if err == nil || err.Error() != tt.want || !errors.As(err, &be) {
			t.Errorf("%s got  %v\nwant %s", tt.sections, err, tt.want)
		}
	}
	rec := recordOf(t, "bench: {readings: [{current: 3 A, vbus: 100 mV}], null: {current: 3 A, vbus: 200 mV}}\n")
	s := &rec.Bench[0]
	if _, err := Measure(s, nil, bench.Assumption{}); err != nil {
		t.Errorf("without the null: %v", err)
	}
	_, err := Measure(s, s.Nulls, bench.Assumption{})
	if want := "test.yaml:3:20: readings[0].vbus: the readings give -33.3 ± 1.1 mΩ"; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func TestBenchErrorPlaces(t *testing.T) {
	rec := recordOf(t, "bench: {readings: [{current: 3 A, vbus: 100 mV}]}\n")
	s := &rec.Bench[0]
	nulls := []record.Reading{{At: record.Place{File: "nulls.csv", Line: 7, Column: 1}}, {At: record.Place{File: "nulls.csv", Line: 8, Column: 1}}}
	for _, tt := range []struct {
		err  error
		want string
	}{
		{&bench.Error{List: "nulls", Index: 1, Field: "vbus", Wrong: "odd", Want: "even"}, "nulls.csv:8:1: bench.nulls[1].vbus: odd; there should be even"},
		{&bench.Error{List: "nulls", Index: 2, Wrong: "odd", Want: "even"}, "test.yaml:3:8: bench: odd; there should be even"},
		{&bench.Error{List: "readings", Index: 0, Wrong: "odd", Want: "even"}, "test.yaml:3:20: bench.readings[0]: odd; there should be even"},
		{&bench.Error{Index: -1, Field: "ambient", Wrong: "odd", Want: "even"}, "test.yaml:3:8: bench.ambient: odd; there should be even"},
	} {
		if got := benchErrors(s, nulls, "bench", tt.err).Error(); got != tt.want {
			t.Errorf("got  %s\nwant %s", got, tt.want)
		}
	}
}

// TestMarkerOfFile: a record may name a capture beside it.
func TestMarkerOfFile(t *testing.T) {
	capture := func(name string) *fstest.MapFile {
		text, err := os.ReadFile("../vdo/signal/testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return &fstest.MapFile{Data: text}
	}
	const words = "FF00A041 18602FA1 00000000 00000000 00082042"
	files := fstest.MapFS{
		"words.txt":  {Data: []byte(words)},
		"prose.txt":  {Data: []byte("nothing to be read here\n")},
		"wire.vcd":   capture("conversation.vcd"),
		"WIRE.VCD":   capture("conversation.vcd"),
		"wire.log":   capture("conversation.vcd"),
		"broken.vcd": capture("broken.vcd"),
		"dir.txt/a":  {},
	}
	for _, tt := range []struct {
		name  string
		files fs.FS
		amps  int    // declared
		err   string // its beginning, where there is one
	}{
		{"words.txt", files, 5, ""},
		{"./words.txt", files, 5, ""},
		{"prose.txt", files, 0, "test.yaml:3:17: marker.near: "},
		{"wire.vcd", files, 5, ""},
		{"WIRE.VCD", files, 5, ""},
		{"wire.log", files, 5, ""},
		{"broken.vcd", files, 0, `test.yaml:3:17: marker.near: "broken.vcd": packet at 705µs on bench.CC1: byte 22: 868A4282: the CRC does not fit the message`},
		{"missing.txt", files, 0, `test.yaml:3:17: marker.near: "missing.txt": file does not exist; name a capture beside the record, or paste the words`},
		{"dir.txt", files, 0, `test.yaml:3:17: marker.near: "dir.txt": not a file; name a capture beside the record, or paste the words`},
		{"words.txt", nil, 0, `test.yaml:3:17: marker.near: "words.txt": a file can be named only in a record that is a file itself; name a capture`},
	} {
		c, err := newCase(recordOf(t, "marker: {near: \""+tt.name+"\"}\n"), tt.files, bench.Assumption{})
		switch {
		case tt.err != "":
			if err == nil || !strings.HasPrefix(err.Error(), tt.err) {
				t.Errorf("%s: got  %v\nwant %s", tt.name, err, tt.err)
			}
		case err != nil:
			t.Errorf("%s: %v", tt.name, err)
		default:
			if got := c.Near.Summary.Amps.Or(0); got != tt.amps {
				t.Errorf("%s: %d A", tt.name, got)
			}
		}
	}
	c, err := newCase(recordOf(t, "marker: {near: wire.vcd}\n"), files, bench.Assumption{})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Near.Messages[0].ReadAs; got != "capture of the CC line, 303.0 kbps, message header first" {
		t.Errorf("read as %q", got)
	}
}

// TestLongFile: a file is refused that is longer than text may be.
func TestLongFile(t *testing.T) {
	text := append([]byte("FF00A041 18602FA1 00000000 00000000 00082042"), bytes.Repeat([]byte("\n"), paste.MaxText)...)
	files := fstest.MapFS{"long.txt": {Data: text[:paste.MaxText+1]}}
	_, err := newCase(recordOf(t, "marker: {near: long.txt}\n"), files, bench.Assumption{})
	if err == nil || !strings.Contains(err.Error(), "the text is longer than 64 MiB") {
		t.Error(err)
	}
}

// TestMarkerOfOther: answers of the other plug do not count.
func TestMarkerOfOther(t *testing.T) {
	for _, tt := range []struct{ sections, want string }{
		{"marker: {near: \"SOP'' FF00A041 18602FA1 00000000 00000000 00082042\"}\n",
			"test.yaml:3:23: marker.near: there is no answer of this plug here, only an answer of the far plug;" +
				" paste the answer, or write asked: true where nothing answered"},
	} {
		_, err := newCase(recordOf(t, tt.sections), nil, bench.Assumption{})
		if err == nil || err.Error() != tt.want {
			t.Errorf("%s got  %v\nwant %s", tt.sections, err, tt.want)
		}
	}
	// An ID header that is one from either end (see paste.TestOthers).
	_, err := newCase(recordOf(t, "marker: {near: \"186020180000000001020100000A2643\"}\n"), nil, bench.Assumption{})
	if err == nil || !strings.HasPrefix(err.Error(), "test.yaml:3:17: marker.near: this can be read in two ways: as ") {
		t.Error(err)
	}
	c := caseOf(t, "marker: {near: \"FF00A041 18602FA1 00000000 00000000 00082042\", far: \"FF00A041 20602FA1 00000000 00000000 00683832 46500009\"}\n")
	for plug, a := range map[vdo.Plug]Answer{vdo.PlugNear: c.Near, vdo.PlugFar: c.Far} {
		if len(a.Replies) != 1 || a.Replies[0].Context().Plug != plug {
			t.Errorf("%v: %+v", plug, a.Replies)
		}
	}
}

// TestPlugsAndTape: what is seen counts before what is claimed, the latest first.
func TestPlugsAndTape(t *testing.T) {
	c := caseOf(t, "claims: {plugs: c-to-a}\nbench: [{plugs: c-to-c, length: 1 m}, {plugs: c-to-b}, {length: 2 m}]\n")
	p, ok := c.Plugs()
	l, taped := c.TapeLength()
	if p != record.CToB || !ok || l != 2 || !taped {
		t.Errorf("%v, %t, %v m, %t", p, ok, l, taped)
	}
	if p, ok := caseOf(t, "bench: {length: 1 m}\n").SeenPlugs(); ok {
		t.Errorf("nobody saw %v", p)
	}
	if p, ok := caseOf(t, "claims: {plugs: c-to-a}\n").Plugs(); p != record.CToA || !ok {
		t.Errorf("claimed: %v, %t", p, ok)
	}
	if l, ok := caseOf(t, "claims: {length: 1 m}\n").TapeLength(); ok {
		t.Errorf("nobody taped %v m", l)
	}
}

// TestCarriesByRule: a decision is remembered for as long as the rule stays the same.
func TestCarriesByRule(t *testing.T) {
	// 99.8 mΩ ± 1.2 mΩ against 100 mΩ at 5 A.
	c := caseOf(t, "bench: {vbus: 99.8 mohm, ground: 40 mohm, ohmmeter: 1 mΩ}\n")
	for _, tt := range []struct {
		rule bench.Acceptance
		want bench.Outcome
	}{
		{bench.Acceptance{}, bench.Undecided},
		{bench.Acceptance{}, bench.Undecided},
		{bench.Acceptance{Simple: true}, bench.Within},
		{bench.Acceptance{Simple: true}, bench.Within},
		{bench.Acceptance{}, bench.Undecided},
	} {
		c.Acceptance = tt.rule
		if d, ok := c.Carries(5); !ok || d.Outcome != tt.want {
			t.Errorf("%s: %s, %t", tt.rule, d.Outcome, ok)
		}
	}
	if _, ok := caseOf(t, "").Carries(5); ok {
		t.Error("decided without a resistance")
	}
}
