package bench

import (
	"fmt"
	"math"

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

// current is a test current, with what was read at it.
type current struct {
	amp  float64 // the largest, A
	volt float64 // the largest drop, V
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
