package claims

import (
	"math"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// The reduced blanking of VESA CVT 1.2, version 2: the figures of its formula.
const (
	cvtBlankPixels  = 80     // horizontal blanking
	cvtBlankSecond  = 460e-6 // least vertical blanking
	cvtFrontPorch   = 1      // lines, least
	cvtSync         = 8      // lines
	cvtBackPorch    = 6      // lines, least
	cvtClockStepMHz = 0.001
)

// pixelClock is the pixel clock in MHz that a picture needs by VESA CVT 1.2,
// reduced blanking version 2, progressive and without margins.
func pixelClock(v record.VideoClaim) float64 {
	linePeriod := (1/v.Hz - cvtBlankSecond) / float64(v.Height)
	blank := math.Max(math.Floor(cvtBlankSecond/linePeriod)+1, cvtFrontPorch+cvtSync+cvtBackPorch)
	if linePeriod <= 0 {
		return math.Inf(1) // no time is left for the picture
	}
	total := (float64(v.Height) + blank) * float64(v.Width+cvtBlankPixels)
	return math.Floor(v.Hz*total/1e6/cvtClockStepMHz) * cvtClockStepMHz
}

// Bits of a pixel: 8 for each of three colours as it is usual, and the least to
// which DisplayPort's stream compression may go, with colour at a quarter of the
// resolution (VESA DisplayPort 2.0, Table 2-157; from memory).
const (
	pixelBits      = 24
	leastPixelBits = 6
)

// pictureGbps is the rate of a picture in Gbps at a number of bits a pixel.
func pictureGbps(v record.VideoClaim, bits float64) float64 { return pixelClock(v) * bits / 1000 }

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

// pictureWays finds the ways a picture can take: DisplayPort Alt Mode over four lanes,
// and DisplayPort inside USB4 or Thunderbolt. With two plugs the lesser counts.
func (c *Case) pictureWays() pictureWays {
	var out pictureWays
	s := &c.Near.Summary
	can := c.Can(CanDisplayPort)
	switch can.State {
	case Shown:
		rate, _ := s.DisplayPortRate().Get()
		coding := coding128b132b
		if rate.LaneGbps <= hbr3Gbps {
			coding = coding8b10b
		}
		out.mode = dpLanes * rate.LaneGbps * coding
		out.shown = pictureWay{out.mode, "DisplayPort over four lanes"}
	case Open:
		out.open, out.modeOpen = can.Why, true
	}
	// The tunnel, at the rate of the link: two lanes each way, or three of four.
	for _, link := range []struct {
		can   Answerable
		lanes float64
		lane  float64
		over  string
	}{
		{c.canAsymmetric(), 3, 40, "DisplayPort inside USB4"},
		{c.Can(CanUSB4Gen4), 2, 40, "DisplayPort inside USB4"},
		{c.Can(CanUSB4Gen3), 2, 20, "DisplayPort inside USB4"},
		{c.Can(CanThunderbolt3), 2, min(max(c.thunderboltLane(), 10), tbtMostLaneGbps), "DisplayPort inside Thunderbolt"},
		{c.Can(CanUSB4Gen2), 2, 10, "DisplayPort inside USB4"},
	} {
		switch capacity := link.lanes * link.lane * coding128b132b; {
		case capacity <= out.shown.gbps:
		case link.can.State == Shown:
			out.shown = pictureWay{capacity, link.over}
		case link.can.State == Open && out.open == "":
			out.open = link.can.Why
		}
	}
	return out
}

// canAsymmetric is the asymmetric link of a cable that declares Gen 4. A slower one may
// run at Gen 4, and nobody says that it then does so asymmetrically.
func (c *Case) canAsymmetric() Answerable {
	if c.Near.Summary.Speed.Or(vdo.USB2) < vdo.USB4Gen4 {
		return Answerable{State: Excluded}
	}
	return c.Can(CanUSB4Asymmetric)
}
