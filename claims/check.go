package claims

import (
	"slices"
	"strings"
	"sync"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
)

// Check works a record out and asks every rule of the catalogue. Limits are decided
// with a guard band. The error is a record.Errors: words or readings that make no
// sense, with what paste or bench says below each.
func Check(rec *record.Record) (*Report, error) { return CheckBy(rec, bench.GuardBand) }

// CheckBy is [Check] with a choice of how limits are decided, which is to be agreed
// before measuring. The error is a record.Errors, as of Check.
func CheckBy(rec *record.Record, rule bench.Rule) (*Report, error) {
	c, err := CaseBy(rec, rule, nil)
	if err != nil {
		return nil, err
	}
	return c.Report(), nil
}

func checkWaivers(rec *record.Record) (errs record.Errors) {
	for _, w := range rec.Waive {
		if RuleNamed(w.Rule.Value) == nil {
			wrong, want := UnknownRule(w.Rule.Value)
			errs = append(errs, &record.Error{At: w.Rule.At, Key: "waive.rule", Wrong: wrong, Want: want, Err: record.ErrValue})
		}
	}
	return errs
}

// Report asks every rule of the catalogue about the case.
func (c *Case) Report() *Report {
	stated := statedClaims(c.Claims) // what the seller says at most
	r := &Report{
		Version: FormatVersion,
		Cable:   c.Record.Cable.Value, Label: c.Record.Label.Value,
		Rating:    rate(c),
		Findings:  []Finding{},
		Testimony: testimony(c, stated),
		Remarks:   remarks(c),
	}
	r.Bench = benchReport(c, r.Rating)
	r.Use, r.Measured = use(c, r.Rating), howMeasured(c)
	room := resultRooms.Get().(*[]Result)
	defer resultRooms.Put(room)
	results := *room
	defer clear(results)
	var open gaps
	for i, rule := range catalogue {
		results[i] = rule.Ask(c)
		switch res := &results[i]; res.Status {
		case Found:
			r.Findings = append(r.Findings, Finding{
				Rule: rule.ID, Kind: rule.Kind, Property: rule.Property, Between: rule.Between,
				Says: rule.Text(res), Source: rule.Source(), Next: rule.NextText(res), Values: res.Values,
				Waived: c.waived(rule.ID),
			})
		case Missing, Undecided:
			open.add(rule, res)
		case Broken:
			r.Broken = append(r.Broken, rule.ID+": "+res.Why)
		}
	}
	r.NotExamined = append([]NotExamined{}, open...)
	hang(r.Findings)
	r.Findings = arranged(r.Findings)
	r.Claims = c.allOutcomes(results)
	r.Verdict = verdict(c, r)
	r.Cautions = cautions(c, r)
	return r
}

// resultRooms are for the results of one case, a good many bytes that nobody keeps.
var resultRooms = sync.Pool{New: func() any { room := make([]Result, len(catalogue)); return &room }}

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
		return yesOrNo(s.Value)
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
		for j, rule := range catalogue {
			if rule.asksSeller() {
				mine[j] = rule.askPlugs(one)
			}
		}
		for _, o := range outcomes(one, statedClaims(one.Claims), mine) {
			o.Of = sourceName(one.Claims, i)
			if rule := c.disputed(one.Claims, o.Property); rule != nil && c.waived(rule.ID) == "" {
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
		for _, i := range aboutClaims()[claim.property] {
			rule, res := catalogue[i], &results[i]
			against := res.Status == Found && (rule.Kind == Contradiction || rule.Kind == Breach) && !rule.selfDispute
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
			o.Standing, o.Because = NotShown, notShown(claim.property, results)
			if claim.property == Data && c.Claims.Data.Value.None {
				o.Because = "no data is claimed, so there is nothing to check"
			}
		}
		out = append(out, o)
	}
	return out
}

// notShown says why a claim that nothing contradicts is not confirmed.
func notShown(p Property, results []Result) string {
	var open, moot []string
	for _, i := range aboutClaims()[p] {
		rule, res := catalogue[i], &results[i]
		switch {
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

// aboutClaims has the rules that can decide a claim, by their places in the
// catalogue.
var aboutClaims = sync.OnceValue(func() map[Property][]int {
	out := map[Property][]int{}
	for i, rule := range catalogue {
		if slices.Contains(rule.Between, Seller) {
			out[rule.Property] = append(out[rule.Property], i)
		}
	}
	return out
})

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
