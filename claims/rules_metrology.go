package claims

import (
	"fmt"
	"math"
	"strings"

	"example.com/gainsay/claims/bench"
)

// Rules about the bench's readings taken alone, and about the wire they speak of.
var metrologyRules = []*Rule{
	benchUndecided, benchLostWhenWarm, benchRisesWithCurrent, benchGroundWorse, benchOrientationsDiffer,
	benchLoopDisagrees, benchOffsetRemains, benchTooLow, benchAccuracyNotStated, benchNullNotTaken,
	benchNullAtOtherCurrent, benchSingleReading,
	claimedConductorsTooThin, claimedConductorsTooThick, conductorsLikeCladAluminium,
}

// noteRule makes a rule of a kind of note that the evaluation leaves.
func noteRule(r Rule, kind bench.NoteKind) *Rule {
	r.Property = Current
	r.Between = []Witness{Bench}
	r.Needs = []Evidence{BenchDrop}
	r.Check = func(c *Case) Result {
		var texts []string
		for _, n := range c.Resistance.Result.Notes {
			if n.Kind == kind {
				texts = append(texts, n.Text)
			}
		}
		return foundIf(len(texts) > 0, func() Values { return Values{"note": capitalised(strings.Join(texts, "; "))} })
	}
	return &r
}

var benchRisesWithCurrent = noteRule(Rule{
	ID: "bench-resistance-rises-with-current", Sources: []Citation{gum, ownReasoning}, Kind: Doubt,
	Title: "the resistance changes with the test current",
	Says:  "{note}.",
	Why:   "Copper that heats up or a bad contact behaves like this; at the rated current it may be worse than measured.",
	Next:  "Stop, let it cool, look at both plugs, and measure again with a pause between currents.",
}, bench.HeatingOrContact)

var benchGroundWorse = noteRule(Rule{
	ID: "bench-ground-worse-than-vbus", Sources: []Citation{typeCDrop}, Kind: Doubt,
	Title: "ground has more resistance than VBUS, though its limit is half",
	Says:  "{note}.",
	Why:   "A cable made for the limits has the better ground. A thin ground or a bad braid joint looks like this, and so do swapped leads.",
	Next:  "Make sure that the sense leads were not swapped, and measure ground again.",
}, bench.GroundAboveVBUS)

var benchOrientationsDiffer = noteRule(Rule{
	ID: "bench-orientations-differ", Sources: []Citation{typeCContacts, gum}, Kind: Doubt,
	Title: "the two orientations of the plug differ",
	Says:  "{note}.",
	Why:   "The two ways up use different contacts, so one row of them is worse. The cable is judged by the worse.",
	Next:  "Clean the plugs and measure both ways up again.",
}, bench.OrientationDiffers)

var benchLoopDisagrees = noteRule(Rule{
	ID: "bench-loop-differs-from-conductors", Sources: []Citation{gum, ownReasoning}, Kind: Doubt,
	Title: "the loop as measured is not the sum of VBUS and ground",
	Says:  "{note}.",
	Why:   "One of the readings is wrong: a sense lead in the wrong place, or another current than noted.",
	Next:  "Measure loop, VBUS and ground once more in one go.",
}, bench.LoopDisagrees)

var benchOffsetRemains = noteRule(Rule{
	ID: "bench-offset-remains", Sources: []Citation{gum, ownReasoning}, Kind: Remark,
	Title: "a drop remains that does not follow the current",
	Says:  "{note}.",
	Why:   "Thermal voltages and a null that was not subtracted look like this. The slope of the line is free of it, a single reading is not.",
	Next:  "Take a null with the current off, or reverse the current.",
}, bench.OffsetRemains)

var benchAccuracyNotStated = noteRule(Rule{
	ID: "bench-accuracy-not-stated", Sources: []Citation{gum, ilacG8}, Kind: Remark,
	Title: "a meter's accuracy is not on record, and is assumed",
	Says:  "{note}.",
	Why:   "Every uncertainty and decision here rests on the assumption; a better meter would decide more.",
	Next:  "Note voltmeter and ammeter with the accuracy their data sheets state.",
}, bench.AccuracyAssumed)

var benchNullNotTaken = noteRule(Rule{
	ID: "bench-null-not-taken", Sources: []Citation{iecMillivolt, commonPractice}, Kind: Remark,
	Title: "the fixture was not measured by itself",
	Says:  "{note}.",
	Why:   "Leads and fixture then count as cable. That is to the cable's disadvantage.",
	Next:  "Join the two fixture boards directly and note the drops at the same current as null.",
}, bench.NullNotTaken)

var benchNullAtOtherCurrent = noteRule(Rule{
	ID: "bench-null-at-other-current", Sources: []Citation{iecMillivolt, commonPractice}, Kind: Remark,
	Title: "the null was taken at another current than the readings",
	Says:  "{note}.",
	Why:   "The fixture may have another resistance at another current.",
	Next:  "Take the null at the current of the readings.",
}, bench.NullAtOtherCurrent)

var benchSingleReading = noteRule(Rule{
	ID: "bench-single-reading", Sources: []Citation{gum, commonPractice}, Kind: Remark,
	Title: "there is one reading and no repeat",
	Says:  "{note}.",
	Why:   "How much the plug's contacts vary from mating to mating is usually the larger part of the uncertainty, and does not show in one reading.",
	Next:  "Take three readings or more, with the plug pulled between them.",
}, bench.SingleReading)

var benchUndecided = &Rule{
	ID:       "bench-too-near-the-limit",
	Sources:  []Citation{ilacG8, jcgm106},
	Title:    "the reading is too near a limit to decide",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchBoth},
	Says:     "At {amps} {numbers}.",
	Why:      "Within its uncertainty the cable may be on either side of the limit, so the limit counts neither for nor against it.",
	Next:     "What would settle it: {options}.",
	Check: func(c *Case) Result {
		for _, amps := range []float64{LeastAmps, 5} {
			d, _ := c.Carries(amps)
			if d.Outcome != bench.Undecided {
				continue
			}
			var options []string
			for _, o := range bench.Settle(c.Resistance.Result, d) {
				options = append(options, o.Text)
			}
			return found(Values{"amps": ampsText(amps), "numbers": numbers(c, d), "options": strings.Join(options, "; ")})
		}
		return pass()
	},
}

var benchLostWhenWarm = &Rule{
	ID:       "bench-within-only-while-cold",
	Sources:  []Citation{natureCopper, typeCContacts},
	Title:    "the copper keeps the limits as measured, but not 30 K warmer",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchBoth},
	Says:     "At {amps} the copper is within the limits as measured; {rise} K warmer, as a connector may get, VBUS would have {vbus} (limit {vbuslimit}) and ground {ground} (limit {groundlimit}).",
	Why:      "Copper gains about 12 % of resistance in 30 K, and a cable at its rated current gets warm.",
	Next:     "Measure again at {amps} after it has warmed up, and give the cable some margin.",
	Check: func(c *Case) Result {
		for _, amps := range []float64{5, LeastAmps} {
			if d, _ := c.Carries(amps); d.Outcome != bench.Within {
				continue
			}
			warm := c.risen(amps)
			return foundIf(bench.DecideCable(warm, amps, c.Rule).Outcome != bench.Within, func() Values {
				return Values{
					"amps": ampsText(amps), "rise": fmt.Sprint(bench.RiseKelvin),
					"vbus": OhmText(warm.VBUS), "vbuslimit": limit(bench.VBUS, amps),
					"ground": OhmText(warm.Ground), "groundlimit": limit(bench.Ground, amps)}
			})
		}
		return notApplicable("the copper is not within the limits as measured")
	},
}

var benchTooLow = &Rule{
	ID:       "bench-lower-than-copper-allows",
	Sources:  []Citation{natureCopper, commonPractice},
	Title:    "the resistance is lower than any wire expected in such a cable has",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop, BenchLength},
	Says:     "{wires}.",
	Why:      "A wrong null, or leads that sense before the plug, make every cable look good.",
	Next:     "Take the null again, and measure a cable you know.",
	Check: func(c *Case) Result {
		var texts []string
		for _, w := range c.alike() {
			if w.TooLow {
				texts = append(texts, w.Text())
			}
		}
		return foundIf(len(texts) > 0, func() Values { return Values{"wires": capitalised(strings.Join(texts, "; "))} })
	},
}

// wireChecks holds the conductors claimed against the resistances, by the length
// taped, else by the one claimed and the part of it that rounding may add.
func wireChecks(c *Case, rounded float64) (checks []bench.WireCheck, length string) {
	l, taped := c.TapeLength()
	length = metres(l) + " by tape"
	if !taped {
		claimed := c.Claims.Length.Value
		l = claimed * (1 + rounded)
		length = fmt.Sprintf("%s (%s as claimed, %+.0f %% for rounding)", metres(l), metres(claimed), 100*rounded)
	}
	for _, conductor := range []bench.Conductor{bench.VBUS, bench.Ground} {
		if w, ok := bench.CheckWire(c.Resistance.Result, conductor, c.Claims.Conductors.Value, l, 0); ok {
			checks = append(checks, w)
		}
	}
	return checks, length
}

// wireRule is found where a conductor stands to the wire claimed as told.
func wireRule(r Rule, p bench.Plausibility) *Rule {
	r.Property = Conductors
	r.Between = []Witness{Seller, Bench}
	r.Needs = []Evidence{SellerConductors, BenchBoth}
	r.Settles = true
	r.Check = func(c *Case) Result {
		_, taped := c.TapeLength()
		if !taped && !c.Claims.Length.Known {
			return undecided("no length is on record", BenchLength)
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
			return undecided("copper one gauge thinner would have this resistance too", BenchDrop)
		}
		return foundIf(len(texts) > 0, func() Values {
			return Values{"claimed": c.Claims.Conductors.Text, "length": length, "wires": strings.Join(texts, "; ")}
		})
	}
	return &r
}

// gaugeStep is the ratio of the areas of neighbouring gauges, 92 to the power of 2/39
// (ASTM B258). Sizes in mm² are further apart.
var gaugeStep = math.Pow(92, 2.0/39)

// thinnerExcluded reports whether VBUS has less resistance than copper one gauge thinner
// than claimed would have: only then is the size shown.
func thinnerExcluded(c *Case) bool {
	l, taped := c.TapeLength()
	if !taped {
		l = c.Claims.Length.Value * (1 - lengthTolerance)
	}
	w, ok := bench.CheckWire(c.Resistance.Result, bench.VBUS, c.Claims.Conductors.Value/gaugeStep, l, 0)
	return ok && w.Plausibility == bench.TooLittleResistance
}

var claimedConductorsTooThin = wireRule(Rule{
	ID: "resistance-above-claimed-conductors", Sources: []Citation{natureCopper, iec60228, typeCContacts}, Kind: Contradiction,
	Title: "the conductors claimed would have less resistance than was measured",
	Says:  "The seller claims {claimed} at {length}, contacts at their worst allowed for. {wires}.",
	Why:   "The wire is thinner or longer than claimed, or is not copper, or the contacts are beyond their limit.",
	Next:  "Clean the plugs and measure again; then take the result to the seller.",
}, bench.TooMuchResistance)

var claimedConductorsTooThick = wireRule(Rule{
	ID: "resistance-below-claimed-conductors", Sources: []Citation{natureCopper, ownReasoning}, Kind: Doubt,
	Under: []string{"bench-lower-than-copper-allows"},
	Title: "the conductors claimed would have more resistance than was measured",
	Says:  "The seller claims {claimed} at {length}. {wires}.",
	Why:   "The wire is thicker than claimed, several run in parallel, or the null took too much away.",
	Next:  "Take the null again before believing it.",
}, bench.TooLittleResistance)

var conductorsLikeCladAluminium = &Rule{
	ID:       "resistance-consistent-with-clad-aluminium",
	Sources:  []Citation{astmB566, ownReasoning},
	Title:    "the resistance would fit copper-clad aluminium of the size claimed",
	Kind:     Remark,
	Property: Conductors,
	Between:  []Witness{Seller, Bench},
	Needs:    []Evidence{SellerConductors, BenchBoth, BenchLength},
	Under:    []string{"resistance-above-claimed-conductors"},
	Says:     "The seller claims {claimed}; the wire of {conductor} has {ratio} times the resistance of copper of that size. That is consistent with copper-clad aluminium, and just as well with copper two gauges thinner.",
	Why:      "Resistance alone never tells the metal.",
	Next:     "Cut a cable of the batch open and look, or weigh the wire.",
	Check: func(c *Case) Result {
		checks, _ := wireChecks(c, 0) // the length is taped
		for _, w := range checks {
			for _, m := range w.ConsistentWith {
				if m == bench.CopperCladAluminum {
					return found(Values{"claimed": c.Claims.Conductors.Text, "conductor": inSentence(w.Conductor),
						"ratio": fmt.Sprintf("%.2f to %.2f", w.Ratio.Low, w.Ratio.High)})
				}
			}
		}
		return pass()
	},
}
