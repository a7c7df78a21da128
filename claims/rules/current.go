package rules

import (
	"fmt"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
)

var currentRules = []*claims.Rule{
	claimedCurrentAboveMarker, claimedCurrentOnUnmarked, claimedCurrentBelowStandard, claimedCurrentNotATier,
	benchOverAtStatedCurrent, benchOverAtDeclaredCurrent, benchOverAt3A,
}

// miniBRating: from memory, 85 %.
const miniBRating = "a cable with a Mini-B plug is rated 500 mA"

var claimedCurrentAboveMarker = &claims.Rule{
	ID:       "claimed-current-above-marker",
	Sources:  []claims.Citation{source.PDCableWord},
	Title:    "more current is claimed than the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCurrent, claims.MarkerCable},
	Settles:  true,
	Under:    before(littlePower, "claimed-current-above-marker"),
	Says:     "The seller claims {claimed}; the marker declares {declared}.",
	Why:      "A source does not drive more current than the marker declares.",
	Next:     "Expect {allowed} at most.",
	Silent:   needsNoMarker(claims3A),
	Check: func(c *claims.Case) claims.Result {
		claimed := c.Claims.Current.Value
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		have := float64(c.NearSupport().Tier.Amps)
		if plug := c.Evasive(); plug != "" && claimed > claims.LeastAmps && claimed <= have {
			return undecided("the "+plug+" plug gave no identity", claims.MarkerNear)
		}
		if claimed <= have && c.Near.DefaultCurrent() {
			return undecided("the marker declares the default current, which shows nothing", claims.MarkerCable)
		}
		return foundIf(claimed > have, func() claims.Values {
			return claims.Values{"claimed": amperes(claimed), "declared": declared(c), "allowed": amperes(have)}
		})
	},
}

var claimedCurrentOnUnmarked = &claims.Rule{
	ID:       "claimed-current-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "more than 3 A is claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCurrent, claims.MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-current-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a cable without a marker counts as 3 A.",
	Why:      "A source that finds no marker offers 3 A at most.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, use the cable for up to 3 A.",
	Silent:   needsNoMarker(claims3A),
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() != claims.MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		a := c.Claims.Current.Value
		return foundIf(a > claims.LeastAmps, func() claims.Values { return claims.Values{"claimed": amperes(a)} })
	},
}

var claimedCurrentBelowStandard = &claims.Rule{
	ID:       "claimed-current-below-3-a",
	Sources:  []claims.Citation{source.TypeCDrop},
	Title:    "less than 3 A is claimed",
	Kind:     claims.Breach,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCurrent},
	Says:     "The seller claims {claimed}; every Type-C cable must carry at least 3 A.",
	Why:      "A source may drive 3 A through any Type-C cable.",
	Next:     "Do not use it with a source that offers 3 A until its resistance has been measured.",
	Check: func(c *claims.Case) claims.Result {
		a := c.Claims.Current.Value
		switch p, ok := c.Plugs(); {
		case ok && p == record.CCaptive:
			return notApplicable("a captive cable carries what its device needs")
		case ok && p == record.CToMiniB:
			return notApplicable(miniBRating)
		}
		return foundIf(a < claims.LeastAmps, func() claims.Values { return claims.Values{"claimed": amperes(a)} })
	},
}

var claimedCurrentNotATier = &claims.Rule{
	ID:       "claimed-current-unpublished",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "the current claimed is not a published class",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCurrent},
	Says:     "The seller claims {claimed}; published classes of Type-C cables carry 3 A or 5 A.",
	Why:      "A marker can declare only 3 A or 5 A, so no source uses another figure.",
	Next:     "Use the next lower class, and ask the seller what is meant.",
	Check: func(c *claims.Case) claims.Result {
		a := c.Claims.Current.Value
		return foundIf(a > claims.LeastAmps && a != float64(tier240.Amps), func() claims.Values { return claims.Values{"claimed": amperes(a)} })
	},
}

var benchOverAtStatedCurrent = &claims.Rule{
	ID:       "bench-over-limit-at-stated-current",
	Sources:  []claims.Citation{source.TypeCDrop, source.ILACG8},
	Title:    "the resistance is over the limit at the current claimed",
	Kind:     claims.Contradiction,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller, claims.Bench},
	Needs:    []claims.Evidence{claims.SellerCurrent, claims.BenchDrop},
	Settles:  true,
	Under:    []string{"bench-over-limit-at-3-a", "bench-over-limit-at-declared-current", "bench-over-limit-at-claimed-current", "claimed-current-over-legacy-cable"},
	Says:     "The seller claims {amps}; at {amps} {numbers}.",
	Why:      "At this current the cable loses more voltage and makes more heat than the standard allows.",
	Next:     "Use the cable only up to the rating shown.",
	Check: func(c *claims.Case) claims.Result {
		return overLimit(c, c.Claims.Current.Value)
	},
}

var benchOverAtDeclaredCurrent = &claims.Rule{
	ID:       "bench-over-limit-at-declared-current",
	Sources:  []claims.Citation{source.TypeCDrop, source.ILACG8},
	Title:    "the resistance is over the limit at the current the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Marker, claims.Bench},
	Needs:    []claims.Evidence{claims.MarkerCable, claims.BenchDrop},
	Under:    []string{"bench-over-limit-at-3-a"},
	Says:     "The marker declares {amps}; at {amps} {numbers}.",
	Why:      "A source follows the marker and may drive this current through copper that is not fit for it. The cable can overheat.",
	Next:     "Do not use the cable with sources that offer {amps}. Label it, because its marker misleads every source.",
	Check: func(c *claims.Case) claims.Result {
		a, ok := c.Near.Summary.Amps.Get()
		if !ok {
			return notApplicable("the marker declares no valid current")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		return overLimit(c, float64(a))
	},
}

var benchOverAt3A = &claims.Rule{
	ID:       "bench-over-limit-at-3-a",
	Sources:  []claims.Citation{source.TypeCDrop, source.ILACG8},
	Title:    "the resistance is over the limit at 3 A, which every Type-C cable must carry",
	Kind:     claims.Breach,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "Every Type-C cable must carry 3 A; at {amps} {numbers}.",
	Why:      "A source may drive 3 A through any Type-C cable.",
	Next:     "Clean the plugs and measure again. If it stays over, take the cable out of use.",
	Check: func(c *claims.Case) claims.Result {
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable("a captive cable carries what its device needs")
		} else if ok && p == record.CToMiniB {
			return notApplicable(miniBRating)
		}
		return overLimit(c, claims.LeastAmps)
	},
}

var voltageRules = []*claims.Rule{claimedVoltageAboveMarker, claimedVoltageOnUnmarked, claimedVoltageAboveStandard}

var claimedVoltageAboveStandard = &claims.Rule{
	ID:       "claimed-voltage-above-standard",
	Sources:  []claims.Citation{source.TypeCEPR},
	Title:    "a higher voltage is claimed than a marker can declare",
	Kind:     claims.Breach,
	Property: claims.Voltage,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerVoltage},
	Says:     "The seller claims {claimed}; the highest voltage a Type-C cable can declare is 50 V, for 48 V sources.",
	Why:      "No standard covers such a cable.",
	Next:     "Ask the seller which standard the figure comes from.",
	Check: func(c *claims.Case) claims.Result {
		v := c.Claims.Voltage.Value
		return foundIf(v > 50, func() claims.Values { return claims.Values{"claimed": volts(v)} })
	},
}

var claimedVoltageAboveMarker = &claims.Rule{
	ID:       "claimed-voltage-above-marker",
	Sources:  []claims.Citation{source.PDCableWord, source.TypeCEPR},
	Title:    "a higher voltage is claimed than the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Voltage,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVoltage, claims.MarkerCable},
	Settles:  true,
	Under:    before(littlePower, "claimed-voltage-above-marker"),
	Says:     "The seller claims {claimed}; the marker declares {declared}, so sources offer {allowed} at most.",
	Why:      "A source offers more than 20 V only where the marker declares 50 V, 5 A and EPR.",
	Next:     "Expect {allowed} at most.",
	Silent:   needsNoMarker(claims20V),
	Check: func(c *claims.Case) claims.Result {
		v := c.Claims.Voltage.Value
		s := c.Near.Summary
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		if v <= claims.PPSVolts || s.EPRWhole() {
			if plug := c.Evasive(); plug != "" && v > claims.PPSVolts {
				return undecided("the "+plug+" plug gave no identity", claims.MarkerNear)
			}
			return pass()
		}
		if s.PD2 && s.Amps.Or(tier240.Amps) == tier240.Amps {
			return undecided("the marker answered in the PD 2.0 layout, which has no voltage field; read the marker again under PD 3.x", claims.MarkerNear)
		}
		return found(claims.Values{"claimed": volts(v), "declared": declared(c), "allowed": fmt.Sprintf("%d V", claims.SPRVolts)})
	},
}

var claimedVoltageOnUnmarked = &claims.Rule{
	ID:       "claimed-voltage-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCEPR, source.TypeCCables},
	Title:    "more than 20 V is claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Voltage,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVoltage, claims.MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-voltage-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a cable without a marker counts as 20 V.",
	Why:      "A source that finds no marker does not offer more than 20 V.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, expect 20 V at most.",
	Silent:   needsNoMarker(claims20V),
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() != claims.MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		v := c.Claims.Voltage.Value
		return foundIf(v > claims.PPSVolts, func() claims.Values { return claims.Values{"claimed": volts(v)} })
	},
}
