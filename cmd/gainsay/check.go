package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
)

var checkCommand = command{
	name:    "check",
	summary: "hold seller, marker and bench against each other",
	usage:   "[options] FILE|FOLDER|- ...",
	help: `
Reads records (YAML, JSON or JSON Lines; "-" is stdin; a folder gives every
record file below it) and reports, for each cable, what it is sold as, what it
is shown to carry, the result of each claim, and every finding with its next
step and its source. --full adds the witnesses side by side, all measurements
and what was not checked; --brief prints one line a cable.

A record that cannot be read is reported on stderr and does not cost the others.
Exit status: 0 no contradiction and no breach, 1 at least one, 2 something could
not be read.

Example:
  gainsay check examples/records/all-agree-100w.yaml
`,
	flags: func(fs *pflag.FlagSet) {
		formFlags(fs, "one JSON object a record, each on its own line", formSVG)
		policyFlags(fs)
		fs.Bool("full", false, "print everything: the witnesses side by side, all measurements, what was not checked")
		fs.Bool("brief", false, "print one line a cable: id, sold as, shown, outcome, worst reason")
	},
	run: runCheck,
}

func runCheck(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() == 0 {
		e.fail("check: name a file, a folder, or - for stdin; see 'gainsay check --help'")
		return exitUndone
	}
	checker, ok := e.checker(fs)
	if !ok {
		return exitUndone
	}
	form, ok := e.form("check", fs, formSVG)
	if !ok {
		return exitUndone
	}
	full, _ := fs.GetBool("full")
	brief, _ := fs.GetBool("brief")
	switch {
	case full && brief:
		e.fail("check: --full and --brief exclude each other")
		return exitUndone
	case (full || brief) && form != formText:
		e.fail("check: --full and --brief are for the text form; every other form has everything")
		return exitUndone
	}
	e.style.Full = full
	done, ok := e.toFile("check", fs)
	if !ok {
		return exitUndone
	}
	// Little is kept from one record to the next. To collect every 4 MB, as a small
	// heap asks for, would be a good part of a run over many.
	if os.Getenv("GOGC") == "" {
		defer debug.SetGCPercent(debug.SetGCPercent(400))
	}
	out, err := e.reports(form, brief)
	t := tally{count: e.progress("records", e.toTerminal)}
	if err != nil {
		t.undone(e, err)
	}
	var known rigs
	for one, err := range eachRecord(e, fs.Args(), func(in input, rec *record.Record) (checked, error) {
		if err := known.use(in, rec); err != nil {
			return checked{}, err
		}
		c, err := checker.Case(rec, in.folder())
		if err != nil {
			return checked{}, err
		}
		r := c.Report()
		one := checked{contradicted: r.Contradicted(), broken: len(r.Broken) > 0, unread: unread(c)}
		if out.text == nil {
			one.of, one.report = c, r
			return one, nil
		}
		one.text, err = out.text(r)
		return one, err
	}) {
		if err == nil {
			t.add(one)
			e.saysUnread(one.unread)
			t.failed = t.failed || len(one.unread) > 0
			err = out.add(one)
		}
		if err != nil {
			t.undone(e, err)
		}
		if e.lost() {
			break // run or done says why
		}
	}
	t.count.clear()
	if t.checked == 0 && !t.failed {
		e.noRecord("check", fs.Args())
		t.failed = true
	}
	if t.checked > 0 && form == formText && !brief {
		e.out.WriteString(publish.RunCautions(e.style))
	}
	if t.checked > 1 && form == formText && !brief {
		fmt.Fprintf(e.out, "\n%s\n", t.summary())
	}
	if err := out.close(); err != nil {
		t.undone(e, err)
	}
	if !done(t.checked > 0) {
		t.failed = true
	}
	return t.code()
}

// checked is what is kept of a record that was checked: its report in the form asked
// for where it stands by itself there, else all of it.
type checked struct {
	contradicted bool
	broken       bool     // a rule failed itself
	unread       []string // what was not understood
	text         []byte
	of           *claims.Case
	report       *claims.Report
}

// tally counts what a run of check came to.
type tally struct {
	count        *progress
	checked      int
	contradicted int
	failed       bool
}

func (t *tally) add(one checked) {
	t.checked++
	t.count.step()
	if one.contradicted {
		t.contradicted++
	}
	t.failed = t.failed || one.broken
}

func (t *tally) undone(e *env, err error) {
	t.failed = true
	e.failLines(err.Error())
}

func (t *tally) summary() string {
	return fmt.Sprintf("%d records checked, %d with a contradiction or a breach.", t.checked, t.contradicted)
}

func (t *tally) code() int {
	switch {
	case t.failed:
		return exitUndone
	case t.contradicted > 0:
		return exitContradicted
	}
	return exitDone
}

// input is one stream of records or words with the name it is reported under.
type input struct {
	io.ReadCloser
	name string
	of   *env
}

// folder is where files that a record names are looked for: beside it.
func (in input) folder() fs.FS {
	if in.name == stdinName {
		return nil
	}
	return beside{filepath.Dir(in.name), in.of}
}

// beside is a folder as a record's file system. Unlike os.DirFS it follows no link
// that leads out of it.
type beside struct {
	dir string
	of  *env // whose output none of the files may be
}

func (dir beside) Open(name string) (fs.File, error) {
	return within(dir, "open", name, func(root *os.Root) (fs.File, error) {
		f, err := root.Open(name)
		if err != nil {
			return nil, err
		}
		if dir.of.isOutput(f) {
			f.Close()
			return nil, &fs.PathError{Op: "open", Path: name, Err: errIsOutput}
		}
		return f, nil
	})
}

// Stat does not open the file: to open a pipe would wait for its writer.
func (dir beside) Stat(name string) (fs.FileInfo, error) {
	return within(dir, "stat", name, func(root *os.Root) (fs.FileInfo, error) { return root.Stat(name) })
}

func within[T any](dir beside, op, name string, do func(*os.Root) (T, error)) (t T, err error) {
	if !fs.ValidPath(name) {
		return t, &fs.PathError{Op: op, Path: name, Err: fs.ErrInvalid}
	}
	root, err := os.OpenRoot(dir.dir)
	if err != nil {
		return t, err
	}
	defer root.Close()
	return do(root)
}

const stdinName = "stdin"

// recordEndings are the file name endings that count as records in a folder.
var recordEndings = []string{".yaml", ".yml", ".json", ".jsonl", ".ndjson"}

// inputs opens what an argument names: stdin for "-", a file, or every record
// file of a folder, in order of name.
func (e *env) inputs(name string) iter.Seq2[input, error] {
	return func(yield func(input, error) bool) {
		if name == "-" {
			if e.stdinTaken {
				yield(input{}, errors.New("stdin can be read only once"))
				return
			}
			e.stdinTaken = true
			if f, ok := e.in.(*os.File); ok && e.isOutput(f) {
				yield(input{}, errors.New("stdin: the output would replace the file it comes from; name another output"))
				return
			}
			yield(input{io.NopCloser(bufio.NewReader(e.in)), stdinName, e}, nil)
			return
		}
		info, err := os.Stat(name)
		switch {
		case err != nil:
			yield(input{}, plainError(err))
			return
		case !info.IsDir():
			if !info.Mode().IsRegular() && info.Mode()&(fs.ModeNamedPipe|fs.ModeCharDevice) == 0 {
				yield(input{}, fmt.Errorf("%s: %s, not a file or folder", oneLine(name), kindOf(info.Mode())))
				return
			}
			yield(e.open(name))
			return
		}
		found, others := 0, 0
		var passed []string // the first of the others
		err = filepath.WalkDir(name, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				if !yield(input{}, plainError(err)) {
					return fs.SkipAll
				}
				return nil
			}
			switch ending := strings.ToLower(filepath.Ext(path)); {
			case d.IsDir():
				return nil
			case strings.HasSuffix(path, record.RigEnding), d.Name() == record.SchemaName:
				return nil // they stand beside records and are none
			case !slices.Contains(recordEndings, ending):
				if len(passed) < 3 {
					passed = append(passed, oneLine(path))
				}
				others++
				return nil
			}
			found++
			if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
				if !yield(input{}, fmt.Errorf("%s: %s, not a file; it was passed over", oneLine(path), kindOf(info.Mode()))) {
					return fs.SkipAll
				}
				return nil
			}
			if !yield(e.open(path)) {
				return fs.SkipAll
			}
			return nil
		})
		if others > 0 {
			text := strings.Join(passed, ", ")
			if n := others - len(passed); n > 0 {
				text += fmt.Sprintf(" and %d more", n)
			}
			e.note(fmt.Sprintf("%s: passed over what does not end in %s: %s", oneLine(name), strings.Join(recordEndings, ", "), text))
		}
		if err == nil && found == 0 {
			yield(input{}, fmt.Errorf("%s: no record in this folder (they end in %s)", oneLine(name), strings.Join(recordEndings, ", ")))
		}
	}
}

// kindOf says what stands where a file should.
func kindOf(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "a link to a folder"
	case m&fs.ModeNamedPipe != 0:
		return "a pipe"
	case m&fs.ModeSocket != 0:
		return "a socket"
	case m&fs.ModeDevice != 0:
		return "a device"
	}
	return "something else"
}

func (e *env) open(name string) (input, error) {
	f, err := os.Open(name)
	if err != nil {
		return input{}, plainError(err)
	}
	if e.isOutput(f) {
		f.Close()
		return input{}, fmt.Errorf("%s: %w", oneLine(name), errIsOutput)
	}
	return input{f, name, e}, nil
}

// oneLine escapes the line ends of a name, so that an error stays one line.
func oneLine(name string) string { return lineEnds.Replace(name) }

var lineEnds = strings.NewReplacer("\n", `\n`, "\r", `\r`)

// plainError words an error of the file system as "name: what".
func plainError(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", oneLine(pe.Path), pe.Err)
	}
	return err
}
