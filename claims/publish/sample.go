package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// Sample is the published form of a sampling plan.
type Sample struct {
	Version        int           `json:"gainsay"`        // version of the format, as FormatVersion
	Lot            int           `json:"lot,omitempty"`  // cables in the lot; absent for a production without an end
	Good           float64       `json:"good"`           // the share of failures that a good lot has at most
	Bad            float64       `json:"bad"`            // the share of failures that a bad lot has at least
	Risks          [2]float64    `json:"risks"`          // of rejecting a good lot, of accepting a bad one, as asked for
	Test           int           `json:"test"`           // cables to test, taken at random
	Allow          int           `json:"allow"`          // the lot is accepted where no more than these fail
	Kept           [2]float64    `json:"kept"`           // the risks that the plan has
	Characteristic []SamplePoint `json:"characteristic"` // by rising share
}

// SamplePoint is one point of a plan's operating characteristic.
type SamplePoint struct {
	Share   float64 `json:"share"`             // of failures in the lot
	Failing *int    `json:"failing,omitempty"` // the same in cables, of a lot
	Accepts float64 `json:"accepts"`           // probability that the lot is accepted
}

// NewSample gives the published form of a plan for the risks asked for.
func NewSample(r shelf.Risks, p shelf.Plan) Sample {
	out := Sample{Version: FormatVersion, Lot: r.Lot, Good: r.Good, Bad: r.Bad, Risks: [2]float64{r.Producer, r.Consumer}, Test: p.Test, Allow: p.Allow,
		Kept: [2]float64{quantity.Figures(1 - p.Accepts(r.GoodLot())), quantity.Figures(p.Accepts(r.BadLot()))}}
	for _, c := range r.Characteristic(p) {
		point := SamplePoint{Share: quantity.Figures(c.Share), Accepts: quantity.Figures(c.Accepts)}
		if r.Lot > 0 {
			point.Failing = &c.Failing
		}
		out.Characteristic = append(out.Characteristic, point)
	}
	return out
}

// SampleText prints a sampling plan for people.
func SampleText(r shelf.Risks, p shelf.Plan, style Style) string {
	var b strings.Builder
	b.WriteString(style.paint(bold, fmt.Sprintf("Test %s taken at random; accept if no more than %d of them fail.", counted(p.Test, "cable"), p.Allow)) + "\n")
	of := "a production without an end (binomial)"
	if r.Lot > 0 {
		of = fmt.Sprintf("a lot of %d (hypergeometric)", r.Lot)
	}
	paragraph(&b, "", "", fmt.Sprintf("The smallest plan for %s. A good lot, with %s of failures or fewer, is rejected in %s of cases at most (%s allowed). "+
		"A bad lot, with %s or more, is accepted in %s at most (%s allowed).", of, percent(r.GoodLot()), percent(1-p.Accepts(r.GoodLot())), percent(r.Producer),
		percent(r.BadLot()), percent(p.Accepts(r.BadLot())), percent(r.Consumer)))
	t := grid{head: []gridHead{{"Share failing", true}, {"Failing", true}, {"Accepted", true}, {"Rejected", true}}}
	if r.Lot == 0 {
		t.head = append(t.head[:1:1], t.head[2:]...)
	}
	for _, c := range r.Characteristic(p) {
		row := []string{percent(c.Share), fmt.Sprint(c.Failing), percent(c.Accepts), percent(1 - c.Accepts)}
		if r.Lot == 0 {
			row = append(row[:1:1], row[2:]...)
		}
		t.add(row...)
	}
	b.WriteString("\n")
	t.write(&b, style)
	b.WriteString("\n")
	paragraph(&b, "", "", "A cable whose test is undecided counts neither way until it is settled.")
	return b.String()
}

// percent prints a share with two places.
func percent(share float64) string { return fmt.Sprintf("%.2f %%", 100*max(0, share)) }
