package bench

import (
	"errors"
	"math"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// FuzzEvaluate: no panic; every error typed; nothing but finite numbers comes out
// of what was not refused.
func FuzzEvaluate(f *testing.F) {
	f.Add(1.0, 0.1, 0.05, 0.15, 2.0, 0.2, 0.1, 0.3, 1.0, 0.001, 0.0005, 1e-5, 23.0, 2.0, uint16(0xffff))
	f.Add(3.0, 0.4, 0.05, 0.0, -3.0, -0.4, -0.1, 0.0, 0.0, 1e-5, 0.005, 2e-3, 0.0, 0.0, uint16(0x3f))
	f.Add(1e-6, 1e-300, 0.0, 1e3, 1e3, 1e3, -1.0, math.NaN(), 1e-6, -1.0, -1.0, 1e300, 1e9, -2.0, uint16(0xa5a5))
	f.Add(math.Inf(1), 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, math.NaN(), 1.0, math.NaN(), 0.0, 0.0, 1.0, uint16(0xffff))
	f.Fuzz(func(t *testing.T, i1, v1, g1, l1, i2, v2, g2, l2, i0, v0, fraction, fixed, celsius, metre float64, bits uint16) {
		bit := func(n int) bool { return bits>>n&1 == 1 }
		number := func(x float64, n int) Number { return Number{Value: x, Known: bit(n)} }
		flip := Flip(bits >> 14 % 3)
		s := Session{
			Readings: []Reading{
				{CurrentAmp: i1, VBUSVolt: number(v1, 0), GroundVolt: number(g1, 1), LoopVolt: number(l1, 2), Flip: flip, CurrentDigit: fixed},
				{CurrentAmp: i2, VBUSVolt: number(v2, 3), GroundVolt: number(g2, 4), LoopVolt: number(l2, 5), Flip: FlipUp, VBUSDigit: fraction, Mating: int(bits >> 12)},
				{CurrentAmp: i1 / 2, VBUSVolt: number(v1/2, 0), GroundVolt: number(g2, 6), Flip: flip, Mating: 1},
			},
			AmbientCelsius: number(celsius, 7),
			LengthMetre:    number(metre, 8),
			Printed:        Printed{GroundOhm: number(g1, 9)},
		}
		if bit(10) {
			s.Nulls = []Reading{{CurrentAmp: i0, VBUSVolt: Known(v0), LoopVolt: Known(v0)}}
		}
		if bit(11) {
			s.Voltmeter = &quantity.Accuracy{Reading: fraction, Fixed: fixed}
		}
		if bit(12) {
			s.Ammeter = &quantity.Accuracy{Reading: fraction, Fixed: fixed}
		}
		if bit(13) {
			s.Readings = append(s.Readings, Reading{CurrentAmp: i2, VBUSVolt: number(v1+v2, 0), LoopVolt: number(l1, 2), Flip: flip, Mating: 2})
		}
		r, err := Evaluate(s)
		if err != nil {
			var joined interface{ Unwrap() []error }
			if !errors.As(err, &joined) {
				t.Fatalf("%T", err)
			}
			for _, e := range joined.Unwrap() {
				var at *Error
				if !errors.As(e, &at) || at.Err == nil || at.Want == "" {
					t.Fatalf("%#v", e)
				}
			}
		}
		known := false
		for _, c := range conductors {
			e := r.Estimate(c)
			if e == nil {
				continue
			}
			known = true
			if !(e.Ohm >= minOhm) || !finite(e.Ohm) || !finite(e.U) || !(e.U >= 0) || !(e.K >= 1) || !finite(e.Expanded) || !(e.DoF > 0) {
				t.Fatalf("%v: %+v", c, e)
			}
			for _, b := range e.Budget {
				if !finite(b.Ohm) || !finite(b.Share) || !finite(b.U) || b.Advice == "" {
					t.Fatalf("%v: %+v", c, b)
				}
			}
			if w, ok := WireOf(r, c); ok && (math.IsNaN(w.Gauge.High) || math.IsNaN(w.Gauge.Low) || w.Text() == "") {
				t.Fatalf("%+v", w)
			}
			if w, ok := CheckWire(r, c, 0.5e-6, 2, 0); ok && (!finite(w.Ratio.High) || w.Text() == "") {
				t.Fatalf("%+v", w)
			}
		}
		if !known && err == nil {
			t.Fatal("neither a result nor an error")
		}
		for _, amp := range []float64{0.5, 3, 5} {
			d := DecideCable(r, amp, Acceptance{})
			if d.Why() == "" {
				t.Fatal("no reason")
			}
			for _, one := range d.Decisions {
				if p := one.ProbabilityWithin(); p.Known && !(p.Value >= 0 && p.Value <= 1) {
					t.Fatalf("%+v", one)
				}
			}
			for _, o := range Settle(r, DecideCable(r, amp, Acceptance{})) {
				if o.Text == "" || !finite(o.Fraction+o.Times+o.Amp) {
					t.Fatalf("%+v", o)
				}
			}
			for _, c := range Cautions(r, r.Risen(RiseKelvin), amp, Acceptance{}) {
				if !finite(c.Value) {
					t.Fatalf("%+v", c)
				}
			}
		}
		if m, ok := MaxCurrentOf(r, Acceptance{}); ok && (!finite(m.LowAmp) || math.IsNaN(m.HighAmp) || m.Amp.Known && !finite(m.Amp.Value)) {
			t.Fatalf("%+v", m)
		}
		for _, n := range r.Notes {
			if n.Text == "" || !finite(n.Value+n.Expanded) {
				t.Fatalf("%+v", n)
			}
		}
		Drift(r, r)
	})
}
