package shelf

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Price is an amount of money in one currency. Prices in different currencies are
// never compared: they sort by currency first.
type Price struct {
	Known    bool    // whether Text is an amount; the next two count only then
	Amount   float64 // in the currency's unit
	Currency string  // as written, upper case; empty where none is
	Text     string  // as the record has it
}

var (
	priceBefore = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\pL{1,3}|\p{Sc})\s*([0-9][0-9.,]*)$`) })
	priceAfter  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9][0-9.,]*)\s*(\pL{1,3}|\p{Sc})?$`) })
)

// ParsePrice reads a number with a currency's code or sign before or after it, as
// "12.90 EUR" or "$8". A comma is the decimal sign where one or two digits follow
// it. A text that is none of this is kept, and is not known.
func ParsePrice(text string) Price {
	p := Price{Text: text}
	t := strings.TrimSpace(text)
	var number string
	if m := priceBefore().FindStringSubmatch(t); m != nil {
		p.Currency, number = m[1], m[2]
	} else if m := priceAfter().FindStringSubmatch(t); m != nil {
		number, p.Currency = m[1], m[2]
	}
	p.Currency = strings.ToUpper(p.Currency)
	if whole, part, ok := strings.Cut(number, ","); ok && len(part) <= 2 && !strings.ContainsAny(part, ".,") {
		number = whole + "." + part
	}
	v, err := strconv.ParseFloat(number, 64)
	p.Amount, p.Known = v, err == nil && !math.IsInf(v, 0)
	return p
}

// String prints the price as it is compared; empty where it is not known.
func (p Price) String() string {
	if !p.Known {
		return ""
	}
	return strings.TrimSpace(strconv.FormatFloat(p.Amount, 'f', 2, 64) + " " + p.Currency)
}

// DefaultBands are the upper ends of the price bands, in any currency.
func DefaultBands() []float64 { return []float64{5, 10, 20} }

// band names the price band an amount falls into.
func (p Price) band(ends []float64) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	i := 0
	for i < len(ends) && p.Amount >= ends[i] {
		i++
	}
	var s string
	switch {
	case len(ends) == 0:
		s = "any price"
	case i == 0:
		s = "under " + number(ends[0])
	case i == len(ends):
		s = number(ends[i-1]) + " and over"
	default:
		s = number(ends[i-1]) + " to under " + number(ends[i])
	}
	return strings.TrimSpace(s + " " + p.Currency)
}

func comparePrices(a, b Price) int {
	return cmp.Or(strings.Compare(a.Currency, b.Currency), cmp.Compare(a.Amount, b.Amount))
}

// ParseBands reads the upper ends of price bands, rising and above zero, with commas
// between. The error is an *Error with the cause ErrBands.
func ParseBands(text string) ([]float64, error) {
	var out []float64
	for _, part := range strings.Split(text, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || !finite(v) || v <= 0 || len(out) > 0 && v <= out[len(out)-1] {
			return nil, &Error{Text: text, Wrong: fmt.Sprintf("%q is no price above the one before", strings.TrimSpace(part)), Want: `write rising numbers, as "5,10,20"`, Err: ErrBands}
		}
		out = append(out, v)
	}
	return out, nil
}
