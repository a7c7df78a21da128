package claims

import (
	"math"
	"strconv"

	"example.com/gainsay/claims/quantity"
)

var lengthRules = []*Rule{claimedLengthDiffers}

// lengthTolerance is the part by which a length may differ from the one claimed
// before the two contradict each other: sellers round, and measure with or
// without the plugs (common practice).
const lengthTolerance = 0.10

func metres(l float64) string { return quantity.Format(l, quantity.Length, 4) }

var claimedLengthDiffers = &Rule{
	ID:       "claimed-length-differs-from-tape",
	Sources:  []Citation{ownReasoning, commonPractice},
	Title:    "the length by tape is not the length claimed",
	Kind:     Contradiction,
	Property: Length,
	Between:  []Witness{Seller, Bench},
	Needs:    []Evidence{SellerLength, BenchLength},
	Settles:  true,
	Says:     "The seller claims {claimed}; the tape shows {tape}, {difference} % off.",
	Why:      "A shorter cable drops less voltage and so passes limits that the length claimed would not; a longer one may miss its data rate.",
	Next:     "Measure once more from plug to plug, and judge the cable by its true length.",
	Check: func(c *Case) Result {
		claimed := c.Claims.Length.Value
		tape, _ := c.TapeLength()
		off := math.Abs(tape-claimed) / claimed
		return foundIf(off > lengthTolerance, Values{"claimed": metres(claimed), "tape": metres(tape),
			"difference": strconv.FormatFloat(100*off, 'f', 0, 64)})
	},
}
