package bench

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// TestFigures holds the figures taken from elsewhere, or assumed, against their
// sources.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		ends        [2]Plug
		fresh, worn float64
	}{
		{bothTypeC, 0.020, 0.025},                         // four of 40 and 50 mΩ in parallel, twice (Type-C §3.7.8.1)
		{[2]Plug{PlugTypeC, PlugSingle}, 0.040, 0.0525},   // one of 30 mΩ, 40 after stress (relayed)
		{[2]Plug{PlugTypeC, PlugNone}, 0.010, 0.0125},     // captive
		{[2]Plug{PlugUnknown, PlugUnknown}, 0.060, 0.080}, // any
	} {
		fresh, worn := Session{Ends: c.ends}.ContactsOhm()
		near(t, "new contacts", fresh, c.fresh, 1e-15)
		near(t, "worn contacts", worn, c.worn, 1e-15)
	}
	near(t, "copper-clad aluminium, 68 % IACS and a little", cladRatio.Low, 1.45, 0)
	near(t, "copper-clad aluminium, 62 % IACS and a little", cladRatio.High, 1.65, 0)
	// 30 K on a sheath of 4 mm at 10 W/m²K is h·π·D·ΔT = 3.77 W a metre.
	r := Result{Loop: leg(Loop, 10*math.Pi*0.004*30/25, 0)}
	r.Session.LengthMetre = Known(1)
	h, _ := HeatAt(r, 5)
	near(t, "sheath", h.SheathKelvin.Value, 30, 1e-9)
	if got := (Session{}).Ambient(); got != (Temperature{23, 5}) {
		t.Errorf("ambient not noted: %+v", got)
	}
	if got := (Session{AmbientCelsius: Known(25)}).Ambient(); got != (Temperature{25, 2}) {
		t.Errorf("ambient noted: %+v", got)
	}
}

// TestKindsInWords: each kind has its phrase, and what is none has none.
func TestKindsInWords(t *testing.T) {
	var got []string
	for k := range CautionKind(7) {
		got = append(got, k.String())
	}
	want := []string{"", "warm-verdict", "heat-above-limit", "sheath-warm", "contact-suspect", "", ""}
	if !slices.Equal(got, want) {
		t.Errorf("cautions %q", got)
	}
	got = nil
	for k := range NoteKind(14) {
		got = append(got, k.String())
	}
	want = []string{"", "accuracy-assumed", "single-reading", "null-not-taken", "null-at-other-current", "offset-remains",
		"heating-or-contact", "orientation-differs", "loop-disagrees", "ground-above-vbus", "few-repeats", "printed-disagrees", "unit-slip", ""}
	if !slices.Equal(got, want) {
		t.Errorf("notes %q", got)
	}
	got = nil
	for k := range OptionKind(14) {
		got = append(got, k.String())
	}
	want = []string{"", "sense-each", "state-accuracy", "other-way-up", "more-readings", "more-matings", "more-nulls", "larger-current",
		"better-ammeter", "better-voltmeter", "better-ohmmeter", "better-meters", "nothing-practical", ""}
	if !slices.Equal(got, want) {
		t.Errorf("options %q", got)
	}
	if Copper != "copper" || CopperCladAluminum != "copper-clad aluminium" {
		t.Error(Copper, CopperCladAluminum)
	}
	for want, ohm := range map[string]float64{"is within 100 mΩ": 0.09, "is over 100 mΩ": 0.11, "is not decided against 100 mΩ": 0.1} {
		if got := Decide(*leg(VBUS, ohm, 1e-3), 0.1, Acceptance{}).Text(); !strings.Contains(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestMaxCurrentLimitedBy(t *testing.T) {
	known := func(c Conductor, ohm float64) *Estimate { return leg(c, ohm, 1e-4) }
	lower := func(c Conductor, ohm float64) *Estimate {
		e := leg(c, ohm, 1e-4)
		e.Assumed = true
		return e
	}
	for _, c := range []struct {
		vbus, ground *Estimate
		by           Conductor
		lower        bool
	}{
		{known(VBUS, 0.120), known(Ground, 0.050), VBUS, false},
		{known(VBUS, 0.090), known(Ground, 0.060), Ground, false},
		{known(VBUS, 0.100), known(Ground, 0.050), VBUS, false}, // both at 5 A: the first
		{lower(VBUS, 0.120), known(Ground, 0.050), VBUS, true},
		{known(VBUS, 0.120), lower(Ground, 0.050), VBUS, true},
	} {
		m, _ := MaxCurrentOf(Result{VBUS: c.vbus, Ground: c.ground}, Acceptance{})
		if m.LimitedBy != c.by || m.Assumed != c.lower {
			t.Errorf("%g and %g Ω: by %v, assumed %t", c.vbus.Ohm, c.ground.Ohm, m.LimitedBy, m.Assumed)
		}
	}
}

func TestCautionLimits(t *testing.T) {
	kinds := func(r Result) (ks []CautionKind) {
		for _, c := range Cautions(r, r.Risen(RiseKelvin), 5, Acceptance{}) {
			if c.Kind == WarmVerdict && (c.Value != 0 || c.Threshold != 0) {
				t.Errorf("%+v", c)
			}
			ks = append(ks, c.Kind)
		}
		return ks
	}
	note := func(k NoteKind, v float64) Result { return Result{Notes: []Note{{Kind: k, Value: v}}} }
	for _, c := range []struct {
		name string
		r    Result
		want []CautionKind
	}{
		{"falling with the current", note(HeatingOrContact, -1e-3), nil},
		{"not changing", note(HeatingOrContact, 0), nil},
		{"another note", note(GroundAboveVBUS, 1e-3), nil},
		// 0.75 V at 5 A are 3.75 W.
		{"heat at the limit", Result{Loop: leg(Loop, 0.15, 0)}, nil},
		{"heat above the limit", Result{Loop: leg(Loop, math.Nextafter(0.15, 1), 0)}, []CautionKind{HeatAboveLimit}},
		{"within, but not warm", Result{VBUS: leg(VBUS, 0.095, 2e-4), Ground: leg(Ground, 0.03, 2e-4)}, []CautionKind{WarmVerdict}},
	} {
		if got := kinds(c.r); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestCompareByHand(t *testing.T) {
	whole := func(c Conductor, ohm, u float64) Estimate {
		e := *leg(c, ohm, 0)
		e.Budget = []Contribution{{Source: AmmeterSpec, Type: TypeB, Distribution: Normal, U: u / ohm, Unit: "A", Sensitivity: ohm, DoF: math.Inf(1), Origin: Origin{Source: AmmeterSpec}}}
		e.settle()
		return e
	}
	hand := *leg(Ground, 0.05, 3e-4)
	for name, pair := range map[string][2]Estimate{
		"both by hand":      {*leg(VBUS, 0.1, 4e-4), hand},
		"one with a budget": {whole(VBUS, 0.1, 4e-4), hand},
		"the other":         {hand, whole(VBUS, 0.1, 4e-4)},
	} {
		near(t, name, Compare(pair[0], pair[1]).U, 5e-4, 1e-12)
	}
	// One ammeter in both: what it has wrong by a fraction, it has wrong in the
	// difference by that fraction.
	near(t, "one ammeter", Compare(whole(VBUS, 0.1, 4e-4), whole(Ground, 0.05, 2e-4)).U, 2e-4, 1e-12)
	if d := Compare(*leg(VBUS, 0.1, 0), *leg(VBUS, 0.1, 0)); d.Significant {
		t.Errorf("no difference: %+v", d)
	}
	for dof, want := range map[float64]float64{0: math.Inf(1), 1: 1, 0.5: 0.5, 9: 9} {
		if got := (Estimate{DoF: dof}).dof(); got != want {
			t.Errorf("%v degrees of freedom: %v", dof, got)
		}
	}
}

func TestDriftOfHalves(t *testing.T) {
	vbus, ground := Result{VBUS: leg(VBUS, 0.1, 1e-4)}, Result{Ground: leg(Ground, 0.1, 1e-4)}
	if got := Drift(vbus, ground); got != nil {
		t.Errorf("nothing in common: %+v", got)
	}
	warm := vbus
	warm.Session.AmbientCelsius = Known(40)
	for _, got := range [][]Change{Drift(vbus, warm), Drift(warm, vbus)} {
		if len(got) != 1 || got[0].At20 || got[0].Ohm != 0 {
			t.Errorf("one temperature: %+v", got)
		}
	}
	if got := Drift(warm, warm); len(got) != 1 || !got[0].At20 {
		t.Errorf("both temperatures: %+v", got)
	}
}

// TestRisenByHand: the uncertainty of an estimate without a budget grows with it,
// and the temperature it starts from counts by the slope of the factor.
func TestRisenByHand(t *testing.T) {
	e := leg(VBUS, 0.1, 1e-3).Risen(Temperature{20, 0}, 30)
	near(t, "u", e.U, 1e-3*1.1179, 1e-12)
	if e := leg(VBUS, 0.1, 0).Risen(Temperature{20, 2}, 30); len(e.Budget) != 1 {
		t.Errorf("rows %+v", e.Budget)
	}
	one := leg(VBUS, 0.1, 0)
	one.Budget = []Contribution{spread(OhmmeterSpec, TypeB, 1e-3, math.Inf(1))}
	one.settle()
	near(t, "u by its row", one.Risen(Temperature{20, 0}, 30).U, 1e-3*1.1179, 1e-12)
	for _, from := range []float64{-10, 20, 35} {
		const h = 1e-4
		slope := (math.Log(copperFactor(from+h, from+h+30)) - math.Log(copperFactor(from-h, from-h+30))) / (2 * h)
		e := leg(VBUS, 0.1, 0).Risen(Temperature{from, 2}, 30)
		near(t, "u by temperature", e.U, math.Abs(slope)*e.Ohm*2/math.Sqrt(3), 1e-9)
	}
}

// settled is an estimate with these rows.
func settled(ohm float64, n int, rows ...Contribution) Estimate {
	e := Estimate{Conductor: VBUS, Ohm: ohm, N: n, Budget: rows}
	e.settle()
	return e
}

// spread is a contribution already in ohm.
func spread(s Source, kind Type, ohm, dof float64) Contribution {
	return Contribution{Source: s, Type: kind, Distribution: Normal, U: ohm, Unit: "Ω", Sensitivity: 1, DoF: dof, Origin: Origin{Source: s, of: new(token)}}
}

// inOhms fills in what reaches the result.
func inOhms(rows ...Contribution) []Contribution {
	for i := range rows {
		rows[i].Ohm = math.Abs(rows[i].Sensitivity) * rows[i].U
	}
	return rows
}

// rect is a rectangular contribution in ohm, by its half-width.
func rect(half float64) Contribution {
	c := typeB(OhmmeterSpec, half, 1)
	c.Origin = Origin{Source: OhmmeterSpec, of: new(token)}
	return c
}

func row(s Source, ohm float64) Contribution { return spread(s, TypeB, ohm, math.Inf(1)) }

// TestReadingsNeeded: the scatter of n readings goes with 1/√n, and the coverage
// factor with n − 1 degrees of freedom; 50 readings count as practical.
func TestReadingsNeeded(t *testing.T) {
	scatter := func(ohm float64, n int) Estimate {
		return settled(0.1, n, spread(Repeats, TypeA, ohm, float64(n-1)))
	}
	at := func(ohm float64, n, more int) float64 {
		return CoverageFactor(Coverage, float64(more-1)) * ohm * math.Sqrt(float64(n)/float64(more))
	}
	for _, ohm := range []float64{1e-3, 1} {
		e := scatter(ohm, 3)
		for _, n := range []int{4, 5, 20, 49, 50} {
			if got := readingsNeeded(e, at(ohm, 3, n)*(1+1e-9)); got != n {
				t.Errorf("%g Ω, %d readings: %d", ohm, n, got)
			}
		}
		if got := readingsNeeded(e, at(ohm, 3, 50)*(1-1e-9)); got != 0 {
			t.Errorf("51 readings: %d", got)
		}
		if got := readingsNeeded(e, 1e3); got != 4 {
			t.Errorf("one more: %d", got)
		}
	}
	single := settled(0.1, 1, spread(Repeats, TypeA, 1e-3, 1))
	if got := readingsNeeded(single, 1); got != 2 {
		t.Errorf("a second one: %d", got)
	}
	for name, e := range map[string]Estimate{"no scatter": settled(0.1, 3, row(OhmmeterSpec, 1e-3)), "not counted": settled(0.1, 0, spread(Repeats, TypeA, 1e-3, 2))} {
		if got := readingsNeeded(e, 1); got != 0 {
			t.Errorf("%s: %d", name, got)
		}
	}
}

// TestTimesNeeded: a meter up to 50 times better counts as practical.
func TestTimesNeeded(t *testing.T) {
	e := settled(0.1, 0, row(OhmmeterSpec, 1e-3))
	for _, times := range []float64{1.05, 2, 49.5, 50} {
		got, ok := timesNeeded(e, e.Expanded/times, OhmmeterSpec)
		if !ok {
			t.Errorf("%g times: not practical", times)
		}
		near(t, "times", got, times, 1e-9)
	}
	for _, times := range []float64{50.01, 51, 1000} {
		if got, ok := timesNeeded(e, e.Expanded/times, OhmmeterSpec); ok {
			t.Errorf("%g times: %g", times, got)
		}
	}
	if got, ok := timesNeeded(e, 1, VoltmeterSpec); ok {
		t.Errorf("a meter that was not used: %g", got)
	}
}

func TestCurrentNeeded(t *testing.T) {
	// Null errors alone: they go with 1/I.
	ratio := func(how How, amp float64) Estimate {
		e := settled(0.1, 0, row(NullVoltmeter, 1e-3))
		e.How, e.amp = how, amp
		return e
	}
	e := ratio(Ratio, 1)
	got, ok := currentNeeded(Session{}, e, e.Expanded/2, 5)
	if !ok {
		t.Error("2 A will do")
	}
	near(t, "amperes", got, 2, 1e-9)
	if got, ok := currentNeeded(Session{}, e, e.Expanded/5, 5); !ok || got != 5 {
		t.Errorf("5 A just do: %g, %t", got, ok)
	}
	for name, c := range map[string]struct {
		e   Estimate
		amp float64
	}{
		"printed": {ratio(Read, 1), 5}, "no current": {ratio(Ratio, 0), 5},
		"no more than now": {ratio(Ratio, 5), 5}, "less than now": {ratio(Ratio, 6), 5},
	} {
		if got, ok := currentNeeded(Session{}, c.e, 1, c.amp); ok {
			t.Errorf("%s: %g", name, got)
		}
	}
	if _, ok := currentNeeded(Session{}, e, e.Expanded/5.01, 5); ok {
		t.Error("more than the current judged")
	}
}

// TestSettleLimits: a meter good to less than 10 ppm of the reading is not
// practical, and nothing is asked for that would not settle anything.
func TestSettleLimits(t *testing.T) {
	kinds := func(os []Option) (ks []OptionKind) {
		for _, o := range os {
			ks = append(ks, o.Kind)
		}
		return ks
	}
	// The distance from the limit asks for meters twice as good.
	open := func(c Conductor, e Estimate) Decision {
		e.Conductor = c
		return Decision{Conductor: c, Estimate: e, LimitOhm: e.Ohm + e.Expanded/2.0000001}
	}
	// A row of u has a half-width of √3 u; half of that by 0.1 Ω is the fraction.
	ppm := func(fraction float64) float64 { return fraction * 2 * 0.1 / math.Sqrt(3) }
	for _, c := range []struct {
		name string
		d    Decision
		want []OptionKind
	}{
		{"11 ppm", open(VBUS, settled(0.1, 0, row(OhmmeterSpec, ppm(11e-6)))), []OptionKind{BetterOhmmeter}},
		{"9 ppm", open(VBUS, settled(0.1, 0, row(OhmmeterSpec, ppm(9e-6)))), []OptionKind{NothingPractical}},
		{"9 ppm, ground", open(Ground, settled(0.1, 0, row(OhmmeterSpec, ppm(9e-6)))), []OptionKind{NothingPractical}},
		{"9 ppm, loop", open(Loop, settled(0.1, 0, row(OhmmeterSpec, ppm(9e-6)))), nil},
		{"ammeter alone, 9 ppm", open(VBUS, settled(0.1, 0, row(AmmeterSpec, ppm(9e-6)))), []OptionKind{NothingPractical}},
		{"voltmeter alone, 9 ppm", open(VBUS, settled(0.1, 0, row(VoltmeterSpec, ppm(9e-6)))), []OptionKind{NothingPractical}},
		{"both meters", open(VBUS, settled(0.1, 0, row(AmmeterSpec, 1e-4), row(VoltmeterSpec, 1e-4))), []OptionKind{BetterMeters}},
	} {
		if got := kinds(settleOne(Result{}, c.d, 0)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	text := settleOne(Result{}, open(VBUS, settled(0.1, 0, row(OhmmeterSpec, ppm(0.02)))), 0)[0].Text
	if !strings.Contains(text, "good to 2 % of the reading") {
		t.Error(text)
	}

	assumed := Result{Loop: leg(Loop, 0.1, 0), Notes: []Note{{Kind: AccuracyAssumed, Text: "ammeter: its accuracy is not on record"}}}
	if got := Settle(assumed, CableDecision{Outcome: Within, CurrentAmp: 5}); len(got) != 1 || !strings.Contains(got[0].Text, "note the accuracy of the ammeter;") {
		t.Errorf("%+v", got)
	}
	ground := leg(Ground, 0.05, 1e-3)
	ground.How = Subtracted
	r := Result{VBUS: leg(VBUS, 0.1, 1e-3), Ground: ground}
	for _, c := range []struct {
		name string
		d    CableDecision
		want []OptionKind
	}{
		{"decided", CableDecision{Outcome: Within, CurrentAmp: 5}, nil},
		{"no current", CableDecision{}, nil},
		{"half an ampere", CableDecision{CurrentAmp: 0.5, Decisions: []Decision{{Conductor: Ground}}}, []OptionKind{SenseEach}},
		{"the other is open", CableDecision{CurrentAmp: 5, Decisions: []Decision{{Conductor: VBUS}, {Conductor: Ground, Outcome: Within}}}, nil},
	} {
		got := slices.DeleteFunc(kinds(Settle(r, c.d)), func(k OptionKind) bool { return k == NothingPractical })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if got := kinds(Settle(Result{VBUS: r.VBUS}, CableDecision{})); got != nil {
		t.Errorf("ground not known, at no current: %v", got)
	}
}

var bothTypeC = [2]Plug{PlugTypeC, PlugTypeC}

// wireResult is a result with one conductor at 20 °C exactly.
func wireResult(c Conductor, ohm, u float64) Result {
	r := Result{Session: Session{AmbientCelsius: Known(20), AmbientWithinKelvin: 1e-9, Ends: bothTypeC}}
	r.set(c, leg(c, ohm, u))
	return r
}

// TestThickestWire: AWG 16 for VBUS and twice its area for ground, of copper with
// 101 % IACS, is the least resistance expected.
func TestThickestWire(t *testing.T) {
	perMetre := 0.99 * CopperOhmMetre / quantity.GaugeArea(16)
	for c, least := range map[Conductor]float64{VBUS: perMetre, Ground: perMetre / 2} {
		for factor, want := range map[float64]bool{0.999: true, 1.001: false} {
			r := wireResult(c, least*factor, 0)
			r.Session.LengthMetre, r.Session.LengthWithinMetre = Known(1), 1e-9
			if w, ok := WireOf(r, c); !ok || w.TooLow != want {
				t.Errorf("%v, %g times the least: too low %t", c, factor, w.TooLow)
			}
		}
	}
	// Half of the contacts is all there is.
	r := wireResult(VBUS, 0.025/2, 0)
	r.Session.LengthMetre = Known(0.5)
	w, _ := WireOf(r, VBUS)
	if w.BestSquareMetre.Known || !strings.Contains(w.Text(), "the contacts could be all of it") || !math.IsInf(w.Gauge.Low, -1) {
		t.Errorf("%s %+v", w.Text(), w)
	}
	r = wireResult(VBUS, 0.1, 0)
	r.Session.LengthMetre = Known(1)
	if w, _ := WireOf(r, VBUS); !w.BestSquareMetre.Known || strings.Contains(w.Text(), "all of it") || math.IsInf(w.Gauge.Low, -1) {
		t.Errorf("%s %+v", w.Text(), w)
	}
}

func TestOverlaps(t *testing.T) {
	a := Range{1, 2}
	for b, want := range map[Range]bool{{2, 3}: true, {2.1, 3}: false, {0, 1}: true, {0, 0.9}: false, {0, 3}: true, {1.4, 1.6}: true} {
		if a.overlaps(b) != want || b.overlaps(a) != want {
			t.Errorf("%v and %v: %t", a, b, !want)
		}
	}
}

// TestWireLimits puts a wire just inside and just outside of what is told of it.
func TestWireLimits(t *testing.T) {
	const area = 0.5e-6
	check := func(ohm, u, metre, within float64) WireCheck {
		w, ok := CheckWire(wireResult(VBUS, ohm, u), VBUS, area, metre, within)
		if !ok {
			t.Fatalf("%g Ω over %g m: not checked", ohm, metre)
		}
		return w
	}
	// IEC 60228, 0.5 mm² of class 5, tinned: 40.1 Ω/km, above 1.16/(58 · 0.5) = 40.0.
	w := check(0.05, 0, 1, 1e-12)
	near(t, "most", w.ExpectedOhm.High, 0.0401+0.025, 1e-9)
	near(t, "least", w.ExpectedOhm.Low, 0.99/58/0.5, 1e-9)
	near(t, "shortest", w.LengthMetre.Low, (0.05-0.025)/0.0401, 1e-6)
	near(t, "longest", w.LengthMetre.High, 0.05/(0.99/58/0.5), 1e-6)
	w = check(0.05, 0, 0.5, 0)
	near(t, "half a metre, within 2 %", w.ExpectedOhm.High, 0.0401*0.51+0.025, 1e-9)

	low, high := check(0.05, 0, 1, 1e-12).ExpectedOhm.Low, check(0.05, 0, 1, 1e-12).ExpectedOhm.High
	const u = 1e-4
	k := CoverageFactor(Coverage, math.Inf(1))
	for _, c := range []struct {
		ohm, u float64
		want   Plausibility
	}{
		{high, 0, Plausible}, {high + 1e-9, 0, TooMuchResistance}, {low, 0, Plausible}, {low - 1e-9, 0, TooLittleResistance},
		{high + 0.99*k*u, u, Plausible}, {high + 1.01*k*u, u, TooMuchResistance},
		{low - 0.99*k*u, u, Plausible}, {low - 1.01*k*u, u, TooLittleResistance},
	} {
		if got := check(c.ohm, c.u, 1, 1e-12).Plausibility; got != c.want {
			t.Errorf("%.9f Ω, u = %g: %s, want %s", c.ohm, c.u, got, c.want)
		}
	}

	// Over 10 km the contacts are nothing; the ratio is told as closely as the length.
	const metre, perMetre = 1e4, CopperOhmMetre / area
	for _, c := range []struct {
		ratio, within float64 // within as a fraction of the length
		want          []Material
	}{
		{1.00, 1e-9, []Material{Copper}}, {1.159, 1e-9, []Material{Copper}}, {1.161, 1e-9, nil}, {0.991, 1e-9, []Material{Copper}}, {0.989, 1e-9, nil},
		{1.449, 1e-9, nil}, {1.451, 1e-9, []Material{CopperCladAluminum}},
		{1.649, 1e-9, []Material{CopperCladAluminum}}, {1.651, 1e-9, nil},
		{1.00, 0.0995, []Material{Copper}}, {1.00, 0.1005, nil},
	} {
		w := check(c.ratio*perMetre*metre, 0, metre, c.within*metre)
		if !slices.Equal(w.ConsistentWith, c.want) {
			t.Errorf("%g times copper within %g: %v, want %v", c.ratio, c.within, w.ConsistentWith, c.want)
		}
	}
	for name, c := range map[string]struct {
		r    Result
		of   Conductor
		area float64
	}{
		"the loop":      {wireResult(Loop, 0.1, 0), Loop, area},
		"nothing there": {wireResult(VBUS, 0.1, 0), Ground, area},
		"no area":       {wireResult(VBUS, 0.1, 0), VBUS, 0},
	} {
		if w, ok := CheckWire(c.r, c.of, c.area, 1, 0); ok {
			t.Errorf("%s: %+v", name, w)
		}
	}
	if _, ok := CheckWire(wireResult(Ground, 0.1, 0), Ground, area, 1, 0); !ok {
		t.Error("ground is not checked")
	}
	// A size is that of the table within a millionth.
	for mm2, want := range map[float64]bool{0.5 * (1 + 9e-7): true, 0.5 * (1 + 1.5e-6): false, 2.5 * (1 - 9e-7): true, 2.5 * (1 - 1.5e-6): false, 0.05 * (1 + 5e-6): false} {
		if got := maxOhmPerMetre(mm2 * 1e-6).Known; got != want {
			t.Errorf("%.9f mm²: listed %t", mm2, got)
		}
	}
}
