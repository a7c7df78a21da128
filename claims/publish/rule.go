package publish

import (
	"strings"

	"example.com/gainsay/claims"
)

// Rule is the published form of a rule.
type Rule struct {
	Version  int              `json:"gainsay"`          // version of the format, as FormatVersion
	ID       string           `json:"rule"`             // permanent, in kebab-case
	Title    string           `json:"title"`            // what is found, completing "finds that"
	Kind     claims.Kind      `json:"kind"`             // of every finding of it
	Property claims.Property  `json:"property"`         // the question it is about
	Between  []claims.Witness `json:"between"`          // the witnesses that disagree; one where it is a breach
	Needs    []string         `json:"needs"`            // the evidence without which it is not asked
	Window   *claims.Window   `json:"window,omitempty"` // structured versions it holds for; absent for all
	Under    []string         `json:"under,omitempty"`  // rules whose finding is the root of this one's
	Sources  []Source         `json:"sources"`          // the deciding one first
	Says     string           `json:"says"`             // the finding, with {names} of its values
	Why      string           `json:"why"`              // why it matters
	Next     string           `json:"next"`             // what to do
}

// Source is a citation.
type Source struct {
	Document string `json:"document"`           // as "USB PD"
	Revision string `json:"revision,omitempty"` // as "R3.2 V1.2"
	Clause   string `json:"clause,omitempty"`   // clause or table, with its heading
	Force    string `json:"force"`              // how strongly it speaks, as claims.Force
	How      string `json:"how"`                // how it is known, as claims.How
}

// NewRule gives the published form of a rule.
func NewRule(r *claims.Rule) Rule {
	out := Rule{Version: FormatVersion, ID: r.ID, Title: r.Title, Kind: r.Kind, Property: r.Property,
		Between: r.Between, Needs: []string{}, Under: r.Under, Says: r.Says, Why: r.Why, Next: r.Next}
	if r.Window != (claims.Window{}) {
		out.Window = &r.Window
	}
	for _, e := range r.Needs {
		out.Needs = append(out.Needs, string(e))
	}
	for _, c := range r.Sources {
		out.Sources = append(out.Sources, Source{c.Document, c.Revision, c.Clause, c.Force.String(), c.How.String()})
	}
	return out
}

// RuleText explains one rule.
func RuleText(r *claims.Rule, style Style) string {
	var b strings.Builder
	b.WriteString(style.paint(bold, r.ID) + "\n")
	paragraph(&b, indent, indent, "Finds that "+r.Title+".")
	row := func(label, text string) {
		paragraph(&b, indent+pad(label, 10), indent+pad("", 10), text)
	}
	b.WriteString("\n")
	row("Kind", string(r.Kind)+": "+r.Kind.What())
	row("About", string(r.Property))
	row(pick(len(r.Between) == 1, "Witness", "Between"), "the "+witnessList(r.Between))
	needs := make([]string, len(r.Needs))
	for i, e := range r.Needs {
		needs[i] = e.What()
	}
	row("Needs", strings.Join(needs, ", "))
	if len(r.Under) > 0 {
		row("Under", "the first found of "+strings.Join(r.Under, ", "))
	}
	for i, c := range r.Sources {
		label := ""
		if i == 0 {
			label = "Source"
		}
		says := c.String()
		switch {
		case c.How == claims.Reasoned || c.How == claims.Unsourced: // the citation says so itself
		default:
			says += " (" + c.Force.String() + "; " + c.How.String() + ")"
		}
		row(label, says)
	}
	if w := r.Window.String(); w != "" {
		row("Holds", "for answers of structured versions "+w)
	}
	row("Says", r.Says)
	row("Why", r.Why)
	row("Next", r.Next)
	return b.String()
}
