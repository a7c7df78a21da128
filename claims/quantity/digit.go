package quantity

import "strings"

// LastDigit returns one step of the last digit that a quantity was written to, in the SI
// unit: 0.1 mV for "93.1 mV". It is 0 for what is no plain decimal number with a unit.
func LastDigit(text string, d Dimension) float64 {
	text = strings.TrimSpace(text)
	number, unit := splitNumber(strings.TrimLeft(text, "+−-"))
	if number == "" || unit == "" || strings.ContainsAny(unit, "0123456789") {
		return 0
	}
	step := []byte(number)
	last := -1
	for i, c := range step {
		switch {
		case c >= '0' && c <= '9':
			step[i], last = '0', i
		case c == ',':
			step[i] = '.'
		}
	}
	if last < 0 {
		return 0
	}
	step[last] = '1'
	v, err := Parse(string(step)+" "+unit, d)
	if err != nil {
		return 0
	}
	return v
}
