package rules

import (
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var dataRules = []*claims.Rule{
	claimedDataAboveStandard, claimedDataAboveMarker, claimedDataOnUnmarked, claimedDataOverLegacy, markerDataAboveClaim,
	claimedRateOverGen1, gen4OverGen3, usb32ByTunnelOnly,
}

var claimedDataAboveMarker = &claims.Rule{
	ID:       "claimed-data-above-marker",
	Sources:  []claims.Citation{source.PDCableWord, source.TypeCCables},
	Title:    "a higher data rate is claimed than the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerCable},
	Settles:  true,
	Says:     "The seller claims {claimed}; the marker declares {declared}. {why}.",
	Why:      "Hosts set the link by the marker, whatever the label says.",
	Next:     "Expect what the marker declares. If the cable has Thunderbolt modes, read Discover Modes too: older cables declare their rate only there.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		if claims.AboveStandard(d) {
			return notApplicable("no published cable carries it; see claimed-data-above-standard")
		}
		can := c.CanCarryData(d)
		switch can.State {
		case claims.Shown:
			return pass()
		case claims.Open:
			return undecided(can.Why, can.Missing...)
		}
		return found(claims.Values{"claimed": c.Claims.Data.Text, "why": say.Capitalised(can.Why), "declared": say.Speed(&c.Near.Summary)})
	},
}

var claimedDataOnUnmarked = &claims.Rule{
	ID:       "claimed-data-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "more than USB 2.0 is claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-data-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a Type-C to Type-C cable above USB 2.0 must have one.",
	Why:      "Without a marker a host may use only USB 2.0, and the wires for more may be missing.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, expect USB 2.0.",
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() != claims.MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		can := c.CanCarryData(c.Claims.Data.Value)
		switch {
		case can.State == claims.Excluded && can.By == claims.BySilence:
			return found(claims.Values{"claimed": c.Claims.Data.Text})
		case can.By == claims.ByStandard:
			return notApplicable("no published cable carries it; see claimed-data-above-standard")
		case can.State == claims.Excluded:
			return notApplicable("the ends exclude it; see claimed-data-over-legacy-cable")
		case c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps():
			return notApplicable(can.Why)
		}
		return undecided(can.Why, can.Missing...)
	},
}

var markerDataAboveClaim = &claims.Rule{
	ID:       "marker-data-above-claim",
	Sources:  []claims.Citation{source.PDCableWord},
	Title:    "the marker declares a higher speed than the seller claims",
	Kind:     claims.Doubt,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}.",
	Why:      "Hosts try the higher speed. If the wires are not made for it, the link is unstable.",
	Next:     "Test the link at the speed declared, and ask the seller which of the two is meant.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		return foundIf(ok && speed != vdo.USB2 && speed.LaneGbps() > d.Gbps, func() claims.Values {
			return claims.Values{"claimed": c.Claims.Data.Text, "declared": say.Speed(&c.Near.Summary)}
		})
	},
}

var claimedRateOverGen1 = &claims.Rule{
	ID:       "claimed-rate-over-gen-1",
	Sources:  []claims.Citation{source.TypeCUSB4, source.TypeCLengths},
	Title:    "10 or 20 Gbps is claimed for a passive Gen 1 cable, which reaches it only in some modes",
	Kind:     claims.Doubt,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}. The cable reaches the rate {ways}, not as USB 3.2 Gen 2.",
	Why:      "Sellers usually mean USB 3.2 Gen 2. With many hosts this cable is slower than the number suggests.",
	Next:     "Ask the seller which standard is meant.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		switch {
		case !c.Near.Summary.Product.Is(isPassive) || !ok || speed != vdo.USB32Gen1:
			return notApplicable("the marker declares no passive Gen 1 cable")
		case d.Standard != "":
			return notApplicable("a standard is claimed by name, not a bare rate")
		}
		ways := "as USB4 Gen 2"
		if d.Gbps <= 10 {
			ways = "as USB 3.2 Gen 1x2 or USB4 Gen 2"
		}
		return foundIf(d.Gbps > 5 && d.Gbps <= 20, func() claims.Values {
			return claims.Values{"claimed": c.Claims.Data.Text, "declared": say.Speed(&c.Near.Summary), "ways": ways}
		})
	},
}

var gen4OverGen3 = &claims.Rule{
	ID:       "claimed-80-gbps-over-passive-gen-3",
	Sources:  []claims.Citation{source.USB4V2},
	Title:    "80 Gbps is claimed for a passive cable whose marker declares Gen 3",
	Kind:     claims.Doubt,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}. USB4 Version 2.0 also runs at 80 Gbps over passive 40 Gbps cables up to about 1 m, and the marker does not declare Gen 4.",
	Why:      "The host decides whether it tries 80 Gbps over this cable.",
	Next:     "Test the link between two devices of that rate.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		if !c.Near.Summary.Product.Is(isPassive) || !ok || speed >= vdo.USB4Gen4 {
			return notApplicable("the marker declares no passive cable below Gen 4")
		}
		over := d.Gbps > 40 && !claims.AboveStandard(d)
		return foundIf(over && (speed == vdo.USB4Gen3 || c.ThunderboltGbps() == claims.ThunderboltLaneGbps) && c.CanCarryData(d).State == claims.Open, func() claims.Values {
			return claims.Values{"claimed": c.Claims.Data.Text, "declared": say.Speed(&c.Near.Summary)}
		})
	},
}

var claimedDataAboveStandard = &claims.Rule{
	ID:       "claimed-data-above-standard",
	Sources:  []claims.Citation{source.TypeCCables, source.USB4V2},
	Title:    "a higher data rate is claimed than any published cable carries",
	Kind:     claims.Breach,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerData},
	Says:     "The seller claims {claimed}; no published cable carries more than 80 Gbps both ways, or 120 Gbps one way.",
	Why:      "No standard covers such a cable, so nothing can confirm the claim.",
	Next:     "Ask the seller which standard the figure comes from.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		return foundIf(claims.AboveStandard(d), func() claims.Values { return claims.Values{"claimed": c.Claims.Data.Text} })
	},
}

var usb32ByTunnelOnly = &claims.Rule{
	ID:       "claimed-usb-3-only-inside-a-tunnel",
	Sources:  []claims.Citation{source.OwnReasoning, source.PDActive2},
	Title:    "USB 3.2 is claimed for an active cable that carries it only inside USB4 or Thunderbolt",
	Kind:     claims.Doubt,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerData, claims.MarkerCable},
	Says:     "The seller claims {claimed}; the marker does not declare native USB 3.2. USB4 and Thunderbolt hosts carry USB 3.2 at 10 Gbps inside their own traffic.",
	Why:      "A host without USB4 and Thunderbolt gets USB 2.0 over this cable, or nothing.",
	Next:     "Tell the user of the cable.",
	Check: func(c *claims.Case) claims.Result {
		d := c.Claims.Data.Value
		s := &c.Near.Summary
		switch {
		case !s.Product.Is(isActive):
			return notApplicable("the marker is not an active cable")
		case !strings.HasPrefix(d.Standard, "USB 3") && (d.Standard != "" || d.Gbps <= vdo.USB2.Gbps() || d.Gbps > 10):
			return notApplicable("USB 3.2 is not claimed")
		}
		native := s.Speed.Or(vdo.USB2) >= vdo.USB32Gen1 && s.USB32.Or(true)
		return foundIf(!native && c.Can(claims.CanTunnel).State == claims.Shown && c.CanCarryData(d).State == claims.Open, func() claims.Values { return claims.Values{"claimed": c.Claims.Data.Text} })
	},
}

func namesUSB4(d record.DataClaim) bool { return strings.HasPrefix(d.Standard, "USB4") }

// legacyGbps is the most that each cable with an older connector carries, in
// Gbps: one lane of Gen 2, where the connector has SuperSpeed contacts.
var legacyGbps = map[record.Plugs]float64{
	record.CToA: 10, record.CToAJack: 10, record.CToB: 10, record.CToMicroB: 10, record.CToMicroBJack: vdo.USB2.Gbps(), record.CToMiniB: vdo.USB2.Gbps(),
}

// mayBeLegacy reports whether the data rate claimed is one that a cable with an older
// connector carries without a marker, and nothing says that this is none.
func mayBeLegacy(c *claims.Case) bool {
	_, known := c.Plugs()
	d := c.Claims.Data.Value
	return !known && d.Gbps <= legacyGbps[record.CToA] && !strings.HasSuffix(d.Standard, "x2") && !namesUSB4(d)
}

var claimedDataOverLegacy = &claims.Rule{
	ID:       "claimed-data-over-legacy-cable",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "a data rate is claimed that no cable with such a connector carries",
	Kind:     claims.Breach,
	Property: claims.Data,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerData},
	Under:    before(olderConnector, "claimed-data-over-legacy-cable"),
	Says:     "The seller claims {claimed} over a {plugs} cable; such a cable carries {most} at most, over one lane.",
	Why:      "USB4 and two-lane links need a Type-C plug at both ends.",
	Next:     "Expect {most} at most.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		d := c.Claims.Data.Value
		most := legacyGbps[p]
		return foundIf(d.Gbps > most || strings.HasSuffix(d.Standard, "x2"), func() claims.Values {
			return claims.Values{"claimed": c.Claims.Data.Text, "plugs": string(p), "most": gbps(most)}
		})
	},
}
