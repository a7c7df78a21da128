package rules

import (
	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
)

// The numbers of findings, with their units.

func watts(w float64) claims.Amount {
	return claims.Amount{Text: say.Watts(w), Value: w, Unit: "W"}
}

func amperes(a float64) claims.Amount {
	return claims.Amount{Text: say.Amps(a), Value: a, Unit: "A"}
}

func volts(v float64) claims.Amount {
	return claims.Amount{Text: say.Volts(v), Value: v, Unit: "V"}
}

func metres(l float64) claims.Amount {
	return claims.Amount{Text: say.Metres(l), Value: l, Unit: "m"}
}

func celsius(t float64) claims.Amount {
	return claims.Amount{Text: say.Celsius(t), Value: t, Unit: "°C"}
}

func gbps(rate float64) claims.Amount {
	return claims.Amount{Text: say.Gbps(rate), Value: rate, Unit: "Gbps"}
}

func ohms(e *bench.Estimate) claims.Amount {
	return claims.Amount{Text: say.Ohm(e), Value: e.Ohm, Expanded: e.Expanded, Unit: "ohm"}
}

// limit is the limit of a conductor at a current in A.
func limit(c *claims.Case, of bench.Conductor, amps float64) claims.Amount {
	return claims.Amount{Text: say.Limit(c.Acceptance, of, amps), Value: c.Acceptance.LimitOhm(of, amps), Unit: "ohm"}
}
