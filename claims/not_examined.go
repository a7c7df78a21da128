package claims

import "slices"

// NotExamined is evidence that is missing, with the rules it keeps from an outcome.
type NotExamined struct {
	Needs   []Evidence `json:"needs"`             // what is missing; empty where only Because says it
	Witness Witness    `json:"witness"`           // who would have to give it
	Rules   []string   `json:"rules"`             // ids of the rules, in the catalogue's order
	Because string     `json:"because,omitempty"` // why the evidence in hand does not settle it
}

// gaps groups what was not examined by what is missing. A rule that misses evidence of
// several witnesses stands with each of them.
type gaps []NotExamined

func (g *gaps) add(rule *Rule, res *Result) {
	for _, w := range witnesses(res.Missing) {
		var needs []Evidence
		for _, e := range res.Missing {
			if e.Witness() == w {
				needs = append(needs, e)
			}
		}
		g.put(rule.ID, w, needs, res.Why)
	}
	if len(res.Missing) == 0 {
		g.put(rule.ID, rule.Between[0], []Evidence{}, res.Why)
	}
}

func (g *gaps) put(rule string, w Witness, needs []Evidence, why string) {
	for i := range *g {
		if n := &(*g)[i]; n.Witness == w && n.Because == why && slices.Equal(n.Needs, needs) {
			n.Rules = append(n.Rules, rule)
			return
		}
	}
	*g = append(*g, NotExamined{Needs: needs, Witness: w, Rules: []string{rule}, Because: why})
}
