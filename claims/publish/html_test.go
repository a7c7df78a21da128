package publish

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"example.com/gainsay/claims/shelf"
)

// evil is text that means something in HTML, SVG, CSS, scripts, CSV, Markdown or
// on a terminal.
var evil = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onmouseover='alert(1)`, `</title><svg onload=alert(1)>`,
	`--></style><b>`, `]]><b>x</b>`, `{{.}} ${x} javascript:alert(1)`, `&lt;b&gt;`, "\x1b[31m\u202e\u2066", `=HYPERLINK("http://x";"y")`,
	`+1+1`, `-2`, `@SUM(A1)`, `|cell| *b* [a](http://x) ![i](http://x) http://x.invalid www.x.invalid`, "# head", "1. list", "`code`", "a\nb\r\nc\td",
}

// evilShelf has every text of evil in every place of a record that keeps text.
func evilShelf() string {
	var b strings.Builder
	for i, e := range evil {
		q := fmt.Sprintf("%q", e) // Go's escapes of these are YAML's
		fmt.Fprintf(&b, "---\ngainsay: 1\ncable: %s\nlabel: %s\nabout: {seller: %s, model: %s, batch: %s, price: %s}\n", q, q, q, q, q, q)
		fmt.Fprintf(&b, "claims: {power: 300 W, certificate: %s, source: %s}\n", q, q)
		fmt.Fprintf(&b, "marker: {near: \"FF00A041 18602FA1 00000000 0102%04X 00082042\"}\n", i)
		b.WriteString("waive: [{rule: claimed-power-above-standard, reason: " + q + "}]\n")
		b.WriteString("bench:\n")
		for _, date := range []string{"2025-01-01", "2026-01-01"} {
			fmt.Fprintf(&b, "- {date: %s, length: 1 m, ohmmeter: 0.5 %% + 0.1 mohm, vbus: 80 mohm, ground: 30 mohm, note: %s}\n", date, q)
		}
	}
	return b.String()
}

func cablePage(t testing.TB, text string) string {
	t.Helper()
	var b strings.Builder
	p := NewCablePage(&b)
	for _, c := range cases(t, text) {
		if err := p.Add(c, c.Report()); err != nil {
			t.Fatal(err)
		}
	}
	if err := p.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func shelfPage(t testing.TB, text string) string {
	t.Helper()
	var b strings.Builder
	s := fillShelf(t, text)
	if err := ShelfPage(&b, s.Items(), shelf.Columns(), s.Summary(5, 10), s.Histories()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	styleOrScript = regexp.MustCompile(`(?s)<(style|script)>.*?</(style|script)>`)
	unclosed      = regexp.MustCompile(`<(meta|input)([^>]*)>`)
	bareAttribute = regexp.MustCompile(` (open|hidden|selected)>`)
)

// elements reads a page as a browser would read its tags, strictly: every element
// closed in order, every attribute quoted. It gives each start tag.
func elements(t testing.TB, page string) []xml.StartElement {
	t.Helper()
	// Style and script hold text that is not XML; their content has tests of its own.
	page = styleOrScript.ReplaceAllString(page, "<$1></$1>")
	page = strings.TrimPrefix(page, "<!DOCTYPE html>")
	page = unclosed.ReplaceAllString(page, "<$1$2/>")
	page = strings.ReplaceAll(page, "<br>", "<br/>")
	page = bareAttribute.ReplaceAllString(page, ` $1="">`)
	d := xml.NewDecoder(strings.NewReader(page))
	d.Entity = xml.HTMLEntity
	var out []xml.StartElement
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("the page is not well-formed: %v", err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			out = append(out, e.Copy())
		}
	}
}

// TestPageInjection: whatever stands in a record, a page has the same elements and
// attributes as with harmless text, and every text is there.
func TestPageInjection(t *testing.T) {
	known := map[string]bool{}
	for _, name := range strings.Fields(`html head meta title style body a header svg path defs pattern article nav bdi dl dt dd div p main footer section h1 h2 h3 h4 span b br
		table caption thead tbody tr th td code details summary ul li figure figcaption line rect circle polyline text script form label input select option button`) {
		known[name] = true
	}
	attributes := map[string]bool{}
	for _, name := range strings.Fields(`lang charset http-equiv content patternUnits patternTransform font-size name class href id viewBox aria-hidden d stroke stroke-width fill
		aria-labelledby scope data-of data-v data-u data-n data-kind role aria-label x1 y1 x2 y2 x y width height cx cy r points text-anchor tabindex hidden type
		autocomplete value open`) {
		attributes[name] = true
	}
	for name, page := range map[string]string{"cables": cablePage(t, evilShelf()), "shelf": shelfPage(t, evilShelf())} {
		scripts := 0
		for _, e := range elements(t, page) {
			if !known[e.Name.Local] {
				t.Errorf("%s: element %s", name, e.Name.Local)
			}
			if e.Name.Local == "script" {
				scripts++
			}
			for _, a := range e.Attr {
				if !attributes[a.Name.Local] {
					t.Errorf("%s: attribute %s of %s", name, a.Name.Local, e.Name.Local)
				}
				if a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#") {
					t.Errorf("%s: a link to %s", name, a.Value)
				}
			}
		}
		if want := map[string]int{"cables": 0, "shelf": 1}[name]; scripts != want {
			t.Errorf("%s: %d scripts, want %d", name, scripts, want)
		}
		for _, want := range []string{"&lt;script&gt;alert(1)&lt;/script&gt;", "javascript:alert(1)", `\x1b[31m\u202e\u2066`, "&amp;lt;b&amp;gt;"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: %s is not there", name, want)
			}
		}
		for _, r := range page {
			if r != '\n' && !shown(r) {
				t.Errorf("%s: %U reaches the page", name, r)
			}
		}
	}
}

// TestPageLoadsNothing: no page names anything to load, and its policy forbids it.
func TestPageLoadsNothing(t *testing.T) {
	for name, page := range map[string]string{"cables": cablePage(t, twoCables), "shelf": shelfPage(t, twoCables)} {
		page = strings.ReplaceAll(page, "url(#hatch)", "") // of the page itself
		for _, bad := range []string{"src=", "http://", "https://", "url(", "@import", "<link", "<iframe"} {
			if strings.Contains(page, bad) {
				t.Errorf("%s: %q", name, bad)
			}
		}
		if !strings.Contains(page, `content="default-src &#39;none&#39;`) {
			t.Errorf("%s: no policy", name)
		}
	}
}

// TestPictures: every picture says in words what it shows.
func TestPictures(t *testing.T) {
	text := twoCables + `---
gainsay: 1
cable: d
bench:
- {date: 2025-01-01, ohmmeter: 0.5 % + 0.1 mohm, vbus: 80 mohm, ground: 30 mohm}
- {date: 2026-01-01, ohmmeter: 0.5 % + 0.1 mohm, vbus: 90 mohm, ground: 30 mohm}
`
	for name, tt := range map[string]struct {
		page string
		says []string
	}{
		"cables": {cablePage(t, text), []string{
			"VBUS has 80.00 ± 0.79 mΩ; the limits are 100 mΩ at 5 A and 166.7 mΩ at 3 A. Ground has 30.00 ± 0.60 mΩ; the limits are 50 mΩ at 5 A and 83.33 mΩ at 3 A.",
			"VBUS of a over length: 80 mΩ at 1.01 m.",
			"d over time: VBUS 80.00 ± 0.79 mΩ on 2025-01-01, 90.00 ± 0.83 mΩ on 2026-01-01; ground",
			"The bits of word 4, 0x00082042, by field",
		}},
		"shelf": {shelfPage(t, text), []string{
			"Records by the power shown. 100 W: 1; 60 W: 1; none: 1.",
			"power: 1 confirmed, 1 not shown",
			"VBUS of a over length: 80 mΩ at 1.01 m.",
			"d over time",
		}},
	} {
		pictures := 0
		for _, e := range elements(t, tt.page) {
			if e.Name.Local != "svg" {
				continue
			}
			attr := map[string]string{}
			for _, a := range e.Attr {
				attr[a.Name.Local] = a.Value
			}
			if attr["aria-hidden"] == "true" {
				continue
			}
			pictures++
			if attr["role"] != "img" || len(attr["aria-label"]) < 20 {
				t.Errorf("%s: a picture without words: %v", name, attr)
			}
		}
		if pictures < 4 {
			t.Errorf("%s: %d pictures", name, pictures)
		}
		for _, says := range tt.says {
			if !strings.Contains(tt.page, says) {
				t.Errorf("%s: no picture says %q", name, says)
			}
		}
	}
}

func TestPageTitles(t *testing.T) {
	one := "gainsay: 1\ncable: NF-9\n"
	for text, want := range map[string]string{one: "<title>NF-9: what is shown", one + "---\n" + one: "<title>Cables: what is shown"} {
		page := cablePage(t, text)
		if !strings.Contains(page, want) || strings.Count(page, "<h1") != strings.Count(text, "cable:") || strings.Count(page, "<title>") != 1 || !strings.HasSuffix(page, "</html>\n") {
			t.Errorf("the page does not begin or end as it should:\n%.300s", page)
		}
	}
	var b strings.Builder
	if err := NewCablePage(&b).Close(); err != nil || !strings.Contains(b.String(), "No cable") {
		t.Errorf("a page without cables: %v\n%s", err, b.String())
	}
}

// TestTicks: round steps that do not crowd.
func TestTicks(t *testing.T) {
	for _, most := range []float64{0.3, 1, 1.15, 2.3, 7, 46, 100, 187, 999, 12345} {
		got := ticks(most)
		if len(got) < 4 || len(got) > 9 || got[0] != 0 || got[len(got)-1] > most*1.001 {
			t.Errorf("up to %v: %v", most, got)
		}
	}
}

// TestCSVSafe: no cell is a formula to a spreadsheet, and the table reads back.
func TestCSVSafe(t *testing.T) {
	s := fillShelf(t, evilShelf())
	var b, c strings.Builder
	if err := ShelfCSV(&b, s.Items(), shelf.Columns()); err != nil {
		t.Fatal(err)
	}
	table, err := NewReportCSV(&c)
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range cases(t, evilShelf()) {
		if err := table.Add(one.Report()); err != nil {
			t.Fatal(err)
		}
	}
	if err := table.Close(); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"shelf": b.String(), "reports": c.String()} {
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) <= len(evil) {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		escaped := 0
		for _, row := range rows {
			for _, cell := range row {
				if strings.HasPrefix(cell, "'") {
					escaped++
				}
				if regexp.MustCompile(`^[\s]*[=+@\t\r]`).MatchString(cell) || strings.HasPrefix(cell, "-") && !regexp.MustCompile(`^-[0-9.e-]+$`).MatchString(cell) {
					t.Errorf("%s: %q is a formula", name, cell)
				}
			}
		}
		if escaped < 8 {
			t.Errorf("%s: %d cells escaped", name, escaped)
		}
	}
}

func TestSheetCell(t *testing.T) {
	tests := map[string]string{
		"plain": "plain", "=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@x": "'@x", "  =1": "'  =1", "\t=1": "' =1", "\r\n=1": "'  =1",
		"＝1": "'＝1", "": "", "a=b": "a=b", "'x": "'x", "\u00a0=1": "'\u00a0=1",
	}
	for in, want := range tests {
		if got := sheetCell(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// TestShelfCSVNumbers: numbers are plain SI numbers under headings with a unit.
func TestShelfCSVNumbers(t *testing.T) {
	s := fillShelf(t, twoCables)
	columns, err := shelf.ColumnsNamed("cable,shown,claims,vbus,margin,length,speed,price")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := ShelfCSV(&b, s.Items(), columns); err != nil {
		t.Fatal(err)
	}
	want := "cable,shown/W,shown-settled,confirmed,contradicted,not-shown,vbus/ohm,vbus-expanded/ohm,margin/%,length/m,speed/bps,price,price-currency\r\n" +
		"a,100,true,2,0,0,0.08,0.0007867,20,1.01,1e+10,9.8,EUR\r\n" +
		"b,0,false,0,0,1,,,,,,,\r\n"
	if got := b.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestMarkdownEscapes(t *testing.T) {
	tests := map[string]string{
		"plain text, 1.5 m: fine.": "plain text, 1.5 m: fine.",
		"*b*":                      `\*b\*`,
		"a|b":                      `a\|b`,
		"<b>":                      `\<b\>`,
		"[a](b)":                   `\[a\]\(b\)`,
		"http://x":                 `http\://x`,
		"www.x":                    `www\.x`,
		"1. x":                     `1\. x`,
		"- x":                      `\- x`,
		"# x":                      `\# x`,
		"a-b":                      "a-b",
		"`x`":                      "\\`x\\`",
		"a_b":                      `a\_b`,
		"x@y":                      `x\@y`,
		"&lt;":                     `\&lt;`,
		"a\nb":                     "a b",
		"\x1b":                     `\\x1b`,
		`\*`:                       `\\\*`,
	}
	for in, want := range tests {
		if got := marked(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// TestMarkdownInjection: outside of escapes, no character of a record begins
// markup, and every table row has as many cells as its heading.
func TestMarkdownInjection(t *testing.T) {
	s := fillShelf(t, evilShelf())
	text := ShelfMarkdown(s.Items(), shelf.Columns(), s.Summary(5))
	for _, c := range cases(t, evilShelf()) {
		text += ReportMarkdown(c.Report())
	}
	bare := regexp.MustCompile(`\\[!-/:-@\[-`+"`"+`{-~]`).ReplaceAllString(text, "")
	for _, bad := range []string{"<", "http:", "www.", "[", "]("} {
		if strings.Contains(bare, bad) {
			i := strings.Index(bare, bad)
			t.Errorf("%q stands bare: %q", bad, bare[max(0, i-40):min(len(bare), i+40)])
		}
	}
	cells := 0
	for _, line := range strings.Split(bare, "\n") {
		n := strings.Count(line, "|")
		switch {
		case n == 0:
			cells = 0
		case cells == 0:
			cells = n
		case n != cells:
			t.Errorf("%d cells where the heading has %d: %q", n, cells, line)
		}
	}
	for _, r := range text {
		if r != '\n' && !shown(r) {
			t.Errorf("%U", r)
		}
	}
}

// TestUnder: a finding that hangs under another stands under it, in the page and
// in the table.
func TestUnder(t *testing.T) {
	text := "gainsay: 1\ncable: a\nclaims: {power: 140 W}\nmarker: {near: \"FF00A041 18602FA1 00000000 00010100 000A4644\"}\n" +
		"bench: {ohmmeter: 0.5 % + 0.1 mohm, vbus: 121 mohm, ground: 58 mohm}\n"
	r := cases(t, text)[0].Report()
	under := 0
	for _, f := range r.Findings {
		if f.Under != "" {
			under++
		}
	}
	if under == 0 {
		t.Fatal("nothing hangs under a root here; take another record")
	}
	for i, n := range causes(r.Findings) {
		for _, j := range n {
			if f := r.Findings[j]; f.Under != "" && f.Under != r.Findings[i].Rule {
				t.Errorf("%s stands with %s, not under %s", f.Rule, r.Findings[i].Rule, f.Under)
			}
		}
	}
	var b strings.Builder
	table, err := NewReportCSV(&b)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(table.Add(r), table.Close()); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	last, got := len(rows[0])-1, 0
	for _, row := range rows[1:] {
		if row[last] != "" {
			got++
		}
	}
	if rows[0][last] != "under" || got != under {
		t.Errorf("in the table %d stand under, want %d", got, under)
	}
}
