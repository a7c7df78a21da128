package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/vdo"
)

// testimony sets the three witnesses side by side, question by question. Rows
// that all three leave empty are left out.
func testimony(c *Case) []TestimonyRow {
	seller := map[Property]string{}
	for _, s := range statedClaims(c.Claims) {
		seller[s.property] = s.text
	}
	marker, measured := markerSays(c), benchSays(c)
	rows := []TestimonyRow{}
	for _, p := range []Property{Power, Current, Voltage, Data, Length, Plugs, Activity, Marking, Certified, Certificate, Modes, Video, Conductors} {
		row := TestimonyRow{p, seller[p], marker[p], measured[p]}
		if row.Seller+row.Marker+row.Bench != "" {
			rows = append(rows, row)
		}
	}
	return rows
}

func markerSays(c *Case) map[Property]string {
	out := map[Property]string{}
	switch c.Marker() {
	case MarkerSilent:
		return out
	case MarkerAbsent:
		out[Marking] = "no answer"
		return out
	case MarkerEvasive:
		out[Marking] = "answered without an identity"
		return out
	}
	out[Marking] = "answers"
	if !c.Near.Identified {
		return out
	}
	s := c.Near.Summary
	if a, ok := s.Amps.Get(); ok {
		out[Current] = fmt.Sprintf("%d A", a)
	}
	if v, ok := s.Volts.Get(); ok {
		out[Voltage] = fmt.Sprintf("%d V", v)
		if s.EPR.Or(false) {
			out[Voltage] += ", EPR"
		}
	}
	if t := markerSupport(c).Tier; t.Watts > 0 && s.Amps.Known() {
		out[Power] = fmt.Sprintf("%d W", t.Watts)
	}
	if v, ok := s.Speed.Get(); ok {
		out[Data] = fmt.Sprintf("%s, %g Gbps", v, v.Gbps())
	}
	if d, ok := s.Latency.Get(); ok {
		out[Length] = "latency " + DelayText(d)
	}
	if e, ok := s.End.Get(); ok {
		out[Plugs] = e.String()
	}
	switch p, ok := s.Product.Get(); {
	case !ok:
	case s.LinearRedriver().Or(false):
		out[Activity] = "linear re-drivers"
	case p == vdo.PassiveType:
		out[Activity] = "no"
	case p == vdo.ActiveType:
		out[Activity] = "yes"
	}
	if x, ok := s.CertificationID.Get(); ok {
		out[Certified] = fmt.Sprintf("XID 0x%08X", x)
		if x == 0 {
			out[Certified] = "no XID"
		}
	}
	var modes []string
	for _, m := range []struct {
		id   uint16
		name string
	}{{vdo.SVIDDisplayPort, "DisplayPort"}, {vdo.SVIDThunderbolt, "Thunderbolt"}} {
		if s.HasSVID(m.id).Or(false) {
			modes = append(modes, m.name)
		}
	}
	out[Modes] = strings.Join(modes, ", ")
	if out[Modes] == "" && s.Modal.Is(isFalse) {
		out[Modes] = "none"
	}
	return out
}

// DelayText prints a latency range.
func DelayText(d vdo.Delay) string {
	switch {
	case d.UpTo == 0:
		return fmt.Sprintf("over %d ns", d.Over)
	case d.UpTo == d.Over:
		return fmt.Sprintf("%d ns", d.Over)
	case d.Over == 0:
		return fmt.Sprintf("up to %d ns", d.UpTo)
	}
	return fmt.Sprintf("%d to %d ns", d.Over, d.UpTo)
}

func benchSays(c *Case) map[Property]string {
	out := map[Property]string{}
	if l, ok := c.TapeLength(); ok {
		out[Length] = quantity.Format(l, quantity.Length, 4)
	}
	if p, ok := c.SeenPlugs(); ok {
		out[Plugs] = string(p)
	}
	five, ok := c.Carries(5)
	if !ok {
		return out
	}
	three, _ := c.Carries(leastAmps)
	switch {
	case five.Outcome == bench.Within:
		out[Current] = "5 A"
	case three.Outcome == bench.Within && five.Outcome == bench.Over:
		out[Current] = "3 A"
	case three.Outcome == bench.Within:
		out[Current] = "3 A or more"
	case three.Outcome == bench.Over:
		out[Current] = "under 3 A"
	default:
		out[Current] = "not settled"
	}
	return out
}
