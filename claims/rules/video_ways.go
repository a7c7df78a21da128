package rules

import (
	"example.com/gainsay/claims"
	"example.com/gainsay/vdo"
)

// What the line coding leaves of a DisplayPort lane: 8b/10b up to HBR3, 128b/132b
// at the UHBR rates.
const (
	coding8b10b    = 8.0 / 10
	coding128b132b = 128.0 / 132

	dpLanes  = 4
	hbr3Gbps = 8.1
)

// pictureWay is a way of sending a picture over a cable, with its capacity in Gbps.
type pictureWay struct {
	gbps float64
	over string
}

// pictureWays is what a host can send as a picture over a cable.
type pictureWays struct {
	shown    pictureWay // the best way that is shown; zero where none is
	mode     float64    // Gbps over DisplayPort Alt Mode, where that is shown
	modeOpen bool       // whether DisplayPort Alt Mode is open
	open     string     // why a better way is open, empty where none is
}

// waysOf finds the ways a picture can take: DisplayPort Alt Mode over four lanes,
// and DisplayPort inside USB4 or Thunderbolt. With two plugs the lesser counts.
func waysOf(c *claims.Case) pictureWays {
	var out pictureWays
	s := &c.Near.Summary
	can := c.Can(claims.CanDisplayPort)
	switch can.State {
	case claims.Shown:
		rate, _ := s.DisplayPortRate().Get()
		coding := coding128b132b
		if rate.LaneGbps <= hbr3Gbps {
			coding = coding8b10b
		}
		out.mode = dpLanes * rate.LaneGbps * coding
		out.shown = pictureWay{out.mode, "DisplayPort over four lanes"}
	case claims.Open:
		out.open, out.modeOpen = can.Why, true
	}
	// The tunnel, at the rate of the link: two lanes each way, or three of four.
	for _, link := range []struct {
		can   claims.Answerable
		lanes float64
		lane  float64
		over  string
	}{
		{canAsymmetric(c), 3, 40, "DisplayPort inside USB4"},
		{c.Can(claims.CanUSB4Gen4), 2, 40, "DisplayPort inside USB4"},
		{c.Can(claims.CanUSB4Gen3), 2, 20, "DisplayPort inside USB4"},
		{c.Can(claims.CanThunderbolt3), 2, min(max(c.ThunderboltGbps(), 10), claims.ThunderboltLaneGbps), "DisplayPort inside Thunderbolt"},
		{c.Can(claims.CanUSB4Gen2), 2, 10, "DisplayPort inside USB4"},
	} {
		switch capacity := link.lanes * link.lane * coding128b132b; {
		case capacity <= out.shown.gbps:
		case link.can.State == claims.Shown:
			out.shown = pictureWay{capacity, link.over}
		case link.can.State == claims.Open && out.open == "":
			out.open = link.can.Why
		}
	}
	return out
}

// canAsymmetric is the asymmetric link of a cable that declares Gen 4. A slower one may
// run at Gen 4, and nobody says that it then does so asymmetrically.
func canAsymmetric(c *claims.Case) claims.Answerable {
	if c.Near.Summary.Speed.Or(vdo.USB2) < vdo.USB4Gen4 {
		return claims.Answerable{State: claims.Excluded}
	}
	return c.Can(claims.CanUSB4Asymmetric)
}
