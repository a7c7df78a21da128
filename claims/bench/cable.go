package bench

import (
	"fmt"
	"math"

	"example.com/gainsay/claims/quantity"
)

// The IR-drop limits: USB Type-C, §4.4.1. Each is over the whole path at the
// cable's rated current, wire and the mated contacts at both ends.
const (
	VBUSLimitVolt   = 0.500 // V over the supply path
	GroundLimitVolt = 0.250 // V over the return path
	// LoopLimitVolt is the sum. It is a limit on neither conductor.
	LoopLimitVolt = VBUSLimitVolt + GroundLimitVolt
)

// LimitVolt returns the drop that c may have, or NaN for no conductor.
func LimitVolt(c Conductor) float64 {
	switch c {
	case VBUS:
		return VBUSLimitVolt
	case Ground:
		return GroundLimitVolt
	case Loop:
		return LoopLimitVolt
	}
	return math.NaN()
}

// LimitOhm returns the largest resistance of c that keeps the limit at a
// current in ampere, positive.
func LimitOhm(c Conductor, amp float64) float64 { return LimitVolt(c) / amp }

// CableDecision is a whole cable held against the IR-drop limits at a current.
type CableDecision struct {
	CurrentAmp float64 // what it is decided at, A
	Outcome    Outcome // of the whole cable
	// Decisions are those that were needed, VBUS first, for each way up or measurement.
	// For a loop alone there is one against each bound, the sum of the limits first.
	Decisions []Decision
	loops     bool // the first decision is about a loop alone
}

// Why says in words what the outcome rests on.
func (d CableDecision) Why() string {
	if len(d.Decisions) == 0 {
		if !possibleAmp(d.CurrentAmp) {
			return "no current to decide at"
		}
		return "no resistance was measured"
	}
	at := quantity.Format(d.CurrentAmp, quantity.Current, 3)
	if d.Decisions[0].Conductor == Loop && d.loops {
		return d.whyLoop(at)
	}
	if one := d.Decisive(); one != nil && one.Outcome != Within {
		return fmt.Sprintf("%s at %s%s: %s", one.Conductor.Name(), at, one.wayText(), one.Text())
	}
	if d.Outcome == Within {
		return "VBUS and ground keep their limits at " + at
	}
	missing := Ground
	if d.Decisions[0].Conductor == Ground {
		missing = VBUS
	}
	return fmt.Sprintf("%s was not measured, and its limit stands by itself", missing.Name())
}

func (d CableDecision) whyLoop(at string) string {
	whole, small := d.Decisions[0], d.Decisions[1]
	for i := 2; i+1 < len(d.Decisions); i += 2 { // each way up
		if d.Decisions[i].Estimate.Ohm > whole.Estimate.Ohm {
			whole, small = d.Decisions[i], d.Decisions[i+1]
		}
	}
	switch d.Outcome {
	case Over:
		return fmt.Sprintf("loop at %s: %s, so VBUS or ground is over its limit", at, whole.Text())
	case Within:
		return fmt.Sprintf("loop at %s: %s, the limit of ground alone, so neither conductor can be over its limit", at, small.Text())
	}
	return fmt.Sprintf("the loop at %s is between the limit of ground, %s, and the sum of both limits, %s: it does not say which conductor has it; sense each conductor",
		at, quantity.Format(small.LimitOhm, quantity.Resistance, 4), quantity.Format(whole.LimitOhm, quantity.Resistance, 4))
}

// possibleAmp tells whether a cable can be decided at a current.
func possibleAmp(amp float64) bool { return amp > 0 && !math.IsInf(amp, 0) }

// Decisive returns the decision that the outcome rests on: the one with the least
// probability of being within among those with the outcome; nil where there is none.
func (d CableDecision) Decisive() *Decision {
	var worst *Decision
	for i := range d.Decisions {
		one := &d.Decisions[i]
		if one.Outcome == d.Outcome && (worst == nil || one.beyond() > worst.beyond()) {
			worst = one
		}
	}
	return worst
}

// beyond is by how much of the limit a resistance is above it.
func (d *Decision) beyond() float64 { return d.Estimate.Ohm/d.LimitOhm - 1 }

// wayText says which way up, where that is known.
func (d *Decision) wayText() string {
	if d.Estimate.Flip == FlipUnknown {
		return ""
	}
	return ", plug " + d.Estimate.Flip.String()
}

// DecideCable decides whether a cable keeps both IR-drop limits at a current in
// ampere, positive, by each way up and measurement; the worst counts.
//
// One conductor over is enough for over; within needs both, each way up that was read. A
// loop alone proves little, see DecideLoop. A conductor that was neither measured nor
// follows from the loop leaves the cable undecided unless the other one is over.
func DecideCable(r Result, amp float64, by Acceptance) CableDecision {
	d := CableDecision{CurrentAmp: amp}
	if !possibleAmp(amp) {
		return d
	}
	ways := r.ways()
	d.Decisions = make([]Decision, 0, 2*len(ways))
	var shown [3]bool
	open := false
	for _, c := range [...]Conductor{VBUS, Ground} {
		for i := range ways {
			e := ways[i].Estimate(c)
			if e == nil || decided(ways[:i], c, e) {
				continue
			}
			one := Decide(*e, by.LimitOhm(c, amp), by)
			d.Decisions = append(d.Decisions, one)
			switch one.Outcome {
			case Over:
				d.Outcome = Over
			case Undecided:
				open = true
			}
			shown[c] = true
		}
	}
	for i := range ways {
		w := &ways[i]
		switch {
		case w.VBUS == nil && w.Ground == nil && w.Loop != nil:
			l := DecideLoop(*w.Loop, amp, by)
			if !shown[VBUS] && !shown[Ground] && len(d.Decisions) == 0 {
				d.loops = true
			}
			if !d.loops && w.Flip == FlipUnknown && l.Outcome != Over {
				continue // read beside the conductors
			}
			d.Decisions = append(d.Decisions, l.Decisions...)
			if l.Outcome == Over {
				d.Outcome = Over
			}
			open = open || l.Outcome != Within
		case w.LoopDisagrees:
			whole := Decide(*w.LoopMeasured, by.LimitOhm(Loop, amp), by)
			d.Decisions = append(d.Decisions, whole)
			if whole.Outcome == Over {
				d.Outcome = Over
			}
			open = open || whole.Outcome != Within
		}
	}
	if d.Outcome != Over && !open && len(d.Decisions) > 0 && (d.loops || shown[VBUS] && shown[Ground]) {
		d.Outcome = Within
	}
	return d
}

// decided reports whether the same estimate was decided for an earlier way.
func decided(ways []Way, c Conductor, e *Estimate) bool {
	for i := range ways {
		if ways[i].Estimate(c) == e {
			return true
		}
	}
	return false
}

// DecideLoop says what a loop measured alone proves at a current in ampere,
// positive. Neither conductor's resistance is negative, so neither exceeds the
// loop: a loop within the ground limit proves both. A loop over the sum of the
// limits proves that one of the two is over. Between, nothing is proved.
func DecideLoop(loop Estimate, amp float64, by Acceptance) CableDecision {
	d := CableDecision{CurrentAmp: amp}
	if !possibleAmp(amp) {
		return d
	}
	whole := Decide(loop, by.LimitOhm(Loop, amp), by)
	small := Decide(loop, by.LimitOhm(Ground, amp), by)
	d.Decisions, d.loops = []Decision{whole, small}, true
	switch {
	case whole.Outcome == Over:
		d.Outcome = Over
	case small.Outcome == Within:
		d.Outcome = Within
	}
	return d
}

// MaxCurrent is the largest current at which a cable keeps both limits.
type MaxCurrent struct {
	// Amp is the best estimate; not known from a loop alone or from one
	// conductor alone.
	Amp Number
	// LowAmp is shown by the guard band, HighAmp is not excluded by it. LowAmp
	// is 0 where nothing is shown.
	LowAmp, HighAmp float64
	LimitedBy       Conductor // the conductor that reaches its limit first
	Assumed         bool      // the accuracy of a meter is an assumption
}

// MaxRatedAmp is the most that any Type-C cable is rated for, in A.
const MaxRatedAmp = 5

// MaxCurrentOf returns the current at which a cable reaches its first limit, with an interval
// by the expanded uncertainty.
// It is not ok when nothing was measured. HighAmp may be +Inf when the
// uncertainty reaches down to no resistance at all.
func MaxCurrentOf(r Result, by Acceptance) (m MaxCurrent, ok bool) {
	if r.VBUS == nil && r.Ground == nil {
		if r.Loop == nil {
			return MaxCurrent{}, false
		}
		m = MaxCurrent{LowAmp: math.Inf(1), HighAmp: math.Inf(1), LimitedBy: Loop}
		for _, w := range r.ways() {
			if w.Loop == nil {
				continue
			}
			_, U := w.Loop.expanded()
			m.LowAmp = math.Min(m.LowAmp, by.mostAmp(Ground, w.Loop.Ohm+U))
			m.HighAmp = math.Min(m.HighAmp, by.mostAmp(Loop, w.Loop.Ohm-U))
			m.Assumed = m.Assumed || w.Loop.Assumed
		}
		return m, true
	}
	m = MaxCurrent{LowAmp: math.Inf(1), HighAmp: math.Inf(1)}
	best := math.Inf(1)
	for _, w := range r.ways() {
		for _, c := range [...]Conductor{VBUS, Ground, Loop} {
			e := w.Estimate(c)
			if c == Loop {
				if !w.LoopDisagrees {
					continue
				}
				e = w.LoopMeasured
			}
			if e == nil {
				continue
			}
			_, U := e.expanded()
			m.LowAmp = math.Min(m.LowAmp, by.mostAmp(c, e.Ohm+U))
			m.HighAmp = math.Min(m.HighAmp, by.mostAmp(c, e.Ohm-U))
			m.Assumed = m.Assumed || e.Assumed
			if most := by.mostAmp(c, e.Ohm); most < best {
				best, m.LimitedBy = most, c
			}
		}
	}
	if r.VBUS == nil || r.Ground == nil {
		m.LowAmp = 0
	} else {
		m.Amp = Known(best)
	}
	return m, true
}

func over(limit, ohm float64) float64 {
	if ohm <= 0 {
		return math.Inf(1)
	}
	return limit / ohm
}
