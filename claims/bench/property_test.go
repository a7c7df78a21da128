package bench

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// randomSession is a plausible session of a few readings, drops scaled by volts
// and currents by amps, the meters' fixed parts with them.
func randomSession(rng *rand.Rand, volts, amps float64) Session {
	s := Session{
		Voltmeter: &quantity.Accuracy{Reading: 0.002 * rng.Float64(), Fixed: 1e-4 * rng.Float64() * volts},
		Ammeter:   &quantity.Accuracy{Reading: 0.005 * rng.Float64(), Fixed: 2e-3 * rng.Float64() * amps},
	}
	vbus, ground := 0.03+0.15*rng.Float64(), 0.02+0.08*rng.Float64()
	for range 1 + rng.IntN(5) {
		i := 0.5 + 4*rng.Float64()
		s.Readings = append(s.Readings, Reading{
			CurrentAmp: i * amps,
			VBUSVolt:   Known(vbus * i * (1 + 0.001*rng.NormFloat64()) * volts),
			GroundVolt: Known(ground * i * (1 + 0.001*rng.NormFloat64()) * volts),
		})
	}
	s.Nulls = []Reading{{CurrentAmp: 2 * amps, VBUSVolt: Known(1e-3 * volts), GroundVolt: Known(0.5e-3 * volts)}}
	return s
}

// Drops s times larger are a resistance s times larger, currents s times larger
// one s times smaller, uncertainties with them.
func TestScaling(t *testing.T) {
	for seed := range uint64(300) {
		at := func(volts, amps float64) Result {
			r, err := Evaluate(randomSession(rand.New(rand.NewPCG(seed, 1)), volts, amps))
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		one, more, stronger := at(1, 1), at(1.5, 1), at(1, 4)
		for _, c := range conductors {
			a, b, d := one.Estimate(c), more.Estimate(c), stronger.Estimate(c)
			relative(t, "R of larger drops", b.Ohm, 1.5*a.Ohm, 1e-9)
			relative(t, "U of larger drops", b.Expanded, 1.5*a.Expanded, 1e-6)
			relative(t, "R of larger currents", d.Ohm, a.Ohm/4, 1e-9)
			relative(t, "U of larger currents", d.Expanded, a.Expanded/4, 1e-6)
		}
	}
}

func TestLoopIsTheSum(t *testing.T) {
	for seed := range uint64(300) {
		r, err := Evaluate(randomSession(rand.New(rand.NewPCG(seed, 2)), 1, 1))
		if err != nil {
			t.Fatal(err)
		}
		relative(t, "loop", r.Loop.Ohm, r.VBUS.Ohm+r.Ground.Ohm, 1e-14)
		if r.Loop.U > (r.VBUS.U+r.Ground.U)*(1+1e-12) {
			t.Errorf("u(loop) = %g exceeds %g + %g", r.Loop.U, r.VBUS.U, r.Ground.U)
		}
		var shares float64
		for _, c := range r.Loop.Budget {
			shares += c.Share
		}
		near(t, "shares", shares, 1, 1e-9)
	}
}

// Repeats of one meter do not shrink the meter's own error.
func TestRepeatsDoNotShrinkTheMeter(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{Reading: 0.001}, Ammeter: &quantity.Accuracy{Reading: 0.002}}
	one := Reading{CurrentAmp: 1, VBUSVolt: Known(0.1)}
	s.Readings = []Reading{one}
	a, _ := Evaluate(s)
	for range 99 {
		s.Readings = append(s.Readings, one)
	}
	b, _ := Evaluate(s)
	relative(t, "U", b.VBUS.Expanded, a.VBUS.Expanded, 1e-9)
}

// severity orders outcomes by how bad they are.
func severity(o Outcome) int { return map[Outcome]int{Within: 0, Undecided: 1, Over: 2}[o] }

func randomResult(rng *rand.Rand) Result {
	u := math.Pow(10, -5+3*rng.Float64())
	r := Result{}
	if rng.IntN(3) > 0 {
		r.VBUS = leg(VBUS, 0.02+0.2*rng.Float64(), u)
	}
	if rng.IntN(3) > 0 {
		r.Ground = leg(Ground, 0.01+0.1*rng.Float64(), u)
	}
	if r.VBUS == nil && r.Ground == nil {
		r.Loop = leg(Loop, 0.02+0.3*rng.Float64(), u)
	}
	return r
}

// More current never helps, nor does more resistance; and the largest current
// agrees with the decisions.
func TestMonotonicity(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		r := randomResult(rng)
		rule := Acceptance{Simple: rng.IntN(2) == 1}
		last := -1
		for amp := 0.5; amp < 10; amp += 0.25 {
			now := severity(DecideCable(r, amp, rule).Outcome)
			if now < last {
				t.Fatalf("%+v gets better at %g A", r, amp)
			}
			last = now
		}
		last = -1
		for _, more := range []float64{0, 0.01, 0.02, 0.05, 0.1, 0.3} {
			w := Result{}
			for _, c := range conductors {
				if e := r.Estimate(c); e != nil {
					w.set(c, leg(c, e.Ohm+more, e.U))
				}
			}
			now := severity(DecideCable(w, 3, rule).Outcome)
			if now < last {
				t.Fatalf("%+v gets better with %g Ω more", r, more)
			}
			last = now
		}
		m, ok := MaxCurrentOf(r, Acceptance{})
		if !ok {
			t.Fatal("no current")
		}
		if m.LowAmp > 0 {
			if got := DecideCable(r, m.LowAmp*(1-1e-9), Acceptance{}).Outcome; got != Within {
				t.Fatalf("%v below the low end of %+v", got, m)
			}
		}
		if got := DecideCable(r, m.HighAmp*(1+1e-9), Acceptance{}).Outcome; !math.IsInf(m.HighAmp, 1) && got != Over {
			t.Fatalf("%v above the high end of %+v", got, m)
		}
	}
}

// Monte Carlo (JCGM 101): errors drawn from the stated distributions, on the
// end-to-end vector. The published run of two million gave u = 0.43924 mΩ and a
// 95 % interval of half-width 0.726 mΩ, less than 2u since a rectangular term
// dominates.
func TestMonteCarlo(t *testing.T) {
	r, err := Evaluate(endToEnd())
	if err != nil {
		t.Fatal(err)
	}
	e := r.VBUS
	s := r.Session
	rng := rand.New(rand.NewPCG(20, 26))
	rect := func(a float64) float64 { return a * (2*rng.Float64() - 1) }
	const n = 200_000
	var inside int
	xs := make([]float64, n)
	for i := range xs {
		v := 401.86e-3 + rect(s.Voltmeter.HalfWidth(401.86e-3))
		v0 := 1.2e-3 + rect(s.Voltmeter.HalfWidth(1.2e-3)) + rowOf(*e, NullRepeats).Ohm*3*rng.NormFloat64()
		amp := 3 + rect(s.Ammeter.HalfWidth(3))
		xs[i] = (v-v0)/amp + rowOf(*e, Repeats).Ohm*rng.NormFloat64()
		if math.Abs(xs[i]-e.Ohm) <= e.Expanded {
			inside++
		}
	}
	mean, dev := meanDeviation(xs)
	near(t, "mean", mean, e.Ohm, 4*dev/math.Sqrt(n)+e.Ohm*1e-5) // the second order of V/I
	relative(t, "u", e.U, dev, 4/math.Sqrt(2*n))
	near(t, "published u", dev, 0.43924e-3, 4*0.44e-3/math.Sqrt(2*n))
	near(t, "coverage", float64(inside)/n, Coverage, 4*math.Sqrt(Coverage*(1-Coverage)/n))
}

// simulate measures a known cable with meters whose gain is off within their
// statement, and noise on every reading.
func simulate(rng *rand.Rand, ohm, noise, gain float64, amps []float64) Estimate {
	s := Session{Voltmeter: &quantity.Accuracy{Reading: gain}, Ammeter: &quantity.Accuracy{Reading: gain}}
	gv, gi := 1+gain*(2*rng.Float64()-1), 1+gain*(2*rng.Float64()-1)
	for _, amp := range amps {
		// The current wanders with each reading; drop and current go together.
		i := amp * (1 + 0.001*rng.NormFloat64())
		s.Readings = append(s.Readings, Reading{CurrentAmp: i * gi, VBUSVolt: Known((ohm*i + noise*rng.NormFloat64()) * gv)})
	}
	r, err := Evaluate(s)
	if err != nil {
		panic(err)
	}
	return *r.VBUS
}

var repeatsAt1A, lineTo5A = []float64{1, 1, 1, 1, 1}, []float64{1, 2, 3, 4, 5, 5}

// Over many simulated sessions the interval holds the true value as often as
// stated: about 95.45 % where scatter dominates, more where meters do.
func TestCoverage(t *testing.T) {
	const n = 5000
	sigma := math.Sqrt(Coverage * (1 - Coverage) / n)
	for _, c := range []struct {
		name        string
		noise, gain float64
		amps        []float64
		high        float64 // largest coverage expected
	}{
		{"scatter", 0.1e-3, 0, repeatsAt1A, Coverage + 4*sigma},
		{"scatter about a line", 0.1e-3, 0, lineTo5A, Coverage + 4*sigma},
		{"meters", 1e-6, 0.01, repeatsAt1A, 1},
		{"both", 0.3e-3, 0.005, repeatsAt1A, 1},
		{"both, line", 0.5e-3, 0.005, lineTo5A, 1},
	} {
		rng := rand.New(rand.NewPCG(7, 7))
		inside := 0
		for range n {
			e := simulate(rng, 0.1, c.noise, c.gain, c.amps)
			if math.Abs(e.Ohm-0.1) <= e.Expanded {
				inside++
			}
		}
		if p := float64(inside) / n; p < Coverage-4*sigma || p > c.high {
			t.Errorf("%s: covers %.4f", c.name, p)
		}
	}
}

// A cable just over the limit is passed no more often than the guard band says,
// 2.275 %, and cables of a population spread about the limit even less.
func TestRiskOfPassingABadCable(t *testing.T) {
	const n = 8000
	const stated = (1 - Coverage) / 2
	allowed := stated + 4*math.Sqrt(stated*(1-stated)/n)
	for _, c := range []struct {
		name        string
		noise, gain float64
		ohm         func(rng *rand.Rand) float64
	}{
		{"scatter, just over", 0.2e-3, 0, func(*rand.Rand) float64 { return 0.1 * (1 + 1e-12) }},
		{"meters, just over", 1e-6, 0.01, func(*rand.Rand) float64 { return 0.1 * (1 + 1e-12) }},
		{"both, just over", 0.2e-3, 0.003, func(*rand.Rand) float64 { return 0.1 * (1 + 1e-12) }},
		{"a population over", 0.2e-3, 0.003, func(rng *rand.Rand) float64 { return 0.1 + 0.002*math.Abs(rng.NormFloat64()) }},
	} {
		rng := rand.New(rand.NewPCG(11, 13))
		guarded, simple := 0, 0
		for range n {
			e := simulate(rng, c.ohm(rng), c.noise, c.gain, repeatsAt1A)
			if Decide(e, 0.1, Acceptance{}).Outcome == Within {
				guarded++
			}
			if Decide(e, 0.1, Acceptance{Simple: true}).Outcome == Within {
				simple++
			}
		}
		if p := float64(guarded) / n; p > allowed {
			t.Errorf("%s: passed %.4f, stated %.4f", c.name, p, stated)
		}
		if simple <= guarded {
			t.Errorf("%s: simple acceptance passes no more (%d, %d)", c.name, simple, guarded)
		}
	}
}
