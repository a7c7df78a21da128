package rules

import (
	"fmt"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/source"
)

var benchRules = []*claims.Rule{benchGroundOverLimit, loopDoesNotSettle, claimedPowerOverLegacy, claimedCurrentOverLegacy}

var benchGroundOverLimit = &claims.Rule{
	ID:       "bench-ground-over-limit",
	Sources:  []claims.Citation{source.TypeCDrop},
	Title:    "the loop is below the sum of the limits, but ground is over its own limit",
	Kind:     claims.Remark,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchBoth},
	Under:    []string{"bench-over-limit-at-3-a", "bench-over-limit-at-declared-current", "bench-over-limit-at-claimed-current", "bench-over-limit-at-stated-current"},
	Says:     "Loop {loop}, below the sum of the limits at {amps}, {sum}. Ground {ground}; its limit is {limit}.",
	Why:      "The limit applies to each conductor. A loop reading alone would have passed this cable.",
	Next:     "Measure each conductor, not only the loop. Look for a thin ground or a bad braid joint.",
	Check: func(c *claims.Case) claims.Result {
		r := c.Resistance.Result
		for _, amps := range []float64{5, claims.LeastAmps} {
			d, _ := c.Carries(amps)
			loop := bench.Decide(*r.Loop, c.Acceptance.LimitOhm(bench.Loop, amps), c.Acceptance)
			for _, one := range d.Decisions {
				if one.Conductor == bench.Ground && one.Outcome == bench.Over && loop.Outcome == bench.Within {
					return found(claims.Values{"amps": amperes(amps), "loop": ohms(r.Loop), "sum": limit(c, bench.Loop, amps),
						"ground": ohms(r.Ground), "limit": limit(c, bench.Ground, amps)})
				}
			}
		}
		return pass()
	},
}

var loopDoesNotSettle = &claims.Rule{
	ID:       "loop-reading-leaves-conductors-open",
	Sources:  []claims.Citation{source.TypeCDrop},
	Title:    "only the loop was measured, which does not settle the conductors",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "Loop {loop}. At {amps} the sum of the limits is {sum} and the ground limit is {limit}: one conductor may still be over its limit.",
	Why:      "The limits apply to VBUS and to ground separately. A loop reading passes only if the whole loop is below the ground limit.",
	Next:     "Measure the drop over ground (or VBUS) at the same current; the other follows by subtraction.",
	Check: func(c *claims.Case) claims.Result {
		r := c.Resistance.Result
		if !r.LoopOnly() {
			return notApplicable("the conductors were measured apart")
		}
		for _, amps := range []float64{5, claims.LeastAmps} {
			if d, _ := c.Carries(amps); d.Outcome == bench.Undecided && d.Decisions[0].Outcome == bench.Within {
				return found(claims.Values{"loop": ohms(r.Loop), "amps": amperes(amps), "sum": limit(c, bench.Loop, amps), "limit": limit(c, bench.Ground, amps)})
			}
		}
		return pass()
	},
}

var claimedPowerOverLegacy = &claims.Rule{
	ID:       "claimed-power-over-legacy-cable",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "Power Delivery is claimed over a cable with an older connector at one end",
	Kind:     claims.Breach,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower},
	Settles:  true,
	Under:    before(olderConnector, "claimed-power-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so Power Delivery does not work over it: 5 V and 3 A, {highest} at most.",
	Why:      "Only charging schemes outside the standard reach more power over such a cable.",
	Next:     "Expect {highest} at most by the standard. For more, use a Type-C to Type-C cable.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		w := c.Claims.Power.Value
		return foundIf(w > float64(tierLegacy.Watts), func() claims.Values {
			return claims.Values{"claimed": watts(w), "plugs": string(p), "highest": fmt.Sprintf("%d W", tierLegacy.Watts)}
		})
	},
}

var claimedCurrentOverLegacy = &claims.Rule{
	ID:       "claimed-current-over-legacy-cable",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "more than 3 A is claimed over a cable with an older connector at one end",
	Kind:     claims.Breach,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCurrent},
	Settles:  true,
	Under:    before(olderConnector, "claimed-current-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable is rated 3 A by the standard and cannot have a marker for more.",
	Why:      "No standard allows more current over such a cable.",
	Next:     "Expect 3 A at most by the standard.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		a := c.Claims.Current.Value
		return foundIf(a > float64(tierLegacy.Amps), func() claims.Values { return claims.Values{"claimed": amperes(a), "plugs": string(p)} })
	},
}
