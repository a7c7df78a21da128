package signal

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The README's table of limits says what the constants are.
func TestLimitsAreAsTheREADMESays(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		fmt.Sprintf("| variables of a value change dump | %d |", maxWires),
		fmt.Sprintf("| a line of a capture as a table | %d KiB |", lineBytes>>10),
	} {
		if !strings.Contains(string(text), "\n"+row) {
			t.Errorf("the README does not have the row %s", row)
		}
	}
}
