package rules

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

// Rules that hold the bench against itself: one session against another, the readings
// against what was printed, a known resistor, the meters against their due dates.
var sessionRules = []*claims.Rule{
	benchDrifted, benchDayDisagrees, benchPrintedDiffers, benchReferenceOff, benchUnitSlip,
	benchShellTooWarm, benchCopperTooWarm, benchFewRepeats, benchCalibrationDue,
}

// whenText is the day of a session in words.
func whenText(s *claims.Session) string {
	if t, ok := s.Date.Get(); ok {
		return t.Format(time.DateOnly)
	}
	return "in an earlier session"
}

// changeText says what a conductor was and what it is now.
func changeText(d bench.Change, earlier, later *claims.Session) string {
	was, now := earlier.Result.Estimate(d.Conductor), later.Result.Estimate(d.Conductor)
	text := fmt.Sprintf("%s was %s, now %s", say.Conductor(d.Conductor), say.Ohm(was), say.Ohm(now))
	if d.At20 {
		text += fmt.Sprintf(", which is %s more at 20 °C", quantity.FormatUncertain(d.Ohm, d.Expanded, quantity.Resistance))
		if d.Ohm < 0 {
			text = strings.Replace(text, " more at", " less at", 1)
			text = strings.Replace(text, "which is -", "which is ", 1)
		}
	}
	return text
}

var benchDrifted = &claims.Rule{
	ID:       "bench-drifted-since-earlier-session",
	Sources:  []claims.Citation{source.GUM, source.OwnReasoning},
	Title:    "the resistance has changed since an earlier session",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "Since {when}: {changes}.",
	Why:      "Wear and dirt raise a resistance, cleaning lowers it. The latest session counts.",
	Next:     "Clean the plugs and measure again. If it keeps rising, take the cable out of use before it reaches a limit.",
	Check: func(c *claims.Case) claims.Result {
		any := false
		for _, s := range c.Earlier() {
			if s.SameDay(c.Resistance) || slipped(s, c.Resistance) != "" {
				continue
			}
			any = true
			if changes := c.Resistance.ChangesSince(s); len(changes) > 0 { // the oldest
				texts := make([]string, len(changes))
				for i, d := range changes {
					texts[i] = changeText(d, s, c.Resistance)
				}
				when := whenText(s)
				if !s.Date.Known {
					when = "the first session"
				}
				return found(claims.Values{"when": when, "changes": strings.Join(texts, "; ")})
			}
		}
		if !any {
			return notApplicable("there is no earlier session")
		}
		return pass()
	},
}

var benchDayDisagrees = &claims.Rule{
	ID:       "bench-sessions-of-one-day-disagree",
	Sources:  []claims.Citation{source.GUM, source.OwnReasoning},
	Title:    "two sessions of one day give different resistances",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "Two sessions of {when} disagree: {changes}. The larger counts.",
	Why:      "A cable does not change in a day without cause, so one of the sessions is wrong.",
	Next:     "Measure a known resistor in the fixture, then the cable again.",
	Check: func(c *claims.Case) claims.Result {
		others := false
		for i := range c.Bench {
			s := &c.Bench[i]
			others = others || s != c.Resistance && s.HasOhms() && s.SameDay(c.Resistance)
		}
		if !others {
			return notApplicable("there is one session of the day")
		}
		s := c.DayDisagrees()
		if s == nil {
			return pass()
		}
		var texts []string
		for _, d := range c.Resistance.ChangesSince(s) {
			texts = append(texts, fmt.Sprintf("%s has %s in one, %s in the other", say.Conductor(d.Conductor),
				say.Ohm(s.Result.Estimate(d.Conductor)), say.Ohm(c.Resistance.Result.Estimate(d.Conductor))))
		}
		return found(claims.Values{"when": whenText(s), "changes": strings.Join(texts, "; ")})
	},
}

var benchPrintedDiffers = noteRule(claims.Rule{
	ID: "bench-printed-differs-from-readings", Sources: []claims.Citation{source.GUM, source.OwnReasoning}, Kind: claims.Doubt,
	Title: "the resistance that the rig printed is not that of the readings",
	Says:  "{note}.",
	Why:   "They are two measurements of one thing, so one of them is wrong. The larger counts.",
	Next:  "Check the rig's null and its setting, and take both once more.",
}, bench.PrintedDisagrees)

var benchFewRepeats = noteRule(claims.Rule{
	ID: "bench-few-repeats", Sources: []claims.Citation{source.GUM, source.CommonPractice}, Kind: claims.Remark,
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
func slipped(earlier, later *claims.Session) string {
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
			return fmt.Sprintf("%s was %s (%s), now %s: likely %s", say.Conductor(c), say.Ohm(a), whenText(earlier), say.Ohm(b), slip)
		}
	}
	return ""
}

var benchUnitSlip = &claims.Rule{
	ID:       "bench-unit-likely-wrong",
	Sources:  []claims.Citation{source.OwnReasoning, source.CommonPractice},
	Title:    "a resistance is about 1000 times too small or too large",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "{slips}.",
	Why:      "No cable changes by a factor of 1000; a slip of the prefix does.",
	Next:     "Check the units that the record states.",
	Check: func(c *claims.Case) claims.Result {
		var slips []string
		for _, n := range c.Resistance.Result.Notes {
			if n.Kind == bench.UnitSlip {
				slips = append(slips, n.Text)
			}
		}
		for _, s := range c.Earlier() {
			if slip := slipped(s, c.Resistance); slip != "" {
				slips = append(slips, slip)
				break
			}
		}
		return foundIf(len(slips) > 0, func() claims.Values { return claims.Values{"slips": say.Capitalised(strings.Join(slips, "; "))} })
	},
}

var benchReferenceOff = &claims.Rule{
	ID:       "bench-reference-resistor-off",
	Sources:  []claims.Citation{source.GUM, source.CommonPractice},
	Title:    "a known resistor in the fixture does not come out at its value",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "The reference resistor of {nominal} was measured as {measured}.",
	Why:      "What is wrong with it is wrong with every resistance of the session, so none of them is settled.",
	Next:     "Check the null, the meters and where the sense leads touch, then measure the reference again.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Resistance.Reference.Known {
			return notApplicable("no reference resistor was read in the session")
		}
		e, known, err := c.Resistance.ReferenceOhms()
		if err != nil {
			return undecided("the reading of the reference gives no resistance", claims.BenchDrop)
		}
		return foundIf(bench.Compare(e, known).Significant, func() claims.Values {
			return claims.Values{"nominal": quantity.FormatUncertain(known.Ohm, math.Sqrt(3)*known.U, quantity.Resistance), "measured": ohms(&e)}
		})
	},
}

var benchShellTooWarm = &claims.Rule{
	ID:       "bench-shell-too-warm",
	Sources:  []claims.Citation{source.TypeCContacts, source.CommonPractice},
	Title:    "the plug's shell gets more than 30 K warmer than the room",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchHeat},
	Says:     "At {amps} the shell reached {shell}, {rise} K above the room's {ambient}; 30 K are allowed.",
	Why:      "A contact that gets hot is bad or worn, and gets worse.",
	Next:     "Take the cable out of use at this current, and look at both plugs.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Heated()
		heat, room := s.Heat.Value, s.Room()
		rise := heat.Shell.Value - room.Celsius
		switch {
		case heat.Current.Value > bench.MaxRatedAmp:
			return notApplicable("the load is above what any Type-C cable is rated for")
		case rise > bench.RiseKelvin+room.WithinKelvin:
			return found(claims.Values{"amps": amperes(heat.Current.Value), "shell": celsius(heat.Shell.Value), "rise": fmt.Sprintf("%.0f", rise), "ambient": celsius(room.Celsius)})
		case rise > bench.RiseKelvin-room.WithinKelvin:
			return undecided("the rise is within the uncertainty of 30 K", claims.BenchHeat)
		}
		return pass()
	},
}

var benchCopperTooWarm = &claims.Rule{
	ID:       "bench-copper-too-warm",
	Sources:  []claims.Citation{source.TypeCContacts, source.NatureCopper},
	Title:    "the conductors were more than 30 K warmer than the room when they were read",
	Kind:     claims.Doubt,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "The copper was at {copper}, {rise} K above the room's {ambient}; a connector may rise by 30 K.",
	Why:      "A cable that gets so warm at the test current is too thin for it.",
	Next:     "Use it at less current, and look at both plugs.",
	Check: func(c *claims.Case) claims.Result {
		copper, known := c.Resistance.Copper.Get()
		if !known {
			return notApplicable("the temperature of the copper is not on record")
		}
		room := c.Resistance.Room()
		rise := copper - room.Celsius
		return foundIf(rise > bench.RiseKelvin+room.WithinKelvin, func() claims.Values {
			return claims.Values{"copper": celsius(copper), "rise": fmt.Sprintf("%.0f", rise), "ambient": celsius(room.Celsius)}
		})
	},
}

var benchCalibrationDue = &claims.Rule{
	ID:       "bench-calibration-past-due",
	Sources:  []claims.Citation{source.CommonPractice},
	Title:    "an instrument was used after its calibration was due",
	Kind:     claims.Remark,
	Property: claims.Current,
	Between:  []claims.Witness{claims.Bench},
	Needs:    []claims.Evidence{claims.BenchDrop},
	Says:     "{instruments}.",
	Why:      "What the certificate says holds until the due date.",
	Next:     "Have the instrument calibrated; until then compare it with another one.",
	Check: func(c *claims.Case) claims.Result {
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
			return undecided("the session has no date", claims.BenchDrop)
		}
		return foundIf(len(late) > 0, func() claims.Values { return claims.Values{"instruments": say.Capitalised(strings.Join(late, "; "))} })
	},
}
