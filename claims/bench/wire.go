package bench

import (
	"fmt"
	"math"

	"example.com/gainsay/claims/quantity"
)

// CopperOhmMetre is the resistivity of copper at 20 °C in Ω·m: 58 MS/m, exactly (IEC
// 60028, 100 % IACS).
const CopperOhmMetre = 1 / 58e6

// Plug is what an end of a cable is plugged with, as far as the contacts of VBUS and
// ground go.
type Plug uint8

// The ends. The zero value is not known: any of the others.
const (
	PlugUnknown Plug = iota // any of the others
	PlugTypeC               // four contacts in parallel for VBUS and for ground
	PlugSingle              // one contact each: Type-A, Type-B, mini and micro
	PlugNone                // fixed to the device: no contacts
)

// The most that one contact has, new and after stress, in Ω: USB Type-C §3.7.8.1 has 40
// and 50 mΩ, of four in parallel; the single contacts of the other plugs have 30 mΩ
// (relayed), and 10 mΩ more after stress (from memory).
const (
	typeCNewOhm, typeCWornOhm   = 0.040, 0.050
	singleNewOhm, singleWornOhm = 0.030, 0.040
)

// ContactsOhm is the most that the mated contact of an end adds to one conductor, new and
// worn, in Ω. The least is nothing.
func (p Plug) ContactsOhm() (fresh, worn float64) {
	switch p {
	case PlugTypeC:
		return typeCNewOhm / 4, typeCWornOhm / 4
	case PlugNone:
		return 0, 0
	}
	return singleNewOhm, singleWornOhm
}

// ContactsOhm is the most that the mated contacts at both ends add to one conductor, in Ω,
// new and worn. Of an end that is not known it is the most of any plug.
func (s Session) ContactsOhm() (fresh, worn float64) {
	for _, p := range s.Ends {
		f, w := p.ContactsOhm()
		fresh, worn = fresh+f, worn+w
	}
	return fresh, worn
}

// AssumedLengthWithin is the half-width, as a fraction, of a length whose
// exactness is not stated (common practice: a tape along a cable).
const AssumedLengthWithin = 0.02

// What a copper wire of a nominal cross-section may have, as a multiple of
// resistivity × length / area. Commercial copper has up to 101 % IACS. Stranding,
// tinning and the tolerance of the size bring IEC 60228 class 5 maxima to 1.16.
const (
	wireLeast = 0.99
	wireMost  = 1.16
)

// thickestGauge is the thickest wire expected in a conductor; Type-C cables use
// 20 to 28 AWG for VBUS and ground (Type-C informative table). Ground may have
// its shield in parallel and is allowed twice the area. Common practice.
const thickestGauge = 16

// Range is an interval with its ends, in the unit of what it is a range of.
type Range struct {
	Low, High float64 // Low may be -Inf, High +Inf: no bound
}

func (r Range) overlaps(s Range) bool { return r.Low <= s.High && s.Low <= r.High }

// length returns the interval of the session's length.
func (s Session) length() (Range, bool) {
	l := s.LengthMetre
	if !l.Known {
		return Range{}, false
	}
	w := s.LengthWithinMetre
	if w == 0 {
		w = AssumedLengthWithin * l.Value
	}
	return Range{l.Value - w, l.Value + w}, true
}

// wireOhm returns the interval of the copper's resistance at 20 °C: the
// estimate with its expanded uncertainty, less anything from none to all of the
// contacts.
func wireOhm(e Estimate, s *Session) (cold Estimate, wire Range) {
	cold = e.Warmed(s.Copper(), 20)
	_, worn := s.ContactsOhm()
	return cold, Range{math.Max(0, cold.Ohm-cold.Expanded-worn), cold.Ohm + cold.Expanded}
}

// Wire is the solid copper wire that would have the measured resistance.
type Wire struct {
	Conductor Conductor // VBUS or Ground
	// AreaSquareMetre is the interval of the cross-section; High is +Inf when
	// the contacts alone could explain the reading.
	AreaSquareMetre Range
	// BestSquareMetre takes half of what worn contacts may have off; not known when nothing remains.
	BestSquareMetre Number
	// Gauge is the interval in AWG, fractions included; Low, the thickest, is
	// -Inf when the area's High is +Inf.
	Gauge     Range
	BestGauge Number // AWG of BestSquareMetre
	// TooLow says that the reading is below what the thickest wire expected
	// in such a cable would have without any contacts: a wrong null, or leads
	// that do not sense at the plug.
	TooLow bool

	cold        Estimate // at 20 °C
	leastOhm    float64  // of the thickest wire expected
	lengthMetre float64
}

// Text says in words what wire it is like.
func (w Wire) Text() string {
	area := func(a float64) string { return quantity.Format(a, quantity.Area, 2) }
	switch {
	case w.TooLow:
		return fmt.Sprintf("%s: %s at 20 °C, below the %s that %s of the thickest wire expected would have: a wrong null, or leads that do not sense at the plug",
			w.Conductor.Name(), ohms(w.cold.Ohm, w.cold.Expanded), quantity.Format(w.leastOhm, quantity.Resistance, 3), quantity.Format(w.lengthMetre, quantity.Length, 3))
	case math.IsInf(w.Gauge.Low, -1):
		return fmt.Sprintf("%s: like solid copper of %s or more, AWG %.0f or thicker; the contacts could be all of it",
			w.Conductor.Name(), area(w.AreaSquareMetre.Low), math.Floor(w.Gauge.High))
	}
	return fmt.Sprintf("%s: like solid copper of %s to %s, AWG %.1f to %.1f",
		w.Conductor.Name(), area(w.AreaSquareMetre.Low), area(w.AreaSquareMetre.High), w.Gauge.High, w.Gauge.Low)
}

// WireOf returns the equivalent wire of VBUS or ground. It is not ok without
// that estimate or without the length.
func WireOf(r Result, c Conductor) (w Wire, ok bool) {
	e := r.Estimate(c)
	length, measured := r.Session.length()
	if e == nil || !measured || c == Loop {
		return Wire{}, false
	}
	cold, ohm := wireOhm(*e, &r.Session)
	w = Wire{Conductor: c, cold: cold, lengthMetre: r.Session.LengthMetre.Value}
	w.AreaSquareMetre = Range{CopperOhmMetre * length.Low / ohm.High, over(CopperOhmMetre*length.High, ohm.Low)}
	w.Gauge = Range{math.Inf(-1), quantity.AreaGauge(w.AreaSquareMetre.Low)}
	if !math.IsInf(w.AreaSquareMetre.High, 1) {
		w.Gauge.Low = quantity.AreaGauge(w.AreaSquareMetre.High)
	}
	_, worn := r.Session.ContactsOhm()
	if best := cold.Ohm - worn/2; best > 0 {
		w.BestSquareMetre = Known(CopperOhmMetre * w.lengthMetre / best)
		w.BestGauge = Known(quantity.AreaGauge(w.BestSquareMetre.Value))
	}
	thickest := quantity.GaugeArea(thickestGauge)
	if c == Ground {
		thickest *= 2
	}
	w.leastOhm = wireLeast * CopperOhmMetre * length.Low / thickest
	w.TooLow = ohm.High < w.leastOhm
	return w, true
}

// Material is what a wire may be made of. A resistance never proves one.
type Material string

// The materials told apart.
const (
	Copper             Material = "copper"                // as CopperOhmMetre has it
	CopperCladAluminum Material = "copper-clad aluminium" // 1.590 times the resistance of copper (ASTM B566, class 10A)
)

// Ratio of a copper-clad wire's resistance to copper of the same size: 62 to
// 68 % IACS and the tolerance of copper (ASTM B566 classes 10A and 15A).
var cladRatio = Range{1.45, 1.65}

// tellable is the half-width of the ratio, as a fraction, up to which materials
// are told apart at all. One gauge is already a factor of 1.26, two are 1.59.
const tellable = 0.10

// Plausibility is how a stated wire stands to the measured resistance.
type Plausibility uint8

// The outcomes. The zero value is Plausible.
const (
	Plausible Plausibility = iota // nothing speaks against it
	// TooMuchResistance: the wire is thinner or longer than stated, or not
	// copper, or the contacts are beyond their limit.
	TooMuchResistance
	// TooLittleResistance: less than the stated wire has without any contacts:
	// thicker or shorter than stated, or a wrong null.
	TooLittleResistance
)

// String returns "plausible", "too much resistance" or "too little resistance".
func (p Plausibility) String() string {
	switch p {
	case TooMuchResistance:
		return "too much resistance"
	case TooLittleResistance:
		return "too little resistance"
	}
	return "plausible"
}

// MarshalText returns the same words as String. It never fails.
func (p Plausibility) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// WireCheck holds a stated cross-section and length against a resistance.
type WireCheck struct {
	Conductor    Conductor    // VBUS or Ground
	Plausibility Plausibility // what it comes to
	Assumed      bool         // the accuracy of a meter is an assumption
	MeasuredOhm  float64      // at 20 °C
	Expanded     float64      // of MeasuredOhm, Ω
	ExpectedOhm  Range        // at 20 °C, contacts from none to worn
	LengthMetre  Range        // that the stated cross-section would need
	Ratio        Range        // of the wire's resistance to that of copper as stated
	// ConsistentWith lists the materials that would explain the ratio, and is
	// empty when the ratio is not known closely enough to say. A wire two gauges
	// thinner than stated looks just like copper-clad aluminium.
	ConsistentWith []Material

	areaSquareMetre float64 // as stated
}

// Text says in words what was measured and what the wire as stated has.
func (w WireCheck) Text() string {
	ohm := func(v float64) string { return quantity.Format(v, quantity.Resistance, 3) }
	return fmt.Sprintf("%s: %s at 20 °C, %s as stated has %s to %s: %s", w.Conductor.Name(), ohms(w.MeasuredOhm, w.Expanded),
		quantity.Format(w.areaSquareMetre, quantity.Area, 3), ohm(w.ExpectedOhm.Low), ohm(w.ExpectedOhm.High), w.Plausibility)
}

// CheckWire holds VBUS or ground against a stated cross-section in m² and a
// length in metre within a half-width (zero: AssumedLengthWithin of it). It is
// not ok without the estimate or with numbers that are no size.
func CheckWire(r Result, c Conductor, areaSquareMetre, lengthMetre, withinMetre float64) (w WireCheck, ok bool) {
	e := r.Estimate(c)
	length, stated := Session{LengthMetre: Known(lengthMetre), LengthWithinMetre: withinMetre}.length()
	if e == nil || c == Loop || !stated || !(areaSquareMetre > 0 && length.Low > 0) || !finite(areaSquareMetre) || !finite(length.High) {
		return WireCheck{}, false
	}
	cold, wire := wireOhm(*e, &r.Session)
	_, worn := r.Session.ContactsOhm()
	perMetre := CopperOhmMetre / areaSquareMetre
	most := wireMost * perMetre
	if listed := maxOhmPerMetre(areaSquareMetre); listed.Known {
		most = math.Max(most, listed.Value)
	}
	w = WireCheck{
		Conductor: c, Assumed: e.Assumed, MeasuredOhm: cold.Ohm, Expanded: cold.Expanded,
		ExpectedOhm: Range{wireLeast * perMetre * length.Low, most*length.High + worn},
		LengthMetre: Range{wire.Low / most, wire.High / (wireLeast * perMetre)},
		Ratio:       Range{wire.Low / (perMetre * length.High), wire.High / (perMetre * length.Low)},

		areaSquareMetre: areaSquareMetre,
	}
	switch {
	case cold.Ohm-cold.Expanded > w.ExpectedOhm.High:
		w.Plausibility = TooMuchResistance
	case cold.Ohm+cold.Expanded < w.ExpectedOhm.Low:
		w.Plausibility = TooLittleResistance
	}
	if w.Ratio.High-w.Ratio.Low < tellable*(w.Ratio.High+w.Ratio.Low) {
		if w.Ratio.overlaps(Range{wireLeast, wireMost}) {
			w.ConsistentWith = append(w.ConsistentWith, Copper)
		}
		if w.Ratio.overlaps(cladRatio) {
			w.ConsistentWith = append(w.ConsistentWith, CopperCladAluminum)
		}
	}
	return w, true
}

// flexibleTinned holds the maximum resistance of flexible conductors (IEC 60228 class 5
// and 6) of tinned copper by nominal size. From 0.5 mm² by IEC 60228, below by DIN VDE
// 0295 as one table maker prints it.
var flexibleTinned = [...]struct{ squareMM, ohmPerKM float64 }{
	{0.05, 392}, {0.08, 244}, {0.14, 138}, {0.25, 79}, {0.34, 56},
	{0.5, 40.1}, {0.75, 26.7}, {1.0, 20.0}, {1.5, 13.7}, {2.5, 8.21},
}

// maxOhmPerMetre returns the maximum resistance in Ω/m at 20 °C of a conductor of a
// nominal cross-section in m². Not known for a size that the table does not list.
func maxOhmPerMetre(areaSquareMetre float64) Number {
	for _, row := range flexibleTinned {
		if math.Abs(areaSquareMetre*1e6-row.squareMM) <= 1e-6*row.squareMM {
			return Known(row.ohmPerKM / 1000)
		}
	}
	return Number{}
}
