package publish

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

func report(t testing.TB, text string) *claims.Report {
	t.Helper()
	for rec, err := range record.Read(strings.NewReader(text), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		r, err := rules.Checker().Check(rec)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	t.Fatal("no record")
	return nil
}

// TestOrder holds the order in which a report is read.
func TestOrder(t *testing.T) {
	text := ReportText(report(t, "gainsay: 1\ncable: a\nclaims: {power: 300 W}\nmarker: {asked: true}\nbench: {vbus: 90 mohm, ground: 45 mohm}\n"), Style{Full: true})
	at := -1
	for _, part := range []string{"a: Sold as 300 W. Shown to carry", "power", "Findings", "Rating", "Witnesses", "Bench", "Not checked"} {
		i := strings.Index(text, part)
		if i <= at {
			t.Errorf("%q stands at %d, after %d", part, i, at)
		}
		at = i
	}
}

// TestNoVerdictOnSafety holds that no report calls a cable safe or certified.
func TestNoVerdictOnSafety(t *testing.T) {
	text := ReportText(report(t, "gainsay: 1\ncable: a\nclaims: {power: 60 W}\nmarker: {asked: true}\nbench: {vbus: 90 mohm, ground: 45 mohm}\n"), Style{Full: true}) + RunCautions(Style{})
	flat := strings.Join(strings.Fields(text), " ")
	if !strings.Contains(flat, "does not certify the cable or call it safe") || !strings.Contains(flat, "Not tested:") {
		t.Error("the standing caution is missing")
	}
	for _, bad := range []string{"is safe to", "is certified", "guarantee"} {
		if strings.Contains(flat, bad) {
			t.Errorf("the report says %q", bad)
		}
	}
}

// TestHostileText: text from a record reaches no terminal as it is.
func TestHostileText(t *testing.T) {
	evil := `\e]0;x\a\u202e\e[31m`
	text := ReportText(report(t, fmt.Sprintf("gainsay: 1\ncable: \"%s\"\nlabel: \"%s\"\nclaims: {certificate: \"%s\", power: 300 W}\n"+
		"waive: [{rule: claimed-power-above-standard, reason: \"%s\"}]\n", evil, evil, evil, evil)), Style{Full: true})
	for _, r := range text {
		if r != '\n' && !shown(r) {
			t.Fatalf("%U reaches the terminal:\n%q", r, text)
		}
	}
	if strings.Count(text, `\x1b[31m`) < 4 {
		t.Errorf("the text is lost rather than escaped:\n%s", text)
	}
}

// TestColour: colour adds escapes and changes nothing else.
func TestColour(t *testing.T) {
	r := report(t, "gainsay: 1\ncable: a\nclaims: {power: 300 W, plugs: c-to-c}\nbench: {plugs: c-to-c, vbus: 90 mohm, ground: 45 mohm}\n")
	plain, coloured := ReportText(r, Style{Full: true}), ReportText(r, Style{Full: true, Colour: true})
	if plain == coloured {
		t.Error("no colour")
	}
	for _, code := range []string{bold, faint, red, yellow, green, "0"} {
		coloured = strings.ReplaceAll(coloured, "\x1b["+code+"m", "")
	}
	if diff := cmp.Diff(plain, coloured); diff != "" {
		t.Errorf("colour changes the text (-plain +coloured):\n%s", diff)
	}
}

func TestGaps(t *testing.T) {
	got := gapLines([]claims.NotExamined{
		{Needs: []claims.Evidence{claims.BenchDrop}, Witness: claims.Bench, Rules: []string{"a", "b"}},
		{Needs: []claims.Evidence{claims.MarkerNear}, Witness: claims.Marker, Rules: []string{"a"}},
		{Needs: []claims.Evidence{claims.SellerPower, claims.SellerData}, Witness: claims.Seller, Rules: []string{"c"}},
		{Needs: []claims.Evidence{claims.MarkerCable}, Witness: claims.Marker, Rules: []string{"d"}, Because: "it is open"},
	})
	want := []string{
		"2 rules need the resistance: measure the drop at a known current over VBUS and ground.",
		"1 rule needs the marker's identity: read Discover Identity on SOP′.",
		"No claim recorded for the power claimed, the data rate claimed.",
		"d: it is open.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestAbsentNotZero: what a marker does not declare has no key in JSON.
func TestAbsentNotZero(t *testing.T) {
	tests := map[string]struct {
		words  []uint32
		absent []string
		stated []string
	}{
		// PD 2.0 has no voltage field: bits 10..9 are lane directions here.
		"PD 2.0":           {[]uint32{0xFF008041, 0x18002FA1, 0, 0, 0x00084651}, []string{"max_voltage_v", "epr"}, []string{"current_a", "speed"}},
		"invalid current":  {[]uint32{0xFF00A041, 0x18602FA1, 0, 0, 0x00082002}, []string{"current_a"}, []string{"max_voltage_v"}},
		"no VBUS through":  {[]uint32{0xFF00A041, 0x20602FA1, 0, 0, 0x006A3E4B, 0x46503209}, []string{"current_a"}, []string{"vbus_through"}},
		"latency reserved": {[]uint32{0xFF00A041, 0x18602FA1, 0, 0, 0x00080042}, []string{"latency_ns"}, []string{"current_a"}},
		"cable word lost":  {[]uint32{0xFF00A041, 0x18602FA1, 0, 0}, []string{"current_a", "speed", "epr"}, []string{"product", "vendor_id"}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			b, err := json.Marshal(NewMessage(paste.Message{Words: tt.words}))
			if err != nil {
				t.Fatal(err)
			}
			var m struct{ Cable map[string]any }
			if err := json.Unmarshal(b, &m); err != nil {
				t.Fatal(err)
			}
			for _, key := range tt.absent {
				if v, ok := m.Cable[key]; ok {
					t.Errorf("%s is %v, want it absent", key, v)
				}
			}
			for _, key := range tt.stated {
				if _, ok := m.Cable[key]; !ok {
					t.Errorf("%s is absent in %v", key, m.Cable)
				}
			}
		})
	}
}

// TestOtherReading: words without a header say what PD 2.0 would make of them.
func TestOtherReading(t *testing.T) {
	m := NewMessage(paste.Message{Words: []uint32{0x18002FA1, 0, 0, 0x00084651}, Headerless: true})
	if !strings.Contains(strings.Join(m.Remarks, "\n"), "read as a PD 2.0 answer the same words would declare: highest voltage not stated") {
		t.Errorf("remarks %q", m.Remarks)
	}
	settled := NewMessage(paste.Message{Words: []uint32{0x18002FA1, 0, 0, 0x00084651}, Headerless: true, Revision: vdo.Revision3})
	if strings.Contains(strings.Join(settled.Remarks, "\n"), "would declare") {
		t.Errorf("with the revision given: remarks %q", settled.Remarks)
	}
}

func ExampleMessageText() {
	m := paste.Message{ReadAs: "words, header first", From: paste.Place{Line: 1, Column: 1}, Words: []uint32{0xFF008081}}
	fmt.Print(MessageText(m, Style{}))
	// Output:
	// Discover Identity, NAK
	//   Read as words, header first, line 1, column 1.
	//
	// word 0: 0xFF008081  Structured VDM header
	//   31..16  SVID                            USB PD
	//   15      VDM type                        structured
	//   14..13  Structured version, major       1.0
	//   12..11  Structured version, minor       x.0
	//   10..8   Object position                 0
	//   7..6    Command type                    NAK
	//   5       Reserved                        zero, as it should be
	//   4..0    Command                         Discover Identity
}
