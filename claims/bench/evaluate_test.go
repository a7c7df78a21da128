package bench

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/gainsay/claims/quantity"
)

func kinds(r Result) (ks []NoteKind) {
	for _, n := range r.Notes {
		ks = append(ks, n.Kind)
	}
	return ks
}

func exact() *quantity.Accuracy { return &quantity.Accuracy{Reading: 1e-5} }

func TestBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := Reading{CurrentAmp: 1, VBUSVolt: Known(0.1), GroundVolt: Known(0.05)}
	for _, c := range []struct {
		name string
		s    Session
		err  error
		want string
		left bool // VBUS is still known
	}{
		{"nothing", Session{}, ErrNoReadings, "session: no usable reading; want a current and a drop over vbus, ground or the loop", false},
		{"zero current", Session{Readings: []Reading{good, {VBUSVolt: Known(0.1)}}}, ErrZeroCurrent, "readings[1].current: 0 A; want a current between 1 µA and 1000 A, either sign; a drop without current is a null", true},
		{"no current at all", Session{Readings: []Reading{{CurrentAmp: nan, VBUSVolt: Known(1)}, good}}, ErrNotFinite, "", true},
		{"endless current", Session{Readings: []Reading{{CurrentAmp: inf, VBUSVolt: Known(1)}, good}}, ErrNotFinite, "", true},
		{"milliamps as amps, twice", Session{Readings: []Reading{{CurrentAmp: 3e6, VBUSVolt: Known(1)}, good}}, ErrOutOfRange, "", true},
		{"tiny current", Session{Readings: []Reading{{CurrentAmp: 1e-9, VBUSVolt: Known(1)}, good}}, ErrOutOfRange, "", true},
		{"no drop", Session{Readings: []Reading{good, {CurrentAmp: 1}}}, ErrNoReadings, "readings[1]: no drop; want a drop over vbus, ground or the loop", true},
		{"drop not finite", Session{Readings: []Reading{good, {CurrentAmp: 1, VBUSVolt: Known(nan), GroundVolt: Known(0.05)}}}, ErrNotFinite, "readings[1].vbus: NaN; want a drop of at most 1000 V", true},
		{"drop too large", Session{Readings: []Reading{good, {CurrentAmp: 1, GroundVolt: Known(1e5)}}}, ErrOutOfRange, "", true},
		{"opposed", Session{Readings: []Reading{good, {CurrentAmp: 1, VBUSVolt: Known(-0.1)}}}, ErrOpposedSign, "readings[1].vbus: -100 mV at 1 A; want a drop with the sign of its current", true},
		{"null too large", Session{Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1), GroundVolt: Known(0.05)}}, Nulls: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.01), GroundVolt: Known(0.06)}}}, ErrNoResistance, "", true},
		{"printed not finite", Session{Readings: []Reading{good}, Printed: Printed{LoopOhm: Known(nan)}}, ErrNotFinite, "", true},
		{"printed too large", Session{Readings: []Reading{good}, Printed: Printed{LoopOhm: Known(2e6)}}, ErrOutOfRange, "printed.loop: 2000000 Ω; want a resistance of at most 1000000 Ω", true},
		{"falling drop", Session{Readings: []Reading{{CurrentAmp: 1, GroundVolt: Known(0.2)}, {CurrentAmp: 2, GroundVolt: Known(0.1)}}}, ErrNoResistance, "", false},
		{"negative accuracy", Session{Readings: []Reading{good}, Ammeter: &quantity.Accuracy{Fixed: -1}}, ErrAccuracy, "", true},
		{"accuracy not a number", Session{Readings: []Reading{good}, Voltmeter: &quantity.Accuracy{Reading: nan}}, ErrAccuracy, "", true},
		{"ambient", Session{Readings: []Reading{good}, AmbientCelsius: Known(2000)}, ErrOutOfRange, "", true},
		{"length", Session{Readings: []Reading{good}, LengthMetre: Known(-1)}, ErrOutOfRange, "", true},
		{"loop below its part", Session{Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1), LoopVolt: Known(0.09)}}}, ErrNoResistance, "", true},
	} {
		r, err := Evaluate(c.s)
		if !errors.Is(err, c.err) {
			t.Errorf("%s: %v, want %v", c.name, err, c.err)
			continue
		}
		var at *Error
		if !errors.As(err, &at) || at.Wrong == "" || at.Want == "" {
			t.Errorf("%s: %#v is no complete *Error", c.name, err)
		}
		if c.want != "" && at.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, at, c.want)
		}
		if (r.VBUS != nil) != c.left {
			t.Errorf("%s: VBUS is %+v", c.name, r.VBUS)
		}
	}
}

// A null without current is an offset; one with current is a resistance.
func TestNull(t *testing.T) {
	reading := []Reading{{CurrentAmp: 2, VBUSVolt: Known(0.202)}}
	for _, c := range []struct {
		name  string
		nulls []Reading
		want  float64
	}{
		{"none", nil, 0.101},
		{"offset", []Reading{{VBUSVolt: Known(0.002)}}, 0.100},
		{"fixture at 1 A", []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.002)}}, 0.099},
		{"fixture reversed", []Reading{{CurrentAmp: -1, VBUSVolt: Known(-0.002)}}, 0.099},
		{"offset and fixture", []Reading{{VBUSVolt: Known(0.002)}, {CurrentAmp: 1, VBUSVolt: Known(0.003)}}, 0.099},
		{"of the other conductor", []Reading{{CurrentAmp: 1, GroundVolt: Known(0.002)}}, 0.101},
		{"mean of two", []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.001)}, {CurrentAmp: 1, VBUSVolt: Known(0.003)}}, 0.099},
	} {
		r, err := Evaluate(Session{Readings: reading, Nulls: c.nulls})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, r.VBUS.Ohm, c.want, 1e-12)
		if got := slices.Contains(kinds(r), NullNotTaken); got != (c.name == "none" || c.name == "of the other conductor") {
			t.Errorf("%s: notes %v", c.name, kinds(r))
		}
	}
}

// Current reversal: R = (V+ - V-)/(I+ - I-), signed readings, and the offset
// drops out.
func TestReversal(t *testing.T) {
	const r0, offset = 0.1, 50e-6
	r, err := Evaluate(Session{Voltmeter: &quantity.Accuracy{Fixed: 5e-6}, Ammeter: exact(), Readings: []Reading{
		{CurrentAmp: 0.1, VBUSVolt: Known(r0*0.1 + offset)},
		{CurrentAmp: -0.1, VBUSVolt: Known(-r0*0.1 + offset)},
	}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "R", r.VBUS.Ohm, r0, 1e-12)
	near(t, "offset", r.VBUS.Line.InterceptVolt, offset, 1e-15)
	if r.VBUS.How != Slope || !slices.Contains(kinds(r), OffsetRemains) {
		t.Errorf("%v, %v", r.VBUS.How, kinds(r))
	}
	// Without reversal 50 µV at 100 mA are 0.5 mΩ.
	one, _ := Evaluate(Session{Readings: []Reading{{CurrentAmp: 0.1, VBUSVolt: Known(r0*0.1 + offset)}}})
	near(t, "uncorrected", one.VBUS.Ohm-r0, 0.5e-3, 1e-12)
}

func TestSeveralCurrents(t *testing.T) {
	session := func(f func(i float64) float64) Session {
		s := Session{Voltmeter: &quantity.Accuracy{Fixed: 20e-6}, Ammeter: exact()}
		for i, amp := range []float64{1, 2, 3, 4, 5, 5} {
			noise := []float64{4e-6, -6e-6, 3e-6, 2e-6, -5e-6, 2e-6}[i]
			s.Readings = append(s.Readings, Reading{CurrentAmp: amp, VBUSVolt: Known(f(amp) + noise)})
		}
		return s
	}
	for _, c := range []struct {
		name string
		f    func(float64) float64
		how  How
		ohm  float64
		kind NoteKind
	}{
		{"a straight line", func(i float64) float64 { return 0.08 * i }, Slope, 0.08, 0},
		{"with an offset", func(i float64) float64 { return 0.08*i + 1e-3 }, Slope, 0.08, OffsetRemains},
		{"heating", func(i float64) float64 { return 0.08 * i * (1 + 0.002*i*i) }, Ratio, 0.08 * 1.05, HeatingOrContact},
		{"a film", func(i float64) float64 { return 0.08 * i * (1.05 - 0.002*i*i) }, Ratio, 0.08, HeatingOrContact},
	} {
		r, err := Evaluate(session(c.f))
		if err != nil {
			t.Fatal(err)
		}
		if r.VBUS.How != c.how {
			t.Errorf("%s: by %v", c.name, r.VBUS.How)
		}
		near(t, c.name, r.VBUS.Ohm, c.ohm, 20e-6)
		for _, k := range []NoteKind{OffsetRemains, HeatingOrContact} {
			if got := slices.Contains(kinds(r), k); got != (k == c.kind) {
				t.Errorf("%s: notes %v", c.name, kinds(r))
			}
		}
	}
	// One setting that wandered is not several.
	r, _ := Evaluate(endToEnd())
	if r.VBUS.How != Ratio {
		t.Error(r.VBUS.How)
	}
}

func TestOrientation(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}, Ammeter: &quantity.Accuracy{Reading: 0.001, Fixed: 1e-3}}
	s.Readings = []Reading{
		{CurrentAmp: 1, VBUSVolt: Known(0.0931), GroundVolt: Known(0.0449), Flip: FlipUp, VBUSDigit: 1e-4, GroundDigit: 1e-4},
		{CurrentAmp: 1, VBUSVolt: Known(0.0950), GroundVolt: Known(0.04491), Flip: FlipDown, VBUSDigit: 1e-4, GroundDigit: 1e-4},
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the larger counts", r.VBUS.Ohm, 0.0950, 1e-12)
	if len(r.Orientations) != 2 {
		t.Fatal(r.Orientations)
	}
	v, g := r.Orientations[0], r.Orientations[1]
	near(t, "up minus down", v.Difference.Ohm, -0.0019, 1e-12)
	if !v.Difference.Significant || g.Difference.Significant {
		t.Errorf("VBUS %+v, ground %+v", v.Difference, g.Difference)
	}
	near(t, "loop is the sum", r.Loop.Ohm, r.VBUS.Ohm+r.Ground.Ohm, 1e-15)
	if math.IsInf(r.VBUS.DoF, 1) == false {
		t.Error("two ways up are no repeats:", r.VBUS.DoF)
	}
}

func TestLoopAgainstSum(t *testing.T) {
	for loop, want := range map[float64]bool{0.150: false, 0.160: true} {
		s := Session{Voltmeter: &quantity.Accuracy{Fixed: 0.2e-3}, Ammeter: exact()}
		s.Readings = []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1), GroundVolt: Known(0.05), LoopVolt: Known(loop)}}
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "loop", r.Loop.Ohm, 0.15, 1e-12)
		near(t, "measured", r.LoopMeasured.Ohm, loop, 1e-12)
		if slices.Contains(kinds(r), LoopDisagrees) != want {
			t.Errorf("loop %g: notes %v", loop, kinds(r))
		}
	}
}

// A loop summed from drops read together has the ammeter's error once, linearly,
// and the scatter of the sums.
func TestSharedMetersInTheLoop(t *testing.T) {
	s := endToEnd()
	s.Nulls = nil
	whole := s
	whole.Readings = nil
	for i, r := range s.Readings {
		ground := r.VBUSVolt.Value / 2
		s.Readings[i].GroundVolt = Known(ground)
		whole.Readings = append(whole.Readings, Reading{CurrentAmp: r.CurrentAmp, LoopVolt: Known(r.VBUSVolt.Value + ground)})
	}
	a, _ := Evaluate(s)
	b, _ := Evaluate(whole)
	near(t, "R", a.Loop.Ohm, b.Loop.Ohm, 1e-12)
	for _, source := range []Source{AmmeterSpec, Repeats} {
		near(t, source.String(), rowOf(*a.Loop, source).Ohm, rowOf(*b.Loop, source).Ohm, 1e-10)
	}
	// The voltmeter's counts are there twice.
	near(t, "voltmeter", rowOf(*a.Loop, VoltmeterSpec).Ohm, rowOf(*b.Loop, VoltmeterSpec).Ohm+30e-6/math.Sqrt(3)/3, 1e-10)
}

func TestGroundAboveVBUS(t *testing.T) {
	s := Session{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.05), GroundVolt: Known(0.08)}}}
	r, _ := Evaluate(s)
	if !slices.Contains(kinds(r), GroundAboveVBUS) {
		t.Error(kinds(r))
	}
}

func TestPrinted(t *testing.T) {
	r, err := Evaluate(Session{
		Printed:   Printed{VBUSOhm: Known(0.092), GroundOhm: Known(0.045)},
		Ohmmeter:  &quantity.Accuracy{Fixed: 0.5e-3},
		Voltmeter: exact(),
		Nulls:     []Reading{{CurrentAmp: 1, GroundVolt: Known(0.001)}},
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "vbus", r.VBUS.Ohm, 0.092, 1e-12)
	near(t, "u", r.VBUS.U, 0.5e-3/math.Sqrt(3), 1e-12)
	near(t, "ground, no null taken off", r.Ground.Ohm, 0.045, 1e-12)
	near(t, "loop", r.Loop.Ohm, 0.137, 1e-12)
	near(t, "u of the loop", r.Loop.U, 1e-3/math.Sqrt(3), 1e-8) // one rig: linear
}

func TestDrift(t *testing.T) {
	at := func(celsius, volt float64) Result {
		s := Session{Voltmeter: exact(), Ammeter: exact(), AmbientCelsius: Known(celsius), AmbientWithinKelvin: 0.5,
			Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(volt)}}}
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	first := at(20, 0.100)
	for _, c := range []struct {
		name string
		r    Result
		want bool
	}{
		{"the same", at(20, 0.100), false},
		{"only warmer", at(30, 0.10393), false},
		{"worn", at(20, 0.105), true},
		{"worn, hidden by the cold", at(10, 0.100), true},
	} {
		d := Drift(first, c.r)
		if len(d) != 1 || d[0].Conductor != VBUS || !d[0].At20 || d[0].Significant != c.want {
			t.Errorf("%s: %+v", c.name, d)
		}
	}
}

// Repeats both ways up: the scatter within each is pooled, what lies between is
// none.
func TestPooledScatter(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{}, Ammeter: &quantity.Accuracy{}}
	for i, v := range []float64{0.099, 0.100, 0.101, 0.119, 0.120, 0.121} {
		s.Readings = append(s.Readings, Reading{CurrentAmp: 1, VBUSVolt: Known(v), Flip: []Flip{FlipUp, FlipDown}[i/3]})
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "R", r.VBUS.Ohm, 0.120, 1e-12)
	near(t, "ν", r.VBUS.DoF, 4, 1e-9)
	near(t, "u", r.VBUS.U, 1e-3/math.Sqrt(3), 1e-12) // s = 1 mΩ in each
	if r.VBUS.N != 3 {
		t.Error(r.VBUS.N)
	}
}

// Type B of a slope: an instrument's error is common at one current, and independent at
// another; where a range is stated, it is common in all of it.
func TestSlopeSpecifications(t *testing.T) {
	for _, c := range []struct {
		name     string
		i1, i2   float64
		volt     quantity.Accuracy
		amp      quantity.Accuracy
		want     float64 // half-width, ohm
		readings int
	}{
		{"voltmeter, fixed", 1, 3, quantity.Accuracy{Fixed: 1e-4}, quantity.Accuracy{}, 1e-4 * math.Sqrt2 / 2, 1},
		{"voltmeter, fixed, many points", 1, 3, quantity.Accuracy{Fixed: 1e-4}, quantity.Accuracy{}, 1e-4 * math.Sqrt2 / 2, 20},
		{"voltmeter, reversed", -1, 1, quantity.Accuracy{Fixed: 1e-4}, quantity.Accuracy{}, 1e-4, 1},
		{"voltmeter, gain", 1, 3, quantity.Accuracy{Reading: 0.01}, quantity.Accuracy{}, math.Hypot(0.001, 0.003) / 2, 1},
		{"voltmeter, gain in a stated range", 1, 3, quantity.Accuracy{Reading: 0.01, FullScale: 1}, quantity.Accuracy{}, 0.001, 1},
		{"voltmeter, of range", 1, 3, quantity.Accuracy{Range: 0.01, FullScale: 1}, quantity.Accuracy{}, 0, 1},
		{"ammeter, fixed", 1, 3, quantity.Accuracy{}, quantity.Accuracy{Fixed: 1e-3}, 0.1 * 1e-3 * math.Sqrt2 / 2, 1},
		{"ammeter, gain", 1, 3, quantity.Accuracy{}, quantity.Accuracy{Reading: 0.01}, 0.1 * math.Hypot(0.01, 0.03) / 2, 1},
	} {
		s := Session{Voltmeter: &c.volt, Ammeter: &c.amp}
		for range c.readings {
			s.Readings = append(s.Readings, Reading{CurrentAmp: c.i1, VBUSVolt: Known(0.1 * c.i1)}, Reading{CurrentAmp: c.i2, VBUSVolt: Known(0.1 * c.i2)})
		}
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, r.VBUS.U, c.want/math.Sqrt(3), 1e-12)
	}
}

func TestRiseWithCurrent(t *testing.T) {
	s := Session{Voltmeter: &quantity.Accuracy{Fixed: 20e-6}, Ammeter: exact()}
	for _, amp := range []float64{1, 2, 3, 4, 5} {
		s.Readings = append(s.Readings, Reading{CurrentAmp: amp, GroundVolt: Known(0.03*amp + 0.001*amp*amp)})
	}
	r, _ := Evaluate(s)
	i := slices.Index(kinds(r), HeatingOrContact)
	if i < 0 {
		t.Fatal(kinds(r))
	}
	near(t, "R(5 A) - R(1 A)", r.Notes[i].Value, 4e-3, 1e-9)
	near(t, "the largest current counts", r.Ground.Ohm, 0.035, 1e-9)
	// Within what the meters may be off by, nothing is said.
	s.Voltmeter = &quantity.Accuracy{Fixed: 20e-3}
	r, _ = Evaluate(s)
	if slices.Contains(kinds(r), HeatingOrContact) {
		t.Error(r.Notes)
	}
}

func TestNullAtOtherCurrent(t *testing.T) {
	for amp, want := range map[float64]bool{1: false, 1.2: false, 3: true, 0: false} {
		s := Session{Readings: []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1)}}, Nulls: []Reading{{CurrentAmp: amp, VBUSVolt: Known(0.001)}}}
		r, _ := Evaluate(s)
		if slices.Contains(kinds(r), NullAtOtherCurrent) != want {
			t.Errorf("null at %g A: %v", amp, kinds(r))
		}
	}
}

func TestCompare(t *testing.T) {
	a, b := *leg(VBUS, 0.110, 1e-3), *leg(VBUS, 0.100, 1e-3)
	d := Compare(a, b)
	near(t, "difference", d.Ohm, 0.010, 1e-12)
	near(t, "u", d.U, math.Sqrt2*1e-3, 1e-12)
	near(t, "U", d.Expanded, 2*math.Sqrt2*1e-3, 1e-9)
	if !d.Significant || Compare(b, a).Ohm != -d.Ohm {
		t.Errorf("%+v", d)
	}
	b.Ohm = 0.108
	if Compare(a, b).Significant {
		t.Error("2 mΩ of ±2.8 mΩ")
	}
}
