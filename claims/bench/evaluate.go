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

	// The estimates; nil where not known. One conductor and the loop give the
	// other by subtraction. Loop is the sum where both conductors were
	// measured, else as measured.
	VBUS, Ground, Loop *Estimate
	// LoopMeasured is the loop by its own readings, nil without any.
	LoopMeasured *Estimate

	Orientations []Orientation // where both ways up were read
	Notes        []Note        // what a reader of the numbers has to know
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

func (r *Result) note(n Note) { r.Notes = append(r.Notes, n) }

// Evaluate returns the resistances of a session with their uncertainty.
//
// Whatever is wrong is in the error, each fault an *Error, joined; the result
// holds what the remaining readings give.
//
//   - The resistance is the mean of drop over current, reading by reading; with
//     several currents it is the slope of the line.
//   - The spread of whole results is the type A uncertainty, which makes the
//     correlation of drop and current right by itself (GUM H.2, approach 2).
//   - Each stated accuracy is a rectangular type B contribution (GUM 4.3.7). It
//     does not shrink with repeats.
func Evaluate(s Session) (Result, error) {
	var r Result
	ev := evaluation{s: s, r: &r}
	ev.run()
	return r, errors.Join(ev.errs...)
}

type evaluation struct {
	s    Session
	r    *Result
	errs []error
}

func (ev *evaluation) fail(list string, index int, field string, err error, want, format string, args ...any) {
	ev.errs = append(ev.errs, &Error{
		List: list, Index: index, Field: field, Err: err, Want: want,
		Wrong: fmt.Sprintf(format, args...),
	})
}

func (ev *evaluation) run() {
	ev.checkMeters()
	readings := ev.check("readings", ev.s.Readings)
	nulls := ev.check("nulls", ev.s.Nulls)
	ev.checkSurroundings()
	ev.r.Session = ev.s

	for _, c := range conductors {
		if e := ev.conductor(c, readings, nulls); e != nil {
			ev.r.set(c, e)
		}
	}
	if ev.r.VBUS == nil && ev.r.Ground == nil && ev.r.Loop == nil {
		ev.fail("session", -1, "", ErrNoReadings, "a current and a drop over vbus, ground or the loop", "no usable reading")
		return
	}
	ev.join()
	ev.remark()
}

// checkMeters drops an accuracy that makes no sense, with an error: it then
// counts as not stated.
func (ev *evaluation) checkMeters() {
	for _, m := range []struct {
		field string
		a     **quantity.Accuracy
	}{{"voltmeter", &ev.s.Voltmeter}, {"ammeter", &ev.s.Ammeter}, {"ohmmeter", &ev.s.Ohmmeter}} {
		if *m.a == nil {
			continue
		}
		fixed, one := (*m.a).HalfWidth(0), (*m.a).HalfWidth(1)
		if !(fixed >= 0 && one >= fixed && one < 1e9) {
			ev.fail("session", -1, m.field, ErrAccuracy, "parts that are finite and not negative", "a half-width of %g at 0 and %g at 1", fixed, one)
			*m.a = nil
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
	if l := s.LengthMetre; l.Known && !(l.Value >= 1e-3 && l.Value <= 1e4) || !(s.LengthWithinMetre >= 0) || l.Known && s.LengthWithinMetre >= l.Value {
		ev.fail("session", -1, "length", ErrOutOfRange, "1 mm to 10 km, known to less than itself", "%g m within %g m", l.Value, s.LengthWithinMetre)
		s.LengthMetre, s.LengthWithinMetre = Number{}, 0
	}
}

// reading is a reading that passed the check, with its place in the list.
type reading struct {
	Reading
	index int
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
		out = append(out, reading{r, i})
	}
	return out
}

// point is one reading of one conductor, null subtracted.
type point struct {
	index     int
	flip      Flip
	amp, volt float64
	raw       float64 // drop as read
}

// conductor evaluates one conductor, or returns nil.
func (ev *evaluation) conductor(c Conductor, readings, nulls []reading) *Estimate {
	n := nullOf(c, nulls)
	points := make([]point, 0, len(readings))
	for _, r := range readings {
		d := r.drop(c)
		if !d.Known {
			continue
		}
		p := point{index: r.index, flip: r.Flip.known(), amp: r.CurrentAmp, raw: d.Value}
		p.volt = d.Value - n.offset - n.ohm*r.CurrentAmp
		if p.volt/p.amp < minOhm {
			ev.fail("readings", r.index, c.String(), ErrNoResistance, "a drop above that of the null at the same current", "%s at %s, of which the null is %s", inVolt(d.Value), inAmp(p.amp), inVolt(n.offset+n.ohm*p.amp))
			continue
		}
		points = append(points, p)
	}
	if len(points) == 0 {
		return ev.printed(c, n)
	}
	var byFlip [len(flips)][]point
	if one := points[0].flip; !slices.ContainsFunc(points, func(p point) bool { return p.flip != one }) {
		byFlip[one] = points
	} else {
		for _, p := range points {
			byFlip[p.flip] = append(byFlip[p.flip], p)
		}
	}
	all := &set{index: make([]int, 0, len(points)), flip: make([]Flip, 0, len(points)), ohm: make([]float64, 0, len(points))}
	for _, p := range points {
		all.index = append(all.index, p.index)
		all.flip = append(all.flip, p.flip)
		all.ohm = append(all.ohm, p.volt/p.amp)
	}
	var worst *Estimate
	var found [len(flips)]*Estimate
	for _, f := range flips {
		if len(byFlip[f]) == 0 {
			continue
		}
		e := ev.orientation(c, f, byFlip[f], all, n)
		if !(e.Ohm >= minOhm && e.Ohm <= maxOhm) {
			ev.fail("readings", -1, c.String(), ErrNoResistance, "a drop that grows with the current", "the readings give %s", inOhm(e.Ohm))
			continue
		}
		found[f] = &e
		if worst == nil || e.Ohm > worst.Ohm {
			worst = &e
		}
	}
	if up, down := found[FlipUp], found[FlipDown]; up != nil && down != nil {
		o := Orientation{Conductor: c, Up: *up, Down: *down, Difference: Compare(*up, *down, SameMeters)}
		ev.r.Orientations = append(ev.r.Orientations, o)
		// Without a repeat the scatter from mating to mating is not in the uncertainty,
		// and any two readings would differ.
		if d := o.Difference; d.Significant && up.N+down.N > 2 {
			ev.r.note(Note{OrientationDiffers, c, d.Ohm, d.Expanded,
				fmt.Sprintf("%s: flip up less flip down is %s; the larger counts", c.Name(), ohms(d.Ohm, d.Expanded))})
		}
	}
	if worst == nil {
		return nil
	}
	if !n.taken {
		ev.r.note(Note{NullNotTaken, c, 0, 0, fmt.Sprintf("%s: no null was taken; leads and fixture count as cable", c.Name())})
	} else if n.amp > 0 && math.Abs(n.amp-worst.amp) > 0.25*worst.amp {
		ev.r.note(Note{NullAtOtherCurrent, c, n.amp, 0, fmt.Sprintf("%s: the null was taken at %s, the readings at %s; it was scaled", c.Name(), quantity.Format(n.amp, quantity.Current, 3), quantity.Format(worst.amp, quantity.Current, 3))})
	}
	if worst.N == 1 {
		ev.r.note(Note{SingleReading, c, 0, 0, fmt.Sprintf("%s: one reading; how far readings and matings scatter is not in the uncertainty", c.Name())})
	}
	return worst
}

// orientation evaluates one conductor one way up.
func (ev *evaluation) orientation(c Conductor, f Flip, points []point, all *set, n null) Estimate {
	if several(points) {
		e, curved := ev.slope(c, points, n)
		if !curved {
			return e
		}
		// A line means nothing then. What counts is the resistance at the
		// current nearest to use: the largest.
		points = largestCurrent(points)
		one := &set{}
		for _, p := range points {
			one.index = append(one.index, p.index)
			one.flip = append(one.flip, f)
			one.ohm = append(one.ohm, p.volt/p.amp)
		}
		all = one
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

func (ev *evaluation) ratio(c Conductor, f Flip, points []point, all *set, n null) Estimate {
	chosen := *all
	chosen.chosen = f
	e := Estimate{Conductor: c, How: Ratio, N: len(points), set: &chosen, LowerBound: ev.s.Voltmeter == nil || ev.s.Ammeter == nil}
	e.Ohm, _ = chosen.mean(f)
	e.amp, e.volt = means(points)
	e.Budget = make([]Contribution, 0, 6)
	if u, dof, ok := chosen.typeA(); ok {
		e.Budget = append(e.Budget, contribution(Repeats, TypeA, u, 1, dof))
	}
	if m := ev.s.Voltmeter; m != nil {
		e.Budget = append(e.Budget, contribution(VoltmeterSpec, TypeB, rectangular(m.HalfWidth(e.volt)), 1/e.amp, math.Inf(1)))
	}
	if m := ev.s.Ammeter; m != nil {
		e.Budget = append(e.Budget, contribution(AmmeterSpec, TypeB, rectangular(m.HalfWidth(e.amp)), -e.Ohm/e.amp, math.Inf(1)))
	}
	e.Budget = append(e.Budget, n.contributions(e.amp, ev.s.Voltmeter, true)...)
	e.settle()
	return e
}

// means returns the mean magnitudes of current and drop as read.
func means(points []point) (amp, volt float64) {
	n := float64(len(points))
	for _, p := range points {
		amp += math.Abs(p.amp) / n
		volt += math.Abs(p.raw) / n
	}
	return amp, volt
}

// slope evaluates several currents. It also says whether the resistance changes
// with the current, beyond what the uncertainty allows.
//
// A gain error moves the slope in proportion. The rest of a specification may
// differ from point to point; it is taken as independent at the two ends of the
// span, which no number of points makes smaller.
func (ev *evaluation) slope(c Conductor, points []point, n null) (e Estimate, curved bool) {
	var amps, volts []float64
	for _, p := range points {
		amps = append(amps, p.amp)
		volts = append(volts, p.volt)
	}
	line, ok := fitLine(amps, volts)
	e = Estimate{Conductor: c, How: Slope, N: len(points), LowerBound: ev.s.Voltmeter == nil || ev.s.Ammeter == nil}
	if !ok {
		return e, false
	}
	e.Ohm, e.Line = line.SlopeOhm, &line
	e.amp, e.volt = means(points)
	if line.USlope > 0 {
		e.Budget = append(e.Budget, contribution(Repeats, TypeA, line.USlope, 1, line.DoF))
	}
	fixedVolt, fixedAmp := 0.0, 0.0
	if m := ev.s.Voltmeter; m != nil {
		fixedVolt = m.HalfWidth(0)
		a := m.HalfWidth(line.SlopeOhm*line.SpanAmp) + (math.Sqrt2-1)*fixedVolt
		e.Budget = append(e.Budget, contribution(VoltmeterSpec, TypeB, rectangular(a), 1/line.SpanAmp, math.Inf(1)))
	}
	if m := ev.s.Ammeter; m != nil {
		fixedAmp = m.HalfWidth(0)
		a := m.HalfWidth(line.SpanAmp) + (math.Sqrt2-1)*fixedAmp
		e.Budget = append(e.Budget, contribution(AmmeterSpec, TypeB, rectangular(a), -e.Ohm/line.SpanAmp, math.Inf(1)))
	}
	e.Budget = append(e.Budget, n.contributions(e.amp, ev.s.Voltmeter, false)...)
	e.settle()
	if !(e.Ohm > 0) {
		return e, false
	}

	// What a point may be off by, other than by gain, in volt.
	uPoint := math.Hypot(rectangular(fixedVolt), e.Ohm*rectangular(fixedAmp))
	if rise, U, ok := curvature(amps, volts, uPoint); ok && !e.LowerBound && math.Abs(rise) > U && math.Abs(rise) > 0.01*e.Ohm {
		what := "rises: heating, or a bad contact"
		if rise < 0 {
			what = "falls: a film on the contacts, or a bad contact"
		}
		ev.r.note(Note{HeatingOrContact, c, rise, U, fmt.Sprintf("%s: the resistance changes by %s from the smallest to the largest current, it %s; the largest current counts", c.Name(), ohms(rise, U), what)})
		return e, true
	}
	parts := []part{{line.UIntercept, math.Max(line.DoF, 1)}, {uPoint, math.Inf(1)}, {n.uOffset, math.Max(n.dofOffset, 1)}}
	u, dof := combine(parts)
	U := CoverageFactor(Coverage, dof) * u
	if !e.LowerBound && math.Abs(line.InterceptVolt) > U {
		ev.r.note(Note{OffsetRemains, c, line.InterceptVolt, U, fmt.Sprintf("%s: the line meets zero current at %s: thermal EMF, a null not subtracted, or a resistance that changes with the current; the slope is free of an offset", c.Name(), quantity.FormatUncertain(line.InterceptVolt, U, quantity.Voltage))})
	}
	return e, false
}

// printed evaluates a resistance that the rig printed.
func (ev *evaluation) printed(c Conductor, n null) *Estimate {
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
	}
	e := Estimate{Conductor: c, How: Read, Ohm: p.Value - n.ohm, N: 1, LowerBound: ev.s.Ohmmeter == nil}
	if e.Ohm < minOhm {
		ev.fail("printed", -1, c.String(), ErrNoResistance, "a resistance above that of the null", "%s, of which the null is %s", inOhm(p.Value), inOhm(n.ohm))
		return nil
	}
	if m := ev.s.Ohmmeter; m != nil {
		e.Budget = append(e.Budget, contribution(OhmmeterSpec, TypeB, rectangular(m.HalfWidth(p.Value)), 1, math.Inf(1)))
	}
	if n.amp > 0 {
		e.Budget = append(e.Budget, n.contributions(n.amp, ev.s.Voltmeter, false)...)
	}
	e.settle()
	return &e
}

// join makes of what was measured what follows from it.
func (ev *evaluation) join() {
	r := ev.r
	r.LoopMeasured = r.Loop
	switch {
	case r.VBUS != nil && r.Ground != nil:
		s := sum(*r.VBUS, *r.Ground)
		r.Loop = &s
		if r.LoopMeasured == nil {
			return
		}
		d := Compare(*r.LoopMeasured, s, SameMeters)
		if d.Significant {
			r.note(Note{LoopDisagrees, Loop, d.Ohm, d.Expanded, "loop: the loop as measured is off the sum of the conductors by " + ohms(d.Ohm, d.Expanded)})
		}
	case r.Loop != nil && r.VBUS != nil:
		r.Ground = ev.subtract(*r.VBUS, Ground)
	case r.Loop != nil && r.Ground != nil:
		r.VBUS = ev.subtract(*r.Ground, VBUS)
	}
}

func (ev *evaluation) subtract(leg Estimate, of Conductor) *Estimate {
	e := difference(*ev.r.Loop, leg, of)
	if e.Ohm < minOhm {
		ev.fail("readings", -1, of.String(), ErrNoResistance, "a loop above its part", "the loop's %s leave %s beside %s", inOhm(ev.r.Loop.Ohm), inOhm(e.Ohm), leg.Conductor.Name())
		return nil
	}
	return &e
}

// remark adds what concerns the result as a whole.
func (ev *evaluation) remark() {
	r := ev.r
	for _, c := range conductors {
		if e := r.Estimate(c); e != nil && e.LowerBound && e.How != Summed && e.How != Subtracted {
			r.note(Note{AccuracyNotStated, c, 0, 0, fmt.Sprintf("%s: a meter's accuracy is not stated; the uncertainty is a lower bound", c.Name())})
		}
	}
	if r.VBUS != nil && r.Ground != nil && r.Ground.Ohm > r.VBUS.Ohm {
		if d := Compare(*r.Ground, *r.VBUS, SameMeters); d.Significant {
			r.note(Note{GroundAboveVBUS, Ground, d.Ohm, d.Expanded, "ground: above VBUS by " + ohms(d.Ohm, d.Expanded) + ", though its limit is half"})
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
