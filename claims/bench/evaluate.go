package bench

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
)

// Bounds on what a bench for cables can read. They keep a slip of the prefix
// from passing as a result.
const (
	minAmp  = 1e-6
	maxAmp  = 1e3
	maxVolt = 1e3
	minOhm  = 1e-9
	maxOhm  = 1e6
)

// Currents are several, and a line is fitted, when they span more than this
// part of the largest. Less is one setting that wandered.
const severalCurrents = 0.2

var conductors = [...]Conductor{VBUS, Ground, Loop}

// Result is what a session says.
type Result struct {
	Session Session // as given, without an accuracy, length or temperature that was refused

	// Ways are the measurements: each way up that was read, and what the rig printed. A
	// cable has to keep its limits by each of them.
	Ways []Way

	// The estimates, each of the way in which it is largest; nil where not known.
	VBUS, Ground, Loop *Estimate
	// LoopMeasured is the loop by its own readings, nil without any.
	LoopMeasured *Estimate

	Orientations []Orientation // where both ways up were read
	Notes        []Note        // what a reader of the numbers has to know
}

// Way is one measurement of the cable: one way up, or what the rig printed. One
// conductor and the loop give the other conductor by subtraction. Loop is the sum where
// both conductors were measured, else as measured.
type Way struct {
	Flip               Flip      // which way up
	Printed            bool      // whether the rig printed it
	VBUS, Ground, Loop *Estimate // nil where not known
	LoopMeasured       *Estimate // the loop by its own readings, nil without any
	// LoopDisagrees says that the loop as measured is not the sum of its parts; then each
	// of the two counts.
	LoopDisagrees bool
}

// Estimate returns the estimate of c, or nil.
func (w Way) Estimate(c Conductor) *Estimate {
	switch c {
	case VBUS:
		return w.VBUS
	case Ground:
		return w.Ground
	case Loop:
		return w.Loop
	}
	return nil
}

// Orientation holds one conductor both ways up. A cable has to keep the limits
// either way up, so the conductor's estimate is the larger of the two.
type Orientation struct {
	Conductor  Conductor  // the one read both ways up
	Up, Down   Estimate   // flip up, and flip down
	Difference Difference // up minus down
}

// Estimate returns the estimate of c, or nil.
func (r Result) Estimate(c Conductor) *Estimate {
	switch c {
	case VBUS:
		return r.VBUS
	case Ground:
		return r.Ground
	case Loop:
		return r.Loop
	}
	return nil
}

func (r *Result) set(c Conductor, e *Estimate) {
	switch c {
	case VBUS:
		r.VBUS = e
	case Ground:
		r.Ground = e
	case Loop:
		r.Loop = e
	}
}

// ways returns the measurements; of a result written by hand, the one that its estimates
// are.
func (r *Result) ways() []Way {
	if len(r.Ways) == 0 && (r.VBUS != nil || r.Ground != nil || r.Loop != nil) {
		return []Way{{VBUS: r.VBUS, Ground: r.Ground, Loop: r.Loop, LoopMeasured: r.LoopMeasured}}
	}
	return r.Ways
}

// each returns the estimates, and the ways, with what change makes of every estimate. One
// that stands in several places is changed once.
func (r Result) each(change func(*Estimate) Estimate) Result {
	done := map[*Estimate]*Estimate{nil: nil}
	changed := func(e *Estimate) *Estimate {
		if _, ok := done[e]; !ok {
			out := change(e)
			done[e] = &out
		}
		return done[e]
	}
	out := Result{VBUS: changed(r.VBUS), Ground: changed(r.Ground), Loop: changed(r.Loop), LoopMeasured: changed(r.LoopMeasured),
		Ways: slices.Clone(r.Ways)}
	for i := range out.Ways {
		w := &out.Ways[i]
		w.VBUS, w.Ground, w.Loop, w.LoopMeasured = changed(w.VBUS), changed(w.Ground), changed(w.Loop), changed(w.LoopMeasured)
	}
	return out
}

// Disagrees reports whether measurements of one thing disagree beyond their uncertainty:
// the loop and its parts, or what the rig printed and the readings. The worse of them
// counts, and nothing is settled.
func (r Result) Disagrees() bool {
	return slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Kind == LoopDisagrees || n.Kind == PrintedDisagrees })
}

func (r *Result) note(n Note) { r.Notes = append(r.Notes, n) }

// Evaluate returns the resistances of a session with their uncertainty.
//
// Whatever is wrong is in the error, each fault an *Error, joined; the result
// holds what the remaining readings give. The package comment has the model.
func Evaluate(s Session) (Result, error) {
	var r Result
	ev := evaluation{s: s, r: &r, of: new(token)}
	ev.run()
	return r, errors.Join(ev.errs...)
}

type evaluation struct {
	s    Session
	r    *Result
	errs []error
	of   *token

	volt, amp, ohm instrument
	readings       []reading
	nulls          []reading
	currents       []current
	digits         digits
	of3            [3]null // the nulls of VBUS, ground and loop
}

// instrument is what is taken of one instrument.
type instrument struct {
	accuracy *quantity.Accuracy
	assumed  bool
	standard float64 // uncertainty of the calibration
}

// counts reports whether its accuracy includes the display's digit.
func (m *instrument) counts() bool { return m.accuracy.Counts > 0 }

// current is a test current, with what was read at it.
type current struct {
	amp  float64 // the largest, A
	volt float64 // the largest drop, V
}

func (ev *evaluation) fail(list string, index int, field string, err error, want, format string, args ...any) {
	ev.errs = append(ev.errs, &Error{
		List: list, Index: index, Field: field, Err: err, Want: want,
		Wrong: fmt.Sprintf(format, args...),
	})
}

func (ev *evaluation) run() {
	ev.checkMeters()
	ev.readings = ev.check("readings", ev.s.Readings)
	ev.nulls = ev.check("nulls", ev.s.Nulls)
	ev.checkSurroundings()
	ev.r.Session = ev.s
	ev.group()
	ev.digits = digitsOf(ev.readings, ev.nulls)

	var found [len(flips)][3]*Estimate
	for i, c := range conductors {
		ev.of3[i] = ev.nullOf(c)
		for f, e := range ev.conductor(c, &ev.of3[i]) {
			found[f][i] = e
		}
	}
	ev.ways(&found)
	if len(ev.r.Ways) == 0 {
		ev.fail("session", -1, "", ErrNoReadings, "a current and a drop over vbus, ground or the loop", "no usable reading")
		return
	}
	ev.worst()
	ev.remark()
}

// checkMeters drops an accuracy that makes no sense, with an error: it then
// counts as not stated.
func (ev *evaluation) checkMeters() {
	s := &ev.s
	for _, m := range []struct {
		field    string
		a        **quantity.Accuracy
		assume   *quantity.Accuracy
		standard *float64
		into     *instrument
	}{
		{"voltmeter", &s.Voltmeter, s.Assume.Voltmeter, &s.Calibrated.VoltmeterVolt, &ev.volt},
		{"ammeter", &s.Ammeter, s.Assume.Ammeter, &s.Calibrated.AmmeterAmp, &ev.amp},
		{"ohmmeter", &s.Ohmmeter, s.Assume.Ohmmeter, &s.Calibrated.OhmmeterOhm, &ev.ohm},
	} {
		for _, a := range []**quantity.Accuracy{m.a, &m.assume} {
			if *a == nil {
				continue
			}
			fixed, one := (*a).HalfWidth(0), (*a).HalfWidth(1)
			if !(fixed >= 0 && one >= fixed && one < 1e9) {
				ev.fail("session", -1, m.field, ErrAccuracy, "parts that are finite and not negative", "a half-width of %g at 0 and %g at 1", fixed, one)
				*a = nil
			}
		}
		if !(*m.standard >= 0 && *m.standard < 1e9) {
			ev.fail("session", -1, m.field, ErrAccuracy, "a standard uncertainty that is finite and not negative", "a calibration within %g", *m.standard)
			*m.standard = 0
		}
		m.into.standard = *m.standard
		switch {
		case *m.a != nil:
			m.into.accuracy = *m.a
		case m.into.standard > 0:
			m.into.accuracy = &quantity.Accuracy{}
		case m.assume != nil:
			m.into.accuracy, m.into.assumed = m.assume, true
		default:
			m.into.accuracy, m.into.assumed = &AssumedAccuracy, true
		}
	}
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// checkSurroundings leaves out what is no temperature or length.
func (ev *evaluation) checkSurroundings() {
	s := &ev.s
	if t := s.AmbientCelsius; t.Known && !(t.Value >= -60 && t.Value <= 150) || !(s.AmbientWithinKelvin >= 0 && s.AmbientWithinKelvin <= 100) {
		ev.fail("session", -1, "ambient", ErrOutOfRange, "-60 °C to 150 °C, within at most 100 K", "%g °C within %g K", t.Value, s.AmbientWithinKelvin)
		s.AmbientCelsius, s.AmbientWithinKelvin = Number{}, 0
	}
	if t := s.CopperCelsius; t.Known && !(t.Value >= -60 && t.Value <= 150) {
		ev.fail("session", -1, "copper", ErrOutOfRange, "-60 °C to 150 °C", "%g °C", t.Value)
		s.CopperCelsius = Number{}
	}
	if l := s.LengthMetre; l.Known && !(l.Value >= 1e-3 && l.Value <= 1e4) || !(s.LengthWithinMetre >= 0) || l.Known && s.LengthWithinMetre >= l.Value {
		ev.fail("session", -1, "length", ErrOutOfRange, "1 mm to 10 km, known to less than itself", "%g m within %g m", l.Value, s.LengthWithinMetre)
		s.LengthMetre, s.LengthWithinMetre = Number{}, 0
	}
}

// reading is a reading that passed the check, with its place in the list.
type reading struct {
	Reading
	index int
	at    int // its current among the evaluation's; -1 with the current off
}

// wantAmp says which currents count.
func wantAmp() string {
	return fmt.Sprintf("a current between %s and %s, either sign", inAmp(minAmp), inAmp(maxAmp))
}

// check leaves out the readings, and the drops, that make no sense.
func (ev *evaluation) check(list string, readings []Reading) []reading {
	out := make([]reading, 0, len(readings))
	null := list == "nulls"
	for i, r := range readings {
		amp := r.CurrentAmp
		switch {
		case !finite(amp):
			ev.fail(list, i, "current", ErrNotFinite, wantAmp(), "%g", amp)
			continue
		case amp == 0 && !null:
			ev.fail(list, i, "current", ErrZeroCurrent, wantAmp()+"; a drop without current is a null", "0 A")
			continue
		case amp != 0 && math.Abs(amp) < minAmp || math.Abs(amp) > maxAmp:
			ev.fail(list, i, "current", ErrOutOfRange, wantAmp(), "%s", inAmp(amp))
			continue
		}
		if step := max(r.CurrentDigit, r.VBUSDigit, r.GroundDigit, r.LoopDigit); step > maxVolt {
			ev.fail(list, i, "digit", ErrOutOfRange, "a step of a display of at most "+inVolt(maxVolt), "%g", step)
			continue
		}
		any := false
		for _, f := range []struct {
			c Conductor
			n *Number
		}{{VBUS, &r.VBUSVolt}, {Ground, &r.GroundVolt}, {Loop, &r.LoopVolt}} {
			if !f.n.Known {
				continue
			}
			any = true
			v := f.n.Value
			switch {
			case !finite(v):
				ev.fail(list, i, f.c.String(), ErrNotFinite, "a drop of at most "+inVolt(maxVolt), "%g", v)
			case math.Abs(v) > maxVolt:
				ev.fail(list, i, f.c.String(), ErrOutOfRange, "a drop of at most "+inVolt(maxVolt), "%s", inVolt(v))
			case !null && v*amp < 0:
				ev.fail(list, i, f.c.String(), ErrOpposedSign, "a drop with the sign of its current", "%s at %s", inVolt(v), inAmp(amp))
			default:
				continue
			}
			*f.n = Number{}
		}
		if !any {
			ev.fail(list, i, "", ErrNoReadings, "a drop over vbus, ground or the loop", "no drop")
			continue
		}
		r.Flip = r.Flip.known()
		out = append(out, reading{r, i, -1})
	}
	return out
}

// group finds the test currents: the largest first, each with all within severalCurrents of it.
func (ev *evaluation) group() {
	for {
		largest := 0.0
		for _, list := range [2][]reading{ev.readings, ev.nulls} {
			for i := range list {
				if list[i].at < 0 {
					largest = math.Max(largest, math.Abs(list[i].CurrentAmp))
				}
			}
		}
		if largest == 0 {
			return
		}
		g := current{amp: largest}
		for _, list := range [2][]reading{ev.readings, ev.nulls} {
			for i := range list {
				r := &list[i]
				if r.at < 0 && math.Abs(r.CurrentAmp) >= (1-severalCurrents)*largest {
					r.at = len(ev.currents)
					for _, d := range [3]Number{r.VBUSVolt, r.GroundVolt, r.LoopVolt} {
						if d.Known {
							g.volt = math.Max(g.volt, math.Abs(d.Value))
						}
					}
				}
			}
		}
		ev.currents = append(ev.currents, g)
	}
}

// decade tells ranges apart: values within a tenth of the largest are read in one.
func decade(x, largest float64) int8 {
	d := int8(0)
	for x = math.Abs(x); x > 0 && x < largest/10 && d < 100; d++ {
		x *= 10
	}
	return d
}

// digits are the steps of the last digits seen, apart for currents and drops of readings
// and for those of nulls.
type digits [4][]digitsSeen

// digitsSeen is one step, and the magnitudes of the values that were noted to it.
type digitsSeen struct{ step, low, high float64 }

// The lists of digits.
const (
	ofCurrents = iota
	ofDrops
	ofNulls // added to one of the above
)

func digitsOf(readings, nulls []reading) (d digits) {
	for kind, list := range [2][]reading{readings, nulls} {
		for i := range list {
			r := &list[i]
			d.add(ofNulls*kind+ofCurrents, r.CurrentAmp, r.CurrentDigit)
			for _, c := range conductors {
				if v := r.drop(c); v.Known {
					d.add(ofNulls*kind+ofDrops, v.Value, r.digit(c))
				}
			}
		}
	}
	return d
}

func (d *digits) add(kind int, value, step float64) {
	if !(step > 0) || !finite(step) {
		return
	}
	value = math.Abs(value)
	for i := range d[kind] {
		if s := &d[kind][i]; s.step == step {
			s.low, s.high = math.Min(s.low, value), math.Max(s.high, value)
			return
		}
	}
	if len(d[kind]) < 32 { // more is no display
		d[kind] = append(d[kind], digitsSeen{step, value, value})
	}
}

// step returns the finest step seen of values up to ten times apart; 0 where there is none.
func (d *digits) step(kind int, x float64) float64 {
	finest := 0.0
	x = math.Abs(x)
	for _, s := range d[kind] {
		if (finest == 0 || s.step < finest) && s.low <= 10*x && x <= 10*s.high {
			finest = s.step
		}
	}
	return finest
}

// point is one reading of one conductor.
type point struct {
	index  int
	flip   Flip
	mating int
	at     int
	amp    float64
	volt   float64 // as read
}

func (r reading) point(volt float64) point {
	return point{index: r.index, flip: r.Flip, mating: r.Mating, at: r.at, amp: r.CurrentAmp, volt: volt}
}

// conductor evaluates one conductor each way up; the estimates go by Flip, nil where there
// is none.
func (ev *evaluation) conductor(c Conductor, n *null) (out [len(flips)]*Estimate) {
	points := make([]point, 0, len(ev.readings))
	for _, r := range ev.readings {
		if d := r.drop(c); d.Known {
			points = append(points, r.point(d.Value))
		}
	}
	if len(points) == 0 {
		return out
	}
	all := ratios(points, n)
	ev.readingSlips(c, all)
	for _, f := range flips {
		some := points
		if slices.ContainsFunc(points, func(p point) bool { return p.flip != f }) {
			some = make([]point, 0, len(points))
			for _, p := range points {
				if p.flip == f {
					some = append(some, p)
				}
			}
		}
		if len(some) == 0 {
			continue
		}
		e := ev.orientation(c, f, some, all, n)
		switch {
		case !(e.Ohm+e.Expanded >= 0) || !finite(e.Ohm):
			what := fmt.Sprintf("the readings give %s", ohms(e.Ohm, e.Expanded))
			if n.taken {
				what += fmt.Sprintf(", the null of %s taken off", inVolt(n.offset+n.ohm*math.Abs(e.amp)))
			}
			ev.fail("readings", some[0].index, c.String(), ErrNoResistance, "a drop above that of the null at the same current", "%s", what)
			continue
		case e.Ohm > maxOhm:
			ev.fail("readings", some[0].index, c.String(), ErrOutOfRange, "a resistance of at most "+inOhm(maxOhm), "%s", inOhm(e.Ohm))
			continue
		}
		e.Ohm = math.Max(e.Ohm, minOhm)
		out[f] = &e
	}
	if out == ([len(flips)]*Estimate{}) {
		return out
	}
	if !n.taken {
		ev.r.note(Note{NullNotTaken, c, 0, 0, fmt.Sprintf("%s: no null was taken; leads and fixture count as cable", c.Name())})
	} else if amp := points[0].amp; n.amp > 0 && !n.several && math.Abs(n.amp-math.Abs(amp)) > 0.25*math.Abs(amp) {
		ev.r.note(Note{NullAtOtherCurrent, c, n.amp, 0, fmt.Sprintf("%s: the null was taken at %s, the readings at %s; it was scaled", c.Name(), quantity.Format(n.amp, quantity.Current, 3), quantity.Format(math.Abs(amp), quantity.Current, 3))})
	}
	ev.repeats(c, out)
	return out
}

// repeats remarks on what the repeats of one conductor leave open, of the way up with the
// fewest.
func (ev *evaluation) repeats(c Conductor, found [len(flips)]*Estimate) {
	fewest, one := 0.0, false
	for _, e := range found {
		if e == nil {
			continue
		}
		dof := 0.0
		if e.set != nil {
			if _, d, ok := e.set.typeA(e.Flip); ok {
				dof = d
			}
		}
		if fewest == 0 || dof+1 < fewest {
			fewest = dof + 1
		}
		one = one || e.Matings == 1
	}
	switch {
	case fewest == 1:
		ev.r.note(Note{SingleReading, c, 0, 0, fmt.Sprintf("%s: one reading; how far readings and matings scatter is not in the uncertainty", c.Name())})
	case one:
		ev.r.note(Note{FewRepeats, c, 1, 0, fmt.Sprintf("%s: one mating; how far matings scatter is not in the uncertainty", c.Name())})
	case fewest == 2:
		ev.r.note(Note{FewRepeats, c, fewest, 0, fmt.Sprintf("%s: scatter from two repeats; the interval is many times wider for that, and holds the truth 95 to 99 times in 100", c.Name())})
	case fewest > 2 && fewest < 4:
		ev.r.note(Note{FewRepeats, c, fewest, 0, fmt.Sprintf("%s: scatter from three repeats; the interval is twice as wide for that, and holds the truth 94 to 98 times in 100", c.Name())})
	}
}

// ratios returns the resistance by each reading, null taken off.
func ratios(points []point, n *null) *set {
	size := len(points)
	ints := make([]int, 2*size)
	floats := make([]float64, 2*size)
	s := &set{index: ints[:size:size], mating: ints[size:], flip: make([]Flip, size), y: floats[:size:size], amp: floats[size:]}
	for i, p := range points {
		s.index[i], s.flip[i], s.mating[i] = p.index, p.flip, p.mating
		s.y[i] = (p.volt-n.offset)/p.amp - n.ohm
		s.amp[i] = math.Abs(p.amp)
	}
	return s
}

// orientation evaluates one conductor one way up.
func (ev *evaluation) orientation(c Conductor, f Flip, points []point, all *set, n *null) Estimate {
	if several(points) {
		e, curved := ev.slope(c, f, points, n)
		if !curved {
			return e
		}
		// A line means nothing then. What counts is the resistance at the
		// current nearest to use: the largest.
		points = largestCurrent(points)
		all = ratios(points, n)
	}
	return ev.ratio(c, f, points, all, n)
}

func several(points []point) bool {
	lo, hi, largest := points[0].amp, points[0].amp, 0.0
	for _, p := range points {
		lo, hi, largest = math.Min(lo, p.amp), math.Max(hi, p.amp), math.Max(largest, math.Abs(p.amp))
	}
	return hi-lo > severalCurrents*largest
}

func largestCurrent(points []point) []point {
	var largest float64
	for _, p := range points {
		largest = math.Max(largest, math.Abs(p.amp))
	}
	var out []point
	for _, p := range points {
		if math.Abs(p.amp) > (1-severalCurrents/2)*largest {
			out = append(out, p)
		}
	}
	return out
}

// ratio takes the mean of drop over current: of the readings of a mating, then of the matings.
func (ev *evaluation) ratio(c Conductor, f Flip, points []point, all *set, n *null) Estimate {
	e := ev.begin(c, f, Ratio, points)
	e.set = all
	all.work()
	var matings int
	e.Ohm, matings = all.means(f)
	weight := make([]float64, len(points))
	local := make([]float64, len(points))
	perOffset := 0.0
	at := 0 // the point in the set, which has those of other ways up too
	for i, p := range points {
		for all.index[at] != p.index {
			at++
		}
		weight[i] = 1 / p.amp / float64(all.groups[all.of[at]].n*matings)
		local[i] = (p.volt - n.offset) / p.amp
		perOffset += weight[i]
	}
	ev.inputs(&e, points, weight, local, n, n.use(perOffset))
	return e
}

// begin starts an estimate with what the points are.
func (ev *evaluation) begin(c Conductor, f Flip, how How, points []point) Estimate {
	e := Estimate{Conductor: c, How: how, Flip: f, N: len(points), Assumed: ev.volt.assumed || ev.amp.assumed, of: ev.of}
	e.amp, e.volt = means(points)
	if slices.ContainsFunc(points, func(p point) bool { return p.mating != 0 }) {
		seen := map[int]bool{}
		for _, p := range points {
			seen[p.mating] = true
		}
		e.Matings = len(seen)
	}
	return e
}

// means returns the mean magnitudes of current and drop as read.
func means(points []point) (amp, volt float64) {
	n := float64(len(points))
	for _, p := range points {
		amp += math.Abs(p.amp) / n
		volt += math.Abs(p.volt) / n
	}
	return amp, volt
}

// inputs completes an estimate R = Σ weight·V + Σ nulls: how each instrument's error reaches
// it, then what repeats show. local is the resistance dV/dI by which an error of a current
// acts at each point.
func (ev *evaluation) inputs(e *Estimate, points []point, weight, local []float64, n *null, use *nullUse) {
	e.null = use
	acc := collector{ev: ev, rows: make([]Contribution, 0, 8), c: e.Conductor}
	for i, p := range points {
		acc.volt(p, weight[i], false)
		acc.amp(p, weight[i]*local[i], false)
	}
	if use != nil {
		for i, p := range n.points {
			acc.volt(p, use.weight[i], true)
			if p.amp != 0 {
				acc.amp(p, use.weight[i]*n.local(p), true)
			}
		}
	}
	e.Budget = acc.finish()
	e.scatterRows()
	e.settle()
}

// collector gathers the rows of the instruments, one for each input.
type collector struct {
	ev   *evaluation
	rows []Contribution
	of   [16]struct{ u, n float64 } // of the first rows: the sum of standard uncertainties of the input
	c    Conductor
}

// add counts an input's error, of standard uncertainty u at this point, with a weight.
func (a *collector) add(o Origin, s Source, d Distribution, u, weight float64) {
	if u == 0 || weight == 0 {
		return
	}
	o.of = a.ev.of
	at := -1
	for i := range a.rows {
		if a.rows[i].Origin == o {
			at = i
			break
		}
	}
	if at < 0 {
		at = len(a.rows)
		a.rows = append(a.rows, Contribution{Source: s, Type: TypeB, Distribution: d, Origin: o, Unit: sourceTexts[s].unit, DoF: math.Inf(1)})
	}
	r := &a.rows[at]
	r.Sensitivity += weight * u // the effect, until finish
	if at < len(a.of) && (a.of[at].n == 0 || s == r.Source) {
		a.of[at].u += u
		a.of[at].n++
	}
	r.U = math.Max(r.U, u)
}

// finish turns effects into sensitivities to the mean uncertainty of the input.
func (a *collector) finish() []Contribution {
	for i := range a.rows {
		r := &a.rows[i]
		if i < len(a.of) && a.of[i].n > 0 {
			r.U = a.of[i].u / a.of[i].n
		}
		r.Sensitivity /= r.U
	}
	return a.rows
}

// origin returns the input that an instrument's error at a value is.
func (ev *evaluation) origin(s Source, m *instrument, at int, value, largest float64) Origin {
	o := Origin{Source: s}
	if m.accuracy.FullScale > 0 && math.Abs(value) <= m.accuracy.FullScale {
		return o // one stated range
	}
	if at >= 0 {
		o.Amp = ev.currents[at].amp
	} else {
		o.Null = true // with the current off
	}
	o.decade = decade(value, largest)
	return o
}

// stated adds what is stated of an instrument at a value: its accuracy, from a source, and
// its calibration.
func (a *collector) stated(o Origin, source, certificate Source, m *instrument, value, weight float64) {
	a.add(o, source, Rectangular, rectangular(m.accuracy.HalfWidth(value)), weight)
	if m.standard > 0 {
		o.Source = certificate
		a.add(o, certificate, Normal, m.standard, weight)
	}
}

// volt adds the voltmeter's errors in one drop. They follow the sign of the drop.
func (a *collector) volt(p point, weight float64, null bool) {
	ev := a.ev
	largest := math.Abs(p.volt)
	if p.at >= 0 {
		largest = ev.currents[p.at].volt
	}
	o := ev.origin(VoltmeterSpec, &ev.volt, p.at, p.volt, largest)
	source := VoltmeterSpec
	if null {
		source = NullVoltmeter
	}
	signed := math.Copysign(weight, weight*p.volt)
	if p.volt == 0 {
		signed = weight
	}
	a.stated(o, source, VoltmeterCertificate, &ev.volt, p.volt, signed)
	if ev.volt.counts() {
		return
	}
	kind, digit := ofDrops, VoltmeterDigit
	if null {
		kind, digit = ofDrops+ofNulls, NullDigit
	}
	d := Origin{Source: digit, Conductor: a.c, Flip: p.flip, Null: null}
	if p.at >= 0 {
		d.Amp = ev.currents[p.at].amp
	}
	a.add(d, digit, Rectangular, rectangular(ev.digits.step(kind, p.volt)/2), signed)
}

// amp adds the ammeter's errors in one current; weight is in Ω per A.
func (a *collector) amp(p point, weight float64, null bool) {
	ev := a.ev
	g := ev.currents[p.at].amp
	o := ev.origin(AmmeterSpec, &ev.amp, p.at, p.amp, g)
	source := AmmeterSpec
	if null {
		source = NullAmmeter
	}
	signed := -weight
	if p.amp < 0 {
		signed = weight
	}
	a.stated(o, source, AmmeterCertificate, &ev.amp, p.amp, signed)
	if ev.amp.counts() {
		return
	}
	kind := ofCurrents
	if null {
		kind += ofNulls
	}
	a.add(Origin{Source: AmmeterDigit, Amp: g, Null: null}, AmmeterDigit, Rectangular, rectangular(ev.digits.step(kind, p.amp)/2), signed)
}

// slope evaluates several currents. It also says whether the resistance changes
// with the current, beyond what the uncertainty allows.
//
// The slope is linear in the drops, by (I - mean I)/Σ(I - mean I)². An instrument's error
// is common at one current and independent between currents, so it does not cancel.
func (ev *evaluation) slope(c Conductor, f Flip, points []point, n *null) (e Estimate, curved bool) {
	amps, volts := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		amps[i], volts[i] = p.amp, p.volt-n.offset-n.ohm*p.amp
	}
	e = ev.begin(c, f, Slope, points)
	line, ok := fitLine(amps, volts)
	if !ok {
		return e, false
	}
	e.Ohm, e.Line = line.SlopeOhm, &line
	weight := line.weights(amps)
	e.set = &set{index: make([]int, len(points)), flip: make([]Flip, len(points)), mating: make([]int, len(points)),
		y: make([]float64, len(points)), amp: make([]float64, len(points)), sxx: line.sxx, lost: 2}
	local := make([]float64, len(points))
	raw := line.SlopeOhm + n.ohm
	for i, p := range points {
		e.set.index[i], e.set.flip[i], e.set.mating[i], e.set.amp[i] = p.index, f, p.mating, math.Abs(p.amp)
		e.set.y[i] = volts[i] - line.InterceptVolt - line.SlopeOhm*amps[i]
		local[i] = raw
	}
	if s := slopesByMating(points, amps, volts); s != nil {
		var matings int
		e.set = s
		s.work()
		e.Ohm, matings = s.means(f)
		weight = matingWeights(points, amps, matings)
		e.Line = nil
	}
	ev.inputs(&e, points, weight, local, n, n.use(0))
	if !(e.Ohm > 0) || e.Line == nil {
		return e, false
	}

	if rise, ok := ev.curve(&e, points, amps, volts, raw, n); ok && math.Abs(rise.Ohm) > rise.Expanded && math.Abs(rise.Ohm) > 0.01*e.Ohm {
		what := "rises: heating, or a bad contact"
		if rise.Ohm < 0 {
			what = "falls: a film on the contacts, or a bad contact"
		}
		ev.r.note(Note{HeatingOrContact, c, rise.Ohm, rise.Expanded, fmt.Sprintf("%s: the resistance changes by %s from the smallest to the largest current, it %s; the largest current counts", c.Name(), ohms(rise.Ohm, rise.Expanded), what)})
		return e, true
	}
	if off := ev.intercept(&e, points, amps, raw, n); math.Abs(off.Ohm) > off.Expanded {
		ev.r.note(Note{OffsetRemains, c, off.Ohm, off.Expanded, fmt.Sprintf("%s: the line meets zero current at %s: thermal EMF, a null not subtracted, or a resistance that changes with the current; the slope is free of an offset", c.Name(), quantity.FormatUncertain(off.Ohm, off.Expanded, quantity.Voltage))})
	}
	return e, false
}

// curve is the change of resistance from the smallest to the largest current, linear in
// the drops like the slope.
func (ev *evaluation) curve(line *Estimate, points []point, amps, volts []float64, raw float64, n *null) (Estimate, bool) {
	weight, dof, residual, ok := curvature(amps, volts)
	if !ok {
		return Estimate{}, false
	}
	e := Estimate{Conductor: line.Conductor, of: ev.of}
	local := make([]float64, len(points))
	squares := 0.0
	for i := range points {
		e.Ohm += weight[i] * volts[i]
		squares += weight[i] * weight[i]
		local[i] = raw
	}
	if dof > 0 {
		e.Budget = append(e.Budget, Contribution{Source: Repeats, Type: TypeA, Distribution: Normal, U: residual, Unit: "V", Sensitivity: math.Sqrt(squares), DoF: dof})
	}
	own := e.Budget
	ev.inputs(&e, points, weight, local, n, nil)
	e.Budget = append(e.Budget, own...)
	e.settle()
	return e, true
}

// intercept is the drop at zero current, in V, linear in the drops like the slope.
func (ev *evaluation) intercept(line *Estimate, points []point, amps []float64, raw float64, n *null) Estimate {
	l := line.Line
	e := Estimate{Conductor: line.Conductor, of: ev.of, Ohm: l.InterceptVolt}
	slopes := l.weights(amps)
	weight, local := make([]float64, len(points)), make([]float64, len(points))
	for i := range points {
		weight[i] = 1/float64(len(points)) - l.mean*slopes[i]
		local[i] = raw
	}
	use := n.use(0)
	if use != nil {
		for i, a := range n.alpha {
			use.weight[i] = -a
		}
	}
	ev.inputs(&e, points, weight, local, n, use)
	if l.UIntercept > 0 {
		e.Budget = append(e.Budget, Contribution{Source: Repeats, Type: TypeA, Distribution: Normal, U: l.UIntercept, Unit: "V", Sensitivity: 1, DoF: l.DoF})
	}
	e.settle()
	return e
}

// slopesByMating returns one slope for each mating, nil unless there are several matings
// and each has several currents.
func slopesByMating(points []point, amps, volts []float64) *set {
	var order []int
	for _, p := range points {
		if !slices.Contains(order, p.mating) {
			if order = append(order, p.mating); len(order) > 100 {
				return nil
			}
		}
	}
	if len(order) < 2 {
		return nil
	}
	s := &set{}
	for _, m := range order {
		var x, y []float64
		var some []point
		for i, p := range points {
			if p.mating == m {
				x, y, some = append(x, amps[i]), append(y, volts[i]), append(some, p)
			}
		}
		line, ok := fitLine(x, y)
		if !ok || !several(some) {
			return nil
		}
		amp, _ := means(some)
		s.index, s.mating, s.flip = append(s.index, some[0].index), append(s.mating, m), append(s.flip, some[0].flip)
		s.y, s.amp = append(s.y, line.SlopeOhm), append(s.amp, amp)
	}
	return s
}

// matingWeights are those of the mean of the slopes of matings.
func matingWeights(points []point, amps []float64, matings int) []float64 {
	out := make([]float64, len(points))
	done := map[int]bool{}
	for _, first := range points {
		if done[first.mating] {
			continue
		}
		done[first.mating] = true
		var x []float64
		var at []int
		for i, p := range points {
			if p.mating == first.mating {
				x, at = append(x, amps[i]), append(at, i)
			}
		}
		line, _ := fitLine(x, x)
		for i, w := range line.weights(x) {
			out[at[i]] = w / float64(matings)
		}
	}
	return out
}

// printed evaluates a resistance that the rig printed.
func (ev *evaluation) printed(c Conductor) *Estimate {
	p := ev.s.Printed.ohm(c)
	if !p.Known {
		return nil
	}
	switch {
	case !finite(p.Value):
		ev.fail("printed", -1, c.String(), ErrNotFinite, "a resistance of at most "+inOhm(maxOhm), "%g", p.Value)
		return nil
	case p.Value > maxOhm:
		ev.fail("printed", -1, c.String(), ErrOutOfRange, "a resistance of at most "+inOhm(maxOhm), "%s", inOhm(p.Value))
		return nil
	case p.Value < minOhm:
		ev.fail("printed", -1, c.String(), ErrNoResistance, "a resistance above zero", "%s", inOhm(p.Value))
		return nil
	}
	e := Estimate{Conductor: c, How: Read, Ohm: p.Value, N: 1, Assumed: ev.ohm.assumed, of: ev.of}
	largest := 0.0
	for _, n := range [3]Number{ev.s.Printed.VBUSOhm, ev.s.Printed.GroundOhm, ev.s.Printed.LoopOhm} {
		if n.Known && n.Value > largest && n.Value <= maxOhm {
			largest = n.Value
		}
	}
	acc := collector{ev: ev, c: c}
	o := ev.origin(OhmmeterSpec, &ev.ohm, -1, p.Value, largest)
	acc.stated(o, OhmmeterSpec, OhmmeterCertificate, &ev.ohm, p.Value, 1)
	if !ev.ohm.counts() {
		acc.add(Origin{Source: OhmmeterDigit, Conductor: c}, OhmmeterDigit, Rectangular, rectangular(ev.s.Printed.Digit/2), 1)
	}
	e.Budget = acc.finish()
	e.settle()
	return &e
}

// ways makes of the estimates by way up, and of what the rig printed, the measurements.
// A conductor read without a note of the way up belongs to both.
func (ev *evaluation) ways(found *[len(flips)][3]*Estimate) {
	adopted := true
	for i := range conductors {
		if found[FlipUnknown][i] != nil && (found[FlipUp][i] != nil || found[FlipDown][i] != nil) {
			adopted = false // measured a third way
		}
	}
	one := found[FlipUp] != [3]*Estimate{} || found[FlipDown] != [3]*Estimate{}
	for _, f := range flips {
		all := found[f]
		if all == ([3]*Estimate{}) || f == FlipUnknown && one && adopted {
			continue
		}
		if f != FlipUnknown {
			for i := range all {
				if all[i] == nil {
					all[i] = found[FlipUnknown][i]
				}
			}
		}
		ev.r.Ways = append(ev.r.Ways, ev.join(Way{Flip: f, VBUS: all[0], Ground: all[1], Loop: all[2]}))
	}
	read := len(ev.r.Ways)
	p := Way{Printed: true, VBUS: ev.printed(VBUS), Ground: ev.printed(Ground), Loop: ev.printed(Loop)}
	if p.VBUS == nil && p.Ground == nil && p.Loop == nil {
		return
	}
	given := p
	p = ev.join(p)
	for i := range ev.r.Ways[:read] {
		w := &ev.r.Ways[i]
		before := *w
		for j, c := range conductors {
			a, b := before.Estimate(c), given.Estimate(c)
			if c == Loop && before.LoopMeasured == nil && before.Loop != nil && before.Loop.How == Summed && p.Loop != nil {
				b = p.Loop
			}
			if a == nil || b == nil {
				if a == nil && b != nil && c != Loop { // the readings leave it open
					switch j {
					case 0:
						w.VBUS = b
					case 1:
						w.Ground = b
					}
				}
				continue
			}
			if d := Compare(*b, *a); d.Significant {
				ev.r.note(Note{PrintedDisagrees, c, d.Ohm, d.Expanded, fmt.Sprintf("%s: the rig printed %s, the readings give %s; they are %s apart; the larger counts", c.Name(), ohms(b.Ohm, b.Expanded), ohms(a.Ohm, a.Expanded), ohms(math.Abs(d.Ohm), d.Expanded))})
			}
		}
		if w.VBUS != before.VBUS || w.Ground != before.Ground {
			w.Loop = before.LoopMeasured
			if before.LoopMeasured == nil && (before.Loop != nil && before.Loop.How != Summed) {
				w.Loop = before.Loop
			}
			*w = ev.join(*w)
		}
	}
	ev.r.Ways = append(ev.r.Ways, p)
}

// join makes of what was measured one way up what follows from it.
func (ev *evaluation) join(w Way) Way {
	w.LoopMeasured = w.Loop
	switch {
	case w.VBUS != nil && w.Ground != nil:
		s := plus(w.VBUS, w.Ground)
		w.Loop = &s
		if w.LoopMeasured == nil {
			break
		}
		if d := Compare(*w.LoopMeasured, s); d.Significant {
			w.LoopDisagrees = true
			ev.r.note(Note{LoopDisagrees, Loop, d.Ohm, d.Expanded, "loop: the loop as measured is off the sum of the conductors by " + ohms(d.Ohm, d.Expanded)})
		}
	case w.Loop != nil && w.VBUS != nil:
		w.Ground = ev.subtract(w.Loop, w.VBUS, Ground)
	case w.Loop != nil && w.Ground != nil:
		w.VBUS = ev.subtract(w.Loop, w.Ground, VBUS)
	}
	return w
}

func (ev *evaluation) subtract(loop, leg *Estimate, of Conductor) *Estimate {
	e := minus(loop, leg, of)
	if !(e.Ohm+e.Expanded >= 0) {
		ev.fail("readings", -1, of.String(), ErrNoResistance, "a loop above its part", "the loop's %s leave %s beside %s", inOhm(loop.Ohm), inOhm(e.Ohm), leg.Conductor.Name())
		return nil
	}
	e.Ohm = math.Max(e.Ohm, minOhm)
	return &e
}

// worst takes of each conductor the way in which it is largest.
func (ev *evaluation) worst() {
	r := ev.r
	for i := range r.Ways {
		w := &r.Ways[i]
		for _, c := range conductors {
			if e, have := w.Estimate(c), r.Estimate(c); e != nil && (have == nil || e.Ohm > have.Ohm) {
				r.set(c, e)
			}
		}
		if e := w.LoopMeasured; e != nil && (r.LoopMeasured == nil || e.Ohm > r.LoopMeasured.Ohm) {
			r.LoopMeasured = e
		}
	}
}

// usualDifference is how far the two ways up are usually apart: the larger of 5 mΩ and a
// tenth of their mean (common practice).
func usualDifference(up, down float64) float64 { return math.Max(5e-3, (up+down)/2/10) }

// remark adds what concerns the result as a whole.
func (ev *evaluation) remark() {
	r := ev.r
	ev.assumed()
	ev.unitSlips()
	var up, down *Way
	for i := range r.Ways {
		switch r.Ways[i].Flip {
		case FlipUp:
			up = &r.Ways[i]
		case FlipDown:
			down = &r.Ways[i]
		}
	}
	if up != nil && down != nil {
		for _, c := range conductors {
			a, b := up.Estimate(c), down.Estimate(c)
			if a == nil || b == nil || a == b || a.Flip != FlipUp || b.Flip != FlipDown || c == Loop && up.LoopMeasured == nil {
				continue
			}
			o := Orientation{Conductor: c, Up: *a, Down: *b, Difference: Compare(*a, *b)}
			r.Orientations = append(r.Orientations, o)
			// Without a repeat the scatter from mating to mating is not in the uncertainty,
			// and any two readings would differ.
			if d := o.Difference; d.Significant && a.N+b.N > 2 && math.Abs(d.Ohm) > usualDifference(a.Ohm, b.Ohm) {
				r.note(Note{OrientationDiffers, c, d.Ohm, d.Expanded,
					fmt.Sprintf("%s: plug one way %s, other way %s, %s apart; the larger counts", c.Name(), ohms(a.Ohm, a.Expanded), ohms(b.Ohm, b.Expanded), ohms(math.Abs(d.Ohm), d.Expanded))})
			}
		}
	}
	for i := range r.Ways {
		w := &r.Ways[i]
		if w.VBUS == nil || w.Ground == nil || w.Ground.Ohm <= w.VBUS.Ohm {
			continue
		}
		if d := Compare(*w.Ground, *w.VBUS); d.Significant {
			r.note(Note{GroundAboveVBUS, Ground, d.Ohm, d.Expanded, "ground: above VBUS by " + ohms(d.Ohm, d.Expanded) + ", though its limit is half"})
			break
		}
	}
}

// What no cable has over one conductor: less than the contacts alone between Type-C plugs,
// without a null (common practice), or 300 times what a long thin cable has.
const (
	leastCableOhm = 5e-3
	mostCableOhm  = 30.0
)

// unitSlips notes resistances that a slip of the prefix explains.
func (ev *evaluation) unitSlips() {
	r := ev.r
	for i, c := range conductors {
		e := r.Estimate(c)
		if e == nil || e.How == Summed || e.How == Subtracted {
			continue
		}
		least := leastCableOhm
		if c == Loop {
			least *= 2
		}
		switch {
		case e.How != Read && !ev.of3[i].taken && ev.s.Ends[0] < PlugSingle && ev.s.Ends[1] < PlugSingle && e.Ohm+e.Expanded < least:
			r.note(Note{UnitSlip, c, e.Ohm, e.Expanded, fmt.Sprintf("%s: %s is less than the contacts alone have, and no null was taken off; likely µV for mV: then it is %s", c.Name(), ohms(e.Ohm, e.Expanded), ohms(1000*e.Ohm, 1000*e.Expanded))})
		case e.Ohm-e.Expanded > mostCableOhm:
			slip := "V for mV"
			if e.How == Read {
				slip = "Ω for mΩ"
			}
			r.note(Note{UnitSlip, c, e.Ohm, e.Expanded, fmt.Sprintf("%s: %s is more than any cable has; likely %s: then it is %s", c.Name(), ohms(e.Ohm, e.Expanded), slip, ohms(e.Ohm/1000, e.Expanded/1000))})
		}
	}
}

// A reading so many times above or below the median of the others is a slip of the prefix.
const (
	leastSlip = 300
	mostSlip  = 3000
)

// readingSlips notes a reading about 1000 times off the other readings of the session.
func (ev *evaluation) readingSlips(c Conductor, s *set) {
	if len(s.y) < 2 || slices.Max(s.y) < leastSlip*math.Abs(slices.Min(s.y)) {
		return
	}
	sorted := slices.Sorted(slices.Values(s.y))
	for i, y := range s.y {
		middle := sorted[len(sorted)/2]
		if len(sorted) == 2 {
			middle = sorted[0] + sorted[1] - y
		}
		possible := func(ohm float64) bool { return ohm >= leastCableOhm && ohm <= mostCableOhm }
		if possible(y) && !possible(middle) {
			continue // the others slipped
		}
		if f := y / middle; f >= leastSlip && f <= mostSlip || f*leastSlip <= 1 && f*mostSlip >= 1 {
			slip := "V for mV"
			if f < 1 {
				slip = "µV for mV"
			}
			ev.r.note(Note{UnitSlip, c, y, 0, fmt.Sprintf("%s: reading %d gives %s, the others about %s; likely %s", c.Name(), s.index[i]+1, inOhm(y), inOhm(middle), slip)})
		}
	}
}

// assumed notes the accuracies that are assumptions.
func (ev *evaluation) assumed() {
	r := ev.r
	read := len(ev.readings) > 0
	print := ev.s.Printed.VBUSOhm.Known || ev.s.Printed.GroundOhm.Known || ev.s.Printed.LoopOhm.Known
	for _, m := range []struct {
		on   bool
		i    *instrument
		name string
		dim  quantity.Dimension
	}{{read, &ev.volt, "voltmeter", quantity.Voltage}, {read, &ev.amp, "ammeter", quantity.Current}, {print, &ev.ohm, "ohmmeter", quantity.Resistance}} {
		if m.on && m.i.assumed {
			r.note(Note{AccuracyAssumed, 0, 0, 0, fmt.Sprintf("%s: its accuracy is not on record; %s is assumed", m.name, m.i.accuracy.Text(m.dim))})
		}
	}
}

// ohms prints a resistance with its uncertainty; the others print what was read.
func ohms(v, expanded float64) string {
	return quantity.FormatUncertain(v, expanded, quantity.Resistance)
}

func inOhm(v float64) string  { return quantity.Format(v, quantity.Resistance, 6) }
func inVolt(v float64) string { return quantity.Format(v, quantity.Voltage, 6) }
func inAmp(v float64) string  { return quantity.Format(v, quantity.Current, 6) }
