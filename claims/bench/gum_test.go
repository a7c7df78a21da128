package bench

import (
	"fmt"
	"math"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// GUM H.2: raw pairs as three independent codings hold them.
var (
	h2Volt = []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	h2Amp  = []float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}
	h2Phi  = []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
)

func TestGUMH2(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{}, Ammeter: &quantity.Accuracy{}}
	for i := range h2Volt {
		s.Readings = append(s.Readings, Reading{CurrentAmp: h2Amp[i], VBUSVolt: Known(h2Volt[i])})
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	e := r.VBUS
	near(t, "Z printed", e.Ohm, 254.260, 0.0005)
	near(t, "u(Z) printed", e.U, 0.236, 0.0005)
	near(t, "Z, approach 2", e.Ohm, 254.260049587, 1e-8)
	near(t, "u(Z), approach 2", e.U, 0.2362475017, 1e-9)
	near(t, "ν", e.DoF, 4, 1e-12)
	near(t, "U95", CoverageFactor(0.95, e.DoF)*e.U, 0.65593, 1e-5)

	// The law of propagation on the same pairs, with the correlation and
	// without it: pairing must not be dropped.
	n := math.Sqrt(5)
	mv, sv := meanDeviation(h2Volt)
	mi, si := meanDeviation(h2Amp)
	rv, ri := sv/n/mv, si/n/mi
	var cov float64
	for i := range h2Volt {
		cov += (h2Volt[i] - mv) * (h2Amp[i] - mi) / 4
	}
	corr := cov / (sv * si)
	near(t, "r(V,I)", corr, -0.355311219817, 1e-11)
	with := mv / mi * math.Sqrt(rv*rv+ri*ri-2*corr*rv*ri)
	near(t, "u(Z), equation 13", with, 0.236336130082, 1e-11)
	near(t, "u(Z), both ways", e.U, with, 1e-4)
	near(t, "u(Z) without correlation", mv/mi*math.Hypot(rv, ri), 0.204076, 1e-6)

	// R and X by the same approach.
	for _, c := range []struct {
		name    string
		f       func(float64) float64
		mean, u float64
	}{
		{"R", math.Cos, 127.731630483, 0.0712735432},
		{"X", math.Sin, 219.846894603, 0.2954890856},
	} {
		var xs []float64
		for i := range h2Volt {
			xs = append(xs, h2Volt[i]/h2Amp[i]*c.f(h2Phi[i]))
		}
		mean, dev := meanDeviation(xs)
		near(t, c.name, mean, c.mean, 1e-8)
		near(t, "u("+c.name+")", dev/n, c.u, 1e-9)
	}
}

// GUM H.3: calibration line of a thermometer about t0 = 20 °C.
func TestGUMH3(t *testing.T) {
	ts := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	bs := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	for i := range ts {
		ts[i] -= 20
	}
	l, ok := fitLine(ts, bs)
	if !ok {
		t.Fatal("no line")
	}
	near(t, "y1", l.InterceptVolt, -0.171203790131350, 1e-13)
	near(t, "u(y1)", l.UIntercept, 0.00287759783515996, 1e-14)
	near(t, "y2", l.SlopeOhm, 0.00218269773988728, 1e-14)
	near(t, "u(y2)", l.USlope, 0.000667938773227832, 1e-14)
	near(t, "r", l.Correlation, -0.930429603093446, 1e-12)
	near(t, "s", l.ResidualVolt, 0.00349756396350529, 1e-14)
	near(t, "ν", l.DoF, 9, 0)
	b, u := l.At(10)
	near(t, "b(30 °C)", b, -0.149376812732477, 1e-13)
	near(t, "u(b)", u, 0.00413859575285495, 1e-13)
	// As printed.
	near(t, "y1 printed", l.InterceptVolt, -0.1712, 5e-5)
	near(t, "y2 printed", l.SlopeOhm, 0.00218, 5e-6)
	near(t, "b printed", b, -0.1494, 5e-5)

	// About the mean there is no correlation.
	mean, _ := meanDeviation(ts)
	for i := range ts {
		ts[i] -= mean
	}
	l, _ = fitLine(ts, bs)
	near(t, "y1 about the mean", l.InterceptVolt, -0.162454545454545, 1e-13)
	near(t, "u(y1) about the mean", l.UIntercept, 0.00105455521338321, 1e-14)
	near(t, "r about the mean", l.Correlation, 0, 1e-12)
}

// Effective degrees of freedom.
func TestWelchSatterthwaite(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		source  string
		parts   []part
		u, dof  float64
		uw, dow float64 // tolerances
	}{
		{"GUM G.4.1 (printed values from memory)", []part{{0.25, 9}, {0.57, 4}, {0.82, 14}}, 1.03, 19.0, 0.005, 0.05},
		{"GUM G.4.1, full", []part{{0.25, 9}, {0.57, 4}, {0.82, 14}}, 1.029466, 18.998742, 1e-6, 1e-6},
		{"GUM H.1 (d)", []part{{5.8, 24}, {3.9, 5}, {6.7, 8}}, 9.681942, 25.447251, 1e-6, 1e-6},
		{"GUM H.1, final", []part{{25, 18}, {9.7, 25.6}, {2.9, 50}, {16.6, 2}}, 31.671, 16.7646, 5e-4, 5e-5},
		{"GUM H.1, all", []part{{25, 18}, {5.8, 24}, {3.9, 5}, {6.7, 8}, {2.886751346, 50}, {16.598820239, 2}}, 31.6637674111, 16.7521475092, 1e-9, 1e-8},
		// A systematic offset of 0.005 common to all points of H.3 joins the intercept.
		{"GUM H.3, common offset (GTC page)", []part{{0.00287759783515996, 9}, {0.005, inf}}, 0.00576893138292676, 145.38, 1e-15, 0.005},
		{"ENGR224 course", []part{{0.57, 9}, {0.25, inf}}, math.Hypot(0.57, 0.25), 12.795649, 1e-12, 1e-6},
	} {
		u, dof := combine(c.parts)
		near(t, c.source+": u", u, c.u, c.uw)
		near(t, c.source+": ν", dof, c.dof, c.dow)
	}
	both, _ := combine([]part{{12e-6, inf}, {rectangular(15e-6), inf}})
	near(t, "GUM 5.1.5 (from memory): repeats of 12 µV and a specification of 15 µV", both, 15e-6, 0.5e-6)
	near(t, "GUM 5.1.5", both, 14.80e-6, 0.005e-6)
	near(t, "GUM H.1: t99(16)", CoverageFactor(0.99, 16), 2.920782, 1e-6)
	near(t, "GUM H.1: U99", 32*CoverageFactor(0.99, 16), 93.44, 0.05)
	near(t, "GUM G.4.1: U", 1.029466*CoverageFactor(0.95, 19), 2.1547, 0.005)

	// XRF thickness y = X1/X2·Yu, finite ν on each input (course slides).
	y := 0.1820 / 0.1823 * 0.6978
	u, dof := combine([]part{{y / 0.1820 * 0.00093, 9}, {y / 0.1823 * 0.00058, 19}, {y / 0.6978 * 0.0026, 19}})
	near(t, "XRF y", y, 0.696652, 1e-6)
	near(t, "XRF u", u, 0.00493180, 1e-8)
	near(t, "XRF ν", dof, 27.5127, 1e-4)
	near(t, "XRF U95", CoverageFactor(0.95, dof)*u, 0.0101104, 1e-6)
}

// Printed quotients of voltage and current, quadrature.
func TestQuotients(t *testing.T) {
	for _, c := range []struct{ v, uv, i, ui, r, u, tolerance float64 }{
		{8.20, 0.20, 0.80, 0.10, 10.25, 1.3054, 5e-5}, // printed 10.25 ± 1.30, intermediate rounding
		{14.8, 0.2, 0.745, 0.005, 19.8658, 0.29974, 5e-6},
		{5.2, 0.1, 0.84, 0.05, 6.19048, 0.38723, 5e-6},
		{100, 5, 10, 0.2, 10, 0.5385, 5e-5},
		{3.23, 0.01, 0.99, 0.02, 3.26263, 0.066681, 5e-7},
	} {
		r, err := Evaluate(Session{
			Readings:  []Reading{{CurrentAmp: c.i, VBUSVolt: Known(c.v)}},
			Voltmeter: &quantity.Accuracy{Fixed: c.uv * math.Sqrt(3)},
			Ammeter:   &quantity.Accuracy{Fixed: c.ui * math.Sqrt(3)},
		})
		if err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("%g V / %g A", c.v, c.i)
		near(t, name, r.VBUS.Ohm, c.r, 5e-5)
		near(t, "u of "+name, r.VBUS.U, c.u, c.tolerance)
	}
}

// GUM 5.2.2 (from memory, recomputed): ten 1 kΩ resistors in series, each with
// u = 100 mΩ by the same standard, have u = 1 Ω; independent ones 0.32 Ω.
func TestCommonStandardAddsLinearly(t *testing.T) {
	one := Estimate{Ohm: 1000, Budget: []Contribution{spread(OhmmeterSpec, TypeB, 0.1, math.Inf(1))}}
	one.settle()
	total := one
	var parts []part
	parts = append(parts, part{0.1, math.Inf(1)})
	for range 9 {
		total = plus(&total, &one)
		parts = append(parts, part{0.1, math.Inf(1)})
	}
	near(t, "R", total.Ohm, 10000, 1e-9)
	near(t, "u", total.U, 1, 1e-12)
	independent, _ := combine(parts)
	near(t, "independent", independent, 0.3162, 5e-5)
}

// EA-4/02 S3: a 10 kΩ standard compared with another, R_X = (R_S + δR_D + δR_TS)·
// r_C·r - δR_TX. The result is printed (an example file of a metrology program:
// 10000.1780007665 Ω, u = 8.328004 mΩ, k = 2); the budget's inputs are from
// memory. The ν of 5700 printed there does not follow from them and is not held
// to; ours is larger still, with the same k.
func TestEA402S3(t *testing.T) {
	ratios := []float64{1.0000104, 1.0000107, 1.0000106, 1.0000103, 1.0000105}
	r, dev := meanDeviation(ratios)
	inf := math.Inf(1)
	e := Estimate{
		Ohm: (10000.053+0.020)*r - 0,
		Budget: []Contribution{
			spread(OhmmeterSpec, TypeB, 5e-3/2, inf), // R_S, ±5 mΩ at k = 2
			rect(10e-3),                              // drift δR_D
			rect(2.75e-3),                            // temperature δR_TS
			rect(5.5e-3),                             // temperature δR_TX
			spread(OhmmeterSpec, TypeB, 1e-6/math.Sqrt(6)*1e4, inf), // r_C, triangular
			spread(Repeats, TypeA, dev/math.Sqrt(5)*1e4, 4),
		},
	}
	e.settle()
	near(t, "R_X", e.Ohm, 10000.1780007665, 1e-9)
	near(t, "u", e.U, 8.328004e-3, 0.0001e-3)
	near(t, "u by this budget", e.U, 8.327914e-3, 1e-9)
	// The drift, of rectangular shape, is the larger part: k = 2 is a little wide.
	near(t, "k", e.K, 2, 0.1)
	if !(e.DoF > 5700) {
		t.Errorf("ν = %g", e.DoF)
	}
	if largest := e.Budget[0].Ohm; math.Abs(largest-5.774e-3) > 0.5e-6 {
		t.Errorf("the largest contribution is %g Ω, want the drift", largest)
	}
}

// Meter specifications as printed: half-width and standard uncertainty.
func TestMeterSpecifications(t *testing.T) {
	for _, c := range []struct {
		source  string
		a       quantity.Accuracy
		x       float64
		half, u float64
		tol     float64
	}{
		{"GUM 4.3.7 example 2", quantity.Accuracy{Reading: 14e-6, Range: 2e-6, FullScale: 1}, 0.928571, 15e-6, 8.7e-6, 0.05e-6},
		{"1.755 V, 0.5 % + 1", quantity.Accuracy{Reading: 0.005, Counts: 1, Resolution: 1e-3}, 1.755, 9.775e-3, 5.644e-3, 0.5e-6},
		{"100.0 V, 0.8 % + 2", quantity.Accuracy{Reading: 0.008, Counts: 2, Resolution: 0.1}, 100, 1.0, 0.5774, 5e-5},
		{"2.000 V, 0.08 % + 2", quantity.Accuracy{Reading: 0.0008, Counts: 2, Resolution: 1e-3}, 2, 3.6e-3, 2.078e-3, 0.5e-6},
		{"1.4869 A, 0.5 % + 1", quantity.Accuracy{Reading: 0.005, Counts: 1, Resolution: 1e-4}, 1.4869, 7.5345e-3, 4.350e-3, 0.5e-6},
		{"166.51 mV, 0.1 % + 4", quantity.Accuracy{Reading: 0.001, Counts: 4, Resolution: 1e-5}, 0.16651, 0.20651e-3, 0.1192e-3, 0.05e-6},
	} {
		near(t, c.source+": half-width", c.a.HalfWidth(c.x), c.half, c.tol)
		// Through the whole evaluation: 1 A makes volts into ohms.
		r, err := Evaluate(Session{
			Readings:  []Reading{{CurrentAmp: 1, VBUSVolt: Known(c.x)}},
			Voltmeter: &c.a, Ammeter: &quantity.Accuracy{},
		})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.source+": u", r.VBUS.U, c.u, c.tol)
	}
}
