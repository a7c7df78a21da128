package main

import (
	"fmt"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	readme.Limits(t,
		fmt.Sprintf("one line with `decode --lines` | %d MiB", maxLine>>20),
	)
}

// TestKindsStated: the README's table of kinds says what they say of themselves.
func TestKindsStated(t *testing.T) {
	for _, k := range claims.Kinds() {
		readme.Limits(t, string(k)+" | "+k.What())
	}
}
