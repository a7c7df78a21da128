package publish

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/claims"
)

// node is an element of a page with its text and children.
type node struct {
	name, class string
	text        string
	kids        []*node
}

func (n *node) all(name string) (out []*node) {
	for _, k := range n.kids {
		if k.name == name {
			out = append(out, k)
		}
		out = append(out, k.all(name)...)
	}
	return out
}

func (n *node) words() string {
	s := n.text
	for _, k := range n.kids {
		s += " " + k.words()
	}
	return strings.Join(strings.Fields(s), " ")
}

// methodOf parses the section of a page that tells how the cable was measured.
func methodOf(t *testing.T, page string) *node {
	from := strings.Index(page, `<section class="quiet method">`)
	if from < 0 {
		t.Fatal("the page does not tell how the cable was measured")
	}
	d := xml.NewDecoder(strings.NewReader(strings.ReplaceAll(page[from:], "<br>", "<br/>")))
	d.Entity = xml.HTMLEntity
	stack := []*node{{}}
	for {
		tok, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		top := stack[len(stack)-1]
		switch tok := tok.(type) {
		case xml.StartElement:
			n := &node{name: tok.Name.Local}
			for _, a := range tok.Attr {
				if a.Name.Local == "class" {
					n.class = a.Value
				}
			}
			top.kids = append(top.kids, n)
			stack = append(stack, n)
		case xml.EndElement:
			if stack = stack[:len(stack)-1]; len(stack) == 1 {
				return stack[0]
			}
		case xml.CharData:
			top.text += string(tok)
		}
	}
}

// TestComputedAgain computes each example's resistances anew from nothing but what its
// page publishes, and holds them against the page's own result, digit by digit.
func TestComputedAgain(t *testing.T) {
	eachExample(t, func(t *testing.T, c *claims.Case, r *claims.Report) {
		var b strings.Builder
		p := NewCablePage(&b)
		if err := p.Add(c, r); err != nil {
			t.Fatal(err)
		}
		if err := p.Close(); err != nil {
			t.Fatal(err)
		}
		if r.Measured == nil {
			return
		}
		section := methodOf(t, b.String())
		keys := map[string]string{"Voltmeter": "voltmeter", "Ammeter": "ammeter", "Ohmmeter": "ohmmeter", "Room": "ambient", "Copper": "copper",
			"VBUS as printed": "vbus", "Ground as printed": "ground", "Loop as printed": "loop"}
		var record strings.Builder
		record.WriteString("gainsay: 1\ncable: again\nbench:\n")
		lists, tables := section.all("dl"), section.all("table")
		for i, dl := range lists {
			record.WriteString("- plugs: c-to-c\n")
			for _, row := range dl.all("div") {
				name, value := row.all("dt")[0].words(), row.all("dd")[0].words()
				if key := keys[name]; key != "" && !strings.Contains(value, "assumed") {
					value, _, _ = strings.Cut(value, ";")
					fmt.Fprintf(&record, "  %s: %q\n", key, value)
				}
			}
			if i >= len(tables)-1 { // the last holds the result
				continue
			}
			heads := tables[i].all("th")
			var names []string
			for _, h := range heads {
				if w := strings.ToLower(h.words()); w != "null" && w != "" && (w < "0" || w > "9z") {
					names = append(names, strings.Replace(w, "plug", "flip", 1))
				}
			}
			var nulls, readings []string
			for _, tr := range tables[i].all("tbody")[0].all("tr") {
				var parts []string
				for j, cell := range tr.all("td") {
					if v := cell.words(); v != "-" {
						parts = append(parts, names[j+1]+": "+v)
					}
				}
				one := "{" + strings.Join(parts, ", ") + "}"
				if tr.all("th")[0].words() == "null" {
					nulls = append(nulls, one)
				} else {
					readings = append(readings, one)
				}
			}
			if nulls != nil {
				record.WriteString("  null: [" + strings.Join(nulls, ", ") + "]\n")
			}
			if readings != nil {
				record.WriteString("  readings: [" + strings.Join(readings, ", ") + "]\n")
			}
		}
		again := cases(t, record.String())[0].Report()
		rows := tables[len(tables)-1].all("tbody")[0].all("tr")
		if again.Bench == nil || len(rows) == 0 {
			t.Fatalf("nothing comes of\n%s", record.String())
		}
		for i, row := range measured(again.Bench) {
			printed := rows[i].all("td")[0].words()
			if got := resistanceText(row.Resistance); rows[i].all("th")[0].words() != row.of.Name() || got != printed {
				t.Errorf("%s computed again is %s; the page has %s, from\n%s", row.of.Name(), got, printed, record.String())
			}
		}
	})
}
