package main

import (
	"fmt"
	"strings"
	"testing"
)

// TestVersion: the program says which it is, and reports say it too.
func TestVersion(t *testing.T) {
	var out, errs strings.Builder
	if code := run([]string{"--version"}, strings.NewReader(""), &out, &errs); code != exitDone {
		t.Fatal(code, errs.String())
	}
	var program, version, word, hash string
	if _, err := fmt.Sscanf(out.String(), "%s %s %s %s", &program, &version, &word, &hash); err != nil || program != "gainsay" || word != "rules" || len(hash) != 16 {
		t.Fatalf("%q, %v", out.String(), err)
	}
	_, line, _ := gainsay(t, "gainsay: 1\ncable: a\n", "check", "--json", "-")
	for _, want := range []string{`"program":"gainsay"`, `"version":"` + strings.TrimSuffix(version, ",") + `"`, `"rules":"` + hash + `"`, `"record":"`} {
		if !strings.Contains(line, want) {
			t.Errorf("%s is not in %s", want, line)
		}
	}
}

// TestPolicies: how the options decide, and what they refuse. 98 mV at 1 A, with 2 % + 1 mV assumed, is open
// against 100 mΩ at 5 A; a narrower assumption, a large risk or the value alone decide it.
func TestPolicies(t *testing.T) {
	reading := []string{"ohms", "--reading", "1 A, vbus 98 mV, ground 40 mV", "--at", "5 A"}
	for _, tt := range []struct {
		args string // joined by |
		code int
		want string // in the output
	}{
		{"", exitDone, "undecided"},
		{"--accept|simple", exitDone, "within"},
		{"--accept|risk=30%", exitDone, "within"},
		{"--assume|voltmeter 0.1 % + 0.1 mV|--assume|ammeter 0.1 % + 1 mA", exitDone, "within"},
		{"--limit|vbus 80 mΩ", exitContradicted, "over"},
		{"--accept|risk=60%", exitUndone, "the risk is from"},
		{"--accept|risk=", exitUndone, "risk=5%"},
		{"--accept|maybe", exitUndone, "write guard, simple"},
		{"--limit|80 mΩ", exitUndone, "name the conductor first"},
		{"--limit|vbus 80 mV", exitUndone, "vbus 80 mV"},
		{"--limit|vbus 0 mΩ", exitUndone, "above 0"},
		{"--limit|vbus 80 mΩ|--limit|VBUS 90 mΩ", exitUndone, "said twice"},
		{"--assume|0.5 %", exitUndone, "name the meter first"},
		{"--assume|ammeter 1 V", exitUndone, "ammeter"},
	} {
		args := reading
		if tt.args != "" {
			args = append(append([]string{}, reading...), strings.Split(tt.args, "|")...)
		}
		var out, errs strings.Builder
		code := run(args, strings.NewReader(""), &out, &errs)
		if code != tt.code || !strings.Contains(out.String()+errs.String(), tt.want) {
			t.Errorf("%s: status %d\n%s%s", tt.args, code, out.String(), errs.String())
		}
	}
}
