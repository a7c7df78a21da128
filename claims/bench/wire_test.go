package bench

import (
	"math"
	"slices"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// cable makes a result as if a length of a gauge had been measured at 20 °C.
func cable(gauge, metre, contacts, factor float64) Result {
	ohm := factor*CopperOhmMetre*metre/quantity.GaugeArea(gauge) + contacts
	return Result{
		Session: Session{LengthMetre: Known(metre), LengthWithinMetre: 0.005 * metre, AmbientCelsius: Known(20), AmbientWithinKelvin: 0.5, Ends: bothTypeC},
		VBUS:    leg(VBUS, ohm, 0.1e-3), Ground: leg(Ground, ohm, 0.1e-3),
	}
}

func TestEquivalentWire(t *testing.T) {
	for _, gauge := range []float64{20, 22, 24, 26, 28} {
		for _, contacts := range []float64{0, 0.025 / 2, 0.025} {
			w, ok := WireOf(cable(gauge, 2, contacts, 1), VBUS)
			if !ok {
				t.Fatal("no wire")
			}
			if !(w.Gauge.Low <= gauge && gauge <= w.Gauge.High) || w.TooLow {
				t.Errorf("AWG %g with %g Ω of contacts: %+v", gauge, contacts, w)
			}
			if area := quantity.GaugeArea(gauge); !(w.AreaSquareMetre.Low <= area && area <= w.AreaSquareMetre.High) {
				t.Errorf("AWG %g: %+v", gauge, w)
			}
			if contacts == 0.025/2 {
				near(t, "best", w.BestGauge.Value, gauge, 1e-6)
			}
		}
	}
	w, _ := WireOf(cable(20, 0.3, 0.001, 1), VBUS)
	if !math.IsInf(w.Gauge.Low, -1) || !math.IsInf(w.AreaSquareMetre.High, 1) || w.BestGauge.Known {
		t.Errorf("the contacts could be all of it: %+v", w)
	}
	r := cable(20, 1, 0, 1)
	r.Session.LengthMetre = Number{}
	if _, ok := WireOf(r, VBUS); ok {
		t.Error("a gauge without a length")
	}
	if _, ok := WireOf(cable(20, 1, 0, 1), Loop); ok {
		t.Error("a gauge of the loop")
	}
}

func TestReadingBelowPhysics(t *testing.T) {
	for _, c := range []struct {
		ohmPerMetre float64
		vbus        bool
		ground      bool
	}{
		{0.015, false, false}, // 16 AWG has 13.2 mΩ/m
		{0.010, true, false},  // ground may have its shield in parallel
		{0.004, true, true},
	} {
		r := cable(20, 2, 0, 1)
		*r.VBUS = *leg(VBUS, 2*c.ohmPerMetre, 0.1e-3)
		*r.Ground = *leg(Ground, 2*c.ohmPerMetre, 0.1e-3)
		v, _ := WireOf(r, VBUS)
		g, _ := WireOf(r, Ground)
		if v.TooLow != c.vbus || g.TooLow != c.ground {
			t.Errorf("%g Ω/m: %v, %v", c.ohmPerMetre, v.TooLow, g.TooLow)
		}
	}
}

func TestCheckWire(t *testing.T) {
	for _, c := range []struct {
		name   string
		r      Result
		stated float64
		metre  float64
		want   Plausibility
	}{
		{"as stated", cable(24, 2, 0.012, 1.03), 24, 2, Plausible},
		{"as stated, poor contacts", cable(24, 2, 0.025, 1.05), 24, 2, Plausible},
		{"28 sold as 22", cable(28, 2, 0.012, 1), 22, 2, TooMuchResistance},
		{"20 sold as 24", cable(20, 2, 0.001, 1), 24, 2, TooLittleResistance},
		{"3 m sold as 2 m", cable(24, 3, 0.012, 1), 24, 2, TooMuchResistance},
		{"1 m sold as 2 m", cable(24, 1, 0.012, 1), 24, 2, TooLittleResistance},
	} {
		w, ok := CheckWire(c.r, VBUS, quantity.GaugeArea(c.stated), c.metre, 0)
		if !ok || w.Plausibility != c.want || w.Text() == "" {
			t.Errorf("%s: %v, want %v: %s", c.name, w.Plausibility, c.want, w.Text())
		}
	}
	// A length from resistance and gauge.
	w, _ := CheckWire(cable(24, 2, 0.012, 1), VBUS, quantity.GaugeArea(24), 2, 0)
	if !(w.LengthMetre.Low < 2 && 2 < w.LengthMetre.High) {
		t.Errorf("%+v", w.LengthMetre)
	}
	// The IEC maximum itself passes.
	r := cable(20, 2, 0, 1)
	r.VBUS.Ohm = 2 * 0.0401
	if w, _ := CheckWire(r, VBUS, 0.5e-6, 2, 0); w.Plausibility != Plausible {
		t.Error(w.Text())
	}
	// An assumption is told.
	r = cable(28, 2, 0, 1)
	r.VBUS.Assumed = true
	if w, _ := CheckWire(r, VBUS, quantity.GaugeArea(20), 2, 0); w.Plausibility != TooMuchResistance || !w.Assumed {
		t.Error(w.Text())
	}
	for _, bad := range [][3]float64{{0, 2, 0}, {-1, 2, 0}, {math.NaN(), 2, 0}, {1e-6, 0, 0}, {1e-6, math.Inf(1), 0}, {1e-6, 1, 2}} {
		if _, ok := CheckWire(r, VBUS, bad[0], bad[1], bad[2]); ok {
			t.Errorf("%v is no wire", bad)
		}
	}
}

// ASTM B566 class 10A has 62.9 % IACS: 1.590 times copper. Two gauges thinner
// copper is 1.59 times too, so it is only ever consistent with it. A long thin
// cable is needed for the contacts not to matter.
func TestConsistentWith(t *testing.T) {
	for _, c := range []struct {
		name   string
		gauge  float64
		metre  float64
		factor float64
		stated float64
		want   []Material
	}{
		{"copper", 28, 4, 1.02, 28, []Material{Copper}},
		{"clad", 28, 4, 1.590, 28, []Material{CopperCladAluminum}},
		{"two gauges thinner", 30, 4, 1, 28, []Material{CopperCladAluminum}},
		{"contacts blur it", 22, 1, 1, 22, nil},
		{"neither", 28, 4, 1.3, 28, nil},
	} {
		w, _ := CheckWire(cable(c.gauge, c.metre, 0.025/2, c.factor), VBUS, quantity.GaugeArea(c.stated), c.metre, 0.02)
		if !slices.Equal(w.ConsistentWith, c.want) {
			t.Errorf("%s: %v, want %v (ratio %+v)", c.name, w.ConsistentWith, c.want, w.Ratio)
		}
	}
}
