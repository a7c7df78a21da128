package bench

import (
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
)

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
