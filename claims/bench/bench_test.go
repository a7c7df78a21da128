package bench

import (
	"testing"

	"example.com/gainsay/claims/quantity"
)

func BenchmarkEvaluate(b *testing.B) {
	s := endToEnd()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Evaluate(s); err != nil {
			b.Fatal(err)
		}
	}
}

// A session of twenty readings, ten each way up in five matings, with three nulls.
func BenchmarkSession(b *testing.B) {
	volt, amp := quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}, quantity.Accuracy{Reading: 0.001, Fixed: 1e-3}
	s := Session{Voltmeter: &volt, Ammeter: &amp}
	for i := range 20 {
		flip := FlipUp
		if i%2 == 1 {
			flip = FlipDown
		}
		noise := float64(i*7%11) * 2e-5
		s.Readings = append(s.Readings, Reading{CurrentAmp: 1.0002, VBUSVolt: Known(0.0931 + noise), GroundVolt: Known(0.0449 - noise),
			Flip: flip, Mating: 1 + i/4, VBUSDigit: 1e-5, GroundDigit: 1e-5, CurrentDigit: 1e-4})
	}
	for i := range 3 {
		s.Nulls = append(s.Nulls, Reading{CurrentAmp: 1.0001, VBUSVolt: Known(0.0012 + 1e-5*float64(i)), GroundVolt: Known(0.0009), VBUSDigit: 1e-5, GroundDigit: 1e-5})
	}
	b.ReportAllocs()
	for b.Loop() {
		r, err := Evaluate(s)
		if err != nil {
			b.Fatal(err)
		}
		DecideCable(r, 5, Acceptance{})
	}
}

func BenchmarkDecideCable(b *testing.B) {
	r := Result{VBUS: leg(VBUS, 0.09, 1e-3), Ground: leg(Ground, 0.04, 1e-3)}
	b.ReportAllocs()
	for b.Loop() {
		DecideCable(r, 5, Acceptance{})
	}
}

func BenchmarkCoverageFactor(b *testing.B) {
	for b.Loop() {
		CoverageFactor(Coverage, 4.3)
	}
}
