package claims

import (
	"fmt"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var markingRules = []*Rule{claimedMarkedButSilent, claimedUnmarkedButAnswers, legacyCableAnswers, claimedActiveDiffers,
	captiveCodeOnDetachable, claimedPlugsDiffer}

var claimedPlugsDiffer = &Rule{
	ID:       "claimed-plugs-differ-from-seen",
	Sources:  []Citation{ownReasoning},
	Title:    "the ends seen are not the ends claimed",
	Kind:     Contradiction,
	Property: Plugs,
	Between:  []Witness{Seller, Bench},
	Needs:    []Evidence{SellerPlugs, BenchPlugs},
	Settles:  true,
	Says:     "The cable is sold as {claimed}; the plugs seen are {seen}.",
	Why:      "It is another product than the one described, and other rules hold for it.",
	Next:     "Make sure that the record belongs to this cable.",
	Check: func(c *Case) Result {
		seen, _ := c.SeenPlugs()
		claimed := c.Claims.Plugs.Value
		return foundIf(seen != claimed, Values{"claimed": string(claimed), "seen": string(seen)})
	},
}

var claimedMarkedButSilent = &Rule{
	ID:       "claimed-marked-but-silent",
	Sources:  []Citation{pdIdentity},
	Title:    "a marker is claimed, but nothing answered",
	Kind:     Contradiction,
	Property: Marking,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerMarked, MarkerAsked},
	Settles:  true,
	Says:     "The seller says the cable has a marker ({claimed}); it was asked and nothing answered.",
	Why:      "Without an answer every source treats the cable as 20 V and 3 A.",
	Next:     "Ask once more with VCONN applied, and with the plug the other way up.",
	Check: func(c *Case) Result {
		if !c.Claims.Marked.Value {
			return notApplicable("no marker is claimed")
		}
		return foundIf(c.Marker() == MarkerAbsent, Values{"claimed": c.Claims.Marked.Text})
	},
}

var claimedUnmarkedButAnswers = &Rule{
	ID:       "claimed-unmarked-but-answers",
	Sources:  []Citation{pdIdentity},
	Title:    "the seller says there is no marker, but one answers",
	Kind:     Contradiction,
	Property: Marking,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerMarked, MarkerAsked},
	Settles:  true,
	Says:     "The seller says the cable has no marker (marked: {claimed}); one answers and declares {declared}.",
	Why:      "Sources will follow what the marker declares.",
	Next:     "Make sure that the right cable was read, then trust the marker over the label for what sources will do.",
	Check: func(c *Case) Result {
		if c.Claims.Marked.Value {
			return notApplicable("a marker is claimed")
		}
		return foundIf(c.Marker() == MarkerAnswered, Values{"claimed": c.Claims.Marked.Text, "declared": declared(c)})
	},
}

var legacyCableAnswers = &Rule{
	ID:       "legacy-cable-answers",
	Sources:  []Citation{typeCLegacy},
	Title:    "a cable with an older connector at one end answers like a marked one",
	Kind:     Contradiction,
	Property: Plugs,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerPlugs, MarkerNear},
	Says:     "The cable is sold as {plugs}, which has no CC wire from end to end and no VCONN; yet a marker answered and declares {declared}.",
	Why:      "Either the ends are not what is claimed, or another cable was read.",
	Next:     "Look at both ends, and read the marker again with only this cable attached.",
	Check: func(c *Case) Result {
		p := c.Claims.Plugs.Value
		return foundIf(p.Legacy(), Values{"plugs": string(p), "declared": declared(c)})
	},
}

var claimedActiveDiffers = &Rule{
	ID:       "claimed-active-differs-from-marker",
	Sources:  []Citation{pdProductType},
	Title:    "seller and marker disagree on whether the cable is active",
	Kind:     Contradiction,
	Property: Activity,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerActive, MarkerNear},
	Settles:  true,
	Says:     "The seller says {claimed}; the marker calls itself {product}.",
	Why:      "Active and passive cables are driven differently and have different limits of length.",
	Next:     "Look for electronics in the plugs, and ask Discover Modes for SVID 0x8087: linear re-drivers call themselves passive there and only there.",
	Check: func(c *Case) Result {
		s := c.Near.Summary
		p, ok := s.Product.Get()
		if !ok || p != vdo.PassiveType && p != vdo.ActiveType {
			return notApplicable("the marker is neither a passive nor an active cable")
		}
		claimed := c.Claims.Active.Value
		if claimed == (p == vdo.ActiveType) || s.LinearRedriver().Or(false) {
			return pass()
		}
		if claimed && s.Modal.Or(false) && !s.Thunderbolt.Known() {
			return undecided("a cable with linear re-drivers calls itself passive in the ID header; its Thunderbolt mode word would tell", MarkerThunderbolt)
		}
		words := map[bool]string{true: "active", false: "passive"}
		return found(Values{"claimed": words[claimed], "product": p.String()})
	},
}

var captiveCodeOnDetachable = &Rule{
	ID:       "captive-code-on-detachable-cable",
	Sources:  []Citation{pdCableWord, ownReasoning},
	Title:    "the marker says captive, but the cable has a Type-C plug at each end",
	Kind:     Contradiction,
	Property: Plugs,
	Between:  []Witness{Bench, Marker},
	Needs:    []Evidence{BenchPlugs, MarkerCable},
	Says:     "The plugs seen are {seen}; the marker declares a {declared} end.",
	Why:      "The marker was programmed for another product.",
	Next:     "Do not rely on the rest of what this marker declares without measuring.",
	Check: func(c *Case) Result {
		seen, _ := c.SeenPlugs()
		e, ok := c.Near.Summary.End.Get()
		if !ok {
			return notApplicable("the marker declares no valid end")
		}
		return foundIf(seen == record.CToC && e == vdo.EndCaptive, Values{"seen": string(seen), "declared": fmt.Sprint(e)})
	},
}
