// Package say puts numbers and answers into the words that rules, reports and pages share.
package say

import (
	"fmt"
	"unicode"
	"unicode/utf8"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/vdo"
)

// Capitalised is a text with a capital letter in front.
func Capitalised(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// YesOrNo says a truth.
func YesOrNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// Watts, Amps and Volts print W, A and V; Metres m, Celsius °C.
func Watts(w float64) string   { return quantity.Format(w, quantity.Power, 4) }
func Amps(a float64) string    { return quantity.Format(a, quantity.Current, 4) }
func Volts(v float64) string   { return quantity.Format(v, quantity.Voltage, 4) }
func Metres(l float64) string  { return quantity.Format(l, quantity.Length, 4) }
func Celsius(t float64) string { return quantity.Format(t, quantity.Temperature, 3) }

// Gbps prints a rate in Gbps.
func Gbps(v float64) string { return quantity.Format(v*1e9, quantity.Rate, 4) }

// Ohm prints a resistance with its expanded uncertainty, where that is known.
func Ohm(e *bench.Estimate) string {
	if e.Expanded == 0 {
		return quantity.Format(e.Ohm, quantity.Resistance, 4)
	}
	return quantity.FormatUncertain(e.Ohm, e.Expanded, quantity.Resistance)
}

// Limit prints the limit of a conductor at a current in A.
func Limit(by bench.Acceptance, c bench.Conductor, amps float64) string {
	return quantity.Format(by.LimitOhm(c, amps), quantity.Resistance, 4)
}

// Conductor is a conductor as the subject of a sentence.
func Conductor(c bench.Conductor) string {
	if c == bench.Loop {
		return "the loop"
	}
	return c.Name()
}

// Word prints a word, as "0xFF00A041".
func Word(w uint32) string { return fmt.Sprintf("0x%08X", w) }

// ID prints a vendor ID, product ID or SVID, as "0x2FA1".
func ID(id uint16) string { return fmt.Sprintf("0x%04X", id) }

// Delay prints a latency range.
func Delay(d vdo.Delay) string {
	switch {
	case d.UpTo == 0:
		return fmt.Sprintf("over %d ns", d.Over)
	case d.UpTo == d.Over:
		return fmt.Sprintf("%d ns", d.Over)
	case d.Over == 0:
		return fmt.Sprintf("up to %d ns", d.UpTo)
	}
	return fmt.Sprintf("%d to %d ns", d.Over, d.UpTo)
}

// Speed says what a marker declares about its speed.
func Speed(s *vdo.Summary) string {
	v, ok := s.Speed.Get()
	if !ok {
		return "no valid speed"
	}
	text := fmt.Sprintf("%s, %g Gbps a lane", v, v.LaneGbps())
	if v == vdo.USB2 {
		text = "USB 2.0 only, 480 Mbps"
	}
	if m, ok := s.Thunderbolt.Get(); ok {
		text += fmt.Sprintf("; in its Thunderbolt mode word, %s", m.Speed())
	}
	return text
}
