package shelf

import (
	"fmt"
	"testing"

	"example.com/gainsay/claims"
)

// TestRatingAndLoadsAgree: the rating of a report and the choice of cables for a load are
// answers to one question, so a cable is fit for every level of its rating, and not for
// one of the next tier.
func TestRatingAndLoadsAgree(t *testing.T) {
	held := 0
	for _, near := range []string{"00082020", "00082042", "000A2642", "00082002", "000A2042", ""} {
		for _, copper := range []string{"60, 30", "95, 40", "99.9, 45", "121, 58", "170, 60", "90, 49.99"} {
			var v, g float64
			fmt.Sscanf(copper, "%f, %f", &v, &g)
			text := fmt.Sprintf("gainsay: 1\ncable: a\nbench: {ohmmeter: 0.5 %%, vbus: %g mohm, ground: %g mohm}\n", v, g)
			if near != "" {
				text += "marker: {near: \"FF00A041 18602FA1 00000000 01020100 " + near + "\"}\n"
			}
			it := fill(t, text).Items()[0]
			for _, tier := range claims.Tiers() {
				fit := it.Hold(Level{float64(tier.Volts), float64(tier.Amps)}).Fit == claims.ShownFit
				if rated := it.Rating.PowerW >= tier.Watts; fit != rated {
					t.Errorf("marker %s, %s mΩ: rated %d W, fit for %s: %t", near, copper, it.Rating.PowerW, tier, fit)
				}
				held++
			}
		}
	}
	if held == 0 {
		t.Error("nothing was compared")
	}
}

// TestFitIsNeverWithoutItsCaveats: a cable whose marker declares more than its copper
// carries is fit for the lower load, with the contradiction beside it.
func TestFitIsNeverWithoutItsCaveats(t *testing.T) {
	it := fill(t, "gainsay: 1\ncable: a\nclaims: {power: 240 W}\nmarker: {near: \"FF00A041 18602FA1 00000000 01020100 000A2642\"}\n"+
		"bench: {ohmmeter: 0.5 %, vbus: 121 mohm, ground: 58 mohm}\n").Items()[0]
	v := it.Hold(Level{20, 3})
	if v.Fit != claims.ShownFit || len(v.Why) < 2 {
		t.Errorf("%s, %q", v.Fit, v.Why)
	}
}
