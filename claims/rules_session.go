package claims

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

// Rules that hold the bench against itself: one session against another, the readings
// against what was printed, a known resistor, the meters against their due dates.
var sessionRules = []*Rule{
	benchDrifted, benchDayDisagrees, benchPrintedDiffers, benchReferenceOff, benchUnitSlip,
	benchShellTooWarm, benchCopperTooWarm, benchFewRepeats, benchCalibrationDue,
}

// earlier returns the sessions that give a resistance, before the one that counts.
func (c *Case) earlier() []*Session {
	var out []*Session
	for i := range c.Bench {
		s := &c.Bench[i]
		if s == c.Resistance {
			break
		}
		if hasOhms(s) {
			out = append(out, s)
		}
	}
	return out
}

func hasOhms(s *Session) bool {
	r := &s.Result
	return r.VBUS != nil || r.Ground != nil || r.Loop != nil
}

// oneDay reports whether two sessions are of one day.
func oneDay(a, b *Session) bool {
	return a.Date.Known && b.Date.Known && a.Date.Value.Equal(b.Date.Value)
}

// whenText is the day of a session in words.
func whenText(s *Session) string {
	if t, ok := s.Date.Get(); ok {
		return t.Format(time.DateOnly)
	}
	return "in an earlier session"
}

// differences lists by how much the conductors of a session differ from an earlier one,
// beyond their uncertainty; of a loop only where no conductor does.
func differences(earlier, later *Session) []bench.Change {
	var out []bench.Change
	for _, d := range bench.Drift(earlier.Result, later.Result) {
		if d.Significant && (d.Conductor != bench.Loop || len(out) == 0) {
			out = append(out, d)
		}
	}
	return out
}

// changeText says what a conductor was and what it is now.
func changeText(d bench.Change, earlier, later *Session) string {
	was, now := earlier.Result.Estimate(d.Conductor), later.Result.Estimate(d.Conductor)
	text := fmt.Sprintf("%s was %s, now %s", inSentence(d.Conductor), OhmText(was), OhmText(now))
	if d.At20 {
		text += fmt.Sprintf(", which is %s more at 20 °C", quantity.FormatUncertain(d.Ohm, d.Expanded, quantity.Resistance))
		if d.Ohm < 0 {
			text = strings.Replace(text, " more at", " less at", 1)
			text = strings.Replace(text, "which is -", "which is ", 1)
		}
	}
	return text
}

var benchDrifted = &Rule{
	ID:       "bench-drifted-since-earlier-session",
	Sources:  []Citation{gum, ownReasoning},
	Title:    "the resistance has changed since an earlier session",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "Since {when}: {changes}.",
	Why:      "Wear and dirt raise a resistance, cleaning lowers it. The latest session counts.",
	Next:     "Clean the plugs and measure again. If it keeps rising, take the cable out of use before it reaches a limit.",
	Check: func(c *Case) Result {
		any := false
		for _, s := range c.earlier() {
			if oneDay(s, c.Resistance) || slipped(s, c.Resistance) != "" {
				continue
			}
			any = true
			if changes := differences(s, c.Resistance); len(changes) > 0 { // the oldest
				texts := make([]string, len(changes))
				for i, d := range changes {
					texts[i] = changeText(d, s, c.Resistance)
				}
				when := whenText(s)
				if !s.Date.Known {
					when = "the first session"
				}
				return found(Values{"when": when, "changes": strings.Join(texts, "; ")})
			}
		}
		if !any {
			return notApplicable("there is no earlier session")
		}
		return pass()
	},
}

// dayDisagrees returns a session of the same day as the one that counts from which it
// differs beyond the uncertainty; nil where there is none.
func (c *Case) dayDisagrees() *Session {
	if c.Resistance == nil {
		return nil
	}
	for i := range c.Bench {
		s := &c.Bench[i]
		if s != c.Resistance && hasOhms(s) && oneDay(s, c.Resistance) && len(differences(s, c.Resistance)) > 0 {
			return s
		}
	}
	return nil
}

// worstOfDay makes the session with the most resistance of its day the one that counts,
// where the sessions of a day disagree.
func (c *Case) worstOfDay() {
	worst := c.Resistance
	for i := range c.Bench {
		s := &c.Bench[i]
		if s == c.Resistance || !hasOhms(s) || !oneDay(s, c.Resistance) || len(differences(s, c.Resistance)) == 0 {
			continue
		}
		if loopOf(s) > loopOf(worst) {
			worst = s
		}
	}
	c.Resistance = worst
}

// loopOf is the resistance of all that is known.
func loopOf(s *Session) float64 {
	total := 0.0
	switch r := &s.Result; {
	case r.Loop != nil:
		total = r.Loop.Ohm
	case r.VBUS != nil:
		total = r.VBUS.Ohm
	case r.Ground != nil:
		total = r.Ground.Ohm
	}
	return total
}

// benchDoubted reports whether the bench contradicts itself, so that nothing it shows is
// settled.
func (c *Case) benchDoubted() bool {
	return c.Resistance != nil && (c.Resistance.Result.Disagrees() || c.dayDisagrees() != nil || benchReferenceOff.Check(c).Status == Found)
}

var benchDayDisagrees = &Rule{
	ID:       "bench-sessions-of-one-day-disagree",
	Sources:  []Citation{gum, ownReasoning},
	Title:    "two sessions of one day give different resistances",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "Two sessions of {when} disagree: {changes}. The larger counts.",
	Why:      "A cable does not change in a day without cause, so one of the sessions is wrong.",
	Next:     "Measure a known resistor in the fixture, then the cable again.",
	Check: func(c *Case) Result {
		others := false
		for i := range c.Bench {
			s := &c.Bench[i]
			others = others || s != c.Resistance && hasOhms(s) && oneDay(s, c.Resistance)
		}
		if !others {
			return notApplicable("there is one session of the day")
		}
		s := c.dayDisagrees()
		if s == nil {
			return pass()
		}
		var texts []string
		for _, d := range differences(s, c.Resistance) {
			texts = append(texts, fmt.Sprintf("%s has %s in one, %s in the other", inSentence(d.Conductor),
				OhmText(s.Result.Estimate(d.Conductor)), OhmText(c.Resistance.Result.Estimate(d.Conductor))))
		}
		return found(Values{"when": whenText(s), "changes": strings.Join(texts, "; ")})
	},
}

var benchPrintedDiffers = noteRule(Rule{
	ID: "bench-printed-differs-from-readings", Sources: []Citation{gum, ownReasoning}, Kind: Doubt,
	Title: "the resistance that the rig printed is not that of the readings",
	Says:  "{note}.",
	Why:   "They are two measurements of one thing, so one of them is wrong. The larger counts.",
	Next:  "Check the rig's null and its setting, and take both once more.",
}, bench.PrintedDisagrees)

var benchFewRepeats = noteRule(Rule{
	ID: "bench-few-repeats", Sources: []Citation{gum, commonPractice}, Kind: Remark,
	Title: "the scatter is known from few repeats",
	Says:  "{note}.",
	Why:   "The scatter of two or three repeats says little, so the interval is much wider than it needs to be.",
	Next:  "Take four matings or more each way up.",
}, bench.FewRepeats)

// Two values a factor of about 1000 apart are a slip of the prefix.
const (
	leastSlip = 300
	mostSlip  = 3000
)

// slipped says how a session is off an earlier one by a factor of about 1000, empty where
// it is not.
func slipped(earlier, later *Session) string {
	for _, c := range []bench.Conductor{bench.VBUS, bench.Ground, bench.Loop} {
		a, b := earlier.Result.Estimate(c), later.Result.Estimate(c)
		if a == nil || b == nil {
			continue
		}
		if f := b.Ohm / a.Ohm; f >= leastSlip && f <= mostSlip || 1/f >= leastSlip && 1/f <= mostSlip {
			slip := "Ω for mΩ, or V for mV"
			if f < 1 {
				slip = "mΩ for Ω, or µV for mV"
			}
			return fmt.Sprintf("%s was %s (%s), now %s: likely %s", inSentence(c), OhmText(a), whenText(earlier), OhmText(b), slip)
		}
	}
	return ""
}

var benchUnitSlip = &Rule{
	ID:       "bench-unit-likely-wrong",
	Sources:  []Citation{ownReasoning, commonPractice},
	Title:    "a resistance is about 1000 times too small or too large",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "{slips}.",
	Why:      "No cable changes by a factor of 1000; a slip of the prefix does.",
	Next:     "Check the units that the record states.",
	Check: func(c *Case) Result {
		var slips []string
		for _, n := range c.Resistance.Result.Notes {
			if n.Kind == bench.UnitSlip {
				slips = append(slips, n.Text)
			}
		}
		for _, s := range c.earlier() {
			if slip := slipped(s, c.Resistance); slip != "" {
				slips = append(slips, slip)
				break
			}
		}
		return foundIf(len(slips) > 0, func() Values { return Values{"slips": capitalised(strings.Join(slips, "; "))} })
	},
}

var benchReferenceOff = &Rule{
	ID:       "bench-reference-resistor-off",
	Sources:  []Citation{gum, commonPractice},
	Title:    "a known resistor in the fixture does not come out at its value",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "The reference resistor of {nominal} was measured as {measured}.",
	Why:      "What is wrong with it is wrong with every resistance of the session, so none of them is settled.",
	Next:     "Check the null, the meters and where the sense leads touch, then measure the reference again.",
	Check: func(c *Case) Result {
		ref, ok := c.Resistance.Reference.Get()
		if !ok {
			return notApplicable("no reference resistor was read in the session")
		}
		e, known, err := referenceOhms(c.Resistance.Session, ref)
		if err != nil {
			return undecided("the reading of the reference gives no resistance", BenchDrop)
		}
		return foundIf(bench.Compare(e, known).Significant, func() Values {
			return Values{"nominal": quantity.FormatUncertain(known.Ohm, math.Sqrt(3)*known.U, quantity.Resistance), "measured": OhmText(&e)}
		})
	},
}

// referenceOhms is a reference resistor as measured over the leads of VBUS, and as known.
func referenceOhms(s *record.Session, ref record.Reference) (measured, known bench.Estimate, err error) {
	in := benchSession(s, s.Nulls)
	in.Readings = benchReadings([]record.Reading{{Current: ref.Current, VBUS: ref.Drop}})
	in.Printed = bench.Printed{}
	r, err := bench.Evaluate(in)
	if r.VBUS == nil {
		return measured, known, err
	}
	value := ref.Resistor.Value
	known = bench.Estimate{Conductor: bench.VBUS, Ohm: value, U: ref.Tolerance.Value.HalfWidth(value) / math.Sqrt(3)}
	return *r.VBUS, known, nil
}

var benchShellTooWarm = &Rule{
	ID:       "bench-shell-too-warm",
	Sources:  []Citation{typeCContacts, commonPractice},
	Title:    "the plug's shell gets more than 30 K warmer than the room",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchHeat},
	Says:     "At {amps} the shell reached {shell}, {rise} K above the room's {ambient}; 30 K are allowed.",
	Why:      "A contact that gets hot is bad or worn, and gets worse.",
	Next:     "Take the cable out of use at this current, and look at both plugs.",
	Check: func(c *Case) Result {
		s := c.heated()
		heat, room := s.Heat.Value, benchSession(s, nil).Ambient()
		rise := heat.Shell.Value - room.Celsius
		switch {
		case heat.Current.Value > bench.MaxRatedAmp:
			return notApplicable("the load is above what any Type-C cable is rated for")
		case rise > bench.RiseKelvin+room.WithinKelvin:
			return found(Values{"amps": ampsText(heat.Current.Value), "shell": celsiusText(heat.Shell.Value), "rise": fmt.Sprintf("%.0f", rise), "ambient": celsiusText(room.Celsius)})
		case rise > bench.RiseKelvin-room.WithinKelvin:
			return undecided("the rise is within the uncertainty of 30 K", BenchHeat)
		}
		return pass()
	},
}

func celsiusText(t float64) string { return quantity.Format(t, quantity.Temperature, 3) }

// heated is the latest session with a temperature of the shell; nil where there is none.
func (c *Case) heated() *record.Session {
	for i := len(c.Bench) - 1; i >= 0; i-- {
		if c.Bench[i].Heat.Known {
			return c.Bench[i].Session
		}
	}
	return nil
}

var benchCopperTooWarm = &Rule{
	ID:       "bench-copper-too-warm",
	Sources:  []Citation{typeCContacts, natureCopper},
	Title:    "the conductors were more than 30 K warmer than the room when they were read",
	Kind:     Doubt,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "The copper was at {copper}, {rise} K above the room's {ambient}; a connector may rise by 30 K.",
	Why:      "A cable that gets so warm at the test current is too thin for it.",
	Next:     "Use it at less current, and look at both plugs.",
	Check: func(c *Case) Result {
		in := benchSession(c.Resistance.Session, nil)
		if !in.CopperCelsius.Known {
			return notApplicable("the temperature of the copper is not on record")
		}
		room := in.Ambient()
		rise := in.CopperCelsius.Value - room.Celsius
		return foundIf(rise > bench.RiseKelvin+room.WithinKelvin, func() Values {
			return Values{"copper": celsiusText(in.CopperCelsius.Value), "rise": fmt.Sprintf("%.0f", rise), "ambient": celsiusText(room.Celsius)}
		})
	},
}

var benchCalibrationDue = &Rule{
	ID:       "bench-calibration-past-due",
	Sources:  []Citation{commonPractice},
	Title:    "an instrument was used after its calibration was due",
	Kind:     Remark,
	Property: Current,
	Between:  []Witness{Bench},
	Needs:    []Evidence{BenchDrop},
	Says:     "{instruments}.",
	Why:      "What the certificate says holds until the due date.",
	Next:     "Have the instrument calibrated; until then compare it with another one.",
	Check: func(c *Case) Result {
		s := c.Resistance
		day, dated := s.Date.Get()
		var late []string
		due := false
		for _, m := range []struct {
			name string
			of   record.Calibration
		}{{"voltmeter", s.Calibrated.Voltmeter}, {"ammeter", s.Calibrated.Ammeter}, {"ohmmeter", s.Calibrated.Ohmmeter}} {
			d, ok := m.of.Due.Get()
			due = due || ok
			if ok && dated && day.After(d) {
				late = append(late, fmt.Sprintf("the %s was due on %s and used on %s", m.name, d.Format(time.DateOnly), day.Format(time.DateOnly)))
			}
		}
		switch {
		case !due:
			return notApplicable("no due date is on record")
		case !dated:
			return undecided("the session has no date", BenchDrop)
		}
		return foundIf(len(late) > 0, func() Values { return Values{"instruments": capitalised(strings.Join(late, "; "))} })
	},
}
