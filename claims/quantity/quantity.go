// Package quantity parses and prints the quantities a cable tester types:
// "92.1 mV", "6 ft", "40 Gbps", "20 AWG". Inside gainsay every quantity is a
// float64 in SI units; prefixes and other units exist only in text.
//
//	volts, err := quantity.Parse("92.1 mV", quantity.Voltage) // 0.0921
//	text := quantity.Format(volts, quantity.Voltage, 4)       // "92.1 mV"
//
// A quantity is a number and a unit. The unit is required. The number is
// decimal with an optional exponent. A point is the decimal sign. A comma is
// taken as the decimal sign only where it stands alone and other than three
// digits follow it, as in "1,5 A"; "1,500 A" could mean two things and is
// refused. Digits are not grouped.
package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Dimension is the kind of a quantity. Its unit inside gainsay is the SI unit
// named in the comment.
type Dimension uint8

const (
	Voltage     Dimension = iota + 1 // volt
	Current                          // ampere
	Resistance                       // Ω
	Power                            // watt
	Length                           // m
	Rate                             // bit/s
	Temperature                      // °C
	Area                             // m², of a conductor
	Time                             // second

	beyond // no dimension: the number of those above
)

// known gives what is known about a dimension; nothing where there is no such
// dimension.
func (d Dimension) known() *dimension {
	if d >= beyond {
		d = 0
	}
	return &dimensions()[d]
}

// dimension holds what is known about one kind of quantity.
type dimension struct {
	name  string
	units map[string]float64 // spelling → factor to the SI unit
	most  float64            // largest magnitude accepted, in SI
	hint  string             // what a good text looks like
}

// Error says what in a text is no quantity, where, and what would be right.
type Error struct {
	Text   string // the whole text
	Column int    // in characters, from 1
	Wrong  string // what is no quantity
	Want   string // how a good text looks
	Err    error  // one of the sentinels below
}

// Error says text, fault, place and remedy in one line, with no more than the
// beginning of a long text.
func (e *Error) Error() string {
	return fmt.Sprintf("%s: %s (column %d); write it like %s", quoted(e.Text), e.Wrong, e.Column, e.Want)
}

// quoted quotes a text, of a long one the beginning.
func quoted(s string) string {
	const most = 200 // bytes
	if len(s) > most {
		return strconv.Quote(s[:most]) + " …"
	}
	return strconv.Quote(s)
}

// Unwrap gives the cause, one of the Err values of this package.
func (e *Error) Unwrap() error { return e.Err }

// Causes of an Error.
var (
	ErrNumber    = errors.New("not a number")                   // no number stands where one should
	ErrAmbiguous = errors.New("number can be read in two ways") // as "1,500 A", or a bare second percentage
	ErrNoUnit    = errors.New("unit missing")                   // a number alone
	ErrUnit      = errors.New("unit not known")                 // a unit, or a word, that is not known here
	ErrDimension = errors.New("unit of another kind")           // as metres where volts should stand
	ErrRange     = errors.New("out of range")                   // beyond what such a quantity can be
)

func prefixed(units map[string]float64, prefixes string, names ...string) map[string]float64 {
	scale := map[rune]float64{'µ': 1e-6, 'μ': 1e-6, 'u': 1e-6, 'm': 1e-3, 'k': 1e3, 'M': 1e6, 'G': 1e9, 'T': 1e12, 'n': 1e-9}
	for _, name := range names {
		for _, p := range prefixes {
			if p == '-' {
				units[name] = 1
			} else {
				units[string(p)+name] = scale[p]
			}
		}
	}
	return units
}

// dimensions are made when the first quantity is read.
var dimensions = sync.OnceValue(func() *[beyond]dimension {
	return &[beyond]dimension{
		Voltage: {"voltage", prefixed(map[string]float64{}, "-µμunmk", "V", "v", "volt", "volts"), 1e6, `"92.1 mV" or "20 V"`},
		Current: {"current", prefixed(map[string]float64{}, "-µμunmk", "A", "a", "amp", "amps"), 1e6, `"1.0002 A" or "500 mA"`},
		Resistance: {"resistance", prefixed(map[string]float64{}, "-µμunmkM", "\u03a9", "\u2126", "ohm", "ohms", "Ohm", "Ohms"),
			1e12, `"92 mohm" or "92 mΩ"`},
		Power: {"power", prefixed(map[string]float64{}, "-mk", "W", "w", "watt", "watts"), 1e9, `"240 W"`},
		Length: {"length", map[string]float64{"m": 1, "cm": 0.01, "mm": 0.001, "km": 1000,
			"metre": 1, "metres": 1, "meter": 1, "meters": 1,
			"ft": foot, "ft.": foot, "feet": foot, "foot": foot, "'": foot, "′": foot, "’": foot,
			"in": inch, "in.": inch, "inch": inch, "inches": inch, `"`: inch, "″": inch, "”": inch}, 1e6, `"1.98 m", "6 ft" or "6 ft 6 in"`},
		Rate: {"data rate", rates(), 1e15, `"40 Gbps" or "480 Mbps"`},
		Temperature: {"temperature", map[string]float64{"°C": 1, "℃": 1, "C": 1, "degC": 1, "K": 1},
			1e4, `"23 °C"`},
		Area: {"conductor size", map[string]float64{"mm²": 1e-6, "mm2": 1e-6, "mm^2": 1e-6, "AWG": 1, "awg": 1},
			1e-2, `"20 AWG" or "0.5 mm²"`},
		Time: {"time", map[string]float64{"s": 1, "ms": 1e-3, "us": 1e-6, "µs": 1e-6, "μs": 1e-6, "ns": 1e-9,
			"min": 60, "h": 3600}, 1e12, `"12.5 s"`},
	}
})

const (
	inch = 0.0254    // m, exactly
	foot = 12 * inch // m

	zeroCelsius = 273.15 // K
)

func rates() map[string]float64 {
	units := map[string]float64{}
	for p, f := range map[string]float64{"": 1, "k": 1e3, "K": 1e3, "M": 1e6, "m": 1e6, "G": 1e9, "g": 1e9, "T": 1e12, "t": 1e12} {
		for _, u := range []string{"bps", "b/s", "bit/s", "bits/s"} {
			units[p+u] = f
		}
	}
	for _, u := range []string{"mbps", "mb/s", "mbit/s", "mbits/s"} {
		units[u] = 1e6 // nobody means millibits
	}
	return units
}

// String names the dimension as errors do.
func (d Dimension) String() string { return d.known().name }

// Hint shows how a quantity of this kind is written.
func (d Dimension) Hint() string { return d.known().hint }

// Parse reads a quantity and gives it in the SI unit of its dimension. The error
// is an *Error.
func Parse(text string, d Dimension) (float64, error) {
	p := parser{text: text, dim: d}
	v, err := p.quantity()
	if err != nil {
		return 0, err
	}
	return v, nil
}

type parser struct {
	text string
	at   int // byte offset
	dim  Dimension
	// difference says that K is a difference, as in an accuracy, not an
	// absolute temperature.
	difference bool
}

func (p *parser) fail(at int, cause error, format string, args ...any) *Error {
	return &Error{
		Text: p.text, Column: utf8.RuneCountInString(p.text[:at]) + 1,
		Wrong: fmt.Sprintf(format, args...), Want: p.dim.Hint(), Err: cause,
	}
}

func (p *parser) blanks() {
	for p.at < len(p.text) {
		r, n := utf8.DecodeRuneInString(p.text[p.at:])
		if !unicode.IsSpace(r) {
			return
		}
		p.at += n
	}
}

func (p *parser) quantity() (float64, error) {
	p.blanks()
	if p.dim == Area {
		if v, ok, err := p.gaugeFirst(); ok || err != nil {
			return v, err
		}
	}
	start := p.at
	v, unit, err := p.term()
	if err != nil {
		return 0, err
	}
	switch {
	case p.dim == Area && strings.EqualFold(unit, "AWG"):
		if v, err = p.gauge(start, v); err != nil {
			return 0, err
		}
	case p.dim == Temperature && unit == "K" && !p.difference:
		v -= zeroCelsius
	default:
		v *= p.dim.known().units[unit]
	}
	// Feet and inches may stand together.
	if p.dim == Length && Length.known().units[unit] == foot && p.at < len(p.text) {
		second := p.at
		w, unit, err := p.term()
		if err != nil {
			return 0, err
		}
		if Length.known().units[unit] != inch || w < 0 || w >= 12 {
			return 0, p.fail(second, ErrUnit, "after feet come inches, under 12")
		}
		if math.Signbit(v) {
			return 0, p.fail(start, ErrRange, "feet and inches together are not negative")
		}
		v += w * inch
	}
	if p.at < len(p.text) {
		return 0, p.fail(p.at, ErrUnit, "%s is left over after the quantity", quoted(p.text[p.at:]))
	}
	if wrong := p.dim.OutOfRange(v); wrong != "" {
		return 0, p.fail(start, ErrRange, "%s", wrong)
	}
	return v, nil
}

// OutOfRange says why no quantity of the dimension has a value, in SI units (°C for
// temperatures); empty where one can.
func (d Dimension) OutOfRange(v float64) string {
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.Abs(v) > d.known().most:
		return fmt.Sprintf("larger than any %s gainsay takes", d)
	case d == Temperature && v < -zeroCelsius:
		return "colder than absolute zero"
	}
	return ""
}

// term reads a number and its unit, up to the next number or the end.
func (p *parser) term() (float64, string, error) {
	v, err := p.number()
	if err != nil {
		return 0, "", err
	}
	p.blanks()
	start := p.at
	for p.at < len(p.text) {
		r, n := utf8.DecodeRuneInString(p.text[p.at:])
		if unicode.IsSpace(r) || unicode.IsDigit(r) && !strings.HasPrefix(p.text[start:], "mm") {
			break
		}
		p.at += n
	}
	unit := p.text[start:p.at]
	end := p.at
	p.blanks()
	if unit == "" {
		return 0, "", p.fail(end, ErrNoUnit, "the unit is missing")
	}
	if _, ok := p.dim.known().units[unit]; ok {
		return v, unit, nil
	}
	for d := Voltage; d <= Time; d++ {
		if _, ok := d.known().units[unit]; ok {
			return 0, "", p.fail(start, ErrDimension, "%s is a unit of %s, not of %s", quoted(unit), d, p.dim)
		}
	}
	return 0, "", p.fail(start, ErrUnit, "%s is no unit of %s", quoted(unit), p.dim)
}

// number reads a decimal number by the package's rule for comma and point.
func (p *parser) number() (float64, error) {
	start := p.at
	digits, points, commas, afterComma := 0, 0, 0, 0
	if p.at < len(p.text) && (p.text[p.at] == '+' || p.text[p.at] == '-') {
		p.at++
	} else if strings.HasPrefix(p.text[p.at:], "−") {
		p.at += len("−")
	}
scan:
	for p.at < len(p.text) {
		switch c := p.text[p.at]; {
		case c >= '0' && c <= '9':
			digits++
			if commas > 0 {
				afterComma++
			}
		case c == '.':
			points++
		case c == ',':
			commas++
		case (c == 'e' || c == 'E') && digits > 0 && exponent(p.text[p.at:]) > 0:
			p.at += exponent(p.text[p.at:])
			break scan
		default:
			break scan
		}
		p.at++
	}
	token := p.text[start:p.at]
	switch {
	case digits == 0:
		return 0, p.fail(start, ErrNumber, "a number should stand here")
	case points+commas > 1:
		return 0, p.fail(start, ErrAmbiguous, "%s has more than one decimal sign; digits are not grouped", quoted(token))
	case commas == 1 && afterComma == 3:
		return 0, p.fail(start, ErrAmbiguous, "%s can be read in two ways; write a point for the decimal sign", quoted(token))
	}
	if after, minus := strings.CutPrefix(token, "−"); minus {
		token = "-" + after
	}
	if commas > 0 {
		token = strings.Replace(token, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(token, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, p.fail(start, ErrRange, "%s is too large a number", quoted(token))
	}
	return v, nil
}

// exponent gives the length of an exponent at the start of s, 0 if there is
// none.
func exponent(s string) int {
	i := 1
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	start := i
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	if i == start {
		return 0
	}
	return i
}
