package bench

import (
	"fmt"

	"example.com/gainsay/claims/quantity"
)

// Rule is how an estimate is held against a limit (ILAC-G8:09/2019, 4.2).
type Rule uint8

// The rules. The zero value is the default.
const (
	// GuardBand is non-binary with w = U: within up to limit - U, over beyond
	// limit + U, undecided between.
	GuardBand Rule = iota
	// SimpleAcceptance is binary with w = 0: within up to the limit, over
	// beyond it. The risk of a wrong decision is up to 50 %.
	SimpleAcceptance
)

// String returns "guard band w = U" or "simple acceptance".
func (r Rule) String() string {
	if r == SimpleAcceptance {
		return "simple acceptance"
	}
	return "guard band w = U"
}

// MarshalText returns the same words as String. It never fails.
func (r Rule) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

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
	Conductor Conductor // the one held against its limit
	Outcome   Outcome   // within, over or undecided
	Rule      Rule      // the one applied
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
	if d.Rule == SimpleAcceptance {
		how = "simple acceptance"
	}
	if d.Assumed {
		how += "; the accuracy of a meter is assumed"
	}
	return text + " (" + how + ")"
}

// Decide holds an estimate against an upper limit in ohm.
func Decide(e Estimate, limitOhm float64, rule Rule) Decision {
	_, U := e.expanded()
	d := Decision{Conductor: e.Conductor, Rule: rule, Estimate: e, LimitOhm: limitOhm, Assumed: e.Assumed}
	if d.Rule == GuardBand {
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
