package claims

import "slices"

// Finding is a rule that found something, with its numbers.
type Finding struct {
	Rule     string    `json:"rule"`
	Kind     Kind      `json:"kind"`
	Property Property  `json:"property"`
	Between  []Witness `json:"between"`
	Says     string    `json:"says"`
	Source   string    `json:"source"`
	Next     string    `json:"next"`
	Values   Values    `json:"values,omitempty"`
	// Under is the rule of the root of this finding, which stands before it in the
	// report and hangs under none itself; empty if it is no consequence of another.
	Under string `json:"under,omitempty"`
	// Waived is the user's reason to set the finding aside, empty if not waived.
	// A waived finding is shown, and does not count.
	Waived string `json:"waived,omitempty"`
}

// ClaimOutcome is how one claim of the seller ends.
type ClaimOutcome struct {
	Property Property  `json:"property"`
	Claimed  string    `json:"claimed"` // as the record has it
	Standing Standing  `json:"standing"`
	By       []Witness `json:"by,omitempty"`
	Findings []string  `json:"findings,omitempty"` // ids of the rules that contradict it
	Because  string    `json:"because,omitempty"`
}

// TestimonyRow is what the three witnesses say to one question. An empty text is
// silence.
type TestimonyRow struct {
	Property Property `json:"property"`
	Seller   string   `json:"seller,omitempty"`
	Marker   string   `json:"marker,omitempty"`
	Bench    string   `json:"bench,omitempty"`
}

// NotExamined is a rule that could not settle anything, and the evidence that
// would let it.
type NotExamined struct {
	Rule     string     `json:"rule"`
	Missing  []Witness  `json:"missing"`
	Evidence []Evidence `json:"evidence,omitempty"`
	Because  string     `json:"because,omitempty"`
}

// Report is what the record of one cable comes to. Its JSON form is the
// published machine format; it carries a version and only grows.
type Report struct {
	Version int            `json:"gainsay"`
	Cable   string         `json:"cable"`
	Label   string         `json:"label,omitempty"`
	Rating  Rating         `json:"rating"`
	Claims  []ClaimOutcome `json:"claims"`
	// Findings are in order of their kinds, worst first, each root followed by what
	// hangs under it.
	Findings    []Finding      `json:"findings"`
	Testimony   []TestimonyRow `json:"testimony"`
	Bench       *BenchReport   `json:"bench,omitempty"`
	NotExamined []NotExamined  `json:"not_examined"`
	Cautions    []string       `json:"cautions"`
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

// Gainsaid tells whether there is a contradiction or a breach.
func (r *Report) Gainsaid() bool { return r.Count(Contradiction)+r.Count(Breach) > 0 }

// hang names the root of every finding that follows from others. A chain is
// followed to its top. A waived finding is no root: it is set aside, and what
// followed from it stands by itself.
func hang(fs []Finding) {
	at := map[string]int{}
	for i, f := range fs {
		at[f.Rule] = i
	}
	var root func(id string) string
	root = func(id string) string {
		for _, over := range RuleNamed(id).Under {
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
