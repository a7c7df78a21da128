package record

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
		fmt.Sprintf("one record (`record.MaxDocument`) | %d MiB", MaxDocument>>20),
		fmt.Sprintf("levels of nesting in a record (`record.MaxDepth`) | %d", MaxDepth),
		fmt.Sprintf("errors listed for a record or a table (`record.MaxErrors`) | %d", MaxErrors),
		fmt.Sprintf("a table of readings (`record.MaxTable`) | %d MiB", MaxTable>>20),
		fmt.Sprintf("a file that `add` writes to (`record.MaxAddition`) | %d MiB", MaxAddition>>20),
	} {
		if !strings.Contains(string(readme), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
