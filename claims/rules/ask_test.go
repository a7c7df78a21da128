package rules

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/source"
)

// TestMissingBetween: what is missing is listed, not what stands between.
func TestMissingBetween(t *testing.T) {
	c := caseOf(t, "claims: {power: 60 W}\n")
	for _, tt := range []struct{ needs, want []claims.Evidence }{
		{[]claims.Evidence{claims.SellerPower}, nil},
		{[]claims.Evidence{claims.BenchDrop, claims.SellerPower}, []claims.Evidence{claims.BenchDrop}},
		{[]claims.Evidence{claims.SellerPower, claims.BenchDrop, claims.BenchLength}, []claims.Evidence{claims.BenchDrop, claims.BenchLength}},
		{[]claims.Evidence{claims.SellerData, claims.SellerPower, claims.BenchDrop}, []claims.Evidence{claims.SellerData, claims.BenchDrop}},
	} {
		r := &claims.Rule{Needs: tt.needs, Check: func(*claims.Case) claims.Result { return pass() }}
		before := append([]claims.Evidence{}, tt.needs...)
		if diff := cmp.Diff(tt.want, r.Ask(c).Missing); diff != "" {
			t.Errorf("%v: (-want +got)\n%s", tt.needs, diff)
		}
		if diff := cmp.Diff(before, tt.needs); diff != "" {
			t.Errorf("%v: needs changed\n%s", tt.needs, diff)
		}
	}
}

// TestWindowWithoutMarker: a window is about the marker's answer, and without one
// keeps nothing from being asked.
func TestWindowWithoutMarker(t *testing.T) {
	for _, w := range []claims.Window{{}, {Until: "2.0"}, {From: "2.0"}, {From: "3.0"}} {
		r := &claims.Rule{Window: w, Check: func(*claims.Case) claims.Result { return pass() }}
		if got := r.Ask(caseOf(t, "claims: {power: 60 W}\n")).Status; got != claims.Passed {
			t.Errorf("%+v: %s", w, got)
		}
	}
}

func TestBind(t *testing.T) {
	v := claims.Values{"a": "1", "b": "2"}
	for text, want := range map[string]string{
		"nothing":         "nothing",
		"{a} and {b}":     "1 and 2",
		"{b}{a}":          "21",
		"{c}, then {a}":   "{c}, then 1",
		"{a} and {open":   "1 and {open",
		"{a} and {a":      "1 and {a",
		"a brace { in {b": "a brace { in {b",
	} {
		if got := (&claims.Rule{Says: text}).Sentence(v); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// TestSourceOfOwnRule: a rule that is not of the catalogue cites its sources too.
func TestSourceOfOwnRule(t *testing.T) {
	r := &claims.Rule{Sources: []claims.Citation{source.TypeCDrop, source.ILACG8}}
	if got, want := r.Source(), source.TypeCDrop.String()+"; "+source.ILACG8.String(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestNoIdentityInWords: what was answered instead is named, and a message that is
// not structured names no command.
func TestNoIdentityInWords(t *testing.T) {
	for words, want := range map[string]string{
		"FF00A081":          "NAK to Discover Identity",
		"FF00A0C1":          "BUSY to Discover Identity",
		"FF00A042 80870000": "in words that are not a reply to Discover Identity",
		"118F FF000081":     "in words that are not a reply to Discover Identity",
	} {
		res := noIdentity.Ask(caseOf(t, "marker: {near: \""+words+"\"}\n"))
		if res.Status != claims.Found || res.Values["answer"] != want {
			t.Errorf("%s: %s, %q, want %q", words, res.Status, res.Values["answer"], want)
		}
	}
}

// TestEarlierFormOfActiveWords: in the form of PD R3.0 V1.2 the bit is reserved, and
// that is why nothing is asked of it.
func TestEarlierFormOfActiveWords(t *testing.T) {
	res := asymmetricBelowGen4.Ask(caseOf(t, activeV12(activeTwo|2)))
	if res.Status != claims.NotApplicable || res.Why != "the words have the form of PD R3.0 V1.2, where these bits are reserved" {
		t.Errorf("%s, %q", res.Status, res.Why)
	}
}
