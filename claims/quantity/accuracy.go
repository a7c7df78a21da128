package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Accuracy is a meter's accuracy as its data sheet states it: a bound on the
// error, in parts that add up. Reading and Range are fractions, the others are
// in the SI unit of the quantity measured, Counts in steps of Resolution.
type Accuracy struct {
	Reading    float64 // of the reading
	Range      float64 // of FullScale
	FullScale  float64
	Counts     float64 // of Resolution
	Resolution float64
	Fixed      float64
}

// HalfWidth is the bound on the error at reading x. The parts of one
// specification bound one error, so they add up linearly.
func (a Accuracy) HalfWidth(x float64) float64 {
	return a.Reading*math.Abs(x) + a.Range*a.FullScale + a.Counts*a.Resolution + a.Fixed
}

// ParseAccuracy reads an accuracy of a meter for the given dimension. Parts are
// joined by "+" and may stand in "±( … )":
//
//	0.05 %  or  0.05 % of reading     of the reading; also ppm
//	0.01 % of range 2 V               of the range named
//	3 counts of 10 µV                 steps of the last digit
//	20 µV                             fixed
//
// "rdg", "rng", "digits" and "dgt" are understood too. The error is an *Error.
func ParseAccuracy(text string, d Dimension) (Accuracy, error) {
	p := parser{text: text, dim: d}
	fail := func(part string, cause error, wrong string) (Accuracy, error) {
		at := max(strings.Index(text, part), 0)
		e := p.fail(at, cause, "%s", wrong)
		e.Want = accuracyHint(d)
		return Accuracy{}, e
	}
	body := strings.TrimSpace(text)
	body = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(body, "±"), "+/-"))
	if strings.HasPrefix(body, "(") && strings.HasSuffix(body, ")") {
		body = body[1 : len(body)-1]
	}
	var a Accuracy
	for part := range strings.SplitSeq(body, "+") {
		part = strings.TrimSpace(part)
		number, rest := splitNumber(part)
		if number == "" {
			return fail(part, ErrNumber, "each part begins with a number")
		}
		np := parser{text: number, dim: d}
		n, err := np.number()
		if err != nil {
			return fail(part, ErrNumber, strconv.Quote(number)+" is no number")
		}
		if n < 0 {
			return fail(part, ErrRange, "an accuracy is not negative")
		}
		scale, rest, relative := relativeUnit(rest)
		switch {
		case relative:
			n *= scale
			what, full := splitWord(rest)
			switch what {
			case "", "reading", "rdg", "rd":
				if full != "" {
					return fail(full, ErrUnit, strconv.Quote(full)+" is left over")
				}
				a.Reading += n
			case "range", "rng", "fs":
				v, err := Parse(full, d)
				if err != nil {
					return fail(part, ErrNoUnit, "name the range, as in \"of range "+rangeExample(d)+"\"")
				}
				if a.Range != 0 {
					return fail(part, ErrUnit, "a second part of range")
				}
				a.Range, a.FullScale = n, math.Abs(v)
			default:
				return fail(what, ErrUnit, strconv.Quote(what)+" should be reading or range")
			}
		default:
			what, step := splitWord(rest)
			switch what {
			case "count", "counts", "digit", "digits", "dgt", "dgts":
				v, err := Parse(step, d)
				if err != nil {
					return fail(part, ErrNoUnit, "name the step of the last digit, as in \"3 counts of "+stepExample(d)+"\"")
				}
				if a.Counts != 0 {
					return fail(part, ErrUnit, "a second part in counts")
				}
				a.Counts, a.Resolution = n, math.Abs(v)
			default:
				v, err := Parse(part, d)
				if err != nil {
					e := *err.(*Error)
					e.Column += len([]rune(text[:max(strings.Index(text, part), 0)]))
					e.Text, e.Want = text, accuracyHint(d)
					return Accuracy{}, &e
				}
				a.Fixed += v
			}
		}
	}
	return a, nil
}

func accuracyHint(d Dimension) string {
	return `"0.05 % + ` + stepExample(d) + `" or "0.5 % + 3 counts of ` + stepExample(d) + `"`
}

func rangeExample(d Dimension) string {
	if d == Current {
		return "10 A"
	}
	if d == Resistance {
		return "1 Ω"
	}
	return "2 V"
}

func stepExample(d Dimension) string {
	if d == Current {
		return "1 mA"
	}
	if d == Resistance {
		return "0.1 mΩ"
	}
	return "20 µV"
}

func splitNumber(s string) (number, rest string) {
	i := 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.' || s[i] == ',' || s[i] == '-' && i == 0) {
		i++
	}
	return s[:i], strings.TrimSpace(s[i:])
}

func relativeUnit(s string) (scale float64, rest string, ok bool) {
	for unit, scale := range map[string]float64{"%": 1e-2, "ppm": 1e-6} {
		if after, found := strings.CutPrefix(s, unit); found {
			return scale, strings.TrimSpace(after), true
		}
	}
	return 0, s, false
}

// splitWord takes the first word, without a leading "of", and what follows it,
// again without "of".
func splitWord(s string) (word, rest string) {
	trim := func(s string) string {
		s = strings.TrimSpace(s)
		if after, ok := strings.CutPrefix(s, "of "); ok {
			return strings.TrimSpace(after)
		}
		return s
	}
	word, rest, _ = strings.Cut(trim(s), " ")
	return strings.ToLower(word), trim(rest)
}

// Text writes the accuracy in a form that ParseAccuracy reads for the same
// dimension.
func (a Accuracy) Text(d Dimension) string {
	var parts []string
	percent := func(f float64) string { return strconv.FormatFloat(f*100, 'g', 10, 64) + " %" }
	if a.Reading != 0 {
		parts = append(parts, percent(a.Reading))
	}
	if a.Range != 0 {
		parts = append(parts, percent(a.Range)+" of range "+Format(a.FullScale, d, 10))
	}
	if a.Counts != 0 {
		parts = append(parts, strconv.FormatFloat(a.Counts, 'g', 10, 64)+" counts of "+Format(a.Resolution, d, 10))
	}
	if a.Fixed != 0 || len(parts) == 0 {
		parts = append(parts, Format(a.Fixed, d, 10))
	}
	return strings.Join(parts, " + ")
}
