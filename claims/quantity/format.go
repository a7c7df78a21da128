package quantity

import (
	"math"
	"strconv"
)

// step is a unit people use from a magnitude up.
type step struct {
	from, factor float64
	unit         string
}

var steps = [...][]step{
	Voltage:     {{1, 1, "V"}, {1e-3, 1e-3, "mV"}, {0, 1e-6, "µV"}},
	Current:     {{1, 1, "A"}, {1e-3, 1e-3, "mA"}, {0, 1e-6, "µA"}},
	Resistance:  {{1, 1, "Ω"}, {0, 1e-3, "mΩ"}},
	Power:       {{1, 1, "W"}, {0, 1e-3, "mW"}},
	Length:      {{0.01, 1, "m"}, {0, 1e-3, "mm"}},
	Rate:        {{1e9, 1e9, "Gbps"}, {1e6, 1e6, "Mbps"}, {1e3, 1e3, "kbps"}, {0, 1, "bps"}},
	Temperature: {{0, 1, "°C"}},
	Area:        {{0, 1e-6, "mm²"}},
	Time:        {{1, 1, "s"}, {1e-3, 1e-3, "ms"}, {1e-6, 1e-6, "µs"}, {0, 1e-9, "ns"}},
}

func unitFor(v float64, d Dimension) step {
	v = math.Abs(v)
	if d >= beyond || d == 0 {
		return step{0, 1, ""}
	}
	list := steps[d]
	if v == 0 {
		return list[0]
	}
	for _, s := range list {
		if v >= s.from {
			return s
		}
	}
	return list[len(list)-1]
}

// Format prints a quantity with its unit and at most the given number of
// significant digits; zeros at the end are dropped.
func Format(v float64, d Dimension, digits int) string {
	s := unitFor(v, d)
	if rounded := round(v, digits); unitFor(rounded, d) != s {
		v, s = rounded, unitFor(rounded, d) // 999.9 mΩ to three digits is 1 Ω
	}
	text := strconv.FormatFloat(round(v/s.factor, digits), 'f', -1, 64)
	if text == "-0" {
		text = "0"
	}
	return text + " " + s.unit
}

// FormatUncertain prints a value with its expanded uncertainty, both to the
// second significant digit of the uncertainty: "121.0 ± 1.8 mΩ".
func FormatUncertain(v, expanded float64, d Dimension) string {
	if !(expanded > 0) || math.IsInf(expanded, 0) {
		return Format(v, d, 4)
	}
	s := unitFor(max(math.Abs(v), expanded), d)
	places := 1 - int(math.Floor(math.Log10(round(expanded/s.factor, 2))))
	if places < 0 {
		shift := math.Pow(10, float64(-places))
		v, expanded = math.Round(v/s.factor/shift)*shift*s.factor, math.Round(expanded/s.factor/shift)*shift*s.factor
		places = 0
	}
	places = min(places, 12)
	return strconv.FormatFloat(v/s.factor, 'f', places, 64) + " ± " +
		strconv.FormatFloat(expanded/s.factor, 'f', places, 64) + " " + s.unit
}

// Figures rounds a number for publication to nine significant digits: far more
// than any reading has, and few enough not to depend on the order of additions.
func Figures(v float64) float64 { return round(v, 9) }

// round keeps the given number of significant digits, as printing and reading the
// number would.
func round(v float64, digits int) float64 {
	if out, ok := roundDecimal(v, digits); ok {
		return out
	}
	var buf [32]byte
	out, err := strconv.ParseFloat(string(strconv.AppendFloat(buf[:0], v, 'g', digits, 64)), 64)
	if err != nil {
		return v
	}
	return out
}

// Powers of ten that a float64 holds exactly.
var tens = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// roundDecimal rounds by way of a whole number of at most 15 digits. That number
// and the power of ten beside it are exact, so their quotient is the float64
// nearest to the decimal. It does not decide where the digits left out are too near
// one half, or where the number is too large or small.
func roundDecimal(v float64, digits int) (float64, bool) {
	a := math.Abs(v)
	if !(a > 1e-12 && a < 1e13) || digits < 1 || digits > 10 {
		return 0, false
	}
	// The power of two gives the power of ten, or one less.
	_, exponent := math.Frexp(a)
	places := digits - 1 - int(math.Floor(float64(exponent-1)*math.Ln2/math.Ln10))
	scaled := timesTen(a, places)
	if scaled >= tens[digits] {
		places--
		scaled = timesTen(a, places)
	}
	whole := math.Floor(scaled)
	rest := scaled - whole
	if scaled < tens[digits-1] || scaled >= tens[digits] || math.Abs(rest-0.5) < 1e-4 {
		return 0, false
	}
	if rest > 0.5 {
		whole++
	}
	return math.Copysign(timesTen(whole, -places), v), true
}

// timesTen is v times a power of ten that tens has, or its inverse has.
func timesTen(v float64, power int) float64 {
	if power >= 0 {
		return v * tens[power]
	}
	return v / tens[-power]
}
