package main

import (
	"bufio"
	"errors"
	"fmt"
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
	fs.String("form", formText, "the form of the result: "+strings.Join(forms, ", "))
	outputFlag(fs)
}

func outputFlag(fs *pflag.FlagSet) {
	fs.StringP("output", "o", "", "write to this file, at once and only when whole")
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
	// The watch stands before the file does: an interruption in between must neither
	// go unseen nor leave the file.
	var making sync.Mutex
	asideName := ""
	forget := onInterrupt(func() {
		making.Lock() // and never unlocked: the program ends here
		if asideName != "" {
			os.Remove(asideName)
		}
	})
	making.Lock()
	aside, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err == nil {
		asideName = aside.Name()
	}
	making.Unlock()
	if err != nil {
		forget()
		e.fail("%s: cannot write %s: %v", command, publish.Plain(shownName), cause(err))
		return nil, false
	}
	stdout, style, toTerminal := e.out, e.style, e.toTerminal
	e.out, e.style, e.toTerminal = bufio.NewWriterSize(aside, 1<<16), publish.Style{}, false
	return func(whole bool) bool {
		defer forget()
		err := e.out.Flush()
		e.out, e.style, e.toTerminal = stdout, style, toTerminal
		err = errors.Join(err, os.Chmod(aside.Name(), outputMode(name)), aside.Close())
		if err == nil && whole {
			err = os.Rename(aside.Name(), name)
		}
		if err != nil || !whole {
			os.Remove(aside.Name())
		}
		if err != nil {
			e.fail("%s: cannot write %s: %v", command, publish.Plain(shownName), cause(err))
		}
		return err == nil
	}, true
}

// toDevice is toFile for what is no regular file.
func (e *env) toDevice(command, name string) (done func(whole bool) bool, ok bool) {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		e.fail("%s: cannot write %s: %v", command, publish.Plain(name), cause(err))
		return nil, false
	}
	stdout, style, toTerminal := e.out, e.style, e.toTerminal
	e.out, e.style, e.toTerminal = bufio.NewWriterSize(f, 1<<16), publish.Style{}, false
	return func(bool) bool {
		err := e.out.Flush()
		e.out, e.style, e.toTerminal = stdout, style, toTerminal
		if err = errors.Join(err, f.Close()); err != nil {
			e.fail("%s: cannot write %s: %v", command, publish.Plain(name), cause(err))
		}
		return err == nil
	}, true
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
	return fmt.Errorf("%w", err)
}
