package signal

import (
	"fmt"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme.Limits(t,
		fmt.Sprintf("errors in a capture | %d", maxErrors),
		fmt.Sprintf("one word of a value change dump | %d bytes", maxToken),
		fmt.Sprintf("variables in a value change dump | %d", maxWires),
		fmt.Sprintf("names in a value change dump, with their scopes | %d MiB", maxNames>>20),
		fmt.Sprintf("one row of a captured table | %d KiB", lineBytes>>10),
		fmt.Sprintf("lines in front of a captured table's first row of numbers | %d", maxHeading),
		fmt.Sprintf("wires listened to in a capture that names none | %d", maxTried),
	)
}
