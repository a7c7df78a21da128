package record

import (
	"fmt"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme.Limits(t,
		fmt.Sprintf("one record (`record.MaxDocument`) | %d MiB", MaxDocument>>20),
		fmt.Sprintf("levels of nesting in a record (`record.MaxDepth`) | %d", MaxDepth),
		fmt.Sprintf("errors listed for a record or a table (`record.MaxErrors`) | %d", MaxErrors),
		fmt.Sprintf("a table of readings (`record.MaxTable`) | %d MiB", MaxTable>>20),
		fmt.Sprintf("a file that `add` writes to (`record.MaxAddition`) | %d MiB", MaxAddition>>20),
	)
}
