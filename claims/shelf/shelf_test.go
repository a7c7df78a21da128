package shelf

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

// fill puts the records of a text on a shelf.
func fill(t testing.TB, text string) *Shelf {
	t.Helper()
	s := &Shelf{}
	for rec, err := range record.Read(strings.NewReader(text), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		c, err := rules.Checker().Case(rec, nil)
		if err != nil {
			t.Fatal(err)
		}
		s.Add(NewItem(c, c.Report()))
	}
	return s
}

func ids(items []*Item) string {
	var out []string
	for _, it := range items {
		out = append(out, it.Cable)
	}
	return strings.Join(out, " ")
}

// three is a shelf whose figures are easy to work out by hand.
const three = `
gainsay: 1
cable: a
about: {seller: Tarrowby Electrics, price: 9.80 EUR}
claims: {power: 100 W, length: 1 m, plugs: c-to-c}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}
bench: {date: 2026-10-05, ohmmeter: 0.5 % + 0.1 mohm, length: 1.01 m, plugs: c-to-c, vbus: 80 mohm, ground: 30 mohm}
---
gainsay: 1
cable: b
about: {seller: Ostrefel Direct, price: 4.00 EUR}
claims: {power: 100 W, length: 2 m}
marker: {asked: true}
bench: {ohmmeter: 0.5 % + 0.1 mohm, vbus: 120 mohm, ground: 70 mohm}
---
gainsay: 1
cable: c
about: {price: 30 PLN}
`

func TestItem(t *testing.T) {
	items := fill(t, three).Items()
	// a: at 5 A, VBUS 80 of 100 mΩ leaves 20 %, ground 30 of 50 leaves 40 %.
	// b: at 3 A, VBUS 120 of 166.67 leaves 28 %, ground 70 of 83.33 leaves 16 %.
	for i, want := range []float64{0.20, 0.16} {
		if got, ok := items[i].Margin(); !ok || math.Abs(got-want) > 1e-12 {
			t.Errorf("margin of %s is %v, %v; want %v", items[i].Cable, got, ok, want)
		}
	}
	if m, ok := items[2].Margin(); ok {
		t.Errorf("margin %v without a measurement", m)
	}
	if p, ok := items[0].PerWatt(); !ok || p.Amount != 0.098 || p.Currency != "EUR" {
		t.Errorf("price per watt %v, %v; want 9.80/100", p, ok)
	}
	var row []string
	for _, c := range Columns() {
		row = append(row, c.Name+"="+c.Of(items[0]).Text)
	}
	want := []string{"cable=a", "label=", "seller=Tarrowby Electrics", "model=", "batch=", "sold=100 W", "shown=100 W", "settled=yes", "outcome=confirmed", "limited=marker",
		"claims=3/0/0", "confirmed=3", "contradicted=0", "not-shown=0", "against=0", "doubts=0", "rules=",
		"vbus=80.00 ± 0.79 mΩ", "ground=30.00 ± 0.60 mΩ", "loop=110.0 ± 1.2 mΩ", "margin=20.0 %", "length=1.01 m", "speed=10 Gbps",
		"marker=2FA1:0102/0100", "price=9.80 EUR", "per-watt=0.098 EUR", "date=2026-10-05", "file=test.yaml:2:1"}
	// The uncertainties by hand: a rectangular half-width of 0.5 % + 0.1 mΩ has
	// 1/√3 of it as u; with k = 2.000 that is 0.577, 0.289 and, added, 0.866 mΩ.
	if diff := cmp.Diff(want, row); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestSort(t *testing.T) {
	tests := map[string]string{
		"cable":           "a b c",
		"-cable":          "c b a",
		"vbus":            "a b c", // what is not known comes last
		"-vbus":           "b a c", // either way
		"margin":          "b a c",
		"shown,cable":     "c b a", // none, 60 W, 100 W
		"-contradicted":   "b a c",
		"price":           "b a c", // EUR before PLN
		"length,seller":   "a b c",
		"seller":          "b a c",
		" -price , cable": "c a b",
	}
	for order, want := range tests {
		t.Run(order, func(t *testing.T) {
			items := fill(t, three).Items()
			o, err := ParseOrder(order)
			if err != nil {
				t.Fatal(err)
			}
			Sort(items, o)
			if got := ids(items); got != want {
				t.Errorf("%s, want %s", got, want)
			}
		})
	}
}

func TestFilter(t *testing.T) {
	tests := map[string]string{
		"shown>=100 W":              "a",
		"shown<100W":                "b c",
		"vbus>100 mohm":             "b",
		"vbus<=0.08 ohm":            "a",
		"vbus=":                     "c",
		"vbus!=":                    "a b",
		"vbus!=80 mohm":             "b c",
		"length>1 m":                "a b",
		"seller=tarrowby electrics": "a",
		"seller~DIRECT":             "b",
		"seller!=Ostrefel Direct":   "a c",
		"seller=":                   "c",
		"price<10 EUR":              "a b",
		"price<10":                  "a b",
		"price>5":                   "a c",
		"price=30 PLN":              "c",
		"margin<20":                 "b",
		"margin>=16 %":              "a b",
		"against>0":                 "b",
		"speed>=10 Gbps":            "a",
		"date>2026-01-01":           "a",
		"vbus>0":                    "a b",
	}
	for text, want := range tests {
		t.Run(text, func(t *testing.T) {
			f, err := ParseFilter(text)
			if err != nil {
				t.Fatal(err)
			}
			if got := ids(fill(t, three).Where(f).Items()); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

func TestBadQueries(t *testing.T) {
	parse := map[string]func(string) error{
		"order":   func(s string) error { _, err := ParseOrder(s); return err },
		"columns": func(s string) error { _, err := ColumnsNamed(s); return err },
		"filter":  func(s string) error { _, err := ParseFilter(s); return err },
		"bands":   func(s string) error { _, err := ParseBands(s); return err },
	}
	tests := []struct{ what, text, says string }{
		{"order", "colour", `no column is called "colour"`},
		{"order", "", `no column is called ""`},
		{"columns", "cable,,vbus", `no column is called ""`},
		{"filter", "shown", "no sign"},
		{"filter", "colour=red", `no column is called "colour"`},
		{"filter", "shown>60", "unit"},
		{"filter", "shown>60 V", "power"},
		{"filter", "vbus>", "nothing to compare with"},
		{"filter", "margin>many", "no number"},
		{"filter", "margin>NaN", "no number"},
		{"filter", "price<cheap", "no price"},
		{"bands", "5,5", "above the one before"},
		{"bands", "x", "no price"},
		{"bands", "-1", "no price"},
		{"bands", "+Inf", "no price"},
	}
	for _, tt := range tests {
		err := parse[tt.what](tt.text)
		var own *Error
		if err == nil || !errors.As(err, &own) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s %q: error %v, want one that says %q", tt.what, tt.text, err, tt.says)
		}
	}
}

func TestPrice(t *testing.T) {
	tests := map[string]Price{
		"12.90 EUR":  {Known: true, Amount: 12.9, Currency: "EUR"},
		"12,90 eur":  {Known: true, Amount: 12.9, Currency: "EUR"},
		"EUR 9.80":   {Known: true, Amount: 9.8, Currency: "EUR"},
		"€9":         {Known: true, Amount: 9, Currency: "€"},
		"7,5 €":      {Known: true, Amount: 7.5, Currency: "€"},
		"12":         {Known: true, Amount: 12},
		"1,290 EUR":  {Currency: "EUR"}, // could mean two things
		"1.2.3 EUR":  {Currency: "EUR"},
		"free":       {},
		"":           {},
		"-5 EUR":     {},
		"1e309 EUR":  {},
		"10 kroner!": {},
	}
	for text, want := range tests {
		want.Text = text
		if diff := cmp.Diff(want, ParsePrice(text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
}

func TestSummary(t *testing.T) {
	s := fill(t, three).Summary(5, 10, 20)
	if s.Records != 3 || s.Cables != 3 || s.Contradicted != 1 {
		t.Errorf("%d records, %d cables, %d contradicted", s.Records, s.Cables, s.Contradicted)
	}
	bands := []Group{
		{Name: "under 5 EUR", Records: 1, Contradicted: 1},
		{Name: "5 to under 10 EUR", Records: 1},
		{Name: "20 and over PLN", Records: 1, Unsettled: 1},
	}
	if diff := cmp.Diff(bands, s.Bands); diff != "" {
		t.Errorf("bands (-want +got):\n%s", diff)
	}
	sellers := []Group{{Name: "Ostrefel Direct", Records: 1, Contradicted: 1}, {Name: "Tarrowby Electrics", Records: 1}, {Records: 1, Unsettled: 1}}
	if diff := cmp.Diff(sellers, s.Sellers); diff != "" {
		t.Errorf("sellers (-want +got):\n%s", diff)
	}
	shown := 0
	for _, n := range s.Shown {
		shown += n.Records
	}
	if shown != 3 {
		t.Errorf("the ratings count %d records", shown)
	}
	for _, c := range s.Claims {
		if c.Property == claims.Power && c != (ClaimCount{claims.Power, 1, 1, 0}) {
			t.Errorf("power ends %+v", c)
		}
	}
}

func TestRepeatsAndHistories(t *testing.T) {
	session := func(id, date, vbus string) string {
		return "---\ngainsay: 1\ncable: " + id + "\nbench: {date: " + date + ", ohmmeter: 0.5 % + 0.1 mohm, vbus: " + vbus + ", ground: 30 mohm}\n"
	}
	s := fill(t, session("a", "2026-09-01", "90 mohm")+session("b", "2026-09-01", "80 mohm")+session("a", "2025-09-01", "80 mohm")+
		session("b", "2026-09-01", "80 mohm")+session("c", "2026-09-01", "80 mohm"))
	sum := s.Summary()
	if sum.Records != 5 || sum.Cables != 3 || len(sum.Repeats) != 2 {
		t.Fatalf("%d records, %d cables, repeats %v", sum.Records, sum.Cables, sum.Repeats)
	}
	if a := sum.Repeats[0]; a.Cable != "a" || !a.Again || a.Records[0].Date.Year() != 2025 {
		t.Errorf("a was measured again, oldest first: %+v", a)
	}
	if b := sum.Repeats[1]; b.Cable != "b" || b.Again {
		t.Errorf("no date tells the records of b apart: %+v", b)
	}
	hs := s.Histories()
	if len(hs) != 1 || hs[0].Cable != "a" || len(hs[0].Sittings) != 2 {
		t.Fatalf("histories %+v", hs)
	}
	// 80 to 90 mΩ within 0.5 % + 0.1 mΩ each: ten times the uncertainty.
	if !hs[0].Moved() || math.Abs(hs[0].Changes[0].Ohm-0.010) > 1e-12 {
		t.Errorf("changes %+v", hs[0].Changes)
	}
	one := fill(t, "gainsay: 1\ncable: d\nbench:\n- {date: 2025-01-01, ohmmeter: 0.5 % + 0.1 mohm, vbus: 80 mohm}\n- {date: 2026-01-01, ohmmeter: 0.5 % + 0.1 mohm, vbus: 80.1 mohm}\n")
	if hs := one.Histories(); len(hs) != 1 || hs[0].Moved() {
		t.Errorf("sessions within one record, unmoved: %+v", hs)
	}
}

// TestSlim: what the shelf keeps decides limits just as the report did.
func TestSlim(t *testing.T) {
	for _, it := range fill(t, three).Items()[:2] {
		if it.Result.VBUS.Budget != nil || len(it.Result.Session.Readings) > 0 {
			t.Error("the budget is kept")
		}
		want := bench.Within
		if it.Cable == "b" {
			want = bench.Over
		}
		if got := bench.DecideCable(it.Result, 5, it.Acceptance).Outcome; got != want {
			t.Errorf("%s at 5 A is %s, want %s", it.Cable, got, want)
		}
	}
}

func FuzzParseFilter(f *testing.F) {
	for _, s := range []string{"shown>=60 W", "seller~x", "price<10 EUR", "vbus=", "=", "a!=b"} {
		f.Add(s)
	}
	items := fill(f, three).Items()
	f.Fuzz(func(t *testing.T, text string) {
		filter, err := ParseFilter(text)
		if err != nil {
			return
		}
		for _, it := range items {
			filter.Keeps(it)
		}
	})
}

func FuzzParsePrice(f *testing.F) {
	f.Add("12.90 EUR")
	f.Fuzz(func(t *testing.T, text string) {
		if p := ParsePrice(text); p.Known && (!finite(p.Amount) || p.Amount < 0) {
			t.Errorf("%q gives %v", text, p.Amount)
		}
	})
}
