package bench

import (
	"errors"
	"fmt"
	"slices"

	"example.com/gainsay/claims/quantity"
)

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

// ohms prints a resistance with its uncertainty; the others print what was read.
func ohms(v, expanded float64) string {
	return quantity.FormatUncertain(v, expanded, quantity.Resistance)
}

func inOhm(v float64) string { return quantity.Format(v, quantity.Resistance, 6) }

func inVolt(v float64) string { return quantity.Format(v, quantity.Voltage, 6) }

func inAmp(v float64) string { return quantity.Format(v, quantity.Current, 6) }
