package claims

import "sort"

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
	Version     int            `json:"gainsay"`
	Cable       string         `json:"cable"`
	Label       string         `json:"label,omitempty"`
	Rating      Rating         `json:"rating"`
	Claims      []ClaimOutcome `json:"claims"`
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

// sortFindings puts the worst first and keeps the catalogue's order within a
// kind.
func sortFindings(fs []Finding) {
	sort.SliceStable(fs, func(i, j int) bool { return fs[i].Kind.rank() < fs[j].Kind.rank() })
}
