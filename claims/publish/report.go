package publish

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// ReportText prints a report for people: the verdict and what it means, how and what was
// measured, the claims by their result, each finding with its next step and source, and
// how much was not checked. With style.Full remarks, the witnesses side by side, all
// measurements, what was not checked by missing evidence and how the marker was read
// follow. The cautions that hold for every report are RunCautions.
func ReportText(r *claims.Report, style Style) string {
	r = bounded(r)
	var b strings.Builder
	b.Grow(12 << 10) // most reports
	writeVerdict(&b, r, style)
	if style.Full {
		writeClaims(&b, r.Claims, style)
		writeFindings(&b, r.Findings, style)
		writeRating(&b, r, style)
		writeTestimony(&b, r.Testimony, style)
		if r.Bench != nil {
			section(&b, "Bench", style)
			b.WriteString(BenchText(r.Bench))
		}
		writeMethod(&b, r, style)
		writeNotExamined(&b, r.NotExamined, style)
		writeList(&b, "How the marker was read", r.Remarks, style)
	} else {
		writeResults(&b, r, style)
		untold := writeCauses(&b, r.Findings, style)
		if rest := restText(r, untold); rest != "" {
			b.WriteString("\n")
			quiet(&b, indent, rest, style)
		}
	}
	for _, broken := range r.Broken {
		paragraph(&b, style.paint(red, "Rule at fault: "), indent, Plain(broken))
	}
	return b.String()
}

// restText says how much a short report leaves out, and how to see it.
func restText(r *claims.Report, doubts int) string {
	parts := appendCount(nil, doubts, "doubt")
	parts = appendCount(parts, r.Count(claims.Remark), "remark")
	if n := rulesOf(r.NotExamined); n > 0 {
		parts = appendCount(parts, n, "rule")
		parts[len(parts)-1] += " not checked for missing evidence"
	}
	if len(parts) == 0 {
		return ""
	}
	return "More with --full: " + strings.Join(parts, ", ") + "."
}

// appendCount appends "1 null" or "2 nulls", and nothing for none.
func appendCount(parts []string, n int, what string) []string {
	switch {
	case n == 1:
		return append(parts, "1 "+what)
	case n > 1:
		return append(parts, fmt.Sprintf("%d %ss", n, what))
	}
	return parts
}

// writeResults writes the claims by their result. What is not shown has its reason.
func writeResults(b *strings.Builder, r *claims.Report, style Style) {
	cs, told := r.Claims, strings.Join(r.Lines()[1:], " ")
	const marker = "the marker agrees; not measured"
	var contradicted, confirmed, marked []string
	for _, c := range cs {
		text := string(c.Property) + " " + claimed(c)
		switch {
		case c.Standing == claims.Contradicted:
			contradicted = append(contradicted, text+" (by the "+witnessList(c.By)+")")
		case c.Standing == claims.Confirmed && slices.Equal(c.By, []claims.Witness{claims.Marker}):
			marked = append(marked, text)
		case c.Standing == claims.Confirmed:
			confirmed = append(confirmed, text)
		}
	}
	if len(cs) > 0 {
		b.WriteString("\n")
	}
	const width = 14
	row := func(standing claims.Standing, code, text string) {
		head := style.paint(code, string(standing)) + strings.Repeat(" ", width-len(standing))
		paragraph(b, indent+head, indent+strings.Repeat(" ", width), Plain(text))
	}
	if len(contradicted) > 0 {
		row(claims.Contradicted, red, strings.Join(contradicted, ", "))
	}
	if len(confirmed) > 0 {
		row(claims.Confirmed, green, strings.Join(confirmed, ", "))
	}
	if len(marked) > 0 {
		row(claims.Confirmed, green, strings.Join(marked, ", ")+" ("+marker+")")
	}
	for _, c := range cs {
		if c.Standing != claims.Confirmed && c.Standing != claims.Contradicted {
			why := ": " + c.Because
			if strings.Contains(told, c.Because) { // the verdict has said so
				why = ""
			}
			row(c.Standing, yellow, string(c.Property)+" "+claimed(c)+why)
		}
	}
}

// writeCauses writes a paragraph for each cause: kind, rules, what was found, what to do
// next, the first source. Findings of one kind with one next step share it. Remarks are
// left out, and so are doubts behind the first mostCauses, which it counts.
func writeCauses(b *strings.Builder, fs []claims.Finding, style Style) (untold int) {
	written := 0
	for i, n := range causes(fs) {
		f := fs[i]
		if f.Kind == claims.Remark || f.Waived != "" && len(n) == 1 {
			continue
		}
		if written++; written > mostCauses && f.Kind == claims.Doubt {
			untold++
			continue
		}
		if written == 1 {
			b.WriteString("\n")
		}
		var ids, says, next []string
		for _, j := range n {
			one := fs[j]
			if one.Waived != "" {
				continue
			}
			if one.Under == "" || one.Under != f.Rule {
				ids = appendNew(ids, one.Rule)
			}
			says = appendNew(says, withoutRepeat(one.Says, says))
			next = appendNew(next, one.Next)
		}
		next = slices.DeleteFunc(next, func(s string) bool {
			return slices.ContainsFunc(next, func(t string) bool { return len(t) > len(s) && strings.HasPrefix(t, s) })
		})
		text := fmt.Sprintf("%s %s: %s Next: %s [%s]", f.Kind, strings.Join(ids, ", "), strings.Join(says, " "), strings.Join(next, " "), shortSource(f.Source))
		kinded(b, f.Kind, Plain(text), style)
	}
	return untold
}

// kinded prints a paragraph that begins with a kind of finding, in its colour.
func kinded(b *strings.Builder, k claims.Kind, text string, style Style) {
	in := indent
	for line := range lines(text, Width-2*columns(indent)) {
		if in == indent {
			line = strings.Replace(line, string(k), style.paint(kindColour(k), string(k)), 1)
		}
		b.WriteString(in + line + "\n")
		in = indent + indent
	}
}

// shortSource is the first of several sources, by document and clause.
func shortSource(s string) string {
	s, _, _ = strings.Cut(s, "; ")
	parts := strings.SplitN(s, ", ", 3)
	return strings.Join(parts[:min(2, len(parts))], ", ")
}

// mostCauses is how many causes a short report tells before it counts doubts only.
const mostCauses = 4

// causes groups findings by the place of the first of each group: what hangs under it,
// and others of its kind with the same next step.
func causes(fs []claims.Finding) iter.Seq2[int, []int] {
	return func(yield func(int, []int) bool) {
		taken := make([]bool, len(fs))
		for i := range fs {
			if taken[i] {
				continue
			}
			group := []int{i}
			for j := i + 1; j < len(fs); j++ {
				follows := fs[j].Under == fs[i].Rule
				alike := fs[j].Under == "" && fs[j].Kind == fs[i].Kind && fs[j].Next == fs[i].Next
				if !taken[j] && (follows || alike) {
					taken[j] = true
					group = append(group, j)
				}
			}
			if !yield(i, group) {
				return
			}
		}
	}
}

// withoutRepeat leaves the last clause of a sentence out where one before has it.
func withoutRepeat(s string, before []string) string {
	head, clause, ok := strings.Cut(s, "; ")
	if ok && slices.ContainsFunc(before, func(b string) bool { return strings.Contains(b, strings.TrimSuffix(clause, ".")) }) {
		return head + "."
	}
	return s
}

// RunCautions prints, once for all reports, what holds for each.
func RunCautions(style Style) string {
	var b strings.Builder
	b.WriteString("\n")
	quiet(&b, "", claims.NotTested+" "+strings.Join(claims.StandingCautions(), " "), style)
	return b.String()
}

// quiet prints a paragraph that steps back behind the others.
func quiet(b *strings.Builder, in, text string, style Style) {
	for line := range lines(text, Width-columns(in)) {
		b.WriteString(in + style.paint(faint, line) + "\n")
	}
}

// rulesOf counts the rules that were not checked for missing evidence.
func rulesOf(ns []claims.NotExamined) int {
	seen := map[string]bool{}
	for _, one := range ns {
		for _, id := range one.Rules {
			seen[id] = true
		}
	}
	return len(seen)
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

// writeVerdict writes the line that answers first (sold as, shown, outcome), what it
// means for people, how it was measured and the numbers that decide it.
func writeVerdict(b *strings.Builder, r *claims.Report, style Style) {
	for i, text := range r.Lines() {
		in := indent
		if i == 0 {
			text, in = r.Cable+": "+text, ""
		}
		for _, line := range wrap(Plain(text), Width-len(in)) {
			if i == 0 {
				line = style.paint(bold, line)
			}
			b.WriteString(in + line + "\n")
		}
	}
	for _, text := range append([]string{r.Label, r.Use}, r.OwnCautions()...) {
		if text != "" {
			paragraph(b, indent, indent, Plain(text))
		}
	}
	switch {
	case r.Measured != nil:
		paragraph(b, indent, indent, Plain(MeasuredText(r.Measured)))
	case !style.Full: // what the marker allows; the whole reason has a section of its own
		paragraph(b, indent, indent, Plain(r.Rating.Reason))
	}
	if line := decidingText(r); line != "" {
		paragraph(b, indent, indent, line)
	}
}

// MeasuredText says in a sentence how the bench measured.
func MeasuredText(m *claims.Measured) string {
	s := "Measured"
	switch n := len(m.Dates); {
	case n == 1:
		s += " " + m.Dates[0]
	case n > 1:
		s += fmt.Sprintf(" %s to %s", m.Dates[0], m.Dates[n-1])
	}
	var parts []string
	if m.By != "" {
		parts = append(parts, "by "+m.By)
	}
	if m.Rig != "" {
		parts = append(parts, m.Rig)
	}
	parts = appendCount(parts, m.Readings, "reading")
	if m.Readings == 0 {
		parts = append(parts, "resistance as printed")
	}
	parts = appendCount(parts, m.Matings, "mating")
	parts = appendCount(parts, m.Nulls, "null")
	for _, accuracy := range []string{m.Voltmeter, m.Ammeter, m.Ohmmeter} {
		if accuracy != "" {
			parts = append(parts, accuracy)
		}
	}
	if m.Assumed {
		parts = append(parts, "accuracy not recorded")
	}
	if m.Ambient != "" {
		parts = append(parts, m.Ambient)
	}
	if s == "Measured" {
		return s + ": " + strings.Join(parts, ", ") + "."
	}
	return s + ", " + strings.Join(parts, ", ") + "."
}

// decidingText gives the numbers that decide what is shown, each with its limit.
func decidingText(r *claims.Report) string {
	at, parts := deciding(r)
	if len(parts) == 0 {
		return ""
	}
	texts := make([]string, len(parts))
	for i, p := range parts {
		texts[i] = p.text
	}
	return quantity.Format(at, quantity.Current, 4) + ": " + strings.Join(texts, "; ") + "."
}

// worstText is the deciding number nearest to its limit, or farthest above.
func worstText(r *claims.Report) string {
	at, parts := deciding(r)
	if len(parts) == 0 {
		return ""
	}
	worst := slices.MaxFunc(parts, func(a, b decider) int { return cmp.Compare(a.share, b.share) })
	return worst.text + " at " + quantity.Format(at, quantity.Current, 4)
}

// decider is a resistance with its limit, and the share of the limit it takes.
type decider struct {
	text  string
	share float64
}

// deciding gives the numbers of the current shown, or, where more is sold than shown, of
// the lowest current at which the bench holds the cable back. A loop alone passes below
// the lower of its two limits and fails above the higher.
func deciding(r *claims.Report) (at float64, parts []decider) {
	if r.Bench == nil {
		return 0, nil
	}
	at = float64(r.Rating.CurrentA)
	short := r.Verdict.ShownW == nil || *r.Verdict.ShownW == 0 || r.Verdict.SoldW != nil && *r.Verdict.SoldW > float64(*r.Verdict.ShownW)
	for _, d := range r.Bench.Decisions {
		if short && d.Outcome != bench.Within.String() {
			at = d.CurrentA
			break
		}
	}
	limits := map[string][]float64{}
	for _, d := range r.Bench.Decisions {
		if d.CurrentA == at && !slices.Contains(limits[d.Conductor], d.LimitOhm) {
			limits[d.Conductor] = append(limits[d.Conductor], d.LimitOhm)
		}
	}
	for _, row := range measured(r.Bench) {
		l := limits[row.of.String()]
		if len(l) == 0 {
			continue
		}
		slices.Sort(l)
		text := row.of.Name() + " " + withoutUnit(quantity.FormatUncertain(row.Ohm, row.Expanded, quantity.Resistance))
		limit := func(ohm float64) string { return quantity.Format(ohm, quantity.Resistance, 4) }
		if low, high := l[0], l[len(l)-1]; low != high {
			text += fmt.Sprintf(" mΩ, passes below %s, fails above %s", limit(low), limit(high))
		} else {
			text += fmt.Sprintf(" of %s, %.0f %%", limit(low), 100*row.Ohm/low)
		}
		parts = append(parts, decider{text, row.Ohm / l[0]})
	}
	return at, parts
}

// withoutUnit leaves the unit out where the limit behind it has the same.
func withoutUnit(s string) string { return strings.TrimSuffix(s, " mΩ") }

func writeRating(b *strings.Builder, r *claims.Report, style Style) {
	section(b, "Rating", style)
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
	if len(cs) == 0 {
		return
	}
	b.WriteString("\n")
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

// claimed is a claim as written and, where that differs, as understood, with the place it was read in where there are several.
func claimed(c claims.ClaimOutcome) string {
	text := c.Claimed
	if c.Normal != "" && !sameWords(c.Normal, text) {
		text += " → " + c.Normal
	}
	if c.Of == "" {
		return text
	}
	return text + " (" + c.Of + ")"
}

// sameWords reports whether two texts differ in case and blanks only.
func sameWords(a, b string) bool {
	flat := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), "")) }
	return flat(a) == flat(b)
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

// writeFindings writes each cause whole: the rules, what was found, what to do next, and
// the sources. Findings that share a cause share it, and each different step is told.
func writeFindings(b *strings.Builder, fs []claims.Finding, style Style) {
	section(b, "Findings", style)
	if len(fs) == 0 {
		b.WriteString(indent + "None.\n")
	}
	for i := 0; i < len(fs); {
		n := i + 1
		for n < len(fs) && fs[n].Under != "" {
			n++
		}
		writeCause(b, fs[i:n], style)
		i = n
	}
}

func writeCause(b *strings.Builder, fs []claims.Finding, style Style) {
	var says, next, sources []string
	for _, f := range fs {
		if f.Waived != "" {
			says = appendNew(says, f.Says+" Waived: "+f.Waived+".")
			continue
		}
		says, next, sources = appendNew(says, f.Says), appendNew(next, f.Next), appendNew(sources, f.Source)
	}
	root := fs[0]
	ids := make([]string, len(fs))
	for i, f := range fs {
		ids[i] = f.Rule
	}
	in := indent + indent
	kinded(b, root.Kind, string(root.Kind)+"  "+strings.Join(ids, ", "), style)
	paragraph(b, in, in, Plain(strings.Join(says, " ")))
	if len(next) > 0 {
		paragraph(b, in, in, Plain("Next: "+strings.Join(next, " ")))
		quiet(b, in, Plain("Source: "+strings.Join(sources, "; ")+"."), style)
	}
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func kindColour(k claims.Kind) string {
	switch k {
	case claims.Contradiction, claims.Breach:
		return red
	case claims.Doubt:
		return yellow
	}
	return faint
}

func writeTestimony(b *strings.Builder, rows []claims.TestimonyRow, style Style) {
	if len(rows) == 0 {
		return
	}
	section(b, "Witnesses", style)
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
	section(b, "Not checked", style)
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
