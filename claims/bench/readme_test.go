package bench

import (
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	short := strings.NewReplacer("e-0", "e-", "e+0", "e")
	readme.Limits(t,
		short.Replace(fmt.Sprintf("a reading's current | %v A to %v A", minAmp, maxAmp)),
		fmt.Sprintf("a reading's drop | %v V", maxVolt),
		short.Replace(fmt.Sprintf("a resistance worked out or printed | %v Ω to %v Ω", minOhm, maxOhm)),
	)
}
