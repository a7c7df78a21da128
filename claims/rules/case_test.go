package rules

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
)

// TestMarkerState: any answer at all is an answer, on either plug.
func TestMarkerState(t *testing.T) {
	for sections, want := range map[string]claims.MarkerState{
		"":                           claims.MarkerSilent,
		"marker: {asked: true}\n":    claims.MarkerAbsent,
		"marker: {asked: false}\n":   claims.MarkerSilent,
		"marker: {near: FF00A081}\n": claims.MarkerEvasive,
		"marker: {far: FF00A081}\n":  claims.MarkerEvasive,
		"marker: {near: FF00A081, far: FF00A081}\n":            claims.MarkerEvasive,
		passive("speed", 0):                                    claims.MarkerAnswered,
		strings.Replace(passive("speed", 0), "near", "far", 1): claims.MarkerAnswered,
		"marker: {near: \"FF00A042 80870000\"}\n":              claims.MarkerEvasive,
		"marker: {asked: true, near: \"FF00A042 80870000\"}\n": claims.MarkerEvasive,
	} {
		if got := caseOf(t, sections).Marker(); got != want {
			t.Errorf("%s: %d, want %d", sections, got, want)
		}
	}
}

// TestHas: evidence of the marker, and why a question about it does not arise.
func TestHas(t *testing.T) {
	const none = "claims: {plugs: c-to-c}\n"
	tbt := near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0x80870000)
	dp := near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0xFF010000)
	tbtWord := near(ack2, passiveID, 0, 0, passiveWord, modesTBT, 0x00030001)
	dpWord := near(ack2, passiveID, 0, 0, passiveWord, 0xFF01A843, 1<<30|1<<2)
	headerless := "marker: {near: \"18602FA1 00000000 00000000 00082042\"}\n"
	for _, tt := range []struct {
		sections string
		e        claims.Evidence
		want     bool
		why      string
	}{
		{"claims: {plugs: c-to-a}\n", claims.MarkerAsked, false, "a c-to-a cable carries no marker"},
		{"claims: {plugs: c-to-a}\n" + passive("speed", 0), claims.MarkerAsked, true, ""},
		{none, claims.MarkerAsked, false, ""},
		{none + "marker: {asked: true}\n", claims.MarkerAsked, true, ""},
		{none + "marker: {asked: true}\n", claims.MarkerNear, false, "the cable is unmarked"},
		{none, claims.MarkerNear, false, ""},
		{headerless, claims.MarkerHeader, false, ""},
		{passive("speed", 0), claims.MarkerHeader, true, ""},
		{"marker: {near: FF00A081}\n", claims.MarkerHeader, false, ""},
		{passive("speed", 0), claims.MarkerFar, false, "the plug that answered declares no controller at the other end"},
		{active(map[string]uint32{"far-plug": 1}, nil), claims.MarkerFar, false, ""},
		{active(nil, nil), claims.MarkerFar, false, "the plug that answered declares no controller at the other end"},
		{passive("speed", 0), claims.MarkerSVIDs, false, "the marker supports no modes"},
		{tbt, claims.MarkerSVIDs, true, ""}, {tbt, claims.MarkerThunderbolt, false, ""}, {tbt, claims.MarkerDisplayPort, false, "the marker does not list this mode"},
		{dp, claims.MarkerSVIDs, true, ""}, {dp, claims.MarkerDisplayPort, false, ""}, {dp, claims.MarkerThunderbolt, false, "the marker does not list this mode"},
		{near(ack2, modalID, 0, 0, passiveWord, svidsAck2, 0), claims.MarkerThunderbolt, false, "the marker lists no modes"},
		{near(ack2, modalID, 0, 0, passiveWord), claims.MarkerThunderbolt, false, ""},
		// One mode word says nothing of the other mode, whatever the identity denies.
		{tbtWord, claims.MarkerThunderbolt, true, ""}, {tbtWord, claims.MarkerDisplayPort, false, ""}, {tbtWord, claims.MarkerSVIDs, false, ""},
		{dpWord, claims.MarkerDisplayPort, true, ""}, {dpWord, claims.MarkerThunderbolt, false, ""}, {dpWord, claims.MarkerSVIDs, false, ""},
		{passive("speed", 0), claims.MarkerMessageHeader, false, ""},
		{strings.Replace(passive("speed", 0), "}", ", revision: \"3.0\"}", 1), claims.MarkerMessageHeader, true, ""},
		{strings.Replace(headerless, "}", ", revision: \"3.0\"}", 1), claims.MarkerMessageHeader, false, ""},
		{"marker: {near: FF00A081, revision: \"3.0\"}\n", claims.MarkerMessageHeader, false, ""},
	} {
		have, why := caseOf(t, tt.sections).Has(tt.e)
		if diff := cmp.Diff([]any{tt.want, tt.why}, []any{have, why}); diff != "" {
			t.Errorf("%v of\n%s-want +got:\n%s", tt.e, tt.sections, diff)
		}
	}
	for sections, want := range map[string]string{
		passive("speed", 0):                            "2.0",
		near(ack1, passiveID, 0, 0, 0x00082051):        "1.0",
		near(0xFF00A841, passiveID, 0, 0, passiveWord): "2.1",
		near(0xFF00E041, passiveID, 0, 0, passiveWord): "2.0",
		headerless: "2.0",
		strings.Replace(headerless, "}", ", revision: \"2.0\"}", 1): "1.0",
	} {
		if got := caseOf(t, sections).Near.Version(); got != want {
			t.Errorf("%s: version %q, want %q", sections, got, want)
		}
	}
}

func TestHasOther(t *testing.T) {
	if have, why := caseOf(t, "").Has("no such evidence"); have || why != "" {
		t.Errorf("%t, %q", have, why)
	}
}

// TestNoMarkerNeeded: 60 W, 3 A and 20 V hold for every Type-C cable (USB Type-C
// R2.0, Table 3-1), so such claims are confirmed without the marker's word, and
// greater ones are not.
func TestNoMarkerNeeded(t *testing.T) {
	const copper = "bench: {ohmmeter: 0.01 mΩ, vbus: 90 mohm, ground: 45 mohm}\n"
	for claim, want := range map[string]string{
		"power: 60 W": "confirmed by [bench]", "power: 63 W": "confirmed by [bench]", "power: 64 W": "not shown by []",
		"current: 3 A": "confirmed by [bench]", "current: 5 A": "not shown by []",
		"voltage: 20 V": "confirmed by []", "voltage: 48 V": "not shown by []",
	} {
		r := caseOf(t, "claims: {"+claim+"}\n"+copper).Report()
		if got := fmt.Sprintf("%s by %v", r.Claims[0].Standing, r.Claims[0].By); got != want {
			t.Errorf("%s: %s, want %s", claim, got, want)
		}
	}
}
