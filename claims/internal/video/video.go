// Package video is the timing of pictures: what rate a resolution needs.
package video

import (
	"math"

	"example.com/gainsay/claims/record"
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

// PixelClock is the pixel clock in MHz that a picture needs by VESA CVT 1.2,
// reduced blanking version 2, progressive and without margins.
func PixelClock(v record.VideoClaim) float64 {
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
	PixelBits      = 24
	LeastPixelBits = 6
)

// Gbps is the rate of a picture in Gbps at a number of bits a pixel.
func Gbps(v record.VideoClaim, bits float64) float64 { return PixelClock(v) * bits / 1000 }
