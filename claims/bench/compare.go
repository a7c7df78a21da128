package bench

import "math"

// Meters says whether two estimates were taken with the same meters.
type Meters uint8

// With the same ammeter its error is common to both and cancels in part.
const (
	OtherMeters Meters = iota // their errors are independent
	SameMeters                // the ammeter's error is common to both
)

// Difference is one resistance less another, judged against its uncertainty.
type Difference struct {
	Ohm      float64 // first minus second
	U        float64 // standard uncertainty, Ω
	K        float64 // coverage factor for Coverage at DoF
	Expanded float64 // K·U, Ω
	DoF      float64 // effective degrees of freedom (Welch-Satterthwaite)
	// LowerBound says that an accuracy was not stated.
	LowerBound bool
	// Significant says that |Ohm| exceeds Expanded. It is never set when the
	// uncertainty is a lower bound: then nothing is shown.
	Significant bool
}

// Compare returns a minus b. It serves flip up against flip down, a session
// against an earlier one, ground against VBUS.
func Compare(a, b Estimate, meters Meters) Difference {
	d := Difference{Ohm: a.Ohm - b.Ohm, LowerBound: a.LowerBound || b.LowerBound}
	if meters == SameMeters && len(a.Budget) > 0 && len(b.Budget) > 0 {
		e := difference(a, b, a.Conductor)
		d.U, d.DoF, d.K = e.U, e.DoF, e.K
	} else {
		d.U, d.DoF = combine([]part{{a.U, a.dof()}, {b.U, b.dof()}})
		d.K = CoverageFactor(Coverage, d.DoF)
	}
	d.Expanded = d.K * d.U
	d.Significant = !d.LowerBound && math.Abs(d.Ohm) > d.Expanded
	return d
}

// dof returns the degrees of freedom; an estimate written by hand may leave
// them out and then has infinitely many.
func (e Estimate) dof() float64 {
	if e.DoF > 0 {
		return e.DoF
	}
	return math.Inf(1)
}

// expanded returns the coverage factor and the expanded uncertainty, also of an
// estimate written by hand with no more than Ohm and U.
func (e Estimate) expanded() (k, expanded float64) {
	k = e.K
	if k == 0 {
		k = CoverageFactor(Coverage, e.dof())
	}
	return k, k * e.U
}

// Change is how one conductor moved between two sessions.
type Change struct {
	Conductor Conductor // the one that moved
	// At20 says that both were first referred to 20 °C, which needs the ambient
	// temperature of both sessions.
	At20 bool
	Difference
}

// Drift compares a later session with an earlier one of the same cable,
// conductor by conductor: wear and dirt raise a resistance, cleaning lowers it.
// The meters are taken as not the same.
func Drift(earlier, later Result) []Change {
	var out []Change
	at20 := earlier.Session.AmbientCelsius.Known && later.Session.AmbientCelsius.Known
	for _, c := range conductors {
		a, b := earlier.Estimate(c), later.Estimate(c)
		if a == nil || b == nil {
			continue
		}
		x, y := *a, *b
		if at20 {
			x, y = x.Warmed(earlier.Session.Ambient(), 20), y.Warmed(later.Session.Ambient(), 20)
		}
		out = append(out, Change{Conductor: c, At20: at20, Difference: Compare(y, x, OtherMeters)})
	}
	return out
}
