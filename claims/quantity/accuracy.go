package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Accuracy is a meter's accuracy as its data sheet states it: a bound on the
// error, in parts that add up. Reading and Range are fractions, the others are
// in the SI unit of the quantity measured, Counts in steps of Resolution.
type Accuracy struct {
	Reading    float64 // fraction of the reading, 0 to 1
	Range      float64 // of FullScale
	FullScale  float64 // the range that Range is a fraction of
	Counts     float64 // of Resolution
	Resolution float64 // one step of the last digit
	Fixed      float64 // the same at every reading
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
// "rdg", "rng", "digits" and "dgt" are understood too. A percentage that stands
// alone is of the reading. Each kind of part stands once: a second bare
// percentage is most often of the range, which must be named. The error is an
// *Error.
func ParseAccuracy(text string, d Dimension) (Accuracy, error) {
	p := accuracyParser{parser: parser{text: text, dim: d}}
	body := text
	skip := func(what string) bool {
		trimmed := strings.TrimLeftFunc(body, unicode.IsSpace)
		after, found := strings.CutPrefix(trimmed, what)
		p.at += len(body) - len(after)
		body = after
		return found
	}
	_ = skip("±") || skip("+/-")
	if skip("(") {
		inside, after, closed := strings.Cut(body, ")")
		if !closed {
			return Accuracy{}, p.wrong(len(text), ErrUnit, "the bracket does not close")
		}
		if rest := strings.TrimSpace(after); rest != "" {
			return Accuracy{}, p.wrong(len(text)-len(strings.TrimLeftFunc(after, unicode.IsSpace)), ErrUnit,
				strconv.Quote(rest)+" is left over after the bracket")
		}
		body = inside
	}
	for part := range strings.SplitSeq(body, "+") {
		trimmed := strings.TrimLeftFunc(part, unicode.IsSpace)
		if err := p.part(strings.TrimSpace(part), p.at+len(part)-len(trimmed)); err != nil {
			return Accuracy{}, err
		}
		p.at += len(part) + len("+")
	}
	return p.a, nil
}

type accuracyParser struct {
	parser // at is the byte offset of the part being read
	a      Accuracy
	seen   map[string]bool
}

func (p *accuracyParser) wrong(at int, cause error, wrong string) error {
	e := p.fail(at, cause, "%s", wrong)
	e.Want = accuracyHint(p.dim)
	return e
}

// size reads a quantity that is a size, not a position on a scale.
func (p *accuracyParser) size(text string) (float64, error) {
	return (&parser{text: text, dim: p.dim, difference: true}).quantity()
}

// part reads one part, which stands at a byte offset.
func (p *accuracyParser) part(part string, at int) error {
	number, rest := splitNumber(part)
	if number == "" {
		return p.wrong(at, ErrNumber, "each part begins with a number")
	}
	np := parser{text: number, dim: p.dim}
	n, err := np.number()
	if err != nil {
		return p.wrong(at, err.(*Error).Err, err.(*Error).Wrong)
	}
	if n < 0 {
		return p.wrong(at, ErrRange, "an accuracy is not negative")
	}
	scale, rest, relative := relativeUnit(rest)
	what, of := splitWord(rest)
	kind := "fixed"
	switch what {
	case "", "reading", "rdg", "rd":
		if relative {
			kind = "of reading"
		}
	case "range", "rng", "fs":
		if relative {
			kind = "of range"
		}
	case "count", "counts", "digit", "digits", "dgt", "dgts":
		if !relative {
			kind = "in counts"
		}
	}
	if p.seen[kind] {
		wrong := "a second part " + kind + "; each kind of part stands once"
		if kind == "of reading" {
			wrong += "; if it is of the range, name it, as in \"of range " + rangeExample(p.dim) + "\""
		}
		return p.wrong(at, ErrAmbiguous, wrong)
	}
	if p.seen == nil {
		p.seen = map[string]bool{}
	}
	p.seen[kind] = true
	switch {
	case relative && n*scale > 1:
		return p.wrong(at, ErrRange, "more than the whole")
	case kind == "of reading":
		if of != "" {
			return p.wrong(at+strings.LastIndex(part, of), ErrUnit, strconv.Quote(of)+" is left over")
		}
		p.a.Reading = n * scale
	case kind == "of range":
		full, err := p.size(of)
		if err != nil || full <= 0 {
			return p.wrong(at, ErrNoUnit, "name the range, as in \"of range "+rangeExample(p.dim)+"\"")
		}
		p.a.Range, p.a.FullScale = n*scale, full
	case relative:
		return p.wrong(at+len(part)-len(strings.TrimPrefix(rest, "of ")), ErrUnit, strconv.Quote(what)+" should be reading or range")
	case kind == "in counts":
		step, err := p.size(of)
		if err != nil || step <= 0 {
			return p.wrong(at, ErrNoUnit, "name the step of the last digit, as in \"3 counts of "+stepExample(p.dim)+"\"")
		}
		p.a.Counts, p.a.Resolution = n, step
	default:
		v, err := p.size(part)
		if err != nil {
			e := err.(*Error)
			return &Error{Text: p.text, Column: utf8.RuneCountInString(p.text[:at]) + e.Column, Wrong: e.Wrong,
				Want: accuracyHint(p.dim), Err: e.Err}
		}
		p.a.Fixed = v
	}
	return nil
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
