package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var dataRules = []*Rule{
	claimedDataAboveMarker, claimedDataOnUnmarked, claimedUSB4NotCarried, claimedUSB3NotCarried, claimedUSB2NotCarried,
	claimedLanesAboveMarker, claimedUSB4OverUnrounded, claimedDataOverLegacy, markerDataAboveClaim, usb4OnlyAt20G,
}

// dataNeed is what the cable word must declare for a claimed rate.
type dataNeed struct {
	speed vdo.Speed // passive cable
	// active is the least speed of an active cable, which unlike a passive one
	// carries USB4 Gen 2 only where it is built for Gen 2.
	active vdo.Speed
	// tbtLane is the Thunderbolt lane rate that serves instead, 0 for none.
	tbtLane float64
}

// dataNeeds gives what a claim needs: facts of the cable word's speed codes, and
// of Table 3-1, by which a Gen 1 passive cable is also a USB4 Gen 2 cable.
func dataNeeds(d record.DataClaim) dataNeed {
	switch {
	case d.Gbps <= vdo.USB2.Gbps():
		return dataNeed{vdo.USB2, vdo.USB2, 0}
	case d.Gbps <= 5, d.Standard == "USB 3.2 Gen 1x2":
		return dataNeed{vdo.USB32Gen1, vdo.USB32Gen1, 0}
	case d.Standard == "USB4 Gen 2", d.Standard == "" && d.Gbps > 10 && d.Gbps <= 20:
		return dataNeed{vdo.USB32Gen1, vdo.USB32Gen2, 10}
	case d.Gbps <= 20:
		return dataNeed{vdo.USB32Gen2, vdo.USB32Gen2, 0}
	case d.Gbps <= 40:
		return dataNeed{vdo.USB4Gen3, vdo.USB4Gen3, 20}
	}
	return dataNeed{vdo.USB4Gen4, vdo.USB4Gen4, 0}
}

func (n dataNeed) of(s vdo.Summary) vdo.Speed {
	if p, _ := s.Product.Get(); p == vdo.ActiveType {
		return n.active
	}
	return n.speed
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
	Says:     "The seller claims {claimed}, which needs a marker that declares {needed} or better; this one declares {declared}.",
	Why:      "Hosts set the link by the marker: a cable that declares less runs at less, whatever the label says.",
	Next:     "Expect what the marker declares. If the cable has Thunderbolt modes, ask Discover Modes too: older cables state their rate only there.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		s := c.Near.Summary
		need := dataNeeds(d)
		speed, declared := s.Speed.Get()
		if declared && speed >= need.of(s) {
			return pass()
		}
		if m, ok := s.Thunderbolt.Get(); ok && need.tbtLane > 0 && m.Speed().LaneGbps() >= need.tbtLane {
			return pass()
		}
		switch {
		case !declared:
			return undecided("the marker declares no valid speed", MarkerCable)
		case s.PD2 && need.of(s) > vdo.USB32Gen2:
			return undecided("the marker answered in the PD 2.0 layout, which ends at USB 3.1 Gen 2; ask it again under PD 3.x", MarkerNear)
		case need.tbtLane > 0 && s.Modal.Or(false) && !s.Thunderbolt.Known() && !s.HasSVID(vdo.SVIDThunderbolt).Is(isFalse):
			return undecided(fmt.Sprintf("the cable word declares %s, but the marker supports modes and may state more in its Thunderbolt mode word", speed), MarkerThunderbolt)
		}
		return found(Values{"claimed": c.Claims.Data.Text, "needed": need.of(s).String(), "declared": speedText(s)})
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
	Says:     "The seller claims {claimed}; the marker was asked and did not answer, and a Type-C to Type-C cable above USB 2.0 must be marked.",
	Why:      "Without a marker a host may take the cable for USB 2.0, and the wires for more may be missing.",
	Next:     "Ask once more with VCONN applied and the plug the other way up. If it stays silent, expect USB 2.0.",
	Check: func(c *Case) Result {
		if c.Marker() != MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps() {
			return notApplicable("USB 2.0 needs no marker, and its wires were not tested")
		}
		if mayBeLegacy(c) {
			return undecided(plugsUnknown, SellerPlugs)
		}
		return found(Values{"claimed": c.Claims.Data.Text})
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
	Why:      "Hosts will try the higher speed. If the wires are not made for it, the link is unstable.",
	Next:     "Test the link at the speed declared, and ask the seller which of the two is meant.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		speed, ok := c.Near.Summary.Speed.Get()
		return foundIf(ok && speed != vdo.USB2 && speed.LaneGbps() > d.Gbps, func() Values { return Values{"claimed": c.Claims.Data.Text, "declared": speedText(c.Near.Summary)} })
	},
}

var usb4OnlyAt20G = &Rule{
	ID:       "claimed-20-gbps-over-usb4-only",
	Sources:  []Citation{typeCLengths},
	Title:    "20 Gbps is claimed, which this cable reaches over USB4 only",
	Kind:     Remark,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}; the marker declares {declared}. A passive cable of this speed is also a USB4 Gen 2 cable, so 20 Gbps holds with USB4 hosts; over USB 3.2 it gives 5 Gbps a lane.",
	Why:      "With a USB 3.2 host the cable is slower than the number suggests.",
	Next:     "Say so when the cable is handed out.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		s := c.Near.Summary
		p, _ := s.Product.Get()
		speed, ok := s.Speed.Get()
		return foundIf(ok && p == vdo.PassiveType && speed == vdo.USB32Gen1 && d.Standard == "" && d.Gbps > 10 && d.Gbps <= 20, func() Values { return Values{"claimed": c.Claims.Data.Text, "declared": speedText(s)} })
	},
}

// carriageRule sets a claim of some USB against the bit of an active cable's
// second word that says whether it is carried.
func carriageRule(r Rule, claimed func(record.DataClaim) bool, carried func(vdo.Summary) vdo.Maybe[bool]) *Rule {
	r.Sources = []Citation{pdActive2}
	r.Kind = Contradiction
	r.Property = Data
	r.Between = []Witness{Seller, Marker}
	r.Needs = []Evidence{SellerData, MarkerCable}
	r.Why = "An active cable passes only the signals that its electronics were made for."
	r.Next = "Expect what the marker declares."
	r.Check = func(c *Case) Result {
		yes, known := carried(c.Near.Summary).Get()
		switch {
		case !claimed(c.Claims.Data.Value):
			return notApplicable("the data rate claimed is that of another kind of USB")
		case !known:
			return notApplicable("only the second word of an active cable says what it carries")
		}
		return foundIf(!yes, func() Values { return Values{"claimed": c.Claims.Data.Text} })
	}
	return &r
}

func namesUSB4(d record.DataClaim) bool { return strings.HasPrefix(d.Standard, "USB4") }

var claimedUSB4NotCarried = carriageRule(Rule{
	ID:    "claimed-usb4-not-carried",
	Title: "USB4 is claimed, and the active cable says that it does not carry it",
	Under: []string{"claimed-data-above-marker"},
	Says:  "The seller claims {claimed}; the marker says in bit 8 of its second word that USB4 is not supported.",
}, namesUSB4, func(s vdo.Summary) vdo.Maybe[bool] { return s.USB4 })

var claimedUSB3NotCarried = carriageRule(Rule{
	ID:    "claimed-usb-3-not-carried",
	Title: "USB 3.2 is claimed, and the active cable says that it does not carry it",
	Under: []string{"claimed-data-above-marker"},
	Says:  "The seller claims {claimed}; the marker says in bit 4 of its second word that USB 3.2 is not supported.",
}, func(d record.DataClaim) bool {
	return strings.HasPrefix(d.Standard, "USB 3") || d.Standard == "" && d.Gbps > vdo.USB2.Gbps() && d.Gbps <= 10
}, func(s vdo.Summary) vdo.Maybe[bool] { return s.USB32 })

var claimedUSB2NotCarried = carriageRule(Rule{
	ID:    "claimed-usb-2-not-carried",
	Title: "USB 2.0 is claimed, and the active cable says that it does not carry it",
	Says:  "The seller claims {claimed}; the marker says in bit 5 of its second word that USB 2.0 is not supported.",
}, func(d record.DataClaim) bool { return d.Gbps <= vdo.USB2.Gbps() }, func(s vdo.Summary) vdo.Maybe[bool] { return s.USB2 })

var claimedLanesAboveMarker = &Rule{
	ID:       "claimed-two-lanes-marker-has-one",
	Sources:  []Citation{pdActive2},
	Title:    "a data rate is claimed that takes two lanes, and the marker declares one",
	Kind:     Contradiction,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Says:     "The seller claims {claimed}, which takes two lanes; the marker declares one lane in bit 3 of its second word.",
	Why:      "Over one lane the rate is half of what is claimed, or the link does not come up.",
	Next:     "Expect half the rate.",
	Check: func(c *Case) Result {
		d := c.Claims.Data.Value
		lanes, ok := c.Near.Summary.Lanes.Get()
		switch {
		case !ok:
			return notApplicable("only the second word of an active cable states lanes")
		case !strings.HasSuffix(d.Standard, "x2") && d.Gbps <= 10:
			return notApplicable("one lane is enough for what is claimed")
		}
		if d.Standard == "" && lanes == 1 {
			// The bit is of USB alone; a bare rate may be meant of Thunderbolt.
			switch has, known := hasThunderbolt(c.Near.Summary); {
			case has:
				return notApplicable("the rate may be meant of Thunderbolt, which always has two lanes")
			case !known:
				return undecided("the rate may be meant of Thunderbolt, and the marker was not asked for its modes", MarkerSVIDs)
			}
		}
		return foundIf(lanes == 1, func() Values { return Values{"claimed": c.Claims.Data.Text} })
	},
}

var claimedUSB4OverUnrounded = &Rule{
	ID:       "claimed-usb4-over-older-thunderbolt-cable",
	Sources:  []Citation{typeCTBT},
	Title:    "USB4 is claimed for an older active cable that cannot be used for it",
	Kind:     Contradiction,
	Property: Data,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerData, MarkerCable},
	Under:    []string{"claimed-data-above-marker"},
	Says:     "The seller claims {claimed}; the marker is of an active cable from before VDO version 1.3, which serves USB4 only by a Thunderbolt mode word that supports the fourth generation (bits 20..19 = 1), and {found}.",
	Why:      "Hosts run such a cable as Thunderbolt 3 or not at all.",
	Next:     "Use it for Thunderbolt 3 only.",
	Check: func(c *Case) Result {
		s := c.Near.Summary
		if !namesUSB4(c.Claims.Data.Value) {
			return notApplicable("USB4 is not claimed by name")
		}
		if !s.Product.Is(isActive) || c.Near.Identity.ActiveForm() == vdo.ActiveFormCurrent {
			return notApplicable("the marker is no active cable from before VDO version 1.3")
		}
		m, ok := s.Thunderbolt.Get()
		has, known := hasThunderbolt(s)
		switch {
		case ok:
			return foundIf(m.Rounded() != 1, func() Values {
				return Values{"claimed": c.Claims.Data.Text, "found": fmt.Sprintf("its word %s has %d there", WordText(uint32(m)), m.Rounded())}
			})
		case known && !has:
			return found(Values{"claimed": c.Claims.Data.Text, "found": "it has no such word"})
		}
		return undecided("the Thunderbolt mode word is not on record", MarkerThunderbolt)
	},
}

// legacyGbps is the most that each cable with an older connector carries, in
// Gbps: one lane of Gen 2, where the connector has SuperSpeed contacts.
var legacyGbps = map[record.Plugs]float64{
	record.CToA: 10, record.CToAJack: 10, record.CToB: 10, record.CToMicroB: 10, record.CToMicroBJack: 10, record.CToMiniB: vdo.USB2.Gbps(),
}

// mayBeLegacy tells whether the data rate claimed is one that a cable with an older
// connector carries without a marker, and nothing says that this is none.
func mayBeLegacy(c *Case) bool {
	_, known := c.Plugs()
	d := c.Claims.Data.Value
	return !known && d.Gbps <= legacyGbps[record.CToA] && !strings.HasSuffix(d.Standard, "x2") && !namesUSB4(d)
}

const plugsUnknown = "no plugs are on record, and a cable with an older connector may carry this without a marker"

var claimedDataOverLegacy = &Rule{
	ID:       "claimed-data-over-legacy-cable",
	Sources:  []Citation{typeCLegacy},
	Title:    "a data rate is claimed that no cable with such a connector carries",
	Kind:     Breach,
	Property: Data,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerData},
	Under:    before(olderConnector, "claimed-data-over-legacy-cable"),
	Says:     "The seller claims {claimed} over a {plugs} cable; the most such a cable carries is {most}, over one lane.",
	Why:      "USB4 and two-lane links need a Type-C plug at both ends.",
	Next:     "Expect {most} at most.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok || !p.Legacy() {
			return notApplicable("no older connector is on record")
		}
		d := c.Claims.Data.Value
		most := legacyGbps[p]
		return foundIf(d.Gbps > most || strings.HasSuffix(d.Standard, "x2"), func() Values { return Values{"claimed": c.Claims.Data.Text, "plugs": string(p), "most": gbps(most)} })
	},
}
