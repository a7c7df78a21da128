package bench

import "math"

// CopperPerKelvin is the temperature coefficient of resistance of copper,
// referred to 20 °C (IEC 60028, 100 % IACS).
const CopperPerKelvin = 0.00393

// AssumedAmbientWithinKelvin is the half-width of an ambient temperature whose
// exactness is not stated (common practice for a room thermometer).
const AssumedAmbientWithinKelvin = 2

// Temperature is a temperature in degrees Celsius and the half-width of what it
// may be.
type Temperature struct {
	Celsius      float64 // °C
	WithinKelvin float64 // half-width, K
}

// Ambient returns the session's ambient temperature with its stated or assumed
// half-width. Where none was noted it is 23 °C within 5 K, an assumption.
func (s Session) Ambient() Temperature {
	if !s.AmbientCelsius.Known {
		return Temperature{23, 5}
	}
	t := Temperature{s.AmbientCelsius.Value, s.AmbientWithinKelvin}
	if t.WithinKelvin == 0 {
		t.WithinKelvin = AssumedAmbientWithinKelvin
	}
	return t
}

// Copper returns the temperature of the conductors while they were read: as noted, within
// AssumedAmbientWithinKelvin; steady at a current, anything from ambient to RiseKelvin
// above it; else ambient.
func (s Session) Copper() Temperature {
	t := s.Ambient()
	switch {
	case s.CopperCelsius.Known:
		return Temperature{s.CopperCelsius.Value, AssumedAmbientWithinKelvin}
	case s.Steady:
		return Temperature{t.Celsius + RiseKelvin/2, t.WithinKelvin + RiseKelvin/2}
	}
	return t
}

// copperFactor returns by what the resistance of copper grows between two
// temperatures in degrees Celsius, by way of 20 °C:
// R20 = R/(1 + α(t-20)).
func copperFactor(fromCelsius, toCelsius float64) float64 {
	return (1 + CopperPerKelvin*(toCelsius-20)) / (1 + CopperPerKelvin*(fromCelsius-20))
}

// Warmed returns the resistance at another temperature, all of it taken as
// copper; what the contacts add changes less. The temperature it was measured
// at contributes to the uncertainty.
func (e Estimate) Warmed(from Temperature, toCelsius float64) Estimate {
	slope := -CopperPerKelvin / (1 + CopperPerKelvin*(from.Celsius-20))
	return e.scaled(copperFactor(from.Celsius, toCelsius), slope, from.WithinKelvin)
}

// Risen returns the resistance after the copper got warmer by a number of
// kelvin. Where it started from matters little.
func (e Estimate) Risen(from Temperature, kelvin float64) Estimate {
	cold := 1 + CopperPerKelvin*(from.Celsius-20)
	slope := CopperPerKelvin/(cold+CopperPerKelvin*kelvin) - CopperPerKelvin/cold
	return e.scaled(copperFactor(from.Celsius, from.Celsius+kelvin), slope, from.WithinKelvin)
}

// scaled multiplies by a factor that itself depends on a temperature, by
// relativeSlope per kelvin.
func (e Estimate) scaled(f, relativeSlope, withinKelvin float64) Estimate {
	w := e
	w.Ohm *= f
	w.set, w.null, w.Line = nil, nil, nil
	w.Budget = make([]Contribution, 0, len(e.Budget)+1)
	for _, c := range e.Budget {
		c.Sensitivity *= f
		w.Budget = append(w.Budget, c)
	}
	if len(e.Budget) == 0 && e.U > 0 { // written by hand
		w.Budget = append(w.Budget, Contribution{Source: OhmmeterSpec, Type: TypeB, Distribution: Normal, U: e.U * f, Unit: "Ω", Sensitivity: 1, DoF: e.dof(),
			Origin: Origin{Source: OhmmeterSpec, of: new(token)}})
	}
	ambient := typeB(AmbientSpec, withinKelvin, w.Ohm*relativeSlope)
	ambient.Origin = Origin{Source: AmbientSpec, of: e.of}
	w.Budget = append(w.Budget, ambient)
	w.settle()
	return w
}

// Risen returns the result with all the copper a number of kelvin above the session's
// ambient temperature. Copper that was as warm, or warmer, when it was read stays as it is.
func (r Result) Risen(kelvin float64) Result {
	from, ambient := r.Session.Copper(), r.Session.Ambient()
	to := ambient.Celsius + kelvin
	w := r.each(func(e *Estimate) Estimate {
		switch {
		case from == ambient:
			return e.Risen(from, kelvin)
		case to <= from.Celsius:
			return *e
		}
		return e.Warmed(Temperature{from.Celsius, math.Hypot(from.WithinKelvin, ambient.WithinKelvin)}, to)
	})
	w.Session, w.Notes = r.Session, r.Notes
	return w
}

// Warm returns the result as the cable is when it carries a current in ampere for long:
// with the copper RiseKelvin above ambient, unless it was read steady at that current or
// more.
func (r Result) Warm(amp float64) Result {
	if r.SteadyAt(amp) {
		return r
	}
	return r.Risen(RiseKelvin)
}

// SteadyAt reports whether the readings were constant at a current in ampere, or at more,
// within 1 % of it.
func (r Result) SteadyAt(amp float64) bool {
	if !r.Session.Steady {
		return false
	}
	any := false
	for _, e := range [...]*Estimate{r.VBUS, r.Ground, r.Loop} {
		if e == nil {
			continue
		}
		if e.How != Summed && e.How != Subtracted && e.amp < 0.99*amp {
			return false
		}
		any = true
	}
	return any
}

// RiseKelvin is the temperature rise that connectors are allowed at rated
// current (USB Type-C §3.7.8.4, 30 °C over ambient; EN 60512-5-1 in use).
const RiseKelvin = 30

// Heat is the power that a cable turns into heat.
type Heat struct {
	CurrentAmp   float64 // that flows, A
	Watt         float64 // in both conductors
	WattPerMetre Number  // needs the length
	// SheathKelvin is a rough rise of the sheath over the air around it:
	// heat per metre over h·π·D with h = 10 W/m²K (textbook, from memory) and a
	// sheath of D = 4 mm (assumed). All heat is taken to be in the wire.
	SheathKelvin Number
}

const (
	sheathMetre    = 0.004
	sheathTransfer = 10.0
)

// HeatAt returns the heat at a current in ampere. It is not ok without the
// loop's resistance.
func HeatAt(r Result, amp float64) (h Heat, ok bool) {
	if r.Loop == nil {
		return Heat{}, false
	}
	h = Heat{CurrentAmp: amp, Watt: amp * amp * r.Loop.Ohm}
	if l := r.Session.LengthMetre; l.Known {
		h.WattPerMetre = Known(h.Watt / l.Value)
		h.SheathKelvin = Known(h.WattPerMetre.Value / (sheathTransfer * math.Pi * sheathMetre))
	}
	return h, true
}

// FarEndVolt returns the voltage left at the far end of a loop.
func FarEndVolt(sourceVolt, amp, loopOhm float64) float64 { return sourceVolt - amp*loopOhm }
