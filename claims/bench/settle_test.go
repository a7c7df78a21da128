package bench

import (
	"slices"
	"testing"

	"example.com/gainsay/claims/quantity"
)

func optionOf(t *testing.T, os []Option, k OptionKind) Option {
	t.Helper()
	for _, o := range os {
		if o.Text == "" {
			t.Errorf("%v says nothing", o.Kind)
		}
		if o.Kind == k {
			return o
		}
	}
	t.Fatalf("no %v among %+v", k, os)
	return Option{}
}

// Each option is put to the test: the session is changed as advised, evaluated
// anew, and has to be decided; with less than advised it must not be.
func TestSettleKeepsItsPromise(t *testing.T) {
	session := func() Session {
		s := endToEnd()
		for i := range s.Readings {
			s.Readings[i].GroundVolt = Known(0.1)
			s.Nulls[i].GroundVolt = Known(0.001)
		}
		return s
	}
	// 133.55 mΩ with U = 0.88 mΩ against 0.5 V / 3.73 A = 134.05 mΩ.
	const amp = 3.73
	outcome := func(s Session) Outcome {
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		return DecideCable(r, amp, Acceptance{}).Outcome
	}
	r, _ := Evaluate(session())
	if outcome(session()) != Undecided {
		t.Fatal("not undecided to begin with")
	}
	options := Settle(r, DecideCable(r, amp, Acceptance{}))

	better := optionOf(t, options, BetterAmmeter)
	for times, want := range map[float64]Outcome{better.Times * 1.001: Within, better.Times * 0.99: Undecided} {
		s := session()
		s.Ammeter = &quantity.Accuracy{Reading: s.Ammeter.Reading / times, Fixed: s.Ammeter.Fixed / times}
		if got := outcome(s); got != want {
			t.Errorf("ammeter %g times better: %v, want %v", times, got, want)
		}
	}
	s := session()
	s.Ammeter = &quantity.Accuracy{Reading: better.Fraction * 0.999}
	if got := outcome(s); got != Within {
		t.Errorf("ammeter of %g: %v", better.Fraction, got)
	}

	// A current 20 times smaller leaves a current to go up to.
	weak := func(amp float64) Session {
		s := Session{
			Voltmeter: &quantity.Accuracy{Reading: 0.0005, Fixed: 50e-6}, Ammeter: &quantity.Accuracy{Reading: 0.0005, Fixed: 1e-3},
			Readings: []Reading{{CurrentAmp: amp, VBUSVolt: Known(0.133 * amp), GroundVolt: Known(0.033 * amp)}},
			Nulls:    []Reading{{CurrentAmp: amp, VBUSVolt: Known(0), GroundVolt: Known(0)}},
		}
		return s
	}
	r, _ = Evaluate(weak(0.12))
	more := optionOf(t, Settle(r, DecideCable(r, amp, Acceptance{})), LargerCurrent)
	for i, want := range map[float64]Outcome{more.Amp * 1.001: Within, more.Amp * 0.98: Undecided} {
		if got := outcome(weak(i)); got != want {
			t.Errorf("at %g A: %v, want %v", i, got, want)
		}
	}
}

// More readings: scatter dominates, and the advised number is the least.
func TestSettleMoreReadings(t *testing.T) {
	session := func(n int) Session {
		s := Session{Voltmeter: exact(), Ammeter: exact()}
		for i := range n {
			// Two values that alternate: s·√((n-1)/n) does not change.
			d := 1e-3
			if i%2 == 1 {
				d = -1e-3
			}
			s.Readings = append(s.Readings, Reading{CurrentAmp: 1, VBUSVolt: Known(0.0995 + d), GroundVolt: Known(0.01)})
		}
		return s
	}
	r, err := Evaluate(session(4))
	if err != nil {
		t.Fatal(err)
	}
	o := optionOf(t, Settle(r, DecideCable(r, 5, Acceptance{})), MoreReadings)
	decided := func(n int) bool {
		r, _ := Evaluate(session(n))
		return DecideCable(r, 5, Acceptance{}).Outcome != Undecided
	}
	if n := o.Readings + 2 + o.Readings%2; !decided(n) { // even, so that the mean is the same
		t.Errorf("%d readings do not settle it, advised %d", n, o.Readings)
	}
	if n := o.Readings/2/2*2 - 2; decided(n) {
		t.Errorf("%d readings settle it, advised %d", n, o.Readings)
	}
	for _, o := range Settle(r, DecideCable(r, 5, Acceptance{})) {
		if o.Kind == BetterAmmeter || o.Kind == BetterVoltmeter {
			t.Errorf("scatter is not the meters': %+v", o)
		}
	}
}

func TestSettleKinds(t *testing.T) {
	evaluate := func(s Session) Result {
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	// A loop alone: sense each conductor.
	loop := evaluate(Session{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, LoopVolt: Known(0.14)}}})
	options := Settle(loop, DecideCable(loop, 5, Acceptance{}))
	if len(options) != 2 || options[0].Kind != SenseEach || options[0].Conductor != VBUS || options[1].Conductor != Ground {
		t.Errorf("%+v", options)
	}
	// Right at the limit.
	near := evaluate(Session{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1 + 1e-9), GroundVolt: Known(0.01)}}})
	optionOf(t, Settle(near, DecideCable(near, 5, Acceptance{})), NothingPractical)
	// Both meters alike.
	both := evaluate(Session{Voltmeter: &quantity.Accuracy{Reading: 0.01}, Ammeter: &quantity.Accuracy{Reading: 0.01}, Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.0992), GroundVolt: Known(0.01)}}})
	o := optionOf(t, Settle(both, DecideCable(both, 5, Acceptance{})), BetterMeters)
	s := both.Session
	s.Voltmeter = &quantity.Accuracy{Reading: 0.01 / o.Times * 0.999}
	s.Ammeter = s.Voltmeter
	if DecideCable(evaluate(s), 5, Acceptance{}).Outcome != Within {
		t.Errorf("%+v does not settle it", o)
	}
	// Nothing stated: asked for even when simple acceptance decides.
	bare := evaluate(Session{Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.05), GroundVolt: Known(0.01)}}})
	optionOf(t, Settle(bare, DecideCable(bare, 5, Acceptance{})), StateAccuracy)
	// Decided, stated: nothing to say.
	fine := evaluate(Session{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.05), GroundVolt: Known(0.01)}}})
	if got := Settle(fine, DecideCable(fine, 5, Acceptance{})); got != nil {
		t.Errorf("%+v", got)
	}
	// Ground by subtraction: sense it.
	subtracted := evaluate(Session{Voltmeter: &quantity.Accuracy{Fixed: 1e-3}, Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.05), LoopVolt: Known(0.1)}}})
	if o := optionOf(t, Settle(subtracted, DecideCable(subtracted, 5, Acceptance{})), SenseEach); o.Conductor != Ground {
		t.Errorf("%+v", o)
	}
}

// TestOtherWayUp: where the other way up is named as what settles, it does: the same
// readings the other way up decide. Where both were read it is not named.
func TestOtherWayUp(t *testing.T) {
	fine := quantity.Accuracy{Reading: 1e-5}
	session := func(ways ...Flip) Session {
		s := Session{Voltmeter: &fine, Ammeter: &fine}
		for _, flip := range ways {
			for _, noise := range []float64{-1e-4, 0, 1e-4} {
				s.Readings = append(s.Readings, Reading{CurrentAmp: 1, VBUSVolt: Known(0.0998 + noise), GroundVolt: Known(0.04 + noise), Flip: flip})
			}
		}
		s.Nulls = []Reading{{CurrentAmp: 1, VBUSVolt: Known(0), GroundVolt: Known(0)}}
		return s
	}
	found := 0
	for limit := 0.0999; limit < 0.1004; limit += 2e-6 {
		by := Acceptance{Limits: Limits{VBUSOhm: limit}}
		decide := func(s Session) (Result, CableDecision) {
			r, err := Evaluate(s)
			if err != nil {
				t.Fatal(err)
			}
			return r, DecideCable(r, 2, by)
		}
		r, d := decide(session(FlipUp))
		named := slices.ContainsFunc(Settle(r, d), func(o Option) bool { return o.Kind == OtherWayUp })
		both, after := decide(session(FlipUp, FlipDown))
		if named {
			found++
			if after.Outcome == Undecided {
				t.Errorf("limit %g Ω: the other way up does not decide", limit)
			}
		}
		if slices.ContainsFunc(Settle(both, after), func(o Option) bool { return o.Kind == OtherWayUp }) {
			t.Errorf("limit %g Ω: named though both ways up were read", limit)
		}
	}
	if found == 0 {
		t.Error("never named")
	}
}
