package rules

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
)

// nearAndFar finds the names of plugs in texts.
var nearAndFar = regexp.MustCompile(`\b([Nn]ear|[Ff]ar)\b( plug)?`)

// essence is what must not depend on which plug is called near: findings with the names
// of the plugs taken out, claims, verdict and rating.
func essence(r *claims.Report) []string {
	out := []string{fmt.Sprintf("%+v", r.Verdict.Outcome), fmt.Sprintf("%d W, %d V, %d A, by %v, settled %t", r.Rating.PowerW, r.Rating.VoltageV, r.Rating.CurrentA, r.Rating.LimitedBy, r.Rating.Settled)}
	for _, f := range r.Findings {
		out = append(out, string(f.Kind)+" "+f.Rule+": "+nearAndFar.ReplaceAllString(f.Says, "one"))
	}
	for _, row := range r.Testimony {
		out = append(out, fmt.Sprintf("%s: %s", row.Property, row.Marker))
	}
	for _, o := range r.Claims {
		out = append(out, fmt.Sprintf("%s %s by %v", o.Property, o.Standing, o.By))
	}
	return out
}

func swapped(rec *record.Record) *record.Record {
	out := *rec
	out.Marker.Near, out.Marker.Far = rec.Marker.Far, rec.Marker.Near
	return &out
}

// holdSwapped holds that a record and the same with its plugs swapped give one report. It
// reports whether both could be judged.
func holdSwapped(t *testing.T, what string, rec *record.Record) bool {
	t.Helper()
	one, err := usual.Check(rec)
	if err != nil {
		return false
	}
	other, err := usual.Check(swapped(rec))
	if err != nil {
		return false
	}
	if diff := cmp.Diff(essence(one), essence(other)); diff != "" {
		t.Errorf("%s: which plug is called near decides (-near +far):\n%s", what, diff)
	}
	return true
}

// TestPlugsMayBeSwapped: the report is the same whichever plug is called near, for every
// fixture and for simulated cables, honest and with a fault.
func TestPlugsMayBeSwapped(t *testing.T) {
	held := 0
	for _, doc := range fixtureDocuments(t) {
		for rec, err := range record.Read(strings.NewReader(doc), "fixture") {
			if err == nil && holdSwapped(t, doc, rec) {
				held++
			}
		}
	}
	for seed := range uint64(lawTries) {
		if holdSwapped(t, fmt.Sprintf("seed %d", seed), simulated(seed).record()) {
			held++
		}
	}
	if held < lawTries {
		t.Errorf("only %d records were swapped", held)
	}
}

// TestTwoPlugsNeverMore: a second plug that declares something else never raises the
// rating, never confirms what was not, and leaves power unsettled where it differs there.
func TestTwoPlugsNeverMore(t *testing.T) {
	const copper = "bench: {ohmmeter: 0.01 mΩ, vbus: 60 mohm, ground: 30 mohm}\n"
	words := []string{
		"FF00A041 18602FA1 00000000 01020100 00082020", "FF00A041 18602FA1 00000000 01020100 00082042",
		"FF00A041 18602FA1 00000000 01020100 000A2643", "FF00A041 20602FA1 00000000 01020100 00683833 46500009",
		"FF008041 18002FA1 00000000 01020100 00082052", "FF00A041 1C602FA1 00000000 01020100 00082023",
	}
	for _, a := range words {
		for _, b := range words {
			for _, claim := range []string{"data: 40 Gbps", "power: 240 W", "video: 4K60", "data: 5 Gbps"} {
				alone := func(w string) *claims.Report {
					return caseOf(t, "claims: {"+claim+"}\nmarker: {near: \""+w+"\"}\n"+copper).Report()
				}
				for _, key := range []string{"far", "turned"} {
					both := caseOf(t, "claims: {"+claim+"}\nmarker: {near: \""+a+"\", "+key+": \""+b+"\"}\n"+copper).Report()
					one, other := alone(a), alone(b)
					least := min(one.Rating.PowerW, other.Rating.PowerW)
					if both.Rating.PowerW > least {
						t.Errorf("%s and %s: %d W together, %d and %d alone", a, b, both.Rating.PowerW, one.Rating.PowerW, other.Rating.PowerW)
					}
					if both.Rating.Settled && one.Rating.PowerW != other.Rating.PowerW {
						t.Errorf("%s and %s: settled", a, b)
					}
					if s := both.Claims[0].Standing; s == claims.Confirmed && (one.Claims[0].Standing != claims.Confirmed || other.Claims[0].Standing != claims.Confirmed) {
						t.Errorf("%s: %s and %s: confirmed together, %s and %s alone", claim, a, b, one.Claims[0].Standing, other.Claims[0].Standing)
					}
					contradicted := one.Claims[0].Standing == claims.Contradicted || other.Claims[0].Standing == claims.Contradicted
					if contradicted && both.Claims[0].Standing != claims.Contradicted {
						t.Errorf("%s: %s and %s: %s, though one plug alone contradicts it", claim, a, b, both.Claims[0].Standing)
					}
				}
			}
		}
	}
}

// TestEqualAnswersAreOne: an answer noted twice, as near and with the cable turned, equals
// one answer.
func TestEqualAnswersAreOne(t *testing.T) {
	for seed := range uint64(lawTries) {
		rec := simulated(seed).record()
		if !rec.Marker.Near.Known || rec.Marker.Far.Known {
			continue
		}
		twice := *rec
		twice.Marker.Turned = rec.Marker.Near
		if diff := cmp.Diff(essence(report(t, rec)), essence(report(t, &twice))); diff != "" {
			t.Errorf("seed %d: the same answer a second time changes the report (-once +twice):\n%s", seed, diff)
		}
	}
}

// TestAClaimRaisedStaysContradicted: a claim raised step by step is never confirmed again
// once it was contradicted, over markers of every revision.
func TestAClaimRaisedStaysContradicted(t *testing.T) {
	const copper = "bench: {ohmmeter: 0.01 mΩ, vbus: 60 mohm, ground: 30 mohm}\n"
	steps := map[string][]string{
		"data":    {"480 Mbps", "5 Gbps", "10 Gbps", "20 Gbps", "40 Gbps", "80 Gbps", "120 Gbps", "400 Gbps"},
		"power":   {"15 W", "60 W", "63 W", "65 W", "100 W", "105 W", "140 W", "240 W", "300 W"},
		"current": {"3 A", "4 A", "5 A", "6 A"},
		"voltage": {"5 V", "20 V", "21 V", "28 V", "48 V", "60 V"},
		"modes":   {"thunderbolt-3", "thunderbolt-4", "thunderbolt-5"},
		"video":   {"1080p60", "4K60", "4K120", "8K60", "16K60"},
	}
	confirmed := 0
	for seed := range uint64(lawTries / 4) {
		w := simulated(seed)
		if !w.marked {
			continue
		}
		words := w.near.text()
		for key, values := range steps {
			contradicted := ""
			for _, value := range values {
				c := caseOf(t, "claims: {"+key+": "+value+"}\nmarker: {near: \""+words+"\"}\n"+copper)
				switch got := c.Report().Claims[0].Standing; {
				case got == claims.Contradicted:
					contradicted = value
				case got == claims.Confirmed && contradicted != "":
					t.Errorf("seed %d: %s %s is contradicted, and %s confirmed: %s", seed, key, contradicted, value, words)
				case got == claims.Confirmed:
					confirmed++
				}
			}
		}
	}
	if confirmed == 0 {
		t.Error("no claim was confirmed")
	}
}
