package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

// Rules about claims of the seller that cannot hold together.
var sellerRules = []*claims.Rule{
	powerAboveProduct, powerAboveClaimedCurrent, powerAboveClaimedVoltage, powerUnpublished, voltageWithout5A,
	conductorsTooThinForClaim,
}

// rounding is the part by which a product of claims may exceed the one stated:
// sellers round.
const rounding = 0.01

var powerAboveProduct = &claims.Rule{
	ID:       "claimed-power-above-claimed-voltage-and-current",
	Sources:  []claims.Citation{source.NatureWatt},
	Title:    "more power is claimed than voltage and current claimed give",
	Kind:     claims.Breach,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower, claims.SellerVoltage, claims.SellerCurrent},
	Says:     "The seller claims {power}, {voltage} and {current}; {voltage} at {current} is {product}.",
	Why:      "The three claims cannot all be true.",
	Next:     "Expect {product} at most, and ask the seller which of the three is meant.",
	Check: func(c *claims.Case) claims.Result {
		cl := c.Claims
		product := cl.Voltage.Value * cl.Current.Value
		return foundIf(cl.Power.Value > product*(1+rounding), func() claims.Values {
			return claims.Values{"power": watts(cl.Power.Value), "voltage": volts(cl.Voltage.Value),
				"current": amperes(cl.Current.Value), "product": watts(product)}
		})
	},
}

const allClaimed = "voltage and current are both claimed; see claimed-power-above-claimed-voltage-and-current"

var powerAboveClaimedCurrent = &claims.Rule{
	ID:       "claimed-power-above-claimed-current",
	Sources:  []claims.Citation{source.TypeCEPR, source.NatureWatt},
	Title:    "more power is claimed than the current claimed gives at the voltage it allows",
	Kind:     claims.Breach,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower, claims.SellerCurrent},
	Says:     "The seller claims {power} and {current}; a cable for {current} carries {voltage} at most, which gives {most}.",
	Why:      "More than 21 V is allowed with 5 A only.",
	Next:     "Expect {most} at most, and ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		cl := c.Claims
		p, ok := c.Plugs()
		switch {
		case cl.Voltage.Known:
			return notApplicable(allClaimed)
		case ok && p.Legacy():
			return notApplicable("over a legacy cable power is at 5 V; see claimed-power-over-legacy-cable")
		case ok && p == record.CCaptive:
			return notApplicable("a captive cable carries what its device needs")
		}
		highest := float64(claims.PPSVolts)
		if cl.Current.Value >= float64(tier240.Amps) {
			highest = float64(tier240.Volts)
		}
		most := highest * cl.Current.Value
		return foundIf(cl.Power.Value > most*(1+rounding), func() claims.Values {
			return claims.Values{"power": watts(cl.Power.Value), "current": amperes(cl.Current.Value),
				"voltage": volts(highest), "most": watts(most)}
		})
	},
}

var powerAboveClaimedVoltage = &claims.Rule{
	ID:       "claimed-power-above-claimed-voltage",
	Sources:  []claims.Citation{source.TypeCEPR, source.NatureWatt},
	Title:    "more power is claimed than the voltage claimed gives at 5 A",
	Kind:     claims.Breach,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower, claims.SellerVoltage},
	Says:     "The seller claims {power} and {voltage}; at {most} amperes, the highest current of a Type-C cable, {voltage} gives {product}.",
	Why:      "The two claims cannot both be true.",
	Next:     "Expect {product} at most, and ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		cl := c.Claims
		if p, ok := c.Plugs(); ok && p.Legacy() {
			return notApplicable("over a legacy cable Power Delivery does not work; see claimed-power-over-legacy-cable")
		}
		if cl.Current.Known {
			return notApplicable(allClaimed)
		}
		product := cl.Voltage.Value * float64(tier240.Amps)
		return foundIf(cl.Power.Value > product*(1+rounding), func() claims.Values {
			return claims.Values{"power": watts(cl.Power.Value), "voltage": volts(cl.Voltage.Value),
				"most": fmt.Sprint(tier240.Amps), "product": watts(product)}
		})
	},
}

var powerUnpublished = &claims.Rule{
	ID:       "claimed-power-unpublished",
	Sources:  []claims.Citation{source.OwnReasoning, source.TypeCEPR},
	Title:    "the power claimed is not a published level",
	Kind:     claims.Doubt,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower},
	Says:     "The seller claims {claimed}; the published levels are {levels}.",
	Why:      "The figure may be that of a charger; no source uses it for a cable.",
	Next:     "Use the next lower class, and ask the seller what is meant.",
	Check: func(c *claims.Case) claims.Result {
		w := c.Claims.Power.Value
		p, ok := c.Plugs()
		_, some := claims.TierFor(w)
		switch {
		case !some:
			return notApplicable("no tier has as much; see claimed-power-above-standard")
		case ok && p.Legacy():
			return notApplicable("the levels are those of Type-C to Type-C cables")
		}
		published := slices.ContainsFunc(claims.Levels()[:], func(l claims.Tier) bool { return float64(l.Watts) == w || mostWatts(l) == w })
		return foundIf(!published, func() claims.Values { return claims.Values{"claimed": watts(w), "levels": levelWatts()} })
	},
}

// levelWatts lists the powers of the published levels.
func levelWatts() string {
	var b strings.Builder
	for i, l := range claims.Levels() {
		b.WriteString(strconv.Itoa(l.Watts))
		switch len(claims.Levels()) - i {
		case 1:
			b.WriteString(" W")
		case 2:
			b.WriteString(" and ")
		default:
			b.WriteString(", ")
		}
	}
	return b.String()
}

var voltageWithout5A = &claims.Rule{
	ID:       "claimed-epr-voltage-without-5-a",
	Sources:  []claims.Citation{source.TypeCEPR, source.PDPPS},
	Title:    "more than 20 V is claimed with less than 5 A",
	Kind:     claims.Breach,
	Property: claims.Voltage,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerVoltage, claims.SellerCurrent},
	Says:     "The seller claims {voltage} and {current}; a cable for more than 21 V shall carry 5 A.",
	Why:      "No marker can declare both, so no source offers the voltage.",
	Next:     "Expect 21 V at most.",
	Check: func(c *claims.Case) claims.Result {
		cl := c.Claims
		switch p, ok := c.Plugs(); {
		case ok && p.Legacy():
			return notApplicable("over a legacy cable Power Delivery does not work; see claimed-power-over-legacy-cable")
		case ok && p == record.CCaptive:
			return notApplicable("a captive cable carries what its device needs")
		}
		return foundIf(cl.Voltage.Value > claims.PPSVolts && cl.Current.Value < float64(tier240.Amps), func() claims.Values {
			return claims.Values{"voltage": volts(cl.Voltage.Value), "current": amperes(cl.Current.Value)}
		})
	},
}

var conductorsTooThinForClaim = &claims.Rule{
	ID:       "claimed-conductors-too-thin-for-claim",
	Sources:  []claims.Citation{source.NatureCopper, source.TypeCDrop},
	Title:    "a conductor of the size claimed is over the limit at the current claimed",
	Kind:     claims.Doubt,
	Property: claims.Conductors,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerConductors, claims.SellerLength},
	Says:     "{length} of {claimed} copper has {ohms} at 20 °C; the VBUS limit at {amps} is {limit}, contacts included.",
	Why:      "Only several wires in parallel, or a thicker wire than claimed, stay below the limit.",
	Next:     "Measure the resistance.",
	Check: func(c *claims.Case) claims.Result {
		cl := c.Claims
		amps := float64(claims.LeastAmps)
		if p, ok := c.Plugs(); cl.Power.Known && !(ok && p.Legacy()) {
			amps = max(amps, claims.NeededAmps(cl.Power.Value))
		}
		amps = max(amps, cl.Current.Value)
		ohm := bench.CopperOhmMetre * cl.Length.Value / cl.Conductors.Value
		return foundIf(ohm > c.Acceptance.LimitOhm(bench.VBUS, amps), func() claims.Values {
			return claims.Values{"length": metres(cl.Length.Value), "claimed": cl.Conductors.Text,
				"ohms": quantity.Format(ohm, quantity.Resistance, 3), "amps": amperes(amps), "limit": limit(c, bench.VBUS, amps)}
		})
	},
}
