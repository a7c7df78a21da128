package rules

import (
	"testing"

	"example.com/gainsay/claims"
)

func TestWindow(t *testing.T) {
	for _, tt := range []struct {
		w       claims.Window
		version string
		want    bool
		text    string
	}{
		{claims.Window{}, "1.0", true, ""},
		{sincePD3, "1.0", false, "from 2.0 on"},
		{sincePD3, "2.0", true, "from 2.0 on"},
		{sincePD3, "2.1", true, "from 2.0 on"},
		{claims.Window{Until: "2.0"}, "1.0", true, "before 2.0"},
		{claims.Window{Until: "2.0"}, "2.0", false, "before 2.0"},
		{claims.Window{From: "2.0", Until: "2.1"}, "2.0", true, "from 2.0 up to before 2.1"},
		{claims.Window{From: "2.0", Until: "2.1"}, "2.1", false, "from 2.0 up to before 2.1"},
	} {
		if got := tt.w.Holds(tt.version); got != tt.want || tt.w.String() != tt.text {
			t.Errorf("%+v holds %s: %t, %q", tt.w, tt.version, got, tt.w)
		}
	}
}

// TestWindowOfRule: a rule about what PD 3.0 brought is not asked of a PD 2.0
// answer, with or without its header, whatever its bits.
func TestWindowOfRule(t *testing.T) {
	rule := usual.Rule("port-product-type-on-plug")
	for near, want := range map[string]claims.Status{
		"FF008041 19802FA1 00000000 00000000 00084051":           claims.NotApplicable,
		"FF00A041 19802FA1 00000000 00000000 00082042":           claims.Found,
		"FF00A841 18602FA1 00000000 00000000 00082042":           claims.Passed,
		"19802FA1 00000000 00000000 00084051\", revision: \"2.0": claims.NotApplicable,
		"19802FA1 00000000 00000000 00082042\", revision: \"3.0": claims.Found,
	} {
		if got := rule.Ask(caseOf(t, "marker: {near: \""+near+"\"}\n")).Status; got != want {
			t.Errorf("%s: %s, want %s", near, got, want)
		}
	}
}
