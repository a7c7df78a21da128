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
	short := strings.NewReplacer("e-0", "e-", "e+0", "e")
	for _, row := range []string{
		short.Replace(fmt.Sprintf("a reading's current | %v A to %v A", minAmp, maxAmp)),
		fmt.Sprintf("a reading's drop | %v V", maxVolt),
		short.Replace(fmt.Sprintf("a resistance worked out or printed | %v Ω to %v Ω", minOhm, maxOhm)),
	} {
		if !strings.Contains(string(readme), "\n| "+row+" |") {
			t.Errorf("README.md has no row %q", row)
		}
	}
}
