package claims

import (
	"unicode"
	"unicode/utf8"

	"example.com/gainsay/claims/bench"
)

// Standing cautions, on every report.
var standingCautions = []string{
	"This report weighs the evidence in one record. It does not certify the cable and does not say that it is safe.",
	"The standards, local codes and licensed practice come first.",
}

// StandingCautions are those that hold for every report.
func StandingCautions() []string { return append([]string{}, standingCautions...) }

func cautions(c *Case, r *Report) []string {
	out := StandingCautions()
	claims5A := c.Claims.Current.Value > LeastAmps || c.Claims.Power.Value > float64(tier60.Watts)
	marker5A := false
	for _, end := range c.ends() {
		marker5A = marker5A || end.Near.Summary.Amps.Or(0) > LeastAmps
	}
	if r.Rating.CurrentA < tier100.Amps && (claims5A || marker5A) {
		out = append(out, "A source may drive up to 5 A through a cable whose marker allows it. Where the copper is not shown to carry 5 A it can overheat: do not use it above what is shown.")
	}
	if r.Rating.CurrentA == 0 && c.Resistance != nil {
		out = append(out, "No published current is shown for this cable: take it out of use until that is settled.")
	}
	if c.Resistance != nil {
		if r.Rating.CurrentA > 0 {
			for _, w := range bench.Cautions(c.Resistance.Result, c.risen(), float64(r.Rating.CurrentA), c.Rule) {
				out = append(out, capitalised(w.Text)+" ("+w.Source+").")
			}
		}
		out = append(out, "Resistance rises with temperature, about 12 % for 30 K, with wear and with dirty contacts. A reading holds for the day and the plug it was taken on.")
	}
	return out
}

func capitalised(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
