package bench

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func byHand(ohm, u float64) Estimate { return Estimate{Conductor: VBUS, Ohm: ohm, U: u} }

func phi(z float64) float64 { return StudentCDF(z, math.Inf(1)) }

// Conformance probabilities printed in JCGM 106 (results from memory,
// recomputed).
func TestConformanceProbability(t *testing.T) {
	zener := Decide(byHand(-5.47, 0.05), -5.40, Acceptance{})
	near(t, "7.3 Zener diode", zener.ProbabilityWithin().Value, 0.92, 0.005)
	near(t, "7.3 Zener diode", zener.ProbabilityWithin().Value, 0.919243, 1e-6)
	// A lower limit is an upper one with the signs turned.
	near(t, "7.3 bursting strength", Decide(byHand(-509.7, 8.6), -490, Acceptance{}).ProbabilityWithin().Value, 0.989010, 1e-6)
	// Two-sided is the difference of two one-sided ones.
	oil := byHand(13.6, 1.8)
	p := Decide(oil, 16.3, Acceptance{}).ProbabilityWithin().Value - Decide(oil, 12.5, Acceptance{}).ProbabilityWithin().Value
	near(t, "7.4 oil viscosity", p, 0.662630, 1e-6)
	near(t, "8.3.3 speed radar", 100/(1-0.02*StudentQuantile(0.999, math.Inf(1))), 106.588, 5e-4)
	near(t, "9.5.3 resistors conforming", phi(0.2/0.12)-phi(-0.2/0.12), 0.904419, 1e-6)
	// One-sided process figures of a course notebook.
	near(t, "N(10.5, 0.4) above 11", 1-phi(1.25), 0.1056498, 1e-7)
	near(t, "N(12, 0.4) above 11", phi(2.5), 0.9937903, 1e-7)
}

// JCGM 106 9.5.3: global risks of an ohmmeter with u = 0.04 Ω sorting resistors
// from N(1500, 0.12), guard band 0.02 Ω and none.
func TestGlobalRisk(t *testing.T) {
	for _, c := range []struct{ w, consumer, producer float64 }{
		{0.02, 0.00987829, 0.0690265},
		{0, 0.0189422, 0.0372078},
	} {
		var consumer, producer float64
		const dx = 1e-4
		for x := -1.0; x < 1; x += dx {
			m := x + dx/2
			density := math.Exp(-m*m/(2*0.12*0.12)) / (0.12 * math.Sqrt(2*math.Pi)) * dx
			accepted := phi((0.2-c.w-m)/0.04) - phi((-0.2+c.w-m)/0.04)
			if math.Abs(m) > 0.2 {
				consumer += density * accepted
			} else {
				producer += density * (1 - accepted)
			}
		}
		near(t, "consumer's risk", consumer, c.consumer, 1e-6)
		near(t, "producer's risk", producer, c.producer, 1e-6)
	}
}

// JCGM 106 9.5.4: ball bearings with an upper limit of 2 µm, u = 0.25 µm, from a
// skewed process, gamma with shape 4 and scale 1/4 µm (values as a course notebook
// quotes them). First by integration, then a population decided one by one.
func TestGlobalRiskOneSided(t *testing.T) {
	const limit, u = 2.0, 0.25
	density := func(x float64) float64 { return 256 * x * x * x * math.Exp(-4*x) / 6 }
	risks := func(acceptance float64) (over, consumer, producer float64) {
		const dx = 1e-4
		for x := dx / 2; x < 12; x += dx {
			p, accepted := density(x)*dx, phi((acceptance-x)/u)
			if x > limit {
				over += p
				consumer += p * accepted
			} else {
				producer += p * (1 - accepted)
			}
		}
		return over, consumer, producer
	}
	over, consumer, _ := risks(limit)
	near(t, "out of tolerance", over, 0.0423801120, 1e-7)
	near(t, "consumer's risk, w = 0", consumer, 0.0080191119, 1e-7)
	_, consumer, producer := risks(limit - 0.3281712284559932)
	near(t, "consumer's risk, w = 0.328 µm", consumer, 0.001, 1e-7)
	near(t, "producer's risk, w = 0.328 µm", producer, 0.0754939, 1e-6)

	const n = 100_000
	rng := rand.New(rand.NewPCG(9, 54))
	passed := map[Acceptance]float64{}
	for range n {
		var x float64
		for range 4 { // a gamma of whole shape is a sum of exponentials
			x += rng.ExpFloat64() / 4
		}
		e := byHand(x+u*rng.NormFloat64(), u)
		for _, rule := range []Acceptance{Acceptance{Simple: true}, Acceptance{}} {
			if x > limit && Decide(e, limit, rule).Outcome == Within {
				passed[rule]++
			}
		}
	}
	_, guarded, _ := risks(limit - CoverageFactor(Coverage, math.Inf(1))*u)
	for rule, want := range map[Acceptance]float64{Acceptance{Simple: true}: 0.0080191119, {}: guarded} {
		near(t, "population, "+rule.String(), passed[rule]/n, want, 4*math.Sqrt(want/n))
	}
}

// Risk at the acceptance limit of guard bands w = r·U with k = 2, as the
// handbooks on ILAC-G8 print it.
func TestGuardBandRisk(t *testing.T) {
	e := byHand(100, 1)
	for _, c := range []struct{ r, risk, tolerance float64 }{
		{0, 0.50, 1e-12},
		{0.83, 0.04846, 5e-6}, // printed < 5 %
		{1, 0.02275, 5e-6},    // printed < 2.5 %
		{1.5, 0.00135, 5e-6},  // printed < 0.16 %
		{3, 0.99e-9, 1e-11},   // printed < 1 ppm
	} {
		d := Decide(e, e.Ohm+c.r*2*e.U, Acceptance{})
		near(t, "risk", 1-d.ProbabilityWithin().Value, c.risk, c.tolerance)
		if want := map[bool]Outcome{true: Within, false: Undecided}[c.r >= 1]; d.Outcome != want {
			t.Errorf("r = %g: %v, want %v", c.r, d.Outcome, want)
		}
	}
	// Few repeats: Student's t at w = 2u.
	for nu, risk := range map[float64]float64{4: 0.0581, 9: 0.0383, 19: 0.0300} {
		few := e
		few.DoF = nu
		near(t, "risk with few repeats", 1-Decide(few, 102, Acceptance{}).ProbabilityWithin().Value, risk, 5e-5)
		// The guard band of so few is wider than 2u and keeps the risk.
		w := Decide(few, 102, Acceptance{}).GuardBand
		near(t, "risk at w = U", 1-Decide(few, 100+w, Acceptance{}).ProbabilityWithin().Value, (1-Coverage)/2, 1e-9)
	}
	few := e
	few.DoF = 4
	near(t, "4.5 u at ν = 4", 1-Decide(few, 104.5, Acceptance{}).ProbabilityWithin().Value, 5.41e-3, 5e-6)
}

func TestDecide(t *testing.T) {
	bound := byHand(100, 1)
	bound.Assumed = true
	for _, c := range []struct {
		name    string
		e       Estimate
		limit   float64
		rule    Acceptance
		outcome Outcome
		applied Acceptance
	}{
		{"at the acceptance limit", byHand(98, 1), 100, Acceptance{}, Within, Acceptance{}},
		{"just inside the guard band", byHand(98.001, 1), 100, Acceptance{}, Undecided, Acceptance{}},
		{"at the limit", byHand(100, 1), 100, Acceptance{}, Undecided, Acceptance{}},
		{"at limit + U", byHand(102, 1), 100, Acceptance{}, Undecided, Acceptance{}},
		{"beyond limit + U", byHand(102.001, 1), 100, Acceptance{}, Over, Acceptance{}},
		{"simple, at the limit", byHand(100, 1), 100, Acceptance{Simple: true}, Within, Acceptance{Simple: true}},
		{"simple, beyond", byHand(100.001, 1), 100, Acceptance{Simple: true}, Over, Acceptance{Simple: true}},
		{"an assumption is no exception", bound, 100, Acceptance{}, Undecided, Acceptance{}},
		{"no uncertainty", byHand(100.001, 0), 100, Acceptance{}, Over, Acceptance{}},
	} {
		d := Decide(c.e, c.limit, c.rule)
		if d.Outcome != c.outcome || d.Acceptance != c.applied {
			t.Errorf("%s: %v by %v, want %v by %v", c.name, d.Outcome, d.Acceptance, c.outcome, c.applied)
		}
		if d.ProbabilityWithin().Known != (c.e.U > 0) {
			t.Errorf("%s: probability %+v", c.name, d.ProbabilityWithin())
		}
		if says := strings.Contains(d.Text(), "assumed"); d.Assumed != c.e.Assumed || says != c.e.Assumed {
			t.Errorf("%s: assumed %t, %q", c.name, d.Assumed, d.Text())
		}
	}
}

func TestWordsInJSON(t *testing.T) {
	got, err := json.Marshal([]any{Within, Over, Undecided, VBUS, Ground, Loop, Acceptance{}, Acceptance{Simple: true}, FlipUp, FlipDown, TypeA, Ratio, HeatingOrContact, SenseEach, WarmVerdict, TooMuchResistance, AmmeterSpec})
	want := `["within","over","undecided","vbus","ground","loop","guard band w = U","simple acceptance","up","down","A","ratio","heating-or-contact","sense-each","warm-verdict","too much resistance","ammeter"]`
	if err != nil || string(got) != want {
		t.Errorf("%s, want %s (%v)", got, want, err)
	}
}
