package bench

import (
	"math"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// endToEnd is a vector of our own, not published, on which two independent methods
// agree: five repeats with a null at 3 A.
func endToEnd() Session {
	s := Session{
		Voltmeter:           &quantity.Accuracy{Reading: 0.0005, Counts: 3, Resolution: 10e-6},
		Ammeter:             &quantity.Accuracy{Reading: 0.005, Fixed: 2e-3},
		AmbientCelsius:      Known(25),
		AmbientWithinKelvin: 2,
	}
	amps := []float64{3.002, 2.998, 3.001, 2.999, 3.000}
	volts := []float64{402.1e-3, 401.6e-3, 402.0e-3, 401.7e-3, 401.9e-3}
	nulls := []float64{1.20e-3, 1.22e-3, 1.19e-3, 1.21e-3, 1.18e-3}
	for i := range amps {
		s.Readings = append(s.Readings, Reading{CurrentAmp: amps[i], VBUSVolt: Known(volts[i])})
		s.Nulls = append(s.Nulls, Reading{CurrentAmp: 3, VBUSVolt: Known(nulls[i])})
	}
	return s
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tolerance)
	}
}

func TestEndToEndVector(t *testing.T) {
	r, err := Evaluate(endToEnd())
	if err != nil {
		t.Fatal(err)
	}
	e := r.VBUS
	const milli = 1e-3
	near(t, "R", e.Ohm, 133.55333*milli, 1e-5*milli)
	near(t, "u", e.U, 0.43926*milli, 3e-5*milli)
	for source, want := range map[Source]float64{
		VoltmeterSpec: 0.0444, AmmeterSpec: 0.4369, NullRepeats: 0.0024, NullVoltmeter: 0.0059,
		// Of the mean of the paired resistances. The vector subtracts the mean null
		// as a voltage, we scale it to each current: 0.0041871.
		Repeats: 0.0041672,
	} {
		found := false
		for _, c := range e.Budget {
			if c.Source == source {
				found = true
				near(t, source.String(), c.Ohm, want*milli, 0.00006*milli)
			}
		}
		if !found {
			t.Errorf("no contribution of %v", source)
		}
	}
	cold := e.Warmed(r.Session.Ambient(), 20)
	near(t, "R20", cold.Ohm, 130.97958*milli, 1e-5*milli)
	near(t, "u(R20)", cold.U, 0.72484*milli, 5e-5*milli)

	// By numerical integration over the ammeter's error, which dominates; the rest is normal
	// (the vector itself has the probabilities of a normal distribution of this u).
	rest := 0.0
	for _, c := range e.Budget[1:] {
		rest = math.Hypot(rest, c.Ohm)
	}
	probability := func(limit float64) (p float64) {
		a := e.Budget[0].Ohm * math.Sqrt(3)
		const n = 20000
		for i := range n {
			p += phi((limit-e.Ohm-a*(2*(float64(i)+0.5)/n-1))/rest) / n
		}
		return p
	}
	for _, d := range []struct {
		limit float64
		want  Outcome
	}{
		{135.0, Within}, {134.5, Within}, {134.0, Undecided},
		{133.0, Undecided}, {166.67, Within},
	} {
		got := Decide(*e, d.limit*milli, Acceptance{})
		if got.Outcome != d.want {
			t.Errorf("limit %g mΩ: %v, want %v", d.limit, got.Outcome, d.want)
		}
		near(t, "p", got.ProbabilityWithin().Value, probability(d.limit*milli), 2e-3)
	}
}
