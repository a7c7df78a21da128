package bench

import (
	"fmt"
	"math"
)

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
