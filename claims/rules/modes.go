package rules

import (
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Rules about alternate modes: the mode words taken alone, then what is claimed.
var modeRules = []*claims.Rule{
	claimedThunderboltWithoutMode, claimedThunderboltAboveMarker, claimedDisplayPortNotCarried, claimedModesOnUnmarked,
	claimedModesOverLegacy, claimedModesOverUSB2, claimedThunderbolt3WithoutMode, claimedThunderboltAboveClaimedData,
	thunderbolt5OverGen3, thunderboltGenerationNotStated,
	thunderboltReserved, displayPortReserved, displayPortWithoutRate, displayPortPinsWithdrawn,
	thunderboltBelowCableWord, thunderboltOverUSB2,
}

// reservedCodes lists what in a mode word is reserved and still used.
func reservedCodes(layout string, w uint32) []string {
	var out []string
	for f := range vdo.LayoutNamed(layout).Read(w) {
		switch {
		case f.Reserved() && f.Raw != 0:
			out = append(out, fmt.Sprintf("reserved bits %d..%d hold %d", f.High(), f.Low(), f.Raw))
		case !f.Reserved() && f.Standing == vdo.Reserved:
			out = append(out, fmt.Sprintf("%s in bits %d..%d has code %d", strings.ToLower(f.Title), f.High(), f.Low(), f.Raw))
		}
	}
	return out
}

var thunderboltReserved = markerRule(claims.Rule{
	ID: "thunderbolt-word-reserved-codes", Sources: []claims.Citation{source.TypeCTBT}, Kind: claims.Breach, Property: claims.Modes,
	Title: "the Thunderbolt mode word uses reserved bits or codes",
	Needs: []claims.Evidence{claims.MarkerThunderbolt},
	Says:  "In the Thunderbolt mode word {word}: {codes}.",
	Why:   "A host may refuse the mode, or run it at the lowest rate.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		m, _ := c.Near.Summary.Thunderbolt.Get()
		codes := reservedCodes("thunderbolt-cable", uint32(m))
		return foundIf(len(codes) > 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(m)), "codes": strings.Join(codes, "; ")}
		})
	},
})

// dpUnassigned is the bit of the signalling mask that no rate has.
const dpUnassigned = 1 << 3

var displayPortReserved = markerRule(claims.Rule{
	ID: "displayport-word-reserved-codes", Sources: []claims.Citation{source.DPCable}, Kind: claims.Breach, Property: claims.Modes,
	Title: "the DisplayPort mode word uses reserved bits or codes",
	Needs: []claims.Evidence{claims.MarkerDisplayPort},
	Says:  "In the DisplayPort mode word {word}: {codes}.",
	Why:   "A host may refuse the mode, or run it at the lowest rate.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		m, _ := c.Near.Summary.DisplayPort.Get()
		codes := reservedCodes("displayport-cable", uint32(m))
		if m.Signalling()&dpUnassigned != 0 {
			codes = append(codes, "bit 5, the highest of the signalling mask, is assigned to no rate")
		}
		return foundIf(len(codes) > 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(m)), "codes": strings.Join(codes, "; ")}
		})
	},
})

var displayPortWithoutRate = markerRule(claims.Rule{
	ID: "displayport-word-without-rate", Sources: []claims.Citation{source.OwnReasoning, source.DPCable}, Kind: claims.Doubt, Property: claims.Modes,
	Title: "the DisplayPort mode word states no rate",
	Needs: []claims.Evidence{claims.MarkerDisplayPort},
	Says:  "The DisplayPort mode word {word} sets no bit of its signalling mask (bits 5..2), nor bit 26.",
	Why:   "The cable declares the mode, but not its rate.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		m, _ := c.Near.Summary.DisplayPort.Get()
		return foundIf(m.LaneGbps() == 0, func() claims.Values { return claims.Values{"word": say.Word(uint32(m))} })
	},
})

// dpPinsWithdrawn are pin assignments A, B and F, which DP Alt Mode withdrew after
// version 1.0b.
const dpPinsWithdrawn = 1<<0 | 1<<1 | 1<<5

var displayPortPinsWithdrawn = markerRule(claims.Rule{
	ID: "displayport-pins-withdrawn", Sources: []claims.Citation{source.DPCable}, Kind: claims.Doubt, Property: claims.Modes,
	Title: "the DisplayPort mode word offers pin assignments that are withdrawn",
	Needs: []claims.Evidence{claims.MarkerDisplayPort},
	Says:  "The DisplayPort mode word {word} offers pin assignments {pins}; A, B and F are withdrawn since version 1.0b.",
	Why:   "The word follows an older revision than the one it names.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		m, _ := c.Near.Summary.DisplayPort.Get()
		var pins []string
		for i, name := range []string{"A", "B", "C", "D", "E", "F"} {
			if (m.UFPPins()|m.DFPPins())>>i&1 != 0 {
				pins = append(pins, name)
			}
		}
		return foundIf((m.UFPPins()|m.DFPPins())&dpPinsWithdrawn != 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(m)), "pins": strings.Join(pins, ", ")}
		})
	},
})

var thunderboltBelowCableWord = markerRule(claims.Rule{
	ID: "thunderbolt-slower-than-cable-word", Sources: []claims.Citation{source.OwnReasoning, source.TypeCTBT, source.PDCableWord}, Kind: claims.Doubt, Property: claims.Data,
	Title: "the Thunderbolt mode word declares less than the cable word",
	Needs: []claims.Evidence{claims.MarkerCable, claims.MarkerThunderbolt},
	Says:  "The cable word declares {speed}, {usb} a lane; the Thunderbolt mode word {word} declares {tbt} a lane.",
	Why:   "Both use the same wires, so one of the two is wrong. The reverse is common in older Thunderbolt cables.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		m, _ := s.Thunderbolt.Get()
		speed, ok := s.Speed.Get()
		if !ok || m.Speed().LaneGbps() == 0 {
			return notApplicable("one of the words declares no valid speed")
		}
		return foundIf(m.Speed().LaneGbps() < min(speed.LaneGbps(), claims.ThunderboltLaneGbps), func() claims.Values {
			return claims.Values{"speed": speed.String(),
				"usb": gbps(speed.LaneGbps()), "word": say.Word(uint32(m)), "tbt": gbps(m.Speed().LaneGbps())}
		})
	},
})

// gbps prints a data rate, given in Gbps.
var thunderboltOverUSB2 = markerRule(claims.Rule{
	ID: "thunderbolt-mode-over-usb-2-wires", Sources: []claims.Citation{source.OwnReasoning, source.TypeCTBT, source.PDCableWord}, Kind: claims.Doubt, Property: claims.Data,
	Title: "a passive USB 2.0 cable declares Thunderbolt",
	Needs: []claims.Evidence{claims.MarkerCable, claims.MarkerThunderbolt},
	Says:  "The cable word of this passive cable declares USB 2.0 only, which has no fast pairs; its Thunderbolt mode word {word} declares {tbt} over them.",
	Why:   "One of the words belongs to another product.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		m, _ := s.Thunderbolt.Get()
		if !s.Product.Is(isPassive) || m.Active() {
			return notApplicable("the cable has electronics; active Thunderbolt cables carry no SuperSpeed, and say USB 2.0")
		}
		speed, ok := s.Speed.Get()
		return foundIf(ok && speed == vdo.USB2, func() claims.Values { return claims.Values{"word": say.Word(uint32(m)), "tbt": m.Speed().String()} })
	},
})

func isThunderbolt(m record.Mode) bool {
	return m == record.Thunderbolt3 || m == record.Thunderbolt4 || m == record.Thunderbolt5
}

// thunderboltClaimed is the highest Thunderbolt mode claimed, empty if none.
func thunderboltClaimed(c *claims.Case) (highest record.Mode) {
	for _, m := range c.Claims.Modes.Value {
		if isThunderbolt(m) && m > highest { // by name, which ends in the generation
			highest = m
		}
	}
	return highest
}

var modeNames = map[record.Mode]string{
	record.DisplayPort: "DisplayPort", record.Thunderbolt3: "Thunderbolt 3",
	record.Thunderbolt4: "Thunderbolt 4", record.Thunderbolt5: "Thunderbolt 5",
}

const noThunderbolt = "Thunderbolt is not claimed"

// thunderboltRule asks the table for the Thunderbolt generation claimed.
func thunderboltRule(r claims.Rule, check func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result) *claims.Rule {
	r.Property = claims.Modes
	r.Between = []claims.Witness{claims.Seller, claims.Marker}
	r.Needs = []claims.Evidence{claims.SellerModes, claims.MarkerCable}
	r.Settles = true
	r.Check = func(c *claims.Case) claims.Result {
		m := thunderboltClaimed(c)
		if m == "" {
			return notApplicable(noThunderbolt)
		}
		return check(c, m, claims.ModeAbility(m))
	}
	return &r
}

var claimedThunderboltWithoutMode = thunderboltRule(claims.Rule{
	ID: "claimed-thunderbolt-without-mode", Sources: []claims.Citation{source.TypeCTBT, source.OwnReasoning}, Kind: claims.Contradiction,
	Title: "Thunderbolt is claimed, but the marker has no Thunderbolt mode",
	Says:  "The seller claims {claimed}; the marker does not answer for SVID 0x8087.",
	Why:   "Hosts need this mode before they use Thunderbolt over such a cable.",
	Next:  "Read Discover SVIDs again. If the mode is missing, do not expect Thunderbolt.",
}, func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result {
	switch can := c.ThunderboltMode(a); {
	case can.State == claims.Excluded:
		return found(claims.Values{"claimed": modeNames[m]})
	case can.State == claims.Shown:
		return pass()
	case m == record.Thunderbolt3 && c.Near.Summary.Product.Is(isPassive):
		return notApplicable("a passive cable may run Thunderbolt 3 without its mode")
	default:
		return undecided(can.Why, can.Missing...)
	}
})

var claimedThunderbolt3WithoutMode = thunderboltRule(claims.Rule{
	ID: "claimed-thunderbolt-3-without-mode", Sources: []claims.Citation{source.TypeCTBT, source.OwnReasoning}, Kind: claims.Doubt,
	Title: "Thunderbolt 3 is claimed for a passive cable without the mode",
	Says:  "The seller claims {claimed}; the marker does not answer for SVID 0x8087. Passive cables can run Thunderbolt 3 without it, but nothing shows that this one does.",
	Why:   "The host decides whether it works.",
	Next:  "Test it between two Thunderbolt devices.",
}, func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result {
	if m != record.Thunderbolt3 || !c.Near.Summary.Product.Is(isPassive) {
		return notApplicable("this claim needs the mode")
	}
	can := c.ThunderboltMode(a)
	if _, known := c.Near.HasThunderbolt(); !known {
		return undecided(can.Why, can.Missing...)
	}
	return foundIf(can.State != claims.Shown, func() claims.Values { return claims.Values{"claimed": modeNames[m]} })
})

var claimedThunderboltAboveMarker = thunderboltRule(claims.Rule{
	ID: "claimed-thunderbolt-above-marker", Sources: []claims.Citation{source.TypeCTBT, source.PDCableWord}, Kind: claims.Contradiction,
	Title: "a Thunderbolt generation is claimed that needs more than the marker declares",
	Under: []string{"claimed-data-above-marker"},
	Says:  "The seller claims {claimed}. {why}.",
	Why:   "Hosts set the link by the marker.",
	Next:  "Expect what the marker declares.",
}, func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result {
	can := c.ThunderboltSpeed(a)
	if can.State == claims.Open {
		return undecided(can.Why, can.Missing...)
	}
	return foundIf(can.State == claims.Excluded, func() claims.Values { return claims.Values{"claimed": modeNames[m], "why": say.Capitalised(can.Why)} })
})

var thunderbolt5OverGen3 = thunderboltRule(claims.Rule{
	ID: "claimed-thunderbolt-5-over-passive-gen-3", Sources: []claims.Citation{source.USB4V2, source.TypeCTBT}, Kind: claims.Doubt,
	Title: "Thunderbolt 5 is claimed for a passive cable whose marker declares 20 Gbps a lane",
	Says:  "The seller claims {claimed}; the marker declares {declared}. USB4 Version 2.0 also runs at 80 Gbps over passive 40 Gbps cables up to about 1 m, and the marker does not declare Gen 4.",
	Why:   "The host decides whether it tries 80 Gbps over this cable.",
	Next:  "Test the link between two devices of that rate.",
}, func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result {
	s := &c.Near.Summary
	if m != record.Thunderbolt5 || !s.Product.Is(isPassive) {
		return notApplicable("the claim is not Thunderbolt 5 over a passive cable")
	}
	lane, _ := s.LaneGbps().Get()
	return foundIf(c.Can(a).State == claims.Open && lane == claims.ThunderboltLaneGbps, func() claims.Values { return claims.Values{"claimed": modeNames[m], "declared": say.Speed(s)} })
})

var thunderboltGenerationNotStated = thunderboltRule(claims.Rule{
	ID: "thunderbolt-generation-not-stated", Sources: []claims.Citation{source.OwnReasoning, source.TypeCTBT}, Kind: claims.Remark,
	Title: "Thunderbolt 4 or 5 is claimed, which no marker declares",
	Says:  "The seller claims {claimed}; no marker declares a generation above Thunderbolt 3, so a marker can fit the claim but not prove it.",
	Why:   "A claim that only fits the marker is not shown.",
	Next:  "Look up the cable in the list of licensed products, and test it between two such devices.",
}, func(c *claims.Case, m record.Mode, a claims.Ability) claims.Result {
	switch {
	case m == record.Thunderbolt3:
		return notApplicable("neither Thunderbolt 4 nor 5 is claimed")
	case c.Can(a).State == claims.Excluded:
		return notApplicable("the marker contradicts the claim")
	}
	return found(claims.Values{"claimed": modeNames[m]})
})

var claimedDisplayPortNotCarried = &claims.Rule{
	ID:       "claimed-displayport-not-carried",
	Sources:  []claims.Citation{source.DPCable},
	Title:    "DisplayPort is claimed, but a host concludes from the marker that there is none",
	Kind:     claims.Contradiction,
	Property: claims.Modes,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerModes, claims.MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-data-above-marker"},
	Says:     "The seller claims DisplayPort; the marker is {product} that declares {declared}, from which a host concludes that the cable carries none. {tunnel}.",
	Why:      "The host does not enter the mode.",
	Next:     "Read Discover SVIDs and Discover Modes for 0xFF01 again.",
	Check: func(c *claims.Case) claims.Result {
		if !slices.Contains(c.Claims.Modes.Value, record.DisplayPort) {
			return notApplicable("DisplayPort is not claimed")
		}
		can := c.Can(claims.CanDisplayPort)
		if can.State == claims.Open {
			return undecided(can.Why, can.Missing...)
		}
		s := c.Near.Summary
		product, _ := s.Product.Get()
		return foundIf(can.State == claims.Excluded, func() claims.Values {
			tunnel := "A picture inside USB4 or Thunderbolt is excluded too"
			if c.Can(claims.CanTunnel).State != claims.Excluded {
				tunnel = "A picture inside USB4 or Thunderbolt is another question, and not excluded"
			}
			return claims.Values{"product": articled(product), "declared": say.Speed(&s), "tunnel": tunnel}
		})
	},
}

var claimedModesOnUnmarked = &claims.Rule{
	ID:       "claimed-modes-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "alternate modes are claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Modes,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerModes, claims.MarkerAsked},
	Under:    before(silentMarker, "claimed-modes-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer. The modes use the fast pairs, and a Type-C to Type-C cable with fast pairs must have a marker.",
	Why:      "A host uses USB 2.0 and enters no mode.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up.",
	Check: func(c *claims.Case) claims.Result {
		if why := needsNoMarkerEnds(c); why != "" {
			return notApplicable(why)
		}
		return foundIf(c.Marker() == claims.MarkerAbsent, func() claims.Values { return claims.Values{"claimed": modesText(c)} })
	},
}

func modesText(c *claims.Case) string {
	var names []string
	for _, m := range c.Claims.Modes.Value {
		names = append(names, modeNames[m])
	}
	return strings.Join(names, " and ")
}

var claimedModesOverLegacy = &claims.Rule{
	ID:       "claimed-modes-over-legacy-cable",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "alternate modes are claimed over a cable with an older connector",
	Kind:     claims.Breach,
	Property: claims.Modes,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerModes},
	Under:    before(olderConnector, "claimed-modes-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so no mode works over it.",
	Why:      "Modes are negotiated over the CC wire.",
	Next:     "Use a Type-C to Type-C cable.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok {
			return undecided("no plugs are recorded", claims.SellerPlugs)
		}
		return foundIf(p.Legacy(), func() claims.Values { return claims.Values{"claimed": modesText(c), "plugs": string(p)} })
	},
}

var claimedModesOverUSB2 = &claims.Rule{
	ID:       "claimed-modes-over-usb-2",
	Sources:  []claims.Citation{source.TypeCCables, source.DPCable},
	Title:    "alternate modes are claimed for a cable sold as USB 2.0",
	Kind:     claims.Breach,
	Property: claims.Modes,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerModes, claims.SellerData},
	Says:     "The seller claims {claimed} and {data}; a USB 2.0 cable has no fast pairs, over which the modes run.",
	Why:      "The two claims cannot both be true.",
	Next:     "Ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		if why := fastPairsBeside(c); why != "" {
			return notApplicable(why)
		}
		return foundIf(c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps(), func() claims.Values { return claims.Values{"claimed": modesText(c), "data": c.Claims.Data.Text} })
	},
}

// needsNoMarkerEnds says why a cable with these ends needs no marker, empty where it does.
func needsNoMarkerEnds(c *claims.Case) string {
	switch p, ok := c.Plugs(); {
	case ok && p.Legacy():
		return "a legacy cable has no marker that could show it"
	case ok && p == record.CCaptive:
		return captiveNeedsNone
	}
	return ""
}

const captiveNeedsNone = "a captive cable is part of its device and needs no marker"

// fastPairsBeside says why a cable sold as USB 2.0 may have fast pairs all the same.
// DisplayPort on four lanes leaves USB 2.0 beside it, and active Thunderbolt 3 cables
// carry no SuperSpeed.
func fastPairsBeside(c *claims.Case) string {
	p, ok := c.Plugs()
	switch {
	case thunderboltClaimed(c) != "" && (c.Claims.Active.Value || !c.Claims.Active.Known):
		return "an active Thunderbolt cable may carry USB 2.0 only beside Thunderbolt"
	case thunderboltClaimed(c) == "":
		return "DisplayPort on four lanes leaves USB 2.0 beside it"
	case ok && p == record.CCaptive:
		return "a captive cable may carry a picture, and USB 2.0 beside it"
	}
	return ""
}

var claimedThunderboltAboveClaimedData = &claims.Rule{
	ID:       "claimed-thunderbolt-above-claimed-data",
	Sources:  []claims.Citation{source.OwnReasoning},
	Title:    "the Thunderbolt generation claimed needs more than the data rate claimed",
	Kind:     claims.Doubt,
	Property: claims.Modes,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerModes, claims.SellerData},
	Says:     "The seller claims {claimed}, which needs {needed} at least, and a data rate of {data}.",
	Why:      "One of the two is an error, or describes another product.",
	Next:     "Ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		m := thunderboltClaimed(c)
		rate := c.Claims.Data.Value.Gbps
		switch {
		case m == "":
			return notApplicable(noThunderbolt)
		case rate <= vdo.USB2.Gbps():
			return notApplicable("USB 2.0 beside Thunderbolt is usual for active cables; see claimed-modes-over-usb-2")
		}
		// What is sold as Thunderbolt 3 may give its rate over USB 3.2, of one lane.
		need := 2 * claims.ThunderboltNeedsGbps(claims.ModeAbility(m))
		if m == record.Thunderbolt3 {
			need = claims.ThunderboltNeedsGbps(claims.ModeAbility(m))
		}
		return foundIf(rate < need, func() claims.Values {
			return claims.Values{"claimed": modeNames[m], "needed": gbps(need), "data": c.Claims.Data.Text}
		})
	},
}
