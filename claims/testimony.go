package claims

import (
	"strconv"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/vdo"
)

// sayings is what one witness says, by question: few enough to be looked through.
type sayings []statedClaim

func (s *sayings) add(p Property, text string) { *s = append(*s, statedClaim{property: p, text: text}) }

func (s sayings) of(p Property) string {
	for _, one := range s {
		if one.property == p {
			return one.text
		}
	}
	return ""
}

// questions are those of the testimony, in order.
var questions = [...]Property{Power, Current, Voltage, Data, Length, Plugs, Activity, Marking, Certified, Certificate, Modes, Video, Conductors}

// testimony sets the three witnesses side by side, question by question. Rows
// that all three leave empty are left out.
func testimony(c *Case, stated []statedClaim) []TestimonyRow {
	seller, marker, measured := sayings(stated), markerSays(c), benchSays(c)
	rows := make([]TestimonyRow, 0, len(questions))
	for _, p := range questions {
		row := TestimonyRow{p, seller.of(p), marker.of(p), measured.of(p)}
		if row.Seller != "" || row.Marker != "" || row.Bench != "" {
			rows = append(rows, row)
		}
	}
	return rows
}

func markerSays(c *Case) sayings {
	out := make(sayings, 0, len(questions))
	switch c.Marker() {
	case MarkerSilent:
		return out
	case MarkerAbsent:
		out.add(Marking, "no answer")
		return out
	case MarkerEvasive:
		out.add(Marking, "answered without an identity")
		return out
	}
	out.add(Marking, "answers")
	ends := c.Ends()
	for _, p := range questions {
		var texts []string // of each plug, in the order of ends
		for _, end := range ends {
			if text := endSays(end).of(p); text != "" {
				texts = appendNew(texts, text)
			}
		}
		if len(texts) > 0 {
			out.add(p, strings.Join(texts, " or "))
		}
	}
	return out
}

// endSays is what one plug declares, which is Near.
func endSays(c *Case) sayings {
	out := make(sayings, 0, len(questions))
	s := c.Near.Summary
	if a, ok := s.Amps.Get(); ok {
		out.add(Current, strconv.Itoa(a)+" A")
	}
	if v, ok := s.Volts.Get(); ok {
		epr := ""
		if s.EPR.Or(false) {
			epr = ", EPR"
		}
		out.add(Voltage, strconv.Itoa(v)+" V"+epr)
	}
	if t := c.NearSupport().Tier; t.Watts > 0 && s.Amps.Known() {
		out.add(Power, strconv.Itoa(t.Watts)+" W")
	}
	if v, ok := s.Speed.Get(); ok {
		out.add(Data, v.String()+", "+say.Gbps(v.Gbps()))
	}
	if d, ok := s.Latency.Get(); ok {
		out.add(Length, "latency "+say.Delay(d))
	}
	if e, ok := s.End.Get(); ok {
		out.add(Plugs, e.String())
	}
	switch p, ok := s.Product.Get(); {
	case !ok:
	case s.LinearRedriver().Or(false):
		out.add(Activity, "linear re-drivers")
	case p == vdo.PassiveType:
		out.add(Activity, "no")
	case p == vdo.ActiveType:
		out.add(Activity, "yes")
	}
	if x, ok := s.CertificationID.Get(); ok {
		xid := "no XID"
		if x != 0 {
			xid = "XID " + say.Word(x)
		}
		out.add(Certified, xid)
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
	if len(modes) == 0 && s.Modal.Is(isFalse) {
		modes = []string{"none"}
	}
	out.add(Modes, strings.Join(modes, ", "))
	return out
}

func benchSays(c *Case) sayings {
	var out sayings
	if l, ok := c.TapeLength(); ok {
		out.add(Length, quantity.Format(l, quantity.Length, 4))
	}
	if p, ok := c.SeenPlugs(); ok {
		out.add(Plugs, string(p))
	}
	five, ok := c.Carries(5)
	if !ok {
		return out
	}
	three, _ := c.Carries(LeastAmps)
	switch {
	case five.Outcome == bench.Within:
		out.add(Current, "5 A")
	case three.Outcome == bench.Within && five.Outcome == bench.Over:
		out.add(Current, "3 A")
	case three.Outcome == bench.Within:
		out.add(Current, "3 A or more")
	case three.Outcome == bench.Over:
		out.add(Current, "under 3 A")
	default:
		out.add(Current, "not settled")
	}
	return out
}
