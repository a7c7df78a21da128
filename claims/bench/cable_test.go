package bench

import (
	"math"
	"strings"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// The IR-drop limits as resistance: Type-C §4.4.1, and the trade's shorthand of
// 250 mΩ for 3 A and 150 mΩ for 5 A round trip (common practice).
func TestLimits(t *testing.T) {
	for _, c := range []struct{ amp, vbus, ground, loop float64 }{
		{3, 166.7, 83.3, 250},
		{5, 100, 50, 150},
		{1.5, 333, 167, 500},
	} {
		near(t, "vbus", LimitOhm(VBUS, c.amp)*1000, c.vbus, 0.5)
		near(t, "ground", LimitOhm(Ground, c.amp)*1000, c.ground, 0.5)
		near(t, "loop", LimitOhm(Loop, c.amp)*1000, c.loop, 1e-9)
	}
	// 1 A through: millivolts are milliohms.
	r, _ := Evaluate(Session{Readings: []Reading{{CurrentAmp: 1, LoopVolt: Known(0.140)}}})
	near(t, "1 A", r.Loop.Ohm, 0.140, 1e-15)
}

func leg(c Conductor, ohm, u float64) *Estimate {
	return &Estimate{Conductor: c, Ohm: ohm, U: u}
}

func TestDecideCable(t *testing.T) {
	u := 0.5e-3 // U = 1 mΩ
	for _, c := range []struct {
		name string
		r    Result
		amp  float64
		want Outcome
		why  string
	}{
		{"both within", Result{VBUS: leg(VBUS, 0.098, u), Ground: leg(Ground, 0.048, u)}, 5, Within, "VBUS and ground keep"},
		{"VBUS over", Result{VBUS: leg(VBUS, 0.102, u), Ground: leg(Ground, 0.048, u)}, 5, Over, "VBUS at 5 A"},
		{"ground over, sum within", Result{VBUS: leg(VBUS, 0.060, u), Ground: leg(Ground, 0.055, u)}, 5, Over, "ground at 5 A"},
		{"VBUS undecided, ground over", Result{VBUS: leg(VBUS, 0.1, u), Ground: leg(Ground, 0.055, u)}, 5, Over, "ground at 5 A"},
		{"VBUS undecided", Result{VBUS: leg(VBUS, 0.1005, u), Ground: leg(Ground, 0.048, u)}, 5, Undecided, "VBUS at 5 A"},
		{"the same at 3 A", Result{VBUS: leg(VBUS, 0.102, u), Ground: leg(Ground, 0.055, u)}, 3, Within, "VBUS and ground keep"},
		{"VBUS alone within", Result{VBUS: leg(VBUS, 0.05, u)}, 5, Undecided, "ground was not measured"},
		{"VBUS alone over", Result{VBUS: leg(VBUS, 0.15, u)}, 5, Over, "VBUS at 5 A"},
		{"ground alone within", Result{Ground: leg(Ground, 0.04, u)}, 5, Undecided, "VBUS was not measured"},
		{"loop between", Result{Loop: leg(Loop, 0.140, u)}, 5, Undecided, "sense each conductor"},
		{"loop between at 3 A too", Result{Loop: leg(Loop, 0.140, u)}, 3, Undecided, "sense each conductor"},
		{"loop over the sum", Result{Loop: leg(Loop, 0.152, u)}, 5, Over, "VBUS or ground is over"},
		{"loop within the ground limit", Result{Loop: leg(Loop, 0.049, u)}, 5, Within, "neither conductor"},
		{"loop just above the ground limit", Result{Loop: leg(Loop, 0.0495, u)}, 5, Undecided, "sense each"},
		{"nothing", Result{}, 5, Undecided, "no resistance"},
		{"no current", Result{Loop: leg(Loop, 0.01, u)}, 0, Undecided, "no current"},
		{"endless current", Result{VBUS: leg(VBUS, 0.01, u)}, math.Inf(1), Undecided, "no current"},
	} {
		d := DecideCable(c.r, c.amp, Acceptance{})
		if d.Outcome != c.want || !strings.Contains(d.Why(), c.why) {
			t.Errorf("%s: %v, %q; want %v, %q", c.name, d.Outcome, d.Why(), c.want, c.why)
		}
	}
}

// One conductor and the loop give the other, with its uncertainty.
func TestGroundBySubtraction(t *testing.T) {
	s := Session{
		Voltmeter: &quantity.Accuracy{Fixed: 0.1e-3},
		Ammeter:   &quantity.Accuracy{Reading: 0.001},
		Readings:  []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.090), LoopVolt: Known(0.130)}},
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	g := r.Ground
	if g == nil || g.How != Subtracted {
		t.Fatalf("ground: %+v", g)
	}
	near(t, "ground", g.Ohm, 0.040, 1e-12)
	// The voltmeter's 0.1 mV are the same in both drops, read at one current in one range;
	// of the ammeter 0.1 % of 40 mΩ remain.
	near(t, "u", g.U, 0.04e-3/math.Sqrt(3), 1e-12)
	if d := DecideCable(r, 5, Acceptance{}); d.Outcome != Within || len(d.Decisions) != 2 {
		t.Errorf("%v: %s", d.Outcome, d.Why())
	}
}

func TestMaxCurrent(t *testing.T) {
	u := 0.5e-3
	m, ok := MaxCurrentOf(Result{VBUS: leg(VBUS, 0.090, u), Ground: leg(Ground, 0.060, u)}, Acceptance{})
	if !ok || m.LimitedBy != Ground {
		t.Fatalf("%+v", m)
	}
	near(t, "best", m.Amp.Value, 0.25/0.060, 1e-12)
	near(t, "low", m.LowAmp, 0.25/0.061, 1e-12)
	near(t, "high", m.HighAmp, 0.25/0.059, 1e-12)

	m, _ = MaxCurrentOf(Result{Loop: leg(Loop, 0.140, u)}, Acceptance{})
	if m.Amp.Known || m.LimitedBy != Loop {
		t.Errorf("%+v", m)
	}
	near(t, "loop low", m.LowAmp, 0.25/0.141, 1e-12)
	near(t, "loop high", m.HighAmp, 0.75/0.139, 1e-12)

	m, _ = MaxCurrentOf(Result{VBUS: leg(VBUS, 0.090, u)}, Acceptance{})
	if m.Amp.Known || m.LowAmp != 0 || m.LimitedBy != VBUS {
		t.Errorf("%+v", m)
	}
	near(t, "one conductor", m.HighAmp, 0.5/0.089, 1e-12)
	if _, ok := MaxCurrentOf(Result{}, Acceptance{}); ok {
		t.Error("a current from nothing")
	}
	if m, _ := MaxCurrentOf(Result{Loop: leg(Loop, 1e-3, 1e-3)}, Acceptance{}); !math.IsInf(m.HighAmp, 1) {
		t.Errorf("%+v", m)
	}
}
