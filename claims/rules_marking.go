package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var markingRules = []*Rule{
	claimedMarkedButSilent, claimedUnmarkedButAnswers, legacyCableAnswers, claimedActiveDiffers,
	captiveCodeOnDetachable, claimedPlugsDiffer, claimedUnmarkedAbove, claimedActiveButUnmarked, claimedMarkedOverLegacy,
	claimedPlugsDifferFromMarker, seenPlugsDifferFromMarker, seenLegacyCableAnswers, benchVBUSAgainstMarker, captiveDeclaresOtherEnd,
}

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
		return foundIf(seen != claimed, func() Values { return Values{"claimed": string(claimed), "seen": string(seen)} })
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
	Says:     "The seller says the cable has a marker (marked: {claimed}); it was asked and nothing answered.",
	Why:      "Without an answer every source treats the cable as 20 V and 3 A.",
	Next:     "Ask once more with VCONN applied, and with the plug the other way up.",
	Check: func(c *Case) Result {
		if !c.Claims.Marked.Value {
			return notApplicable("no marker is claimed")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		return foundIf(c.Marker() == MarkerAbsent, func() Values { return Values{"claimed": yesOrNo(c.Claims.Marked.Value)} })
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
	Says:     "The seller says the cable has no marker (marked: {claimed}); one answers.",
	Why:      "Sources will follow what the marker declares.",
	Next:     "Make sure that the right cable was read, then trust the marker over the label for what sources will do.",
	Check: func(c *Case) Result {
		if c.Claims.Marked.Value {
			return notApplicable("a marker is claimed")
		}
		return foundIf(c.Marker() == MarkerAnswered, func() Values { return Values{"claimed": yesOrNo(c.Claims.Marked.Value)} })
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
	Under:    []string{"claimed-plugs-differ-from-seen"},
	Says:     "The cable is sold as {plugs}, which has no CC wire from end to end and no VCONN; yet a marker answered and declares {declared}.",
	Why:      "Either the ends are not what is claimed, or another cable was read.",
	Next:     "Look at both ends, and read the marker again with only this cable attached.",
	Check: func(c *Case) Result {
		p := c.Claims.Plugs.Value
		return foundIf(p.Legacy(), func() Values { return Values{"plugs": string(p), "declared": declared(c)} })
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
		if !ok || !isCable(p) {
			return notApplicable("the marker is neither a passive nor an active cable")
		}
		claimed := c.Claims.Active.Value
		switch {
		case p == vdo.ActiveType && claimed:
			return pass()
		case p == vdo.ActiveType:
		case s.LinearRedriver().Or(false) && claimed:
			return pass()
		case s.LinearRedriver().Or(false):
			return notApplicable("the marker declares linear re-drivers, which are passive in the ID header and active in the Thunderbolt mode word")
		case s.PD2 && s.Thunderbolt.Known():
			return undecided("bit 25 of the Thunderbolt mode word is clear, and PD 2.0 does not define it; ask it again under PD 3.x", MarkerNear)
		case c.modesOpen(vdo.SVIDThunderbolt):
			return undecided("a cable with linear re-drivers is passive in the ID header too; its Thunderbolt mode word would tell", MarkerThunderbolt)
		case !claimed:
			return pass()
		}
		words := map[bool]string{true: "active", false: "passive"}
		return found(Values{"claimed": words[claimed], "product": articled(p)})
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
		return foundIf(seen == record.CToC && e == vdo.EndCaptive, func() Values { return Values{"seen": string(seen), "declared": fmt.Sprint(e)} })
	},
}

var claimedUnmarkedAbove = &Rule{
	ID:       "claimed-unmarked-where-marking-is-required",
	Sources:  []Citation{typeCCables},
	Title:    "the seller says there is no marker, and claims what needs one",
	Kind:     Breach,
	Property: Marking,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerMarked},
	Under:    before(silentMarker, "claimed-unmarked-where-marking-is-required"),
	Says:     "The seller says the cable has no marker (marked: {claimed}) and claims {more}; only a passive Type-C to Type-C cable for USB 2.0 and 3 A may do without.",
	Why:      "Without a marker sources keep to 3 A and 20 V, and hosts take the cable for USB 2.0.",
	Next:     "Expect 60 W and USB 2.0, or ask for a marked cable.",
	Check: func(c *Case) Result {
		cl := c.Claims
		p, ok := c.Plugs()
		switch {
		case cl.Marked.Value:
			return notApplicable("a marker is claimed")
		case ok && p.Legacy():
			return notApplicable("cables with an older connector are not marked")
		case ok && p == record.CCaptive:
			return notApplicable(captiveNeedsNone)
		}
		var more []string
		if cl.Power.Value > mostUnmarkedWatts {
			more = append(more, cl.Power.Text)
		}
		if cl.Current.Value > LeastAmps {
			more = append(more, cl.Current.Text)
		}
		fast := cl.Data.Value.Gbps > vdo.USB2.Gbps()
		if fast && !mayBeLegacy(c) {
			more = append(more, cl.Data.Text)
		}
		if cl.Active.Value && ok {
			more = append(more, "that it is active")
		}
		if (fast || cl.Active.Value) && len(more) == 0 {
			return undecided(plugsUnknown, SellerPlugs)
		}
		return foundIf(len(more) > 0, func() Values { return Values{"claimed": yesOrNo(cl.Marked.Value), "more": strings.Join(more, ", ")} })
	},
}

var claimedActiveButUnmarked = &Rule{
	ID:       "claimed-active-on-unmarked-cable",
	Sources:  []Citation{typeCCables},
	Title:    "an active cable is claimed, and no marker answers",
	Kind:     Contradiction,
	Property: Activity,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerActive, MarkerAsked},
	Under:    before(silentMarker, "claimed-active-on-unmarked-cable"),
	Says:     "The seller says the cable is active (active: {claimed}); the marker was asked and did not answer, and an active cable must be marked.",
	Why:      "Without an answer nothing powers and sets up the electronics.",
	Next:     "Ask once more with VCONN applied and the plug the other way up.",
	Check: func(c *Case) Result {
		if !c.Claims.Active.Value {
			return notApplicable("it is not sold as active")
		}
		if why := needsNoMarkerEnds(c); why != "" {
			return notApplicable(why)
		}
		if _, ok := c.Plugs(); !ok && c.Marker() == MarkerAbsent {
			return undecided("no plugs are on record, and an active cable with an older connector answers nothing", SellerPlugs)
		}
		return foundIf(c.Marker() == MarkerAbsent, func() Values { return Values{"claimed": yesOrNo(c.Claims.Active.Value)} })
	},
}

var claimedMarkedOverLegacy = &Rule{
	ID:       "claimed-marked-over-legacy-cable",
	Sources:  []Citation{ownReasoning, typeCLegacy},
	Title:    "a marker is claimed in a cable with an older connector",
	Kind:     Doubt,
	Property: Marking,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerMarked},
	Under:    before(olderConnector, "claimed-marked-over-legacy-cable"),
	Says:     "The seller says the {plugs} cable has a marker (marked: {claimed}); without a CC wire from end to end and VCONN nothing could ask it.",
	Why:      "The words may describe another cable of the same seller.",
	Next:     "Ask the seller what is meant.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is on record")
		}
		return foundIf(c.Claims.Marked.Value, func() Values { return Values{"claimed": yesOrNo(c.Claims.Marked.Value), "plugs": string(p)} })
	},
}

// captiveEnd: markers of captive docks answer with plug type 10b as a rule.
const captiveEnd = "see captive-cable-declares-another-end"

var captiveDeclaresOtherEnd = &Rule{
	ID:       "captive-cable-declares-another-end",
	Sources:  []Citation{commonPractice, typeCCaptive, pdCableWord},
	Title:    "a captive cable's marker declares another end",
	Kind:     Doubt,
	Property: Plugs,
	Between:  []Witness{Marker},
	Needs:    []Evidence{MarkerCable},
	Says:     "The cable is captive; its marker declares a {declared} end.",
	Why:      "Markers of docks often do so. The device knows its own cable and does not depend on it.",
	Next:     "Check that the marker read is the one in this cable.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		e, known := c.Near.Summary.End.Get()
		if !ok || p != record.CCaptive || !known {
			return notApplicable("no captive cable with a valid end in its marker is on record")
		}
		return foundIf(e != vdo.EndCaptive, func() Values { return Values{"declared": e.String()} })
	},
}

// endOf is what a marker should say a cable leads to. Type-A and Type-B can be
// said only in the PD 2.0 layout, and by cables that can say nothing.
var endOf = map[record.Plugs]vdo.End{record.CToC: vdo.EndTypeC, record.CCaptive: vdo.EndCaptive}

var claimedPlugsDifferFromMarker = &Rule{
	ID:       "claimed-plugs-differ-from-marker",
	Sources:  []Citation{pdCableWord, pd2CableWord},
	Title:    "the marker declares another end than the seller",
	Kind:     Contradiction,
	Property: Plugs,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerPlugs, MarkerCable},
	Says:     "The cable is sold as {claimed}; the marker declares a {declared} end.",
	Why:      "The marker was programmed for another product, or another product was sold.",
	Next:     "Look at both ends.",
	Check: func(c *Case) Result {
		claimed := c.Claims.Plugs.Value
		e, ok := c.Near.Summary.End.Get()
		want, known := endOf[claimed]
		switch {
		case !ok:
			return notApplicable("the marker declares no valid end")
		case !known:
			return notApplicable("a legacy cable should not answer at all; see legacy-cable-answers")
		}
		if _, ok := c.SeenPlugs(); ok {
			return notApplicable("the plugs were seen, and what is seen counts")
		}
		if claimed == record.CCaptive {
			return notApplicable(captiveEnd)
		}
		return foundIf(e != want, func() Values { return Values{"claimed": string(claimed), "declared": e.String()} })
	},
}

var seenPlugsDifferFromMarker = &Rule{
	ID:       "seen-plugs-differ-from-marker",
	Sources:  []Citation{pdCableWord, pd2CableWord},
	Title:    "the marker declares another end than the one seen",
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
		want, known := endOf[seen]
		switch {
		case !ok:
			return notApplicable("the marker declares no valid end")
		case !known:
			return notApplicable("a legacy cable should not answer at all; see seen-legacy-cable-answers")
		case seen == record.CToC && e == vdo.EndCaptive:
			return notApplicable("see captive-code-on-detachable-cable")
		case seen == record.CCaptive:
			return notApplicable(captiveEnd)
		}
		return foundIf(e != want, func() Values { return Values{"seen": string(seen), "declared": e.String()} })
	},
}

var seenLegacyCableAnswers = &Rule{
	ID:       "seen-legacy-cable-answers",
	Sources:  []Citation{typeCLegacy},
	Title:    "an older connector is seen at one end, and a marker answers",
	Kind:     Contradiction,
	Property: Plugs,
	Between:  []Witness{Bench, Marker},
	Needs:    []Evidence{BenchPlugs, MarkerNear},
	Says:     "The plugs seen are {plugs}: such a cable has no CC wire from end to end and no VCONN; yet a marker answered and declares {declared}.",
	Why:      "Another cable was read, or this one is wired against the standard.",
	Next:     "Read the marker again with only this cable attached.",
	Check: func(c *Case) Result {
		p, _ := c.SeenPlugs()
		if c.Claims.Plugs.Value.Legacy() {
			return notApplicable("it is sold so too; see legacy-cable-answers")
		}
		return foundIf(p.Legacy(), func() Values { return Values{"plugs": string(p), "declared": declared(c)} })
	},
}

var benchVBUSAgainstMarker = &Rule{
	ID:       "bench-vbus-conducts-against-marker",
	Sources:  []Citation{pdActive1, pd2CableWord},
	Title:    "the marker says that VBUS does not run through, and the bench drove current through it",
	Kind:     Contradiction,
	Property: Current,
	Between:  []Witness{Marker, Bench},
	Needs:    []Evidence{MarkerCable, BenchDrop},
	Says:     "The marker says that VBUS does not run through the cable; the bench found {path} of {ohms}.",
	Why:      "A source that goes by the marker offers no power over a cable that would carry it.",
	Next:     "Make sure that marker and readings belong to the same cable, then report it to the seller.",
	Check: func(c *Case) Result {
		if !c.Near.Summary.Through.Is(isFalse) {
			return notApplicable("the marker does not deny VBUS")
		}
		r := c.Resistance.Result
		path, e := "a VBUS path", r.VBUS
		if e == nil {
			path, e = "a round trip", r.Loop
		}
		if e == nil {
			return undecided("VBUS was not measured", BenchBoth)
		}
		const openOhm = 100 // no path for current, and no wire of a cable
		if e.Ohm >= openOhm {
			return pass()
		}
		return found(Values{"path": path, "ohms": quantity.Format(e.Ohm, quantity.Resistance, 4)})
	},
}
