package bench

import (
	"math"
	"testing"
)

// TestRisk: the guard band for a stated risk. For a normal distribution it is the quantile
// of the risk times u: 1.6449 u at 5 %, 2.3263 u at 1 % (JCGM 106, Table of 8.3.2; quantiles
// of any statistical table).
func TestRisk(t *testing.T) {
	e := Estimate{Conductor: VBUS, Ohm: 0.09, U: 1e-3, DoF: math.Inf(1)}
	for risk, quantile := range map[float64]float64{0.05: 1.644854, 0.01: 2.326348, 0.25: 0.674490} {
		by := Acceptance{Risk: risk}
		d := Decide(e, 0.1, by)
		if math.Abs(d.GuardBand-quantile*e.U) > 1e-6*e.U {
			t.Errorf("%s: guard band %g u, want %g u", by, d.GuardBand/e.U, quantile)
		}
		limit := e.Ohm + quantile*e.U
		for shift, want := range map[float64]Outcome{1e-7: Within, -1e-7: Undecided} {
			if d := Decide(e, limit+shift, by); d.Outcome != want {
				t.Errorf("%s, %g Ω from its edge: %v", by, shift, d.Outcome)
			}
		}
		limit = e.Ohm - quantile*e.U
		for shift, want := range map[float64]Outcome{-1e-7: Over, 1e-7: Undecided} {
			if d := Decide(e, limit+shift, by); d.Outcome != want {
				t.Errorf("%s, %g Ω from its other edge: %v", by, shift, d.Outcome)
			}
		}
	}
	if got := (Acceptance{Risk: 0.05}).String(); got != "guard band for a risk of 5 %" {
		t.Error(got)
	}
}

// TestOwnLimits: a lab's limits beside the published ones; the stricter counts.
func TestOwnLimits(t *testing.T) {
	own := Acceptance{Limits: Limits{VBUSOhm: 0.08}}
	r := Result{VBUS: leg(VBUS, 0.090, 1e-4), Ground: leg(Ground, 0.040, 1e-4)}
	for _, tt := range []struct {
		by   Acceptance
		amp  float64
		want Outcome
	}{{Acceptance{}, 5, Within}, {own, 5, Over}, {own, 3, Over}, {Acceptance{Limits: Limits{VBUSOhm: 0.2}}, 5, Within}, {Acceptance{Limits: Limits{GroundOhm: 0.03}}, 3, Over}} {
		if got := DecideCable(r, tt.amp, tt.by).Outcome; got != tt.want {
			t.Errorf("%+v at %g A: %v, want %v", tt.by.Limits, tt.amp, got, tt.want)
		}
	}
	if got := own.LimitOhm(Loop, 5); math.Abs(got-0.13) > 1e-12 {
		t.Errorf("sum of the limits: %g Ω", got)
	}
	if m, _ := MaxCurrentOf(r, own); m.LowAmp != 0 || m.Amp.Value != 0 || m.LimitedBy != VBUS {
		t.Errorf("%+v", m)
	}
	loop := Result{Loop: leg(Loop, 0.13, 0)}
	for _, by := range []Acceptance{own, {}} {
		m, _ := MaxCurrentOf(loop, by)
		if at := by.LimitOhm(Loop, m.HighAmp); math.Abs(at-0.13) > 1e-9 {
			t.Errorf("%+v: the loop's limit at %g A is %g Ω", by.Limits, m.HighAmp, at)
		}
	}
}
