package bench

import "testing"

func BenchmarkEvaluate(b *testing.B) {
	s := endToEnd()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Evaluate(s); err != nil {
			b.Fatal(err)
		}
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
