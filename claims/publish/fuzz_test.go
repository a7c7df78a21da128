package publish

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/gainsay/claims/shelf"
)

// withText is a record that has a text wherever a record may hold any.
func withText(text string) string {
	// Go's escapes of these are YAML's. A text that is a price would have a number.
	return strings.NewReplacer("PRICE", strconv.Quote("none "+text), "Q", strconv.Quote(text)).Replace(`gainsay: 1
cable: Q
label: Q
about: {seller: Q, model: Q, batch: Q, price: PRICE, note: Q}
claims: {certificate: Q, source: Q, power: 300 W}
bench:
- {date: 2025-01-01, note: Q, ohmmeter: 0.5 % + 0.1 mohm, length: 1 m, vbus: 121 mohm, ground: 58 mohm}
- {date: 2026-01-01, note: Q, ohmmeter: 0.5 % + 0.1 mohm, length: 1 m, vbus: 125 mohm, ground: 58 mohm}
waive: [{rule: claimed-power-above-standard, reason: Q}]
marker: {near: "FF00A041 18602FA1 00000000 00010100 000A4644"}
`)
}

// FuzzForms: whatever text stands in a record, every form shows no character that
// is obeyed, and has the same parts as with a harmless text: a page its elements, a
// table its rows and cells, Markdown its marks. In JSON the text is what it was.
func FuzzForms(f *testing.F) {
	for _, e := range evil {
		f.Add(e)
	}
	var plain struct {
		page, list []xml.StartElement
		marks      string
	}
	// What is not escaped, of the characters that mark.
	marks := func(text string) string {
		var b strings.Builder
		for i := 0; i < len(text); i++ {
			switch {
			case text[i] == '\\':
				i++
			case strings.IndexByte("`*_{}[]<>#|!", text[i]) >= 0:
				b.WriteByte(text[i])
			}
		}
		return b.String()
	}
	harmless := withText("harmless")
	plain.page, plain.list = elements(f, cablePage(f, harmless)), elements(f, shelfPage(f, harmless))
	items := fillShelf(f, harmless)
	plain.marks = marks(ShelfMarkdown(items.Items(), shelf.Columns(), items.Summary(5)))
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) || strings.TrimSpace(text) == "" || len(text) > 1000 {
			return
		}
		page := cablePage(t, withText(text))
		s := fillShelf(t, withText(text))
		list := shelfPage(t, withText(text))
		same := func(what string, got, want []xml.StartElement) {
			if len(got) != len(want) {
				t.Fatalf("%s: %d elements, want %d", what, len(got), len(want))
			}
			for i := range got {
				if got[i].Name != want[i].Name || len(got[i].Attr) != len(want[i].Attr) {
					t.Fatalf("%s: element %d is %v, want %v", what, i, got[i], want[i])
				}
			}
		}
		same("page", elements(t, page), plain.page)
		same("shelf", elements(t, list), plain.list)

		c := cases(t, withText(text))[0]
		r := c.Report()
		out := map[string]string{"page": page, "shelf's page": list, "text": ReportText(r, Style{}), "Markdown": ReportMarkdown(r),
			"shelf": ShelfText(s.Items(), shelf.Columns(), s.Summary(5), Style{}), "shelf in Markdown": ShelfMarkdown(s.Items(), shelf.Columns(), s.Summary(5))}
		for what, text := range out {
			for _, c := range text {
				if c != '\n' && !shown(c) {
					t.Fatalf("%s: %U", what, c)
				}
			}
		}
		if got, want := marks(out["shelf in Markdown"]), plain.marks; got != want {
			t.Fatalf("Markdown is marked %s, want %s", got, want)
		}

		for what, write := range map[string]func(*bytes.Buffer) error{
			"shelf": func(b *bytes.Buffer) error { return ShelfCSV(b, s.Items(), shelf.Columns()) },
			"report": func(b *bytes.Buffer) error {
				w, err := NewReportCSV(b)
				if err == nil {
					err = w.Add(r)
				}
				if err == nil {
					err = w.Close()
				}
				return err
			},
		} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(&b).ReadAll() // which wants as many cells in each row
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			for _, row := range rows {
				for _, cell := range row {
					if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
						t.Fatalf("%s: a formula %q", what, cell)
					}
				}
			}
		}

		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back struct{ Cable, Label string }
		safe := PlainJSON(b)
		if err := json.Unmarshal(safe, &back); err != nil || back.Cable != text || back.Label != text {
			t.Fatalf("JSON: %v, %q is read back as %+v", err, text, back)
		}
		for _, c := range string(safe) {
			if !shown(c) {
				t.Fatalf("JSON: %U", c)
			}
		}
	})
}
