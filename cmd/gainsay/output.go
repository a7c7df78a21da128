package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

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
)

var forms = []string{formText, formJSON, formCSV, formMarkdown, formHTML}

// formFlags are the options of a command that publishes: form, --json for short,
// and where to.
func formFlags(fs *pflag.FlagSet, jsonHelp string) {
	fs.Bool("json", false, jsonHelp)
	fs.String("form", formText, "the `FORM` of the result: "+strings.Join(forms, ", "))
	outputFlag(fs)
}

func outputFlag(fs *pflag.FlagSet) {
	fs.StringP("output", "o", "", "write to this `FILE`, whole or not at all")
}

// form gives the form asked for; not ok where it is none.
func (e *env) form(command string, fs *pflag.FlagSet) (form string, ok bool) {
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
// of a link, the file it leads to. A device or a pipe cannot be replaced and takes
// the result as it comes.
func (e *env) toFile(command string, fs *pflag.FlagSet) (done func(whole bool) bool, ok bool) {
	name, _ := fs.GetString("output")
	if name == "" || name == "-" {
		return func(bool) bool { return true }, true
	}
	switch info, err := os.Stat(name); {
	case err != nil: // it is to be made
	case info.IsDir():
		e.fail("%s: %s is a folder; name a file", command, publish.Plain(name))
		return nil, false
	case !info.Mode().IsRegular():
		return e.toDevice(command, name)
	}
	shownName := name
	if file, err := filepath.EvalSymlinks(name); err == nil {
		name = file
	}
	aside, err := newAside(name)
	if err != nil {
		e.fail("%s: cannot write %s: %v", command, publish.Plain(shownName), cause(err))
		return nil, false
	}
	back := e.writeTo(aside)
	return func(whole bool) bool {
		err := back()
		if err == nil && whole {
			err = aside.keep()
		}
		aside.drop()
		if err != nil {
			e.fail("%s: cannot write %s: %v", command, publish.Plain(shownName), cause(err))
		}
		return err == nil
	}, true
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

// aside is a file that is written beside the one whose name it takes when it is whole.
type aside struct {
	*os.File
	name   string
	forget func()
}

// newAside makes the file. An interruption takes it away: the watch stands before the
// file does, so that none in between goes unseen.
func newAside(name string) (*aside, error) {
	var making sync.Mutex
	a := &aside{name: name}
	a.forget = onInterrupt(func() {
		making.Lock() // and never unlocked: the program ends here
		if a.File != nil {
			os.Remove(a.Name())
		}
	})
	making.Lock()
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err == nil {
		a.File = f
	}
	making.Unlock()
	if err != nil {
		a.forget()
		return nil, err
	}
	return a, nil
}

// keep gives the file its name, and the mode of the one it replaces.
func (a *aside) keep() error {
	if err := errors.Join(os.Chmod(a.Name(), outputMode(a.name)), a.Close()); err != nil {
		return err
	}
	return os.Rename(a.Name(), a.name)
}

// drop takes the file away, unless it was kept.
func (a *aside) drop() {
	a.Close() // again, where it was kept
	os.Remove(a.Name())
	a.forget()
}

// toDevice is toFile for what is no regular file.
func (e *env) toDevice(command, name string) (done func(whole bool) bool, ok bool) {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		e.fail("%s: cannot write %s: %v", command, publish.Plain(name), cause(err))
		return nil, false
	}
	back := e.writeTo(f)
	return func(bool) bool {
		if err := errors.Join(back(), f.Close()); err != nil {
			e.fail("%s: cannot write %s: %v", command, publish.Plain(name), cause(err))
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

// outputMode is the mode of the file to be replaced, or that of a new file.
func outputMode(name string) fs.FileMode {
	if info, err := os.Stat(name); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
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
