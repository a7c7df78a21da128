package claims

import (
	"fmt"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

var currentRules = []*Rule{
	claimedCurrentAboveMarker, claimedCurrentOnUnmarked, claimedCurrentBelowStandard, claimedCurrentNotATier,
	benchOverAtStatedCurrent, benchOverAtDeclaredCurrent, benchOverAt3A,
}

// miniBRating: from memory, 85 %.
const miniBRating = "a cable with a Mini-B plug is rated 500 mA"

func ampsText(a float64) string { return quantity.Format(a, quantity.Current, 4) }

var claimedCurrentAboveMarker = &Rule{
	ID:       "claimed-current-above-marker",
	Sources:  []Citation{pdCableWord},
	Title:    "more current is claimed than the marker declares",
	Kind:     Contradiction,
	Property: Current,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCurrent, MarkerCable},
	Settles:  true,
	Under:    before(littlePower, "claimed-current-above-marker"),
	Says:     "The seller claims {claimed}; the marker declares {declared}.",
	Why:      "A source does not drive more current than the marker declares.",
	Next:     "Expect {allowed} at most.",
	Silent:   needsNoMarker(claims3A),
	Check: func(c *Case) Result {
		claimed := c.Claims.Current.Value
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		have := float64(endSupport(c).Tier.Amps)
		if plug := c.evasive(); plug != "" && claimed > LeastAmps && claimed <= have {
			return undecided("the "+plug+" plug gave no identity", MarkerNear)
		}
		if claimed <= have && defaultCurrent(c) {
			return undecided("the marker declares the default current, which shows nothing", MarkerCable)
		}
		return foundIf(claimed > have, func() Values {
			return Values{"claimed": ampsText(claimed), "declared": declared(c), "allowed": ampsText(have)}
		})
	},
}

var claimedCurrentOnUnmarked = &Rule{
	ID:       "claimed-current-on-unmarked-cable",
	Sources:  []Citation{typeCCables},
	Title:    "more than 3 A is claimed for a cable without a marker",
	Kind:     Contradiction,
	Property: Current,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCurrent, MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-current-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a cable without a marker counts as 3 A.",
	Why:      "A source that finds no marker offers 3 A at most.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, use the cable for up to 3 A.",
	Silent:   needsNoMarker(claims3A),
	Check: func(c *Case) Result {
		if c.Marker() != MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		a := c.Claims.Current.Value
		return foundIf(a > LeastAmps, func() Values { return Values{"claimed": ampsText(a)} })
	},
}

var claimedCurrentBelowStandard = &Rule{
	ID:       "claimed-current-below-3-a",
	Sources:  []Citation{typeCDrop},
	Title:    "less than 3 A is claimed",
	Kind:     Breach,
	Property: Current,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCurrent},
	Says:     "The seller claims {claimed}; every Type-C cable must carry at least 3 A.",
	Why:      "A source may drive 3 A through any Type-C cable.",
	Next:     "Do not use it with a source that offers 3 A until its resistance has been measured.",
	Check: func(c *Case) Result {
		a := c.Claims.Current.Value
		switch p, ok := c.Plugs(); {
		case ok && p == record.CCaptive:
			return notApplicable("a captive cable carries what its device needs")
		case ok && p == record.CToMiniB:
			return notApplicable(miniBRating)
		}
		return foundIf(a < LeastAmps, func() Values { return Values{"claimed": ampsText(a)} })
	},
}

var claimedCurrentNotATier = &Rule{
	ID:       "claimed-current-unpublished",
	Sources:  []Citation{typeCCables},
	Title:    "the current claimed is not a published class",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCurrent},
	Says:     "The seller claims {claimed}; published classes of Type-C cables carry 3 A or 5 A.",
	Why:      "A marker can declare only 3 A or 5 A, so no source uses another figure.",
	Next:     "Use the next lower class, and ask the seller what is meant.",
	Check: func(c *Case) Result {
		a := c.Claims.Current.Value
		return foundIf(a > LeastAmps && a != float64(tier240.Amps), func() Values { return Values{"claimed": ampsText(a)} })
	},
}

var benchOverAtStatedCurrent = &Rule{
	ID:       "bench-over-limit-at-stated-current",
	Sources:  []Citation{typeCDrop, ilacG8},
	Title:    "the resistance is over the limit at the current claimed",
	Kind:     Contradiction,
	Property: Current,
	Between:  []Witness{Seller, Bench},
	Needs:    []Evidence{SellerCurrent, BenchDrop},
	Settles:  true,
	Under:    []string{"bench-over-limit-at-3-a", "bench-over-limit-at-declared-current", "bench-over-limit-at-claimed-current", "claimed-current-over-legacy-cable"},
	Says:     "The seller claims {amps}; at {amps} {numbers}.",
	Why:      "At this current the cable loses more voltage and makes more heat than the standard allows.",
	Next:     "Use the cable only up to the rating shown.",
	Check: func(c *Case) Result {
		return overLimit(c, c.Claims.Current.Value)
	},
}

var benchOverAtDeclaredCurrent = &Rule{
	ID:       "bench-over-limit-at-declared-current",
	Sources:  []Citation{typeCDrop, ilacG8},
	Title:    "the resistance is over the limit at the current the marker declares",
	Kind:     Contradiction,
	Property: Current,
	Between:  []Witness{Marker, Bench},
	Needs:    []Evidence{MarkerCable, BenchDrop},
	Under:    []string{"bench-over-limit-at-3-a"},
	Says:     "The marker declares {amps}; at {amps} {numbers}.",
	Why:      "A source follows the marker and may drive this current through copper that is not fit for it. The cable can overheat.",
	Next:     "Do not use the cable with sources that offer {amps}. Label it, because its marker misleads every source.",
	Check: func(c *Case) Result {
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

var benchOverAt3A = &Rule{
	ID:       "bench-over-limit-at-3-a",
	Sources:  []Citation{typeCDrop, ilacG8},
	Title:    "the resistance is over the limit at 3 A, which every Type-C cable must carry",
	Kind:     Breach,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "Every Type-C cable must carry 3 A; at {amps} {numbers}.",
	Why:      "A source may drive 3 A through any Type-C cable.",
	Next:     "Clean the plugs and measure again. If it stays over, take the cable out of use.",
	Check: func(c *Case) Result {
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable("a captive cable carries what its device needs")
		} else if ok && p == record.CToMiniB {
			return notApplicable(miniBRating)
		}
		return overLimit(c, LeastAmps)
	},
}

var voltageRules = []*Rule{claimedVoltageAboveMarker, claimedVoltageOnUnmarked, claimedVoltageAboveStandard}

func voltsText(v float64) string { return quantity.Format(v, quantity.Voltage, 4) }

var claimedVoltageAboveStandard = &Rule{
	ID:       "claimed-voltage-above-standard",
	Sources:  []Citation{typeCEPR},
	Title:    "a higher voltage is claimed than a marker can declare",
	Kind:     Breach,
	Property: Voltage,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerVoltage},
	Says:     "The seller claims {claimed}; the highest voltage a Type-C cable can declare is 50 V, for 48 V sources.",
	Why:      "No standard covers such a cable.",
	Next:     "Ask the seller which standard the figure comes from.",
	Check: func(c *Case) Result {
		v := c.Claims.Voltage.Value
		return foundIf(v > 50, func() Values { return Values{"claimed": voltsText(v)} })
	},
}

var claimedVoltageAboveMarker = &Rule{
	ID:       "claimed-voltage-above-marker",
	Sources:  []Citation{pdCableWord, typeCEPR},
	Title:    "a higher voltage is claimed than the marker declares",
	Kind:     Contradiction,
	Property: Voltage,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVoltage, MarkerCable},
	Settles:  true,
	Under:    before(littlePower, "claimed-voltage-above-marker"),
	Says:     "The seller claims {claimed}; the marker declares {declared}, so sources offer {allowed} at most.",
	Why:      "A source offers more than 20 V only where the marker declares 50 V, 5 A and EPR.",
	Next:     "Expect {allowed} at most.",
	Silent:   needsNoMarker(claims20V),
	Check: func(c *Case) Result {
		v := c.Claims.Voltage.Value
		s := c.Near.Summary
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		if v <= mostPPSVolts || declaresEPR(s) {
			if plug := c.evasive(); plug != "" && v > mostPPSVolts {
				return undecided("the "+plug+" plug gave no identity", MarkerNear)
			}
			return pass()
		}
		if s.PD2 && s.Amps.Or(tier240.Amps) == tier240.Amps {
			return undecided("the marker answered in the PD 2.0 layout, which has no voltage field; read the marker again under PD 3.x", MarkerNear)
		}
		return found(Values{"claimed": voltsText(v), "declared": declared(c), "allowed": fmt.Sprintf("%d V", SPRVolts)})
	},
}

var claimedVoltageOnUnmarked = &Rule{
	ID:       "claimed-voltage-on-unmarked-cable",
	Sources:  []Citation{typeCEPR, typeCCables},
	Title:    "more than 20 V is claimed for a cable without a marker",
	Kind:     Contradiction,
	Property: Voltage,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVoltage, MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-voltage-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a cable without a marker counts as 20 V.",
	Why:      "A source that finds no marker does not offer more than 20 V.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, expect 20 V at most.",
	Silent:   needsNoMarker(claims20V),
	Check: func(c *Case) Result {
		if c.Marker() != MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		v := c.Claims.Voltage.Value
		return foundIf(v > mostPPSVolts, func() Values { return Values{"claimed": voltsText(v)} })
	},
}
