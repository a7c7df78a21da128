package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/claims/quantity"
)

// Order is one column to sort by.
type Order struct {
	Column  *Column // what to sort by
	Falling bool    // the largest first
}

// ParseOrder reads columns to sort by, with commas between; a minus before a name
// sorts from the largest down. What is not known comes last either way. The error
// is an *Error with the cause ErrColumn.
func ParseOrder(text string) ([]Order, error) {
	var out []Order
	for _, name := range strings.Split(text, ",") {
		name, falling := strings.CutPrefix(strings.TrimSpace(name), "-")
		c := ColumnNamed(name)
		if c == nil {
			return nil, unknownColumn(name, text)
		}
		out = append(out, Order{c, falling})
	}
	return out, nil
}

// Sort sorts records by columns. Records that compare as equal keep their order.
func Sort(items []*Item, by []Order) {
	slices.SortStableFunc(items, func(a, b *Item) int {
		for _, o := range by {
			v, w := o.Column.Of(a), o.Column.Of(b)
			n := v.compare(w, o.Column.Numeric)
			if o.Falling && v.Known && w.Known {
				n = -n
			}
			if n != 0 {
				return n
			}
		}
		return 0
	})
}

// Filter is a condition on one column.
type Filter struct {
	column *Column
	sign   string
	text   string
	value  Value
}

// signs of a filter, the longer ones first.
var signs = []string{"!=", "<=", ">=", "=", "<", ">", "~"}

// ParseFilter reads a condition: a column, one of = != < <= > >= ~, and a value,
// as "shown>=60 W", "seller=Tarrowby Electrics" or "label~braided". A value of a
// column with a unit carries its unit. ~ asks whether the cell contains the text,
// = and != with nothing behind them ask whether the cell is empty. Text compares
// without regard to upper and lower case. A cell that is not known meets only
// != and an empty =. The error is an *Error with the cause ErrColumn or
// ErrCondition; below it is a *quantity.Error where the value is no quantity.
func ParseFilter(text string) (Filter, error) {
	at, sign := len(text), ""
	for _, s := range signs {
		if i := strings.Index(text, s); i >= 0 && i < at {
			at, sign = i, s
		}
	}
	if sign == "" {
		return Filter{}, &Error{Text: text, Wrong: "no sign to compare by", Want: `write it like "shown>=60 W" or "seller=Tarrowby Electrics"`, Err: ErrCondition}
	}
	f := Filter{column: ColumnNamed(strings.TrimSpace(text[:at])), sign: sign, text: strings.TrimSpace(text[at+len(sign):])}
	if f.column == nil {
		return Filter{}, unknownColumn(strings.TrimSpace(text[:at]), text)
	}
	if f.text == "" && sign != "=" && sign != "!=" {
		return Filter{}, &Error{Text: text, Wrong: "nothing to compare with", Want: "write a value behind the sign", Err: ErrCondition}
	}
	if !f.column.Numeric || f.text == "" || sign == "~" {
		f.value = Value{Known: f.text != "", Text: f.text}
		return f, nil
	}
	v, err := f.column.parse(f.text)
	if err != nil {
		return Filter{}, &Error{Text: text, Wrong: err.Error(), Err: ErrCondition, Cause: err}
	}
	f.value = v
	return f, nil
}

// parse reads a value to compare a numeric column with.
func (c *Column) parse(text string) (Value, error) {
	switch {
	case c.Dimension != 0:
		if text == "0" {
			return Value{Known: true}, nil // nothing needs no unit
		}
		n, err := quantity.Parse(text, c.Dimension)
		return Value{Known: true, Number: n}, err
	case c.Priced:
		p := ParsePrice(text)
		if !p.Known {
			return Value{}, fmt.Errorf("%q is no price; write it like \"12.90 EUR\"", text)
		}
		return Value{Known: true, Number: p.Amount, Unit: p.Currency}, nil
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "%")), 64)
	if err != nil || !finite(n) {
		return Value{}, fmt.Errorf("%q is no number", text)
	}
	return Value{Known: true, Number: n}, nil
}

// Keeps tells whether a record meets the condition.
func (f Filter) Keeps(it *Item) bool {
	v := f.column.Of(it)
	switch {
	case f.sign == "~":
		return strings.Contains(strings.ToLower(v.Text), strings.ToLower(f.text))
	case !f.value.Known:
		return v.Known == (f.sign == "!=")
	case !v.Known:
		return f.sign == "!="
	}
	var n int
	if f.column.Numeric {
		if f.value.Unit != "" && f.value.Unit != v.Unit {
			return f.sign == "!=" // another currency
		}
		w := f.value
		w.Unit = v.Unit
		n = v.compare(w, true)
	} else {
		n = strings.Compare(strings.ToLower(v.Text), strings.ToLower(f.text))
	}
	switch f.sign {
	case "=":
		return n == 0
	case "!=":
		return n != 0
	case "<":
		return n < 0
	case "<=":
		return n <= 0
	case ">":
		return n > 0
	}
	return n >= 0
}
