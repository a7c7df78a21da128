package claims

import "slices"

// The catalogue: every rule, in the order reports list them within a kind. A rule
// is written in a rules_*.go file by topic and named here; a test holds that
// none is forgotten.
var catalogue = slices.Concat(powerRules, currentRules, voltageRules, benchRules, metrologyRules, dataRules, lengthRules,
	certificationRules, markingRules, markerRules)

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
