package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

var addCommand = command{
	name:    "add",
	summary: "add readings to a record, and keep all else as it is",
	usage:   "[options] --reading READING FILE",
	help: `
Adds readings to a record in a YAML file: to the session of that date, or in a
new session at the end. Comments, order and spacing stay. What would change is
shown, "+" before each line that is new and ">" before one that only moves to
the right, and FILE is written only after a yes, or with --yes. What the options
for meters, null, ambient and length say goes into a new session only. A likely
slip of a unit is named on stderr.

A record without a session is given the nearest rig file (*.rig.yaml) in its
folder or the eight above.

FILE is locked while it is read, changed and written; other runs wait for up to
30 seconds. It keeps its owner, rights and line ends. A link is followed; a file
that is read-only or has hard links is refused.

Example:
  gainsay add --show --date 2026-12-01 examples/records/loop-only.yaml \
    --reading "1 A, vbus 93.1 mV, ground 44.9 mV"
`,
	flags: func(fs *pflag.FlagSet) {
		fs.StringArray("reading", nil, readingHelp)
		fs.String("cable", "", "the cable's `ID`, where the file holds several records")
		fs.String("date", "", "the `DAY` of the session, as 2026-10-05 (default today)")
		fs.String("null", "", "a `READING` of the fixture alone, as \"1 A, vbus 1.2 mV, ground 0.9 mV\"")
		sessionFlags(fs)
		fs.Bool("show", false, "only show what would be added")
		fs.BoolP("yes", "y", false, "write without asking")
	},
	run: runAdd,
}

func runAdd(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() != 1 || fs.Arg(0) == "-" {
		e.fail("add: name the one file to add to; see 'gainsay add --help'")
		return exitUndone
	}
	name := fs.Arg(0)
	text := func(flag string) string { s, _ := fs.GetString(flag); return s }
	a := record.Addition{Cable: text("cable"), Null: text("null"), Voltmeter: text("voltmeter"), Ammeter: text("ammeter"),
		Ambient: text("ambient"), Length: text("length")}
	a.Readings, _ = fs.GetStringArray("reading")
	y, m, d := time.Now().Date()
	a.Date = time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	if date := text("date"); date != "" {
		var err error
		if a.Date, err = record.ParseDate(date); err != nil {
			e.fail("add: %s; write it like 2026-10-05", publish.Plain(err.Error()))
			return exitUndone
		}
	}
	// A link is followed, so that the file is replaced and not the link to it.
	file, err := filepath.EvalSymlinks(name)
	if err != nil {
		e.fail("add: %s", publish.Plain(plainError(err).Error()))
		return exitUndone
	}
	failed := func(err error) int {
		for _, line := range strings.Split(err.Error(), "\n") {
			e.fail("add: %s", publish.Plain(line))
		}
		return exitUndone
	}
	if err := regular(file); err != nil {
		return failed(plainError(err))
	}
	if a.Rig, err = nearestRig(filepath.Dir(file)); err != nil {
		e.fail("add: %s", publish.Plain(err.Error()))
	}
	change := func(before []byte) ([]byte, error) {
		after, err := record.AddReadings(before, name, a)
		if err == nil {
			err = stillChecked(before, after, name, filepath.Dir(file))
		}
		if err != nil {
			return nil, notWritten{err}
		}
		showAdded(e, name, before, after)
		was := unitSlips(before, name, file)
		for _, slip := range unitSlips(after, name, file) {
			if !slices.Contains(was, slip) {
				e.fail("add: %s", publish.Plain(slip))
			}
		}
		if e.lost() {
			return nil, notWritten{errors.New("the change cannot be shown, so nothing was written")}
		}
		return after, nil
	}
	if show, _ := fs.GetBool("show"); show {
		before, err := readFile(osDisk{}, file, record.MaxAddition)
		if err == nil {
			_, err = change(before)
		}
		if err != nil {
			return failed(plainError(err))
		}
		return exitDone
	}
	yes, _ := fs.GetBool("yes")
	err = edit(osDisk{}, file, record.MaxAddition, lockWait, func(before []byte) ([]byte, error) {
		after, err := change(before)
		if err == nil && !yes && !e.ask(fmt.Sprintf("Write this to %s? [y/N] ", publish.Plain(name))) {
			return nil, notWritten{errors.New("nothing was written")}
		}
		return after, err
	})
	var not notWritten
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &not):
		return failed(err)
	}
	return failed(fmt.Errorf("cannot write %s: %w", name, cause(err)))
}

// notWritten is an error that is found before the file is written.
type notWritten struct{ error }

// stillChecked holds that check reads the new text as well as it did the old one.
func stillChecked(before, after []byte, name, folder string) error {
	check := func(text []byte) error {
		for rec, err := range record.Read(bytes.NewReader(text), name) {
			if err != nil {
				return err
			}
			if err := new(rigs).use(input{name: filepath.Join(folder, "record")}, rec); err != nil {
				return err
			}
			if _, err := rules.Checker().Case(rec, beside{folder, new(env)}); err != nil {
				return err
			}
		}
		return nil
	}
	if err := check(after); err != nil && check(before) == nil {
		return err
	}
	return nil
}

// unitSlips are the likely slips of a unit in the records of a file, in words.
func unitSlips(text []byte, name, file string) (out []string) {
	var known rigs
	in := input{name: file}
	for rec, err := range record.Read(bytes.NewReader(text), name) {
		if err != nil || known.use(in, rec) != nil {
			continue
		}
		c, err := rules.Checker().Case(rec, beside{filepath.Dir(file), new(env)})
		if err != nil {
			continue
		}
		for _, f := range c.Report().Findings {
			if f.Rule == "bench-unit-likely-wrong" {
				out = append(out, f.Says)
			}
		}
	}
	return out
}

// regular holds that a file is one that can be replaced, which no device or pipe can be.
func regular(name string) error {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return err
	case info.IsDir():
		return fmt.Errorf("%s: a folder, not a file", name)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s: %s, not a file", name, kindOf(info.Mode()))
	}
	return nil
}

// showAdded prints the lines that are new, and those that only move to the right, with
// their numbers.
func showAdded(e *env, name string, before, after []byte) {
	old := strings.Split(string(before), "\n")
	fmt.Fprintf(e.out, "%s:\n", publish.Plain(name))
	at := 0
	for i, line := range strings.Split(strings.TrimSuffix(string(after), "\n"), "\n") {
		line, was := strings.TrimSuffix(line, "\r"), ""
		if at < len(old) {
			was = strings.TrimSuffix(old[at], "\r")
		}
		sign := '+'
		switch {
		case at == len(old):
		case line == was:
			at++
			continue
		case strings.TrimPrefix(strings.TrimSpace(line), "- ") == strings.TrimSpace(was):
			at++
			sign = '>'
		}
		fmt.Fprintf(e.out, "%5d %c %s\n", i+1, sign, publish.Plain(line))
	}
	e.out.Flush()
}

// ask puts a question on stderr; only a yes on stdin is one.
func (e *env) ask(question string) bool {
	fmt.Fprint(e.err, question)
	answer, _ := bufio.NewReader(e.in).ReadString('\n')
	if answer == "" {
		fmt.Fprintln(e.err)
	}
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "y", "yes":
		return true
	}
	return false
}
