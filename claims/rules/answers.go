package rules

import (
	"example.com/gainsay/claims"
	"example.com/gainsay/vdo"
)

// What a rule can answer.

func pass() claims.Result { return claims.Result{Status: claims.Passed} }

func found(v claims.Values) claims.Result { return claims.Result{Status: claims.Found, Values: v} }

func notApplicable(why string) claims.Result {
	return claims.Result{Status: claims.NotApplicable, Why: why}
}

func undecided(why string, missing ...claims.Evidence) claims.Result {
	return claims.Result{Status: claims.Undecided, Why: why, Missing: missing}
}

// foundIf is for rules that pass when a condition does not hold. The values are
// asked for only where it does: most rules find nothing in most cables.
func foundIf(cond bool, v func() claims.Values) claims.Result {
	if cond {
		return found(v())
	}
	return pass()
}

// sincePD3 is the window of what PD 3.0 brought.
var sincePD3 = claims.Window{From: "2.0"}

// The tiers by their power.
var (
	tier60, tier100, tier240 = tierOf(60), tierOf(100), tierOf(240)
	// tierLegacy is a cable with an older connector at one end.
	tierLegacy = claims.LegacyTier()
)

func tierOf(watts float64) claims.Tier {
	t, _ := claims.TierFor(watts)
	return t
}

func isFalse(b bool) bool { return !b }

func isPassive(p vdo.ProductType) bool { return p == vdo.PassiveType }
