package claims

import (
	"slices"
	"strings"

	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/record"
)

// Report asks every rule of the checker about the case.
func (c *Case) Report() *Report {
	stated := statedClaims(c.Claims) // what the seller says at most
	r := &Report{
		Version: FormatVersion,
		Cable:   c.Record.Cable.Value, MadeBy: MadeBy{Program: "gainsay", Version: Version(), Rules: c.checker.Catalogue(), Record: c.Record.Sum}, Label: c.Record.Label.Value,
		Rating:    c.Rating(),
		Findings:  []Finding{},
		Testimony: testimony(c, stated),
		Remarks:   remarks(c),
	}
	r.Bench = benchReport(c, r.Rating)
	r.Use, r.Measured = use(c, r.Rating), howMeasured(c)
	results := make([]Result, len(c.rules))
	var open gaps
	for i, rule := range c.rules {
		results[i] = rule.Ask(c)
		switch res := &results[i]; res.Status {
		case Found:
			r.Findings = append(r.Findings, Finding{
				Rule: rule.ID, Kind: rule.Kind, Property: rule.Property, Between: rule.Between,
				Says: rule.Text(res), Source: rule.Source(), Next: rule.NextText(res), Values: res.Values.published(),
				Waived: c.waived(rule.ID),
			})
		case Missing, Undecided:
			open.add(rule, res)
		case Broken:
			r.Broken = append(r.Broken, rule.ID+": "+res.Why)
		}
	}
	r.NotExamined = append([]NotExamined{}, open...)
	hang(r.Findings, c.rules)
	r.Findings = arranged(r.Findings)
	r.Claims = c.allOutcomes(results)
	r.Verdict = verdict(c, r)
	r.Cautions = cautions(c, r)
	return r
}

func (c *Case) waived(rule string) string {
	for _, w := range c.Record.Waive {
		if w.Rule.Value == rule {
			return w.Reason.Value
		}
	}
	return ""
}

// alone holds each witness by itself, for the many rules that miss one only.
var alone = map[Witness][]Witness{Seller: {Seller}, Marker: {Marker}, Bench: {Bench}}

// witnesses lists who would have to testify, each once. The list is not to be
// changed.
func witnesses(es []Evidence) []Witness {
	if len(es) == 0 {
		return []Witness{}
	}
	out := alone[es[0].Witness()]
	for _, e := range es[1:] {
		if w := e.Witness(); !slices.Contains(out, w) {
			out = append(slices.Clone(out), w)
		}
	}
	return out
}

// statedClaim is one claim of the seller, as written and as understood.
type statedClaim struct {
	property     Property
	text, normal string
	unread       string // why its words were not understood, and what to write
}

func statedClaims(cl *record.Claims) []statedClaim {
	out := make([]statedClaim, 0, len(questions))
	add := func(p Property, known bool, text, normal string) {
		if known {
			out = append(out, statedClaim{property: p, text: text, normal: normal})
		}
		for _, u := range cl.Unread {
			if u.Key == string(p) {
				out = append(out, statedClaim{property: p, text: u.Text, unread: strings.TrimPrefix(u.Err.Wrong, `"`+u.Text+`": `) + "; " + u.Err.Want})
			}
		}
	}
	add(Power, cl.Power.Known, cl.Power.Text, cl.Power.Normal)
	add(Current, cl.Current.Known, cl.Current.Text, cl.Current.Normal)
	add(Voltage, cl.Voltage.Known, cl.Voltage.Text, cl.Voltage.Normal)
	add(Data, cl.Data.Known, cl.Data.Text, cl.Data.Normal)
	add(Length, cl.Length.Known, cl.Length.Text, cl.Length.Normal)
	add(Plugs, cl.Plugs.Known, cl.Plugs.Text, cl.Plugs.Normal)
	add(Activity, cl.Active.Known, truthText(cl.Active), cl.Active.Normal)
	add(Marking, cl.Marked.Known, truthText(cl.Marked), cl.Marked.Normal)
	add(Certified, cl.Certified.Known, truthText(cl.Certified), cl.Certified.Normal)
	add(Certificate, cl.Certificate.Known, cl.Certificate.Text, cl.Certificate.Normal)
	add(Modes, cl.Modes.Known, cl.Modes.Text, cl.Modes.Normal)
	add(Video, cl.Video.Known, cl.Video.Text, cl.Video.Normal)
	add(Conductors, cl.Conductors.Known, cl.Conductors.Text, cl.Conductors.Normal)
	return out
}

// truthText is a claim of yes or no as written, where words were.
func truthText(s record.Stated[bool]) string {
	switch s.Text {
	case "", "true", "false":
		return say.YesOrNo(s.Value)
	}
	return s.Text
}

// allOutcomes ends every claim of every place, in the order of the record.
func (c *Case) allOutcomes(results []Result) []ClaimOutcome {
	if len(c.Sold) < 2 {
		return outcomes(c, statedClaims(c.Claims), results)
	}
	var out []ClaimOutcome
	for i, one := range c.bySource() {
		mine := slices.Clone(results)
		for j, rule := range c.rules {
			if rule.asksSeller() {
				mine[j] = rule.askPlugs(one)
			}
		}
		for _, o := range outcomes(one, statedClaims(one.Claims), mine) {
			o.Of = one.Claims.Place(i)
			if rule := c.disputed(results, i, o.Property); rule != nil {
				if o.Standing != Contradicted {
					o.Standing, o.By, o.Because = Contradicted, nil, ""
				}
				o.By, o.Findings = appendNew(o.By, Seller), append(o.Findings, rule.ID)
			}
			out = append(out, o)
		}
	}
	return out
}

// disputed is the rule by which other places of the seller contradict the claim of one, nil
// where none does.
func (c *Case) disputed(results []Result, place int, p Property) *Rule {
	for i, rule := range c.rules {
		if rule.AllPlaces && rule.Property == p && slices.Contains(results[i].Places, place) && c.waived(rule.ID) == "" {
			return rule
		}
	}
	return nil
}

// outcomes ends every claim: contradicted where a rule found a contradiction or
// breach about it, confirmed where every rule that settles it was asked and
// found nothing, else not shown.
func outcomes(c *Case, stated []statedClaim, results []Result) []ClaimOutcome {
	out := make([]ClaimOutcome, 0, len(stated))
	for _, claim := range stated {
		o := ClaimOutcome{Property: claim.property, Claimed: claim.text, Normal: claim.normal}
		if claim.unread != "" {
			o.Standing, o.Because = NotRead, claim.unread
			out = append(out, o)
			continue
		}
		var supporters []Witness
		settled, open := 0, false
		for i, rule := range c.rules {
			if !rule.decides(claim.property) {
				continue
			}
			res := &results[i]
			against := res.Status == Found && (rule.Kind == Contradiction || rule.Kind == Breach) && !rule.AllPlaces
			switch {
			case against && c.waived(rule.ID) == "":
				o.Findings = append(o.Findings, rule.ID)
				for _, w := range rule.Between {
					if w != Seller || len(rule.Between) == 1 {
						o.By = appendNew(o.By, w)
					}
				}
			case !rule.Settles || res.Status == NotApplicable:
			case res.Status == Passed:
				settled++
				for _, w := range rule.Between {
					if w != Seller && (w != Marker || c.Marker() != MarkerSilent) {
						supporters = appendNew(supporters, w)
					}
				}
			default:
				open = true
			}
		}
		switch {
		case len(o.Findings) > 0:
			o.Standing = Contradicted
		case settled > 0 && !open:
			o.Standing, o.By = Confirmed, supporters
		default:
			o.Standing, o.Because = NotShown, c.notShown(claim.property, results)
			if claim.property == Data && c.Claims.Data.Value.None {
				o.Because = "no data is claimed, so there is nothing to check"
			}
		}
		out = append(out, o)
	}
	return out
}

// notShown says why a claim that nothing contradicts is not confirmed.
func (c *Case) notShown(p Property, results []Result) string {
	var open, moot []string
	for i, rule := range c.rules {
		res := &results[i]
		switch {
		case !rule.decides(p):
		case !rule.Settles || res.Status == Passed:
		case res.Status == NotApplicable:
			moot = appendNew(moot, res.Why)
		case res.Status == Missing:
			open = appendNew(open, lacking(res.Missing))
		default:
			open = appendNew(open, res.why(rule))
		}
	}
	switch why := unshowable[p]; {
	case len(open) > 0:
		return strings.Join(open, "; ")
	case why != "":
		return why
	}
	return strings.Join(moot, "; ")
}

// decides reports whether the rule can decide a claim.
func (r *Rule) decides(p Property) bool { return r.Property == p && slices.Contains(r.Between, Seller) }

// unshowable says, for claims that no rule can confirm, why.
var unshowable = map[Property]string{
	Certified:   "certification can be looked up by its number; neither marker nor bench can confirm it",
	Certificate: "a printed number can be looked up; neither marker nor bench can confirm it",
}

// why says, as part of a sentence, what keeps a claim from being confirmed.
func (r *Result) why(rule *Rule) string {
	if r.Status != Found {
		return r.Why
	}
	s := strings.TrimSuffix(rule.Sentence(r.Values), ".")
	if after, ok := strings.CutPrefix(s, "The "); ok {
		s = "the " + after
	}
	return s
}

func appendNew[T comparable](list []T, v T) []T {
	if slices.Contains(list, v) {
		return list
	}
	return append(list, v)
}

func lacking(es []Evidence) string {
	parts := make([]string, len(es))
	for i, e := range es {
		parts[i] = e.What()
	}
	return strings.Join(parts, " and ") + verbFor(parts) + " not recorded"
}

func verbFor(parts []string) string {
	if len(parts) > 1 {
		return " are"
	}
	return " is"
}

// remarks say how the marker's words were read.
func remarks(c *Case) []string {
	var out []string
	for _, a := range []struct {
		key string
		Answer
	}{{"marker.near", c.Near}, {"marker.far", c.Far}, {"marker.turned", c.Turned}} {
		for i, m := range a.Messages {
			s := a.key + ": read as " + m.ReadAs
			for _, r := range m.Remarks {
				s += "; " + r
			}
			for _, as := range a.Replies[i].Assumptions() {
				s += "; " + as.String()
			}
			out = appendNew(out, s)
		}
	}
	return out
}
