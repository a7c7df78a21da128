package publish

import (
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// measuredRow is what was measured over one conductor.
type measuredRow struct {
	of bench.Conductor
	*claims.Resistance
}

// measured lists the resistances that are known.
func measured(r *claims.BenchReport) []measuredRow {
	rows := []measuredRow{{bench.VBUS, r.VBUS}, {bench.Ground, r.Ground}, {bench.Loop, r.Loop}}
	return slices.DeleteFunc(rows, func(row measuredRow) bool { return row.Resistance == nil })
}

// BenchText prints what the bench found: the resistances, what they carry, what
// becomes of the cable in use, the wire, and what would settle the rest.
func BenchText(r *claims.BenchReport) string {
	var b strings.Builder
	for _, row := range measured(r) {
		value := quantity.FormatUncertain(row.Ohm, row.Expanded, quantity.Resistance)
		note := fmt.Sprintf("k = %.2f", row.K)
		if row.Flip != "" {
			note += ", plug " + row.Flip
		}
		if row.Assumed {
			note += "; the accuracy of a meter is assumed"
		}
		fmt.Fprintf(&b, "%s%s%s  (%s)\n", indent, pad(row.of.Name(), 12), value, note)
	}
	row := func(label, text string) { paragraph(&b, indent+pad(label, 12), indent+pad("", 12), text) }
	for _, d := range limitLines(r.Decisions) {
		row(d[0], d[1])
	}
	if len(r.Decisions) > 0 {
		row("decided by", decidedBy(r.Decisions))
	}
	if r.Carries != nil {
		row("headroom", carriesText(r))
	}
	if l := r.Load; l != nil {
		row("in use", loadText(l))
	}
	for _, w := range r.Wires {
		row("wire", w+".")
	}
	for _, s := range r.Settle {
		row("to settle", s+".")
	}
	return b.String()
}

// NoteText prints what a reader of the numbers has to know, in rows as BenchText does.
func NoteText(r *claims.BenchReport) string {
	var b strings.Builder
	for _, n := range r.Notes {
		paragraph(&b, indent+pad("note", 12), indent+pad("", 12), capital(Plain(n.Says))+".")
	}
	return b.String()
}

// againstLimit says how a resistance stands to a limit, as "within 100 mΩ".
func againstLimit(d claims.LimitResult) string {
	how := pick(d.Outcome == bench.Undecided.String(), "undecided against", d.Outcome)
	return how + " " + quantity.Format(d.LimitOhm, quantity.Resistance, 4)
}

// limitLines gathers the decisions of one current into a line.
func limitLines(ds []claims.LimitResult) [][2]string {
	var out [][2]string
	for i, d := range ds {
		if !worstLimit(ds, i) {
			continue
		}
		label := "at " + quantity.Format(d.CurrentA, quantity.Current, 4)
		text := conductorName(d.Conductor) + " " + againstLimit(d)
		if d.ProbabilityWithin != nil {
			text += fmt.Sprintf(" (probability of being within: %s)", probability(*d.ProbabilityWithin))
		}
		if n := len(out); n > 0 && out[n-1][0] == label {
			out[n-1][1] += "; " + text
			continue
		}
		out = append(out, [2]string{label, text})
	}
	return out
}

// worstLimit reports whether a decision is the worst of its conductor at its current.
func worstLimit(ds []claims.LimitResult, at int) bool {
	rank := func(d *claims.LimitResult) float64 {
		p := 1.0
		if d.ProbabilityWithin != nil {
			p = *d.ProbabilityWithin
		}
		switch d.Outcome {
		case bench.Over.String():
			return p
		case bench.Undecided.String():
			return p + 1
		}
		return p + 2
	}
	for i := range ds {
		d := &ds[i]
		if i == at || d.CurrentA != ds[at].CurrentA || d.Conductor != ds[at].Conductor || d.LimitOhm != ds[at].LimitOhm {
			continue
		}
		if a, b := rank(d), rank(&ds[at]); a < b || a == b && i < at {
			return false
		}
	}
	return true
}

// decidedBy names the rules that decided the limits.
func decidedBy(ds []claims.LimitResult) string {
	var rules []string
	for _, d := range ds {
		if !slices.Contains(rules, d.Rule) {
			rules = append(rules, d.Rule)
		}
	}
	return strings.Join(rules, " and ") + " (ILAC-G8:09/2019)."
}

// probability prints a probability without claiming certainty.
func probability(p float64) string {
	switch {
	case p < 0.0001:
		return "under 0.01 %"
	case p > 0.9999:
		return "over 99.99 %"
	}
	return fmt.Sprintf("%.2f %%", 100*p)
}

// carriesText says at what current the first limit is reached.
func carriesText(r *claims.BenchReport) string {
	c := r.Carries
	amps := func(a float64) string { return quantity.Format(a, quantity.Current, 2) }
	s := "not shown for any current"
	switch {
	case c.Value != nil:
		s = "reaches the limit at " + amps(*c.Value)
	case c.Low > 0:
		s = "keeps the limits up to " + amps(c.Low) + " at least"
	}
	if c.Value != nil && c.High != nil {
		s += fmt.Sprintf(" (%s to %s)", quantity.Format(c.Low, quantity.Current, 3), quantity.Format(*c.High, quantity.Current, 3))
	} else if c.High != nil {
		s += "; is over a limit above " + amps(*c.High)
	}
	if c.Value != nil && *c.Value > bench.MaxRatedAmp {
		s += fmt.Sprintf("; Type-C cables are rated %d A at most", bench.MaxRatedAmp)
	}
	return s + "."
}

func loadText(l *claims.Load) string {
	s := fmt.Sprintf("at %s, %s from the source is %s at the far end; %s turns to heat",
		quantity.Format(l.CurrentA, quantity.Current, 3), quantity.Format(l.SourceV, quantity.Voltage, 4),
		quantity.Format(l.FarEndV, quantity.Voltage, 4), quantity.Format(l.HeatW, quantity.Power, 3))
	if l.HeatWPerM != nil {
		s += fmt.Sprintf(", %s a metre", quantity.Format(*l.HeatWPerM, quantity.Power, 3))
	}
	return s + fmt.Sprintf(". With the copper %g K warmer: %s.", l.RiseK, l.Warm)
}

// conductorName is the name of a conductor as reports have it, for people.
func conductorName(id string) string {
	for _, c := range []bench.Conductor{bench.VBUS, bench.Ground, bench.Loop} {
		if c.String() == id {
			return c.Name()
		}
	}
	return id
}

// Ohms is the published form of readings worked out at the prompt.
type Ohms struct {
	Version int                 `json:"gainsay"` // version of the format, as FormatVersion
	Bench   *claims.BenchReport `json:"bench"`   // the resistances, limits, budget and notes
}

// BudgetText prints the uncertainty budget of each conductor as a table, the
// largest part first, and what to improve first.
func BudgetText(r *claims.BenchReport, style Style) string {
	var b strings.Builder
	for _, row := range measured(r) {
		if len(row.Budget) == 0 {
			continue
		}
		section(&b, "Uncertainty of "+row.of.Name(), style)
		fmt.Fprintf(&b, "%s%s%s%s%s%s\n", indent, pad("from", 33), pad("u", 11), pad("times", 13), pad("adds", 11), "share")
		for _, c := range row.Budget {
			per := fmt.Sprintf("%.4g Ω/%s", c.Sensitivity, c.Unit)
			if c.Unit == "Ω" {
				per = fmt.Sprintf("%.4g", c.Sensitivity)
			}
			from := c.From
			if c.DoF != nil {
				from += fmt.Sprintf(", ν = %.3g", *c.DoF)
			}
			fmt.Fprintf(&b, "%s%s%s%s%s%5.1f %%\n", indent, pad(from, 33), pad(inUnit(c.U, c.Unit), 11), pad(per, 13),
				pad(quantity.Format(c.Ohm, quantity.Resistance, 3), 11), 100*c.Share)
		}
		dof := "infinite"
		if row.DoF != nil {
			dof = fmt.Sprintf("%.1f", *row.DoF)
		}
		paragraph(&b, indent, indent, fmt.Sprintf("Combined %s; degrees of freedom %s; k = %.3f; expanded %s (95.45 %%).",
			quantity.Format(row.U, quantity.Resistance, 3), dof, row.K, quantity.Format(row.Expanded, quantity.Resistance, 3)))
		paragraph(&b, indent, indent, "To improve first: "+row.Budget[0].Advice+".")
	}
	if b.Len() > 0 {
		b.WriteString("\n")
		paragraph(&b, indent, indent, budgetHelp)
	}
	return b.String()
}

// budgetHelp is how to follow a budget by hand.
const budgetHelp = "adds = u × times. Combined = root of the sum of the squares of adds. " +
	"Parts with ν are normal, from scatter; a calibration is normal; every other part is rectangular, u = half-width/√3. " +
	"Degrees of freedom = combined⁴ / Σ adds⁴/ν (Welch-Satterthwaite); a null with the scatter of the readings is first added to them in quadrature. " +
	"expanded = k × combined. k = Student's t for these degrees of freedom, less where a rectangular part is large, " +
	"more where one part has few ν: expanded is never below t(ν) × that part alone."

// inUnit prints the standard uncertainty of an input.
func inUnit(u float64, unit string) string {
	switch unit {
	case "V":
		return quantity.Format(u, quantity.Voltage, 3)
	case "A":
		return quantity.Format(u, quantity.Current, 3)
	case "K":
		return fmt.Sprintf("%.3g K", u)
	}
	return quantity.Format(u, quantity.Resistance, 3)
}
