package claims

import (
	"math"
	"slices"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// BenchReport is what the bench found, in SI units.
type BenchReport struct {
	VBUS      *Resistance   `json:"vbus,omitempty"`   // of the supply path; absent where not known, like the next two
	Ground    *Resistance   `json:"ground,omitempty"` // of the return path
	Loop      *Resistance   `json:"loop,omitempty"`   // there and back, as measured or summed
	Decisions []LimitResult `json:"decisions"`        // at 3 A, 5 A and what the seller claims; for NewBenchReport, at the currents given
	// Carries is the largest current, in A, that keeps both limits, with the ends
	// of its interval. An end that the readings do not give is absent.
	Carries *CurrentRange `json:"carries_a,omitempty"`
	// Load is the cable at the current of its rating; absent without one.
	Load *Load `json:"load,omitempty"`
	// Wires are the solid copper wires that would have these resistances; absent
	// without a length.
	Wires []string `json:"wires,omitempty"`
	Notes []Note   `json:"notes,omitempty"` // what a reader of the numbers has to know
	// Settle says what would decide the limits that are not decided.
	Settle []string `json:"settle,omitempty"`
}

// Resistance is an estimate in Ω.
type Resistance struct {
	Ohm      float64 `json:"ohm"`      // best estimate, Ω
	U        float64 `json:"u"`        // standard uncertainty, Ω
	K        float64 `json:"k"`        // coverage factor for 95.45 %
	Expanded float64 `json:"expanded"` // K times U, Ω
	// Assumed: the accuracy of a meter is an assumption, since none is on record.
	Assumed bool   `json:"assumed,omitempty"`
	Flip    string `json:"flip,omitempty"` // the way up it is of, up or down; absent where not noted
	How     string `json:"how,omitempty"`  // ratio, slope, printed, summed or subtracted, as bench.How
	// DoF are the effective degrees of freedom, absent where they are infinite.
	DoF    *float64       `json:"degrees_of_freedom,omitempty"`
	Budget []Contribution `json:"budget,omitempty"` // the parts of U, the largest first
}

// Contribution is one line of an uncertainty budget.
type Contribution struct {
	From string `json:"from"` // the input, as bench.Contribution.From
	Type string `json:"type"` // A from the spread of repeats, B from a stated accuracy (GUM 4.2, 4.3)
	// Distribution is normal or rectangular.
	Distribution string  `json:"distribution"`
	U            float64 `json:"u"`           // standard uncertainty of the input, in Unit
	Unit         string  `json:"unit"`        // V, A, Ω or K
	Sensitivity  float64 `json:"sensitivity"` // Ω per Unit, signed
	Ohm          float64 `json:"ohm"`         // |Sensitivity| times U: standard uncertainty that it adds, Ω
	Share        float64 `json:"share"`       // of the variance, 0 to 1
	// DoF are the degrees of freedom of the input, absent where they are infinite.
	DoF    *float64 `json:"degrees_of_freedom,omitempty"`
	Advice string   `json:"advice,omitempty"` // what would make it smaller
}

// LimitResult is one conductor against its limit at one current.
type LimitResult struct {
	CurrentA  float64 `json:"current_a"`      // where it is decided, A
	Conductor string  `json:"conductor"`      // vbus, ground or loop
	Flip      string  `json:"flip,omitempty"` // the way up it is of, up or down; absent where not noted
	LimitOhm  float64 `json:"limit_ohm"`      // most that keeps the limit at this current, Ω
	Outcome   string  `json:"outcome"`        // within, over or undecided
	// ProbabilityWithin is absent where no uncertainty is known.
	ProbabilityWithin *float64 `json:"probability_within,omitempty"`
	Rule              string   `json:"rule"`              // how it was decided, as bench.Acceptance
	Assumed           bool     `json:"assumed,omitempty"` // the accuracy of a meter is an assumption
}

// CurrentRange is a current in A with its interval.
type CurrentRange struct {
	Low   float64  `json:"low"`             // shown
	Value *float64 `json:"value,omitempty"` // best estimate
	High  *float64 `json:"high,omitempty"`  // not excluded
}

// Load is a cable in use.
type Load struct {
	CurrentA float64 `json:"current_a"` // that flows, A
	SourceV  float64 `json:"source_v"`  // at the source, V
	FarEndV  float64 `json:"far_end_v"` // left at the far end, V
	HeatW    float64 `json:"heat_w"`    // in both conductors, W
	// HeatWPerM is absent without a length.
	HeatWPerM *float64 `json:"heat_w_per_m,omitempty"`
	// Warm is the outcome with the copper RiseK warmer.
	RiseK float64 `json:"rise_k"`
	Warm  string  `json:"warm"` // within, over or undecided
}

// Note is something a reader of the numbers has to know.
type Note struct {
	Kind string `json:"kind"` // a phrase in kebab-case, as bench.NoteKind
	Says string `json:"says"` // one sentence with its numbers
}

// NewBenchReport gives the published form of a result, decided at the given
// currents, in A.
func NewBenchReport(r bench.Result, by bench.Acceptance, currents ...float64) *BenchReport {
	decisions := make([]bench.CableDecision, len(currents))
	for i, amps := range currents {
		decisions[i] = bench.DecideCable(r, amps, by)
	}
	return newBenchReport(&r, wires(r), decisions, by)
}

func newBenchReport(r *bench.Result, wires []bench.Wire, decisions []bench.CableDecision, by bench.Acceptance) *BenchReport {
	out := &BenchReport{VBUS: resistance(r.VBUS), Ground: resistance(r.Ground), Loop: resistance(r.Loop),
		Decisions: make([]LimitResult, 0, 2*len(decisions))}
	for _, d := range decisions {
		for i := range d.Decisions {
			one := &d.Decisions[i]
			l := LimitResult{CurrentA: d.CurrentAmp, Conductor: one.Conductor.String(), LimitOhm: quantity.Figures(one.LimitOhm),
				Outcome: one.Outcome.String(), Rule: one.Acceptance.String(), Flip: flipText(one.Estimate.Flip), Assumed: one.Assumed}
			if p := one.ProbabilityWithin(); p.Known {
				l.ProbabilityWithin = figuresOf(p.Value)
			}
			out.Decisions = append(out.Decisions, l)
		}
		for _, o := range bench.Settle(*r, d) {
			out.Settle = appendNew(out.Settle, o.Text)
		}
	}
	if m, ok := bench.MaxCurrentOf(*r, by); ok {
		out.Carries = &CurrentRange{Low: quantity.Figures(m.LowAmp)}
		if m.Amp.Known {
			out.Carries.Value = figuresOf(m.Amp.Value)
		}
		if !math.IsInf(m.HighAmp, 0) {
			out.Carries.High = figuresOf(m.HighAmp)
		}
	}
	for _, w := range wires {
		out.Wires = append(out.Wires, w.Text())
	}
	for _, n := range r.Notes {
		out.Notes = append(out.Notes, Note{n.Kind.String(), n.Text})
	}
	return out
}

// wires are those that VBUS and ground are like.
func wires(r bench.Result) []bench.Wire {
	var out []bench.Wire
	for _, c := range []bench.Conductor{bench.VBUS, bench.Ground} {
		if w, ok := bench.WireOf(r, c); ok {
			out = append(out, w)
		}
	}
	return out
}

func figuresOf(v float64) *float64 {
	v = quantity.Figures(v)
	return &v
}

func resistance(e *bench.Estimate) *Resistance {
	if e == nil {
		return nil
	}
	out := &Resistance{Ohm: quantity.Figures(e.Ohm), U: quantity.Figures(e.U), K: quantity.Figures(e.K), Expanded: quantity.Figures(e.Expanded), Assumed: e.Assumed, Flip: flipText(e.Flip), How: e.How.String()}
	if !math.IsInf(e.DoF, 0) {
		out.DoF = figuresOf(e.DoF)
	}
	out.Budget = make([]Contribution, 0, len(e.Budget))
	for _, c := range e.Budget {
		one := Contribution{From: c.From(), Type: c.Type.String(),
			Distribution: c.Distribution.String(), U: quantity.Figures(c.U), Unit: c.Unit, Sensitivity: quantity.Figures(c.Sensitivity),
			Ohm: quantity.Figures(c.Ohm), Share: quantity.Figures(c.Share), Advice: c.Advice}
		if !math.IsInf(c.DoF, 0) {
			one.DoF = figuresOf(c.DoF)
		}
		out.Budget = append(out.Budget, one)
	}
	return out
}

// flipText is the way up, empty where it was not noted.
func flipText(f bench.Flip) string {
	if f == bench.FlipUnknown {
		return ""
	}
	return f.String()
}

// NewLoad gives what becomes of a cable at a source voltage in V and a current in
// A. It is nil without the loop's resistance.
func NewLoad(r bench.Result, by bench.Acceptance, volts, amps float64) *Load {
	return newLoad(r, r.Warm(amps), by, volts, amps)
}

func newLoad(r, warm bench.Result, by bench.Acceptance, volts, amps float64) *Load {
	h, ok := bench.HeatAt(r, amps)
	if !ok {
		return nil
	}
	out := &Load{CurrentA: amps, SourceV: volts, FarEndV: quantity.Figures(bench.FarEndVolt(volts, amps, r.Loop.Ohm)), HeatW: quantity.Figures(h.Watt),
		RiseK: bench.RiseKelvin, Warm: bench.DecideCable(warm, amps, by).Outcome.String()}
	if h.WattPerMetre.Known {
		out.HeatWPerM = figuresOf(h.WattPerMetre.Value)
	}
	return out
}

func benchReport(c *Case, rated Rating) *BenchReport {
	if c.Resistance == nil {
		return nil
	}
	var decisions []bench.CableDecision
	for _, amps := range c.currents() {
		d, _ := c.Carries(amps)
		decisions = append(decisions, d)
	}
	out := newBenchReport(&c.Resistance.Result, c.Wires(), decisions, c.Acceptance)
	if rated.CurrentA > 0 {
		out.Load = newLoad(c.Resistance.Result, c.Risen(float64(rated.CurrentA)), c.Acceptance, float64(rated.VoltageV), float64(rated.CurrentA))
	}
	return out
}

// currents are those the report decides at: 3 A, 5 A, and what the seller
// claims.
func (c *Case) currents() []float64 {
	out := []float64{LeastAmps, 5}
	if a, ok := c.Claims.Current.Get(); ok && !slices.Contains(out, a) {
		out = append(out, a)
	}
	slices.Sort(out)
	return out
}
