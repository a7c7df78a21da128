package claims

import (
	"fmt"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

var benchRules = []*Rule{benchGroundOverLimit, loopDoesNotSettle, claimedPowerOverLegacy, claimedCurrentOverLegacy}

var benchGroundOverLimit = &Rule{
	ID:       "bench-ground-over-limit",
	Sources:  []Citation{typeCDrop},
	Title:    "the loop is below the sum of the limits, but ground is over its own limit",
	Kind:     Remark,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchBoth},
	Under:    []string{"bench-over-limit-at-3-a", "bench-over-limit-at-declared-current", "bench-over-limit-at-claimed-current", "bench-over-limit-at-stated-current"},
	Says:     "Loop {loop}, below the sum of the limits at {amps}, {sum}. Ground {ground}; its limit is {limit}.",
	Why:      "The limit applies to each conductor. A loop reading alone would have passed this cable.",
	Next:     "Measure each conductor, not only the loop. Look for a thin ground or a bad braid joint.",
	Check: func(c *Case) Result {
		r := c.Resistance.Result
		for _, amps := range []float64{5, LeastAmps} {
			d, _ := c.Carries(amps)
			loop := bench.Decide(*r.Loop, bench.LimitOhm(bench.Loop, amps), c.Rule)
			for _, one := range d.Decisions {
				if one.Conductor == bench.Ground && one.Outcome == bench.Over && loop.Outcome == bench.Within {
					return found(Values{"amps": ampsText(amps), "loop": OhmText(r.Loop), "sum": limit(bench.Loop, amps),
						"ground": OhmText(r.Ground), "limit": limit(bench.Ground, amps)})
				}
			}
		}
		return pass()
	},
}

func limit(c bench.Conductor, amps float64) string {
	return quantity.Format(bench.LimitOhm(c, amps), quantity.Resistance, 4)
}

var loopDoesNotSettle = &Rule{
	ID:       "loop-reading-leaves-conductors-open",
	Sources:  []Citation{typeCDrop},
	Title:    "only the loop was measured, which does not settle the conductors",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "Loop {loop}. At {amps} the sum of the limits is {sum} and the ground limit is {limit}: one conductor may still be over its limit.",
	Why:      "The limits apply to VBUS and to ground separately. A loop reading passes only if the whole loop is below the ground limit.",
	Next:     "Measure the drop over ground (or VBUS) at the same current; the other follows by subtraction.",
	Check: func(c *Case) Result {
		r := c.Resistance.Result
		if !loopOnly(r) {
			return notApplicable("the conductors were measured apart")
		}
		for _, amps := range []float64{5, LeastAmps} {
			if d, _ := c.Carries(amps); d.Outcome == bench.Undecided && d.Decisions[0].Outcome == bench.Within {
				return found(Values{"loop": OhmText(r.Loop), "amps": ampsText(amps), "sum": limit(bench.Loop, amps), "limit": limit(bench.Ground, amps)})
			}
		}
		return pass()
	},
}

var claimedPowerOverLegacy = &Rule{
	ID:       "claimed-power-over-legacy-cable",
	Sources:  []Citation{typeCLegacy},
	Title:    "Power Delivery is claimed over a cable with an older connector at one end",
	Kind:     Breach,
	Property: Power,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerPower},
	Settles:  true,
	Under:    before(olderConnector, "claimed-power-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so Power Delivery does not work over it: 5 V and 3 A, {highest} at most.",
	Why:      "Only charging schemes outside the standard reach more power over such a cable.",
	Next:     "Expect {highest} at most by the standard. For more, use a Type-C to Type-C cable.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		w := c.Claims.Power.Value
		return foundIf(w > float64(tierLegacy.Watts), func() Values {
			return Values{"claimed": watts(w), "plugs": string(p), "highest": fmt.Sprintf("%d W", tierLegacy.Watts)}
		})
	},
}

var claimedCurrentOverLegacy = &Rule{
	ID:       "claimed-current-over-legacy-cable",
	Sources:  []Citation{typeCLegacy},
	Title:    "more than 3 A is claimed over a cable with an older connector at one end",
	Kind:     Breach,
	Property: Current,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCurrent},
	Settles:  true,
	Under:    before(olderConnector, "claimed-current-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable is rated 3 A by the standard and cannot have a marker for more.",
	Why:      "No standard allows more current over such a cable.",
	Next:     "Expect 3 A at most by the standard.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		a := c.Claims.Current.Value
		return foundIf(a > float64(tierLegacy.Amps), func() Values { return Values{"claimed": ampsText(a), "plugs": string(p)} })
	},
}
