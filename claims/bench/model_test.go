package bench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// GUM H.5 (data from memory, recomputed): a voltage standard read five times on each of
// ten days, in µV. The days are matings. They differ, so the uncertainty of the mean comes
// from the means of the days.
func TestGUMH5(t *testing.T) {
	means := []float64{172, 116, 13, 144, 106, 31, 60, 125, 163, 41}
	deviations := []float64{60, 77, 111, 101, 67, 93, 80, 73, 88, 86}
	// Five values of mean 0 and standard deviation 1.
	five := []float64{-math.Sqrt2, 0, 0, 0, math.Sqrt2}
	s := &set{}
	for day := range means {
		for _, x := range five {
			s.index, s.flip, s.mating = append(s.index, len(s.y)), append(s.flip, FlipUnknown), append(s.mating, day+1)
			s.y = append(s.y, means[day]+x*deviations[day])
		}
	}
	u, dof, ok := s.typeA(FlipUnknown)
	mean, days := s.means(FlipUnknown)
	near(t, "mean", mean, 97.1, 1e-9)
	near(t, "s of the means", math.Sqrt(s.between), 57.09, 0.01)
	near(t, "s within", math.Sqrt(s.within), 84.89, 0.01)
	near(t, "F", s.between*5/s.within, 2.26, 0.005)
	if !ok || days != 10 || dof != 9 || s.dofWithin != 40 {
		t.Errorf("%d days, ν %g and %g", days, dof, s.dofWithin)
	}
	near(t, "u", u, 57.09/math.Sqrt(10), 0.01)
	near(t, "u printed", u, 18, 0.1)
}

// GUM F.2.2.1: a display of step d has u = 0.29 d.
func TestDisplayDigit(t *testing.T) {
	r, err := Evaluate(Session{Voltmeter: &quantity.Accuracy{}, Ammeter: &quantity.Accuracy{},
		Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.093), VBUSDigit: 1e-3}}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u", r.VBUS.U, 0.29e-3, 0.002e-3)
	near(t, "U, the digit alone", r.VBUS.Expanded, Coverage*0.5e-3, 1e-15)
	// Counts in the accuracy have the digit in them.
	r, _ = Evaluate(Session{Voltmeter: &quantity.Accuracy{Counts: 2, Resolution: 1e-3}, Ammeter: &quantity.Accuracy{},
		Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.093), VBUSDigit: 1e-3}}})
	near(t, "counts", r.VBUS.U, 2e-3/math.Sqrt(3), 1e-15)
}

// A ground over its limit one way up is over, whatever the other way gives and whatever
// VBUS has there.
func TestWorseWayUpCounts(t *testing.T) {
	s := Session{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{
		{CurrentAmp: 1, VBUSVolt: Known(0.060), LoopVolt: Known(0.119), Flip: FlipUp},   // ground 59 mΩ
		{CurrentAmp: 1, VBUSVolt: Known(0.080), LoopVolt: Known(0.121), Flip: FlipDown}, // ground 41 mΩ
	}}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ground", r.Ground.Ohm, 0.059, 1e-12)
	d := DecideCable(r, 5, Acceptance{})
	if r.Ground.Flip != FlipUp || d.Outcome != Over || d.Decisive().Estimate.Flip != FlipUp || len(d.Decisions) != 4 {
		t.Errorf("%v, %v: %s", r.Ground.Flip, d.Outcome, d.Why())
	}
}

// What two conductors have in common cancels in a difference and adds in a sum: the
// voltmeter's gain, the ammeter, and the scatter of readings taken together.
func TestSharedOrigins(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{Reading: 0.01}, Ammeter: &quantity.Accuracy{Reading: 0.02}}
	for _, wander := range []float64{-1e-3, 0, 1e-3} {
		s.Readings = append(s.Readings, Reading{CurrentAmp: 1, VBUSVolt: Known(0.060 + wander), GroundVolt: Known(0.050 - wander)})
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	// Opposed wander: none is left in the sum, twice of it in the difference.
	near(t, "scatter of the sum", rowOf(*r.Loop, Repeats).Ohm, 0, 1e-15)
	near(t, "voltmeter of the sum", rowOf(*r.Loop, VoltmeterSpec).Ohm, 0.01*0.110/math.Sqrt(3), 1e-12)
	near(t, "ammeter of the sum", rowOf(*r.Loop, AmmeterSpec).Ohm, 0.02*0.110/math.Sqrt(3), 1e-12)
	d := linear(1, r.VBUS, -1, r.Ground)
	d.settle()
	near(t, "scatter of the difference", rowOf(d, Repeats).Ohm, 2e-3/math.Sqrt(3), 1e-12)
	near(t, "voltmeter of the difference", rowOf(d, VoltmeterSpec).Ohm, 0.01*0.010/math.Sqrt(3), 1e-12)
	near(t, "ammeter of the difference", rowOf(d, AmmeterSpec).Ohm, 0.02*0.010/math.Sqrt(3), 1e-12)
	// Between two sessions nothing is common.
	again, _ := Evaluate(s)
	near(t, "between sessions", Compare(*r.VBUS, *again.VBUS).U, math.Sqrt2*r.VBUS.U, 1e-12)
	near(t, "with itself", Compare(*r.VBUS, *r.VBUS).U, 0, 1e-15)
}

// A curvature within the gain error of the currents is no heating.
func TestGainIsNoHeating(t *testing.T) {
	for gain, want := range map[float64]bool{0.02: false, 0.0001: true} {
		s := Session{Voltmeter: &quantity.Accuracy{Reading: gain}, Ammeter: &quantity.Accuracy{}}
		for _, amp := range []float64{1, 2, 3, 5} {
			s.Readings = append(s.Readings, Reading{CurrentAmp: amp, VBUSVolt: Known(0.1*amp + 0.0005*amp*amp)})
		}
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		if slices.Contains(kinds(r), HeatingOrContact) != want {
			t.Errorf("gain within %g: %v", gain, kinds(r))
		}
	}
}

// Ten readings with one null as noisy as each of them: the null's scatter is theirs, and
// the interval holds the truth as often as stated. Without it, it would half the time.
func TestNoisyNull(t *testing.T) {
	const n = 20000
	rng := rand.New(rand.NewPCG(14, 51))
	for _, nulls := range []int{1, 3} {
		inside := 0
		for range n {
			s := Session{Voltmeter: &quantity.Accuracy{}, Ammeter: &quantity.Accuracy{}}
			for range 10 {
				s.Readings = append(s.Readings, Reading{CurrentAmp: 1, VBUSVolt: Known(0.105 + 1e-3*rng.NormFloat64())})
			}
			for range nulls {
				s.Nulls = append(s.Nulls, Reading{CurrentAmp: 1, VBUSVolt: Known(0.005 + 1e-3*rng.NormFloat64())})
			}
			r, err := Evaluate(s)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(r.VBUS.Ohm-0.1) <= r.VBUS.Expanded {
				inside++
			}
		}
		if p := float64(inside) / n; p < 0.94 || p > 0.97 {
			t.Errorf("%d nulls: covers %.4f", nulls, p)
		}
	}
}

// Matings scatter more than readings: the interval comes from the matings.
func TestMatingsCover(t *testing.T) {
	const n = 10000
	rng := rand.New(rand.NewPCG(14, 38))
	inside := 0
	for range n {
		s := Session{Voltmeter: &quantity.Accuracy{}, Ammeter: &quantity.Accuracy{}}
		for m := range 5 {
			contact := 2e-3 * rng.NormFloat64()
			for range 5 {
				s.Readings = append(s.Readings, Reading{CurrentAmp: 1, Mating: m + 1, VBUSVolt: Known(0.1 + contact + 1e-3*rng.NormFloat64())})
			}
		}
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.VBUS.Ohm-0.1) <= r.VBUS.Expanded {
			inside++
		}
	}
	if p := float64(inside) / n; p < 0.94 || p > 0.97 {
		t.Errorf("covers %.4f", p)
	}
}

// More parts never make the interval narrower, however few repeats there are.
func TestPartsNeverNarrow(t *testing.T) {
	for _, dof := range []float64{1, 2, 3, 5, 11, 12, 40} {
		alone := shapeOf(inOhms(spread(Repeats, TypeA, 1e-3, dof)))
		for _, half := range []float64{1e-4, 1e-3, 3e-3} {
			both := shapeOf(inOhms(spread(Repeats, TypeA, 1e-3, dof), rect(half)))
			if both.expanded() < alone.expanded()*(1-1e-9) {
				t.Errorf("ν %g with ±%g: %g, alone %g", dof, half, both.expanded(), alone.expanded())
			}
			near(t, "probability at U", both.probability(both.expanded()), (1+Coverage)/2, 1e-6)
		}
	}
}

// Copper read warm: the allowance runs to ambient + 30 K and never below zero, and steady
// readings count at their current or below.
func TestWarmAllowance(t *testing.T) {
	at := func(copper Number, steady bool) Result {
		r, err := Evaluate(Session{Voltmeter: exact(), Ammeter: exact(), AmbientCelsius: Known(20), CopperCelsius: copper, Steady: steady,
			Readings: []Reading{{CurrentAmp: 3, VBUSVolt: Known(0.3), GroundVolt: Known(0.12)}}})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	near(t, "cold", at(Number{}, false).Warm(5).VBUS.Ohm, 0.1*1.1179, 1e-12)
	near(t, "read at 40 °C", at(Known(40), false).Warm(5).VBUS.Ohm, 0.1*1.1179/1.0786, 1e-12)
	near(t, "read at 60 °C", at(Known(60), false).Warm(5).VBUS.Ohm, 0.1, 1e-12)
	near(t, "steady at 3 A, used at 3 A", at(Number{}, true).Warm(3).VBUS.Ohm, 0.1, 1e-12)
	if got := at(Number{}, true).Warm(5).VBUS.Ohm; !(got > 0.1) {
		t.Errorf("steady at 3 A, used at 5 A: %g", got)
	}
}
