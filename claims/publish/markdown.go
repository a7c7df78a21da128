package publish

import (
	"fmt"
	"strings"
	"unicode"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/shelf"
)

// marked escapes text for Markdown, CommonMark and its tables: no character of it
// can begin markup, a link or HTML, wherever it stands in a line.
func marked(s string) string {
	s = Plain(s)
	var b strings.Builder
	rs := []rune(s)
	for i, r := range rs {
		last := i+1 == len(rs)
		within := i > 0 && !last && alphanumeric(rs[i-1]) && alphanumeric(rs[i+1])
		between := within && unicode.IsDigit(rs[i-1]) && unicode.IsDigit(rs[i+1])
		closes := last || rs[i+1] == ' '
		switch {
		case r == '.' && (between || closes && !allDigits(rs[:i])):
		case r == ':' && closes:
		case r == '-' && within:
		case strings.ContainsRune("\\`*_{}[]()<>#+-.!|&~:@^$=", r):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

func alphanumeric(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// allDigits tells texts that would number a list.
func allDigits(rs []rune) bool {
	for _, r := range rs {
		if !unicode.IsDigit(r) {
			return false
		}
	}
	return true
}

func markedRow(b *strings.Builder, cells ...string) {
	for _, c := range cells {
		b.WriteString("| " + marked(c) + " ")
	}
	b.WriteString("|\n")
}

func markedHead(b *strings.Builder, heads ...gridHead) {
	for _, h := range heads {
		b.WriteString("| " + marked(h.text) + " ")
	}
	b.WriteString("|\n")
	for _, h := range heads {
		b.WriteString(pick(h.right, "|---:", "|---"))
	}
	b.WriteString("|\n")
}

func markedGrid(b *strings.Builder, t grid) {
	markedHead(b, t.head...)
	for _, r := range t.rows {
		cells := make([]string, len(r))
		for i, c := range r {
			cells[i] = c.text
		}
		markedRow(b, cells...)
	}
	b.WriteString("\n")
}

func markedList(b *strings.Builder, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("### " + title + "\n\n")
	for _, l := range lines {
		b.WriteString("- " + marked(l) + "\n")
	}
	b.WriteString("\n")
}

// ReportMarkdown prints a report in Markdown, in the order of ReportText.
func ReportMarkdown(r *claims.Report) string {
	r = bounded(r)
	var b strings.Builder
	b.WriteString("## " + marked(reportTitle(r)) + "\n\n")
	for i, line := range r.Lines() {
		if i == 0 {
			line = "**" + marked(line) + "**"
		} else {
			line = marked(line)
		}
		b.WriteString(line + "\n\n")
	}
	b.WriteString(strings.TrimSpace(marked(ratingNote(r.Rating))+" "+marked(r.Rating.Reason)) + "\n\n")
	b.WriteString("### Claims\n\n")
	if len(r.Claims) == 0 {
		b.WriteString("No claim recorded.\n\n")
	} else {
		t := grid{head: []gridHead{{"Claim", false}, {"As claimed", false}, {"Result", false}}}
		for _, c := range r.Claims {
			t.add(string(c.Property), claimed(c), claimText(c))
		}
		markedGrid(&b, t)
	}
	b.WriteString("### Findings\n\n")
	if len(r.Findings) == 0 {
		b.WriteString("None.\n\n")
	}
	for i, f := range r.Findings {
		if f.Under != "" {
			fmt.Fprintf(&b, "- Also **%s** `%s`: %s\n", marked(string(f.Kind)), f.Rule, marked(f.Says))
			if f.Waived != "" {
				fmt.Fprintf(&b, "  Waived: %s\n", marked(f.Waived))
			}
			continue
		}
		if i > 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "**%s** `%s`: %s\n\n", marked(string(f.Kind)), f.Rule, marked(f.Says))
		fmt.Fprintf(&b, "- Source: %s\n- Next: %s\n", marked(f.Source), marked(f.Next))
		if f.Waived != "" {
			fmt.Fprintf(&b, "- Waived: %s\n", marked(f.Waived))
		}
	}
	if len(r.Findings) > 0 {
		b.WriteString("\n")
	}
	if len(r.Testimony) > 0 {
		b.WriteString("### Testimony\n\n")
		t := grid{head: []gridHead{{"Question", false}, {"Seller", false}, {"Marker", false}, {"Bench", false}}}
		for _, row := range r.Testimony {
			t.add(string(row.Property), row.Seller, row.Marker, row.Bench)
		}
		markedGrid(&b, t)
	}
	if r.Bench != nil {
		b.WriteString("### Bench\n\n")
		t := grid{head: []gridHead{{"Conductor", false}, {"Resistance", true}, {"k", true}}}
		for _, row := range measured(r.Bench) {
			t.add(row.of.Name(), resistanceText(row.Resistance), fmt.Sprintf("%.2f", row.K))
		}
		markedGrid(&b, t)
		for _, d := range limitLines(r.Bench.Decisions) {
			b.WriteString("- " + marked(d[0]+": "+d[1]) + "\n")
		}
		b.WriteString("\n")
	}
	for i, m := range methods(r.Measured) {
		if i == 0 {
			b.WriteString("### How it was measured\n\n")
		}
		b.WriteString("**" + marked(m.Title) + "**\n\n")
		for _, f := range m.Facts {
			b.WriteString("- " + marked(f[0]+": "+f[1]) + "\n")
		}
		b.WriteString("\n")
		if len(m.Table.rows) > 0 {
			markedGrid(&b, m.Table.grid)
		}
		if m.More != "" {
			b.WriteString(marked(m.More) + "\n\n")
		}
	}
	markedList(&b, "Not checked", gapLines(r.NotExamined))
	markedList(&b, "How the marker was read", r.Remarks)
	markedList(&b, "Rules at fault", r.Broken)
	markedList(&b, "Cautions", r.Cautions)
	return b.String()
}

// ShelfMarkdown prints a shelf in Markdown.
func ShelfMarkdown(items []*shelf.Item, columns []*shelf.Column, s shelf.Summary) string {
	var b strings.Builder
	b.WriteString("# The shelf\n\n" + marked(shelfCount(s)) + "\n\n")
	t := grid{}
	for _, c := range columns {
		t.head = append(t.head, gridHead{c.Title, c.Numeric})
	}
	for _, it := range items {
		row := make([]string, len(columns))
		for i, c := range columns {
			row[i] = c.Of(it).Text
		}
		t.add(row...)
	}
	markedGrid(&b, t)
	if len(s.Batches) > 0 {
		b.WriteString("## Batches\n\n")
		markedGrid(&b, batchGrid(s.Batches))
		b.WriteString(marked(batchNote) + "\n\n")
		for _, line := range lotLines(s.Batches) {
			b.WriteString("- " + marked(line) + "\n")
		}
	}
	if len(s.Across) > 0 {
		b.WriteString("## Across records\n\n")
	}
	for _, a := range s.Across {
		fmt.Fprintf(&b, "**%s** `%s`: %s\n\n- Next: %s\n\n", marked(string(a.Kind)), a.Rule, marked(a.Says), marked(a.Next))
	}
	b.WriteString("## Counts\n\n")
	for _, t := range countGrids(s) {
		markedGrid(&b, t)
	}
	if again := measuredAgain(s.Repeats); again != "" {
		b.WriteString(marked(again) + "\n\n")
	}
	for _, c := range claims.StandingCautions() {
		b.WriteString(marked(c) + "\n")
	}
	return b.String()
}
