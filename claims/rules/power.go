package rules

import (
	"fmt"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
)

var powerRules = []*claims.Rule{
	claimedPowerAboveStandard, claimedPowerAboveMarker, claimedPowerOnUnmarked, benchOverAtClaimedPower,
	claimed100WClass, markerPowerAboveClaim,
}

var claimedPowerAboveStandard = &claims.Rule{
	ID:       "claimed-power-above-standard",
	Sources:  []claims.Citation{source.TypeCEPR},
	Title:    "more power is claimed than any published tier gives",
	Kind:     claims.Breach,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower},
	Says:     "The seller claims {claimed}; the highest published tier of a Type-C cable is {highest}.",
	Why:      "No standard covers such a cable, so nothing can confirm the claim.",
	Next:     "Ask the seller which standard the figure comes from.",
	Check: func(c *claims.Case) claims.Result {
		w := c.Claims.Power.Value
		_, ok := claims.TierFor(w)
		return foundIf(!ok, func() claims.Values { return claims.Values{"claimed": watts(w), "highest": tier240.String()} })
	},
}

// needsNoMarker passes a claim that every Type-C cable meets without a marker:
// 20 V and 3 A (USB Type-C R2.0, Table 3-1).
func needsNoMarker(holds func(*claims.Case) bool) func(*claims.Case) claims.Result {
	return func(c *claims.Case) claims.Result {
		if holds(c) {
			return pass()
		}
		return claims.Result{}
	}
}

func claims60W(c *claims.Case) bool { return c.Claims.Power.Value <= claims.MostUnmarkedWatts }
func claims3A(c *claims.Case) bool  { return c.Claims.Current.Value <= claims.LeastAmps }
func claims20V(c *claims.Case) bool { return c.Claims.Voltage.Value <= claims.PPSVolts }

const captiveKnows = "a captive cable is part of its device, which does not go by the marker"

func tierOr240(watts float64) claims.Tier {
	if t, ok := claims.TierFor(watts); ok {
		return t
	}
	return tier240
}

var claimedPowerAboveMarker = &claims.Rule{
	ID:       "claimed-power-above-marker",
	Sources:  []claims.Citation{source.TypeCEPR, source.PDCableWord},
	Title:    "more power is claimed than the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerPower, claims.MarkerCable},
	Settles:  true,
	Under:    before(littlePower, "claimed-power-above-marker"),
	Says:     "The seller claims {claimed}, which needs a marker that declares {needed}; this one declares {declared}, which allows {allowed}.",
	Why:      "A source follows the marker, not the label, and does not offer more.",
	Next:     "Expect {allowed} at most from any source, and ask the seller for a cable whose marker declares {needed}.",
	Silent:   needsNoMarker(claims60W),
	Check: func(c *claims.Case) claims.Result {
		w := c.Claims.Power.Value
		s := c.Near.Summary
		need, ok := claims.TierFor(w)
		if !ok {
			return notApplicable("no published tier has this power")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveKnows)
		}
		have := c.NearSupport().Tier
		if mostWatts(have) >= w {
			if plug := c.Evasive(); plug != "" && w > claims.MostUnmarkedWatts {
				return undecided("the "+plug+" plug gave no identity", claims.MarkerNear)
			}
			if c.Near.DefaultCurrent() {
				return undecided("the marker declares the default current, which shows nothing", claims.MarkerCable)
			}
			return pass()
		}
		if s.PD2 && need == tier240 && s.Amps.Or(0) == 5 {
			return undecided("the marker answered in the PD 2.0 layout, which cannot declare EPR; read the marker again under PD 3.x", claims.MarkerNear)
		}
		return found(claims.Values{"claimed": watts(w), "needed": declares(need), "declared": declared(c), "allowed": allowedText(have)})
	},
}

func allowedText(t claims.Tier) string {
	if t.Watts == 0 {
		return "no power"
	}
	return t.String()
}

// mostWatts is the most power that a tier allows, with a programmable supply.
func mostWatts(t claims.Tier) float64 {
	if t.Volts == claims.SPRVolts && t.Amps >= claims.LeastAmps {
		return float64(claims.PPSVolts * t.Amps)
	}
	return float64(t.Watts)
}

// declares says what a marker must declare for a tier.
func declares(t claims.Tier) string {
	switch t {
	case tier240:
		return "5 A, 50 V and EPR"
	case tier100:
		return "5 A"
	}
	return "3 A"
}

// declared says what the near marker declares about power.
func declared(c *claims.Case) string {
	s := c.Near.Summary
	text := "no valid current"
	if a, ok := s.Amps.Get(); ok {
		text = fmt.Sprintf("%d A", a)
	}
	if v, ok := s.Volts.Get(); ok {
		text += fmt.Sprintf(", %d V", v)
	}
	switch epr, known := s.EPR.Get(); {
	case s.PD2:
		text += " in the PD 2.0 layout"
	case known && epr:
		text += ", EPR"
	case known:
		text += ", no EPR"
	}
	return text
}

var claimedPowerOnUnmarked = &claims.Rule{
	ID:       "claimed-power-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "more than 60 W is claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerPower, claims.MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-power-on-unmarked-cable"),
	Says:     "The seller claims {claimed}, which needs {needed}. The marker did not answer; a cable without a marker counts as 3 A, 60 W at most.",
	Why:      "A source that finds no marker offers 3 A at most, so the power claimed is not reached.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, use the cable for up to 60 W.",
	Silent:   needsNoMarker(claims60W),
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() != claims.MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		w := c.Claims.Power.Value
		return foundIf(w > claims.MostUnmarkedWatts, func() claims.Values { return claims.Values{"claimed": watts(w), "needed": declares(tierOr240(w))} })
	},
}

var benchOverAtClaimedPower = &claims.Rule{
	ID:       "bench-over-limit-at-claimed-current",
	Sources:  []claims.Citation{source.TypeCDrop, source.ILACG8},
	Title:    "the resistance is over the limit at the current that the claimed power needs",
	Kind:     claims.Contradiction,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller, claims.Bench},
	Needs:    []claims.Evidence{claims.SellerPower, claims.BenchDrop},
	Settles:  true,
	Under:    []string{"bench-over-limit-at-3-a", "bench-over-limit-at-declared-current", "claimed-power-over-legacy-cable"},
	Says:     "The seller claims {claimed}, which needs {amps}; at {amps} {numbers}.",
	Why:      "At this current the cable loses more voltage and makes more heat than the standard allows.",
	Next:     "Use the cable only up to the rating shown. Clean the plugs, measure again on another day, and take the result to the seller.",
	Check: func(c *claims.Case) claims.Result {
		amps := c.ClaimedAmps()
		res := overLimit(c, amps)
		if res.Status == claims.Found {
			res.Values["claimed"] = say.Watts(c.Claims.Power.Value)
		}
		return res
	},
}

// overLimit is found where the copper is over a limit at a current, with the
// numbers as values.
func overLimit(c *claims.Case, amps float64) claims.Result {
	d, _ := c.Carries(amps)
	if d.Outcome == bench.Within {
		return pass()
	}
	missing := claims.BenchDrop
	if r := c.Resistance.Result; r.LoopOnly() || r.Unsensed() != 0 {
		missing = claims.BenchBoth
	}
	if d.Outcome == bench.Over {
		p, ok := c.Plugs()
		if !ok || p != record.CCaptive || groundOver(d) {
			return found(claims.Values{"amps": amperes(amps), "numbers": c.Numbers(d)})
		}
		return undecided("a captive cable carries what its device needs, and no published limit holds for its VBUS; at "+say.Amps(amps)+" "+c.Numbers(d), missing)
	}
	return undecided(fmt.Sprintf("at %s %s", say.Amps(amps), c.Numbers(d)), missing)
}

// groundOver reports whether ground alone is over its limit, the one that USB Type-C
// extends to captive cables.
func groundOver(d bench.CableDecision) bool {
	for i := range d.Decisions {
		if one := &d.Decisions[i]; one.Conductor == bench.Ground && one.Outcome == bench.Over {
			return true
		}
	}
	return false
}

var claimed100WClass = &claims.Rule{
	ID:       "claimed-100-w-class-withdrawn",
	Sources:  []claims.Citation{source.TypeCNo5A20V, source.USBIFPower},
	Title:    "the 100 W class is claimed, which is no longer certified",
	Kind:     claims.Remark,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerPower},
	Under:    []string{"claimed-certified-in-withdrawn-power-class"},
	Says:     "The seller claims {claimed}; since autumn 2021 certified cables are marked 60 W or 240 W, and every new 5 A cable is an EPR cable.",
	Why:      "The cable is of an older design or was never certified. It can still carry 100 W.",
	Next:     "Use it for up to 100 W (20 V, 5 A).",
	Check: func(c *claims.Case) claims.Result {
		w := c.Claims.Power.Value
		if p, ok := c.Plugs(); ok && p != record.CToC {
			return notApplicable("the class is one of Type-C to Type-C cables")
		}
		return foundIf(in100WClass(w), func() claims.Values { return claims.Values{"claimed": watts(w)} })
	},
}

// in100WClass reports whether a power needs more than the 60 W class, and the 100 W class
// gives it.
func in100WClass(w float64) bool { return w > float64(tier60.Watts) && w <= float64(tier100.Watts) }

var markerPowerAboveClaim = &claims.Rule{
	ID:       "marker-power-above-claim",
	Sources:  []claims.Citation{source.PDCableWord},
	Title:    "the marker declares more power than the seller claims",
	Kind:     claims.Doubt,
	Property: claims.Power,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerPower, claims.MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}, which allows {allowed}.",
	Why:      "A source follows the marker and may drive more than the seller claims.",
	Next:     "Measure the resistance before using the cable at 5 A, and ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		w := c.Claims.Power.Value
		have := c.NearSupport().Tier
		claimed, ok := claims.TierFor(w)
		return foundIf(ok && have.Watts > claimed.Watts, func() claims.Values {
			return claims.Values{"claimed": watts(w), "declared": declared(c), "allowed": have.String()}
		})
	},
}
