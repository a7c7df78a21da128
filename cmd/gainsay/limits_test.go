package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo/paste"
)

// The README's table of limits says what the constants are. Those of captures are
// held in vdo/signal.
func TestLimitsAreAsTheREADMESays(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(text), "\n## Limits\n")
	if !found {
		t.Fatal("the README has no limits")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	size := func(bytes int) string {
		if bytes%(1<<20) == 0 {
			return fmt.Sprintf("%d MiB", bytes>>20)
		}
		return fmt.Sprintf("%d KiB", bytes>>10)
	}
	if record.MaxErrors != paste.MaxErrors {
		t.Errorf("records list %d errors, texts %d; the table has one row for both", record.MaxErrors, paste.MaxErrors)
	}
	want := map[string]string{
		"one record":          size(record.MaxDocument),
		"nesting of a record": fmt.Sprintf("%d levels", record.MaxDepth),
		"errors listed of one record, table or text":         fmt.Sprint(record.MaxErrors),
		"a table of readings":                                size(record.MaxTable),
		"a file that `add` changes":                          size(record.MaxAddition),
		"a text with `--as`, or that a record names":         size(maxPaste),
		"one message with its surroundings in a pasted text": size(paste.MaxBlock),
		"a line with `--lines`":                              size(maxLine),
		"variables of a value change dump":                   "",
		"a line of a capture as a table":                     "",
	}
	for _, row := range regexp.MustCompile(`(?m)^\| (.+?) \| (.+?) \| .+ \|$`).FindAllStringSubmatch(section, -1) {
		if row[1] == "what" {
			continue
		}
		most, known := want[row[1]]
		delete(want, row[1])
		if !known || most != "" && most != row[2] {
			t.Errorf("the table says %s: %s; the constant is %q", row[1], row[2], most)
		}
	}
	for name := range want {
		t.Errorf("the table says nothing of %s", name)
	}
}
