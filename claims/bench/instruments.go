package bench

import (
	"math"

	"example.com/gainsay/claims/quantity"
)

// instrument is what is taken of one instrument.
type instrument struct {
	accuracy *quantity.Accuracy
	assumed  bool
	standard float64 // uncertainty of the calibration
}

// counts reports whether its accuracy includes the display's digit.
func (m *instrument) counts() bool { return m.accuracy.Counts > 0 }

// decade tells ranges apart: values within a tenth of the largest are read in one.
func decade(x, largest float64) int8 {
	d := int8(0)
	for x = math.Abs(x); x > 0 && x < largest/10 && d < 100; d++ {
		x *= 10
	}
	return d
}

// digits are the steps of the last digits seen, apart for currents and drops of readings
// and for those of nulls.
type digits [4][]digitsSeen

// digitsSeen is one step, and the magnitudes of the values that were noted to it.
type digitsSeen struct{ step, low, high float64 }

// The lists of digits.
const (
	ofCurrents = iota
	ofDrops
	ofNulls // added to one of the above
)

func digitsOf(readings, nulls []reading) (d digits) {
	for kind, list := range [2][]reading{readings, nulls} {
		for i := range list {
			r := &list[i]
			d.add(ofNulls*kind+ofCurrents, r.CurrentAmp, r.CurrentDigit)
			for _, c := range conductors {
				if v := r.drop(c); v.Known {
					d.add(ofNulls*kind+ofDrops, v.Value, r.digit(c))
				}
			}
		}
	}
	return d
}

func (d *digits) add(kind int, value, step float64) {
	if !(step > 0) || !finite(step) {
		return
	}
	value = math.Abs(value)
	for i := range d[kind] {
		if s := &d[kind][i]; s.step == step {
			s.low, s.high = math.Min(s.low, value), math.Max(s.high, value)
			return
		}
	}
	if len(d[kind]) < 32 { // more is no display
		d[kind] = append(d[kind], digitsSeen{step, value, value})
	}
}

// step returns the finest step seen of values up to ten times apart; 0 where there is none.
func (d *digits) step(kind int, x float64) float64 {
	finest := 0.0
	x = math.Abs(x)
	for _, s := range d[kind] {
		if (finest == 0 || s.step < finest) && s.low <= 10*x && x <= 10*s.high {
			finest = s.step
		}
	}
	return finest
}

// inputs completes an estimate R = Σ weight·V + Σ nulls: how each instrument's error reaches
// it, then what repeats show. local is the resistance dV/dI by which an error of a current
// acts at each point.
func (ev *evaluation) inputs(e *Estimate, points []point, weight, local []float64, n *null, use *nullUse) {
	e.null = use
	acc := collector{ev: ev, rows: make([]Contribution, 0, 8), c: e.Conductor}
	for i, p := range points {
		acc.volt(p, weight[i], false)
		acc.amp(p, weight[i]*local[i], false)
	}
	if use != nil {
		for i, p := range n.points {
			acc.volt(p, use.weight[i], true)
			if p.amp != 0 {
				acc.amp(p, use.weight[i]*n.local(p), true)
			}
		}
	}
	e.Budget = acc.finish()
	e.scatterRows()
	e.settle()
}

// collector gathers the rows of the instruments, one for each input.
type collector struct {
	ev   *evaluation
	rows []Contribution
	of   [16]struct{ u, n float64 } // of the first rows: the sum of standard uncertainties of the input
	c    Conductor
}

// add counts an input's error, of standard uncertainty u at this point, with a weight.
func (a *collector) add(o Origin, s Source, d Distribution, u, weight float64) {
	if u == 0 || weight == 0 {
		return
	}
	o.of = a.ev.of
	at := -1
	for i := range a.rows {
		if a.rows[i].Origin == o {
			at = i
			break
		}
	}
	if at < 0 {
		at = len(a.rows)
		a.rows = append(a.rows, Contribution{Source: s, Type: TypeB, Distribution: d, Origin: o, Unit: sourceTexts[s].unit, DoF: math.Inf(1)})
	}
	r := &a.rows[at]
	r.Sensitivity += weight * u // the effect, until finish
	if at < len(a.of) && (a.of[at].n == 0 || s == r.Source) {
		a.of[at].u += u
		a.of[at].n++
	}
	r.U = math.Max(r.U, u)
}

// finish turns effects into sensitivities to the mean uncertainty of the input.
func (a *collector) finish() []Contribution {
	for i := range a.rows {
		r := &a.rows[i]
		if i < len(a.of) && a.of[i].n > 0 {
			r.U = a.of[i].u / a.of[i].n
		}
		r.Sensitivity /= r.U
	}
	return a.rows
}

// origin returns the input that an instrument's error at a value is.
func (ev *evaluation) origin(s Source, m *instrument, at int, value, largest float64) Origin {
	o := Origin{Source: s}
	if m.accuracy.FullScale > 0 && math.Abs(value) <= m.accuracy.FullScale {
		return o // one stated range
	}
	if at >= 0 {
		o.Amp = ev.currents[at].amp
	} else {
		o.Null = true // with the current off
	}
	o.decade = decade(value, largest)
	return o
}

// stated adds what is stated of an instrument at a value: its accuracy, from a source, and
// its calibration.
func (a *collector) stated(o Origin, source, certificate Source, m *instrument, value, weight float64) {
	a.add(o, source, Rectangular, rectangular(m.accuracy.HalfWidth(value)), weight)
	if m.standard > 0 {
		o.Source = certificate
		a.add(o, certificate, Normal, m.standard, weight)
	}
}

// volt adds the voltmeter's errors in one drop. They follow the sign of the drop.
func (a *collector) volt(p point, weight float64, null bool) {
	ev := a.ev
	largest := math.Abs(p.volt)
	if p.at >= 0 {
		largest = ev.currents[p.at].volt
	}
	o := ev.origin(VoltmeterSpec, &ev.volt, p.at, p.volt, largest)
	source := VoltmeterSpec
	if null {
		source = NullVoltmeter
	}
	signed := math.Copysign(weight, weight*p.volt)
	if p.volt == 0 {
		signed = weight
	}
	a.stated(o, source, VoltmeterCertificate, &ev.volt, p.volt, signed)
	if ev.volt.counts() {
		return
	}
	kind, digit := ofDrops, VoltmeterDigit
	if null {
		kind, digit = ofDrops+ofNulls, NullDigit
	}
	d := Origin{Source: digit, Conductor: a.c, Flip: p.flip, Null: null}
	if p.at >= 0 {
		d.Amp = ev.currents[p.at].amp
	}
	a.add(d, digit, Rectangular, rectangular(ev.digits.step(kind, p.volt)/2), signed)
}

// amp adds the ammeter's errors in one current; weight is in Ω per A.
func (a *collector) amp(p point, weight float64, null bool) {
	ev := a.ev
	g := ev.currents[p.at].amp
	o := ev.origin(AmmeterSpec, &ev.amp, p.at, p.amp, g)
	source := AmmeterSpec
	if null {
		source = NullAmmeter
	}
	signed := -weight
	if p.amp < 0 {
		signed = weight
	}
	a.stated(o, source, AmmeterCertificate, &ev.amp, p.amp, signed)
	if ev.amp.counts() {
		return
	}
	kind := ofCurrents
	if null {
		kind += ofNulls
	}
	a.add(Origin{Source: AmmeterDigit, Amp: g, Null: null}, AmmeterDigit, Rectangular, rectangular(ev.digits.step(kind, p.amp)/2), signed)
}
