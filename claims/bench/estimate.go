package bench

import (
	"cmp"
	"math"
	"slices"
)

// How says how an estimate came about.
type How uint8

// The ways a resistance becomes known.
const (
	Ratio      How = iota + 1 // drop over current, repeats averaged
	Slope                     // straight-line fit of drop over current
	Read                      // printed by the rig
	Summed                    // loop: VBUS plus ground
	Subtracted                // one conductor: loop minus the other
)

// String returns "ratio", "slope", "printed", "summed" or "subtracted".
func (h How) String() string {
	switch h {
	case Ratio:
		return "ratio"
	case Slope:
		return "slope"
	case Read:
		return "printed"
	case Summed:
		return "summed"
	case Subtracted:
		return "subtracted"
	}
	return "unknown"
}

// MarshalText returns the same word as String. It never fails.
func (h How) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// Type is how an uncertainty was evaluated (GUM 4.2 and 4.3).
type Type uint8

// TypeA comes from the spread of repeats, TypeB from what is stated.
const (
	TypeA Type = iota + 1 // from the spread of repeats
	TypeB                 // from what is stated
)

// String returns "A" or "B".
func (t Type) String() string {
	if t == TypeA {
		return "A"
	}
	return "B"
}

// MarshalText returns the same letter as String. It never fails.
func (t Type) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// Source is what a contribution to the uncertainty comes from.
type Source uint8

// The sources. Repeats is the spread of the per-reading resistances or of the
// points about the line.
const (
	Repeats       Source = iota + 1 // the spread of the readings
	VoltmeterSpec                   // the stated accuracy of the voltmeter
	AmmeterSpec                     // the stated accuracy of the ammeter
	OhmmeterSpec                    // the stated accuracy of a rig that prints resistance
	NullRepeats                     // the spread of several nulls
	NullVoltmeter                   // the voltmeter's accuracy in the null
	AmbientSpec                     // the ambient temperature, where the resistance was referred to another
)

var sourceTexts = [...]struct{ name, unit, advice string }{
	Repeats:       {"repeats", "Ω", "take more readings; clean the contacts; wait until the reading is steady"},
	VoltmeterSpec: {"voltmeter", "V", "use a more exact voltmeter or a lower range, or more current"},
	AmmeterSpec:   {"ammeter", "A", "use a more exact ammeter or a calibrated shunt"},
	OhmmeterSpec:  {"ohmmeter", "Ω", "use a more exact rig, or take current and drop apart"},
	NullRepeats:   {"null repeats", "Ω", "take the null more often"},
	NullVoltmeter: {"voltmeter in the null", "V", "take the null in a lower range, or at more current"},
	AmbientSpec:   {"ambient temperature", "K", "measure the temperature of the cable more exactly"},
}

// String returns the source's name as a budget table prints it.
func (s Source) String() string {
	if int(s) < len(sourceTexts) {
		return sourceTexts[s].name
	}
	return ""
}

// MarshalText returns the same words as String. It never fails.
func (s Source) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Contribution is one row of an uncertainty budget.
type Contribution struct {
	Source      Source  // where it comes from
	Type        Type    // how it was evaluated
	U           float64 // standard uncertainty of the input, in Unit
	Unit        string  // of the input, as "V", "A" or "Ω"
	Sensitivity float64 // ohm per Unit, signed
	Ohm         float64 // |Sensitivity|·U: its part of the result's standard uncertainty
	DoF         float64 // degrees of freedom; +Inf for type B
	Share       float64 // of the variance, 0 to 1
	Advice      string  // what would make it smaller
}

func contribution(s Source, t Type, u, sensitivity, dof float64) Contribution {
	return Contribution{
		Source: s, Type: t, U: u, Unit: sourceTexts[s].unit, Sensitivity: sensitivity,
		Ohm: math.Abs(sensitivity) * u, DoF: dof, Advice: sourceTexts[s].advice,
	}
}

// rectangular is the standard uncertainty of a quantity known to lie within ±a
// (GUM 4.3.7).
func rectangular(a float64) float64 { return a / math.Sqrt(3) }

// Estimate is a resistance with its uncertainty.
type Estimate struct {
	Conductor Conductor // what it was measured over
	How       How       // how it came about
	Ohm       float64   // best estimate, Ω
	U         float64   // standard uncertainty, ohm
	K         float64   // coverage factor for Coverage at DoF
	Expanded  float64   // K·U, ohm
	DoF       float64   // effective degrees of freedom (Welch-Satterthwaite); +Inf without type A
	// LowerBound says that an accuracy was not stated, so that the true
	// uncertainty is at least U.
	LowerBound bool
	Budget     []Contribution // largest share first
	N          int            // number of readings behind it
	Line       *Line          // the fit, where there was one

	set  *set    // the readings behind it; nil where there are none
	volt float64 // mean drop as read, before the null
	amp  float64 // mean current, magnitude
}

// settle fills in what follows from the budget: combined standard uncertainty
// (GUM 5.1.2), effective degrees of freedom (G.4.1), coverage factor and shares.
// Rows that contribute nothing are dropped.
func (e *Estimate) settle() {
	e.Budget = slices.DeleteFunc(e.Budget, func(c Contribution) bool { return c.Ohm == 0 })
	var room [8]part
	all := room[:0]
	for i := range e.Budget {
		all = append(all, part{e.Budget[i].Ohm, e.Budget[i].DoF})
	}
	e.U, e.DoF = combine(all)
	e.K = CoverageFactor(Coverage, e.DoF)
	e.Expanded = e.K * e.U
	for i := range e.Budget {
		r := e.Budget[i].Ohm / e.U
		e.Budget[i].Share = r * r
	}
	slices.SortStableFunc(e.Budget, func(a, b Contribution) int { return cmp.Compare(b.Ohm, a.Ohm) })
}

type part struct{ u, dof float64 }

// combine returns the root sum of squares and the effective degrees of freedom
// of independent parts.
func combine(parts []part) (u, dof float64) {
	for _, p := range parts {
		u = math.Hypot(u, p.u)
	}
	if u == 0 {
		return 0, math.Inf(1)
	}
	var inverse float64
	for _, p := range parts {
		share := p.u / u * p.u / u
		inverse += share * share / p.dof
	}
	return u, 1 / inverse
}

// sum adds two conductors of one session, a + b.
//
// The same meters served both, so each specification's error is taken as common
// to both and adds linearly: the ten-resistor example of GUM 5.2.2.
func sum(a, b Estimate) Estimate {
	e := Estimate{
		Conductor: Loop, How: Summed, Ohm: a.Ohm + b.Ohm,
		LowerBound: a.LowerBound || b.LowerBound, N: min(a.N, b.N),
	}
	e.Budget = merge(a.Budget, b.Budget, func(x, y Contribution) Contribution {
		return spread(x.Source, x.Type, math.Abs(x.Ohm+y.Ohm), math.Min(x.DoF, y.DoF))
	})
	// The two may have been read together; then the spread of the sums is the
	// type A uncertainty, whatever the correlation (GUM H.2, approach 2).
	if s := a.set.plus(b.set); s != nil {
		e.Budget = slices.DeleteFunc(e.Budget, func(c Contribution) bool { return c.Source == Repeats })
		if u, dof, ok := s.typeA(); ok {
			e.Budget = append(e.Budget, contribution(Repeats, TypeA, u, 1, dof))
		}
		e.set = s
	}
	e.settle()
	return e
}

// difference subtracts the conductor b from the loop a, both of one session.
//
// The ammeter's error is the same in both and cancels in part. The voltmeter
// reads two different drops, so its errors are taken as independent, which is
// the larger result.
func difference(a, b Estimate, of Conductor) Estimate {
	e := Estimate{
		Conductor: of, How: Subtracted, Ohm: a.Ohm - b.Ohm,
		LowerBound: a.LowerBound || b.LowerBound, N: min(a.N, b.N),
	}
	e.Budget = merge(a.Budget, b.Budget, func(x, y Contribution) Contribution {
		if x.Source == AmmeterSpec {
			return spread(x.Source, x.Type, math.Abs(x.Ohm-y.Ohm), math.Min(x.DoF, y.DoF))
		}
		u, dof := combine([]part{{x.Ohm, x.DoF}, {y.Ohm, y.DoF}})
		return spread(x.Source, x.Type, u, dof)
	})
	e.settle()
	return e
}

// spread is a contribution already in ohm.
func spread(s Source, t Type, ohm, dof float64) Contribution {
	c := contribution(s, t, ohm, 1, dof)
	c.Unit = "Ω"
	return c
}

// merge joins two budgets, rows of the same source by both.
func merge(a, b []Contribution, both func(x, y Contribution) Contribution) []Contribution {
	out := append(make([]Contribution, 0, len(a)+len(b)), b...)
	for _, x := range a {
		i := 0
		for i < len(out) && out[i].Source != x.Source {
			i++
		}
		if i == len(out) {
			out = append(out, spread(x.Source, x.Type, x.Ohm, x.DoF))
			continue
		}
		out[i] = both(x, out[i])
	}
	return out
}

// set holds the per-reading resistances of one estimate, so that the type A
// uncertainty comes from whole results: dropping the pairing of drop and
// current would give a wrong answer, and Welch-Satterthwaite does not hold for
// correlated inputs (GUM H.2, Willink 2007).
type set struct {
	index  []int // of the reading in the session
	flip   []Flip
	ohm    []float64
	chosen Flip
}

// mean returns the mean of one orientation and the number of readings.
func (s *set) mean(f Flip) (mean float64, n int) {
	var room [8]float64
	xs := s.of(f, room[:0])
	mean, _ = meanDeviation(xs)
	return mean, len(xs)
}

// of appends the resistances of one orientation to xs.
func (s *set) of(f Flip, xs []float64) []float64 {
	for i, r := range s.ohm {
		if s.flip[i] == f {
			xs = append(xs, r)
		}
	}
	return xs
}

// typeA returns the standard uncertainty of the chosen orientation's mean. The
// spread within each orientation is pooled; what lies between them is no
// scatter. Not ok without a repeat.
func (s *set) typeA() (u, dof float64, ok bool) {
	var squares, groups float64
	var room [8]float64
	for _, g := range flips {
		xs := s.of(g, room[:0])
		if len(xs) == 0 {
			continue
		}
		groups++
		_, dev := meanDeviation(xs)
		squares += dev * dev * float64(len(xs)-1)
	}
	dof = float64(len(s.ohm)) - groups
	if dof < 1 {
		return 0, 0, false
	}
	_, n := s.mean(s.chosen)
	return math.Sqrt(squares/dof) / math.Sqrt(float64(n)), dof, true
}

var flips = [...]Flip{FlipUnknown, FlipUp, FlipDown}

// plus returns the reading-by-reading sum, or nil unless both come from the same
// readings and the same orientation.
func (s *set) plus(t *set) *set {
	if s == nil || t == nil || s.chosen != t.chosen || !slices.Equal(s.index, t.index) {
		return nil
	}
	sum := &set{index: s.index, flip: s.flip, ohm: make([]float64, 0, len(s.ohm)), chosen: s.chosen}
	for i := range s.ohm {
		sum.ohm = append(sum.ohm, s.ohm[i]+t.ohm[i])
	}
	return sum
}

// meanDeviation returns the mean and the standard deviation (n-1) in two passes
// with the first corrected, which keeps the digits that NIST's NumAcc sets ask
// for. The deviation of fewer than two values is 0.
func meanDeviation(xs []float64) (mean, deviation float64) {
	n := float64(len(xs))
	if n == 0 {
		return 0, 0
	}
	for _, x := range xs {
		mean += x / n
	}
	var rest, squares float64
	for _, x := range xs {
		rest += x - mean
	}
	mean += rest / n
	rest = 0
	for _, x := range xs {
		d := x - mean
		rest += d
		squares += d * d
	}
	if n < 2 {
		return mean, 0
	}
	return mean, math.Sqrt(math.Max(0, squares-rest*rest/n) / (n - 1))
}
