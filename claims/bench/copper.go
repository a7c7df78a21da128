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
// half-width. Where none was noted it is 20 °C within 10 K, an assumption.
func (s Session) Ambient() Temperature {
	if !s.AmbientCelsius.Known {
		return Temperature{20, 10}
	}
	t := Temperature{s.AmbientCelsius.Value, s.AmbientWithinKelvin}
	if t.WithinKelvin == 0 {
		t.WithinKelvin = AssumedAmbientWithinKelvin
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
	w.set, w.Line = nil, nil
	w.Budget = make([]Contribution, 0, len(e.Budget)+1)
	for _, c := range e.Budget {
		c.Sensitivity *= f
		c.Ohm *= f
		w.Budget = append(w.Budget, c)
	}
	if len(e.Budget) == 0 && e.U > 0 { // written by hand
		w.Budget = append(w.Budget, spread(OhmmeterSpec, TypeB, e.U*f, e.dof()))
	}
	w.Budget = append(w.Budget, contribution(AmbientSpec, TypeB, rectangular(withinKelvin), w.Ohm*relativeSlope, math.Inf(1)))
	w.settle()
	return w
}

// Risen returns the result after all the copper got warmer by a number of
// kelvin above the session's ambient temperature.
func (r Result) Risen(kelvin float64) Result {
	w := Result{Session: r.Session}
	for _, c := range conductors {
		if e := r.Estimate(c); e != nil {
			warm := e.Risen(r.Session.Ambient(), kelvin)
			w.set(c, &warm)
		}
	}
	return w
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
