package claims

import (
	"math"
	"slices"

	"example.com/gainsay/claims/bench"
)

// BenchReport is what the bench found, in ohms.
type BenchReport struct {
	VBUS      *Resistance   `json:"vbus,omitempty"`
	Ground    *Resistance   `json:"ground,omitempty"`
	Loop      *Resistance   `json:"loop,omitempty"`
	Decisions []LimitResult `json:"decisions"`
	// Carries is the largest current, in A, that keeps both limits, with the ends
	// of its interval. An end that the readings do not give is absent.
	Carries *CurrentRange `json:"carries_a,omitempty"`
}

// Resistance is an estimate in Ω.
type Resistance struct {
	Ohm      float64 `json:"ohm"`
	U        float64 `json:"u"`
	K        float64 `json:"k"`
	Expanded float64 `json:"expanded"`
	// LowerBound: a meter's accuracy is not on record, so the true uncertainty is
	// larger.
	LowerBound bool `json:"lower_bound,omitempty"`
}

// LimitResult is one conductor against its limit at one current.
type LimitResult struct {
	CurrentA  float64 `json:"current_a"`
	Conductor string  `json:"conductor"`
	LimitOhm  float64 `json:"limit_ohm"`
	Outcome   string  `json:"outcome"`
	// ProbabilityWithin is absent where no uncertainty is known.
	ProbabilityWithin *float64 `json:"probability_within,omitempty"`
	Rule              string   `json:"rule"`
}

// CurrentRange is a current in A with its interval.
type CurrentRange struct {
	Low   float64  `json:"low"`             // shown
	Value *float64 `json:"value,omitempty"` // best estimate
	High  *float64 `json:"high,omitempty"`  // not excluded
}

func benchReport(c *Case) *BenchReport {
	if c.Resistance == nil {
		return nil
	}
	r := c.Resistance.Result
	out := &BenchReport{VBUS: resistance(r.VBUS), Ground: resistance(r.Ground), Loop: resistance(r.Loop)}
	for _, amps := range c.currents() {
		d, _ := c.Carries(amps)
		for _, one := range d.Decisions {
			l := LimitResult{CurrentA: amps, Conductor: one.Conductor.String(), LimitOhm: one.LimitOhm,
				Outcome: one.Outcome.String(), Rule: one.Rule.String()}
			if one.ProbabilityWithin.Known {
				l.ProbabilityWithin = &one.ProbabilityWithin.Value
			}
			out.Decisions = append(out.Decisions, l)
		}
	}
	if m, ok := bench.MaxCurrentOf(r); ok {
		out.Carries = &CurrentRange{Low: m.LowAmp}
		if m.Amp.Known {
			out.Carries.Value = &m.Amp.Value
		}
		if !math.IsInf(m.HighAmp, 0) {
			out.Carries.High = &m.HighAmp
		}
	}
	return out
}

func resistance(e *bench.Estimate) *Resistance {
	if e == nil {
		return nil
	}
	return &Resistance{e.Ohm, e.U, e.K, e.Expanded, e.LowerBound}
}

// currents are those the report decides at: 3 A, 5 A, and what the seller
// claims.
func (c *Case) currents() []float64 {
	out := []float64{leastAmps, 5}
	if a, ok := c.Claims.Current.Get(); ok && !slices.Contains(out, a) {
		out = append(out, a)
	}
	slices.Sort(out)
	return out
}
