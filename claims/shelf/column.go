package shelf

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

// Column is one column of the shelf's table: what it is called, how a cell reads
// and how cells compare. Table, filter, sorting and every published form go by
// the list of columns.
type Column struct {
	Name  string // as in --sort and --where
	Title string // heading
	Short string // heading over Value.Short; empty where there is none
	Help  string // one line
	// Numeric columns are aligned to the right and compare as numbers.
	Numeric bool
	// Dimension is the kind of quantity that a filter's value is read as; 0 for
	// plain numbers and for text.
	Dimension quantity.Dimension
	// Priced columns are money, in the currency of Value.Unit.
	Priced bool
	value  func(*Item) Value
}

// Value is one cell.
type Value struct {
	Known  bool    // whether the record says
	Text   string  // as shown; empty where not known
	Short  string  // the same where room is scarce and the heading has the unit
	Number float64 // of a numeric column, in SI units
	Within float64 // expanded uncertainty of a resistance
	Unit   string  // sorts before Number; the currency of a price
}

func (v Value) compare(w Value, numeric bool) int {
	if v.Known != w.Known {
		if v.Known {
			return -1 // what is not known comes last
		}
		return 1
	}
	if numeric {
		return cmp.Or(strings.Compare(v.Unit, w.Unit), cmp.Compare(v.Number, w.Number))
	}
	return cmp.Or(strings.Compare(strings.ToLower(v.Text), strings.ToLower(w.Text)), strings.Compare(v.Text, w.Text))
}

// Of gives the column's cell for a record.
func (c *Column) Of(it *Item) Value { return c.value(it) }

func textColumn(name, title, help string, f func(*Item) string) *Column {
	return &Column{Name: name, Title: title, Help: help, value: func(it *Item) Value {
		s := f(it)
		return Value{Known: s != "", Text: s}
	}}
}

func countColumn(name, title, help string, f func(*Item) int) *Column {
	return &Column{Name: name, Title: title, Help: help, Numeric: true, value: func(it *Item) Value {
		n := f(it)
		return Value{Known: true, Text: fmt.Sprint(n), Number: float64(n)}
	}}
}

func ohmColumn(name, title, help string, of bench.Conductor) *Column {
	return &Column{Name: name, Title: title, Help: help, Short: map[bench.Conductor]string{bench.VBUS: "VBUS/mΩ", bench.Ground: "Gnd/mΩ", bench.Loop: "Loop/mΩ"}[of],
		Numeric: true, Dimension: quantity.Resistance, value: func(it *Item) Value {
			e := it.Result.Estimate(of)
			if e == nil {
				return Value{}
			}
			return Value{Known: true, Text: OhmText(e), Short: fmt.Sprintf("%.1f", 1000*e.Ohm), Number: e.Ohm, Within: e.Expanded}
		}}
}

// OhmText prints an estimate with its expanded uncertainty, where it is known.
func OhmText(e *bench.Estimate) string { return say.Ohm(e) }

var columns = []*Column{
	textColumn("cable", "Cable", "the user's own id", func(it *Item) string { return it.Cable }),
	textColumn("label", "Label", "what it is and looks like", func(it *Item) string { return it.Label }),
	textColumn("seller", "Seller", "about.seller", func(it *Item) string { return it.Seller }),
	textColumn("model", "Model", "about.model", func(it *Item) string { return it.Model }),
	textColumn("batch", "Batch", "about.batch", func(it *Item) string { return it.Batch }),
	{Name: "sold", Title: "Sold as", Help: "the highest power claimed", Numeric: true, Dimension: quantity.Power, value: soldValue},
	{Name: "shown", Title: "Shown", Help: "rating shown; ? where more evidence could change it", Numeric: true, Dimension: quantity.Power, value: shownValue},
	textColumn("settled", "Settled", "yes, or no where more evidence could change the rating", func(it *Item) string { return yesNo(it.Rating.Settled) }),
	textColumn("outcome", "Outcome", "contradicted, confirmed, open or no-claim", func(it *Item) string { return string(it.Verdict.Outcome) }),
	textColumn("limited", "Limited by", "the witnesses that limit the rating", limitedBy),
	{Name: "claims", Title: "Claims", Help: "confirmed / contradicted / not shown; sorts by the second", Numeric: true, value: claimsValue},
	countColumn("confirmed", "Confirmed", "claims confirmed", func(it *Item) int { return it.Count(claims.Confirmed) }),
	countColumn("contradicted", "Contradicted", "claims contradicted", func(it *Item) int { return it.Count(claims.Contradicted) }),
	countColumn("not-shown", "Not shown", "claims not shown", func(it *Item) int { return it.Count(claims.NotShown) }),
	countColumn("against", "Against", "contradictions and breaches", func(it *Item) int { return it.Contradictions + it.Breaches }),
	countColumn("doubts", "Doubts", "doubts", func(it *Item) int { return it.Doubts }),
	textColumn("rules", "Rules", "the rules of the contradictions and breaches", func(it *Item) string { return strings.Join(it.Against, ", ") }),
	ohmColumn("vbus", "VBUS", "resistance of VBUS", bench.VBUS),
	ohmColumn("ground", "Ground", "resistance of ground", bench.Ground),
	ohmColumn("loop", "Loop", "resistance of the loop", bench.Loop),
	{Name: "margin", Title: "Margin", Help: "% left of the limit at the current shown, else at 3 A", Numeric: true, value: marginValue},
	{Name: "length", Title: "Length", Help: "by tape; as claimed in ( )", Numeric: true, Dimension: quantity.Length, value: lengthValue},
	{Name: "speed", Title: "Speed", Help: "rate that the marker declares", Numeric: true, Dimension: quantity.Rate, value: speedValue},
	textColumn("marker", "Marker", "vendor, product and release that the marker gives", func(it *Item) string { return it.Identity.String() }),
	{Name: "price", Title: "Price", Help: "about.price; a currency sorts by itself", Numeric: true, Priced: true, value: func(it *Item) Value {
		return Value{Known: it.Price.Known, Text: it.Price.String(), Number: it.Price.Amount, Unit: it.Price.Currency}
	}},
	{Name: "per-watt", Title: "Per watt", Help: "price for each watt shown", Numeric: true, Priced: true, value: perWattValue},
	textColumn("date", "Date", "of the latest session", func(it *Item) string {
		if it.Date.IsZero() {
			return ""
		}
		return it.Date.Format(time.DateOnly)
	}),
	textColumn("file", "File", "where the record stands", func(it *Item) string { return it.At.String() }),
}

// Columns lists every column, in order.
func Columns() []*Column { return append([]*Column{}, columns...) }

// DefaultColumns are shown where none are chosen; they fit into 80 columns of
// text.
func DefaultColumns() []*Column {
	out, err := ColumnsNamed("cable,shown,claims,vbus,ground,margin,length,speed,per-watt")
	if err != nil {
		panic(err) // the names stand above
	}
	return out
}

// WideColumns are for forms that have room.
func WideColumns() []*Column {
	out, err := ColumnsNamed("cable,sold,shown,outcome,seller,batch,vbus,ground,margin,length,speed,per-watt")
	if err != nil {
		panic(err) // the names stand above
	}
	return out
}

// ColumnNamed finds a column, nil if there is none.
func ColumnNamed(name string) *Column {
	for _, c := range columns {
		if c.Name == name {
			return c
		}
	}
	return nil
}

// ColumnsNamed finds the columns of a list of names with commas between. The error
// is an *Error with the cause ErrColumn.
func ColumnsNamed(list string) ([]*Column, error) {
	var out []*Column
	for _, name := range strings.Split(list, ",") {
		name = strings.TrimSpace(name)
		c := ColumnNamed(name)
		if c == nil {
			return nil, unknownColumn(name, list)
		}
		out = append(out, c)
	}
	return out, nil
}

func unknownColumn(name, in string) error {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.Name
	}
	want := cmp.Or(record.Nearest(name, names), "the columns are "+strings.Join(names, ", "))
	return &Error{Text: in, Wrong: fmt.Sprintf("no column is called %q", name), Want: want, Err: ErrColumn}
}

func soldValue(it *Item) Value {
	w := it.Verdict.SoldW
	if w == nil {
		return Value{}
	}
	return Value{Known: true, Number: *w, Text: quantity.Format(*w, quantity.Power, 4)}
}

func shownValue(it *Item) Value {
	v := Value{Known: true, Number: float64(it.Rating.PowerW), Text: "none"}
	if it.Rating.PowerW > 0 {
		v.Text = fmt.Sprintf("%d W", it.Rating.PowerW)
	}
	if !it.Rating.Settled {
		v.Text += " ?"
	}
	return v
}

func claimsValue(it *Item) Value {
	n := it.Count(claims.Contradicted)
	return Value{Known: true, Number: float64(n), Text: fmt.Sprintf("%d/%d/%d", it.Count(claims.Confirmed), n, it.Count(claims.NotShown))}
}

func limitedBy(it *Item) string {
	names := make([]string, len(it.Rating.LimitedBy))
	for i, w := range it.Rating.LimitedBy {
		names[i] = string(w)
	}
	return strings.Join(names, ", ")
}

func marginValue(it *Item) Value {
	m, ok := it.Margin()
	if !ok {
		return Value{}
	}
	return Value{Known: true, Number: math.Round(1e8*m) / 1e6, Text: fmt.Sprintf("%.1f %%", 100*m)}
}

func lengthValue(it *Item) Value {
	if it.LengthMetre == 0 {
		return Value{}
	}
	s := quantity.Format(it.LengthMetre, quantity.Length, 3)
	if !it.Taped {
		s = "(" + s + ")"
	}
	return Value{Known: true, Number: it.LengthMetre, Text: s}
}

func speedValue(it *Item) Value {
	if it.Speed == "" {
		return Value{}
	}
	return Value{Known: true, Number: it.Gbps * 1e9, Text: quantity.Format(it.Gbps*1e9, quantity.Rate, 3)}
}

// PerWatt is the price for each watt shown. It reports false without a price or
// a rating.
func (it *Item) PerWatt() (Price, bool) {
	if !it.Price.Known || it.Rating.PowerW == 0 {
		return Price{}, false
	}
	return Price{Known: true, Amount: it.Price.Amount / float64(it.Rating.PowerW), Currency: it.Price.Currency}, true
}

func perWattValue(it *Item) Value {
	p, ok := it.PerWatt()
	if !ok {
		return Value{}
	}
	return Value{Known: true, Number: p.Amount, Unit: p.Currency, Text: strings.TrimSpace(fmt.Sprintf("%.3f %s", p.Amount, p.Currency))}
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// String names the identity by vendor, product and release; empty where the
// marker gave none.
func (id Identity) String() string {
	if !id.Known {
		return ""
	}
	return fmt.Sprintf("%04X:%04X/%04X", id.VendorID, id.ProductID, id.Release)
}

// finite tells numbers that can be compared.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
