package rules

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var markingRules = []*claims.Rule{
	claimedMarkedButSilent, claimedUnmarkedButAnswers, legacyCableAnswers, claimedActiveDiffers,
	captiveCodeOnDetachable, claimedPlugsDiffer, claimedUnmarkedAbove, claimedActiveButUnmarked, claimedMarkedOverLegacy,
	claimedPlugsDifferFromMarker, seenPlugsDifferFromMarker, seenLegacyCableAnswers, benchVBUSAgainstMarker, captiveDeclaresOtherEnd,
}

var claimedPlugsDiffer = &claims.Rule{
	ID:       "claimed-plugs-differ-from-seen",
	Sources:  []claims.Citation{source.OwnReasoning},
	Title:    "the plugs seen are not the plugs claimed",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Seller, claims.Bench},
	Needs:    []claims.Evidence{claims.SellerPlugs, claims.BenchPlugs},
	Settles:  true,
	Says:     "The cable is sold as {claimed}; the plugs seen are {seen}.",
	Why:      "This is not the product described, and other rules apply to it.",
	Next:     "Check that the record belongs to this cable.",
	Check: func(c *claims.Case) claims.Result {
		seen, _ := c.SeenPlugs()
		claimed := c.Claims.Plugs.Value
		return foundIf(seen != claimed, func() claims.Values { return claims.Values{"claimed": string(claimed), "seen": string(seen)} })
	},
}

var claimedMarkedButSilent = &claims.Rule{
	ID:       "claimed-marked-but-silent",
	Sources:  []claims.Citation{source.PDIdentity},
	Title:    "a marker is claimed, but nothing answered",
	Kind:     claims.Contradiction,
	Property: claims.Marking,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerMarked, claims.MarkerAsked},
	Settles:  true,
	Says:     "The seller claims a marker (marked: {claimed}); nothing answered.",
	Why:      "Without an answer every source treats the cable as 20 V and 3 A.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Claims.Marked.Value {
			return notApplicable("no marker is claimed")
		}
		if p, ok := c.Plugs(); ok && p == record.CCaptive {
			return notApplicable(captiveNeedsNone)
		}
		return foundIf(c.Marker() == claims.MarkerAbsent, func() claims.Values { return claims.Values{"claimed": say.YesOrNo(c.Claims.Marked.Value)} })
	},
}

var claimedUnmarkedButAnswers = &claims.Rule{
	ID:       "claimed-unmarked-but-answers",
	Sources:  []claims.Citation{source.PDIdentity},
	Title:    "the seller claims no marker, but one answers",
	Kind:     claims.Contradiction,
	Property: claims.Marking,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerMarked, claims.MarkerAsked},
	Settles:  true,
	Says:     "The seller claims no marker (marked: {claimed}); a marker answers.",
	Why:      "Sources follow the marker.",
	Next:     "Check that the right cable was read. Sources use the marker, not the label.",
	Check: func(c *claims.Case) claims.Result {
		if c.Claims.Marked.Value {
			return notApplicable("a marker is claimed")
		}
		return foundIf(c.Marker() == claims.MarkerAnswered, func() claims.Values { return claims.Values{"claimed": say.YesOrNo(c.Claims.Marked.Value)} })
	},
}

var legacyCableAnswers = &claims.Rule{
	ID:       "legacy-cable-answers",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "a marker answers in a cable sold with an older connector",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerPlugs, claims.MarkerNear},
	Under:    []string{"claimed-plugs-differ-from-seen"},
	Says:     "The cable is sold as {plugs}, which has no CC wire from end to end and no VCONN, but a marker answered and declares {declared}.",
	Why:      "The plugs are not those claimed, or another cable was read.",
	Next:     "Look at both ends, and read the marker again with only this cable attached.",
	Check: func(c *claims.Case) claims.Result {
		p := c.Claims.Plugs.Value
		return foundIf(p.Legacy(), func() claims.Values { return claims.Values{"plugs": string(p), "declared": declared(c)} })
	},
}

var claimedActiveDiffers = &claims.Rule{
	ID:       "claimed-active-differs-from-marker",
	Sources:  []claims.Citation{source.PDProductType},
	Title:    "seller and marker disagree on whether the cable is active",
	Kind:     claims.Contradiction,
	Property: claims.Activity,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerActive, claims.MarkerNear},
	Settles:  true,
	Says:     "The seller claims a {claimed} cable; the marker identifies {product}.",
	Why:      "Hosts drive active and passive cables differently, and their practical lengths differ.",
	Next:     "Look for electronics in the plugs, and read Discover Modes for SVID 0x8087: it shows whether a passive cable has linear re-drivers.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		p, ok := s.Product.Get()
		if !ok || !p.Cable() {
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
			return undecided("bit 25 of the Thunderbolt mode word is clear, which PD 2.0 does not define; read the marker again under PD 3.x", claims.MarkerNear)
		case c.ModesOpen(vdo.SVIDThunderbolt):
			return undecided("a cable with linear re-drivers is passive in the ID header too; its Thunderbolt mode word would tell", claims.MarkerThunderbolt)
		case !claimed:
			return pass()
		}
		words := map[bool]string{true: "active", false: "passive"}
		return found(claims.Values{"claimed": words[claimed], "product": articled(p)})
	},
}

var captiveCodeOnDetachable = &claims.Rule{
	ID:       "captive-code-on-detachable-cable",
	Sources:  []claims.Citation{source.PDCableWord, source.OwnReasoning},
	Title:    "the marker declares a captive cable, but a Type-C plug is seen at each end",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Bench, claims.Marker},
	Needs:    []claims.Evidence{claims.BenchPlugs, claims.MarkerCable},
	Says:     "The plugs seen are {seen}; the marker declares a {declared} end.",
	Why:      "The marker was programmed for another product.",
	Next:     "Measure before relying on anything this marker declares.",
	Check: func(c *claims.Case) claims.Result {
		seen, _ := c.SeenPlugs()
		e, ok := c.Near.Summary.End.Get()
		if !ok {
			return notApplicable("the marker declares no valid end")
		}
		return foundIf(seen == record.CToC && e == vdo.EndCaptive, func() claims.Values { return claims.Values{"seen": string(seen), "declared": fmt.Sprint(e)} })
	},
}

var claimedUnmarkedAbove = &claims.Rule{
	ID:       "claimed-unmarked-where-marking-is-required",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "the seller claims no marker, and claims what needs one",
	Kind:     claims.Breach,
	Property: claims.Marking,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerMarked},
	Under:    before(silentMarker, "claimed-unmarked-where-marking-is-required"),
	Says:     "The seller claims no marker (marked: {claimed}) and claims {more}. Only a passive Type-C to Type-C cable for USB 2.0 and 3 A needs no marker.",
	Why:      "Without a marker sources offer 3 A and 20 V at most, and hosts use USB 2.0.",
	Next:     "Expect 60 W and USB 2.0, or ask for a marked cable.",
	Check: func(c *claims.Case) claims.Result {
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
		if cl.Power.Value > claims.MostUnmarkedWatts {
			more = append(more, cl.Power.Text)
		}
		if cl.Current.Value > claims.LeastAmps {
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
			return undecided(claims.PlugsUnknown, claims.SellerPlugs)
		}
		return foundIf(len(more) > 0, func() claims.Values {
			return claims.Values{"claimed": say.YesOrNo(cl.Marked.Value), "more": strings.Join(more, ", ")}
		})
	},
}

var claimedActiveButUnmarked = &claims.Rule{
	ID:       "claimed-active-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "an active cable is claimed, and no marker answers",
	Kind:     claims.Contradiction,
	Property: claims.Activity,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerActive, claims.MarkerAsked},
	Under:    before(silentMarker, "claimed-active-on-unmarked-cable"),
	Says:     "The seller claims an active cable (active: {claimed}). The marker did not answer; an active cable must have one.",
	Why:      "Without an answer no host sets up the electronics.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Claims.Active.Value {
			return notApplicable("it is not sold as active")
		}
		if why := needsNoMarkerEnds(c); why != "" {
			return notApplicable(why)
		}
		if _, ok := c.Plugs(); !ok && c.Marker() == claims.MarkerAbsent {
			return undecided("no plugs are recorded, and an active cable with an older connector does not answer", claims.SellerPlugs)
		}
		return foundIf(c.Marker() == claims.MarkerAbsent, func() claims.Values { return claims.Values{"claimed": say.YesOrNo(c.Claims.Active.Value)} })
	},
}

var claimedMarkedOverLegacy = &claims.Rule{
	ID:       "claimed-marked-over-legacy-cable",
	Sources:  []claims.Citation{source.OwnReasoning, source.TypeCLegacy},
	Title:    "a marker is claimed in a cable with an older connector",
	Kind:     claims.Doubt,
	Property: claims.Marking,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerMarked},
	Under:    before(olderConnector, "claimed-marked-over-legacy-cable"),
	Says:     "The seller claims a marker in a {plugs} cable (marked: {claimed}); without a CC wire from end to end and VCONN, nothing can read it.",
	Why:      "The claim may describe another cable of the same seller.",
	Next:     "Ask the seller what is meant.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		return foundIf(c.Claims.Marked.Value, func() claims.Values {
			return claims.Values{"claimed": say.YesOrNo(c.Claims.Marked.Value), "plugs": string(p)}
		})
	},
}

// captiveEnd: markers of captive docks answer with plug type 10b as a rule.
const captiveEnd = "see captive-cable-declares-another-end"

var captiveDeclaresOtherEnd = &claims.Rule{
	ID:       "captive-cable-declares-another-end",
	Sources:  []claims.Citation{source.CommonPractice, source.TypeCCaptive, source.PDCableWord},
	Title:    "a captive cable's marker declares another end",
	Kind:     claims.Doubt,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Marker},
	Needs:    []claims.Evidence{claims.MarkerCable},
	Says:     "The cable is captive; its marker declares a {declared} end.",
	Why:      "Markers of docks often do so. The device does not depend on the marker of its own cable.",
	Next:     "Check that the marker read is the one in this cable.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		e, known := c.Near.Summary.End.Get()
		if !ok || p != record.CCaptive || !known {
			return notApplicable("no captive cable with a valid end in its marker is recorded")
		}
		return foundIf(e != vdo.EndCaptive, func() claims.Values { return claims.Values{"declared": e.String()} })
	},
}

// endOf is what a marker should say a cable leads to. Type-A and Type-B can be
// said only in the PD 2.0 layout, and by cables that can say nothing.
var endOf = map[record.Plugs]vdo.End{record.CToC: vdo.EndTypeC, record.CCaptive: vdo.EndCaptive}

var claimedPlugsDifferFromMarker = &claims.Rule{
	ID:       "claimed-plugs-differ-from-marker",
	Sources:  []claims.Citation{source.PDCableWord, source.PD2CableWord},
	Title:    "the marker declares another end than the seller",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerPlugs, claims.MarkerCable},
	Says:     "The cable is sold as {claimed}; the marker declares a {declared} end.",
	Why:      "The marker was programmed for another product, or another product was sold.",
	Next:     "Look at both ends.",
	Check: func(c *claims.Case) claims.Result {
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
		return foundIf(e != want, func() claims.Values { return claims.Values{"claimed": string(claimed), "declared": e.String()} })
	},
}

var seenPlugsDifferFromMarker = &claims.Rule{
	ID:       "seen-plugs-differ-from-marker",
	Sources:  []claims.Citation{source.PDCableWord, source.PD2CableWord},
	Title:    "the marker declares another end than the one seen",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Bench, claims.Marker},
	Needs:    []claims.Evidence{claims.BenchPlugs, claims.MarkerCable},
	Says:     "The plugs seen are {seen}; the marker declares a {declared} end.",
	Why:      "The marker was programmed for another product.",
	Next:     "Measure before relying on anything this marker declares.",
	Check: func(c *claims.Case) claims.Result {
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
		return foundIf(e != want, func() claims.Values { return claims.Values{"seen": string(seen), "declared": e.String()} })
	},
}

var seenLegacyCableAnswers = &claims.Rule{
	ID:       "seen-legacy-cable-answers",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "an older connector is seen at one end, and a marker answers",
	Kind:     claims.Contradiction,
	Property: claims.Plugs,
	Between:  []claims.Witness{claims.Bench, claims.Marker},
	Needs:    []claims.Evidence{claims.BenchPlugs, claims.MarkerNear},
	Says:     "The plugs seen are {plugs}: such a cable has no CC wire from end to end and no VCONN, but a marker answered and declares {declared}.",
	Why:      "Another cable was read, or this one is wired against the standard.",
	Next:     "Read the marker again with only this cable attached.",
	Check: func(c *claims.Case) claims.Result {
		p, _ := c.SeenPlugs()
		if c.Claims.Plugs.Value.Legacy() {
			return notApplicable("it is sold so too; see legacy-cable-answers")
		}
		return foundIf(p.Legacy(), func() claims.Values { return claims.Values{"plugs": string(p), "declared": declared(c)} })
	},
}

var benchVBUSAgainstMarker = &claims.Rule{
	ID:       "bench-vbus-conducts-against-marker",
	Sources:  []claims.Citation{source.PDActive1, source.PD2CableWord},
	Title:    "the marker declares that VBUS does not run through, but the bench measured it",
	Kind:     claims.Contradiction,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Marker, claims.Bench},
	Needs:    []claims.Evidence{claims.MarkerCable, claims.BenchDrop},
	Says:     "The marker declares that VBUS does not run through the cable; the bench measured {path} of {ohms}.",
	Why:      "A source that follows the marker offers no power over this cable.",
	Next:     "Check that marker and readings belong to the same cable, then report it to the seller.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Near.Summary.Through.Is(isFalse) {
			return notApplicable("the marker does not deny VBUS")
		}
		r := c.Resistance.Result
		path, e := "a VBUS path", r.VBUS
		if e == nil {
			path, e = "a round trip", r.Loop
		}
		if e == nil {
			return undecided("VBUS was not measured", claims.BenchBoth)
		}
		const openOhm = 100 // no path for current, and no wire of a cable
		if e.Ohm >= openOhm {
			return pass()
		}
		return found(claims.Values{"path": path, "ohms": quantity.Format(e.Ohm, quantity.Resistance, 4)})
	},
}
