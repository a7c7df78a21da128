package bench

import "math"

// Difference is one resistance less another, judged against its uncertainty.
type Difference struct {
	Ohm      float64 // first minus second
	U        float64 // standard uncertainty, Ω
	K        float64 // coverage factor for Coverage at DoF
	Expanded float64 // K·U, Ω
	DoF      float64 // effective degrees of freedom (Welch-Satterthwaite)
	// Assumed says that the accuracy of a meter is an assumption.
	Assumed bool
	// Significant says that |Ohm| exceeds Expanded.
	Significant bool
}

// Compare returns a minus b. It serves one way up against the other, a session
// against an earlier one, ground against VBUS. What both have in common cancels; between
// two sessions that is nothing.
func Compare(a, b Estimate) Difference {
	e := linear(1, &a, -1, &b)
	e.settle()
	return Difference{Ohm: e.Ohm, U: e.U, K: e.K, Expanded: e.Expanded, DoF: e.DoF, Assumed: e.Assumed,
		Significant: math.Abs(e.Ohm) > e.Expanded && e.U > 0}
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
func (e *Estimate) expanded() (k, expanded float64) {
	if e.Expanded > 0 {
		return e.K, e.Expanded
	}
	k = e.K
	if k == 0 {
		k = CoverageFactor(Coverage, e.dof())
	}
	return k, k * e.U
}

// probability returns the probability that the resistance is at most ohm.
func (e *Estimate) probability(ohm float64) float64 {
	s := e.dist
	if s.u == 0 && e.U > 0 { // written by hand
		s = shape{u: e.U, sigma: e.U, dof: e.dof(), stretch: 1, wider: 1}
	}
	return s.probability(ohm - e.Ohm)
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
// An instrument's error counts as independent between sessions.
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
			x, y = x.Warmed(earlier.Session.Copper(), 20), y.Warmed(later.Session.Copper(), 20)
		}
		out = append(out, Change{Conductor: c, At20: at20, Difference: Compare(y, x)})
	}
	return out
}

// Slim returns a result without budgets, readings and notes, which decides like the whole.
func Slim(r Result) Result {
	out := r.each(func(e *Estimate) Estimate {
		slim := *e
		slim.Budget, slim.set, slim.null, slim.Line = nil, nil, nil, nil
		return slim
	})
	s := r.Session
	out.Session = Session{AmbientCelsius: s.AmbientCelsius, AmbientWithinKelvin: s.AmbientWithinKelvin, CopperCelsius: s.CopperCelsius, Steady: s.Steady,
		Ends: s.Ends, LengthMetre: s.LengthMetre, LengthWithinMetre: s.LengthWithinMetre}
	return out
}
