package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// runs are command lines that read stdin or plain arguments, and touch no file.
var runs = [][]string{
	{"check", "-"}, {"check", "--json", "-"}, {"check", "--form", "csv", "-"}, {"check", "--form", "markdown", "-"},
	{"check", "--form", "html", "-"}, {"shelf", "-"}, {"shelf", "--json", "-"}, {"shelf", "--form", "html", "-"},
	{"decode", "-"}, {"decode", "--json", "-"}, {"decode", "--lines", "--json", "-"},
	{"decode"}, {"ohms"}, {"ohms", "--json"}, {"layout"}, {"compose"}, {"compose", "--json"}, {"rules"}, {"shelf", "-", "--where"},
	{"shelf", "-", "--carry"}, {"shelf", "-", "--sort"}, {"shelf", "-", "--bands"}, {"draft"}, {"completion"}, {},
}

// Whatever is typed and piped in, a run ends with a status of its own, says why where
// something could not be done, shows nothing that a terminal obeys, and every line
// of JSON is whole.
func FuzzRun(f *testing.F) {
	record, err := os.ReadFile(filepath.Join("..", "..", "examples", "records", "marker-240w-copper-3a.yaml"))
	if err != nil {
		f.Fatal(err)
	}
	for i := range runs {
		f.Add(uint8(i), "", string(record))
		f.Add(uint8(i), "shown>=60 W", `{"gainsay":1,"cable":"a","claims":{"power":"100 W"}}`)
		f.Add(uint8(i), "FF00A041\x0018602FA1", "FF00A041 18602FA1 00000000 00010100 000A4644\n")
		f.Add(uint8(i), "1 A, vbus 93.1 mV\x00--length\x001 m", "\x1b]0;x\a\xff")
		f.Add(uint8(i), "passive-cable\x00vbus-current=2", "=1+1,<b>")
	}
	f.Fuzz(func(t *testing.T, which uint8, typed, piped string) {
		args := append([]string(nil), runs[int(which)%len(runs)]...)
		for _, arg := range strings.Split(typed, "\x00") {
			if strings.ContainsAny(arg, `/\.`) || strings.HasPrefix(arg, "-o") || strings.HasPrefix(arg, "--o") {
				return // would read or write files
			}
			if arg != "" {
				args = append(args, arg)
			}
		}
		if len(args) > 0 && (args[0] == "ports" || args[0] == "add") {
			return // these are about files
		}
		var out, errs bytes.Buffer
		code := run(args, strings.NewReader(piped), &out, &errs)
		if code != exitDone && code != exitContradicted && code != exitUndone {
			t.Fatalf("%q: exit %d", args, code)
		}
		if code == exitUndone && errs.Len() == 0 {
			t.Errorf("%q: exit 2 without a word why", args)
		}
		harmless(t, strings.Join(args, " ")+": stderr", errs.String())
		switch {
		case args == nil || args[0] == "completion":
			return // a script for a shell
		case strings.Contains(strings.Join(args, " "), "--json") && !strings.Contains(out.String(), "Usage:"):
			for line := range bytes.Lines(out.Bytes()) {
				if !json.Valid(line) {
					t.Errorf("%q: no JSON: %q", args, line)
				}
			}
		}
		harmless(t, strings.Join(args, " ")+": stdout", out.String())
	})
}
