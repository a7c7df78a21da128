package claims

import (
	"fmt"
	"slices"
	"sync"

	"example.com/gainsay/claims/record"
)

// The catalogue: every rule, in the order reports list them within a kind. A rule
// is written in a rules_*.go file by topic and named here; a test holds that
// none is forgotten.
var catalogue = slices.Concat(disputeRules, powerRules, currentRules, voltageRules, sellerRules, benchRules, metrologyRules, sessionRules,
	dataRules, modeRules, videoRules, lengthRules, certificationRules, markingRules, markerRules, identityRules, activeRules)

// Rules lists the catalogue.
func Rules() []*Rule { return slices.Clone(catalogue) }

// RuleNamed finds a rule by its id, nil if there is none.
func RuleNamed(id string) *Rule { return rulesByID()[id] }

var rulesByID = sync.OnceValue(func() map[string]*Rule {
	out := make(map[string]*Rule, len(catalogue))
	for _, r := range catalogue {
		out[r.ID] = r
	}
	return out
})

// RetiredRule is a rule that was once in the catalogue. Its id stays taken.
type RetiredRule struct {
	ID, Reason string // as it stood in the catalogue, with why it left
	Instead    string // the rule that takes its place, or empty
}

var retired = []RetiredRule{
	{"claimed-usb4-not-carried", "one rule asks for every claim of data", "claimed-data-above-marker"},
	{"claimed-usb-3-not-carried", "one rule asks for every claim of data", "claimed-data-above-marker"},
	{"claimed-usb-2-not-carried", "one rule asks for every claim of data", "claimed-data-above-marker"},
	{"claimed-two-lanes-marker-has-one", "one rule asks for every claim of data", "claimed-data-above-marker"},
	{"claimed-usb4-over-older-thunderbolt-cable", "one rule asks for every claim of data", "claimed-data-above-marker"},
	{"claimed-20-gbps-over-usb4-only", "10 Gbps over Gen 1 is the same question", "claimed-rate-over-gen-1"},
	{"claimed-video-over-usb-2", "DisplayPort on four lanes leaves USB 2.0 beside it", ""},
	{"only-far-plug-answers", "which plug answers depends on the end that supplies VCONN", "one-plug-gives-no-identity"},
}

// Retired lists the rules that are no longer asked.
func Retired() []RetiredRule { return slices.Clone(retired) }

// String says why the rule is no longer asked, and what takes its place.
func (r RetiredRule) String() string {
	s := fmt.Sprintf("the rule %q is retired: %s", r.ID, r.Reason)
	if r.Instead != "" {
		s += "; " + r.Instead + " takes its place"
	}
	return s
}

// UnknownRule says why RuleNamed finds no rule of a name, and what would be right: it
// is retired, or there never was one and another may be meant.
func UnknownRule(id string) (wrong, want string) { return unknownRule(retired, id) }

func unknownRule(retired []RetiredRule, id string) (wrong, want string) {
	for _, r := range retired {
		if r.ID == id {
			return r.String(), "'gainsay rules' lists the others"
		}
	}
	ids := make([]string, len(catalogue))
	for i, r := range catalogue {
		ids[i] = r.ID
	}
	want = "'gainsay rules' lists them"
	if near := record.Nearest(id, ids); near != "" {
		want = near + "; " + want
	}
	return fmt.Sprintf("no rule is called %q", id), want
}

// Some causes have no rule of their own: the first of these that was found names
// the cause, and the ones behind it hang under that one.
var (
	// silentMarker: the marker was asked and nothing answered.
	silentMarker = []string{
		"claimed-marked-but-silent", "claimed-power-on-unmarked-cable", "claimed-current-on-unmarked-cable",
		"claimed-voltage-on-unmarked-cable", "claimed-data-on-unmarked-cable", "claimed-modes-on-unmarked-cable",
		"claimed-video-on-unmarked-cable", "claimed-active-on-unmarked-cable", "claimed-unmarked-where-marking-is-required",
	}
	// olderConnector: one end is no Type-C plug.
	olderConnector = []string{
		"claimed-plugs-differ-from-seen", "claimed-power-over-legacy-cable", "claimed-current-over-legacy-cable",
		"claimed-modes-over-legacy-cable", "claimed-video-over-legacy-cable", "claimed-data-over-legacy-cable",
		"claimed-marked-over-legacy-cable",
	}
	// littlePower: the marker declares less than is claimed, by fault or not.
	littlePower = []string{
		"bench-vbus-conducts-against-marker", "current-code-invalid", "epr-without-50-v-5-a",
		"claimed-power-above-marker", "claimed-current-above-marker", "claimed-voltage-above-marker",
	}
)

// before is the part of a list before an id.
func before(list []string, id string) []string {
	return slices.Clone(list[:slices.Index(list, id)])
}
