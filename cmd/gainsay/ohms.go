package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

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
Works readings out as check does: resistance of VBUS, ground and loop with
expanded uncertainty and its budget, the limits at 3 A and 5 A, the largest
current carried, heat and voltage left, and what would settle what is not
decided.

Readings come from --reading options or from a table in CSV whose first row
names the columns: current, vbus, ground, loop, flip (up or down), kind (reading
or null), time and note (passed over). A unit stands in the name, as vbus/mV, or
in each cell.

Exit status 1 says that the cable is over a limit at a current that --at asks
for.

Example:
  gainsay ohms --voltmeter "0.05 % + 20 µV" --ammeter "0.1 % + 1 mA" \
    examples/readings/nf-014.csv
`,
	flags: func(fs *pflag.FlagSet) {
		fs.StringArray("reading", nil, readingHelp)
		fs.StringArray("null", nil, "a `READING` of the fixture alone; may be repeated")
		sessionFlags(fs)
		fs.StringArray("at", []string{"3 A", "5 A"}, "`CURRENT` to decide at; may be repeated")
		fs.String("source", "20 V", "`VOLTAGE` at the source, for what is left at the far end")
		policyFlags(fs)
		fs.Bool("json", false, "one JSON object")
	},
	run: runOhms,
}

// readingHelp is how a reading is given, to every command that takes some.
const readingHelp = "a `READING`, as \"1.0002 A, vbus 93.1 mV, ground 44.9 mV, up\"; may be repeated"

// sessionFlags add what holds for all readings of a session.
func sessionFlags(fs *pflag.FlagSet) {
	fs.String("voltmeter", "", "its `ACCURACY`, as \"0.05 % + 20 µV\"")
	fs.String("ammeter", "", "its `ACCURACY`, as \"0.1 % + 1 mA\"")
	fs.String("ambient", "", "`TEMPERATURE` of the room, as \"23 °C\"")
	fs.String("length", "", "`LENGTH` of the cable by tape, as \"1.98 m\"")
}

func runOhms(e *env, fs *pflag.FlagSet) int {
	checker, ok := e.checker(fs)
	if !ok {
		return exitUndone
	}
	by := checker.Acceptance
	in, errs := e.benchInput(fs)
	if len(in.session.Readings) == 0 && len(errs) == 0 {
		e.fail("ohms: no reading; give --reading or a table, see 'gainsay ohms --help'")
		return exitUndone
	}
	result, err := claims.Measure(&in.session, in.nulls, checker.Assume)
	if err != nil && len(in.session.Readings) > 0 {
		errs = append(errs, err)
	}
	code := exitDone
	for _, err := range errs {
		e.failLines(err.Error())
		code = exitUndone
	}
	if result.Loop == nil && result.VBUS == nil && result.Ground == nil {
		return exitUndone
	}
	report := claims.NewBenchReport(result, by, in.currents...)
	largest, over := 0.0, false
	for _, amps := range in.currents {
		switch bench.DecideCable(result, amps, by).Outcome {
		case bench.Within:
			largest = max(largest, amps)
		case bench.Over:
			over = true
		}
	}
	if largest > 0 {
		report.Load = claims.NewLoad(result, by, in.volts, largest)
	}
	if asJSON, _ := fs.GetBool("json"); asJSON {
		e.json(publish.Ohms{Version: publish.FormatVersion, Bench: report})
	} else {
		fmt.Fprint(e.out, publish.BenchText(report), publish.NoteText(report), publish.BudgetText(report, e.style))
	}
	if code == exitDone && over && fs.Changed("at") {
		return exitContradicted
	}
	return code
}

// benchInput is what the options and tables of ohms say.
type benchInput struct {
	session  record.Session
	nulls    []record.Reading
	currents []float64 // A, to decide at
	volts    float64   // at the source
}

// benchInput reads them; what is wrong costs only itself.
func (e *env) benchInput(fs *pflag.FlagSet) (in benchInput, errs []error) {
	failed := func(err error) bool {
		if err != nil {
			errs = append(errs, err)
		}
		return err != nil
	}
	text := func(name string) string { s, _ := fs.GetString(name); return s }
	var err error
	in.session, err = record.ParseSession(text("voltmeter"), text("ammeter"), text("ambient"), text("length"))
	failed(err)
	for _, readings := range []struct {
		flag string
		into *[]record.Reading
	}{{"reading", &in.session.Readings}, {"null", &in.nulls}} {
		texts, _ := fs.GetStringArray(readings.flag)
		for _, t := range texts {
			if r, err := record.ParseReading(t, record.Place{File: "--" + readings.flag, Line: 1, Column: 1}); !failed(err) {
				*readings.into = append(*readings.into, r)
			}
		}
	}
	for _, name := range fs.Args() {
		for table, err := range e.inputs(name) {
			if errors.Is(err, os.ErrNotExist) && strings.Contains(name, " ") { // as a reading has
				err = fmt.Errorf("%w; a reading is given with --reading", err)
			}
			if failed(err) {
				continue
			}
			readings, nulls, err := record.ReadTable(table, table.name)
			table.Close()
			failed(err)
			in.session.Readings, in.nulls = append(in.session.Readings, readings...), append(in.nulls, nulls...)
		}
	}
	ats, _ := fs.GetStringArray("at")
	for _, t := range ats {
		amps, err := record.ParseCurrent(t)
		if err != nil {
			errs = append(errs, fmt.Errorf("--at: %w", err))
			continue
		}
		in.currents = append(in.currents, amps)
	}
	if in.volts, err = record.ParseVoltage(text("source")); err != nil {
		errs = append(errs, fmt.Errorf("--source: %w", err))
	}
	return in, errs
}
