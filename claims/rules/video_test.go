package rules

import (
	"math"
	"testing"

	"example.com/gainsay/claims/internal/video"
	"example.com/gainsay/claims/record"
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
		if got := video.PixelClock(v); tt.mhz > 0 && math.Abs(got-tt.mhz) > 0.0015 {
			t.Errorf("%v: %.3f MHz, want %.3f", v, got, tt.mhz)
		}
		if got := video.Gbps(v, video.PixelBits); math.Abs(got-tt.gbps) > 0.005+1e-9 {
			t.Errorf("%v: %.3f Gbps, want %.2f", v, got, tt.gbps)
		}
	}
	// By hand: at 24 Hz the blanking is its least, 1 + 8 + 6 lines, and 24 × 495 × 720
	// is 8.5536 MHz; at 1000 Hz it is 460 µs, 409 lines, and 1000 × 889 × 720.
	for hz, want := range map[float64]float64{24: 8.553, 1000: 640.08} {
		if got := video.PixelClock(record.VideoClaim{Width: 640, Height: 480, Hz: hz}); math.Abs(got-want) > 1e-9 {
			t.Errorf("640 × 480 at %v Hz: %v MHz, want %v", hz, got, want)
		}
	}
	if got := video.PixelClock(record.VideoClaim{Width: 640, Height: 480, Hz: 3000}); !math.IsInf(got, 1) {
		t.Errorf("no time for the picture: %g MHz", got)
	}
}

// TestPictureWays holds what cables carry against the payload rates that DisplayPort is
// known for: 25.92 Gbps at HBR3, 38.69 at UHBR10, 77.37 at UHBR20 (published figures
// take off 1/4 % for forward error correction more).
func TestPictureWays(t *testing.T) {
	// An active cable, and its answers to Discover SVIDs and Discover Modes for DisplayPort.
	const active = "FF00A841 20602FA1 00000000 01020100 "
	withDP := func(one, two, word string) string {
		return "FF00A841 24602FA1 00000000 01020100 " + one + " " + two + " FF00A842 FF010000 FF01A843 " + word
	}
	for name, tt := range map[string]struct {
		words string
		gbps  float64
		over  string
		open  bool
	}{
		"HBR3, no tunnel":              {withDP("00683A58", "46500118", "40000004"), 25.92, "DisplayPort over four lanes", false},
		"UHBR10":                       {withDP("00683A5A", "46500019", "4000000C"), 38.69, "DisplayPort over four lanes", false},
		"UHBR20":                       {withDP("00683A5B", "46500019", "4000001C"), 77.37, "DisplayPort over four lanes", false},
		"HBR3 beside USB4 Gen 3":       {withDP("00683A5B", "46500019", "40000004"), 38.79, "DisplayPort inside USB4", false},
		"passive, USB 2.0":             {"FF00A041 18602FA1 00000000 01020100 00082020", 0, "", false},
		"passive, Gen 2":               {"FF00A041 18602FA1 00000000 01020100 00082022", 38.69, "DisplayPort over four lanes", false},
		"passive, modes not asked":     {"FF00A041 1C602FA1 00000000 01020100 00082022", 19.39, "DisplayPort inside USB4", true},
		"active, USB4 Gen 3, no modes": {active + "00683A5B 46500019", 38.79, "DisplayPort inside USB4", false},
		"active, Gen 4, asymmetric":    {active + "00683A5C 4650001B", 116.36, "DisplayPort inside USB4", false},
	} {
		got := waysOf(caseOf(t, "marker: {near: \""+tt.words+"\"}\n").Ends()[0])
		if math.Abs(got.shown.gbps-tt.gbps) > 0.003*tt.gbps || got.shown.over != tt.over || got.modeOpen != tt.open {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
