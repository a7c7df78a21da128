package publish

import (
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
)

// The columns of a brief report, in characters. A longer cell pushes the rest of its line.
const (
	briefID      = 16
	briefSold    = 8
	briefShown   = 16
	briefOutcome = 14
)

// ReportBrief prints a report as one line: id, sold as, shown, outcome, and the worst
// reason. The columns stand at fixed places, so that lines of many cables line up.
func ReportBrief(r *claims.Report, style Style) string {
	v := r.Verdict
	sold := "-"
	if v.SoldW != nil {
		sold = quantity.Format(*v.SoldW, quantity.Power, 4)
	}
	outcome := string(v.Outcome)
	if v.Outcome == claims.OutcomeNoClaim && r.Contradicted() {
		outcome = "contradicted"
	}
	colour := map[string]string{string(claims.OutcomeContradicted): red, string(claims.OutcomeConfirmed): green, string(claims.OutcomeOpen): yellow}[outcome]
	line := padded(Plain(r.Cable), briefID) + padded(sold, briefSold) + padded(shownCell(r), briefShown) +
		style.paint(colour, outcome) + strings.Repeat(" ", max(1, briefOutcome-len(outcome))) + Plain(reasonOf(r))
	return strings.TrimRight(line, " ") + "\n"
}

// padded is a cell with at least one blank behind it.
func padded(s string, width int) string {
	if columns(s) >= width {
		return s + " "
	}
	return pad(s, width)
}

// shownCell is what is shown, in a few words. What was not measured and what failed are
// never alike.
func shownCell(r *claims.Report) string {
	switch w := r.Verdict.ShownW; {
	case w == nil && r.Bench == nil:
		return "not measured"
	case w == nil:
		return "not settled"
	case *w == 0:
		return "fails at 3 A"
	default:
		return quantity.Format(float64(*w), quantity.Power, 4)
	}
}

// reasonOf is the reason for the outcome: the first finding that contradicts, or why the
// first claim is open.
func reasonOf(r *claims.Report) string {
	for _, f := range r.Findings {
		if (f.Kind == claims.Contradiction || f.Kind == claims.Breach) && f.Waived == "" {
			return string(f.Property) + ": " + f.Rule
		}
	}
	for _, o := range r.Claims {
		if o.Standing == claims.NotShown && o.Because != "" && r.Verdict.Outcome == claims.OutcomeOpen {
			return string(o.Property) + ": " + o.Because
		}
	}
	for _, f := range r.Findings {
		if f.Waived == "" {
			return string(f.Kind) + ": " + f.Rule
		}
	}
	return ""
}
