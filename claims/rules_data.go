package claims

import (
	"fmt"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

var dataRules = []*Rule{claimedDataAboveMarker, claimedDataOnUnmarked, markerDataAboveClaim, usb4OnlyAt20G}

// needs says what the cable word must declare for a claimed rate.
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
	case d.Gbps <= 0.48:
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
	Says:     "The seller claims {claimed}; the marker was asked and did not answer, and a Type-C to Type-C cable above USB 2.0 must be marked.",
	Why:      "Without a marker a host may take the cable for USB 2.0, and the wires for more may be missing.",
	Next:     "Ask once more with VCONN applied and the plug the other way up. If it stays silent, expect USB 2.0.",
	Check: func(c *Case) Result {
		if p, ok := c.Plugs(); ok && p.Legacy() {
			return notApplicable("a legacy cable has no marker that could show it")
		}
		if c.Marker() != MarkerAbsent {
			return notApplicable("the cable is marked")
		}
		if c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps() {
			return notApplicable("USB 2.0 needs no marker, and its wires were not tested")
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
		return foundIf(ok && speed.LaneGbps() > 0.48 && speed.LaneGbps() > d.Gbps,
			Values{"claimed": c.Claims.Data.Text, "declared": speedText(c.Near.Summary)})
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
		return foundIf(ok && p == vdo.PassiveType && speed == vdo.USB32Gen1 && d.Standard == "" && d.Gbps > 10 && d.Gbps <= 20,
			Values{"claimed": c.Claims.Data.Text, "declared": speedText(s)})
	},
}
