package main

import (
	"strings"
	"testing"
)

// What draft prints check reads; what it cannot write so, it refuses and prints nothing.
func TestDraftIsRead(t *testing.T) {
	const near, far = "SOP' FF00A041 18602FA1 00000000 01020100 000A2643\n", "SOP'' FF00A041 18602FA1 00000000 01020100 000A2643\n"
	for name, c := range map[string]struct {
		args []string
		want int
		says string
	}{
		"both plugs in a text, near only": {[]string{"--near", near + far, "A"}, exitUndone, "2:7: this is an answer of the other plug"},
		"both plugs in a text, far only":  {[]string{"--far", near + far, "A"}, exitUndone, "1:6: this is an answer of the other plug"},
		"both plugs in a text":            {[]string{"--near", near + far, "--far", near + far, "A"}, exitDone, ""},
		"an empty id":                     {[]string{" "}, exitUndone, "the id is empty"},
		"an odd id":                       {[]string{"a\n---\n\u2028b: c"}, exitDone, ""},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := gainsay(t, "", append([]string{"draft"}, c.args...)...)
			if code != c.want || !strings.Contains(errs, c.says) || (out == "") != (c.want == exitUndone) {
				t.Fatalf("exit %d, stderr %q, stdout %.100q", code, errs, out)
			}
			if c.want != exitDone {
				return
			}
			if code, _, errs := gainsay(t, out, "check", "-"); code == exitUndone || errs != "" {
				t.Errorf("check: exit %d, %q of\n%s", code, errs, out)
			}
		})
	}
}
