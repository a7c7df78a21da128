package shelf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
)

type sample struct {
	id, about, claims, near, date, vbus string
}

func (s sample) String() string {
	marker, date := "{}", ""
	if s.near != "" {
		marker = `{near: "` + s.near + `"}`
	}
	if s.date != "" {
		date = "date: " + s.date + ", "
	}
	return fmt.Sprintf("---\ngainsay: 1\ncable: %s\nabout: {%s}\nclaims: {%s}\nmarker: %s\nbench: {%sohmmeter: 0.5 %% + 0.1 mohm, vbus: %s, ground: 30 mohm}\n",
		s.id, s.about, s.claims, marker, date, s.vbus)
}

// TestAcross has for each finding a shelf that has it and one that just has not.
func TestAcross(t *testing.T) {
	const (
		words   = "FF00A041 18602FA1 00000000 01020100 00082042"
		changed = "FF00A041 18602FA1 00000000 01020100 00082022" // 3 A
		other   = "FF00A041 18602FA1 00000000 01030100 00082042"
		blank   = "FF00A041 18602FA1 00000000 00000000 00082042"
	)
	tests := []struct {
		name    string
		samples []sample
		want    []string // rule: cables
		says    string
	}{
		{"one identity on two products", []sample{
			{"a", "seller: Tarrowby, model: T1", "power: 100 W", words, "", "80 mohm"},
			{"b", "seller: Ostrefel, model: O1", "power: 240 W", words, "", "80 mohm"},
		}, []string{SameIdentity + ": a b"}, "2FA1:0102/0100, XID 0x00000000, stands in cables sold as 2 different things: Ostrefel O1 (240 W); Tarrowby T1 (100 W)"},
		{"one product sold with two claims", []sample{
			{"a", "seller: Tarrowby, model: T1", "power: 100 W", words, "", "80 mohm"},
			{"b", "seller: Tarrowby, model: T1", "power: 60 W", words, "", "80 mohm"},
		}, []string{SameIdentity + ": a b"}, ""},
		{"a blank identity on two products", []sample{
			{"a", "seller: Tarrowby", "power: 100 W", blank, "", "80 mohm"},
			{"b", "seller: Ostrefel", "power: 100 W", blank, "", "80 mohm"},
		}, []string{SameIdentity + ": a b"}, "no product, release or XID"},
		{"two identities, one product, two lengths", []sample{
			{"a", "seller: Tarrowby, model: T1", "power: 100 W, length: 1 m", words, "", "80 mohm"},
			{"b", "seller: Tarrowby, model: T1", "power: 100 W, length: 2 m", words, "", "120 mohm"},
			{"c", "seller: Ostrefel, model: O1", "power: 100 W", other, "", "80 mohm"},
			{"d", "", "power: 15 W", words, "", "80 mohm"}, // sold as nobody knows what
		}, nil, ""},
		{"the words changed", []sample{
			{"a", "seller: Tarrowby", "", words, "2026-10-01", "80 mohm"},
			{"a", "seller: Tarrowby", "", changed, "2025-10-01", "80 mohm"},
		}, []string{ChangedWords + ": a"}, "2025-10-01: 18602FA1 00000000 01020100 00082022; 2026-10-01: 18602FA1"},
		{"the words stayed", []sample{
			{"a", "", "", words, "2026-10-01", "80 mohm"},
			{"a", "", "", strings.TrimPrefix(words, "FF00A041 "), "2025-10-01", "80 mohm"}, // without the VDM header
			{"a", "", "", "", "2024-10-01", "80 mohm"},
		}, nil, ""},
		{"an id given twice", []sample{
			{"a", "", "", "", "", "80 mohm"}, {"a", "", "", "", "2026-10-01", "80 mohm"},
		}, []string{IDGivenTwice + ": a"}, "test.yaml:"},
		{"a resistance rose", []sample{
			{"a", "", "", "", "2025-10-01", "80 mohm"}, {"a", "", "", "", "2026-10-01", "90 mohm"},
		}, []string{ChangedOhms + ": a"}, "VBUS of a rose by 10.0"},
		{"a resistance fell", []sample{
			{"a", "", "", "", "2025-10-01", "90 mohm"}, {"a", "", "", "", "2026-10-01", "80 mohm"},
		}, []string{ChangedOhms + ": a"}, "VBUS of a fell by 10.0"},
		// u = (0.5 % + 0.1 mΩ)/√3 = 0.289 mΩ each; U of the difference 2·0.408 mΩ.
		{"two samples differ", []sample{
			{"a", "model: T1", "", "", "", "80.00 mohm"}, {"b", "model: T1", "", "", "", "80.90 mohm"},
		}, []string{SamplesDiffer + ": a b"}, "which is 0.9 mΩ apart where the measurement explains 0.82 mΩ"},
		{"two samples agree", []sample{
			{"a", "model: T1", "", "", "", "80 mohm"}, {"b", "model: T1", "", "", "", "80.7 mohm"},
		}, nil, ""},
		{"samples of no product", []sample{
			{"a", "", "", "", "", "80 mohm"}, {"b", "", "", "", "", "99 mohm"},
		}, nil, ""},
		// The same 0.9 mΩ are the extremes of ten samples: 45 pairs share the level,
		// and 3.3 u rather than 2 u is explained.
		{"ten samples scatter", []sample{
			{"a", "model: T1", "", "", "", "80.00 mohm"}, {"b", "model: T1", "", "", "", "80.90 mohm"},
			{"c", "model: T1", "", "", "", "80.1 mohm"}, {"d", "model: T1", "", "", "", "80.2 mohm"},
			{"e", "model: T1", "", "", "", "80.3 mohm"}, {"f", "model: T1", "", "", "", "80.4 mohm"},
			{"g", "model: T1", "", "", "", "80.5 mohm"}, {"h", "model: T1", "", "", "", "80.6 mohm"},
			{"i", "model: T1", "", "", "", "80.7 mohm"}, {"j", "model: T1", "", "", "", "80.8 mohm"},
		}, nil, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var text strings.Builder
			for _, s := range tt.samples {
				text.WriteString(s.String())
			}
			var got []string
			says := ""
			for _, a := range fill(t, text.String()).Across() {
				got = append(got, a.Rule+": "+strings.Join(a.Cables, " "))
				says += a.Says + "\n"
				if a.Next == "" || a.Kind == claims.Contradiction || a.Kind == claims.Breach {
					t.Errorf("%+v", a)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
			if !strings.Contains(says, tt.says) {
				t.Errorf("says %q, want %q", says, tt.says)
			}
		})
	}
}

func TestBatches(t *testing.T) {
	var text strings.Builder
	n := 0
	add := func(batch, claim, vbus string, times int) {
		for range times {
			n++
			text.WriteString(sample{fmt.Sprint("c", n), "batch: " + batch, claim, "", "", vbus}.String())
		}
	}
	// At 5 A the limit is 100 mΩ, U at 100 mΩ is 0.69 mΩ.
	add("A", "power: 100 W", "120 mohm", 3)
	add("A", "power: 100 W", "80 mohm", 16)
	add("A", "power: 100 W", "100 mohm", 1)
	add("B", "power: 60 W", "120 mohm", 20) // within at 3 A
	text.WriteString("---\ngainsay: 1\ncable: x\nabout: {batch: C}\n")
	text.WriteString("---\ngainsay: 1\ncable: y\n") // of no batch
	got := fill(t, text.String()).Batches()
	if len(got) != 3 {
		t.Fatalf("%+v", got)
	}
	// 3 of 20 bounds the share from below, 4 of 20 from above; 0 of 20 from above
	// is Newcombe's 0.1684.
	low, _ := ClopperPearson(3, 20, 0.95)
	_, high := ClopperPearson(4, 20, 0.95)
	if a := got[0]; a != (Batch{Name: "A", Sampled: 20, Over: 3, Within: 16, Undecided: 1, Low: low, High: high}) {
		t.Errorf("A: %+v", a)
	}
	if b := got[1]; b.Within != 20 || b.Over != 0 || b.Low != 0 || math.Abs(b.High-0.1684) > 0.00005 {
		t.Errorf("B: %+v", b)
	}
	if c := got[2]; c.Sampled != 1 || c.Measured() != 0 || !math.IsNaN(c.Low) || !math.IsNaN(c.High) {
		t.Errorf("C: %+v", c)
	}
}
