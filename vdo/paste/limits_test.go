package paste

import (
	"fmt"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme.Limits(t,
		fmt.Sprintf("a text that is read as one: `--as`, `draft`, a file that a record names (`paste.MaxText`) | %d MiB", MaxText>>20),
		fmt.Sprintf("one line or message of a longer text (`paste.MaxBlock`) | %d MiB", MaxBlock>>20),
		fmt.Sprintf("errors listed for a text or a block of it (`paste.MaxErrors`) | %d", MaxErrors),
		fmt.Sprintf("levels of nesting in pasted JSON | %d", maxDepth),
	)
}
