package publish

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/claims/shelf"
)

// cases gives the cases of a text.
func cases(t testing.TB, text string) []*claims.Case {
	t.Helper()
	var out []*claims.Case
	for rec, err := range record.Read(strings.NewReader(text), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		c, err := rules.Checker().Case(rec, nil)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

func fillShelf(t testing.TB, text string) *shelf.Shelf {
	t.Helper()
	s := &shelf.Shelf{}
	for _, c := range cases(t, text) {
		s.Add(shelf.NewItem(c, c.Report()))
	}
	return s
}

const twoCables = `
gainsay: 1
cable: a
label: 1 m, grey
about: {seller: Tarrowby Electrics, price: 9.80 EUR}
claims: {power: 100 W, length: 1 m}
marker: {near: "FF00A041 18602FA1 00000000 01020100 00082042"}
bench: {date: 2026-10-05, ohmmeter: 0.5 % + 0.1 mohm, length: 1.01 m, vbus: 80 mohm, ground: 30 mohm}
---
gainsay: 1
cable: b
claims: {power: 240 W}
`

// TestShelfTextWidth: however long the texts, the columns shown by default keep to
// the width, and nothing is lost.
func TestShelfTextWidth(t *testing.T) {
	id := strings.Repeat("NF long id ", 12) + "end"
	s := fillShelf(t, twoCables+"---\ngainsay: 1\ncable: "+id+"\nabout: {seller: "+strings.Repeat("seller", 30)+"}\n")
	text := ShelfText(s.Items(), shelf.DefaultColumns(), s.Summary(5), Style{})
	for _, line := range strings.Split(text, "\n") {
		if columns(line) > Width || strings.HasSuffix(line, " ") {
			t.Errorf("%d columns: %q", columns(line), line)
		}
	}
	if !strings.Contains(text, "end") {
		t.Error("the id is cut off")
	}
}

func TestShelfTextHostile(t *testing.T) {
	evil := `\e]0;x\a\u202e\e[31m`
	s := fillShelf(t, "gainsay: 1\ncable: \""+evil+"\"\nlabel: \""+evil+"\"\nabout: {seller: \""+evil+"\", model: \""+evil+"\", price: \""+evil+"\"}\n")
	text := ShelfText(s.Items(), shelf.Columns(), s.Summary(5), Style{})
	for _, r := range text {
		if r != '\n' && !shown(r) {
			t.Fatalf("%U reaches the terminal:\n%q", r, text)
		}
	}
	if strings.Count(text, `\x1b[31m`) < 5 {
		t.Errorf("the text is lost rather than escaped:\n%s", text)
	}
}

// TestShelfItemAbsent: what is not known has no key.
func TestShelfItemAbsent(t *testing.T) {
	items := fillShelf(t, twoCables).Items()
	keys := func(it *shelf.Item) map[string]any {
		b, err := json.Marshal(NewShelfItem(it))
		if err != nil {
			t.Fatal(err)
		}
		m := map[string]any{}
		if err := json.Unmarshal(b, &m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	a, b := keys(items[0]), keys(items[1])
	for _, key := range []string{"label", "seller", "price", "price_per_watt", "vbus", "ground", "loop", "margin", "length_m", "rate_gbps", "marker", "date"} {
		if _, ok := a[key]; !ok {
			t.Errorf("a has no %s", key)
		}
		if v, ok := b[key]; ok {
			t.Errorf("b has %s: %v", key, v)
		}
	}
}
