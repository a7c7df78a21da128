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
	Celsius      float64
	WithinKelvin float64
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

// CopperFactor returns by what the resistance of copper grows between two
// temperatures in degrees Celsius, by way of 20 °C:
// R20 = R/(1 + α(t-20)).
func CopperFactor(fromCelsius, toCelsius float64) float64 {
	return (1 + CopperPerKelvin*(toCelsius-20)) / (1 + CopperPerKelvin*(fromCelsius-20))
}

// Warmed returns the resistance at another temperature, all of it taken as
// copper; what the contacts add changes less. The temperature it was measured
// at contributes to the uncertainty.
func (e Estimate) Warmed(from Temperature, toCelsius float64) Estimate {
	f := CopperFactor(from.Celsius, toCelsius)
	w := e
	w.Ohm *= f
	w.set, w.Line = nil, nil
	w.Budget = nil
	for _, c := range e.Budget {
		c.Sensitivity *= f
		c.Ohm *= f
		w.Budget = append(w.Budget, c)
	}
	if len(e.Budget) == 0 && e.U > 0 { // written by hand
		w.Budget = append(w.Budget, spread(OhmmeterSpec, TypeB, e.U*f, e.dof()))
	}
	slope := -w.Ohm * CopperPerKelvin / (1 + CopperPerKelvin*(from.Celsius-20))
	w.Budget = append(w.Budget, contribution(AmbientSpec, TypeB, rectangular(from.WithinKelvin), slope, math.Inf(1)))
	w.settle()
	return w
}
