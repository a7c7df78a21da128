package claims

import (
	"fmt"
	"slices"
)

// The catalogue: every rule, in the order reports list them within a kind. A rule
// is written in a rules_*.go file by topic and named here; a test holds that
// none is forgotten.
var catalogue = slices.Concat(powerRules, currentRules, voltageRules, sellerRules, benchRules, metrologyRules,
	dataRules, modeRules, videoRules, lengthRules, certificationRules, markingRules, markerRules, identityRules, activeRules)

// Rules lists the catalogue.
func Rules() []*Rule { return slices.Clone(catalogue) }

// RuleNamed finds a rule by its id, nil if there is none.
func RuleNamed(id string) *Rule {
	for _, r := range catalogue {
		if r.ID == id {
			return r
		}
	}
	return nil
}

// RetiredRule is a rule that was once in the catalogue. Its id stays taken.
type RetiredRule struct {
	ID, Reason string
	Instead    string // the rule that takes its place, or empty
}

var retired = []RetiredRule{}

// Retired lists the rules that are no longer asked.
func Retired() []RetiredRule { return slices.Clone(retired) }

// unknownRule says why a rule's name is not to be found in the catalogue.
func unknownRule(retired []RetiredRule, id string) string {
	for _, r := range retired {
		if r.ID != id {
			continue
		}
		s := fmt.Sprintf("the rule %q is retired: %s", id, r.Reason)
		if r.Instead != "" {
			s += "; " + r.Instead + " takes its place"
		}
		return s
	}
	return fmt.Sprintf("no rule is called %q", id)
}
