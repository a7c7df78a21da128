// Package rules is the catalogue: every published rule by which the three witnesses about a
// cable can disagree, a file a topic. It uses package claims as a lab's own rules would.
//
//	report, err := rules.Checker().Check(rec)
//	if err != nil {
//		return err // what the record says and cannot be, with its places
//	}
//	fmt.Println(report.Rating.PowerW, report.Contradicted())
package rules

import (
	"slices"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/source"
)

// The catalogue: every rule, in the order reports list them within a kind. A rule
// is written in the file of its topic and named here; a test holds that
// none is forgotten.
var catalogue = slices.Concat(disputeRules, powerRules, currentRules, voltageRules, sellerRules, benchRules, metrologyRules, sessionRules,
	dataRules, modeRules, videoRules, lengthRules, certificationRules, markingRules, markerRules, identityRules, activeRules)

// All lists the catalogue. The rules are shared and not to be changed; the list is yours.
func All() []*claims.Rule { return slices.Clone(catalogue) }

// Checker is the usual checker: the whole catalogue, decided with a guard band. Each call
// gives one of its own.
func Checker() *claims.Checker { return &claims.Checker{Rules: All(), Retired: Retired()} }

// Retired lists the rules that are no longer asked.
func Retired() []claims.RetiredRule { return slices.Clone(retired) }

// Sources lists the published places that the catalogue may cite.
func Sources() []claims.Citation { return source.All() }

var retired = []claims.RetiredRule{
	{ID: "claimed-usb4-not-carried", Reason: "one rule asks for every claim of data", Instead: "claimed-data-above-marker"},
	{ID: "claimed-usb-3-not-carried", Reason: "one rule asks for every claim of data", Instead: "claimed-data-above-marker"},
	{ID: "claimed-usb-2-not-carried", Reason: "one rule asks for every claim of data", Instead: "claimed-data-above-marker"},
	{ID: "claimed-two-lanes-marker-has-one", Reason: "one rule asks for every claim of data", Instead: "claimed-data-above-marker"},
	{ID: "claimed-usb4-over-older-thunderbolt-cable", Reason: "one rule asks for every claim of data", Instead: "claimed-data-above-marker"},
	{ID: "claimed-20-gbps-over-usb4-only", Reason: "10 Gbps over Gen 1 is the same question", Instead: "claimed-rate-over-gen-1"},
	{ID: "claimed-video-over-usb-2", Reason: "DisplayPort on four lanes leaves USB 2.0 beside it"},
	{ID: "only-far-plug-answers", Reason: "which plug answers depends on the end that supplies VCONN", Instead: "one-plug-gives-no-identity"},
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
