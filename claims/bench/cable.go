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
	// Decisions are those that were needed, VBUS first. For a loop alone there
	// is one against each bound, the sum of the limits first.
	Decisions []Decision
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
	if d.Decisions[0].Conductor == Loop {
		return d.whyLoop(at)
	}
	var decisive *Decision
	for i := range d.Decisions {
		if one := &d.Decisions[i]; one.Outcome == d.Outcome && one.Outcome != Within {
			decisive = one
			break
		}
	}
	switch {
	case decisive != nil:
		return fmt.Sprintf("%s at %s: %s", decisive.Conductor.Name(), at, decisive.Text())
	case d.Outcome == Within:
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

// DecideCable decides whether a cable keeps both IR-drop limits at a current in
// ampere, positive.
//
// One conductor over is enough for over; within needs both. A loop alone proves
// little, see DecideLoop. A conductor that was neither measured nor follows from
// the loop leaves the cable undecided unless the other one is over.
func DecideCable(r Result, amp float64, rule Rule) CableDecision {
	d := CableDecision{CurrentAmp: amp}
	switch {
	case !possibleAmp(amp):
		return d
	case r.VBUS == nil && r.Ground == nil && r.Loop == nil:
		return d
	case r.VBUS == nil && r.Ground == nil:
		return DecideLoop(*r.Loop, amp, rule)
	}
	d.Decisions = make([]Decision, 0, 2)
	within := 0
	for _, c := range []Conductor{VBUS, Ground} {
		e := r.Estimate(c)
		if e == nil {
			continue
		}
		one := Decide(*e, LimitOhm(c, amp), rule)
		d.Decisions = append(d.Decisions, one)
		switch one.Outcome {
		case Over:
			d.Outcome = Over
		case Within:
			within++
		}
	}
	if within == 2 {
		d.Outcome = Within
	}
	return d
}

// DecideLoop says what a loop measured alone proves at a current in ampere,
// positive. Neither conductor's resistance is negative, so neither exceeds the
// loop: a loop within the ground limit proves both. A loop over the sum of the
// limits proves that one of the two is over. Between, nothing is proved.
func DecideLoop(loop Estimate, amp float64, rule Rule) CableDecision {
	d := CableDecision{CurrentAmp: amp}
	if !possibleAmp(amp) {
		return d
	}
	whole := Decide(loop, LimitOhm(Loop, amp), rule)
	small := Decide(loop, LimitOhm(Ground, amp), rule)
	d.Decisions = []Decision{whole, small}
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
	LowerBound      bool      // of the uncertainty: the interval may be wider
}

// MaxCurrentOf returns the largest current a cable carries within both limits.
// It is not ok when nothing was measured. HighAmp may be +Inf when the
// uncertainty reaches down to no resistance at all.
func MaxCurrentOf(r Result) (m MaxCurrent, ok bool) {
	if r.VBUS == nil && r.Ground == nil {
		if r.Loop == nil {
			return MaxCurrent{}, false
		}
		_, U := r.Loop.expanded()
		return MaxCurrent{
			LowAmp: GroundLimitVolt / (r.Loop.Ohm + U), HighAmp: over(LoopLimitVolt, r.Loop.Ohm-U),
			LimitedBy: Loop, LowerBound: r.Loop.LowerBound,
		}, true
	}
	m = MaxCurrent{LowAmp: math.Inf(1), HighAmp: math.Inf(1)}
	best := math.Inf(1)
	for _, c := range []Conductor{VBUS, Ground} {
		e := r.Estimate(c)
		if e == nil {
			continue
		}
		_, U := e.expanded()
		limit := LimitVolt(c)
		m.LowAmp = math.Min(m.LowAmp, limit/(e.Ohm+U))
		m.HighAmp = math.Min(m.HighAmp, over(limit, e.Ohm-U))
		m.LowerBound = m.LowerBound || e.LowerBound
		if limit/e.Ohm < best {
			best, m.LimitedBy = limit/e.Ohm, c
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
