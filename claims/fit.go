package claims

import (
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
)

// Fit is whether a cable is shown fit for a voltage and a current.
type Fit uint8

// The outcomes, in the order they are listed.
const (
	ShownFit  Fit = iota // marker and copper both allow it
	Unsettled            // neither forbids it, and one does not show it
	Unfit                // marker or copper forbids it
)

// String names the outcome.
func (f Fit) String() string { return [...]string{"fit", "not settled", "not fit"}[f] }

// FitFor is the one question behind the rating of a report and the choice of cables for a
// load: whether the marker lets a source give a voltage in V and a current in A, and
// whether the copper keeps its limits at that current, and at 3 A where that is more. The
// reasons are those against it, or the copper's where nothing is against it.
func FitFor(marker Support, copper bench.Result, by bench.Acceptance, volts, amps float64) (fit Fit, why []string) {
	object := func(f Fit, reason string) {
		fit = max(fit, f)
		why = append(why, reason)
	}
	switch {
	case volts <= float64(marker.Tier.Volts) && amps <= float64(marker.Tier.Amps):
	case marker.Settled:
		object(Unfit, marker.Why)
	default:
		object(Unsettled, marker.Why)
	}
	d := bench.DecideCable(copper, max(amps, LeastAmps), by)
	switch d.Outcome {
	case bench.Over:
		object(Unfit, say.Capitalised(d.Why())+".")
	case bench.Undecided:
		object(Unsettled, say.Capitalised(d.Why())+".")
	}
	if fit == ShownFit {
		why = []string{say.Capitalised(d.Why()) + "."}
	}
	return fit, why
}

// shownTier is the highest tier for which marker and copper are both shown fit; zero
// where none is.
func (c *Case) shownTier(marker Support) Tier {
	if c.Resistance == nil {
		return Tier{}
	}
	for _, t := range []Tier{tier240, tier100, tier60, tierLegacy} {
		if t == tierLegacy && marker.Tier != tierLegacy {
			continue // a class of its own, for cables without Power Delivery
		}
		if fit, _ := FitFor(marker, c.Resistance.Result, c.Acceptance, float64(t.Volts), float64(t.Amps)); fit == ShownFit {
			return t
		}
	}
	return Tier{}
}
