// Package readme holds tests to what README.md says. It stands where ./... does not
// look, since only tests use it.
package readme

import (
	"os"
	"strings"
	"testing"
)

// Limits fails unless a table of the README, as that of the limits, has each row:
// what has a limit, and the most, with " | " between them. Every package stands two
// folders below the README.
func Limits(t *testing.T, rows ...string) {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if !strings.Contains(string(text), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
