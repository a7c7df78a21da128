package rules

import (
	"fmt"
	"math"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
)

// Rules about the bench's readings taken alone, and about the wire they speak of.
var metrologyRules = []*claims.Rule{
	benchUndecided, benchLostWhenWarm, benchRisesWithCurrent, benchGroundWorse, benchOrientationsDiffer,
	benchLoopDisagrees, benchOffsetRemains, benchTooLow, benchAccuracyNotStated, benchNullNotTaken,
	benchNullAtOtherCurrent, benchSingleReading,
	claimedConductorsTooThin, claimedConductorsTooThick, conductorsLikeCladAluminium,
}

// noteRule makes a rule of a kind of note that the evaluation leaves.
func noteRule(r claims.Rule, kind bench.NoteKind) *claims.Rule {
	r.Property = claims.Current
	r.Between = []claims.Witness{claims.Bench}
	r.Needs = []claims.Evidence{claims.BenchDrop}
	r.Check = func(c *claims.Case) claims.Result {
		var texts []string
		for _, n := range c.Resistance.Result.Notes {
			if n.Kind == kind {
				texts = append(texts, n.Text)
			}
		}
		return foundIf(len(texts) > 0, func() claims.Values { return claims.Values{"note": say.Capitalised(strings.Join(texts, "; "))} })
	}
	return &r
}

var benchRisesWithCurrent = noteRule(claims.Rule{
	ID: "bench-resistance-rises-with-current", Sources: []claims.Citation{source.GUM, source.OwnReasoning}, Kind: claims.Doubt,
	Title: "the resistance changes with the test current",
	Says:  "{note}.",
	Why:   "Copper that heats up or a bad contact behaves like this; at the rated current it may be worse than measured.",
	Next:  "Stop, let it cool, look at both plugs, and measure again with a pause between currents.",
}, bench.HeatingOrContact)

var benchGroundWorse = noteRule(claims.Rule{
	ID: "bench-ground-worse-than-vbus", Sources: []claims.Citation{source.TypeCDrop}, Kind: claims.Doubt,
	Title: "ground has more resistance than VBUS, though its limit is half",
	Says:  "{note}.",
	Why:   "A cable made for the limits has the better ground. A thin ground or a bad braid joint looks like this, and so do swapped leads.",
	Next:  "Make sure that the sense leads were not swapped, and measure ground again.",
}, bench.GroundAboveVBUS)

var benchOrientationsDiffer = noteRule(claims.Rule{
	ID: "bench-orientations-differ", Sources: []claims.Citation{source.TypeCContacts, source.GUM}, Kind: claims.Doubt,
	Title: "the two orientations of the plug differ",
	Says:  "{note}.",
	Why:   "The two ways up use different contacts, so one row of them is worse. The cable is judged by the worse.",
	Next:  "Clean the plugs and measure both ways up again.",
}, bench.OrientationDiffers)

var benchLoopDisagrees = noteRule(claims.Rule{
	ID: "bench-loop-differs-from-conductors", Sources: []claims.Citation{source.GUM, source.OwnReasoning}, Kind: claims.Doubt,
	Title: "the loop as measured is not the sum of VBUS and ground",
	Says:  "{note}.",
	Why:   "One of the readings is wrong: a sense lead in the wrong place, or another current than noted.",
	Next:  "Measure loop, VBUS and ground once more in one go.",
}, bench.LoopDisagrees)

var benchOffsetRemains = noteRule(claims.Rule{
	ID: "bench-offset-remains", Sources: []claims.Citation{source.GUM, source.OwnReasoning}, Kind: claims.Remark,
	Title: "a drop remains that does not follow the current",
	Says:  "{note}.",
	Why:   "Thermal voltages and a null that was not subtracted look like this. The slope of the line is free of it, a single reading is not.",
	Next:  "Take a null with the current off, or reverse the current.",
}, bench.OffsetRemains)

var benchAccuracyNotStated = noteRule(claims.Rule{
	ID: "bench-accuracy-not-stated", Sources: []claims.Citation{source.GUM, source.ILACG8}, Kind: claims.Remark,
	Title: "a meter's accuracy is not on record, and is assumed",
	Says:  "{note}.",
	Why:   "Every uncertainty and decision here rests on the assumption; a better meter would decide more.",
	Next:  "Note voltmeter and ammeter with the accuracy their data sheets state.",
}, bench.AccuracyAssumed)

var benchNullNotTaken = noteRule(claims.Rule{
	ID: "bench-null-not-taken", Sources: []claims.Citation{source.IECMillivolt, source.CommonPractice}, Kind: claims.Remark,
	Title: "the fixture was not measured by itself",
	Says:  "{note}.",
	Why:   "Leads and fixture then count as cable. That is to the cable's disadvantage.",
	Next:  "Join the two fixture boards directly and note the drops at the same current as null.",
}, bench.NullNotTaken)

var benchNullAtOtherCurrent = noteRule(claims.Rule{
	ID: "bench-null-at-other-current", Sources: []claims.Citation{source.IECMillivolt, source.CommonPractice}, Kind: claims.Remark,
	Title: "the null was taken at another current than the readings",
	Says:  "{note}.",
	Why:   "The fixture may have another resistance at another current.",
	Next:  "Take the null at the current of the readings.",
}, bench.NullAtOtherCurrent)

var benchSingleReading = noteRule(claims.Rule{
	ID: "bench-single-reading", Sources: []claims.Citation{source.GUM, source.CommonPractice}, Kind: claims.Remark,
	Title: "there is one reading and no repeat",
	Says:  "{note}.",
	Why:   "How much the plug's contacts vary from mating to mating is usually the larger part of the uncertainty, and does not show in one reading.",
	Next:  "Take three readings or more, with the plug pulled between them.",
}, bench.SingleReading)

var benchUndecided = &claims.Rule{
	ID:       "bench-too-near-the-limit",
	Sources:  []claims.Citation{source.ILACG8, source.JCGM106},
	Title:    "the reading is too near a limit to decide",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchBoth},
	Says:     "At {amps} {numbers}.",
	Why:      "Within its uncertainty the cable may be on either side of the limit, so the limit counts neither for nor against it.",
	Next:     "What would settle it: {options}.",
	Check: func(c *claims.Case) claims.Result {
		for _, amps := range []float64{claims.LeastAmps, 5} {
			d, _ := c.Carries(amps)
			if d.Outcome != bench.Undecided {
				continue
			}
			var options []string
			for _, o := range bench.Settle(c.Resistance.Result, d) {
				options = append(options, o.Text)
			}
			return found(claims.Values{"amps": amperes(amps), "numbers": c.Numbers(d), "options": strings.Join(options, "; ")})
		}
		return pass()
	},
}

var benchLostWhenWarm = &claims.Rule{
	ID:       "bench-within-only-while-cold",
	Sources:  []claims.Citation{source.NatureCopper, source.TypeCContacts},
	Title:    "the copper keeps the limits as measured, but not 30 K warmer",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchBoth},
	Says:     "At {amps} the copper is within the limits as measured; {rise} K warmer, as a connector may get, VBUS would have {vbus} (limit {vbuslimit}) and ground {ground} (limit {groundlimit}).",
	Why:      "Copper gains about 12 % of resistance in 30 K, and a cable at its rated current gets warm.",
	Next:     "Measure again at {amps} after it has warmed up, and give the cable some margin.",
	Check: func(c *claims.Case) claims.Result {
		for _, amps := range []float64{5, claims.LeastAmps} {
			if d, _ := c.Carries(amps); d.Outcome != bench.Within {
				continue
			}
			warm := c.Risen(amps)
			return foundIf(bench.DecideCable(warm, amps, c.Acceptance).Outcome != bench.Within, func() claims.Values {
				return claims.Values{
					"amps": amperes(amps), "rise": fmt.Sprint(bench.RiseKelvin),
					"vbus": ohms(warm.VBUS), "vbuslimit": limit(c, bench.VBUS, amps),
					"ground": ohms(warm.Ground), "groundlimit": limit(c, bench.Ground, amps)}
			})
		}
		return notApplicable("the copper is not within the limits as measured")
	},
}

var benchTooLow = &claims.Rule{
	ID:       "bench-lower-than-copper-allows",
	Sources:  []claims.Citation{source.NatureCopper, source.CommonPractice},
	Title:    "the resistance is lower than any wire expected in such a cable has",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop, claims.BenchLength},
	Says:     "{wires}.",
	Why:      "A wrong null, or leads that sense before the plug, make every cable look good.",
	Next:     "Take the null again, and measure a cable you know.",
	Check: func(c *claims.Case) claims.Result {
		var texts []string
		for _, w := range c.Wires() {
			if w.TooLow {
				texts = append(texts, w.Text())
			}
		}
		return foundIf(len(texts) > 0, func() claims.Values { return claims.Values{"wires": say.Capitalised(strings.Join(texts, "; "))} })
	},
}

// wireChecks holds the conductors claimed against the resistances, by the length
// taped, else by the one claimed and the part of it that rounding may add.
func wireChecks(c *claims.Case, rounded float64) (checks []bench.WireCheck, length string) {
	l, taped := c.TapeLength()
	length = say.Metres(l) + " by tape"
	if !taped {
		claimed := c.Claims.Length.Value
		l = claimed * (1 + rounded)
		length = fmt.Sprintf("%s (%s as claimed, %+.0f %% for rounding)", say.Metres(l), say.Metres(claimed), 100*rounded)
	}
	for _, conductor := range []bench.Conductor{bench.VBUS, bench.Ground} {
		if w, ok := bench.CheckWire(c.Resistance.Result, conductor, c.Claims.Conductors.Value, l, 0); ok {
			checks = append(checks, w)
		}
	}
	return checks, length
}

// wireRule is found where a conductor stands to the wire claimed as told.
func wireRule(r claims.Rule, p bench.Plausibility) *claims.Rule {
	r.Property = claims.Conductors
	r.Between = []claims.Witness{claims.Seller, claims.Bench}
	r.Needs = []claims.Evidence{claims.SellerConductors, claims.BenchBoth}
	r.Settles = true
	r.Check = func(c *claims.Case) claims.Result {
		_, taped := c.TapeLength()
		if !taped && !c.Claims.Length.Known {
			return undecided("no length is on record", claims.BenchLength)
		}
		rounded := lengthTolerance // to the seller's advantage
		if p == bench.TooLittleResistance {
			rounded = -lengthTolerance
		}
		checks, length := wireChecks(c, rounded)
		var texts []string
		for _, w := range checks {
			// Ground may have its shield in parallel: less than the wire claimed has is
			// nothing to wonder at.
			if w.Plausibility == p && (w.Conductor == bench.VBUS || p == bench.TooMuchResistance) {
				texts = append(texts, w.Text())
			}
		}
		if len(texts) == 0 && p == bench.TooMuchResistance && !thinnerExcluded(c) {
			return undecided("copper one gauge thinner would have this resistance too", claims.BenchDrop)
		}
		return foundIf(len(texts) > 0, func() claims.Values {
			return claims.Values{"claimed": c.Claims.Conductors.Text, "length": length, "wires": strings.Join(texts, "; ")}
		})
	}
	return &r
}

// gaugeStep is the ratio of the areas of neighbouring gauges, 92 to the power of 2/39
// (ASTM B258). Sizes in mm² are further apart.
var gaugeStep = math.Pow(92, 2.0/39)

// thinnerExcluded reports whether VBUS has less resistance than copper one gauge thinner
// than claimed would have: only then is the size shown.
func thinnerExcluded(c *claims.Case) bool {
	l, taped := c.TapeLength()
	if !taped {
		l = c.Claims.Length.Value * (1 - lengthTolerance)
	}
	w, ok := bench.CheckWire(c.Resistance.Result, bench.VBUS, c.Claims.Conductors.Value/gaugeStep, l, 0)
	return ok && w.Plausibility == bench.TooLittleResistance
}

var claimedConductorsTooThin = wireRule(claims.Rule{
	ID: "resistance-above-claimed-conductors", Sources: []claims.Citation{source.NatureCopper, source.IEC60228, source.TypeCContacts}, Kind: claims.Contradiction,
	Title: "the conductors claimed would have less resistance than was measured",
	Says:  "The seller claims {claimed} at {length}, contacts at their worst allowed for. {wires}.",
	Why:   "The wire is thinner or longer than claimed, or is not copper, or the contacts are beyond their limit.",
	Next:  "Clean the plugs and measure again; then take the result to the seller.",
}, bench.TooMuchResistance)

var claimedConductorsTooThick = wireRule(claims.Rule{
	ID: "resistance-below-claimed-conductors", Sources: []claims.Citation{source.NatureCopper, source.OwnReasoning}, Kind: claims.Doubt,
	Under: []string{"bench-lower-than-copper-allows"},
	Title: "the conductors claimed would have more resistance than was measured",
	Says:  "The seller claims {claimed} at {length}. {wires}.",
	Why:   "The wire is thicker than claimed, several run in parallel, or the null took too much away.",
	Next:  "Take the null again before believing it.",
}, bench.TooLittleResistance)

var conductorsLikeCladAluminium = &claims.Rule{
	ID:       "resistance-consistent-with-clad-aluminium",
	Sources:  []claims.Citation{source.ASTMB566, source.OwnReasoning},
	Title:    "the resistance would fit copper-clad aluminium of the size claimed",
	Kind:     claims.Remark,
	Property: claims.Conductors,
	Between:  []claims.Witness{claims.Seller, claims.Bench},
	Needs:    []claims.Evidence{claims.SellerConductors, claims.BenchBoth, claims.BenchLength},
	Under:    []string{"resistance-above-claimed-conductors"},
	Says:     "The seller claims {claimed}; the wire of {conductor} has {ratio} times the resistance of copper of that size. That is consistent with copper-clad aluminium, and just as well with copper two gauges thinner.",
	Why:      "Resistance alone never tells the metal.",
	Next:     "Cut a cable of the batch open and look, or weigh the wire.",
	Check: func(c *claims.Case) claims.Result {
		checks, _ := wireChecks(c, 0) // the length is taped
		for _, w := range checks {
			for _, m := range w.ConsistentWith {
				if m == bench.CopperCladAluminum {
					return found(claims.Values{"claimed": c.Claims.Conductors.Text, "conductor": say.Conductor(w.Conductor),
						"ratio": fmt.Sprintf("%.2f to %.2f", w.Ratio.Low, w.Ratio.High)})
				}
			}
		}
		return pass()
	},
}
