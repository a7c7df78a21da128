package bench_test

import (
	"errors"
	"fmt"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// A cable of the Northfold workshop, read at 1 A with both meters' accuracy.
func northfold() bench.Session {
	return bench.Session{
		Voltmeter: &quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6},
		Ammeter:   &quantity.Accuracy{Reading: 0.001, Fixed: 1e-3},
		Nulls:     []bench.Reading{{CurrentAmp: 1, VBUSVolt: bench.Known(1.2e-3), GroundVolt: bench.Known(0.9e-3)}},
		Readings: []bench.Reading{
			{CurrentAmp: 1.0002, VBUSVolt: bench.Known(93.1e-3), GroundVolt: bench.Known(50.7e-3), Flip: bench.FlipUp},
			{CurrentAmp: 1.0001, VBUSVolt: bench.Known(95.0e-3), GroundVolt: bench.Known(50.9e-3), Flip: bench.FlipDown},
		},
		LengthMetre:    bench.Known(1.98),
		AmbientCelsius: bench.Known(23),
		Ends:           [2]bench.Plug{bench.PlugTypeC, bench.PlugTypeC},
	}
}

func ExampleEvaluate() {
	r, err := bench.Evaluate(northfold())
	if err != nil {
		fmt.Println(err)
	}
	for _, e := range []*bench.Estimate{r.VBUS, r.Ground, r.Loop} {
		fmt.Printf("%-6s %s, k = %.2f\n", e.Conductor, quantity.FormatUncertain(e.Ohm, e.Expanded, quantity.Resistance), e.K)
	}
	for _, c := range r.VBUS.Budget {
		fmt.Printf("  %-21s %s %3.0f %%\n", c.Source, c.Type, 100*c.Share)
	}
	for _, n := range r.Notes {
		fmt.Println(n.Kind, "-", n.Text)
	}
	// Output:
	// vbus   93.79 ± 0.21 mΩ, k = 1.80
	// ground 49.99 ± 0.12 mΩ, k = 1.85
	// loop   143.79 ± 0.33 mΩ, k = 1.82
	//   ammeter               B  88 %
	//   voltmeter             B  11 %
	//   voltmeter in the null B   1 %
	// single-reading - VBUS: one reading; how far readings and matings scatter is not in the uncertainty
	// single-reading - ground: one reading; how far readings and matings scatter is not in the uncertainty
}

func ExampleDecideCable() {
	r, _ := bench.Evaluate(northfold())
	for _, amp := range []float64{3, 5} {
		d := bench.DecideCable(r, amp, bench.Acceptance{})
		fmt.Println(d.Outcome, "-", d.Why())
	}
	// Output:
	// within - VBUS and ground keep their limits at 3 A
	// undecided - ground at 5 A, plug down: 49.99 ± 0.12 mΩ is not decided against 50 mΩ (k = 1.85)
}

func ExampleSettle() {
	s := northfold()
	for i := range s.Readings {
		s.Readings[i].GroundVolt.Value -= 0.09e-3
	}
	r, _ := bench.Evaluate(s)
	for _, o := range bench.Settle(r, bench.DecideCable(r, 5, bench.Acceptance{})) {
		fmt.Println(o.Text)
	}
	// Output:
	// ground against 50 mΩ, plug down: test with 1.66 A, null included
	// ground against 50 mΩ, plug down: an ammeter good to 0.14 % of the reading, 1.4 times better than now
}

func ExampleDecideLoop() {
	loop := bench.Estimate{Conductor: bench.Loop, Ohm: 0.140, U: 0.5e-3}
	d := bench.DecideLoop(loop, 5, bench.Acceptance{})
	fmt.Println(d.Outcome)
	fmt.Println(d.Why())
	// Output:
	// undecided
	// the loop at 5 A is between the limit of ground, 50 mΩ, and the sum of both limits, 150 mΩ: it does not say which conductor has it; sense each conductor
}

func ExampleMaxCurrentOf() {
	r, _ := bench.Evaluate(northfold())
	m, _ := bench.MaxCurrentOf(r, bench.Acceptance{})
	fmt.Printf("%.2f A (%.2f A to %.2f A), limited by %s\n", m.Amp.Value, m.LowAmp, m.HighAmp, m.LimitedBy)
	// Output: 5.00 A (4.99 A to 5.01 A), limited by ground
}

func ExampleCheckWire() {
	r, _ := bench.Evaluate(northfold())
	w, _ := bench.CheckWire(r, bench.VBUS, quantity.GaugeArea(20), 1.98, 0)
	fmt.Println(w.Text())
	v, _ := bench.WireOf(r, bench.VBUS)
	fmt.Println(v.Text())
	// Output:
	// VBUS: 92.70 ± 0.75 mΩ at 20 °C, 0.518 mm² as stated has 64 mΩ to 103 mΩ: plausible
	// VBUS: like solid copper of 0.36 mm² to 0.52 mm², AWG 21.6 to 20.0
}

func ExampleCautions() {
	s := northfold()
	for i := range s.Readings {
		s.Readings[i].GroundVolt.Value -= 2e-3
	}
	r, _ := bench.Evaluate(s)
	for _, c := range bench.Cautions(r, r.Risen(bench.RiseKelvin), 5, bench.Acceptance{}) {
		fmt.Println(c.Text)
	}
	// Output:
	// within at 5 A as measured, over with the copper 30 K warmer
}

func ExampleDrift() {
	first, _ := bench.Evaluate(northfold())
	worn := northfold()
	for i := range worn.Readings {
		worn.Readings[i].VBUSVolt.Value += 9e-3
	}
	later, _ := bench.Evaluate(worn)
	for _, c := range bench.Drift(first, later) {
		if c.Significant {
			fmt.Printf("%s: %s more\n", c.Conductor, quantity.FormatUncertain(c.Ohm, c.Expanded, quantity.Resistance))
		}
	}
	// Output:
	// vbus: 8.9 ± 1.2 mΩ more
	// loop: 8.9 ± 1.9 mΩ more
}

// Each thing wrong has a cause and a place; the rest of the session is worked out.
func ExampleEvaluate_errors() {
	s := northfold()
	s.Readings[1].VBUSVolt.Value = -95.0e-3
	s.Ammeter.Fixed = -1
	r, err := bench.Evaluate(s)
	fmt.Println(errors.Is(err, bench.ErrOpposedSign), errors.Is(err, bench.ErrAccuracy), errors.Is(err, bench.ErrNoReadings))
	var bad *bench.Error
	if errors.As(err, &bad) {
		fmt.Println(bad.List, bad.Index, bad.Field)
	}
	fmt.Println(err)
	fmt.Println(r.VBUS.N, "reading of VBUS is left")
	// Output:
	// true true false
	// session -1 ammeter
	// session.ammeter: a half-width of -1 at 0 and -0.999 at 1; want parts that are finite and not negative
	// readings[1].vbus: -95 mV at 1.0001 A; want a drop with the sign of its current
	// 1 reading of VBUS is left
}
