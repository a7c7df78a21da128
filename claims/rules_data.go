package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var dataRules = []*Rule{
	claimedDataAboveStandard, claimedDataAboveMarker, claimedDataOnUnmarked, claimedDataOverLegacy, markerDataAboveClaim,
	claimedRateOverGen1, gen4OverGen3, usb32ByTunnelOnly,
}

// practicalSpeed is the speed of passive cables by which the practical length of a claim
// goes (Table 3-1).
func practicalSpeed(d record.DataClaim) vdo.Speed {
	a := standardAbility(d.Standard)
	if a == "" {
		meant, _ := rateAbilities(d.Gbps)
		a = meant[0]
	}
	return passiveNeeds[a]
}

func speedText(s vdo.Summary) string {
	v, ok := s.Speed.Get()
	if !ok {
		return "no valid speed"
	}
	text := fmt.Sprintf("%s, %g Gbps a lane", v, v.LaneGbps())
	if v == vdo.USB2 {
		text = "USB 2.0 only, 480 Mbps"
	}
	if m, ok := s.Thunderbolt.Get(); ok {
		text += fmt.Sprintf("; in its Thunderbolt mode word, %s", m.Speed())
	}
	return text
}

var claimedDataAboveMarker = &Rule{
	ID:       "claimed-data-above-marker",
	Sources:  []Citation{pdCableWord, typeCCables},
	Title:    "a higher data rate is claimed than the marker declares",
	Kind:     Contradiction,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Settles:  true,
	Says:     "The seller claims {claimed}; the marker declares {declared}. {why}.",
	Why:      "Hosts set the link by the marker, whatever the label says.",
	Next:     "Expect what the marker declares. If the cable has Thunderbolt modes, read Discover Modes too: older cables declare their rate only there.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		if aboveStandard(d) {
			return notApplicable("no published cable carries it; see claimed-data-above-standard")
		}
		can := c.CanCarryData(d)
		switch can.State {
		case Shown:
			return pass()
		case Open:
			return undecided(can.Why, can.Missing...)
		}
		return found(Values{"claimed": c.Claims.Data.Text, "why": capitalised(can.Why), "declared": speedText(c.Near.Summary)})
	},
}

var claimedDataOnUnmarked = &Rule{
	ID:       "claimed-data-on-unmarked-cable",
	Sources:  []Citation{typeCCables},
	Title:    "more than USB 2.0 is claimed for a cable without a marker",
	Kind:     Contradiction,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerAsked},
	Settles:  true,
	Under:    before(silentMarker, "claimed-data-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer; a Type-C to Type-C cable above USB 2.0 must have one.",
	Why:      "Without a marker a host may use only USB 2.0, and the wires for more may be missing.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up. If nothing answers, expect USB 2.0.",
	Check: func(c *Case) Result {
		if c.Marker() != MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		can := c.CanCarryData(c.Claims.Data.Value)
		switch {
		case can.State == Excluded && can.By == BySilence:
			return found(Values{"claimed": c.Claims.Data.Text})
		case can.By == ByStandard:
			return notApplicable("no published cable carries it; see claimed-data-above-standard")
		case can.State == Excluded:
			return notApplicable("the ends exclude it; see claimed-data-over-legacy-cable")
		case c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps():
			return notApplicable(can.Why)
		}
		return undecided(can.Why, can.Missing...)
	},
}

var markerDataAboveClaim = &Rule{
	ID:       "marker-data-above-claim",
	Sources:  []Citation{pdCableWord},
	Title:    "the marker declares a higher speed than the seller claims",
	Kind:     Doubt,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}.",
	Why:      "Hosts try the higher speed. If the wires are not made for it, the link is unstable.",
	Next:     "Test the link at the speed declared, and ask the seller which of the two is meant.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		return foundIf(ok && speed != vdo.USB2 && speed.LaneGbps() > d.Gbps, func() Values { return Values{"claimed": c.Claims.Data.Text, "declared": speedText(c.Near.Summary)} })
	},
}

var claimedRateOverGen1 = &Rule{
	ID:       "claimed-rate-over-gen-1",
	Sources:  []Citation{typeCUSB4, typeCLengths},
	Title:    "10 or 20 Gbps is claimed for a passive Gen 1 cable, which reaches it only in some modes",
	Kind:     Doubt,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}. The cable reaches the rate {ways}, not as USB 3.2 Gen 2.",
	Why:      "Sellers usually mean USB 3.2 Gen 2. With many hosts this cable is slower than the number suggests.",
	Next:     "Ask the seller which standard is meant.",
	Check: func(c *Case) Result {
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
		return foundIf(d.Gbps > 5 && d.Gbps <= 20, func() Values {
			return Values{"claimed": c.Claims.Data.Text, "declared": speedText(c.Near.Summary), "ways": ways}
		})
	},
}

var gen4OverGen3 = &Rule{
	ID:       "claimed-80-gbps-over-passive-gen-3",
	Sources:  []Citation{usb4v2},
	Title:    "80 Gbps is claimed for a passive cable whose marker declares Gen 3",
	Kind:     Doubt,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}. USB4 Version 2.0 also runs at 80 Gbps over passive 40 Gbps cables up to about 1 m, and the marker does not declare Gen 4.",
	Why:      "The host decides whether it tries 80 Gbps over this cable.",
	Next:     "Test the link between two devices of that rate.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		if !c.Near.Summary.Product.Is(isPassive) || !ok || speed >= vdo.USB4Gen4 {
			return notApplicable("the marker declares no passive cable below Gen 4")
		}
		over := d.Gbps > 40 && !aboveStandard(d)
		return foundIf(over && (speed == vdo.USB4Gen3 || c.thunderboltLane() == tbtMostLaneGbps) && c.CanCarryData(d).State == Open, func() Values {
			return Values{"claimed": c.Claims.Data.Text, "declared": speedText(c.Near.Summary)}
		})
	},
}

func aboveStandard(d record.DataClaim) bool { return d.Gbps > MostGbps && d.Gbps != AsymmetricGbps }

var claimedDataAboveStandard = &Rule{
	ID:       "claimed-data-above-standard",
	Sources:  []Citation{typeCCables, usb4v2},
	Title:    "a higher data rate is claimed than any published cable carries",
	Kind:     Breach,
	Property: Data,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerData},
	Says:     "The seller claims {claimed}; no published cable carries more than 80 Gbps both ways, or 120 Gbps one way.",
	Why:      "No standard covers such a cable, so nothing can confirm the claim.",
	Next:     "Ask the seller which standard the figure comes from.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		return foundIf(aboveStandard(d), func() Values { return Values{"claimed": c.Claims.Data.Text} })
	},
}

var usb32ByTunnelOnly = &Rule{
	ID:       "claimed-usb-3-only-inside-a-tunnel",
	Sources:  []Citation{ownReasoning, pdActive2},
	Title:    "USB 3.2 is claimed for an active cable that carries it only inside USB4 or Thunderbolt",
	Kind:     Doubt,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}; the marker does not declare native USB 3.2. USB4 and Thunderbolt hosts carry USB 3.2 at 10 Gbps inside their own traffic.",
	Why:      "A host without USB4 and Thunderbolt gets USB 2.0 over this cable, or nothing.",
	Next:     "Tell the user of the cable.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		s := &c.Near.Summary
		switch {
		case !s.Product.Is(isActive):
			return notApplicable("the marker is not an active cable")
		case !strings.HasPrefix(d.Standard, "USB 3") && (d.Standard != "" || d.Gbps <= vdo.USB2.Gbps() || d.Gbps > 10):
			return notApplicable("USB 3.2 is not claimed")
		}
		native := s.Speed.Or(vdo.USB2) >= vdo.USB32Gen1 && s.USB32.Or(true)
		return foundIf(!native && c.canTunnel().State == Shown && c.CanCarryData(d).State == Open, func() Values { return Values{"claimed": c.Claims.Data.Text} })
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
func mayBeLegacy(c *Case) bool {
	_, known := c.Plugs()
	d := c.Claims.Data.Value
	return !known && d.Gbps <= legacyGbps[record.CToA] && !strings.HasSuffix(d.Standard, "x2") && !namesUSB4(d)
}

var claimedDataOverLegacy = &Rule{
	ID:       "claimed-data-over-legacy-cable",
	Sources:  []Citation{typeCLegacy},
	Title:    "a data rate is claimed that no cable with such a connector carries",
	Kind:     Breach,
	Property: Data,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerData},
	Under:    before(olderConnector, "claimed-data-over-legacy-cable"),
	Says:     "The seller claims {claimed} over a {plugs} cable; such a cable carries {most} at most, over one lane.",
	Why:      "USB4 and two-lane links need a Type-C plug at both ends.",
	Next:     "Expect {most} at most.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is recorded")
		}
		d := c.Claims.Data.Value
		most := legacyGbps[p]
		return foundIf(d.Gbps > most || strings.HasSuffix(d.Standard, "x2"), func() Values { return Values{"claimed": c.Claims.Data.Text, "plugs": string(p), "most": gbps(most)} })
	},
}
