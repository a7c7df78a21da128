package paste

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		fmt.Sprintf("a text that is read as one: `--as`, `draft`, a file that a record names (`paste.MaxText`) | %d MiB", MaxText>>20),
		fmt.Sprintf("one line or message of a longer text (`paste.MaxBlock`) | %d MiB", MaxBlock>>20),
		fmt.Sprintf("errors listed for a text or a block of it (`paste.MaxErrors`) | %d", MaxErrors),
		fmt.Sprintf("levels of nesting in pasted JSON | %d", maxDepth),
	} {
		if !strings.Contains(string(readme), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
