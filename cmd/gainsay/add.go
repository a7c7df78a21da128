package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
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
for meters, null, ambient and length say goes into a new session only.

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
		if a.Date, err = time.Parse(time.DateOnly, date); err != nil {
			e.fail("add: %q is no date; write it like 2026-10-05", publish.Plain(date))
			return exitUndone
		}
	}
	// A link is followed, so that the file is replaced and not the link to it.
	file, err := filepath.EvalSymlinks(name)
	if err != nil {
		e.fail("add: %s", publish.Plain(plainError(err).Error()))
		return exitUndone
	}
	before, err := readWhole(file)
	if err != nil {
		e.fail("add: %s", publish.Plain(plainError(err).Error()))
		return exitUndone
	}
	after, err := record.AddReadings(before, name, a)
	if err != nil {
		for _, line := range strings.Split(err.Error(), "\n") {
			e.fail("add: %s", publish.Plain(line))
		}
		return exitUndone
	}
	showAdded(e, name, before, after)
	if show, _ := fs.GetBool("show"); show {
		return exitDone
	}
	if yes, _ := fs.GetBool("yes"); !yes && !e.ask(fmt.Sprintf("Write this to %s? [y/N] ", publish.Plain(name))) {
		e.fail("add: nothing was written")
		return exitUndone
	}
	if err := replace(file, before, after); err != nil {
		e.fail("add: cannot write %s: %v", publish.Plain(name), cause(err))
		return exitUndone
	}
	return exitDone
}

// readWhole reads a file that is to be replaced, which no device or pipe can be.
func readWhole(name string) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s: a folder, not a file", name)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: %s, not a file", name, kindOf(info.Mode()))
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, record.MaxAddition+1)) // one byte over is refused behind
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

// replace writes a file aside and gives it the name, unless somebody else has
// changed the file meanwhile.
func replace(name string, before, after []byte) error {
	a, err := newAside(name)
	if err != nil {
		return err
	}
	defer a.drop()
	if _, err := a.Write(after); err != nil {
		return err
	}
	if now, err := os.ReadFile(name); err != nil || !bytes.Equal(now, before) {
		return errors.New("it was changed while this was asked")
	}
	return a.keep()
}
