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

// pictureCapacity is the most that a host can send as a picture over a cable, in
// Gbps, and over what; exact is false where the answers leave room for more.
func pictureCapacity(s vdo.Summary) (gbps float64, over string, exact bool) {
	rate, exact := s.DisplayPortRate().Get()
	if rate.LaneGbps > 0 {
		coding := coding128b132b
		if rate.LaneGbps <= hbr3Gbps {
			coding = coding8b10b
		}
		gbps, over = dpLanes*rate.LaneGbps*coding, "DisplayPort over four lanes"
	}
	// DisplayPort can also run inside USB4. For passive cables that is never more.
	if s.USB4.Or(false) {
		lanes := 2.0
		if s.Asymmetric.Or(false) {
			lanes = 3
		}
		if lane, ok := s.LaneGbps().Get(); ok && lanes*lane*coding128b132b > gbps {
			gbps, over = lanes*lane*coding128b132b, "DisplayPort inside USB4"
		}
	}
	if over == "" {
		over = "no way for DisplayPort"
	}
	return gbps, over, exact
}
