package bench

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
		fmt.Sprintf("a reading's current | %v A to %v A", minAmp, maxAmp),
		fmt.Sprintf("a reading's drop | %v V", maxVolt),
		fmt.Sprintf("a resistance worked out or printed | %v Ω to %v Ω", minOhm, strings.Replace(fmt.Sprintf("%.0e", maxOhm), "e+0", "e", 1)),
	} {
		if !strings.Contains(string(readme), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
