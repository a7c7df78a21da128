package bench

import (
	"fmt"
	"math"

	"example.com/gainsay/claims/quantity"
)

// Acceptance is the policy by which estimates are held against limits, to be agreed before
// measuring (ILAC-G8:09/2019, 4.2). The zero value is non-binary with a guard band w = U,
// against the published limits: within up to limit - U, over beyond limit + U, undecided
// between. Acceptances can be compared with ==.
type Acceptance struct {
	// Simple is binary with w = 0: within up to the limit, over beyond it. The risk of a
	// wrong decision is up to 50 %.
	Simple bool
	// Risk, between 0 and 0.5, is the probability of a wrong decision that is taken: within
	// where the resistance is above the limit with at most this probability, over where it is
	// below with at most this (JCGM 106, 8.3.2). 0 for w = U. Simple goes before it.
	Risk float64
	// Limits are a lab's own, beside the published ones.
	Limits Limits
}

// Limits are the largest resistances in Ω that a lab allows, at any current; the published
// limits hold beside them, so that the stricter counts. 0 for none.
type Limits struct {
	VBUSOhm   float64 // over the supply path, Ω
	GroundOhm float64 // over the return path, Ω
}

// LimitOhm returns the largest resistance of c that is allowed at a current in ampere,
// positive: by the published drop, or by the lab's own limit where that is stricter. That of
// the loop is the sum.
func (a Acceptance) LimitOhm(c Conductor, amp float64) float64 {
	own := 0.0
	switch c {
	case VBUS:
		own = a.Limits.VBUSOhm
	case Ground:
		own = a.Limits.GroundOhm
	case Loop:
		return a.LimitOhm(VBUS, amp) + a.LimitOhm(Ground, amp)
	}
	if limit := LimitOhm(c, amp); own == 0 || limit < own {
		return limit
	}
	return own
}

// mostAmp is the current at which a resistance reaches the limit of c; 0 where the lab's own
// limit does not allow it at any current, infinite for no resistance.
func (a Acceptance) mostAmp(c Conductor, ohm float64) float64 {
	if c != Loop {
		if own := a.LimitOhm(c, math.SmallestNonzeroFloat64); ohm > own {
			return 0
		}
		return over(LimitVolt(c), ohm)
	}
	if a.Limits == (Limits{}) {
		return over(LoopLimitVolt, ohm)
	}
	// The sum of the limits falls with the current.
	lo, hi := 0.0, over(LoopLimitVolt, ohm)
	for range 60 {
		if mid := (lo + hi) / 2; a.LimitOhm(Loop, mid) >= ohm {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// String returns "guard band w = U", "guard band for a risk of 5 %" or "simple acceptance".
func (a Acceptance) String() string {
	switch {
	case a.Simple:
		return "simple acceptance"
	case a.Risk > 0:
		return fmt.Sprintf("guard band for a risk of %g %%", quantity.Figures(100*a.Risk))
	}
	return "guard band w = U"
}

// MarshalText returns the same words as String. It never fails.
func (a Acceptance) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// Outcome is what a decision comes to. The zero value is Undecided.
type Outcome uint8

// The outcomes.
const (
	Undecided Outcome = iota // the uncertainty reaches over the limit
	Within                   // shown to keep the limit
	Over                     // shown to exceed the limit
)

// String returns "within", "over" or "undecided".
func (o Outcome) String() string {
	switch o {
	case Within:
		return "within"
	case Over:
		return "over"
	}
	return "undecided"
}

// MarshalText returns the same word as String. It never fails.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Decision holds one estimate against one upper limit.
type Decision struct {
	Conductor  Conductor  // the one held against its limit
	Outcome    Outcome    // within, over or undecided
	Acceptance Acceptance // the one applied
	// Assumed says that the accuracy of a meter is an assumption.
	Assumed   bool
	Estimate  Estimate // as it was held against the limit
	LimitOhm  float64  // the upper limit, Ω
	GuardBand float64  // w, ohm
}

// ProbabilityWithin is the probability of conformity, P(R ≤ limit), by the distribution
// that gives the expanded uncertainty (JCGM 106, 7.3). Not known without an uncertainty.
func (d Decision) ProbabilityWithin() Number {
	if d.Estimate.U == 0 {
		return Number{}
	}
	return Known(d.Estimate.probability(d.LimitOhm))
}

// Text says in words what was decided and how.
func (d Decision) Text() string {
	k, U := d.Estimate.expanded()
	text := quantity.FormatUncertain(d.Estimate.Ohm, U, quantity.Resistance)
	switch d.Outcome {
	case Within:
		text += " is within "
	case Over:
		text += " is over "
	default:
		text += " is not decided against "
	}
	text += quantity.Format(d.LimitOhm, quantity.Resistance, 4)
	how := fmt.Sprintf("k = %.2f", k)
	if d.Acceptance.Simple {
		how = "simple acceptance"
	}
	if d.Assumed {
		how += "; the accuracy of a meter is assumed"
	}
	return text + " (" + how + ")"
}

// Decide holds an estimate against an upper limit in ohm.
func Decide(e Estimate, limitOhm float64, by Acceptance) Decision {
	_, U := e.expanded()
	d := Decision{Conductor: e.Conductor, Acceptance: by, Estimate: e, LimitOhm: limitOhm, Assumed: e.Assumed}
	switch {
	case by.Simple || e.U == 0:
	case by.Risk > 0:
		d.GuardBand = e.guardBand(by.Risk)
	default:
		d.GuardBand = U
	}
	switch {
	case e.Ohm <= limitOhm-d.GuardBand:
		d.Outcome = Within
	case e.Ohm > limitOhm+d.GuardBand:
		d.Outcome = Over
	}
	return d
}

// guardBand is the distance from the limit at which the probability of being on its other
// side is the risk.
func (e *Estimate) guardBand(risk float64) float64 {
	lo, hi := 0.0, e.U
	for e.probability(e.Ohm-hi) > risk && hi < 1e6*e.U {
		hi *= 2
	}
	for range 60 {
		if mid := (lo + hi) / 2; e.probability(e.Ohm-mid) > risk {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
