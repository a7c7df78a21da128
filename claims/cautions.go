package claims

import (
	"slices"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
)

// Standing cautions, on every report.
var standingCautions = []string{
	"A report weighs the evidence in one record. It does not certify the cable or call it safe.",
	"The standards, local codes and licensed practice come first.",
}

// NotTested is what no report speaks of.
const NotTested = "Not tested: voltage withstand, data errors, wear, plug strength."

// sourceCaution is for a cable whose marker or seller allows more than is shown.
const sourceCaution = "A source may drive up to 5 A through a cable whose marker allows it. Copper that is not shown to carry 5 A can overheat. Do not use the cable above what is shown."

// dayCaution is for every resistance.
const dayCaution = "Resistance rises with temperature, about 12 % for 30 K, with wear and with dirty contacts. A reading holds for the day and the plug it was taken on."

// StandingCautions are those that hold for every report.
func StandingCautions() []string { return append([]string{}, standingCautions...) }

// OwnCautions are the cautions of a report that belong to this cable, not to every one,
// and that neither Use nor a finding gives already.
func (r *Report) OwnCautions() []string {
	cold := slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Rule == "bench-within-only-while-cold" && f.Waived == "" })
	return slices.DeleteFunc(slices.Clone(r.Cautions), func(s string) bool {
		return cold && strings.HasPrefix(s, "Within at ") || s == dayCaution || s == sourceCaution && r.Use != "" || slices.Contains(standingCautions, s)
	})
}

func cautions(c *Case, r *Report) []string {
	out := StandingCautions()
	claims5A := c.Claims.Current.Value > LeastAmps || c.Claims.Power.Value > float64(tier60.Watts)
	marker5A := false
	for _, end := range c.Ends() {
		marker5A = marker5A || end.Near.Summary.Amps.Or(0) > LeastAmps
	}
	if r.Rating.CurrentA < tier100.Amps && (claims5A || marker5A) {
		out = append(out, sourceCaution)
	}
	if r.Rating.CurrentA == 0 && c.Resistance != nil {
		out = append(out, "The cable is not shown to carry any published current. Do not use it until that is settled.")
	}
	if c.Resistance != nil {
		if r.Rating.CurrentA > 0 {
			for _, w := range bench.Cautions(c.Resistance.Result, c.Risen(float64(r.Rating.CurrentA)), float64(r.Rating.CurrentA), c.Acceptance) {
				out = append(out, say.Capitalised(w.Text)+" ("+w.Source+").")
			}
		}
		out = append(out, dayCaution)
	}
	return out
}
