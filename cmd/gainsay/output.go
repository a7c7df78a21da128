package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
)

// The forms in which results are published.
const (
	formText     = "text"
	formJSON     = "json"
	formCSV      = "csv"
	formMarkdown = "markdown"
	formHTML     = "html"
	formSVG      = "svg" // of check: the verdict as a picture
)

var forms = []string{formText, formJSON, formCSV, formMarkdown, formHTML}

// formFlags are the options of a command that publishes: form, --json for short,
// and where to.
func formFlags(fs *pflag.FlagSet, jsonHelp string, more ...string) {
	fs.Bool("json", false, jsonHelp)
	fs.String("form", formText, "the `FORM` of the result: "+strings.Join(append(slices.Clone(forms), more...), ", "))
	outputFlag(fs)
}

func outputFlag(fs *pflag.FlagSet) {
	fs.StringP("output", "o", "", "write to this `FILE`, whole or not at all")
}

// form gives the form asked for; not ok where it is none.
func (e *env) form(command string, fs *pflag.FlagSet, more ...string) (form string, ok bool) {
	forms := append(slices.Clone(forms), more...)
	form, _ = fs.GetString("form")
	asJSON, _ := fs.GetBool("json")
	if !slices.Contains(forms, form) {
		e.fail("%s: no form is called %q; the forms are %s", command, publish.Plain(form), strings.Join(forms, ", "))
		return "", false
	}
	if asJSON && fs.Changed("form") && form != formJSON {
		e.fail("%s: --json and --form %s say different things", command, form)
		return "", false
	}
	if asJSON {
		form = formJSON
	}
	return form, true
}

// toFile sends what is written from now on to the file named by --output, if any.
// It is written aside, and takes the name when done is called with a result that
// is whole; otherwise nothing is left. A file that is already there is replaced;
// of a link, the file it leads to. An input is no output: it stays as it is. A device, a
// pipe or an open descriptor cannot be replaced and takes the result as it comes.
func (e *env) toFile(command string, fs *pflag.FlagSet) (done func(whole bool) bool, ok bool) {
	name, _ := fs.GetString("output")
	if name == "" || name == "-" {
		return func(bool) bool { return true }, true
	}
	refuse := func(wrong string) (func(bool) bool, bool) {
		e.fail("%s: %s %s", command, publish.Plain(name), wrong)
		return nil, false
	}
	if n, ok := descriptor(name); ok {
		return e.toDescriptor(command, name, n)
	}
	info, err := os.Stat(name)
	switch {
	case err != nil: // it is to be made
	case info.IsDir():
		return refuse("is a folder; name a file")
	case !info.Mode().IsRegular():
		return e.toDevice(command, name)
	default:
		e.output = info
	}
	file, err := filepath.EvalSymlinks(name)
	if err != nil {
		if _, lerr := os.Lstat(name); lerr == nil {
			return refuse("is a link that leads nowhere; name a file")
		}
		file = name
	}
	failed := func(err error) { e.cannotWrite(command, name, err) }
	aside, err := newAside(osDisk{}, file, lockWait)
	if err != nil {
		failed(err)
		return nil, false
	}
	back := e.writeTo(aside)
	return func(whole bool) bool {
		err := back()
		switch {
		case err != nil:
		case e.outputRead.Load():
			whole, err = false, errInput
		case whole:
			err = aside.keep()
		}
		aside.drop()
		if err != nil {
			failed(err)
		}
		return err == nil
	}, true
}

var errInput = errors.New("it is one of the files that are read; name another")

// descriptor gives the number of the open descriptor that a name stands for, itself or
// through links, as /dev/stdout does.
func descriptor(name string) (int, bool) {
	for range 40 { // as many links as Linux follows
		folder, base := filepath.Split(filepath.Clean(name))
		n, err := strconv.Atoi(base)
		switch real, rerr := filepath.EvalSymlinks(folder); {
		case folder == "/dev/" && base == "stdin":
			return 0, true
		case folder == "/dev/" && base == "stdout":
			return 1, true
		case folder == "/dev/" && base == "stderr":
			return 2, true
		case err == nil && n >= 0 && (folder == "/dev/fd/" || rerr == nil && real == fmt.Sprintf("/proc/%d/fd", os.Getpid())):
			return n, true
		}
		link, err := os.Readlink(name)
		if err != nil {
			return 0, false
		}
		if !filepath.IsAbs(link) {
			link = filepath.Join(folder, link)
		}
		name = link
	}
	return 0, false
}

// toDescriptor is toFile for what is open already. It is written on from where it is.
func (e *env) toDescriptor(command, name string, n int) (done func(whole bool) bool, ok bool) {
	var to io.Writer = e.err
	switch n {
	case 1:
		return func(bool) bool { return true }, true
	case 2:
	default:
		to = os.NewFile(uintptr(n), name)
	}
	back := e.writeTo(to)
	return func(bool) bool {
		if err := back(); err != nil {
			e.cannotWrite(command, name, err)
			return false
		}
		return true
	}, true
}

func (e *env) cannotWrite(command, name string, err error) {
	e.fail("%s: cannot write %s: %v", command, publish.Plain(name), cause(err))
}

// errIsOutput is the cause of an error of a file that is not read.
var errIsOutput = errors.New("the output would replace this file; name another output")

// isOutput reports whether a file that is opened to be read is the one that is to be
// replaced, by whatever name. The file is then not replaced.
func (e *env) isOutput(f interface{ Stat() (fs.FileInfo, error) }) bool {
	if e.output == nil {
		return false
	}
	info, err := f.Stat()
	if err != nil || !os.SameFile(info, e.output) {
		return false
	}
	e.outputRead.Store(true)
	return true
}

// writeTo sends what is written from now on somewhere else, until back is called.
func (e *env) writeTo(w io.Writer) (back func() error) {
	stdout, style, toTerminal := e.out, e.style, e.toTerminal
	e.out, e.style, e.toTerminal = bufio.NewWriterSize(w, 1<<16), publish.Style{}, false
	return func() error {
		err := e.out.Flush()
		e.out, e.style, e.toTerminal = stdout, style, toTerminal
		return err
	}
}

// toDevice is toFile for what is no regular file.
func (e *env) toDevice(command, name string) (done func(whole bool) bool, ok bool) {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		e.cannotWrite(command, name, err)
		return nil, false
	}
	back := e.writeTo(f)
	return func(bool) bool {
		if err := errors.Join(back(), f.Close()); err != nil {
			e.cannotWrite(command, name, err)
			return false
		}
		return true
	}, true
}

// json writes one object on a line of its own.
func (e *env) json(v any) {
	enc := json.NewEncoder(plainJSON{e.out})
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		e.fail("cannot write JSON: %v", err)
	}
}

// plainJSON is where an encoder writes whole values to.
type plainJSON struct{ io.Writer }

func (w plainJSON) Write(value []byte) (int, error) {
	if _, err := w.Writer.Write(publish.PlainJSON(value)); err != nil {
		return 0, err
	}
	return len(value), nil
}

// lost tells whether the result can no longer be written, so that going on would
// be for nothing.
func (e *env) lost() bool {
	_, err := e.out.Write(nil)
	return err != nil
}

// cause is an error of the file system without the name of the file beside.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	var le *os.LinkError
	if errors.As(err, &le) {
		return le.Err
	}
	return err
}
