package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
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

// Distribution is the shape that an input is taken to have.
type Distribution uint8

// The distributions.
const (
	Normal      Distribution = iota + 1 // scatter, and certificates with a coverage factor
	Rectangular                         // a stated accuracy, or half a display digit each way
)

// String returns "normal" or "rectangular".
func (d Distribution) String() string {
	if d == Normal {
		return "normal"
	}
	return "rectangular"
}

// MarshalText returns the same word as String. It never fails.
func (d Distribution) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// Source is what a contribution to the uncertainty comes from.
type Source uint8

// The sources. Repeats is the scatter of the per-reading resistances, of the means of
// matings or of the points about the line.
const (
	Repeats              Source = iota + 1 // the scatter of the readings
	VoltmeterSpec                          // the accuracy of the voltmeter
	AmmeterSpec                            // the accuracy of the ammeter
	OhmmeterSpec                           // the accuracy of a rig that prints resistance
	NullRepeats                            // the scatter of the nulls
	NullVoltmeter                          // the voltmeter's accuracy in the null, in another range or at another current
	AmbientSpec                            // the ambient temperature, where the resistance was referred to another
	NullAmmeter                            // the ammeter's accuracy in the null, at another current
	VoltmeterDigit                         // half the last digit of a drop
	AmmeterDigit                           // half the last digit of a current
	OhmmeterDigit                          // half the last digit of a printed resistance
	NullDigit                              // half the last digit of a null
	VoltmeterCertificate                   // the calibration of the voltmeter
	AmmeterCertificate                     // the calibration of the ammeter
	OhmmeterCertificate                    // the calibration of a rig that prints resistance
)

var sourceTexts = [...]struct{ name, unit, advice string }{
	Repeats:              {"repeats", "Ω", "take more readings; clean the contacts; wait until the reading is steady"},
	VoltmeterSpec:        {"voltmeter", "V", "use a more exact voltmeter or a lower range, or more current"},
	AmmeterSpec:          {"ammeter", "A", "use a more exact ammeter or a calibrated shunt"},
	OhmmeterSpec:         {"ohmmeter", "Ω", "use a more exact rig, or take current and drop apart"},
	NullRepeats:          {"null repeats", "Ω", "take the null more often"},
	NullVoltmeter:        {"voltmeter in the null", "V", "take the null in a lower range, or at more current"},
	AmbientSpec:          {"ambient temperature", "K", "measure the temperature of the cable more exactly"},
	NullAmmeter:          {"ammeter in the null", "A", "take the null at the current of the readings"},
	VoltmeterDigit:       {"digit of the drop", "V", "note every digit of the drop, or use a lower range"},
	AmmeterDigit:         {"digit of the current", "A", "note every digit of the current"},
	OhmmeterDigit:        {"digit of the ohmmeter", "Ω", "note every digit of the resistance"},
	NullDigit:            {"digit of the null", "V", "note every digit of the null"},
	VoltmeterCertificate: {"voltmeter's calibration", "V", "have the voltmeter calibrated more exactly"},
	AmmeterCertificate:   {"ammeter's calibration", "A", "have the ammeter calibrated more exactly"},
	OhmmeterCertificate:  {"ohmmeter's calibration", "Ω", "have the rig calibrated more exactly"},
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

// Origin tells which input a contribution is about. Two results share the inputs whose
// origins are equal; that is the only way in which they are correlated, except that
// results of the same readings have the scatter of the same readings.
type Origin struct {
	Source    Source    // VoltmeterSpec, also of a null in the same range
	Conductor Conductor // of scatter and of a drop's digit; none for a meter
	Flip      Flip      // of scatter
	Amp       float64   // the current of the readings, A; 0 where the range is stated
	Null      bool      // of a null alone
	decade    int8      // the range: 0 within a tenth of the largest value, and so on
	of        *token    // the measurement
	readings  *set      // of scatter
	nulls     *residuals
}

// token is one measurement: errors are common within it, and independent between two.
type token struct{ _ byte }

// Contribution is one row of an uncertainty budget: an input, and how much of its
// uncertainty reaches the result.
type Contribution struct {
	Source       Source       // where it comes from
	Type         Type         // how it was evaluated
	Distribution Distribution // normal or rectangular
	Origin       Origin       // which input it is
	U            float64      // standard uncertainty of the input, in Unit; half-width/√3 of a rectangular one
	Unit         string       // of the input, as "V", "A" or "Ω"
	Sensitivity  float64      // ohm per Unit, signed
	Ohm          float64      // |Sensitivity|·U: its part of the result's standard uncertainty
	DoF          float64      // degrees of freedom; +Inf for type B
	Share        float64      // of the variance, 0 to 1
	Advice       string       // what would make it smaller

	pool *float64 // the estimate of variance it rests on, where others rest on it too
}

// From names the input in words, as "voltmeter at 1 A".
func (c Contribution) From() string {
	name := c.Source.String()
	if c.Source == AmmeterDigit && c.Origin.Null {
		name = "null's current digit"
	}
	if of := c.Origin.Conductor; of != 0 && c.Distribution == Rectangular {
		name += ", " + of.Name()
	}
	if c.Origin.Amp != 0 {
		name += " at " + quantity.Format(c.Origin.Amp, quantity.Current, 3)
	}
	if c.Origin.decade > 0 && c.Source == VoltmeterSpec {
		name += fmt.Sprintf(", range %d", c.Origin.decade+1)
	}
	return name
}

// typeB is a rectangular contribution of half-width a in the source's unit.
func typeB(s Source, a, sensitivity float64) Contribution {
	return Contribution{Source: s, Type: TypeB, Distribution: Rectangular, U: rectangular(a), Unit: sourceTexts[s].unit,
		Sensitivity: sensitivity, DoF: math.Inf(1)}
}

// rectangular is the standard uncertainty of a quantity known to lie within ±a
// (GUM 4.3.7).
func rectangular(a float64) float64 { return a / math.Sqrt(3) }

// Estimate is a resistance with its uncertainty.
type Estimate struct {
	Conductor Conductor // what it was measured over
	How       How       // how it came about
	Flip      Flip      // which way up it is of
	Ohm       float64   // best estimate, Ω
	U         float64   // standard uncertainty, ohm
	K         float64   // coverage factor: Expanded/U
	Expanded  float64   // half-width of the interval that holds Coverage, ohm
	DoF       float64   // effective degrees of freedom (Welch-Satterthwaite); +Inf without type A
	// Assumed says that the accuracy of a meter is an assumption, since none is on record.
	Assumed bool
	Budget  []Contribution // largest share first
	N       int            // number of readings behind it
	Matings int            // number of matings behind it, 0 where none were noted
	Line    *Line          // the fit, where there was one

	of   *token
	set  *set     // the readings behind it; nil where there are none
	null *nullUse // the nulls taken off; nil where there are none
	dist shape
	volt float64 // mean drop as read, before the null
	amp  float64 // mean current, magnitude
}

// settle fills in what follows from the budget: combined standard uncertainty
// (GUM 5.1.2), effective degrees of freedom (G.4.1), expanded uncertainty and shares.
// Rows that contribute nothing are dropped.
func (e *Estimate) settle() {
	for i := range e.Budget {
		e.Budget[i].Ohm = math.Abs(e.Budget[i].Sensitivity * e.Budget[i].U)
	}
	e.Budget = slices.DeleteFunc(e.Budget, func(c Contribution) bool { return c.Ohm == 0 })
	e.dist = shapeOf(e.Budget)
	e.U, e.DoF = e.dist.u, e.dist.dof
	e.Expanded = e.dist.expanded()
	e.K = CoverageFactor(Coverage, e.DoF)
	if e.U > 0 {
		e.K = e.Expanded / e.U
	}
	for i := range e.Budget {
		c := &e.Budget[i]
		r := c.Ohm / e.U
		c.Share = r * r
		c.Advice = sourceTexts[c.Source].advice
	}
	slices.SortStableFunc(e.Budget, func(a, b Contribution) int {
		// Equal ones differ in the last digits, by the order of the readings.
		if d := cmp.Compare(float32(b.Ohm), float32(a.Ohm)); d != 0 {
			return d
		}
		return cmp.Or(cmp.Compare(a.Source, b.Source), cmp.Compare(a.Origin.Conductor, b.Origin.Conductor), cmp.Compare(b.Origin.Amp, a.Origin.Amp))
	})
}

// scatterRows adds what repeats show to the budget.
func (e *Estimate) scatterRows() {
	if e.set != nil {
		if u, dof, pool, ok := e.set.estimate(e.Flip); ok {
			e.Budget = append(e.Budget, Contribution{Source: Repeats, Type: TypeA, Distribution: Normal, U: u, Unit: "Ω", Sensitivity: 1, DoF: dof,
				pool: pool, Origin: Origin{Source: Repeats, Conductor: e.Conductor, Flip: e.Flip, of: e.of, readings: e.set}})
		}
	}
	if e.null != nil {
		if row, ok := e.null.row(e); ok {
			e.Budget = append(e.Budget, row)
		}
	}
}

// linear returns ca·a + cb·b with what both have in common: an input of one origin counts
// once, with the sum of its sensitivities, and readings that are behind both combine one
// by one. Every sum, difference and comparison goes through it.
func linear(ca float64, a *Estimate, cb float64, b *Estimate) Estimate {
	e := Estimate{Ohm: ca*a.Ohm + cb*b.Ohm, Assumed: a.Assumed || b.Assumed, N: min(a.N, b.N), Matings: min(a.Matings, b.Matings), of: a.of}
	e.Flip = a.Flip
	paired := false
	if a.of == b.of && a.set != nil && a.Flip == b.Flip {
		if e.set = a.set.with(ca, b.set, cb); e.set != nil {
			paired = true
		}
	}
	if a.of == b.of {
		e.null = a.null.with(ca, b.null, cb)
	}
	ownNull := e.null != nil && (paired || e.null.dof > 0)
	if !ownNull {
		e.null = nil
	}
	e.Budget = make([]Contribution, 0, len(a.Budget)+len(b.Budget)+2)
	for _, from := range [2]struct {
		c float64
		e *Estimate
	}{{ca, a}, {cb, b}} {
		rows := from.e.Budget
		if len(rows) == 0 && from.e.U > 0 { // written by hand
			rows = []Contribution{{Source: Repeats, Type: TypeB, Distribution: Normal, U: from.e.U, Unit: "Ω", Sensitivity: 1, DoF: from.e.dof(),
				Origin: Origin{Source: Repeats, of: new(token)}}}
		}
		for _, row := range rows {
			if paired && row.Source == Repeats || ownNull && row.Source == NullRepeats {
				continue
			}
			row.Sensitivity *= from.c
			at := -1
			for i := range e.Budget {
				if e.Budget[i].Origin == row.Origin {
					at = i
					break
				}
			}
			if at < 0 {
				e.Budget = append(e.Budget, row)
				continue
			}
			e.Budget[at].join(row)
		}
	}
	if paired || ownNull {
		e.scatterRows()
	}
	return e
}

// join adds the effect of the same input.
func (c *Contribution) join(d Contribution) {
	effect := c.Sensitivity*c.U + d.Sensitivity*d.U
	if c.Source == NullVoltmeter || c.Source == NullAmmeter {
		c.Source = d.Source
	}
	switch {
	case c.Unit != d.Unit:
	case c.U == d.U:
		c.Sensitivity += d.Sensitivity
		return
	case c.Sensitivity == d.Sensitivity || c.Sensitivity == -d.Sensitivity:
		c.U = math.Abs(effect / c.Sensitivity)
		c.Sensitivity = math.Copysign(c.Sensitivity, effect)
		return
	}
	c.U, c.Unit, c.Sensitivity = math.Abs(effect), "Ω", math.Copysign(1, effect)
}

// plus adds two conductors of one measurement.
func plus(a, b *Estimate) Estimate {
	e := linear(1, a, 1, b)
	e.Conductor, e.How = Loop, Summed
	e.settle()
	return e
}

// minus subtracts a conductor from the loop.
func minus(loop, b *Estimate, of Conductor) Estimate {
	e := linear(1, loop, -1, b)
	e.Conductor, e.How = of, Subtracted
	e.settle()
	return e
}

// with returns the set of ca·s + cb·t reading by reading, nil unless both come from the
// same readings.
func (s *set) with(ca float64, t *set, cb float64) *set {
	if t == nil || s == t || s.sxx != t.sxx || !slices.Equal(s.index, t.index) {
		return nil
	}
	return combined(&s.made, ca, t, cb, func() *set {
		w := &set{index: s.index, flip: s.flip, mating: s.mating, amp: s.amp, sxx: s.sxx, lost: s.lost, y: make([]float64, len(s.y))}
		for i := range w.y {
			w.y[i] = ca*s.y[i] + cb*t.y[i]
		}
		return w
	})
}

var flips = [...]Flip{FlipUnknown, FlipUp, FlipDown}
