package claims

import (
	"math"
	"testing"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// TestPixelClock holds the formula against published figures of VESA CVT reduced
// blanking version 2: pixel clocks of common pictures and rates at 24 bits a
// pixel as tables of DisplayPort limits list them. All from memory.
func TestPixelClock(t *testing.T) {
	tests := []struct {
		width, height int
		hz            float64
		mhz, gbps     float64 // 0: not remembered
	}{
		{1920, 1080, 60, 133.320, 3.20},
		{1920, 1080, 144, 0, 8.00},
		{2560, 1440, 60, 234.590, 5.63},
		{3840, 2160, 60, 522.614, 12.54},
		{3840, 2160, 120, 1075.804, 25.82},
		{3840, 2160, 144, 0, 31.35},
		{3840, 2160, 240, 0, 54.84},
		{5120, 2880, 60, 0, 22.18},
		{7680, 4320, 30, 0, 24.48},
		{7680, 4320, 60, 0, 49.65},
	}
	for _, tt := range tests {
		v := record.VideoClaim{Width: tt.width, Height: tt.height, Hz: tt.hz}
		if got := pixelClock(v); tt.mhz > 0 && math.Abs(got-tt.mhz) > 0.0015 {
			t.Errorf("%v: %.3f MHz, want %.3f", v, got, tt.mhz)
		}
		if got := pictureGbps(v, pixelBits); math.Abs(got-tt.gbps) > 0.005+1e-9 {
			t.Errorf("%v: %.3f Gbps, want %.2f", v, got, tt.gbps)
		}
	}
	// By hand: at 24 Hz the blanking is its least, 1 + 8 + 6 lines, and 24 × 495 × 720
	// is 8.5536 MHz; at 1000 Hz it is 460 µs, 409 lines, and 1000 × 889 × 720.
	for hz, want := range map[float64]float64{24: 8.553, 1000: 640.08} {
		if got := pixelClock(record.VideoClaim{Width: 640, Height: 480, Hz: hz}); math.Abs(got-want) > 1e-9 {
			t.Errorf("640 × 480 at %v Hz: %v MHz, want %v", hz, got, want)
		}
	}
	if got := pixelClock(record.VideoClaim{Width: 640, Height: 480, Hz: 3000}); !math.IsInf(got, 1) {
		t.Errorf("no time for the picture: %g MHz", got)
	}
}

// TestPictureCapacity holds what cables carry against the payload rates that
// DisplayPort is known for: 25.92 Gbps at HBR3, 38.69 at UHBR10, 77.37 at UHBR20
// (published figures take off 1/4 % for forward error correction more).
func TestPictureCapacity(t *testing.T) {
	dp := func(sig uint32) vdo.Maybe[vdo.DisplayPortCable] { return vdo.Some(vdo.DisplayPortCable(sig << 2)) }
	tests := map[string]struct {
		s     vdo.Summary
		gbps  float64
		exact bool
	}{
		"HBR3":                         {vdo.Summary{DisplayPort: dp(vdo.DPHBR3)}, 25.92, true},
		"UHBR10":                       {vdo.Summary{DisplayPort: dp(vdo.DPUHBR10)}, 38.69, true},
		"UHBR20":                       {vdo.Summary{DisplayPort: dp(vdo.DPUHBR20)}, 77.37, true},
		"passive, USB 2.0":             {vdo.Summary{Product: vdo.Some(vdo.PassiveType), Speed: vdo.Some(vdo.USB2)}, 0, true},
		"passive, Gen 2":               {vdo.Summary{Product: vdo.Some(vdo.PassiveType), Speed: vdo.Some(vdo.USB32Gen2)}, 38.69, true},
		"active, USB4 Gen 3, no modes": {vdo.Summary{Product: vdo.Some(vdo.ActiveType), Speed: vdo.Some(vdo.USB4Gen3), Modal: vdo.Some(false), USB4: vdo.Some(true)}, 38.69, true},
		"active, Gen 4, asymmetric": {vdo.Summary{Product: vdo.Some(vdo.ActiveType), Speed: vdo.Some(vdo.USB4Gen4), Modal: vdo.Some(false),
			USB4: vdo.Some(true), Asymmetric: vdo.Some(true)}, 116.1, true},
		"active, with modes": {vdo.Summary{Product: vdo.Some(vdo.ActiveType), Speed: vdo.Some(vdo.USB2), Modal: vdo.Some(true)}, 0, false},
	}
	both := func(dpBits uint32) vdo.Summary {
		return vdo.Summary{Product: vdo.Some(vdo.ActiveType), Speed: vdo.Some(vdo.USB4Gen3), USB4: vdo.Some(true), DisplayPort: dp(dpBits)}
	}
	for rate, want := range map[uint32]string{vdo.DPHBR3: "DisplayPort inside USB4", vdo.DPUHBR10: "DisplayPort over four lanes"} {
		if got, over, _ := pictureCapacity(both(rate)); math.Abs(got-38.79) > 0.01 || over != want {
			t.Errorf("USB4 Gen 3 beside %b: %.2f Gbps, %s", rate, got, over)
		}
	}
	for name, tt := range tests {
		got, _, exact := pictureCapacity(tt.s)
		if math.Abs(got-tt.gbps) > 0.003*tt.gbps || exact != tt.exact {
			t.Errorf("%s: %.2f Gbps, exact %t", name, got, exact)
		}
	}
}
