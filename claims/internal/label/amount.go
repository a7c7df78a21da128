package label

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims/quantity"
)

// Units by their spellings in lower case, each with its factor to the SI unit.
var (
	watts   = map[string]float64{"w": 1, "watt": 1, "watts": 1, "kw": 1e3}
	amperes = map[string]float64{"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1, "ma": 1e-3}
	volts   = map[string]float64{"v": 1, "volt": 1, "volts": 1, "vdc": 1, "v⎓": 1, "vbus": 1}
	metres  = map[string]float64{"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "cm": 0.01, "mm": 0.001,
		"centimetre": 0.01, "centimetres": 0.01, "centimeter": 0.01, "centimeters": 0.01, "ft": foot, "foot": foot, "feet": foot, "'": foot,
		"in": inch, "inch": inch, "inches": inch, "\"": inch}
	metric  = map[string]float64{"m": 1, "cm": 0.01, "mm": 0.001}
	squares = map[string]float64{"mm²": 1e-6, "mm2": 1e-6, "sqmm": 1e-6}
)

const (
	inch = 0.0254 // m, exactly
	foot = 12 * inch
)

// The largest values read, beyond any cable: W, A or V; m; Gbps.
const (
	mostAmount = 1e5
	mostMetres = 1e5
	mostGbps   = 1e5
)

// The most that a claim of power may imply: EPR's 50 V with 5 A, else the 21 V of PPS, and
// the 6 A of other charging schemes with some room.
const (
	mostVolts    = 50.0
	mostSPRVolts = 21.0
	eprAmps      = 5.0
	mostAmps     = 6.5
)

const highest = "write the highest, or one entry of claims for each source"

// amounts reads the numbers of a plain text, each by the first of the tables that has its
// unit. It refuses words that are neither units, nor idle, nor signs between values.
func amounts(text, want string, signs string, tables ...map[string]float64) ([][]float64, *Error) {
	if err := tooLong(text, want); err != nil {
		return nil, err
	}
	s := strings.ToLower(plain(text))
	s = strings.ReplaceAll(s, "⎓", "")
	if err := refuseBound(text, s, want); err != nil {
		return nil, err
	}
	if strings.HasPrefix(s, "-") {
		return nil, refuse(text, "the value is not above zero", want)
	}
	ps, err := pieces(without(s, idle))
	if err != nil {
		return nil, refuse(text, err.Error(), want)
	}
	out := make([][]float64, len(tables))
	for _, p := range ps {
		if p.digits == "" {
			if strings.Contains(signs, p.word) || strings.Contains(signs, " "+p.word+" ") {
				continue
			}
			return nil, refuse(text, fmt.Sprintf("%q is not understood here", p.raw), want)
		}
		i := slices.IndexFunc(tables, func(t map[string]float64) bool { return t[p.word] != 0 })
		switch {
		case p.word == "":
			return nil, refuse(text, fmt.Sprintf("%q has no unit", p.digits), want)
		case i < 0:
			return nil, refuse(text, notUnit(p, "this claim"), want)
		case p.number <= 0:
			return nil, refuse(text, "the value is not above zero", want)
		}
		v := scaled(p.number, tables[i][p.word])
		if v > mostAmount {
			return nil, refuse(text, "the value is beyond any cable", want)
		}
		out[i] = append(out[i], v)
	}
	return out, nil
}

// notUnit says that a unit is not one of a claim, and of what it is.
func notUnit(p piece, of string) string {
	for _, known := range []struct {
		table map[string]float64
		of    string
	}{{watts, "power"}, {amperes, "current"}, {volts, "voltage"}, {metres, "length"}, {squares, "conductors"}} {
		if known.table[p.word] != 0 {
			return fmt.Sprintf("%q is a unit of %s", unitText(p.raw), known.of)
		}
	}
	return fmt.Sprintf("%q is not a unit of %s", p.raw, of)
}

// unitText gives a unit back as it is usually written: V, but m.
func unitText(raw string) string {
	if len(raw) == 1 && strings.Contains("vaw", raw) {
		return strings.ToUpper(raw)
	}
	return raw
}

// scaled multiplies so that a decimal stays the decimal it is: 500 mA is 0.5 A.
func scaled(v, by float64) float64 {
	if by < 1 && math.Round(1/by)*by == 1 {
		return v / math.Round(1/by)
	}
	return v * by
}

// one gives the value that all of a list agree on.
func one(vs []float64) (float64, bool) {
	for _, v := range vs[1:] {
		if v != vs[0] {
			return 0, false
		}
	}
	return vs[0], true
}

// Power reads a wattage in W, or volts times amperes: "240W EPR", "20V/5A".
func Power(text string) (watt float64, normal string, err *Error) {
	const want = `write the wattage, as in "100 W"`
	if v, ok := bareAmount(text, watts); ok {
		return v, decimal(v) + " W", nil
	}
	all, err := amounts(text, want, "/(),x@*=:- at and with ", watts, volts, amperes)
	if err != nil {
		return 0, "", err
	}
	w, v, a := all[0], all[1], all[2]
	switch {
	case len(w) == 0 && (len(v) == 0 || len(a) == 0):
		return 0, "", refuse(text, "no wattage stands here", want)
	}
	if len(w) > 0 {
		first, same := one(w)
		if !same {
			return 0, "", refuse(text, "two different wattages stand here", highest+`, as in "`+decimal(slices.Max(w))+` W"`)
		}
		watt = first
	}
	if len(v) == 0 != (len(a) == 0) {
		// One of the two implies the other, which a cable must be able to have.
		volt, amp := mostVolts, mostAmps
		if len(v) > 0 {
			volt = slices.Min(v)
			amp = watt / volt
		} else {
			amp = slices.Min(a)
			volt = watt / amp
		}
		most := mostVolts
		if amp < eprAmps {
			most = mostSPRVolts
		}
		if volt > most || amp > mostAmps {
			return 0, "", refuse(text, fmt.Sprintf("%s W would be %s V at %s A", decimal(watt), decimal(round(volt)), decimal(round(amp))),
				`write the one that the label means, as in "`+decimal(watt)+` W"`)
		}
		return watt, decimal(watt) + " W", nil
	}
	if len(v) > 0 {
		volt, sameV := one(v)
		amp, sameA := one(a)
		if !sameV || !sameA {
			return 0, "", refuse(text, "several voltages or currents stand here", highest+`, as in "100 W"`)
		}
		product := round(volt * amp)
		if product > mostAmount {
			return 0, "", refuse(text, "the value is beyond any cable", want)
		}
		if watt == 0 {
			watt = product
		}
		if math.Abs(watt-product) > 0.01*watt {
			return 0, "", refuse(text, fmt.Sprintf("%s V times %s A are %s W, not %s W", decimal(volt), decimal(amp), decimal(product), decimal(watt)),
				`write the one that the label means, as in "`+decimal(watt)+` W"`)
		}
	}
	return watt, decimal(watt) + " W", nil
}

// round takes the last binary digits off a product of decimals.
func round(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// Current reads a current in A.
func Current(text string) (amp float64, normal string, err *Error) {
	return single(text, `write the current, as in "5 A"`, amperes, "A")
}

// Voltage reads a voltage in V.
func Voltage(text string) (volt float64, normal string, err *Error) {
	return single(text, `write the voltage, as in "20 V"`, volts, "V")
}

func single(text, want string, table map[string]float64, unit string) (float64, string, *Error) {
	if v, ok := bareAmount(text, table); ok {
		return v, decimal(v) + " " + unit, nil
	}
	all, err := amounts(text, want, "/,()", table)
	if err != nil {
		return 0, "", err
	}
	if len(all[0]) == 0 {
		return 0, "", refuse(text, "no value stands here", want)
	}
	v, same := one(all[0])
	if !same {
		return 0, "", refuse(text, "several values stand here", highest+`, as in "`+decimal(slices.Max(all[0]))+" "+unit+`"`)
	}
	return v, decimal(v) + " " + unit, nil
}

// Length reads a length in m: "6 ft 6 in", "1m (3.3ft)". Two lengths agree within 2 %.
func Length(text string) (m float64, normal string, err *Error) {
	const want = `write one length, as in "2 m" or "6 ft"`
	if v, ok := bareAmount(text, metric); ok {
		return v, decimal(v) + " m", nil
	}
	if err := tooLong(text, want); err != nil {
		return 0, "", err
	}
	s := strings.ToLower(plain(text))
	if err := refuseBound(text, s, want); err != nil {
		return 0, "", err
	}
	if strings.HasPrefix(s, "-") {
		return 0, "", refuse(text, "the length is not above zero", want)
	}
	s = strings.NewReplacer("''", "\"", "ft.", "ft", "in.", "in").Replace(s)
	ps, perr := pieces(without(s, idle))
	if perr != nil {
		return 0, "", refuse(text, perr.Error(), want)
	}
	var lengths []float64
	var inMetres float64
	feet := false // the piece before was in feet, so inches may follow
	for _, p := range ps {
		if p.digits == "" {
			if !strings.Contains("/(),= or ", p.word) {
				return 0, "", refuse(text, fmt.Sprintf("%q is not understood here", p.raw), want)
			}
			feet = false
			continue
		}
		unit := metres[p.word]
		switch {
		case p.word == "":
			return 0, "", refuse(text, fmt.Sprintf("%q has no unit of length", p.digits), want)
		case unit == 0:
			return 0, "", refuse(text, notUnit(p, "length"), want)
		case unit == inch && feet && p.number < 12:
			lengths[len(lengths)-1] = round(lengths[len(lengths)-1] + p.number*inch)
			feet = false
			continue
		case p.number <= 0:
			return 0, "", refuse(text, "the length is not above zero", want)
		}
		v := scaled(p.number, unit)
		if v > mostMetres {
			return 0, "", refuse(text, "the length is beyond any cable", want)
		}
		if unit == foot || unit == inch {
			v = round(v)
		} else if inMetres == 0 {
			inMetres = v
		}
		lengths = append(lengths, v)
		feet = unit == foot
	}
	if len(lengths) == 0 {
		return 0, "", refuse(text, "no length stands here", want)
	}
	m = lengths[0]
	if inMetres > 0 {
		m = inMetres
	}
	for _, l := range lengths {
		if math.Abs(l-m) > 0.02*m {
			return 0, "", refuse(text, fmt.Sprintf("two lengths stand here, %s m and %s m", decimal(round(m)), decimal(round(l))), "write the one that the label means, as in \""+decimal(round(m))+" m\"")
		}
	}
	return m, decimal(m) + " m", nil
}

var copperIdle = longest("copper", "pure", "tinned", "stranded", "conductor", "conductors", "wire", "wires", "power", "core", "thick", "(", ")", "oxygen-free", "oxygen free", "size", "each")

// Conductors reads the size of one power conductor in m² of copper: a gauge or mm².
func Conductors(text string) (area float64, normal string, err *Error) {
	const want = `write that of one power conductor, as in "20 AWG" or "0.5 mm²"`
	if n, unit, ok := strings.Cut(text, " "); ok && (unit == "AWG" || unit == "mm²") && len(n) < 6 && n != "" && digit(n[0]) {
		if v, nerr := number(n); nerr == nil {
			normal = decimal(v) + " " + unit
			if area, qerr := quantity.Parse(normal, quantity.Area); qerr == nil && area > 0 {
				return area, normal, nil
			}
		}
	}
	if err := tooLong(text, want); err != nil {
		return 0, "", err
	}
	s := strings.ToLower(plain(text))
	if err := refuseBound(text, s, want); err != nil {
		return 0, "", err
	}
	s = strings.NewReplacer("sq mm", "sqmm", "sq. mm", "sqmm", "square mm", "sqmm", "mm^2", "mm²", "mm 2", "mm²", "mm2", "mm²").Replace(s)
	s = strings.ReplaceAll(s, "awg-", "awg ")
	s = without(s, copperIdle)
	ps, perr := pieces(s)
	if perr != nil {
		return 0, "", refuse(text, perr.Error(), want)
	}
	var gauges, areas []float64
	before := false // the word of gauges stood before
	for _, p := range ps {
		gauge := slices.Contains([]string{"awg", "ga", "gauge", "g", "#"}, p.word)
		switch {
		case p.digits == "" && gauge:
			before = true
		case p.digits == "":
			return 0, "", refuse(text, fmt.Sprintf("%q is not understood here", p.raw), want)
		case gauge, before && p.word == "":
			gauges = append(gauges, p.number)
			before = false
		case squares[p.word] > 0:
			areas = append(areas, p.number)
		case p.word == "":
			return 0, "", refuse(text, fmt.Sprintf("%q has no unit", p.digits), want)
		default:
			return 0, "", refuse(text, notUnit(p, "conductors"), want)
		}
	}
	switch {
	case len(gauges)+len(areas) == 0:
		return 0, "", refuse(text, "no conductor size stands here", want)
	case len(gauges)+len(areas) > 1:
		return 0, "", refuse(text, "several conductor sizes stand here", want)
	case len(gauges) == 1:
		normal = decimal(gauges[0]) + " AWG"
	default:
		normal = decimal(areas[0]) + " mm²"
	}
	area, qerr := quantity.Parse(normal, quantity.Area)
	if qerr != nil || area <= 0 {
		return 0, "", refuse(text, "no such conductor size is made", want)
	}
	return area, normal, nil
}
