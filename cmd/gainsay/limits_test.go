package main

import (
	"fmt"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme.Limits(t,
		fmt.Sprintf("one line with `decode --lines` | %d MiB", maxLine>>20),
	)
}
