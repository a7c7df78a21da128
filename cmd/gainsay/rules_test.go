package main

import (
	"testing"

	"example.com/gainsay/claims"
)

// TestUnknownRule holds that a retired rule is told from one that never was. The
// catalogue has none yet, so the list is made here.
func TestUnknownRule(t *testing.T) {
	retired := []claims.RetiredRule{
		{ID: "old-rule", Reason: "the clause was withdrawn"},
		{ID: "older-rule", Reason: "it said the same as another", Instead: "claimed-power-above-marker"},
	}
	for id, want := range map[string]string{
		"old-rule":                  `the rule "old-rule" is retired: the clause was withdrawn`,
		"older-rule":                `the rule "older-rule" is retired: it said the same as another; claimed-power-above-marker takes its place`,
		"claimed-power-above-maker": `no rule is called "claimed-power-above-maker"; perhaps claimed-power-above-marker`,
	} {
		if got := unknownRule(retired, id); got != want {
			t.Errorf("%s: got %q, want %q", id, got, want)
		}
	}
	for _, r := range claims.Retired() { // what the command says of each
		code, out, errs := gainsay(t, "", "rules", r.ID)
		if want := "gainsay: rules: " + r.String() + "\n"; code != exitUndone || out != "" || errs != want {
			t.Errorf("%s: exit %d, %q, %q", r.ID, code, out, errs)
		}
	}
}
