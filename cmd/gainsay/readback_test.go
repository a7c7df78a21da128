package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo/paste"
)

// TestReadBack holds that what decode prints, for people and as JSON, reads back
// to the same words.
func TestReadBack(t *testing.T) {
	tests := map[string]string{
		"passive":       "FF00A041 18602FA1 00000000 01020100 000A2643",
		"no header":     "18602FA1 00000000 01020100 000A2643",
		"active":        "FF00A041 24602FA1 00000000 01020100 006A3E5B 46503209",
		"NAK":           "FF00A081",
		"conversation":  "FF00A041 1C602FA1 00000000 01020100 000A2643 FF00A042 80870000 8087A043 000B0001",
		"plug named":    "SOP' FF00A041 18602FA1 00000000 01020100 000A2643\nSOP'' FF00A081",
		"two readings":  "186020180000000001020100000A2643",
		"with an aside": "FF00A001 FF00A041 18602FA1 00000000 01020100 000A2643",
	}
	type message struct {
		Plug       string
		Headerless bool
		Words      []uint32
		Others     [][]uint32
	}
	read := func(t *testing.T, text string) []message {
		res, err := paste.Read(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		var out []message
		for _, m := range res.Messages {
			got := message{m.Plug.String(), m.Headerless, m.Words, nil}
			for _, o := range m.Others {
				got.Others = append(got.Others, o.Words)
			}
			out = append(out, got)
		}
		return out
	}
	for name, text := range tests {
		for form, args := range map[string][]string{"text": {"decode"}, "json": {"decode", "--json"}} {
			t.Run(name+"/"+form, func(t *testing.T) {
				_, out, errs := gainsay(t, text, args...)
				if errs != "" {
					t.Fatal(errs)
				}
				if diff := cmp.Diff(read(t, text), read(t, out)); diff != "" {
					t.Errorf("-want +got:\n%s\n%s", diff, out)
				}
				if strings.TrimSpace(out) == "" {
					t.Error("nothing was printed")
				}
			})
		}
	}
}
