package typec

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
		fmt.Sprintf("one attribute of a port | %d KiB", most>>10),
	} {
		if !strings.Contains(string(readme), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
