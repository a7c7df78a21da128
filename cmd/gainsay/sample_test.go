package main

import (
	"strings"
	"testing"
)

// TestSample: the plan of the help's example, and what is refused.
func TestSample(t *testing.T) {
	for _, tt := range []struct {
		args string // joined by |
		code int
		want string
	}{
		{"--lot|200|--good|1%|--bad|10%|--risk|5%,10%", exitDone, "Test 35 cables taken at random; accept if no more than 1 of them fail."},
		{"--lot|200|--good|0.01|--bad|0.1|--json", exitDone, `"test":35,"allow":1`},
		{"", exitDone, "a production without an end (binomial)"},
		{"--lot|0", exitUndone, "--lot 0"},
		{"--good|10%|--bad|1%", exitUndone, "the good share must be the smaller"},
		{"--good|1 W", exitUndone, "not a share"},
		{"--risk|5%", exitUndone, "not two risks"},
		{"200", exitUndone, "not an option"},
		{"--good|10%|--bad|10.01%", exitUndone, "plan too large"},
	} {
		args := []string{"sample"}
		if tt.args != "" {
			args = append(args, strings.Split(tt.args, "|")...)
		}
		code, out, errs := gainsay(t, "", args...)
		if code != tt.code || !strings.Contains(out+errs, tt.want) {
			t.Errorf("%s: exit %d\n%s%s", tt.args, code, out, errs)
		}
	}
}

// TestLotOnShelf: a batch with a lot on record is judged in every form.
func TestLotOnShelf(t *testing.T) {
	record := "gainsay: 1\ncable: a\nabout: {batch: B7, lot: 20}\nclaims: {power: 60 W}\nbench: {ohmmeter: 0.01 mΩ, vbus: 300 mohm, ground: 60 mohm}\n"
	records := record + "---\n" + strings.Replace(record, "cable: a", "cable: b", 1)
	for _, form := range []string{"text", "markdown", "html"} {
		_, out, errs := gainsay(t, records, "shelf", "--form", form, "-")
		if !strings.Contains(strings.Join(strings.Fields(out), " "), "B7: reject. Lot of 20;") {
			t.Errorf("%s: %s%s", form, out, errs)
		}
	}
	_, out, _ := gainsay(t, records, "shelf", "--json", "-")
	if !strings.Contains(out, `"outcome":"reject"`) || !strings.Contains(out, `"size":20`) {
		t.Error(out)
	}
}
