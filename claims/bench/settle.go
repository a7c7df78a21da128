package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims/quantity"
)

// OptionKind is a way to settle what is undecided.
type OptionKind uint8

// The options, the cheapest first. What a number in the Option means is named here.
const (
	// SenseEach: measure the conductor itself, not the loop.
	SenseEach OptionKind = iota + 1
	// StateAccuracy: note the meters' accuracy in place of the one assumed.
	StateAccuracy
	// OtherWayUp: as many readings with the plug turned over; the scatter is then known from
	// both ways up.
	OtherWayUp
	// MoreReadings: Readings in all.
	MoreReadings
	// MoreMatings: Readings matings in all.
	MoreMatings
	// MoreNulls: Readings nulls in all.
	MoreNulls
	// LargerCurrent: test with Amp.
	LargerCurrent
	// BetterAmmeter: an ammeter accurate to Fraction of
	// the reading, Times better than now.
	BetterAmmeter
	// BetterVoltmeter: as BetterAmmeter, of the voltmeter.
	BetterVoltmeter
	// BetterOhmmeter: as BetterAmmeter, of a rig that prints resistance.
	BetterOhmmeter
	// BetterMeters: each meter Times better than now; neither alone will do.
	BetterMeters
	// NothingPractical: the value is at the limit.
	NothingPractical
)

var optionKinds = [...]string{
	SenseEach: "sense-each", StateAccuracy: "state-accuracy", OtherWayUp: "other-way-up", MoreReadings: "more-readings", MoreMatings: "more-matings",
	MoreNulls: "more-nulls", LargerCurrent: "larger-current", BetterAmmeter: "better-ammeter", BetterVoltmeter: "better-voltmeter",
	BetterOhmmeter: "better-ohmmeter", BetterMeters: "better-meters", NothingPractical: "nothing-practical",
}

// String returns the kind as a phrase in kebab-case.
func (k OptionKind) String() string {
	if int(k) < len(optionKinds) {
		return optionKinds[k]
	}
	return ""
}

// MarshalText returns the same phrase as String. It never fails.
func (k OptionKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Option is one thing that would settle one undecided conductor by itself, if
// the value stays where it is.
type Option struct {
	Kind      OptionKind // what to do
	Conductor Conductor  // what it would settle
	Readings  int        // in all, for MoreReadings, MoreMatings and MoreNulls
	Fraction  float64    // of the reading, for the better meters
	Times     float64    // better than now, for the better meters
	Amp       float64    // A, for LargerCurrent
	Text      string     // the option in words, with its numbers
}

// What counts as practical (common practice).
const (
	practicalReadings = 50
	practicalMatings  = 20
	practicalNulls    = 10
	practicalTimes    = 50
	practicalFraction = 1e-5
)

// Settle returns what would settle d, a decision on r by [DecideCable] that is
// undecided, the cheapest first: for each undecided conductor the least change of each
// kind that decides it if the value stays the same. It goes by the budget, as Evaluate
// does. A decided cable gives nothing, except that an accuracy not stated is always asked
// for.
func Settle(r Result, d CableDecision) []Option {
	amp := d.CurrentAmp
	var out []Option
	for _, n := range r.Notes {
		if n.Kind == AccuracyAssumed {
			name, _, _ := strings.Cut(n.Text, ":")
			out = append(out, Option{Kind: StateAccuracy, Text: fmt.Sprintf("note the accuracy of the %s; until then it is assumed", name)})
		}
	}
	if d.Outcome != Undecided || !(amp > 0) {
		return out
	}
	for _, c := range []Conductor{VBUS, Ground} {
		if e := r.Estimate(c); e == nil || e.How == Subtracted && stillOpen(d, c) {
			out = append(out, Option{Kind: SenseEach, Conductor: c, Text: fmt.Sprintf("sense %s by itself", c.Name())})
		}
	}
	for i := range d.Decisions {
		if one := d.Decisions[i]; one.Outcome == Undecided && !one.Acceptance.Simple {
			out = append(out, settleOne(r, one, amp)...)
		}
	}
	slices.SortStableFunc(out, func(a, b Option) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}

func stillOpen(d CableDecision, c Conductor) bool {
	return slices.ContainsFunc(d.Decisions, func(one Decision) bool { return one.Conductor == c && one.Outcome == Undecided })
}

// settleOne computes the options for one undecided decision: each looks for the
// least change that brings K·U down to the distance from the limit.
func settleOne(r Result, d Decision, amp float64) []Option {
	e := d.Estimate
	gap := math.Abs(e.Ohm - d.LimitOhm)
	against := fmt.Sprintf("%s against %s%s", d.Conductor.Name(), quantity.Format(d.LimitOhm, quantity.Resistance, 4), d.wayText())
	var out []Option
	if otherWayDecides(r.Session, e, gap) {
		out = append(out, Option{Kind: OtherWayUp, Conductor: d.Conductor, Text: against + ": as many readings with the plug turned over, for the scatter is then known from both ways up"})
	}
	for _, m := range []struct {
		kind OptionKind
		name string
		n    int
	}{
		{MoreReadings, "readings", readingsNeeded(e, gap)}, {MoreMatings, "matings", matingsNeeded(e, gap)},
		{MoreNulls, "nulls", nullsNeeded(e, gap)},
	} {
		if m.n > 0 {
			out = append(out, Option{Kind: m.kind, Conductor: d.Conductor, Readings: m.n, Text: fmt.Sprintf("%s: %d %s in all", against, m.n, m.name)})
		}
	}
	alone := false
	for _, m := range []struct {
		kind    OptionKind
		name    string
		sources []Source
	}{
		{BetterAmmeter, "an ammeter", []Source{AmmeterSpec, NullAmmeter}},
		{BetterVoltmeter, "a voltmeter", []Source{VoltmeterSpec, NullVoltmeter}},
		{BetterOhmmeter, "a rig", []Source{OhmmeterSpec}},
	} {
		times, ok := timesNeeded(e, gap, m.sources...)
		if !ok {
			continue
		}
		fraction := rowOf(e, m.sources[0]).Ohm * math.Sqrt(3) / times / e.Ohm
		if fraction < practicalFraction {
			continue
		}
		alone = true
		out = append(out, Option{Kind: m.kind, Conductor: d.Conductor, Times: times, Fraction: fraction,
			Text: fmt.Sprintf("%s: %s good to %.2g %% of the reading, %.2g times better than now", against, m.name, 100*fraction, times)})
	}
	if i, ok := currentNeeded(r.Session, e, gap, amp); ok {
		out = append(out, Option{Kind: LargerCurrent, Conductor: d.Conductor, Amp: i,
			Text: fmt.Sprintf("%s: test with %s, null included", against, quantity.Format(i, quantity.Current, 3))})
	}
	if !alone {
		times, ok := timesNeeded(e, gap, AmmeterSpec, VoltmeterSpec, NullVoltmeter, NullAmmeter)
		if ok && rowOf(e, AmmeterSpec).Ohm > 0 && rowOf(e, VoltmeterSpec).Ohm > 0 {
			out = append(out, Option{Kind: BetterMeters, Conductor: d.Conductor, Times: times,
				Text: fmt.Sprintf("%s: ammeter and voltmeter each %.2g times better than now", against, times)})
		}
	}
	// A loop near a bound is settled by sensing each conductor, which is asked for
	// already.
	if len(out) == 0 && d.Conductor != Loop {
		out = append(out, Option{Kind: NothingPractical, Conductor: d.Conductor,
			Text: fmt.Sprintf("%s: the value is %s from it, at the limit; no practical measurement decides", against, quantity.Format(gap, quantity.Resistance, 2))})
	}
	return out
}

// rowOf returns the budget's row of a source, the largest, or a zero row.
func rowOf(e Estimate, s Source) Contribution {
	for _, c := range e.Budget {
		if c.Source == s {
			return c
		}
	}
	return Contribution{}
}

// expandedWith returns the expanded uncertainty with contributions changed.
func expandedWith(e Estimate, change func(c Contribution) (ohm, dof float64)) float64 {
	var room [16]Contribution
	rows := append(room[:0], e.Budget...)
	for i := range rows {
		rows[i].Ohm, rows[i].DoF = change(rows[i])
	}
	s := shapeOf(rows)
	return s.expanded()
}

// needed returns the least number above have, and at most most, that brings U to the gap
// when the scatter of the sources falls with its root; 0 where none does. The scatter is
// taken to stay as it is, and its degrees of freedom to grow by one each.
func needed(e Estimate, gap float64, have, most int, sources ...Source) int {
	if have == 0 || !slices.ContainsFunc(sources, func(s Source) bool { return rowOf(e, s).Ohm > 0 }) {
		return 0
	}
	for n := have + 1; n <= most; n++ {
		if expandedWith(e, func(c Contribution) (float64, float64) {
			if !slices.Contains(sources, c.Source) {
				return c.Ohm, c.DoF
			}
			return c.Ohm * math.Sqrt(float64(have)/float64(n)), c.DoF + float64(n-have)
		}) <= gap {
			return n
		}
	}
	return 0
}

// readingsNeeded returns how many readings in all bring U to the gap, or 0. Where
// several matings were noted, readings of the same matings are no help.
func readingsNeeded(e Estimate, gap float64) int {
	if e.Matings > 1 {
		return 0
	}
	return needed(e, gap, e.N, practicalReadings, Repeats)
}

// otherWayDecides reports whether as many readings the other way up bring U to the gap, where
// one way up was read: the scatter is pooled over both, so its degrees of freedom double.
func otherWayDecides(s Session, e Estimate, gap float64) bool {
	for i := range s.Readings {
		if s.Readings[i].Flip.known() != s.Readings[0].Flip.known() {
			return false
		}
	}
	repeats := rowOf(e, Repeats)
	return repeats.Ohm > 0 && expandedWith(e, func(c Contribution) (float64, float64) {
		if c.Source == Repeats || c.pool != nil && c.pool == repeats.pool {
			return c.Ohm, 2 * c.DoF
		}
		return c.Ohm, c.DoF
	}) <= gap
}

func matingsNeeded(e Estimate, gap float64) int {
	if e.Matings < 2 {
		return 0
	}
	return needed(e, gap, e.Matings, practicalMatings, Repeats)
}

func nullsNeeded(e Estimate, gap float64) int {
	if e.null == nil {
		return 0
	}
	return needed(e, gap, len(e.null.index), practicalNulls, NullRepeats)
}

// timesNeeded returns by what factor the sources have to shrink together.
func timesNeeded(e Estimate, gap float64, sources ...Source) (times float64, ok bool) {
	if !slices.ContainsFunc(sources, func(s Source) bool { return rowOf(e, s).Ohm > 0 }) {
		return 0, false
	}
	at := func(times float64) float64 {
		return expandedWith(e, func(c Contribution) (float64, float64) {
			if slices.Contains(sources, c.Source) {
				return c.Ohm / times, c.DoF
			}
			return c.Ohm, c.DoF
		})
	}
	return leastWithin(gap, 1, practicalTimes, at)
}

// leastWithin returns the least value from lo to hi at which a falling function is at most
// the gap; false where it is above at hi.
func leastWithin(gap, lo, hi float64, at func(float64) float64) (float64, bool) {
	if !(at(hi) <= gap) {
		return 0, false
	}
	for range 60 {
		if mid := (lo + hi) / 2; at(mid) <= gap {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// currentNeeded returns the least test current above the present one, and not
// above the current judged, that brings U to the gap with the same meters.
// The scatter is taken to stay as it is.
func currentNeeded(s Session, e Estimate, gap, amp float64) (float64, bool) {
	if e.How != Ratio || e.amp == 0 || amp <= e.amp {
		return 0, false
	}
	voltmeter, ammeter := firstOf(s.Voltmeter, s.Assume.Voltmeter), firstOf(s.Ammeter, s.Assume.Ammeter)
	at := func(i float64) float64 {
		return expandedWith(e, func(c Contribution) (float64, float64) {
			switch c.Source {
			case VoltmeterSpec:
				return c.Ohm * e.amp / i * voltmeter.HalfWidth(e.volt*i/e.amp) / voltmeter.HalfWidth(e.volt), c.DoF
			case AmmeterSpec:
				return c.Ohm * e.amp / i * ammeter.HalfWidth(i) / ammeter.HalfWidth(e.amp), c.DoF
			case NullVoltmeter, VoltmeterDigit, AmmeterDigit, NullDigit, VoltmeterCertificate, AmmeterCertificate:
				return c.Ohm * e.amp / i, c.DoF
			}
			return c.Ohm, c.DoF
		})
	}
	return leastWithin(gap, e.amp, amp, at)
}

// firstOf is the accuracy stated, else the one the user has assumed, else ours.
func firstOf(stated, assumed *quantity.Accuracy) *quantity.Accuracy {
	switch {
	case stated != nil:
		return stated
	case assumed != nil:
		return assumed
	}
	return &AssumedAccuracy
}
