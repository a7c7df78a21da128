package claims

import "slices"

// Finding is a rule that found something, with its numbers.
type Finding struct {
	Rule     string    `json:"rule"`             // its permanent id
	Kind     Kind      `json:"kind"`             // contradiction, breach, doubt or remark
	Property Property  `json:"property"`         // the question it is about
	Between  []Witness `json:"between"`          // the witnesses that disagree; one where it is a breach
	Says     string    `json:"says"`             // one sentence with the numbers; its wording may change
	Source   string    `json:"source"`           // the published places, the deciding one first
	Next     string    `json:"next"`             // what to do
	Values   []Value   `json:"values,omitempty"` // the values in Says by name
	// Under is the rule of the root of this finding, which stands before it in the
	// report and hangs under none itself; empty if it is no consequence of another.
	Under string `json:"under,omitempty"`
	// Waived is the user's reason to set the finding aside, empty if not waived.
	// A waived finding is shown, and does not count.
	Waived string `json:"waived,omitempty"`
}

// ClaimOutcome is how one claim of the seller ends.
type ClaimOutcome struct {
	// Of is the place the claim was read in, where the seller claims in several.
	Of       string    `json:"of,omitempty"`
	Property Property  `json:"property"`           // the key of the claim
	Claimed  string    `json:"claimed"`            // as the record has it
	Normal   string    `json:"normal,omitempty"`   // as it was understood; absent where it was not
	Standing Standing  `json:"standing"`           // confirmed, contradicted, not shown or not read
	By       []Witness `json:"by,omitempty"`       // the witnesses that confirm it or contradict it
	Findings []string  `json:"findings,omitempty"` // ids of the rules that contradict it
	Because  string    `json:"because,omitempty"`  // why it is not shown, or not read
}

// TestimonyRow is what the three witnesses say to one question. An empty text is
// silence.
type TestimonyRow struct {
	Property Property `json:"property"`         // the question
	Seller   string   `json:"seller,omitempty"` // as claimed, in words
	Marker   string   `json:"marker,omitempty"` // as declared, in words
	Bench    string   `json:"bench,omitempty"`  // as measured or seen, in words
}

// Report is what the record of one cable comes to. Its JSON form is the
// published machine format; it carries a version and only grows.
type Report struct {
	Version int     `json:"gainsay"`         // version of the format, as FormatVersion
	Cable   string  `json:"cable"`           // the user's own id
	MadeBy  MadeBy  `json:"made_by"`         // what made the report
	Label   string  `json:"label,omitempty"` // the user's own words for it
	Verdict Verdict `json:"verdict"`         // sold as, shown and outcome
	Rating  Rating  `json:"rating"`          // what it is shown to carry
	// Use says in a sentence what the cable is fit for; empty where nothing is shown.
	Use string `json:"use,omitempty"`
	// Measured is how the bench measured; absent where nothing was measured.
	Measured *Measured      `json:"measured,omitempty"`
	Claims   []ClaimOutcome `json:"claims"` // how each claim ends, in the order of the record's keys
	// Findings are in order of their kinds, worst first, each root followed by what
	// hangs under it.
	Findings    []Finding      `json:"findings"`
	Testimony   []TestimonyRow `json:"testimony"`       // the witnesses side by side, a row for each question that one answers
	Bench       *BenchReport   `json:"bench,omitempty"` // absent where nothing was measured
	NotExamined []NotExamined  `json:"not_examined"`    // rules without an outcome, by what is missing
	Cautions    []string       `json:"cautions"`        // for every report, then for this one
	// Remarks say how the marker's words were read and what was assumed.
	Remarks []string `json:"remarks,omitempty"`
	// Broken lists rules that failed themselves, with the cause: our fault.
	Broken []string `json:"broken,omitempty"`
}

// FormatVersion is the version of the JSON form of a Report.
const FormatVersion = 1

// Count is the number of findings of a kind that are not waived.
func (r *Report) Count(k Kind) int {
	n := 0
	for _, f := range r.Findings {
		if f.Kind == k && f.Waived == "" {
			n++
		}
	}
	return n
}

// Contradicted reports whether there is a contradiction or a breach.
func (r *Report) Contradicted() bool { return r.Count(Contradiction)+r.Count(Breach) > 0 }

// hang names the root of every finding that follows from others. A chain is
// followed to its top. A waived finding is no root: it is set aside, and what
// followed from it stands by itself.
func hang(fs []Finding, rules []*Rule) {
	under := map[string][]string{}
	for _, r := range rules {
		under[r.ID] = r.Under
	}
	at := map[string]int{}
	for i, f := range fs {
		at[f.Rule] = i
	}
	var root func(id string) string
	root = func(id string) string {
		for _, over := range under[id] {
			i, ok := at[over]
			if !ok {
				continue
			}
			if top := root(over); top != "" {
				return top
			}
			if fs[i].Waived == "" {
				return over
			}
		}
		return ""
	}
	for i, f := range fs {
		fs[i].Under = root(f.Rule)
	}
}

// arranged puts the worst first and keeps the catalogue's order within a kind;
// each root stands where the worst that hangs under it would, and all of that
// follows it.
func arranged(fs []Finding) []Finding {
	slices.SortStableFunc(fs, func(a, b Finding) int { return a.Kind.rank() - b.Kind.rank() })
	out := make([]Finding, 0, len(fs))
	placed := map[string]bool{}
	for _, f := range fs {
		root := f.Rule
		if f.Under != "" {
			root = f.Under
		}
		if placed[root] {
			continue
		}
		placed[root] = true
		out = append(out, fs[slices.IndexFunc(fs, func(f Finding) bool { return f.Rule == root })])
		for _, f := range fs {
			if f.Under == root {
				out = append(out, f)
			}
		}
	}
	return out
}
