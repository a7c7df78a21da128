package main

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
)

var ohmsCommand = command{
	name:    "ohms",
	summary: "turn readings into resistance, with its uncertainty",
	usage:   "[options] [TABLE.csv|-]",
	help: `
Works readings out as check does: resistance of VBUS, ground and loop with expanded
uncertainty and its budget, the limits at 3 A and 5 A, the largest current carried,
heat and voltage left, and what would settle what is not decided.

Readings come from --reading options or from a table in CSV whose first row names
the columns: current, vbus, ground, loop, flip (up or down), kind (reading or null),
time and note (passed over). A unit stands in the name, as vbus/mV, or in each cell.

Example:
  gainsay ohms --voltmeter "0.05 % + 20 µV" --ammeter "0.1 % + 1 mA" \
    examples/readings/nf-014.csv
`,
	flags: func(fs *pflag.FlagSet) {
		fs.StringArray("reading", nil, "current and drops, as \"1 A, vbus 93 mV, ground 45 mV, up\"; may be repeated")
		fs.StringArray("null", nil, "the fixture alone, in the same form; may be repeated")
		fs.String("voltmeter", "", "its accuracy, as \"0.05 % + 20 µV\"")
		fs.String("ammeter", "", "its accuracy, as \"0.1 % + 1 mA\"")
		fs.String("ambient", "", "temperature of the room, as \"23 °C\"")
		fs.String("length", "", "length of the cable, as \"1.98 m\"")
		fs.StringArray("at", []string{"3 A", "5 A"}, "current to decide at; may be repeated")
		fs.String("source", "20 V", "voltage at the source, for what is left at the far end")
		acceptFlag(fs)
		fs.Bool("json", false, "one JSON object")
	},
	run: runOhms,
}

// The names of the decision rules.
const (
	acceptGuard  = "guard"
	acceptSimple = "simple"
)

// acceptFlag adds the choice of the decision rule.
func acceptFlag(fs *pflag.FlagSet) {
	fs.String("accept", acceptGuard, "decide with a guard band of the expanded uncertainty (guard) or by the value alone (simple)")
}

func acceptRule(e *env, fs *pflag.FlagSet) (bench.Rule, bool) {
	switch name, _ := fs.GetString("accept"); name {
	case acceptGuard:
		return bench.GuardBand, true
	case acceptSimple:
		return bench.SimpleAcceptance, true
	default:
		e.fail("%s: --accept %q is not known; write guard or simple", fs.Name(), publish.Plain(name))
		return 0, false
	}
}

func runOhms(e *env, fs *pflag.FlagSet) int {
	rule, ok := acceptRule(e, fs)
	if !ok {
		return exitUndone
	}
	text := func(name string) string { s, _ := fs.GetString(name); return s }
	var errs []error
	session, err := record.ParseSession(text("voltmeter"), text("ammeter"), text("ambient"), text("length"))
	errs = append(errs, err)
	var nulls []record.Reading
	parse := func(flag string, into *[]record.Reading) {
		texts, _ := fs.GetStringArray(flag)
		for _, t := range texts {
			r, err := record.ParseReading(t, record.Place{File: "--" + flag, Line: 1, Column: 1})
			if err != nil {
				errs = append(errs, err)
				continue
			}
			*into = append(*into, r)
		}
	}
	parse("reading", &session.Readings)
	parse("null", &nulls)
	for _, name := range fs.Args() {
		for in, err := range e.inputs(name) {
			if err != nil {
				errs = append(errs, err)
				continue
			}
			rs, ns, err := record.ReadTable(in, in.name)
			in.Close()
			errs = append(errs, err)
			session.Readings, nulls = append(session.Readings, rs...), append(nulls, ns...)
		}
	}
	var currents []float64
	ats, _ := fs.GetStringArray("at")
	for _, t := range ats {
		a, err := record.ParseCurrent(t)
		errs = append(errs, err)
		if err == nil {
			currents = append(currents, a)
		}
	}
	volts, err := record.ParseVoltage(text("source"))
	errs = append(errs, err)
	if len(session.Readings) == 0 && errors.Join(errs...) == nil {
		e.fail("ohms: no reading; give --reading or a table, see 'gainsay ohms --help'")
		return exitUndone
	}
	result, err := claims.Measure(&session, nulls)
	if len(session.Readings) > 0 {
		errs = append(errs, err)
	}
	code := exitDone
	if err := errors.Join(errs...); err != nil {
		e.failLines(err.Error())
		code = exitUndone
	}
	if result.Loop == nil && result.VBUS == nil && result.Ground == nil {
		return exitUndone
	}
	report := claims.NewBenchReport(result, rule, currents...)
	if over := largestWithin(result, rule, currents); over > 0 {
		report.Load = claims.NewLoad(result, rule, volts, over)
	}
	if asJSON, _ := fs.GetBool("json"); asJSON {
		e.json(publish.Ohms{Version: publish.FormatVersion, Bench: report})
	} else {
		fmt.Fprint(e.out, publish.BenchText(report))
		for _, n := range report.Notes {
			fmt.Fprintf(e.out, "  note: %s\n", publish.Plain(n.Says))
		}
		fmt.Fprint(e.out, publish.BudgetText(report, e.style))
	}
	if code == exitDone {
		for _, a := range currents {
			if bench.DecideCable(result, a, rule).Outcome == bench.Over && fs.Changed("at") {
				code = exitGainsaid
			}
		}
	}
	return code
}

// largestWithin is the largest of the currents that the cable carries, 0 for
// none.
func largestWithin(r bench.Result, rule bench.Rule, currents []float64) float64 {
	best := 0.0
	for _, a := range currents {
		if a > best && bench.DecideCable(r, a, rule).Outcome == bench.Within {
			best = a
		}
	}
	return best
}
