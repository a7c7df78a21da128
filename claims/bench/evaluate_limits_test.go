package bench

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims/quantity"
)

// faults names each fault of an error by place and cause.
func faults(err error) (out []string) {
	if err == nil {
		return nil
	}
	for _, e := range err.(interface{ Unwrap() []error }).Unwrap() {
		var one *Error
		if !errors.As(e, &one) {
			out = append(out, "no *Error: "+e.Error())
			continue
		}
		out = append(out, fmt.Sprintf("%s[%d].%s: %v", one.List, one.Index, one.Field, one.Err))
	}
	return out
}

// steady is a session that nothing is wrong with.
func steady(readings ...Reading) Session {
	if readings == nil {
		readings = []Reading{{CurrentAmp: 1, VBUSVolt: Known(0.1), GroundVolt: Known(0.05)}}
	}
	return Session{Voltmeter: exact(), Ammeter: exact(), Readings: readings}
}

// over1 is a reading of VBUS alone.
func over1(amp, volt float64) Reading { return Reading{CurrentAmp: amp, VBUSVolt: Known(volt)} }

// TestSurroundingsAtTheirBounds: what is just outside is an error and left out, what
// is just inside is kept.
func TestSurroundingsAtTheirBounds(t *testing.T) {
	const ambient, length = "session[-1].ambient: ", "session[-1].length: "
	for _, c := range []struct {
		celsius, kelvin, metre, within Number
		refused                        string
	}{
		{celsius: Known(-60)},
		{celsius: Known(-60.001), refused: ambient},
		{celsius: Known(150)},
		{celsius: Known(150.001), refused: ambient},
		{celsius: Known(math.NaN()), refused: ambient},
		{celsius: Known(20), kelvin: Known(100)},
		{celsius: Known(20), kelvin: Known(100.001), refused: ambient},
		{celsius: Known(20), kelvin: Known(-0.001), refused: ambient},
		{kelvin: Known(-0.001), refused: ambient},
		{kelvin: Known(100.001), refused: ambient},
		{metre: Known(1e-3)},
		{metre: Known(0.999e-3), refused: length},
		{metre: Known(1e4)},
		{metre: Known(1.0001e4), refused: length},
		{metre: Known(1), within: Known(0.999)},
		{metre: Known(1), within: Known(1), refused: length},
		{metre: Known(1), within: Known(-0.001), refused: length},
		{within: Known(5)},
		{within: Known(-0.001), refused: length},
	} {
		s := steady()
		s.AmbientCelsius, s.AmbientWithinKelvin = c.celsius, c.kelvin.Value
		s.LengthMetre, s.LengthWithinMetre = c.metre, c.within.Value
		r, err := Evaluate(s)
		want := s
		var wantFaults []string
		switch c.refused {
		case ambient:
			want.AmbientCelsius, want.AmbientWithinKelvin = Number{}, 0
		case length:
			want.LengthMetre, want.LengthWithinMetre = Number{}, 0
		}
		if c.refused != "" {
			wantFaults = []string{c.refused + ErrOutOfRange.Error()}
		}
		if diff := cmp.Diff(wantFaults, faults(err)); diff != "" {
			t.Errorf("%+v: faults (-want +got)\n%s", c, diff)
		}
		if diff := cmp.Diff(want, r.Session); diff != "" {
			t.Errorf("%+v: session (-want +got)\n%s", c, diff)
		}
	}
}

func TestMetersAtTheirBounds(t *testing.T) {
	for fixed, want := range map[float64][]string{
		0.999e9: nil,
		1e9:     {"session[-1].ammeter: " + ErrAccuracy.Error()},
		1.5e9:   {"session[-1].ammeter: " + ErrAccuracy.Error()},
	} {
		s := steady()
		s.Ammeter = &quantity.Accuracy{Fixed: fixed}
		r, err := Evaluate(s)
		if diff := cmp.Diff(want, faults(err)); diff != "" {
			t.Errorf("%g A: (-want +got)\n%s", fixed, diff)
		}
		if refused := r.Session.Ammeter == nil; refused != (want != nil) || r.VBUS.Assumed != refused {
			t.Errorf("%g A: ammeter %v, assumed %v", fixed, r.Session.Ammeter, r.VBUS.Assumed)
		}
	}
}

// TestReadingsAtTheirBounds: the first reading is judged; the second is sound.
func TestReadingsAtTheirBounds(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Reading
		want string
	}{
		{"least current", over1(1e-6, 1e-7), ""},
		{"below", over1(0.999e-6, 1e-7), "readings[0].current: " + ErrOutOfRange.Error()},
		{"most current", over1(1000, 100), ""},
		{"most current, reversed", over1(-1000, -100), ""},
		{"above", over1(1000.1, 100), "readings[0].current: " + ErrOutOfRange.Error()},
		{"most drop", over1(1000, 1000), ""},
		{"above it", over1(1000, 1000.1), "readings[0].vbus: " + ErrOutOfRange.Error()},
		{"no drop is no wrong sign", over1(1, 0), ""},
		{"ground opposed", Reading{CurrentAmp: 1, GroundVolt: Known(-0.1)}, "readings[0].ground: " + ErrOpposedSign.Error()},
		{"loop opposed", Reading{CurrentAmp: -1, LoopVolt: Known(0.1)}, "readings[0].loop: " + ErrOpposedSign.Error()},
		{"least resistance", over1(1, 1e-9), ""},
		{"below it", over1(10, 5e-9), ""}, // a reading, not the mean
	} {
		second := over1(c.r.CurrentAmp, 0.1*c.r.CurrentAmp) // one setting, so that no line is fitted
		if math.Abs(c.r.CurrentAmp) < 1e-6 || math.Abs(c.r.CurrentAmp) > 1000 {
			second = over1(1, 0.1)
		}
		_, err := Evaluate(steady(c.r, second))
		var want []string
		if c.want != "" {
			want = []string{c.want}
		}
		if diff := cmp.Diff(want, faults(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
	}
	// Alone, what is just inside is the result.
	for _, c := range []struct{ amp, volt, ohm float64 }{{1, 1e-9, 1e-9}, {1e-3, 1000, 1e6}} {
		r, err := Evaluate(steady(over1(c.amp, c.volt)))
		if err != nil || r.VBUS == nil || r.VBUS.Ohm != c.ohm {
			t.Errorf("%g V at %g A: %+v, %v", c.volt, c.amp, r.VBUS, err)
		}
	}
	_, err := Evaluate(steady(over1(1e-3, 1001)))
	if diff := cmp.Diff([]string{"readings[0].vbus: " + ErrOutOfRange.Error(), "session[-1].: " + ErrNoReadings.Error()}, faults(err)); diff != "" {
		t.Errorf("too large a drop alone: (-want +got)\n%s", diff)
	}
	_, err = Evaluate(steady(over1(0.9e-3, 1000)))
	if diff := cmp.Diff([]string{"readings[0].vbus: " + ErrOutOfRange.Error(), "session[-1].: " + ErrNoReadings.Error()}, faults(err)); diff != "" {
		t.Errorf("too much resistance: (-want +got)\n%s", diff)
	}
}

// about takes numbers for equal that rounding alone sets apart.
var about = cmp.Comparer(func(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b))
})

// TestNullsReachTheResult: the scatter of offsets counts in a mean of readings, and
// not in a slope or beside a resistance that a rig printed.
func TestNullsReachTheResult(t *testing.T) {
	offsets := []Reading{over1(0, 0.001), over1(0, 0.003)}
	for _, c := range []struct {
		name  string
		s     Session
		nulls []Reading
		want  int // rows for the scatter of nulls
	}{
		{"mean", steady(over1(1, 0.1), over1(1, 0.1)), offsets, 1},
		{"slope", steady(over1(1, 0.1), over1(2, 0.2)), offsets, 0},
		{"printed", Session{Voltmeter: exact(), Printed: Printed{VBUSOhm: Known(0.1)}}, append([]Reading{over1(1, 0.012)}, offsets...), 0},
	} {
		c.s.Nulls = c.nulls
		r, err := Evaluate(c.s)
		if err != nil {
			t.Fatal(err)
		}
		rows := 0
		for _, row := range r.VBUS.Budget {
			if row.Source == NullRepeats {
				rows++
			}
		}
		if rows != c.want {
			t.Errorf("%s: %d rows, want %d: %+v", c.name, rows, c.want, r.VBUS.Budget)
		}
	}
	// No null is taken off a printed resistance.
	r, err := Evaluate(Session{Ohmmeter: exact(), Printed: Printed{VBUSOhm: Known(0.1)}, Nulls: []Reading{over1(0.5, 0.005)}})
	if err != nil || r.VBUS.Ohm != 0.1 || len(r.VBUS.Budget) != 1 {
		t.Errorf("%+v, %v", r.VBUS, err)
	}
}

// TestNullInTheError: readings below their null are told with what the null is there.
func TestNullInTheError(t *testing.T) {
	s := steady(over1(2, 0.0040), over1(2, 0.0040))
	s.Nulls = []Reading{over1(0, 0.001), over1(1, 0.003)}
	_, err := Evaluate(s)
	var e *Error
	if !errors.As(err, &e) || !strings.Contains(e.Wrong, "5 mV") && !strings.Contains(e.Wrong, "0.005 V") {
		t.Errorf("%v: it should say that the null is 1 mV + 2 A · 2 mΩ = 5 mV", err)
	}
}

// notes gives the notes without their words.
func notes(r Result) (out []Note) {
	for _, n := range r.Notes {
		n.Text = ""
		out = append(out, n)
	}
	return out
}

func TestNotes(t *testing.T) {
	up := func(r Reading) Reading { r.Flip = FlipUp; return r }
	down := func(r Reading) Reading { r.Flip = FlipDown; return r }
	nulls := func(r Reading, s Session) Session { s.Nulls = []Reading{r}; return s }
	bare := func(s Session) Session { s.Voltmeter, s.Ammeter = nil, nil; return s }
	none := over1(1, 1e-9)
	for _, c := range []struct {
		name string
		s    Session
		want []Note
	}{
		{"nothing but a reading", bare(steady(over1(1, 0.1))),
			[]Note{{Kind: NullNotTaken, Conductor: VBUS}, {Kind: SingleReading, Conductor: VBUS}, {Kind: AccuracyAssumed}, {Kind: AccuracyAssumed}}},
		{"all there is to ask", nulls(none, steady(over1(1, 0.1), over1(1, 0.1))), nil},
		{"one reading", nulls(none, steady(over1(1, 0.1))), []Note{{Kind: SingleReading, Conductor: VBUS}}},

		{"null a quarter higher", nulls(over1(1.25, 1e-9), steady(over1(1, 0.1), over1(1, 0.1))), nil},
		{"null just more", nulls(over1(1.255, 1e-9), steady(over1(1, 0.1), over1(1, 0.1))), []Note{{NullAtOtherCurrent, VBUS, 1.255, 0, ""}}},
		{"null a quarter lower", nulls(over1(0.75, 1e-9), steady(over1(1, 0.1), over1(1, 0.1))), nil},
		{"null at half an ampere", nulls(over1(0.5, 1e-9), steady(over1(1, 0.1), over1(1, 0.1))), []Note{{NullAtOtherCurrent, VBUS, 0.5, 0, ""}}},
		{"a quarter of 2 A", nulls(over1(2.4, 1e-9), steady(over1(2, 0.2), over1(2, 0.2))), nil},

		{"each way up once", nulls(none, steady(up(over1(1, 0.1)), down(over1(1, 0.11)))), []Note{{Kind: SingleReading, Conductor: VBUS}}},
		{"one way up twice", nulls(none, steady(up(over1(1, 0.1)), down(over1(1, 0.12)), down(over1(1, 0.12)))),
			[]Note{{OrientationDiffers, VBUS, -0.02, 0, ""}}},
		{"usual between the ways up", nulls(none, steady(up(over1(1, 0.1)), down(over1(1, 0.11)), down(over1(1, 0.11)))), nil},
		{"twice, no difference", nulls(none, steady(up(over1(1, 0.1)), down(over1(1, 0.1)), down(over1(1, 0.1)))), []Note{}},
	} {
		r, err := Evaluate(c.s)
		if err != nil {
			t.Fatal(c.name, err)
		}
		got := slices.DeleteFunc(notes(r), func(n Note) bool { return n.Kind == FewRepeats })
		for i := range got {
			if got[i].Kind == OrientationDiffers {
				if got[i].Expanded <= 0 || got[i].Expanded > 1e-4 {
					t.Errorf("%s: expanded %g", c.name, got[i].Expanded)
				}
				got[i].Expanded = 0
			}
		}
		if len(c.want) == 0 && len(got) <= 1 { // of two ways up alike, the one that counts may be the single one
			if len(got) == 1 && got[0].Kind != SingleReading {
				t.Errorf("%s: %+v", c.name, got)
			}
			continue
		}
		if diff := cmp.Diff(c.want, got, about); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
	}
	// Of equals the first counts: flip up, with its two readings.
	r, err := Evaluate(steady(up(over1(1, 0.1)), up(over1(1, 0.1)), down(over1(1, 0.1))))
	if err != nil || r.VBUS.N != 2 {
		t.Errorf("%+v, %v", r.VBUS, err)
	}
	// A loop that disagrees is told of the loop, ground above VBUS of ground.
	r, err = Evaluate(nulls(Reading{CurrentAmp: 1, VBUSVolt: Known(1e-9), GroundVolt: Known(1e-9), LoopVolt: Known(1e-9)},
		steady(Reading{CurrentAmp: 1, VBUSVolt: Known(0.05), GroundVolt: Known(0.08), LoopVolt: Known(0.2)})))
	if err != nil {
		t.Fatal(err)
	}
	var about []string
	for _, n := range r.Notes {
		if n.Kind == LoopDisagrees || n.Kind == GroundAboveVBUS {
			about = append(about, n.Kind.String()+" "+n.Conductor.String())
		}
	}
	if diff := cmp.Diff([]string{"loop-disagrees loop", "ground-above-vbus ground"}, about); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestSeveralCurrentsAtTheBound: a fifth of the largest is not yet several currents;
// near the largest is what is above nine tenths of it.
func TestSeveralCurrentsAtTheBound(t *testing.T) {
	points := func(amps ...float64) (out []point) {
		for _, a := range amps {
			out = append(out, point{amp: a})
		}
		return out
	}
	for _, c := range []struct {
		amps []float64
		want bool
	}{
		{[]float64{5}, false},
		{[]float64{4, 5}, false},
		{[]float64{4.2, 5}, false},
		{[]float64{3.9, 5}, true},
		{[]float64{0.01, 0.02}, true},
		{[]float64{-5, 5}, true},
		{[]float64{-5, -4}, false},
	} {
		if got := several(points(c.amps...)); got != c.want {
			t.Errorf("%v A: several %v", c.amps, got)
		}
	}
	got := largestCurrent(points(1, 4.5, 4.6, -4.7, 5))
	if diff := cmp.Diff(points(4.6, -4.7, 5), got, cmp.AllowUnexported(point{})); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestCurvature by hand. With three points b is half the second difference, whatever
// the line; with four, the quadratic contrast (1 −1 −1 1) over 4, and the cubic
// contrast (−1 3 −3 1) is what remains (tables of orthogonal polynomials).
func TestCurvature(t *testing.T) {
	const offset, ohm, b, uPoint = 1e-3, 0.1, 2e-3, 5e-6
	at := func(amps ...float64) (volts []float64) {
		for _, a := range amps {
			volts = append(volts, offset+ohm*a+b*a*math.Abs(a))
		}
		return volts
	}
	three := []float64{1, 2, 3}
	// curve is the change of resistance with its expanded uncertainty, where each drop has a
	// standard uncertainty of its own.
	curve := func(amps, volts []float64, uPoint float64) (rise, expanded float64, ok bool) {
		weight, dof, residual, ok := curvature(amps, volts)
		if !ok {
			return 0, 0, false
		}
		squares := 0.0
		for i, w := range weight {
			rise += w * volts[i]
			squares += w * w
		}
		parts := []part{{uPoint * math.Sqrt(squares), math.Inf(1)}}
		if dof > 0 {
			parts = append(parts, part{residual * math.Sqrt(squares), dof})
		}
		u, nu := combine(parts)
		return rise, CoverageFactor(Coverage, nu) * u, true
	}
	rise, expanded, ok := curve(three, at(three...), uPoint)
	if !ok {
		t.Fatal("three currents")
	}
	near(t, "rise", rise, 2*b, 1e-14)
	near(t, "expanded", expanded, 2*math.Sqrt(6)*uPoint, 1e-14)

	small := []float64{0.01, 0.02, 0.03}
	if rise, _, ok := curve(small, at(small...), uPoint); !ok || math.Abs(rise-0.02*b) > 1e-12 {
		t.Errorf("rise at small currents %g, %v", rise, ok)
	}
	both := []float64{-3, -1, 1, 3}
	if rise, _, ok := curve(both, at(both...), uPoint); !ok || math.Abs(rise-2*b) > 1e-12 {
		t.Errorf("rise of reversed currents %g, %v", rise, ok)
	}
	near80 := []float64{4, 4.5, 5}
	if rise, _, ok := curve(near80, at(near80...), uPoint); !ok || math.Abs(rise-b) > 1e-12 {
		t.Errorf("rise of near currents %g, %v", rise, ok)
	}

	four := []float64{1, 2, 3, 4}
	volts := at(four...)
	const e = 3e-6
	for i, cubic := range []float64{-1, 3, -3, 1} {
		volts[i] += e * cubic
	}
	rise, expanded, ok = curve(four, volts, uPoint)
	if !ok {
		t.Fatal("four currents")
	}
	near(t, "rise", rise, 3*b, 1e-14)
	scatter := e * math.Sqrt(20) / 2 // one degree of freedom
	u := math.Hypot(scatter, uPoint/2)
	nu := math.Pow(u/scatter, 4)
	near(t, "expanded", expanded, 3*CoverageFactor(Coverage, nu)*u, 1e-12)

	// With five: contrasts (2 −1 −2 −1 2), which is what x² has beyond a line, and
	// (−1 2 0 −2 1).
	five := []float64{1, 2, 3, 4, 5}
	volts = at(five...)
	for i, cubic := range []float64{-1, 2, 0, -2, 1} {
		volts[i] += e * cubic
	}
	rise, expanded, ok = curve(five, volts, uPoint)
	if !ok {
		t.Fatal("five currents")
	}
	near(t, "rise", rise, 4*b, 1e-14)
	scatter = e * math.Sqrt(10.0/2/14) // two degrees of freedom
	u = math.Hypot(scatter, uPoint/math.Sqrt(14))
	near(t, "expanded", expanded, 4*CoverageFactor(Coverage, 2*math.Pow(u/scatter, 4))*u, 1e-12)

	for _, c := range []struct {
		name   string
		amps   []float64
		uPoint float64
		want   bool
	}{
		{"two currents", []float64{1, 2}, uPoint, false},
		{"two currents, twice", []float64{1, 1, 2, 2}, uPoint, false},
		// What x² has beyond a line through 0.5, 0.5+d and 1 is about d²/8.
		{"hardly three", []float64{1, 1 + 2*0.0048, 2}, uPoint, false},
		{"just three", []float64{1, 1 + 2*0.006, 2}, uPoint, true},
	} {
		rise, expanded, ok := curve(c.amps, at(c.amps...), c.uPoint)
		if ok != c.want || !ok && (rise != 0 || expanded != 0) {
			t.Errorf("%s: %g ± %g, %v", c.name, rise, expanded, ok)
		}
	}
}

// TestSlopeNotes: a resistance that changes by more than a hundredth, and by more than
// the meters explain, is told and not fitted by a line.
func TestSlopeNotes(t *testing.T) {
	rising := func(b float64) Session {
		s := steady()
		s.Readings = nil
		for _, amp := range []float64{1, 2, 3, 4, 5} {
			s.Readings = append(s.Readings, over1(amp, 0.1*amp+b*amp*amp))
		}
		return s
	}
	half := rising(0.001)
	half.Ammeter = nil
	for _, c := range []struct {
		name string
		s    Session
		text string // of the note, empty for none
		how  How
	}{
		{"1.5 %", rising(0.1 * 0.015 / 4), "it rises: ", Ratio},
		{"0.5 %", rising(0.1 * 0.005 / 4), "", Slope},
		{"falling", rising(-0.001), "it falls: ", Ratio},
		{"an accuracy is missing", half, "", Slope},
	} {
		r, err := Evaluate(c.s)
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, n := range r.Notes {
			if n.Kind == HeatingOrContact {
				text = n.Text
			}
		}
		if !strings.Contains(text, c.text) || (text == "") != (c.text == "") || r.VBUS.How != c.how {
			t.Errorf("%s: %q, by %s", c.name, text, r.VBUS.How)
		}
	}
	if r, _ := Evaluate(half); !r.VBUS.Assumed {
		t.Error("a slope without the ammeter's accuracy rests on an assumption")
	}
	// A drop that falls is no resistance, and nothing else is said of it.
	r, err := Evaluate(steady(over1(1, 0.1), over1(2, 0.09)))
	if diff := cmp.Diff([]string{"readings[0].vbus: " + ErrNoResistance.Error(), "session[-1].: " + ErrNoReadings.Error()}, faults(err)); diff != "" || len(r.Notes) > 0 {
		t.Errorf("a falling drop: %+v (-want +got)\n%s", r.Notes, diff)
	}
}

// TestOffsetByHand: the offset of a line through three points with one degree of
// freedom, and with two nulls that have one.
func TestOffsetByHand(t *testing.T) {
	amps, noise := []float64{1, 2, 3}, []float64{1e-6, -2e-6, 1e-6}
	s := Session{Voltmeter: &quantity.Accuracy{Fixed: 1e-5}, Ammeter: &quantity.Accuracy{}, Nulls: []Reading{over1(0, 1e-6), over1(0, 3e-6)}}
	for i, amp := range amps {
		s.Readings = append(s.Readings, over1(amp, 0.1*amp+0.05+noise[i]))
	}
	r, err := Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	var got *Note
	for i, n := range r.Notes {
		if n.Kind == OffsetRemains {
			got = &r.Notes[i]
		}
	}
	if got == nil {
		t.Fatal(r.Notes)
	}
	near(t, "offset", got.Value, 0.05-2e-6, 1e-12)
	// GUM H.3: s² = 6e-12/1, u(intercept) = s·√(Σx²/(n·Sxx)) = s·√(14/(3·2)); the drops
	// count by 1/n - mean·(I - mean)/Sxx, the nulls by 1/2 each, their scatter by s/√2.
	want := shapeOf(inOhms(
		spread(Repeats, TypeA, math.Sqrt(6e-12*14/6), 1), spread(NullRepeats, TypeA, 1e-6, 1),
		rect(1e-5*4/3), rect(1e-5/3), rect(1e-5*2/3), rect(1e-5)))
	near(t, "expanded", got.Expanded, want.expanded(), 1e-12)
}

func TestPrintedAtItsBounds(t *testing.T) {
	for _, c := range []struct {
		ohm  float64
		want string
	}{
		{1e-9, ""},
		{0.9e-9, ErrNoResistance.Error()},
		{1e6, ""},
		{1.001e6, ErrOutOfRange.Error()},
		{math.Inf(1), ErrNotFinite.Error()},
	} {
		r, err := Evaluate(Session{Ohmmeter: exact(), Printed: Printed{VBUSOhm: Known(c.ohm)}})
		var want []string
		if c.want != "" {
			want = []string{"printed[-1].vbus: " + c.want, "session[-1].: " + ErrNoReadings.Error()}
		}
		if diff := cmp.Diff(want, faults(err)); diff != "" {
			t.Errorf("%g Ω: (-want +got)\n%s", c.ohm, diff)
		}
		if err == nil && (r.VBUS.N != 1 || r.VBUS.Assumed) {
			t.Errorf("%g Ω: %+v", c.ohm, r.VBUS)
		}
	}
	r, err := Evaluate(Session{Printed: Printed{VBUSOhm: Known(0.1)}})
	if err != nil || !r.VBUS.Assumed {
		t.Errorf("without an accuracy: %+v, %v", r.VBUS, err)
	}
}

// TestJoinAtItsBounds: a loop and one conductor give the other.
func TestJoinAtItsBounds(t *testing.T) {
	r, err := Evaluate(steady(Reading{CurrentAmp: 1, VBUSVolt: Known(1e-9), LoopVolt: Known(2e-9)}))
	if err != nil || r.Ground == nil || r.Ground.Ohm != 1e-9 || r.Ground.Conductor != Ground {
		t.Errorf("%+v, %v", r.Ground, err)
	}
	r, err = Evaluate(steady(Reading{CurrentAmp: 1, GroundVolt: Known(0.05), LoopVolt: Known(0.15)}))
	if err != nil || r.VBUS == nil || r.VBUS.Conductor != VBUS {
		t.Errorf("%+v, %v", r.VBUS, err)
	}
	_, err = Evaluate(steady(Reading{CurrentAmp: 1, VBUSVolt: Known(0.1), LoopVolt: Known(0.09)}))
	if diff := cmp.Diff([]string{"readings[-1].ground: " + ErrNoResistance.Error()}, faults(err)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	// One conductor without an accuracy makes what is joined with it rest on the assumption.
	for _, s := range []Session{
		{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{over1(1, 0.1)}, Printed: Printed{GroundOhm: Known(0.05)}},
		{Voltmeter: exact(), Ammeter: exact(), Readings: []Reading{{CurrentAmp: 1, LoopVolt: Known(0.15)}}, Printed: Printed{VBUSOhm: Known(0.05)}},
		{Ohmmeter: exact(), Readings: []Reading{over1(1, 0.1)}, Printed: Printed{GroundOhm: Known(0.05)}},
		{Ohmmeter: exact(), Readings: []Reading{{CurrentAmp: 1, LoopVolt: Known(0.15)}}, Printed: Printed{VBUSOhm: Known(0.05)}},
	} {
		r, err := Evaluate(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range []*Estimate{r.VBUS, r.Ground, r.Loop} {
			if e.How == Summed || e.How == Subtracted {
				if !e.Assumed {
					t.Errorf("%s is %s of an assumption, and none", e.Conductor, e.How)
				}
			}
		}
	}
}

func TestSourcesInWords(t *testing.T) {
	want := []struct{ name, unit string }{{"", ""}, {"repeats", "Ω"}, {"voltmeter", "V"}, {"ammeter", "A"}, {"ohmmeter", "Ω"},
		{"null repeats", "Ω"}, {"voltmeter in the null", "V"}, {"ambient temperature", "K"}, {"ammeter in the null", "A"},
		{"digit of the drop", "V"}, {"digit of the current", "A"}, {"digit of the ohmmeter", "Ω"}, {"digit of the null", "V"},
		{"voltmeter's calibration", "V"}, {"ammeter's calibration", "A"}, {"ohmmeter's calibration", "Ω"}}
	for i, w := range want {
		s := Source(i)
		c := typeB(s, 1, 1)
		advice := sourceTexts[s].advice
		if s.String() != w.name || c.Unit != w.unit || (advice == "") != (i == 0) {
			t.Errorf("%d: %q, %+v", i, s, c)
		}
	}
	if got := Source(len(want)).String(); got != "" {
		t.Errorf("no source: %q", got)
	}
}

func TestCombine(t *testing.T) {
	for _, c := range []struct {
		parts  []part
		u, dof float64
	}{
		{nil, 0, math.Inf(1)},
		{[]part{{0, 3}}, 0, math.Inf(1)},
		{[]part{{1, 5}}, 1, 5},
		{[]part{{3, math.Inf(1)}, {4, 16}}, 5, 39.0625}, // 625/(256/16)
	} {
		u, dof := combine(c.parts)
		if diff := cmp.Diff([2]float64{c.u, c.dof}, [2]float64{u, dof}, about); diff != "" {
			t.Errorf("%v: (-want +got)\n%s", c.parts, diff)
		}
	}
}

// TestDeviationKeepsItsDigits: numbers that share all but their last digits, against
// the same sums without rounding (math/big).
func TestDeviationKeepsItsDigits(t *testing.T) {
	if m, d := meanDeviation(nil); m != 0 || d != 0 {
		t.Errorf("of nothing: %g, %g", m, d)
	}
	if m, d := meanDeviation([]float64{3}); m != 3 || d != 0 {
		t.Errorf("of one: %g, %g", m, d)
	}
	for _, base := range []float64{0, 1e6, 1e15, 4e15} {
		for n := 2; n < 40; n++ {
			xs := make([]float64, n)
			exact, squares := new(big.Rat), new(big.Rat)
			for i := range xs {
				xs[i] = base + float64((i*i*7+3*i)%23)
				exact.Add(exact, new(big.Rat).SetFloat64(xs[i]))
			}
			exact.Quo(exact, new(big.Rat).SetInt64(int64(n)))
			for _, x := range xs {
				d := new(big.Rat).Sub(new(big.Rat).SetFloat64(x), exact)
				squares.Add(squares, d.Mul(d, d))
			}
			variance, _ := squares.Quo(squares, new(big.Rat).SetInt64(int64(n-1))).Float64()
			_, got := meanDeviation(xs)
			if want := math.Sqrt(variance); math.Abs(got-want) > 1e-12*want {
				t.Errorf("%d numbers from %g: %.15g, want %.15g", n, base, got, want)
			}
		}
	}
}

func TestErrorInWords(t *testing.T) {
	for want, e := range map[string]*Error{
		"readings[0].vbus: 0 V; want more": {List: "readings", Field: "vbus", Wrong: "0 V", Want: "more"},
		"nulls[2]: none; want one":         {List: "nulls", Index: 2, Wrong: "none", Want: "one"},
		"session.length: -1 m; want more":  {List: "session", Index: -1, Field: "length", Wrong: "-1 m", Want: "more"},
	} {
		if got := e.Error(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestFitsByHand: lines through few points, by the formulas of GUM H.3.
func TestFitsByHand(t *testing.T) {
	for name, xs := range map[string][]float64{"none": nil, "one": {1}, "one twice": {2, 2}} {
		if l, ok := fitLine(xs, xs); ok || l != (Line{}) {
			t.Errorf("%s: %+v", name, l)
		}
	}
	l, ok := fitLine([]float64{-0.5, -0.5, 0.5, 0.5}, []float64{0, 2, 1, 3}) // Σ(x−x̄)² = 1
	want := Line{sxx: 1, SlopeOhm: 1, InterceptVolt: 1.5, USlope: math.Sqrt2, UIntercept: math.Sqrt2 / 2, ResidualVolt: math.Sqrt2, DoF: 2, SpanAmp: 1}
	if diff := cmp.Diff(want, l, about, cmp.AllowUnexported(Line{})); !ok || diff != "" {
		t.Errorf("%t (-want +got)\n%s", ok, diff)
	}
	if l, _ := fitLine([]float64{0.1, 0.2}, []float64{1, 3}); math.Abs(l.Correlation+0.3/math.Sqrt(2*0.05)) > 1e-12 {
		t.Errorf("r = −Σx/√(nΣx²): %g", l.Correlation)
	}
}

// TestExpansion: the terms of Abramowitz and Stegun 26.7.5, worked out by hand for
// whole quantiles: at z = 1 they are 1/2, 1/4, 1/16 and −528/92160, at z = 2 5/2,
// 294/96, 1098/384 and 169950/92160.
func TestExpansion(t *testing.T) {
	for _, c := range []struct{ z, nu, want float64 }{
		{1, 1, 1 + 0.5 + 0.25 + 0.0625 - 528.0/92160},
		{2, 1, 2 + 2.5 + 294.0/96 + 1098.0/384 + 169950.0/92160},
		{2, 2, 2 + 2.5/2 + 294.0/96/4 + 1098.0/384/8 + 169950.0/92160/16},
	} {
		near(t, fmt.Sprintf("z %g, ν %g", c.z, c.nu), expansion(c.z, c.nu), c.want, 1e-13)
	}
}
