package publish

import (
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims"
)

// ReportText prints a report for people, in the order they need it: what the
// cable is shown to carry and why, each claim's outcome, the findings, the
// testimony, what was not examined, the cautions.
func ReportText(r *claims.Report, style Style) string {
	var b strings.Builder
	b.Grow(12 << 10) // most reports
	writeVerdict(&b, r, style)
	writeRating(&b, r, style)
	writeClaims(&b, r.Claims, style)
	writeFindings(&b, r.Findings, style)
	writeTestimony(&b, r.Testimony, style)
	if r.Bench != nil {
		section(&b, "Bench", style)
		b.WriteString(BenchText(r.Bench))
	}
	writeNotExamined(&b, r.NotExamined, style)
	for _, broken := range r.Broken {
		paragraph(&b, style.paint(red, "Rule at fault: "), indent, Plain(broken))
	}
	writeList(&b, "How the marker was read", r.Remarks, style)
	writeList(&b, "Cautions", r.Cautions, style)
	return b.String()
}

// reportTitle names the cable of a report.
func reportTitle(r *claims.Report) string {
	if r.Label == "" {
		return r.Cable
	}
	return r.Cable + ": " + r.Label
}

const indent = "  "

func section(b *strings.Builder, title string, style Style) {
	b.WriteString("\n" + style.paint(bold, title) + "\n")
}

// writeVerdict writes the line that answers first: sold as, shown, outcome.
func writeVerdict(b *strings.Builder, r *claims.Report, style Style) {
	for i, text := range r.Lines() {
		if i == 0 {
			text = r.Cable + ": " + text
		}
		for _, line := range wrap(Plain(text), Width) {
			if i == 0 {
				line = style.paint(bold, line)
			}
			b.WriteString(line + "\n")
		}
	}
	if r.Label != "" {
		paragraph(b, indent, indent, Plain(r.Label))
	}
}

func writeRating(b *strings.Builder, r *claims.Report, style Style) {
	paragraph(b, indent, indent, ratingNote(r.Rating))
	paragraph(b, indent, indent, Plain(r.Rating.Reason))
}

// ratingNote says in a sentence what limits a rating and whether it is settled.
func ratingNote(r claims.Rating) string {
	var s string
	switch {
	case len(r.LimitedBy) > 0:
		s = "Limited by the " + witnessList(r.LimitedBy) + "."
	case r.PowerW == claims.Tiers()[0].Watts:
		s = "This is the highest published tier."
	}
	if !r.Settled {
		s = strings.TrimSpace(s + " Not settled: more evidence could change it.")
	}
	return s
}

func witnessList(ws []claims.Witness) string {
	names := make([]string, len(ws))
	for i, w := range ws {
		names[i] = string(w)
	}
	return strings.Join(names, " and the ")
}

func writeClaims(b *strings.Builder, cs []claims.ClaimOutcome, style Style) {
	section(b, "Claims", style)
	if len(cs) == 0 {
		b.WriteString(indent + "The seller claims nothing on record.\n")
		return
	}
	width := 0
	for _, c := range cs {
		width = max(width, min(columns(Plain(claimed(c))), 20))
	}
	for _, c := range cs {
		c.Claimed = claimed(c)
		text, code := claimText(c), yellow
		switch c.Standing {
		case claims.Confirmed:
			code = green
		case claims.Contradicted:
			code = red
		}
		const column = 2 + 12 // where the claim stands
		head := indent + pad(string(c.Property), 12) + pad(Plain(c.Claimed), width) + "  "
		hang := strings.Repeat(" ", columns(head))
		if columns(head) > Width/2 { // a long claim has its outcome below it
			hang = strings.Repeat(" ", column)
			for i, line := range wrap(Plain(c.Claimed), Width-column) {
				label := pad("", 12)
				if i == 0 {
					label = pad(string(c.Property), 12)
				}
				b.WriteString(indent + label + line + "\n")
			}
			head = hang
		}
		standing := string(c.Standing)
		for i, line := range wrap(text, Width-columns(hang)) {
			if i == 0 {
				b.WriteString(head + strings.Replace(line, standing, style.paint(code, standing), 1) + "\n")
			} else {
				b.WriteString(hang + line + "\n")
			}
		}
	}
}

// claimed is a claim as written, with the place it was read in where there are several.
func claimed(c claims.ClaimOutcome) string {
	if c.Of == "" {
		return c.Claimed
	}
	return c.Claimed + " (" + c.Of + ")"
}

// claimText says how a claim ends, by whom, and if it is not shown, why.
func claimText(c claims.ClaimOutcome) string {
	s := string(c.Standing)
	if c.Standing == claims.Confirmed && slices.Equal(c.By, []claims.Witness{claims.Marker}) {
		s += ": the marker agrees; not measured"
	} else if len(c.By) > 0 {
		s += " by the " + witnessList(c.By)
	}
	if c.Because != "" {
		s += ": " + Plain(c.Because)
	}
	return s
}

func writeFindings(b *strings.Builder, fs []claims.Finding, style Style) {
	section(b, "Findings", style)
	if len(fs) == 0 {
		b.WriteString(indent + "None.\n")
	}
	for i, f := range fs {
		kind := style.paint(kindColour(f.Kind), string(f.Kind)) + "  " + f.Rule + "\n"
		in := indent + indent
		if f.Under == "" {
			if i > 0 {
				b.WriteString("\n")
			}
			b.WriteString(indent + kind)
		} else { // source and next step are told at the root
			b.WriteString(in + also + kind)
			in += strings.Repeat(" ", len(also))
		}
		paragraph(b, in, in, Plain(f.Says))
		if f.Under == "" {
			labelled(b, "Source: ", Plain(f.Source))
			labelled(b, "Next:   ", Plain(f.Next))
		}
		if f.Waived != "" {
			const label = "Waived: "
			paragraph(b, in+label, in+strings.Repeat(" ", len(label)), Plain(f.Waived))
		}
	}
}

// also opens a finding that hangs under the one before.
const also = "Also:   "

func kindColour(k claims.Kind) string {
	switch k {
	case claims.Contradiction, claims.Breach:
		return red
	case claims.Doubt:
		return yellow
	}
	return faint
}

func labelled(b *strings.Builder, label, text string) {
	paragraph(b, indent+indent+label, indent+indent+strings.Repeat(" ", columns(label)), text)
}

func writeTestimony(b *strings.Builder, rows []claims.TestimonyRow, style Style) {
	if len(rows) == 0 {
		return
	}
	section(b, "Testimony", style)
	const column = 21
	b.WriteString(strings.TrimRight(indent+pad("", 12)+pad("seller", column)+pad("marker", column)+pad("bench", column), " ") + "\n")
	for _, r := range rows {
		cells := [3][]string{}
		height := 1
		for i, text := range []string{r.Seller, r.Marker, r.Bench} {
			cells[i] = wrap(Plain(text), column-2)
			height = max(height, len(cells[i]))
		}
		for line := range height {
			text := indent
			if line == 0 {
				text += pad(string(r.Property), 12)
			} else {
				text += pad("", 12)
			}
			for i := range cells {
				cell := ""
				if line < len(cells[i]) {
					cell = cells[i][line]
				} else if line == 0 {
					cell = "-"
				}
				text += pad(cell, column)
			}
			b.WriteString(strings.TrimRight(text, " ") + "\n")
		}
	}
}

// gapLines says what was not examined: what is missing, how many rules need it, and how
// to get it.
func gapLines(ns []claims.NotExamined) []string {
	var lines []string
	var silent []string
	for _, w := range []claims.Witness{claims.Bench, claims.Marker} {
		for _, n := range ns {
			if n.Witness != w || len(n.Needs) == 0 || n.Because != "" {
				continue
			}
			rules := fmt.Sprintf("%d rules need ", len(n.Rules))
			if len(n.Rules) == 1 {
				rules = "1 rule needs "
			}
			what, get := make([]string, len(n.Needs)), make([]string, len(n.Needs))
			for i, e := range n.Needs {
				what[i], get[i] = e.What(), e.Get()
			}
			lines = append(lines, rules+strings.Join(what, " and ")+": "+strings.Join(get, "; ")+".")
		}
	}
	for _, n := range ns {
		if n.Witness != claims.Seller || n.Because != "" {
			continue
		}
		for _, e := range n.Needs {
			if !slices.Contains(silent, e.What()) {
				silent = append(silent, e.What())
			}
		}
	}
	if len(silent) > 0 {
		lines = append(lines, "No claim recorded for "+strings.Join(silent, ", ")+".")
	}
	for _, n := range ns {
		if n.Because != "" {
			lines = append(lines, strings.Join(n.Rules, ", ")+": "+n.Because+".")
		}
	}
	return lines
}

func writeNotExamined(b *strings.Builder, ns []claims.NotExamined, style Style) {
	section(b, "Not examined", style)
	lines := gapLines(ns)
	if len(lines) == 0 {
		b.WriteString(indent + "Every rule had the evidence it needs.\n")
	}
	for _, line := range lines {
		paragraph(b, indent, indent+indent, Plain(line))
	}
}

func writeList(b *strings.Builder, title string, lines []string, style Style) {
	if len(lines) == 0 {
		return
	}
	section(b, title, style)
	for _, line := range lines {
		paragraph(b, indent+"- ", indent+indent, Plain(line))
	}
}
