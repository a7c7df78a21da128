package bench

import (
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
)

// OptionKind is a way to settle what is undecided.
type OptionKind uint8

// The options. What a number in the Option means is named here.
const (
	// SenseEach: measure the conductor itself, not the loop.
	SenseEach OptionKind = iota + 1
	// StateAccuracy: note the meters' accuracy.
	StateAccuracy
	// MoreReadings: Readings in all.
	MoreReadings
	// BetterAmmeter: an ammeter accurate to Fraction of
	// the reading, Times better than now.
	BetterAmmeter
	// BetterVoltmeter: as BetterAmmeter, of the voltmeter.
	BetterVoltmeter
	// BetterOhmmeter: as BetterAmmeter, of a rig that prints resistance.
	BetterOhmmeter
	// BetterMeters: each meter Times better than now; neither alone will do.
	BetterMeters
	// LargerCurrent: test with Amp.
	LargerCurrent
	// NothingPractical: the value is too near the limit.
	NothingPractical
)

var optionKinds = [...]string{
	SenseEach: "sense-each", StateAccuracy: "state-accuracy", MoreReadings: "more-readings",
	BetterAmmeter: "better-ammeter", BetterVoltmeter: "better-voltmeter", BetterOhmmeter: "better-ohmmeter",
	BetterMeters: "better-meters", LargerCurrent: "larger-current", NothingPractical: "nothing-practical",
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
	Readings  int        // in all, for MoreReadings
	Fraction  float64    // of the reading, for the better meters
	Times     float64    // better than now, for the better meters
	Amp       float64    // A, for LargerCurrent
	Text      string     // the option in words, with its numbers
}

// What counts as practical (common practice).
const (
	practicalReadings = 50
	practicalTimes    = 50
	practicalFraction = 1e-5
)

// Settle returns what would settle d, a decision on r by [DecideCable] that is
// undecided. A decided cable gives nothing, except that an accuracy not stated is
// always asked for.
func Settle(r Result, d CableDecision) []Option {
	amp := d.CurrentAmp
	var out []Option
	for _, c := range conductors {
		if e := r.Estimate(c); e != nil && e.LowerBound && e.How != Summed && e.How != Subtracted {
			out = append(out, Option{Kind: StateAccuracy, Conductor: c, Text: fmt.Sprintf("%s: note the accuracy of the meters; until then its uncertainty is a lower bound", c.Name())})
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
	for _, one := range d.Decisions {
		if one.Outcome == Undecided {
			out = append(out, settleOne(r, one, amp)...)
		}
	}
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
	against := fmt.Sprintf("%s against %s", d.Conductor.Name(), quantity.Format(d.LimitOhm, quantity.Resistance, 4))
	var out []Option
	if n := readingsNeeded(e, gap); n > 0 {
		out = append(out, Option{Kind: MoreReadings, Conductor: d.Conductor, Readings: n,
			Text: fmt.Sprintf("%s: %d readings in all", against, n)})
	}
	alone := false
	for _, m := range []struct {
		kind    OptionKind
		name    string
		sources []Source
	}{
		{BetterAmmeter, "an ammeter", []Source{AmmeterSpec}},
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
		times, ok := timesNeeded(e, gap, AmmeterSpec, VoltmeterSpec, NullVoltmeter)
		if ok && rowOf(e, AmmeterSpec).Ohm > 0 && rowOf(e, VoltmeterSpec).Ohm > 0 {
			out = append(out, Option{Kind: BetterMeters, Conductor: d.Conductor, Times: times,
				Text: fmt.Sprintf("%s: ammeter and voltmeter each %.2g times better than now", against, times)})
		}
	}
	// A loop near a bound is settled by sensing each conductor, which is asked for
	// already.
	if len(out) == 0 && d.Conductor != Loop {
		out = append(out, Option{Kind: NothingPractical, Conductor: d.Conductor,
			Text: fmt.Sprintf("%s: %s from it; nothing practical decides that, so it stays not shown", against, quantity.Format(gap, quantity.Resistance, 2))})
	}
	return out
}

// rowOf returns the budget's row of a source, or a zero row.
func rowOf(e Estimate, s Source) Contribution {
	for _, c := range e.Budget {
		if c.Source == s {
			return c
		}
	}
	return Contribution{}
}

// expandedWith returns K·U with every contribution changed.
func expandedWith(e Estimate, change func(Contribution) (ohm, dof float64)) float64 {
	var parts []part
	for _, c := range e.Budget {
		ohm, dof := change(c)
		parts = append(parts, part{ohm, dof})
	}
	u, dof := combine(parts)
	return CoverageFactor(Coverage, dof) * u
}

// readingsNeeded returns how many readings in all bring K·U to the gap, or 0.
// The scatter is taken to stay as it is.
func readingsNeeded(e Estimate, gap float64) int {
	row := rowOf(e, Repeats)
	if row.Ohm == 0 || e.N == 0 {
		return 0
	}
	for n := e.N + 1; n <= practicalReadings; n++ {
		more := float64(n - e.N)
		if expandedWith(e, func(c Contribution) (float64, float64) {
			if c.Source != Repeats {
				return c.Ohm, c.DoF
			}
			return c.Ohm * math.Sqrt(float64(e.N)/float64(n)), c.DoF + more
		}) <= gap {
			return n
		}
	}
	return 0
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
	if !(at(practicalTimes) <= gap) {
		return 0, false
	}
	lo, hi := 1.0, float64(practicalTimes)
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
// above the current judged, that brings K·U to the gap with the same meters.
// The scatter is taken to stay as it is.
func currentNeeded(s Session, e Estimate, gap, amp float64) (float64, bool) {
	if e.How != Ratio || e.amp == 0 || amp <= e.amp {
		return 0, false
	}
	at := func(i float64) float64 {
		return expandedWith(e, func(c Contribution) (float64, float64) {
			switch {
			case c.Source == VoltmeterSpec && s.Voltmeter != nil:
				return rectangular(s.Voltmeter.HalfWidth(e.volt*i/e.amp)) / i, c.DoF
			case c.Source == AmmeterSpec && s.Ammeter != nil:
				return e.Ohm * rectangular(s.Ammeter.HalfWidth(i)) / i, c.DoF
			case c.Source == NullVoltmeter:
				return c.Ohm * e.amp / i, c.DoF
			}
			return c.Ohm, c.DoF
		})
	}
	if !(at(amp) <= gap) {
		return 0, false
	}
	lo, hi := e.amp, amp
	for range 60 {
		if mid := (lo + hi) / 2; at(mid) <= gap {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}
