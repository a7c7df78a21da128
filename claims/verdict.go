package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// Outcome is what becomes of what a cable is sold as.
type Outcome string

// The outcomes, in order of precedence.
const (
	OutcomeContradicted Outcome = "contradicted" // a claim is contradicted
	OutcomeNoClaim      Outcome = "no-claim"     // the seller claims nothing
	OutcomeConfirmed    Outcome = "confirmed"    // the power claimed is, or every claim where no power is
	OutcomeOpen         Outcome = "open"         // the evidence does not decide it
)

// Verdict is a report in one line: sold as, shown, outcome.
type Verdict struct {
	Outcome Outcome `json:"outcome"` // the first that fits, in the order of their list
	// SoldW is the highest power claimed in W, or the highest volts times amperes;
	// absent where neither is claimed.
	SoldW *float64 `json:"sold_w,omitempty"`
	// ShownW is the power in W that the cable is shown to carry; absent where evidence is
	// missing, 0 where the copper fails at 3 A.
	ShownW       *int       `json:"shown_w,omitempty"`
	Contradicted []Property `json:"contradicted"` // claims by how they end, each property once
	Confirmed    []Property `json:"confirmed"`    // claims that are shown to hold
	NotShown     []Property `json:"not_shown"`    // claims that the evidence does not decide
	Waived       int        `json:"waived"`       // findings set aside by the user
}

func verdict(c *Case, r *Report) Verdict {
	v := Verdict{Outcome: OutcomeOpen, Contradicted: []Property{}, Confirmed: []Property{}, NotShown: []Property{},
		SoldW: soldWatts(c), ShownW: shownWatts(c, r.Rating)}
	power, confirmed := false, true
	for _, o := range r.Claims {
		list := &v.NotShown
		switch o.Standing {
		case Contradicted:
			list = &v.Contradicted
		case Confirmed:
			list = &v.Confirmed
		}
		*list = appendNew(*list, o.Property)
	}
	for _, o := range r.Claims {
		power = power || o.Property == Power
	}
	for _, o := range r.Claims {
		if (o.Property == Power || !power) && o.Standing != Confirmed {
			confirmed = false
		}
	}
	for _, f := range r.Findings {
		if f.Waived != "" {
			v.Waived++
		}
	}
	switch {
	case len(v.Contradicted) > 0:
		v.Outcome = OutcomeContradicted
	case len(r.Claims) == 0:
		v.Outcome = OutcomeNoClaim
	case confirmed:
		v.Outcome = OutcomeConfirmed
	}
	return v
}

func soldWatts(c *Case) *float64 {
	var most float64
	for i := range c.Sold {
		cl := &c.Sold[i]
		if w, ok := cl.Power.Get(); ok {
			most = max(most, w)
		} else if cl.Voltage.Known && cl.Current.Known {
			most = max(most, cl.Voltage.Value*cl.Current.Value)
		}
	}
	if most == 0 {
		return nil
	}
	return figuresOf(most)
}

func shownWatts(c *Case, r Rating) *int {
	three, measured := c.Carries(LeastAmps)
	switch w := r.PowerW; {
	case !measured, three.Outcome == bench.Undecided:
		return nil
	case w == 0 && three.Outcome == bench.Within:
		return nil // the copper keeps the limits, and the marker declares no power
	default:
		return &w
	}
}

// Lines are the verdict for people: what the cable is sold as and shown to carry, with
// the outcome, then the one thing that would settle it where it is open.
func (r *Report) Lines() []string {
	v := r.Verdict
	var b strings.Builder
	switch {
	case v.SoldW != nil:
		b.WriteString("Sold as " + quantity.Format(*v.SoldW, quantity.Power, 4) + ". ")
	case v.Outcome == OutcomeNoClaim:
		b.WriteString("No claim recorded. ")
	default:
		b.WriteString("No power claimed. ")
	}
	b.WriteString(r.shownText())
	switch v.Outcome {
	case OutcomeContradicted:
		b.WriteString(" Contradicted")
		if len(v.Contradicted) > 1 || v.Contradicted[0] != Power {
			b.WriteString(": " + PropertyList(v.Contradicted))
		}
		b.WriteString(".")
	case OutcomeConfirmed:
		b.WriteString(" Confirmed.")
	case OutcomeOpen:
		b.WriteString(" Open.")
	case OutcomeNoClaim:
		if r.Contradicted() {
			b.WriteString(" The witnesses contradict each other or a published requirement.")
		}
	}
	if v.Waived > 0 {
		s := "s"
		if v.Waived == 1 {
			s = ""
		}
		fmt.Fprintf(&b, " %d finding%s waived.", v.Waived, s)
	}
	lines := []string{b.String()}
	if v.Outcome == OutcomeOpen {
		for _, o := range r.Claims {
			if o.Standing != Confirmed && o.Because != "" && (o.Property == Power || v.SoldW == nil || !has(v.NotShown, Power)) {
				lines = append(lines, "Not settled: "+string(o.Property)+": "+o.Because+".")
				break
			}
		}
	}
	return lines
}

func has(list []Property, p Property) bool {
	for _, one := range list {
		if one == p {
			return true
		}
	}
	return false
}

// shownText says what the cable is shown to carry. What is not measured and what is
// measured and fails are never said alike.
func (r *Report) shownText() string {
	switch w := r.Verdict.ShownW; {
	case w == nil && r.Bench == nil:
		return "Not measured yet."
	case w == nil && r.Rating.PowerW == 0 && r.Rating.Settled:
		return "The marker declares no power over this cable."
	case w == nil:
		return "Not settled at 3 A yet."
	case *w == 0:
		return "Fails at 3 A, the least a USB-C cable must carry."
	}
	return "Shown to carry " + Tier{r.Rating.PowerW, r.Rating.VoltageV, r.Rating.CurrentA}.String() + "."
}

// propertyNames are the properties whose key is not plain English.
var propertyNames = map[Property]string{Data: "data rate", Marking: "marker", Activity: "active or passive", Certified: "certification", Modes: "alternate modes"}

// PropertyList names properties for people, with commas between.
func PropertyList(ps []Property) string {
	names := make([]string, len(ps))
	for i, p := range ps {
		names[i] = string(p)
		if n := propertyNames[p]; n != "" {
			names[i] = n
		}
	}
	return strings.Join(names, ", ")
}
