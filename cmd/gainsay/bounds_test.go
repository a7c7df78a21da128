package main

import (
	"fmt"
	"strings"
	"testing"
)

// What is printed of a legal record is bounded, and counts what it leaves out.
func TestOutputIsBounded(t *testing.T) {
	var sessions, nulls strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&sessions, "  - {date: %04d-%02d-%02d, vbus: 90 mohm, note: x}\n", 1990+i/336, 1+i/28%12, 1+i%28)
	}
	for range 3000 {
		nulls.WriteString("    - {current: 1 A, vbus: 93 mV, ground: 45 mV}\n")
	}
	var about strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&about, "  k%d: %s\n", i, strings.Repeat("x", 300))
	}
	const identity = "FF00A041 18602FA1 00000000 01020100 000A2643"
	var modes strings.Builder
	for i := range 700 {
		fmt.Fprintf(&modes, "    %04XA043 00000001 00000002 00000003 00000004 00000005 00000006\n", 0x1000+i)
	}
	for name, rec := range map[string]string{
		"a long label":  "label: \"" + strings.Repeat("<&\u200b", 500_000) + "\"\n",
		"a long id":     "about: {note: " + strings.Repeat("x", 1_000_000) + "}\n",
		"many notes":    "about:\n" + about.String(),
		"many answers":  "marker:\n  near: |\n    " + identity + "\n" + modes.String(),
		"many sessions": "bench:\n" + sessions.String(),
		"many readings": "bench:\n  readings:\n" + nulls.String(),
		"a long source": "claims: {power: 100 W, source: \"" + strings.Repeat("<s>", 300_000) + "\"}\n",
		"a long waiver": "waive: [{rule: bench-over-limit-at-3-a, reason: \"" + strings.Repeat("<s>", 300_000) + "\"}]\nbench: {vbus: 300 mohm, ground: 300 mohm}\n",
	} {
		for _, form := range [][]string{{"check", "--form", "html"}, {"check", "--form", "markdown"}, {"check", "--full"}, {"shelf", "--form", "html"}} {
			args := append(form, "-")
			code, out, errs := gainsay(t, "gainsay: 1\ncable: a\n"+rec, args...)
			if code == exitUndone || len(out) > 3_000_000 {
				t.Errorf("%s, %v: exit %d, %d bytes; %.200s", name, form, code, len(out), errs)
			}
		}
	}
}
