package rules

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
)

// Any record that can be read is checked without a rule failing, twice with the same
// result; no claim is both confirmed and contradicted; a rating never exceeds what
// either witness supports.
func FuzzCheck(f *testing.F) {
	f.Add("100 W", "5 A", "20 V", "40 Gbps", "2 m", "20 AWG", "FF00A041 18602FA1 00000000 00010100 000A4644", "1 A", "93.1 mV", "44.9 mV", "0.05 % + 20 µV")
	f.Add("60 W", "3 A", "", "USB4 Gen 3", "6 ft", "", "FF00A042 1C602FA1 00000000 00010100 000A4644 11070000", "-1 A", "-93.1 mV", "", "")
	f.Add("", "", "", "", "", "", "", "1e-6 A", "1e-9 V", "1 V", "100 %")
	f.Add("1e9 W", "1e-9 A", "999999 V", "1 bps", "1 km", "0.05 mm²", "1C602FA1 00000000 00010100 000A4644", "999 A", "999 V", "999 V", "1 ppm")
	f.Fuzz(func(t *testing.T, power, current, voltage, data, length, wire, words, amp, vbus, ground, accuracy string) {
		var b strings.Builder
		put := func(indent, key, value string) {
			if value != "" {
				b.WriteString(indent + key + ": '" + strings.ReplaceAll(strings.Join(strings.Fields(value), " "), "'", "''") + "'\n")
			}
		}
		b.WriteString("gainsay: 1\ncable: a\nclaims:\n")
		put("  ", "power", power)
		put("  ", "current", current)
		put("  ", "voltage", voltage)
		put("  ", "data", data)
		put("  ", "length", length)
		put("  ", "conductors", wire)
		b.WriteString("marker:\n")
		put("  ", "near", words)
		b.WriteString("bench:\n")
		put("  ", "length", length)
		put("  ", "voltmeter", accuracy)
		put("  ", "ammeter", accuracy)
		if amp != "" && vbus+ground != "" {
			b.WriteString("  readings:\n    - current: '" + strings.ReplaceAll(strings.Join(strings.Fields(amp), " "), "'", "''") + "'\n")
			put("      ", "vbus", vbus)
			put("      ", "ground", ground)
		}
		for rec, err := range record.Read(strings.NewReader(b.String()), "a.yaml") {
			if err != nil {
				return
			}
			r, err := usual.Check(rec)
			if err != nil {
				return
			}
			again, err := usual.Check(rec)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(r, again); diff != "" {
				t.Errorf("checked twice:\n%s", diff)
			}
			if len(r.Broken) > 0 {
				t.Errorf("rules at fault: %q", r.Broken)
			}
			for _, c := range r.Claims {
				if (c.Standing == claims.Contradicted) != (len(c.Findings) > 0) {
					t.Errorf("%s is %s with findings %v", c.Property, c.Standing, c.Findings)
				}
			}
			c, err := usual.Case(rec, nil)
			if err != nil {
				t.Fatal(err)
			}
			if d, ok := c.Carries(float64(r.Rating.CurrentA)); r.Rating.CurrentA > 0 && (!ok || d.Outcome != bench.Within) {
				t.Errorf("rated at %d A, which the copper is not shown to carry", r.Rating.CurrentA)
			}
			if s := c.MarkerSupport(); r.Rating.PowerW > s.Tier.Watts {
				t.Errorf("rated at %d W, above the marker's %v", r.Rating.PowerW, s.Tier)
			}
		}
	})
}
